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


@inlined
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


@inlined
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
    guess_square: float,
) -> Any:
    """Flow [m³/s] at the fan, where its pressure equals the path's; 0 where there is none.

    On a curve with a dip the stable branch (the largest flow) is taken. The path's pressure is
    close to ``a V + b V²``; the parabola through its last two known points (and the origin) meets
    the fan's straight pieces in closed form, which gives the next flow to try. It stays within a
    bracket that only shrinks. `guess_m3_s` is a last known flow (the previous step of a day, the
    last slider place) and `guess_square` the coefficient b that was found with it, 0 for none.
    Returned are the flow and its b. All but the path is reckoned on the fan's own curve, at full
    speed and the curve's density (fan laws), where b stands for V² too.
    """
    speed = fan.speed
    if fan.given_flow == 1:
        return float(fan.flow_m3_s * speed), 0.0
    if not speed > 0.0 or fan.points < 2:
        return 0.0, 0.0
    stall_Pa = interpolate(fan.points, fan.curve_flow_m3_s, fan.curve_pressure_Pa, 0.0)
    if not stall_Pa > 0.0:
        return 0.0, 0.0
    per_Pa = CURVE_DENSITY_KG_M3 / (speed * speed * density_kg_m3)
    per_speed = 1.0 / speed
    allowed_Pa = stall_Pa + per_Pa
    low = 0.0
    high = fan.curve_flow_m3_s[fan.points - 1]
    open_end = True  # whether the path may still want less than the fan has at `high`
    for i in range(fan.points - 2, -1, -1):
        if fan.curve_pressure_Pa[i] < fan.curve_pressure_Pa[i + 1]:
            # The curve rises somewhere: only the first crossing from above is the stable one.
            low, high = _highest_crossing(
                fan, sinks, count, duct, leak_m3_s_Pan, leak_exponent, density_kg_m3, viscosity_Pa_s
            )
            if not low < high:
                return float(high * speed), 0.0
            open_end = False
            break
    flow = guess_m3_s * per_speed
    before, before_ratio, width = 0.0, 0.0, math.inf
    square = 0.0
    missed, shrinks = math.nan, 1.0
    if low < flow < high:
        # From a neighbour the way on is known to about a thousandth.
        square = guess_square
        shrinks = 1e-3 if square > 0.0 else 1.0
    else:
        flow = low + 0.35 * (high - low)
    fan_Pa = interpolate(fan.points, fan.curve_flow_m3_s, fan.curve_pressure_Pa, flow)
    for k in range(100):
        path_Pa = per_Pa * path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, flow * speed, density_kg_m3,
            viscosity_Pa_s,
        )  # fmt: skip
        value = fan_Pa - path_Pa
        if math.isnan(value):
            return 0.0, 0.0
        if value > 0.0:
            if flow >= high:  # no path at all, or one that helps
                return float(high * speed), 0.0
            low = flow
        else:
            high, open_end = flow, False
        ratio = path_Pa / flow
        if before > 0.0 and before != flow:
            square = (ratio - before_ratio) / (flow - before)
        elif not square > 0.0:
            square = 0.75 * ratio / flow  # as most paths rise: with V^1.75
        if square < 0.0 or square * flow > ratio:
            square = 0.0  # a path that rises less than its flow is taken as a straight line
        linear = ratio - square * flow
        before, before_ratio = flow, ratio
        # The next parabola takes off at least as large a share as the last one did.
        missed_before, missed = missed, abs(value) / allowed_Pa
        if missed_before > 0.0:
            shrinks = missed / missed_before
        close = missed * min(shrinks, 1.0) <= 1e-9 or high - low <= 1e-15
        meeting = _meeting(fan, linear, square)
        creeps = False
        if k % 4 == 3:
            # Over a kink the parabola may creep: the bracket must halve now and then all the same.
            creeps = high - low > 0.5 * width
            width = high - low
        if low < meeting < high and not (creeps and not close):
            flow = meeting
            fan_Pa = (linear + square * flow) * flow
        elif not close:
            flow = high if open_end and not creeps else 0.5 * (low + high)
            fan_Pa = interpolate(fan.points, fan.curve_flow_m3_s, fan.curve_pressure_Pa, flow)
        if close:
            break
    return float(flow * speed), square


@inlined
def _meeting(fan: Any, linear: float, square: float) -> float:
    """Flow on the fan's curve at which it has ``linear V + square V²``, the highest there is."""
    for i in range(fan.points - 1, 0, -1):
        x = fan.curve_flow_m3_s[i - 1]
        y = fan.curve_pressure_Pa[i - 1]
        if y >= (square * x + linear) * x:
            rise = (fan.curve_pressure_Pa[i] - y) / (fan.curve_flow_m3_s[i] - x)
            b = linear - rise
            c = y - rise * x
            return 2.0 * c / (b + math.sqrt(b * b + 4.0 * square * c))
    # Below the first point the pressure is level.
    c = fan.curve_pressure_Pa[0]
    return 2.0 * c / (linear + math.sqrt(linear * linear + 4.0 * square * c))


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
    """Flows of the curve between which the fan first has more than the path, from above.

    Both are the free flow where the path wants nothing; both 0 where the fan never has enough.
    """
    high = fan.curve_flow_m3_s[fan.points - 1]
    for i in range(fan.points - 1, -1, -1):
        low = fan.curve_flow_m3_s[i]
        flow = low * fan.speed
        spare_Pa = fan_pressure(fan, flow, density_kg_m3) - path_pressure(
            sinks, count, duct, leak_m3_s_Pan, leak_exponent, flow, density_kg_m3, viscosity_Pa_s
        )
        if spare_Pa >= 0.0:
            return low, high
        high = low
    return 0.0, 0.0
