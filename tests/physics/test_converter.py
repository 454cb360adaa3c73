"""Supplies and converters."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from coldwright.physics import converter as cv

LOSS = "loss k0 + k1 P + k2 P^2 (Schmidt and Sauer 1996, from memory), solved by hand"


@pytest.mark.published(LOSS)
def test_three_efficiencies_give_the_loss_over_the_load():
    k0, k1, k2 = cv.loss_coefficients([30.0, 150.0, 300.0], [0.80, 0.88, 0.87])
    assert k0 == pytest.approx(5.170, rel=2e-3)
    assert k1 == pytest.approx(0.07160, rel=2e-3)
    assert k2 == pytest.approx(2.0197e-4, rel=2e-3)
    assert cv.peak_load(k0, k2) == pytest.approx(160.0, rel=2e-3)
    assert cv.peak_efficiency(k0, k1, k2) == pytest.approx(0.8801, rel=2e-3)
    assert cv.converter_efficiency(60.0, k0, k1, k2) == pytest.approx(0.8548, rel=2e-3)
    back = cv.converter_efficiency([30.0, 150.0, 300.0], k0, k1, k2)
    assert back == pytest.approx([0.80, 0.88, 0.87], rel=1e-12)


@pytest.mark.published("definition of the power factor, by hand")
@pytest.mark.parametrize(
    ("factor", "apparent_VA", "amperes"), [(0.6, 200.0, 0.870), (0.95, 126.3, 0.549)]
)
def test_apparent_power(factor, apparent_VA, amperes):
    found_VA = cv.apparent_power(120.0, factor)
    assert found_VA == pytest.approx(apparent_VA, rel=5e-3)
    assert cv.line_current(found_VA, 230.0) == pytest.approx(amperes, rel=5e-3)


@settings(deadline=None)  # the first call may compile
@given(st.floats(0.0, 20.0), st.floats(0.0, 0.3), st.floats(1e-6, 1e-3), st.floats(1.0, 1000.0))
def test_output_and_loss_add_up_to_the_input(k0, k1, k2, output_W):
    input_W = output_W + cv.converter_loss(output_W, k0, k1, k2)
    assert cv.converter_output(input_W, k0, k1, k2) == pytest.approx(output_W, rel=1e-9)
    efficiency = cv.converter_efficiency(output_W, k0, k1, k2)
    assert efficiency * input_W == pytest.approx(output_W, rel=1e-12)
    assert 0.0 < efficiency <= cv.peak_efficiency(k0, k1, k2) + 1e-12


# Against: a search over the load that knows nothing of the closed form.
def test_the_peak_is_a_peak():
    coefficients = (5.0, 0.05, 2e-4)
    search = minimize_scalar(
        lambda p: -float(cv.converter_efficiency(p, *coefficients)),
        bounds=(1.0, 1000.0),
        method="bounded",
        options={"xatol": 1e-6},
    )
    assert cv.peak_load(5.0, 2e-4) == pytest.approx(search.x, rel=1e-4)
    assert cv.peak_efficiency(*coefficients) == pytest.approx(-search.fun, rel=1e-9)


# Against: definition of efficiency, by hand.
def test_fewer_and_more_points():
    # One point: a share of the output, 1 / 0.92 - 1. Two: idle and share.
    assert cv.loss_coefficients([100.0], [0.92]) == pytest.approx((0.0, 0.0869565, 0.0), rel=1e-6)
    k0, k1, k2 = cv.loss_coefficients([50.0, 200.0], [0.8, 0.9])
    # Losses of 12.5 W and 22.2222 W: 0.0648148 a watt, 9.25926 W idle.
    assert (k0, k1, k2) == pytest.approx((9.25926, 0.0648148, 0.0), rel=1e-6)
    # Five points from known coefficients are found again.
    loads = np.array([20.0, 60.0, 120.0, 200.0, 300.0])
    efficiencies = loads / (loads + 4.0 + 0.06 * loads + 1.5e-4 * loads**2)
    found = cv.loss_coefficients(list(loads), list(efficiencies))
    assert found == pytest.approx((4.0, 0.06, 1.5e-4), rel=1e-9)


@pytest.mark.parametrize(
    ("loads", "efficiencies"),
    [
        ([], []),
        ([1.0, 2.0], [0.9]),
        ([0.0], [0.9]),
        ([10.0], [1.1]),
        ([10.0], [0.0]),
        ([10.0, 10.0], [0.8, 0.9]),
        ([float("nan")], [0.9]),
    ],
)
def test_impossible_points_are_refused(loads, efficiencies):
    with pytest.raises(ValueError, match=r"output power|efficienc"):
        cv.loss_coefficients(loads, efficiencies)


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(cv.converter_loss(-1.0, 5.0, 0.05, 2e-4))
        assert np.isnan(cv.converter_efficiency(100.0, -5.0, 0.05, 2e-4))
        assert np.isnan(cv.converter_efficiency(0.0, 0.0, 0.05, 2e-4))
        assert np.isnan(cv.converter_output(4.0, 5.0, 0.05, 2e-4))
        assert np.isnan(cv.peak_load(5.0, 0.0))
        assert np.isnan(cv.peak_efficiency(5.0, -0.1, 2e-4))
        assert np.isnan(cv.apparent_power(120.0, [0.0, 1.1, np.nan])).all()
        assert np.isnan(cv.line_current(100.0, 0.0))
