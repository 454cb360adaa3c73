"""One design at many settings: volts (or what is set) and both fan speeds, as a map."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import prange
from numpy.typing import NDArray

from coldwright.machine.chain_map import ChainLosses
from coldwright.machine.cooler import RESULT, write_result
from coldwright.machine.place import see_steady_walls
from coldwright.machine.records import FRAME, MAX_GROUPS, Status
from coldwright.machine.solve import solve_point
from coldwright.physics.compiled import compiled, parallel

_SOLVED = int(Status.SOLVED)


def map_settings(
    cooler: Any,
    place: Any,
    drive: Any,
    cold_speed: Any,
    hot_speed: Any,
    *,
    with_place: bool,
    chain: ChainLosses | None = None,
) -> NDArray[Any]:
    """Solve one design at every combination of settings.

    Parameters
    ----------
    cooler, place
        Record arrays of shape (1,).
    drive
        Factors on what every group is set to, shape (i,); rising, so that each point starts from
        its neighbour.
    cold_speed, hot_speed
        Speeds of the fans as shares of full speed, shapes (j,) and (k,).
    with_place
        Whether the steady place is solved too.
    chain
        What the power chain loses at each setting; None: what the record holds, at every one.

    Returns
    -------
    Array of `RESULT`, shape (i, j, k).
    """
    drives = np.ascontiguousarray(drive, dtype=float)
    pairs = np.array([(c, h) for c in cold_speed for h in hot_speed], dtype=float)
    scratch = np.repeat(cooler, len(pairs))
    extra_W = np.empty((len(pairs), len(drives)))
    extra_W[:] = cooler["power"]["extra_W"][0]
    ratio = np.ones((len(drives), MAX_GROUPS))
    if chain is not None:
        extra_W[:] = chain.extra_W.reshape(len(drives), len(pairs)).T
        ratio[:] = chain.drive_ratio
    results = np.zeros((len(pairs), len(drives)), dtype=RESULT)
    frames = np.zeros(len(pairs), dtype=FRAME)
    _map_all(scratch, place, pairs, drives, extra_W, ratio, with_place, frames, results)
    return results.T.reshape(len(drives), len(cold_speed), len(hot_speed))


@parallel
def _map_all(
    scratch: Any,
    places: Any,
    pairs: Any,
    drives: Any,
    extra_W: Any,
    ratio: Any,
    with_place: bool,
    frames: Any,
    results: Any,
) -> None:
    for i in prange(len(pairs)):
        map_one(
            scratch[i], places[0], pairs[i], drives, extra_W[i], ratio, with_place, frames[i],
            results[i],
        )  # fmt: skip


@compiled
def map_one(
    cooler: Any,
    place: Any,
    speeds: Any,
    drives: Any,
    extra_W: Any,
    ratio: Any,
    with_place: bool,
    frame: Any,
    results: Any,
) -> None:
    """One pair of fan speeds over all drives; `cooler` is a scratch record."""
    cooler.cold_fan.speed = speeds[0]
    cooler.hot_fan.speed = speeds[1]
    full = np.empty(MAX_GROUPS)
    for g in range(cooler.groups):
        full[g] = cooler.group[g].drive_value
    x, o, work = frame.x, frame.o, frame.work
    frame.cold_flow_m3_s = 0.0
    frame.hot_flow_m3_s = 0.0
    if with_place:
        see_steady_walls(place, frame)
    warm = False
    for k in range(len(drives)):
        for g in range(cooler.groups):
            cooler.group[g].drive_value = full[g] * drives[k] * ratio[k, g]
        cooler.power.controller_W += extra_W[k] - cooler.power.extra_W
        cooler.power.extra_W = extra_W[k]
        air_K = place.air_K
        water = place.humidity_ratio
        status = solve_point(cooler, place, air_K, water, with_place, warm, x, frame, o, work)
        results[k].status = status
        warm = status == _SOLVED
        if warm:
            write_result(cooler, place, air_K, water, with_place, x, frame, o, results[k])
