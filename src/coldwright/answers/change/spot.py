"""A spot: cool the air that blows at a person, not the whole place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import amount
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Room, Sheet


def _variants(start: Solved) -> Iterator[Variant]:
    air: dict[str, Any] = {"kind": "open_air", "air": amount(start.off_K, "temperature")}
    dew_point_K = start.point.nominal["dew_point_K"]
    # Air that the cooler dries is no drier where it does not.
    air["dew_point"] = amount(min(dew_point_K, start.off_K), "temperature")
    yield Variant(
        "Blow the cold air at the person instead of cooling the room",
        {"place": air, "goal.air": None, "goal.within": None},
        price=0.0,
        asks="an outlet within an arm's length, and hot air that leaves the room all the same",
    )


CHANGE = Change(
    "a spot, not the room",
    "At the outlet the air is coldest; farther away the room's air mixes in.",
    _variants,
    lambda sheet: isinstance(sheet.place, Room),
    smaller=True,
)


def is_spot(sheet: Sheet) -> bool:
    """Whether a changed sheet has become a spot."""
    return sheet.place.kind == "open_air"
