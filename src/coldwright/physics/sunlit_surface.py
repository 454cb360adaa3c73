"""Sun on a surface of any slope and direction, and what it does to the surface's outside.

Angles are in radians; a tilt counts from level ground facing up (a wall is pi/2, a ceiling seen
from below pi), an azimuth clockwise from north.
"""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Part of the sun that the ground throws back (ASHRAE Handbook Fundamentals 2021 (SI), chapter 14:
# 0.2 where nothing better is known; the others of its table are from memory).
GROUND_REFLECTANCE = {
    "ordinary": 0.2,
    "grass": 0.26,
    "asphalt": 0.10,
    "light concrete": 0.32,
    "water": 0.07,
    "fresh snow": 0.75,
}
# What a level surface that faces a clear sky radiates to it beyond what the air's temperature
# gives back; nothing for a wall, which sees as much warm ground as sky. ASHRAE Handbook
# Fundamentals 2021 (SI), chapter 18, sol-air temperature.
SKY_LOSS_LEVEL_W_M2 = 63.0
# The same chapter's film on outer surfaces in summer, radiation included.
OUTER_FILM_W_M2K = 17.0

_QUARTER = 0.5 * math.pi
_GRACE = 1e-9


@law
def incidence_angle(
    sun_altitude_rad: float, sun_azimuth_rad: float, tilt_rad: float, facing_rad: float
) -> float:
    """Angle between the sun's rays and the line square to a surface.

    Parameters
    ----------
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2.
    sun_azimuth_rad : float or array
        Azimuth of the sun, clockwise from north [rad].
    tilt_rad : float or array
        Tilt of the surface from level, facing up [rad]. Valid 0 to pi.
    facing_rad : float or array
        Azimuth that the surface faces, clockwise from north [rad].

    Returns
    -------
    float or array, broadcast shape of the inputs
        Angle [rad], 0 to pi; beyond pi/2 the sun is behind. NaN outside the valid range.

    Notes
    -----
    ``cos(theta) = cos(beta) cos(gamma) sin(S) + sin(beta) cos(S)``, gamma the difference of the two
    azimuths, S the tilt.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equation 22.
    Checked against: library pvlib; the simple cases by hand (a level roof, the sun in the south).

    Examples
    --------
    >>> round(math.degrees(float(incidence_angle(0.5, math.pi, math.pi / 2, math.pi))), 2)
    28.65
    """
    if not (abs(sun_altitude_rad) <= _QUARTER + _GRACE and 0.0 <= tilt_rad <= math.pi + _GRACE):
        return math.nan
    level = math.cos(sun_altitude_rad) * math.cos(sun_azimuth_rad - facing_rad)
    cosine = level * math.sin(tilt_rad) + math.sin(sun_altitude_rad) * math.cos(tilt_rad)
    if math.isnan(cosine):
        return math.nan
    return math.acos(min(1.0, max(-1.0, cosine)))


@law
def beam_on_surface(beam_W_m2: float, sun_altitude_rad: float, incidence_rad: float) -> float:
    """Direct sun on a surface.

    Parameters
    ----------
    beam_W_m2 : float or array
        Beam irradiance square to the rays [W/m2]. Valid from 0.
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2.
    incidence_rad : float or array
        `incidence_angle` [rad]. Valid 0 to pi.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Irradiance on the surface [W/m2], 0 with the sun behind it or below the horizon; NaN outside
        the valid range.

    Notes
    -----
    ``Et,b = Eb cos(theta)``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, beam component.
    Checked against: library pvlib.

    Examples
    --------
    >>> round(float(beam_on_surface(800.0, 0.5, math.radians(60.0))), 6)
    400.0
    """
    if not (beam_W_m2 >= 0.0 and abs(sun_altitude_rad) <= _QUARTER + _GRACE):
        return math.nan
    if not 0.0 <= incidence_rad <= math.pi + _GRACE:
        return math.nan
    if sun_altitude_rad <= 0.0:
        return 0.0
    return beam_W_m2 * max(0.0, math.cos(incidence_rad))


@law
def sky_on_surface(diffuse_W_m2: float, tilt_rad: float, incidence_rad: float) -> float:
    """Light of a clear sky on a surface; the sky is brighter near the sun.

    Parameters
    ----------
    diffuse_W_m2 : float or array
        Diffuse irradiance on level ground [W/m2]. Valid from 0.
    tilt_rad : float or array
        Tilt of the surface from level, facing up [rad]. Valid 0 to pi.
    incidence_rad : float or array
        `incidence_angle` [rad]. Valid 0 to pi.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Irradiance on the surface [W/m2]; NaN outside the valid range.

    Notes
    -----
    A wall gets ``Y Ed``, ``Y = max(0.45, 0.55 + 0.437 cos(theta) + 0.313 cos(theta)**2)``; a slope
    ``Ed (Y sin(S) + cos(S))``, one that overhangs ``Ed Y sin(S)``. For clear skies: under clouds a
    wall gets half of what level ground gets. Towards a sun at 20 to 50 degrees it agrees with newer
    models within 15 %; with the sun higher it gives walls up to 50 W/m2 too much, which errs to the
    hot side.

    Error: 40 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equations 28 to 30 (after J. L.
    Threlkeld, 1963).
    Checked against: its own values square to the sun and beside it; the Perez model of library
    pvlib.

    Examples
    --------
    >>> round(float(sky_on_surface(100.0, math.pi / 2, math.pi / 2)), 6)
    55.0
    """
    if not (diffuse_W_m2 >= 0.0 and 0.0 <= tilt_rad <= math.pi + _GRACE):
        return math.nan
    if not 0.0 <= incidence_rad <= math.pi + _GRACE:
        return math.nan
    cosine = math.cos(incidence_rad)
    wall = max(0.45, 0.55 + 0.437 * cosine + 0.313 * cosine * cosine)
    return diffuse_W_m2 * (wall * math.sin(tilt_rad) + max(0.0, math.cos(tilt_rad)))


@law
def ground_on_surface(
    beam_W_m2: float,
    diffuse_W_m2: float,
    sun_altitude_rad: float,
    tilt_rad: float,
    ground_reflectance: float,
) -> float:
    """Sun that the ground throws onto a surface.

    Parameters
    ----------
    beam_W_m2 : float or array
        Beam irradiance square to the rays [W/m2]. Valid from 0.
    diffuse_W_m2 : float or array
        Diffuse irradiance on level ground [W/m2]. Valid from 0.
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2.
    tilt_rad : float or array
        Tilt of the surface from level, facing up [rad]. Valid 0 to pi.
    ground_reflectance : float or array
        Part of the sun that the ground throws back, see `GROUND_REFLECTANCE` [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Irradiance on the surface [W/m2]; NaN outside the valid range.

    Notes
    -----
    ``Et,r = (Eb sin(beta) + Ed) rho (1 - cos(S)) / 2``: wide open, level, matt ground.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equation 31.
    Checked against: library pvlib.

    Examples
    --------
    >>> round(float(ground_on_surface(800.0, 100.0, math.pi / 2, math.pi / 2, 0.2)), 6)
    90.0
    """
    if not (beam_W_m2 >= 0.0 and diffuse_W_m2 >= 0.0 and 0.0 <= ground_reflectance <= 1.0):
        return math.nan
    if not (abs(sun_altitude_rad) <= _QUARTER + _GRACE and 0.0 <= tilt_rad <= math.pi + _GRACE):
        return math.nan
    level = beam_W_m2 * max(0.0, math.sin(sun_altitude_rad)) + diffuse_W_m2
    return level * ground_reflectance * 0.5 * (1.0 - math.cos(tilt_rad))


@law
def sun_on_surface(
    beam_W_m2: float,
    diffuse_W_m2: float,
    sun_altitude_rad: float,
    sun_azimuth_rad: float,
    tilt_rad: float,
    facing_rad: float,
    ground_reflectance: float,
) -> float:
    """All sun on a surface under a clear sky: direct, from the sky, from the ground.

    Parameters
    ----------
    beam_W_m2, diffuse_W_m2 : float or array
        Beam irradiance square to the rays and diffuse one on level ground [W/m2]. Valid from 0.
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2.
    sun_azimuth_rad, facing_rad : float or array
        Azimuths of the sun and of the surface, clockwise from north [rad].
    tilt_rad : float or array
        Tilt of the surface from level, facing up [rad]. Valid 0 to pi.
    ground_reflectance : float or array
        Part of the sun that the ground throws back [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Irradiance on the surface [W/m2]; NaN outside the valid range.

    Notes
    -----
    Sum of `beam_on_surface`, `sky_on_surface` and `ground_on_surface`. Shade is the caller's.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equations 22 to 31.
    Checked against: level ground, where it is the global irradiance; library pvlib.

    Examples
    --------
    >>> round(float(sun_on_surface(800.0, 100.0, math.pi / 2, 0.0, 0.0, 0.0, 0.2)), 6)
    900.0
    """
    angle: float = incidence_angle(sun_altitude_rad, sun_azimuth_rad, tilt_rad, facing_rad)
    direct: float = beam_on_surface(beam_W_m2, sun_altitude_rad, angle)
    sky: float = sky_on_surface(diffuse_W_m2, tilt_rad, angle)
    ground: float = ground_on_surface(
        beam_W_m2, diffuse_W_m2, sun_altitude_rad, tilt_rad, ground_reflectance
    )
    return direct + sky + ground


@law
def sol_air_temperature(
    outdoor_K: float,
    sun_W_m2: float,
    sky_loss_W_m2: float,
    film_W_m2K: float,
    absorption: float,
    emissivity: float,
) -> float:
    """Outdoor temperature that without sun would drive the same heat into a surface.

    Parameters
    ----------
    outdoor_K : float or array
        Temperature of the outdoor air [K]. Valid above 0.
    sun_W_m2 : float or array
        Sun on the surface [W/m2]. Valid from 0.
    sky_loss_W_m2 : float or array
        Radiation lost to the sky: `SKY_LOSS_LEVEL_W_M2` for a level roof, 0 for a wall [W/m2].
    film_W_m2K : float or array
        Outer film, radiation included: about `OUTER_FILM_W_M2K` [W/(m2 K)]. Valid above 0.
    absorption : float or array
        Share of the sun that the surface takes up [-]. Valid 0 to 1.
    emissivity : float or array
        Emissivity of the surface [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Sol-air temperature [K]; NaN outside the valid range.

    Notes
    -----
    ``T_sa = T_o + alpha Et / ho - epsilon dR / ho``. A thin skin, such as a car's roof or a tent's
    fly, stands between this and the air behind it. The film is the uncertain part: a third either
    way with the wind.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 18, sol-air temperature.
    Checked against: the same chapter's 4 K for a level roof and its 0.052 m2 K/W for dark
    surfaces; a heat balance of the surface solved by hand.

    Examples
    --------
    >>> round(float(sol_air_temperature(308.15, 850.0, 63.0, 17.0, 0.9, 0.9)) - 273.15, 1)
    76.7
    """
    if not (outdoor_K > 0.0 and sun_W_m2 >= 0.0 and film_W_m2K > 0.0):
        return math.nan
    if not (0.0 <= absorption <= 1.0 and 0.0 <= emissivity <= 1.0):
        return math.nan
    return outdoor_K + (absorption * sun_W_m2 - emissivity * sky_loss_W_m2) / film_W_m2K
