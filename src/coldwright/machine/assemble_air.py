"""From the design sheet to the solver's records of what the air passes: fans, ducts, sinks."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coldwright.machine.records import MAX_POINTS, SinkKind
from coldwright.machine.sinks import CORRELATIONS
from coldwright.machine.values import Values
from coldwright.physics.air_state import CP_AIR, CP_LIQUID
from coldwright.physics.duct import (
    compressed_duct_factor,
    duct_pressure_drop,
    equivalent_diameter_huebscher,
)
from coldwright.physics.fitting import loss_grille
from coldwright.physics.plate_fin import plate_fin_pressure_drop
from coldwright.physics.water_loop import block_outlet_resistance
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import (
    Duct,
    Fan,
    PlateFinSink,
    ResistanceSink,
    Sink,
    TableSink,
    WaterLoop,
)

# How conductance follows flow where only one point is known: developing laminar channels.
FLOW_EXPONENT = 0.5
# Fans are rated with a stated flow that differs from sample to sample (common practice).
_FAN_CURVE_LIMIT = 0.10
# A one-number sink or a maker's table says nothing of its own error.
_TABLE_LIMIT = 0.10
_ALUMINIUM_J_KGK = 900.0
_REFERENCE_DRY_AIR_KG_M3 = 1.19


def fill_fan(record: Any, fan: Fan, speed: Quantity, values: Values) -> None:
    """Put a fan and its speed into its record (`FAN`)."""
    record["speed"] = values(speed)
    record["after_sink"] = 1 if fan.position == "after sink" else 0
    if fan.power is not None:
        record["power_W"] = values(fan.power) * fan.count
    if fan.flow is not None:
        record["given_flow"] = 1
        record["flow_m3_s"] = values(fan.flow)
        return
    assert fan.curve is not None
    record["points"] = len(fan.curve)
    factor = values.factor(f"{fan.curve[0][1].path.rsplit('[', 2)[0]}", _FAN_CURVE_LIMIT)
    for i, (flow, pressure) in enumerate(fan.curve[:MAX_POINTS]):
        record["curve_flow_m3_s"][:, i] = flow.value * fan.count
        record["curve_pressure_Pa"][:, i] = pressure.value * factor


def fill_duct(record: Any, duct: Duct | None, values: Values) -> None:
    """Put a duct, or none, into its record (`DUCT`)."""
    record["surface_K"] = math.nan
    record["friction_factor_ratio"] = 1.0
    record["outer_W_m2K"] = 1.0
    if duct is None:
        return
    diameter: Any = 0.0
    if duct.diameter is not None:
        diameter = values(duct.diameter)
    elif duct.section is not None:
        diameter = equivalent_diameter_huebscher(values(duct.section[0]), values(duct.section[1]))
    record["diameter_m"] = diameter
    record["length_m"] = values(duct.length)
    kind = library().duct(duct.kind)
    record["roughness_m"] = values(kind.roughness)
    ratio = values.error("duct friction", duct_pressure_drop)
    if kind.flexible and np.any(np.asarray(diameter) > 0.0):
        squeezed = np.asarray(values(duct.compression)) * 100.0
        ratio = ratio * np.where(
            squeezed > 0.0, compressed_duct_factor(diameter, np.minimum(squeezed, 30.0)), 1.0
        )
    record["friction_factor_ratio"] = ratio
    loss: Any = sum(values(fitting.loss) for fitting in duct.fittings)
    if duct.grille is not None:
        loss = loss + loss_grille(values(duct.grille.open_fraction))
    record["loss_coefficient"] = loss
    if duct.filter is not None:
        record["extra_Pa_s2_m6"] = values(duct.filter.pressure) / values(duct.filter.flow) ** 2
    record["in_place"] = 1 if duct.runs_through == "place" else 0
    record["outer_W_m2K"] = values(duct.surface_coefficient)
    if duct.surface_temperature is not None:
        record["surface_K"] = values(duct.surface_temperature)
    if not isinstance(duct.insulation, str):
        material = library().material(duct.insulation.material)
        thickness_m = values(duct.insulation.thickness)
        # A cylinder's insulation, per inner area: ln(r2/r1) r1 / k.
        inner_m = np.maximum(np.asarray(diameter) / 2.0, 1e-3)
        record["insulation_m2K_W"] = (
            np.log1p(thickness_m / inner_m) * inner_m / values(material.conductivity)
        )


def fill_sink(record: Any, sink: Sink, fan: Fan | None, side: str, values: Values) -> None:
    """Put a sink into its record (`SINK`); `fan` tells at which flow one number holds."""
    record["conductance_ratio"] = 1.0
    record["pressure_ratio"] = 1.0
    record["flow_exponent"] = FLOW_EXPONENT
    if isinstance(sink, PlateFinSink):
        _fill_plate_fin(record, sink, side, values)
    elif isinstance(sink, TableSink):
        _fill_table(record, sink, side, values)
    elif isinstance(sink, ResistanceSink):
        record["kind"] = SinkKind.RESISTANCE
        flow = _reference_flow(sink.at_flow, fan, values)
        record["resistance_K_W"] = values(sink.value)
        record["reference_flow_m3_s"] = flow
        if sink.pressure_drop is not None:
            record["pressure_Pa_s2_m6"] = values(sink.pressure_drop) / flow**2
        if sink.mass is not None:
            record["heat_capacity_J_K"] = values(sink.mass) * _ALUMINIUM_J_KGK
    else:
        _fill_water_loop(record, sink, fan, values)


def _reference_flow(at_flow: Quantity | None, fan: Fan | None, values: Values) -> Any:
    """Flow at which a one-number sink holds: as said, else the fan's flow at full speed.

    A fan known by its curve states no flow; the middle of its curve stands for it, and the
    answer says so.
    """
    if at_flow is not None:
        return values(at_flow)
    if fan is not None and fan.flow is not None:
        return values(fan.flow)
    if fan is not None and fan.curve is not None:
        return fan.curve[-1][0].value * fan.count * 0.6
    return 0.01


def _fill_plate_fin(record: Any, sink: PlateFinSink, side: str, values: Values) -> None:
    record["kind"] = SinkKind.PLATE_FIN
    code = list(CORRELATIONS).index(sink.correlation) if sink.correlation in CORRELATIONS else 0
    record["correlation"] = code
    law = list(CORRELATIONS.values())[code]
    along, across, thick = (values(side_length) for side_length in sink.base)
    gap, fin, height = values(sink.fin_gap), values(sink.fin_thickness), values(sink.fin_height)
    # A sink has a whole number of fins: that of the nominal dimensions.
    fins = plate_fins(sink)
    metal = library().solid(sink.material)
    conductivity = values(metal.conductivity)
    record["channels"] = fins - 1
    record["gap_m"] = gap
    record["fin_height_m"] = height
    record["length_m"] = along
    record["fin_thickness_m"] = fin
    record["fin_conductivity_W_mK"] = conductivity
    record["base_area_m2"] = along * across
    record["base_thickness_m"] = thick
    record["base_conductivity_W_mK"] = conductivity
    record["conductance_ratio"] = values.error(f"heat transfer of the {side} sink", law)
    record["pressure_ratio"] = values.error(
        f"pressure drop of the {side} sink", plate_fin_pressure_drop
    )
    if sink.mass is not None:
        mass = values(sink.mass)
    else:
        solid_m3 = along * across * thick + fins * along * height * fin
        mass = solid_m3 * values(metal.density)
    record["heat_capacity_J_K"] = mass * values(metal.specific_heat)


def plate_fins(sink: PlateFinSink) -> int:
    """Number of fins that fit across the base."""
    pitch = sink.fin_gap.value + sink.fin_thickness.value
    return max(math.floor((sink.base[1].value + sink.fin_gap.value) / pitch + 1e-9), 2)


def _fill_table(record: Any, sink: TableSink, side: str, values: Values) -> None:
    record["kind"] = SinkKind.TABLE
    record["points"] = len(sink.rows)
    record["conductance_ratio"] = values.factor(f"table of the {side} sink", _TABLE_LIMIT)
    for i, row in enumerate(sink.rows[:MAX_POINTS]):
        rate_W_K = row[0].value * _REFERENCE_DRY_AIR_KG_M3 * CP_AIR
        share = 1.0 / (row[1].value * rate_W_K)
        record["table_flow_m3_s"][:, i] = row[0].value
        record["table_conductance_W_K"][:, i] = (
            -rate_W_K * math.log1p(-share) if share < 1.0 else math.nan
        )
        record["table_pressure_Pa"][:, i] = row[2].value if len(row) == 3 else 0.0
    if sink.mass is not None:
        record["heat_capacity_J_K"] = values(sink.mass) * _ALUMINIUM_J_KGK


def _fill_water_loop(record: Any, loop: WaterLoop, fan: Fan | None, values: Values) -> None:
    record["kind"] = SinkKind.RESISTANCE
    flow = _reference_flow(loop.radiator.at_flow, fan, values)
    record["reference_flow_m3_s"] = flow
    if loop.radiator.resistance is not None:
        record["resistance_K_W"] = values(loop.radiator.resistance)
    else:
        assert loop.radiator.conductance is not None
        rate_W_K = flow * _REFERENCE_DRY_AIR_KG_M3 * CP_AIR
        record["resistance_K_W"] = 1.0 / (
            rate_W_K * -np.expm1(-values(loop.radiator.conductance) / rate_W_K)
        )
    if loop.radiator.pressure_drop is not None:
        record["pressure_Pa_s2_m6"] = values(loop.radiator.pressure_drop) / flow**2
    water_W_K = values(loop.water_flow) * 998.0 * CP_LIQUID
    record["water_W_K"] = water_W_K
    record["block_K_W"] = block_outlet_resistance(values(loop.block_resistance), water_W_K)
    record["pump_heat_W"] = values(loop.pump_power)
    record["heat_capacity_J_K"] = values(loop.water_volume) * 998.0 * CP_LIQUID
