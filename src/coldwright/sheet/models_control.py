"""What switches the cooler by temperature: thermostat, probe, set-back."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import model_validator

from coldwright.sheet import fields as of
from coldwright.sheet.fields import Schedule, Usual, assumed
from coldwright.sheet.tables import Table, needs


class SetBack(Table):
    """Hours at which another temperature is held, as at night or while nobody is there."""

    air: Annotated[of.Temperature, Usual("-40 degC", "60 degC")]
    """Temperature to hold in these hours."""
    schedule: Schedule
    """The hours, such as [["18:00", "07:00"]]."""


class Thermostat(Table):
    """Switches or drives the modules by a temperature."""

    air: Annotated[of.Temperature, Usual("-40 degC", "60 degC")]
    """Temperature to hold."""
    hysteresis: Annotated[of.TemperatureDifference, Usual("0.02 K", "20 K")] = assumed(
        "1 K", "temperature_difference"
    )
    """Difference between switching on and off, around that temperature."""
    probe: Literal["place", "outlet", "contents"] = "place"
    """Where the temperature is felt: in the place's air, in the cold air, in the contents."""
    probe_lag: Annotated[of.Time, Usual("0.1 s", "2 h")] = assumed("30 s", "time")
    """Time in which the probe follows 63 % of a sudden change; a bead in air 10 s to 60 s, a probe
    in a metal sheath minutes."""
    drive: Literal["on/off", "proportional"] = "on/off"
    """Full or nothing; or less and less as the temperature comes down to what is to be held."""
    band: Annotated[of.TemperatureDifference, Usual("0.05 K", "40 K")] | None = None
    """Proportional: the rise above `air` at which the modules get all that run_at says."""
    minimum: of.Share | None = None
    """Proportional: least share of run_at; where less is asked for, the modules stand open."""
    fans: Literal["keep running", "stop too"] = "stop too"
    """What the fans do while the modules are off."""
    setback: SetBack | None = None
    """Hours at which another temperature is held."""

    @model_validator(mode="after")
    def _proportional(self) -> Thermostat:
        if self.drive == "proportional":
            of.fill_assumed(self, "band", "2 K", "temperature_difference")
            of.fill_assumed(self, "minimum", "0.1", "share")
        elif self.band is not None or self.minimum is not None:
            given = "band" if self.band is not None else "minimum"
            raise needs("drive", given, '"proportional"')
        return self
