"""The drain is blocked: slime, ice, a kinked hose."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine import faults
from coldwright.sheet.models import Sheet


def _put(start: Start) -> Broken:
    return Broken(
        faults.drain_blocked(start.coolers),
        "From switching on the condensate no longer runs off: it fills the tray, then goes back "
        "into the place's air or where it should not.",
    )


def _not_here(sheet: Sheet) -> str:
    if sheet.place.kind == "plate":
        return "The modules cool a plate: no air is cooled."
    if sheet.cooler.condensate != "drained":
        return f"There is no drain: the condensate goes “{sheet.cooler.condensate}”."
    return ""


FAULT = Fault(
    "drain blocked",
    _put,
    "Water seeks the lowest hole, often where a wire goes through. No mains part below the "
    "tray, drip loops in every wire, and a tray larger than what thaws at once.",
    ("float switch",),
    _not_here,
    begins="rest",
)
