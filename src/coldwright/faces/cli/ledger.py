"""The ledger as a person reads it: node by node, what comes in left, what goes out right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from coldwright.faces.cli.figures import plain
from coldwright.faces.cli.page import Page, padded, shortened
from coldwright.quantities.glossary import display

if TYPE_CHECKING:
    from coldwright.answers.watts import Entry, WaterEntry

_COLUMN = 11
_G_H = 3.6e6


def put_ledger(page: Page, entries: Sequence[Entry], residual_W: float) -> None:
    """Every watt, by node; the columns of each node add up to the same."""
    rows = [(entry.node, entry.what, entry.W) for entry in entries]
    largest = max((abs(amount) for _, _, amount in rows), default=0.0)
    digits = 1 if largest >= 10.0 else 2 if largest >= 1.0 else 3
    page.heading("Where every watt goes")
    _put(page, rows, "W", digits)
    page.line()
    left = display("ledger_residual_W", residual_W)
    page.text(
        f"At each node what comes in goes out again. The largest gap anywhere is {left}.",
        style="soft",
    )


def put_water(page: Page, entries: Sequence[WaterEntry]) -> None:
    """Every gram, the same way; left out where no air is dried or moistened."""
    rows = [(entry.node, entry.what, entry.kg_s * _G_H) for entry in entries]
    if not any("condensate" in what and abs(amount) > 0.05 for _, what, amount in rows):
        return
    page.heading("Where the water goes")
    _put(page, rows, "g/h", 0)


def _put(page: Page, rows: Iterable[tuple[str, str, float]], unit: str, digits: int) -> None:
    width = page.width - 2 * _COLUMN - 4
    node = None
    for at, what, amount in rows:
        if amount == 0.0:
            continue
        if at != node:
            page.line()
            heads = ("in", "out") if node is None else ("", "")
            node = at
            first = padded(f"  {_capital(at)}", width + 4)
            units = [f"{head} {unit}" if head else "" for head in heads]
            page.line(
                (first, "strong"),
                (
                    padded(units[0], _COLUMN, right=True) + padded(units[1], _COLUMN, right=True),
                    "soft",
                ),
            )
        number = padded(plain(abs(amount), digits), _COLUMN, right=True)
        into = number if amount > 0.0 else " " * _COLUMN
        out = number if amount < 0.0 else ""
        page.line(padded(f"    {shortened(what, width)}", width + 4), into, out)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
