"""An hour-by-hour year (or part of one) of outdoor weather, read from EPW, TMY3 or TMY2 files."""

from __future__ import annotations

import datetime
import os
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from coldwright.errors import ReadingError
from coldwright.findings import Finding
from coldwright.readings import pvlib_calls
from coldwright.readings.sun import Sun

Floats = NDArray[np.float64]
HOUR_S = 3600.0
DAY_S = 86400.0
COMMON_YEAR, LEAP_YEAR = 2025, 2024
"""Years that stand for every file's: typical years are put together from months of several."""


class AirState(NamedTuple):
    """Outdoor air at some instants, arrays of one shape."""

    air_K: Floats
    dew_point_K: Floats
    pressure_Pa: Floats
    wind_m_s: Floats


@dataclass(frozen=True)
class Weather:
    """Hourly weather of one place; arrays of one shape, (n,), without gaps.

    The time of row i is the END of its hour, ``time_s[i]``, in local standard time (no summer
    time). Temperatures, pressure and wind hold at that instant, irradiances are means over the
    hour before it, as the files' formats define them.

    Parameters
    ----------
    name
        The place, as the file calls it.
    kind
        "EPW", "TMY3" or "TMY2".
    file
        Name of the file.
    latitude_rad, longitude_rad, altitude_m
        Of the station; north and east positive [rad], [m].
    utc_offset_s
        How far the files' clock is ahead of UTC [s].
    year_days
        365, or 366 where the file holds February 29.
    time_s
        End of each hour, from the beginning of the year [s]; rises by 3600. Past the year's end
        for days that run over New Year.
    air_K, dew_point_K, pressure_Pa, wind_m_s
        The air at that instant.
    global_W_m2, beam_W_m2, diffuse_W_m2
        Sun: global on the level, beam on a plane square to it, sky on the level; hourly means.
    filled
        True for hours of which something was missing and was filled in.
    findings
        What is doubtful in the file, worst first.
    """

    name: str
    kind: str
    file: str
    latitude_rad: float
    longitude_rad: float
    altitude_m: float
    utc_offset_s: float
    year_days: int
    time_s: Floats
    air_K: Floats
    dew_point_K: Floats
    pressure_Pa: Floats
    wind_m_s: Floats
    global_W_m2: Floats
    beam_W_m2: Floats
    diffuse_W_m2: Floats
    filled: NDArray[np.bool_]
    findings: tuple[Finding, ...] = ()

    @property
    def hours(self) -> int:
        """Number of hours."""
        return len(self.time_s)

    @property
    def covers_year(self) -> bool:
        """Whether every hour of a year is there."""
        return self.hours == 24 * self.year_days

    def state_at(self, time_s: ArrayLike) -> AirState:
        """The air at any instants, on straight lines between the hours.

        Parameters
        ----------
        time_s
            Seconds from the beginning of the year in local standard time.

        Returns
        -------
        AirState
            A whole year repeats itself; otherwise the first and last hours are held beyond.
        """
        wanted_s = np.asarray(time_s, dtype=float)
        period_s = self.year_days * DAY_S if self.covers_year else None
        columns = (self.air_K, self.dew_point_K, self.pressure_Pa, self.wind_m_s)
        return AirState(
            *(np.asarray(np.interp(wanted_s, self.time_s, one, period=period_s)) for one in columns)
        )

    def days(self, first_day: datetime.date, count: int) -> Weather:
        """Some whole days of it: from a day (its year does not count) on, `count` of them.

        Raises
        ------
        ReadingError
            When the file does not hold all of these days.
        """
        start = 24 * self._day_number(first_day)
        wanted = start + np.arange(24 * count)
        have = np.rint(self.time_s / HOUR_S).astype(int) - 1
        rows = wanted % (24 * self.year_days) if self.covers_year else wanted
        at = np.searchsorted(have, rows)
        there = (at < len(have)) & (have[np.minimum(at, len(have) - 1)] == rows)
        if count < 1 or not there.all() or count > self.year_days:
            held = f"{_day_name(have[0])} to {_day_name(have[-1])}"
            raise ReadingError(
                f"The file holds {held}, not the {count} days from {first_day:%B} {first_day.day}.",
                self.file,
            )
        return replace(self._rows(at), time_s=ends_s(wanted))

    def hottest_days(self, count: int) -> Weather:
        """The `count` days in a row with the highest mean air temperature."""
        whole = self.hours // 24
        first_hour = round(self.time_s[0] / HOUR_S) - 1
        skip = -first_hour % 24  # rows before the first midnight
        whole = (self.hours - skip) // 24
        if not 1 <= count <= whole:
            raise ReadingError(f"The file holds {whole} whole days, not {count}.", self.file)
        daily_K = self.air_K[skip : skip + 24 * whole].reshape(whole, 24).mean(axis=1)
        sums_K = np.convolve(daily_K, np.ones(count), mode="valid")
        start = skip + 24 * int(np.argmax(sums_K))
        return self._rows(np.arange(start, start + 24 * count))

    @cached_property
    def sun(self) -> Sun:
        """The sun of every hour: position in its middle, irradiances as means over it."""
        middle_s = self.time_s - 0.5 * HOUR_S
        position = pvlib_calls.solar_position(
            middle_s, year=LEAP_YEAR if self.year_days == 366 else COMMON_YEAR,
            utc_offset_s=self.utc_offset_s, latitude_rad=self.latitude_rad,
            longitude_rad=self.longitude_rad, altitude_m=self.altitude_m,
        )  # fmt: skip
        return Sun(
            middle_s, position.elevation_rad, position.azimuth_rad, self.global_W_m2,
            self.beam_W_m2, self.diffuse_W_m2, position.extra_W_m2, position.airmass,
        )  # fmt: skip

    def _rows(self, at: NDArray[np.int_]) -> Weather:
        return replace(
            self,
            **{
                name: getattr(self, name)[at]
                for name in (
                    "time_s", "air_K", "dew_point_K", "pressure_Pa", "wind_m_s", "global_W_m2",
                    "beam_W_m2", "diffuse_W_m2", "filled",
                )
            },
        )  # fmt: skip

    def _day_number(self, day: datetime.date) -> int:
        year = LEAP_YEAR if self.year_days == 366 else COMMON_YEAR
        if (day.month, day.day) == (2, 29) and self.year_days == 365:
            raise ReadingError("The file has no February 29.", self.file)
        return day.replace(year=year).timetuple().tm_yday - 1


def ends_s(hour: NDArray[np.int_]) -> Floats:
    """Ends of hours [s], where the hours count from 0."""
    return np.asarray((hour + 1) * HOUR_S, dtype=np.float64)


def read_weather(path: str | os.PathLike[str]) -> Weather:
    """Read a weather file: EPW, TMY3 or TMY2, told apart by what stands in it.

    Parameters
    ----------
    path
        The file; at most `SIZE_LIMIT` bytes. Nothing is ever fetched from elsewhere.

    Returns
    -------
    Weather
        Gaps filled; `findings` says what was missing, doubtful or impossible.

    Raises
    ------
    ReadingError
        When there is no such file, or it is none of the three: with the line where it can.
    """
    from coldwright.readings.weather_mend import mended
    from coldwright.readings.weather_text import table_of, text_of

    file = Path(path)
    try:
        return mended(table_of(text_of(file)), str(file))
    except ReadingError as error:
        raise ReadingError(error.message, str(file), error.line) from None


def _day_name(hour: int) -> str:
    day = datetime.date(COMMON_YEAR, 1, 1) + datetime.timedelta(days=int(hour) // 24)
    return f"{day:%B} {day.day}"
