"""The flow where a fan meets its path: sinks, duct, fittings, and the place it draws from."""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.sinks import interpolate, sink_pressure
from coldwright.physics.compiled import compiled, inlined
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

    On a curve with a dip the stable branch (the largest flow) is taken. The path's pressure is
    close to ``a V + b V²``; the parabola through its last two known points (and the origin) meets
    the fan's straight pieces in closed form, which gives the next flow to try. It stays within a
    bracket that only shrinks. `guess_m3_s` is a last known flow (the previous step of a day, the
    last slider place), 0 for none.
    """
    if fan.given_flow == 1:
        return float(fan.flow_m3_s * fan.speed)
    if not fan.speed > 0.0 or fan.points < 2:
        return 0.0
    stall_Pa = fan_pressure(fan, 0.0, density_kg_m3)
    if not stall_Pa > 0.0:
        return 0.0
    low = 0.0
    high = fan.curve_flow_m3_s[fan.points - 1] * fan.speed
    open_end = True  # whether the path may still want less than the fan has at `high`
    for i in range(fan.points - 2, -1, -1):
        if fan.curve_pressure_Pa[i] < fan.curve_pressure_Pa[i + 1]:
            # The curve rises somewhere: only the first crossing from above is the stable one.
            low, high = _highest_crossing(
                fan, sinks, count, duct, leak_m3_s_Pan, leak_exponent, density_kg_m3, viscosity_Pa_s
            )
            if not low < high:
                return float(high)
            open_end = False
            break
    flow = guess_m3_s if low < guess_m3_s < high else low + 0.6 * (high - low)
    before, before_Pa, width = 0.0, 0.0, math.inf
    for k in range(100):
        path_Pa = path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, flow, density_kg_m3, viscosity_Pa_s
        )
        value = fan_pressure(fan, flow, density_kg_m3) - path_Pa
        if math.isnan(value):
            return 0.0
        if value > 0.0:
            if flow >= high:  # no path at all, or one that helps
                return float(high)
            low = flow
        else:
            high, open_end = flow, False
        linear, square = _parabola(before, before_Pa, flow, path_Pa)
        before, before_Pa = flow, path_Pa
        meeting = _meeting(fan, linear, square, density_kg_m3)
        close = abs(value) <= 1e-9 * (1.0 + stall_Pa) or high - low <= 1e-15
        if k % 4 == 3:
            # Over a kink the parabola may creep: the bracket must halve now and then all the same.
            if high - low > 0.5 * width and not close:
                meeting = 0.5 * (low + high)
            width = high - low
        if low < meeting < high:
            flow = meeting
        elif not close:
            flow = high if open_end else 0.5 * (low + high)
        if close:
            break
    return float(flow)


@inlined
def _parabola(before_m3_s: float, before_Pa: float, flow_m3_s: float, pressure_Pa: float) -> Any:
    """Coefficients of ``a V + b V²`` through the last two points of a path.

    With one point only it rises as most paths do, as V^1.75; a path that rises less than its flow
    is taken as a straight line.
    """
    ratio = pressure_Pa / flow_m3_s
    if not before_m3_s > 0.0 or before_m3_s == flow_m3_s:
        return 0.25 * ratio, 0.75 * ratio / flow_m3_s
    square = (ratio - before_Pa / before_m3_s) / (flow_m3_s - before_m3_s)
    if square < 0.0:
        return ratio, 0.0
    return ratio - square * flow_m3_s, square


@inlined
def _meeting(fan: Any, linear: float, square: float, density_kg_m3: float) -> float:
    """Flow [m³/s] at which the fan has ``linear V + square V²``, the highest there is."""
    speed = fan.speed
    scale = speed * speed * density_kg_m3 / CURVE_DENSITY_KG_M3
    a = square * speed * speed / scale
    slope = linear * speed / scale
    for i in range(fan.points - 1, 0, -1):
        x = fan.curve_flow_m3_s[i - 1]
        y = fan.curve_pressure_Pa[i - 1]
        if y >= (a * x + slope) * x:
            rise = (fan.curve_pressure_Pa[i] - y) / (fan.curve_flow_m3_s[i] - x)
            b = slope - rise
            c = y - rise * x
            return 2.0 * c * speed / (b + math.sqrt(b * b + 4.0 * a * c))
    # Below the first point the pressure is level.
    c = fan.curve_pressure_Pa[0]
    return 2.0 * c * speed / (slope + math.sqrt(slope * slope + 4.0 * a * c))


@compiled
def _highest_crossing(
    fan: Any,
    sinks: Any,
    count: int,
    duct: Any,
    leak_m3_s_Pan: float,
    leak_exponent: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
) -> Any:
    """Points of the curve [m³/s] between which the fan first has more than the path, from above.

    Both are the free flow where the path wants nothing; both 0 where the fan never has enough.
    """
    high = fan.curve_flow_m3_s[fan.points - 1] * fan.speed
    for i in range(fan.points - 1, -1, -1):
        low = fan.curve_flow_m3_s[i] * fan.speed
        spare_Pa = fan_pressure(fan, low, density_kg_m3) - path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, low, density_kg_m3, viscosity_Pa_s
        )
        if spare_Pa >= 0.0:
            return low, high
        high = low
    return 0.0, 0.0
