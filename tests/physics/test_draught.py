"""Draught rate against the standard's equation worked by hand."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.draught import TURBULENCE_MIXED, draught_rate

quick = settings(deadline=None)

# Air in °C, speed in m/s, turbulence in %, draught rate in % by hand.
POINTS = [
    (20.0, 0.2, 40.0, 26.3),
    (23.0, 0.15, 40.0, 14.1),
    (26.0, 0.5, 40.0, 51.4),
    (22.0, 0.3, 20.0, 27.2),
]


@pytest.mark.published("EN ISO 7730:2005, equation for the draught rate (from memory), by hand")
@pytest.mark.parametrize(("air_C", "speed", "turbulence", "percent"), POINTS)
def test_by_hand(air_C, speed, turbulence, percent):
    found = draught_rate(air_C + 273.15, speed, turbulence / 100.0)
    assert 100.0 * found == pytest.approx(percent, abs=0.2)


@pytest.mark.published("EN ISO 7730:2005: turbulence 40 % where unknown (from memory)")
def test_ordinary_turbulence():
    assert TURBULENCE_MIXED == 0.40


@quick
@given(st.floats(293.15, 299.0), st.floats(0.0, 0.49), st.floats(0.1, 0.59))
def test_colder_faster_and_gustier_is_worse(air_K, speed, turbulence):
    rate = draught_rate(air_K, speed, turbulence)
    assert 0.0 <= rate <= 1.0
    assert draught_rate(air_K + 0.1, speed, turbulence) <= rate
    assert draught_rate(air_K, speed + 0.01, turbulence) >= rate
    assert draught_rate(air_K, speed, turbulence + 0.01) >= rate


def test_range():
    assert (draught_rate(295.0, np.array([0.0, 0.05]), 0.4) == 0.0).all()
    assert np.isnan(draught_rate(np.array([293.0, 299.5, 305.0, math.nan]), 0.2, 0.4)).all()
    assert np.isnan(draught_rate(295.0, np.array([-0.1, 0.6]), 0.4)).all()
    assert np.isnan(draught_rate(295.0, 0.2, np.array([0.05, 0.7]))).all()
