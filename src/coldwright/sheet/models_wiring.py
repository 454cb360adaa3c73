"""Wires, joints, fuses, switch and inlet: what lies between the plug and the parts."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from coldwright.sheet import fields as of
from coldwright.sheet.fields import Usual, assumed
from coldwright.sheet.tables import Many, Table, exactly_one, needs

FuseStandard = Literal["IEC 60127", "UL 248-14", "ISO 8820-3"]
Region = Literal["Europe", "United Kingdom", "North America", "Australia"]
Feeds = Literal["modules", "converter", "cold fan", "hot fan", "controller", "pumps"]


class Joint(Table):
    """Connectors, terminals or splices of one kind in a run, each with its contact resistance."""

    name: str = "terminal"
    """What it is, such as "blade connector" or "screw terminal"."""
    count: Annotated[int, Field(ge=1, le=200)] = 2
    """How many of them the current passes, there and back."""
    resistance: Annotated[of.Resistance, Usual("10 uohm", "1 ohm")] = assumed(
        "2 mohm", "resistance"
    )
    """Contact resistance of one."""
    limit: Annotated[of.Current, Usual("100 mA", "500 A")] | None = None
    """Most current that one may carry, as marked."""


class Wire(Table):
    """A pair of conductors, go and return."""

    name: str
    """What it feeds: "modules", "converter", "hot fan"; or any name, beside `feeds`."""
    feeds: Feeds | None = None
    """What it feeds, if the name does not say it."""
    length: Annotated[of.Length, Usual("5 mm", "100 m")]
    """Distance; the current flows there and back."""
    size: Annotated[of.WireSize, Usual("0.02 mm^2", "70 mm^2")]
    """Such as "2.5 mm^2" or "14 AWG"; or a name in the parts library, such as "SAE 14"."""
    fuse: Annotated[of.Current, Usual("50 mA", "200 A")] | None = None
    """Fuse at the source end."""
    fuse_standard: FuseStandard | None = None
    """By which standard it is marked: one printed current means different things in them."""
    fuse_resistance: Annotated[of.Resistance, Usual("0.1 mohm", "10 ohm")] | None = None
    """Resistance of the fuse with its holder; not counted if left out."""
    fuse_voltage: Annotated[of.Voltage, Usual("5 V", "1000 V")] | None = None
    """Direct voltage that the fuse may break, as marked on it."""
    strands: Literal["flexible", "solid", "stranded"] = "flexible"
    """Kind of conductor: flexible (class 5), stranded (class 2), solid (class 1)."""
    insulation_limit: Annotated[of.Temperature, Usual("50 degC", "300 degC")] = assumed(
        "70 degC", "temperature"
    )
    """Hottest that the insulation may become."""
    around: Annotated[of.Temperature, Usual("-40 degC", "150 degC")] | None = None
    """Temperature of what surrounds the wire, if it is warmer than the air."""
    in_foam: Annotated[of.Length, Usual("1 mm", "50 m")] = assumed("0 m", "length")
    """Length that runs inside insulation and cannot shed heat."""
    bundle: Annotated[int, Field(ge=1, le=100)] = 1
    """How many loaded pairs lie together, this one counted."""
    joint: Many[Joint] = ()
    """Connectors, terminals, splices."""

    @property
    def target(self) -> str:
        """What it feeds, as far as the sheet says."""
        return self.feeds or self.name


class Switch(Table):
    """The main switch."""

    breaks: Literal["mains", "dc"] = "mains"
    """Whether it stands before the supply or behind it."""
    poles: Literal[1, 2] = 1
    """How many conductors it opens; 2 where the plug can be reversed."""
    current: Annotated[of.Current, Usual("100 mA", "200 A")]
    """Rated current."""
    ac_voltage: Annotated[of.Voltage, Usual("20 V", "700 V")] | None = None
    """Rated alternating voltage."""
    dc_voltage: Annotated[of.Voltage, Usual("5 V", "1500 V")] | None = None
    """Rated direct voltage: an alternating rating says nothing about it."""
    resistance: Annotated[of.Resistance, Usual("10 uohm", "1 ohm")] = assumed(
        "10 mohm", "resistance"
    )
    """Resistance of one closed contact."""


class Inlet(Table):
    """How the mains comes in."""

    coupler: Literal["C8", "C14", "C16", "C20", "fixed cord"] = "fixed cord"
    """Appliance inlet of IEC 60320, or a cord that cannot be pulled off."""
    current: Annotated[of.Current, Usual("500 mA", "63 A")] | None = None
    """Rated current; else that of the coupler."""
    around: Annotated[of.Temperature, Usual("-40 degC", "150 degC")] | None = None
    """Air at the inlet, if it is warmer than where the supply stands."""


class MainsFuse(Table):
    """The fuse in the line conductor, before everything else."""

    rating: Annotated[of.Current, Usual("50 mA", "63 A")]
    """Current printed on it."""
    standard: FuseStandard | None = None
    """By which standard it is marked."""
    kind: Literal["time-lag", "fast"] = "time-lag"
    """How it bears a short surge; time-lag for switch-mode supplies."""


class Inrush(Table):
    """What a supply takes in the first milliseconds."""

    peak: Annotated[of.Current, Usual("500 mA", "500 A")] | None = None
    """Peak from cold, as the data sheet says; or give `capacitance`."""
    capacitance: Annotated[of.Capacitance, Usual("1 uF", "10 mF")] | None = None
    """Of the capacitor behind the rectifier."""
    limiter: Annotated[of.Resistance, Usual("0.1 ohm", "100 ohm")] = assumed("5 ohm", "resistance")
    """Of the limiter while it is cold."""
    line: Annotated[of.Resistance, Usual("10 mohm", "10 ohm")] = assumed("0.5 ohm", "resistance")
    """Of line, cord and rectifier; all that is left when the limiter is hot."""

    @model_validator(mode="after")
    def _one_way(self) -> Inrush:
        exactly_one(self, "peak", "capacitance", of="inrush")
        return self

    def idle(self) -> frozenset[str]:
        """A known peak needs no resistances."""
        return frozenset({"limiter", "line"}) if self.peak is not None else frozenset()


class Derating(Table):
    """What a supply may give in warm air."""

    full_to: Annotated[of.Temperature, Usual("0 degC", "100 degC")]
    """Full power in air up to this temperature."""
    end: Annotated[of.Temperature, Usual("20 degC", "125 degC")]
    """Hottest air in which it may work at all."""
    share_at_end: of.Share
    """Share of the rated power that it may give in that air; a straight line between."""
    air: Annotated[of.Temperature, Usual("-40 degC", "120 degC")] | None = None
    """Air at the supply, if it is not that of the place, exhaust or outdoors where it stands."""


class Controller(Table):
    """The control electronics."""

    power: Annotated[of.ElectricPower, Usual("0.5 mW", "100 W")]
    """Power that it takes."""
    efficiency: of.EfficiencyRatio | None = None
    """Of the small converter before it, if there is one."""


class FanDrive(Table):
    """What sets the speed of a fan."""

    kind: Literal["direct", "voltage", "pwm4", "chopped", "linear", "converter"]
    """direct: on the supply; voltage: a lower one made without loss worth counting; pwm4: the
    four-wire signal; chopped: its supply switched; linear: a transistor that drops the rest;
    converter: a small step-down converter."""
    frequency: Annotated[of.Frequency, Usual("5 Hz", "500 kHz")] | None = None
    """Of the signal or of the chopped supply."""
    efficiency: of.EfficiencyRatio | None = None
    """Of the converter."""
    start_voltage: Annotated[of.Voltage, Usual("0.5 V", "60 V")] | None = None
    """Below this voltage the fan does not start from rest."""
    stage: Literal["follower", "common source"] = "follower"
    """How the transistor of a linear stage is joined: the load at its source, or at its drain."""
    threshold: Annotated[of.Voltage, Usual("0.3 V", "20 V")] | None = None
    """Gate voltage at which the transistor begins to conduct."""
    to_air: Annotated[of.ThermalResistance, Usual("0.2 K/W", "500 K/W")] | None = None
    """From the transistor's junction to the air: about 62 K/W for a bare TO-220."""
    junction_limit: Annotated[of.Temperature, Usual("50 degC", "250 degC")] | None = None
    """Hottest that the junction may become in the long run."""

    @model_validator(mode="after")
    def _complete(self) -> FanDrive:
        if self.kind == "converter" and self.efficiency is None:
            raise needs("efficiency", 'kind = "converter"', "0.9")
        if self.kind in ("pwm4", "chopped") and self.frequency is None:
            of.fill_assumed(self, "frequency", "25 kHz" if self.kind == "pwm4" else "100 Hz",
                            "frequency")  # fmt: skip
        if self.kind == "linear":
            of.fill_assumed(self, "threshold", "3 V", "voltage")
            of.fill_assumed(self, "to_air", "62 K/W", "thermal_resistance")
            of.fill_assumed(self, "junction_limit", "110 degC", "temperature")
        return self
