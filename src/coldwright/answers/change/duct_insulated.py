"""Insulated duct: its heat does not come back into the place."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.amounts import times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import DuctInsulation, Sheet

_FIRST = {"material": "elastomeric foam", "thickness": "19 mm"}


def _variants(start: Solved) -> Iterator[Variant]:
    duct = start.sheet.cooler.hot_duct
    assert duct is not None
    if isinstance(duct.insulation, DuctInsulation):
        edits: dict[str, object] = {**times(duct.insulation.thickness, 2.0)}
        does = "Insulate the hot duct twice as thick"
    else:
        edits = {"cooler.hot_duct.insulation": _FIRST}
        does = f"Insulate the hot duct with {_FIRST['thickness']} of {_FIRST['material']}"
    yield Variant(does, edits, asks="a foam that bears the heat of the exhaust")


def _applies(sheet: Sheet) -> bool:
    duct = sheet.cooler.hot_duct
    return duct is not None and duct.length.value > 0.0 and duct.runs_through == "place"


CHANGE = Change(
    "insulated duct",
    "A bare duct through the place gives part of the exhaust's heat back to it.",
    _variants,
    _applies,
)
