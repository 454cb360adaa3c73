"""How long does it hold? The stopped place warms up; ice and buffers last a while."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.prepared import Prepared
from coldwright.machine.day import M_ON, M_TIME, S_AIR, S_CONTENTS, S_TIME
from coldwright.machine.rows import ALLOWED
from coldwright.machine.run import Control, Forcing, begin_run, run_days
from coldwright.machine.sky import DAY_S
from coldwright.physics.water_store import ice_heat
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Sheet

# How much warmer counts as lost, where no goal says so [K].
_RISE_K = 3.0
# A goal so near to where the place stands is lost at once [K].
_NEAR_K = 0.5
_LONGEST_S = 3.0 * DAY_S


@dataclass(frozen=True)
class Holding:
    """One way of holding the cold without the cooler."""

    name: str
    time_s: float | None
    """None: it never gets so warm in this weather (or never reaches the goal at all)."""
    sentence: str

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        return {"name": self.name, "time_s": self.time_s, "sentence": self.sentence}


def holding(sheet: Sheet, ready: Prepared, lowest_K: float, hottest_s: float) -> list[Holding]:
    """How long the place holds, switched off as the hottest hour outdoors begins.

    It then stands at what was held (the thermostat's temperature, else the goal, but no lower than
    the run's lowest), walls and contents with it, and counts as lost above its goal or, where it
    stands there already, 3 K warmer. `hottest_s` is counted from the first row of the forcing.
    """
    thermostat, goal = sheet.cooler.thermostat, sheet.goal.air
    wanted = thermostat.air if thermostat is not None else goal
    held_K = lowest_K if wanted is None else max(wanted.value, lowest_K)
    limit_K = held_K + _RISE_K
    if goal is not None and goal.value > held_K + _NEAR_K:
        limit_K = goal.value
    never_on = Forcing(ready.forcing.clock, ready.forcing.rows[:1].copy(), ready.forcing.period_s)
    never_on.rows[:, :, ALLOWED] = 0.0
    places = ready.places[:1].copy()
    places["air_K"] = held_K
    places["contents_K"] = held_K
    mean = _day_around(never_on, hottest_s)
    state = begin_run(ready.off[:1], places, never_on, mean)
    state.memory[:, M_ON] = 0.0
    state.memory[:, M_TIME] = hottest_s
    end_s = hottest_s + _LONGEST_S
    if ready.forcing.period_s == 0.0:
        end_s = min(end_s, ready.sky.length_s)
    bins, _ = run_days(
        ready.off[:1], ready.off[:1], places, never_on, Control(), state,
        until_s=end_s, step_s=60.0, bin_s=300.0,
    )  # fmt: skip
    start, limit = display("place_air_K", held_K), display("place_air_K", limit_K)
    times = {"stopped": _lost(bins[0], S_AIR, limit_K)}
    what = f"the {'box' if isinstance(sheet.place, Box) else 'room'}'s air"
    if ready.places["contents_J_K"][0] > 0.0:
        times["stopped, contents"] = _lost(bins[0], S_CONTENTS, limit_K)
    followed = display("time", end_s - hottest_s)
    found = []
    for name, time_s in times.items():
        of_contents = name.endswith("contents")
        who = (
            "The contents"
            if of_contents
            else f"Switched off in the hottest hour, at {start}, {what}"
        )
        if time_s is None:
            rest = f"{'stay' if of_contents else 'stays'} below {limit} for the {followed} followed"
        else:
            lasts = "less than 5 min" if time_s == 0.0 else display("time", time_s)
            rest = f"{'pass' if of_contents else 'passes'} {limit} after {lasts}"
        found.append(Holding(name, time_s, f"{who} {rest}."))
    return found


def _lost(bins: NDArray[np.float64], column: int, limit_K: float) -> float | None:
    """Time until a mean of a bin lies above the limit [s]; None where none does."""
    above = np.flatnonzero(bins[:, column] / bins[:, S_TIME] > limit_K)
    return float(bins[: above[0], S_TIME].sum()) if len(above) else None


def _day_around(forcing: Forcing, at_s: float) -> NDArray[np.float64]:
    """Mean of the forcing over the day around an instant, shape (1, FORCINGS)."""
    clock, rows = forcing.clock, forcing.rows[0]
    if forcing.period_s > 0.0:
        inside = np.ones(len(clock), dtype=bool)
    else:
        inside = np.abs(clock - at_s) <= 0.5 * DAY_S
    span_s = float(np.ptp(clock[inside]))
    mean: NDArray[np.float64] = rows[inside][:1]
    if span_s > 0.0:
        mean = np.trapezoid(rows[inside], clock[inside], axis=0)[None, :] / span_s
    return mean


def ice_per_day_kg(heat_W: float, final_K: float) -> float:
    """Ice at 0 °C that takes up a mean heat for a day, its water warmed to `final_K` [kg]."""
    return float(heat_W * DAY_S / ice_heat(273.15, final_K))
