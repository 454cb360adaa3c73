"""Three constants from ratings, and a resistance from an alternating current."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import module_ratings as mr
from coldwright.physics.thermoelectric import cold_side_heat, module_voltage

ARTICLE = (
    "A simple method to estimate the physical characteristics of a thermoelectric cooler from "
    "vendor datasheets, Electronics Cooling, Aug 2008 (formulas from memory, derived anew)"
)
# Invented: hot face 300 K, lift 68 K, 6.0 A, 15.4 V.
RATED = (300.0, 68.0, 6.0, 15.4)


@pytest.mark.published(ARTICLE)
def test_constants_from_generic_ratings():
    # Closed formulas: 0.01 %.
    seebeck_V_K = mr.seebeck_from_ratings(300.0, 15.4)
    resistance_ohm = mr.resistance_from_ratings(*RATED)
    conductance_W_K = mr.conductance_from_ratings(*RATED)
    assert seebeck_V_K == pytest.approx(0.0513333, rel=1e-4)
    assert resistance_ohm == pytest.approx(1.984889, rel=1e-4)
    assert conductance_W_K == pytest.approx(0.525412, rel=1e-4)
    merit_1_K = seebeck_V_K**2 / (resistance_ohm * conductance_W_K)
    assert merit_1_K == pytest.approx(2.52675e-3, rel=1e-4)


@pytest.mark.published(ARTICLE)
def test_the_largest_heat_is_not_free():
    assert mr.heat_from_ratings(*RATED) == pytest.approx(56.67, rel=1e-4)
    constants = (
        mr.seebeck_from_ratings(300.0, 15.4),
        mr.resistance_from_ratings(*RATED),
        mr.conductance_from_ratings(*RATED),
    )
    at_rated_W = cold_side_heat(6.0, 300.0, 300.0, *constants)
    assert at_rated_W == pytest.approx(56.67, rel=1e-4)
    # More current than rated pumps a little more at no lift.
    currents_A = np.linspace(6.0, 10.0, 4001)
    heats_W = cold_side_heat(currents_A, 300.0, 300.0, *constants)
    assert heats_W.max() == pytest.approx(59.74, rel=1e-4)
    assert currents_A[np.argmax(heats_W)] == pytest.approx(7.76, abs=0.005)


@settings(deadline=None)  # the first call may compile
@given(st.floats(280.0, 350.0), st.floats(30.0, 90.0), st.floats(0.5, 30.0), st.floats(1.0, 40.0))
def test_the_ratings_come_back(hot_K, difference_K, current_A, voltage_V):
    rated = (hot_K, difference_K, current_A, voltage_V)
    seebeck_V_K = mr.seebeck_from_ratings(hot_K, voltage_V)
    resistance_ohm = mr.resistance_from_ratings(*rated)
    conductance_W_K = mr.conductance_from_ratings(*rated)
    cold_K = hot_K - difference_K
    power_W = current_A * voltage_V
    heat_W = cold_side_heat(current_A, cold_K, hot_K, seebeck_V_K, resistance_ohm, conductance_W_K)
    assert heat_W == pytest.approx(0.0, abs=1e-11 * power_W)
    back_V = module_voltage(current_A, cold_K, hot_K, seebeck_V_K, resistance_ohm)
    assert back_V == pytest.approx(voltage_V, rel=1e-11)
    # That current is the best one: a little more or less cools less.
    for factor in (0.97, 1.03):
        off_W = cold_side_heat(
            factor * current_A, cold_K, hot_K, seebeck_V_K, resistance_ohm, conductance_W_K
        )
        assert off_W < 0.0


@pytest.mark.published("open lab journal, github.com/DmitryMyadzelets/epicx, week 22; Ohm's law")
def test_resistance_from_a_divider_and_the_slip_that_was_published():
    # 128.4 mV over both, 85.2 mV over the resistor of 10.2 ohm; the journal printed 14.4 ohm.
    found_ohm = mr.resistance_from_divider(10.2, 0.1284, 0.0852)
    assert found_ohm == pytest.approx(5.18, rel=0.01)
    slip_ohm = 10.2 * 0.1284 / 0.0852 - 1.0
    assert slip_ohm == pytest.approx(14.4, rel=0.01)
    assert slip_ohm / found_ohm == pytest.approx(2.8, rel=0.02)


def test_impossible_ratings_are_nan():
    with np.errstate(all="ignore"):
        for law in (
            mr.resistance_from_ratings,
            mr.conductance_from_ratings,
            mr.heat_from_ratings,
        ):
            assert np.isnan(law(300.0, 300.0, 6.0, 15.4))
            assert np.isnan(law(300.0, 0.0, 6.0, 15.4))
            assert np.isnan(law(300.0, 68.0, 0.0, 15.4))
            assert np.isnan(law(300.0, 68.0, 6.0, np.nan))
            assert law(300.0, [60.0, 70.0], 6.0, 15.4).shape == (2,)
        assert np.isnan(mr.seebeck_from_ratings(0.0, 15.4))
        assert np.isnan(mr.resistance_from_divider(10.0, 0.05, 0.10))
