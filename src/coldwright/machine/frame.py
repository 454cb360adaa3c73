"""What is fixed while temperatures are found: flows, conductances, interfaces, duct."""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.air_path import operating_flow
from coldwright.machine.records import MAX_GROUPS, End, SinkKind
from coldwright.machine.sinks import sink_conductance
from coldwright.physics.compiled import compiled
from coldwright.physics.interface import spreading_resistance_mean_lee
from coldwright.physics.leakage import power_law_pressure
from coldwright.physics.moist_air import (
    air_conductivity,
    air_prandtl,
    air_viscosity,
    humid_heat,
    specific_volume,
)
from coldwright.physics.water_loop import radiator_effectiveness_crossflow

# A fan that warms its air by more than this, or moves less than this share of its free flow, moves
# none worth the name [K], [1].
MOST_FAN_RISE_K = 100.0
LEAST_FLOW = 1e-3

_PLACE = int(End.PLACE)
_PLATE = int(SinkKind.PLATE_LOAD)


@compiled
def set_flows(
    cooler: Any,
    place: Any,
    cold_fan_K: float,
    cold_fan_water: float,
    hot_fan_K: float,
    hot_fan_water: float,
    frame: Any,
) -> bool:
    """Find both flows and everything that follows from them alone; False where air stands still.

    The four `..._fan_...` arguments are the state at each fan's inlet, which sets the density.
    """
    leak = 0.0
    pumps_W = 0.0
    moves = True
    if cooler.hot_takes == _PLACE and cooler.hot_sends != _PLACE and place.enclosed == 1:
        # Only what is not drawn in again must come in through the gaps.
        leak = place.leak_m3_s_Pan / (1.0 - cooler.hot_recirculation)
        # No fan draws air out of a place into which none can come.
        moves = leak > 0.0 or cooler.cold_takes != _PLACE or cooler.hot_sinks == 0

    volume = specific_volume(cold_fan_K, cold_fan_water, cooler.pressure_Pa)
    wet = (1.0 + cold_fan_water) / volume
    viscosity = air_viscosity(cold_fan_K)
    conductivity = air_conductivity(cold_fan_K)
    prandtl = air_prandtl(cold_fan_K)
    heat = humid_heat(cold_fan_water)
    last_cold_m3_s = frame.cold_flow_m3_s
    last_hot_m3_s = frame.hot_flow_m3_s
    frame.cold_flow_m3_s = 0.0
    frame.cold_fan_W = 0.0
    for s in range(cooler.cold_sinks):
        pumps_W += cooler.cold_sink[s].pump_heat_W
    if cooler.cold_sinks > 0 and cooler.cold_sink[0].kind != _PLATE:
        flow, square = operating_flow(
            cooler.cold_fan,
            cooler.cold_sink,
            cooler.cold_sinks,
            cooler.cold_duct,
            0.0,
            0.65,
            wet,
            viscosity,
            last_cold_m3_s,
            frame.cold_square,
        )
        frame.cold_square = square
        frame.cold_flow_m3_s = flow
        frame.cold_fan_W = fan_power(cooler.cold_fan, wet)
        moves = moves and _passes(cooler.cold_fan, frame.cold_fan_W, flow, volume, heat)
        for s in range(cooler.cold_sinks):
            frame.cold_conductance_W_K[s] = _with_water(
                cooler.cold_sink[s],
                sink_conductance(
                    cooler.cold_sink[s],
                    flow,
                    1.0 / volume,
                    heat,
                    viscosity,
                    conductivity,
                    prandtl,
                    wet,
                ),
                flow / volume * heat,
            )
    frame.cold_kg_s = frame.cold_flow_m3_s / volume
    frame.cold_fresh_kg_s = (1.0 - cooler.cold_recirculation) * frame.cold_kg_s

    volume = specific_volume(hot_fan_K, hot_fan_water, cooler.pressure_Pa)
    wet = (1.0 + hot_fan_water) / volume
    viscosity = air_viscosity(hot_fan_K)
    conductivity = air_conductivity(hot_fan_K)
    prandtl = air_prandtl(hot_fan_K)
    heat = humid_heat(hot_fan_water)
    frame.hot_flow_m3_s = 0.0
    frame.hot_fan_W = 0.0
    frame.duct_W_K = 0.0
    frame.place_pressure_Pa = 0.0
    if cooler.hot_sinks > 0:
        flow, square = operating_flow(
            cooler.hot_fan,
            cooler.hot_sink,
            cooler.hot_sinks,
            cooler.hot_duct,
            leak,
            place.leak_exponent,
            wet,
            viscosity,
            last_hot_m3_s,
            frame.hot_square,
        )
        frame.hot_square = square
        frame.hot_flow_m3_s = flow
        frame.hot_fan_W = fan_power(cooler.hot_fan, wet)
        moves = moves and _passes(cooler.hot_fan, frame.hot_fan_W, flow, volume, heat)
        for s in range(cooler.hot_sinks):
            pumps_W += cooler.hot_sink[s].pump_heat_W
            frame.hot_conductance_W_K[s] = _with_water(
                cooler.hot_sink[s],
                sink_conductance(
                    cooler.hot_sink[s],
                    flow,
                    1.0 / volume,
                    heat,
                    viscosity,
                    conductivity,
                    prandtl,
                    wet,
                ),
                flow / volume * heat,
            )
        duct = cooler.hot_duct
        if duct.diameter_m > 0.0:
            frame.duct_W_K = (
                math.pi
                * duct.diameter_m
                * duct.length_m
                / (1.0 / duct.outer_W_m2K + duct.insulation_m2K_W)
            )
        if leak > 0.0:
            frame.place_pressure_Pa = power_law_pressure(flow, leak, place.leak_exponent)
    frame.hot_kg_s = frame.hot_flow_m3_s / volume
    frame.hot_fresh_kg_s = (1.0 - cooler.hot_recirculation) * frame.hot_kg_s
    frame.pumps_W = pumps_W

    frame.cold_bypass_at[:] = math.nan
    frame.hot_share_at[:] = math.nan
    for g in range(cooler.groups):
        group = cooler.group[g]
        frame.cold_interface_K_W[g] = group.cold_interface_K_W + _spreading(
            cooler, cooler.cold_sink[group.cold_sink], group, True, frame
        )
        frame.hot_interface_K_W[g] = group.hot_interface_K_W + _spreading(
            cooler, cooler.hot_sink[group.hot_sink], group, False, frame
        )
    return moves


@compiled
def _passes(
    fan: Any, fan_W: float, flow_m3_s: float, volume_m3_kg: float, humid_heat_J_kgK: float
) -> bool:
    """Whether air moves in earnest: a fan against a closed path only heats what stands in it."""
    if fan.given_flow == 0 and fan.points > 0:
        free_m3_s = fan.curve_flow_m3_s[fan.points - 1] * fan.speed
        if not flow_m3_s > LEAST_FLOW * free_m3_s:
            return False
    rate_W_K = flow_m3_s / volume_m3_kg * humid_heat_J_kgK
    return bool(flow_m3_s > 0.0 and fan_W < MOST_FAN_RISE_K * rate_W_K)


@compiled
def fan_power(fan: Any, density_kg_m3: float) -> float:
    """Electrical power [W] of a fan: with the cube of the speed and with density (fan laws)."""
    return float(fan.power_W * fan.speed * fan.speed * fan.speed * density_kg_m3 / 1.2)


@compiled
def _with_water(sink: Any, conductance_W_K: float, air_W_K: float) -> float:
    """UA that stands for a radiator fed with water of finite capacity: same heat, same air.

    ``1 - exp(-UA'/Ca) = eps Cmin/Ca`` with the cross-flow effectiveness (both unmixed).
    """
    if sink.water_W_K <= 0.0:
        return conductance_W_K
    least = min(air_W_K, sink.water_W_K)
    ratio = least / max(air_W_K, sink.water_W_K)
    ntu = conductance_W_K / least
    effect = radiator_effectiveness_crossflow(ntu, ratio)
    return -air_W_K * math.log1p(-effect * least / air_W_K)


@compiled
def _spreading(cooler: Any, sink: Any, group: Any, cold: bool, frame: Any) -> float:
    """Spreading resistance [K/W] per module: each has its equal share of the base plate."""
    if sink.base_area_m2 <= 0.0:
        return 0.0
    count = 0.0
    index = group.cold_sink if cold else group.hot_sink
    for g in range(MAX_GROUPS):
        if g < cooler.groups:
            other = cooler.group[g]
            if (other.cold_sink if cold else other.hot_sink) == index:
                count += other.series * other.parallel
    conductance = frame.cold_conductance_W_K[index] if cold else frame.hot_conductance_W_K[index]
    share_m2 = sink.base_area_m2 / count
    if share_m2 <= group.footprint_m2 or not conductance > 0.0:
        return 0.0
    return float(
        spreading_resistance_mean_lee(
            group.footprint_m2,
            share_m2,
            sink.base_thickness_m,
            sink.base_conductivity_W_mK,
            count / conductance,
        )
    )
