"""The narrow table of figures: name, figure, and the interval beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.report.figures import Interval
from coldwright.report.labels import Label, figure_groups


def put_figures(
    page: Page, labels: Iterable[Label], values: Mapping[str, Interval], tries: int
) -> None:
    """Rows in the order of the labels; what the answer lacks, or says nothing, is left out."""
    groups = figure_groups(labels, values)
    held = [row for group in groups for row in group]
    if not held:
        return
    name = max(columns(text) for text, _ in held)
    number = max(columns(one.number) for _, one in held)
    unit = max(columns(one.unit) for _, one in held)
    low = max(columns(one.low) for _, one in held)
    page.line()
    if any(one.span for _, one in held):
        start = 2 + name + 2 + number + 1 + unit + 2
        page.line((f"{' ' * start}90 of 100 tries, of {tries}", "soft"))
    for group in groups:
        for text, one in group:
            shown = f"{padded(one.number, number, right=True)}{THIN_SPACE}{padded(one.unit, unit)}"
            span = f"  {padded(one.low, low, right=True)} to {one.high}" if one.span else ""
            page.line(f"  {padded(text, name)}  ", (shown, "strong"), (span, "soft"))
        page.line()
