"""Fans driven slower: volts, linear stage, chopped supply, four-wire signal."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import fan, fan_drive, fan_signal
from coldwright.physics.transistor import junction_temperature

FOUR_WIRE = "4-Wire PWM Controlled Fans Specification: 21 to 28 kHz, 5.25 V, 2 pulses a turn"


@pytest.mark.published(FOUR_WIRE)
def test_the_four_wire_signal():
    assert fan_signal.tacho_speed(40.0, 2.0) == 1200.0
    assert fan_signal.pwm_frequency_fits([24e3, 31e3]).tolist() == [1.0, 0.0]
    assert fan_signal.pwm_frequency_fits([20.9e3, 21e3, 25e3, 28e3]).tolist() == [0, 1, 1, 1]
    assert fan_signal.pwm_drive_fits(5.0, 8e-3) == 1.0
    assert fan_signal.pwm_drive_fits([5.25, 5.3, 12.0], 8e-3).tolist() == [1.0, 0.0, 0.0]
    assert fan_signal.pwm_drive_fits(5.0, 4e-3) == 0.0


@pytest.mark.published("Joule's law by hand: 12 V, 0.35 A at 12 V, set to 7 V")
@pytest.mark.parametrize(("exponent", "heat_W"), [(1.0, 1.0208), (2.0, 0.5955)])
def test_heat_of_a_linear_stage(exponent, heat_W):
    current_A = fan_drive.fan_current(7.0, 12.0, 0.35, exponent)
    assert fan_drive.linear_stage_heat(12.0, 7.0, current_A) == pytest.approx(heat_W, rel=5e-3)


@pytest.mark.published("the same swept over the whole range; by hand Vs I / 4 and 4/27 Vs I")
@pytest.mark.parametrize(("exponent", "volts_V", "heat_W"), [(1.0, 6.0, 1.05), (2.0, 8.0, 0.6222)])
def test_a_linear_stage_is_hottest_in_the_middle(exponent, volts_V, heat_W):
    swept_V = np.linspace(0.0, 12.0, 12001)
    currents = fan_drive.fan_current(swept_V, 12.0, 0.35, exponent)
    heats = fan_drive.linear_stage_heat(12.0, swept_V, currents)
    found_V = fan_drive.linear_stage_worst_voltage(12.0, exponent)
    assert found_V == pytest.approx(volts_V, rel=5e-3)
    assert found_V == pytest.approx(swept_V[np.argmax(heats)], abs=2e-3)
    found_W = fan_drive.linear_stage_worst_heat(12.0, 12.0, 0.35, exponent)
    assert found_W == pytest.approx(heat_W, rel=5e-3)
    assert found_W == pytest.approx(heats.max(), rel=1e-6)
    assert fan_drive.linear_stage_heat(12.0, 12.0, 0.35) == 0.0


def test_a_resistive_fan_is_the_safe_assumption():
    worst = fan_drive.linear_stage_worst_heat(12.0, 12.0, 0.35, [1.0, 1.5, 2.0, 2.5])
    assert np.all(np.diff(worst) < 0.0)


@pytest.mark.published("fan laws, ASHRAE Handbook HVAC Systems and Equipment; speed as volts")
def test_twelve_volt_fan_on_seven():
    speed = fan_drive.fan_speed_at_voltage(7.0, 12.0, 7.0, 4.0, 1.0)
    assert fan.flow_at_speed(1.0, speed) == pytest.approx(0.5833, abs=5e-5)
    assert fan.pressure_at_speed(1.0, speed, 1.0) == pytest.approx(0.3403, abs=5e-5)
    assert fan.power_at_speed(1.0, speed, 1.0) == pytest.approx(0.1985, abs=5e-5)


@pytest.mark.practice
def test_a_fan_starts_at_some_seven_volts_and_then_runs_at_fewer():
    turned_up = [fan_drive.fan_speed_at_voltage(v, 12.0, 7.0, 4.0, 0.0) for v in (3.0, 6.0, 6.9)]
    assert turned_up == [0.0, 0.0, 0.0]
    assert fan_drive.fan_speed_at_voltage(7.0, 12.0, 7.0, 4.0, 0.0) == pytest.approx(7.0 / 12.0)
    turned_down = [fan_drive.fan_speed_at_voltage(v, 12.0, 7.0, 4.0, 1.0) for v in (6.0, 4.0, 3.9)]
    assert turned_down == pytest.approx([0.5, 4.0 / 12.0, 0.0])


# Against: the circuit itself: pulses through a resistor into a capacitor that the fan empties.
@pytest.mark.parametrize("duty", [0.03, 0.2, 0.7])
def test_the_input_capacitor_holds_the_crest(duty):
    supply_V, source_ohm, fan_ohm, farad, period_s = 12.0, 0.5, 60.0, 470e-6, 40e-6
    steps = 400
    step_s = period_s / steps
    volts = supply_V
    shown = []
    for period in range(3000):
        for k in range(steps):
            inward_A = max(0.0, supply_V - volts) / source_ohm if k < duty * steps else 0.0
            volts += (inward_A - volts / fan_ohm) / farad * step_s
            if period == 2999:
                shown.append(volts)
    found_V = fan_drive.chopped_fan_voltage(supply_V, duty, source_ohm, fan_ohm)
    # The capacitor empties by a thousandth within a period, the law takes it as full.
    assert found_V == pytest.approx(np.mean(shown), rel=2e-3)


@pytest.mark.practice
def test_a_chopped_two_wire_fan_jumps_to_full_speed_and_stops_instead_of_following():
    # A 12 V fan of 0.2 A behind a switch and wires of 0.5 ohm; starts at 7 V, stops at 4 V.
    def swept(duties):
        running, speeds = 0.0, []
        for duty in duties:
            volts_V = fan_drive.chopped_fan_voltage(12.0, duty, 0.5, 60.0)
            running = float(fan_drive.fan_speed_at_voltage(volts_V, 12.0, 7.0, 4.0, running))
            speeds.append(running)
        return np.array(speeds)

    knob = np.linspace(0.0, 1.0, 1001)
    up, down = swept(knob), swept(knob[::-1])[::-1]
    # From rest it jumps to more than half its speed within the first hundredths of the knob ...
    first = np.argmax(up > 0.0)
    assert up[first - 1] == 0.0
    assert up[first] > 0.58
    assert knob[first] < 0.02
    # ... is at nine tenths or above over more than nine tenths of it ...
    assert np.mean(up > 0.9) > 0.9
    # ... and turned down it stays, then stops at a lower setting than it started at.
    last = np.argmax(down > 0.0)
    assert knob[last] < knob[first]
    assert down[last] > 0.3
    # Plain volts follow the knob instead.
    followed = [fan_drive.fan_speed_at_voltage(12.0 * x, 12.0, 7.0, 4.0, 1.0) for x in knob]
    assert np.mean(np.array(followed) > 0.9) < 0.11


@pytest.mark.practice
def test_a_small_fan_needs_no_sink_on_its_transistor_and_a_large_one_does():
    # A bare TO-220 case has about 62 K/W; 110 degC is the aim for a part of 150 degC; air 45 degC.
    def junction_C(current_A):
        heat_W = fan_drive.linear_stage_worst_heat(12.0, 12.0, current_A, 1.0)
        return float(junction_temperature(318.15, heat_W, 62.0, 0.0, 0.0)) - 273.15

    assert junction_C(0.1) < 65.0
    assert junction_C(0.35) > 110.0
    assert junction_C(0.7) > 150.0


@pytest.mark.published("first-order filter by hand: V D (1 - D) / (f R C)")
def test_a_smoothed_control_signal():
    assert fan_signal.filter_cutoff(1e4, 1e-6) == pytest.approx(15.9, rel=1e-2)
    found = fan_signal.filter_ripple(12.0, 0.5, 25e3, 1e4, 1e-6)
    assert found == pytest.approx(12.0e-3, rel=1e-2)


# Against: the filter stepped in time, where the short form would be a third off.
def test_the_ripple_near_the_corner():
    high_V, duty, hertz, ohm, farad = 12.0, 0.3, 100.0, 1e4, 1e-6
    steps = 20000
    keep = np.exp(-1.0 / (hertz * steps * ohm * farad))
    volts, shown = 0.0, []
    for period in range(12):
        for k in range(steps):
            aim = high_V if k < duty * steps else 0.0
            volts = aim + (volts - aim) * keep
            if period == 11:
                shown.append(volts)
    found = fan_signal.filter_ripple(high_V, duty, hertz, ohm, farad)
    assert found == pytest.approx(max(shown) - min(shown), rel=1e-4)
    assert fan_signal.filter_ripple(high_V, [0.0, 1.0], hertz, ohm, farad) == pytest.approx(0.0)


def test_outside_their_range_is_nan():
    assert np.isnan(fan_drive.fan_speed_at_voltage(6.0, 12.0, 4.0, 7.0, 1.0))
    assert np.isnan(fan_drive.fan_current(-1.0, 12.0, 0.3, 1.0))
    assert np.isnan(fan_drive.linear_stage_heat(12.0, [-1.0, 13.0, np.nan], 0.3)).all()
    assert np.isnan(fan_drive.linear_stage_worst_voltage(12.0, 4.0))
    assert np.isnan(fan_drive.linear_stage_worst_heat(12.0, 0.0, 0.3, 1.0))
    assert np.isnan(fan_drive.chopped_fan_voltage(12.0, [-0.1, 1.1], 0.5, 60.0)).all()
    assert np.isnan(fan_signal.tacho_speed(40.0, 0.0))
    assert np.isnan(fan_signal.pwm_frequency_fits([-1.0, np.nan])).all()
    assert np.isnan(fan_signal.pwm_drive_fits(-1.0, 8e-3))
    assert np.isnan(fan_signal.filter_cutoff(0.0, 1e-6))
    assert np.isnan(fan_signal.filter_ripple(12.0, 1.1, 25e3, 1e4, 1e-6))
