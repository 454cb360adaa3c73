"""Fewer or plastic screws: each one is a heat bridge between the sinks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.library import library
from coldwright.sheet.models import Modules, Screws

_FEWEST = 4


def _variants(start: Solved) -> Iterator[Variant]:
    held = [
        (f"cooler.modules{_number(start.sheet.cooler.modules, at)}.spacer.screws", screws)
        for at, group in enumerate(start.sheet.cooler.modules)
        if (screws := _screws(group)) is not None
    ]
    yield from _of(
        held, "stainless steel", "Clamp with screws of stainless steel", "grease on their threads"
    )
    yield from _of(
        held,
        "nylon",
        "Clamp with nylon screws",
        "plastic creeps: spring washers, more screws if the clamping force asks for them, and a "
        "limit on the hot sink's temperature",
    )
    fewer = {at: _table(each, count=each.count // 2) for at, each in held if _may_lose(each)}
    if fewer:
        yield Variant(
            "Clamp with half as many screws",
            fewer,
            price=0.0,
            asks="thicker bases or bars, so that the pressure on the modules stays even",
        )


CHANGE = Change(
    "fewer or plastic screws",
    "A metal screw leads as much heat as a hand's breadth of foam.",
    _variants,
    lambda sheet: any(_screws(group) is not None for group in sheet.cooler.modules),
)


def _of(held: list[tuple[str, Screws]], metal: str, does: str, asks: str) -> Iterator[Variant]:
    leads = library().solid(metal).conductivity.value
    edits = {
        at: _table(each, material=metal)
        for at, each in held
        if leads < 0.9 * library().solid(each.material).conductivity.value
    }
    if edits:
        yield Variant(does, edits, asks=asks)


def _table(screws: Screws, **other: Any) -> dict[str, Any]:
    table = {
        "count": screws.count,
        "diameter": screws.diameter.text,
        "material": screws.material,
        "length": screws.length.text,
    }
    return {**table, **other}


def _screws(group: Modules) -> Screws | None:
    return None if group.spacer is None else group.spacer.screws


def _may_lose(screws: Screws) -> bool:
    return screws.count // 2 >= _FEWEST


def _number(modules: tuple[Modules, ...], at: int) -> str:
    return f"[{at}]" if len(modules) > 1 else ""
