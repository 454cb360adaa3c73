"""Answers made by hand: what a picture or table shows must be what stands in them."""

from __future__ import annotations

import numpy as np

from coldwright.answers.day import Day
from coldwright.answers.tune import Tune
from coldwright.answers.value import Value

# Watts of each cause at noon and at midnight; between they follow a cosine.
CAUSES = {
    "walls": (90.0, -40.0),
    "sun": (120.0, 0.0),
    "people and appliances": (70.0, 70.0),
    "hot duct": (3.0, 3.0),
    "outdoor air by itself": (12.0, -9.0),
    "cold air": (-260.0, -20.0),
    "contents": (-35.0, -4.0),
}


def a_day(hours: int = 24, first_day: str = "") -> Day:
    """So many hours of an invented place."""
    hour = np.arange(hours) + 0.0
    noon = 0.5 - 0.5 * np.cos(2.0 * np.pi * (hour % 24.0 + 0.5) / 24.0)
    air_K = 291.0 + 4.0 * noon
    series = {
        "start_s": hour * 3600.0,
        "place_air_K": air_K,
        "place_lowest_K": air_K - 0.7,
        "place_highest_K": air_K + 0.5,
        "relative_humidity": 0.4 + 0.1 * noon,
        "outdoor_K": 290.0 + 15.0 * noon,
        "contents_K": air_K - 0.3,
        "plug_J": 3600.0 * (20.0 + 60.0 * noon),
        "condensate_kg": 0.001 * noon,
        "running_share": noon,
    }
    heat = {
        name: 3600.0 * (night_W + (noon_W - night_W) * noon)
        for name, (noon_W, night_W) in CAUSES.items()
    }
    return Day(
        title="Invented", file="sheet.toml", headline="It is warm.", reasons=["The sun shines."],
        weather="an invented day", first_day=first_day, days_followed=hours / 24.0,
        series={name: np.asarray(numbers).tolist() for name, numbers in series.items()},
        heat_J={name: numbers.tolist() for name, numbers in heat.items()},
        water_kg={"people and appliances": [0.002] * hours, "cold air": [-0.002] * hours},
        totals={"place_mean_K": Value(float(air_K.mean()))}, worst_hour_s=12.0 * 3600.0,
        seasons=[],
        holding=[], findings=[], assumptions={}, ledger_residual=1e-12, tries=0,
    )  # fmt: skip


def a_hill(*, level: str | None = "place_air_K", cold: int = 4, axis: str = "voltage_V") -> Tune:
    """A hill over twelve drives, some cold speeds and three hot ones, with its edge unsolved."""
    drive = np.linspace(1.0, 12.0, 12)
    cold_speed, hot_speed = np.linspace(0.4, 1.0, cold), np.linspace(0.5, 1.0, 3)
    d, c, h = np.meshgrid(drive, cold_speed, hot_speed, indexing="ij")
    cooling_W = (4.0 * d - 0.22 * d**2) * c**0.3 * h**0.2
    power_W = 0.4 * d**2 + 4.0 * c**3 + 6.0 * h**3
    maps = {
        "plug_power_W": power_W,
        "cooling_W": cooling_W,
        "net_cooling_W": cooling_W - 2.0 * c,
        "cop_net": (cooling_W - 2.0 * c) / power_W,
        "cold_sink_K": 300.0 - cooling_W,
        "cold_outlet_K": 296.0 - 0.5 * cooling_W,
        "hot_face_K": 310.0 + 3.0 * d,
        "hot_sink_K": 309.0 + 2.0 * d,
        "cold_face_K": 299.0 - cooling_W,
        "sound_dB": 40.0 + 50.0 * np.log10(c),
    }
    if level is not None:
        maps[level] = 303.0 - 0.8 * (cooling_W - 2.0 * c)
    runaway = (d > 11.5) & (h < 0.6)
    maps = {name: np.where(runaway, np.nan, numbers) for name, numbers in maps.items()}
    return Tune(
        title="Invented", file="sheet.toml", headline="Less is enough.", reasons=[], axis=axis,
        drive=drive.tolist(), cold_speed=cold_speed.tolist(), hot_speed=hot_speed.tolist(),
        maps=maps, allowed=(maps["plug_power_W"] <= 45.0),
        now={"drive": 8.0, "cold_speed": 1.0, "hot_speed": 1.0, "place_K": 285.0},
        best=[], ratings=[], not_cooling=[], findings=[], tries=0,
    )  # fmt: skip
