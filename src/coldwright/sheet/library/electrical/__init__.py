"""Tables of the electrical trade, each by its name and edition: currents, fuses, inlets, limits.

Codes differ by place and year: every row names its table, its edition where that matters, and its
source, and is shown as advice. The local code, the marking on the part and a licensed person
outrank all of them. Nothing is worked out here: rows are looked up and compared.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, fields
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from coldwright.errors import PartMissing
from coldwright.quantities.parsing import parse

_FOLDER = Path(__file__).parent
_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class CurrentTable:
    """Allowed current by wire size [A], under stated surroundings, and the largest fuse if said."""

    name: str
    edition: str
    conductors: int
    ambient_K: float
    insulation_K: float
    currents_A: dict[str, float]
    source: str
    fuses_A: dict[str, float] | None = None
    note: str = ""

    def current_A(self, size: str) -> float | None:
        """What the table prints for this size, or None where it has none."""
        return self.currents_A.get(size)

    def smallest_size(self, current_A: float) -> str | None:
        """First size, from the smallest, that the table allows this current, or None."""
        return next((size for size, most_A in self.currents_A.items() if most_A >= current_A), None)


@dataclass(frozen=True, slots=True)
class FuseFamily:
    """Sizes of a kind of fuse or breaker, and what its printed number means.

    `load_share`: part of the number that a steady load may take. `holds_ratio`: it need not open.
    `opens_ratio`: it surely opens. `direct_V` is None where it is not made to break direct current.
    """

    name: str
    standard: str
    load_share: float
    holds_ratio: float
    opens_ratio: float
    sizes_A: tuple[float, ...]
    breaking_A: float
    source: str
    alternating_V: float | None = None
    direct_V: float | None = None
    note: str = ""

    def next_size_A(self, least_A: float) -> float | None:
        """Smallest listed size of at least this many amperes, or None where there is none."""
        return next((size_A for size_A in self.sizes_A if size_A >= least_A - 1e-9), None)

    def largest_size_A(self, most_A: float) -> float | None:
        """Largest listed size of at most this many amperes, or None where there is none."""
        fitting = [size_A for size_A in self.sizes_A if size_A <= most_A + 1e-9]
        return fitting[-1] if fitting else None


@dataclass(frozen=True, slots=True)
class Inlet:
    """An appliance inlet: its pins' and its surroundings' limits. None is for direct current."""

    name: str
    current_A: float
    earthed: bool
    pin_K: float
    ambient_K: float
    source: str
    north_america_A: float | None = None


@dataclass(frozen=True, slots=True)
class LowVoltage:
    """A limit of voltage, and of power where there is one, below which a name may be used."""

    name: str
    most_V: float
    means: str
    source: str
    power_VA: float | None = None

    def holds(self, voltage_V: float, power_VA: float) -> bool:
        """Whether a source of this voltage and power is within the limit."""
        return voltage_V <= self.most_V and (self.power_VA is None or power_VA <= self.power_VA)


@dataclass(frozen=True, slots=True)
class TouchCurrent:
    """Most leakage current of a kind of appliance at working temperature."""

    name: str
    current_A: float
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class FoamLimit:
    """Temperatures that a foam bears for long and for short, and how it burns."""

    name: str
    long_K: float
    fire: str
    source: str
    short_K: float | None = None
    coldest_K: float | None = None

    def bears(self, hot_K: float, for_short: bool) -> bool:
        """Whether the foam bears this temperature, for long or for a short while."""
        limit_K = self.short_K if for_short and self.short_K is not None else self.long_K
        return hot_K <= limit_K


@dataclass(frozen=True, slots=True)
class Ingress:
    """One digit of a protection code."""

    name: str
    means: str
    source: str


@dataclass(frozen=True, slots=True)
class Colours:
    """Colours of insulation by conductor, the usual one first, in a region and a kind of current.

    Labels outrank colours: regions and editions contradict each other.
    """

    name: str
    region: str
    current: str
    standard: str
    colours: dict[str, tuple[str, ...]]
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Insulation:
    """Insulation of a wire: hottest conductor, and coefficient of the short-circuit equation."""

    name: str
    hottest_K: float
    source: str
    withstand_coefficient: float | None = None


@dataclass(frozen=True, slots=True)
class Terminal:
    """A connector or terminal and the current it is commonly rated for."""

    name: str
    current_A: float
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class FlueLimit:
    """Under-pressure at which a burner's flue may fail; a gate for questions, not a forecast."""

    name: str
    most_Pa: float
    source: str


@dataclass(frozen=True, slots=True)
class ExhaustAllowance:
    """Exhaust flow per floor area that a make-up-air table allows by the kind of burner."""

    name: str
    allowance_m_s: float
    source: str


# File -> its kind of row, and for keys with a unit the kind of quantity and the field's name.
_FILES: dict[str, tuple[type[Any], dict[str, tuple[str, str]]]] = {
    "currents": (
        CurrentTable,
        {
            "ambient": ("temperature", "ambient_K"),
            "insulation": ("temperature", "insulation_K"),
            "currents": ("current", "currents_A"),
            "fuses": ("current", "fuses_A"),
        },
    ),
    "fuses": (
        FuseFamily,
        {
            "sizes": ("current", "sizes_A"),
            "breaking": ("current", "breaking_A"),
            "alternating": ("voltage", "alternating_V"),
            "direct": ("voltage", "direct_V"),
        },
    ),
    "inlets": (
        Inlet,
        {
            "current": ("current", "current_A"),
            "north_america": ("current", "north_america_A"),
            "pin": ("temperature", "pin_K"),
            "ambient": ("temperature", "ambient_K"),
        },
    ),
    "low_voltage": (LowVoltage, {"most": ("voltage", "most_V")}),
    "touch_currents": (TouchCurrent, {"current": ("current", "current_A")}),
    "foams": (
        FoamLimit,
        {
            "long": ("temperature", "long_K"),
            "short": ("temperature", "short_K"),
            "coldest": ("temperature", "coldest_K"),
        },
    ),
    "ingress": (Ingress, {}),
    "colours": (Colours, {}),
    "insulations": (Insulation, {"hottest": ("temperature", "hottest_K")}),
    "terminals": (Terminal, {"current": ("current", "current_A")}),
    "flues": (FlueLimit, {"most": ("pressure", "most_Pa")}),
    "exhaust_allowances": (ExhaustAllowance, {"allowance": ("velocity", "allowance_m_s")}),
}
TABLES = tuple(_FILES)


def names(table: str) -> list[str]:
    """Names of the rows of one of `TABLES`, in the order of its file."""
    return list(_rows(table))


def as_written(table: str, name: str) -> dict[str, Any]:
    """A row in the words and units of its file."""
    return _written(table)[name]


def current_table(name: str) -> CurrentTable:
    """Allowed currents by the name of a table; `PartMissing` carries the nearest names."""
    return _row(CurrentTable, "currents", name)


def fuse_family(name: str) -> FuseFamily:
    """A kind of fuse or breaker."""
    return _row(FuseFamily, "fuses", name)


def inlet(name: str) -> Inlet:
    """An appliance inlet, by its own number or that of the connector that fits."""
    return _row(Inlet, "inlets", name)


def low_voltage(name: str) -> LowVoltage:
    """A limit of low voltage."""
    return _row(LowVoltage, "low_voltage", name)


def touch_current(name: str) -> TouchCurrent:
    """Most leakage current of a kind of appliance."""
    return _row(TouchCurrent, "touch_currents", name)


def foam_limit(name: str) -> FoamLimit:
    """What a foam bears."""
    return _row(FoamLimit, "foams", name)


def ingress(name: str) -> Ingress:
    """What a digit of a protection code means, such as "IPX2"."""
    return _row(Ingress, "ingress", name)


def colours(name: str) -> Colours:
    """Colours of insulation by the name of a row; see `colours_for`."""
    return _row(Colours, "colours", name)


def colours_for(region: str, current: str) -> list[Colours]:
    """Every row for a region and "direct" or "alternating" current: they may contradict."""
    found = [colours(name) for name in names("colours")]
    return [row for row in found if (row.region, row.current) == (region, current)]


def insulation(name: str) -> Insulation:
    """Insulation of a wire."""
    return _row(Insulation, "insulations", name)


def terminal(name: str) -> Terminal:
    """A connector or terminal."""
    return _row(Terminal, "terminals", name)


def flue_limit(name: str) -> FlueLimit:
    """Under-pressure at which a burner's flue may fail."""
    return _row(FlueLimit, "flues", name)


def exhaust_allowance(name: str) -> ExhaustAllowance:
    """Exhaust flow per floor area by the kind of burner."""
    return _row(ExhaustAllowance, "exhaust_allowances", name)


@cache
def _written(table: str) -> dict[str, dict[str, Any]]:
    with (_FOLDER / f"{table}.toml").open("rb") as file:
        return tomllib.load(file)


@cache
def _rows(table: str) -> dict[str, Any]:
    made, quantities = _FILES[table]
    known = {field.name for field in fields(made)}
    rows = {}
    for name, written in _written(table).items():
        values: dict[str, Any] = {"name": name}
        for key, value in written.items():
            if key == "aliases":
                continue
            kind, field = quantities.get(key, ("", key))
            if field not in known:
                raise KeyError(f"{table}: {name}: {key}")
            values[field] = _converted(value, _reader(kind))
        rows[name] = made(**values)
    return rows


def _reader(kind: str) -> Callable[[Any], Any]:
    if not kind:
        return lambda value: value
    return lambda value: parse(value, kind).value


def _converted(value: Any, read: Callable[[Any], Any]) -> Any:
    if isinstance(value, dict):
        return {key: _converted(one, read) for key, one in value.items()}
    if isinstance(value, list):
        return tuple(_converted(one, read) for one in value)
    return read(value)


def _row(of: type[_Row], table: str, name: str) -> _Row:
    index = _index(table)
    found = index.get(_folded(name))
    if found is None:
        likely = get_close_matches(_folded(name)[:80], index, n=3, cutoff=0.4)
        raise PartMissing(name, list(dict.fromkeys(index[near] for near in likely)))
    row = _rows(table)[found]
    if not isinstance(row, of):
        raise KeyError(table)
    return row


@cache
def _index(table: str) -> dict[str, str]:
    return {
        _folded(known): name
        for name, row in _written(table).items()
        for known in (name, *row.get("aliases", ()))
    }


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())
