"""The only door to root finding: damped Newton, and a slower way when it does not arrive.

A solve is called solved only when its residuals, evaluated here in watts, are small; otherwise it
says why there is no answer.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coldwright.machine.balance import residuals, unknowns
from coldwright.machine.frame import set_flows
from coldwright.machine.jacobian import difference_jacobian
from coldwright.machine.linear import back_substitute, factor, largest_of
from coldwright.machine.records import MAX_UNKNOWNS, OUTPUTS, End, SinkKind, Status
from coldwright.machine.walk import (
    allowed_residual,
    first_guess,
    keep_inside,
    walk,
)
from coldwright.physics.compiled import compiled
from coldwright.physics.moist_air import humidity_ratio_saturated

_PLACE = int(End.PLACE)
_PLATE = int(SinkKind.PLATE_LOAD)
_PLATE_FIN = int(SinkKind.PLATE_FIN)
_SOLVED = int(Status.SOLVED)
_NO_FLOW = int(Status.NO_FLOW)
_TOO_GOOD = int(Status.SINK_TOO_GOOD)
_CANNOT_PUMP = int(Status.CANNOT_PUMP)
_NOT_CONVERGED = int(Status.NOT_CONVERGED)
_BAD_INPUT = int(Status.BAD_INPUT)
_OUT_OF_RANGE = int(Status.OUT_OF_RANGE)
_RUNAWAY = int(Status.RUNAWAY)
# Modules that take more than this [W] get hotter without end, whatever the hot side is.
_ABSURD_W = 1e6


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
        first_guess(cooler, place, place_K, place_water, with_place, x)
    cold_K, cold_water, hot_K, hot_water = _fan_states(
        cooler, place, place_K, place_water, with_place, n, x, o, warm
    )
    frame.inverse_step_1_s = 0.0
    frame.slopes_kept = 0
    old_cold = -1.0
    old_hot = -1.0
    status = _NOT_CONVERGED
    for _ in range(40):
        if not set_flows(cooler, place, cold_K, cold_water, hot_K, hot_water, frame):
            return _NO_FLOW
        for s in range(cooler.cold_sinks):
            if math.isnan(frame.cold_conductance_W_K[s]) and cooler.cold_sink[s].kind != _PLATE:
                return _no_conductance(cooler.cold_sink[s])
        for s in range(cooler.hot_sinks):
            if math.isnan(frame.hot_conductance_W_K[s]):
                return _no_conductance(cooler.hot_sink[s])
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
            status = walk(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)
        if status == _NOT_CONVERGED:
            status = newton(cooler, frame, place, place_K, place_water, with_place, n, x, o, work)
        if status == _NOT_CONVERGED and not abs(o[5]) < _ABSURD_W:
            return _RUNAWAY
        if status != _SOLVED:
            return status
        before = (cold_K, cold_water, hot_K, hot_water)
        cold_K, cold_water, hot_K, hot_water = _fan_states(
            cooler, place, place_K, place_water, with_place, n, x, o, True
        )
        if (cold_K, cold_water, hot_K, hot_water) == before:
            return _SOLVED
    return status


@compiled
def _no_conductance(sink: Any) -> int:
    """Why a sink has no conductance: its number is better than can be, or its law ends before."""
    return _OUT_OF_RANGE if sink.kind == _PLATE_FIN else _TOO_GOOD


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
    possible = residuals(cooler, frame, place, place_K, place_water, with_place, x, f, o)
    norm = largest_of(f, n)
    if math.isnan(norm):
        return _BAD_INPUT
    fresh = False
    # In time the last step of equal length had nearly the same slopes.
    kept = frame.slopes_kept == 1 and frame.slopes_step_1_s == frame.inverse_step_1_s
    have = kept and frame.inverse_step_1_s > 0.0
    for _ in range(60):
        if norm <= allowed_residual(frame, o):
            return _SOLVED if possible else _CANNOT_PUMP
        if not have:
            difference_jacobian(
                cooler, frame, place, place_K, place_water, with_place, n, x, f, o, trial, jacobian
            )
            frame.slopes_kept = 0
            if not factor(jacobian, pivot, n):
                return _NOT_CONVERGED
            frame.slopes_kept = 1
            frame.slopes_step_1_s = frame.inverse_step_1_s
            have = True
            fresh = True
        for i in range(n):
            step[i] = -f[i]
        back_substitute(jacobian, pivot, step, n)
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
            keep_inside(cooler, with_place, n, trial)
            possible = residuals(
                cooler, frame, place, place_K, place_water, with_place, trial, work[4], o
            )
            after = largest_of(work[4], n)
            if after < norm * (1.0 - 1e-4 * scale):
                better = True
                break
            scale *= 0.5
            if not fresh:
                break
        if not better:
            if fresh:
                # At the floor of the arithmetic a residual may stop falling just above the mark.
                possible = residuals(
                    cooler, frame, place, place_K, place_water, with_place, x, f, o
                )
                if norm <= 20.0 * allowed_residual(frame, o):
                    return _SOLVED if possible else _CANNOT_PUMP
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
    """State of the air at each fan's inlet: what comes in, or the sinks' outlet if it sucks."""
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
    i = n - 2 if with_place else n
    if cooler.hot_recirculation > 0.0:
        i -= 1
        if known:
            hot_K = x[i]
            hot_water += cooler.hot_recirculation * (o[3] - hot_water)
    if cooler.cold_recirculation > 0.0 and known:
        cold_K, cold_water = x[i - 2], x[i - 1] * 1e-3
    if known and cooler.cold_fan.after_sink == 1 and cooler.cold_sinks > 0:
        cold_K, cold_water = o[17], min(o[1], humidity_ratio_saturated(o[17], cooler.pressure_Pa))
    if known and cooler.hot_fan.after_sink == 1 and cooler.hot_sinks > 0:
        hot_K, hot_water = o[18], o[3]
    return cold_K, cold_water, hot_K, hot_water


__all__ = ["OUTPUTS", "new_work", "newton", "solve_point"]
