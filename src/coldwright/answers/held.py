"""How much heat must be taken out, hour by hour, so that a place gets no warmer than wanted."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.followed import HOUR_S, Hours, alone, follow, hour_of_rows
from coldwright.answers.prepared import Prepared, prepare
from coldwright.answers.steady_hour import over_rows
from coldwright.machine.cooler import operate
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.rows import ALLOWED, GAIN_W, SET_K
from coldwright.machine.sky import DAY_S
from coldwright.sheet.models import Sheet, WeatherFile

Numbers = NDArray[np.float64]

# The place answers nearly in proportion; each round mends what it does not, until the hours are
# held to this [K].
_ROUNDS, _HELD_K = 3, 0.05
_SWEEPS, _ENOUGH_W = 400, 0.01


def pulse(ready: Prepared, heat_W: float) -> tuple[Any, Numbers]:
    """The case of a place from which heat is taken in the first hour, for `followed.alone`."""
    rows = ready.forcing.rows[0].copy()
    rows[hour_of_rows(ready.forcing.clock) == 0, GAIN_W] -= heat_W
    return ready.places[:1], rows


def held_heat(
    ready: Prepared, free: Numbers, pulsed: Numbers, pulse_W: float, most_K: Numbers
) -> tuple[Numbers, Hours]:
    """Heat that keeps the hourly means at or below `most_K`, only while the cooler may run.

    Parameters
    ----------
    free, pulsed
        Hourly means [K], shape (k,), of the place left alone and of the case of `pulse`.
    pulse_W
        Heat of that pulse.
    most_K
        What each hour may reach, shape (k,).

    Returns
    -------
    Heat [W], shape (k,), and the place followed with that heat taken out.

    Notes
    -----
    What an hour of cooling does to the hours after it is what the pulse did to the hours after the
    first (a repeating day begins again). Each hour's heat is the least that holds the hour: nought
    where the place stays cool by itself (a linear complementarity problem, solved by projected
    Gauss-Seidel), so walls that cool at night help by day. The place is then followed with that
    heat, and what was not in proportion is mended.
    """
    count = len(free)
    drop = (free - pulsed) / pulse_W
    after = np.arange(count)[:, None] - np.arange(count)[None, :]
    if ready.forcing.period_s > 0.0:
        response = drop[after % count]
    else:
        response = np.where(after >= 0, drop[np.maximum(after, 0)], 0.0)
    number = hour_of_rows(ready.forcing.clock)
    may = _hourly(ready.forcing.rows[0, :, ALLOWED] > 0.5, number, count)
    heat_W = np.zeros(count)
    over_K = free - most_K
    for _ in range(_ROUNDS):
        heat_W = _least(response, over_K + response @ heat_W, heat_W, may)
        rows = ready.forcing.rows[0].copy()
        rows[:, GAIN_W] -= heat_W[np.minimum(number, count - 1)]
        hours = follow(alone(ready, [(ready.places[:1], rows)]))
        over_K = hours.air_K[0] - most_K
        if (over_K[may & (heat_W > 0.0)] <= _HELD_K).all():
            break
    return heat_W, hours


def most_of(ready: Prepared, goal_K: float, wanted: NDArray[np.bool_]) -> Numbers:
    """What each hour may reach, shape (k,) [K]: the thermostat's temperature, or the goal."""
    if ready.sheet.cooler.thermostat is None:
        return np.full(len(wanted), goal_K)
    number = hour_of_rows(ready.forcing.clock)
    rows = ready.forcing.rows[0, :, SET_K]
    last = np.array([rows[number == k].min() for k in range(len(wanted))])
    return np.where(wanted, np.minimum(last, goal_K), last)


def daily_W(heat_W: Numbers) -> Numbers:
    """Mean heat of each day, shape (d,); of less than a day its mean."""
    per_day = int(24 * 3600 / HOUR_S)
    days = max(len(heat_W) // per_day, 1)
    return np.array([part.mean() for part in np.array_split(heat_W[: days * per_day], days)])


def year_share(ready: Prepared, sheet: Sheet, goal_K: float | None) -> tuple[float, float] | None:
    """Days of a long weather file, and the mean of what must be taken out over all of them, as a
    share of that over the stretch in `ready`; None where the whole is followed.

    Hour by hour without the walls' memory, which smooths the days but hardly changes their mean.
    """
    whole = prepare(sheet, 0, 0) if isinstance(sheet.climate, WeatherFile) else ready
    if goal_K is None or whole.sky.length_s <= ready.sky.length_s:
        return None
    part_W = _mean_W(ready, goal_K)
    if part_W <= 0.0:
        return None
    return whole.sky.length_s / DAY_S, _mean_W(whole, goal_K) / part_W


def _mean_W(ready: Prepared, goal_K: float) -> float:
    clock, rows = ready.forcing.clock, ready.forcing.rows[0]
    places = over_rows(ready.places, rows)
    kept = operate(
        no_cooler(np.repeat(ready.coolers[:1], len(places))), places, goal_K,
        places["humidity_ratio"], with_place=True, held=True,
    )  # fmt: skip
    load_W = np.maximum(sum(heat for _, heat in heat_load(places, kept)), 0.0)
    load_W = np.where(rows[:, ALLOWED] > 0.5, load_W, 0.0)
    return float(np.trapezoid(load_W, clock) / (clock[-1] - clock[0]))


def _least(response: Numbers, over_K: Numbers, start_W: Numbers, may: NDArray[np.bool_]) -> Numbers:
    heat_W = np.where(may, start_W, 0.0)
    hours = np.flatnonzero(may)
    for _ in range(_SWEEPS):
        moved_W = 0.0
        for k in hours:
            left_K = over_K[k] - response[k] @ heat_W
            better_W = max(heat_W[k] + left_K / response[k, k], 0.0)
            moved_W = max(moved_W, abs(better_W - heat_W[k]))
            heat_W[k] = better_W
        if moved_W < _ENOUGH_W:
            break
    return heat_W


def _hourly(on: NDArray[np.bool_], number: NDArray[np.int64], count: int) -> NDArray[np.bool_]:
    return np.array([bool(on[number == k].any()) for k in range(count)])
