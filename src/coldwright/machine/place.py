"""The place in time: walls by finite volumes, contents, moisture buffer, and the stepping.

One step of two implicit stages (the L-stable, second-order method of Alexander 1977 with
gamma = 1 - 1/sqrt 2). Everything that stores is advanced by the flows that were solved for, so what
went in and out over a step equals the change of the stores.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coldwright.machine.balance import dry_air, unknowns
from coldwright.machine.frame import set_flows
from coldwright.machine.records import (
    MAX_LAYERS,
    MAX_NODES,
    MAX_SINKS,
    MAX_SURFACES,
    Status,
)
from coldwright.machine.solve import _fan_states, newton
from coldwright.machine.walk import first_guess
from coldwright.physics.compiled import compiled
from coldwright.physics.moist_air import enthalpy

GAMMA = 1.0 - 1.0 / math.sqrt(2.0)

# The store vector: energy and water of the air, contents, buffer, bases of the sinks, wall nodes.
AIR_J = 0
AIR_KG = 1
CONTENTS_K = 2
BUFFER = 3
COLD_BASE = 4
HOT_BASE = COLD_BASE + MAX_SINKS
WALLS = HOT_BASE + MAX_SINKS
STORES = WALLS + MAX_SURFACES * MAX_NODES
WALL_SHAPE = (MAX_SURFACES, 7, MAX_NODES)

# Scratch of one run in time (see `FRAME` for why it is not made in compiled code).
RUN = np.dtype(
    [
        ("walls", "f8", WALL_SHAPE),
        ("stores", "f8", (STORES,)),
        ("first", "f8", (STORES,)),
        ("base", "f8", (STORES,)),
    ],
    align=True,
)

_SOLVED = int(Status.SOLVED)
_NO_FLOW = int(Status.NO_FLOW)


@compiled
def surface_nodes(surface: Any) -> int:
    """Number of finite volumes of one surface."""
    count = 0
    for layer in range(surface.layers):
        count += surface.layer_volumes[layer]
    return count


@compiled
def surface_u(surface: Any) -> float:
    """Air-to-air conductance [W/m²/K] of one surface in the steady state."""
    if surface.layers == 0:
        return float(surface.u_W_m2K)
    resistance = surface.film_in_m2K_W + surface.film_out_m2K_W
    for layer in range(surface.layers):
        resistance += surface.layer_m2K_W[layer]
    return float(1.0 / resistance)


@compiled
def new_walls() -> Any:
    """Space for `lay_walls` and `see_walls`: per surface, seven rows of one number per node."""
    return np.zeros(WALL_SHAPE)


@compiled
def lay_walls(place: Any, walls: Any) -> None:
    """Cut each layered surface into volumes: rows 0 capacity [J/K], 1 conductance to the next
    volume inwards (or the place), 2 conductance to the next outwards (or the other side) [W/K]."""
    for s in range(place.surfaces):
        surface = place.surface[s]
        walls[s, 6, 0] = 0.0
        before = surface.film_in_m2K_W
        node = 0
        for layer in range(MAX_LAYERS):
            if layer < surface.layers:
                volumes = surface.layer_volumes[layer]
                half = 0.5 * surface.layer_m2K_W[layer] / volumes
                for _ in range(volumes):
                    walls[s, 0, node] = surface.area_m2 * surface.layer_J_m2K[layer] / volumes
                    walls[s, 1, node] = surface.area_m2 / (before + half)
                    if node > 0:
                        walls[s, 2, node - 1] = walls[s, 1, node]
                    before = half
                    node += 1
        if node > 0:
            walls[s, 2, node - 1] = surface.area_m2 / (before + surface.film_out_m2K_W)


@compiled
def steady_stores(place: Any, cooler: Any, walls: Any, air_K: float, water: float, y: Any) -> None:
    """Fill `y` with the state of a place that stood for long at this air, the cooler stopped."""
    air_kg = dry_air(place)
    y[AIR_J] = air_kg * enthalpy(air_K, water)
    y[AIR_KG] = air_kg * water
    y[CONTENTS_K] = place.contents_K if place.contents_K > 0.0 else air_K
    y[BUFFER] = water
    for s in range(MAX_SINKS):
        y[COLD_BASE + s] = air_K
        y[HOT_BASE + s] = place.outdoor_K if cooler.hot_takes == 1 else air_K
    for s in range(place.surfaces):
        surface = place.surface[s]
        n = surface_nodes(surface)
        if n == 0:
            continue
        heat_W = surface_u(surface) * surface.area_m2 * (surface.other_K - air_K)
        temperature = air_K
        for i in range(n):
            temperature += heat_W / walls[s, 1, i]
            y[WALLS + s * MAX_NODES + i] = temperature


@compiled
def see_steady_walls(place: Any, frame: Any) -> None:
    """Put into `frame` what the walls give the air at rest, a - b T; stores give nothing."""
    heat = 0.0
    slope = 0.0
    for s in range(place.surfaces):
        through = surface_u(place.surface[s]) * place.surface[s].area_m2
        heat += through * place.surface[s].other_K
        slope += through
    frame.wall_W = heat
    frame.wall_W_K = slope
    frame.contents_W = 0.0
    frame.contents_W_K = 0.0
    frame.buffer_kg_s = 0.0
    frame.buffer_per_kg_s = 0.0


@compiled
def see_walls(place: Any, walls: Any, inverse_step: float, y: Any, frame: Any) -> None:
    """Put into `frame` what the walls, contents and buffer give the air: a - b T.

    Inside a step every linear part is eliminated from the outside in; the remaining equation has
    only the place's air in it. What it takes to go back, ``T_i = alpha + beta T_(i-1)``, is left in
    rows 3 (alpha) and 4 (beta) of `walls`. What does not change as long as steps are of one length
    (beta, and the inverse of each volume's sum, row 5) is kept; row 6 begins with that length.
    """
    see_steady_walls(place, frame)
    if inverse_step == 0.0:
        return
    heat = 0.0
    slope = 0.0
    for s in range(place.surfaces):
        surface = place.surface[s]
        n = surface_nodes(surface)
        if n == 0:
            through = surface_u(surface) * surface.area_m2
            heat += through * surface.other_K
            slope += through
            continue
        # From the outermost node inwards.
        if walls[s, 6, 0] != inverse_step:
            walls[s, 6, 0] = inverse_step
            beta = 0.0
            for i in range(n - 1, -1, -1):
                store = walls[s, 0, i] * inverse_step
                walls[s, 5, i] = 1.0 / (store + walls[s, 1, i] + walls[s, 2, i] * (1.0 - beta))
                beta = walls[s, 1, i] * walls[s, 5, i]
                walls[s, 4, i] = beta
        alpha = surface.other_K
        for i in range(n - 1, -1, -1):
            stored = walls[s, 0, i] * inverse_step * y[WALLS + s * MAX_NODES + i]
            alpha = (stored + walls[s, 2, i] * alpha) * walls[s, 5, i]
            walls[s, 3, i] = alpha
        heat += walls[s, 1, 0] * alpha
        slope += walls[s, 1, 0] * (1.0 - walls[s, 4, 0])
    frame.wall_W = heat
    frame.wall_W_K = slope
    store = place.contents_J_K * inverse_step
    if store > 0.0 and place.contents_W_K > 0.0:
        series = store * place.contents_W_K / (store + place.contents_W_K)
        frame.contents_W = series * y[CONTENTS_K]
        frame.contents_W_K = series
    store = place.buffer_kg * inverse_step
    if store > 0.0 and place.buffer_kg_s > 0.0:
        series = store * place.buffer_kg_s / (store + place.buffer_kg_s)
        frame.buffer_kg_s = series * y[BUFFER]
        frame.buffer_per_kg_s = series


@compiled
def _follow(
    place: Any, walls: Any, inverse_step: float, air_K: float, water: float, y: Any, new: Any
) -> None:
    """Back-substitute: the stores at the end of a stage, the air being known."""
    air_kg = dry_air(place)
    new[AIR_J] = air_kg * enthalpy(air_K, water)
    new[AIR_KG] = air_kg * water
    store = place.contents_J_K * inverse_step
    if store > 0.0:
        new[CONTENTS_K] = (store * y[CONTENTS_K] + place.contents_W_K * air_K) / (
            store + place.contents_W_K
        )
    else:
        new[CONTENTS_K] = air_K
    store = place.buffer_kg * inverse_step
    if store > 0.0:
        new[BUFFER] = (store * y[BUFFER] + place.buffer_kg_s * water) / (store + place.buffer_kg_s)
    else:
        new[BUFFER] = water
    for s in range(place.surfaces):
        n = surface_nodes(place.surface[s])
        if n == 0:
            continue
        before = air_K
        for i in range(n):
            before = walls[s, 3, i] + walls[s, 4, i] * before
            new[WALLS + s * MAX_NODES + i] = before


@compiled
def stage(
    cooler: Any,
    place: Any,
    walls: Any,
    inverse_step: float,
    y: Any,
    new: Any,
    n: int,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
) -> int:
    """One implicit stage from the stores `y` to `new`; `x` holds the unknowns before and after."""
    frame.inverse_step_1_s = inverse_step
    see_walls(place, walls, inverse_step, y, frame)
    frame.place_J_old = y[AIR_J]
    frame.place_kg_old = y[AIR_KG]
    for s in range(MAX_SINKS):
        frame.cold_base_old_K[s] = y[COLD_BASE + s]
        frame.hot_base_old_K[s] = y[HOT_BASE + s]
    status = newton(cooler, frame, place, x[n - 2], x[n - 1] * 1e-3, True, n, x, o, work)
    if status != _SOLVED:
        # After a switch the last state can be a poor guess; the bases as they are stored, with no
        # heat flowing yet, are where the new state begins.
        _at_rest(cooler, y, x)
        status = newton(cooler, frame, place, x[n - 2], x[n - 1] * 1e-3, True, n, x, o, work)
    if status != _SOLVED:
        return status
    _follow(place, walls, inverse_step, x[n - 2], x[n - 1] * 1e-3, y, new)
    for s in range(cooler.cold_sinks):
        new[COLD_BASE + s] = o[20 + s]
    for s in range(cooler.hot_sinks):
        new[HOT_BASE + s] = o[20 + MAX_SINKS + s]
    return status


@compiled
def _at_rest(cooler: Any, y: Any, x: Any) -> None:
    """Unknowns of a cooler whose parts all have the temperature of their bases."""
    i = 0
    for s in range(cooler.cold_sinks):
        x[i] = y[COLD_BASE + s]
        i += 1
    for s in range(cooler.hot_sinks):
        x[i] = y[HOT_BASE + s]
        i += 1
    for g in range(cooler.groups):
        group = cooler.group[g]
        cold_K = y[COLD_BASE + group.cold_sink]
        hot_K = y[HOT_BASE + group.hot_sink]
        x[i] = cold_K
        if group.stages == 2:
            x[i + 1] = 0.5 * (cold_K + hot_K)
            x[i + 2] = 0.5 * (cold_K + hot_K)
            i += 2
        x[i + 1] = hot_K
        i += 2


@compiled
def advance(
    cooler: Any,
    place: Any,
    walls: Any,
    step_s: float,
    y: Any,
    first: Any,
    base: Any,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
) -> int:
    """One step of `step_s` seconds: `y` and `x` are moved on in place.

    Flows are taken at the state before the step; density changes by far less than a percent in
    one step, and mass in equals mass out whatever they are.
    """
    n = unknowns(cooler, True)
    if not _flows_now(cooler, place, n, x, frame, o):
        return _NO_FLOW
    inverse = 1.0 / (GAMMA * step_s)
    for i in range(WALLS + place.surfaces * MAX_NODES):
        first[i] = y[i]
    status = stage(cooler, place, walls, inverse, y, first, n, x, frame, o, work)
    if status != _SOLVED:
        return status
    ratio = (1.0 - GAMMA) / GAMMA
    for i in range(WALLS + place.surfaces * MAX_NODES):
        base[i] = y[i] + ratio * (first[i] - y[i])
    return stage(cooler, place, walls, inverse, base, y, n, x, frame, o, work)


@compiled
def creep(
    cooler: Any, place: Any, walls: Any, step_s: float, y: Any, base: Any, x: Any, frame: Any,
    o: Any, work: Any,
) -> int:  # fmt: skip
    """One step of one implicit stage (backward Euler), for the moments after a switch.

    It is of first order but never overshoots: where a step is long against what follows at once
    (air, fins), two stages swing past the new level and back.
    """
    n = unknowns(cooler, True)
    if not _flows_now(cooler, place, n, x, frame, o):
        return _NO_FLOW
    for i in range(WALLS + place.surfaces * MAX_NODES):
        base[i] = y[i]
    return stage(cooler, place, walls, 1.0 / step_s, base, y, n, x, frame, o, work)


@compiled
def _flows_now(cooler: Any, place: Any, n: int, x: Any, frame: Any, o: Any) -> bool:
    """Flows at the state before the step; False where air stands still."""
    if cooler.cold_sinks + cooler.hot_sinks == 0:
        return True
    cold_K, cold_water, hot_K, hot_water = _fan_states(
        cooler, place, x[n - 2], x[n - 1] * 1e-3, True, n, x, o, True
    )
    return set_flows(cooler, place, cold_K, cold_water, hot_K, hot_water, frame)


@compiled
def begin(
    cooler: Any,
    place: Any,
    walls: Any,
    y: Any,
    x: Any,
    o: Any,
) -> None:
    """State at switching on: the place as it stood, every part of the cooler at its air."""
    lay_walls(place, walls)
    steady_stores(place, cooler, walls, place.air_K, place.humidity_ratio, y)
    first_guess(cooler, place, place.air_K, place.humidity_ratio, True, x)
    o[0] = place.air_K
    o[1] = place.humidity_ratio
    o[2] = place.outdoor_K if cooler.hot_takes == 1 else place.air_K
    o[3] = place.outdoor_humidity_ratio if cooler.hot_takes == 1 else place.humidity_ratio
    o[17], o[18] = o[0], o[2]
