"""From the design sheet to the solver's record of the cooler, for one case or many tries."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.assemble_air import fill_duct, fill_fan, fill_sink
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
from coldwright.machine.runs import run_resistance
from coldwright.machine.values import Values
from coldwright.physics.air_state import standard_pressure
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_conductivity,
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
    module_conductance_legs,
    module_resistance_legs,
    module_seebeck_legs,
)
from coldwright.physics.interface import rod_conductance, slab_resistance
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import (
    Cooler,
    Modules,
    Power,
    RunAt,
    SecondStage,
    Sheet,
)

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
    # A weather file's own altitude is known only once it is read: its hours come here as steady.
    assert sheet.climate.altitude is not None
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
        fill_fan(record["cold_fan"], cooler.cold_fan, cooler.cold_fan_speed, values)
    fill_fan(record["hot_fan"], cooler.hot_fan, cooler.hot_fan_speed, values)
    fill_duct(record["cold_duct"], cooler.cold_duct, values)
    fill_duct(record["hot_duct"], cooler.hot_duct, values)
    if sheet.place.kind == "plate":
        record["cold_sinks"] = 1
        record["cold_sink"]["kind"][:, 0] = SinkKind.PLATE_LOAD
        record["cold_sink"]["conductance_ratio"][:, 0] = 1.0
        record["cold_sink"]["pressure_ratio"][:, 0] = 1.0
    elif cooler.cold_sink is not None:
        record["cold_sinks"] = len(cooler.cold_sink)
        for number, sink in enumerate(cooler.cold_sink):
            fill_sink(record["cold_sink"][:, number], sink, cooler.cold_fan, "cold", values)
    record["hot_sinks"] = len(cooler.hot_sink)
    for number, sink in enumerate(cooler.hot_sink):
        fill_sink(record["hot_sink"][:, number], sink, cooler.hot_fan, "hot", values)
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
            module_seebeck_legs(legs.couples, at_K) / unit[0] * _spread(values, "Seebeck"),
            bare_ohm / unit[1] * _spread(values, "resistivity"),
            module_conductance_legs(legs.couples, length_m, area_m2, at_K)
            / unit[2]
            * _spread(values, "conductivity"),
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


def _spread(values: Values, what: str) -> Any:
    law = {
        "Seebeck": bismuth_telluride_seebeck,
        "resistivity": bismuth_telluride_resistivity,
        "conductivity": bismuth_telluride_conductivity,
    }[what]
    return values.error(f"{what} of the legs", law)


def _material_at(temperature_K: float) -> tuple[Any, Any, Any]:
    return (
        bismuth_telluride_seebeck(temperature_K),
        bismuth_telluride_resistivity(temperature_K),
        bismuth_telluride_conductivity(temperature_K),
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
            if wire.target == "modules":
                group["lead_ohm"] = run_resistance(wire, values)


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
    group["drive"] = drive
    group["drive_value"] = value


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


def _fill_power(record: Any, power: Power | None, values: Values) -> None:
    record["lead_at"] = End.OUTDOORS
    if power is None:
        return
    record["controller_W"] = values(power.controller_power)
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
    if power.converter is not None:
        record["converter_rated_W"] *= power.converter.count
    # Wires and controller lose their heat where the supply stands; without one, outside.
    record["lead_at"] = record["supply_at"] if power.supply is not None else End.OUTDOORS
    if power.wires_located is not None:
        record["lead_at"] = _LOCATED[power.wires_located]
