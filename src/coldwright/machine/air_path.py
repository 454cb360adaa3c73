"""The flow where a fan meets its path: sinks, duct, fittings, and the place it draws from."""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.sinks import interpolate, sink_pressure
from coldwright.physics.compiled import compiled
from coldwright.physics.duct import duct_pressure_drop
from coldwright.physics.leakage import power_law_pressure

# Fan curves are stated for this density of air [kg/m³] (common practice).
CURVE_DENSITY_KG_M3 = 1.2


@compiled
def fan_pressure(fan: Any, flow_m3_s: float, density_kg_m3: float) -> float:
    """Static pressure [Pa] of the fan at this flow, its speed and the air's density.

    Fan laws: flow with speed, pressure with speed squared and density. Beyond the free flow the
    last slope goes on, so that a path that helps (wind, another fan) still finds a flow.
    """
    speed = fan.speed
    points = fan.points
    scaled = flow_m3_s / speed
    last = fan.curve_flow_m3_s[points - 1]
    if scaled > last and points > 1:
        slope = (fan.curve_pressure_Pa[points - 1] - fan.curve_pressure_Pa[points - 2]) / (
            last - fan.curve_flow_m3_s[points - 2]
        )
        pressure_Pa = fan.curve_pressure_Pa[points - 1] + slope * (scaled - last)
    else:
        pressure_Pa = interpolate(points, fan.curve_flow_m3_s, fan.curve_pressure_Pa, scaled)
    return pressure_Pa * speed * speed * density_kg_m3 / CURVE_DENSITY_KG_M3


@compiled
def path_pressure(
    sinks: Any,
    count: int,
    duct: Any,
    leak_m3_s_Pan: float,
    leak_exponent: float,
    flow_m3_s: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
) -> float:
    """Static pressure [Pa] that the whole path takes; `leak_m3_s_Pan` is 0 for a balanced path.

    Air that leaves the place must come in through its gaps: the under-pressure this takes is part
    of what the exhaust fan has to overcome.
    """
    pressure_Pa = 0.0
    for i in range(count):
        pressure_Pa += sink_pressure(sinks[i], flow_m3_s, density_kg_m3, viscosity_Pa_s)
    if duct.diameter_m > 0.0:
        pressure_Pa += duct_pressure_drop(
            flow_m3_s,
            duct.diameter_m,
            duct.length_m * duct.friction_factor_ratio,
            duct.roughness_m,
            duct.loss_coefficient,
            density_kg_m3,
            viscosity_Pa_s,
        )
    pressure_Pa += duct.extra_Pa_s2_m6 * flow_m3_s * flow_m3_s * density_kg_m3 / CURVE_DENSITY_KG_M3
    if leak_m3_s_Pan > 0.0:
        pressure_Pa += power_law_pressure(flow_m3_s, leak_m3_s_Pan, leak_exponent)
    return pressure_Pa


@compiled
def operating_flow(
    fan: Any,
    sinks: Any,
    count: int,
    duct: Any,
    leak_m3_s_Pan: float,
    leak_exponent: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
    guess_m3_s: float,
) -> float:
    """Flow [m³/s] at the fan, where its pressure equals the path's; 0 where there is none.

    The bracket is found from the free flow downwards, so on a curve with a dip the stable branch
    (the largest flow) is taken. Inside it: secant steps kept within the bracket.
    """
    if fan.given_flow == 1:
        return float(fan.flow_m3_s * fan.speed)
    speed = fan.speed
    if not speed > 0.0 or fan.points < 2:
        return 0.0
    high = fan.curve_flow_m3_s[fan.points - 1] * speed
    at_high = fan_pressure(fan, high, density_kg_m3) - path_pressure(
        sinks, count, duct, leak_m3_s_Pan, leak_exponent, high, density_kg_m3, viscosity_Pa_s
    )
    if at_high > 0.0:  # no path at all, or one that helps
        return float(high)
    low = 0.0
    at_low = 0.0
    found = False
    for i in range(fan.points - 2, -1, -1):
        low = fan.curve_flow_m3_s[i] * speed
        at_low = fan_pressure(fan, low, density_kg_m3) - path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, low, density_kg_m3, viscosity_Pa_s
        )
        if at_low >= 0.0:
            found = True
            break
        high, at_high = low, at_low
    if not found:
        return 0.0
    # A last known flow inside the bracket (the previous step of a day, the last slider place)
    # saves half of the steps.
    flow = low + (high - low) * at_low / (at_low - at_high)
    if low < guess_m3_s < high:
        flow = guess_m3_s
    previous_side = 0
    for _ in range(60):
        value = fan_pressure(fan, flow, density_kg_m3) - path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, flow, density_kg_m3, viscosity_Pa_s
        )
        if abs(value) <= 1e-9 * (1.0 + abs(at_low)) or high - low <= 1e-13:
            break
        if value > 0.0:
            low, at_low = flow, value
            if previous_side == 1:
                at_high *= 0.5
            previous_side = 1
        else:
            high, at_high = flow, value
            if previous_side == -1:
                at_low *= 0.5
            previous_side = -1
        flow = low + (high - low) * at_low / (at_low - at_high)
        if math.isnan(flow):
            return math.nan
    return float(flow)
