"""The only door to root finding: damped Newton, and two slower ways when it does not arrive.

A solve is called solved only when its residuals, evaluated here in watts, are small; otherwise it
says why there is no answer.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coldwright.machine.balance import MAX_UNKNOWNS, balance, unknowns
from coldwright.machine.frame import set_flows
from coldwright.machine.records import MAX_SINKS, End, SinkKind, Status
from coldwright.physics.compiled import compiled
from coldwright.physics.moist_air import humidity_ratio_saturated

# Largest residual of a solved case, relative to the largest flow of heat in it (at least 1 W).
TOLERANCE = 1e-10
OUTPUTS = 20 + 2 * MAX_SINKS

_PLACE = int(End.PLACE)
_PLATE = int(SinkKind.PLATE_LOAD)
_SOLVED = int(Status.SOLVED)
_RUNAWAY = int(Status.RUNAWAY)
_NO_FLOW = int(Status.NO_FLOW)
_TOO_GOOD = int(Status.SINK_TOO_GOOD)
_CANNOT_PUMP = int(Status.CANNOT_PUMP)
_NOT_CONVERGED = int(Status.NOT_CONVERGED)
_BAD_INPUT = int(Status.BAD_INPUT)

# Beyond this a base plate is far outside every law used here and still rising: no steady state.
HOTTEST_K = 470.0
COLDEST_K = 175.0


@compiled
def solve_point(
    cooler: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    warm: bool,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
) -> int:
    """Solve the cooler (and with `with_place` the steady place) from the sheet's numbers.

    `x` holds the unknowns: a start if `warm`, the solution afterwards. `frame`, `o` and `work` are
    scratch space of one case (`new_work`). Returns a `Status`.
    """
    n = unknowns(cooler, with_place)
    if not warm:
        _start(cooler, place, place_K, place_water, with_place, x)
    cold_K, cold_water, hot_K, hot_water = _fan_states(
        cooler, place, place_K, place_water, with_place, n, x, o, warm
    )
    frame.inverse_step_1_s = 0.0
    frame.damping_W_K = 0.0
    old_cold = -1.0
    old_hot = -1.0
    status = _NOT_CONVERGED
    for _ in range(40):
        if not set_flows(cooler, place, cold_K, cold_water, hot_K, hot_water, frame):
            return _NO_FLOW
        for s in range(cooler.cold_sinks):
            if math.isnan(frame.cold_conductance_W_K[s]) and cooler.cold_sink[s].kind != _PLATE:
                return _TOO_GOOD
        for s in range(cooler.hot_sinks):
            if math.isnan(frame.hot_conductance_W_K[s]):
                return _TOO_GOOD
        same = (
            abs(frame.cold_kg_s - old_cold) <= 1e-12 * frame.cold_kg_s
            and abs(frame.hot_kg_s - old_hot) <= 1e-12 * frame.hot_kg_s
        )
        if same and status == _SOLVED:
            return _SOLVED
        old_cold = frame.cold_kg_s
        old_hot = frame.hot_kg_s
        status = newton(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)
        if status == _NOT_CONVERGED:
            status = _walk(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)
        if status != _SOLVED:
            return status
        cold_K, cold_water, hot_K, hot_water = _fan_states(
            cooler, place, place_K, place_water, with_place, n, x, o, True
        )
    return status


@compiled
def new_work() -> Any:
    """Scratch arrays of one case: residuals, steps, Jacobian, pivots."""
    return np.empty((MAX_UNKNOWNS + 6, MAX_UNKNOWNS))


@compiled
def newton(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    n: int,
    x: Any,
    o: Any,
    work: Any,
) -> int:
    """Damped Newton on `balance` with a difference Jacobian that is kept while it serves well."""
    f = work[0]
    trial = work[1]
    step = work[2]
    pivot = work[3]
    jacobian = work[6:]
    possible = balance(cooler, frame, place, place_K, place_water, with_place, x, f, o)
    norm = _norm(f, n)
    if math.isnan(norm):
        return _BAD_INPUT
    fresh = False
    have = False
    for _ in range(60):
        if norm <= TOLERANCE * max(1.0, abs(o[5]), abs(o[6])):
            return _SOLVED if possible else _CANNOT_PUMP
        if not have:
            for j in range(n):
                keep = x[j]
                delta = 1e-5 if not (with_place and j == n - 1) else 1e-6
                x[j] = keep + delta
                balance(cooler, frame, place, place_K, place_water, with_place, x, trial, o)
                x[j] = keep
                for i in range(n):
                    jacobian[i, j] = (trial[i] - f[i]) / delta
            if not _factor(jacobian, pivot, n):
                return _NOT_CONVERGED
            have = True
            fresh = True
        for i in range(n):
            step[i] = -f[i]
        _solve(jacobian, pivot, step, n)
        largest = 0.0
        for i in range(n):
            largest = max(largest, abs(step[i]))
        if not largest < 1e12:
            return _NOT_CONVERGED
        scale = min(1.0, 25.0 / largest)
        better = False
        for _ in range(12):
            for i in range(n):
                trial[i] = x[i] + scale * step[i]
            _keep_inside(cooler, with_place, n, trial)
            possible = balance(
                cooler, frame, place, place_K, place_water, with_place, trial, work[4], o
            )
            after = _norm(work[4], n)
            if after < norm * (1.0 - 1e-4 * scale):
                better = True
                break
            scale *= 0.5
            if not fresh:
                break
        if not better:
            if fresh:
                # At the floor of the arithmetic a residual may stop falling just above the mark.
                balance(cooler, frame, place, place_K, place_water, with_place, x, f, o)
                if norm <= 20.0 * TOLERANCE * max(1.0, abs(o[5]), abs(o[6])):
                    return _SOLVED
                return _NOT_CONVERGED
            have = False
            continue
        for i in range(n):
            x[i] = trial[i]
            f[i] = work[4, i]
        if after > 0.05 * norm:
            have = False
        fresh = False
        norm = after
    return _NOT_CONVERGED


@compiled
def _walk(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    n: int,
    x: Any,
    o: Any,
    work: Any,
) -> int:
    """Follow the bases as if they had mass, from the surroundings on, with growing steps.

    This goes where the real machine would go after switching on, so it finds the state that it
    would reach; when the hot base passes every bound on the way, there is none: thermal runaway.
    """
    n_cold = cooler.cold_sinks
    n_hot = cooler.hot_sinks
    _start(cooler, place, place_K, place_water, with_place, x)
    for s in range(n_cold):
        frame.cold_base_old_K[s] = x[s]
    for s in range(n_hot):
        frame.hot_base_old_K[s] = x[n_cold + s]
    damping = 50.0
    for _ in range(400):
        frame.damping_W_K = damping
        for i in range(n):
            work[5, i] = x[i]
        status = newton(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)
        if status != _SOLVED and status != _CANNOT_PUMP:
            for i in range(n):
                x[i] = work[5, i]
            damping *= 4.0
            if damping > 1e7:
                break
            continue
        moved = 0.0
        for s in range(n_cold):
            moved = max(moved, abs(o[20 + s] - frame.cold_base_old_K[s]))
            frame.cold_base_old_K[s] = o[20 + s]
        for s in range(n_hot):
            base_K = o[20 + MAX_SINKS + s]
            moved = max(moved, abs(base_K - frame.hot_base_old_K[s]))
            frame.hot_base_old_K[s] = base_K
            if base_K > HOTTEST_K - 5.0:
                frame.damping_W_K = 0.0
                return _RUNAWAY
        if moved < 2.0:
            damping *= 0.4
        if damping < 1e-3:
            break
    frame.damping_W_K = 0.0
    return newton(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)


@compiled
def _start(
    cooler: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    x: Any,
) -> None:
    """A first guess: cold parts a little below their air, hot parts a little above."""
    cold_K = place_K if cooler.cold_takes == _PLACE else place.outdoor_K
    hot_K = place_K if cooler.hot_takes == _PLACE else place.outdoor_K
    i = 0
    for _ in range(cooler.cold_sinks):
        x[i] = cold_K - 3.0
        i += 1
    for _ in range(cooler.hot_sinks):
        x[i] = hot_K + 5.0
        i += 1
    for g in range(cooler.groups):
        if cooler.group[g].stages == 2:
            x[i] = cold_K - 12.0
            x[i + 1] = 0.5 * (cold_K + hot_K) + 1.0
            x[i + 2] = 0.5 * (cold_K + hot_K) - 1.0
            x[i + 3] = hot_K + 8.0
            i += 4
        else:
            x[i] = cold_K - 6.0
            x[i + 1] = hot_K + 8.0
            i += 2
    if cooler.cold_recirculation > 0.0:
        x[i] = cold_K
        x[i + 1] = place_water * 1e3
        i += 2
    if cooler.hot_recirculation > 0.0:
        x[i] = hot_K
        i += 1
    if with_place:
        x[i] = place_K
        x[i + 1] = place_water * 1e3


@compiled
def _fan_states(
    cooler: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    n: int,
    x: Any,
    o: Any,
    known: bool,
) -> Any:
    """State of the air at each fan's inlet: the source, or the sink's outlet if the fan sucks."""
    if with_place:
        place_K = x[n - 2]
        place_water = x[n - 1] * 1e-3
    if cooler.cold_takes == _PLACE:
        cold_K, cold_water = place_K, place_water
    else:
        cold_K, cold_water = place.outdoor_K, place.outdoor_humidity_ratio
    if cooler.hot_takes == _PLACE:
        hot_K, hot_water = place_K, place_water
    else:
        hot_K, hot_water = place.outdoor_K, place.outdoor_humidity_ratio
    if known and cooler.cold_fan.after_sink == 1 and cooler.cold_sinks > 0:
        cold_K, cold_water = o[0], min(o[1], humidity_ratio_saturated(o[0], cooler.pressure_Pa))
    if known and cooler.hot_fan.after_sink == 1 and cooler.hot_sinks > 0:
        hot_K, hot_water = o[2], o[3]
    return cold_K, cold_water, hot_K, hot_water


@compiled
def _keep_inside(cooler: Any, with_place: bool, n: int, x: Any) -> None:
    """Keep iterates where every law has a value."""
    faces = cooler.cold_sinks + cooler.hot_sinks
    for i in range(faces):
        x[i] = min(max(x[i], COLDEST_K), HOTTEST_K)
    end = n - 2 if with_place else n
    for i in range(faces, end):
        if x[i] > 100.0:  # a temperature; water in g/kg is far below
            x[i] = min(x[i], 900.0)
    if with_place:
        x[n - 2] = min(max(x[n - 2], 200.0), 400.0)
        x[n - 1] = min(max(x[n - 1], 0.0), 400.0)


@compiled
def _norm(f: Any, n: int) -> float:
    largest = 0.0
    for i in range(n):
        if math.isnan(f[i]):
            return math.nan
        largest = max(largest, abs(f[i]))
    return largest


@compiled
def _factor(a: Any, pivot: Any, n: int) -> bool:
    """LU factors in place with row pivoting; False where the matrix is singular."""
    for k in range(n):
        best = k
        for i in range(k + 1, n):
            if abs(a[i, k]) > abs(a[best, k]):
                best = i
        pivot[k] = best
        if best != k:
            for j in range(n):
                a[k, j], a[best, j] = a[best, j], a[k, j]
        if not abs(a[k, k]) > 0.0:
            return False
        for i in range(k + 1, n):
            if a[i, k] != 0.0:
                a[i, k] /= a[k, k]
                for j in range(k + 1, n):
                    a[i, j] -= a[i, k] * a[k, j]
    return True


@compiled
def _solve(a: Any, pivot: Any, b: Any, n: int) -> None:
    for k in range(n):
        best = int(pivot[k])
        if best != k:
            b[k], b[best] = b[best], b[k]
    for k in range(n):
        for i in range(k + 1, n):
            b[i] -= a[i, k] * b[k]
    for k in range(n - 1, -1, -1):
        for j in range(k + 1, n):
            b[k] -= a[k, j] * b[j]
        b[k] /= a[k, k]
