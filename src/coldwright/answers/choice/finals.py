"""The best designs once more: each through a sheet of its own, and in many tries.

Every quantity is varied by a stream of random numbers that hangs on its key alone, so that a try
of two designs differs by their parts and by nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.edits import Line, bill_of, chosen, edits_of
from coldwright.answers.choice.engine import Engine, is_solved
from coldwright.answers.choice.options import Options
from coldwright.answers.choice.wanted import Wanted
from coldwright.answers.design import Design, Point, limits_kept
from coldwright.answers.prices import known_price
from coldwright.answers.sheet_records import records_before_chain
from coldwright.answers.value import Value, value_of
from coldwright.errors import SolverError
from coldwright.machine.cooler import operate
from coldwright.machine.search import Aim
from coldwright.machine.values import Values
from coldwright.sheet.models import Plate, Sheet

# The same design solved from its own sheet may differ by no more than rounding [K].
_SAME_K = 1e-5


@dataclass
class Final:
    """One of the best designs, solved from its own sheet."""

    flat: int
    drive_V: float
    cold_speed: float
    hot_speed: float
    parts: dict[str, str]
    """Name of the part of each kind."""
    sheet: Sheet
    edits: dict[str, Any]
    bill: list[Line]
    price: float | None
    design: Design
    point: Point
    figures: dict[str, Value]
    cost: NDArray[np.float64] | None = None
    """What the aim makes small, in each try; inf where a limit breaks or the goal is missed."""
    best_share: float | None = None
    """Share of the tries in which it is the best of those compared."""
    kept_share: float | None = None
    """Share of the tries in which it keeps every limit (and reaches what it must)."""


def final_of(
    options: Options,
    engine: Engine,
    wanted: Wanted,
    own: Sheet,
    row: Any,
    tries: int,
    seed: int,
) -> Final:
    """Write a design into a sheet and solve that.

    Parameters
    ----------
    own
        The sheet as the person wrote it, whose weather may change.
    row
        One row of what the search kept.

    Raises
    ------
    SolverError
        When the sheet's own solution is another one than the search's.
    """
    flat = int(row["flat"])
    setting = tuple(round(float(row[name]), 4) for name in ("drive_V", "cold_speed", "hot_speed"))
    drive_V, cold, hot = setting
    edits = edits_of(options, engine, flat, drive_V, cold, hot)
    sheet = own.changed(edits)
    design = Design(sheet, tries, seed)
    point = design.solve(with_place=design.enclosed)
    _compare(engine, flat, setting, design.sheet)
    parts = {name: option.name for name, option in chosen(options, engine, flat).items()}
    bill = bill_of(options, engine, flat)
    found = Final(
        flat, drive_V, cold, hot, parts, sheet, edits, bill, _total(bill), design, point, {}
    )
    found.figures = _figures(design, point, engine.aim, wanted)
    if tries:
        found.cost, good = _costs(found, engine.aim, wanted)
        found.kept_share = float(np.mean(good))
    return found


def share_best(finals: list[Final]) -> None:
    """Count for each design the tries in which it is the best of all."""
    costs = [final.cost for final in finals if final.cost is not None]
    if len(costs) < 2 or len(costs) != len(finals):
        return
    table = np.stack(costs)
    first = np.argmin(table, axis=0)
    counted = np.isfinite(table.min(axis=0))
    for at, final in enumerate(finals):
        final.best_share = float(np.mean((first == at) & counted))


def _compare(engine: Engine, flat: int, setting: tuple[float, ...], sheet: Sheet) -> None:
    """The search's own records against those assembled from the design's sheet.

    What fuses, joints and other wires lose depends on the design. The search counts what they lose
    in the sheet's own; the figures that are told count the design's.
    """
    found = engine.one(flat, *setting)
    cooler, place = records_before_chain(sheet, Values(0))
    cooler["power"]["controller_W"] += engine.base["power"]["extra_W"]
    own = operate(
        cooler, place, place["air_K"], place["humidity_ratio"], with_place=engine.with_place
    )
    if not is_solved(found):
        raise SolverError("A design of the search has no steady state of its own", np.nan)
    apart_K = 0.0
    for name in ("place_K", "hot_face_K", "cold_face_K"):
        apart = np.abs(found[name][0] - own[name][0])
        apart_K = max(apart_K, float(np.max(apart)))
    plug_W = float(found["plug_W"][0] - own["plug_W"][0])
    if apart_K > _SAME_K or abs(plug_W) > _SAME_K * max(1.0, float(found["plug_W"][0])):
        raise SolverError(
            f"A design solved from its own sheet is {apart_K:.2g} K from what the search found",
            residual_W=plug_W,
        )


def _figures(design: Design, point: Point, aim: Aim, wanted: Wanted) -> dict[str, Value]:
    names = (
        "cold_sink_K", "cold_outlet_K", "hot_face_K", "cooling_W", "net_cooling_W",
        "plug_power_W", "module_power_W", "current_A", "cop_net", "condensate_kg_s",
    )  # fmt: skip
    figures = {}
    if design.enclosed:
        tried = None if point.tried is None else point.tried["place_K"]
        figures["place_air_K"] = value_of(point.nominal["place_K"], tried, point.solved)
    for name in names:
        figures[name] = point.value(name)
    figures["sound_dB"] = design.sound()
    if aim == Aim.NET and wanted.held_K > 0.0:
        held = design.solve(with_place=True, air=wanted.held_K, held=True)
        for name in ("net_cooling_W", "cooling_W", "cop_net"):
            figures[name] = held.value(name)
    return figures


def _costs(final: Final, aim: Aim, wanted: Wanted) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """What the aim makes small in each try, and where everything is kept."""
    design, point = final.design, final.point
    if point.tried is None or point.solved is None:
        nothing = np.zeros(design.tries, dtype=bool)
        return np.full(design.tries, np.inf), nothing
    tried = point.tried
    good = point.solved & limits_kept(
        design, tried, design.sound_tried(), known_price(design.sheet)
    )
    good = good & _supply_bears(design, point)
    level = tried["cold_sink_K" if isinstance(design.sheet.place, Plate) else "place_K"]
    if wanted.need_K is not None:
        good = good & (level <= wanted.need_K)
    if wanted.need_W is not None:
        # The sheet's own design in the same try: both share everything but their parts.
        own = None if wanted.own is None else wanted.own.tried
        base: Any = wanted.need_W
        if own is not None and len(own["net_cooling_W"]) == len(level):
            base = own["net_cooling_W"]
        good = good & (tried["net_cooling_W"] >= base - 1e-9)
    cost = _cost(final, aim, wanted, level)
    return np.where(good & np.isfinite(cost), cost, np.inf), np.asarray(good)


def _supply_bears(design: Design, point: Point) -> NDArray[np.bool_]:
    """Whether the supply gives what is asked of it, in each try; its loss is in proportion."""
    assert point.tried is not None
    power = design.sheet.power
    plug_W = point.tried["plug_power_W"]
    if power is None or power.supply is None:
        return np.ones(len(plug_W), dtype=bool)
    result = point.results
    share = float((result["plug_W"] - result["supply_W"])[0] / max(result["plug_W"][0], 1e-9))
    return np.asarray(~(share * plug_W > power.supply.rated_power.value))


def _cost(
    final: Final, aim: Aim, wanted: Wanted, level: NDArray[np.float64]
) -> NDArray[np.float64]:
    design, tried = final.design, final.point.tried
    assert tried is not None
    if aim == Aim.COLDEST:
        return level
    if aim == Aim.NET:
        if wanted.held_K > 0.0:
            held = design.solve(with_place=True, air=wanted.held_K, held=True)
            tried = held.tried if held.tried is not None else tried
        return -np.asarray(tried["net_cooling_W"])
    if aim == Aim.COP:
        return -np.asarray(tried["cop_net"])
    if aim == Aim.QUIETEST:
        sound = design.sound_tried()
        return np.zeros(len(level)) if sound is None else np.asarray(sound)
    price = np.inf if final.price is None else final.price
    return np.full(len(level), price)


def _total(bill: list[Line]) -> float | None:
    """Sum of a bill; None when a main part's price is not known."""
    total = 0.0
    for line in bill:
        if line.total is None:
            if line.what == "wire":
                continue
            return None
        total += line.total
    return total
