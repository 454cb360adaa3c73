"""The sun at a place: where it stands, what comes through a clear sky, what falls on a surface."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from coldwright.readings import pvlib_calls

Floats = NDArray[np.float64]
SkyModel = pvlib_calls.SkyModel

DAY_S = 86400.0
FOUR_SIDES_RAD = (0.0, 0.5 * math.pi, math.pi, 1.5 * math.pi)
"""North, east, south, west: what a wall that goes all around looks to."""


@dataclass(frozen=True)
class Sun:
    """The sun over some instants or hours at one place; arrays of one shape, (n,).

    Parameters
    ----------
    time_s
        Instants [s]: from midnight of the day for a clear day, from the beginning of the year in
        local standard time for a weather file. There each stands in the middle of the hour whose
        mean the irradiances are.
    elevation_rad, azimuth_rad
        Where the sun stands [rad]: above the horizon with refraction, clockwise from north.
    global_W_m2
        Sun and sky on the level [W/m²].
    beam_W_m2
        The sun's own beam, on a plane square to it [W/m²].
    diffuse_W_m2
        The sky without the sun, on the level [W/m²].
    extra_W_m2, airmass
        Sun outside the atmosphere [W/m²]; relative air mass, NaN where the sun is down.
    """

    time_s: Floats
    elevation_rad: Floats
    azimuth_rad: Floats
    global_W_m2: Floats
    beam_W_m2: Floats
    diffuse_W_m2: Floats
    extra_W_m2: Floats
    airmass: Floats

    def on_plane(
        self,
        tilt_rad: float,
        azimuth_rad: float | None,
        *,
        albedo: float = 0.2,
        model: SkyModel = "perez",
    ) -> Floats:
        """Sun on a surface [W/m²]: beam, sky and what the ground throws back.

        Parameters
        ----------
        tilt_rad
            Angle against level [rad]: 0 a flat roof, pi/2 a wall, pi an underside.
        azimuth_rad
            Where it looks to, clockwise from north [rad]; None for the mean of the four sides.
        albedo
            Share of the sun that the ground throws back, 0 to 1.
        model
            How bright the sky is around the sun: "perez" (Perez and others, 1990; brighter near
            the sun and the horizon), or "isotropic" (all alike; less on sunny walls).

        Returns
        -------
        array, shape (n,)
            Never negative; 0 at night.
        """
        sides = FOUR_SIDES_RAD if azimuth_rad is None else (azimuth_rad,)
        if azimuth_rad is None and math.sin(tilt_rad) < 1e-9:
            sides = FOUR_SIDES_RAD[:1]  # level: it looks to no side
        each = [
            pvlib_calls.plane(
                self._position, (self.global_W_m2, self.beam_W_m2, self.diffuse_W_m2),
                tilt_rad=tilt_rad, azimuth_rad=side, albedo=albedo, model=model,
            )
            for side in sides
        ]  # fmt: skip
        return np.asarray(np.mean(each, axis=0))

    @cached_property
    def _position(self) -> pvlib_calls.Position:
        return pvlib_calls.Position(
            self.elevation_rad, self.azimuth_rad, self.airmass, self.extra_W_m2
        )


def clear_sun(
    day: datetime.date,
    *,
    latitude_rad: float,
    longitude_rad: float,
    utc_offset_s: float,
    altitude_m: float = 0.0,
    turbidity: float = 3.5,
    step_s: float = 600.0,
) -> Sun:
    """The sun of one day under a clear sky (Ineichen and Perez, 2002).

    Parameters
    ----------
    day
        The day; its year moves the sun by at most a quarter of a degree.
    latitude_rad, longitude_rad
        Of the place, north and east positive [rad].
    utc_offset_s
        How far the clock, in which `time_s` counts, is ahead of UTC [s].
    altitude_m
        Height above the sea [m]; thins the air.
    turbidity
        Linke turbidity, about 2 (clean, cold) to 6 (hazy, hot).
    step_s
        Time between instants [s].

    Returns
    -------
    Sun
        From 0 to 86400 s of the clock, both included.
    """
    time_s = np.arange(0.0, DAY_S + 0.5 * step_s, step_s)
    day_start_s = (day.timetuple().tm_yday - 1) * DAY_S
    position = pvlib_calls.solar_position(
        day_start_s + time_s, year=day.year, utc_offset_s=utc_offset_s,
        latitude_rad=latitude_rad, longitude_rad=longitude_rad, altitude_m=altitude_m,
    )  # fmt: skip
    whole, beam, diffuse = pvlib_calls.clear_sky(
        position, altitude_m=altitude_m, turbidity=turbidity
    )
    return Sun(
        time_s, position.elevation_rad, position.azimuth_rad, whole, beam, diffuse,
        position.extra_W_m2, position.airmass,
    )  # fmt: skip
