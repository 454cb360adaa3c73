"""States of moist air that need a solved balance: dew point, wet bulb, fog.

Each law holds its own safeguarded Newton iteration, so that it stays one pure function.
"""

from __future__ import annotations

import math

from coldwright.physics.air_state import (
    CP_AIR,
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    MASS_RATIO,
    ZERO_C_K,
    humidity_ratio_saturated,
)
from coldwright.physics.compiled import compiled, law
from coldwright.physics.saturation import (
    TRIPLE_POINT_K,
    TRIPLE_POINT_PA,
    saturation_pressure,
    saturation_pressure_and_slope,
    saturation_temperature,
)

_COLDEST_K = 173.15
_HOTTEST_K = 473.15
_WARMEST_BULB_K = 373.15
# A Newton step of this size leaves an error of some 1e-13 K: convergence is quadratic.
_LAST_STEP_K = 1e-6
# Water beyond saturation that is still taken for rounding [kg/kg].
_GRACE = 1e-9


@law
def dew_point(humidity_ratio: float, pressure_Pa: float) -> float:
    """Temperature at which air, cooled at constant pressure, begins to drop its water.

    Below 0.01 °C it is the frost point.

    Parameters
    ----------
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid where the result lies in 173.15 to 473.15 K, so
        above 0: perfectly dry air has no dew point.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Dew or frost point [K]; NaN outside the valid range.

    Notes
    -----
    ``ps(T) = pw`` with ``pw = p W / (0.621945 + W)``, solved to 1e-9 K.

    Error: 0.04 % (0.1 K; -40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1 (definition of the dew point).
    Checked against: CoolProp HAPropsSI; psychrolib; EN ISO 13788 dew-point formula.

    Examples
    --------
    >>> round(float(dew_point(0.009881, 101325.0)) - 273.15, 2)
    13.86
    """
    if not (humidity_ratio > 0.0 and pressure_Pa > 0.0):
        return math.nan
    vapour_Pa = pressure_Pa * humidity_ratio / (MASS_RATIO + humidity_ratio)
    dew_K: float = saturation_temperature(vapour_Pa)
    return dew_K


@law
def humidity_ratio_from_wet_bulb(
    temperature_K: float, wet_bulb_K: float, pressure_Pa: float
) -> float:
    """Humidity ratio of air whose dry and wet bulb temperatures were read.

    Parameters
    ----------
    temperature_K : float or array
        Dry bulb temperature [K]. Valid 173.15 to 373.15 K.
    wet_bulb_K : float or array
        Wet bulb temperature [K]; below 273.16 K the bulb is iced. Valid from 173.15 K to
        `temperature_K`.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above saturation at the wet bulb.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Humidity ratio [kg/kg dry air]; NaN outside the valid range, and where the wet bulb is
        lower than it would be in perfectly dry air.

    Notes
    -----
    Thermodynamic wet bulb t* in °C, adiabatic saturation:
    ``W = ((2501000 - 2326 t*) Ws* - 1006 (t - t*)) / (2501000 + 1860 t - 4186 t*)``, over ice
    ``W = ((2830000 - 240 t*) Ws* - 1006 (t - t*)) / (2830000 + 1860 t - 2100 t*)``.

    Error: 1 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation 33 and its twin over ice.
    Checked against: the same chapter's worked example 1; CoolProp HAPropsSI; psychrolib.

    Examples
    --------
    >>> round(float(humidity_ratio_from_wet_bulb(313.15, 293.15, 101325.0)), 4)
    0.0064
    """
    if not _COLDEST_K <= wet_bulb_K <= temperature_K <= _WARMEST_BULB_K:
        return math.nan
    saturated: float = humidity_ratio_saturated(wet_bulb_K, pressure_Pa)
    bulb = wet_bulb_K - ZERO_C_K
    celsius = temperature_K - ZERO_C_K
    if wet_bulb_K < TRIPLE_POINT_K:
        evaporated = (_ICE_J_KG - _ICE_SLOPE * bulb) * saturated
        latent = _ICE_J_KG + CP_VAPOUR * celsius - _CP_ICE * bulb
    else:
        evaporated = (LATENT_J_KG - (CP_LIQUID - CP_VAPOUR) * bulb) * saturated
        latent = LATENT_J_KG + CP_VAPOUR * celsius - CP_LIQUID * bulb
    ratio = (evaporated - CP_AIR * (celsius - bulb)) / latent
    if not ratio >= 0.0:
        return math.nan
    return ratio


@law
def wet_bulb(temperature_K: float, humidity_ratio: float, pressure_Pa: float) -> float:
    """Thermodynamic wet bulb temperature: the coldest that evaporating water can make this air.

    Parameters
    ----------
    temperature_K : float or array
        Dry bulb temperature [K]. Valid 223.15 to 373.15 K.
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid from 0 to saturation.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 1000 Pa.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Wet bulb temperature [K]; NaN outside the valid range.

    Notes
    -----
    Solves `humidity_ratio_from_wet_bulb` for the wet bulb to 1e-9 K. Just below 0 °C a bulb may
    be wet or iced, and the two read differently; where both are possible this gives the wet one.

    Error: 0.03 % (0.08 K; up to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation 33 and its twin over ice.
    Checked against: CoolProp HAPropsSI; psychrolib; the same chapter's worked example 1.

    Examples
    --------
    >>> round(float(wet_bulb(298.15, 0.009881, 101325.0)) - 273.15, 2)
    17.89
    """
    if not (223.15 <= temperature_K <= _WARMEST_BULB_K and humidity_ratio >= 0.0):
        return math.nan
    if not pressure_Pa > 1000.0:
        return math.nan
    saturated_Pa = saturation_pressure(temperature_K)
    if saturated_Pa < pressure_Pa:
        excess = humidity_ratio - MASS_RATIO * saturated_Pa / (pressure_Pa - saturated_Pa)
        if excess > _GRACE:
            return math.nan
        if excess >= 0.0:
            return temperature_K
    celsius = temperature_K - ZERO_C_K
    low_K = _COLDEST_K
    high_K = temperature_K
    iced = True
    if temperature_K > TRIPLE_POINT_K:
        at_triple = MASS_RATIO * TRIPLE_POINT_PA / (pressure_Pa - TRIPLE_POINT_PA)
        bulb = TRIPLE_POINT_K - ZERO_C_K
        iced = _wet_misfit(celsius, bulb, humidity_ratio, at_triple) > 0.0
        if iced:
            high_K = TRIPLE_POINT_K
        else:
            low_K = TRIPLE_POINT_K
    guess_K = high_K
    for _ in range(100):
        saturated_Pa, slope_Pa_K = saturation_pressure_and_slope(guess_K)
        dry_Pa = pressure_Pa - saturated_Pa
        if dry_Pa <= 0.01 * pressure_Pa:  # at or near boiling: far too warm for a wet bulb
            high_K = guess_K
            guess_K = 0.5 * (low_K + high_K)
            continue
        saturated = MASS_RATIO * saturated_Pa / dry_Pa
        slope = MASS_RATIO * pressure_Pa * slope_Pa_K / (dry_Pa * dry_Pa)
        bulb = guess_K - ZERO_C_K
        if iced:
            misfit = _iced_misfit(celsius, bulb, humidity_ratio, saturated)
            misfit_slope = (
                CP_AIR
                + _CP_ICE * humidity_ratio
                - _ICE_SLOPE * saturated
                + (_ICE_J_KG - _ICE_SLOPE * bulb) * slope
            )
        else:
            misfit = _wet_misfit(celsius, bulb, humidity_ratio, saturated)
            misfit_slope = (
                CP_AIR
                + CP_LIQUID * humidity_ratio
                - (CP_LIQUID - CP_VAPOUR) * saturated
                + (LATENT_J_KG - (CP_LIQUID - CP_VAPOUR) * bulb) * slope
            )
        if misfit > 0.0:
            high_K = guess_K
        else:
            low_K = guess_K
        step_K: float = misfit / misfit_slope
        guess_K -= step_K
        if abs(step_K) < _LAST_STEP_K:
            return min(guess_K, temperature_K)
        if not low_K < guess_K < high_K:
            guess_K = 0.5 * (low_K + high_K)
    return math.nan


@law
def fog_temperature(enthalpy_J_kg: float, water_ratio: float, pressure_Pa: float) -> float:
    """Temperature of saturated air that carries its surplus water as suspended drops.

    What mixing or contact with a cold surface leaves beyond saturation turns to fog at constant
    enthalpy, which warms the air a little.

    Parameters
    ----------
    enthalpy_J_kg : float or array
        Enthalpy of air, vapour and drops together, per kilogram of dry air [J/kg].
    water_ratio : float or array
        All water, vapour and drops [kg/kg dry air]. Valid from saturation at the result upwards.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 1000 Pa.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Temperature [K], 173.15 to 373.15 K; NaN outside, and where the water is too little to
        saturate the air (no fog: use `temperature_at_enthalpy`).

    Notes
    -----
    ``h = 1006 t + Ws (2501000 + 1860 t) + (W - Ws) 4186 t`` with t in °C and Ws(T) at saturation,
    solved to 1e-10 K. Below 273.16 K the drops are supercooled beside ice saturation: a
    continuation that keeps solvers going, not a model of frost.

    Error: 0.03 % (0.08 K; up to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, enthalpies of moist air and water.
    Checked against: an energy balance over psychrolib's saturated state, root found by scipy.

    Examples
    --------
    >>> round(float(fog_temperature(60000.0, 0.02, 101325.0)) - 273.15, 2)
    20.63
    """
    if not (water_ratio >= 0.0 and pressure_Pa > 1000.0):
        return math.nan
    # Were all of it vapour, the air would be colder still: this bounds the root from below.
    vapour_only = (enthalpy_J_kg - LATENT_J_KG * water_ratio) / (CP_AIR + CP_VAPOUR * water_ratio)
    if not vapour_only <= _WARMEST_BULB_K - ZERO_C_K:
        return math.nan
    low_K = max(_COLDEST_K, ZERO_C_K + vapour_only)
    high_K = _WARMEST_BULB_K
    guess_K = low_K
    for _ in range(100):
        saturated_Pa, slope_Pa_K = saturation_pressure_and_slope(guess_K)
        dry_Pa = pressure_Pa - saturated_Pa
        if dry_Pa <= 0.01 * pressure_Pa:
            high_K = guess_K
            guess_K = 0.5 * (low_K + high_K)
            continue
        saturated = MASS_RATIO * saturated_Pa / dry_Pa
        slope = MASS_RATIO * pressure_Pa * slope_Pa_K / (dry_Pa * dry_Pa)
        celsius = guess_K - ZERO_C_K
        drops = water_ratio - saturated
        evaporation = LATENT_J_KG + (CP_VAPOUR - CP_LIQUID) * celsius
        misfit = (CP_AIR + CP_LIQUID * water_ratio) * celsius + saturated * evaporation
        misfit -= enthalpy_J_kg
        misfit_slope = CP_AIR + CP_VAPOUR * saturated + CP_LIQUID * drops + evaporation * slope
        if misfit > 0.0:
            high_K = guess_K
        else:
            low_K = guess_K
        step_K: float = misfit / misfit_slope
        guess_K -= step_K
        if abs(step_K) < _LAST_STEP_K:
            if drops < -_GRACE or not _COLDEST_K <= guess_K <= _WARMEST_BULB_K:
                return math.nan
            return guess_K
        if not low_K < guess_K < high_K:
            guess_K = 0.5 * (low_K + high_K)
    return math.nan


# Sublimation as the wet-bulb equation over ice reckons it: 2830000 + 1860 t - 2100 t*.
_ICE_J_KG = 2_830_000.0
_CP_ICE = 2100.0
_ICE_SLOPE = _CP_ICE - CP_VAPOUR


@compiled
def _wet_misfit(celsius: float, bulb: float, ratio: float, saturated: float) -> float:
    given = (LATENT_J_KG - (CP_LIQUID - CP_VAPOUR) * bulb) * saturated - CP_AIR * (celsius - bulb)
    return given - ratio * (LATENT_J_KG + CP_VAPOUR * celsius - CP_LIQUID * bulb)


@compiled
def _iced_misfit(celsius: float, bulb: float, ratio: float, saturated: float) -> float:
    given = (_ICE_J_KG - _ICE_SLOPE * bulb) * saturated - CP_AIR * (celsius - bulb)
    return given - ratio * (_ICE_J_KG + CP_VAPOUR * celsius - _CP_ICE * bulb)
