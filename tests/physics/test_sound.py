"""Sound levels by hand and by textbook rules."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.sound import (
    SPEED_EXPONENT_DB,
    level_at_distance_free,
    level_at_distance_over_floor,
    level_at_distance_room,
    level_speed_change,
    level_sum,
    room_constant,
)

quick = settings(deadline=None)
levels = st.floats(-20.0, 130.0)


@pytest.mark.published("energetic sum of levels (ISO 3744), by hand")
def test_sums():
    assert level_sum(50.0, 50.0) == pytest.approx(53.01, abs=0.05)
    assert level_sum(level_sum(45.0, 42.0), 38.0) == pytest.approx(47.31, abs=0.05)


@pytest.mark.published("fan laws for sound power, 50 and 55 lg of the speed, by hand")
@pytest.mark.parametrize(
    ("ratio", "exponent_dB", "expected_dB"),
    [(1.5, 50.0, 8.80), (1.5, 55.0, 9.69), (0.8, 50.0, -4.85), (0.8, 55.0, -5.33)],
)
def test_speed(ratio, exponent_dB, expected_dB):
    assert level_speed_change(ratio, exponent_dB) == pytest.approx(expected_dB, abs=0.05)


@pytest.mark.published("textbook rules: 8 dB over a floor and 11 dB in the free field at 1 m")
@pytest.mark.parametrize(("distance_m", "expected_dB"), [(1.0, 47.0), (2.0, 41.0), (3.0, 37.5)])
def test_distance(distance_m, expected_dB):
    found = level_at_distance_over_floor(55.0, distance_m)
    assert found == pytest.approx(expected_dB, abs=0.05)
    assert level_at_distance_free(55.0, distance_m) == pytest.approx(found - 3.01, abs=0.005)
    assert level_at_distance_free(55.0, 1.0) == pytest.approx(44.0, abs=0.05)


@pytest.mark.published("direct and diffuse field in a room (Beranek 1954), by hand")
def test_room():
    constant = room_constant(54.0, 0.15)
    assert constant == pytest.approx(9.53, abs=0.005)
    assert level_at_distance_room(55.0, 1.0, 2.0, constant) == pytest.approx(52.6, abs=0.1)
    assert level_at_distance_room(55.0, 2.0, 2.0, constant) == pytest.approx(51.6, abs=0.1)


@quick
@given(levels, levels)
def test_sum_is_symmetric_and_at_most_3_dB_above_the_louder(first, second):
    total = level_sum(first, second)
    assert total == level_sum(second, first)
    louder = max(first, second)
    assert louder <= total <= louder + 3.0103
    energy = 10.0 * math.log10(10.0 ** (first / 10.0) + 10.0 ** (second / 10.0))
    assert total == pytest.approx(energy, abs=1e-9)


@quick
@given(levels, st.floats(0.05, 50.0))
def test_a_very_absorbing_room_is_the_open(level_dB, distance_m):
    open_air = level_at_distance_free(level_dB, distance_m)
    assert level_at_distance_room(level_dB, distance_m, 1.0, 1e9) == pytest.approx(
        open_air, abs=1e-3
    )
    floor = level_at_distance_over_floor(level_dB, distance_m)
    assert level_at_distance_room(level_dB, distance_m, 2.0, 1e9) == pytest.approx(floor, abs=1e-3)
    assert level_at_distance_room(level_dB, distance_m, 2.0, 10.0) > floor


@quick
@given(st.floats(0.1, 3.0), st.floats(0.1, 3.0))
def test_speed_changes_add(first, second):
    together = level_speed_change(first * second, SPEED_EXPONENT_DB)
    apart = level_speed_change(first, SPEED_EXPONENT_DB) + level_speed_change(
        second, SPEED_EXPONENT_DB
    )
    assert together == pytest.approx(apart, abs=1e-9)


def test_silence_adds_nothing():
    assert level_sum(-math.inf, 40.0) == 40.0
    assert level_sum(-math.inf, -math.inf) == -math.inf


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_range_and_shape():
    assert np.isnan(level_sum(np.array([math.inf, math.nan]), 40.0)).all()
    assert np.isnan(level_speed_change(np.array([0.0, -1.0, math.nan]), 50.0)).all()
    assert np.isnan(level_speed_change(1.5, np.array([-1.0, 101.0]))).all()
    for law in (level_at_distance_free, level_at_distance_over_floor):
        assert np.isnan(law(55.0, np.array([0.0, -1.0, math.nan]))).all()
        assert math.isnan(law(math.nan, 1.0))
    assert np.isnan(room_constant(54.0, np.array([0.0, 1.0, math.nan]))).all()
    assert math.isnan(level_at_distance_room(55.0, 1.0, 2.0, 0.0))
    assert level_sum(np.full((3, 1), 40.0), np.full(2, 40.0)).shape == (3, 2)
