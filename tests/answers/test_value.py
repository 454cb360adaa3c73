"""A figure with its interval: bounds by rank, unknown stays unknown."""

import json
import math

import numpy as np
import pytest

from coldwright.answers.value import Value, known, value_of


@pytest.mark.published("numpy.percentile: 5 and 95 % of a sample")
@pytest.mark.parametrize("count", [20, 101, 2000])
def test_bounds_hold_five_and_ninety_five_percent(count):
    numbers = np.random.default_rng(3).normal(10.0, 2.0, count)
    found = value_of(10.0, numbers)
    assert found.value == 10.0
    low, high = np.percentile(numbers, [5, 95], method="nearest")
    assert found.low == pytest.approx(low, abs=0.5 if count < 100 else 0.1)
    assert found.high == pytest.approx(high, abs=0.5 if count < 100 else 0.1)
    assert np.sum(numbers < found.low) <= math.ceil(0.05 * count)
    assert np.sum(numbers > found.high) <= math.ceil(0.05 * count)


def test_exactly_by_rank():
    # Of 101 numbers 0..100 in any order, five lie below 5 and five above 95.
    numbers = np.random.default_rng(1).permutation(101).astype(float)
    assert value_of(50.0, numbers) == Value(50.0, 5.0, 95.0)


def test_only_solved_tries_count():
    numbers = np.concatenate([np.arange(101.0), np.full(50, 1e9)])
    solved = numbers < 1e8
    assert value_of(50.0, numbers, solved) == Value(50.0, 5.0, 95.0)


def test_few_tries_make_no_interval():
    assert value_of(1.0, np.ones(19)) == Value(1.0)
    assert value_of(1.0, None) == Value(1.0)
    assert value_of(1.0, np.ones(100), np.zeros(100, dtype=bool)) == Value(1.0)


@pytest.mark.parametrize("never", [math.inf, math.nan])
def test_a_time_that_is_often_never_reached_has_no_upper_bound(never):
    times = np.concatenate([np.linspace(100.0, 200.0, 80), np.full(20, never)])
    found = value_of(150.0, times)
    assert found.low == pytest.approx(105.0, abs=2.0)
    assert found.high is None
    # Where hardly any try reaches it, neither bound is a number.
    assert value_of(math.inf, np.full(100, never)) == Value(None, None, None)


def test_what_is_not_finite_is_not_known():
    assert known(math.nan) is None
    assert known(math.inf) is None
    assert known(np.float64(2.5)) == 2.5


def test_json_has_three_keys_and_no_nan():
    assert Value(1.0, 0.5, 1.5).to_json() == {"value": 1.0, "low": 0.5, "high": 1.5}
    assert json.loads(json.dumps(value_of(math.nan, None).to_json(), allow_nan=False)) == {
        "value": None, "low": None, "high": None,
    }  # fmt: skip
