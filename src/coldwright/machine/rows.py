"""What acts on a place at an instant: the rows of the forcing, read between and at their times."""

from __future__ import annotations

from typing import Any

from coldwright.machine.records import MAX_SURFACES
from coldwright.physics.compiled import compiled, inlined

# Columns of the forcing, each linear in time between its rows; two rows at one time are a jump.
OUTDOOR_K = 0
OUTDOOR_WATER = 1
WIND = 2
SUN_W = 3
GAIN_W = 4
MOISTURE = 5
DOOR_M3_S = 6
SET_K = 7
ALLOWED = 8
OTHER_K = 9
FORCINGS = OTHER_K + MAX_SURFACES


@compiled
def weather_at(
    clock: Any, forcing: Any, period_s: float, time_s: float, last: bool, row: Any
) -> None:
    """Forcing at a time into `row`; at a jump the value before it if `last`, else after it."""
    t = time_s
    if period_s > 0.0:
        t = time_s % period_s
        if last and t == 0.0 and time_s > 0.0:
            t = period_s
    m = len(clock)
    low = _row_at(clock, t, last)
    after = min(low + 1, m - 1)
    span = clock[after] - clock[low]
    share = (t - clock[low]) / span if span > 0.0 else 0.0
    share = min(max(share, 0.0), 1.0)
    for j in range(FORCINGS):
        row[j] = forcing[low, j] + share * (forcing[after, j] - forcing[low, j])


@compiled
def set_weather(place: Any, row: Any, base_natural_m3_s: float) -> None:
    """Put a row of forcing into the place's record."""
    place.outdoor_K = row[OUTDOOR_K]
    place.outdoor_humidity_ratio = row[OUTDOOR_WATER]
    place.wind_m_s = row[WIND]
    place.sun_W = row[SUN_W]
    place.gain_W = row[GAIN_W]
    place.moisture_kg_s = row[MOISTURE]
    place.natural_m3_s = base_natural_m3_s + row[DOOR_M3_S]
    for s in range(place.surfaces):
        place.surface[s].other_K = row[OTHER_K + s]


@compiled
def to_next_jump(clock: Any, period_s: float, time_s: float, within_s: float) -> float:
    """Time [s] to the next row at which a value may jump (two rows at one time).

    Jumps farther off than `within_s` are not looked for.
    """
    t = time_s % period_s if period_s > 0.0 else time_s
    low = _row_at(clock, t + 1e-9, False) + 1
    for i in range(low, len(clock) - 1):
        if clock[i] > t + within_s:
            break
        if clock[i] == clock[i + 1]:
            return clock[i] - t
    if period_s > 0.0:
        return period_s - t
    return 1e30


@inlined
def _row_at(clock: Any, time_s: float, last: bool) -> int:
    """Last row at or before a time (before it, when the value before a jump is asked for).

    Rows are mostly evenly spaced: the search begins where an even spacing would have it.
    """
    m = len(clock)
    span = clock[m - 1] - clock[0]
    guess = int((time_s - clock[0]) / span * (m - 1)) if span > 0.0 else 0
    low = min(max(guess - 2, 0), m - 1)
    high = min(max(guess + 3, 0), m - 1)
    if clock[low] > time_s or (last and clock[low] == time_s):
        low = 0
    if clock[high] < time_s or (not last and clock[high] == time_s):
        high = m - 1
    while low < high:
        middle = (low + high + 1) // 2
        if clock[middle] < time_s or (not last and clock[middle] == time_s):
            low = middle
        else:
            high = middle - 1
    return low
