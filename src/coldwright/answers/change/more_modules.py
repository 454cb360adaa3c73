"""More modules, run more gently: up to twice as many at the same total current or voltage."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import price_of, times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Modules, PlateFinSink, RunAt, Sheet

# How many times as many: the first that fits.
_TIMES = (2.0, 1.5)
# Share of a base that modules may cover and still leave room for the screws.
_COVERED = 0.95


def _variants(start: Solved) -> Iterator[Variant]:
    sheet = start.sheet
    factor = next((each for each in _TIMES if _fits(sheet, each)), None)
    if factor is None:
        return
    modules = sheet.cooler.modules
    edits: dict[str, Any] = {}
    price: float | None = 0.0
    for number, group in enumerate(modules):
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        edits |= _longer(group, at, factor)
        edits |= _more_strings(group, at, factor) if _by_current(sheet, group) else {}
        more = (factor - 1.0) * _count(group)
        if group.spacer is not None:
            left = group.spacer.area.value - more * _footprint_m2(group)
            if left > 0.0:
                edits |= times(group.spacer.area, left / group.spacer.area.value)
        bought = price_of(sheet, group.price, more)
        price = None if price is None or bought is None else price + bought
    for run_at in _ways(sheet):
        for quantity in (run_at.module_voltage, run_at.module_current):
            edits |= times(quantity, 1.0 / factor) if quantity is not None else {}
    count = sum(_count(group) for group in modules)
    yield Variant(
        "more",
        f"Fit {factor * count:.0f} modules instead of {count}, each run more gently",
        edits,
        price,
        "faces ground flat enough for all of them, and even pressure on each",
    )


CHANGE = Change(
    "more modules, run gently",
    "At half the current a module makes a quarter of the heat of its own and pumps more than half.",
    _variants,
    lambda sheet: all(group.stages == 1 for group in sheet.cooler.modules),
)


def _longer(group: Modules, at: str, factor: float) -> dict[str, Any]:
    """Longer strings share the same voltage."""
    return {f"{at}.series": round(factor * group.series)}


def _more_strings(group: Modules, at: str, factor: float) -> dict[str, Any]:
    """More strings share the same current."""
    return {f"{at}.series": group.series, f"{at}.parallel": round(factor * group.parallel)}


def _by_current(sheet: Sheet, group: Modules) -> bool:
    run_at = group.run_at or sheet.cooler.run_at
    return run_at.way in ("current", "module_current")


def _ways(sheet: Sheet) -> list[RunAt]:
    own = [group.run_at for group in sheet.cooler.modules if group.run_at is not None]
    shared = len(own) < len(sheet.cooler.modules)
    return [*own, *([sheet.cooler.run_at] if shared else [])]


def _count(group: Modules) -> int:
    return group.series * group.parallel


def _footprint_m2(group: Modules) -> float:
    return group.footprint[0].value * group.footprint[1].value


def _fits(sheet: Sheet, factor: float) -> bool:
    """Whether so many times the modules make whole strings and fit onto their bases."""
    for group in sheet.cooler.modules:
        grown = group.parallel if _by_current(sheet, group) else group.series
        if (factor * grown) % 1.0:
            return False
    for side in ("cold", "hot"):
        for number, sink in enumerate(getattr(sheet.cooler, f"{side}_sink") or ()):
            covered_m2 = sum(
                factor * _count(group) * _footprint_m2(group)
                for group in sheet.cooler.modules
                if getattr(group, f"{side}_sink_number") == number + 1
            )
            known = isinstance(sink, PlateFinSink)
            if known and covered_m2 > _COVERED * sink.base[0].value * sink.base[1].value:
                return False
    return True
