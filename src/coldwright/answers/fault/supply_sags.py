"""The supply sags: a flat battery, a thin wire, a supply at its limit."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import driven, fans_slowed
from coldwright.machine.records import Drive

SAGGED = 0.8


def _put(start: Start) -> Broken:
    power = start.sheet.power
    coolers = fans_slowed(start.coolers, SAGGED)
    if power is not None and power.converter is not None:
        return Broken(
            coolers,
            "The supply gives a fifth too little. The converter still holds the modules' volts "
            "(and takes a quarter more current for it); both fans slow down by a fifth.",
        )
    if int(start.coolers["group"]["drive"][0, 0]) == Drive.CURRENT:
        return Broken(
            coolers,
            "The supply gives a fifth too little. The current control still holds the modules' "
            "amperes; both fans slow down by a fifth.",
        )
    return Broken(
        driven(coolers, SAGGED),
        "The supply gives a fifth too little: modules and fans get four fifths of their volts.",
    )


FAULT = Fault(
    "supply sags",
    _put,
    "A battery that is drained further is ruined, and many fans do not start again below about "
    "half their volts, though they run on.",
    ("low-voltage cut-off", "cut-out"),
)
