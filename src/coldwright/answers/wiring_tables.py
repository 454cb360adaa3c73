"""What a wire may carry by a named table, which fuses there are, and colours by region.

Tables of codes are looked up, corrected for where the wire lies, and always shown with their name:
advice, outranked by the local code, the marking on the part and a licensed person.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isnan, sqrt

from coldwright.errors import PartMissing
from coldwright.physics.ampacity import (
    ambient_factor,
    bundle_factor_iec,
    bundle_factor_nec,
    foam_factor,
)
from coldwright.quantities.parsing import parse
from coldwright.sheet.library import library
from coldwright.sheet.library.electrical import (
    Colours,
    CurrentTable,
    FuseFamily,
    colours_for,
    current_table,
    fuse_family,
    terminal,
)
from coldwright.sheet.models import Joint, Wire

# By family of sizes: the tables asked, in this order. Two loaded conductors: a pair.
_TABLES = {
    "mm^2": ("IEC 60364-5-52, B2, two conductors", "IEC 60335-1, supply cord"),
    "AWG": ("NEC 400.5(A), two conductors", "NEC 310.16, from 2011"),
}
_SAME_SIZE = 0.02
_REGIONS = {"North America": "North America"}
_UK = "BS 7671"


@dataclass(frozen=True)
class Allowance:
    """A current from a table, and what it is multiplied by where the wire lies."""

    allowed_A: float | None
    base_A: float | None
    table: str
    note: str
    factors: dict[str, float] = field(default_factory=dict)


def allowance(wire: Wire, around_K: float) -> Allowance:
    """Current that a pair of wires may carry where it lies; unknown where no table has it."""
    family = family_of(wire)
    found = _largest_listed(wire.size.value, _TABLES["mm^2" if family == "mm^2" else "AWG"])
    if found is None:
        return Allowance(None, None, "", "")
    table, size, base_A = found
    hottest_K = min(wire.insulation_limit.value, table.insulation_K)
    surroundings = float(ambient_factor(hottest_K, around_K, table.ambient_K))
    if hottest_K < table.insulation_K and not isnan(surroundings):
        surroundings *= sqrt((hottest_K - table.ambient_K) / (table.insulation_K - table.ambient_K))
    factors = {
        "surroundings": 0.0 if isnan(surroundings) else surroundings,
        "bundle": float(
            bundle_factor_iec(wire.bundle)
            if family == "mm^2"
            else bundle_factor_nec(2.0 * wire.bundle)
        ),
        "foam": float(foam_factor(wire.in_foam.value)),
    }
    allowed_A = base_A
    for factor in factors.values():
        allowed_A *= factor
    own = parse(size, "wire_size").value
    as_for = "" if abs(own / wire.size.value - 1.0) <= _SAME_SIZE else f"as for {size}"
    return Allowance(
        allowed_A, base_A, f"{table.name} ({table.edition})", "; ".join(filter(None, (as_for,))),
        factors,
    )  # fmt: skip


def fuses_of(standard: str | None) -> FuseFamily:
    """The kind of fuse that a standard means; blade fuses where none is said."""
    return fuse_family(standard or "ISO 8820-3")


def joint_limit(joint: Joint) -> float | None:
    """Most current of a joint [A]: as marked, or as such terminals are commonly rated."""
    if joint.limit is not None:
        return joint.limit.value
    try:
        return terminal(joint.name).current_A
    except PartMissing:
        return None


def next_sizes(wire: Wire) -> tuple[str, str]:
    """The next thinner and thicker wire of the same family on sale; empty where there is none."""
    family = family_of(wire)
    sizes = sorted(
        (parse(str(library().row("wires", name)["area"]), "wire_size").value, name)
        for name in library().names("wires")
        if _family(name) == family
    )
    area = wire.size.value
    thinner = [name for each, name in sizes if each < (1.0 - _SAME_SIZE) * area]
    thicker = [name for each, name in sizes if each > (1.0 + _SAME_SIZE) * area]
    return (thinner[-1] if thinner else ""), (thicker[0] if thicker else "")


def colour_rows(region: str | None) -> list[Colours]:
    """Rows of colours of a pair that may apply: several where editions contradict each other."""
    rows = [
        row
        for row in colours_for(_REGIONS.get(region or "", "international"), "direct")
        if "positive" in row.colours
    ]
    if region == "United Kingdom":
        rows = [row for row in rows if _UK in row.standard] or rows
    elif region is not None and region not in _REGIONS:
        rows = [row for row in rows if _UK not in row.standard] or rows
    elif region is None:
        rows += colours_for("North America", "direct")
        rows = [row for row in rows if "positive" in row.colours]
    return rows


def family_of(wire: Wire) -> str:
    """Which family of sizes a wire is of: "mm^2", "AWG" or "SAE"."""
    return _family(wire.size.text)


def _family(size: str) -> str:
    folded = size.upper().replace("²", "^2")
    if "SAE" in folded:
        return "SAE"
    return "AWG" if "AWG" in folded or "/0" in folded else "mm^2"


def _largest_listed(
    area_m2: float, tables: tuple[str, ...]
) -> tuple[CurrentTable, str, float] | None:
    """The row for this area, or for the largest listed size that is no thicker."""
    best: tuple[float, CurrentTable, str, float] | None = None
    for name in tables:
        table = current_table(name)
        for size, amps in table.currents_A.items():
            listed = parse(size, "wire_size").value
            if listed <= area_m2 * (1.0 + _SAME_SIZE) and (
                best is None or listed > best[0] * (1.0 + _SAME_SIZE)
            ):
                best = (listed, table, size, amps)
    return None if best is None else best[1:]
