"""The scene on which a cooler and its rivals are compared: one weather, one place, one goal."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.cause import cause_of
from coldwright.answers.design import Design, Point
from coldwright.answers.first_aid import Aid, aids_of
from coldwright.answers.followed import (
    Hours,
    alone,
    by_hours,
    follow,
    hour_of_rows,
    stretch_of,
    wanted,
)
from coldwright.answers.held import daily_W, held_heat, most_of, pulse
from coldwright.answers.prepared import Prepared, in_same_weather, prepare
from coldwright.answers.steady_hour import over_rows
from coldwright.errors import NoSolution, SolverError
from coldwright.machine.cooler import operate
from coldwright.machine.day import S_TIME
from coldwright.machine.ledger_lines import wall_heat
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.machine.rows import ALLOWED
from coldwright.machine.run import Control, stopped
from coldwright.physics.air_state import relative_humidity
from coldwright.physics.air_volume import specific_volume
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Sheet

Numbers = NDArray[np.float64]

# Heat of the pulse that shows how a place answers, for each cubic metre and at least [W].
_PULSE_W_M3, _LEAST_PULSE_W = 10.0, 5.0
# A thermostat's own swing counts as held, and so does what a thermometer does not show [K].
_READ_K = 0.05
_BOILING_K = 373.15


@dataclass(frozen=True)
class Scene:
    """The place through its weather, left alone and held at the goal, and what that takes."""

    design: Design
    sheet: Sheet
    """The sheet with the stretch of its weather that is followed."""
    point: Point
    """This cooler at the worst moment."""
    ready: Prepared
    """The same stretch made ready, with a row of forcing before and after every full hour."""
    stretch: str
    """What is followed, in words."""
    free: Hours
    """The place left alone."""
    wanted: NDArray[np.bool_]
    """Hours in which the goal counts, shape (k,)."""
    may_run: NDArray[np.bool_]
    """Hours in which whatever serves the place may run, shape (k,)."""
    most_K: Numbers | None
    """What each hour may reach, shape (k,); None without a goal."""
    held_W: Numbers | None
    """Heat to be taken out in each hour so that it does not."""
    held_water: Numbers | None
    """Humidity ratio of the place then."""
    comfort: bool

    @classmethod
    def of(cls, design: Design, sheet: Sheet, point: Point, *, comfort: bool) -> Scene:
        """Follow what every rival needs; `point` is this cooler where the place levels off.

        Raises
        ------
        NoSolution, SolverError
            When the place without a cooler cannot be followed.
        """
        sheet, words = stretch_of(sheet)
        ready = prepare(sheet, 0, design.seed)
        ready = replace(ready, forcing=by_hours(ready.forcing))
        goal = sheet.goal.air
        pulse_W = max(_PULSE_W_M3 * float(ready.places["volume_m3"][0]), _LEAST_PULSE_W)
        cases = [(ready.places[:1], ready.forcing.rows[0])]
        if goal is not None:
            cases.append(pulse(ready, pulse_W))
        try:
            free = follow(alone(ready, cases))
        except SolverError:
            absent(design.cooler, design.place)  # says why, where it never comes to rest
            raise
        hold = wanted(ready, free.start_s)
        number = np.minimum(hour_of_rows(ready.forcing.clock), len(hold) - 1)
        on = ready.forcing.rows[0, :, ALLOWED] > 0.5
        may_run = np.array([on[number == k].any() for k in range(len(hold))])
        most_K = held_W = held_water = None
        if goal is not None:
            most_K = most_of(ready, goal.value, hold)
            held_W, hours = held_heat(ready, free.air_K[0], free.air_K[1], pulse_W, most_K)
            held_water = hours.water[0]
        return cls(
            design, sheet, point, ready, words, free, hold, may_run, most_K, held_W, held_water,
            comfort,
        )  # fmt: skip

    @property
    def is_box(self) -> bool:
        """Whether nobody sits in it: what blows at people has no part."""
        return isinstance(self.sheet.place, Box)

    @property
    def has_people(self) -> bool:
        """Whether the sheet puts people (or animals) into the place."""
        return any(gain.people for gain in getattr(self.sheet.place, "gain", ()))

    @property
    def goal_K(self) -> float | None:
        """What shall be reached and held."""
        return None if self.sheet.goal.air is None else self.sheet.goal.air.value

    @property
    def off_K(self) -> float:
        """The place left alone in its hottest hour that counts."""
        return self.hottest(self.free)[0]

    @property
    def pressure_Pa(self) -> float:
        """Of the air."""
        return self.ready.sky.pressure_Pa

    @property
    def rows(self) -> Numbers:
        """Forcing of the stretch, shape (m, FORCINGS): copies are changed by the rivals."""
        return np.asarray(self.ready.forcing.rows[0])

    @property
    def hour_of_row(self) -> NDArray[np.int64]:
        """Which hour each row belongs to, shape (m,)."""
        return np.minimum(hour_of_rows(self.ready.forcing.clock), len(self.wanted) - 1)

    @property
    def days(self) -> float:
        """Length of the stretch."""
        return float(self.free.bins[0, :, S_TIME].sum()) / 86400.0

    @property
    def mean_W(self) -> float | None:
        """Mean over the stretch of what must be taken out to hold the goal."""
        return None if self.held_W is None else float(self.held_W.mean())

    @property
    def worst_day_W(self) -> float | None:
        """The same over the worst day."""
        return None if self.held_W is None else float(daily_W(self.held_W).max())

    def hottest(self, hours: Hours, case: int = 0) -> tuple[float, float]:
        """Air [K] and humidity ratio of the hottest hour in which the goal counts."""
        air = np.where(self.wanted, hours.air_K[case], -np.inf)
        at = int(np.argmax(air))
        return float(air[at]), float(hours.water[case, at])

    def needed(self) -> NDArray[np.bool_]:
        """Hours in which the place left alone is too warm and something may run, shape (k,)."""
        if self.most_K is None:
            return self.may_run
        return np.asarray(self.may_run & (self.free.air_K[0] > self.most_K))

    @cached_property
    def own(self) -> Hours:
        """The place with this cooler as the sheet runs it."""
        return follow(self.ready)

    @cached_property
    def running(self) -> Hours:
        """The place with this cooler running whenever its hours allow, no thermostat between."""
        return follow(replace(self.ready, control=Control()))

    def fans_only(self) -> Hours:
        """The place with the modules switched off and the fans running."""
        off = stopped(self.ready.coolers, fans_keep_running=True)
        return follow(replace(self.ready, coolers=off, off=off, control=Control()))

    def served(self, places: Any, rows: Numbers) -> Hours:
        """The place without a cooler, its record and forcing changed by a rival."""
        return follow(alone(self.ready, [(places, rows)]))

    def aided(self) -> list[tuple[tuple[Aid, ...], Hours, int]]:
        """The place with every combination of shade, sealing and insulation that can be had."""
        aids = aids_of(self.sheet)
        sets = [some for size in range(1, len(aids) + 1) for some in combinations(aids, size)]
        cases = []
        for some in sets:
            changes = {key: text for aid in some for key, text in aid.changes.items()}
            places, forcing = in_same_weather(self.ready, self.sheet.changed(changes))
            cases.append((places, by_hours(forcing).rows[0]))
        if not cases:
            return []
        hours = follow(alone(self.ready, cases))
        return [(some, hours, case) for case, some in enumerate(sets)]

    def leaks(self) -> tuple[Numbers, Numbers]:
        """Outdoor air that comes in by itself, along the rows, each of shape (m,): all of it, doors
        included [m³/s], and what of it a known heat loss counts already [kg/s]."""
        places = over_rows(self.ready.places, self.rows)
        coolers = no_cooler(np.repeat(self.ready.coolers[:1], len(places)))
        found = operate(
            coolers, places, places["air_K"], places["humidity_ratio"], with_place=True
        )  # fmt: skip
        outdoor = (places["outdoor_K"], places["outdoor_humidity_ratio"])
        volume = specific_volume(*outdoor, self.pressure_Pa)
        leak = np.asarray(np.nan_to_num(found["natural_kg_s"] * volume))
        by_gaps = leak - places["natural_m3_s"]
        counted = np.where(places["counted_W_K"] > 0.0, by_gaps / volume, 0.0)
        return leak, np.asarray(np.nan_to_num(counted))

    def reaches(self, air_K: float | None, *, switched: bool = False) -> bool | None:
        """Whether a temperature of the air meets the goal; None without a goal.

        Of a thermostat that is set to the goal half its swing is allowed.
        """
        if self.goal_K is None or air_K is None:
            return None
        allowed_K = self.goal_K
        thermostat = self.sheet.cooler.thermostat
        if switched and thermostat is not None and thermostat.drive == "on/off":
            highest_K = thermostat.air.value + 0.5 * thermostat.hysteresis.value
            if thermostat.air.value <= self.goal_K:
                allowed_K = max(allowed_K, highest_K)
        return air_K <= allowed_K + _READ_K

    def always_on_K(self) -> float | None:
        """The hottest hour with no thermostat between; None where there is none anyway."""
        if self.sheet.cooler.thermostat is None:
            return None
        return self.hottest(self.running)[0]

    def feels(self, air_K: float, water: float, speed_m_s: float = 0.1) -> float | None:
        """What still air would feel the same to a seated person [K]."""
        if not self.comfort or self.is_box:
            return None
        from coldwright.answers.comfort import feels_like

        pressure = self.pressure_Pa
        try:
            felt = float(
                feels_like(
                    air_K, self.off_K, speed_m_s, self.humidity(air_K, water), pressure_Pa=pressure
                )
            )
        except ImportError:
            return None
        return felt if np.isfinite(felt) else None

    def humidity(self, air_K: float, water: float) -> float:
        """Relative humidity, 0 to 1."""
        return min(float(relative_humidity(air_K, water, self.pressure_Pa)), 1.0)


def load_at_goal_W(design: Design, goal_K: float) -> float | None:
    """What comes in at the goal if the worst moment lasted [W], as `answers.verdict` has it."""
    try:
        held = design.solve(with_place=True, air=goal_K, held=True)
    except NoSolution:
        return None
    return float(sum(heat[0] for _, heat in heat_load(design.place, held.results)))


def absent(coolers: Any, places: Any) -> Any:
    """A place without any cooler, where it levels off; `RESULT` records of one case.

    Raises
    ------
    NoSolution
        When it does not come to rest, with the cause.
    """
    found = operate(
        no_cooler(coolers), places, places["air_K"], places["humidity_ratio"], with_place=True
    )
    if found["status"][0] != Status.SOLVED:
        raise NoSolution("CW-SOLVE-01", _no_rest(coolers, places, found))
    return found


def _no_rest(coolers: Any, places: Any, found: Any) -> str:
    """Why a place without any cooler does not come to rest."""
    start = "The place without a cooler has no steady state"
    walls = sum(wall_heat(places, s, _BOILING_K) for s in range(int(places["surfaces"][0])))
    enters_W = walls + places["loss_W_K"] * (places["outdoor_K"] - _BOILING_K)
    enters_W = enters_W + places["gain_W"] + places["sun_W"]
    if enters_W[0] > 0.0:
        return f"{start}: by what enters it, it would get hotter than 100 °C."
    cause = cause_of(Status(int(found["status"][0])), no_cooler(coolers), places, found)
    outdoor = display("place_air_K", float(places["outdoor_K"][0]))
    return f"{start}. {cause}" if cause else f"{start} with {outdoor} outdoors."
