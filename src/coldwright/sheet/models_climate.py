"""What the person wants, and the weather around it: goal and climate."""

from __future__ import annotations

import datetime
import math
from typing import Annotated, Literal

from pydantic import Field, Tag, model_validator

from coldwright.sheet import fields as of
from coldwright.sheet.dates import (
    ANY_YEAR,
    Day,
    Month,
    TimeZone,
    UtcOffset,
    day_of_month,
    zone_offset_s,
)
from coldwright.sheet.fields import Usual, assumed, by_key
from coldwright.sheet.tables import Table, at_most_one, needs


class Goal(Table):
    """What the person wants; every key may be left out."""

    air: Annotated[of.Temperature, Usual("-40 degC", "50 degC")] | None = None
    """Air temperature of the place to reach and hold."""
    plate: Annotated[of.Temperature, Usual("-120 degC", "90 degC")] | None = None
    """Temperature of the plate to reach and hold, for a place of kind "plate"."""
    within: Annotated[of.Time, Usual("1 min", "60 d")] | None = None
    """Time after switching on by which the goal shall be reached."""
    spot: Annotated[of.Length, Usual("10 cm", "20 m")] | None = None
    """How far from the cold outlet a person sits in its jet; else 0.5 m."""
    max_plug_power: Annotated[of.ElectricPower, Usual("0.5 W", "10 kW")] | None = None
    """Most electrical power from the plug or battery."""
    max_sound: Annotated[of.SoundLevel, Usual("10 dB", "90 dB")] | None = None
    """Loudest A-weighted sound level at 1 m."""
    max_price: of.Money | None = None
    """Most that the whole may cost."""


class SteadyClimate(Table):
    """Weather that does not change."""

    kind: Literal["steady"]
    outdoor_air: Annotated[of.Temperature, Usual("-45 degC", "65 degC")]
    """Temperature of the outdoor air (or of the air around a box)."""
    outdoor_humidity: of.Humidity | None = None
    """Relative humidity of the outdoor air; or give `outdoor_dew_point`."""
    outdoor_dew_point: Annotated[of.Temperature, Usual("-60 degC", "36 degC")] | None = None
    """Dew point of the outdoor air, instead of `outdoor_humidity`."""
    sun: Annotated[of.Irradiance, Usual("1 W/m^2", "1400 W/m^2")] = assumed("0 W/m^2", "irradiance")
    """Sun on the plane of the windows."""
    wind: Annotated[of.Velocity, Usual("0.05 m/s", "40 m/s")] = assumed("2 m/s", "velocity")
    """Wind speed at the place."""
    altitude: Annotated[of.Altitude, Usual("-450 m", "6000 m")] = assumed("0 m", "altitude")
    """Height above the sea; sets the air pressure."""
    ground: Annotated[of.Temperature, Usual("-30 degC", "45 degC")] | None = None
    """Temperature of the ground under surfaces whose other side is "ground"; else as the air."""

    @model_validator(mode="after")
    def _one_humidity(self) -> SteadyClimate:
        at_most_one(self, "outdoor_humidity", "outdoor_dew_point", of="outdoor moisture")
        if self.outdoor_dew_point is None:
            of.fill_assumed(self, "outdoor_humidity", "50 percent", "humidity")
        return self


class _Dated(Table):
    """A climate with days: where the place lies, what its clock shows, what the ground does."""

    latitude: of.Latitude | None = None
    """Latitude of the place: "48.1 N", or degrees with north positive."""
    longitude: of.Longitude | None = None
    """Longitude of the place: "11.5 E", or degrees with east positive."""
    utc_offset: UtcOffset | None = None
    """How far the clock of the schedules is ahead of UTC, such as "+2 h"; or give `time_zone`."""
    time_zone: TimeZone | None = None
    """Name of the time zone, such as "Europe/Berlin", instead of `utc_offset`."""
    date: Day | None = None
    """The day that is followed."""
    ground: Annotated[of.Temperature, Usual("-30 degC", "45 degC")] | None = None
    """Temperature of the ground under surfaces whose other side is "ground"; else the day's mean
    of the outdoor air."""
    ground_albedo: of.Share = assumed("0.2", "share")
    """Share of the sun that the ground around throws back (grass 0.2, snow 0.7)."""

    @model_validator(mode="after")
    def _one_clock(self) -> _Dated:
        at_most_one(self, "utc_offset", "time_zone", of="clock")
        return self

    def utc_offset_on(self, day: datetime.date) -> float | None:
        """Seconds by which the sheet's clock is ahead of UTC on a day; None where it says none."""
        if self.time_zone is not None:
            return zone_offset_s(self.time_zone, day)
        return self.utc_offset


class DesignDay(_Dated):
    """One hot day by its highest temperature and its range, under a clear sky."""

    kind: Literal["design_day"]
    highest_air: Annotated[of.Temperature, Usual("-20 degC", "58 degC")] | None = None
    """Highest outdoor temperature of the day."""
    daily_range: Annotated[of.TemperatureDifference, Usual("0.5 K", "35 K")] = assumed(
        "10 K", "temperature_difference"
    )
    """Difference between the day's highest and lowest outdoor temperature."""
    dew_point: Annotated[of.Temperature, Usual("-60 degC", "36 degC")] | None = None
    """Dew point of the outdoor air all day; or give `wet_bulb` or `humidity`."""
    wet_bulb: Annotated[of.Temperature, Usual("-40 degC", "38 degC")] | None = None
    """Highest wet-bulb temperature of the day, instead of `dew_point`."""
    wet_bulb_range: Annotated[of.TemperatureDifference, Usual("0.2 K", "25 K")] | None = None
    """Difference between the highest and lowest wet bulb; without it the air's moisture at the
    highest temperature stays all day."""
    humidity: of.Humidity | None = None
    """Relative humidity at the highest temperature, instead of `dew_point`; the moisture stays
    all day."""
    month: Month | None = None
    """Month, 7 or "July": its 21st stands for it, instead of `date`."""
    sun: Literal["clear", "none"] | None = None
    """Sun of a clear sky, or none; left out: clear where a latitude is given."""
    turbidity: Annotated[of.Ratio, Usual("1", "12")] = assumed("3.5", "ratio")
    """How hazy the clear sky is (Linke): 2 mountains in winter, 3.5 country, 5 a hot city."""
    wind: Annotated[of.Velocity, Usual("0.05 m/s", "40 m/s")] = assumed("2 m/s", "velocity")
    """Wind speed at the place."""
    altitude: Annotated[of.Altitude, Usual("-450 m", "6000 m")] = assumed("0 m", "altitude")
    """Height above the sea; sets the air pressure, unless `pressure` is given."""
    pressure: of.AirPressure | None = None
    """Pressure of the air, not reduced to sea level."""

    @model_validator(mode="after")
    def _consistent(self) -> DesignDay:
        at_most_one(self, "date", "month", of="day")
        at_most_one(self, "dew_point", "wet_bulb", "humidity", of="outdoor moisture")
        if self.wet_bulb_range is not None and self.wet_bulb is None:
            raise needs("wet_bulb", "wet_bulb_range", '"24 degC"')
        if self.dew_point is None and self.wet_bulb is None:
            of.fill_assumed(self, "humidity", "50 percent", "humidity")
        if self.sun == "clear" and self.latitude is None:
            raise needs("latitude", 'sun = "clear"', '"48.1 N"')
        return self

    @property
    def sunny(self) -> bool:
        """Whether the sun of a clear sky shines on this day."""
        return self.latitude is not None and self.sun != "none"

    @property
    def day(self) -> datetime.date:
        """The day that is followed; without one the 21st of the hottest month, July or January."""
        if self.date is not None:
            return self.date
        southern = self.latitude is not None and self.latitude.value < 0.0
        return day_of_month(self.month or (1 if southern else 7))

    @property
    def clock_offset_s(self) -> float:
        """Seconds by which the clock is ahead of UTC, as given, or by the longitude in whole
        hours; 0 where nothing says it (the clock then shows solar time at longitude 0)."""
        given = self.utc_offset_on(self.day)
        if given is not None:
            return given
        if self.longitude is None:
            return 0.0
        return 3600.0 * round(math.degrees(self.longitude.value) / 15.0)


class WeatherFile(_Dated):
    """Hourly weather from a file beside the sheet: EPW, TMY3 or TMY2."""

    kind: Literal["weather_file"]
    file: str | None = None
    """Name of the file, from the sheet's folder."""
    first_day: Day | None = None
    """First day that is followed; alone, that one day."""
    last_day: Day | None = None
    """Last day that is followed."""
    days: Annotated[int, Field(ge=1, le=366)] | None = None
    """How many days from `first_day`; alone, that many of the hottest days in a row."""
    wind: Annotated[of.Velocity, Usual("0.05 m/s", "40 m/s")] | None = None
    """Wind speed at the place, instead of the file's."""
    altitude: Annotated[of.Altitude, Usual("-450 m", "6000 m")] | None = None
    """Height above the sea, instead of the file's; sets the air pressure."""

    @model_validator(mode="after")
    def _one_stretch(self) -> WeatherFile:
        at_most_one(self, "date", "first_day", of="first day")
        at_most_one(self, "last_day", "days", of="end of the days")
        if self.last_day is not None and self.first is None:
            raise needs("first_day", "last_day", '"07-01"')
        return self

    @property
    def first(self) -> datetime.date | None:
        """First day that is followed; None where the sheet names none."""
        return self.first_day if self.date is None else self.date

    @property
    def length_days(self) -> int | None:
        """How many days are followed; None for the whole file.

        With no `first` it is the number of hottest days in a row.
        """
        if self.first is None or self.days is not None:
            return self.days
        if self.last_day is None:
            return 1
        return (_day_number(self.last_day) - _day_number(self.first)) % 365 + 1


def _day_number(day: datetime.date) -> int:
    day = day.replace(day=28) if (day.month, day.day) == (2, 29) else day
    return day.replace(year=ANY_YEAR).timetuple().tm_yday


Climate = Annotated[
    Annotated[SteadyClimate, Tag("<steady>")]
    | Annotated[DesignDay, Tag("<design_day>")]
    | Annotated[WeatherFile, Tag("<weather_file>")],
    by_key("kind"),
]
