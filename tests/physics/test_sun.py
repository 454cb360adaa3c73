"""The sun's position against the handbook's worked example and an independent almanac."""

import math

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import solarposition

from coldwright.physics.sun import (
    apparent_solar_hour,
    equation_of_time,
    sun_altitude,
    sun_azimuth,
    sun_declination,
)

quick = settings(deadline=None)
DAY = 202  # 21 July
LATITUDE, LONGITUDE = math.radians(33.64), math.radians(-84.43)
EXAMPLE = "ASHRAE Fundamentals 2021 (SI), chapter 14, worked examples 1 to 4 (Atlanta, 21 July)"


@pytest.mark.published(EXAMPLE)
def test_noon_in_atlanta():
    # Printed: altitude 76.80 degrees at solar noon, the sun due south.
    noon = sun_altitude(12.0, LATITUDE, sun_declination(DAY))
    assert math.degrees(noon) == pytest.approx(76.80, abs=0.2)
    assert sun_azimuth(12.0, LATITUDE, sun_declination(DAY)) == pytest.approx(math.pi)


@pytest.mark.published(EXAMPLE)
def test_afternoon_in_atlanta():
    # Printed for 15:00 summer time (14:00 standard time, 5 h behind UTC): apparent solar time
    # 13.27 h, altitude 68.62 degrees, azimuth 56.69 degrees west of south.
    hour = apparent_solar_hour(14.0, -5.0, DAY, LONGITUDE)
    assert hour == pytest.approx(13.27, abs=0.01)
    declination = sun_declination(DAY)
    altitude = sun_altitude(hour, LATITUDE, declination)
    assert math.degrees(altitude) == pytest.approx(68.62, abs=0.2)
    azimuth = math.degrees(sun_azimuth(hour, LATITUDE, declination)) - 180.0
    assert azimuth == pytest.approx(56.69, abs=0.2)


@pytest.mark.published("NREL solar position algorithm (library pvlib), 21 July 2025, Atlanta")
def test_afternoon_against_the_almanac():
    # Elevation 68.54 and azimuth 236.38 degrees. Near the zenith the azimuth magnifies the short
    # declination equation's 0.1 degree to 0.3.
    hour = apparent_solar_hour(14.0, -5.0, DAY, LONGITUDE)
    declination = sun_declination(DAY)
    altitude = sun_altitude(hour, LATITUDE, declination)
    assert math.degrees(altitude) == pytest.approx(68.54, abs=0.2)
    azimuth = math.degrees(sun_azimuth(hour, LATITUDE, declination))
    assert azimuth == pytest.approx(236.38, abs=0.4)


@pytest.mark.published("NREL solar position algorithm (library pvlib), every third hour of 2025")
@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg"), [(33.64, -84.43), (60.0, 25.0), (-34.0, 151.0), (0.0, 0.0)]
)
def test_a_year_of_positions(latitude_deg, longitude_deg):
    # Cooper's declination is up to 1 degree off in autumn; rounding the day to whole days and
    # leap years do the rest.
    times = pd.date_range("2025-01-01", "2025-12-31 23:00", freq="3h", tz="UTC")
    almanac = solarposition.get_solarposition(times, latitude_deg, longitude_deg)
    day = times.day_of_year.to_numpy(dtype=float)
    hour = apparent_solar_hour(
        times.hour.to_numpy(dtype=float), 0.0, day, math.radians(longitude_deg)
    )
    declination = sun_declination(day)
    altitude = sun_altitude(hour, math.radians(latitude_deg), declination)
    azimuth = sun_azimuth(hour, math.radians(latitude_deg), declination)
    true_altitude = np.radians(almanac["elevation"].to_numpy())
    true_azimuth = np.radians(almanac["azimuth"].to_numpy())
    # The angle on the sky between the two directions, which has no pole to stumble over.
    cosine = np.sin(altitude) * np.sin(true_altitude) + np.cos(altitude) * np.cos(
        true_altitude
    ) * np.cos(azimuth - true_azimuth)
    apart = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
    assert apart.max() < 1.2
    assert np.sqrt((apart**2).mean()) < 0.6


@pytest.mark.published("J. W. Spencer 1971 and P. I. Cooper 1969, as coded in library pvlib")
def test_the_two_short_equations():
    day = np.arange(1.0, 366.0)
    minutes = solarposition.equation_of_time_spencer71(day)
    # Two printings of one series: constant 0.0000075 against 0.000075 rad, last term 0.040849
    # against 0.04089; together 0.025 min.
    np.testing.assert_allclose(equation_of_time(day) / 60.0, minutes, atol=0.03)
    declination = solarposition.declination_cooper69(day)
    np.testing.assert_allclose(sun_declination(day), declination, atol=1e-9)


# 21st of each month: day, equation of time in minutes, declination in degrees. Table from memory.
ASTRONOMICAL = [
    (21, -10.6, -20.1), (52, -14.0, -11.2), (80, -7.9, -0.4), (111, 1.2, 11.6), (141, 3.7, 20.1),
    (172, -1.3, 23.4), (202, -6.4, 20.4), (233, -3.6, 11.8), (264, 6.9, -0.2), (294, 15.5, -11.8),
    (325, 13.8, -20.4), (355, 2.2, -23.4),
]  # fmt: skip


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14, table of astronomical data")
@pytest.mark.parametrize(("day", "minutes", "declination_deg"), ASTRONOMICAL)
def test_astronomical_table(day, minutes, declination_deg):
    # One decimal of both.
    assert equation_of_time(day) / 60.0 == pytest.approx(minutes, abs=0.051)
    assert math.degrees(sun_declination(day)) == pytest.approx(declination_deg, abs=0.051)


@pytest.mark.practice
def test_the_compass_turns_the_right_way():
    north, south = math.radians(50.0), math.radians(-35.0)
    summer = sun_declination(172)
    assert math.degrees(sun_azimuth(8.0, north, summer)) == pytest.approx(100.0, abs=20.0)
    assert math.degrees(sun_azimuth(16.0, north, summer)) == pytest.approx(260.0, abs=20.0)
    # South of the tropics the noon sun stands in the north.
    assert math.cos(sun_azimuth(12.0, south, summer)) == pytest.approx(1.0)
    # In high summer the sun rises north of east.
    assert 0.0 < math.degrees(sun_azimuth(4.2, north, summer)) < 90.0


@quick
@given(st.floats(-80.0, 80.0), st.floats(1.0, 365.0), st.floats(0.0, 12.0))
def test_morning_mirrors_afternoon(latitude_deg, day, before_noon):
    latitude, declination = math.radians(latitude_deg), sun_declination(day)
    morning = sun_altitude(12.0 - before_noon, latitude, declination)
    assert morning == pytest.approx(sun_altitude(12.0 + before_noon, latitude, declination))
    west = sun_azimuth(12.0 + before_noon, latitude, declination)
    east = sun_azimuth(12.0 - before_noon, latitude, declination)
    assert math.cos(west) == pytest.approx(math.cos(east), abs=1e-9)
    assert math.sin(west) == pytest.approx(-math.sin(east), abs=1e-9)


@quick
@given(
    st.floats(-1e4, 1e4), st.floats(-12.0, 14.0), st.floats(1.0, 365.0), st.floats(-180.0, 180.0)
)
def test_solar_time_is_an_hour_of_the_day(standard, offset, day, longitude_deg):
    hour = apparent_solar_hour(standard, offset, day, math.radians(longitude_deg))
    assert 0.0 <= hour < 24.0
    # On the zone's own meridian the sun and the clock differ by the equation of time alone.
    local = apparent_solar_hour(12.0, offset, day, math.radians(15.0 * min(12.0, offset)))
    assert local == pytest.approx(
        12.0 + equation_of_time(day) / 3600.0 - max(0.0, offset - 12.0), abs=1e-6
    )


def test_range_and_shape():
    assert np.isnan(equation_of_time(np.array([0.0, 368.0, math.nan]))).all()
    assert np.isnan(sun_declination(np.array([0.5, 400.0, math.nan]))).all()
    assert np.isnan(sun_altitude(12.0, np.array([-1.6, 1.6]), 0.0)).all()
    assert np.isnan(sun_azimuth(12.0, 0.5, np.array([-0.5, 0.5]))).all()
    assert np.isnan(apparent_solar_hour(12.0, np.array([-13.0, 15.0]), 1.0, 0.0)).all()
    assert np.isnan(apparent_solar_hour(12.0, 0.0, 1.0, 3.2))
    assert np.isnan(apparent_solar_hour(math.inf, 0.0, 1.0, 0.0))
    assert sun_altitude(np.arange(24.0)[:, None], np.array([0.1, 0.2]), 0.3).shape == (24, 2)
    assert sun_altitude(12.0, math.pi / 2, 0.4) == pytest.approx(0.4)
