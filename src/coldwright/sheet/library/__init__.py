"""The parts library that comes with the program: rows by group and name, read when first asked.

A row is a table in one of the TOML files beside this module, one file per group. Every row says
where its values come from (`source`); rows called "typical" are invented and no product's.
Names are found without regard to case, and under their aliases.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from coldwright.errors import PartMissing
from coldwright.quantities.parsing import Quantity, parse

GROUPS = (
    "activities",
    "buffers",
    "ceramics",
    "duct_parts",
    "ducts",
    "fans",
    "fittings",
    "interfaces",
    "leakage",
    "materials",
    "modules",
    "sinks",
    "solids",
    "wires",
)
_Row = TypeVar("_Row")
_FOLDER = Path(__file__).parent
_NOT_FIELDS = ("source", "aliases")


@dataclass(frozen=True, slots=True)
class Material:
    """What a layer is made of.

    `hottest` is a long-term service temperature, if known. `moisture` says how water changes the
    conductivity, if known: by the factor exp(moisture * share of the volume that is water), as in
    ISO 10456, up to the share `wettest`.
    """

    name: str
    conductivity: Quantity
    density: Quantity
    specific_heat: Quantity
    source: str
    foam: bool = False
    hottest: Quantity | None = None
    moisture: Quantity | None = None
    wettest: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Interface:
    """What lies between two faces: resistance of one square metre [m² K/W]."""

    name: str
    insulance: Quantity
    source: str


@dataclass(frozen=True, slots=True)
class DuctKind:
    """The inside of a duct; only a flexible one can be compressed."""

    name: str
    roughness: Quantity
    flexible: bool
    source: str


@dataclass(frozen=True, slots=True)
class FittingKind:
    """Loss coefficient of a fitting on the velocity pressure."""

    name: str
    loss: Quantity
    source: str


@dataclass(frozen=True, slots=True)
class Conductor:
    """A wire size: its area, and where a standard limits them its resistances per length."""

    name: str
    area: Quantity
    source: str
    flexible: Quantity | None = None
    stranded: Quantity | None = None
    solid: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Activity:
    """Heat that one adult sets free: sensible, and latent as water vapour."""

    name: str
    sensible: Quantity
    latent: Quantity
    source: str


@dataclass(frozen=True, slots=True)
class LeakageWord:
    """What a word for leakiness means: air changes at 50 Pa."""

    name: str
    ach50: Quantity
    source: str


@dataclass(frozen=True, slots=True)
class Buffer:
    """Moisture taken up per area for a relative humidity that rises from 0 to 1 [kg/m²]."""

    name: str
    buffering: Quantity
    source: str


_KINDS: dict[type, dict[str, str]] = {
    Material: {
        "conductivity": "thermal_conductivity",
        "density": "density",
        "specific_heat": "specific_heat",
        "hottest": "temperature",
        "moisture": "ratio",
        "wettest": "share",
    },
    Interface: {"insulance": "thermal_insulance"},
    DuctKind: {"roughness": "length"},
    FittingKind: {"loss": "ratio"},
    Conductor: {
        "area": "wire_size",
        "flexible": "resistance_per_length",
        "stranded": "resistance_per_length",
        "solid": "resistance_per_length",
    },
    Activity: {"sensible": "heat", "latent": "heat"},
    LeakageWord: {"ach50": "air_changes"},
    Buffer: {"buffering": "mass_per_area"},
}


class Library:
    """The rows of all groups; `library()` gives the one that comes with the program."""

    def names(self, group: str) -> list[str]:
        """Names of a group, in the order of its file."""
        return list(_rows(group))

    def canonical(self, group: str, name: str) -> str:
        """Name under which a row stands, found by name or alias without regard to case.

        Raises
        ------
        PartMissing
            When there is none; it carries the nearest names.
        """
        found = _index(group).get(_folded(name))
        if found is None:
            raise PartMissing(name, self.nearest(group, name))
        return found

    def nearest(self, group: str, name: str) -> list[str]:
        """The names of a group most like this one, the likest first."""
        index = _index(group)
        likely = get_close_matches(_folded(name)[:80], index, n=3, cutoff=0.5)
        return list(dict.fromkeys(index[near] for near in likely))

    def row(self, group: str, name: str) -> dict[str, Any]:
        """A row as it stands in the file; `part` is the same without source and aliases."""
        return _rows(group)[self.canonical(group, name)]

    def part(self, group: str, name: str) -> dict[str, Any]:
        """What a row says in the words of the design sheet."""
        row = self.row(group, name)
        return {key: value for key, value in row.items() if key not in _NOT_FIELDS}

    def source(self, group: str, name: str) -> str:
        """Where a row's values come from."""
        return str(self.row(group, name)["source"])

    def material(self, name: str) -> Material:
        """A material of which layers, spacers and duct insulation are made."""
        return _typed(Material, "materials", self.canonical("materials", name))

    def solid(self, name: str) -> Material:
        """A metal, or nylon, of which sinks and screws are made."""
        return _typed(Material, "solids", self.canonical("solids", name))

    def ceramic(self, name: str) -> Material:
        """A ceramic of which a module's plates are made."""
        return _typed(Material, "ceramics", self.canonical("ceramics", name))

    def interface(self, name: str) -> Interface:
        """What lies between a module and a sink."""
        return _typed(Interface, "interfaces", self.canonical("interfaces", name))

    def duct(self, name: str) -> DuctKind:
        """A kind of duct."""
        return _typed(DuctKind, "ducts", self.canonical("ducts", name))

    def fitting(self, name: str) -> FittingKind:
        """A fitting of a duct."""
        return _typed(FittingKind, "fittings", self.canonical("fittings", name))

    def conductor(self, name: str) -> Conductor:
        """A wire size by its name, such as "2.5 mm^2", "14 AWG" or "SAE 14"."""
        return _typed(Conductor, "wires", self.canonical("wires", name))

    def nominal_conductor(self, area_m2: float) -> Conductor | None:
        """The listed size with this area (within 0.5 %), or None when it is no listed size."""
        for name in self.names("wires"):
            found = _typed(Conductor, "wires", name)
            if abs(found.area.value - area_m2) <= 0.005 * found.area.value:
                return found
        return None

    def activity(self, name: str) -> Activity:
        """What one person sets free."""
        return _typed(Activity, "activities", self.canonical("activities", name))

    def leakage(self, name: str) -> LeakageWord:
        """What "tight", "ordinary", "draughty" and "none" mean."""
        return _typed(LeakageWord, "leakage", self.canonical("leakage", name))

    def buffer(self, name: str) -> Buffer:
        """A material that takes up moisture."""
        return _typed(Buffer, "buffers", self.canonical("buffers", name))


@cache
def library() -> Library:
    """The parts library that comes with the program."""
    return Library()


@cache
def _rows(group: str) -> dict[str, dict[str, Any]]:
    if group not in GROUPS:
        raise KeyError(group)
    with (_FOLDER / f"{group}.toml").open("rb") as file:
        return tomllib.load(file)


@cache
def _index(group: str) -> dict[str, str]:
    index = {}
    for name, row in _rows(group).items():
        for known in (name, *row.get("aliases", ())):
            index[_folded(known)] = name
    return index


_made: dict[tuple[str, str], Any] = {}


def _typed(of: type[_Row], group: str, name: str) -> _Row:
    if (group, name) not in _made:
        kinds = _KINDS[of]
        values = {
            key: parse(value, kinds[key]).at(f"library.{group}.{name}.{key}")
            if key in kinds
            else value
            for key, value in _rows(group)[name].items()
            if key != "aliases"
        }
        _made[group, name] = of(**{"name": name, **values})
    found: _Row = _made[group, name]
    return found


def _folded(name: str) -> str:
    return " ".join(name.casefold().replace("²", "^2").split())
