"""Every rule that keeps people and parts from harm, each with its source.

The rules look at the sheet and at a solved state; they give findings, never numbers to build by.
Local codes and licensed people outrank all of them. A rule is one small function in the file of
its subject; the list of that file names it, and `findings_safety` holds its title and source.
"""

from __future__ import annotations

from coldwright.findings import Finding
from coldwright.machine.safety.air import ASKED as AIR_ASKED
from coldwright.machine.safety.air import SOLVED as AIR_SOLVED
from coldwright.machine.safety.air import (
    Advice,
    exhaust_advice,
    exhausts,
    flame_stop,
    flame_without_air,
)
from coldwright.machine.safety.check_list import STAGES, Item, check_list, licensed_list
from coldwright.machine.safety.electric import ASKED as ELECTRIC_ASKED
from coldwright.machine.safety.electric import SOLVED as ELECTRIC_SOLVED
from coldwright.machine.safety.heat import ASKED as HEAT_ASKED
from coldwright.machine.safety.heat import SOLVED as HEAT_SOLVED
from coldwright.machine.safety.thresholds import FLUE_LIMIT_PA, HOT_FACE_LIMIT_K
from coldwright.machine.safety.water import ASKED as WATER_ASKED
from coldwright.machine.safety.water import SOLVED as WATER_SOLVED
from coldwright.machine.safety.what_is_known import Case, State, case_of
from coldwright.sheet.models import Sheet

__all__ = [
    "FLUE_LIMIT_PA",
    "HOT_FACE_LIMIT_K",
    "STAGES",
    "Advice",
    "Case",
    "Item",
    "State",
    "before_solving",
    "case_of",
    "check_list",
    "exhaust_advice",
    "exhausts",
    "flame_stop",
    "licensed_list",
    "of_state",
    "without_an_answer",
]

_ASKED = (*AIR_ASKED, *HEAT_ASKED, *ELECTRIC_ASKED, *WATER_ASKED)
_SOLVED = (*AIR_SOLVED, *HEAT_SOLVED, *WATER_SOLVED, *ELECTRIC_SOLVED)


def before_solving(sheet: Sheet) -> list[Finding]:
    """Rules that need no solved state: what to ask before an exhaust is advised at all."""
    case = case_of(sheet)
    return [finding for rule in _ASKED for finding in rule(case)]


def without_an_answer(sheet: Sheet) -> list[Finding]:
    """The rule that refuses a design before anything is solved: a flame that gets no air."""
    return list(flame_without_air(case_of(sheet)))


def of_state(sheet: Sheet, state: State) -> list[Finding]:
    """Rules on a solved state."""
    case = case_of(sheet)
    return [finding for rule in _SOLVED for finding in rule(case, state)]
