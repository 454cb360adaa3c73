"""Sun through a clear sky: air mass, beam and diffuse from a place's two optical depths."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

SOLAR_CONSTANT_W_M2 = 1367.0  # as the handbook's clear-sky model uses it

_QUARTER = 0.5 * math.pi
_GRACE = 1e-9


@law
def extraterrestrial_irradiance(day_number: float) -> float:
    """Sun outside the atmosphere, square to its rays.

    Parameters
    ----------
    day_number : float or array
        Day of the year, 1 January is 1 [-]. Valid 1 to 367.

    Returns
    -------
    float or array, same shape as the input
        Irradiance [W/m2]; NaN outside the valid range.

    Notes
    -----
    ``Eo = 1367 (1 + 0.033 cos(360 deg (n - 3) / 365))``. Newer measurements put the constant at
    1361; the model's optical depths were fitted with 1367.

    Error: 0.6 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, extraterrestrial radiant flux.
    Checked against: the same chapter's worked example (1324 on 21 July); library pvlib.

    Examples
    --------
    >>> round(float(extraterrestrial_irradiance(202)))
    1324
    """
    if not 1.0 <= day_number <= 367.0:
        return math.nan
    angle = 2.0 * math.pi * (day_number - 3.0) / 365.0
    return SOLAR_CONSTANT_W_M2 * (1.0 + 0.033 * math.cos(angle))


@law
def air_mass(sun_altitude_rad: float) -> float:
    """Length of the sun's way through the air, 1 for a sun straight overhead.

    Parameters
    ----------
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid 0 to pi/2.

    Returns
    -------
    float or array, same shape as the input
        Relative air mass [-]; NaN outside the valid range, so at night.

    Notes
    -----
    ``m = 1 / (sin(beta) + 0.50572 (6.07995 + beta)**-1.6364)`` with beta in degrees. For sea level;
    the optical depths of a high place already hold its thinner air.

    Error: 1 %.
    Source: F. Kasten and A. T. Young, Applied Optics 28, 1989; ASHRAE Handbook Fundamentals 2021
    (SI), chapter 14, equation 16.
    Checked against: the handbook's worked example; library pvlib; about 38 at the horizon.

    Examples
    --------
    >>> round(float(air_mass(math.radians(30.0))), 3)
    1.994
    """
    if not 0.0 <= sun_altitude_rad <= _QUARTER + _GRACE:
        return math.nan
    bend = math.pow(6.07995 + sun_altitude_rad * 180.0 / math.pi, -1.6364)
    return 1.0 / (math.sin(sun_altitude_rad) + 0.50572 * bend)


@law
def clear_sky_beam(
    sun_altitude_rad: float,
    outside_W_m2: float,
    beam_optical_depth: float,
    diffuse_optical_depth: float,
) -> float:
    """Direct sun on a clear day, square to its rays.

    Parameters
    ----------
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2; below the horizon there is no beam.
    outside_W_m2 : float or array
        `extraterrestrial_irradiance` of the day [W/m2]. Valid from 0.
    beam_optical_depth, diffuse_optical_depth : float or array
        Optical depths of the place in that month, as the handbook lists them [-]. Valid 0.1 to 1.5
        and 1 to 4.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Beam irradiance [W/m2], 0 at night; NaN outside the valid range.

    Notes
    -----
    ``Eb = Eo exp(-tau_b m**ab)``, ``ab = 1.454 - 0.406 tau_b - 0.268 tau_d + 0.021 tau_b tau_d``.
    A cloudless day; its own limit of error, not that of the day you get.

    Error: 8 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, clear-sky radiation (after C. A.
    Gueymard and D. Thevenard, Solar Energy 83, 2009, coefficients as revised in 2013).
    Checked against: the same chapter's worked examples (Atlanta, 21 July); the simplified Solis
    model of library pvlib.

    Examples
    --------
    >>> round(float(clear_sky_beam(math.radians(76.8), 1324.0, 0.515, 2.066)))
    783
    """
    if not (abs(sun_altitude_rad) <= _QUARTER + _GRACE and outside_W_m2 >= 0.0):
        return math.nan
    if not (0.1 <= beam_optical_depth <= 1.5 and 1.0 <= diffuse_optical_depth <= 4.0):
        return math.nan
    if sun_altitude_rad <= 0.0:
        return 0.0
    both = beam_optical_depth * diffuse_optical_depth
    exponent = 1.454 - 0.406 * beam_optical_depth - 0.268 * diffuse_optical_depth + 0.021 * both
    mass: float = air_mass(sun_altitude_rad)
    return outside_W_m2 * math.exp(-beam_optical_depth * math.pow(mass, exponent))


@law
def clear_sky_diffuse(
    sun_altitude_rad: float,
    outside_W_m2: float,
    beam_optical_depth: float,
    diffuse_optical_depth: float,
) -> float:
    """Light of a clear sky, without the sun's disc, on level ground.

    Parameters
    ----------
    sun_altitude_rad : float or array
        Altitude of the sun [rad]. Valid -pi/2 to pi/2; below the horizon the sky is taken as dark.
    outside_W_m2 : float or array
        `extraterrestrial_irradiance` of the day [W/m2]. Valid from 0.
    beam_optical_depth, diffuse_optical_depth : float or array
        Optical depths of the place in that month, as the handbook lists them [-]. Valid 0.1 to 1.5
        and 1 to 4.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Diffuse horizontal irradiance [W/m2], 0 at night; NaN outside the valid range.

    Notes
    -----
    ``Ed = Eo exp(-tau_d m**ad)``, ``ad = 0.507 + 0.205 tau_b - 0.080 tau_d - 0.190 tau_b tau_d``.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, clear-sky radiation (after C. A.
    Gueymard and D. Thevenard, Solar Energy 83, 2009, coefficients as revised in 2013).
    Checked against: the same chapter's worked examples (Atlanta, 21 July); the simplified Solis
    model of library pvlib.

    Examples
    --------
    >>> round(float(clear_sky_diffuse(math.radians(76.8), 1324.0, 0.515, 2.066)))
    166
    """
    if not (abs(sun_altitude_rad) <= _QUARTER + _GRACE and outside_W_m2 >= 0.0):
        return math.nan
    if not (0.1 <= beam_optical_depth <= 1.5 and 1.0 <= diffuse_optical_depth <= 4.0):
        return math.nan
    if sun_altitude_rad <= 0.0:
        return 0.0
    both = beam_optical_depth * diffuse_optical_depth
    exponent = 0.507 + 0.205 * beam_optical_depth - 0.080 * diffuse_optical_depth - 0.190 * both
    mass: float = air_mass(sun_altitude_rad)
    return outside_W_m2 * math.exp(-diffuse_optical_depth * math.pow(mass, exponent))
