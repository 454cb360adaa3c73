"""The equations of the coupled cooler and its place, as residuals that vanish at the solution.

The unknowns stand in one vector, in this order: the surface temperature of each cold sink, of each
hot sink; per group the cold and hot face (and, with two stages, the two faces between them); where
outlet air is drawn in again, the inlet temperature and water of the cold stream and the inlet
temperature of the hot one; and, when the place is solved too, its air temperature and water.
Temperatures are in kelvins, water in grams per kilogram so that all unknowns are of one size.
Residuals are in watts.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.cold_side import contact
from coldwright.machine.modules import group_state
from coldwright.machine.power import power_chain
from coldwright.machine.records import MAX_SINKS, Condensate, End, SinkKind
from coldwright.physics.compiled import compiled
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
_OUTDOORS = int(End.OUTDOORS)
_EXHAUST = int(End.EXHAUST)
_PLATE = int(SinkKind.PLATE_LOAD)
_STAYS = int(Condensate.STAYS)
_ONTO_HOT = int(Condensate.ONTO_HOT_SINK)


@compiled
def _enthalpy(air_K: float, water: float) -> float:
    """Enthalpy of moist air [J/kg] as in `physics.air_state`, without its range.

    On the way to a solution some air may be hotter than the law reaches; a result may not.
    """
    celsius = air_K - ZERO_C_K
    return float(CP_AIR * celsius + water * (LATENT_J_KG + CP_VAPOUR * celsius))


@compiled
def unknowns(cooler: Any, with_place: bool) -> int:
    """Number of unknowns."""
    n = cooler.cold_sinks + cooler.hot_sinks
    for g in range(cooler.groups):
        n += 4 if cooler.group[g].stages == 2 else 2
    if cooler.cold_recirculation > 0.0:
        n += 2
    if cooler.hot_recirculation > 0.0:
        n += 1
    if with_place:
        n += 2
    return int(n)


@compiled
def dry_air(place: Any) -> float:
    """Mass of dry air in the place [kg], fixed by the state at the start."""
    return float(
        place.volume_m3 / specific_volume(place.air_K, place.humidity_ratio, place.pressure_Pa)
    )


@compiled
def natural_flow(place: Any, air_K: float) -> float:
    """Natural infiltration [m³/s] at this air temperature, without any fan."""
    if place.leak_area_m2 > 0.0:
        return float(
            infiltration_basic(
                place.leak_area_m2,
                np.hypot(place.outdoor_K - air_K, 0.1),  # the root's slope is infinite at 0
                place.wind_m_s,
                place.stack_coefficient,
                place.wind_coefficient,
            )
        )
    return float(place.natural_m3_s)


@compiled
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


@compiled
def inflow_mass(place: Any, unbalanced_kg_s: float, air_K: float) -> Any:
    """Dry outdoor air [kg/s] that comes in through the gaps: with the cooler, and without it.

    The published rule joins natural and fan-driven leakage by the root of the sum of squares.
    Air that a fan blows in leaves through the same gaps and holds part of the natural flow off.
    """
    volume = specific_volume(place.outdoor_K, place.outdoor_humidity_ratio, place.pressure_Pa)
    natural_kg_s = natural_flow(place, air_K) / volume
    total_kg_s = combined_flow(0.0, abs(unbalanced_kg_s), natural_kg_s)
    if unbalanced_kg_s < 0.0:
        total_kg_s += unbalanced_kg_s
    return total_kg_s, natural_kg_s


@compiled
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


@compiled
def balance(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    x: Any,
    f: Any,
    o: Any,
) -> bool:
    """Fill `f` with the residuals [W] at `x`, and `o` with what else was computed on the way.

    `o`: 0 cold outlet [K], 1 its water [kg/kg], 2 hot outlet [K], 3 its water, 4 condensate [kg/s],
    5 power of the modules [W], 6 from the plug, 7 loss of the supply, 8 of the converter,
    9 of the leads, 10 heat of the hot duct into its surroundings, 11 exhaust temperature [K] at
    the duct's end, 12 heat through the spacer [W], 13 inflow [kg/s], 14 natural inflow [kg/s],
    15 hot air after sink and fan and what is lost into the exhaust [K], 16 liquid temperature [K],
    17 cold air and 18 hot air after the sinks, before a fan that stands behind them [K].
    Returns whether every drive's wish could be met.
    """
    n_cold = cooler.cold_sinks
    n_hot = cooler.hot_sinks
    k = n_cold + n_hot
    for g in range(cooler.groups):
        k += 4 if cooler.group[g].stages == 2 else 2
    last = k
    if cooler.cold_recirculation > 0.0:
        last += 2
    if cooler.hot_recirculation > 0.0:
        last += 1
    if with_place:
        place_K = x[last]
        place_water = x[last + 1] * 1e-3
    pressure_Pa = cooler.pressure_Pa
    inverse_step = frame.inverse_step_1_s

    # Where the streams come from.
    if cooler.cold_takes == _PLACE:
        cold_source_K, cold_source_water = place_K, place_water
    else:
        cold_source_K, cold_source_water = place.outdoor_K, place.outdoor_humidity_ratio
    if cooler.hot_takes == _PLACE:
        hot_source_K, hot_water = place_K, place_water
    else:
        hot_source_K, hot_water = place.outdoor_K, place.outdoor_humidity_ratio
    cold_K, cold_water = cold_source_K, cold_source_water
    j = k
    if cooler.cold_recirculation > 0.0:
        cold_K, cold_water = x[j], x[j + 1] * 1e-3
        j += 2
    hot_K = hot_source_K
    if cooler.hot_recirculation > 0.0:
        hot_K = x[j]

    # Cold stream through its sinks: what it gives, and the temperature of each base.
    cold_rate = CP_AIR + CP_VAPOUR * cold_water
    if cooler.cold_fan.after_sink == 0 and frame.cold_kg_s > 0.0:
        cold_K += frame.cold_fan_W / (frame.cold_kg_s * cold_rate)
    condensate_kg_s = 0.0
    liquid_J_s = 0.0
    liquid_K = ZERO_C_K
    cold_h = _enthalpy(cold_K, cold_water)
    for s in range(n_cold):
        sink = cooler.cold_sink[s]
        surface_K = x[s]
        if sink.kind == _PLATE:
            heat_W = sink.load_W + sink.load_conductance_W_K * (
                sink.load_surroundings_K - surface_K
            )
        else:
            mass = frame.cold_kg_s
            bypass = np.exp(
                -frame.cold_conductance_W_K[s] / (mass * (CP_AIR + CP_VAPOUR * cold_water))
            )
            next_K, next_water = contact(cold_K, cold_water, surface_K, bypass, pressure_Pa)
            next_h = _enthalpy(next_K, next_water)
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
    if condensate_kg_s > 0.0:
        liquid_K = ZERO_C_K + liquid_J_s / (condensate_kg_s * CP_LIQUID)
    o[17] = cold_K
    if cooler.cold_fan.after_sink == 1 and frame.cold_kg_s > 0.0:
        cold_K += frame.cold_fan_W / (frame.cold_kg_s * (CP_AIR + CP_VAPOUR * cold_water))

    # Hot stream through its sinks. Condensate that drips on the first hot sink evaporates there;
    # of exhaust that is drawn in again it comes round.
    hot_source_water = hot_water
    if cooler.condensate == _ONTO_HOT and cooler.hot_recirculation > 0.0:
        share = cooler.hot_recirculation / (1.0 - cooler.hot_recirculation)
        hot_water += share * condensate_kg_s / frame.hot_kg_s
    hot_inlet_h = _enthalpy(hot_K, hot_water)
    hot_rate = CP_AIR + CP_VAPOUR * hot_water
    if cooler.hot_fan.after_sink == 0 and frame.hot_kg_s > 0.0:
        hot_K += frame.hot_fan_W / (frame.hot_kg_s * hot_rate)
    for s in range(n_hot):
        sink = cooler.hot_sink[s]
        surface_K = x[n_cold + s]
        rate_W_K = frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water)
        gained_W = (
            rate_W_K * -np.expm1(-frame.hot_conductance_W_K[s] / rate_W_K) * (surface_K - hot_K)
        )
        hot_h = _enthalpy(hot_K, hot_water) + gained_W / frame.hot_kg_s
        heat_W = gained_W
        if s == 0 and cooler.condensate == _ONTO_HOT:
            vapour_W = condensate_kg_s * (LATENT_J_KG + CP_VAPOUR * (surface_K - ZERO_C_K))
            heat_W += vapour_W - liquid_J_s
            hot_water += condensate_kg_s / frame.hot_kg_s
            hot_h += vapour_W / frame.hot_kg_s
        hot_K = ZERO_C_K + (hot_h - LATENT_J_KG * hot_water) / (CP_AIR + CP_VAPOUR * hot_water)
        through_W = heat_W - sink.pump_heat_W
        base_K = surface_K + sink.block_K_W * through_W
        o[20 + MAX_SINKS + s] = base_K
        f[n_cold + s] = -through_W - sink.heat_capacity_J_K * inverse_step * (
            base_K - frame.hot_base_old_K[s]
        )
    o[18] = hot_K
    if cooler.hot_fan.after_sink == 1 and frame.hot_kg_s > 0.0:
        hot_K += frame.hot_fan_W / (frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water))

    spacer_W = 0.0
    if n_cold > 0:
        spacer_W = cooler.spacer_W_K * (o[20 + MAX_SINKS] - o[20])
        f[0] += spacer_W
        f[n_cold] -= spacer_W

    # Groups of modules between their bases.
    possible = True
    power_W = 0.0
    leads_W = 0.0
    i = n_cold + n_hot
    for g in range(cooler.groups):
        group = cooler.group[g]
        count = group.series * group.parallel
        two = group.stages == 2
        face_cold_K = x[i]
        face_hot_K = x[i + 3] if two else x[i + 1]
        middle_hot_K = x[i + 1] if two else face_hot_K
        middle_cold_K = x[i + 2] if two else face_cold_K
        into_W, first_W, second_W, out_W, each_W, _, _, square_A2, _, wish = group_state(
            group, face_cold_K, middle_cold_K, middle_hot_K, face_hot_K
        )
        possible = possible and wish
        cold_r = frame.cold_interface_K_W[g]
        hot_r = frame.hot_interface_K_W[g]
        f[i] = (o[20 + group.cold_sink] - face_cold_K - cold_r * into_W) / (cold_r + 0.01)
        hot_row = (face_hot_K - o[20 + MAX_SINKS + group.hot_sink] - hot_r * out_W) / (hot_r + 0.01)
        if two:
            f[i + 1] = (middle_hot_K - middle_cold_K - group.between_K_W * first_W) / (
                group.between_K_W + 0.01
            )
            f[i + 2] = first_W - second_W
            f[i + 3] = hot_row
            i += 4
        else:
            f[i + 1] = hot_row
            i += 2
        f[group.cold_sink] -= count * into_W
        f[n_cold + group.hot_sink] += count * out_W
        power_W += count * each_W
        leads_W += square_A2 * group.parallel * group.parallel * group.lead_ohm

    others_W = frame.cold_fan_W + frame.hot_fan_W + frame.pumps_W
    plug_W, supply_W, converter_W = power_chain(cooler.power, power_W, leads_W, others_W)

    # The exhaust on its way out; what supply and converter lose into it goes along.
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
    exhaust_K = hot_K
    end_K = hot_K
    duct_W = 0.0
    if frame.hot_kg_s > 0.0:
        rate_W_K = frame.hot_kg_s * (CP_AIR + CP_VAPOUR * hot_water)
        exhaust_K = hot_K + into_exhaust_W / rate_W_K
        duct_W = duct_heat(cooler, frame, exhaust_K, rate_W_K, place_K, place.outdoor_K)
        end_K = exhaust_K - duct_W / rate_W_K

    # Outlets that are drawn in again, mixed with fresh air: water and enthalpy, in K.
    if cooler.cold_recirculation > 0.0:
        r = cooler.cold_recirculation
        mixed_h = (1.0 - r) * _enthalpy(cold_source_K, cold_source_water)
        mixed_h += r * _enthalpy(cold_K, cold_water)
        f[i] = 10.0 * (mixed_h - _enthalpy(x[i], x[i + 1] * 1e-3)) / CP_AIR
        f[i + 1] = 10.0 * ((1.0 - r) * cold_source_water + r * cold_water - x[i + 1] * 1e-3) * 1e3
        i += 2
    if cooler.hot_recirculation > 0.0:
        r = cooler.hot_recirculation
        mixed_h = (1.0 - r) * _enthalpy(hot_source_K, hot_source_water)
        mixed_h += r * _enthalpy(end_K, hot_water)
        f[i] = 10.0 * (mixed_h - hot_inlet_h) / CP_AIR
        i += 1

    o[0] = cold_K
    o[1] = cold_water
    o[2] = hot_K
    o[3] = hot_water
    o[4] = condensate_kg_s
    o[5] = power_W
    o[6] = plug_W
    o[7] = supply_W
    o[8] = converter_W
    o[9] = leads_W
    o[10] = duct_W
    o[11] = end_K
    o[12] = spacer_W
    o[15] = exhaust_K
    o[16] = liquid_K
    unbalanced_kg_s = unbalanced_mass(cooler, frame)
    inflow_kg_s, natural_kg_s = inflow_mass(place, unbalanced_kg_s, place_K)
    o[13] = inflow_kg_s
    o[14] = natural_kg_s
    if not with_place:
        return possible

    # The place's air: enthalpy and water. A stream that enters counts with what it has more than
    # the place's air, because as much dry air leaves as comes in.
    place_h = _enthalpy(place_K, place_water)
    vapour_h = LATENT_J_KG + CP_VAPOUR * (place_K - ZERO_C_K)
    heat_W = frame.cold_fresh_kg_s * (_enthalpy(cold_K, cold_water) - place_h)
    water_kg_s = frame.cold_fresh_kg_s * (cold_water - place_water)
    if cooler.hot_sends == _PLACE:
        heat_W += frame.hot_fresh_kg_s * (_enthalpy(end_K, hot_water) - place_h)
        water_kg_s += frame.hot_fresh_kg_s * (hot_water - place_water)
    if cooler.hot_duct.in_place == 1:
        heat_W += duct_W
    outdoor_h = _enthalpy(place.outdoor_K, place.outdoor_humidity_ratio)
    heat_W += inflow_kg_s * (outdoor_h - place_h) + into_place_W
    water_kg_s += inflow_kg_s * (place.outdoor_humidity_ratio - place_water)
    if cooler.condensate == _STAYS:
        heat_W += liquid_J_s
        water_kg_s += condensate_kg_s
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
    saturated = humidity_ratio_saturated(place_K, pressure_Pa)
    if place_water > saturated:
        sweat_kg_s = place.sweat_kg_s * (place_water - saturated)
        water_kg_s -= sweat_kg_s
        heat_W -= sweat_kg_s * liquid_h
    if inverse_step > 0.0:
        air_kg = dry_air(place)
        heat_W -= (air_kg * place_h - frame.place_J_old) * inverse_step
        water_kg_s -= (air_kg * place_water - frame.place_kg_old) * inverse_step
    f[i] = 100.0 * (frame.held_K - place_K) if frame.held_K > 0.0 else heat_W
    f[i + 1] = water_kg_s * LATENT_J_KG
    if (
        inverse_step == 0.0
        and inflow_kg_s == 0.0
        and place.moisture_kg_s == 0.0
        and cooler.condensate != _STAYS
    ):
        # A sealed place keeps its water until none condenses any more: as much as at the start,
        # or as much as its coldest surface lets stay in the air (a hair less, which puts the
        # solution beside the kink where condensing begins and not on it).
        least_K = place_K
        for s in range(n_cold):
            if cooler.cold_sink[s].kind != _PLATE:
                least_K = min(least_K, x[s])
        kept = min(place.humidity_ratio, 0.9995 * humidity_ratio_saturated(least_K, pressure_Pa))
        f[i + 1] = (kept - place_water) * LATENT_J_KG * 0.01
    return possible
