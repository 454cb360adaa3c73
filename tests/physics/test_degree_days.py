"""Degree-days from mean and deviation against the handbook's example and integration."""

import math

import numpy as np
import pytest
from scipy import integrate, stats

from coldwright.physics.degree_days import warm_excess


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14, worked example 10")
def test_october():
    # 31 days at 17.5 °C, deviation 3.93 K, base 15 °C: 19.4 K d of heating and 96.9 of cooling.
    cooling = 31.0 * warm_excess(290.65, 288.15, 3.93)
    assert cooling == pytest.approx(96.9, abs=0.05)
    # What is short of the base is the excess less the difference of the means.
    heating = cooling - 31.0 * 2.5
    assert heating == pytest.approx(19.4, abs=0.05)


@pytest.mark.published("expectation of a normal distribution, by numerical integration (scipy)")
@pytest.mark.parametrize("above_K", [-10.0, -2.0, 0.0, 3.0, 12.0])
def test_against_integration(above_K):
    known, _ = integrate.quad(
        lambda x: max(0.0, x) * stats.norm.pdf(x, above_K, 4.0), -40.0, 60.0, points=[0.0]
    )
    assert warm_excess(293.15 + above_K, 293.15, 4.0) == pytest.approx(known, abs=1e-8)


def test_range():
    assert np.isnan(warm_excess(np.array([0.0, math.nan]), 290.0, 4.0)).all()
    assert np.isnan(warm_excess(290.0, 290.0, np.array([0.0, -1.0]))).all()
