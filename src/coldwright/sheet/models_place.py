"""What is kept cool: a room, a box, open air or a plate, with what encloses it."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, Tag, model_validator

from coldwright.quantities.parsing import Quantity
from coldwright.sheet import fields as of
from coldwright.sheet.bounds import MOST_LAYERS, MOST_SURFACES
from coldwright.sheet.fields import Kind, Usual, assumed, by_key
from coldwright.sheet.models_inside import Contents, Door, Gain, MoistureBuffer
from coldwright.sheet.tables import Many, OneOrMany, Table, at_most_one, exactly_one, needs

Orientation = Literal["vertical", "up", "down"]
_TILTS = {"vertical": math.pi / 2.0, "up": 0.0, "down": math.pi}


class Layer(Table):
    """One layer of a wall. The material's data come from the parts library unless given here."""

    material: str
    """Name of a material in the parts library, or any name beside `conductivity` or `insulance`."""
    thickness: Annotated[of.Length, Usual("0.1 mm", "1 m")] | None = None
    """Thickness of the layer."""
    conductivity: Annotated[of.Conductivity, Usual("0.003 W/m/K", "500 W/m/K")] | None = None
    """Thermal conductivity, instead of the library's."""
    insulance: Annotated[of.Insulance, Usual("0.001 m^2*K/W", "20 m^2*K/W")] | None = None
    """Thermal resistance of one square metre of this layer ("R13"), instead of a conductivity."""
    density: Annotated[of.Density, Usual("2 kg/m^3", "12000 kg/m^3")] | None = None
    """Density, instead of the library's."""
    specific_heat: Annotated[of.SpecificHeat, Usual("100 J/kg/K", "4500 J/kg/K")] | None = None
    """Specific heat, instead of the library's."""
    state: Literal["dry", "wet", "iced"] = "dry"
    """Whether water stands in its pores, or ice: it then insulates worse and stores more."""
    water_share: of.Share | None = None
    """Share of its volume that the water (or ice) takes up, where it is wet or iced."""
    wet_factor: Annotated[of.Ratio, Usual("1", "10")] | None = None
    """How many times better it conducts than dry, instead of what follows from `water_share`."""

    def idle(self) -> frozenset[str]:
        """That a layer is dry goes without saying."""
        return frozenset({"state"} if self.state == "dry" else ())

    @model_validator(mode="after")
    def _known_and_complete(self) -> Layer:
        at_most_one(self, "conductivity", "insulance", of="layer")
        if self.conductivity is None and self.insulance is None:
            of.require("materials", self.material)
        if self.thickness is None and self.insulance is None:
            raise needs("thickness", "material", '"40 mm"')
        if self.state == "dry":
            if self.water_share is not None or self.wet_factor is not None:
                given = "water_share" if self.water_share is not None else "wet_factor"
                raise needs("state", given, '"wet"')
        elif self.wet_factor is None:
            of.fill_assumed(self, "water_share", "10 percent", "share")
        return self


class Surface(Table):
    """A wall, roof, floor or part of one: an area with something on its other side."""

    name: str
    """What the surface is called in results."""
    area: Annotated[of.Area, Usual("20 cm^2", "500 m^2")]
    """Inner area."""
    other_side: Annotated[
        Literal["outdoors", "ground"] | Quantity,
        Kind("temperature", ("outdoors", "ground")),
        Usual("-45 degC", "90 degC"),
    ] = "outdoors"
    """"outdoors", "ground", or the temperature of what lies behind."""
    layers: Annotated[Many[Layer], Field(min_length=1, max_length=MOST_LAYERS)] | None = None
    """Layers from the inside to the outside; or give `u_value`."""
    u_value: of.UValue | None = None
    """Heat transfer coefficient with both air films, instead of layers."""
    orientation: Orientation = "vertical"
    """Which way heat flows out through it: sideways, up (a roof) or down (a floor)."""
    absorptance: of.Share | None = None
    """Share of the sun that the outer face absorbs; without it no sun is counted here."""
    sun: Annotated[of.Irradiance, Usual("1 W/m^2", "1400 W/m^2")] | None = None
    """Sun on this surface in steady weather, if it differs from the climate's."""
    compass: of.Angle | None = None
    """Where the surface looks to, "SSW" or "200 deg"; else the mean of the four sides counts."""
    tilt: of.Angle | None = None
    """Angle against level: 0 a flat roof, 90 deg a wall, 180 deg the underside of a floor; else
    as `orientation` says."""
    shaded_share: of.Share = assumed("0", "share")
    """Share of the sun that trees, a parasol or a second roof keep off."""

    @model_validator(mode="after")
    def _one_description(self) -> Surface:
        exactly_one(self, "layers", "u_value", of="surface")
        return self

    @property
    def tilt_rad(self) -> float:
        """Angle against level [rad], from `tilt` or else from the way heat flows out."""
        return _TILTS[self.orientation] if self.tilt is None else self.tilt.value


class Window(Table):
    """A window: loses heat and lets the sun in."""

    name: str
    """What the window is called in results."""
    area: Annotated[of.Area, Usual("5 cm^2", "100 m^2")]
    """Area of the opening."""
    u_value: of.UValue
    """Heat transfer coefficient with both air films."""
    solar_factor: of.Share = assumed("0.75", "share")
    """Share of the sun on the glass that ends up as heat inside."""
    compass: of.Angle | None = None
    """Where it looks to, "SSW" or "200 deg"; else the mean of the four sides counts."""
    tilt: of.Angle = assumed("90 deg", "angle")
    """Angle against level: 90 deg in a wall, 0 in a flat roof."""
    shaded_share: of.Share = assumed("0", "share")
    """Share of the sun that a blind or awning keeps out."""
    sun: Annotated[of.Irradiance, Usual("1 W/m^2", "1400 W/m^2")] | None = None
    """Sun on this window's plane in steady weather, if it differs from the climate's."""

    @property
    def tilt_rad(self) -> float:
        """Angle against level [rad]."""
        return self.tilt.value


class Leak(Table):
    """A heat bridge through the wall: a cable, a screw, a window frame, a lid seal."""

    name: str
    """What it is called in results."""
    conductance: Annotated[of.ThermalConductance, Usual("0.05 mW/K", "50 W/K")]
    """Heat that passes per kelvin between the place and the outside."""
    count: Annotated[int, Field(ge=1, le=1000)] = 1
    """How many of them."""


def _with_n50(schema: dict[str, Any]) -> None:
    schema["properties"]["n50"] = schema["properties"]["ach50"]


class Leakage(Table):
    """How leaky the place is for air: exactly one way of saying it."""

    model_config = ConfigDict(json_schema_extra=_with_n50)

    area: Annotated[of.Area, Usual("0.03 cm^2", "2 m^2")] | None = None
    """Effective leakage area, or the free area of a known opening."""
    ach50: Annotated[of.AirChangesAt50Pa, Usual("0.005 1/h", "300 1/h")] | None = None
    """Air changes per hour that a fan needs to hold 50 Pa (also written n50)."""
    natural: Annotated[of.AirChanges, Usual("0.001 1/h", "100 1/h")] | None = None
    """Air changes of an ordinary day with no fan running."""

    @model_validator(mode="before")
    @classmethod
    def _same_thing(cls, given: object) -> object:
        if isinstance(given, dict) and "n50" in given and "ach50" not in given:
            return {"ach50" if key == "n50" else key: value for key, value in given.items()}
        return given

    @model_validator(mode="after")
    def _one_way(self) -> Leakage:
        exactly_one(self, "area", "ach50", "natural", of="air leakage")
        return self


AirLeakage = Annotated[
    Annotated[Literal["none", "tight", "ordinary", "draughty"], Tag("<text>")]
    | Annotated[Leakage, Tag("<table>")],
    of.by_shape(text="<text>", table="<table>"),
]


class _Enclosed(Table):
    length: of.Length
    """Inner length."""
    width: of.Length
    """Inner width."""
    height: of.Length
    """Inner height."""
    start_air: Annotated[of.Temperature, Usual("-40 degC", "80 degC")] | None = None
    """Air temperature inside when the cooler is switched on; else as outdoors."""
    start_humidity: of.Humidity | None = None
    """Relative humidity inside when the cooler is switched on; else the outdoor moisture."""
    shelter: Annotated[int, Field(ge=1, le=5)] = 4
    """How sheltered from wind: 1 open country to 5 closely built in."""
    storeys: Annotated[int, Field(ge=1, le=3)] = 1
    """Storeys of the building that the air can rise through."""
    combustion: Literal["none", "sealed", "open", "not known"] = "not known"
    """Appliances that burn something in the same air: asked before any exhaust is advised."""
    contents: Contents | None = None
    """What must be cooled with the air."""
    moisture_buffer: MoistureBuffer | None = None
    """What takes up and gives back moisture."""
    heat_loss: Annotated[of.ThermalConductance, Usual("1 mW/K", "3 kW/K")] | None = None
    """Known heat loss per kelvin of the whole place, instead of walls."""
    heat_capacity: Annotated[of.HeatCapacity, Usual("20 J/K", "200 MJ/K")] | None = None
    """Known heat capacity that follows the air, instead of the walls' own."""
    surface: Annotated[Many[Surface], Field(max_length=MOST_SURFACES)] = ()
    """Walls, roof and floor."""
    window: Many[Window] = ()
    """Windows."""
    gain: Many[Gain] = ()
    """What sets heat or moisture free."""
    leak: Many[Leak] = ()
    """Heat bridges."""
    door: Many[Door] = ()
    """Doors and lids that are opened now and then."""


class Room(_Enclosed):
    """A room, a kiosk, a cabin: surfaces with something on their other side."""

    kind: Literal["room"]
    length: Annotated[of.Length, Usual("0.3 m", "20 m")]
    """Inner length."""
    width: Annotated[of.Length, Usual("0.3 m", "20 m")]
    """Inner width."""
    height: Annotated[of.Length, Usual("0.3 m", "8 m")]
    """Inner height."""
    air_leakage: AirLeakage = "ordinary"
    """How leaky: a word, or a table with `area`, `ach50` or `natural`."""


class Box(_Enclosed):
    """A closed box with one kind of wall all around; edges and corners are counted."""

    kind: Literal["box"]
    length: Annotated[of.Length, Usual("15 mm", "6 m")]
    """Inner length."""
    width: Annotated[of.Length, Usual("15 mm", "6 m")]
    """Inner width."""
    height: Annotated[of.Length, Usual("15 mm", "4 m")]
    """Inner height."""
    air_leakage: AirLeakage = "tight"
    """How leaky: a word, or a table with `area`, `ach50` or `natural`."""
    wall: Annotated[OneOrMany[Layer], Field(max_length=MOST_LAYERS)] | None = None
    """The wall all around: one layer, or a list of layers from the inside to the outside."""
    lid_seal: Annotated[of.ThermalConductance, Usual("0.1 mW/K", "20 W/K")] | None = None
    """Heat that passes through the seal of the lid or door per kelvin."""
    outer_emissivity: of.Emissivity = assumed("0.9", "emissivity")
    """Emissivity of the outer face; bright foil outside makes sweating worse."""


class OpenAir(Table):
    """No enclosure: the air that the cold side takes in is given."""

    kind: Literal["open_air"]
    air: Annotated[of.Temperature, Usual("-45 degC", "80 degC")]
    """Temperature of the air taken in."""
    humidity: of.Humidity | None = None
    """Relative humidity of that air; or give `dew_point`."""
    dew_point: Annotated[of.Temperature, Usual("-60 degC", "40 degC")] | None = None
    """Dew point of that air, instead of `humidity`."""

    @model_validator(mode="after")
    def _one_humidity(self) -> OpenAir:
        at_most_one(self, "humidity", "dew_point", of="moisture of the air")
        if self.dew_point is None:
            of.fill_assumed(self, "humidity", "50 percent", "humidity")
        return self


class Plate(Table):
    """A plate or loop with a given heat, instead of air."""

    kind: Literal["plate"]
    heat: Annotated[of.Heat, Usual("1 mW", "3 kW")] = assumed("0 W", "heat")
    """Heat set free at the plate."""
    area: Annotated[of.Area, Usual("5 mm^2", "4 m^2")] | None = None
    """Area through which the surrounding air also warms the plate."""
    film_coefficient: (
        Annotated[of.FilmCoefficient, Usual("0.2 W/m^2/K", "50000 W/m^2/K")] | None
    ) = None
    """Heat transfer from that air to the plate."""
    air: Annotated[of.Temperature, Usual("-60 degC", "120 degC")] | None = None
    """Temperature of that air; else the outdoor air."""
    mass: Annotated[of.Mass, Usual("0.1 g", "200 kg")] | None = None
    """Mass of the plate and what hangs on it."""
    specific_heat: of.SpecificHeat = assumed("900 J/kg/K", "specific_heat")
    """Specific heat of that mass (aluminium)."""
    heat_capacity: of.HeatCapacity | None = None
    """Heat capacity, instead of a mass."""
    start: Annotated[of.Temperature, Usual("-90 degC", "150 degC")] | None = None
    """Temperature at the start; else the air's."""

    @model_validator(mode="after")
    def _consistent(self) -> Plate:
        at_most_one(self, "mass", "heat_capacity", of="plate")
        if self.area is not None:
            of.fill_assumed(self, "film_coefficient", "8 W/m^2/K", "film_coefficient")
        return self


Place = Annotated[
    Annotated[Room, Tag("<room>")]
    | Annotated[Box, Tag("<box>")]
    | Annotated[OpenAir, Tag("<open_air>")]
    | Annotated[Plate, Tag("<plate>")],
    by_key("kind"),
]
