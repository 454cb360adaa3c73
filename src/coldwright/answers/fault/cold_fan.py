"""The cold fan stops: frost on the fins, and no cold air."""

from __future__ import annotations

from coldwright.answers.fault.hot_fan import DRAUGHT_LIMIT
from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import fan_stopped
from coldwright.sheet.models import Sheet


def _put(start: Start) -> Broken:
    draught = start.vary("draught past the cold sink", DRAUGHT_LIMIT)
    return Broken(
        fan_stopped(start.coolers, "cold", draught),
        "The cold fan stands; a draught of 2 to 8 % of its speed passes the fins all the same.",
    )


def _not_here(sheet: Sheet) -> str:
    return "There is no cold fan: the modules cool a plate." if sheet.place.kind == "plate" else ""


FAULT = Fault(
    "cold fan stops",
    _put,
    "Ice between the fins thaws at once when the machine is switched off: more water than the "
    "tray sees in a day.",
    ("fan-fail interlock", "frost cut-out", "cut-out"),
    _not_here,
    stops_fan="cold",
)
