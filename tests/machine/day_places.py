"""Places and weather for runs of days, as records, where every number is the test's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from coldwright.machine.day import S_HEAT, S_WATERS
from coldwright.machine.place_lines import HEAT_NAMES, HEATS, WATER_NAMES, WATERS
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import MAX_NODES
from coldwright.machine.rows import (
    ALLOWED,
    FORCINGS,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    SET_K,
)
from coldwright.machine.run import Control, Forcing, State, begin_run, run_days, stopped
from tests.machine.designs import plain_cooler, plain_place
from tests.machine.wall_references import Layer

START_K = 300.0
WATER = 0.008


def still_place(volume_m3: float = 1e8, air_K: float = START_K, count: int = 1) -> Any:
    """Places of no walls, leaks or gains; of this volume the air hardly moves by itself."""
    places = plain_place(count, enclosed=True)
    places["volume_m3"] = volume_m3
    places["air_K"] = places["outdoor_K"] = air_K
    places["humidity_ratio"] = places["outdoor_humidity_ratio"] = WATER
    return places


def put_wall(
    places: Any,
    layers: Sequence[Layer],
    volumes: Sequence[int],
    *,
    area_m2: float = 1.0,
    inside_m2K_W: float = 0.13,
    outside_m2K_W: float = 0.04,
) -> int:
    """One more layered surface, inside to outside; returns its number."""
    number = int(places["surfaces"][0])
    places["surfaces"] = number + 1
    surface = places["surface"][:, number]
    surface["area_m2"] = area_m2
    surface["film_in_m2K_W"], surface["film_out_m2K_W"] = inside_m2K_W, outside_m2K_W
    surface["layers"] = len(layers)
    for at, (layer, count) in enumerate(zip(layers, volumes, strict=True)):
        surface["layer_m2K_W"][:, at] = layer.resistance_m2K_W
        surface["layer_J_m2K"][:, at] = layer.thickness_m * layer.density_kg_m3 * layer.heat_J_kgK
        surface["layer_volumes"][:, at] = count
    assert sum(volumes) <= MAX_NODES
    return number


def weather(
    clock_s: Any, columns: Mapping[int, Any], places: Any, *, period_s: float = 0.0
) -> Forcing:
    """Forcing at these times, everything else as the places' own weather has it, unchanging.

    `columns` maps a column of `machine.rows` to one number per time (or per place and time).
    """
    clock = np.asarray(clock_s, dtype=float)
    rows = np.zeros((len(places), len(clock), FORCINGS))
    rows[:, :, OUTDOOR_K] = places["outdoor_K"][:, None]
    rows[:, :, OUTDOOR_WATER] = places["outdoor_humidity_ratio"][:, None]
    rows[:, :, OTHER_K:] = places["outdoor_K"][:, None, None]
    rows[:, :, ALLOWED] = 1.0
    rows[:, :, SET_K] = np.nan
    for column, numbers in columns.items():
        rows[:, :, column] = numbers
    return Forcing(clock, rows, period_s)


def none_inside(places: Any) -> Any:
    """Records of no cooler, one for each place."""
    return no_cooler(plain_cooler(len(places)))


def run_without_cooler(
    places: Any,
    forcing: Forcing,
    until_s: float,
    *,
    step_s: float = 30.0,
    bin_s: float = 600.0,
    state: State | None = None,
) -> tuple[Any, State]:
    """Bins and the last state of places in which there is no cooler at all."""
    none = none_inside(places)
    off = stopped(none, fans_keep_running=True)
    state = begin_run(none, places, forcing) if state is None else state
    bins, _ = run_days(
        none, off, places, forcing, Control(), state, until_s=until_s, step_s=step_s, bin_s=bin_s
    )
    return bins, state


def heat_of(bins: Any, name: str) -> Any:
    """Heat into the air [J] by one cause, per case and bin."""
    return bins[:, :, S_HEAT + HEAT_NAMES.index(name)]


def water_of(bins: Any, name: str) -> Any:
    """Water into the air [kg] by one cause, per case and bin."""
    return bins[:, :, S_WATERS + WATER_NAMES.index(name)]


def all_heat(bins: Any) -> Any:
    """Heat into the air [J] by every cause: shape (cases, bins, causes)."""
    return bins[:, :, S_HEAT : S_HEAT + HEATS]


def all_water(bins: Any) -> Any:
    """Water into the air [kg] by every cause: shape (cases, bins, causes)."""
    return bins[:, :, S_WATERS : S_WATERS + WATERS]
