"""Water where it does harm, and what must not be kept in a cooler like this."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.findings import Finding
from coldwright.machine.safety.thresholds import FOOD_K, FROST_K, MEDICINE_K
from coldwright.machine.safety.what_is_known import Asked, Case, Solved, State, caution
from coldwright.quantities.glossary import display

_HOTTER = "it gets hotter at every failure of power, fan or module, and nobody tests a single build"


def frost(case: Case, state: State) -> Iterator[Finding]:
    """The cold sink takes water out of the air below the freezing point."""
    if state.cold_sink_K < FROST_K and state.condensate_kg_s > 0.0:
        yield caution(
            case, "CW-WATER-01", "warning", "cooler.cold_sink",
            f"The cold sink is at {display('temperature', state.cold_sink_K)} and takes water "
            "out of the air",
            why="Frost grows between the fins until no air passes; the numbers hold for a "
            "sink without frost, and the heat of freezing is not in them",
            action="fewer volts, more air, or pauses for thawing",
        )  # fmt: skip


def condensate(case: Case, state: State) -> Iterator[Finding]:
    """Water runs off the cold sink: more than a third of a gram an hour."""
    if state.condensate_kg_s > 1e-7:
        rate = state.condensate_kg_s * 3.6e6
        amount = f"{rate:.0f} g/h" if rate >= 10 else f"{rate:.1f} g/h"
        yield caution(
            case, "CW-WATER-02", "note", "cooler.condensate",
            f"{amount} of water runs off the cold sink",
            why="Water must not reach wires, the supply or the inside of the foam",
            action="a sloped tray, a drain with a trap, drip loops in the wires, and no mains "
            "part below",
        )  # fmt: skip


def dew_point_margin(case: Case, state: State) -> Iterator[Finding]:
    """The distance to the dew point that the sheet asks for is not kept."""
    margin = case.sheet.limits.dew_point_margin
    if margin is None or state.dew_point_K is None:
        return
    have_K = state.cold_sink_K - state.dew_point_K
    if have_K < margin.value:
        yield caution(
            case, "CW-WATER-04", "warning", "limits.dew_point_margin",
            f"A cold sink {have_K:.1f} K above the dew point of its air",
            allowed=f"at least {margin.value:.1f} K",
            why="Closer to it the sink gets wet",
            action="fewer volts or more air",
        )  # fmt: skip


def fog(case: Case, state: State) -> Iterator[Finding]:
    """The cold air leaves with fine water in it."""
    if state.fog_ratio > 0.0:
        yield caution(
            case, "CW-WATER-03", "note", "cooler.cold_sink",
            "The cold air leaves as fog",
            why="It carries fine water into the place, where it wets what it meets",
            action="more air over the cold sink",
        )  # fmt: skip


def wet_walls(case: Case, state: State) -> Iterator[Finding]:
    """The place's air is so moist that water settles on its walls."""
    if state.saturated:
        yield caution(
            case, "CW-WATER-05", "warning", "place",
            "The air of the place is saturated",
            why="Moisture comes in faster than it leaves, so water settles on the walls",
            action='condensate = "drained", or less moisture',
        )  # fmt: skip


def not_for_food(case: Case) -> Iterator[Finding]:
    """The maker says that food shall lie in it."""
    if case.told.keeps != "food":
        return
    goal = case.sheet.goal.air
    known = "" if goal is None else f" at {display('temperature', goal.value)}"
    warm = goal is None or goal.value > FOOD_K
    yield caution(
        case, "CW-SAFE-31", "warning", "safety.keeps",
        f"Food is to be kept{known}: this is not food-safe",
        why="Germs in food grow above about 5 °C, and " + _HOTTER
        if warm
        else _HOTTER[0].upper() + _HOTTER[1:],
        action="a proper refrigerator for meat, fish, milk and what is cooked; here only drinks "
        "and what keeps without cooling, with a thermometer that keeps the highest value",
    )  # fmt: skip


def not_for_medicine(case: Case) -> Iterator[Finding]:
    """The maker says that medicine shall lie in it."""
    if case.told.keeps != "medicine":
        return
    low, high = (display("temperature", limit_K) for limit_K in MEDICINE_K)
    yield caution(
        case, "CW-SAFE-32", "warning", "safety.keeps",
        "Medicine is to be kept: this is no medical refrigerator",
        why=f"Insulin, vaccines and the like want {low} to {high} without a gap, and freezing "
        "spoils them unseen; " + _HOTTER,
        action="a certified medical refrigerator, and the word of a pharmacist",
    )  # fmt: skip


ASKED: tuple[Asked, ...] = (not_for_food, not_for_medicine)
SOLVED: tuple[Solved, ...] = (frost, condensate, dew_point_margin, fog, wet_walls)
