"""What a person waits for when they search: a map of settings, and a million designs."""

from __future__ import annotations

import resource
import time
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from benchmarks.table import Row
from coldwright.answers.choice.engine import Engine, engine_of
from coldwright.answers.choice.options import options_of
from coldwright.answers.choice.wanted import aim_of, wanted_of
from coldwright.answers.design import SEED, Design
from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.records import Status
from coldwright.machine.search import CASE, search
from coldwright.machine.settings import map_settings
from coldwright.machine.values import Values
from coldwright.sheet.file import read
from coldwright.sheet.parts_file import typical_parts

KIOSK = Path(__file__).resolve().parents[1] / "demos" / "kiosk" / "sheet.toml"
MAP_BAR_S = 0.2
# "A million candidates in minutes": ten of them, on two cores.
SEARCH_BAR_S = 600.0
MEMORY_BAR_MB = 2000.0
MILLION = 1_000_000


def rows(designs: int) -> list[Row]:
    """Measure and tell; `designs` of a million are solved and told as the million."""
    map_s = _map_s()
    per_s, settings, peak_MB = _designs(designs)
    million_s = MILLION / per_s
    return [
        Row("map of 60 x 20 x 20 settings of a kiosk and its cooler", f"{map_s:.3f} s",
            f"under {MAP_BAR_S:g} s", map_s < MAP_BAR_S),
        Row(f"search, {designs:,} designs x {settings:.1f} settings", f"{per_s:,.0f} designs/s"),
        Row("  so a million designs", f"{million_s:.0f} s", f"under {SEARCH_BAR_S:.0f} s",
            million_s < SEARCH_BAR_S),
        Row("  peak memory of the whole process", f"{peak_MB:.0f} MB",
            f"under {MEMORY_BAR_MB:.0f} MB", peak_MB < MEMORY_BAR_MB),
    ]  # fmt: skip


def _map_s() -> float:
    sheet = read(KIOSK)
    cooler, place = assemble_cooler(sheet, Values(0)), assemble_place(sheet, Values(0))
    drive, speeds = np.linspace(0.05, 1.5, 60), np.linspace(0.3, 1.0, 20)
    taken = []
    for _ in range(6):
        began = time.perf_counter()
        found = map_settings(cooler, place, drive, speeds, speeds, with_place=True)
        taken.append(time.perf_counter() - began)
    if (found["status"] == Status.SOLVED).mean() < 0.5:
        raise RuntimeError("most settings of the map have no solution")
    return float(np.median(taken[1:]))


def _designs(count: int) -> tuple[float, float, float]:
    """Designs per second, settings tried for each, and the peak of the process's memory [MB]."""
    engine = _engine()
    random = np.random.default_rng(SEED)
    grid = engine.grid
    # Only what can be built at all: the rest costs nothing to rule out.
    flat = random.integers(0, grid.total, 60 * count)
    good = np.ones(len(flat), dtype=bool)
    for passed in grid.possible(grid.parts(flat)).values():
        good &= passed
    flat = flat[good][:count]
    engine.solve(flat[:64])  # compiled from here on
    began = time.perf_counter()
    tried = 0
    for start in range(0, len(flat), 4096):
        kept, _ = engine.solve(flat[start : start + 4096])
        tried += len(kept)
    seconds = time.perf_counter() - began
    peak_MB = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return tried / seconds, _settings_each(engine, flat[:512]), peak_MB


def _settings_each(engine: Engine, flat: NDArray[np.int64]) -> float:
    found, _ = search(
        engine.coolers(flat), engine.place, engine.grid.cases(engine.grid.parts(flat), CASE),
        engine.limits, engine.aim, with_place=engine.with_place, held_K=engine.held_K,
    )  # fmt: skip
    return float(found["tried"].mean())


def _engine() -> Engine:
    design = Design(read(KIOSK), 0, SEED)
    options = options_of(design.sheet, typical_parts())
    aim = aim_of(design.sheet, "coldest")
    wanted = wanted_of(design, aim)
    return engine_of(design, options, wanted.limits, aim, wanted.held_K, wanted.load)
