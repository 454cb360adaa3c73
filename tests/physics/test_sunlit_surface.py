"""Sun on tilted surfaces against a solar library, the handbook's values and hand calculation."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import irradiance
from scipy.optimize import brentq

from coldwright.physics.sunlit_surface import (
    GROUND_REFLECTANCE,
    OUTER_FILM_W_M2K,
    SKY_LOSS_LEVEL_W_M2,
    beam_on_surface,
    ground_on_surface,
    incidence_angle,
    sky_on_surface,
    sol_air_temperature,
    sun_on_surface,
)

quick = settings(deadline=None)
WALL = math.pi / 2
SOUTH, EAST, WEST, NORTH = math.pi, math.pi / 2, 1.5 * math.pi, 0.0
degrees = st.floats(0.0, 360.0)


@pytest.mark.published("angle of incidence (library pvlib)")
@quick
@given(st.floats(-90.0, 90.0), degrees, st.floats(0.0, 180.0), degrees)
def test_incidence(altitude, azimuth, tilt, facing):
    known = irradiance.aoi_projection(tilt, facing, 90.0 - altitude, azimuth)
    found = incidence_angle(*np.radians([altitude, azimuth, tilt, facing]))
    assert math.cos(found) == pytest.approx(known, abs=1e-9)


@pytest.mark.practice
def test_incidence_in_plain_cases():
    altitude = math.radians(35.0)
    # A roof sees the sun at its zenith angle; a wall turned to it at its altitude.
    assert incidence_angle(altitude, WEST, 0.0, EAST) == pytest.approx(math.radians(55.0))
    assert incidence_angle(altitude, WEST, WALL, WEST) == pytest.approx(altitude)
    assert incidence_angle(altitude, WEST, WALL, EAST) > math.pi / 2
    # Square to the sun.
    assert incidence_angle(altitude, SOUTH, math.radians(55.0), SOUTH) == pytest.approx(
        0.0, abs=1e-6
    )


# Clear sky at 48 N 11 E, 500 m, Linke turbidity 3.5, 15 July 2025 11:15 UTC, by library pvlib 0.16:
# elevation 63.41, azimuth 176.35 degrees, global 899, beam 873, diffuse 118 W/m2, and on walls with
# an isotropic sky and ground reflectance 0.2: south 539, east 174, west 149 W/m2.
@pytest.mark.published("irradiance on walls at 48 N, isotropic sky (library pvlib)")
@pytest.mark.parametrize(("facing", "known"), [(SOUTH, 539.0), (EAST, 174.0), (WEST, 149.0)])
def test_walls_at_48_north(facing, known):
    altitude, azimuth = math.radians(63.41), math.radians(176.35)
    angle = incidence_angle(altitude, azimuth, WALL, facing)
    found = beam_on_surface(873.0, altitude, angle) + 0.5 * 118.0
    found += ground_on_surface(873.0, 118.0, altitude, WALL, 0.2)
    assert found == pytest.approx(known, rel=0.02)


@pytest.mark.published("isotropic ground reflection (library pvlib)")
@quick
@given(st.floats(0.0, 90.0), st.floats(0.0, 180.0), st.floats(0.0, 1.0))
def test_ground(altitude, tilt, reflectance):
    level = 700.0 * math.sin(math.radians(altitude)) + 120.0
    known = irradiance.get_ground_diffuse(tilt, level, reflectance)
    found = ground_on_surface(700.0, 120.0, math.radians(altitude), math.radians(tilt), reflectance)
    assert found == pytest.approx(known, abs=1e-9)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14, equation for Y, by hand")
@pytest.mark.parametrize(
    ("incidence_deg", "ratio"), [(0.0, 1.30), (60.0, 0.84675), (90.0, 0.55), (150.0, 0.45)]
)
def test_sky_on_a_wall(incidence_deg, ratio):
    found = sky_on_surface(100.0, WALL, math.radians(incidence_deg))
    assert found == pytest.approx(100.0 * ratio)


# Beam and diffuse in W/m2 under a clear July sky by the sun's altitude: inputs to both models.
CLEAR_SKY = {20.0: (440.0, 91.0), 30.0: (570.0, 115.0), 50.0: (710.0, 146.0), 75.0: (781.0, 165.0)}


@pytest.mark.published("R. Perez et al., Solar Energy 44, 1990 (library pvlib)")
@pytest.mark.parametrize("altitude", list(CLEAR_SKY))
@pytest.mark.parametrize("aside", [0.0, 45.0, 90.0, 135.0, 180.0])
def test_sky_on_a_wall_against_another_model(altitude, aside):
    beam, diffuse = CLEAR_SKY[altitude]
    mass = 1.0 / math.sin(math.radians(altitude))
    known = irradiance.perez(
        90.0, 180.0 + aside, diffuse, beam, 1324.0, 90.0 - altitude, 180.0, mass
    )
    angle = incidence_angle(*np.radians([altitude, 180.0, 90.0, 180.0 + aside]))
    found = sky_on_surface(diffuse, WALL, angle)
    # The docstring's own words: 15 % towards a sun of 20 to 50 degrees, 50 W/m2 anywhere.
    assert found == pytest.approx(known, abs=50.0)
    if altitude <= 50.0 and aside <= 45.0:
        assert found == pytest.approx(known, rel=0.15)


@quick
@given(st.floats(0.0, 90.0), degrees, degrees)
def test_level_ground_gets_the_global_irradiance(altitude, azimuth, facing):
    found = sun_on_surface(800.0, 100.0, *np.radians([altitude, azimuth, 0.0, facing]), 0.2)
    assert found == pytest.approx(800.0 * math.sin(math.radians(altitude)) + 100.0)


@quick
@given(st.floats(-90.0, 0.0), degrees, st.floats(0.0, 180.0), degrees)
def test_no_beam_from_below_the_horizon(altitude, azimuth, tilt, facing):
    angle = incidence_angle(*np.radians([altitude, azimuth, tilt, facing]))
    assert beam_on_surface(800.0, math.radians(altitude), angle) == 0.0
    found = sun_on_surface(800.0, 0.0, *np.radians([altitude, azimuth, tilt, facing]), 0.2)
    assert found == 0.0


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 18, sol-air temperature")
def test_sol_air():
    # Printed: the long-wave term of a level roof is about 4 K; alpha/ho is 0.052 for dark and 0.026
    # for light surfaces (two digits).
    roof = sol_air_temperature(300.0, 0.0, SKY_LOSS_LEVEL_W_M2, OUTER_FILM_W_M2K, 0.9, 1.0)
    assert 300.0 - roof == pytest.approx(4.0, abs=0.5)
    dark = sol_air_temperature(300.0, 1000.0, 0.0, OUTER_FILM_W_M2K, 0.9, 0.9)
    assert (dark - 300.0) / 1000.0 == pytest.approx(0.052, abs=0.001)
    light = sol_air_temperature(300.0, 1000.0, 0.0, OUTER_FILM_W_M2K, 0.45, 0.9)
    assert (light - 300.0) / 1000.0 == pytest.approx(0.026, abs=0.0005)


@pytest.mark.practice
def test_sol_air_is_where_an_insulated_skin_settles():
    # Heat balance of a skin that passes nothing on: sun taken up = film and sky.
    def surplus(skin_K):
        return 0.7 * 850.0 - 0.9 * 63.0 - 20.0 * (skin_K - 305.0)

    skin_K = brentq(surplus, 280.0, 400.0)
    assert sol_air_temperature(305.0, 850.0, 63.0, 20.0, 0.7, 0.9) == pytest.approx(skin_K)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14: 0.2 for ordinary ground")
def test_ground_reflectances():
    assert GROUND_REFLECTANCE["ordinary"] == 0.2
    assert all(0.0 < share < 1.0 for share in GROUND_REFLECTANCE.values())


def test_range():
    assert np.isnan(incidence_angle(2.0, 0.0, 0.0, 0.0))
    assert np.isnan(incidence_angle(0.0, 0.0, np.array([-0.1, 3.2]), 0.0)).all()
    assert np.isnan(beam_on_surface(-1.0, 0.5, 0.5))
    assert np.isnan(beam_on_surface(800.0, 0.5, np.array([-0.1, 3.2]))).all()
    assert np.isnan(sky_on_surface(-1.0, 0.5, 0.5))
    assert np.isnan(ground_on_surface(800.0, 100.0, 0.5, 0.5, np.array([-0.1, 1.1]))).all()
    assert np.isnan(sol_air_temperature(300.0, 800.0, 0.0, 0.0, 0.9, 0.9))
    assert np.isnan(sol_air_temperature(300.0, 800.0, 0.0, 17.0, np.array([-0.1, 1.1]), 0.9)).all()
    assert np.isnan(sun_on_surface(800.0, math.nan, 0.5, 0.5, 0.5, 0.5, 0.2))
