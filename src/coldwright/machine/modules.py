"""Groups of modules: series and parallel strings of one kind, between one pair of sinks.

Compiled: current from what is set, and the heats at the faces, for one or two stages.
"""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.records import Drive, Properties
from coldwright.physics.bismuth_telluride import (
    conductivity_polynomial,
    resistivity_polynomial,
    seebeck_polynomial,
)
from coldwright.physics.compiled import inlined
from coldwright.physics.thermoelectric import cold_side_heat, hot_side_heat

_OFF = int(Drive.OFF)
_VOLTAGE = int(Drive.VOLTAGE)
_CURRENT = int(Drive.CURRENT)
_POWER = int(Drive.POWER)
_CHOPPED = int(Drive.CHOPPED)
_TELLURIDE = int(Properties.BISMUTH_TELLURIDE)


@inlined
def stage_properties(group: Any, second: bool, mean_K: float) -> Any:
    """Seebeck coefficient [V/K], resistance [ohm], conductance [W/K] of one module's stage."""
    seebeck, resistance, conductance = group.seebeck, group.resistance, group.conductance
    properties, contact_ohm = group.properties, group.resistance_contact_ohm
    if second:
        seebeck, resistance = group.second_seebeck, group.second_resistance
        conductance = group.second_conductance
        properties, contact_ohm = group.second_properties, group.second_contact_ohm
    if properties == _TELLURIDE:
        seebeck *= seebeck_polynomial(mean_K)
        resistance = resistance * resistivity_polynomial(mean_K) + contact_ohm
        conductance *= conductivity_polynomial(mean_K)
    return seebeck, resistance, conductance


@inlined
def drive_current(
    group: Any,
    back_voltage_V: float,
    resistance_ohm: float,
    seebeck_V_K: float,
    first_resistance_ohm: float,
    cold_K: float,
    leak_W: float,
) -> Any:
    """Current while on [A], share of time on, and whether the wish can be met, for one module.

    `back_voltage_V` and `resistance_ohm` are what one module (all its stages in series) shows at
    its terminals; `leak_W` is the heat that conducts to the cold face. Wires between the point
    that is set and the array count as resistance in series.
    """
    drive = group.drive
    value = group.drive_value
    if drive == _OFF:
        return 0.0, 1.0, True
    if drive in (_VOLTAGE, _CHOPPED):
        total_ohm = resistance_ohm + group.lead_ohm * group.parallel / group.series
        current_A = (value / group.series - back_voltage_V) / total_ohm
        return current_A, (group.duty if drive == _CHOPPED else 1.0), True
    if drive == _CURRENT:
        return value / group.parallel, 1.0, True
    each_W = value / (group.series * group.parallel)
    if drive == _POWER:
        root = math.sqrt(back_voltage_V * back_voltage_V + 4.0 * resistance_ohm * max(each_W, 0.0))
        return (root - back_voltage_V) / (2.0 * resistance_ohm), 1.0, True
    # PUMPED: the smaller of the two currents that move this heat. At the top of the parabola they
    # meet with an infinite slope; from just below it (1 % of the best current) the curve goes on
    # straight, up to a little past the best current, and the wish counts as not met.
    pull = seebeck_V_K * cold_K
    below = pull * pull - 2.0 * first_resistance_ohm * (leak_W + each_W)
    edge = 0.01 * pull
    if below < edge * edge:
        over = 0.5 * (edge * edge - below) / edge
        return min(pull - edge + over, 1.2 * pull) / first_resistance_ohm, 1.0, False
    return (pull - math.sqrt(below)) / first_resistance_ohm, 1.0, True


@inlined
def group_state(
    group: Any, cold_K: float, middle_cold_K: float, middle_hot_K: float, hot_K: float
) -> Any:
    """What one module of the group does between these faces.

    Returns heat into the cold face [W], heat out of the first stage and into the second [W] (both
    equal the heat out of the hot face where there is one stage), heat out of the hot face [W],
    electrical power [W], mean current [A], voltage while on [V], mean squared current [A²],
    current of the second stage [A], and whether the drive's wish can be met.
    """
    two = group.stages == 2
    first_hot_K = middle_hot_K if two else hot_K
    S1, R1, K1 = stage_properties(group, False, 0.5 * (cold_K + first_hot_K))
    lift1_K = first_hot_K - cold_K
    back_V = S1 * lift1_K
    total_ohm = R1
    S2 = 0.0
    R2 = 0.0
    K2 = 0.0
    lift2_K = 0.0
    own_second = False
    if two:
        S2, R2, K2 = stage_properties(group, True, 0.5 * (middle_cold_K + hot_K))
        lift2_K = hot_K - middle_cold_K
        own_second = not math.isnan(group.second_voltage_V)
        if not own_second:
            back_V += S2 * lift2_K
            total_ohm += R2
    on_A, duty, possible = drive_current(group, back_V, total_ohm, S1, R1, cold_K, K1 * lift1_K)
    mean_A = duty * on_A
    square_A2 = duty * on_A * on_A
    voltage_V = back_V + on_A * total_ohm
    # Chopping leaves the mean current's Peltier heat and adds Joule heat; half goes to each face.
    extra_W = 0.5 * (square_A2 - mean_A * mean_A) * R1
    cold_W = cold_side_heat(mean_A, cold_K, first_hot_K, S1, R1, K1) - extra_W
    first_hot_W = hot_side_heat(mean_A, cold_K, first_hot_K, S1, R1, K1) + extra_W
    power_W = mean_A * back_V + square_A2 * total_ohm
    if not two:
        return (
            cold_W,
            first_hot_W,
            first_hot_W,
            first_hot_W,
            power_W,
            mean_A,
            voltage_V,
            square_A2,
            0.0,
            possible,
        )
    second_A = mean_A
    second_square_A2 = square_A2
    if own_second:
        second_A = (group.second_voltage_V - S2 * lift2_K) / R2
        second_square_A2 = second_A * second_A
        power_W += second_A * group.second_voltage_V
    extra_W = 0.5 * (second_square_A2 - second_A * second_A) * R2
    second_cold_W = cold_side_heat(second_A, middle_cold_K, hot_K, S2, R2, K2) - extra_W
    hot_W = hot_side_heat(second_A, middle_cold_K, hot_K, S2, R2, K2) + extra_W
    return (
        cold_W,
        first_hot_W,
        second_cold_W,
        hot_W,
        power_W,
        mean_A,
        voltage_V,
        square_A2,
        second_A,
        possible,
    )
