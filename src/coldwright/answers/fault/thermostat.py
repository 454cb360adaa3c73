"""The thermostat sticks on: welded contacts, a probe that fell off."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.sheet.models import Box, Room, Sheet


def _put(start: Start) -> Broken:
    return Broken(
        start.coolers,
        "The thermostat no longer switches off; the modules run at full in the coolest moment "
        "of the weather.",
    )


def _not_here(sheet: Sheet) -> str:
    if not isinstance(sheet.place, Room | Box) or sheet.cooler.thermostat is None:
        return "There is no thermostat: the machine runs at full as it is."
    return ""


FAULT = Fault(
    "thermostat stuck on",
    _put,
    "A second thermostat that shares the first one's relay or probe is no second one.",
    ("second thermostat", "frost cut-out", "cut-out"),
    _not_here,
    begins="held",
)
