"""A smaller box: around what must be cold, or the box itself four fifths as long and wide."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import amount, times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, Room, Sheet, SteadyClimate

_BOX = {
    "kind": "box",
    "length": "60 cm",
    "width": "40 cm",
    "height": "40 cm",
    "wall": [{"material": "XPS", "thickness": "40 mm"}],
    "air_leakage": "tight",
}
_SMALLER = 0.8


def _variants(start: Solved) -> Iterator[Variant]:
    place = start.sheet.place
    if isinstance(place, Box):
        edits: dict[str, Any] = {}
        for side in (place.length, place.width, place.height):
            edits |= times(side, _SMALLER)
        yield Variant(
            "Make the box four fifths as long, wide and high",
            edits,
            asks="contents that still fit",
        )
        return
    dew_point_K = min(start.point.nominal["dew_point_K"], start.off_K)
    yield Variant(
        "Cool a box of 60 × 40 × 40 cm in the room instead of the room",
        {
            "place": {**_BOX, "combustion": getattr(place, "combustion", "not known")},
            "climate.outdoor_air": amount(start.off_K, "temperature"),
            "climate.outdoor_humidity": None,
            "climate.outdoor_dew_point": amount(dew_point_K, "temperature"),
            "climate.sun": "0 W/m^2",
            "climate.wind": "0 m/s",
            "cooler.hot_takes_from": "outdoors",
            "cooler.hot_sends_to": "outdoors",
        },
        asks="40 mm of XPS all around and a lid with a gasket; it helps what fits in, not people",
    )


def _applies(sheet: Sheet) -> bool:
    return isinstance(sheet.place, Room | Box) and isinstance(sheet.climate, SteadyClimate)


CHANGE = Change(
    "a smaller box",
    "Heat comes in through walls: a tenth of the surface needs a tenth of the cooling.",
    _variants,
    _applies,
    smaller=True,
)
