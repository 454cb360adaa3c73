"""More modules, run more gently: twice as many at the same total current, half the volts each."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import price_of, times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Modules, PlateFinSink, RunAt, Sheet

# Share of a base that modules may cover and still leave room for the screws.
_COVERED = 0.95


def _variants(start: Solved) -> Iterator[Variant]:
    sheet = start.sheet
    modules = sheet.cooler.modules
    if not all(_fits(sheet, number) for number in range(len(modules))):
        return
    edits: dict[str, Any] = {}
    price: float | None = 0.0
    for number, group in enumerate(modules):
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        edits |= _doubled(group, at, group.run_at or sheet.cooler.run_at)
        if group.spacer is not None:
            left = group.spacer.area.value - _count(group) * _footprint_m2(group)
            if left > 0.0:
                edits |= times(group.spacer.area, left / group.spacer.area.value)
        more = price_of(sheet, group.price, _count(group))
        price = None if price is None or more is None else price + more
    for run_at in {id(way): way for way in _ways(sheet)}.values():
        edits |= _gentler(run_at)
    count = sum(_count(group) for group in modules)
    yield Variant(
        "twice as many",
        f"Fit {2 * count} modules instead of {count}, each more gently",
        edits,
        price,
        "faces ground flat enough for all of them, and even pressure on each",
    )


CHANGE = Change(
    "more modules, gentler",
    "At half the current a module makes a quarter of the heat of its own and pumps more than half.",
    _variants,
    lambda sheet: all(group.stages == 1 for group in sheet.cooler.modules),
)


def _doubled(group: Modules, at: str, run_at: RunAt) -> dict[str, Any]:
    """Strings of twice the length halve the volts; twice the strings halve the current."""
    if run_at.way in ("current", "module_current"):
        return {f"{at}.parallel": 2 * group.parallel}
    return {f"{at}.series": 2 * group.series}


def _gentler(run_at: RunAt) -> dict[str, Any]:
    """What is set for one module is halved; what is set for the array stays."""
    for quantity in (run_at.module_voltage, run_at.module_current):
        if quantity is not None:
            return {**times(quantity, 0.5)}
    return {}


def _ways(sheet: Sheet) -> list[RunAt]:
    own = [group.run_at for group in sheet.cooler.modules if group.run_at is not None]
    shared = len(own) < len(sheet.cooler.modules)
    return [*own, *([sheet.cooler.run_at] if shared else [])]


def _count(group: Modules) -> int:
    return group.series * group.parallel


def _footprint_m2(group: Modules) -> float:
    return group.footprint[0].value * group.footprint[1].value


def _fits(sheet: Sheet, number: int) -> bool:
    """Whether twice the modules of a group fit onto both bases, beside the other groups."""
    for side in ("cold", "hot"):
        sinks = getattr(sheet.cooler, f"{side}_sink") or ()
        at = getattr(sheet.cooler.modules[number], f"{side}_sink_number") - 1
        sink = sinks[at] if at < len(sinks) else None
        if not isinstance(sink, PlateFinSink):
            continue
        covered_m2 = sum(
            2 * _count(group) * _footprint_m2(group)
            for group in sheet.cooler.modules
            if getattr(group, f"{side}_sink_number") - 1 == at
        )
        if covered_m2 > _COVERED * sink.base[0].value * sink.base[1].value:
            return False
    return True
