"""Daily schedules: instants, shares of steps, switchings."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.sheet.schedules import DAY_S, schedule_at, schedule_share, switching_times_s

H = 3600.0
SHOP = ((8 * H, 12 * H), (13 * H, 17.5 * H))
NIGHT = ((22 * H, 6 * H),)


def test_instants():
    clock = np.array([0.0, 7.99, 8.0, 11.99, 12.0, 13.0, 17.49, 17.5, 32.0]) * H
    expected = [False, False, True, True, False, True, True, False, True]
    assert schedule_at(SHOP, clock).tolist() == expected


def test_a_span_through_midnight():
    clock = np.array([21.99, 22.0, 24.0, 5.99, 6.0, 12.0]) * H
    assert schedule_at(NIGHT, clock).tolist() == [False, True, True, True, False, False]
    assert switching_times_s(NIGHT) == (6 * H, 22 * H)


def test_no_schedule_is_always_and_an_empty_one_never():
    assert schedule_at(None, [1.0, 2.0]).all()
    assert not schedule_at((), [1.0, 2.0]).any()
    assert schedule_at(((0.0, DAY_S),), np.arange(0.0, DAY_S, 600.0)).all()
    assert not schedule_at(((8 * H, 8 * H),), np.arange(0.0, DAY_S, 600.0)).any()
    assert schedule_at(None, 5.0).shape == ()


def test_shares_of_hours():
    share = schedule_share(SHOP, np.arange(24) * H, H)
    assert share.sum() == pytest.approx(8.5)
    assert share[17] == pytest.approx(0.5)
    assert schedule_share(None, [0.0, H], H).tolist() == [1.0, 1.0]
    # A step of two hours from 23:00 on meets one hour of the night before midnight and one after.
    assert schedule_share(((22 * H, 1 * H),), [23 * H], 2 * H)[0] == pytest.approx(1.0)
    assert schedule_share(((0.0, 0.5 * H),), [23 * H], 2 * H)[0] == pytest.approx(0.25)


def test_overlapping_spans_count_once():
    double = ((8 * H, 12 * H), (10 * H, 14 * H))
    assert schedule_share(double, np.arange(24) * H, H).sum() == pytest.approx(6.0)
    assert switching_times_s(double) == (8 * H, 14 * H)


def test_switchings():
    assert switching_times_s(None) == ()
    assert switching_times_s(((0.0, DAY_S),)) == ()
    assert switching_times_s(((0.0, 6 * H), (20 * H, DAY_S))) == (6 * H, 20 * H)
    assert switching_times_s(((0.0, 6 * H),)) == (0.0, 6 * H)


def test_a_step_must_fit_into_a_day():
    for step_s in (0.0, -1.0, 2 * DAY_S, float("nan")):
        with pytest.raises(ValueError, match="within a day"):
            schedule_share(SHOP, [0.0], step_s)


spans = st.lists(
    st.tuples(st.integers(0, 96), st.integers(0, 96)).map(
        lambda pair: (900.0 * pair[0], 900.0 * pair[1])
    ),
    max_size=4,
)


@given(spans)
def test_shares_and_instants_tell_the_same(schedule):
    # Spans on quarters of an hour: the share of a quarter is what holds in its middle.
    starts = np.arange(96) * 900.0
    np.testing.assert_allclose(
        schedule_share(schedule, starts, 900.0), schedule_at(schedule, starts + 450.0)
    )


@given(spans)
def test_between_switchings_nothing_changes(schedule):
    edges = [0.0, *switching_times_s(schedule), DAY_S]
    for start, end in pairwise(edges):
        inside = np.linspace(start, end, 9)[1:-1] if end > start else []
        assert len(set(schedule_at(schedule, inside).tolist())) <= 1
