"""Better hot sink: half as wide again, or a quarter less resistance."""

from __future__ import annotations

from coldwright.answers.change.kind import Change
from coldwright.answers.change.sinks import better_sinks

CHANGE = Change(
    "better hot sink",
    "Every kelvin that the hot side is cooler is a kelvin less for the modules to lift.",
    lambda start: better_sinks(start.sheet.cooler.hot_sink, "hot"),
)
