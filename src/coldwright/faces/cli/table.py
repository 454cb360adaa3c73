"""The narrow table of figures: name, figure, and the interval beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from coldwright.faces.cli.figures import Figure, Interval, figure
from coldwright.faces.cli.page import Page, columns, padded


@dataclass(frozen=True, slots=True)
class Label:
    """How a result is called in a table; an empty name leaves a gap between groups of rows."""

    key: str = ""
    text: str = ""
    only_if_known: bool = False


GAP = Label()


def put_figures(
    page: Page, labels: Iterable[Label], values: Mapping[str, Interval], tries: int
) -> None:
    """Rows in the order of the labels; a result that the answer lacks is left out."""
    rows: list[tuple[str, Figure] | None] = []
    for label in labels:
        value = values.get(label.key)
        if not label.key:
            rows.append(None)
        elif value is not None and not (label.only_if_known and value.value is None):
            rows.append((label.text, figure(label.key, value)))
    held = [row for row in rows if row is not None]
    if not held:
        return
    name = max(columns(text) for text, _ in held)
    number = max(columns(one.number) for _, one in held)
    unit = max(columns(one.unit) for _, one in held)
    low = max(columns(one.low) for _, one in held)
    spans = any(one.span for _, one in held)
    page.line()
    if spans:
        start = 2 + name + 2 + number + 1 + unit + 3
        page.line((" " * start + f"90 of 100 tries, of {tries:,}".replace(",", "\u2009"), "soft"))
    last_was_gap = True
    for row in rows:
        if row is None:
            if not last_was_gap:
                page.line()
            last_was_gap = True
            continue
        last_was_gap = False
        text, one = row
        line = f"  {padded(text, name)}  "
        shown = f"{padded(one.number, number, right=True)}\u2009{padded(one.unit, unit)}"
        span = f"   {padded(one.low, low, right=True)} to {one.high}" if one.span else ""
        page.line(line, (shown, "strong"), (span, "soft"))
