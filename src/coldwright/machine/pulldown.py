"""What happens after switching on: the place and the cooler in time, for many cases."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import prange
from numpy.typing import NDArray

from coldwright.machine.balance import unknowns
from coldwright.machine.place import RUN, advance, begin, creep
from coldwright.machine.records import BLOCKS, COOLER, FRAME, Status
from coldwright.physics.compiled import compiled, parallel, threads_for

_SOLVED = int(Status.SOLVED)

# After switching on, air and fins move at once: so many first steps are taken without overshoot.
CREEPING_STEPS = 2

# Columns of the history.
AIR_K = 0
HUMIDITY_RATIO = 1
COLD_BASE_K = 2
HOT_BASE_K = 3
PLUG_W = 4
CONDENSATE_KG_S = 5
COLUMNS = 6


def pull_down(coolers: Any, places: Any, times_s: Any) -> tuple[NDArray[Any], NDArray[Any]]:
    """Follow many cases from switching on through the given times.

    Parameters
    ----------
    coolers, places
        Arrays of `COOLER` and `PLACE` records, shape (n,); all places enclosed.
    times_s
        Rising times [s] from 0 on, shape (m,); the solver steps from one to the next.

    Returns
    -------
    history, status
        Shapes (n, m, COLUMNS) and (n,). A case that fails keeps NaN from there on.
    """
    times = np.ascontiguousarray(times_s, dtype=float)
    history = np.full((len(coolers), len(times), COLUMNS), np.nan)
    status = np.zeros(len(coolers), dtype=np.int64)
    blocks = min(len(coolers), BLOCKS)
    frames = np.zeros(blocks, dtype=FRAME)
    runs = np.zeros(blocks, dtype=RUN)
    with threads_for(len(coolers)):
        _pull_down_all(coolers, places, times, frames, runs, history, status)
    return history, status


def step_times(until_s: float, steps: int = 40, *, first_s: float = 4.0) -> NDArray[Any]:
    """Times from 0 to `until_s` that start fine (for air and sinks) and grow (for the walls).

    The first step is `first_s`, or all are alike where that is enough.
    """
    k = np.arange(steps + 1) / steps
    if until_s <= first_s * steps:
        return until_s * k
    low, high = 1e-9, 40.0
    for _ in range(60):
        growth = 0.5 * (low + high)
        if until_s * np.expm1(growth / steps) / np.expm1(growth) > first_s:
            low = growth
        else:
            high = growth
    grown: NDArray[Any] = until_s * np.expm1(growth * k) / np.expm1(growth)
    return grown


def no_cooler(coolers: Any) -> NDArray[Any]:
    """Records of the same shape for a place without any cooler in it."""
    absent = np.zeros(len(coolers), dtype=COOLER)
    absent["pressure_Pa"] = coolers["pressure_Pa"]
    absent["hot_takes"] = 1
    absent["hot_sends"] = 1
    absent["hot_duct"]["surface_K"] = np.nan
    absent["power"]["lead_at"] = 1
    return absent


@parallel
def _pull_down_all(
    coolers: Any, places: Any, times_s: Any, frames: Any, runs: Any, history: Any, status: Any
) -> None:
    n = len(coolers)
    blocks = len(frames)
    for b in prange(blocks):
        for i in range(n * b // blocks, n * (b + 1) // blocks):
            status[i] = pull_down_one(
                coolers[i], places[i], times_s, frames[b], runs[b], history[i]
            )


@compiled
def pull_down_one(cooler: Any, place: Any, times_s: Any, frame: Any, run: Any, history: Any) -> int:
    """Follow one case into `history`."""
    walls, y, first, base = run.walls, run.stores, run.first, run.base
    x, o, work = frame.x, frame.o, frame.work
    frame.cold_flow_m3_s = 0.0
    frame.hot_flow_m3_s = 0.0
    frame.slopes_kept = 0
    begin(cooler, place, walls, y, x, o)
    n = unknowns(cooler, True)
    for k in range(len(times_s)):
        if k > 0:
            step_s = times_s[k] - times_s[k - 1]
            if k <= CREEPING_STEPS:
                status = creep(cooler, place, walls, step_s, y, base, x, frame, o, work)
            else:
                status = advance(cooler, place, walls, step_s, y, first, base, x, frame, o, work)
            if status != _SOLVED:
                return status
        history[k, AIR_K] = x[n - 2]
        history[k, HUMIDITY_RATIO] = x[n - 1] * 1e-3
        if cooler.cold_sinks > 0:
            history[k, COLD_BASE_K] = o[20] if k > 0 else place.air_K
        if cooler.hot_sinks > 0:
            history[k, HOT_BASE_K] = o[23] if k > 0 else o[2]
        history[k, PLUG_W] = o[6] if k > 0 else 0.0
        history[k, CONDENSATE_KG_S] = o[4]
    return _SOLVED
