"""A day and a year of a place with its cooler: how long the stepping takes."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.table import Row
from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.pulldown import pull_down
from coldwright.machine.records import Status
from coldwright.machine.rows import (
    ALLOWED,
    FORCINGS,
    GAIN_W,
    MOISTURE,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    SET_K,
    SUN_W,
)
from coldwright.machine.run import Control, Forcing, begin_run, run_days, stopped
from coldwright.machine.values import Values
from coldwright.sheet.file import read

DAY_S = 86_400.0
DAY_BAR_S, YEAR_BAR_S = 0.1, 3.0
KIOSK = Path(__file__).resolve().parents[1] / "demos" / "kiosk" / "sheet.toml"


def rows(*, days: int = 365, repeats: int = 5) -> list[Row]:
    """Measure and tell; fewer `days` are told as the year they stand for."""
    sheet = read(KIOSK)
    nominal = Values(0)
    cooler, place = assemble_cooler(sheet, nominal), assemble_place(sheet, nominal)
    year = 365.0 / days
    day_s = _best(repeats, lambda: _pull_down(cooler, place, DAY_S, 10.0))
    steady_s = year * _best(1, lambda: _pull_down(cooler, place, days * DAY_S, 60.0))
    _run(cooler, place, 1, 60.0)  # compiled from here on
    weather_day_s = _best(repeats, lambda: _run(cooler, place, 1, 10.0))
    weather_s = year * _best(1, lambda: _run(cooler, place, days, 60.0))
    return [
        _row("a day of place and cooler, 10 s steps", day_s, DAY_BAR_S),
        _row("  the same under changing weather", weather_day_s, DAY_BAR_S),
        _row("a year of place and cooler, 60 s steps", steady_s, YEAR_BAR_S),
        _row("  the same under changing weather", weather_s, YEAR_BAR_S),
    ]


def _row(what: str, seconds: float, bar_s: float) -> Row:
    return Row(what, f"{seconds:.3f} s", f"under {bar_s:g} s", seconds < bar_s)


def _best(repeats: int, run: Any) -> float:
    """Median time of some runs, the first (which may compile) left out."""
    run()
    taken = []
    for _ in range(repeats):
        began = time.perf_counter()
        run()
        taken.append(time.perf_counter() - began)
    return float(np.median(taken))


def _pull_down(cooler: Any, place: Any, until_s: float, step_s: float) -> None:
    history, status = pull_down(cooler, place, np.arange(0.0, until_s + 1.0, step_s))
    if status[0] != Status.SOLVED or not np.isfinite(history).all():
        raise RuntimeError(f"the pull-down ended with status {int(status[0])}")


def _run(cooler: Any, place: Any, days: int, step_s: float) -> None:
    """Days of weather that is warmer at noon and in summer; the thermostat holds 1 K below."""
    forcing = weather(place, days)
    state = begin_run(cooler, place, forcing)
    control = Control(kind=1, hysteresis_K=1.0)
    off = stopped(cooler, fans_keep_running=False)
    bins, _ = run_days(
        cooler, off, place, forcing, control, state,
        until_s=days * DAY_S, step_s=step_s, bin_s=DAY_S,
    )  # fmt: skip
    if not np.isfinite(bins).all():
        raise RuntimeError("a run under changing weather did not end")


def weather(place: Any, days: int) -> Forcing:
    """Hourly rows: outdoor air swings by 6 K over the day and by 10 K over the year."""
    clock_s = np.arange(0.0, days * DAY_S + 1.0, 3600.0)
    day = 2.0 * np.pi * clock_s / DAY_S
    rows = np.zeros((1, len(clock_s), FORCINGS))
    outdoor_K = 298.0 + 6.0 * np.sin(day - 2.0) - 10.0 * np.cos(day / 365.0)
    rows[0, :, OUTDOOR_K] = outdoor_K
    rows[0, :, OUTDOOR_WATER] = 0.007
    rows[0, :, SUN_W] = 120.0 * np.maximum(np.sin(day - np.pi / 2.0), 0.0)
    rows[0, :, GAIN_W] = place["gain_W"][0]
    rows[0, :, MOISTURE] = place["moisture_kg_s"][0]
    rows[0, :, SET_K] = outdoor_K - 1.0
    rows[0, :, ALLOWED] = 1.0
    rows[0, :, OTHER_K:] = outdoor_K[:, None]
    return Forcing(clock_s, rows, 0.0)
