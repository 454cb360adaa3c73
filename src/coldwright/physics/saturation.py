"""Saturation pressure of water vapour over ice and over liquid water, and its inverse."""

from __future__ import annotations

import math

from coldwright.physics.compiled import compiled, law

TRIPLE_POINT_K = 273.16
# Where the ice and the water equation meet (they differ there by 6e-9).
TRIPLE_POINT_PA = 611.657

_COLDEST_K = 173.15
_ICE_POINT_K = 273.15
_HOTTEST_K = 473.15
_LOG_TRIPLE = math.log(TRIPLE_POINT_PA)


@law
def saturation_pressure_water(temperature_K: float) -> float:
    """Pressure at which water vapour over liquid water is saturated.

    Parameters
    ----------
    temperature_K : float or array
        Temperature of the water surface [K]. Valid 273.15 to 473.15 K. Supercooled water is left
        out: below the triple point frost forms, see `saturation_pressure_ice`.

    Returns
    -------
    float or array, same shape as the input
        Saturation pressure [Pa]; NaN outside the valid range.

    Notes
    -----
    ``ln p = C8/T + C9 + C10 T + C11 T**2 + C12 T**3 + C13 ln T``, pure water (no enhancement
    by the air above it).

    Error: 0.05 %.
    Source: R. W. Hyland and A. Wexler, "Formulations for the thermodynamic properties of the
    saturated phases of H2O from 173.15 K to 473.15 K", ASHRAE Transactions 89(2A), 1983; as printed
    in ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, equation 6.
    Checked against: IAPWS R6-95 (CoolProp), IAPWS R7-97 table 35, ASHRAE Fundamentals 2017
    chapter 1 table 3.

    Examples
    --------
    >>> round(float(saturation_pressure_water(298.15)), 1)
    3169.2
    """
    if not _ICE_POINT_K <= temperature_K <= _HOTTEST_K:
        return math.nan
    return math.exp(_log_pressure_water(temperature_K))


@law
def saturation_pressure_ice(temperature_K: float) -> float:
    """Pressure at which water vapour over ice is saturated.

    Parameters
    ----------
    temperature_K : float or array
        Temperature of the ice surface [K]. Valid 173.15 to 273.16 K.

    Returns
    -------
    float or array, same shape as the input
        Saturation pressure [Pa]; NaN outside the valid range.

    Notes
    -----
    ``ln p = C1/T + C2 + C3 T + C4 T**2 + C5 T**3 + C6 T**4 + C7 ln T``.

    Error: 0.1 %.
    Source: R. W. Hyland and A. Wexler, ASHRAE Transactions 89(2A), 1983; as printed in ASHRAE
    Handbook Fundamentals 2021 (SI), chapter 1, equation 5.
    Checked against: D. M. Murphy and T. Koop, Q. J. R. Meteorol. Soc. 131, 2005, equation 7;
    ASHRAE Fundamentals 2017 chapter 1 table 3.

    Examples
    --------
    >>> round(float(saturation_pressure_ice(263.15)), 1)
    259.9
    """
    if not _COLDEST_K <= temperature_K <= TRIPLE_POINT_K:
        return math.nan
    return math.exp(_log_pressure_ice(temperature_K))


@law
def saturation_pressure(temperature_K: float) -> float:
    """Saturation pressure over the stable phase: ice below 273.16 K, liquid water from there on.

    Parameters
    ----------
    temperature_K : float or array
        Temperature of the surface [K]. Valid 173.15 to 473.15 K.

    Returns
    -------
    float or array, same shape as the input
        Saturation pressure [Pa]; NaN outside the valid range.

    Notes
    -----
    `saturation_pressure_ice` and `saturation_pressure_water`, joined at the triple point, where
    they agree to 6e-9; the slope jumps there by the heat of fusion.

    Error: 0.1 %.
    Source: R. W. Hyland and A. Wexler, ASHRAE Transactions 89(2A), 1983; ASHRAE Handbook
    Fundamentals 2021 (SI), chapter 1, equations 5 and 6.
    Checked against: as its two branches; continuity at the triple point.

    Examples
    --------
    >>> round(float(saturation_pressure(263.15)), 1), round(float(saturation_pressure(298.15)), 1)
    (259.9, 3169.2)
    """
    if not _COLDEST_K <= temperature_K <= _HOTTEST_K:
        return math.nan
    if temperature_K < TRIPLE_POINT_K:
        return math.exp(_log_pressure_ice(temperature_K))
    return math.exp(_log_pressure_water(temperature_K))


@law
def saturation_temperature(vapour_pressure_Pa: float) -> float:
    """Temperature at which vapour of a given pressure is saturated: the dew or the frost point.

    Parameters
    ----------
    vapour_pressure_Pa : float or array
        Pressure of the vapour [Pa]. Valid 0.0014 to 1.55e6 Pa (173.15 to 473.15 K).

    Returns
    -------
    float or array, same shape as the input
        Temperature [K]; NaN outside the valid range.

    Notes
    -----
    Inverts `saturation_pressure` by Newton steps on ``ln p(T)`` from a Magnus guess, to 1e-9 K.

    Error: 0.01 %.
    Source: R. W. Hyland and A. Wexler, ASHRAE Transactions 89(2A), 1983; the guess after
    O. A. Alduchov and R. E. Eskridge, J. Appl. Meteorology 35, 1996 (it leaves no trace).
    Checked against: `saturation_pressure` (round trip); IAPWS R7-97 table 36.

    Examples
    --------
    >>> round(float(saturation_temperature(3169.22)), 2)
    298.15
    """
    if not 1e-3 < vapour_pressure_Pa < 2e6:
        return math.nan
    target = math.log(vapour_pressure_Pa)
    above_triple = target - _LOG_TRIPLE
    liquid = above_triple >= 0.0
    if liquid:
        guess_K = 273.16 + 243.04 * above_triple / (17.625 - above_triple)
    else:
        guess_K = 273.16 + 272.62 * above_triple / (22.46 - above_triple)
    # One branch throughout, so that no step meets the kink at the triple point.
    for _ in range(20):
        if liquid:
            step_K = (_log_pressure_water(guess_K) - target) / _log_slope_water(guess_K)
        else:
            step_K = (_log_pressure_ice(guess_K) - target) / _log_slope_ice(guess_K)
        guess_K -= step_K
        if abs(step_K) < 1e-6:  # the next step would be below 1e-14 K
            break
    # A hundredth of a millikelvin of grace: the ends of the range are pressures, rounded.
    if not _COLDEST_K - 1e-5 <= guess_K <= _HOTTEST_K + 1e-5:
        return math.nan
    return guess_K


@compiled
def saturation_pressure_and_slope(temperature_K: float) -> tuple[float, float]:
    """`saturation_pressure` [Pa] and its derivative [Pa/K] for Newton steps; no range check."""
    if temperature_K < TRIPLE_POINT_K:
        pressure = math.exp(_log_pressure_ice(temperature_K))
        return pressure, pressure * _log_slope_ice(temperature_K)
    pressure = math.exp(_log_pressure_water(temperature_K))
    return pressure, pressure * _log_slope_water(temperature_K)


@compiled
def _log_pressure_water(T: float) -> float:
    series = -4.8640239e-2 + T * (4.1764768e-5 + T * -1.4452093e-8)
    return -5.8002206e3 / T + 1.3914993 + T * series + 6.5459673 * math.log(T)


@compiled
def _log_slope_water(T: float) -> float:
    series = -4.8640239e-2 + T * (2.0 * 4.1764768e-5 + T * (3.0 * -1.4452093e-8))
    return (5.8002206e3 / T + 6.5459673) / T + series


@compiled
def _log_pressure_ice(T: float) -> float:
    series = -9.677843e-3 + T * (6.2215701e-7 + T * (2.0747825e-9 + T * -9.484024e-13))
    return -5.6745359e3 / T + 6.3925247 + T * series + 4.1635019 * math.log(T)


@compiled
def _log_slope_ice(T: float) -> float:
    cubic = 3.0 * 2.0747825e-9 + T * (4.0 * -9.484024e-13)
    series = -9.677843e-3 + T * (2.0 * 6.2215701e-7 + T * cubic)
    return (5.6745359e3 / T + 4.1635019) / T + series
