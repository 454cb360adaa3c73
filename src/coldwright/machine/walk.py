"""The slow way to a steady state: follow the machine from switching on, as if all of it had mass.

Where Newton's method does not arrive, the unknowns are moved by implicit steps in a time of their
own that grow as things come to rest (pseudo-transient continuation; C. T. Kelley and D. E. Keyes,
SIAM Journal on Numerical Analysis 35, 1998, 508-523, from memory). This goes where the real machine
would go, so it finds the state that would be reached; when a part passes every bound on the way,
there is none: thermal runaway.
"""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.balance import residuals
from coldwright.machine.jacobian import difference_jacobian
from coldwright.machine.linear import back_substitute, factor, largest_of
from coldwright.machine.records import End, Status
from coldwright.physics.compiled import compiled, inlined

# Largest residual of a solved case, relative to the largest flow of heat in it (at least 1 W).
TOLERANCE = 1e-10
# Beyond this a part is far outside every law used here and still rising: no steady state.
HOTTEST_K = 470.0
COLDEST_K = 175.0
HOTTEST_STREAM_K = 550.0
HOTTEST_PLACE_K = 400.0
COLDEST_PLACE_K = 200.0
WETTEST_PLACE_G_KG = 400.0

_PLACE = int(End.PLACE)
_SOLVED = int(Status.SOLVED)
_RUNAWAY = int(Status.RUNAWAY)
_CANNOT_PUMP = int(Status.CANNOT_PUMP)
_NOT_CONVERGED = int(Status.NOT_CONVERGED)
_BAD_INPUT = int(Status.BAD_INPUT)
_OUT_OF_RANGE = int(Status.OUT_OF_RANGE)

# Farthest that any part moves in one step, and below what the next step is longer [K].
_FARTHEST_K = 8.0
_NEAR_K = 3.0
_STEPS = 2000
# A step that raises the residual by more was too long.
_MOST_GROWTH = 3.0
# Heat capacities relative to that of a base plate, per module.
_FACE, _STREAM, _AIR = 0.05, 0.05, 5.0
# Water of the place in g/kg against its air in K: latent heat over specific heat of air, per gram.
_WATER = 2.5


@inlined
def allowed_residual(frame: Any, o: Any) -> float:
    """Largest residual [W] that counts as solved.

    In a very short step the change of a store is the difference of two large numbers, and their
    rounding sets a floor that no iteration can pass.
    """
    flows_W = max(1.0, abs(o[5]), abs(o[6]))
    rounding_W = 4e-15 * frame.inverse_step_1_s * (abs(frame.place_J_old) + 1e6)
    return TOLERANCE * flows_W + rounding_W


@compiled
def walk(
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
    """Follow the machine from its first guess to rest; `x` holds the state where it ends."""
    f, after, step, pivot = work[0], work[1], work[2], work[3]
    before, capacity, jacobian = work[4], work[5], work[6:]
    frame.slopes_kept = 0  # their place is needed here
    first_guess(cooler, place, place_K, place_water, with_place, x)
    _capacities(cooler, with_place, n, capacity)
    # Vapour that gathers in the place brings its enthalpy, not its temperature, along.
    vapour = capacity[n - 1] if with_place and frame.held_K == 0.0 else 0.0
    possible = residuals(cooler, frame, place, place_K, place_water, with_place, x, f, o)
    norm = largest_of(f, n)
    if math.isnan(norm):
        return _BAD_INPUT
    inverse_time, ease = 50.0, 0.3
    for i in range(n):
        before[i] = x[i]
    missed = not possible
    for _ in range(_STEPS):
        if norm <= allowed_residual(frame, o):
            return _SOLVED if possible else _CANNOT_PUMP
        difference_jacobian(
            cooler, frame, place, place_K, place_water, with_place, n, x, f, o, after, jacobian
        )
        for i in range(n):
            for j in range(n):
                jacobian[i, j] = -jacobian[i, j]
            jacobian[i, i] += inverse_time * capacity[i]
            step[i] = f[i]
        if vapour > 0.0:
            jacobian[n - 2, n - 1] += inverse_time * vapour
        if factor(jacobian, pivot, n):
            back_substitute(jacobian, pivot, step, n)
            farthest = largest_of(step, n)
        else:
            farthest = math.inf
        # A long step may jump over a narrow place that is passed slowly, or over a kink, and back
        # again: no step may go against the way things move, nor far up in the residual.
        good = farthest <= _FARTHEST_K and _along(f, step, capacity, vapour, n) >= 0.0
        turned = 0.0
        for i in range(n):
            turned += step[i] * (x[i] - before[i])
            before[i] = x[i]
        if good:
            for i in range(n):
                x[i] = before[i] + step[i]
            status = _beyond(cooler, with_place, n, x)
            if status != _SOLVED:
                return status if possible else _CANNOT_PUMP
            keep_inside(cooler, with_place, n, x)
            met = residuals(cooler, frame, place, place_K, place_water, with_place, x, after, o)
            norm_after = largest_of(after, n)
            good = norm_after <= _MOST_GROWTH * norm
        if not good:
            inverse_time *= 4.0
            if inverse_time > 1e15:
                return _NOT_CONVERGED
            for i in range(n):
                x[i] = before[i]
            continue
        if turned < 0.0 and norm_after > norm:
            # To and fro over a kink: shorter steps, and slower to lengthen them again.
            inverse_time *= 4.0
            ease = min(math.sqrt(ease), 0.7)
        elif farthest < _NEAR_K:
            inverse_time = max(ease * inverse_time, 1e-12)
        possible, norm = met, norm_after
        missed = missed or not met
        for i in range(n):
            f[i] = after[i]
    # A wanted heat that is met and missed by turns, without end, cannot be kept up.
    return _CANNOT_PUMP if missed else _NOT_CONVERGED


@compiled
def _along(f: Any, step: Any, capacity: Any, vapour: float, n: int) -> float:
    """Positive where a step goes the way in which the residuals push."""
    along = 0.0
    for i in range(n):
        push = f[i] - f[n - 1] if vapour > 0.0 and i == n - 2 else f[i]
        along += push * step[i] if capacity[i] > 0.0 else -push * step[i]
    return along


@compiled
def first_guess(
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


@inlined
def keep_inside(cooler: Any, with_place: bool, n: int, x: Any) -> None:
    """Keep iterates where every law has a value."""
    faces = cooler.cold_sinks + cooler.hot_sinks
    for i in range(faces):
        x[i] = min(max(x[i], COLDEST_K), HOTTEST_K)
    end = n - 2 if with_place else n
    for i in range(faces, end):
        if x[i] > 100.0:  # a temperature; water in g/kg is far below
            x[i] = min(x[i], 900.0)
    if with_place:
        x[n - 2] = min(max(x[n - 2], COLDEST_PLACE_K), HOTTEST_PLACE_K)
        x[n - 1] = min(max(x[n - 1], 0.0), WETTEST_PLACE_G_KG)


@compiled
def _capacities(cooler: Any, with_place: bool, n: int, capacity: Any) -> None:
    """How slowly each unknown follows its residual; negative where the residual cools it."""
    modules = 0.0
    for g in range(cooler.groups):
        modules += cooler.group[g].series * cooler.group[g].parallel
    i = 0
    for _ in range(cooler.cold_sinks + cooler.hot_sinks):
        capacity[i] = modules
        i += 1
    for g in range(cooler.groups):
        capacity[i] = _FACE
        if cooler.group[g].stages == 2:
            capacity[i + 1] = -_FACE
            capacity[i + 2] = _FACE
            i += 2
        capacity[i + 1] = -_FACE
        i += 2
    while i < n:
        capacity[i] = _STREAM
        i += 1
    if with_place:
        capacity[n - 2] = _AIR * modules
        capacity[n - 1] = _AIR * _WATER * modules


@compiled
def _beyond(cooler: Any, with_place: bool, n: int, x: Any) -> int:
    """Whether a part has left every range; hot or cold."""
    parts = cooler.cold_sinks + cooler.hot_sinks
    for g in range(cooler.groups):
        parts += 4 if cooler.group[g].stages == 2 else 2
    hottest, coldest = 0.0, 1e9
    for i in range(parts):
        hottest = max(hottest, x[i])
        coldest = min(coldest, x[i])
    if cooler.hot_recirculation > 0.0:
        # Exhaust that goes round and round and takes up more heat each time.
        again = parts + (2 if cooler.cold_recirculation > 0.0 else 0)
        if x[again] >= HOTTEST_STREAM_K:
            return _RUNAWAY
        if x[again] <= COLDEST_K:
            return _OUT_OF_RANGE
    if hottest >= HOTTEST_K or (with_place and x[n - 2] >= HOTTEST_PLACE_K):
        return _RUNAWAY
    if coldest <= COLDEST_K or (with_place and x[n - 2] <= COLDEST_PLACE_K):
        return _OUT_OF_RANGE
    if with_place and x[n - 1] >= WETTEST_PLACE_G_KG:
        return _OUT_OF_RANGE
    return _SOLVED
