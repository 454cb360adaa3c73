"""Hot air sent outdoors: a cooler with both sides in one place heats it."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.machine.safety import exhaust_advice
from coldwright.sheet.models import Box, Room, Sheet


def _variants(start: Solved) -> Iterator[Variant]:
    asks = exhaust_advice(start.sheet).asks
    yield Variant(
        "Send the hot side's air outdoors",
        {"cooler.hot_sends_to": "outdoors"},
        asks="a hose and an opening" + (f"; {asks}" if asks else ""),
    )


def _applies(sheet: Sheet) -> bool:
    # Beside an open flame an exhaust is never advised.
    return (
        isinstance(sheet.place, Room | Box)
        and exhaust_advice(sheet).offered
        and sheet.cooler.hot_sends_to == "place"
        and sheet.cooler.hot_takes_from == "place"
    )


CHANGE = Change(
    "hot air sent outdoors",
    "With both sides in one place all the electricity stays there as heat.",
    _variants,
    _applies,
)
