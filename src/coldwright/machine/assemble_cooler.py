"""From the design sheet to the solver's record of the cooler, for one case or many tries."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.ratings import ModuleProperties, from_ratings
from coldwright.machine.records import (
    COOLER,
    MAX_POINTS,
    Condensate,
    Drive,
    End,
    Properties,
    SinkKind,
)
from coldwright.machine.sinks import CORRELATIONS
from coldwright.machine.values import Values
from coldwright.physics.air_state import CP_AIR, CP_LIQUID, standard_pressure
from coldwright.physics.bismuth_telluride import (
    module_conductance_legs,
    module_resistance_legs,
    module_seebeck_legs,
)
from coldwright.physics.conductor import (
    loop_resistance,
    resistance_at_temperature,
    wire_resistance_per_m_area,
)
from coldwright.physics.duct import (
    compressed_duct_factor,
    duct_pressure_drop,
    equivalent_diameter_huebscher,
)
from coldwright.physics.fitting import loss_grille
from coldwright.physics.interface import rod_conductance, slab_resistance
from coldwright.physics.plate_fin import plate_fin_pressure_drop
from coldwright.physics.water_loop import block_outlet_resistance
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import (
    Cooler,
    Duct,
    Fan,
    Modules,
    PlateFinSink,
    Power,
    ResistanceSink,
    RunAt,
    SecondStage,
    Sheet,
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
# Wires run warm; this is the usual rating temperature of a loaded cord [K].
_WIRE_K = 313.15
_ALUMINIUM_J_KGK = 900.0
_REFERENCE_DRY_AIR_KG_M3 = 1.19

_END = {"place": End.PLACE, "outdoors": End.OUTDOORS}
_LOCATED = {"place": End.PLACE, "exhaust": End.EXHAUST, "outside": End.OUTDOORS}
_CONDENSATE = {
    "drained": Condensate.DRAINED,
    "stays in the place": Condensate.STAYS,
    "onto the hot sink": Condensate.ONTO_HOT_SINK,
}


def assemble_cooler(sheet: Sheet, values: Values) -> NDArray[Any]:
    """Record array of `COOLER`, shape `values.shape`, filled from the sheet."""
    cooler = sheet.cooler
    record = np.zeros(values.shape, dtype=COOLER)
    record["pressure_Pa"] = standard_pressure(values(sheet.climate.altitude))
    record["cold_takes"] = _END[cooler.cold_takes_from]
    record["hot_takes"] = _END[cooler.hot_takes_from]
    record["hot_sends"] = _END[cooler.hot_sends_to]
    record["cold_recirculation"] = values(cooler.cold_recirculation)
    record["hot_recirculation"] = values(cooler.hot_recirculation)
    record["condensate"] = _CONDENSATE[cooler.condensate]
    record["groups"] = len(cooler.modules)
    for number, modules in enumerate(cooler.modules):
        _fill_group(record["group"][:, number], modules, cooler, sheet.power, values)
        if modules.spacer is not None:
            record["spacer_W_K"] += _spacer(modules, values)
    record["cold_fan"]["speed"] = 1.0
    if cooler.cold_fan is not None:
        _fill_fan(record["cold_fan"], cooler.cold_fan, cooler.cold_fan_speed, values)
    _fill_fan(record["hot_fan"], cooler.hot_fan, cooler.hot_fan_speed, values)
    _fill_duct(record["cold_duct"], cooler.cold_duct, values)
    _fill_duct(record["hot_duct"], cooler.hot_duct, values)
    if sheet.place.kind == "plate":
        record["cold_sinks"] = 1
        record["cold_sink"]["kind"][:, 0] = SinkKind.PLATE_LOAD
        record["cold_sink"]["conductance_ratio"][:, 0] = 1.0
        record["cold_sink"]["pressure_ratio"][:, 0] = 1.0
    elif cooler.cold_sink is not None:
        record["cold_sinks"] = len(cooler.cold_sink)
        for number, sink in enumerate(cooler.cold_sink):
            _fill_sink(record["cold_sink"][:, number], sink, cooler.cold_fan, "cold", values)
    record["hot_sinks"] = len(cooler.hot_sink)
    for number, sink in enumerate(cooler.hot_sink):
        _fill_sink(record["hot_sink"][:, number], sink, cooler.hot_fan, "hot", values)
    _fill_power(record["power"], sheet.power, values)
    return record


def module_properties(
    modules: Modules | SecondStage, values: Values
) -> tuple[Properties, ModuleProperties]:
    """Properties of one module (or one of the second stage) however the person knows them."""
    if modules.properties is not None:
        given = modules.properties
        return Properties.CONSTANT, ModuleProperties(
            values(given.seebeck), values(given.resistance), values(given.conductance)
        )
    if modules.legs is not None:
        legs = modules.legs
        if legs.leg_area is not None:
            area_m2 = values(legs.leg_area)
        else:
            assert legs.leg_size is not None
            area_m2 = values(legs.leg_size) ** 2
        length_m = values(legs.leg_length)
        contact = values(legs.contact_resistivity)
        # At one temperature the ratio to the material's own property is found; it holds at all.
        at_K = 300.0
        bare_ohm = module_resistance_legs(legs.couples, length_m, area_m2, 0.0, at_K)
        joined_ohm = module_resistance_legs(legs.couples, length_m, area_m2, contact, at_K)
        unit = _material_at(at_K)
        return Properties.BISMUTH_TELLURIDE, ModuleProperties(
            module_seebeck_legs(legs.couples, at_K) / unit[0] * _spread(values, modules, "Seebeck"),
            bare_ohm / unit[1] * _spread(values, modules, "resistivity"),
            module_conductance_legs(legs.couples, length_m, area_m2, at_K)
            / unit[2]
            * _spread(values, modules, "conductivity"),
            contact_ohm=joined_ohm - bare_ohm,
        )
    assert modules.ratings is not None
    ratings = modules.ratings
    return Properties.BISMUTH_TELLURIDE, from_ratings(
        values(ratings.hot_face),
        values(ratings.max_current),
        values(ratings.max_voltage),
        values(ratings.max_difference),
        None if ratings.max_heat is None else values(ratings.max_heat),
    )


def _spread(values: Values, modules: Modules | SecondStage, what: str) -> Any:
    from coldwright.physics.bismuth_telluride import (
        bismuth_telluride_conductivity,
        bismuth_telluride_resistivity,
        bismuth_telluride_seebeck,
    )

    law = {
        "Seebeck": bismuth_telluride_seebeck,
        "resistivity": bismuth_telluride_resistivity,
        "conductivity": bismuth_telluride_conductivity,
    }[what]
    return values.error(f"{what} of the legs", law)


def _material_at(temperature_K: float) -> tuple[Any, Any, Any]:
    from coldwright.physics import bismuth_telluride as material

    return (
        material.bismuth_telluride_seebeck(temperature_K),
        material.bismuth_telluride_resistivity(temperature_K),
        material.bismuth_telluride_conductivity(temperature_K),
    )


def _fill_group(
    group: Any, modules: Modules, cooler: Cooler, power: Power | None, values: Values
) -> None:
    group["series"] = modules.series
    group["parallel"] = modules.parallel
    group["cold_sink"] = modules.cold_sink_number - 1
    group["hot_sink"] = modules.hot_sink_number - 1
    kind, properties = module_properties(modules, values)
    group["properties"] = kind
    group["seebeck"] = properties.seebeck
    group["resistance"] = properties.resistance
    group["conductance"] = properties.conductance
    group["resistance_contact_ohm"] = properties.contact_ohm
    group["stages"] = modules.stages
    group["second_voltage_V"] = math.nan
    footprint_m2 = values(modules.footprint[0]) * values(modules.footprint[1])
    group["footprint_m2"] = footprint_m2
    group["cold_interface_K_W"] = _interface(modules.cold_interface, footprint_m2, values)
    group["hot_interface_K_W"] = _interface(modules.hot_interface, footprint_m2, values)
    if modules.legs is not None:
        ceramic = modules.legs.ceramic
        plate_K_W = slab_resistance(
            values(ceramic.thickness),
            values(library().ceramic(ceramic.material).conductivity),
            footprint_m2,
        )
        group["cold_interface_K_W"] += plate_K_W
        group["hot_interface_K_W"] += plate_K_W
    second = modules.second
    if second is not None:
        kind, properties = module_properties(second, values)
        group["second_properties"] = kind
        group["second_seebeck"] = properties.seebeck * second.ratio
        group["second_resistance"] = properties.resistance * second.ratio
        group["second_conductance"] = properties.conductance * second.ratio
        group["second_contact_ohm"] = properties.contact_ohm * second.ratio
        group["between_K_W"] = _interface(second.interface, footprint_m2, values)
        if second.run_at is not None:
            count = modules.series * second.ratio
            if second.run_at.module_voltage is not None:
                group["second_voltage_V"] = values(second.run_at.module_voltage) * second.ratio
            elif second.run_at.voltage is not None:
                group["second_voltage_V"] = values(second.run_at.voltage) / count * second.ratio
    _fill_drive(group, modules, modules.run_at or cooler.run_at, cooler, values)
    if power is not None:
        for wire in power.wire:
            if wire.name == "modules":
                nominal = library().nominal_conductor(wire.size.value)
                listed = None if nominal is None else getattr(nominal, wire.strands, None)
                if listed is not None:
                    per_m = resistance_at_temperature(values(listed), _WIRE_K)
                else:
                    per_m = wire_resistance_per_m_area(values(wire.size), _WIRE_K)
                group["lead_ohm"] = loop_resistance(per_m, values(wire.length))


def _fill_drive(
    group: Any, modules: Modules, run_at: RunAt, cooler: Cooler, values: Values
) -> None:
    share = 1.0
    if modules.run_at is None:
        total = sum(each.series * each.parallel for each in cooler.modules)
        share = modules.series * modules.parallel / total
    way = run_at.way
    value: Any
    if way == "voltage":
        drive, value = Drive.VOLTAGE, values(_set(run_at.voltage))
    elif way == "module_voltage":
        drive, value = Drive.VOLTAGE, values(_set(run_at.module_voltage)) * modules.series
    elif way == "current":
        drive, value = Drive.CURRENT, values(_set(run_at.current)) * share
    elif way == "module_current":
        drive, value = Drive.CURRENT, values(_set(run_at.module_current)) * modules.parallel
    elif way == "module_power":
        drive, value = Drive.POWER, values(_set(run_at.module_power)) * share
    elif way == "pumped":
        drive, value = Drive.PUMPED, values(_set(run_at.pumped)) * share
    else:
        assert run_at.chopped is not None
        drive, value = Drive.CHOPPED, values(run_at.chopped.rail)
        group["duty"] = values(run_at.chopped.duty)
    if drive == Drive.VOLTAGE and _all_zero(value):
        drive = Drive.VOLTAGE  # zero volts is a short circuit, not a stopped module
    group["drive"] = drive
    group["drive_value"] = value


def _all_zero(value: Any) -> bool:
    return bool(np.all(np.asarray(value) == 0.0))


def _set(quantity: Quantity | None) -> Quantity:
    assert quantity is not None
    return quantity


def _interface(given: str | Quantity, footprint_m2: Any, values: Values) -> Any:
    if isinstance(given, str):
        return values(library().interface(given).insulance) / footprint_m2
    return values(given)


def _spacer(modules: Modules, values: Values) -> Any:
    spacer = modules.spacer
    assert spacer is not None
    material = library().material(spacer.material)
    through = 1.0 / slab_resistance(
        values(spacer.thickness), values(material.conductivity), values(spacer.area)
    )
    if spacer.screws is not None:
        screws = spacer.screws
        solid = library().solid(screws.material)
        section_m2 = math.pi / 4.0 * values(screws.diameter) ** 2
        through = through + screws.count * rod_conductance(
            section_m2, values(screws.length), values(solid.conductivity)
        )
    return through


def _fill_fan(record: Any, fan: Fan, speed: Quantity, values: Values) -> None:
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


def _fill_duct(record: Any, duct: Duct | None, values: Values) -> None:
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


def _fill_sink(record: Any, sink: Sink, fan: Fan | None, side: str, values: Values) -> None:
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
    return max(int(math.floor((sink.base[1].value + sink.fin_gap.value) / pitch + 1e-9)), 2)


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


def _fill_power(record: Any, power: Power | None, values: Values) -> None:
    record["lead_at"] = End.OUTDOORS
    if power is None:
        return
    record["controller_W"] = values(power.controller)
    for name, part in (("supply", power.supply), ("converter", power.converter)):
        if part is None:
            continue
        record[f"{name}_at"] = _LOCATED[part.located]
        record[f"{name}_rated_W"] = 1.0 if part.rated_power is None else values(part.rated_power)
        if isinstance(part.efficiency, Quantity):
            points = [(0.0, values(part.efficiency))]
        else:
            points = [(load.value, values(share)) for load, share in part.efficiency]
        record[f"{name}_points"] = len(points[:MAX_POINTS])
        for i, (load, share) in enumerate(points[:MAX_POINTS]):
            record[f"{name}_load"][:, i] = load
            record[f"{name}_efficiency"][:, i] = share
    # Wires and controller lose their heat where the supply stands; without one, outside.
    record["lead_at"] = record["supply_at"] if power.supply is not None else End.OUTDOORS
