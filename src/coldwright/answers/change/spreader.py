"""Thicker sink base: it spreads the heat of the modules over all the fins."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.amounts import times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import PlateFinSink

_THICKER = 2.0


def _variants(start: Solved) -> Iterator[Variant]:
    cooler = start.sheet.cooler
    edits: dict[str, str] = {}
    for sink in (*cooler.hot_sink, *(cooler.cold_sink or ())):
        if isinstance(sink, PlateFinSink):
            edits |= times(sink.base[2], _THICKER)
    if edits:
        yield Variant(
            "Take sinks with a base twice as thick",
            edits,
            asks="twice the weight of the bases to be held",
        )


CHANGE = Change(
    "thicker sink bases",
    "Where modules cover little of a thin base, the fins far from them do little.",
    _variants,
)
