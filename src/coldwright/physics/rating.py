"""Arithmetic of the portable air conditioner rating: to compare with, never to claim conformity.

That rating is for vapour compression; a thermoelectric cooler stands outside its scope.
"""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# 3 Btu/(h ft2 degF): the film that the rating gives to an exposed duct.
DUCT_FILM_W_M2K = 17.034
SHARE_AT_35C = 0.2
SHARE_AT_28C = 0.8


@law
def duct_surface_heat(
    diameter_m: float, length_m: float, room_K: float, surface_K: float, film_W_m2K: float
) -> float:
    """Heat that the outside of an exposed duct gives to the room.

    Parameters
    ----------
    diameter_m, length_m : float or array
        Outer diameter and exposed length [m]. Valid from 0.
    room_K, surface_K : float or array
        Room air and mean surface temperature of the duct [K].
    film_W_m2K : float or array
        Film coefficient [W/(m2 K)], `DUCT_FILM_W_M2K` for the rating. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat into the room [W], negative from a cold duct; NaN outside the valid range.

    Notes
    -----
    ``Q = h pi D L (T_surface - T_room)``.

    Error: 20 %.
    Source: 10 CFR 430 subpart B appendix CC, duct heat transfer (from memory).
    Checked against: hand calculation in the inch-pound units of the rule.

    Examples
    --------
    >>> round(float(duct_surface_heat(0.15, 1.5, 299.15, 313.15, 17.034)), 1)
    168.6
    """
    if not (diameter_m >= 0.0 and length_m >= 0.0 and film_W_m2K >= 0.0):
        return math.nan
    return film_W_m2K * math.pi * diameter_m * length_m * (surface_K - room_K)


@law
def seasonal_capacity(at_35C_W: float, at_28C_W: float) -> float:
    """Seasonally weighted capacity from the adjusted capacities in two outdoor states.

    Parameters
    ----------
    at_35C_W, at_28C_W : float or array
        Capacities less duct and infiltration heat, outdoors at 35.0 °C and 28.3 °C (95 and 83 °F)
        [W]. Either may be negative.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Weighted capacity [W]; NaN where an input is.

    Notes
    -----
    ``Q = 0.2 Q35 + 0.8 Q28``.

    Error: exact.
    Source: 10 CFR 430 subpart B appendix CC, seasonally adjusted cooling capacity (from memory).
    Checked against: hand calculation in the inch-pound units of the rule.

    Examples
    --------
    >>> round(float(seasonal_capacity(1500.0, 3500.0)), 6)
    3100.0
    """
    return SHARE_AT_35C * at_35C_W + SHARE_AT_28C * at_28C_W
