"""Wet and frozen insulation against the standard's rule and the ends of the mean."""

import numpy as np
import pytest

from coldwright.physics.damp import (
    ICE_W_MK,
    WATER_W_MK,
    damp_conductivity_factor,
    frozen_conductivity_factor,
)

# exp(f psi) by a table of exponentials: e^0.4 = 1.4918, e^0.25 = 1.2840, e^0.9 = 2.4596.
ROWS = [(4.0, 0.10, 1.4918), (2.5, 0.10, 1.2840), (6.0, 0.15, 2.4596), (5.0, 0.0, 1.0)]


@pytest.mark.published("ISO 10456:2007, 7.3, with the coefficients of table 4 (from memory)")
@pytest.mark.parametrize(("coefficient", "share", "factor"), ROWS)
def test_damp_foam_conducts_better(coefficient, share, factor):
    assert damp_conductivity_factor(coefficient, share) == pytest.approx(factor, rel=1e-4)


@pytest.mark.practice
def test_damp_foam_insulates_about_half_as_well():
    # The trade's saying, for foam with some 10 to 15 percent of water.
    assert 1.4 < damp_conductivity_factor(4.0, 0.12) < 2.5


@pytest.mark.published("ASHRAE Handbook Fundamentals ch. 33: ice at 0 degC 2.2; IAPWS: water 0.56")
def test_ice_for_water():
    assert pytest.approx(2.2, rel=0.02) == ICE_W_MK
    assert pytest.approx(0.561, rel=0.005) == WATER_W_MK
    # A quarter of the volume: the fourth root of the ratio, 3.96^0.25 = 1.411.
    assert frozen_conductivity_factor(0.25) == pytest.approx(1.411, rel=1e-3)
    assert frozen_conductivity_factor(0.0) == 1.0


def test_outside_the_range_there_is_no_number():
    assert np.isnan(damp_conductivity_factor([-1.0, 21.0, 4.0, 4.0], [0.1, 0.1, -0.1, 0.6])).all()
    assert np.isnan(frozen_conductivity_factor([-0.01, 0.51, np.nan])).all()
