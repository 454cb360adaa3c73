"""Fans."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from coldwright.physics import fan

FAN_LAWS = "fan laws, ASHRAE Handbook HVAC Systems and Equipment, chapter on fans"
STALL_PA, FREE_M3_S = 180.0, 300.0 / 3600.0


def _system_Pa(flow_m3_s):
    return 60.0 * (flow_m3_s / (200.0 / 3600.0)) ** 2


# Against: parabola and square-law system intersected by hand.
def test_a_fan_against_a_system():
    flow_m3_s = brentq(
        lambda q: float(fan.fan_pressure_quadratic(q, STALL_PA, FREE_M3_S)) - _system_Pa(q),
        0.0,
        FREE_M3_S,
        xtol=1e-12,
    )
    pressure_Pa = fan.fan_pressure_quadratic(flow_m3_s, STALL_PA, FREE_M3_S)
    assert flow_m3_s * 3600.0 == pytest.approx(226.78, rel=1e-3)
    assert pressure_Pa == pytest.approx(77.14, rel=1e-3)
    assert fan.air_power(flow_m3_s, pressure_Pa) == pytest.approx(4.86, rel=1e-3)
    electrical_W = fan.fan_electrical_power(flow_m3_s, pressure_Pa, 0.30)
    assert electrical_W == pytest.approx(16.2, rel=1e-3)


@pytest.mark.published(FAN_LAWS)
def test_the_same_fan_at_eighty_percent_speed():
    # Intersected anew with the slowed curve: the fan laws must land on the same point.
    stall_Pa = float(fan.pressure_at_speed(STALL_PA, 0.8, 1.0))
    free_m3_s = float(fan.flow_at_speed(FREE_M3_S, 0.8))
    flow_m3_s = brentq(
        lambda q: float(fan.fan_pressure_quadratic(q, stall_Pa, free_m3_s)) - _system_Pa(q),
        0.0,
        free_m3_s,
        xtol=1e-12,
    )
    pressure_Pa = float(fan.fan_pressure_quadratic(flow_m3_s, stall_Pa, free_m3_s))
    assert flow_m3_s * 3600.0 == pytest.approx(181.42, rel=1e-3)
    assert pressure_Pa == pytest.approx(49.37, rel=1e-3)
    assert fan.fan_electrical_power(flow_m3_s, pressure_Pa, 0.30) == pytest.approx(8.29, rel=1e-3)
    assert fan.flow_at_speed(226.78 / 3600.0, 0.8) * 3600.0 == pytest.approx(181.42, rel=1e-3)
    assert fan.pressure_at_speed(77.14, 0.8, 1.0) == pytest.approx(49.37, rel=1e-3)
    assert fan.power_at_speed(16.2, 0.8, 1.0) == pytest.approx(8.29, rel=1e-3)


# Against: definitions by hand: 200 m3/h, 75 Pa, 0.30, air of 1.2 kg/m3.
def test_power_and_warming():
    assert fan.fan_electrical_power(200.0 / 3600.0, 75.0, 0.30) == pytest.approx(13.9, rel=5e-3)
    rise_K = fan.air_temperature_rise(75.0, 0.30, 1.2, 1006.0)
    assert rise_K == pytest.approx(0.207, rel=5e-3)
    # The two are one statement: the power over the air's heat-capacity flow.
    by_power_K = fan.fan_electrical_power(0.05, 75.0, 0.30) / (0.05 * 1.2 * 1006.0)
    assert rise_K == pytest.approx(by_power_K, rel=1e-12)


@settings(deadline=None)  # the first call may compile
@given(st.floats(0.0, 0.2), st.floats(0.0, 2.0), st.floats(0.2, 1.5))
def test_air_power_follows_the_third_law(flow_m3_s, speed, density):
    pressure_Pa = 55.0
    power_W = float(fan.air_power(flow_m3_s, pressure_Pa))
    changed_W = fan.air_power(
        fan.flow_at_speed(flow_m3_s, speed), fan.pressure_at_speed(pressure_Pa, speed, density)
    )
    assert fan.power_at_speed(power_W, speed, density) == pytest.approx(
        float(changed_W), rel=1e-12, abs=1e-12
    )


def test_the_parabola_always_falls():
    flows = np.linspace(-0.5 * FREE_M3_S, 1.5 * FREE_M3_S, 201)
    pressures = fan.fan_pressure_quadratic(flows, STALL_PA, FREE_M3_S)
    assert np.all(np.diff(pressures) < 1e-12)
    assert fan.fan_pressure_quadratic(0.0, STALL_PA, FREE_M3_S) == STALL_PA
    assert fan.fan_pressure_quadratic(FREE_M3_S, STALL_PA, FREE_M3_S) == 0.0
    assert pressures[-1] < 0.0


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(fan.flow_at_speed(0.1, -1.0))
        assert np.isnan(fan.pressure_at_speed(50.0, 1.0, -0.1))
        assert np.isnan(fan.power_at_speed(-5.0, 1.0, 1.0))
        assert np.isnan(fan.fan_pressure_quadratic(0.1, 50.0, 0.0))
        assert np.isnan(fan.fan_electrical_power(0.1, 50.0, [0.0, 1.1, np.nan])).all()
        assert np.isnan(fan.air_temperature_rise(50.0, 0.3, 0.0, 1006.0))
    assert np.isnan(fan.air_power(np.nan, 50.0))
