"""What acts on a place over time, as rows for the stepper: weather, sun, people, doors."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.assemble_place import FILM_OUT, gain_of
from coldwright.machine.rows import (
    ALLOWED,
    DOOR_M3_S,
    FORCINGS,
    GAIN_W,
    MOISTURE,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    SET_K,
    SUN_W,
    WIND,
)
from coldwright.machine.run import Forcing
from coldwright.machine.sky import DAY_S, Sky, sun_factor
from coldwright.machine.values import Values
from coldwright.sheet.models import Box, Room, Sheet, SteadyClimate
from coldwright.sheet.schedules import schedule_at, switching_times_s

Spans = Iterable[tuple[float, float]]


def forcing_of(sheet: Sheet, sky: Sky, places: Any, values: Values) -> Forcing:
    """Rows of forcing for every try, shape (n, m, FORCINGS).

    `places` are the assembled records: their surfaces' other sides are used where neither the
    outdoor air nor the sun acts.
    """
    place = sheet.place
    assert isinstance(place, Room | Box)
    clock, after = _clock(sheet, sky)
    n = values.shape[0]
    rows = np.zeros((n, len(clock), FORCINGS))

    def along(series: NDArray[np.float64]) -> NDArray[np.float64]:
        """A series of the sky at the rows' times."""
        table = np.atleast_2d(series)
        return np.stack([np.interp(clock, sky.clock_s, line) for line in table])

    air = along(sky.air_K)
    rows[:, :, OUTDOOR_K] = air
    rows[:, :, OUTDOOR_WATER] = along(sky.humidity_ratio)
    rows[:, :, WIND] = along(sky.wind_m_s)
    factor = np.atleast_1d(np.asarray(sun_factor(values)))[:, None]
    for window in place.window:
        if sky.steady_sun and window.sun is not None:
            sun = np.full(len(clock), window.sun.value)
        else:
            azimuth = None if window.compass is None else window.compass.value
            sun = along(sky.on_plane(window.tilt_rad, azimuth))[0]
        share = (
            np.asarray(values(window.area))
            * np.asarray(values(window.solar_factor))
            * (1.0 - np.asarray(values(window.shaded_share)))
        )
        rows[:, :, SUN_W] += np.atleast_1d(share)[:, None] * sun * factor
    of_day = sky.day_start_s + clock

    def on(spans: Spans | None) -> NDArray[np.float64]:
        """1 where a schedule is on; of two rows at one time, before the switch and after it."""
        instant = np.where(after, of_day, of_day - 1e-3)
        return np.asarray(schedule_at(spans, instant), dtype=float)

    for gain in place.gain:
        heat_W, moisture_kg_s = gain_of(gain, values)
        rows[:, :, GAIN_W] += np.atleast_1d(np.asarray(heat_W))[:, None] * on(gain.schedule)
        rows[:, :, MOISTURE] += np.atleast_1d(np.asarray(moisture_kg_s))[:, None] * on(
            gain.schedule
        )
    volume = np.asarray(places["volume_m3"])[:, None]
    for door in place.door:
        each = (
            np.atleast_1d(np.asarray(values(door.air)))[:, None]
            if door.air is not None
            else np.atleast_1d(np.asarray(values(_given(door.share))))[:, None] * volume
        )
        often = np.atleast_1d(np.asarray(values(door.openings_per_hour)))[:, None]
        rows[:, :, DOOR_M3_S] += often * each * on(door.schedule)
    rows[:, :, ALLOWED] = on(sheet.cooler.schedule)
    thermostat = sheet.cooler.thermostat
    if thermostat is not None:
        held = np.full((n, len(clock)), np.nan)
        held[:] = np.atleast_1d(np.asarray(values(thermostat.air)))[:, None]
        if thermostat.setback is not None:
            back = on(thermostat.setback.schedule) > 0.5
            other = np.atleast_1d(np.asarray(values(thermostat.setback.air)))[:, None]
            held = np.where(back[None, :], other, held)
        rows[:, :, SET_K] = held
    for s in range(int(places["surfaces"][0])):
        rows[:, :, OTHER_K + s] = _other_side(sheet, sky, places, s, clock, air, factor, values)
    return Forcing(clock, rows, sky.period_s)


def _given(quantity: Any) -> Any:
    assert quantity is not None
    return quantity


def _other_side(
    sheet: Sheet,
    sky: Sky,
    places: Any,
    s: int,
    clock: NDArray[np.float64],
    air: NDArray[np.float64],
    factor: NDArray[np.float64],
    values: Values,
) -> Any:
    """Temperature that surface `s` sees on its other side, shape (n or 1, m)."""
    place = sheet.place
    assert isinstance(place, Room | Box)
    if s >= len(place.surface):
        return air  # a box's own wall
    surface = place.surface[s]
    if surface.other_side == "outdoors":
        if surface.absorptance is None:
            return air
        if sky.steady_sun and surface.sun is not None:
            sun = np.full(len(clock), surface.sun.value)
        else:
            azimuth = None if surface.compass is None else surface.compass.value
            sun = np.interp(clock, sky.clock_s, sky.on_plane(surface.tilt_rad, azimuth))
        kept = np.asarray(values(surface.absorptance)) * (
            1.0 - np.asarray(values(surface.shaded_share))
        )
        return air + np.atleast_1d(kept)[:, None] * sun * factor * FILM_OUT
    if surface.other_side == "ground":
        ground = sheet.climate.ground
        if ground is not None:
            return np.atleast_1d(np.asarray(values(ground)))[:, None] + 0.0 * clock
        if isinstance(sheet.climate, SteadyClimate):
            return air
        return air.mean(axis=1, keepdims=True) + 0.0 * clock
    return np.asarray(places["surface"]["other_K"][:, s])[:, None] + 0.0 * clock


def _clock(sheet: Sheet, sky: Sky) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Times of the rows; at each switching instant two rows, of which the second is after it."""
    place = sheet.place
    assert isinstance(place, Room | Box)
    schedules: list[Spans | None] = [gain.schedule for gain in place.gain]
    schedules += [door.schedule for door in place.door]
    schedules.append(sheet.cooler.schedule)
    thermostat = sheet.cooler.thermostat
    if thermostat is not None and thermostat.setback is not None:
        schedules.append(thermostat.setback.schedule)
    of_day = sorted({time for spans in schedules for time in switching_times_s(spans)})
    end = sky.length_s
    days = np.arange(-1, int(np.ceil(end / DAY_S)) + 1)
    switches = np.array(
        [day * DAY_S + time - sky.day_start_s for day in days for time in of_day], dtype=float
    )
    switches = np.unique(switches[(switches > 0.0) & (switches < end)])
    plain = np.setdiff1d(sky.clock_s, switches)
    clock = np.concatenate([plain, switches, switches])
    after = np.concatenate(
        [np.ones(len(plain), bool), np.zeros(len(switches), bool), np.ones(len(switches), bool)]
    )
    # The last row ends the last day: what is switched at that very instant comes after it.
    after &= clock < end
    order = np.lexsort((after, clock))
    return clock[order], after[order]
