"""State of moist air from quantities at hand: humidity, enthalpy, volume. No iteration.

Everything is per kilogram of *dry* air, which a cooler neither adds nor removes.
"""

from __future__ import annotations

import math

from coldwright.physics.compiled import law
from coldwright.physics.saturation import saturation_pressure

CP_AIR = 1006.0  # dry air [J/(kg K)]
CP_VAPOUR = 1860.0  # water vapour [J/(kg K)]
CP_LIQUID = 4186.0  # liquid water [J/(kg K)]
LATENT_J_KG = 2_501_000.0  # evaporation at 0 °C [J/kg]
GAS_J_KGK = 287.042  # gas constant of dry air [J/(kg K)]
ZERO_C_K = 273.15
MASS_RATIO = 0.621945  # molar mass of water over that of dry air
ATMOSPHERE_PA = 101_325.0

_COLDEST_K = 173.15
_HOTTEST_K = 473.15


@law
def standard_pressure(altitude_m: float) -> float:
    """Air pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude_m : float or array
        Height above sea level [m]. Valid -5000 to 11000 m.

    Returns
    -------
    float or array, same shape as the input
        Pressure [Pa]; NaN outside the valid range.

    Notes
    -----
    ``p = 101325 (1 - 2.25577e-5 Z)**5.2559``. The weather moves the true pressure by 2 to 3 %
    about it.

    Error: 0.1 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation 3 (ISO 2533 atmosphere).
    Checked against: U.S. Standard Atmosphere 1976 (library fluids).

    Examples
    --------
    >>> round(float(standard_pressure(1000.0)))
    89875
    """
    if not -5000.0 <= altitude_m <= 11000.0:
        return math.nan
    return ATMOSPHERE_PA * math.pow(1.0 - 2.25577e-5 * altitude_m, 5.2559)


@law
def humidity_ratio_from_vapour(vapour_pressure_Pa: float, pressure_Pa: float) -> float:
    """Humidity ratio of air that holds vapour of a given partial pressure.

    Parameters
    ----------
    vapour_pressure_Pa : float or array
        Partial pressure of the water vapour [Pa]. Valid from 0 to below `pressure_Pa`.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Humidity ratio [kg water per kg dry air]; NaN outside the valid range.

    Notes
    -----
    ``W = 0.621945 pw / (p - pw)``: Dalton's law, ideal gases.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for humidity ratio from
    partial pressure.
    Checked against: psychrolib.

    Examples
    --------
    >>> round(float(humidity_ratio_from_vapour(1584.6, 101325.0)), 6)
    0.009881
    """
    if not 0.0 <= vapour_pressure_Pa < pressure_Pa:
        return math.nan
    return MASS_RATIO * vapour_pressure_Pa / (pressure_Pa - vapour_pressure_Pa)


@law
def vapour_pressure(humidity_ratio: float, pressure_Pa: float) -> float:
    """Partial pressure of the water vapour in air of a given humidity ratio.

    Parameters
    ----------
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid from 0.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Vapour pressure [Pa]; NaN outside the valid range.

    Notes
    -----
    ``pw = p W / (0.621945 + W)``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for humidity ratio from
    partial pressure, solved for it.
    Checked against: psychrolib; round trip with `humidity_ratio_from_vapour`.

    Examples
    --------
    >>> round(float(vapour_pressure(0.009881, 101325.0)), 1)
    1584.6
    """
    if not (humidity_ratio >= 0.0 and pressure_Pa > 0.0):
        return math.nan
    return pressure_Pa * humidity_ratio / (MASS_RATIO + humidity_ratio)


@law
def humidity_ratio_saturated(temperature_K: float, pressure_Pa: float) -> float:
    """Humidity ratio of saturated air.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 173.15 to 473.15 K and below boiling at `pressure_Pa`.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above the saturation pressure.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Humidity ratio [kg/kg dry air]; NaN outside the valid range.

    Notes
    -----
    ``Ws = 0.621945 ps / (p - ps)`` over ice below 273.16 K, over water above. The enhancement
    factor (real gas, about 0.4 % in W) is left out: W comes out 0.3 to 0.6 % low.

    Error: 0.7 % (-40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equations 5, 6 and that for Ws.
    Checked against: the same handbook, chapter 1, table 2 (real gas); psychrolib.

    Examples
    --------
    >>> round(float(humidity_ratio_saturated(298.15, 101325.0)), 5)
    0.02008
    """
    saturated_Pa: float = saturation_pressure(temperature_K)
    if not saturated_Pa < pressure_Pa:
        return math.nan
    return MASS_RATIO * saturated_Pa / (pressure_Pa - saturated_Pa)


@law
def humidity_ratio_from_relative(
    temperature_K: float, relative_humidity: float, pressure_Pa: float
) -> float:
    """Humidity ratio of air at a given temperature and relative humidity.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 173.15 to 473.15 K.
    relative_humidity : float or array
        Relative humidity as a ratio [1], over ice below 273.16 K. Valid 0 to 1.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above the vapour pressure.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Humidity ratio [kg/kg dry air]; NaN outside the valid range.

    Notes
    -----
    ``pw = RH ps(T)``, then ``W = 0.621945 pw / (p - pw)``.

    Error: 0.7 % (-40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1 (definition of relative humidity).
    Checked against: CoolProp HAPropsSI (real gas) and psychrolib.

    Examples
    --------
    >>> round(float(humidity_ratio_from_relative(298.15, 0.5, 101325.0)), 6)
    0.009881
    """
    if not 0.0 <= relative_humidity <= 1.0:
        return math.nan
    vapour_Pa: float = relative_humidity * saturation_pressure(temperature_K)
    if not vapour_Pa < pressure_Pa:
        return math.nan
    return MASS_RATIO * vapour_Pa / (pressure_Pa - vapour_Pa)


@law
def relative_humidity(temperature_K: float, humidity_ratio: float, pressure_Pa: float) -> float:
    """Relative humidity of air; above 1 the state is supersaturated and will fog.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 173.15 to 473.15 K.
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid from 0.
    pressure_Pa : float or array
        Pressure of the moist air [Pa]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Relative humidity as a ratio [1], over ice below 273.16 K; NaN outside the valid range.

    Notes
    -----
    ``RH = pw / ps(T)`` with ``pw = p W / (0.621945 + W)``.

    Error: 0.7 % (-40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1 (definition of relative humidity).
    Checked against: CoolProp HAPropsSI (real gas) and psychrolib.

    Examples
    --------
    >>> round(float(relative_humidity(298.15, 0.009881, 101325.0)), 4)
    0.5
    """
    if not (humidity_ratio >= 0.0 and pressure_Pa > 0.0):
        return math.nan
    saturated_Pa: float = saturation_pressure(temperature_K)
    return pressure_Pa * humidity_ratio / ((MASS_RATIO + humidity_ratio) * saturated_Pa)


@law
def enthalpy(temperature_K: float, humidity_ratio: float) -> float:
    """Enthalpy of moist air per kilogram of dry air.

    Zero for dry air at 0 °C and for liquid water at 0 °C.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 173.15 to 473.15 K.
    humidity_ratio : float or array
        Humidity ratio, vapour only [kg/kg dry air]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Enthalpy [J/kg dry air]; NaN outside the valid range.

    Notes
    -----
    ``h = 1006 t + W (2501000 + 1860 t)`` with t in °C.

    Error: 0.4 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for the enthalpy of moist
    air as an ideal gas.
    Checked against: the same handbook, chapter 1, table 2; CoolProp HAPropsSI; psychrolib.

    Examples
    --------
    >>> round(float(enthalpy(298.15, 0.009881)))
    50322
    """
    if not (_COLDEST_K <= temperature_K <= _HOTTEST_K and humidity_ratio >= 0.0):
        return math.nan
    celsius = temperature_K - ZERO_C_K
    return CP_AIR * celsius + humidity_ratio * (LATENT_J_KG + CP_VAPOUR * celsius)


@law
def temperature_at_enthalpy(enthalpy_J_kg: float, humidity_ratio: float) -> float:
    """Temperature of moist air of known enthalpy and humidity ratio, all of it vapour.

    Parameters
    ----------
    enthalpy_J_kg : float or array
        Enthalpy per kilogram of dry air [J/kg].
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Temperature [K]; NaN where it would lie outside 173.15 to 473.15 K.

    Notes
    -----
    ``t = (h - 2501000 W) / (1006 + 1860 W)``. Below the dew point the state is supersaturated:
    see `fog_temperature`.

    Error: 0.05 %.
    Source: `enthalpy`, solved for the temperature.
    Checked against: round trip with `enthalpy`; psychrolib.

    Examples
    --------
    >>> round(float(temperature_at_enthalpy(50321.0, 0.009881)), 2)
    298.15
    """
    if not humidity_ratio >= 0.0:
        return math.nan
    rise_K = (enthalpy_J_kg - LATENT_J_KG * humidity_ratio) / (CP_AIR + CP_VAPOUR * humidity_ratio)
    # The grace of 1e-9 K is rounding at the two ends.
    if not _COLDEST_K - ZERO_C_K - 1e-9 <= rise_K <= _HOTTEST_K - ZERO_C_K + 1e-9:
        return math.nan
    return ZERO_C_K + rise_K


@law
def humid_heat(humidity_ratio: float) -> float:
    """Heat capacity of moist air per kilogram of dry air.

    Parameters
    ----------
    humidity_ratio : float or array
        Humidity ratio [kg/kg dry air]. Valid from 0.

    Returns
    -------
    float or array, same shape as the input
        Heat capacity [J/(kg dry air K)]; NaN outside the valid range.

    Notes
    -----
    ``cp = 1006 + 1860 W``, the slope of `enthalpy` at constant humidity ratio.

    Error: 0.9 % (saturated at 50 °C; 0.3 % below 30 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for the enthalpy of moist
    air.
    Checked against: CoolProp HAPropsSI at 250 to 350 K.

    Examples
    --------
    >>> round(float(humid_heat(0.01)), 1)
    1024.6
    """
    if not humidity_ratio >= 0.0:
        return math.nan
    return CP_AIR + CP_VAPOUR * humidity_ratio


@law
def liquid_enthalpy(temperature_K: float) -> float:
    """Enthalpy of liquid water, zero at 0 °C.

    Parameters
    ----------
    temperature_K : float or array
        Water temperature [K]. Valid 173.15 to 373.15 K; below 273.15 K it stands for supercooled
        drops (no heat of fusion), an extrapolation.

    Returns
    -------
    float or array, same shape as the input
        Enthalpy [J/kg water]; NaN outside the valid range.

    Notes
    -----
    ``hw = 4186 t`` with t in °C.

    Error: 0.5 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, wet-bulb equations.
    Checked against: IAPWS-95 (CoolProp), saturated liquid 5 to 100 °C; the 42.02 kJ/kg at 10 °C of
    the same chapter's worked example 3.

    Examples
    --------
    >>> round(float(liquid_enthalpy(283.15)))
    41860
    """
    if not _COLDEST_K <= temperature_K <= 373.15:
        return math.nan
    return CP_LIQUID * (temperature_K - ZERO_C_K)
