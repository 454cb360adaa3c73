"""Mains and touch: numbers of a tester's report."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import mains
from coldwright.physics.conductor import cable_resistance_per_m

EARTH = "EN 50106, routine test: 0.1 ohm, with a cord 0.2 ohm or 0.1 ohm and the cord"
LEAKAGE = "IEC 60335-1, 13.2: 1.06 of 230 V; portable class I at most 0.75 mA"


@pytest.mark.published(EARTH)
def test_continuity_of_the_earth():
    found_ohm = mains.resistance_measured(1.90, 25.0)
    assert found_ohm == pytest.approx(0.076, rel=5e-3)
    assert found_ohm <= mains.earth_continuity_limit(0.0)
    cord_ohm = 1.5 * cable_resistance_per_m(0.75)
    assert mains.earth_continuity_limit(cord_ohm) == pytest.approx(0.139, rel=5e-3)


@pytest.mark.published(LEAKAGE)
@pytest.mark.parametrize(
    ("supplies", "current_mA", "passes"), [(1, 0.337, True), (3, 1.011, False)]
)
def test_leakage_of_several_supplies_adds(supplies, current_mA, passes):
    found_A = mains.leakage_current(supplies * 2 * 2.2e-9, 1.06 * 230.0, 50.0)
    assert found_A * 1e3 == pytest.approx(current_mA, rel=5e-3)
    assert (found_A <= 0.75e-3) == passes


def test_outside_their_range_is_nan():
    assert np.isnan(mains.earth_continuity_limit([-0.1, np.nan])).all()
    assert np.isnan(mains.resistance_measured(1.0, 0.0))
    assert np.isnan(mains.leakage_current(1e-9, -1.0, 50.0))
