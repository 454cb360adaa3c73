"""Plus and minus swapped: the cold side becomes the hot one."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import driven


def _put(start: Start) -> Broken:
    return Broken(
        driven(start.coolers, -1.0),
        "The modules' leads are swapped while they are still cold and hot; the fans run as "
        "before (they have leads of their own).",
    )


FAULT = Fault(
    "leads swapped",
    _put,
    "Modules bear it, brushless fans, converters and electrolytic capacitors on the same leads "
    "do not. A keyed plug, and a diode or transistor against reverse polarity, with its watts.",
    ("keyed plug", "branch fuse", "array fuse", "cold-side cut-out", "cut-out"),
)
