"""The solved cooler: one record per case, and the loops that solve many cases on all cores."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import prange

from coldwright.machine.balance import beyond_residuals, unknowns
from coldwright.machine.cold_side import contact, without_fog
from coldwright.machine.modules import group_state
from coldwright.machine.place import see_steady_walls
from coldwright.machine.records import (
    BLOCKS,
    COUNTED,
    FRAME,
    MAX_GROUPS,
    MAX_SINKS,
    Properties,
    SinkKind,
    Status,
)
from coldwright.machine.solve import solve_point
from coldwright.machine.walk import HOTTEST_K
from coldwright.physics.compiled import compiled, parallel, threads_for
from coldwright.physics.moist_air import (
    CP_AIR,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    enthalpy,
    humidity_ratio_saturated,
    liquid_enthalpy,
)

_PLATE = int(SinkKind.PLATE_LOAD)
_SOLVED = int(Status.SOLVED)
_OUT_OF_RANGE = int(Status.OUT_OF_RANGE)
_TELLURIDE = int(Properties.BISMUTH_TELLURIDE)
# Where the data of bismuth telluride end (`physics.bismuth_telluride`).
COLDEST_MEAN_K, HOTTEST_MEAN_K = 200.0, 400.0

_f = "f8"
# Every solved state. Heats and sums are not here: the ledger computes them from these states.
RESULT = np.dtype(
    [
        ("status", "i8"),
        ("place_K", _f),
        ("place_humidity_ratio", _f),
        ("cold_flow_m3_s", _f),
        ("hot_flow_m3_s", _f),
        ("cold_kg_s", _f),
        ("hot_kg_s", _f),
        ("cold_in_K", _f, (MAX_SINKS,)),
        ("cold_in_water", _f, (MAX_SINKS,)),
        ("cold_out_K", _f, (MAX_SINKS,)),
        ("cold_out_water", _f, (MAX_SINKS,)),
        ("cold_surface_K", _f, (MAX_SINKS,)),
        ("cold_base_K", _f, (MAX_SINKS,)),
        ("hot_in_K", _f, (MAX_SINKS,)),
        ("hot_in_water", _f, (MAX_SINKS,)),
        ("hot_out_K", _f, (MAX_SINKS,)),
        ("hot_out_water", _f, (MAX_SINKS,)),
        ("hot_surface_K", _f, (MAX_SINKS,)),
        ("hot_base_K", _f, (MAX_SINKS,)),
        ("cold_conductance_W_K", _f, (MAX_SINKS,)),
        ("hot_conductance_W_K", _f, (MAX_SINKS,)),
        ("cold_face_K", _f, (MAX_GROUPS,)),
        ("middle_hot_K", _f, (MAX_GROUPS,)),
        ("middle_cold_K", _f, (MAX_GROUPS,)),
        ("hot_face_K", _f, (MAX_GROUPS,)),
        ("module_A", _f, (MAX_GROUPS,)),
        ("module_A2", _f, (MAX_GROUPS,)),
        ("module_V", _f, (MAX_GROUPS,)),
        ("second_A", _f, (MAX_GROUPS,)),
        ("cold_interface_K_W", _f, (MAX_GROUPS,)),
        ("hot_interface_K_W", _f, (MAX_GROUPS,)),
        ("cold_outlet_K", _f),  # after sink and fan; fog, if any, not yet condensed out
        ("cold_outlet_water", _f),
        ("cold_outlet_air_K", _f),  # what a thermometer shows: at saturation if there is fog
        ("cold_outlet_humidity_ratio", _f),
        ("fog_ratio", _f),
        ("hot_outlet_K", _f),
        ("hot_outlet_water", _f),
        ("exhaust_K", _f),
        ("exhaust_end_K", _f),
        ("condensate_kg_s", _f),
        ("liquid_K", _f),
        ("modules_W", _f),
        ("leads_W", _f),
        ("converter_W", _f),
        ("supply_W", _f),
        ("plug_W", _f),
        ("cold_fan_W", _f),
        ("hot_fan_W", _f),
        ("pumps_W", _f),
        ("duct_W", _f),
        ("inflow_kg_s", _f),
        ("natural_kg_s", _f),
        ("counted_kg_s", _f),
        ("place_pressure_Pa", _f),
    ],
    align=True,
)


def operate(
    coolers: Any,
    places: Any,
    air_K: Any,
    humidity_ratio: Any,
    *,
    with_place: bool,
    held: bool = False,
) -> Any:
    """Solve many cases: the operating point at given place air, or with the steady place.

    Parameters
    ----------
    coolers, places
        Arrays of `COOLER` and `PLACE` records, one per case, of equal length n.
    air_K, humidity_ratio
        Air of the place [K], [kg/kg], scalar or shape (n,); with `with_place` only a start.
    with_place
        Whether the place's own balance is solved too.
    held
        With `with_place`: the air temperature stays at `air_K` and only its moisture is solved
        (the state in which a goal would be held).

    Returns
    -------
    Array of `RESULT`, shape (n,). `status` says whether a case was solved; a case that was not
    holds zeros everywhere else and must not be read.
    """
    n = len(coolers)
    results = np.zeros(n, dtype=RESULT)
    air = np.broadcast_to(np.asarray(air_K, dtype=float), (n,)).copy()
    water = np.broadcast_to(np.asarray(humidity_ratio, dtype=float), (n,)).copy()
    held_K = air if held else np.zeros(n)
    frames = np.zeros(min(n, BLOCKS), dtype=FRAME)
    with threads_for(n):
        _operate_all(coolers, places, air, water, with_place, held_K, frames, results)
    return results


@parallel
def _operate_all(
    coolers: Any,
    places: Any,
    air_K: Any,
    water: Any,
    with_place: bool,
    held_K: Any,
    frames: Any,
    results: Any,
) -> None:
    n = len(coolers)
    blocks = len(frames)
    for b in prange(blocks):
        for i in range(n * b // blocks, n * (b + 1) // blocks):
            frames[b].held_K = held_K[i]
            operate_one(
                coolers[i], places[i], air_K[i], water[i], with_place, frames[b], results[i]
            )


@compiled
def operate_one(
    cooler: Any,
    place: Any,
    air_K: float,
    water: float,
    with_place: bool,
    frame: Any,
    result: Any,
) -> None:
    """Solve one case into `result`."""
    x, o, work = frame.x, frame.o, frame.work
    frame.cold_flow_m3_s = 0.0
    frame.hot_flow_m3_s = 0.0
    if with_place:
        see_steady_walls(place, frame)
    status = solve_point(cooler, place, air_K, water, with_place, False, x, frame, o, work)
    result.status = status
    if status == _SOLVED:
        write_result(cooler, place, air_K, water, with_place, x, frame, o, result)


@compiled
def write_result(
    cooler: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    x: Any,
    frame: Any,
    o: Any,
    result: Any,
) -> None:
    """Write the states of a solved case into its record; refuse one that no law covers."""
    n = unknowns(cooler, with_place)
    if not with_place:
        # The last residuals were those of `x`, but for what only the ledger asks.
        beyond_residuals(cooler, frame, place, place_K, o)
    if with_place:
        place_K = x[n - 2]
        place_water = x[n - 1] * 1e-3
    result.place_K = place_K
    result.place_humidity_ratio = place_water
    result.cold_flow_m3_s = frame.cold_flow_m3_s
    result.hot_flow_m3_s = frame.hot_flow_m3_s
    result.cold_kg_s = frame.cold_kg_s
    result.hot_kg_s = frame.hot_kg_s
    result.place_pressure_Pa = frame.place_pressure_Pa
    n_cold = cooler.cold_sinks
    n_hot = cooler.hot_sinks
    k = n_cold + n_hot
    for g in range(cooler.groups):
        group = cooler.group[g]
        two = group.stages == 2
        cold_K = x[k]
        hot_K = x[k + 3] if two else x[k + 1]
        middle_hot_K = x[k + 1] if two else hot_K
        middle_cold_K = x[k + 2] if two else cold_K
        k += 4 if two else 2
        _, _, _, _, _, mean_A, voltage_V, square_A2, second_A, _ = group_state(
            group, cold_K, middle_cold_K, middle_hot_K, hot_K
        )
        result.cold_face_K[g] = cold_K
        result.hot_face_K[g] = hot_K
        result.middle_hot_K[g] = middle_hot_K
        result.middle_cold_K[g] = middle_cold_K
        result.module_A[g] = mean_A
        result.module_A2[g] = square_A2
        result.module_V[g] = voltage_V
        result.second_A[g] = second_A
        result.cold_interface_K_W[g] = frame.cold_interface_K_W[g]
        result.hot_interface_K_W[g] = frame.hot_interface_K_W[g]

    # The same walk along the streams as in `balance`, kept here as states between the sinks.
    cold_K, cold_water = place_K, place_water
    if cooler.cold_takes == 1:
        cold_K, cold_water = place.outdoor_K, place.outdoor_humidity_ratio
    hot_K, hot_water = place_K, place_water
    if cooler.hot_takes == 1:
        hot_K, hot_water = place.outdoor_K, place.outdoor_humidity_ratio
    if cooler.cold_recirculation > 0.0:
        cold_K, cold_water = x[k], x[k + 1] * 1e-3
        k += 2
    if cooler.hot_recirculation > 0.0:
        hot_K = x[k]
        hot_water += cooler.hot_recirculation * (o[3] - hot_water)
    if cooler.cold_fan.after_sink == 0 and frame.cold_kg_s > 0.0:
        cold_K += frame.cold_fan_W / (frame.cold_kg_s * (CP_AIR + CP_VAPOUR * cold_water))
    for s in range(n_cold):
        result.cold_surface_K[s] = x[s]
        result.cold_base_K[s] = o[20 + s]
        result.cold_conductance_W_K[s] = frame.cold_conductance_W_K[s]
        result.cold_in_K[s] = cold_K
        result.cold_in_water[s] = cold_water
        if cooler.cold_sink[s].kind != _PLATE:
            cold_K, cold_water = contact(
                cold_K, cold_water, x[s], frame.cold_bypass[s], cooler.pressure_Pa
            )
        result.cold_out_K[s] = cold_K
        result.cold_out_water[s] = cold_water
    if cooler.hot_fan.after_sink == 0 and frame.hot_kg_s > 0.0:
        hot_K += frame.hot_fan_W / (frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water))
    for s in range(n_hot):
        surface_K = x[n_cold + s]
        result.hot_surface_K[s] = surface_K
        result.hot_base_K[s] = o[20 + MAX_SINKS + s]
        result.hot_conductance_W_K[s] = frame.hot_conductance_W_K[s]
        result.hot_in_K[s] = hot_K
        result.hot_in_water[s] = hot_water
        rate_W_K = frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water)
        gained_W = rate_W_K * frame.hot_share[s] * (surface_K - hot_K)
        hot_h = enthalpy(hot_K, hot_water) + gained_W / frame.hot_kg_s
        if s == 0 and cooler.condensate == 2:
            hot_water += o[4] / frame.hot_kg_s
            hot_h += o[4] * (LATENT_J_KG + CP_VAPOUR * (surface_K - ZERO_C_K)) / frame.hot_kg_s
        hot_K = ZERO_C_K + (hot_h - LATENT_J_KG * hot_water) / (CP_AIR + CP_VAPOUR * hot_water)
        result.hot_out_K[s] = hot_K
        result.hot_out_water[s] = hot_water

    result.cold_outlet_K = o[0]
    result.cold_outlet_water = o[1]
    if frame.cold_kg_s > 0.0:
        air_K, vapour, fog = without_fog(o[0], o[1], cooler.pressure_Pa)
        result.cold_outlet_air_K = air_K
        result.cold_outlet_humidity_ratio = vapour
        result.fog_ratio = fog
    else:
        result.cold_outlet_air_K = math.nan
        result.cold_outlet_humidity_ratio = math.nan
    result.hot_outlet_K = o[2]
    result.hot_outlet_water = o[3]
    result.exhaust_K = o[15]
    result.exhaust_end_K = o[11]
    result.condensate_kg_s = o[4]
    result.liquid_K = o[16]
    result.modules_W = o[5]
    result.leads_W = o[9]
    result.converter_W = o[8]
    result.supply_W = o[7]
    result.plug_W = o[6]
    result.cold_fan_W = frame.cold_fan_W
    result.hot_fan_W = frame.hot_fan_W
    result.pumps_W = frame.pumps_W
    result.duct_W = o[10]
    result.inflow_kg_s = o[13]
    result.natural_kg_s = o[14]
    result.counted_kg_s = o[COUNTED]
    if not _within_laws(cooler, result):
        result.status = _OUT_OF_RANGE


@compiled
def _within_laws(cooler: Any, result: Any) -> bool:
    """Whether every state lies where the laws that the ledger reads it by have values."""
    for g in range(cooler.groups):
        group = cooler.group[g]
        if max(result.hot_face_K[g], result.cold_face_K[g], result.middle_hot_K[g]) > HOTTEST_K:
            return False
        first_hot_K = result.middle_hot_K[g]
        mean_K = 0.5 * (result.cold_face_K[g] + first_hot_K)
        if group.properties == _TELLURIDE and not COLDEST_MEAN_K <= mean_K <= HOTTEST_MEAN_K:
            return False
        mean_K = 0.5 * (result.middle_cold_K[g] + result.hot_face_K[g])
        second = group.stages == 2 and group.second_properties == _TELLURIDE
        if second and not COLDEST_MEAN_K <= mean_K <= HOTTEST_MEAN_K:
            return False
    for s in range(cooler.cold_sinks):
        # Up to the boiling point of water.
        surface_K = result.cold_surface_K[s]
        wet = humidity_ratio_saturated(surface_K, cooler.pressure_Pa) + liquid_enthalpy(surface_K)
        if math.isnan(wet) and cooler.cold_sink[s].kind != _PLATE:
            return False
        if math.isnan(enthalpy(result.cold_in_K[s], result.cold_in_water[s])):
            return False
    for s in range(cooler.hot_sinks):
        if math.isnan(enthalpy(result.hot_out_K[s], result.hot_out_water[s])):
            return False
    if math.isnan(humidity_ratio_saturated(result.place_K, cooler.pressure_Pa)):
        return False
    ends_h = enthalpy(result.exhaust_K, result.hot_outlet_water) + enthalpy(
        result.exhaust_end_K, result.hot_outlet_water
    )
    return not math.isnan(ends_h)
