"""Many designs made of parts, each run as well as its limits allow: the compiled search.

A part is assembled once into its own small record; `combine` lays the records of one part of each
kind side by side. Every design is then solved at some ten settings of voltage and fan speeds, each
chosen from what the ones before it have shown, and the best of them is kept.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
from numba import prange
from numpy.typing import NDArray

from coldwright.machine.cooler import RESULT
from coldwright.machine.place import see_steady_walls
from coldwright.machine.records import BLOCKS, FRAME
from coldwright.machine.search_drive import next_drive, volt_step
from coldwright.machine.search_point import (
    CASE,
    LIMITS,
    POINT,
    Aim,
    allowed_speed,
    other_speed,
    try_setting,
)
from coldwright.physics.compiled import compiled, parallel

__all__ = ["CASE", "FOUND", "LIMITS", "POINT", "POINTS", "Aim", "combine", "search"]

POINTS = 12
"""Room for the settings of one design; a few more are tried only where the search is `fine`."""
SLOWEST = 0.2
"""Slowest fan speed worth a look: below it most fans stop."""

FOUND = np.dtype(
    [
        ("best", POINT),  # the best setting, or the least bad one
        ("free", POINT),  # the best setting if no limit held, the goal apart
        ("tried", "i8"),  # settings that were solved or refused
    ],
    align=True,
)

# Shares of the highest voltage that a design is looked at first, and of a fan's speed after that.
_DRIVES = (0.2, 0.4, 0.65, 1.0)
_SLOWER = 0.65
# With a given voltage only the fans can be set: pairs of shares of the allowed speed.
_SPEEDS = ((1.0, 1.0), (0.75, 1.0), (1.0, 0.75), (0.75, 0.75), (0.5, 1.0), (1.0, 0.5), (0.5, 0.5),
           (0.35, 0.7), (0.35, 0.35))  # fmt: skip
# The finest steps of what a person sets.
_SPEED_STEP = 0.02
# Moves of a fine search: voltage, cold speed, hot speed.
_MOVES = ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1), (1, -1, 0),
          (-1, 1, 0), (1, 0, -1), (-1, 0, 1), (0, 1, -1), (0, -1, 1))  # fmt: skip
_MOST_FINE = 160


def combine(
    base: Any, pieces: Mapping[str, Any], choice: Mapping[str, NDArray[np.int64]], spacer_W_K: Any
) -> NDArray[Any]:
    """Records of coolers, each made of one part of each kind.

    Parameters
    ----------
    base
        Record array of shape (1,): what all designs share.
    pieces
        Records of each kind of part: ``module`` (`GROUP`), ``cold_sink``, ``hot_sink``,
        ``cold_fan``, ``hot_fan``, ``supply`` and ``converter`` (whole `POWER` records), and arrays:
        ``lead_ohm`` of each wire; ``series``, ``parallel`` and ``off`` of each wiring, shape
        (wirings, 2), where a second group without strings is none.
    choice
        For each kind, which part each design has; shape (n,).
    spacer_W_K
        Conductance beside the modules, shape (n,).

    Returns
    -------
    Array of `COOLER`, shape (n,).
    """
    n = len(choice["module"])
    coolers = np.repeat(base, n)
    for side in ("cold", "hot"):
        coolers[f"{side}_fan"] = pieces[f"{side}_fan"][choice[f"{side}_fan"]]
        coolers[f"{side}_sink"][:, 0] = pieces[f"{side}_sink"][choice[f"{side}_sink"]]
        coolers[f"{side}_sinks"] = np.minimum(base[f"{side}_sinks"], 1)
    power = coolers["power"]
    for part in ("supply", "converter"):
        chosen = pieces[part][choice[part]]
        for name in chosen.dtype.names:
            if name.startswith(part) or (part == "supply" and name == "lead_at"):
                power[name] = chosen[name]
    parallel_ = pieces["parallel"][choice["wiring"]]
    coolers["groups"] = np.where(parallel_[:, 1] > 0, 2, 1)
    for g in range(2):
        group = pieces["module"][choice["module"]]
        group["series"] = pieces["series"][choice["wiring"], g]
        group["parallel"] = parallel_[:, g]
        group["lead_ohm"] = pieces["lead_ohm"][choice["wire"]]
        off = pieces["off"][choice["wiring"], g]
        # Next to no current is an open circuit: heat leaks back, nothing is pumped.
        group["drive"] = np.where(off, 2, 1)
        group["drive_value"] = np.where(off, pieces["off_A"] * parallel_[:, g], 0.0)
        coolers["group"][:, g] = group
    coolers["spacer_W_K"] = spacer_W_K
    return coolers


def search(
    coolers: Any,
    place: Any,
    cases: Any,
    limits: Any,
    aim: Aim,
    *,
    with_place: bool,
    held_K: float = 0.0,
    fine: bool = False,
    start: Any | None = None,
) -> tuple[NDArray[Any], NDArray[Any]]:
    """Solve many designs, each at the settings that suit the aim best within the limits.

    Parameters
    ----------
    coolers
        Array of `COOLER`, shape (n,); what is set is overwritten.
    place
        Record array of shape (1,): the same for all.
    cases
        Array of `CASE`, shape (n,): what each design's own parts allow.
    limits
        One record of `LIMITS`, shape (1,).
    aim
        What makes one setting better than another.
    with_place
        Whether the steady place is solved too.
    held_K
        With `with_place`: the place's air is held at this temperature; 0: it is free.
    fine
        Whether to search on, in ever smaller steps, around what was found (or `start`).
    start
        Array of `POINT`, shape (n,): settings from which a fine search starts.

    Returns
    -------
    found, points
        Arrays of `FOUND`, shape (n,), and of `POINT`, shape (n, POINTS); unused points have the
        merit inf.
    """
    n = len(coolers)
    found = np.zeros(n, dtype=FOUND)
    points = np.zeros((n, POINTS), dtype=POINT)
    points["merit"] = np.inf
    points["broken"] = 1
    blocks = min(n, BLOCKS)
    frames = np.zeros(blocks, dtype=FRAME)
    frames["held_K"] = held_K
    results = np.zeros(blocks, dtype=RESULT)
    starts = np.zeros(n, dtype=POINT) if start is None else np.ascontiguousarray(start)
    _search_all(
        coolers, place, cases, limits, int(aim), with_place, fine, start is not None, starts,
        frames, results, points, found,
    )  # fmt: skip
    return found, points


@parallel
def _search_all(
    coolers: Any,
    places: Any,
    cases: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    fine: bool,
    started: bool,
    starts: Any,
    frames: Any,
    results: Any,
    points: Any,
    found: Any,
) -> None:
    n = len(coolers)
    blocks = len(frames)
    for b in prange(blocks):
        for i in range(n * b // blocks, n * (b + 1) // blocks):
            _search_one(
                coolers[i],
                places[0],
                cases[i],
                limits[0],
                aim,
                with_place,
                fine,
                started,
                starts[i],
                frames[b],
                results[b],
                points[i],
                found[i],
            )


@compiled
def _search_one(
    cooler: Any,
    place: Any,
    case: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    fine: bool,
    started: bool,
    start: Any,
    frame: Any,
    result: Any,
    points: Any,
    found: Any,
) -> None:
    x, o, work = frame.x, frame.o, frame.work
    frame.cold_flow_m3_s = 0.0
    frame.hot_flow_m3_s = 0.0
    warm = False
    if with_place:
        see_steady_walls(place, frame)
    found.best.merit = np.inf
    found.free.merit = np.inf
    speed = allowed_speed(case, limits)
    used = 0
    if started:
        points[0].drive_V = start.drive_V
        points[0].cold_speed = start.cold_speed
        points[0].hot_speed = start.hot_speed
        warm = try_setting(
            cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
            points[0],
        )  # fmt: skip
        used = 1
    elif case.fixed == 1:
        for pair in _SPEEDS:
            _set(points[used], case.top_V, pair[0] * speed, pair[1] * speed, True)
            warm = try_setting(
                cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
                points[used],
            )  # fmt: skip
            used += 1
    else:
        for share in _DRIVES:
            _set(points[used], share * case.top_V, speed, speed, False)
            warm = try_setting(
                cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
                points[used],
            )  # fmt: skip
            used += 1
            # More volts break what is broken already only further.
            if points[used - 1].over > 0.0:
                break
        for _ in range(2):
            drive_V = next_drive(points, used, aim, case.top_V)
            _set(points[used], drive_V, speed, speed, False)
            warm = try_setting(
                cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
                points[used],
            )  # fmt: skip
            used += 1
        used, warm = _slower_fans(
            cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result, points,
            used, speed,
        )  # fmt: skip
    for k in range(used):
        _keep(points[k], found)
    found.tried = used
    if fine:
        found.tried += _finely(
            cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
            points[POINTS - 1], found,
        )  # fmt: skip


@compiled
def _slower_fans(
    cooler: Any,
    place: Any,
    case: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    warm: bool,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
    result: Any,
    points: Any,
    used: int,
    speed: float,
) -> Any:
    """Each fan slower at the best voltage so far, then what was better a second time."""
    before = used
    best = _best(points, used)
    drive_V = points[best].drive_V
    merit = points[best].merit
    # Where the sound is what holds both fans back, the one may be faster when the other is slower.
    slow = _SLOWER * speed
    cold_up = hot_up = speed
    if speed < 1.0:
        hot_up = other_speed(case.cold_dB, case.hot_dB, slow, limits.sound_dB)
        cold_up = other_speed(case.hot_dB, case.cold_dB, slow, limits.sound_dB)
    better = 0  # 1: a slower cold fan, 2: a slower hot fan, 3: both
    for k in range(2):
        cold, hot = (slow, hot_up) if k == 0 else (cold_up, slow)
        _set(points[used], drive_V, cold, hot, False)
        warm = try_setting(
            cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
            points[used],
        )  # fmt: skip
        if points[used].merit < merit:
            better += k + 1
        used += 1
    while better > 0 and used < POINTS - 1:
        slow *= _SLOWER
        cold, hot = (slow, hot_up) if better == 1 else (cold_up, slow)
        if better == 3:
            cold = hot = slow if used > before + 2 else slow / _SLOWER
        best = _best(points, used)
        _set(points[used], points[best].drive_V, cold, hot, False)
        warm = try_setting(
            cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
            points[used],
        )  # fmt: skip
        used += 1
        if not points[used - 1].merit < points[best].merit or slow < SLOWEST:
            break
    return used, warm


@compiled
def _finely(
    cooler: Any,
    place: Any,
    case: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    warm: bool,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
    result: Any,
    point: Any,
    found: Any,
) -> int:
    """Steps of half the length each time, in every direction, down to the finest."""
    tried = 0
    step_V = volt_step(found.best.drive_V)
    volts = max(1.0, 2.0 ** math.floor(math.log2(max(case.top_V / 16.0 / step_V, 1.0))))
    speeds = 4.0
    while True:
        moved = True
        while moved and tried < _MOST_FINE:
            moved = False
            for move in _MOVES:
                if case.fixed == 1 and move[0] != 0:
                    continue
                before = found.best
                step_V = volt_step(before.drive_V)
                drive_V = before.drive_V + move[0] * volts * step_V
                cold = before.cold_speed + move[1] * speeds * _SPEED_STEP
                hot = before.hot_speed + move[2] * speeds * _SPEED_STEP
                possible = 0.5 * step_V < drive_V <= case.top_V + 1e-9
                possible = possible and SLOWEST - 1e-9 <= cold <= 1.0 + 1e-9
                if not (possible and SLOWEST - 1e-9 <= hot <= 1.0 + 1e-9):
                    continue
                _set(point, drive_V, cold, hot, case.fixed == 1)
                warm = try_setting(
                    cooler, place, case, limits, aim, with_place, warm, x, frame, o, work, result,
                    point,
                )  # fmt: skip
                tried += 1
                better = point.merit < found.best.merit - 1e-9
                _keep(point, found)
                if better:
                    moved = True
                    break
        if volts <= 1.0 and speeds <= 1.0:
            break
        volts = max(0.5 * volts, 1.0)
        speeds = max(0.5 * speeds, 1.0)
    point.merit = np.inf
    point.broken = 1
    return tried


@compiled
def _set(point: Any, drive_V: float, cold: float, hot: float, fixed: bool) -> None:
    """A setting in steps that a person can set; a given voltage stays as it is."""
    if not fixed:
        step_V = volt_step(drive_V)
        drive_V = max(step_V * math.floor(drive_V / step_V + 1e-6), step_V)
    point.drive_V = drive_V
    point.cold_speed = _SPEED_STEP * math.floor(max(cold, SLOWEST) / _SPEED_STEP + 1e-6)
    point.hot_speed = _SPEED_STEP * math.floor(max(hot, SLOWEST) / _SPEED_STEP + 1e-6)


@compiled
def _keep(point: Any, found: Any) -> None:
    """Keep a point if it is the best within the limits, or the best without them."""
    if point.merit < found.best.merit:
        _copy(point, found.best)
    if (point.solved == 1 and point.cost < found.free.cost) or found.free.merit == np.inf:
        _copy(point, found.free)


@compiled
def _copy(point: Any, to: Any) -> None:
    to.drive_V = point.drive_V
    to.cold_speed = point.cold_speed
    to.hot_speed = point.hot_speed
    to.level_K = point.level_K
    to.net_W = point.net_W
    to.level_or_net = point.level_or_net
    to.plug_W = point.plug_W
    to.sound_dB = point.sound_dB
    to.hot_face_K = point.hot_face_K
    to.cold_sink_K = point.cold_sink_K
    to.over = point.over
    to.lack = point.lack
    to.cost = point.cost
    to.merit = point.merit
    to.broken = point.broken
    to.solved = point.solved


@compiled
def _best(points: Any, used: int) -> int:
    best = 0
    for k in range(1, used):
        if points[k].merit < points[best].merit:
            best = k
    return best
