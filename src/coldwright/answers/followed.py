"""A place followed through its weather for several ways of serving it at once, hour by hour."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.prepared import Prepared, prepare, settled_start
from coldwright.answers.steady_hour import worst_moment
from coldwright.machine.day import S_AIR, S_OUTDOOR, S_TIME, S_WATER
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.run import Control, Forcing, begin_run, run_days, stopped
from coldwright.machine.sky import DAY_S
from coldwright.sheet.models import Sheet, WeatherFile
from coldwright.sheet.schedules import schedule_at

HOUR_S = 3600.0
# A repeating day is followed until its hourly means repeat to this [K], and no longer than this.
_SETTLED_K = 0.02
_MOST_DAYS = 30
# What is followed of a long weather file: so many days around the worst moment.
_LONGEST_DAYS, _WEEK_DAYS = 10.0, 7
# So long after switching on a place may take to get there, or less where the goal says so [s].
_GRACE_S = HOUR_S
_LOOK_S = 300.0
# Two minutes against half a one change a day's totals by 0.1 %.
_STEP_S = 120.0

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Hours:
    """Hourly sums of the followed stretch (the last day of one that repeats), per case."""

    start_s: Numbers
    """Clock time at which each hour begins, shape (k,)."""
    bins: Numbers
    """Shape (n, k, BIN_COLUMNS), columns of `machine.day`."""

    @property
    def air_K(self) -> Numbers:
        """Hourly means of the place's air, shape (n, k)."""
        return np.asarray(self.bins[:, :, S_AIR] / self.bins[:, :, S_TIME])

    @property
    def water(self) -> Numbers:
        """Hourly means of its humidity ratio, shape (n, k)."""
        return np.asarray(self.bins[:, :, S_WATER] / self.bins[:, :, S_TIME])

    @property
    def outdoor_K(self) -> Numbers:
        """Hourly means outdoors, shape (k,)."""
        return np.asarray(self.bins[0, :, S_OUTDOOR] / self.bins[0, :, S_TIME])

    def per_day(self, column: int) -> Numbers:
        """A sum of the bins, for a day, shape (n,)."""
        time_s = self.bins[:, :, S_TIME].sum(axis=1)
        return np.asarray(self.bins[:, :, column].sum(axis=1) * DAY_S / time_s)


def stretch_of(sheet: Sheet) -> tuple[Sheet, str]:
    """The sheet with as much of its weather as is followed, and what that is in words.

    A whole year is not followed for every way: its worst week stands for it.
    """
    if not isinstance(sheet.climate, WeatherFile):
        return sheet, "the day"
    ready = prepare(sheet, 0, 0)
    days = ready.sky.length_s / DAY_S
    if days <= _LONGEST_DAYS:
        return sheet, "these days" if days > 1.0 else "the day"
    assert ready.sky.first_day is not None
    at_day = worst_moment(sheet).from_start_s // DAY_S
    begins = min(max(at_day - _WEEK_DAYS // 2, 0.0), days - _WEEK_DAYS)
    first = ready.sky.first_day + datetime.timedelta(days=int(begins))
    week = {
        "climate.date": None, "climate.last_day": None,
        "climate.first_day": f"{first:%m-%d}", "climate.days": _WEEK_DAYS,
        # It does not begin as the year does.
        "place.start_air": None, "place.start_humidity": None,
    }  # fmt: skip
    return sheet.changed(week), f"the hottest week, from {first.day} {first:%B}"


def by_hours(forcing: Forcing) -> Forcing:
    """The same with two rows of forcing at every full hour, so that hours may differ."""
    old, clock = forcing.rows, forcing.clock
    edges = HOUR_S * np.arange(1, int(np.ceil(clock[-1] / HOUR_S - 1e-9)))
    times, counts = np.unique(clock, return_counts=True)
    once = np.setdiff1d(edges, times[counts > 1])
    missing = np.setdiff1d(edges, times)
    more = np.concatenate([once, missing])
    # A row that is doubled, or falls between two rows, says nothing new.
    rows = np.stack(
        [
            np.stack([np.interp(more, clock, case[:, j]) for j in range(case.shape[1])], axis=1)
            for case in old
        ]
    )
    everywhere = np.concatenate([clock, more])
    order = np.argsort(everywhere, kind="stable")
    both = np.concatenate([old, rows], axis=1)[:, order]
    return Forcing(everywhere[order], both, forcing.period_s)


def hour_of_rows(clock: Numbers) -> NDArray[np.int64]:
    """Number of the hour that each row of a clock made by `by_hours` belongs to, shape (m,)."""
    hours = np.floor(clock / HOUR_S + 1e-9).astype(np.int64)
    at_edge = np.abs(clock - np.round(clock / HOUR_S) * HOUR_S) < 1e-6
    before = at_edge & np.append(clock[:-1] == clock[1:], False)
    before[-1] = at_edge[-1]
    return np.asarray(np.maximum(hours - before, 0))


def alone(ready: Prepared, cases: list[tuple[Any, Numbers]]) -> Prepared:
    """Many places without a cooler: records and rows of forcing (m, FORCINGS) of each."""
    coolers = no_cooler(np.repeat(ready.coolers[:1], len(cases)))
    return replace(
        ready,
        coolers=coolers,
        off=stopped(coolers, fans_keep_running=True),
        places=np.concatenate([places[:1] for places, _ in cases]),
        forcing=Forcing(
            ready.forcing.clock, np.stack([rows for _, rows in cases]), ready.forcing.period_s
        ),
        control=Control(),
    )


def follow(ready: Prepared, *, step_s: float = _STEP_S) -> Hours:
    """Follow every case to the end of its weather, or until a repeating day repeats.

    The same start and the same rule for the end as `answers.day`.
    """
    ready = replace(ready, places=ready.places.copy())
    repeats = ready.forcing.period_s > 0.0
    told = getattr(ready.sheet.place, "start_air", None) is not None and not repeats
    mean = None if told else settled_start(ready)
    state = begin_run(ready.coolers, ready.places, ready.forcing, mean)
    last = None
    for day in range(1, _MOST_DAYS + 1):
        bins, _ = run_days(
            ready.coolers, ready.off, ready.places, ready.forcing, ready.control, state,
            until_s=day * DAY_S if repeats else ready.sky.length_s, step_s=step_s, bin_s=HOUR_S,
            limit_K=ready.limit_K,
        )  # fmt: skip
        means = bins[:, :, S_AIR] / bins[:, :, S_TIME]
        if not repeats or (last is not None and np.abs(means - last).max() < _SETTLED_K):
            break
        last = means
    ends_s = np.cumsum(bins[0, :, S_TIME])
    start_s = np.round(ready.sky.day_start_s + ends_s - bins[0, :, S_TIME], 3)
    return Hours(start_s, bins)


def wanted(ready: Prepared, start_s: Numbers) -> NDArray[np.bool_]:
    """In which hours the goal is to be held, shape (k,).

    The hours in which the cooler may run and no higher temperature is set back to, each stretch
    without its beginning (an hour, or the shorter time that the goal allows to get there).
    """
    sheet = ready.sheet
    within = sheet.goal.within
    grace_s = _GRACE_S if within is None else min(within.value, _GRACE_S)
    looks = np.arange(-grace_s, HOUR_S - 1.0, _LOOK_S)
    at_s = start_s[:, None] + looks[None, :]
    on = _may_run(sheet, at_s)
    for found in (on.all(axis=1), on[:, looks >= 0.0].all(axis=1), on[:, looks >= 0.0].any(axis=1)):
        if np.any(found):
            return np.asarray(found)
    return np.ones(len(start_s), dtype=bool)


def _may_run(sheet: Sheet, clock_s: Numbers) -> NDArray[np.bool_]:
    on = schedule_at(sheet.cooler.schedule, clock_s)
    thermostat, goal = sheet.cooler.thermostat, sheet.goal.air
    if thermostat is not None and thermostat.setback is not None:
        back = thermostat.setback
        if back.air.value > (thermostat.air if goal is None else goal).value:
            on &= ~schedule_at(back.schedule, clock_s)
    return on
