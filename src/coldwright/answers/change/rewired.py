"""Modules wired otherwise: the same modules in longer or shorter strings."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Modules, Sheet


def _variants(start: Solved) -> Iterator[Variant]:
    sheet = start.sheet
    group = sheet.cooler.modules[0]
    count = group.series * group.parallel
    lengths = [length for length in range(1, count + 1) if count % length == 0]
    here = lengths.index(group.series)
    for at in (here + 1, here - 1):
        if not 0 <= at < len(lengths):
            continue
        series, parallel = lengths[at], count // lengths[at]
        each_V = _each_V(sheet, group, series)
        if each_V is None or each_V > _highest_V(sheet, group):
            continue
        strings = f"{parallel} strings" if parallel > 1 else "one string"
        yield Variant(
            f"Wire the modules in {strings} of {series}, {display('voltage', each_V)} each",
            {"cooler.modules.series": series, "cooler.modules.parallel": parallel},
            price=0.0,
            asks="new links, and wires that bear the new current",
        )


def _applies(sheet: Sheet) -> bool:
    # Where volts or amperes of one module are set, wiring changes nothing but the loss in wires.
    ways = ("voltage", "current", "chopped")
    one = len(sheet.cooler.modules) == 1 and sheet.cooler.modules[0].stages == 1
    return one and sheet.cooler.run_at.way in ways


CHANGE = Change(
    "modules wired otherwise",
    "The same supply gives each module fewer volts in a longer string and more in a shorter one.",
    _variants,
    _applies,
)


def _each_V(sheet: Sheet, group: Modules, series: int) -> float | None:
    """Volts across one module in strings of this length; by Ohm's law alone for a set current."""
    run_at = group.run_at or sheet.cooler.run_at
    if run_at.chopped is not None:
        return run_at.chopped.rail.value / series
    if run_at.voltage is not None:
        return run_at.voltage.value / series
    if run_at.current is not None and group.ratings is not None:
        parallel = group.series * group.parallel / series
        ratings = group.ratings
        return (
            run_at.current.value / parallel * ratings.max_voltage.value / ratings.max_current.value
        )
    return None


def _highest_V(sheet: Sheet, group: Modules) -> float:
    highest = [float("inf")]
    if sheet.limits.max_voltage is not None:
        highest.append(sheet.limits.max_voltage.value)
    if group.ratings is not None:
        highest.append(group.ratings.max_voltage.value)
    return min(highest)
