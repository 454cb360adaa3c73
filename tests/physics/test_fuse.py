"""Fuses: two standards kept apart."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import fuse

UL = "UL 248-14: holds 100 %, opens at 135 % within 1 h, at 200 % within 2 min; 75 % by design"
IEC = "IEC 60127: rated at its working current, holds 150 % for 1 h, opens by 210 %"
ISO = "ISO 8820-3, blade fuses (from memory): gates at 110, 135, 200, 350, 600 %"


@pytest.mark.practice
@pytest.mark.published(UL)
def test_the_north_american_number_is_loaded_to_three_quarters():
    assert fuse.fuse_rating_ul(8.0) == pytest.approx(10.67, abs=0.005)
    assert fuse.fuse_longest_time_ul([1.0, 1.34]).tolist() == [np.inf, np.inf]
    assert fuse.fuse_longest_time_ul([1.35, 1.99, 2.0]).tolist() == [3600.0, 3600.0, 120.0]


@pytest.mark.practice
@pytest.mark.published(IEC)
def test_the_international_number_is_the_working_current():
    assert fuse.fuse_rating_iec(8.0) == 8.0
    # Half more than printed is no overload to it; the other standard's fuse is gone by then.
    assert fuse.fuse_longest_time_iec([1.0, 1.5, 2.0]).tolist() == [np.inf] * 3
    assert np.isfinite(fuse.fuse_longest_time_iec(2.1))
    assert np.isfinite(fuse.fuse_longest_time_ul(1.5))


# ISO 8820-3: share of the rating, shortest, longest [s].
GATES = [(1.10, 360000.0, np.inf), (1.35, 0.75, 600.0), (2.0, 0.15, 5.0), (3.5, 0.04, 0.5),
         (6.0, 0.02, 0.1)]  # fmt: skip


@pytest.mark.practice
@pytest.mark.published(ISO)
@pytest.mark.parametrize(("ratio", "shortest_s", "longest_s"), GATES)
def test_gates_of_blade_fuses(ratio, shortest_s, longest_s):
    assert fuse.blade_fuse_shortest_time(ratio) == shortest_s
    assert fuse.blade_fuse_longest_time(ratio) == longest_s


def test_between_the_gates_the_cautious_side_counts():
    ratios = np.linspace(0.0, 6.0, 601)
    shortest, longest = fuse.blade_fuse_shortest_time(ratios), fuse.blade_fuse_longest_time(ratios)
    assert np.all(shortest < longest)
    assert np.all(shortest[1:] <= shortest[:-1])
    assert np.all(longest[1:] <= longest[:-1])
    assert fuse.blade_fuse_longest_time(1.99) == 600.0
    assert fuse.blade_fuse_shortest_time(1.99) == 0.15


@pytest.mark.published("IEC 60364-4-43, 433.1: In <= Iz and I2 <= 1.45 Iz (from memory)")
@pytest.mark.parametrize(("ratio", "rating_A"), [(1.35, 10.0), (1.45, 10.0), (2.1, 6.905)])
def test_a_fuse_protects_a_wire_only_if_it_opens_in_time(ratio, rating_A):
    found_A = fuse.largest_fuse_for_wire(10.0, ratio)
    assert found_A == pytest.approx(rating_A, abs=1e-3)
    assert found_A <= 10.0
    assert ratio * found_A <= 14.5 * (1.0 + 1e-12)


def test_outside_their_range_is_nan():
    assert np.isnan(fuse.fuse_rating_ul(-1.0))
    assert np.isnan(fuse.fuse_rating_iec(-1.0))
    assert np.isnan(fuse.fuse_longest_time_ul([-1.0, np.nan])).all()
    assert np.isnan(fuse.fuse_longest_time_iec([-1.0, np.nan])).all()
    assert np.isnan(fuse.blade_fuse_longest_time([-1.0, np.nan])).all()
    assert np.isnan(fuse.blade_fuse_shortest_time([-1.0, 6.1, np.nan])).all()
    assert np.isnan(fuse.largest_fuse_for_wire(10.0, 0.5))
