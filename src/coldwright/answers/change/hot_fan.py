"""Stronger hot fan: more air on the hot side."""

from __future__ import annotations

from coldwright.answers.change.fans import stronger_fan
from coldwright.answers.change.kind import Change

CHANGE = Change(
    "stronger hot fan",
    "More air leaves the hot sink cooler; an exhaust, though, then takes more air out of the "
    "place.",
    lambda start: stronger_fan(start.sheet.cooler.hot_fan, "hot"),
)
