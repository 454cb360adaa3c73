"""The scene on which a cooler and its rivals are compared: the place at its worst moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.answers.cause import cause_of
from coldwright.answers.design import Design, Point
from coldwright.errors import NoSolution
from coldwright.machine.cooler import operate
from coldwright.machine.ledger_lines import wall_heat
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.physics.air_state import relative_humidity
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Sheet

BOILING_K = 373.15


@dataclass(frozen=True)
class Scene:
    """The place at its worst moment, and what it takes to hold the goal."""

    design: Design
    sheet: Sheet
    """The design's steady sheet of that moment."""
    point: Point
    """This cooler at that moment."""
    goal_K: float | None
    off_K: float
    off_water: float
    load_W: float | None
    """To be taken out at the goal at the worst moment."""
    mean_load_W: float | None
    """The same over the day."""
    held_water: float
    comfort: bool

    @classmethod
    def of(cls, design: Design, sheet: Sheet, point: Point, *, comfort: bool) -> Scene:
        """Solve what every rival needs; `point` is this cooler where the place levels off."""
        empty = absent(design.cooler, design.place)
        goal = sheet.goal.air
        load = mean = None
        held_water = float(empty["place_humidity_ratio"][0])
        if goal is not None:
            kept = held(design.cooler, design.place, goal.value)
            load = float(sum(heat[0] for _, heat in heat_load(design.place, kept)))
            # Whatever cools it also dries it, to the outdoor air's moisture at least.
            held_water = min(
                float(kept["place_humidity_ratio"][0]),
                float(design.place["outdoor_humidity_ratio"][0]),
            )
            mean = mean_load(design, sheet, goal.value, load)
        return cls(
            design,
            design.sheet,
            point,
            None if goal is None else goal.value,
            float(empty["place_K"][0]),
            float(empty["place_humidity_ratio"][0]),
            load,
            mean,
            held_water,
            comfort,
        )

    @property
    def is_box(self) -> bool:
        """Whether nobody sits in it: what blows at people has no part."""
        return isinstance(self.sheet.place, Box)

    def reaches(self, air_K: float | None) -> bool | None:
        """Whether an air temperature meets the goal; None without a goal."""
        if self.goal_K is None or air_K is None:
            return None
        return air_K <= self.goal_K

    def feels(self, air_K: float, water: float, speed_m_s: float = 0.1) -> float | None:
        """What still air would feel the same to a seated person [K]."""
        if not self.comfort or self.is_box:
            return None
        from coldwright.answers.comfort import feels_like

        pressure = float(self.design.place["pressure_Pa"][0])
        humidity = min(float(relative_humidity(air_K, water, pressure)), 1.0)
        try:
            felt = float(feels_like(air_K, self.off_K, speed_m_s, humidity, pressure_Pa=pressure))
        except ImportError:
            return None
        return felt if np.isfinite(felt) else None


def absent(coolers: Any, places: Any) -> Any:
    """Where a place stands without any cooler; `RESULT` records."""
    found = operate(
        no_cooler(coolers), places, places["air_K"], places["humidity_ratio"], with_place=True
    )
    if found["status"][0] != Status.SOLVED:
        raise NoSolution("CW-SOLVE-01", _no_rest(coolers, places, found))
    return found


def _no_rest(coolers: Any, places: Any, found: Any) -> str:
    """Why a place without any cooler does not come to rest."""
    start = "The place without a cooler has no steady state"
    walls = sum(wall_heat(places, s, BOILING_K) for s in range(int(places["surfaces"][0])))
    enters_W = walls + places["loss_W_K"] * (places["outdoor_K"] - BOILING_K)
    enters_W = enters_W + places["gain_W"] + places["sun_W"]
    if enters_W[0] > 0.0:
        return f"{start}: by what enters it, it would get hotter than 100 °C."
    cause = cause_of(Status(int(found["status"][0])), no_cooler(coolers), places, found)
    outdoor = display("place_air_K", float(places["outdoor_K"][0]))
    return f"{start}. {cause}" if cause else f"{start} with {outdoor} outdoors."


def held(coolers: Any, places: Any, air_K: float) -> Any:
    """A place without a cooler whose air is held at a temperature; `RESULT` records."""
    return operate(
        no_cooler(coolers), places, air_K, places["humidity_ratio"], with_place=True, held=True
    )


def mean_load(design: Design, sheet: Sheet, goal_K: float, worst_W: float) -> float:
    """Mean of what must be taken out over the day; in steady weather that of the one hour.

    Hour by hour without the walls' memory: it smooths the day but hardly changes its mean.
    """
    from coldwright.answers.prepared import prepare
    from coldwright.sheet.models import SteadyClimate

    if isinstance(sheet.climate, SteadyClimate):
        return worst_W
    ready = prepare(sheet, 0, design.seed)
    clock, rows = ready.forcing.clock, ready.forcing.rows[0]
    places = np.repeat(ready.places, len(clock))
    places["outdoor_K"] = rows[:, 0]
    places["outdoor_humidity_ratio"] = rows[:, 1]
    places["sun_W"] = rows[:, 3]
    places["gain_W"] = rows[:, 4]
    places["moisture_kg_s"] = rows[:, 5]
    for s in range(int(places["surfaces"][0])):
        places["surface"]["other_K"][:, s] = rows[:, 9 + s]
    coolers = np.repeat(ready.coolers, len(clock))
    kept = held(coolers, places, goal_K)
    load = np.maximum(sum(heat for _, heat in heat_load(places, kept)), 0.0)
    return float(np.trapezoid(load, clock) / (clock[-1] - clock[0]))
