"""Where the sun stands, by the handbook's short equations.

Angles are in radians. Azimuths count clockwise from north, as a compass does; the handbook counts
them westwards from south, which is half a turn less. For the exact position on a date of a weather
file use the file's reader; these laws serve the design day.
"""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

_DEGREE = math.pi / 180.0
_QUARTER = 0.5 * math.pi
_TURN = 2.0 * math.pi
# The grace of 1e-9 is rounding at the poles and at the ends of the year.
_GRACE = 1e-9


@law
def equation_of_time(day_number: float) -> float:
    """Time by which the sun runs ahead of a clock that is set to its mean.

    Parameters
    ----------
    day_number : float or array
        Day of the year, 1 January is 1 [-]. Valid 1 to 367, fractions allowed.

    Returns
    -------
    float or array, same shape as the input
        Time [s], negative where the sun is late; NaN outside the valid range.

    Notes
    -----
    ``ET = 137.5 (0.0075 + 0.1868 cos G - 3.2077 sin G - 1.4615 cos 2G - 4.089 sin 2G)`` with
    ``G = 360 deg (n - 1) / 365``; within 40 s of the true one, and it crosses zero four times a
    year.

    Error: 5 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equation of time (after M. Iqbal,
    "An Introduction to Solar Radiation", 1983).
    Checked against: the solar position algorithm of NREL (library pvlib); 6.4 min late on 21 July.

    Examples
    --------
    >>> round(float(equation_of_time(202)) / 60.0, 1)
    -6.4
    """
    if not 1.0 <= day_number <= 367.0:
        return math.nan
    angle = _TURN * (day_number - 1.0) / 365.0
    first = 0.1868 * math.cos(angle) - 3.2077 * math.sin(angle)
    second = 1.4615 * math.cos(2.0 * angle) + 4.089 * math.sin(2.0 * angle)
    return 60.0 * 2.2918 * (0.0075 + first - second)


@law
def sun_declination(day_number: float) -> float:
    """Angle of the sun above the plane of the equator.

    Parameters
    ----------
    day_number : float or array
        Day of the year, 1 January is 1 [-]. Valid 1 to 367.

    Returns
    -------
    float or array, same shape as the input
        Declination [rad], positive in the northern summer; NaN outside the valid range.

    Notes
    -----
    ``delta = 23.45 deg sin(360 deg (n + 284) / 365)``. Up to 1 degree off in autumn, 0.3 degrees
    in the northern summer.

    Error: 5 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, declination (after P. I. Cooper,
    Solar Energy 12, 1969).
    Checked against: the solar position algorithm of NREL (library pvlib) through the year.

    Examples
    --------
    >>> round(math.degrees(float(sun_declination(202))), 2)
    20.44
    """
    if not 1.0 <= day_number <= 367.0:
        return math.nan
    return 23.45 * _DEGREE * math.sin(_TURN * (day_number + 284.0) / 365.0)


@law
def apparent_solar_hour(
    standard_hour: float, utc_offset_hour: float, day_number: float, longitude_rad: float
) -> float:
    """Hour by the sun, which stands highest at 12, from the clock's standard time.

    Parameters
    ----------
    standard_hour : float or array
        Standard time of the zone, without summer time [h]; any number, days wrap around.
    utc_offset_hour : float or array
        Standard time less universal time [h]. Valid -12 to 14.
    day_number : float or array
        Day of the year, 1 January is 1 [-]. Valid 1 to 367.
    longitude_rad : float or array
        Longitude, east positive [rad]. Valid -pi to pi.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Apparent solar time from 0 to below 24 [h]; NaN outside the valid range.

    Notes
    -----
    ``AST = LST + ET/60 + (LON - LSM)/15`` with ET in minutes, LON in degrees and the zone's own
    meridian ``LSM = 15 TZ``.

    Error: 1 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equation 7.
    Checked against: the same chapter's worked example (Atlanta, 21 July); library pvlib.

    Examples
    --------
    >>> round(float(apparent_solar_hour(14.0, -5.0, 202, math.radians(-84.43))), 2)
    13.27
    """
    if not (-12.0 <= utc_offset_hour <= 14.0 and abs(longitude_rad) <= math.pi + _GRACE):
        return math.nan
    if not math.isfinite(standard_hour):
        return math.nan
    late_s: float = equation_of_time(day_number)
    meridian_hour = longitude_rad / (15.0 * _DEGREE)
    hour = standard_hour + late_s / 3600.0 + meridian_hour - utc_offset_hour
    wrapped = hour - 24.0 * math.floor(hour / 24.0)
    # Rounding can bring the wrap to 24 itself.
    return 0.0 if wrapped >= 24.0 else wrapped


@law
def sun_altitude(solar_hour: float, latitude_rad: float, declination_rad: float) -> float:
    """Angle of the sun above the horizon.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.
    latitude_rad : float or array
        Latitude, north positive [rad]. Valid -pi/2 to pi/2.
    declination_rad : float or array
        Declination of the sun [rad]. Valid -0.42 to 0.42.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Altitude [rad], negative at night; NaN outside the valid range.

    Notes
    -----
    ``sin(beta) = cos L cos(delta) cos H + sin L sin(delta)``, ``H = 15 deg (AST - 12)``. The sun as
    a point, without the air's refraction (half a degree at the horizon).

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equations for hour angle and
    altitude.
    Checked against: the same chapter's worked example (Atlanta, 21 July); library pvlib.

    Examples
    --------
    >>> round(math.degrees(float(sun_altitude(12.0, math.radians(33.64), sun_declination(202)))), 1)
    76.8
    """
    if not (abs(latitude_rad) <= _QUARTER + _GRACE and abs(declination_rad) <= 0.42):
        return math.nan
    hour_angle = 15.0 * _DEGREE * (solar_hour - 12.0)
    level = math.cos(latitude_rad) * math.cos(declination_rad) * math.cos(hour_angle)
    sine = level + math.sin(latitude_rad) * math.sin(declination_rad)
    if math.isnan(sine):
        return math.nan
    return math.asin(min(1.0, max(-1.0, sine)))


@law
def sun_azimuth(solar_hour: float, latitude_rad: float, declination_rad: float) -> float:
    """Compass direction of the sun.

    Parameters
    ----------
    solar_hour : float or array
        Apparent solar time [h]; any number, days wrap around.
    latitude_rad : float or array
        Latitude, north positive [rad]. Valid -pi/2 to pi/2.
    declination_rad : float or array
        Declination of the sun [rad]. Valid -0.42 to 0.42.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Azimuth clockwise from north [rad], 0 to below 2 pi; NaN outside the valid range.

    Notes
    -----
    ``sin(phi) = sin H cos(delta) / cos(beta)`` and
    ``cos(phi) = (cos H cos(delta) sin L - sin(delta) cos L) / cos(beta)``, phi westwards from
    south; both together fix the quadrant, so mornings and the southern half of the world come out
    right. Half a turn is added. Straight overhead the direction has no meaning.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, equations for the solar azimuth.
    Checked against: the same chapter's worked example (Atlanta, 21 July); library pvlib.

    Examples
    --------
    >>> azimuth = sun_azimuth(13.27, math.radians(33.64), math.radians(20.44))
    >>> round(math.degrees(float(azimuth)) - 180.0, 1)
    56.8
    >>> float(sun_azimuth(12.0, 0.6, 0.3)) == math.pi
    True
    """
    if not (abs(latitude_rad) <= _QUARTER + _GRACE and abs(declination_rad) <= 0.42):
        return math.nan
    hour_angle = 15.0 * _DEGREE * (solar_hour - 12.0)
    west = math.sin(hour_angle) * math.cos(declination_rad)
    south = math.cos(hour_angle) * math.cos(declination_rad) * math.sin(latitude_rad)
    south -= math.sin(declination_rad) * math.cos(latitude_rad)
    azimuth = math.pi + math.atan2(west, south)
    if math.isnan(azimuth):
        return math.nan
    return azimuth - _TURN if azimuth >= _TURN else azimuth
