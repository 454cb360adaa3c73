"""One hour of a changing climate as a steady sheet, and which hour is the worst."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.cooler import operate
from coldwright.machine.forcing import forcing_of
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.machine.rows import (
    ALLOWED,
    DOOR_M3_S,
    GAIN_W,
    MOISTURE,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    SUN_W,
    WIND,
)
from coldwright.machine.sky import Sky, sky_of
from coldwright.machine.values import Values
from coldwright.physics.air_state import vapour_pressure
from coldwright.physics.saturation import saturation_temperature
from coldwright.sheet.models import Box, DesignDay, Room, Sheet, SteadyClimate
from coldwright.sheet.schedules import schedule_at

# Just before a switch, where a moment ends there [s].
_JUST_S = 1e-3


@dataclass(frozen=True)
class Moment:
    """An instant of changing weather that is judged as if it lasted."""

    sheet: Sheet
    """The sheet with steady weather, and of its gains those whose hours it is."""
    clock_s: float
    """Time on the clock, from midnight of the first day."""
    from_start_s: float
    """The same from the first row of the weather."""
    door_m3_s: float
    """Air that doors exchange at that hour."""


def worst_moment(sheet: Sheet) -> Moment:
    """The moment at which the place, left alone, would level off hottest.

    Weather, sun, people, lamps and doors all count as they are at one and the same instant; only
    hours at which the cooler may run are looked at. Without an enclosed place it is the hottest
    moment outdoors.
    """
    sky = sky_of(sheet, Values(0))
    hottest_s = hottest_instant(sky)
    if not isinstance(sheet.place, Room | Box):
        return Moment(
            steady_at(sheet, sky, hottest_s), sky.day_start_s + hottest_s, hottest_s, 0.0
        )  # fmt: skip
    values = Values(0)
    still = steady_at(sheet, sky, hottest_s)
    places = assemble_place(still, values)
    forcing = forcing_of(sheet, sky, places, values)
    clock, rows = forcing.clock, forcing.rows[0]
    levels = level_off(assemble_cooler(still, values), over_rows(places, rows))
    allowed = rows[:, ALLOWED] > 0.5
    if allowed.any():
        levels = np.where(allowed, levels, -np.inf)
    at = int(np.argmax(levels)) if np.isfinite(levels).any() else int(np.argmax(rows[:, OUTDOOR_K]))
    ends = at + 1 < len(clock) and clock[at + 1] == clock[at]
    instant_s = max(float(clock[at]) - (_JUST_S if ends else 0.0), 0.0)
    there = _with_gains_of(steady_at(sheet, sky, instant_s), sheet, sky.day_start_s + instant_s)
    return Moment(there, sky.day_start_s + instant_s, instant_s, float(rows[at, DOOR_M3_S]))


def over_rows(places: Any, rows: NDArray[np.float64]) -> Any:
    """One place under each row of its forcing, shape (m, FORCINGS), as `PLACE` records (m,)."""
    many = np.repeat(places[:1], len(rows))
    many["outdoor_K"] = rows[:, OUTDOOR_K]
    many["outdoor_humidity_ratio"] = rows[:, OUTDOOR_WATER]
    many["wind_m_s"] = rows[:, WIND]
    many["sun_W"] = rows[:, SUN_W]
    many["gain_W"] = rows[:, GAIN_W]
    many["moisture_kg_s"] = rows[:, MOISTURE]
    many["natural_m3_s"] += rows[:, DOOR_M3_S]
    for s in range(int(many["surfaces"][0])):
        many["surface"]["other_K"][:, s] = rows[:, OTHER_K + s]
    return many


def level_off(coolers: Any, places: Any) -> NDArray[np.float64]:
    """Where places without a cooler level off [K], shape (m,); -inf where none is found."""
    found = operate(
        no_cooler(np.repeat(coolers[:1], len(places))), places, places["air_K"],
        places["humidity_ratio"], with_place=True,
    )  # fmt: skip
    return np.where(found["status"] == Status.SOLVED, found["place_K"], -np.inf)


def steady_at(sheet: Sheet, sky: Sky, time_s: float) -> Sheet:
    """The sheet with its climate held at one instant of its weather, the sun included."""
    if isinstance(sheet.climate, SteadyClimate):
        return sheet

    def at(series: Any) -> float:
        return float(np.interp(time_s, sky.clock_s, np.atleast_2d(series)[0]))

    water = at(sky.humidity_ratio)
    dew_K = float(saturation_temperature(vapour_pressure(water, sky.pressure_Pa)))
    half_K = 0.0
    if isinstance(sheet.climate, DesignDay) and sheet.climate.highest_air is not None:
        half_K = sheet.climate.highest_air.tolerance.half_width
    climate: dict[str, Any] = {
        "kind": "steady",
        "outdoor_air": f"{at(sky.air_K) - 273.15:.6f} degC +/- {half_K:.4f} K",
        "outdoor_dew_point": f"{dew_K - 273.15:.6f} degC",
        "wind": f"{at(sky.wind_m_s):.4f} m/s",
        "altitude": f"{_altitude(sky.pressure_Pa):.3f} m",
        "sun": "0 W/m^2",
    }
    ground = sheet.climate.ground
    climate["ground"] = (
        ground.text if ground is not None else f"{float(np.mean(sky.air_K)) - 273.15:.4f} degC"
    )
    changes: dict[str, Any] = {"climate": climate}
    place = sheet.place
    for number, window in enumerate(getattr(place, "window", ())):
        azimuth = None if window.compass is None else window.compass.value
        sun = at(sky.on_plane(window.tilt_rad, azimuth))
        changes[f"place.window[{number}].sun"] = f"{sun:.3f} W/m^2"
    for number, surface in enumerate(getattr(place, "surface", ())):
        if surface.absorptance is not None:
            azimuth = None if surface.compass is None else surface.compass.value
            sun = at(sky.on_plane(surface.tilt_rad, azimuth))
            changes[f"place.surface[{number}].sun"] = f"{sun:.3f} W/m^2"
    if isinstance(place, Room) and place.start_air is None:
        changes["place.start_air"] = climate["outdoor_air"]
    return sheet.changed(changes)


def hottest_instant(sky: Sky) -> float:
    """Clock time [s] from the start at which the outdoor air is hottest."""
    return float(sky.clock_s[int(np.argmax(np.atleast_2d(sky.air_K)[0]))])


def _with_gains_of(still: Sheet, sheet: Sheet, clock_s: float) -> Sheet:
    """Of the gains only those whose hours it is."""
    gains = getattr(sheet.place, "gain", ())
    if all(gain.schedule is None for gain in gains):
        return still
    given = still.data["place"]["gain"]
    told = given if isinstance(given, list) else [given]
    there = [
        {key: value for key, value in each.items() if key != "schedule"}
        for gain, each in zip(gains, told, strict=True)
        if bool(schedule_at(gain.schedule, clock_s))
    ]
    return still.changed({"place.gain": there or None})


def _altitude(pressure_Pa: float) -> float:
    """Height [m] at which the standard atmosphere has this pressure (its law, turned round)."""
    return float((1.0 - (pressure_Pa / 101325.0) ** (1.0 / 5.2559)) / 2.25577e-5)
