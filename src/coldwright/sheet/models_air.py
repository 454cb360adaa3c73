"""What the air passes: heat sinks, fans, ducts."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, Tag, model_validator
from pydantic_core import PydanticCustomError

from coldwright.sheet import fields as of
from coldwright.sheet.bounds import MOST_POINTS
from coldwright.sheet.fields import Usual, assumed, by_key, by_shape, from_library
from coldwright.sheet.models_wiring import FanDrive
from coldwright.sheet.tables import Many, Table, at_most_one, exactly_one

Side = Literal["place", "outdoors"]
Located = Literal["place", "exhaust", "outside"]
_Along = Annotated[of.Length, Usual("3 mm", "1.5 m")]
_Thick = Annotated[of.Length, Usual("0.2 mm", "80 mm")]
_Flow = Annotated[of.Flow, Usual("0.1 m^3/h", "5000 m^3/h")]
_Resistance = Annotated[of.ThermalResistance, Usual("1 mK/W", "50 K/W")]
_Loss = Annotated[of.Pressure, Usual("0.01 Pa", "1000 Pa")]
_Blown = Annotated[of.Pressure, Usual("0.1 Pa", "3000 Pa")]
_Side = Annotated[of.Length, Usual("5 mm", "2 m")]


class PlateFinSink(Table):
    """A heat sink of straight plate fins, by its dimensions."""

    kind: Literal["plate_fin"]
    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    base: tuple[_Along, _Along, _Thick] = Field(strict=False)
    """Base plate: along the air, across the air, thick."""
    fin_height: Annotated[of.Length, Usual("1 mm", "200 mm")]
    """Height of the fins above the base."""
    fin_thickness: Annotated[of.Length, Usual("0.05 mm", "10 mm")]
    """Thickness of one fin."""
    fin_gap: Annotated[of.Length, Usual("0.3 mm", "40 mm")]
    """Clear gap between two fins."""
    material: Annotated[str, of.known("solids")] = "aluminium 6063"
    """Name of a metal in the parts library."""
    mass: Annotated[of.Mass, Usual("2 g", "60 kg")] | None = None
    """Mass; else from the dimensions."""
    correlation: str = "stephan"
    """Which heat transfer correlation is used between the fins."""
    price: of.Money | None = None
    """Price of one."""


TableRow = Annotated[
    Annotated[tuple[_Flow, _Resistance], Field(strict=False), Tag("<two>")]
    | Annotated[tuple[_Flow, _Resistance, _Loss], Field(strict=False), Tag("<3>")],
    of.by_length({2: "<two>", 3: "<3>"}),
]


class TableSink(Table):
    """A heat sink by a table of thermal resistance against air flow."""

    kind: Literal["table"]
    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    rows: Annotated[Many[TableRow], Field(min_length=2, max_length=MOST_POINTS)]
    """Rows of [flow, thermal resistance to the air that comes in, pressure drop if known]."""
    mass: Annotated[of.Mass, Usual("2 g", "60 kg")] | None = None
    """Mass of the sink; else "not known" and no heat is stored in it."""
    price: of.Money | None = None
    """Price of one."""


class ResistanceSink(Table):
    """A heat sink by one number: thermal resistance to the air that comes in, dry."""

    kind: Literal["resistance"]
    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    value: Annotated[of.ThermalResistance, Usual("1 mK/W", "50 K/W")]
    """From the mean of the base to the air that comes in, shared by all modules."""
    at_flow: Annotated[of.Flow, Usual("0.1 m^3/h", "5000 m^3/h")] | None = None
    """Air flow at which the value holds; else the flow given for the fan."""
    pressure_drop: Annotated[of.Pressure, Usual("0.05 Pa", "1000 Pa")] | None = None
    """Pressure that the air loses in it at that flow."""
    mass: Annotated[of.Mass, Usual("2 g", "60 kg")] | None = None
    """Mass of the sink."""
    price: of.Money | None = None
    """Price of one."""


class Radiator(Table):
    """The air side of a water loop: exactly one of `conductance` and `resistance`."""

    conductance: Annotated[of.ThermalConductance, Usual("0.1 W/K", "2000 W/K")] | None = None
    """Conductance between water and air (UA) at `at_flow`."""
    resistance: Annotated[of.ThermalResistance, Usual("0.5 mK/W", "10 K/W")] | None = None
    """Thermal resistance from water to the air that comes in, at `at_flow`."""
    at_flow: Annotated[of.Flow, Usual("0.1 m^3/h", "5000 m^3/h")] | None = None
    """Air flow at which the value holds; else the flow given for the fan."""
    pressure_drop: Annotated[of.Pressure, Usual("0.05 Pa", "1000 Pa")] | None = None
    """Pressure that the air loses in it at that flow."""
    mass: Annotated[of.Mass, Usual("10 g", "60 kg")] | None = None
    """Mass of the radiator."""

    @model_validator(mode="after")
    def _one_way(self) -> Radiator:
        exactly_one(self, "conductance", "resistance", of="radiator")
        return self


class WaterLoop(Table):
    """A water block at the modules, a pump, and a radiator in the air."""

    kind: Literal["water_loop"]
    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    block_resistance: Annotated[of.ThermalResistance, Usual("0.2 mK/W", "5 K/W")]
    """From the base of the block to the water that comes in, shared by all modules."""
    water_flow: Annotated[of.WaterFlow, Usual("0.02 L/min", "60 L/min")]
    """Flow of the water."""
    pump_power: Annotated[of.ElectricPower, Usual("0.05 W", "300 W")] = assumed("5 W", "power")
    """Electrical power of the pump; all of it warms the water."""
    pump_located: Located = "outside"
    """Where the pump stands."""
    radiator: Radiator
    """The air side."""
    water_volume: Annotated[of.Volume, Usual("1 mL", "200 L")] = assumed("1 L", "volume")
    """Water in the loop: it stores heat."""
    price: of.Money | None = None
    """Price of the whole loop."""


Sink = Annotated[
    Annotated[PlateFinSink, Tag("<plate_fin>")]
    | Annotated[TableSink, Tag("<table>")]
    | Annotated[ResistanceSink, Tag("<resistance>")]
    | Annotated[WaterLoop, Tag("<water_loop>")],
    by_key("kind"),
    from_library("sinks"),
]


class Fan(Table):
    """A fan by its curve, or by a flow that is known."""

    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    curve: Annotated[Many[Annotated[tuple[_Flow, _Blown], Field(strict=False)]],
                     Field(min_length=2, max_length=MOST_POINTS)] | None = None  # fmt: skip
    """Points [flow, pressure] at full speed, from no flow to no pressure."""
    flow: Annotated[of.Flow, Usual("0.1 m^3/h", "5000 m^3/h")] | None = None
    """A given flow instead of a curve, as installed at full speed, all fans together."""
    power: Annotated[of.ElectricPower, Usual("0.02 W", "500 W")] | None = None
    """Electrical power of one fan at full speed; "not known" if left out."""
    sound_at_1m: Annotated[of.SoundLevel, Usual("5 dB", "95 dB")] | None = None
    """A-weighted sound level of one fan at 1 m and full speed."""
    position: Literal["before sink", "after sink"] = "before sink"
    """Whether the fan blows into the sink or pulls from it."""
    count: Annotated[int, Field(ge=1, le=100)] = 1
    """How many equal fans stand side by side."""
    voltage: Annotated[of.Voltage, Usual("1 V", "400 V")] | None = None
    """Rated voltage."""
    current: Annotated[of.Current, Usual("2 mA", "20 A")] | None = None
    """Rated current of one."""
    drive: FanDrive | None = None
    """What sets its speed; without it the fan hangs on the supply."""
    diameter: Annotated[of.Length, Usual("8 mm", "1 m")] | None = None
    """Size of the fan's opening."""
    price: of.Money | None = None
    """Price of one."""

    @model_validator(mode="after")
    def _one_way(self) -> Fan:
        exactly_one(self, "curve", "flow", of="fan")
        return self


class Fitting(Table):
    """An entry, a bend, a grille: a pressure loss in velocity pressures."""

    name: str = "fitting"
    """What it is called in results."""
    loss: Annotated[of.Ratio, Usual("0.01", "100")]
    """Loss coefficient on the velocity pressure in the duct."""


class Grille(Table):
    """A plate with holes across the duct."""

    open_fraction: of.Share
    """Open share of the face."""


class Filter(Table):
    """A filter across the duct, by one known point."""

    pressure: Annotated[of.Pressure, Usual("0.1 Pa", "1000 Pa")]
    """Pressure loss at `flow`."""
    flow: Annotated[of.Flow, Usual("0.1 m^3/h", "5000 m^3/h")]
    """The flow at which that loss holds."""


class DuctInsulation(Table):
    """Insulation around a duct."""

    material: Annotated[str, of.known("materials")]
    """Name of a material in the parts library."""
    thickness: Annotated[of.Length, Usual("1 mm", "300 mm")]
    """Thickness."""


class Duct(Table):
    """A duct between the cooler and where its air comes from or goes to."""

    part: str | None = None
    """Name in the parts library; keys given here outrank it."""
    diameter: Annotated[of.Length, Usual("8 mm", "1 m")] | None = None
    """Inner diameter of a round duct."""
    section: Annotated[tuple[_Side, _Side], Field(strict=False)] | None = None
    """Inner sides of a rectangular duct, instead of a diameter."""
    length: Annotated[of.Length, Usual("5 mm", "60 m")] = assumed("0 m", "length")
    """Length along the middle."""
    kind: Annotated[str, of.known("ducts")] = "flexible aluminium"
    """Name of a kind of duct in the parts library: sets its roughness."""
    compression: of.Share = assumed("0", "share")
    """Share by which a flexible duct is shorter than fully stretched."""
    fittings: Many[Annotated[Fitting, of.TextFor(of.fitting, "elbow 90")]] = ()
    """Names in the parts library, or tables such as { loss = 0.5 }."""
    grille: Grille | None = None
    """A plate with holes across the duct."""
    filter: Filter | None = None
    """A filter across the duct."""
    runs_through: Side = "place"
    """Where its heat goes to."""
    insulation: Annotated[
        Annotated[Literal["none"], Tag("<text>")] | Annotated[DuctInsulation, Tag("<inner>")],
        by_shape(text="<text>", table="<inner>"),
    ] = "none"
    """"none", or a table with material and thickness."""
    surface_coefficient: Annotated[of.FilmCoefficient, Usual("0.5 W/m^2/K", "200 W/m^2/K")] = (
        assumed("6 W/m^2/K +/- 40 %", "film_coefficient")
    )
    """Heat transfer of the bare duct from the air inside it to the air around it, radiation
    included; beside `surface_temperature`, from that surface to the air around it."""
    surface_temperature: Annotated[of.Temperature, Usual("-40 degC", "120 degC")] | None = None
    """Measured temperature of the outside, if known."""

    @model_validator(mode="before")
    @classmethod
    def _from_part(cls, given: Any) -> Any:
        return of.filled("duct_parts", given)

    @model_validator(mode="after")
    def _has_a_section(self) -> Duct:
        at_most_one(self, "diameter", "section", of="duct")
        needs = self.length.value > 0 or self.fittings or self.grille is not None
        if needs and self.diameter is None and self.section is None:
            raise PydanticCustomError(
                "needs_key", "{needs} is missing beside {given}",
                {"needs": "diameter (or section)", "given": "length, fittings or grille",
                 "example": '"125 mm"'},
            )  # fmt: skip
        return self
