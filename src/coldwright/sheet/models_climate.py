"""What the person wants, and the weather around it: goal and climate."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Tag, model_validator

from coldwright.sheet import fields as of
from coldwright.sheet.fields import assumed, by_key
from coldwright.sheet.tables import Table, at_most_one


class Goal(Table):
    """What the person wants; every key may be left out."""

    air: of.Temperature | None = None
    """Air temperature of the place to reach and hold."""
    plate: of.Temperature | None = None
    """Temperature of the plate to reach and hold, for a place of kind "plate"."""
    within: of.Time | None = None
    """Time after switching on by which the goal shall be reached."""
    max_plug_power: of.ElectricPower | None = None
    """Most electrical power from the plug or battery."""
    max_sound: of.SoundLevel | None = None
    """Loudest A-weighted sound level at 1 m."""
    max_price: of.Money | None = None
    """Most that the whole may cost."""


class SteadyClimate(Table):
    """Weather that does not change."""

    kind: Literal["steady"]
    outdoor_air: of.Temperature
    """Temperature of the outdoor air (or of the air around a box)."""
    outdoor_humidity: of.Humidity | None = None
    """Relative humidity of the outdoor air; or give `outdoor_dew_point`."""
    outdoor_dew_point: of.Temperature | None = None
    """Dew point of the outdoor air, instead of `outdoor_humidity`."""
    sun: of.Irradiance = assumed("0 W/m^2", "irradiance")
    """Sun on the plane of the windows."""
    wind: of.Velocity = assumed("2 m/s", "velocity")
    """Wind speed at the place."""
    altitude: of.Altitude = assumed("0 m", "altitude")
    """Height above the sea; sets the air pressure."""
    ground: of.Temperature | None = None
    """Temperature of the ground under surfaces whose other side is "ground"; else as the air."""

    @model_validator(mode="after")
    def _one_humidity(self) -> SteadyClimate:
        at_most_one(self, "outdoor_humidity", "outdoor_dew_point", of="outdoor moisture")
        if self.outdoor_dew_point is None:
            of.fill_assumed(self, "outdoor_humidity", "50 percent", "humidity")
        return self


class _Dated(Table):
    latitude: of.Angle | None = None
    """Latitude of the place, north positive."""
    longitude: of.Angle | None = None
    """Longitude of the place, east positive."""
    date: datetime.date | None = None
    """The day that is followed."""
    altitude: of.Altitude = assumed("0 m", "altitude")
    """Height above the sea; sets the air pressure."""
    wind: of.Velocity = assumed("2 m/s", "velocity")
    """Wind speed at the place."""


class DesignDay(_Dated):
    """One hot day by its highest temperature and its range. Declared; not yet calculated."""

    kind: Literal["design_day"]
    highest_air: of.Temperature | None = None
    """Highest outdoor temperature of the day."""
    daily_range: of.TemperatureDifference | None = None
    """Difference between the day's highest and lowest outdoor temperature."""
    dew_point: of.Temperature | None = None
    """Dew point of the outdoor air over the day."""


class WeatherFile(_Dated):
    """Hourly weather from a file in the project folder. Declared; not yet calculated."""

    kind: Literal["weather_file"]
    file: str | None = None
    """Name of the file, beside the sheet."""


Climate = Annotated[
    Annotated[SteadyClimate, Tag("<steady>")]
    | Annotated[DesignDay, Tag("<design_day>")]
    | Annotated[WeatherFile, Tag("<weather_file>")],
    by_key("kind"),
]
