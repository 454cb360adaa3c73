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
_BY_NUMBER = ("voltage", "module_voltage", "current", "module_current")
# Share of a base that modules may cover and still leave room for the screws.
_COVERED = 0.95


def _variants(start: Solved) -> Iterator[Variant]:
    sheet = start.sheet
    factor = next((each for each in _TIMES if _fits(sheet, each)), None)
    if factor is None:
        return
    modules = sheet.cooler.modules
    shared: dict[str, Any] = {}
    price: float | None = 0.0
    for number, group in enumerate(modules):
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        shared |= _more(group, at, factor, in_strings=not _by_current(sheet, group))
        more = (factor - 1.0) * _count(group)
        if group.spacer is not None:
            left = group.spacer.area.value - more * _footprint_m2(group)
            if left > 0.0:
                shared |= times(group.spacer.area, left / group.spacer.area.value)
        bought = price_of(sheet, group.price, more)
        price = None if price is None or bought is None else price + bought
    count = sum(_count(group) for group in modules)
    fit = f"Fit {factor * count:.0f} modules instead of {count}"
    asks = "faces ground flat enough for all of them, and even pressure on each"
    # Each module's share of the same voltage or current ...
    halved = _set(sheet, ("module_voltage", "module_current"), 1.0 / factor)
    yield Variant(
        fit, {**shared, **halved}, price, asks, run_at="at the same total current or voltage"
    )
    # ... and, where one number says it, the same electrical power shared among more modules.
    strung = {name: value for name, value in shared.items() if "spacer" in name}
    for number, group in enumerate(modules):
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        strung |= _more(group, at, factor, in_strings=False)
    if all(way.way in _BY_NUMBER for way in _ways(sheet)) and _fits(sheet, factor, strings=True):
        same = _set(sheet, ("voltage", "module_voltage", "module_current"), factor**-0.5)
        same |= _set(sheet, ("current",), factor**0.5)
        yield Variant(fit, {**strung, **same}, price, asks, run_at="at about the same power")


CHANGE = Change(
    "more modules",
    "At half the current a module makes a quarter of the heat of its own and pumps more than half.",
    _variants,
    lambda sheet: all(group.stages == 1 for group in sheet.cooler.modules),
)


def _more(group: Modules, at: str, factor: float, *, in_strings: bool) -> dict[str, Any]:
    """Longer strings share a voltage; more strings share a current."""
    if in_strings:
        return {f"{at}.series": round(factor * group.series)}
    return {f"{at}.series": group.series, f"{at}.parallel": round(factor * group.parallel)}


def _set(sheet: Sheet, ways: tuple[str, ...], factor: float) -> dict[str, Any]:
    """What is set in one of these ways, times a factor."""
    edits: dict[str, Any] = {}
    for run_at in _ways(sheet):
        if run_at.way in ways:
            edits |= times(getattr(run_at, run_at.way), factor)
    return edits


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


def _fits(sheet: Sheet, factor: float, *, strings: bool = False) -> bool:
    """Whether so many times the modules make whole strings and fit onto their bases."""
    for group in sheet.cooler.modules:
        grown = group.parallel if strings or _by_current(sheet, group) else group.series
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
