"""The weather over the time that is followed, from whatever kind of climate the sheet names."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.findings import Finding
from coldwright.machine.values import Values
from coldwright.physics.air_balance import humidity_ratio_from_wet_bulb
from coldwright.physics.air_state import (
    humidity_ratio_from_relative,
    humidity_ratio_saturated,
    standard_pressure,
)
from coldwright.physics.design_day import design_day_temperature, design_day_wet_bulb
from coldwright.physics.sun import apparent_solar_hour
from coldwright.readings.sun import clear_sun
from coldwright.readings.weather import Weather, read_weather
from coldwright.sheet.models import DesignDay, Sheet, SteadyClimate, WeatherFile

DAY_S = 86400.0
_STEP_S = 600.0
# What a clear sky or a measured file may be off on a surface (from memory: 10 % is a fair limit
# for transposition models).
_SUN_LIMIT = 0.10

OnPlane = Callable[[float, float | None], NDArray[np.float64]]


@dataclass(frozen=True)
class Sky:
    """Weather at the instants `clock_s`; arrays of shape (n, m), or (1, m) where all tries agree.

    `on_plane(tilt_rad, azimuth_rad)` gives the sun on a surface [W/m²], shape (m,).
    """

    clock_s: NDArray[np.float64]
    period_s: float
    """86400 for a day that repeats; 0 for a stretch of a file."""
    day_start_s: float
    """Clock time at which `clock_s` is 0: schedules follow the clock."""
    air_K: NDArray[np.float64]
    humidity_ratio: NDArray[np.float64]
    wind_m_s: NDArray[np.float64]
    pressure_Pa: float
    on_plane: OnPlane
    steady_sun: bool
    """Whether the sheet itself gives the sun on each surface (steady weather)."""
    name: str = ""
    findings: list[Finding] = field(default_factory=list)
    first_day: datetime.date | None = None
    """Day on which `clock_s` is 0 (its year does not count); None in steady weather."""

    @property
    def length_s(self) -> float:
        """How long the weather lasts before it repeats or ends [s]."""
        return float(self.clock_s[-1])


def sky_of(sheet: Sheet, values: Values) -> Sky:
    """The weather of a sheet.

    Raises
    ------
    ReadingError
        When a weather file is missing or cannot be read.
    """
    climate = sheet.climate
    if isinstance(climate, DesignDay):
        return _design_day(climate, values)
    if isinstance(climate, WeatherFile):
        return _from_file(sheet, climate, values)
    return _steady(climate, values)


def _column(number: Any) -> NDArray[np.float64]:
    """Values of all tries as a column, so that they broadcast against the instants."""
    return np.atleast_1d(np.asarray(number, dtype=float))[:, None]


def _steady(climate: SteadyClimate, values: Values) -> Sky:
    pressure = standard_pressure(values(climate.altitude))
    air = values(climate.outdoor_air)
    if climate.outdoor_dew_point is not None:
        water = humidity_ratio_saturated(values(climate.outdoor_dew_point), pressure)
    else:
        assert climate.outdoor_humidity is not None
        water = humidity_ratio_from_relative(air, values(climate.outdoor_humidity), pressure)
    clock = np.array([0.0, DAY_S])
    sun = climate.sun.value
    return Sky(
        clock, DAY_S, 0.0, _column(air) + 0.0 * clock, _column(water) + 0.0 * clock,
        _column(values(climate.wind)) + 0.0 * clock, float(np.mean(pressure)),
        lambda _tilt, _azimuth: np.full(2, sun), True, "steady weather",
    )  # fmt: skip


def _design_day(climate: DesignDay, values: Values) -> Sky:
    clock = np.arange(0.0, DAY_S + 1.0, _STEP_S)
    offset_s = climate.clock_offset_s
    day_number = climate.day.timetuple().tm_yday
    if climate.longitude is not None:
        solar = apparent_solar_hour(
            clock / 3600.0, offset_s / 3600.0, float(day_number), climate.longitude.value
        )
    else:
        solar = clock / 3600.0
    assert climate.highest_air is not None  # the sheet's checks refuse a day without it
    highest, spread = values(climate.highest_air), values(climate.daily_range)
    air = design_day_temperature(solar[None, :], _column(highest), _column(spread))
    if climate.pressure is not None:
        pressure = values(climate.pressure)
    else:
        pressure = standard_pressure(values(climate.altitude))
    if climate.dew_point is not None:
        water = _column(humidity_ratio_saturated(values(climate.dew_point), pressure)) + 0.0 * air
    elif climate.wet_bulb is not None:
        wet = values(climate.wet_bulb)
        if climate.wet_bulb_range is not None:
            bulb = design_day_wet_bulb(
                solar[None, :], _column(highest), _column(wet), _column(spread),
                _column(values(climate.wet_bulb_range)),
            )  # fmt: skip
            water = humidity_ratio_from_wet_bulb(air, bulb, _column(pressure))
        else:
            water = _column(humidity_ratio_from_wet_bulb(highest, wet, pressure)) + 0.0 * air
    else:
        assert climate.humidity is not None
        water = (
            _column(humidity_ratio_from_relative(highest, values(climate.humidity), pressure))
            + 0.0 * air
        )
    # At night the air may cool to its dew point; what is beyond falls out as dew.
    water = np.minimum(water, humidity_ratio_saturated(air, _column(pressure)))
    wind = _column(values(climate.wind)) + 0.0 * air
    on_plane: OnPlane = lambda _tilt, _azimuth: np.zeros(len(clock))  # noqa: E731 - a dark sky
    if climate.sunny:
        assert climate.latitude is not None
        longitude = (
            climate.longitude.value
            if climate.longitude is not None
            else np.radians(offset_s / 240.0)
        )
        sun = clear_sun(
            climate.day,
            latitude_rad=climate.latitude.value,
            longitude_rad=longitude,
            utc_offset_s=offset_s,
            altitude_m=climate.altitude.value,
            turbidity=climate.turbidity.value,
            step_s=_STEP_S,
        )
        albedo = climate.ground_albedo.value

        def on_plane(tilt: float, azimuth: float | None) -> NDArray[np.float64]:
            return np.interp(
                clock, sun.time_s, sun.on_plane(tilt, azimuth, albedo=albedo), period=DAY_S
            )

    name = f"a design day, {climate.day:%d %B}"
    return Sky(
        clock, DAY_S, 0.0, air, water, wind, float(np.mean(pressure)), on_plane, False, name,
        first_day=climate.day,
    )  # fmt: skip


def _from_file(sheet: Sheet, climate: WeatherFile, values: Values) -> Sky:
    path = sheet.weather_path
    assert path is not None  # the sheet's checks refuse a weather climate without a file
    weather = read_weather(path)
    stretch = _stretch(weather, climate)
    start_s = float(stretch.time_s[0]) - 3600.0
    clock = np.concatenate([[0.0], stretch.time_s - start_s])
    first = weather.state_at(np.array([start_s]))
    # Files keep standard time; the sheet's schedules follow the clock on the wall.
    day = (
        datetime.date(2023, 1, 1) + datetime.timedelta(seconds=start_s)
        if climate.first is None
        else climate.first
    )
    wall_s = climate.utc_offset_on(day)
    ahead_s = 0.0 if wall_s is None else wall_s - stretch.utc_offset_s
    air = np.concatenate([first.air_K, stretch.air_K])
    dew = np.concatenate([first.dew_point_K, stretch.dew_point_K])
    altitude = climate.altitude
    pressure = float(
        standard_pressure(altitude.value) if altitude is not None else stretch.pressure_Pa.mean()
    )
    water = np.minimum(
        humidity_ratio_saturated(dew, pressure), humidity_ratio_saturated(air, pressure)
    )
    if climate.wind is not None:
        wind = _column(values(climate.wind)) + 0.0 * clock
    else:
        wind = np.concatenate([first.wind_m_s, stretch.wind_m_s])[None, :]
    sun = stretch.sun
    albedo = climate.ground_albedo.value

    def on_plane(tilt: float, azimuth: float | None) -> NDArray[np.float64]:
        # Hourly means stand in the middle of their hours; straight lines between keep the sum.
        return np.interp(clock, sun.time_s - start_s, sun.on_plane(tilt, azimuth, albedo=albedo))

    return Sky(
        clock, 0.0, (start_s + ahead_s) % DAY_S, air[None, :], water[None, :], wind, pressure,
        on_plane, False, f"{stretch.name} ({stretch.kind})", list(weather.findings),
        first_day=day,
    )  # fmt: skip


def _stretch(weather: Weather, climate: WeatherFile) -> Weather:
    """The days of a file that the sheet asks for; the whole file if it asks for none."""
    count = climate.length_days
    if climate.first is not None:
        return weather.days(climate.first, count or 1)
    if count is not None:
        return weather.hottest_days(count)
    return weather


def sun_factor(values: Values) -> Any:
    """Factor(s) by which the sun on any surface may be off."""
    return values.factor("sun on surfaces", _SUN_LIMIT)
