"""Temperatures through a hot day, from its highest one and its range."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Share of the daily range by which the air is below the day's highest temperature, at the solar
# hours 0 (which is 24), 1, ... 24. ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, table 6.
DAILY_RANGE_SHARES = (
    0.82, 0.88, 0.92, 0.95, 0.98, 1.0, 0.98, 0.91, 0.74, 0.55, 0.38, 0.23, 0.13,
    0.05, 0.0, 0.0, 0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82,
)  # fmt: skip


@law
def daily_range_share(solar_hour: float) -> float:
    """Share of the daily range by which the air is below the day's highest temperature.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.

    Returns
    -------
    float or array, same shape as the input
        Share [-], 0 at the hottest (14 to 15 h) and 1 at the coolest (5 h); NaN for no number.

    Notes
    -----
    The table's hourly values, straight lines between them. The hours are *solar*: on the clock the
    highest temperature comes later in the west of a time zone and with summer time. A sine curve
    would differ by up to a fifth of the range.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, table 6 (after D. Thevenard, 2009:
    the means of hot days at many stations).
    Checked against: the same chapter's worked example (Atlanta, July).

    Examples
    --------
    >>> float(daily_range_share(14.0)), float(daily_range_share(29.0))
    (0.0, 1.0)
    >>> round(float(daily_range_share(10.5)), 6)
    0.305
    """
    if not math.isfinite(solar_hour):
        return math.nan
    hour = solar_hour - 24.0 * math.floor(solar_hour / 24.0)
    before = min(23, int(hour))
    part = hour - before
    return DAILY_RANGE_SHARES[before] * (1.0 - part) + DAILY_RANGE_SHARES[before + 1] * part


@law
def design_day_temperature(solar_hour: float, highest_K: float, range_K: float) -> float:
    """Outdoor temperature at an hour of a design day.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.
    highest_K : float or array
        Highest temperature of the day [K]. Valid above 0.
    range_K : float or array
        Highest less lowest temperature [K]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Temperature [K]; NaN outside the valid range.

    Notes
    -----
    ``T = T_max - r f(h)`` with f of `daily_range_share`.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, table 6 and its text.
    Checked against: the same chapter's worked example (Atlanta, July, 33.1 °C and 11.2 K).

    Examples
    --------
    >>> round(float(design_day_temperature(11.0, 306.25, 11.2)) - 273.15, 1)
    30.5
    """
    if not (highest_K > 0.0 and range_K >= 0.0):
        return math.nan
    share: float = daily_range_share(solar_hour)
    return highest_K - range_K * share


@law
def design_day_wet_bulb(
    solar_hour: float, highest_K: float, wet_bulb_K: float, range_K: float, wet_bulb_range_K: float
) -> float:
    """Outdoor wet bulb at an hour of a design day.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.
    highest_K : float or array
        Highest (dry-bulb) temperature of the day [K]. Valid above 0.
    wet_bulb_K : float or array
        Wet bulb at the same hour [K]. Valid above 0, to `highest_K`.
    range_K, wet_bulb_range_K : float or array
        Daily ranges of the dry bulb and of the wet bulb [K]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Wet bulb [K], never above the dry bulb; NaN outside the valid range.

    Notes
    -----
    ``T_wb = min(T_wb,max - r_wb f(h), T_db(h))``: the same shares with the wet bulb's own range,
    and saturated air at most.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, table 6 and its text.
    Checked against: `design_day_temperature`, whose worked example it shares; the cap by hand.

    Examples
    --------
    >>> round(float(design_day_wet_bulb(5.0, 308.15, 296.15, 10.0, 3.0)), 2)
    293.15
    """
    if not (0.0 < wet_bulb_K <= highest_K and range_K >= 0.0 and wet_bulb_range_K >= 0.0):
        return math.nan
    share: float = daily_range_share(solar_hour)
    return min(wet_bulb_K - wet_bulb_range_K * share, highest_K - range_K * share)


@law
def design_day_dew_point(
    solar_hour: float,
    highest_K: float,
    dew_point_K: float,
    range_K: float,
    dew_point_range_K: float,
) -> float:
    """Outdoor dew point at an hour of a design day.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.
    highest_K : float or array
        Highest temperature of the day [K]. Valid above 0.
    dew_point_K : float or array
        Dew point at the same hour [K]. Valid above 0, to `highest_K`.
    range_K : float or array
        Daily range of the air temperature [K]. Valid from 0.
    dew_point_range_K : float or array
        Daily range of the dew point [K]. Valid from 0; 0 keeps the moisture of the air all day.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Dew point [K], never above the air temperature; NaN outside the valid range.

    Notes
    -----
    ``T_dp = min(T_dp,max - r_dp f(h), T_db(h))``. Where the night cools the air below its dew point
    the surplus has fallen as dew.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, table 6; the constant dew point with
    a cap is common practice for design days.
    Checked against: the cap and the constant by hand.

    Examples
    --------
    >>> round(float(design_day_dew_point(5.0, 308.15, 300.15, 12.0, 0.0)), 2)
    296.15
    """
    if not (0.0 < dew_point_K <= highest_K and range_K >= 0.0 and dew_point_range_K >= 0.0):
        return math.nan
    share: float = daily_range_share(solar_hour)
    return min(dew_point_K - dew_point_range_K * share, highest_K - range_K * share)
