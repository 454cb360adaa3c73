"""The person's parts list: what can be bought or lies in the drawer, as TOML or CSV.

A part is described in the words of the design sheet. A list holds modules, sinks, fans, supplies,
converters and wires; of a kind that it leaves out, the sheet's own part is the only one.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, PrivateAttr, Tag, ValidationError

from coldwright.errors import SheetError, SheetInvalid
from coldwright.findings import Finding
from coldwright.sheet import fields as of
from coldwright.sheet.faults import findings_of
from coldwright.sheet.fields import by_key, from_library
from coldwright.sheet.file import decoded, file_bytes
from coldwright.sheet.library import library
from coldwright.sheet.lines import key_lines
from coldwright.sheet.models_air import Fan, PlateFinSink, ResistanceSink, TableSink, WaterLoop
from coldwright.sheet.models_cooler import Modules
from coldwright.sheet.models_power import Converter, Supply
from coldwright.sheet.parts_table import data_of_csv
from coldwright.sheet.tables import Many, Table

Stock = Annotated[int, Field(ge=0, le=1_000_000)]
Where = Literal["cold", "hot", "both"]


class ListedModule(Modules):
    """A module of the list; how many and how they are wired is what the search finds."""

    stock: Stock | None = None
    """How many can be had; else as many as wanted."""


class _ListedSink(Table):
    """What the list says of a sink beside its data."""

    name: str = ""
    """What it is called in results."""
    stock: Stock | None = None
    """How many can be had; else as many as wanted."""
    side: Where | None = None
    """Side it is for; else both, and the hot side for a water loop."""
    face: Annotated[tuple[of.Length, of.Length], Field(strict=False)] | None = None
    """Sides of the face that modules may cover, where the sink has no base by dimensions."""


class ListedPlateFin(PlateFinSink, _ListedSink):
    """A plate-fin sink of the list."""


class ListedTable(TableSink, _ListedSink):
    """A sink of the list by its table."""


class ListedResistance(ResistanceSink, _ListedSink):
    """A sink of the list by one number."""

    at_flow: of.Flow
    """Air flow at which the value holds."""


class ListedWaterLoop(WaterLoop, _ListedSink):
    """A water loop of the list."""


class ListedFan(Fan):
    """A fan of the list."""

    name: str = ""
    """What it is called in results."""
    stock: Stock | None = None
    """How many can be had; else as many as wanted."""
    side: Where = "both"
    """Side it is for."""


class ListedSupply(Supply):
    """A supply of the list; where it stands and its mains are the sheet's."""

    name: str = ""
    """What it is called in results."""
    stock: Stock | None = None
    """How many can be had; else as many as wanted."""


class ListedConverter(Converter):
    """A converter of the list: sets any voltage below the supply's."""

    name: str = ""
    """What it is called in results."""
    stock: Stock | None = None
    """How many can be had; else as many as wanted."""


class ListedWire(Table):
    """A pair of conductors by the metre; its length is the sheet's."""

    name: str = ""
    """What it is called in results."""
    size: of.WireSize
    """Such as "2.5 mm^2" or "14 AWG"."""
    strands: Literal["flexible", "solid", "stranded"] = "flexible"
    """Kind of conductor."""
    fuse: of.Current | None = None
    """Largest fuse that protects it."""
    price: of.Money | None = None
    """Price of one metre of both conductors."""
    stock: Stock | None = None
    """Metres that can be had; else as many as wanted."""


class Search(Table):
    """What the search may combine."""

    most_modules: Annotated[int, Field(ge=1, le=200)] = 24
    """Most modules in one design."""
    least_modules: Annotated[int, Field(ge=1, le=200)] = 1
    """Fewest modules in one design."""
    stacks: bool = True
    """Whether a module may be stacked on one or two of its kind."""
    unequal_strings: bool = True
    """Whether strings may differ by one module in length."""
    switched_groups: bool = True
    """Whether half of the strings may be switched off."""
    keep_own: bool = True
    """Whether the parts of the sheet itself may be chosen too."""


ListedSink = Annotated[
    Annotated[ListedPlateFin, Tag("<plate_fin>")]
    | Annotated[ListedTable, Tag("<table>")]
    | Annotated[ListedResistance, Tag("<resistance>")]
    | Annotated[ListedWaterLoop, Tag("<water_loop>")],
    by_key("kind"),
    from_library("sinks"),
]


class PartsList(Table):
    """A parts list."""

    format: Literal[1] = 1
    """Format of the file."""
    title: str = ""
    """What the list is called."""
    module: Many[
        Annotated[ListedModule, from_library("modules", ("ratings", "legs", "properties"))]
    ] = ()
    """Modules."""
    sink: Many[ListedSink] = ()
    """Sinks and water loops."""
    fan: Many[Annotated[ListedFan, from_library("fans")]] = ()
    """Fans."""
    supply: Many[ListedSupply] = ()
    """Supplies."""
    converter: Many[ListedConverter] = ()
    """Converters."""
    wire: Many[ListedWire] = ()
    """Wires to the modules."""
    search: Search = Field(default_factory=Search)
    """What the search may combine."""

    _data: dict[str, Any] = PrivateAttr(default_factory=dict)
    _file: str = PrivateAttr(default="")
    _lines: dict[str, int] = PrivateAttr(default_factory=dict)

    @property
    def data(self) -> dict[str, Any]:
        """What stood in the file, as plain data; do not change it."""
        return self._data

    @property
    def file(self) -> str:
        """Name of the file; empty for the typical parts."""
        return self._file

    def line(self, path: str) -> int | None:
        """Line of the file on which something stands."""
        from coldwright.sheet.lines import nearest_line

        return nearest_line(self._lines, path)

    def remember(self, data: dict[str, Any], file: str, lines: dict[str, int]) -> None:
        """Keep what the file said and where; only the reader of files calls this."""
        self._data, self._file, self._lines = data, file, lines


KINDS = ("module", "sink", "fan", "supply", "converter", "wire")
# Keys of a row that are about the list, not about the part: no sheet has them.
OF_THE_LIST = ("name", "stock", "side", "face")


def read_parts(path: str | os.PathLike[str]) -> PartsList:
    """Read a parts list: a file in TOML, or in CSV if its name ends so.

    Raises
    ------
    SheetError
        When there is no such file or it cannot be read, with path and line.
    SheetInvalid
        When parts of it are not valid: with every fault at once.
    """
    file = Path(path)
    text = decoded(file_bytes(file), file)
    if file.suffix.lower() in (".csv", ".tsv"):
        data, lines = data_of_csv(text, str(file))
    else:
        try:
            data, lines = tomllib.loads(text), key_lines(text)
        except (tomllib.TOMLDecodeError, RecursionError) as error:
            raise SheetError(f"This is no parts list in TOML: {error}.", str(file)) from None
    if not any(data.get(kind) for kind in KINDS):
        raise SheetError(
            "The file lists no parts. It needs tables such as [[module]], [[sink]] and [[fan]], "
            "or, in CSV, a column `what` with such words.",
            str(file),
        )
    return parts_of(data, file=str(file), lines=lines)


def parts_of(
    data: dict[str, Any], *, file: str = "", lines: Mapping[str, int] | None = None
) -> PartsList:
    """A parts list from plain data; raises `SheetInvalid` with every fault at once."""
    held = dict(lines or {})
    try:
        found = PartsList.model_validate(data)
    except ValidationError as error:
        errors = error.errors(include_url=False)
        raise SheetInvalid(
            findings_of(errors, PartsList, data, lines=held, file=file), file
        ) from None
    found.remember(data, file, held)
    faults = list(_names_once(found))
    if faults:
        raise SheetInvalid(faults, file)
    return found


@cache
def typical_parts() -> PartsList:
    """The parts library as a parts list, with typical supplies, converters and wires."""
    with (Path(__file__).parent / "typical_parts.toml").open("rb") as file:
        data = tomllib.load(file)
    known = {row["part"]: row for row in data.get("sink", [])}
    data["module"] = [{"part": name} for name in library().names("modules")]
    data["sink"] = [known.get(name, {"part": name}) for name in library().names("sinks")]
    data["fan"] = [{"part": name} for name in library().names("fans")]
    return parts_of(data)


def name_of(row: Any, kind: str, place: int) -> str:
    """What a listed part is called: its name, its part in the library, or its place."""
    given = getattr(row, "name", "") or getattr(row, "part", None)
    if not given and kind == "wire":
        given = row.size.text
    return given or f"{kind} {place + 1}"


def _names_once(parts: PartsList) -> list[Finding]:
    faults = []
    for kind in KINDS:
        seen: set[str] = set()
        for place, row in enumerate(getattr(parts, kind)):
            name = name_of(row, kind, place)
            if name in seen:
                where = f"{kind}[{place}]"
                faults.append(
                    Finding(
                        "CW-SHEET-10", "stop", where, f"“{name}”", "a name used once", "Results "
                        "would mix the two up", "another `name`", parts.line(where), parts.file,
                    )
                )  # fmt: skip
            seen.add(name)
    return faults
