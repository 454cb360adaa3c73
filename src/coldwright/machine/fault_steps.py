"""From the moment of a fault on: the same cooler and place stepped in time, for many cases.

The machine is the one of every other answer; only its records differ before and after the fault
(`faults`). Steps are as short as the fastest part asks: no base plate moves by more than
`MOST_STEP_K` in one. Where a thermal cut-out opens on the way, the step ends there and the run
goes on with the modules open and whatever fans are left.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import prange
from numpy.typing import NDArray

from coldwright.machine.balance import unknowns
from coldwright.machine.day import FOLLOWED
from coldwright.machine.modules import group_state
from coldwright.machine.place import (
    BUFFER,
    COLD_BASE,
    CONTENTS_K,
    GAMMA,
    HOT_BASE,
    WALLS,
    _at_rest,
    _flows_now,
    begin,
    lay_walls,
    see_steady_walls,
    stage,
    steady_stores,
)
from coldwright.machine.records import (
    BLOCKS,
    FRAME,
    MAX_GROUPS,
    MAX_NODES,
    MAX_SINKS,
    OUTPUTS,
    Status,
)
from coldwright.machine.solve import solve_point
from coldwright.machine.walk import first_guess
from coldwright.physics.compiled import compiled, parallel

_SOLVED = int(Status.SOLVED)
_RUNAWAY = int(Status.RUNAWAY)
_NO_FLOW = int(Status.NO_FLOW)

# Columns of the history.
TIME_S = 0
HOT_BASE_K = 1  # hottest base of the hot side
HOTTEST_FACE_K = 2  # of any module, either side
HOTTEST_BASE_K = 3  # of any sink, either side
COLD_BASE_K = 4  # coldest base of the cold side
AIR_K = 5
HUMIDITY_RATIO = 6
STORED_K = 7  # contents
PLUG_W = 8
MODULES_W = 9
CONDENSATE_KG_S = 10
TRIPPED = 11
LEADS_A = 12  # current of the whole array
MODULE_A = 13  # of one string of each group
COLUMNS = MODULE_A + MAX_GROUPS
ROWS = 400

# Longest that any base or the air moves in one step [K], and the shortest and longest steps [s].
MOST_STEP_K = 2.0
SHORTEST_S, LONGEST_S = 0.05, 3600.0
_GROWTH = 1.5
# Here the run ends: every common solder has melted long before, and the laws of the modules end.
HOTTEST_FACE_AT_END_K = 450.0
# What moves by less than this in a longest step has come to rest [K].
_REST_K = 2e-3
# What holds the moisture of air that is given and not solved [kg/s], [kg].
HELD_KG_S, HELD_KG = 1.0, 1e9


def follow_fault(
    normal: Any,
    faulted: Any,
    places: Any,
    *,
    off: Any = None,
    at_rest: bool = False,
    held_start_K: float = 0.0,
    trip_K: Any = np.inf,
    until_s: float = 2 * 86400.0,
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Follow many cases from a fault on.

    Parameters
    ----------
    normal, faulted, places
        Arrays of `COOLER`, `COOLER` and `PLACE` records, shape (n,). Air that is given (open air,
        a plate) stays as it is; an enclosed place is followed with its walls and contents.
    off
        Records after a thermal cut-out has opened, shape (n,); None: as `faulted`.
    at_rest
        The run begins with the place and every part at `air_K` of the place, as after a long
        stop; else in the steady state of `normal`.
    held_start_K
        The steady state in which the place is held at this air temperature [K]; 0: where it
        levels off.
    trip_K
        Temperature of the hottest hot base at which the cut-out opens [K], scalar or shape (n,);
        inf: there is none.
    until_s
        Longest time [s]; a run ends before when everything has come to rest or is too hot.

    Returns
    -------
    history, status
        Shapes (n, ROWS, COLUMNS), NaN after the last step, and (n,): `SOLVED`, `RUNAWAY` where a
        face passed `HOTTEST_FACE_AT_END_K`, else why the run could not go on.
    """
    n = len(normal)
    history = np.full((n, ROWS, COLUMNS), np.nan)
    status = np.zeros(n, dtype=np.int64)
    scratch = places.copy()
    given = scratch["enclosed"] == 0
    # The moisture of given air is held by a buffer that nothing can change.
    scratch["buffer_kg"] = np.where(given, HELD_KG, scratch["buffer_kg"])
    scratch["buffer_kg_s"] = np.where(given, HELD_KG_S, scratch["buffer_kg_s"])
    scratch["volume_m3"] = np.where(given, 1.0, scratch["volume_m3"])
    trips = np.broadcast_to(np.asarray(trip_K, dtype=float), (n,)).copy()
    blocks = min(n, BLOCKS)
    frames = np.zeros(blocks, dtype=FRAME)
    runs = np.zeros(blocks, dtype=FOLLOWED)
    after = faulted if off is None else off
    _follow_all(
        normal, faulted, after, scratch, trips, at_rest, float(held_start_K), float(until_s),
        frames, runs, history, status,
    )  # fmt: skip
    return history, status


@parallel
def _follow_all(
    normal: Any, faulted: Any, off: Any, places: Any, trips: Any, at_rest: bool,
    held_start_K: float, until_s: float, frames: Any, runs: Any, history: Any, status: Any,
) -> None:  # fmt: skip
    n = len(normal)
    blocks = len(frames)
    for b in prange(blocks):
        for i in range(n * b // blocks, n * (b + 1) // blocks):
            status[i] = follow_fault_one(
                normal[i], faulted[i], off[i], places[i], trips[i], at_rest, held_start_K,
                until_s, frames[b], runs[b], history[i],
            )  # fmt: skip


@compiled
def follow_fault_one(
    normal: Any, faulted: Any, off: Any, place: Any, trip_K: float, at_rest: bool,
    held_start_K: float, until_s: float, frame: Any, run: Any, history: Any,
) -> int:  # fmt: skip
    """Follow one case into `history`."""
    walls, y, x, o = run.walls, run.stores, frame.x, frame.o
    frame.cold_flow_m3_s = 0.0
    frame.hot_flow_m3_s = 0.0
    frame.held_K = 0.0
    frame.slopes_kept = 0
    if at_rest:
        begin(normal, place, walls, y, x, o)
        _begin_from(normal, place, y, place.air_K, place.humidity_ratio, x)
        _note(normal, x, o, y, 0.0, 0.0, history[0])
        for column in (PLUG_W, MODULES_W, CONDENSATE_KG_S):
            history[0, column] = 0.0
        for column in range(LEADS_A, COLUMNS):
            history[0, column] = 0.0
    else:
        status = _running(normal, place, held_start_K, walls, y, x, frame)
        if status != _SOLVED:
            return status
        _note(normal, x, o, y, 0.0, 0.0, history[0])
    frame.held_K = place.air_K if place.enclosed == 0 else 0.0
    cooler = faulted
    tripped = 0.0
    n = unknowns(normal, True)
    _begin_from(cooler, place, y, x[n - 2], x[n - 1] * 1e-3, x)
    n = unknowns(cooler, True)
    size = WALLS + place.surfaces * MAX_NODES
    time_s, step_s, since_s = 0.0, SHORTEST_S, 0.0
    row = 1
    while time_s < until_s and row < len(history):
        for i in range(size):
            run.keep_stores[i] = y[i]
        for i in range(n):
            run.keep_x[i] = x[i]
        for i in range(OUTPUTS):
            run.keep_o[i] = o[i]
        h = min(step_s, until_s - time_s)
        # What has no mass at all jumps at once, whatever the step.
        one_stage = since_s < 4.0 * SHORTEST_S
        status = _step(cooler, place, walls, h, one_stage, run, frame)
        moved = _moved(cooler, run.keep_stores, y, run.keep_x[n - 2], x[n - 2])
        again = status != _SOLVED or (moved > MOST_STEP_K and not one_stage)
        ends_s = 0.5 * h
        if not again and tripped == 0.0 and history[row - 1, HOT_BASE_K] < trip_K:
            over_K = _hottest_hot(cooler, y) - trip_K
            if over_K > 0.05 and h > SHORTEST_S:
                # The cut-out opens inside this step: the step ends there.
                rise_K = over_K + trip_K - history[row - 1, HOT_BASE_K]
                again = True
                ends_s = max(h * (1.0 - over_K / rise_K), SHORTEST_S)
        if again and h > SHORTEST_S * 1.01:
            for i in range(size):
                y[i] = run.keep_stores[i]
            for i in range(n):
                x[i] = run.keep_x[i]
            for i in range(OUTPUTS):
                o[i] = run.keep_o[i]
            step_s = max(ends_s, SHORTEST_S)
            continue
        if status != _SOLVED:
            status, h = _rescued(cooler, place, walls, run, frame, size, n)
            if status != _SOLVED:
                return status
        time_s += h
        since_s += h
        _note(cooler, x, o, y, time_s, tripped, history[row])
        row += 1
        if history[row - 1, HOTTEST_FACE_K] > HOTTEST_FACE_AT_END_K:
            return _RUNAWAY
        if tripped == 0.0 and history[row - 1, HOT_BASE_K] >= trip_K - 1e-3:
            tripped = 1.0
            cooler = off
            _begin_from(cooler, place, y, x[n - 2], x[n - 1] * 1e-3, x)
            n = unknowns(cooler, True)
            step_s, since_s = SHORTEST_S, 0.0
            continue
        if h >= LONGEST_S * 0.99 and moved < _REST_K:
            break
        step_s = min(h * min(_GROWTH, 0.8 * MOST_STEP_K / max(moved, 1e-9)), LONGEST_S)
        step_s = max(step_s, SHORTEST_S)
    return _SOLVED


@compiled
def _running(
    cooler: Any, place: Any, held_start_K: float, walls: Any, y: Any, x: Any, frame: Any
) -> int:
    """Stores of a machine that has run for long: the steady state, and what is held in it."""
    o = frame.o
    enclosed = place.enclosed == 1
    air_K = place.air_K
    water = place.humidity_ratio
    if enclosed:
        see_steady_walls(place, frame)
        if held_start_K > 0.0:
            frame.held_K = held_start_K
            air_K = held_start_K
    status = solve_point(cooler, place, air_K, water, enclosed, False, x, frame, o, frame.work)
    if status != _SOLVED:
        return status
    if enclosed:
        n = unknowns(cooler, True)
        air_K, water = x[n - 2], x[n - 1] * 1e-3
    lay_walls(place, walls)
    steady_stores(place, cooler, walls, air_K, water, y)
    y[CONTENTS_K] = air_K
    y[BUFFER] = water
    for s in range(cooler.cold_sinks):
        y[COLD_BASE + s] = o[20 + s]
    for s in range(cooler.hot_sinks):
        y[HOT_BASE + s] = o[20 + MAX_SINKS + s]
    n = unknowns(cooler, True)
    x[n - 2] = air_K
    x[n - 1] = water * 1e3
    return status


@compiled
def _begin_from(cooler: Any, place: Any, y: Any, air_K: float, water: float, x: Any) -> None:
    """Unknowns of another cooler (it may have other groups) at these stores."""
    first_guess(cooler, place, air_K, water, True, x)
    _at_rest(cooler, y, x)


@compiled
def _step(
    cooler: Any, place: Any, walls: Any, h: float, one_stage: bool, run: Any, frame: Any
) -> int:
    """One step: two implicit stages, or one right after a jump (see `place.creep`)."""
    y, first, base = run.stores, run.first, run.base
    x, o, work = frame.x, frame.o, frame.work
    n = unknowns(cooler, True)
    size = WALLS + place.surfaces * MAX_NODES
    if not _flows_now(cooler, place, n, x, frame, o):
        return _NO_FLOW
    for i in range(size):
        first[i] = y[i]
    if one_stage:
        return stage(cooler, place, walls, 1.0 / h, first, y, n, x, frame, o, work)
    inverse = 1.0 / (GAMMA * h)
    status = stage(cooler, place, walls, inverse, y, first, n, x, frame, o, work)
    if status != _SOLVED:
        return status
    ratio = (1.0 - GAMMA) / GAMMA
    for i in range(size):
        base[i] = y[i] + ratio * (first[i] - y[i])
    return stage(cooler, place, walls, inverse, base, y, n, x, frame, o, work)


@compiled
def _rescued(cooler: Any, place: Any, walls: Any, run: Any, frame: Any, size: int, n: int) -> Any:
    """A step where the shortest one fails, and its length [s].

    What has no mass jumps far at once: the steady state at this air is a better guess than the
    last moment. And a heavy tank changes too little in the shortest step to be told from rounding.
    """
    y, x, o = run.stores, frame.x, frame.o
    status = _NO_FLOW
    h = SHORTEST_S
    for attempt in range(8):
        air_K, water = run.keep_x[n - 2], run.keep_x[n - 1] * 1e-3
        for i in range(size):
            y[i] = run.keep_stores[i]
        for i in range(n):
            x[i] = run.keep_x[i]
        for i in range(OUTPUTS):
            o[i] = run.keep_o[i]
        if attempt % 2 == 0:
            held_K = frame.held_K
            frame.held_K = 0.0
            solve_point(cooler, place, air_K, water, False, False, x, frame, o, frame.work)
            frame.held_K = held_K
            frame.slopes_kept = 0
            x[n - 2] = air_K
            x[n - 1] = water * 1e3
        status = _step(cooler, place, walls, h, True, run, frame)
        if status == _SOLVED:
            break
        if attempt % 2 == 1:
            h *= 10.0
    return status, h


@compiled
def _moved(cooler: Any, before: Any, y: Any, air_before_K: float, air_K: float) -> float:
    """Farthest that a base or the air moved [K]."""
    far = abs(air_K - air_before_K)
    for s in range(cooler.cold_sinks):
        far = max(far, abs(y[COLD_BASE + s] - before[COLD_BASE + s]))
    for s in range(cooler.hot_sinks):
        far = max(far, abs(y[HOT_BASE + s] - before[HOT_BASE + s]))
    return far


@compiled
def _hottest_hot(cooler: Any, y: Any) -> float:
    hottest = -math.inf
    for s in range(cooler.hot_sinks):
        hottest = max(hottest, y[HOT_BASE + s])
    return hottest


@compiled
def _note(cooler: Any, x: Any, o: Any, y: Any, time_s: float, tripped: float, row: Any) -> None:
    """One row of the history."""
    n = unknowns(cooler, True)
    row[TIME_S] = time_s
    hot_K = _hottest_hot(cooler, y)
    hottest_K, coldest_K = hot_K, math.inf
    for s in range(cooler.cold_sinks):
        hottest_K = max(hottest_K, y[COLD_BASE + s])
        coldest_K = min(coldest_K, y[COLD_BASE + s])
    row[HOT_BASE_K] = hot_K
    row[HOTTEST_BASE_K] = hottest_K
    row[COLD_BASE_K] = coldest_K
    row[AIR_K] = x[n - 2]
    row[HUMIDITY_RATIO] = x[n - 1] * 1e-3
    row[STORED_K] = y[CONTENTS_K]
    row[PLUG_W] = o[6]
    row[MODULES_W] = o[5]
    row[CONDENSATE_KG_S] = o[4]
    row[TRIPPED] = tripped
    k = cooler.cold_sinks + cooler.hot_sinks
    face_K = 0.0
    total_A = 0.0
    for g in range(cooler.groups):
        group = cooler.group[g]
        two = group.stages == 2
        cold_K = x[k]
        hot_face_K = x[k + 3] if two else x[k + 1]
        middle_hot_K = x[k + 1] if two else hot_face_K
        middle_cold_K = x[k + 2] if two else cold_K
        k += 4 if two else 2
        found = group_state(group, cold_K, middle_cold_K, middle_hot_K, hot_face_K)
        row[MODULE_A + g] = found[5]
        total_A += found[5] * group.parallel
        face_K = max(face_K, max(cold_K, hot_face_K))
    row[HOTTEST_FACE_K] = face_K
    row[LEADS_A] = total_A
