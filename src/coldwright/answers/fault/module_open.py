"""One module goes open: a cracked joint, a broken lead."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault, NotFollowedError
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import NoRoomError, module_open


def _put(start: Start) -> Broken:
    modules = start.sheet.cooler.modules[0]
    strings = modules.parallel
    dead = "all its modules stop" if strings == 1 else f"one of {strings} strings stops"
    count = modules.series * (1 if strings > 1 else strings)
    leak = "leaks" if count == 1 else f"leak, each of the {count},"
    try:
        coolers = module_open(start.coolers)
    except NoRoomError as error:
        raise NotFollowedError(f"Not followed: {error}.") from None
    return Broken(
        coolers,
        f"A module is open: {dead}. What stands still {leak} heat back to the cold side.",
    )


FAULT = Fault(
    "one module open",
    _put,
    "Nothing gets hot, so it is often found weeks later. A reading of each string's current "
    "shows it at once.",
    ("current reading", "branch fuse", "cut-out"),
)
