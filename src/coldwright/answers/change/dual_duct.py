"""Hot air from outdoors: a second duct, so that the exhaust takes no air out of the place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.ducts import fitting_data
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, Duct, OpenAir, Room, Sheet

# Friction of the second hose as a loss coefficient per length over diameter: that of a corrugated
# hose, whose roughness is 2 % of its diameter (Moody's diagram, fully rough: 0.05).
_FRICTION = 0.05


def _variants(start: Solved) -> Iterator[Variant]:
    cooler = start.sheet.cooler
    edits: dict[str, Any] = {
        "cooler.hot_takes_from": "outdoors",
        "cooler.hot_sends_to": "outdoors",
    }
    second = ""
    if cooler.hot_duct is not None and cooler.hot_duct.length.value > 0.0:
        edits["cooler.hot_duct.fittings"] = _with_second_hose(cooler.hot_duct)
        second = "a second hose like the first (its resistance is counted), "
    yield Variant(
        "Take the hot side's air from outdoors",
        edits,
        asks=f"{second}a tight housing around the hot side, and both ends outdoors well apart",
    )


def _applies(sheet: Sheet) -> bool:
    takes = sheet.cooler.hot_takes_from == "place"
    return takes and isinstance(sheet.place, Room | Box | OpenAir)


def _why(sheet: Sheet) -> str:
    if sheet.cooler.hot_sends_to == "place":
        return "What the hot side gives off stays in the place, electricity included."
    return (
        "Air that the exhaust takes out of the place is replaced by outdoor air, which brings its "
        "heat and its moisture in."
    )


CHANGE = Change(
    "hot air from outdoors",
    _why,
    _variants,
    _applies,
)


def _with_second_hose(duct: Duct) -> list[Any]:
    """The fittings of both hoses; the friction of the second stands among them."""
    own = [fitting_data(each) for each in duct.fittings]
    if duct.diameter is not None:
        diameter_m = duct.diameter.value
    else:
        assert duct.section is not None
        a, b = duct.section[0].value, duct.section[1].value
        diameter_m = 2.0 * a * b / (a + b)
    friction = _FRICTION * duct.length.value / diameter_m
    return [*own, *own, {"name": "length of the second hose", "loss": f"{friction:.4g}"}]
