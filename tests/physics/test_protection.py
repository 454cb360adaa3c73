"""Polarity protection, step-down converters, strings with a failed module."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import protection as pr
from coldwright.physics import ripple
from coldwright.physics.conductor import wire_loss
from coldwright.physics.thermoelectric import cold_side_heat, current_at_voltage, module_power

MODULE = (0.05, 1.8, 0.5)


@pytest.mark.published("Joule's law by hand: 10 A, 0.5 V against 10 mohm")
def test_a_diode_loses_five_times_what_a_transistor_does():
    assert pr.diode_loss(10.0, 0.5) == 5.0
    assert wire_loss(10.0, 0.010) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.published("volt-seconds of a coil by hand: 24 to 12 V, 6 A, 0.93, 33 uH, 300 kHz")
def test_a_step_down_converter():
    assert pr.converter_input_current(12.0 * 6.0, 0.93, 24.0) == pytest.approx(3.226, rel=5e-3)
    swing_A = pr.step_down_ripple_current(24.0, 12.0, 33e-6, 300e3)
    assert swing_A == pytest.approx(0.606, rel=5e-3)
    ratio = ripple.ripple_ratio_triangle(swing_A / 6.0)
    assert ratio == pytest.approx(0.0292, rel=5e-3)
    lost = 1.0 - ripple.pumping_factor_best_current(ratio)
    assert 100.0 * lost == pytest.approx(0.085, rel=5e-3)


# Against: the coil stepped through both parts of a period.
def test_the_swing_is_the_same_up_and_down():
    input_V, output_V, henry, hertz = 24.0, 9.0, 47e-6, 200e3
    up_A = (input_V - output_V) / henry * (output_V / input_V) / hertz
    down_A = output_V / henry * (1.0 - output_V / input_V) / hertz
    assert up_A == pytest.approx(down_A, rel=1e-12)
    found_A = pr.step_down_ripple_current(input_V, output_V, henry, hertz)
    assert found_A == pytest.approx(up_A, rel=1e-12)
    assert pr.step_down_ripple_current(24.0, [0.0, 24.0], henry, hertz).tolist() == [0.0, 0.0]


@pytest.mark.published(
    "module equations by hand: 0.05 V/K, 1.8 ohm, 0.5 W/K, 285 and 310 K, two on 24 V"
)
def test_one_of_two_modules_fails():
    sound_A = pr.string_current(24.0, 2.0, 0.0, 25.0, 0.05, 1.8)
    assert sound_A == pytest.approx(5.972, rel=1e-3)
    assert sound_A == pytest.approx(current_at_voltage(12.0, 285.0, 310.0, 0.05, 1.8), rel=1e-12)
    # One shorted: twice the volts across its partner, four times the power, a third of the heat.
    hurt_A = pr.string_current(24.0, 2.0, 1.0, 25.0, 0.05, 1.8)
    assert hurt_A == pytest.approx(12.64, rel=1e-3)
    pumped_W = cold_side_heat(hurt_A, 285.0, 310.0, *MODULE)
    power_W = module_power(hurt_A, 285.0, 310.0, *MODULE[:2])
    assert pumped_W == pytest.approx(23.84, rel=1e-3)
    assert power_W == pytest.approx(303.3, rel=1e-3)
    assert pumped_W / power_W == pytest.approx(0.0786, rel=1e-3)
    # One open: the string stops, both leak.
    assert pr.open_module_leak(25.0, 0.5) == 12.5
    assert pr.open_module_leak(25.0, 0.5) == -cold_side_heat(0.0, 285.0, 310.0, *MODULE)


# Against: the module's own equation with nought volts at its terminals.
def test_a_bridged_module_leaks_more_than_an_open_one():
    current_A = current_at_voltage(0.0, 285.0, 310.0, 0.05, 1.8)
    leak_W = pr.shorted_module_leak(285.0, 310.0, *MODULE)
    assert leak_W == pytest.approx(-cold_side_heat(current_A, 285.0, 310.0, *MODULE), rel=1e-12)
    assert leak_W > pr.open_module_leak(25.0, 0.5)
    assert pr.shorted_module_leak(300.0, 300.0, *MODULE) == 0.0


def test_outside_their_range_is_nan():
    assert np.isnan(pr.diode_loss(-1.0, 0.5))
    assert np.isnan(pr.step_down_ripple_current(12.0, 24.0, 33e-6, 300e3))
    assert np.isnan(pr.converter_input_current(72.0, 0.0, 24.0))
    assert np.isnan(pr.string_current(24.0, 2.0, [2.0, -1.0, np.nan], 25.0, 0.05, 1.8)).all()
    assert np.isnan(pr.open_module_leak(25.0, -0.5))
    assert np.isnan(pr.shorted_module_leak(285.0, 310.0, 0.05, 0.0, 0.5))
