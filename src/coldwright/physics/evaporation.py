"""Cooling by evaporating water: what it takes, and what a wet pad in an airstream does."""

from __future__ import annotations

import math

from coldwright.physics.air_balance import humidity_ratio_from_wet_bulb, wet_bulb
from coldwright.physics.air_state import CP_LIQUID, CP_VAPOUR, LATENT_J_KG, ZERO_C_K
from coldwright.physics.air_volume import specific_volume
from coldwright.physics.compiled import law


@law
def evaporation_heat(temperature_K: float) -> float:
    """Heat that a kilogram of water takes up when it evaporates.

    Parameters
    ----------
    temperature_K : float or array
        Temperature of water and vapour [K]. Valid 273.15 to 373.15.

    Returns
    -------
    float or array, same shape as the input
        Heat [J/kg]; NaN outside the valid range.

    Notes
    -----
    ``r = 2501000 - 2326 t`` with t in °C: vapour less liquid as the enthalpy of moist air counts
    them, so that a wet pad closes the same ledger.

    Error: 0.6 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, enthalpy of moist air and wet-bulb
    equation.
    Checked against: IAPWS-95 (CoolProp), 5 to 100 °C.

    Examples
    --------
    >>> round(float(evaporation_heat(298.15)))
    2442850
    """
    if not 273.15 <= temperature_K <= 373.15:
        return math.nan
    return LATENT_J_KG - (CP_LIQUID - CP_VAPOUR) * (temperature_K - ZERO_C_K)


@law
def evaporation_rate(heat_W: float, temperature_K: float) -> float:
    """Water that must evaporate to carry off a heat.

    Parameters
    ----------
    heat_W : float or array
        Heat to carry off [W]. Valid from 0.
    temperature_K : float or array
        Temperature at which the water evaporates [K]. Valid 273.15 to 373.15.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Water [kg/s]; NaN outside the valid range.

    Notes
    -----
    ``m = Q / r``. The air must be able to take it up; in damp air it cannot.

    Error: 0.6 %.
    Source: `evaporation_heat`.
    Checked against: IAPWS-95 (CoolProp): 100 W evaporate 3.5 kg a day.

    Examples
    --------
    >>> round(86400.0 * float(evaporation_rate(100.0, 298.15)), 2)
    3.54
    """
    if not heat_W >= 0.0:
        return math.nan
    return heat_W / evaporation_heat(temperature_K)


@law
def evaporative_outlet(air_K: float, wet_bulb_K: float, effectiveness: float) -> float:
    """Air from a direct evaporative cooler: a fan through a wet pad.

    Parameters
    ----------
    air_K : float or array
        Temperature of the air drawn in, as a rule outdoor air [K]. Valid from `wet_bulb_K`.
    wet_bulb_K : float or array
        Its wet bulb [K]. Valid above 0.
    effectiveness : float or array
        Wet-bulb effectiveness of the pad, 0.5 (a wet cloth) to 0.9 (a deep pad) [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Temperature [K]; NaN outside the valid range.

    Notes
    -----
    ``T_out = T - e (T - T_wb)``. The air leaves nearly saturated, so it must be able to leave the
    place: with closed windows the place soon is as damp as the pad and nothing evaporates.

    Error: exact.
    Source: ASHRAE Handbook HVAC Systems and Equipment, evaporative air-cooling equipment
    (definition of the direct saturation efficiency).
    Checked against: hand calculation at 35 °C and 19.4 °C wet bulb.

    Examples
    --------
    >>> round(float(evaporative_outlet(308.15, 292.55, 0.8)) - 273.15, 2)
    22.52
    """
    if not (0.0 < wet_bulb_K <= air_K and 0.0 <= effectiveness <= 1.0):
        return math.nan
    return air_K - effectiveness * (air_K - wet_bulb_K)


@law
def evaporative_humidity(
    air_K: float, humidity_ratio: float, pressure_Pa: float, effectiveness: float
) -> float:
    """Humidity ratio of the air from a direct evaporative cooler.

    Parameters
    ----------
    air_K : float or array
        Temperature of the air drawn in [K]. Valid 273.16 to 323.15.
    humidity_ratio : float or array
        Its humidity ratio [kg/kg dry air]. Valid from 0 to saturation.
    pressure_Pa : float or array
        Air pressure [Pa]. Valid above the vapour pressure.
    effectiveness : float or array
        Wet-bulb effectiveness of the pad [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Humidity ratio [kg/kg dry air]; NaN outside the valid range and where the wet bulb would be
        below freezing.

    Notes
    -----
    The wet bulb stays the same from inlet to outlet, whose temperature is `evaporative_outlet`.

    Error: 0.7 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, wet-bulb equation; adiabatic
    saturation.
    Checked against: CoolProp HAPropsSI and psychrolib along lines of constant wet bulb.

    Examples
    --------
    >>> round(float(evaporative_humidity(308.15, 0.007, 101325.0, 0.8)), 4)
    0.0123
    """
    if not (273.16 <= air_K <= 323.15 and 0.0 <= effectiveness <= 1.0):
        return math.nan
    bulb: float = wet_bulb(air_K, humidity_ratio, pressure_Pa)
    if not bulb >= 273.16:
        return math.nan
    outlet: float = evaporative_outlet(air_K, bulb, effectiveness)
    return humidity_ratio_from_wet_bulb(outlet, bulb, pressure_Pa)


@law
def evaporative_water(
    flow_m3_s: float, air_K: float, humidity_ratio: float, pressure_Pa: float, effectiveness: float
) -> float:
    """Water that a direct evaporative cooler uses and gives to the air.

    Parameters
    ----------
    flow_m3_s : float or array
        Air drawn in, at its inlet state [m3/s]. Valid from 0.
    air_K : float or array
        Temperature of the air drawn in [K]. Valid 273.16 to 323.15.
    humidity_ratio : float or array
        Its humidity ratio [kg/kg dry air]. Valid from 0 to saturation.
    pressure_Pa : float or array
        Air pressure [Pa]. Valid above the vapour pressure.
    effectiveness : float or array
        Wet-bulb effectiveness of the pad [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Water [kg/s]; NaN outside the valid range.

    Notes
    -----
    ``m = (V / v) (W_out - W_in)``. Water bled off against scale comes on top.

    Error: 3 %.
    Source: balance of water with `evaporative_humidity`.
    Checked against: CoolProp HAPropsSI.

    Examples
    --------
    >>> round(3600.0 * float(evaporative_water(0.1, 308.15, 0.007, 101325.0, 0.8)), 2)
    2.18
    """
    if not flow_m3_s >= 0.0:
        return math.nan
    outlet: float = evaporative_humidity(air_K, humidity_ratio, pressure_Pa, effectiveness)
    volume: float = specific_volume(air_K, humidity_ratio, pressure_Pa)
    return flow_m3_s / volume * (outlet - humidity_ratio)
