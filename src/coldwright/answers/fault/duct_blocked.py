"""The hot air's way is blocked: a cloth over the grille, a crushed hose, a filter full of dust."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import BLOCKED_SHARE, path_blocked


def _put(start: Start) -> Broken:
    share = BLOCKED_SHARE * start.vary("air past what blocks the hot side", 0.5)
    way = "hose" if start.sheet.cooler.hot_duct is not None else "inlet or outlet"
    return Broken(
        path_blocked(start.coolers, start.results, "hot", share),
        f"The hot side's {way} lets a tenth of its air through (5 to 15 %); the fan turns on.",
    )


FAULT = Fault(
    "hot air blocked",
    _put,
    "A curtain, a crushed hose or a nest does it. The fan still turns, so nothing that listens "
    "to the fan notices.",
    ("cut-out", "fan-fail interlock", "branch fuse", "array fuse"),
)
