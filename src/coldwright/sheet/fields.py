"""How one key of the design sheet is read: a quantity, a word, a part's name, a table, a list.

Every table of the sheet is a frozen `Table` that refuses unknown keys. A quantity is a
`Quantity` (the person's text beside the SI value); the aliases below say which kind each holds.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache, partial
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    Discriminator,
    Field,
    GetJsonSchemaHandler,
    WithJsonSchema,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from coldwright.errors import PartMissing, QuantityError
from coldwright.quantities.glossary import entry
from coldwright.quantities.parsing import Quantity, Span, is_plausible, parse
from coldwright.sheet.shown import shown
from coldwright.sheet.tables import Many, Table


@dataclass(frozen=True)
class Kind:
    """Marks a field as a quantity of one glossary kind, or one of a few words instead.

    Parameters
    ----------
    name
        Glossary entry whose unit and span the value must have.
    words
        Texts that stand for themselves, such as ``"outdoors"``; they are kept as text.
    bare_unit
        Unit that a bare number has, because the key's own name says it (``ach50 = 12``).
    group
        Group of the parts library of which a name may stand here instead of a value.
    key
        Key of that row whose value the name stands for; without it the name is kept as text.
    """

    name: str
    words: tuple[str, ...] = ()
    bare_unit: str = ""
    group: str = ""
    key: str = ""

    def read(self, value: Any) -> Quantity | str:
        """Turn what stands in the file into a quantity or one of the words."""
        if isinstance(value, Quantity):
            return value
        if isinstance(value, str) and value.strip() in self.words:
            return value.strip()
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise QuantityError(
                given=shown(value),
                allowed=self.allowed(),
                why="This key holds one value, written as text with its unit",
                action=f"something like “{entry(self.name).example}”",
            )
        if self.bare_unit and isinstance(value, int | float):
            value = f"{value} {self.bare_unit}"
        if self.group and isinstance(value, str) and not _NUMBER_FIRST.match(value):
            row = _found(self.group, value)
            return replace(parse(row[self.key], self.name), text=value) if self.key else value
        try:
            return parse(value, self.name)
        except QuantityError as error:
            if not self.words:
                raise
            raise QuantityError(
                given=error.given, allowed=self.allowed(), why=error.why, action=error.action
            ) from None

    def allowed(self) -> str:
        """What may stand here, for a message."""
        found = entry(self.name)
        noun = self.name.replace("_", " ")
        article = "an" if noun[0] in "aeio" else "a"
        quantity = f"{article} {noun} such as “{found.example}”"
        return " or ".join([*(f"“{word}”" for word in self.words), quantity])

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(_text)
        )

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        found = entry(self.name)
        names = _library_names(self.group) if self.group else []
        bare = not found.si_unit or bool(self.bare_unit)
        return {
            "type": ["string", "number"] if bare else "string",
            "format": f"quantity:{self.name}",
            "description": found.description,
            "examples": [*self.words, *names, found.example],
        }


@dataclass(frozen=True)
class Usual:
    """Marks a field with the span that it has in practice; only a slip is guessed from it.

    Nothing is refused beyond it. Kinds have spans too, but a wall, a fin and a duct are lengths
    of very different sizes: only the field knows which slip of a unit is one.

    Parameters
    ----------
    low, high
        The span, as texts of the field's kind.
    """

    low: str
    high: str

    def __get_pydantic_core_schema__(
        self, source: Any, handler: Callable[[Any], CoreSchema]
    ) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self._mark, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        made: dict[str, Any] = {**handler(schema), "usual": [self.low, self.high]}
        kind = str(made.get("format", "")).removeprefix("quantity:")
        *words, example = made.get("examples", [""])
        if example and not is_plausible(self._mark(parse(example, kind))):
            # The kind's example is none of this field.
            made["examples"] = [*words, self.low, self.high]
        return made

    def _mark(self, value: Any) -> Any:
        if not isinstance(value, Quantity):
            return value
        return replace(value, usual=_span(self.low, self.high, value.kind))


_span = cache(Span.of)


def assumed(text: str, kind: str) -> Any:
    """Default of a field: a quantity that the program assumes and will list as assumed."""
    return Field(default_factory=partial(assume, text, kind), json_schema_extra={"default": text})


@cache
def assume(text: str, kind: str) -> Quantity:
    """A quantity that the program assumes."""
    return parse(text, kind, assumed=True)


def by_shape(**tags: str) -> Discriminator:
    """Choose between ways of writing a value by its type: ``text=``, ``table=``, ``list=``.

    The chosen tag stands in angle brackets in pydantic's error location, so that it can be
    told from a key and left out of the path shown.
    """
    return Discriminator(lambda value: _shape(tags, value))


def by_length(tags: dict[int, str]) -> Discriminator:
    """Choose between rows of a table by how many values they hold."""
    return Discriminator(lambda value: _length(tags, value))


def by_key(key: str) -> Discriminator:
    """Choose the model of a table by the word that stands under ``key``."""
    return Discriminator(lambda value: _key(key, value))


def fill_assumed(table: Table, name: str, text: str, kind: str) -> None:
    """Give an optional quantity its assumed value, where it is needed and was not given."""
    if getattr(table, name) is None:
        table.__dict__[name] = assume(text, kind)


def _shape(tags: dict[str, str], value: object) -> str | None:
    if isinstance(value, dict | BaseModel):
        shape = "table"
    elif isinstance(value, list | tuple):
        shape = "list"
    elif isinstance(value, bool):
        return None
    else:
        shape = "text"
    return tags.get(shape)


def _length(tags: dict[int, str], value: object) -> str | None:
    return tags.get(len(value)) if isinstance(value, list | tuple) else None


def _key(key: str, value: object) -> str | None:
    word = value.get(key) if isinstance(value, dict) else getattr(value, key, None)
    return f"<{word}>" if isinstance(word, str) else None


def _text(value: object) -> object:
    return value.text if isinstance(value, Quantity) else value


def _clock_s(value: object) -> object:
    if isinstance(value, datetime.time):
        return float(value.hour * 3600 + value.minute * 60 + value.second)
    found = re.fullmatch(r"([01]?\d|2[0-4]):([0-5]\d)", value) if isinstance(value, str) else None
    if found is None or (found[1] == "24" and found[2] != "00"):
        raise PydanticCustomError(
            "clock", "{given} is not a time of day such as 08:30", {"given": shown(value)}
        )
    return float(int(found[1]) * 3600 + int(found[2]) * 60)


ClockTime = Annotated[
    float,
    BeforeValidator(_clock_s),
    WithJsonSchema({"type": "string", "pattern": r"^\d{1,2}:\d\d$", "examples": ["08:30"]}),
]
"""A time of day, written "08:30"; held as seconds after midnight."""
Schedule = Many[Annotated[tuple[ClockTime, ClockTime], Field(strict=False)]]


def known(group: str) -> Any:
    """Refuse a name that does not stand in this group of the parts library."""
    return _LibraryName(group)


@dataclass(frozen=True)
class _LibraryName:
    group: str

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        return core_schema.no_info_before_validator_function(
            partial(_known, self.group), core_schema.str_schema(strict=True)
        )

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "examples": _library_names(self.group)}


def from_library(
    group: str, alternatives: tuple[str, ...] = (), *, without: tuple[str, ...] = ()
) -> BeforeValidator:
    """Let a table say ``part = "..."`` and take what it does not say from the parts library.

    ``alternatives`` are keys that say the same thing in another way: giving one of them beside
    ``part`` is refused, because the two could disagree. ``without`` are keys of the row that the
    table does not have.
    """
    return BeforeValidator(partial(filled, group, alternatives=alternatives, without=without))


def filled(
    group: str,
    value: object,
    *,
    alternatives: tuple[str, ...] = (),
    without: tuple[str, ...] = (),
) -> object:
    """A table with what its ``part`` says added; anything else is handed back as it is."""
    if not isinstance(value, dict) or not isinstance(value.get("part"), str):
        return value
    both = [name for name in alternatives if name in value]
    if both:
        raise PydanticCustomError(
            "exactly_one",
            "{of}: {given} is not exactly one of {allowed}",
            {
                "of": group,
                "given": " and ".join(["part", *both]),
                "allowed": ", ".join(["part", *alternatives]),
            },
        )
    row = _found(group, value["part"])
    left_out = (*_NOT_FIELDS, *without)
    return {**{key: held for key, held in row.items() if key not in left_out}, **value}


@dataclass(frozen=True)
class TextFor:
    """Lets a text stand for a table: ``table`` makes the one of the other."""

    table: Callable[[str], dict[str, Any]]
    example: str

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self._read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"type": "string", "examples": [self.example]}, handler(schema)]}

    def _read(self, value: object) -> object:
        return self.table(value) if isinstance(value, str) else value


def fitting(name: str) -> dict[str, Any]:
    """The table of a fitting that stands in the parts library."""
    return {"name": name, "loss": _found("fittings", name)["loss"]}


def require(group: str, name: str) -> None:
    """Refuse a name that does not stand in this group of the parts library."""
    _found(group, name)


def _known(group: str, value: Any) -> Any:
    if isinstance(value, str):
        _found(group, value)
    return value


def _found(group: str, name: str) -> dict[str, Any]:
    from coldwright.sheet.library import library

    try:
        return library().row(group, name)
    except PartMissing as error:
        raise PydanticCustomError(
            "part_missing",
            "no part of {group} is called {given}",
            {"group": group, "given": name[:80], "nearest": list(error.nearest)},
        ) from None


def _library_names(group: str) -> list[str]:
    from coldwright.sheet.library import library

    return library().names(group)


_NOT_FIELDS = ("source", "aliases")
_NUMBER_FIRST = re.compile(r"\s*[-+.,\d]")

Temperature = Annotated[Quantity, Kind("temperature")]
TemperatureDifference = Annotated[Quantity, Kind("temperature_difference")]
Length = Annotated[Quantity, Kind("length")]
Altitude = Annotated[Quantity, Kind("altitude")]
Area = Annotated[Quantity, Kind("area")]
Volume = Annotated[Quantity, Kind("volume")]
Mass = Annotated[Quantity, Kind("mass")]
Time = Annotated[Quantity, Kind("time")]
ElectricPower = Annotated[Quantity, Kind("power")]
Heat = Annotated[Quantity, Kind("heat")]
Pressure = Annotated[Quantity, Kind("pressure")]
Flow = Annotated[Quantity, Kind("flow")]
WaterFlow = Annotated[Quantity, Kind("water_flow")]
Velocity = Annotated[Quantity, Kind("velocity")]
ThermalResistance = Annotated[Quantity, Kind("thermal_resistance")]
ThermalConductance = Annotated[Quantity, Kind("thermal_conductance")]
FilmCoefficient = Annotated[Quantity, Kind("film_coefficient")]
UValue = Annotated[Quantity, Kind("u_value")]
Insulance = Annotated[Quantity, Kind("thermal_insulance")]
Conductivity = Annotated[Quantity, Kind("thermal_conductivity")]
SpecificHeat = Annotated[Quantity, Kind("specific_heat")]
HeatCapacity = Annotated[Quantity, Kind("heat_capacity")]
Density = Annotated[Quantity, Kind("density")]
Seebeck = Annotated[Quantity, Kind("seebeck")]
Resistance = Annotated[Quantity, Kind("resistance")]
ContactResistivity = Annotated[Quantity, Kind("contact_resistivity")]
Voltage = Annotated[Quantity, Kind("voltage")]
Current = Annotated[Quantity, Kind("current")]
Humidity = Annotated[Quantity, Kind("humidity")]
Ratio = Annotated[Quantity, Kind("ratio")]
EfficiencyRatio = Annotated[Quantity, Kind("efficiency")]
Share = Annotated[Quantity, Kind("share")]
Irradiance = Annotated[Quantity, Kind("irradiance")]
SoundLevel = Annotated[Quantity, Kind("sound_level")]
Money = Annotated[Quantity, Kind("price")]
EnergyPrice = Annotated[Quantity, Kind("price_per_energy")]
Angle = Annotated[Quantity, Kind("angle")]
Latitude = Annotated[Quantity, Kind("latitude", bare_unit="deg")]
Longitude = Annotated[Quantity, Kind("longitude", bare_unit="deg")]
AirPressure = Annotated[Quantity, Kind("air_pressure")]
EmissionFactor = Annotated[Quantity, Kind("emission_factor")]
PerHour = Annotated[Quantity, Kind("air_changes", bare_unit="1/h")]
MoistureRate = Annotated[Quantity, Kind("moisture_rate")]
Emissivity = Annotated[Quantity, Kind("emissivity")]
Frequency = Annotated[Quantity, Kind("frequency")]
WireSize = Annotated[Quantity, Kind("wire_size", group="wires", key="area")]
AirChanges = Annotated[Quantity, Kind("air_changes")]
AirChangesAt50Pa = Annotated[Quantity, Kind("air_changes", bare_unit="1/h")]
Energy = Annotated[Quantity, Kind("energy")]
Charge = Annotated[Quantity, Kind("charge")]
Capacitance = Annotated[Quantity, Kind("capacitance")]
