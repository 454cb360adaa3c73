"""Hot air sent outdoors: a cooler with both sides in one place heats it."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, Room, Sheet


def _variants(_start: Solved) -> Iterator[Variant]:
    yield Variant(
        "Send the hot side's air outdoors",
        {"cooler.hot_sends_to": "outdoors"},
        asks="a hose and an opening; first make sure that nothing burns in the same air, because "
        "an exhaust can pull flue gas into the place",
    )


def _applies(sheet: Sheet) -> bool:
    place = sheet.place
    # Beside an open flame an exhaust is never advised.
    return (
        isinstance(place, Room | Box)
        and place.combustion != "open"
        and sheet.cooler.hot_sends_to == "place"
        and sheet.cooler.hot_takes_from == "place"
    )


CHANGE = Change(
    "hot air sent outdoors",
    "With both sides in one place all the electricity stays there as heat.",
    _variants,
    _applies,
)
