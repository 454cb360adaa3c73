"""What a module can do at best."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from coldwright.physics import module_limits as ml
from coldwright.physics.thermoelectric import (
    cold_side_heat,
    module_cop,
    module_power,
)

DA_ROSA = "A. V. da Rosa, Fundamentals of Renewable Energy Processes, refrigerator design example"
HANDBOOK = "Mechanical Engineers' Handbook vol. 4, Cooling electronic equipment, eqs 111-123"
MODULE = (0.0513333, 1.984889, 0.525412)

modules = st.tuples(st.floats(0.01, 0.1), st.floats(0.5, 5.0), st.floats(0.1, 2.0))


@pytest.mark.published(DA_ROSA)
def test_a_couple_designed_for_best_cop():
    # Two materials, 0.015 and 0.010 W/cm/K, 0.002 and 0.003 ohm cm; 0.1 W from -15 to 40 degC.
    product = (np.sqrt(1.5 * 2e-5) + np.sqrt(1.0 * 3e-5)) ** 2
    assert product == pytest.approx(1.2e-4, rel=1e-3)

    def surplus(resistance_ohm):
        couple = (0.0006, resistance_ohm, product / resistance_ohm)
        current_A = ml.current_best_cop(258.15, 313.15, *couple)
        return float(cold_side_heat(current_A, 258.15, 313.15, *couple)) - 0.1

    resistance_ohm = brentq(surplus, 0.01, 0.1, xtol=1e-12)
    couple = (0.0006, resistance_ohm, product / resistance_ohm)
    assert resistance_ohm == pytest.approx(0.0335349, rel=1e-3)
    assert couple[2] == pytest.approx(0.00357836, rel=1e-3)
    assert ml.figure_of_merit(*couple) == pytest.approx(3.0e-3, rel=1e-3)
    assert ml.current_best_cop(258.15, 313.15, *couple) == pytest.approx(2.71312, rel=1e-3)
    assert ml.best_cop(258.15, 313.15, *couple) == pytest.approx(0.297278, rel=1e-3)
    assert ml.coldest_face(313.15, *couple) - 273.15 == pytest.approx(-40.91, abs=0.01)


@pytest.mark.published(HANDBOOK)
def test_limits_of_a_generic_module():
    # Worked out from the handbook's forms apart from this code; 0.05 %.
    current_A = ml.current_best_cop(290.0, 310.0, *MODULE)
    assert current_A == pytest.approx(1.58709, rel=5e-4)
    assert ml.best_cop(290.0, 310.0, *MODULE) == pytest.approx(1.60180, rel=5e-4)
    assert module_cop(current_A, 290.0, 310.0, *MODULE) == pytest.approx(1.60180, rel=5e-4)
    heat_W = cold_side_heat(current_A, 290.0, 310.0, *MODULE)
    assert heat_W == pytest.approx(10.618, rel=5e-4)
    assert ml.largest_lift(290.0, *MODULE) == pytest.approx(106.25, rel=5e-4)
    assert ml.cop_largest_pumping(290.0, 310.0, *MODULE) == pytest.approx(0.379696, rel=5e-4)
    most_A = ml.current_largest_lift(290.0, *MODULE[:2])
    by_parts = cold_side_heat(most_A, 290.0, 310.0, *MODULE) / module_power(
        most_A, 290.0, 310.0, *MODULE[:2]
    )
    assert by_parts == pytest.approx(0.379696, rel=5e-4)


@pytest.mark.published("Field and Blum 1979 (abstract): Z 2.69e-3, hot junction 27 degC, -40 degC")
def test_the_cold_limit_of_a_measured_two_element_cooler():
    # Z = S^2 / (R K) is all that matters here. The measurement includes losses: -46 to -38.
    coldest_C = ml.coldest_face(300.15, np.sqrt(2.69e-3), 1.0, 1.0) - 273.15
    assert coldest_C == pytest.approx(-43.8, abs=0.05)
    assert -46.0 <= coldest_C <= -38.0


@settings(deadline=None)  # the first call may compile
@given(modules, st.floats(240.0, 320.0), st.floats(0.02, 0.9))
def test_no_current_beats_the_stated_best(module, cold_K, share):
    # A numerical search that knows nothing of the closed forms.
    hot_K = cold_K + share * float(ml.largest_lift(cold_K, *module))
    most_A = float(ml.current_largest_lift(cold_K, *module[:2]))
    search = minimize_scalar(
        lambda i: -float(cold_side_heat(i, cold_K, hot_K, *module)),
        bounds=(0.0, 3.0 * most_A),
        method="bounded",
        options={"xatol": 1e-9 * most_A},
    )
    assert search.x == pytest.approx(most_A, rel=1e-5)
    assert -search.fun == pytest.approx(
        float(ml.largest_pumping(cold_K, hot_K, *module)), rel=1e-8, abs=1e-9
    )
    search = minimize_scalar(
        lambda i: -float(module_cop(i, cold_K, hot_K, *module)),
        bounds=(0.01 * most_A, 2.0 * most_A),
        method="bounded",
        options={"xatol": 1e-9 * most_A},
    )
    best = float(ml.best_cop(cold_K, hot_K, *module))
    assert -search.fun == pytest.approx(best, rel=1e-6)
    assert best < cold_K / (hot_K - cold_K)  # Carnot


@settings(deadline=None)  # the first call may compile
@given(modules, st.floats(240.0, 320.0))
def test_largest_lift_and_coldest_face_are_one_statement(module, cold_K):
    hot_K = cold_K + float(ml.largest_lift(cold_K, *module))
    assert ml.coldest_face(hot_K, *module) == pytest.approx(cold_K, rel=1e-10)
    assert ml.largest_pumping(cold_K, hot_K, *module) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.published("identity of two stages; github.com/DmitryMyadzelets/epicx, week 29")
def test_two_stages():
    assert ml.cascade_cop(1.0, 1.0) == pytest.approx(1.0 / 3.0, rel=1e-3)
    # A first stage of 1.93 W heat and 1.74 W power hands the journal's 3.67 W to the second.
    second_cop = 0.5
    first_cop = 1.93 / 1.74
    second_power_W = 3.67 / second_cop
    whole = 1.93 / (1.74 + second_power_W)
    assert ml.cascade_cop(first_cop, second_cop) == pytest.approx(whole, rel=1e-3)


def test_outside_their_range_the_limits_are_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(ml.figure_of_merit(0.05, 0.0, 0.5))
        assert np.isnan(ml.largest_lift(-1.0, *MODULE))
        assert np.isnan(ml.coldest_face(np.nan, *MODULE))
        assert np.isnan(ml.current_largest_lift(290.0, 0.05, 0.0))
        assert np.isnan(ml.best_cop(290.0, 290.0, *MODULE))
        assert np.isnan(ml.best_cop(290.0, 400.0, *MODULE))  # beyond the largest lift
        assert np.isnan(ml.current_best_cop(300.0, 290.0, *MODULE))
        assert np.isnan(ml.cop_largest_pumping(300.0, 290.0, *MODULE))
        assert np.isnan(ml.largest_pumping(0.0, 290.0, *MODULE))
        assert np.isnan(ml.cascade_cop(0.0, 1.0))
    assert ml.best_cop([290.0, 295.0], 310.0, *MODULE).shape == (2,)
