"""The machine: modules, how they are run, and the cooler that joins them with sinks and air."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from coldwright.quantities.parsing import Quantity
from coldwright.sheet import fields as of
from coldwright.sheet.bounds import MOST_GROUPS, MOST_SINKS
from coldwright.sheet.fields import Kind, Schedule, Usual, assumed, from_library
from coldwright.sheet.models_air import Duct, Fan, Side, Sink
from coldwright.sheet.models_control import Thermostat
from coldwright.sheet.tables import OneOrMany, Table, exactly_one


class Ratings(Table):
    """A module by its ratings: two ends of one line, at one hot-face temperature."""

    hot_face: Annotated[of.Temperature, Usual("0 degC", "200 degC")] = assumed(
        "300 K", "temperature"
    )
    """Temperature of the hot face at which the ratings hold."""
    max_current: Annotated[of.Current, Usual("0.1 A", "80 A")]
    """Current at which the lift is greatest."""
    max_voltage: Annotated[of.Voltage, Usual("0.2 V", "100 V")]
    """Voltage at that current and that lift."""
    max_heat: Annotated[of.Heat, Usual("0.05 W", "800 W")] | None = None
    """Heat at that current and no lift."""
    max_difference: Annotated[of.TemperatureDifference, Usual("30 K", "160 K")]
    """The greatest lift, at no heat."""
    couples: Annotated[int, Field(ge=1, le=2000)] | None = None
    """Number of couples, if known."""


class Properties(Table):
    """A module by three constants, face to face, that do not change with temperature."""

    seebeck: Annotated[of.Seebeck, Usual("0.2 mV/K", "0.5 V/K")]
    """Seebeck voltage of the whole module per kelvin."""
    resistance: Annotated[of.Resistance, Usual("2 mohm", "300 ohm")]
    """Electrical resistance of the whole module."""
    conductance: Annotated[of.ThermalConductance, Usual("1 mW/K", "20 W/K")]
    """Thermal conductance of the whole module."""


class Ceramic(Table):
    """The plates on both sides of a module."""

    thickness: Annotated[of.Length, Usual("0.1 mm", "5 mm")] = assumed("0.7 mm", "length")
    """Thickness of one plate."""
    material: Annotated[str, of.known("ceramics")] = "alumina"
    """Name of a ceramic in the parts library."""


class Legs(Table):
    """A module by its legs, made of bismuth telluride."""

    couples: Annotated[int, Field(ge=1, le=2000)]
    """Number of couples (pairs of legs)."""
    leg_length: Annotated[of.Length, Usual("0.1 mm", "15 mm")]
    """Length of a leg, along the heat."""
    leg_area: Annotated[of.Area, Usual("0.01 mm^2", "150 mm^2")] | None = None
    """Cross-section of a leg; or give `leg_size`."""
    leg_size: Annotated[of.Length, Usual("0.1 mm", "12 mm")] | None = None
    """Side of a square leg."""
    contact_resistivity: of.ContactResistivity = assumed("1e-10 ohm m^2", "contact_resistivity")
    """Electrical resistance of one joint times its area."""
    ceramic: Ceramic = Field(default_factory=Ceramic)
    """The plates on both sides."""

    @model_validator(mode="after")
    def _one_section(self) -> Legs:
        exactly_one(self, "leg_area", "leg_size", of="leg section")
        return self


class Screws(Table):
    """Screws that clamp the sinks together through the spacer, each a heat bridge."""

    count: Annotated[int, Field(ge=1, le=200)]
    """How many."""
    diameter: Annotated[of.Length, Usual("1 mm", "20 mm")]
    """Thread diameter."""
    material: Annotated[str, of.known("solids")] = "steel"
    """Name of a metal in the parts library."""
    length: Annotated[of.Length, Usual("1 mm", "300 mm")]
    """Length between the cold and the hot sink."""


def _screws(text: str) -> dict[str, object]:
    found = _SCREWS.fullmatch(text.strip()[:100])
    if found is None:
        raise PydanticCustomError(
            "screws", "{given} is not a text such as {example}",
            {"given": f"“{text[:60]}”", "example": "“4 x M4 steel, 20 mm”"},
        )  # fmt: skip
    return {
        "count": int(found["count"]),
        "diameter": f"{found['diameter']} mm",
        "material": found["material"].strip() or "steel",
        "length": found["length"].strip(),
    }


_SCREWS = re.compile(
    r"(?P<count>\d{1,3})\s*[x×]\s*M(?P<diameter>\d{1,2}(?:\.\d)?)"
    r"(?P<material>[A-Za-z0-9 -]{0,40}),(?P<length>[^,]{1,30})"
)


class Spacer(Table):
    """What fills the gap between the two sink bases around the modules."""

    thickness: Annotated[of.Length, Usual("0.3 mm", "150 mm")]
    """Gap between the bases."""
    area: Annotated[of.Area, Usual("10 mm^2", "2 m^2")]
    """Area of the gap, the modules taken off."""
    material: Annotated[str, of.known("materials")] = "PE foam"
    """Name of a material in the parts library."""
    screws: Annotated[Screws, of.TextFor(_screws, "4 x M4 steel, 20 mm")] | None = None
    """Such as "4 x M4 steel, 20 mm"."""


class Chopped(Table):
    """Modules switched on and off on a rail, without a filter."""

    rail: Annotated[of.Voltage, Usual("0.3 V", "400 V")]
    """Voltage of the array while it is on."""
    duty: of.Share
    """Share of the time it is on."""


class RunAt(Table):
    """How the array is run: exactly one key."""

    voltage: Annotated[of.Voltage, Usual("0.05 V", "500 V")] | None = None
    """Voltage at the array's terminals."""
    current: Annotated[of.Current, Usual("20 mA", "300 A")] | None = None
    """Current of the whole array."""
    module_voltage: Annotated[of.Voltage, Usual("0.05 V", "60 V")] | None = None
    """Voltage across one module."""
    module_current: Annotated[of.Current, Usual("20 mA", "60 A")] | None = None
    """Current through one module."""
    module_power: Annotated[of.ElectricPower, Usual("20 mW", "5 kW")] | None = None
    """Electrical power into all modules together."""
    chopped: Chopped | None = None
    """Switched on and off without a filter."""
    pumped: Annotated[of.Heat, Usual("20 mW", "3 kW")] | None = None
    """Heat that all modules together shall move; the current is found."""

    @model_validator(mode="after")
    def _one_way(self) -> RunAt:
        exactly_one(
            self, "voltage", "current", "module_voltage", "module_current", "module_power",
            "chopped", "pumped", of="run_at",
        )  # fmt: skip
        return self

    @property
    def way(self) -> str:
        """Name of the key that was given."""
        return next(iter(name for name in type(self).model_fields if getattr(self, name)))


_DESCRIPTIONS = ("ratings", "legs", "properties")
Interface = Annotated[
    str | Quantity,
    Kind("thermal_resistance", group="interfaces"),
    Usual("0.1 mK/W", "5 K/W"),
]
_Footprint = Annotated[of.Length, Usual("1.5 mm", "200 mm")]


class SecondStage(Table):
    """The warmer of two stacked stages: its modules take up what the first stage gives off."""

    part: str | None = None
    """Name of a module in the parts library."""
    ratings: Ratings | None = None
    """One module by its ratings."""
    legs: Legs | None = None
    """One module by its legs."""
    properties: Properties | None = None
    """One module by three constants."""
    ratio: Annotated[float, Field(gt=0, le=20)] = 1.0
    """Modules of the second stage for each one of the first."""
    interface: Interface = Field(default="thin paste")
    """Between the stages, per module of the first stage."""
    wired: Literal["in series", "own supply"] = "in series"
    """Whether the first stage's current also runs through the second."""
    run_at: RunAt | None = None
    """How the second stage is run, where it has its own supply."""
    price: of.Money | None = None
    """Price of one module of the second stage."""

    @model_validator(mode="after")
    def _one_description(self) -> SecondStage:
        exactly_one(self, *_DESCRIPTIONS, of="second stage")
        if (self.wired == "own supply") != (self.run_at is not None):
            raise PydanticCustomError(
                "needs_key", "{needs} is missing beside {given}",
                {"needs": "run_at" if self.run_at is None else 'wired = "own supply"',
                 "given": 'wired = "own supply"' if self.run_at is None else "run_at",
                 "example": '{ voltage = "12 V" }'},
            )  # fmt: skip
        return self


class Modules(Table):
    """A group of equal modules in equal strings."""

    name: str = ""
    """What the group is called in results."""
    part: str | None = None
    """Name of a module in the parts library; else `ratings`, `legs` or `properties`."""
    ratings: Ratings | None = None
    """One module by its ratings."""
    legs: Legs | None = None
    """One module by its legs."""
    properties: Properties | None = None
    """One module by three constants."""
    series: Annotated[int, Field(ge=1, le=1000)] = 1
    """Modules in each string."""
    parallel: Annotated[int, Field(ge=1, le=1000)] = 1
    """Strings side by side."""
    cold_interface: Interface = Field(default="thin paste")
    """Per module, from the ceramic's outside to the sink base: a resistance, or a name."""
    hot_interface: Interface = Field(default="thin paste")
    """Per module, from the ceramic's outside to the sink base: a resistance, or a name."""
    footprint: Annotated[tuple[_Footprint, _Footprint], Field(strict=False)] = Field(
        default_factory=lambda: (
            of.assume("40 mm", "length"),
            of.assume("40 mm", "length"),
        ),
        json_schema_extra={"default": ["40 mm", "40 mm"]},
    )
    """Sides of the module's face: along the air, across."""
    spacer: Spacer | None = None
    """What fills the gap between the sink bases."""
    stages: Literal[1, 2] = 1
    """Stages stacked on each other; two need `second`."""
    second: (
        Annotated[SecondStage, from_library("modules", _DESCRIPTIONS, without=("footprint",))]
        | None
    ) = None
    """The warmer stage."""
    run_at: RunAt | None = None
    """How this group is run, if not as the cooler's `run_at` says."""
    cold_sink_number: Annotated[int, Field(ge=1, le=50)] = 1
    """On which cold sink the group sits: 1 is the first that the air meets."""
    hot_sink_number: Annotated[int, Field(ge=1, le=50)] = 1
    """On which hot sink the group sits: 1 is the first that the air meets."""
    price: of.Money | None = None
    """Price of one module."""

    @model_validator(mode="after")
    def _one_description(self) -> Modules:
        exactly_one(self, *_DESCRIPTIONS, of="module (part, ratings, legs or properties)")
        if (self.stages == 2) != (self.second is not None):
            raise PydanticCustomError(
                "needs_key", "{needs} is missing beside {given}",
                {"needs": "second" if self.stages == 2 else "stages = 2",
                 "given": "stages = 2" if self.stages == 2 else "second",
                 "example": '{ part = "typical 127 couples 6 A" }'
                            if self.stages == 2 else "stages = 2"},
            )  # fmt: skip
        return self


_Module = Annotated[Modules, from_library("modules", _DESCRIPTIONS)]
_DEFAULT_SHARE = "0"


class Cooler(Table):
    """The machine: modules between a cold and a hot side."""

    cold_takes_from: Side = "place"
    """Where the air of the cold side comes from."""
    cold_sends_to: Side = "place"
    """Where the cooled air goes to."""
    hot_takes_from: Side
    """Where the air of the hot side comes from: "place" (single duct), "outdoors" (dual duct)."""
    hot_sends_to: Side
    """Where the warmed air goes to; "place" makes a spot cooler that heats the place."""
    run_at: RunAt
    """How the modules are run."""
    cold_fan_speed: Annotated[of.Ratio, Usual("0.05", "2")] = assumed("1.0", "ratio")
    """Speed of the cold fan as a share of full speed."""
    hot_fan_speed: Annotated[of.Ratio, Usual("0.05", "2")] = assumed("1.0", "ratio")
    """Speed of the hot fan as a share of full speed."""
    cold_recirculation: of.Share = assumed(_DEFAULT_SHARE, "share")
    """Share of the cooled air that is drawn in again at once."""
    hot_recirculation: of.Share = assumed(_DEFAULT_SHARE, "share")
    """Share of the exhaust that is drawn in again."""
    condensate: Literal["drained", "stays in the place", "onto the hot sink"] = "drained"
    """What becomes of the water that the cold side takes out of the air."""
    thermostat: Thermostat | None = None
    """Switches the modules by temperature."""
    schedule: Schedule | None = None
    """When the cooler runs, such as [["09:00", "18:00"]]; else always."""
    modules: Annotated[OneOrMany[_Module], Field(max_length=MOST_GROUPS)]
    """One group of modules, or several."""
    cold_sink: Annotated[OneOrMany[Sink], Field(max_length=MOST_SINKS)] | None = None
    """One cold sink, or several that the air meets in turn. A plate needs none."""
    cold_fan: Annotated[Fan, from_library("fans")] | None = None
    """The fan of the cold side. A plate needs none."""
    cold_duct: Duct | None = None
    """Duct, grille or filter of the cold side."""
    hot_sink: Annotated[OneOrMany[Sink], Field(max_length=MOST_SINKS)]
    """One hot sink, or several that the air meets in turn."""
    hot_fan: Annotated[Fan, from_library("fans")]
    """The fan of the hot side."""
    hot_duct: Duct | None = None
    """Duct, grille or filter of the hot side."""


class Limits(Table):
    """What must not be passed; every key may be left out."""

    hot_face: Annotated[of.Temperature, Usual("20 degC", "250 degC")] | None = None
    """Hottest hot face."""
    cold_face: Annotated[of.Temperature, Usual("-120 degC", "60 degC")] | None = None
    """Coldest cold face."""
    hot_sink: Annotated[of.Temperature, Usual("20 degC", "200 degC")] | None = None
    """Hottest base of the hot sink."""
    cold_sink: Annotated[of.Temperature, Usual("-100 degC", "60 degC")] | None = None
    """Coldest base of the cold sink."""
    max_current: Annotated[of.Current, Usual("0.1 A", "80 A")] | None = None
    """Most current through one module."""
    max_voltage: Annotated[of.Voltage, Usual("0.2 V", "100 V")] | None = None
    """Most voltage across one module."""
    dew_point_margin: Annotated[of.TemperatureDifference, Usual("0.1 K", "30 K")] | None = None
    """How far the cold sink must stay above the dew point of its air."""
