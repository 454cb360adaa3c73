"""The table that the benchmarks print: bar, measured, met."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """One line: what was measured, against which bar, and whether the bar is met."""

    what: str
    measured: str
    bar: str = ""
    met: bool | None = None
    """None: told for comparison, without a bar of its own."""


def table(rows: Sequence[Row]) -> str:
    """The rows as plain text in columns."""
    heads = ("what", "measured", "bar", "met")
    cells = [heads]
    for row in rows:
        met = "" if row.met is None else "yes" if row.met else "NO"
        cells.append((row.what, row.measured, row.bar, met))
    widths = [max(len(line[k]) for line in cells) for k in range(len(heads))]
    lines = []
    for number, line in enumerate(cells):
        lines.append("  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)))
        if number == 0:
            lines.append("  ".join("-" * width for width in widths))
    return "\n".join(line.rstrip() for line in lines)
