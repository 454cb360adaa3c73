"""One hour of a changing climate as a steady sheet, and which hour is the worst."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.sky import Sky, sky_of
from coldwright.machine.values import Values
from coldwright.physics.air_state import vapour_pressure
from coldwright.physics.saturation import saturation_temperature
from coldwright.sheet.models import DesignDay, Room, Sheet, SteadyClimate


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


def worst_moment(sheet: Sheet) -> tuple[Sheet, float]:
    """The sheet at the hottest moment of its weather, and that moment's clock time [s]."""
    sky = sky_of(sheet, Values(0))
    at_s = hottest_instant(sky)
    return steady_at(sheet, sky, at_s), sky.day_start_s + at_s


def hottest_instant(sky: Sky) -> float:
    """Clock time [s] from the start at which the outdoor air is hottest."""
    return float(sky.clock_s[int(np.argmax(np.atleast_2d(sky.air_K)[0]))])


def _altitude(pressure_Pa: float) -> float:
    """Height [m] at which the standard atmosphere has this pressure (its law, turned round)."""
    return float((1.0 - (pressure_Pa / 101325.0) ** (1.0 / 5.2559)) / 2.25577e-5)
