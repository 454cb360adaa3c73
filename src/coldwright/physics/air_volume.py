"""Volume and density of moist air, per kilogram of dry air and per cubic metre."""

from __future__ import annotations

import math

from coldwright.physics.air_state import GAS_J_KGK, MASS_RATIO
from coldwright.physics.compiled import law

_COLDEST_K = 173.15
_HOTTEST_K = 473.15


@law
def specific_volume(temperature_K: float, humidity_ratio: float, pressure_Pa: float) -> float:
    """Volume of moist air that holds one kilogram of dry air.

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
        Volume [m3/kg dry air]; NaN outside the valid range.

    Notes
    -----
    ``v = 287.042 T (1 + W/0.621945) / p``.

    Error: 0.15 % (-40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for the specific volume.
    Checked against: the same handbook, chapter 1, table 2; CoolProp HAPropsSI; psychrolib.

    Examples
    --------
    >>> round(float(specific_volume(298.15, 0.009881, 101325.0)), 4)
    0.858
    """
    if not (_COLDEST_K <= temperature_K <= _HOTTEST_K):
        return math.nan
    if not (humidity_ratio >= 0.0 and pressure_Pa > 0.0):
        return math.nan
    return GAS_J_KGK * temperature_K * (1.0 + humidity_ratio / MASS_RATIO) / pressure_Pa


@law
def density(temperature_K: float, humidity_ratio: float, pressure_Pa: float) -> float:
    """Density of moist air: kilograms of air and vapour together in a cubic metre.

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
        Density [kg/m3]; NaN outside the valid range.

    Notes
    -----
    ``rho = (1 + W) / v``. Moist air is lighter than dry air.

    Error: 0.15 % (-40 to 50 °C).
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation for the density.
    Checked against: CoolProp HAPropsSI; psychrolib.

    Examples
    --------
    >>> round(float(density(298.15, 0.009881, 101325.0)), 3)
    1.177
    """
    volume: float = specific_volume(temperature_K, humidity_ratio, pressure_Pa)
    return (1.0 + humidity_ratio) / volume
