"""Film and friction between plates and in tubes."""

from __future__ import annotations

import ht
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import channel_flow as cf

SHAH_LONDON = "R. K. Shah and A. L. London, Laminar Flow Forced Convection in Ducts (1978)"


@pytest.mark.published(SHAH_LONDON + ": 7.541 for parallel plates at one temperature")
def test_far_from_the_entrance_plates_reach_their_limit():
    # Stephan's formula ends at 7.55, 0.1 % above.
    assert cf.nusselt_plates_stephan(10.0, 0.7, 1000.0) == pytest.approx(7.541, rel=2e-3)
    assert cf.nusselt_plates(10.0, 0.7, 1000.0) == pytest.approx(7.541, rel=2e-3)


@pytest.mark.published("flat plate, 0.664 Re^(1/2) Pr^(1/3): E. Pohlhausen 1921, any handbook")
def test_at_the_entrance_plates_are_flat_plates():
    # Re of 2000 on the diameter, a tenth of a diameter long: boundary layers far apart yet.
    reynolds, prandtl, length = 2000.0, 0.71, 0.1
    flat = 0.664 * np.sqrt(reynolds * length) * prandtl ** (1 / 3) / length
    found = cf.nusselt_plates_stephan(reynolds, prandtl, length)
    # Between the plates the core speeds up and the fixed 7.55 is added: up to 15 % more.
    assert flat < found < 1.15 * flat


# Re*, Nu on the gap, for Pr 0.707.
TEERTSTRA = [(23.017, 3.6490), (46.034, 4.9306)]


@pytest.mark.published("Teertstra et al. 2000; Culham and Muzychka, IEEE Trans. CPT 24 (2001) 159")
@pytest.mark.parametrize(("channel_reynolds", "nusselt"), TEERTSTRA)
def test_teertstra_between_plates(channel_reynolds, nusselt):
    found = cf.nusselt_channel_teertstra(channel_reynolds, 0.707)
    assert found == pytest.approx(nusselt, rel=1e-4)


@pytest.mark.published("two textbook methods for one channel: Stephan 1959 and Teertstra 2000")
def test_teertstra_and_stephan_warm_the_air_alike():
    # A channel of gap b and length L: Stephan's film with the exact exponential against
    # Teertstra's, which is referred to the incoming air. Wide plates, no fins.
    reynolds, prandtl = np.array([400.0, 800.0, 1600.0]), 0.707
    gap, length = 4.0, 100.0
    nusselt = cf.nusselt_plates_stephan(reynolds, prandtl, length / (2 * gap))
    units = 4.0 * nusselt / (reynolds * prandtl) * length / (2 * gap)
    by_stephan = 1.0 - np.exp(-units)
    channel_reynolds = reynolds / 2 * gap / length
    inlet_nusselt = cf.nusselt_channel_teertstra(channel_reynolds, prandtl)
    by_teertstra = inlet_nusselt * 2.0 / (channel_reynolds * prandtl)
    assert by_teertstra == pytest.approx(by_stephan, rel=0.08)


@pytest.mark.published("V. Gnielinski 1976, as in the library ht")
@pytest.mark.parametrize("reynolds", [3000.0, 1e4, 1e5, 1e6])
@pytest.mark.parametrize("prandtl", [0.71, 7.0])
def test_gnielinski_as_another_library_has_it(reynolds, prandtl):
    friction = (0.79 * np.log(reynolds) - 1.64) ** -2
    expected = ht.conv_internal.turbulent_Gnielinski(reynolds, prandtl, friction)
    found = cf.nusselt_tube_gnielinski(reynolds, prandtl, 1e9)
    assert found == pytest.approx(expected, rel=1e-5)
    with_entrance = cf.nusselt_tube_gnielinski(reynolds, prandtl, 8.0)
    assert with_entrance == pytest.approx(1.25 * expected, rel=1e-5)


@pytest.mark.published("Dittus-Boelter, 0.023 Re^0.8 Pr^0.4, any handbook")
def test_turbulent_tube_agrees_with_the_older_rule():
    reynolds = np.array([1e4, 3e4, 1e5])
    older = 0.023 * reynolds**0.8 * 0.71**0.4
    assert cf.nusselt_tube_gnielinski(reynolds, 0.71, 1e9) == pytest.approx(older, rel=0.2)
    assert cf.nusselt_tube(reynolds, 0.71, 1e9) == pytest.approx(older, rel=0.2)


@pytest.mark.published(SHAH_LONDON + ": 3.657 in a tube at one temperature; Hausen as in ht")
def test_laminar_tube():
    assert cf.nusselt_tube(100.0, 0.71, 1e7) == pytest.approx(3.657, rel=2e-3)
    for length in (20.0, 50.0, 200.0):
        reynolds, prandtl = 1000.0, 0.71
        graetz = reynolds * prandtl / length
        hausen = 3.66 + 0.0668 * graetz / (1.0 + 0.04 * graetz ** (2 / 3))
        assert cf.nusselt_tube(reynolds, prandtl, length) == pytest.approx(hausen, rel=0.1)


@pytest.mark.published(SHAH_LONDON + ": f Re 24 for wide plates, 14.227 for a square")
def test_fully_developed_friction():
    assert 1000.0 * cf.friction_plates(1000.0, 1e9, 0.0) == pytest.approx(24.0, rel=1e-4)
    assert 1000.0 * cf.friction_plates(1000.0, 1e9, 1.0) == pytest.approx(14.227, rel=2e-3)
    assert 1000.0 * cf.friction_plates(1000.0, 1e9, 0.5) == pytest.approx(15.548, rel=2e-3)


@pytest.mark.published("Blasius, 4 f = 0.316 Re^-0.25, any handbook; Jones 1976 for plates")
def test_turbulent_friction_of_a_long_square_channel():
    # A square channel is within a few percent of a tube on its hydraulic diameter.
    reynolds = np.array([1e4, 5e4])
    blasius = 0.316 * reynolds**-0.25 / 4.0
    assert cf.friction_plates(reynolds, 1e6, 1.0) == pytest.approx(blasius, rel=0.06)
    # Wide plates have some 10 % more friction than a tube (their laminar-equivalent Reynolds
    # number is two thirds).
    ratio = cf.friction_plates(reynolds, 1e6, 0.0) / blasius
    assert np.all((ratio > 1.03) & (ratio < 1.15))


@settings(deadline=None)  # the first call may compile
@given(st.floats(2.0, 500.0), st.floats(0.5, 10.0))
def test_films_rise_without_a_jump_over_the_whole_range(length, prandtl):
    reynolds = np.concatenate([np.linspace(1.0, 2290.0, 200), np.linspace(2290.0, 12000.0, 4000)])
    for law in (cf.nusselt_plates, cf.nusselt_tube):
        nusselt = law(reynolds, prandtl, length)
        assert np.all(np.diff(nusselt) >= 0.0)
        # From one point to the next, 2.4 in Reynolds number, less than 1 %.
        assert np.all(np.diff(nusselt[200:]) < 0.01 * nusselt[200:-1])


@settings(deadline=None)  # the first call may compile
@given(st.floats(2.0, 500.0), st.floats(0.0, 1.0))
def test_pressure_rises_without_a_kink_over_the_whole_range(length, aspect):
    reynolds = np.linspace(2200.0, 4100.0, 3801)
    pressure = cf.friction_plates(reynolds, length, aspect) * reynolds**2
    slope = np.diff(pressure)
    assert np.all(slope > 0.0)
    # A kink would show as a jump of the slope; the blend's own curvature gives 1 % a step.
    assert np.all(np.abs(np.diff(slope)) < 0.02 * slope[:-1])


def test_the_blend_ends_where_it_says():
    assert cf.turbulent_share(2300.0) == 0.0
    assert cf.turbulent_share(4000.0) == 1.0
    assert cf.turbulent_share(3150.0) == pytest.approx(0.5)
    length = 200.0
    assert cf.nusselt_plates(2300.0, 0.7, length) == cf.nusselt_plates_stephan(2300.0, 0.7, length)
    # In a long channel the turbulent branch is Gnielinski's, undisturbed by the laminar one.
    assert cf.nusselt_plates(1e4, 0.7, length) == pytest.approx(
        cf.nusselt_tube_gnielinski(1e4, 0.7, length), rel=1e-3
    )


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(cf.nusselt_plates([-1.0, 2e6, np.nan], 0.7, 10.0)).all()
        assert np.isnan(cf.nusselt_plates(1000.0, 0.7, 0.0))
        assert np.isnan(cf.nusselt_plates_stephan(5000.0, 0.7, 10.0))
        assert np.isnan(cf.nusselt_channel_teertstra(-1.0, 0.7))
        assert np.isnan(cf.nusselt_tube_gnielinski(2000.0, 0.7, 10.0))
        assert np.isnan(cf.nusselt_tube(1000.0, 0.1, 10.0))
        assert np.isnan(cf.friction_plates([0.0, 1e3, 1e3], 10.0, [0.1, 1.1, np.nan])).all()
    assert cf.nusselt_plates(0.0, 0.7, 10.0) == pytest.approx(7.55)
    assert cf.nusselt_channel_teertstra(0.0, 0.7) == 0.0
