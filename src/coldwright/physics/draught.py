"""Draught: how many people an airstream annoys."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Turbulence where none is known: EN ISO 7730:2005, clause on draught (from memory).
TURBULENCE_MIXED = 0.40


@law
def draught_rate(air_K: float, velocity_m_s: float, turbulence_ratio: float) -> float:
    """Share of people whom the moving air bothers as a draught.

    Parameters
    ----------
    air_K : float or array
        Temperature of the moving air [K]. Valid 293.15 to 299.15 (20 to 26 °C).
    velocity_m_s : float or array
        Mean speed of the air [m/s]. Valid 0 to 0.5.
    turbulence_ratio : float or array
        Standard deviation over mean of the speed, `TURBULENCE_MIXED` if unknown [-]. Valid 0.1 to
        0.6.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Share of people [-], 0 to 1; NaN outside the valid range.

    Notes
    -----
    ``DR = (34 - t)(v - 0.05)**0.62 (37 v Tu + 3.14) / 100`` with t in °C and Tu as a ratio; 0 below
    0.05 m/s and 1 at most. For people who sit still and feel neither warm nor cold: someone who is
    too hot calls the same air a breeze, so it says nothing about a hot place.

    Error: 20 %.
    Source: EN ISO 7730:2005, draught rate (after P. O. Fanger et al., Energy and Buildings 12,
    1988; ranges from memory).
    Checked against: hand calculation at four points.

    Examples
    --------
    >>> round(float(draught_rate(293.15, 0.2, 0.4)), 3)
    0.263
    """
    if not 293.15 - 1e-9 <= air_K <= 299.15 + 1e-9:
        return math.nan
    if not (0.0 <= velocity_m_s <= 0.5 and 0.1 <= turbulence_ratio <= 0.6):
        return math.nan
    if velocity_m_s <= 0.05:
        return 0.0
    warmth = 34.0 - (air_K - 273.15)
    gust = 37.0 * velocity_m_s * turbulence_ratio + 3.14
    return min(1.0, warmth * math.pow(velocity_m_s - 0.05, 0.62) * gust / 100.0)
