"""Clear-sky sun against the handbook's worked example and other models."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import atmosphere, clearsky, irradiance

from coldwright.physics.clear_sky import (
    air_mass,
    clear_sky_beam,
    clear_sky_diffuse,
    extraterrestrial_irradiance,
)

quick = settings(deadline=None)
EXAMPLE = "ASHRAE Fundamentals 2021 (SI), chapter 14, worked examples 1 to 4 (Atlanta, 21 July)"
TAU_B, TAU_D = 0.515, 2.066

# Altitude in degrees; printed air mass, beam and diffuse in W/m2; beam and diffuse by hand.
ATLANTA = [(76.80, 1.027, 784.0, 166.0, 783.4, 165.5), (68.62, 1.073, 770.0, 162.0, None, None)]


@pytest.mark.published(EXAMPLE)
@pytest.mark.parametrize(("altitude", "mass", "beam", "diffuse", "beam_hand", "sky_hand"), ATLANTA)
def test_atlanta(altitude, mass, beam, diffuse, beam_hand, sky_hand):
    outside = extraterrestrial_irradiance(202)
    assert outside == pytest.approx(1324.0, abs=0.5)
    altitude_rad = math.radians(altitude)
    assert air_mass(altitude_rad) == pytest.approx(mass, abs=0.0006)
    found_beam = clear_sky_beam(altitude_rad, outside, TAU_B, TAU_D)
    found_sky = clear_sky_diffuse(altitude_rad, outside, TAU_B, TAU_D)
    # Print rounds its exponents to three digits: half a percent.
    assert found_beam == pytest.approx(beam, rel=0.005)
    assert found_sky == pytest.approx(diffuse, rel=0.005)
    if beam_hand:
        assert found_beam == pytest.approx(beam_hand, rel=5e-4)
        assert found_sky == pytest.approx(sky_hand, rel=5e-4)


@pytest.mark.published("F. Kasten and A. T. Young, Applied Optics 28, 1989, as in library pvlib")
def test_air_mass():
    altitude = np.linspace(0.0, 90.0, 91)
    known = atmosphere.get_relative_airmass(90.0 - altitude, "kastenyoung1989")
    np.testing.assert_allclose(air_mass(np.radians(altitude)), known, rtol=1e-9)
    # The paper's own table: about 38 at the horizon, 2 at 30 degrees, 1 overhead.
    assert air_mass(0.0) == pytest.approx(38.0, abs=0.2)
    assert air_mass(math.radians(30.0)) == pytest.approx(1.994, abs=0.001)
    # Straight up; the fit gives 0.9997.
    assert air_mass(math.pi / 2) == pytest.approx(1.0, abs=1e-3)


@pytest.mark.published("J. W. Spencer 1971, extraterrestrial irradiance (library pvlib)")
def test_outside_the_atmosphere():
    # A one-term series of the earth's orbit against a five-term one: 0.4 %.
    day = np.arange(1.0, 366.0)
    known = irradiance.get_extra_radiation(day, solar_constant=1367.0, method="spencer")
    np.testing.assert_allclose(extraterrestrial_irradiance(day), known, rtol=4e-3)


@pytest.mark.published("P. Ineichen, Solar Energy 82, 2008 (simplified Solis, library pvlib)")
@pytest.mark.parametrize("altitude", [20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0])
def test_another_model_of_the_same_sky(altitude):
    # Atlanta's July air as that model asks for it: aerosol depth 0.2 at 700 nm and 4 cm of water,
    # usual there in summer. One sky serves for all altitudes, beam and diffuse: what is compared is
    # how both fall with the sun. 5 %, which is what such models differ by among themselves.
    known = clearsky.simplified_solis(
        altitude, aod700=0.2, precipitable_water=4.0, pressure=98_000.0, dni_extra=1324.0
    )
    beam = clear_sky_beam(math.radians(altitude), 1324.0, TAU_B, TAU_D)
    assert beam == pytest.approx(known["dni"], rel=0.05)
    sky = clear_sky_diffuse(math.radians(altitude), 1324.0, TAU_B, TAU_D)
    assert sky == pytest.approx(known["dhi"], rel=0.05)


@quick
@given(st.floats(1.0, 89.0), st.floats(0.2, 1.2), st.floats(1.5, 3.0))
def test_less_than_outside_and_more_with_a_higher_sun(altitude, beam_depth, sky_depth):
    low, high = math.radians(altitude), math.radians(altitude + 1.0)
    beam = clear_sky_beam(low, 1361.0, beam_depth, sky_depth)
    assert 0.0 <= beam <= clear_sky_beam(high, 1361.0, beam_depth, sky_depth) < 1361.0
    sky = clear_sky_diffuse(low, 1361.0, beam_depth, sky_depth)
    assert 0.0 < sky < 1361.0


def test_night_is_dark_and_ranges_hold():
    night = np.radians([-60.0, -1.0, 0.0])
    assert (clear_sky_beam(night, 1361.0, 0.4, 2.3) == 0.0).all()
    assert (clear_sky_diffuse(night, 1361.0, 0.4, 2.3) == 0.0).all()
    assert np.isnan(air_mass(np.array([-0.01, 1.6, math.nan]))).all()
    assert np.isnan(extraterrestrial_irradiance(np.array([0.0, 368.0]))).all()
    for law in (clear_sky_beam, clear_sky_diffuse):
        assert np.isnan(law(1.0, 1361.0, np.array([0.05, 1.6]), 2.3)).all()
        assert np.isnan(law(1.0, 1361.0, 0.4, np.array([0.5, 4.5]))).all()
        assert np.isnan(law(2.0, 1361.0, 0.4, 2.3))
        assert np.isnan(law(1.0, -1.0, 0.4, 2.3))
