"""Infiltration: what wind, temperature difference and fans bring in, and the heat it carries."""

from __future__ import annotations

import math

from coldwright.physics.air_state import CP_AIR, CP_VAPOUR, LATENT_J_KG, ZERO_C_K
from coldwright.physics.compiled import law

# ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, basic model, in (L/s)²/(cm⁴ K) by storeys.
STACK_COEFFICIENTS = {1: 0.000145, 2: 0.000290, 3: 0.000435}
# The same, wind, in (L/s)²/(cm⁴ (m/s)²): by storeys, then shelter class 1 (open) to 5 (hemmed in).
# The row for three storeys is from memory.
WIND_COEFFICIENTS = {
    1: (0.000319, 0.000246, 0.000174, 0.000104, 0.000032),
    2: (0.000420, 0.000325, 0.000231, 0.000137, 0.000042),
    3: (0.000494, 0.000382, 0.000271, 0.000161, 0.000049),
}


@law
def infiltration_basic(
    area_m2: float,
    difference_K: float,
    wind_m_s: float,
    stack_coefficient: float,
    wind_coefficient: float,
) -> float:
    """Natural infiltration from the leakage area, the temperature difference and the wind.

    Parameters
    ----------
    area_m2 : float or array
        Effective leakage area at 4 Pa [m2]. Valid from 0.
    difference_K : float or array
        Indoor less outdoor temperature [K]; its sign does not matter.
    wind_m_s : float or array
        Wind speed at the nearest weather station [m/s]. Valid from 0.
    stack_coefficient : float or array
        From `STACK_COEFFICIENTS` [(L/s)2/(cm4 K)]. Valid from 0.
    wind_coefficient : float or array
        From `WIND_COEFFICIENTS` [(L/s)2/(cm4 (m/s)2)]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Q = (A[cm2] / 1000) sqrt(Cs |dT| + Cw U**2)``, that is 10 times the area in m2. Made for
    low-rise houses; a kiosk or a cabinet is at its edge.

    Error: 40 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, equation 48 and its two tables.
    Checked against: the same chapter's worked examples 2 and 4.

    Examples
    --------
    >>> round(float(infiltration_basic(0.05, 39.0, 6.7, 0.000290, 0.000231)), 4)
    0.0736
    """
    if not (area_m2 >= 0.0 and wind_m_s >= 0.0):
        return math.nan
    if not (stack_coefficient >= 0.0 and wind_coefficient >= 0.0):
        return math.nan
    driven = stack_coefficient * abs(difference_K) + wind_coefficient * wind_m_s * wind_m_s
    return 10.0 * area_m2 * math.sqrt(driven)


@law
def infiltration_stack(
    coefficient: float, exponent: float, difference_K: float, stack_coefficient: float
) -> float:
    """Infiltration by the stack effect alone, enhanced model.

    Parameters
    ----------
    coefficient : float or array
        Leakage coefficient [m3/(s Pa**n)]. Valid from 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.
    difference_K : float or array
        Indoor less outdoor temperature [K]; its sign does not matter.
    stack_coefficient : float or array
        Stack coefficient [(Pa/K)**n]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Qs = c Cs |dT|**n``.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, equation 49 (after I. S. Walker and
    D. J. Wilson, HVAC&R Research 4, 1998).
    Checked against: the same chapter's worked example 5.

    Examples
    --------
    >>> round(float(infiltration_stack(0.051, 0.67, 39.0, 0.089)), 3)
    0.053
    """
    if not (coefficient >= 0.0 and 0.5 <= exponent <= 1.0 and stack_coefficient >= 0.0):
        return math.nan
    return coefficient * stack_coefficient * math.pow(abs(difference_K), exponent)


@law
def infiltration_wind(
    coefficient: float, exponent: float, wind_m_s: float, shelter: float, wind_coefficient: float
) -> float:
    """Infiltration by the wind alone, enhanced model.

    Parameters
    ----------
    coefficient : float or array
        Leakage coefficient [m3/(s Pa**n)]. Valid from 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.
    wind_m_s : float or array
        Wind speed at eaves height [m/s]: the station's times the speed multiplier G. Valid from 0.
    shelter : float or array
        Shelter factor s [-]. Valid 0 to 1.
    wind_coefficient : float or array
        Wind coefficient [(Pa s2/m2)**n]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Qw = c Cw (s U)**(2 n)``.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, equation 50 (after I. S. Walker and
    D. J. Wilson, HVAC&R Research 4, 1998).
    Checked against: the same chapter's worked example 5.

    Examples
    --------
    >>> round(float(infiltration_wind(0.051, 0.67, 0.59 * 6.7, 0.64, 0.156)), 4)
    0.0276
    """
    if not (coefficient >= 0.0 and 0.5 <= exponent <= 1.0 and wind_coefficient >= 0.0):
        return math.nan
    if not (wind_m_s >= 0.0 and 0.0 <= shelter <= 1.0):
        return math.nan
    return coefficient * wind_coefficient * math.pow(shelter * wind_m_s, 2.0 * exponent)


@law
def infiltration_enhanced(
    coefficient: float,
    exponent: float,
    difference_K: float,
    wind_m_s: float,
    shelter: float,
    stack_coefficient: float,
    wind_coefficient: float,
) -> float:
    """Natural infiltration by stack effect and wind together, enhanced model.

    Parameters
    ----------
    coefficient, exponent : float or array
        Leakage coefficient [m3/(s Pa**n)] and exponent [-], as in `infiltration_stack`.
    difference_K : float or array
        Indoor less outdoor temperature [K].
    wind_m_s, shelter : float or array
        Wind at eaves height [m/s] and shelter factor [-], as in `infiltration_wind`.
    stack_coefficient, wind_coefficient : float or array
        Coefficients [(Pa/K)**n] and [(Pa s2/m2)**n].

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the ranges of the two parts.

    Notes
    -----
    ``Q = sqrt(Qs**2 + Qw**2)``.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, equations 47, 49 and 50; the error
    is its own statement for good inputs.
    Checked against: the same chapter's worked example 5.

    Examples
    --------
    >>> round(float(infiltration_enhanced(0.051, 0.67, 39.0, 3.953, 0.64, 0.089, 0.156)), 4)
    0.0596
    """
    stack: float = infiltration_stack(coefficient, exponent, difference_K, stack_coefficient)
    wind: float = infiltration_wind(coefficient, exponent, wind_m_s, shelter, wind_coefficient)
    return math.sqrt(stack * stack + wind * wind)


@law
def combined_flow(balanced_m3_s: float, unbalanced_m3_s: float, natural_m3_s: float) -> float:
    """Outdoor air that comes in when fans and natural infiltration act together.

    Parameters
    ----------
    balanced_m3_s : float or array
        Flow that fans bring in and take out alike [m3/s]. Valid from 0.
    unbalanced_m3_s : float or array
        Surplus of exhaust over supply, or the reverse [m3/s]. Valid from 0.
    natural_m3_s : float or array
        Infiltration without fans [m3/s]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Q = Qbal + sqrt(Qunbal**2 + Qnat**2)``: an exhaust stops part of the leakage outwards, so
    it adds less than its own flow.

    Error: 20 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, equation 51.
    Checked against: its two limits (no fan, no leakage) and the 3-4-5 triangle.

    Examples
    --------
    >>> round(float(combined_flow(0.0, 0.04, 0.03)), 6)
    0.05
    """
    if not (balanced_m3_s >= 0.0 and unbalanced_m3_s >= 0.0 and natural_m3_s >= 0.0):
        return math.nan
    return balanced_m3_s + math.sqrt(
        unbalanced_m3_s * unbalanced_m3_s + natural_m3_s * natural_m3_s
    )


@law
def natural_air_changes(n50_per_h: float) -> float:
    """Rule of thumb for the natural air change rate of a house, from the one at 50 Pa.

    Parameters
    ----------
    n50_per_h : float or array
        Air changes per hour at 50 Pa [1/h]. Valid from 0.

    Returns
    -------
    float or array, same shape as the input
        Air changes per hour, mean over the year [1/h]; NaN outside the valid range.

    Notes
    -----
    ``n = n50 / 20``; the divisor runs from 10 to 30 with climate, height and shelter.

    Error: 50 %.
    Source: M. H. Sherman, "Estimation of infiltration from leakage and climate indicators", Energy
    and Buildings 10, 1987 (from memory).
    Checked against: the rule itself.

    Examples
    --------
    >>> float(natural_air_changes(5.0))
    0.25
    """
    if not n50_per_h >= 0.0:
        return math.nan
    return n50_per_h / 20.0


@law
def infiltration_sensible(
    mass_flow_kg_s: float,
    outdoor_K: float,
    room_K: float,
    outdoor_humidity_ratio: float,
    room_humidity_ratio: float,
) -> float:
    """Sensible heat that replacement air brings into a room.

    Parameters
    ----------
    mass_flow_kg_s : float or array
        Dry air replaced [kg/s]. Valid from 0.
    outdoor_K, room_K : float or array
        Temperature of the air that comes in and of the room's [K].
    outdoor_humidity_ratio, room_humidity_ratio : float or array
        Humidity ratios [kg/kg dry air]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat into the room [W], negative where the air cools it; NaN outside the valid range.

    Notes
    -----
    ``Q = m [1006 (To - Tr) + 1860 (Wo to - Wr tr)]`` with t in °C in the second term. With
    `infiltration_latent` it adds up to ``m (ho - hr)`` exactly. How the sum splits depends on where
    the vapour's warmth is counted from (0 °C here, 0 °F in the rule); the sum does not.

    Error: 0.5 %.
    Source: 10 CFR 430 subpart B appendix CC (portable air conditioners; SI form from memory).
    Checked against: CoolProp enthalpies; the enthalpy difference by `enthalpy`.

    Examples
    --------
    >>> round(float(infiltration_sensible(0.04619, 306.15, 299.15, 0.012611, 0.010496)), 1)
    337.6
    """
    if not (mass_flow_kg_s >= 0.0 and outdoor_humidity_ratio >= 0.0 and room_humidity_ratio >= 0.0):
        return math.nan
    vapour = outdoor_humidity_ratio * (outdoor_K - ZERO_C_K)
    vapour -= room_humidity_ratio * (room_K - ZERO_C_K)
    return mass_flow_kg_s * (CP_AIR * (outdoor_K - room_K) + CP_VAPOUR * vapour)


@law
def infiltration_latent(
    mass_flow_kg_s: float, outdoor_humidity_ratio: float, room_humidity_ratio: float
) -> float:
    """Latent heat that replacement air brings into a room.

    Parameters
    ----------
    mass_flow_kg_s : float or array
        Dry air replaced [kg/s]. Valid from 0.
    outdoor_humidity_ratio, room_humidity_ratio : float or array
        Humidity ratios [kg/kg dry air]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat into the room [W], negative where the air dries it; NaN outside the valid range.

    Notes
    -----
    ``Q = 2501000 m (Wo - Wr)``.

    Error: 0.5 %.
    Source: 10 CFR 430 subpart B appendix CC (portable air conditioners; SI form from memory).
    Checked against: CoolProp enthalpies; the enthalpy difference by `enthalpy`.

    Examples
    --------
    >>> round(float(infiltration_latent(0.04619, 0.012611, 0.010496)), 1)
    244.3
    """
    if not (mass_flow_kg_s >= 0.0 and outdoor_humidity_ratio >= 0.0 and room_humidity_ratio >= 0.0):
        return math.nan
    return LATENT_J_KG * mass_flow_kg_s * (outdoor_humidity_ratio - room_humidity_ratio)
