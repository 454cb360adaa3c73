"""How tries are counted into a verdict, and when there is nothing to judge."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import Design
from coldwright.answers.value import Value
from coldwright.findings import Finding
from coldwright.quantities.glossary import display

Word = Literal["yes", "no", "borderline"]
# In at least so many of 100 tries it is a yes, in at most so many a no.
YES, NO = 0.90, 0.10


def word_of(good: NDArray[np.bool_], counted: NDArray[np.bool_] | None) -> tuple[Word, int]:
    """The verdict on tries that reach the goal, of those that count, and how many do."""
    if counted is not None:
        good = good[counted]
    share = float(good.mean()) if len(good) else 0.5
    word: Word = "yes" if share >= YES else "no" if share <= NO else "borderline"
    return word, int(good.sum())


def nothing_to_cool(
    design: Design, values: dict[str, Value], *, followed: bool = False
) -> Finding | None:
    """A goal that the place keeps without any cooler; `followed` through changing weather."""
    off, goal = values.get("place_air_off_K"), values.get("goal_air_K")
    if off is None or goal is None or off.value is None or goal.value is None:
        return None
    if off.value > goal.value:
        return None
    sooner = " but to get there sooner" if starts_warmer(design) else ""
    return design.finding(
        "CW-GOAL-04", "warning", "goal.air",
        f"Without any cooler the place {'gets no hotter than' if followed else 'levels off at'} "
        f"{display('place_air_off_K', off.value)}, "
        f"which is not above the goal of {display('goal_air_K', goal.value)}",
        why=f"A cooler has nothing to do there{sooner}",
        action="a lower goal, or the weather of the hottest day",
    )  # fmt: skip


def starts_warmer(design: Design) -> bool:
    """Whether the goal has a time, and the place is warmer than it when all is switched on."""
    goal = design.sheet.goal
    if goal.air is None or goal.within is None:
        return False
    return float(design.place["air_K"][0]) > goal.air.value
