"""How long does it hold? The stopped place warms up; ice and buffers last a while."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.answers.prepared import Prepared
from coldwright.machine.day import M_ON, M_TIME, S_AIR, S_TIME
from coldwright.machine.run import Control, Forcing, State, run_days
from coldwright.machine.sky import DAY_S
from coldwright.physics.water_store import ice_heat
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

# How much warmer counts as lost, where no goal says so [K].
_RISE_K = 3.0
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


def holding(sheet: Sheet, ready: Prepared, state: State) -> list[Holding]:
    """How long the place stays below its goal (or 3 K above its present air) once switched off."""
    air_K = float(state.unknowns[0, _air_index(ready)])
    goal = sheet.goal.air
    limit_K = air_K + _RISE_K if goal is None or goal.value <= air_K else goal.value
    never_on = Forcing(ready.forcing.clock, ready.forcing.rows.copy(), ready.forcing.period_s)
    never_on.rows[:, :, 8] = 0.0
    copy = State(
        state.memory.copy(), state.stores.copy(), state.unknowns.copy(), state.outputs.copy()
    )
    copy.memory[:, M_ON] = 0.0
    start_s = float(copy.memory[0, M_TIME])
    end_s = start_s + _LONGEST_S
    if ready.forcing.period_s == 0.0:
        # A file's weather ends; its last day is as good a night as any to look at.
        copy.memory[:, M_TIME] = max(start_s - DAY_S, 0.0)
        start_s = float(copy.memory[0, M_TIME])
        end_s = min(start_s + _LONGEST_S, ready.sky.length_s)
    bins, _ = run_days(
        ready.coolers, ready.off, ready.places, never_on, Control(), copy,
        until_s=end_s, step_s=60.0, bin_s=300.0,
    )  # fmt: skip
    air = bins[0, :, S_AIR] / bins[0, :, S_TIME]
    above = np.flatnonzero(air > limit_K)
    limit = display("place_air_K", limit_K)
    if len(above):
        time_s: float | None = float(bins[0, : above[0], S_TIME].sum())
        sentence = (
            f"Switched off at {display('place_air_K', air_K)}, the place is above {limit} after "
            f"{display('time', time_s)}."
        )
    else:
        time_s = None
        sentence = (
            f"Switched off at {display('place_air_K', air_K)}, the place stays below {limit} for "
            f"the {display('time', end_s - start_s)} that were followed."
        )
    return [Holding("stopped", time_s, sentence)]


def ice_per_day_kg(heat_W: float, final_K: float) -> float:
    """Ice at 0 °C that takes up a mean heat for a day, its water warmed to `final_K` [kg]."""
    return float(heat_W * DAY_S / ice_heat(273.15, final_K))


def _air_index(ready: Prepared) -> int:
    from coldwright.machine.balance import unknowns

    return int(unknowns(ready.coolers[0], True)) - 2
