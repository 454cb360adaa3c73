"""Heat by radiation between surfaces that face each other."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8  # CODATA 2018, exact in the SI of 2019


@law
def radiant_coefficient(mean_K: float) -> float:
    """Heat transfer coefficient of radiation between black surfaces, linearised.

    Parameters
    ----------
    mean_K : float or array
        Mean temperature of the two surfaces [K]. Valid above 0.

    Returns
    -------
    float or array, same shape as the input
        Coefficient [W/(m2 K)]; NaN outside the valid range.

    Notes
    -----
    ``h_r0 = 4 sigma T**3``. Against the exact exchange it is low by ``(dT / (2 T))**2``: 0.1 % at
    20 K.

    Error: 0.5 %.
    Source: EN ISO 6946:2017, annex on surface resistances (h_r0).
    Checked against: its own table value 5.1 W/(m2 K) at 10 °C; `radiant_flux_plates`.

    Examples
    --------
    >>> round(float(radiant_coefficient(283.15)), 2)
    5.15
    """
    if not mean_K > 0.0:
        return math.nan
    return 4.0 * STEFAN_BOLTZMANN_W_M2K4 * mean_K * mean_K * mean_K


@law
def effective_emissivity(first_emissivity: float, second_emissivity: float) -> float:
    """Emissivity factor of two large parallel surfaces that see only each other.

    Parameters
    ----------
    first_emissivity, second_emissivity : float or array
        Emissivities of the two surfaces [-]. Valid above 0, to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Factor E [-]; NaN outside the valid range.

    Notes
    -----
    ``E = 1 / (1/e1 + 1/e2 - 1)``, grey and diffuse. One bright foil does nearly all there is to
    gain, as long as it stays dry.

    Error: exact.
    Source: EN ISO 6946:2017, annex on air layers; Incropera et al., "Fundamentals of Heat and Mass
    Transfer", exchange between large parallel planes.
    Checked against: ASHRAE Handbook Fundamentals 2021 (SI), chapter 26, table 2 (foil and ordinary
    faces).

    Examples
    --------
    >>> round(float(effective_emissivity(0.9, 0.05)), 2)
    0.05
    """
    if not (0.0 < first_emissivity <= 1.0 and 0.0 < second_emissivity <= 1.0):
        return math.nan
    return 1.0 / (1.0 / first_emissivity + 1.0 / second_emissivity - 1.0)


@law
def effective_emissivity_enclosed(
    inner_emissivity: float, outer_emissivity: float, area_ratio: float
) -> float:
    """Emissivity factor of a convex body inside another, referred to the inner area.

    Parameters
    ----------
    inner_emissivity, outer_emissivity : float or array
        Emissivities of the body and of what surrounds it [-]. Valid above 0, to 1.
    area_ratio : float or array
        Inner over outer area [-]. Valid 0 (a very large room) to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Factor E [-]; NaN outside the valid range.

    Notes
    -----
    ``E = 1 / (1/e1 + (A1/A2) (1/e2 - 1))``.

    Error: exact.
    Source: Incropera et al., "Fundamentals of Heat and Mass Transfer", exchange between concentric
    bodies (two-surface enclosure).
    Checked against: its two limits, parallel planes and a small body in a large room; a radiosity
    balance solved as a linear system.

    Examples
    --------
    >>> round(float(effective_emissivity_enclosed(0.9, 0.9, 0.0)), 6)
    0.9
    """
    if not (0.0 < inner_emissivity <= 1.0 and 0.0 < outer_emissivity <= 1.0):
        return math.nan
    if not 0.0 <= area_ratio <= 1.0:
        return math.nan
    return 1.0 / (1.0 / inner_emissivity + area_ratio * (1.0 / outer_emissivity - 1.0))


@law
def radiant_flux_plates(
    cold_K: float, hot_K: float, cold_emissivity: float, hot_emissivity: float
) -> float:
    """Net radiation from a hot to a cold parallel surface, per area, without linearising.

    Parameters
    ----------
    cold_K, hot_K : float or array
        Surface temperatures [K]. Valid from 0; swapped ones give a negative flux.
    cold_emissivity, hot_emissivity : float or array
        Emissivities [-]. Valid above 0, to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat flux from hot to cold [W/m2]; NaN outside the valid range.

    Notes
    -----
    ``q = E sigma (Th**4 - Tc**4)`` with E of `effective_emissivity`.

    Error: exact.
    Source: Incropera et al., "Fundamentals of Heat and Mass Transfer", exchange between large
    parallel planes.
    Checked against: hand calculation with the CODATA constant; the linearised coefficient.

    Examples
    --------
    >>> round(float(radiant_flux_plates(283.15, 303.15, 0.9, 0.9)), 1)
    93.6
    """
    if not (cold_K >= 0.0 and hot_K >= 0.0):
        return math.nan
    factor: float = effective_emissivity(cold_emissivity, hot_emissivity)
    cold2 = cold_K * cold_K
    hot2 = hot_K * hot_K
    # Factored, so that two near temperatures do not lose digits.
    fourth = (hot2 + cold2) * (hot_K + cold_K) * (hot_K - cold_K)
    return factor * STEFAN_BOLTZMANN_W_M2K4 * fourth
