"""Better cold sink: half as wide again, or a quarter less resistance."""

from __future__ import annotations

from coldwright.answers.change.kind import Change
from coldwright.answers.change.sinks import better_sinks

CHANGE = Change(
    "better cold sink",
    "The cold face need not be so far below the air when the cold sink takes up heat more easily.",
    lambda start: better_sinks(start.sheet.cooler.cold_sink or (), "cold"),
    lambda sheet: sheet.place.kind != "plate",
)
