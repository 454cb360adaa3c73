"""A power transistor as a linear stage."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from coldwright.physics import transistor as tr

SQUARE_LAW = "square law of the MOSFET, textbooks of electronics: I = k/2 (Vgs - Vth)^2"
SPIRITO = "P. Spirito et al., ISPSD 2002, thermal instability of MOSFETs (from memory); by hand"
# 12 V, threshold 3 V, 30 A/V^2, a fan of 0.35 A.
THRESHOLD_V, GAIN, FAN_OHM, SUPPLY_V = 3.0, 30.0, 12.0 / 0.35, 12.0


@pytest.mark.published("thermal Ohm's law by hand; 62 K/W of a bare TO-220 case (from memory)")
@pytest.mark.parametrize(
    ("heat_W", "chain_K_W", "junction_C"),
    [(1.05, (62.0, 0.0, 0.0), 110.1), (4.2, (1.5, 0.5, 10.0), 95.4), (4.2, (62.0, 0, 0), 305.4)],
)
def test_junction_temperatures(heat_W, chain_K_W, junction_C):
    found_C = tr.junction_temperature(318.15, heat_W, *chain_K_W) - 273.15
    assert found_C == pytest.approx(junction_C, abs=0.5)


def test_the_sink_wanted_keeps_the_limit():
    wanted_K_W = tr.sink_resistance_wanted(318.15, 383.15, 4.2, 2.0)
    assert tr.junction_temperature(318.15, 4.2, 1.5, 0.5, wanted_K_W) == pytest.approx(383.15)
    assert tr.sink_resistance_wanted(318.15, 330.0, 20.0, 2.0) < 0.0


@pytest.mark.published(SQUARE_LAW)
def test_a_knob_on_the_gate_is_nearly_a_switch():
    def fan_V(knob):
        return float(
            tr.common_source_fan_voltage(12.0 * knob, THRESHOLD_V, GAIN, FAN_OHM, SUPPLY_V)
        )

    assert fan_V(0.2499) == 0.0
    assert fan_V(0.2501) > 0.0
    assert fan_V(0.2600) == pytest.approx(7.41, rel=5e-3)
    share = tr.common_source_travel_share(SUPPLY_V, 12.0, GAIN, FAN_OHM)
    assert share == pytest.approx(0.0127, rel=5e-3)
    # At the end of that travel the fan has all but the tenth of a volt the transistor keeps.
    assert fan_V(0.2627) > 0.98 * SUPPLY_V
    assert fan_V(0.40) > 0.999 * SUPPLY_V
    # The spread of the threshold, half a volt, is three times the whole travel.
    assert 3.0 * share < 0.5 / 12.0


# Against: drain current of the square law in both regions equated with the fan's (brentq).
@pytest.mark.parametrize("gate_V", [3.05, 3.12, 3.1495, 3.16, 3.3, 5.0, 10.0])
def test_both_regions_of_the_transistor(gate_V):
    over_V = gate_V - THRESHOLD_V

    def surplus_A(fan_V):
        left_V = SUPPLY_V - fan_V
        if left_V >= over_V:
            drain_A = 0.5 * GAIN * over_V**2
        else:
            drain_A = GAIN * (over_V * left_V - 0.5 * left_V**2)
        return drain_A - fan_V / FAN_OHM

    found_V = tr.common_source_fan_voltage(gate_V, THRESHOLD_V, GAIN, FAN_OHM, SUPPLY_V)
    assert found_V == pytest.approx(brentq(surplus_A, 0.0, SUPPLY_V, xtol=1e-13), rel=1e-9)


@pytest.mark.published(SQUARE_LAW)
@pytest.mark.parametrize(
    ("knob", "fan_V"), [(0.2, 0.0), (0.3, 0.567), (0.5, 2.925), (0.75, 5.893), (1.0, 8.869)]
)
def test_a_follower_is_smooth_but_loses_three_volts(knob, fan_V):
    gate_V = 12.0 * knob
    found_V = tr.source_follower_fan_voltage(gate_V, THRESHOLD_V, GAIN, FAN_OHM, SUPPLY_V)
    assert found_V == pytest.approx(fan_V, abs=0.01)
    # The loop closes: gate, less fan, less threshold is the overdrive of that current.
    if found_V > 0.0:
        over_V = tr.overdrive_at_current(found_V / FAN_OHM, GAIN)
        assert gate_V - found_V - THRESHOLD_V == pytest.approx(over_V, rel=1e-9)


@pytest.mark.published(SPIRITO)
def test_warmth_draws_more_current():
    assert tr.overdrive_at_current(0.3, 30.0) == pytest.approx(0.14142, rel=1e-2)
    drift = tr.drain_current_drift(0.3, 300.0, 30.0, -5e-3, -1.5)
    assert drift == pytest.approx(0.019713, rel=1e-2)
    assert tr.thermal_stability_index(5.0, 5.0, drift) == pytest.approx(0.493, rel=1e-2)
    assert tr.thermal_stability_index(62.0, 5.0, drift) == pytest.approx(6.11, rel=1e-2)
    over_V = tr.zero_drift_overdrive(300.0, -5e-3, -1.5)
    assert over_V == pytest.approx(2.0, rel=1e-2)
    current_A = 0.5 * 30.0 * over_V**2
    assert current_A == pytest.approx(60.0, rel=1e-2)
    assert tr.drain_current_drift(current_A, 300.0, 30.0, -5e-3, -1.5) == pytest.approx(
        0.0, abs=1e-9
    )


# Against: a difference of the square law itself.
def test_the_drift_is_the_slope_of_the_square_law():
    gate_V = 3.0 + float(tr.overdrive_at_current(0.3, 30.0))

    def current_A(kelvin):
        gain = 30.0 * (kelvin / 300.0) ** -1.5
        return 0.5 * gain * (gate_V - (3.0 - 5e-3 * (kelvin - 300.0))) ** 2

    slope = (current_A(300.01) - current_A(299.99)) / 0.02
    assert tr.drain_current_drift(0.3, 300.0, 30.0, -5e-3, -1.5) == pytest.approx(slope, rel=1e-6)


# Against: power of the stage over current, Vs - 2 V, by hand: changes its sign at half the supply.
def test_the_whole_stage_is_stable_above_half_the_supply():
    for fan_V, stable in ((4.0, False), (8.0, True)):
        index = tr.thermal_stability_index(62.0, 12.0 - 2.0 * fan_V, 0.0197)
        assert (index < 0.0) == stable


def test_outside_their_range_is_nan():
    assert np.isnan(tr.junction_temperature(318.15, -1.0, 62.0, 0.0, 0.0))
    assert np.isnan(tr.sink_resistance_wanted(318.15, 300.0, 1.0, 1.0))
    assert np.isnan(tr.overdrive_at_current(-1.0, 30.0))
    assert np.isnan(tr.common_source_fan_voltage(3.1, 3.0, 0.0, 34.0, 12.0))
    assert np.isnan(tr.common_source_travel_share(12.0, 0.0, 30.0, 34.0))
    assert np.isnan(tr.source_follower_fan_voltage(3.1, 3.0, 30.0, 0.0, 12.0))
    assert np.isnan(tr.drain_current_drift(-0.1, 300.0, 30.0, -5e-3, -1.5))
    assert np.isnan(tr.thermal_stability_index(-1.0, 5.0, 0.02))
    assert np.isnan(tr.zero_drift_overdrive(300.0, 5e-3, -1.5))
