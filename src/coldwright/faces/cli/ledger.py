"""The ledger as a person reads it: node by node, what comes in left, what goes out right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from coldwright.faces.cli.page import Page, padded, shortened
from coldwright.quantities.glossary import display
from coldwright.report.figures import plain

if TYPE_CHECKING:
    from coldwright.answers.watts import Entry, WaterEntry

Row = tuple[str, str, float]

_COLUMN = 10
_G_H = 3.6e6
# The way of the heat: from the plug and the place through the modules to outdoors. What a node's
# name begins with decides; what is not listed comes last, in its own order.
_WAY = (
    "electricity", "place", "cold fan", "cold sink", "modules", "hot sink", "hot fan", "exhaust",
)  # fmt: skip
_WITHIN = {", air": -1, ", water block": 1, ", cold joint": -1, ", hot joint": 1}


def put_ledger(page: Page, entries: Sequence[Entry], residual_W: float) -> None:
    """Every watt, by node; the two columns of each node add up to the same."""
    rows = [(entry.node, entry.what, entry.W) for entry in entries]
    largest = max((abs(amount) for _, _, amount in rows), default=0.0)
    page.heading("Where every watt goes")
    _put(page, rows, "W", 1 if largest >= 10.0 else 2 if largest >= 1.0 else 3)
    page.line()
    page.text(
        "At each place what comes in goes out again. The largest gap anywhere is "
        f"{display('ledger_residual_W', residual_W)}.",
        style="soft",
    )


def put_water(page: Page, entries: Sequence[WaterEntry]) -> None:
    """Every gram, the same way; left out where no water condenses."""
    rows = [(entry.node, entry.what, entry.kg_s * _G_H) for entry in entries]
    if any("condensate" in what and abs(amount) > 0.05 for _, what, amount in rows):
        page.heading("Where the water goes")
        _put(page, rows, "g/h", 0)


def _put(page: Page, rows: Iterable[Row], unit: str, digits: int) -> None:
    width = page.width - 2 * _COLUMN - 2

    def columns(into: str, out: str) -> str:
        return padded(into, _COLUMN, right=True) + padded(out, _COLUMN, right=True)

    def written(amount: float) -> tuple[str, str]:
        number = plain(abs(amount), digits)
        return (number, "") if amount > 0.0 else ("", number)

    page.line()
    page.line((" " * (width + 2) + columns(f"in {unit}", f"out {unit}"), "soft"))
    last_was_long = False
    for node, held in _by_node(rows):
        name = shortened(node[:1].upper() + node[1:], width)
        held = sorted(held, key=lambda row: row[2] < 0.0)
        rest = f"  {' → '.join(what for _, what, _ in held)}"
        is_short = _passes_through(held, digits) and len(name) + len(rest) <= width
        if is_short:
            if last_was_long:
                page.line()
            number = plain(abs(held[0][2]), digits)
            gap = " " * (width - len(name) - len(rest))
            page.line("  ", (name, "strong"), (rest, "soft"), gap, columns(number, number))
        else:
            page.line()
            page.line("  ", (name, "strong"))
            for _, what, amount in held:
                text = padded(f"    {shortened(what, width - 2)}", width + 2)
                page.line(text, columns(*written(amount)))
        last_was_long = not is_short


def _by_node(rows: Iterable[Row]) -> list[tuple[str, list[Row]]]:
    """Lines by node, in the order in which the heat passes them; lines of nothing are left out."""
    nodes: dict[str, list[Row]] = {}
    for row in rows:
        if row[2] != 0.0:
            nodes.setdefault(row[0], []).append(row)
    order = list(nodes)
    return sorted(nodes.items(), key=lambda item: (*_rank(item[0]), order.index(item[0])))


def _rank(node: str) -> tuple[int, int]:
    way = next((at for at, start in enumerate(_WAY) if node.startswith(start)), len(_WAY))
    within = next((by for end, by in _WITHIN.items() if node.endswith(end)), 0)
    return way, -within if node.startswith("hot") else within


def _passes_through(held: Sequence[Row], digits: int) -> bool:
    """Whether a node only hands one flow on."""
    return len(held) == 2 and round(held[0][2] + held[1][2], digits) == 0.0
