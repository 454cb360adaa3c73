"""Which laws an answer rests on, and where they come from."""

from __future__ import annotations

import re

from coldwright.machine.sinks import CORRELATIONS
from coldwright.physics import (
    air_balance,
    air_state,
    air_volume,
    bismuth_telluride,
    duct,
    enclosure,
    fan,
    infiltration,
    interface,
    leakage,
    module_ratings,
    plate_fin,
    saturation,
    thermoelectric,
    water_loop,
)
from coldwright.physics.compiled import Law
from coldwright.sheet.models import Box, PlateFinSink, Room, Sheet, WaterLoop


def laws_of(sheet: Sheet) -> list[Law]:
    """The laws that a design's answers rest on, in the order of the heat's way."""
    cooler = sheet.cooler
    found: list[Law] = [thermoelectric.cold_side_heat, thermoelectric.hot_side_heat]
    if any(modules.properties is None for modules in cooler.modules):
        found += [
            bismuth_telluride.bismuth_telluride_seebeck,
            bismuth_telluride.bismuth_telluride_resistivity,
            bismuth_telluride.bismuth_telluride_conductivity,
        ]
    if any(modules.ratings is not None for modules in cooler.modules):
        found += [
            module_ratings.seebeck_from_ratings,
            module_ratings.resistance_from_ratings,
            module_ratings.conductance_from_ratings,
        ]
    sinks = [*(cooler.cold_sink or ()), *cooler.hot_sink]
    for sink in sinks:
        if isinstance(sink, PlateFinSink):
            law = CORRELATIONS.get(sink.correlation, plate_fin.plate_fin_conductance_stephan)
            found += [law, plate_fin.plate_fin_pressure_drop]
            found += [interface.spreading_resistance_mean_lee]
        elif isinstance(sink, WaterLoop):
            found += [
                water_loop.block_outlet_resistance,
                water_loop.radiator_effectiveness_crossflow,
            ]
    found += [
        saturation.saturation_pressure,
        air_state.enthalpy,
        air_volume.specific_volume,
        air_balance.fog_temperature,
        fan.pressure_at_speed,
    ]
    if cooler.hot_duct is not None or cooler.cold_duct is not None:
        found.append(duct.duct_pressure_drop)
    if isinstance(sheet.place, Room | Box):
        found += [
            leakage.power_law_pressure,
            infiltration.infiltration_basic,
            infiltration.combined_flow,
        ]
        if isinstance(sheet.place, Box):
            found.append(enclosure.box_conductance)
    return list(dict.fromkeys(found))


def source(law: Law) -> str:
    """The `Source:` of a law's docstring, as one line."""
    found = re.search(
        r"^\s*Source:\s*(.*?)(?=^\s*$|^\s*[A-Z][a-z]+(?: [a-z]+)?:|\Z)",
        law.__doc__ or "",
        re.MULTILINE | re.DOTALL,
    )
    return " ".join(found.group(1).split()) if found else ""


def sources_of(sheet: Sheet) -> list[str]:
    """References of the laws that a design's answers rest on, each once."""
    return list(dict.fromkeys(text for law in laws_of(sheet) if (text := source(law))))
