"""A changed design in many tries: the same tries as those of the sheet's own design.

Every quantity is varied by a stream of random numbers that hangs on its key alone, so that a try
of two designs differs by the change and by nothing else. Gains are taken try by try; their
intervals are far narrower than those of the levels.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.change.solved import Solved
from coldwright.answers.design import Design, Point, limits_kept
from coldwright.answers.judge import word_of
from coldwright.answers.prices import known_price
from coldwright.answers.value import Value, value_of
from coldwright.errors import NoSolution
from coldwright.machine.cooler import operate
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import AIR_K, pull_down, step_times
from coldwright.machine.records import Status
from coldwright.sheet.models import OpenAir, Plate, Sheet

_FIGURES = (
    "place_air_K", "cold_sink_K", "cold_outlet_K", "hot_face_K", "cooling_W", "plug_power_W",
    "condensate_kg_s",
)  # fmt: skip


@dataclass
class Tried:
    """One design: nominal figures, the same in the tries, and how it stands to the goal."""

    nominal: dict[str, float]
    tried: dict[str, NDArray[np.float64]] | None
    """NaN where a try has no steady state. `surplus_W` is the net cooling less all heat that comes
    in, with the place held at the goal: what the goal is kept or missed by."""
    figures: dict[str, Value]
    verdict: str | None
    reached: int | None
    in_open_air: bool
    net_known: bool
    """Whether the surplus says something: not for a plate, whose heat is given."""


def tried(sheet: Sheet, solved: Solved, start: Solved, tries: int, seed: int) -> Tried:
    """Solve a design in many tries, and once more with the place held at the goal.

    Parameters
    ----------
    sheet, solved
        The design and its nominal states.
    start
        The sheet's own design: without a goal the place is held where that one levels off.
    tries, seed
        As for the other answers; without tries the nominal case alone decides.
    """
    design = Design(sheet, tries, seed) if tries else solved.design
    point = design.solve(with_place=design.enclosed) if tries else solved.point
    held_K = start.goal_K if start.goal_K is not None else start.level_K
    name = _level(sheet)
    surplus_W, surpluses_W = _surplus(design, point, held_K)
    nominal = {
        "level_K": solved.level_K,
        "surplus_W": surplus_W,
        "plug_power_W": point.nominal["plug_power_W"],
    }
    many = None
    if point.tried is not None and surpluses_W is not None:
        many = {
            "level_K": point.tried[name],
            "surplus_W": surpluses_W,
            "plug_power_W": point.tried["plug_power_W"],
        }
    figures = _figures(design, point, solved)
    figures["surplus_W"] = value_of(
        nominal["surplus_W"], None if many is None else many["surplus_W"], point.solved
    )
    word, reached = _judged(design, point, name)
    if solved.forbidden:
        word, reached = "no", 0
    return Tried(
        nominal, many, figures, word, reached,
        isinstance(sheet.place, OpenAir), not isinstance(sheet.place, Plate),
    )  # fmt: skip


def _level(sheet: Sheet) -> str:
    if isinstance(sheet.place, OpenAir):
        return "cold_outlet_K"
    return "cold_sink_K" if isinstance(sheet.place, Plate) else "place_K"


def _surplus(
    design: Design, point: Point, held_K: float
) -> tuple[float, NDArray[np.float64] | None]:
    """Net cooling less all heat that comes in, with the place held: nominal, and per try.

    Where the air is given no heat comes in by itself, and it is the net cooling.
    """
    if not design.enclosed:
        many = None if point.tried is None else point.tried["net_cooling_W"]
        return point.nominal["net_cooling_W"], many
    try:
        held = design.solve(with_place=True, air=held_K, held=True)
    except NoSolution:
        return np.nan, None if point.tried is None else np.full(design.tries, np.nan)
    load = sum(heat[0] for _, heat in heat_load(design.place, held.results))
    nominal = held.nominal["net_cooling_W"] - load
    if held.tried is None:
        return nominal, None
    places = design.places
    results = operate(
        design.coolers, places, held_K, places["humidity_ratio"], with_place=True, held=True
    )
    loads: Any = sum(heat for _, heat in heat_load(places, results))
    return nominal, held.tried["net_cooling_W"] - loads


def _figures(design: Design, point: Point, solved: Solved) -> dict[str, Value]:
    if design.enclosed:
        point.nominal["place_air_K"] = point.nominal["place_K"]
        if point.tried is not None:
            point.tried["place_air_K"] = point.tried["place_K"]
    figures = {name: point.value(name) for name in _FIGURES if name in point.nominal}
    figures["sound_dB"] = design.sound()
    figures["supply_share"] = Value(solved.supply_share)
    return figures


def _judged(design: Design, point: Point, name: str) -> tuple[str | None, int | None]:
    """Verdict and how many tries reach the goal in time within every limit."""
    sheet = design.sheet
    goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
    if goal is None or isinstance(sheet.place, OpenAir):
        return None, None
    many = point.tried is not None and point.solved is not None
    figures: dict[str, Any] = {key: np.atleast_1d(each) for key, each in point.nominal.items()}
    sound: Any = design.sound().value
    if point.tried is not None:
        figures, sound = point.tried, design.sound_tried()
    good = limits_kept(design, figures, sound, known_price(sheet)) & (
        np.asarray(figures[name]) <= goal.value
    )
    if point.solved is not None:
        good = good & point.solved
    # Only where some case holds the goal does the time decide anything.
    within = sheet.goal.within
    if design.enclosed and within is not None and np.any(good):
        good = good & _in_time(design, goal.value, within.value)
    if not many:
        reached = int(np.sum(good))
        return ("yes" if reached else "no"), reached
    return word_of(np.asarray(good), point.counted)


def _in_time(design: Design, goal_K: float, within_s: float) -> NDArray[np.bool_]:
    coolers, places = design.coolers, design.places
    if coolers is None:
        coolers, places = design.cooler, design.place
    history, status = pull_down(coolers, places, step_times(within_s))
    air = np.where((status == Status.SOLVED)[:, None], history[:, :, AIR_K], np.inf)
    coldest = np.nanmin(np.where(np.isnan(air), np.inf, air), axis=1)
    return np.asarray(coldest <= goal_K)
