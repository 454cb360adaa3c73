"""Random weather for random designs: all that may act on a place, and jumps in all of it."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.records import MAX_SURFACES
from coldwright.machine.rows import (
    ALLOWED,
    DOOR_M3_S,
    GAIN_W,
    MOISTURE,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    SET_K,
    SUN_W,
    WIND,
)
from coldwright.machine.run import Forcing
from coldwright.physics.moist_air import humidity_ratio_saturated
from tests.machine.day_places import weather
from tests.machine.wall_references import DAY_S


def random_weather(rng: np.random.Generator, places: Any, days: int = 1, jumps: int = 8) -> Forcing:
    """Warm days and cool nights around each place's own weather; between jumps the rest is steady.

    At the jumps gains, doors, the schedule and the set point change, and so may the weather.
    """
    n = len(places)
    at = np.sort(rng.choice(np.arange(600, int(days * DAY_S) - 600), jumps, replace=False)) * 1.0
    hours = np.arange(0.0, days * DAY_S + 1.0, 3600.0)
    clock = np.sort(np.concatenate([np.setdiff1d(hours, at), at, at]))
    m = len(clock)
    piece = np.cumsum(np.concatenate([[0], np.diff(clock) == 0.0]))

    def steps(low: float, high: float) -> Any:
        return rng.uniform(low, high, (n, jumps + 1))[:, piece]

    def at_times(share: float) -> Any:
        return 1.0 * (rng.random((n, jumps + 1)) < share)[:, piece]

    day = np.cos(2.0 * np.pi * (clock / DAY_S - 0.6))
    outdoor_K = places["outdoor_K"][:, None] + rng.uniform(0.0, 7.0, (n, 1)) * day
    outdoor_K = outdoor_K + steps(-1.0, 1.0)
    water = places["outdoor_humidity_ratio"][:, None] * rng.uniform(0.7, 1.3, (n, m))
    most = humidity_ratio_saturated(outdoor_K, places["pressure_Pa"][:, None])
    forcing = weather(
        clock,
        {
            OUTDOOR_K: outdoor_K,
            OUTDOOR_WATER: np.minimum(water, most),
            WIND: places["wind_m_s"][:, None] * rng.uniform(0.0, 2.0, (n, m)),
            SUN_W: places["sun_W"][:, None] * np.maximum(day, 0.0),
            GAIN_W: places["gain_W"][:, None] * at_times(0.6),
            MOISTURE: places["moisture_kg_s"][:, None] * at_times(0.6),
            DOOR_M3_S: places["volume_m3"][:, None] / 3600.0 * steps(0.0, 2.0) * at_times(0.4),
            ALLOWED: at_times(0.8),
            SET_K: places["air_K"][:, None] + steps(-6.0, 1.0),
        },
        places,
    )
    warmed_K = rng.uniform(0.0, 12.0, (n, 1, MAX_SURFACES)) * np.maximum(day, 0.0)[:, None]
    forcing.rows[:, :, OTHER_K:] = outdoor_K[:, :, None] + warmed_K
    return forcing


def all_layered(rng: np.random.Generator, places: Any) -> None:
    """Give every surface a layer, so that all that passes a wall is stored on its way."""
    for s in range(int(places["surfaces"][0])):
        surface = places["surface"][:, s]
        bare = surface["layers"] == 0
        surface["layers"] = np.where(bare, 1, surface["layers"])
        resistance, capacity = (
            rng.uniform(0.05, 2.0, len(places)),
            rng.uniform(2e3, 2e5, len(places)),
        )
        surface["layer_m2K_W"][:, 0] = np.where(bare, resistance, surface["layer_m2K_W"][:, 0])
        surface["layer_J_m2K"][:, 0] = np.where(bare, capacity, surface["layer_J_m2K"][:, 0])
        surface["layer_volumes"][:, 0] = np.where(bare, 3, surface["layer_volumes"][:, 0])
