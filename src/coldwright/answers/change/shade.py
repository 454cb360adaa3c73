"""Shaded windows: an awning or outer blind keeps most of the sun out."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, DesignDay, Room, Sheet, SteadyClimate, Window

# An awning or an outer blind lets about a quarter in: shading factors 0.25 to 0.4 for outer
# shades, DIN 4108-2:2013 table 7 (from memory).
_SHADED = 0.75


def _variants(start: Solved) -> Iterator[Variant]:
    edits = {
        f"place.window[{number}].shaded_share": str(_SHADED)
        for number, window in enumerate(_windows(start.sheet))
        if _in_the_sun(start.sheet, window) and window.shaded_share.value < _SHADED
    }
    if edits:
        yield Variant(
            "Shade the windows from outside",
            edits,
            asks="an awning or blind that bears the wind; inner curtains do far less",
        )


CHANGE = Change(
    "shaded windows",
    "Sun through a window becomes heat inside.",
    _variants,
    lambda sheet: bool(_windows(sheet)),
)


def _windows(sheet: Sheet) -> tuple[Window, ...]:
    return sheet.place.window if isinstance(sheet.place, Room | Box) else ()


def _in_the_sun(sheet: Sheet, window: Window) -> bool:
    """Whether any sun may fall on a window: given on it, steady, of a clear day, or of a file."""
    if window.sun is not None:
        return window.sun.value > 0.0
    climate = sheet.climate
    if isinstance(climate, SteadyClimate):
        return climate.sun.value > 0.0
    return climate.sunny if isinstance(climate, DesignDay) else True
