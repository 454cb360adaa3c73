"""One module is shorted: a scratched lead, a crushed edge, water on the wires."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault, NotFollowedError
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import NoRoomError, module_shorted


def _put(start: Start) -> Broken:
    modules = start.sheet.cooler.modules[0]
    try:
        coolers = module_shorted(start.coolers, start.results)
    except NoRoomError as error:
        raise NotFollowedError(f"Not followed: {error}.") from None
    if modules.series == 1:
        return Broken(
            coolers,
            "A module is shorted, and none stands in series with it: the whole array is a short "
            "on the supply, and everything stops.",
        )
    left = modules.series - 1
    partners = "its partner gets" if left == 1 else f"its {left} partners share"
    return Broken(coolers, f"A module is shorted: {partners} all the volts of the string.")


FAULT = Fault(
    "one module shorted",
    _put,
    "One fuse for each string, not one for all: a fuse for all strings hardly notices what one "
    "string does.",
    ("branch fuse", "array fuse", "supply limit", "cut-out"),
)
