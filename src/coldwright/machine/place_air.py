"""The place's air: what the cooler, the gaps, the walls and the people bring into it.

Compiled parts of `balance`: the exhaust on its way out with what the power supply loses, the
outdoor air that replaces it, and the two residuals of the place, heat and water.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.power import power_chain
from coldwright.machine.records import COUNTED, Condensate, End, SinkKind
from coldwright.machine.streams import stream_enthalpy
from coldwright.physics.compiled import compiled, inlined
from coldwright.physics.duct_heat import duct_heat_loss, duct_surface_heat
from coldwright.physics.infiltration import combined_flow, infiltration_basic
from coldwright.physics.moist_air import (
    CP_AIR,
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    humidity_ratio_saturated,
    specific_volume,
)

_PLACE = int(End.PLACE)
_EXHAUST = int(End.EXHAUST)
_PLATE = int(SinkKind.PLATE_LOAD)
_STAYS = int(Condensate.STAYS)
_ONTO_HOT = int(Condensate.ONTO_HOT_SINK)


@inlined
def exhaust(
    cooler: Any, frame: Any, place: Any, place_K: float, power_W: float, leads_W: float, o: Any
) -> float:
    """Follow electricity and hot air to where they end; heat [W] that both leave in the place.

    The hot air counts with what it has more than dry air of the place (see `place_rows`); what
    supply and converter lose into the exhaust goes along with it.
    """
    others_W = frame.cold_fan_W + frame.hot_fan_W + frame.pumps_W
    plug_W, supply_W, converter_W = power_chain(cooler.power, power_W, leads_W, others_W)
    into_exhaust_W = 0.0
    into_place_W = 0.0
    if cooler.power.supply_at == _EXHAUST:
        into_exhaust_W += supply_W
    elif cooler.power.supply_at == _PLACE:
        into_place_W += supply_W
    if cooler.power.converter_at == _EXHAUST:
        into_exhaust_W += converter_W
    elif cooler.power.converter_at == _PLACE:
        into_place_W += converter_W
    if cooler.power.lead_at == _PLACE:
        into_place_W += leads_W + cooler.power.controller_W
    elif cooler.power.lead_at == _EXHAUST:
        into_exhaust_W += leads_W + cooler.power.controller_W
    hot_K, hot_water = o[2], o[3]
    exhaust_K = hot_K
    end_K = hot_K
    duct_W = 0.0
    if frame.hot_kg_s > 0.0:
        rate_W_K = frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water)
        exhaust_K = hot_K + into_exhaust_W / rate_W_K
        duct_W = duct_heat(cooler, frame, exhaust_K, rate_W_K, place_K, place.outdoor_K)
        end_K = exhaust_K - duct_W / rate_W_K
    o[6] = plug_W
    o[7] = supply_W
    o[8] = converter_W
    o[10] = duct_W
    o[11] = end_K
    o[15] = exhaust_K
    if cooler.hot_duct.in_place == 1:
        into_place_W += duct_W
    if cooler.hot_sends == _PLACE:
        into_place_W += frame.hot_fresh_kg_s * stream_enthalpy(end_K, hot_water)
    return into_place_W


@inlined
def place_rows(
    cooler: Any, frame: Any, place: Any, place_K: float, place_water: float, electric_W: float,
    i: int, x: Any, f: Any, o: Any,
) -> None:  # fmt: skip
    """The place's two residuals into `f[i]` (heat) and `f[i + 1]` (water, as latent heat).

    A stream that enters counts with what it has more than the place's air, because as much dry
    air leaves as comes in. `electric_W` is what `exhaust` returned.
    """
    place_h = stream_enthalpy(place_K, place_water)
    vapour_h = LATENT_J_KG + CP_VAPOUR * (place_K - ZERO_C_K)
    heat_W = frame.cold_fresh_kg_s * (stream_enthalpy(o[0], o[1]) - place_h)
    water_kg_s = frame.cold_fresh_kg_s * (o[1] - place_water)
    heat_W += electric_W
    if cooler.hot_sends == _PLACE:
        heat_W -= frame.hot_fresh_kg_s * place_h
        water_kg_s += frame.hot_fresh_kg_s * (o[3] - place_water)
    outdoor_h = stream_enthalpy(place.outdoor_K, place.outdoor_humidity_ratio)
    heat_W += o[13] * (outdoor_h - place_h)
    water_kg_s += o[13] * (place.outdoor_humidity_ratio - place_water)
    if place.counted_W_K > 0.0:
        # Of this air a known heat loss counts the warmth; what is left is the heat of its vapour.
        warm_J_kgK = CP_AIR + CP_VAPOUR * place.outdoor_humidity_ratio
        heat_W -= o[COUNTED] * warm_J_kgK * (place.outdoor_K - place_K)
    if cooler.condensate == _STAYS:
        heat_W += o[19]
        water_kg_s += o[4]
    heat_W += place.sun_W + place.gain_W + place.moisture_kg_s * vapour_h
    water_kg_s += place.moisture_kg_s
    heat_W += place.loss_W_K * (place.outdoor_K - place_K)
    heat_W += frame.wall_W - frame.wall_W_K * place_K
    heat_W += frame.contents_W - frame.contents_W_K * place_K
    # Vapour that a buffer or a wall takes up leaves its heat of condensation in the air.
    buffer_kg_s = frame.buffer_kg_s - frame.buffer_per_kg_s * place_water
    liquid_h = CP_LIQUID * (place_K - ZERO_C_K)
    water_kg_s += buffer_kg_s
    heat_W += buffer_kg_s * liquid_h
    saturated = humidity_ratio_saturated(place_K, cooler.pressure_Pa)
    if place_water > saturated:
        sweat_kg_s = place.sweat_kg_s * (place_water - saturated)
        water_kg_s -= sweat_kg_s
        heat_W -= sweat_kg_s * liquid_h
    if frame.inverse_step_1_s > 0.0:
        air_kg = dry_air(place)
        heat_W -= (air_kg * place_h - frame.place_J_old) * frame.inverse_step_1_s
        water_kg_s -= (air_kg * place_water - frame.place_kg_old) * frame.inverse_step_1_s
    f[i] = 100.0 * (frame.held_K - place_K) if frame.held_K > 0.0 else heat_W
    f[i + 1] = water_kg_s * LATENT_J_KG
    # Sealed: no stream brings or takes water but the cold sink, which only takes.
    shut = o[13] == 0.0 and cooler.cold_takes == _PLACE and place.moisture_kg_s == 0.0
    if cooler.hot_sends == _PLACE:
        shut = shut and cooler.hot_takes == _PLACE and cooler.condensate != _ONTO_HOT
    if shut and frame.inverse_step_1_s == 0.0 and cooler.condensate != _STAYS:
        f[i + 1] = _sealed_water(cooler, place, place_K, x) - place_water * LATENT_J_KG * 0.01


@compiled
def _sealed_water(cooler: Any, place: Any, place_K: float, x: Any) -> float:
    """What a sealed place keeps of its water in the end, scaled as its residual is.

    As much as at the start, or as much as its coldest surface lets stay in the air (a hair less,
    which puts the solution beside the kink where condensing begins and not on it).
    """
    least_K = place_K
    for s in range(cooler.cold_sinks):
        if cooler.cold_sink[s].kind != _PLATE:
            least_K = min(least_K, x[s])
    most = humidity_ratio_saturated(least_K, cooler.pressure_Pa)
    return float(min(place.humidity_ratio, 0.9995 * most) * LATENT_J_KG * 0.01)


@inlined
def dry_air(place: Any) -> float:
    """Mass of dry air in the place [kg], fixed by the state at the start."""
    return float(
        place.volume_m3 / specific_volume(place.air_K, place.humidity_ratio, place.pressure_Pa)
    )


@inlined
def natural_flow(place: Any, air_K: float) -> float:
    """Natural infiltration [m³/s] at this air temperature, without any fan: what is given (air
    that doors let in), and what the gaps let in."""
    given_m3_s = place.natural_m3_s
    if place.leak_area_m2 > 0.0:
        given_m3_s += _gap_flow(place, air_K)
    return float(given_m3_s)


@inlined
def _gap_flow(place: Any, air_K: float) -> float:
    """Natural flow [m³/s] through the gaps alone."""
    return float(
        infiltration_basic(
            place.leak_area_m2,
            np.hypot(place.outdoor_K - air_K, 0.1),  # the root's slope is infinite at 0
            place.wind_m_s,
            place.stack_coefficient,
            place.wind_coefficient,
        )
    )


@inlined
def unbalanced_mass(cooler: Any, frame: Any) -> float:
    """Dry air [kg/s] that the cooler takes out of the place and does not give back; negative when
    it brings outdoor air in."""
    mass = 0.0
    if cooler.hot_takes == _PLACE and cooler.hot_sends != _PLACE:
        mass += frame.hot_fresh_kg_s
    if cooler.hot_takes != _PLACE and cooler.hot_sends == _PLACE:
        mass -= frame.hot_fresh_kg_s
    if cooler.cold_takes != _PLACE:
        mass -= frame.cold_fresh_kg_s
    return mass


@inlined
def inflow_mass(place: Any, unbalanced_kg_s: float, air_K: float) -> Any:
    """Dry outdoor air [kg/s] that comes in through the gaps: with the cooler, without it, and what
    of the latter a known heat loss counts already.

    The published rule joins natural and fan-driven leakage by the root of the sum of squares.
    Air that a fan blows in leaves through the same gaps and holds part of the natural flow off.
    A known heat loss of the whole place bounds the air that is counted in it.
    """
    volume = specific_volume(place.outdoor_K, place.outdoor_humidity_ratio, place.pressure_Pa)
    counted_kg_s = 0.0
    if place.counted_W_K > 0.0:
        counted_kg_s = min(_gap_flow(place, air_K) / volume, place.counted_W_K / CP_AIR)
        natural_kg_s = place.natural_m3_s / volume + counted_kg_s
    else:
        natural_kg_s = natural_flow(place, air_K) / volume
    total_kg_s = combined_flow(0.0, abs(unbalanced_kg_s), natural_kg_s)
    if unbalanced_kg_s < 0.0:
        total_kg_s += unbalanced_kg_s
    return total_kg_s, natural_kg_s, counted_kg_s


@inlined
def duct_heat(
    cooler: Any, frame: Any, inlet_K: float, rate_W_K: float, place_K: float, outdoor_K: float
) -> float:
    """Heat [W] that the hot duct loses to where it runs."""
    duct = cooler.hot_duct
    around_K = place_K if duct.in_place == 1 else outdoor_K
    if not np.isnan(duct.surface_K):
        area_m2 = np.pi * duct.diameter_m * duct.length_m
        return float(duct_surface_heat(duct.outer_W_m2K, area_m2, duct.surface_K, around_K))
    if frame.duct_W_K <= 0.0:
        return 0.0
    return float(duct_heat_loss(inlet_K, around_K, frame.duct_W_K, rate_W_K))
