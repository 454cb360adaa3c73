"""The narrow table of figures: name, figure, and the interval beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.report.figures import Interval
from coldwright.report.labels import Label, figure_groups


def put_figures(
    page: Page,
    labels: Iterable[Label],
    values: Mapping[str, Interval],
    tries: int,
    money: str = "",
) -> None:
    """Rows in the order of the labels; what the answer lacks, or says nothing, is left out.

    `money` is the currency of the prices. Where the page is too narrow for the columns, each
    figure stands below its name.
    """
    groups = figure_groups(labels, values, money)
    held = [row for group in groups for row in group]
    if not held:
        return
    name = max(columns(text) for text, _ in held)
    number = max(columns(one.number) for _, one in held)
    unit = max(columns(one.unit) for _, one in held)
    low = max(columns(one.low) for _, one in held)
    page.line()
    start = 2 + name + 2 + number + 1 + unit + 2
    told = f"middle 90{THIN_SPACE}% of {tries:,} tries"
    spans = [f"{padded(one.low, low, right=True)} to {one.high}" for _, one in held if one.span]
    widest = start + max((columns(text) for text in spans), default=-2)
    stacked = widest > page.width
    if spans:
        # The head may begin left of its column, but not run over the edge.
        head = max(2, min(start, page.width - columns(told)))
        page.line((f"{' ' * (2 if stacked else head)}{told}", "soft"))
    for group in groups:
        for text, one in group:
            shown = f"{padded(one.number, number, right=True)}{THIN_SPACE}{padded(one.unit, unit)}"
            span = f"  {padded(one.low, low, right=True)} to {one.high}" if one.span else ""
            if stacked:
                page.text(text.strip())
                page.line("    ", (shown, "strong"), (span, "soft"))
            else:
                page.line(f"  {padded(text, name)}  ", (shown, "strong"), (span, "soft"))
        page.line()
