"""Ice and cold stores against the properties of water and the lumped equation."""

import math

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from coldwright.physics.water_store import CP_ICE, MELTING_J_KG, hold_time, ice_heat, ice_rate

quick = settings(deadline=None)


@pytest.mark.published("IAPWS R10-06(2009), table 6: ice at 273.1525 K, 1 atm (from memory)")
def test_melting():
    # Ice -333.355 kJ/kg and 2096.7 J/(kg K); water there 0.061 kJ/kg by IAPWS-95.
    water = PropsSI("H", "T", 273.16, "P", 101325.0, "Water")
    assert water + 333_355.0 == pytest.approx(MELTING_J_KG, rel=0.001)
    # At -20 °C 1957 J/(kg K), so 2027 in the mean; the constant's 1 % matters 0.1 % of the whole.
    assert pytest.approx(0.5 * (2096.7 + 1957.0), rel=0.02) == CP_ICE


@pytest.mark.published(
    "ASHRAE Fundamentals chapter 1, table of water at saturation: solid -374.06 kJ/kg at -20 °C "
    "(from memory); IAPWS-95 water by CoolProp"
)
@pytest.mark.parametrize("final_C", [0.01, 10.0, 20.0])
def test_ice_heat(final_C):
    known = PropsSI("H", "T", final_C + 273.15, "P", 101325.0, "Water") + 374_060.0
    assert ice_heat(253.15, final_C + 273.15) == pytest.approx(known, rel=0.005)


@pytest.mark.published("333.4 kJ/kg; 100 W a day are 8640 kJ, by hand")
def test_ice_a_day():
    assert 86400.0 * ice_rate(100.0, 273.15, 273.15) == pytest.approx(8640.0 / 333.4, rel=1e-3)
    assert ice_rate(0.0, 260.0, 290.0) == 0.0


@pytest.mark.published("lumped room by hand: 120 kJ/K, 8 W/K, -40 W, all at 30 °C at first")
def test_time_to_27_degrees():
    # It levels off at 25 °C with a time constant of 15,000 s.
    assert hold_time(-40.0, 303.15, 300.15, 303.15, 8.0, 120e3) == pytest.approx(13744.4, abs=0.05)
    # 28.9331 °C after an hour, 26.9145 °C after four.
    for celsius, seconds in ((28.9331, 3600.0), (26.9145, 14400.0)):
        found = hold_time(-40.0, 303.15, celsius + 273.15, 303.15, 8.0, 120e3)
        assert found == pytest.approx(seconds, abs=1.0)


@pytest.mark.published("the same equation, integrated numerically (scipy)")
@pytest.mark.parametrize(
    ("heat", "start", "end", "outside"),
    [(0.0, 278.15, 288.15, 303.15), (15.0, 278.15, 300.15, 303.15), (-30.0, 303.15, 290.0, 300.0)],
)
def test_against_integration(heat, start, end, outside):
    def rate(_, kelvin):
        return (heat + 1.5 * (outside - kelvin)) / 42e3

    def reached(_, kelvin):
        return kelvin[0] - end

    reached.terminal = True
    run = solve_ivp(rate, (0.0, 1e7), [start], events=reached, rtol=1e-10, atol=1e-9)
    assert hold_time(heat, start, end, outside, 1.5, 42e3) == pytest.approx(
        run.t_events[0][0], rel=1e-6
    )


@quick
@given(st.floats(-50.0, 50.0), st.floats(270.0, 320.0), st.floats(270.0, 320.0))
def test_never_or_in_time(heat, start, end):
    found = hold_time(heat, start, end, 300.0, 2.0, 50e3)
    level = 300.0 + heat / 2.0
    on_the_way = min(start, level) < end < max(start, level)
    assert math.isfinite(found) == (on_the_way or start == end)
    assert found >= 0.0


def test_range():
    assert np.isnan(ice_heat(np.array([230.0, 274.0, math.nan]), 280.0)).all()
    assert np.isnan(ice_heat(260.0, np.array([270.0, 380.0]))).all()
    assert np.isnan(ice_rate(-1.0, 260.0, 280.0))
    assert np.isnan(hold_time(0.0, 280.0, 290.0, 300.0, 0.0, 1e4))
    assert np.isnan(hold_time(math.inf, 280.0, 290.0, 300.0, 1.0, 1e4))
    assert hold_time(0.0, 280.0, 280.0, 300.0, 1.0, 1e4) == 0.0
