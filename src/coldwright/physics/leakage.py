"""Flow through the gaps of a place and the pressure it takes; also the door to `infiltration`."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law
from coldwright.physics.infiltration import (
    STACK_COEFFICIENTS,
    WIND_COEFFICIENTS,
    combined_flow,
    infiltration_basic,
    infiltration_enhanced,
    infiltration_latent,
    infiltration_sensible,
    infiltration_stack,
    infiltration_wind,
    natural_air_changes,
)

__all__ = [
    "REFERENCE_PA",
    "STACK_COEFFICIENTS",
    "TEST_PA",
    "USUAL_EXPONENT",
    "WIND_COEFFICIENTS",
    "coefficient_from_area",
    "combined_flow",
    "depressurisation",
    "effective_leakage_area",
    "infiltration_basic",
    "infiltration_enhanced",
    "infiltration_latent",
    "infiltration_sensible",
    "infiltration_stack",
    "infiltration_wind",
    "leakage_coefficient_n50",
    "natural_air_changes",
    "power_law_flow",
    "power_law_pressure",
]

USUAL_EXPONENT = 0.65
REFERENCE_PA = 4.0  # at which an effective leakage area is stated
TEST_PA = 50.0  # at which a fan pressurisation test is stated


@law
def power_law_flow(pressure_Pa: float, coefficient: float, exponent: float) -> float:
    """Flow through the gaps of a place under a pressure difference.

    Parameters
    ----------
    pressure_Pa : float or array
        Pressure difference across the gaps [Pa]; a negative one turns the flow round.
    coefficient : float or array
        Leakage coefficient [m3/(s Pa**n)]. Valid from 0.
    exponent : float or array
        Exponent n [-]: 0.5 for large holes, 1 for fine pores. Valid 0.5 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s], with the sign of the pressure; NaN outside the valid range.

    Notes
    -----
    ``Q = c dp**n``.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, power law of leakage.
    Checked against: the definition of the air change rate at 50 Pa (EN ISO 9972); the orifice
    equation at n = 0.5.

    Examples
    --------
    >>> round(float(power_law_flow(4.0, 0.051, 0.67)), 4)
    0.1291
    """
    if not (coefficient >= 0.0 and 0.5 <= exponent <= 1.0):
        return math.nan
    return math.copysign(coefficient * math.pow(abs(pressure_Pa), exponent), pressure_Pa)


@law
def power_law_pressure(flow_m3_s: float, coefficient: float, exponent: float) -> float:
    """Pressure difference that drives a flow through the gaps of a place.

    Parameters
    ----------
    flow_m3_s : float or array
        Flow [m3/s]; a negative one turns the pressure round.
    coefficient : float or array
        Leakage coefficient [m3/(s Pa**n)]. Valid above 0: nothing flows through a sealed box.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Pressure difference [Pa], with the sign of the flow; NaN outside the valid range.

    Notes
    -----
    ``dp = (Q / c)**(1/n)``.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, power law of leakage, solved.
    Checked against: the definition of the air change rate at 50 Pa (EN ISO 9972); round trip with
    `power_law_flow`.

    Examples
    --------
    >>> round(float(power_law_pressure(0.1291, 0.051, 0.67)), 2)
    4.0
    """
    if not (coefficient > 0.0 and 0.5 <= exponent <= 1.0):
        return math.nan
    return math.copysign(math.pow(abs(flow_m3_s) / coefficient, 1.0 / exponent), flow_m3_s)


@law
def leakage_coefficient_n50(n50_per_h: float, volume_m3: float, exponent: float) -> float:
    """Leakage coefficient of a place whose air change rate at 50 Pa is known.

    Parameters
    ----------
    n50_per_h : float or array
        Air changes per *hour* at 50 Pa [1/h]. Valid from 0.
    volume_m3 : float or array
        Air volume of the place [m3]. Valid above 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Leakage coefficient [m3/(s Pa**n)]; NaN outside the valid range.

    Notes
    -----
    ``c = n50 V / (3600 * 50**n)``.

    Error: exact.
    Source: EN ISO 9972 (fan pressurisation), definition of n50.
    Checked against: the definition itself, by the flow at 50 Pa.

    Examples
    --------
    >>> round(float(leakage_coefficient_n50(5.0, 30.0, 0.65)), 6)
    0.003277
    """
    if not (n50_per_h >= 0.0 and volume_m3 > 0.0 and 0.5 <= exponent <= 1.0):
        return math.nan
    return n50_per_h * volume_m3 / (3600.0 * math.pow(TEST_PA, exponent))


@law
def coefficient_from_area(area_m2: float, exponent: float, density_kg_m3: float) -> float:
    """Leakage coefficient of a place whose effective leakage area at 4 Pa is known.

    Parameters
    ----------
    area_m2 : float or array
        Effective leakage area at 4 Pa [m2], discharge coefficient 1: of a plain hole take about
        0.6 of what the ruler says. Valid from 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.
    density_kg_m3 : float or array
        Density of the air that flows [kg/m3]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Leakage coefficient [m3/(s Pa**n)]; NaN outside the valid range.

    Notes
    -----
    ``c = A sqrt(2 * 4 / rho) / 4**n``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, definition of the effective air
    leakage area.
    Checked against: Bernoulli's equation at 4 Pa; round trip with `effective_leakage_area`.

    Examples
    --------
    >>> round(float(coefficient_from_area(0.003125, 0.65, 1.2)), 5)
    0.00328
    """
    if not (area_m2 >= 0.0 and 0.5 <= exponent <= 1.0 and density_kg_m3 > 0.0):
        return math.nan
    nozzle_m_s = math.sqrt(2.0 * REFERENCE_PA / density_kg_m3)
    return area_m2 * nozzle_m_s / math.pow(REFERENCE_PA, exponent)


@law
def effective_leakage_area(coefficient: float, exponent: float, density_kg_m3: float) -> float:
    """Area of the ideal nozzle that would leak as much at 4 Pa as the place does.

    Parameters
    ----------
    coefficient : float or array
        Leakage coefficient [m3/(s Pa**n)]. Valid from 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.
    density_kg_m3 : float or array
        Density of the air that flows [kg/m3]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Effective leakage area at 4 Pa [m2]; NaN outside the valid range.

    Notes
    -----
    ``A = c 4**n / sqrt(2 * 4 / rho)``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, definition of the effective air
    leakage area.
    Checked against: hand calculation for 30 m3 at 5 air changes; round trip.

    Examples
    --------
    >>> round(float(effective_leakage_area(0.003277, 0.65, 1.2)) * 1e4, 2)
    31.25
    """
    if not (coefficient >= 0.0 and 0.5 <= exponent <= 1.0 and density_kg_m3 > 0.0):
        return math.nan
    nozzle_m_s = math.sqrt(2.0 * REFERENCE_PA / density_kg_m3)
    return coefficient * math.pow(REFERENCE_PA, exponent) / nozzle_m_s


@law
def depressurisation(flow_m3_s: float, flow_at_50_m3_s: float, exponent: float) -> float:
    """Under-pressure that an exhaust makes in a place: what a flue or a chimney must overcome.

    Parameters
    ----------
    flow_m3_s : float or array
        Flow drawn out and replaced through gaps [m3/s]; negative when blown in.
    flow_at_50_m3_s : float or array
        Leakage flow of the place at 50 Pa [m3/s]. Valid above 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Under-pressure [Pa], positive when drawn out; NaN outside the valid range.

    Notes
    -----
    ``dp = 50 (Q / Q50)**(1/n)``, with doors and windows shut.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, power law of leakage, referred to
    50 Pa (EN ISO 9972).
    Checked against: hand calculation for 30 m3 at 5 air changes.

    Examples
    --------
    >>> round(float(depressurisation(100.0 / 3600.0, 150.0 / 3600.0, 0.65)), 1)
    26.8
    """
    if not (flow_at_50_m3_s > 0.0 and 0.5 <= exponent <= 1.0):
        return math.nan
    return math.copysign(
        TEST_PA * math.pow(abs(flow_m3_s) / flow_at_50_m3_s, 1.0 / exponent), flow_m3_s
    )


@law
def largest_exhaust(limit_Pa: float, flow_at_50_m3_s: float, exponent: float) -> float:
    """Exhaust flow at which a place comes to a given under-pressure.

    Parameters
    ----------
    limit_Pa : float or array
        Under-pressure that a flue still bears [Pa]. Valid from 0.
    flow_at_50_m3_s : float or array
        Leakage flow of the place at 50 Pa [m3/s]. Valid above 0.
    exponent : float or array
        Exponent n [-]. Valid 0.5 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow of all exhausts together [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Q = Q50 (dp / 50)**n``, doors and windows shut. A screening figure: it proves no flue safe.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 16, power law of leakage, referred to
    50 Pa (EN ISO 9972).
    Checked against: hand calculation for 1500 m3/h at 50 Pa: 2, 3, 5 Pa.

    Examples
    --------
    >>> round(float(largest_exhaust(2.0, 1500.0 / 3600.0, 0.65)) * 3600.0, 1)
    185.1
    """
    if not (limit_Pa >= 0.0 and flow_at_50_m3_s > 0.0 and 0.5 <= exponent <= 1.0):
        return math.nan
    return flow_at_50_m3_s * math.pow(limit_Pa / TEST_PA, exponent)


@law
def exhaust_allowance(floor_m2: float, allowance_m_s: float) -> float:
    """Exhaust flow that a make-up-air table lets a house do without an opening for it.

    Parameters
    ----------
    floor_m2 : float or array
        Floor area of the house [m2]. Valid from 0.
    allowance_m_s : float or array
        Flow per floor area of the table's row [m/s]; 0.15 cfm/ft2 is 0.000762. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow of all exhausts together [m3/s]; NaN outside the valid range.

    Notes
    -----
    ``Q = A q``.

    Error: exact.
    Source: Minnesota Rules 1346.0501, table 501.4.1 (read in a worked form).
    Checked against: the form's house of 4068 ft2: 610, 366, 244, 122 cfm.

    Examples
    --------
    >>> round(float(exhaust_allowance(377.93, 0.000762)), 3)
    0.288
    """
    if not (floor_m2 >= 0.0 and allowance_m_s >= 0.0):
        return math.nan
    return floor_m2 * allowance_m_s
