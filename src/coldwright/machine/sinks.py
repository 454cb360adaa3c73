"""Sinks: how well a base plate reaches the air that flows past it, and what that costs in pressure.

`CORRELATIONS` is the only list of plate-fin correlations. The compiled switch below it names the
same functions by their position; a test holds the two together.
"""

from __future__ import annotations

import math
from typing import Any

from coldwright.machine.records import SinkKind
from coldwright.physics.compiled import Law, compiled, inlined
from coldwright.physics.plate_fin import (
    plate_fin_conductance_stephan,
    plate_fin_conductance_teertstra,
    plate_fin_pressure_drop,
)

CORRELATIONS: dict[str, Law] = {
    "stephan": plate_fin_conductance_stephan,
    "teertstra": plate_fin_conductance_teertstra,
}

_RESISTANCE = int(SinkKind.RESISTANCE)
_PLATE_FIN = int(SinkKind.PLATE_FIN)
_TABLE = int(SinkKind.TABLE)


@inlined
def interpolate(points: int, xs: Any, ys: Any, x: float) -> float:
    """Value of a table at `x`: straight lines between points, level beyond the first and last."""
    if x <= xs[0]:
        return float(ys[0])
    for i in range(1, points):
        if x <= xs[i]:
            share = (x - xs[i - 1]) / (xs[i] - xs[i - 1])
            return float(ys[i - 1] + share * (ys[i] - ys[i - 1]))
    return float(ys[points - 1])


@compiled
def conductance_of_resistance(resistance_K_W: float, capacity_rate_W_K: float) -> float:
    """UA [W/K] of a sink whose resistance to the *incoming* air is known at this flow.

    ``NTU = -ln(1 - 1/(R m cp))``; NaN where R is below 1/(m cp), which no sink can be, because
    the air cannot leave hotter than the base.
    """
    share = 1.0 / (resistance_K_W * capacity_rate_W_K)
    if not share < 1.0:
        return math.nan
    return -capacity_rate_W_K * math.log(1.0 - share)


@compiled
def sink_conductance(
    sink: Any,
    flow_m3_s: float,
    dry_air_kg_m3: float,
    humid_heat_J_kgK: float,
    viscosity_Pa_s: float,
    conductivity_W_mK: float,
    prandtl: float,
    density_kg_m3: float,
) -> float:
    """UA [W/K] from base (or water) to air at a mean temperature difference, for this flow."""
    kind = sink.kind
    if kind == _RESISTANCE:
        reference_m3_s = sink.reference_flow_m3_s
        rate_W_K = reference_m3_s * dry_air_kg_m3 * humid_heat_J_kgK
        conductance_W_K = conductance_of_resistance(sink.resistance_K_W, rate_W_K)
        if flow_m3_s != reference_m3_s:
            conductance_W_K *= (flow_m3_s / reference_m3_s) ** sink.flow_exponent
    elif kind == _PLATE_FIN:
        if sink.correlation == 0:
            conductance_W_K = plate_fin_conductance_stephan(
                flow_m3_s,
                sink.channels,
                sink.gap_m,
                sink.fin_height_m,
                sink.length_m,
                sink.fin_thickness_m,
                sink.fin_conductivity_W_mK,
                density_kg_m3,
                viscosity_Pa_s,
                conductivity_W_mK,
                prandtl,
                humid_heat_J_kgK,
            )
        else:
            conductance_W_K = plate_fin_conductance_teertstra(
                flow_m3_s,
                sink.channels,
                sink.gap_m,
                sink.fin_height_m,
                sink.length_m,
                sink.fin_thickness_m,
                sink.fin_conductivity_W_mK,
                density_kg_m3,
                viscosity_Pa_s,
                conductivity_W_mK,
                prandtl,
                humid_heat_J_kgK,
            )
    elif kind == _TABLE:
        conductance_W_K = interpolate(
            sink.points, sink.table_flow_m3_s, sink.table_conductance_W_K, flow_m3_s
        )
        if flow_m3_s < sink.table_flow_m3_s[0]:
            # Below the first row the table says nothing; conductance must vanish with the flow.
            conductance_W_K *= math.sqrt(flow_m3_s / sink.table_flow_m3_s[0])
    else:
        conductance_W_K = 0.0
    return conductance_W_K * sink.conductance_ratio


@inlined
def sink_pressure(
    sink: Any, flow_m3_s: float, density_kg_m3: float, viscosity_Pa_s: float
) -> float:
    """Static pressure [Pa] that the sink takes at this flow."""
    pressure_Pa = sink.pressure_Pa_s2_m6 * flow_m3_s * flow_m3_s * (density_kg_m3 / 1.2)
    if sink.kind == _PLATE_FIN:
        pressure_Pa += plate_fin_pressure_drop(
            flow_m3_s,
            sink.channels,
            sink.gap_m,
            sink.fin_height_m,
            sink.length_m,
            sink.fin_thickness_m,
            density_kg_m3,
            viscosity_Pa_s,
        )
    elif sink.kind == _TABLE and sink.points > 0:
        first_m3_s = sink.table_flow_m3_s[0]
        last_m3_s = sink.table_flow_m3_s[sink.points - 1]
        if flow_m3_s < first_m3_s:
            pressure_Pa += sink.table_pressure_Pa[0] * (flow_m3_s / first_m3_s) ** 2
        elif flow_m3_s > last_m3_s:
            pressure_Pa += sink.table_pressure_Pa[sink.points - 1] * (flow_m3_s / last_m3_s) ** 2
        else:
            pressure_Pa += interpolate(
                sink.points, sink.table_flow_m3_s, sink.table_pressure_Pa, flow_m3_s
            )
    return pressure_Pa * sink.pressure_ratio
