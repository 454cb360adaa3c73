"""What feeds the cooler, what measures it, what it is built from, what it costs."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, Tag, model_validator

from coldwright.quantities.parsing import Quantity
from coldwright.sheet import fields as of
from coldwright.sheet.bounds import MOST_POINTS
from coldwright.sheet.fields import Usual, assumed, by_shape
from coldwright.sheet.models_air import Located
from coldwright.sheet.models_wiring import (
    Controller,
    Derating,
    Inlet,
    Inrush,
    MainsFuse,
    Region,
    Switch,
    Wire,
)
from coldwright.sheet.tables import Many, Table, exactly_one, needs

_Usual = Annotated[of.EfficiencyRatio, Usual("30 percent", "100 percent")]
EfficiencyPoint = Annotated[tuple[of.Share, of.EfficiencyRatio], Field(strict=False)]
Efficiency = Annotated[
    Annotated[_Usual, Tag("<text>")]
    | Annotated[Many[EfficiencyPoint], Field(min_length=2, max_length=MOST_POINTS), Tag("<list>")],
    by_shape(text="<text>", list="<list>"),
]


class Mains(Table):
    """What the plug offers and how the supply takes from it."""

    voltage: Annotated[of.Voltage, Usual("90 V", "480 V")] = assumed("230 V", "voltage")
    """Mains voltage."""
    power_factor: Annotated[of.Ratio, Usual("0.2", "1")] = assumed("0.6", "ratio")
    """Real power over apparent power; capacitor-input supplies without correction 0.5 to 0.65."""
    frequency: Annotated[of.Frequency, Usual("15 Hz", "70 Hz")] = assumed("50 Hz", "frequency")
    """Mains frequency."""


class Supply(Table):
    """Turns mains into low voltage; fans and controller hang on it."""

    voltage: Annotated[of.Voltage, Usual("1.5 V", "400 V")]
    """Output voltage."""
    rated_power: Annotated[of.ElectricPower, Usual("0.5 W", "10 kW")]
    """Most output power."""
    efficiency: Efficiency = Field(
        default_factory=lambda: of.assume("0.85", "efficiency"),
        json_schema_extra={"default": "0.85"},
    )
    """One number, or points [share of rated power, efficiency]."""
    mains: Mains = Field(default_factory=Mains)
    """The mains side."""
    standby_power: Annotated[of.ElectricPower, Usual("1 mW", "50 W")] = assumed("0 W", "power")
    """Power taken with nothing connected."""
    derating: Derating | None = None
    """What it may give in warm air."""
    inrush: Inrush | None = None
    """What it takes when it is switched on."""
    located: Located = "outside"
    """Where its loss lands."""
    price: of.Money | None = None
    """Price of one."""


class Converter(Table):
    """Stands between the supply and the modules; run_at is what it is set to."""

    efficiency: Efficiency
    """One number, or points [share of rated power, efficiency]."""
    rated_power: Annotated[of.ElectricPower, Usual("0.5 W", "10 kW")] | None = None
    """Most output power."""
    count: Annotated[int, Field(ge=1, le=100)] = 1
    """How many equal ones share the load; `rated_power` is that of one."""
    max_current: Annotated[of.Current, Usual("50 mA", "500 A")] | None = None
    """Most output current of one."""
    headroom: Annotated[of.Voltage, Usual("10 mV", "20 V")] | None = None
    """How far its input must stay above its output; for a step-down converter."""
    standby_power: Annotated[of.ElectricPower, Usual("1 mW", "50 W")] = assumed("0 W", "power")
    """Power taken with nothing connected."""
    located: Located = "outside"
    """Where its loss lands."""
    price: of.Money | None = None
    """Price of one."""


class Battery(Table):
    """A battery instead of the plug, or beside it."""

    voltage: Annotated[of.Voltage, Usual("1 V", "400 V")]
    """Nominal voltage."""
    kind: Literal["lead-acid", "lithium iron phosphate"] | None = None
    """What is inside: it decides the voltage when full and when run down."""
    capacity: Annotated[of.Charge, Usual("0.05 Ah", "5000 Ah")] | None = None
    """Charge when full; or give `energy`."""
    energy: Annotated[of.Energy, Usual("0.1 Wh", "100 kWh")] | None = None
    """Energy when full, instead of `capacity`."""
    usable_share: of.Share = assumed("0.5", "share")
    """Share that may be taken out."""
    rate_exponent: Annotated[of.Ratio, Usual("1", "1.6")] | None = None
    """How much a fast discharge costs (Peukert): 1 nothing, 1.05 lithium, 1.2 lead; else 1."""
    rate_time: Annotated[of.Time, Usual("0.1 h", "120 h")] | None = None
    """Time of discharge at which the capacity holds."""
    charge_efficiency: _Usual = assumed("0.9", "efficiency")
    """Energy that comes out again for each unit put in."""
    internal_resistance: Annotated[of.Resistance, Usual("0.1 mohm", "5 ohm")] | None = None
    """Resistance inside, with its terminals; not counted if left out."""
    price: of.Money | None = None
    """Price of one."""

    @model_validator(mode="after")
    def _one_way(self) -> Battery:
        exactly_one(self, "capacity", "energy", of="battery")
        if self.rate_exponent is not None:
            of.fill_assumed(self, "rate_time", "20 h", "time")
        elif self.rate_time is not None:
            raise needs("rate_exponent", "rate_time", "1.2")
        return self


class Panel(Table):
    """A photovoltaic panel that feeds the battery."""

    peak_power: Annotated[of.ElectricPower, Usual("0.1 W", "20 kW")]
    """Rated power in full sun."""
    performance: Annotated[of.Ratio, Usual("0.2", "1")] = assumed("0.75", "ratio")
    """Share of the rated power that arrives in full sun: warm cells, wires, charger, dirt."""
    tilt: of.Angle = assumed("0 deg", "angle")
    """Angle against level: 0 flat on a roof."""
    compass: of.Angle | None = None
    """Where it looks to, if it is tilted, "SSW" or "200 deg"."""
    price: of.Money | None = None
    """Price of all of it."""

    @model_validator(mode="after")
    def _looks_somewhere(self) -> Panel:
        if self.tilt.value != 0.0 and self.compass is None:
            raise needs("compass", "tilt", '"S"')
        return self


class Power(Table):
    """What feeds the cooler; every key may be left out."""

    supply: Supply | None = None
    """The supply at the plug."""
    converter: Converter | None = None
    """Between supply and modules."""
    wire: Many[Wire] = ()
    """Wires."""
    battery: Battery | None = None
    """A battery."""
    panel: Panel | None = None
    """A photovoltaic panel."""
    controller: Annotated[
        Annotated[of.ElectricPower, Usual("0.5 mW", "100 W"), Tag("<text>")]
        | Annotated[Controller, Tag("<inner>")],
        by_shape(text="<text>", table="<inner>"),
    ] = assumed("0 W", "power")
    """Power of the control electronics, on the supply; or a table with its converter."""
    wires_located: Located | None = None
    """Where wires, fuses, switch, controller and fan drives lose their heat; else where the supply
    stands."""
    region: Region | None = None
    """Whose colours the wires get."""
    switch: Switch | None = None
    """The main switch."""
    inlet: Inlet | None = None
    """How the mains comes in."""
    fuse: MainsFuse | None = None
    """The fuse on the mains side."""

    @property
    def controller_power(self) -> Quantity:
        """Power of the control electronics itself."""
        given = self.controller
        return given.power if isinstance(given, Controller) else given


class Instrument(Table):
    """A sensor or meter used in the test of the finished cooler."""

    kind: str
    """What it is, such as "one-wire probe" or "power meter"."""
    measures: str
    """What it measures, such as "cold_outlet_air" or "plug_power"."""
    name: str = ""
    """What it is called in results."""
    accuracy: str | None = None
    """Its error limit, such as "0.5 K" or "2 percent"."""
    resolution: str | None = None
    """Its smallest step, such as "0.1 K"."""
    matched_with: str | None = None
    """Another channel whose error is the same, so that differences are better than each."""


class Stock(Table):
    """A board or sheet that panels are cut from."""

    material: str
    """What it is made of."""
    length: Annotated[of.Length, Usual("20 mm", "10 m")]
    """Length of the board."""
    width: Annotated[of.Length, Usual("20 mm", "5 m")]
    """Width of the board."""
    thickness: Annotated[of.Length, Usual("0.2 mm", "200 mm")]
    """Thickness of the board."""
    count: Annotated[int, Field(ge=1, le=10000)] | None = None
    """How many are at hand; else as many as needed."""
    price: of.Money | None = None
    """Price of one."""


class Build(Table):
    """How the thing is built."""

    stock: Many[Stock] = ()
    """Boards and sheets to cut from."""
    kerf: Annotated[of.Length, Usual("0.02 mm", "20 mm")] = assumed("2 mm", "length")
    """Width that the saw or knife takes away."""
    notes: str = ""
    """Anything the builder should read."""


class PricedItem(Table):
    """Something bought that is priced nowhere else."""

    name: str
    """What it is."""
    price: of.Money
    """Price of one."""
    count: Annotated[int, Field(ge=1, le=10000)] = 1
    """How many."""


class Price(Table):
    """What things cost."""

    electricity: of.EnergyPrice | None = None
    """Price of electrical energy."""
    emissions: of.EmissionFactor | None = None
    """Greenhouse gas set free for electrical energy, "0.3 kg/kWh": ask the person's supplier."""
    item: Many[PricedItem] = ()
    """Things that are priced nowhere else."""
    hours_per_year: Annotated[of.Time, Usual("1 h", "8784 h")] | None = None
    """How long the cooler runs in a year."""
