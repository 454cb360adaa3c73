"""From the design sheet to the solver's record of the place, for one case or many tries."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.records import MAX_LAYERS, MAX_NODES, PLACE
from coldwright.machine.values import Values
from coldwright.physics.air_state import (
    CP_AIR,
    CP_LIQUID,
    humidity_ratio_from_relative,
    humidity_ratio_saturated,
    standard_pressure,
)
from coldwright.physics.air_volume import density
from coldwright.physics.damp import damp_conductivity_factor, frozen_conductivity_factor
from coldwright.physics.enclosure import box_conductance
from coldwright.physics.infiltration import (
    STACK_COEFFICIENTS,
    WIND_COEFFICIENTS,
    infiltration_basic,
)
from coldwright.physics.leakage import (
    coefficient_from_area,
    effective_leakage_area,
    leakage_coefficient_n50,
)
from coldwright.physics.people import moisture_of_latent
from coldwright.sheet.library import library
from coldwright.sheet.models import (
    Box,
    Gain,
    Layer,
    OpenAir,
    Plate,
    Room,
    Sheet,
    SteadyClimate,
    Surface,
)

# Surface film resistances [m²K/W]: ISO 6946, inside by the direction of heat, outside.
FILM_IN = {"up": 0.10, "vertical": 0.13, "down": 0.17}
FILM_OUT = 0.04
# Exponent of the leakage power law, and the rule that 50 Pa leakage is twenty times the natural.
LEAK_EXPONENT = 0.65
_FIFTY_TO_NATURAL = 20.0
# Film for heat between air and what follows it closely (furniture, linings) [W/m²/K], and for
# vapour on walls that sweat; common practice.
_CONTENTS_FILM_W_M2K = 8.0
_SWEAT_FILM_W_M2K = 3.0
# A finite volume should be thin against the depth heat reaches in this time [s].
_SHORTEST_S = 600.0


def assemble_place(sheet: Sheet, values: Values) -> NDArray[Any]:
    """Record array of `PLACE`, shape `values.shape`, filled from the sheet."""
    climate = sheet.climate
    assert isinstance(climate, SteadyClimate)
    record = np.zeros(values.shape, dtype=PLACE)
    pressure = standard_pressure(values(climate.altitude))
    record["pressure_Pa"] = pressure
    outdoor_K = values(climate.outdoor_air)
    record["outdoor_K"] = outdoor_K
    outdoor_water = _moisture(
        outdoor_K, climate.outdoor_humidity, climate.outdoor_dew_point, pressure, values
    )
    record["outdoor_humidity_ratio"] = outdoor_water
    record["leak_exponent"] = LEAK_EXPONENT
    place = sheet.place
    if isinstance(place, OpenAir):
        air_K = values(place.air)
        record["air_K"] = air_K
        record["humidity_ratio"] = _moisture(
            air_K, place.humidity, place.dew_point, pressure, values
        )
    elif isinstance(place, Plate):
        record["air_K"] = outdoor_K
        record["humidity_ratio"] = outdoor_water
    else:
        _fill_enclosed(record, place, climate, values)
    return record


def fill_plate(cooler: Any, sheet: Sheet, values: Values) -> None:
    """Put a plate's given heat into the cooler's first cold sink."""
    place = sheet.place
    assert isinstance(place, Plate)
    assert isinstance(sheet.climate, SteadyClimate)
    sink = cooler["cold_sink"][:, 0]
    sink["load_W"] = values(place.heat)
    around = place.air if place.air is not None else sheet.climate.outdoor_air
    sink["load_surroundings_K"] = values(around)
    if place.area is not None and place.film_coefficient is not None:
        sink["load_conductance_W_K"] = values(place.area) * values(place.film_coefficient)
    if place.heat_capacity is not None:
        sink["heat_capacity_J_K"] = values(place.heat_capacity)
    elif place.mass is not None:
        sink["heat_capacity_J_K"] = values(place.mass) * values(place.specific_heat)


def _moisture(air_K: Any, relative: Any, dew_point: Any, pressure: Any, values: Values) -> Any:
    if dew_point is not None:
        return humidity_ratio_saturated(values(dew_point), pressure)
    return humidity_ratio_from_relative(air_K, values(relative), pressure)


def _fill_enclosed(record: Any, place: Room | Box, climate: SteadyClimate, values: Values) -> None:
    record["enclosed"] = 1
    pressure = record["pressure_Pa"]
    length, width, height = values(place.length), values(place.width), values(place.height)
    volume = length * width * height
    faces_m2 = 2.0 * (length * width + length * height + width * height)
    record["volume_m3"] = volume
    start_K = record["outdoor_K"] if place.start_air is None else values(place.start_air)
    record["air_K"] = start_K
    if place.start_humidity is not None:
        record["humidity_ratio"] = humidity_ratio_from_relative(
            start_K, values(place.start_humidity), pressure
        )
    else:
        record["humidity_ratio"] = np.minimum(
            record["outdoor_humidity_ratio"], humidity_ratio_saturated(start_K, pressure)
        )
    for number, surface in enumerate(place.surface):
        _fill_surface(record, number, surface, climate, values)
    record["surfaces"] = len(place.surface)
    if isinstance(place, Box) and place.wall is not None:
        _fill_box(record, place, (length, width, height), faces_m2, values)
    if place.heat_loss is not None:
        record["loss_W_K"] += values(place.heat_loss)
    for leak in place.leak:
        record["loss_W_K"] += values(leak.conductance) * leak.count
    if isinstance(place, Box) and place.lid_seal is not None:
        record["loss_W_K"] += values(place.lid_seal)
    for window in place.window:
        record["loss_W_K"] += values(window.area) * values(window.u_value)
        sun = climate.sun if window.sun is None else window.sun
        record["sun_W"] += (
            values(window.area)
            * values(window.solar_factor)
            * (1.0 - np.asarray(values(window.shaded_share)))
            * values(sun)
        )
    for gain in place.gain:
        heat_W, moisture_kg_s = gain_of(gain, values)
        record["gain_W"] += heat_W
        record["moisture_kg_s"] += moisture_kg_s
    record["wind_m_s"] = values(climate.wind)
    _fill_leakage(record, place, volume, values)
    _fill_stores(record, place, faces_m2, values)
    record["sweat_kg_s"] = _SWEAT_FILM_W_M2K * faces_m2 / CP_AIR


def gain_of(gain: Gain, values: Values) -> tuple[Any, Any]:
    """Sensible heat [W] and moisture [kg/s] that a gain sets free while it is there."""
    heat_W: Any = 0.0
    moisture_kg_s: Any = 0.0
    if gain.people is not None:
        activity = library().activity(gain.activity)
        heat_W = gain.people * values(activity.sensible)
        moisture_kg_s = gain.people * moisture_of_latent(values(activity.latent))
    if gain.heat is not None:
        heat_W = heat_W + values(gain.heat)
    if gain.moisture is not None:
        moisture_kg_s = moisture_kg_s + values(gain.moisture)
    return heat_W, moisture_kg_s


def _fill_surface(
    record: Any, number: int, surface: Surface, climate: SteadyClimate, values: Values
) -> None:
    into = record["surface"][:, number]
    into["area_m2"] = values(surface.area)
    film_in = FILM_IN[surface.orientation]
    if surface.other_side == "outdoors":
        other_K, film_out = record["outdoor_K"], FILM_OUT
    elif surface.other_side == "ground":
        ground = climate.outdoor_air if climate.ground is None else climate.ground
        other_K, film_out = values(ground), 0.0
    else:
        other_K, film_out = values(surface.other_side), film_in
    if surface.absorptance is not None:
        sun = climate.sun if surface.sun is None else surface.sun
        # Sol-air temperature: what the outer film sees of air and sun together.
        other_K = other_K + values(surface.absorptance) * values(sun) * film_out
    into["other_K"] = other_K
    into["film_in_m2K_W"] = film_in
    into["film_out_m2K_W"] = film_out
    if surface.u_value is not None:
        into["u_W_m2K"] = values(surface.u_value)
    else:
        assert surface.layers is not None
        _fill_layers(into, surface.layers, values)


def _fill_layers(into: Any, layers: tuple[Layer, ...], values: Values) -> None:
    into["layers"] = len(layers[:MAX_LAYERS])
    wanted = []
    for number, layer in enumerate(layers[:MAX_LAYERS]):
        resistance, capacity = layer_data(layer, values)
        into["layer_m2K_W"][:, number] = resistance
        into["layer_J_m2K"][:, number] = capacity
        # Volumes so thin that heat crosses one in the shortest time of interest.
        crossing_s = float(np.mean(np.asarray(resistance) * np.asarray(capacity)))
        wanted.append(max(1, int(np.ceil(np.sqrt(crossing_s / _SHORTEST_S)))))
    while sum(wanted) > MAX_NODES:
        wanted[wanted.index(max(wanted))] -= 1
    for number, volumes in enumerate(wanted):
        into["layer_volumes"][:, number] = volumes


def layer_data(layer: Layer, values: Values) -> tuple[Any, Any]:
    """Resistance [m²K/W] and heat capacity [J/m²/K] of a layer."""
    known = None
    if layer.conductivity is None and layer.insulance is None:
        known = library().material(layer.material)
    thickness = 0.0 if layer.thickness is None else values(layer.thickness)
    if layer.insulance is not None:
        resistance = values(layer.insulance)
    elif layer.conductivity is not None:
        resistance = thickness / values(layer.conductivity)
    else:
        assert known is not None
        resistance = thickness / values(known.conductivity)
    density_kg_m3: Any = 0.0
    if layer.density is not None:
        density_kg_m3 = values(layer.density)
    elif known is not None:
        density_kg_m3 = values(known.density)
    specific: Any = 1000.0
    if layer.specific_heat is not None:
        specific = values(layer.specific_heat)
    elif known is not None:
        specific = values(known.specific_heat)
    if layer.state != "dry":
        resistance = resistance / _damp_factor(layer, values)
        if layer.water_share is not None:
            # Ice stores half as much heat per kelvin as water; its melting is not followed.
            water_J_m3K = 998.0 * CP_LIQUID * (1.0 if layer.state == "wet" else 0.5)
            stored = values(layer.water_share) * water_J_m3K * thickness
            return resistance, density_kg_m3 * specific * thickness + stored
    return resistance, density_kg_m3 * specific * thickness


def _damp_factor(layer: Layer, values: Values) -> Any:
    """How many times better a wet or iced layer conducts than a dry one."""
    if layer.wet_factor is not None:
        return values(layer.wet_factor)
    assert layer.water_share is not None
    share = values(layer.water_share)
    material = library().material(layer.material)
    coefficient = 4.0 if material.moisture is None else values(material.moisture)
    factor = damp_conductivity_factor(coefficient, share)
    return factor if layer.state == "wet" else factor * frozen_conductivity_factor(share)


def _fill_box(
    record: Any, place: Box, sides: tuple[Any, Any, Any], faces_m2: Any, values: Values
) -> None:
    """One wall all around: its faces as a layered surface, edges and corners beside it."""
    assert place.wall is not None
    number = len(place.surface)
    record["surfaces"] = number + 1
    into = record["surface"][:, number]
    thickness: Any = sum(values(layer.thickness) for layer in place.wall if layer.thickness)
    resistance: Any = sum(layer_data(layer, values)[0] for layer in place.wall)
    length, width, height = sides
    film = FILM_IN["vertical"]
    outer_m2 = 2.0 * (
        (length + 2 * thickness) * (width + 2 * thickness)
        + (length + 2 * thickness) * (height + 2 * thickness)
        + (width + 2 * thickness) * (height + 2 * thickness)
    )
    into["area_m2"] = faces_m2
    into["other_K"] = record["outdoor_K"]
    into["film_in_m2K_W"] = film
    # The outer film acts on the larger outer area.
    into["film_out_m2K_W"] = film * faces_m2 / outer_m2
    _fill_layers(into, place.wall, values)
    whole_W_K = box_conductance(
        length, width, height, thickness, thickness / resistance, film, film
    ) * values.error("heat leak of the box", box_conductance)
    faces_W_K = faces_m2 / (film + resistance + film * faces_m2 / outer_m2)
    record["loss_W_K"] += whole_W_K - faces_W_K


def _fill_leakage(record: Any, place: Room | Box, volume: Any, values: Values) -> None:
    record["stack_coefficient"] = STACK_COEFFICIENTS[place.storeys]
    winds = WIND_COEFFICIENTS.get(place.storeys) or WIND_COEFFICIENTS[max(WIND_COEFFICIENTS)]
    record["wind_coefficient"] = winds[place.shelter - 1]
    leakage = place.air_leakage
    air_kg_m3 = density(
        record["outdoor_K"], record["outdoor_humidity_ratio"], record["pressure_Pa"]
    )
    if place.heat_loss is not None and "air_leakage" not in place.model_fields_set:
        # A known loss of the whole place counts the warmth of its ventilation already; moisture
        # leaves, and an exhaust draws, through the gaps that are assumed.
        record["counted_W_K"] = values(place.heat_loss)
    if isinstance(leakage, str):
        if leakage == "none":
            return
        coefficient = leakage_coefficient_n50(
            values(library().leakage(leakage).ach50) * 3600.0, volume, LEAK_EXPONENT
        )
    elif leakage.ach50 is not None:
        coefficient = leakage_coefficient_n50(values(leakage.ach50) * 3600.0, volume, LEAK_EXPONENT)
    elif leakage.area is not None:
        coefficient = coefficient_from_area(values(leakage.area), LEAK_EXPONENT, air_kg_m3)
    else:
        assert leakage.natural is not None
        natural = values(leakage.natural)
        record["natural_m3_s"] = natural * volume
        record["leak_m3_s_Pan"] = leakage_coefficient_n50(
            natural * 3600.0 * _FIFTY_TO_NATURAL, volume, LEAK_EXPONENT
        )
        return
    record["leak_m3_s_Pan"] = coefficient
    record["leak_area_m2"] = effective_leakage_area(
        coefficient, LEAK_EXPONENT, air_kg_m3
    ) * values.error("natural infiltration", infiltration_basic)


def _fill_stores(record: Any, place: Room | Box, faces_m2: Any, values: Values) -> None:
    if place.contents is not None:
        contents = place.contents
        if contents.heat_capacity is not None:
            capacity = values(contents.heat_capacity)
        elif contents.water is not None:
            capacity = values(contents.water) * 998.0 * CP_LIQUID
        else:
            assert contents.mass is not None
            assert contents.specific_heat is not None
            capacity = values(contents.mass) * values(contents.specific_heat)
        record["contents_J_K"] = capacity
        record["contents_W_K"] = values(contents.area) * values(contents.film)
        if contents.start is not None:
            record["contents_K"] = values(contents.start)
    if place.heat_capacity is not None:
        record["contents_J_K"] += values(place.heat_capacity)
        record["contents_W_K"] += _CONTENTS_FILM_W_M2K * faces_m2
    if place.moisture_buffer is not None:
        buffer = place.moisture_buffer
        saturated = humidity_ratio_saturated(record["air_K"], record["pressure_Pa"])
        area = values(buffer.area)
        record["buffer_kg"] = area * values(library().buffer(buffer.material).buffering) / saturated
        record["buffer_kg_s"] = _SWEAT_FILM_W_M2K * area / CP_AIR
