"""What is in the place: people, animals and machines, doors that open, goods, water, moisture."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import ConfigDict, Field, model_validator

from coldwright.sheet import fields as of
from coldwright.sheet.fields import Schedule, Usual, assumed
from coldwright.sheet.tables import Table, at_most_one, exactly_one, needs


def _with_animals(schema: dict[str, Any]) -> None:
    schema["properties"]["animals"] = {
        **schema["properties"]["people"],
        "description": 'How many animals; their heat comes from `activity`, such as "cat".',
    }


class Gain(Table):
    """People, animals, lamps, machines: what sets heat or moisture free in the place."""

    model_config = ConfigDict(json_schema_extra=_with_animals)

    name: str
    """What it is called in results."""
    people: Annotated[float, Field(ge=0, le=1000)] | None = None
    """How many people (or `animals`); their heat comes from `activity`."""
    activity: Annotated[str, of.known("activities")] = "seated"
    """What the people do, or which animal it is: a name in the parts library."""
    heat: Annotated[of.Heat, Usual("0.05 W", "10 kW")] | None = None
    """Sensible heat, instead of people: of a lamp or machine, all its electrical power."""
    moisture: Annotated[of.MoistureRate, Usual("0.1 g/d", "10 kg/h")] | None = None
    """Water vapour set free."""
    schedule: Schedule | None = None
    """When it is there, such as [["08:00", "12:00"], ["13:00", "17:00"]]; else always."""

    @model_validator(mode="before")
    @classmethod
    def _animals_count_alike(cls, given: object) -> object:
        if not isinstance(given, dict) or "animals" not in given or "people" in given:
            return given
        if "activity" not in given:
            raise needs("activity", "animals", '"cat"')
        return {"people" if key == "animals" else key: value for key, value in given.items()}

    def idle(self) -> frozenset[str]:
        """Without people nobody does anything."""
        return frozenset({"activity"} if self.people is None else ())

    @model_validator(mode="after")
    def _says_something(self) -> Gain:
        if self.people is None and self.heat is None and self.moisture is None:
            exactly_one(self, "people", "heat", "moisture", of="gain")
        if self.people is not None:
            at_most_one(self, "people", "heat", of="gain")
        return self


class Door(Table):
    """A door, lid or flap that is opened now and then, and lets air change places."""

    name: str
    """What it is called in results."""
    openings_per_hour: Annotated[of.PerHour, Usual("0.01 1/h", "300 1/h")]
    """How often it is opened while its schedule runs: 6, or "6 1/h"."""
    air: Annotated[of.Volume, Usual("0.01 L", "200 m^3")] | None = None
    """Air exchanged at each opening; or give `share`."""
    share: of.Share | None = None
    """Share of the place's air exchanged at each opening, instead of `air`."""
    schedule: Schedule | None = None
    """When people come to it, such as [["08:00", "18:00"]]; else always."""

    @model_validator(mode="after")
    def _one_amount(self) -> Door:
        at_most_one(self, "air", "share", of="air exchanged")
        if self.air is None:
            of.fill_assumed(self, "share", "0.8", "share")
        return self


class Contents(Table):
    """What stands in the place and must be cooled with it: goods, bottles, a tank, furniture."""

    mass: Annotated[of.Mass, Usual("20 g", "5 t")] | None = None
    """Mass; or give `water`, or `heat_capacity`."""
    specific_heat: Annotated[of.SpecificHeat, Usual("100 J/kg/K", "4500 J/kg/K")] | None = None
    """Specific heat of that mass."""
    water: Annotated[of.Volume, Usual("10 mL", "5 m^3")] | None = None
    """Volume of water (bottles, a tank), instead of mass and specific heat."""
    heat_capacity: Annotated[of.HeatCapacity, Usual("20 J/K", "50 MJ/K")] | None = None
    """Heat capacity, instead of mass and specific heat."""
    area: Annotated[of.Area, Usual("10 cm^2", "500 m^2")]
    """Surface that touches the air."""
    film: Annotated[of.FilmCoefficient, Usual("0.2 W/m^2/K", "2000 W/m^2/K")] = assumed(
        "8 W/m^2/K", "film_coefficient"
    )
    """Heat transfer from that surface to the air, radiation included."""
    start: Annotated[of.Temperature, Usual("-40 degC", "90 degC")] | None = None
    """Temperature when the cooler is switched on; else as the air."""

    @model_validator(mode="after")
    def _one_way(self) -> Contents:
        exactly_one(self, "mass", "water", "heat_capacity", of="contents")
        if self.mass is not None and self.specific_heat is None:
            raise needs("specific_heat", "mass", '"1200 J/kg/K"')
        if self.specific_heat is not None and self.mass is None:
            raise needs("mass", "specific_heat", '"80 kg"')
        return self


class MoistureBuffer(Table):
    """Material that takes up and gives back moisture: paper, wood, textiles."""

    material: Annotated[str, of.known("buffers")] = "wood"
    """Name in the parts library."""
    area: Annotated[of.Area, Usual("10 cm^2", "500 m^2")]
    """Area that faces the air."""
