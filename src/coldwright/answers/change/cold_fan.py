"""Stronger cold fan: more air over the cold side."""

from __future__ import annotations

from coldwright.answers.change.fans import stronger_fan
from coldwright.answers.change.kind import Change

CHANGE = Change(
    "stronger cold fan",
    "More air takes up more heat at a warmer outlet, until the fan's own heat eats the gain.",
    lambda start: stronger_fan(start.sheet.cooler.cold_fan, "cold"),
    lambda sheet: sheet.place.kind != "plate",
)
