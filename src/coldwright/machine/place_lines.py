"""Every flow of heat and water at the place's air, one by one, at a solved stage.

`balance` needs only their sums; whoever keeps account over a day needs each. They are computed
here by the same laws from the same states, and a test holds their sum to the change of the stores.
"""

from __future__ import annotations

from typing import Any

from coldwright.machine.balance import unknowns
from coldwright.machine.records import COUNTED, MAX_NODES, Condensate, End
from coldwright.machine.streams import stream_enthalpy
from coldwright.physics.compiled import compiled
from coldwright.physics.moist_air import (
    CP_AIR,
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    humidity_ratio_saturated,
)

_PLACE = int(End.PLACE)
_EXHAUST = int(End.EXHAUST)
_STAYS = int(Condensate.STAYS)

HEAT_NAMES = (
    "walls",
    "windows, edges and leaks",
    "sun",
    "people and appliances",
    "outdoor air by itself",
    "outdoor air that replaces the exhaust",
    "cold air",
    "hot air",
    "hot duct",
    "losses of supply, converter and wires",
    "contents",
    "moisture buffer",
    "water on the walls",
    "condensate that stays",
)
WATER_NAMES = (
    "people and appliances",
    "outdoor air by itself",
    "outdoor air that replaces the exhaust",
    "cold air",
    "hot air",
    "moisture buffer",
    "water on the walls",
    "condensate that stays",
)
HEATS = len(HEAT_NAMES)
WATERS = len(WATER_NAMES)


@compiled
def place_lines(cooler: Any, frame: Any, place: Any, x: Any, o: Any, heat: Any, water: Any) -> None:
    """Fill `heat` [W] (order of HEAT_NAMES) and `water` [kg/s] (WATER_NAMES), into the air."""
    n = unknowns(cooler, True)
    air_K = x[n - 2]
    air_water = x[n - 1] * 1e-3
    place_h = stream_enthalpy(air_K, air_water)
    outdoor_h = stream_enthalpy(place.outdoor_K, place.outdoor_humidity_ratio)
    liquid_h = CP_LIQUID * (air_K - ZERO_C_K)
    heat[0] = frame.wall_W - frame.wall_W_K * air_K
    heat[1] = place.loss_W_K * (place.outdoor_K - air_K)
    heat[2] = place.sun_W
    heat[3] = place.gain_W + place.moisture_kg_s * (LATENT_J_KG + CP_VAPOUR * (air_K - ZERO_C_K))
    natural_kg_s = o[14]
    added_kg_s = o[13] - o[14]
    heat[4] = natural_kg_s * (outdoor_h - place_h)
    if place.counted_W_K > 0.0:
        warm_J_kgK = CP_AIR + CP_VAPOUR * place.outdoor_humidity_ratio
        heat[4] -= o[COUNTED] * warm_J_kgK * (place.outdoor_K - air_K)
    heat[5] = added_kg_s * (outdoor_h - place_h)
    heat[6] = frame.cold_fresh_kg_s * (stream_enthalpy(o[0], o[1]) - place_h)
    water[0] = place.moisture_kg_s
    water[1] = natural_kg_s * (place.outdoor_humidity_ratio - air_water)
    water[2] = added_kg_s * (place.outdoor_humidity_ratio - air_water)
    water[3] = frame.cold_fresh_kg_s * (o[1] - air_water)
    heat[7] = 0.0
    water[4] = 0.0
    if cooler.hot_sends == _PLACE:
        heat[7] = frame.hot_fresh_kg_s * (stream_enthalpy(o[11], o[3]) - place_h)
        water[4] = frame.hot_fresh_kg_s * (o[3] - air_water)
    heat[8] = o[10] if cooler.hot_duct.in_place == 1 else 0.0
    lost_W = 0.0
    if cooler.power.supply_at == _PLACE:
        lost_W += o[7]
    if cooler.power.converter_at == _PLACE:
        lost_W += o[8]
    if cooler.power.lead_at == _PLACE:
        lost_W += o[9] + cooler.power.controller_W
    heat[9] = lost_W
    heat[10] = frame.contents_W - frame.contents_W_K * air_K
    buffer_kg_s = frame.buffer_kg_s - frame.buffer_per_kg_s * air_water
    heat[11] = buffer_kg_s * liquid_h
    water[5] = buffer_kg_s
    sweat_kg_s = 0.0
    saturated = humidity_ratio_saturated(air_K, cooler.pressure_Pa)
    if air_water > saturated:
        sweat_kg_s = place.sweat_kg_s * (air_water - saturated)
    heat[12] = -sweat_kg_s * liquid_h
    water[6] = -sweat_kg_s
    heat[13] = 0.0
    water[7] = 0.0
    if cooler.condensate == _STAYS:
        heat[13] = o[4] * CP_LIQUID * (o[16] - ZERO_C_K)
        water[7] = o[4]


@compiled
def into_walls(place: Any, walls: Any, stores: Any, first_wall: int) -> float:
    """Heat [W] that enters the layered walls from their other sides, at these wall temperatures."""
    total = 0.0
    for s in range(place.surfaces):
        surface = place.surface[s]
        n = 0
        for layer in range(surface.layers):
            n += surface.layer_volumes[layer]
        if n > 0:
            outer_K = stores[first_wall + s * MAX_NODES + n - 1]
            total += walls[s, 2, n - 1] * (surface.other_K - outer_K)
    return total
