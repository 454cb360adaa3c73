"""The two air streams through their sinks: what each surface takes and gives, and what leaves.

Compiled parts of `balance`. They know surface temperatures and air, and nothing of modules.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.cold_side import contact
from coldwright.machine.records import MAX_SINKS, Condensate, End, SinkKind
from coldwright.physics.compiled import inlined
from coldwright.physics.moist_air import CP_AIR, CP_LIQUID, CP_VAPOUR, LATENT_J_KG, ZERO_C_K

_PLACE = int(End.PLACE)
_PLATE = int(SinkKind.PLATE_LOAD)
_ONTO_HOT = int(Condensate.ONTO_HOT_SINK)


@inlined
def stream_rows(
    cooler: Any, frame: Any, place: Any, place_K: float, place_water: float, k: int, x: Any,
    f: Any, o: Any,
) -> None:  # fmt: skip
    """Residuals of the sinks without their modules.

    `k` is where the unknowns of recirculation begin. Into `o` go the outlets, the condensate, the
    bases (20 and on) and what the condensate carries (19); see `balance`.
    """
    cold_K, cold_water = place_K, place_water
    if cooler.cold_takes != _PLACE:
        cold_K, cold_water = place.outdoor_K, place.outdoor_humidity_ratio
    if cooler.cold_recirculation > 0.0:
        cold_K, cold_water = x[k], x[k + 1] * 1e-3
        k += 2
    _cold_stream(cooler, frame, cold_K, cold_water, x, f, o)

    hot_K, hot_water = place_K, place_water
    if cooler.hot_takes != _PLACE:
        hot_K, hot_water = place.outdoor_K, place.outdoor_humidity_ratio
    if cooler.hot_recirculation > 0.0:
        hot_K = x[k]
        hot_water += _come_round(cooler, frame, o[4])
    _hot_stream(cooler, frame, hot_K, hot_water, x, f, o)

    spacer_W = 0.0
    if cooler.cold_sinks > 0:
        spacer_W = cooler.spacer_W_K * (o[20 + MAX_SINKS] - o[20])
        f[0] += spacer_W
        f[cooler.cold_sinks] -= spacer_W
    o[12] = spacer_W


@inlined
def mixed_rows(
    cooler: Any, frame: Any, place: Any, place_K: float, place_water: float, k: int, x: Any,
    f: Any, o: Any,
) -> None:  # fmt: skip
    """Residuals of inlets that draw in their outlets again: water and enthalpy, in K.

    `o` must hold the outlets, the exhaust's end among them.
    """
    if cooler.cold_recirculation > 0.0:
        source_K, source_water = place_K, place_water
        if cooler.cold_takes != _PLACE:
            source_K, source_water = place.outdoor_K, place.outdoor_humidity_ratio
        r = cooler.cold_recirculation
        mixed_h = (1.0 - r) * stream_enthalpy(source_K, source_water)
        mixed_h += r * stream_enthalpy(o[0], o[1])
        f[k] = 10.0 * (mixed_h - stream_enthalpy(x[k], x[k + 1] * 1e-3)) / CP_AIR
        f[k + 1] = 10.0 * ((1.0 - r) * source_water + r * o[1] - x[k + 1] * 1e-3) * 1e3
        k += 2
    if cooler.hot_recirculation > 0.0:
        source_K, source_water = place_K, place_water
        if cooler.hot_takes != _PLACE:
            source_K, source_water = place.outdoor_K, place.outdoor_humidity_ratio
        r = cooler.hot_recirculation
        inlet_water = source_water + _come_round(cooler, frame, o[4])
        mixed_h = (1.0 - r) * stream_enthalpy(source_K, source_water)
        mixed_h += r * stream_enthalpy(o[11], o[3])
        f[k] = 10.0 * (mixed_h - stream_enthalpy(x[k], inlet_water)) / CP_AIR


@inlined
def _come_round(cooler: Any, frame: Any, condensate_kg_s: float) -> float:
    """Of condensate that evaporates into exhaust, what is drawn in again [kg/kg]."""
    if cooler.condensate != _ONTO_HOT or cooler.hot_recirculation <= 0.0:
        return 0.0
    share = cooler.hot_recirculation / (1.0 - cooler.hot_recirculation)
    return float(share * condensate_kg_s / frame.hot_kg_s)


@inlined
def stream_enthalpy(air_K: float, water: float) -> float:
    """Enthalpy of moist air [J/kg] as in `physics.air_state`, without its range.

    On the way to a solution some air may be hotter than the law reaches; a result may not.
    """
    celsius = air_K - ZERO_C_K
    return float(CP_AIR * celsius + water * (LATENT_J_KG + CP_VAPOUR * celsius))


@inlined
def _cold_stream(
    cooler: Any, frame: Any, cold_K: float, cold_water: float, x: Any, f: Any, o: Any
) -> None:
    """Through the cold sinks, one after the other: what each takes out of the air."""
    inverse_step = frame.inverse_step_1_s
    mass = frame.cold_kg_s
    if cooler.cold_fan.after_sink == 0 and mass > 0.0:
        cold_K += frame.cold_fan_W / (mass * (CP_AIR + CP_VAPOUR * cold_water))
    condensate_kg_s = 0.0
    liquid_J_s = 0.0
    cold_h = stream_enthalpy(cold_K, cold_water)
    for s in range(cooler.cold_sinks):
        sink = cooler.cold_sink[s]
        surface_K = x[s]
        if sink.kind == _PLATE:
            heat_W = sink.load_W + sink.load_conductance_W_K * (
                sink.load_surroundings_K - surface_K
            )
        else:
            if cold_water != frame.cold_bypass_at[s]:
                # The dearest number here, and the same as long as the air is as damp.
                frame.cold_bypass_at[s] = cold_water
                frame.cold_bypass[s] = np.exp(
                    -frame.cold_conductance_W_K[s] / (mass * (CP_AIR + CP_VAPOUR * cold_water))
                )
            next_K, next_water = contact(
                cold_K, cold_water, surface_K, frame.cold_bypass[s], cooler.pressure_Pa
            )
            next_h = stream_enthalpy(next_K, next_water)
            water_kg_s = mass * (cold_water - next_water)
            liquid_W = water_kg_s * CP_LIQUID * (surface_K - ZERO_C_K)
            heat_W = mass * (cold_h - next_h) - liquid_W
            condensate_kg_s += water_kg_s
            liquid_J_s += liquid_W
            cold_K, cold_water, cold_h = next_K, next_water, next_h
        through_W = heat_W + sink.pump_heat_W
        base_K = surface_K - sink.block_K_W * through_W
        o[20 + s] = base_K
        f[s] = through_W - sink.heat_capacity_J_K * inverse_step * (
            base_K - frame.cold_base_old_K[s]
        )
    o[17] = cold_K
    if cooler.cold_fan.after_sink == 1 and mass > 0.0:
        cold_K += frame.cold_fan_W / (mass * (CP_AIR + CP_VAPOUR * cold_water))
    o[0] = cold_K
    o[1] = cold_water
    o[4] = condensate_kg_s
    o[16] = ZERO_C_K
    if condensate_kg_s > 0.0:
        o[16] += liquid_J_s / (condensate_kg_s * CP_LIQUID)
    o[19] = liquid_J_s


@inlined
def _hot_stream(
    cooler: Any, frame: Any, hot_K: float, hot_water: float, x: Any, f: Any, o: Any
) -> None:
    """Through the hot sinks. Condensate that drips on the first of them evaporates there."""
    inverse_step = frame.inverse_step_1_s
    mass = frame.hot_kg_s
    if cooler.hot_fan.after_sink == 0 and mass > 0.0:
        hot_K += frame.hot_fan_W / (mass * (CP_AIR + CP_VAPOUR * hot_water))
    for s in range(cooler.hot_sinks):
        row = cooler.cold_sinks + s
        sink = cooler.hot_sink[s]
        surface_K = x[row]
        rate_W_K = mass * (CP_AIR + CP_VAPOUR * hot_water)
        if hot_water != frame.hot_share_at[s]:
            frame.hot_share_at[s] = hot_water
            frame.hot_share[s] = -np.expm1(-frame.hot_conductance_W_K[s] / rate_W_K)
        gained_W = rate_W_K * frame.hot_share[s] * (surface_K - hot_K)
        if s == 0 and cooler.condensate == _ONTO_HOT:
            hot_h = stream_enthalpy(hot_K, hot_water) + gained_W / mass
            vapour_W = o[4] * (LATENT_J_KG + CP_VAPOUR * (surface_K - ZERO_C_K))
            hot_water += o[4] / mass
            hot_h += vapour_W / mass
            hot_K = ZERO_C_K + (hot_h - LATENT_J_KG * hot_water) / (CP_AIR + CP_VAPOUR * hot_water)
            through_W = gained_W + vapour_W - o[19] - sink.pump_heat_W
        else:
            hot_K += frame.hot_share[s] * (surface_K - hot_K)
            through_W = gained_W - sink.pump_heat_W
        base_K = surface_K + sink.block_K_W * through_W
        o[20 + MAX_SINKS + s] = base_K
        f[row] = -through_W - sink.heat_capacity_J_K * inverse_step * (
            base_K - frame.hot_base_old_K[s]
        )
    o[18] = hot_K
    if cooler.hot_fan.after_sink == 1 and mass > 0.0:
        hot_K += frame.hot_fan_W / (mass * (CP_AIR + CP_VAPOUR * hot_water))
    o[2] = hot_K
    o[3] = hot_water
