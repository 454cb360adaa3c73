"""Better lid seal: half the heat past the gasket."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.amounts import times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, Sheet


def _variants(start: Solved) -> Iterator[Variant]:
    place = start.sheet.place
    assert isinstance(place, Box)
    assert place.lid_seal is not None
    yield Variant(
        "Halve the heat past the lid's seal",
        times(place.lid_seal, 0.5),
        asks="a second gasket behind the first, and no metal from inside to outside",
    )


def _applies(sheet: Sheet) -> bool:
    return isinstance(sheet.place, Box) and sheet.place.lid_seal is not None


CHANGE = Change(
    "better lid seal",
    "Around a lid or door there is less insulation than in the wall.",
    _variants,
    _applies,
)
