"""What the search is bound by: the sheet's limits, its goal, and the room that tolerances take.

A design that stands on a limit breaks it in half of the tries. So the sheet's own design is tried
first: by as much as its figures spread, the search keeps away from each limit and from the goal.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import Design, Point
from coldwright.errors import NoSolution
from coldwright.machine.cooler import operate
from coldwright.machine.records import Status
from coldwright.machine.safety import FLUE_LIMIT_PA, HOT_FACE_LIMIT_K, exhausts
from coldwright.machine.search import LIMITS, Aim
from coldwright.sheet.models import OpenAir, Plate, Sheet

# So many of the tries shall keep a limit.
SURE = 0.90
NAMES: dict[str, Aim] = {
    "coldest": Aim.COLDEST,
    "net": Aim.NET,
    "cheapest": Aim.CHEAPEST,
    "quietest": Aim.QUIETEST,
    "cop": Aim.COP,
}
"""Aims by the words of the command."""


@dataclass
class Wanted:
    """Limits for the search, and where they come from."""

    limits: NDArray[Any]
    """One record of `LIMITS`, with room for the tolerances."""
    need_K: float | None
    """The goal itself; None where the aim needs none."""
    need_W: float | None
    held_K: float
    """Air at which the place is held; 0: it is free."""
    room: dict[str, float] = field(default_factory=dict)
    """How far the search keeps from each limit, for the tolerances, by glossary name."""
    load: float = 1.0
    """Share of their ratings to which supply and converter may be loaded."""
    needs: str = ""
    """What a design must reach, in words; empty: nothing."""
    own: Point | None = None
    """The sheet's own design, if it has a steady state."""


def wanted_of(design: Design, aim: Aim) -> Wanted:
    """Limits of a sheet for one aim; `design` carries the tries that the room is found from."""
    own: Point | None
    try:
        own = design.solve(with_place=design.enclosed)
    except NoSolution:
        own = None
    limits = np.zeros(1, dtype=LIMITS)
    for name in ("plug_W", "sound_dB", "price", "hot_face_K", "hot_sink_K", "pressure_Pa",
                 "need_K"):  # fmt: skip
        limits[name] = np.inf
    for name in ("cold_face_K", "cold_sink_K", "dew_margin_K", "need_W"):
        limits[name] = -np.inf
    found = Wanted(limits, None, None, _held(design, aim), own=own)
    _set_limits(found, design, own)
    if aim in (Aim.CHEAPEST, Aim.QUIETEST, Aim.COP):
        _set_need(found, design, own)
    return found


def _held(design: Design, aim: Aim) -> float:
    """For the most net cooling an enclosed place is held at its goal, or as warm as it starts."""
    if aim != Aim.NET or not design.enclosed:
        return 0.0
    goal = design.sheet.goal.air
    return float(design.place["air_K"][0]) if goal is None else goal.value


def _set_limits(found: Wanted, design: Design, own: Point | None) -> None:
    sheet, limits = design.sheet, found.limits
    hot_face = sheet.limits.hot_face
    bounds: list[tuple[str, str, float | None, float]] = [
        ("plug_W", "plug_power_W", _value(sheet.goal.max_plug_power), 1.0),
        ("hot_face_K", "hot_face_K", HOT_FACE_LIMIT_K if hot_face is None else hot_face.value, 1.0),
        ("hot_sink_K", "hot_sink_K", _value(sheet.limits.hot_sink), 1.0),
        ("cold_face_K", "cold_face_K", _value(sheet.limits.cold_face), -1.0),
        ("cold_sink_K", "cold_sink_K", _value(sheet.limits.cold_sink), -1.0),
    ]
    for name, figure, limit, sign in bounds:
        if limit is None:
            continue
        room = _spread(own, figure, sign)
        if figure == "plug_power_W" and own is not None:
            # Power spreads in proportion to itself.
            room *= limit / max(own.nominal[figure], 1e-9)
            room = min(room, 0.3 * limit)
        found.room[figure] = room
        limits[name] = limit - sign * room
    if own is not None:
        spread_W = _spread(own, "plug_power_W", 1.0)
        found.load = 1.0 - min(spread_W / max(own.nominal["plug_power_W"], 1e-9), 0.3)
    if sheet.limits.dew_point_margin is not None:
        limits["dew_margin_K"] = sheet.limits.dew_point_margin.value
    if sheet.goal.max_sound is not None:
        tried = design.sound_tried()
        nominal = design.sound().value
        room = 0.0
        if tried is not None and nominal is not None:
            room = max(float(np.quantile(tried, SURE)) - nominal, 0.0)
        found.room["sound_dB"] = room
        limits["sound_dB"] = sheet.goal.max_sound.value - room
    if sheet.goal.max_price is not None:
        limits["price"] = sheet.goal.max_price.value
    if exhausts(sheet) and getattr(sheet.place, "combustion", "none") == "open":
        # How leaky the place is must be told before anything can be said to be safe.
        told = "air_leakage" in sheet.place.model_fields_set
        limits["pressure_Pa"] = FLUE_LIMIT_PA if told else 0.0


def _set_need(found: Wanted, design: Design, own: Point | None) -> None:
    """What a cheap, quiet or sparing design must still reach."""
    sheet = design.sheet
    if isinstance(sheet.place, OpenAir):
        if own is None:
            raise NoSolution(
                "CW-SOLVE-01",
                "This aim needs something to reach: the sheet sets no goal, and its own design has "
                "no steady state.",
            )
        found.need_W = own.nominal["net_cooling_W"]
        found.limits["need_W"] = found.need_W
        found.needs = "as much net cooling as the sheet's own design"
        return
    plate = isinstance(sheet.place, Plate)
    goal = sheet.goal.plate if plate else sheet.goal.air
    figure = "cold_sink_K" if plate else "place_K"
    if goal is not None:
        found.need_K = goal.value
        found.needs = "the goal"
        room = _spread(own, figure, 1.0)
        found.room["plate_K" if plate else "place_air_K"] = room
        found.limits["need_K"] = goal.value - room
        return
    if own is None:
        raise NoSolution(
            "CW-SOLVE-01",
            "This aim needs something to reach: the sheet sets no goal, and its own design has no "
            "steady state.",
        )
    found.need_K = own.nominal[figure]
    found.limits["need_K"] = found.need_K
    found.needs = "as cold as the sheet's own design"


def _spread(own: Point | None, figure: str, sign: float) -> float:
    """How far a figure lies beyond its nominal value, the bad way, in 90 of 100 tries."""
    if own is None or own.tried is None or own.solved is None or own.solved.sum() < 20:
        return 0.0
    numbers = sign * own.tried[figure][own.solved]
    numbers = numbers[np.isfinite(numbers)]
    if not len(numbers):
        return 0.0
    return max(float(np.quantile(numbers, SURE)) - sign * own.nominal[figure], 0.0)


def held_solves(design: Design, held_K: float) -> bool:
    """Whether the sheet's own design has a state with its place held at this air."""
    found = operate(
        design.cooler, design.place, held_K, design.place["humidity_ratio"], with_place=True,
        held=True,
    )  # fmt: skip
    return int(found["status"][0]) == Status.SOLVED


def _value(quantity: Any) -> float | None:
    return None if quantity is None else float(quantity.value)


def aim_of(sheet: Sheet, word: str) -> Aim:
    """The aim that a word means for a sheet; in open air the coldest is the most net cooling."""
    aim = NAMES[word]
    if aim == Aim.COLDEST and isinstance(sheet.place, OpenAir):
        return Aim.NET
    return aim
