"""The design day against the handbook's table and worked example."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.design_day import (
    daily_range_share,
    design_day_dew_point,
    design_day_temperature,
    design_day_wet_bulb,
)

quick = settings(deadline=None)
hours = st.floats(-100.0, 100.0)

# ASHRAE Fundamentals 2021 (SI), chapter 14, table 6: solar hours 1 to 24.
TABLE_6 = [
    0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91, 0.74, 0.55, 0.38, 0.23, 0.13,
    0.05, 0.00, 0.00, 0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82,
]  # fmt: skip


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14, table 6")
def test_table():
    found = daily_range_share(np.arange(1.0, 25.0))
    np.testing.assert_allclose(found, TABLE_6, atol=1e-12)
    assert found.mean() == pytest.approx(0.536, abs=0.0005)
    # Hour 24 is hour 0.
    assert daily_range_share(0.0) == daily_range_share(24.0) == pytest.approx(0.82)


# The same chapter's worked example: Atlanta, July 5 % day, 33.1 °C and a range of 11.2 K. Printed
# by daylight-saving clock hours, which there lie 2 h after the sun (rounded).
ATLANTA = [
    (1, 24.7), (2, 23.9), (3, 23.2), (4, 22.8), (5, 22.5), (6, 22.1),
    (13, 30.5), (14, 31.6), (15, 32.5), (16, 33.1),
]  # fmt: skip


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 14, worked example (Atlanta, July)")
@pytest.mark.parametrize(("clock", "printed_C"), ATLANTA)
def test_atlanta(clock, printed_C):
    # One decimal printed.
    found = design_day_temperature(clock - 2.0, 33.1 + 273.15, 11.2)
    assert found - 273.15 == pytest.approx(printed_C, abs=0.06)


@pytest.mark.practice
def test_straight_between_the_hours():
    # By hand from the table: half way between 0.38 and 0.23; a quarter from 0.82 to 0.88.
    assert daily_range_share(10.5) == pytest.approx(0.305)
    assert daily_range_share(24.25) == pytest.approx(0.835)


@quick
@given(hours)
def test_days_wrap_around(hour):
    assert daily_range_share(hour) == pytest.approx(daily_range_share(hour + 24.0), abs=1e-9)
    assert 0.0 <= daily_range_share(hour) <= 1.0


@quick
@given(hours, st.floats(-1e-3, 1e-3))
def test_no_steps(hour, later):
    # Steepest hour of the table: 0.19 in one hour.
    before, after = daily_range_share(hour), daily_range_share(hour + later)
    assert abs(after - before) <= 0.19 * abs(later) + 1e-9


@quick
@given(hours, st.floats(290.0, 320.0), st.floats(0.0, 25.0))
def test_between_highest_and_lowest(hour, highest_K, range_K):
    found = design_day_temperature(hour, highest_K, range_K)
    assert highest_K - range_K - 1e-9 <= found <= highest_K


@pytest.mark.practice
def test_wet_bulb_and_dew_point_at_dawn():
    # 35 °C, 23 °C wet, ranges 10 and 3 K: at 5 h 25 °C and 20 °C wet.
    assert design_day_wet_bulb(5.0, 308.15, 296.15, 10.0, 3.0) == pytest.approx(293.15)
    assert design_day_wet_bulb(14.0, 308.15, 296.15, 10.0, 3.0) == pytest.approx(296.15)
    # A range of 15 K brings the air to 20 °C, below the 21 °C that the wet bulb would have.
    assert design_day_wet_bulb(5.0, 308.15, 296.15, 15.0, 2.0) == pytest.approx(293.15)
    # A constant dew point of 19 °C under air of 35 to 20 °C stays; one of 22 °C is cut off.
    assert design_day_dew_point(5.0, 308.15, 292.15, 15.0, 0.0) == pytest.approx(292.15)
    assert design_day_dew_point(5.0, 308.15, 295.15, 15.0, 0.0) == pytest.approx(293.15)


@quick
@given(hours, st.floats(0.0, 20.0), st.floats(0.0, 25.0), st.floats(0.0, 10.0))
def test_moisture_never_beyond_saturation(hour, below_K, range_K, own_range_K):
    air_K = design_day_temperature(hour, 308.15, range_K)
    for law in (design_day_wet_bulb, design_day_dew_point):
        assert law(hour, 308.15, 308.15 - below_K, range_K, own_range_K) <= air_K


def test_range_and_shape():
    assert np.isnan(daily_range_share(np.array([math.nan, math.inf, -math.inf]))).all()
    assert np.isnan(design_day_temperature(12.0, np.array([0.0, -1.0, math.nan]), 10.0)).all()
    assert np.isnan(design_day_temperature(12.0, 300.0, -1.0))
    for law in (design_day_wet_bulb, design_day_dew_point):
        assert np.isnan(law(12.0, 300.0, np.array([301.0, 0.0]), 10.0, 2.0)).all()
        assert np.isnan(
            law(12.0, 300.0, 290.0, np.array([-1.0, 10.0]), np.array([2.0, -1.0]))
        ).all()
    assert design_day_temperature(
        np.arange(24.0)[:, None], np.array([300.0, 310.0]), 9.0
    ).shape == (
        24,
        2,
    )
