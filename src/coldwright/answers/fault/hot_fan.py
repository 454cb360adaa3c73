"""The hot fan stops: the commonest fault of all, and the one that burns."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import fan_stopped

# How far the draught past a standing fan may differ from what is taken.
DRAUGHT_LIMIT = 0.6


def _put(start: Start) -> Broken:
    draught = start.vary("draught past the hot sink", DRAUGHT_LIMIT)
    return Broken(
        fan_stopped(start.coolers, "hot", draught),
        "The hot fan stands; a draught of 2 to 8 % of its speed passes the fins all the same.",
    )


FAULT = Fault(
    "hot fan stops",
    _put,
    "A fan wears out, jams on a leaf or loses its plug, mostly while nobody looks. Cut its lead "
    "once, attended, and see that the cut-out opens.",
    ("cut-out", "fan-fail interlock", "branch fuse", "array fuse"),
    stops_fan="hot",
)
