"""Tighter place: half the leaks, or the next word."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.machine.safety import exhaust_advice
from coldwright.sheet.models import Box, Room, Sheet

_TIGHTER = {"draughty": "ordinary", "ordinary": "tight"}


def _variants(start: Solved) -> Iterator[Variant]:
    place = start.sheet.place
    assert isinstance(place, Room | Box)
    leakage = place.air_leakage
    if isinstance(leakage, str):
        if leakage not in _TIGHTER:
            return
        edits: dict[str, Any] = {"place.air_leakage": _TIGHTER[leakage]}
        does = f"Seal the place from “{leakage}” to “{_TIGHTER[leakage]}”"
    else:
        given = leakage.area or leakage.ach50 or leakage.natural
        assert given is not None
        edits, does = {**times(given, 0.5)}, "Seal half of the place's leaks"
    asks = "tape, gaskets, brushes"
    if isinstance(place, Room):
        asks += "; people inside still need fresh air"
        if exhaust_advice(start.sheet).asks:
            asks += ", and so does anything that burns: ask a licensed person first"
    yield Variant(does, edits, asks=asks)


def _applies(sheet: Sheet) -> bool:
    # Beside an open flame no sealing is advised.
    return isinstance(sheet.place, Room | Box) and exhaust_advice(sheet).offered


CHANGE = Change(
    "tighter place",
    "Outdoor air that leaks in brings its heat and its moisture.",
    _variants,
    _applies,
)
