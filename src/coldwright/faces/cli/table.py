"""The narrow table of figures: name, figure, and the interval beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from coldwright.faces.cli.figures import Figure, Interval, figure
from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import entry


@dataclass(frozen=True, slots=True)
class Label:
    """How a result is called in a table; without a key it leaves a gap between groups of rows.

    Parameters
    ----------
    key, text : str
        Name of the result in the answer, and what a person reads.
    needs : str
        A result that must be known and not nought for this row to say anything.
    """

    key: str = ""
    text: str = ""
    needs: str = ""


GAP = Label()


def put_figures(
    page: Page, labels: Iterable[Label], values: Mapping[str, Interval], tries: int
) -> None:
    """Rows in the order of the labels; what the answer lacks, or says nothing, is left out."""
    groups: list[list[tuple[str, Figure]]] = [[]]
    for label in labels:
        value = values.get(label.key)
        if not label.key:
            groups.append([])
        elif value is not None and (
            not label.needs or _says_something(label.needs, values.get(label.needs))
        ):
            groups[-1].append((label.text, figure(label.key, value)))
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
    for group in filter(None, groups):
        for text, one in group:
            shown = f"{padded(one.number, number, right=True)}{THIN_SPACE}{padded(one.unit, unit)}"
            span = f"  {padded(one.low, low, right=True)} to {one.high}" if one.span else ""
            page.line(f"  {padded(text, name)}  ", (shown, "strong"), (span, "soft"))
        page.line()


def _says_something(name: str, value: Interval | None) -> bool:
    """Whether a figure is more than nought as people read it."""
    if value is None:
        return False
    least = _LEAST.get(entry(name).kind, 0.0)
    held = (value.value, value.low, value.high)
    return any(number is not None and abs(number) > least for number in held)


# Half of the last digit that is worth showing, in SI.
_LEAST = {"heat": 0.05, "moisture_rate": 0.05 / 3.6e6}
