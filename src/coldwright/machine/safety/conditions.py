"""When a step of the check list applies: each a question to the design that yes or no answers.

What is not known counts as yes: a step too many costs a minute.
"""

from __future__ import annotations

from coldwright.machine.safety.air import exhausts
from coldwright.machine.safety.heat import any_foam
from coldwright.machine.safety.what_is_known import Case
from coldwright.sheet.models import Box, Plate, Room


def always(case: Case) -> bool:  # noqa: ARG001 - every condition is asked of a case
    """In every design."""
    return True


def mains(case: Case) -> bool:
    """Mains feeds it, or nothing says what does."""
    return case.chain.mains is not False


def mains_by_hand(case: Case) -> bool:
    """Mains feeds it, and no finished supply that stays closed is said to."""
    return mains(case) and case.told.mains_side != "sealed supply"


def several_supplies(case: Case) -> bool:
    """More than one supply hangs on the plug."""
    return mains(case) and case.told.supplies > 1


def battery(case: Case) -> bool:
    """A battery feeds it."""
    return case.chain.battery_V is not None


def foam(case: Case) -> bool:
    """There is foam somewhere in it."""
    return any_foam(case.sheet)


def flame(case: Case) -> bool:
    """The cooler blows air out of a place in which something burns, or may burn."""
    place = case.sheet.place
    return isinstance(place, Room | Box) and exhausts(case.sheet) and place.combustion != "none"


def people_inside(case: Case) -> bool:
    """A room in which people may stay."""
    return isinstance(case.sheet.place, Room)


def sleepers(case: Case) -> bool:
    """People sleep in the place."""
    place = case.sheet.place
    return isinstance(place, Room | Box) and any(
        gain.people and gain.activity == "sleeping" for gain in place.gain
    )


def water(case: Case) -> bool:
    """Air is cooled, so water may run off the cold side."""
    return not isinstance(case.sheet.place, Plate)


def keeps_goods(case: Case) -> bool:
    """A box in which food or medicine may lie."""
    return isinstance(case.sheet.place, Box) and case.told.keeps != "neither"


def through_a_wall(case: Case) -> bool:
    """A room, so that a duct or hole leads through its wall."""
    return isinstance(case.sheet.place, Room)
