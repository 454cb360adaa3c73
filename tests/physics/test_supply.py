"""Supplies at their limits, switching on, and loads of constant power."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import supply

GUIDES = "makers' derating guides: full to 50 degC, 2.5 %/K to 70 degC; or 60 % at 60 degC"


@pytest.mark.published(GUIDES)
@pytest.mark.parametrize(
    ("air_C", "power_W"), [(25, 300.0), (50, 300.0), (60, 225.0), (65, 187.5), (70, 150.0), (71, 0)]
)
def test_derating_by_so_much_a_kelvin(air_C, power_W):
    found = supply.derated_power_slope(300.0, air_C + 273.15, 323.15, 343.15, 0.025)
    assert found == pytest.approx(power_W, rel=1e-12, abs=1e-12)


@pytest.mark.published(GUIDES)
@pytest.mark.parametrize(("air_C", "share"), [(40, 1.0), (50, 1.0), (55, 0.8), (60, 0.6), (61, 0)])
def test_derating_by_a_line(air_C, share):
    found = supply.derated_power_line(300.0, air_C + 273.15, 323.15, 333.15, 0.6)
    assert found == pytest.approx(300.0 * share, rel=1e-12, abs=1e-12)


INRUSH = "inrush of a capacitor-input supply, makers' guides: crest over limiter and line"


@pytest.mark.published(INRUSH)
def test_switching_on_cold_and_hot():
    # 230 V and 10 %, 5 ohm limiter and 0.5 ohm line, 220 uF.
    assert supply.inrush_peak_current(253.0, 0.0, 5.5) == pytest.approx(65.05, rel=5e-3)
    assert supply.inrush_peak_current(253.0, 0.0, 0.5) == pytest.approx(715.6, rel=5e-3)
    energy_J = supply.capacitor_energy(220e-6, np.sqrt(2.0) * 253.0)
    assert energy_J == pytest.approx(14.08, rel=5e-3)
    assert supply.charging_time_constant(5.5, 220e-6) == pytest.approx(1.21e-3, rel=5e-3)


# Against: the charging summed step by step: the limiter takes as much as the capacitor keeps.
def test_the_limiter_takes_what_the_capacitor_keeps():
    crest_V, ohm, farad = 357.8, 5.5, 220e-6
    step_s, volts, heat_J = 1e-6, 0.0, 0.0
    for _ in range(30000):
        amperes = float(crest_V - volts) / ohm
        heat_J += amperes * amperes * ohm * step_s
        volts += amperes / farad * step_s
    assert supply.capacitor_energy(farad, crest_V) == pytest.approx(heat_J, rel=2e-3)
    after = supply.capacitor_voltage_after(crest_V, ohm, farad, 1e-3)
    assert after == pytest.approx(crest_V * np.exp(-1e-3 / 1.21e-3), rel=1e-12)


def test_a_blink_with_a_full_capacitor_is_harmless():
    assert supply.inrush_peak_current(253.0, 400.0, 0.5) == 0.0
    half = supply.inrush_peak_current(253.0, 253.0 / np.sqrt(2.0), 0.5)
    assert half == pytest.approx(715.6 / 2.0, rel=1e-3)


PINS = "IEC 60335-1, 22.5: 34 V one second after unplugging at a crest, above 0.1 uF"


@pytest.mark.published(PINS)
@pytest.mark.parametrize(
    ("bleed_ohm", "left_V", "passes"), [(1e6, 38.7, False), (680e3, 14.2, True)]
)
def test_pins_of_a_pulled_plug(bleed_ohm, left_V, passes):
    found_V = supply.capacitor_voltage_after(325.27, bleed_ohm, 0.47e-6, 1.0)
    assert found_V == pytest.approx(left_V, rel=5e-3)
    assert (found_V <= 34.0) == passes


volts = st.floats(1.0, 400.0)
ohms = st.floats(1e-4, 10.0)


# Against: numpy.roots on R I^2 - V I + P.
@settings(deadline=None)  # the first call may compile
@given(volts, ohms, st.floats(1e-3, 0.999))
def test_both_currents_of_a_load_of_constant_power(source_V, ohm, share):
    power_W = share * float(supply.constant_power_limit(source_V, ohm))
    low_A = float(supply.constant_power_current(source_V, ohm, power_W))
    high_A = float(supply.constant_power_current_high(source_V, ohm, power_W))
    low, high = np.sort(np.roots([ohm, -source_V, power_W]).real)
    assert low_A == pytest.approx(low, rel=1e-6)
    assert high_A == pytest.approx(high, rel=1e-6)
    for amperes in (low_A, high_A):
        assert (source_V - ohm * amperes) * amperes == pytest.approx(power_W, rel=1e-9)
    assert low_A + high_A == pytest.approx(source_V / ohm, rel=1e-12)


# Against: greatest power transfer, by hand: 12 V, 0.5 ohm: 72 W at 12 A and 6 V.
def test_more_than_a_source_can_carry():
    assert supply.constant_power_limit(12.0, 0.5) == 72.0
    assert supply.constant_power_limit(12.0, 0.0) == np.inf
    assert supply.constant_power_current(12.0, 0.5, 72.0) == pytest.approx(12.0, rel=1e-6)
    assert np.isnan(supply.constant_power_current(12.0, 0.5, 72.1))
    assert np.isnan(supply.constant_power_current_high(12.0, 0.5, 72.1))
    assert supply.constant_power_current(12.0, 0.0, 60.0) == 5.0
    # A drop raises the current: 0.1 ohm makes 9.01 A of 8.33 A.
    assert supply.constant_power_current(12.0, 0.1, 100.0) == pytest.approx(9.0098, rel=1e-4)


# Against: the definition: at this source voltage the load sees its lowest.
def test_the_source_voltage_at_which_a_converter_gives_up():
    found_V = supply.brown_out_voltage(100.0, 0.1, 10.0)
    amperes = supply.constant_power_current(found_V, 0.1, 100.0)
    assert found_V - 0.1 * amperes == pytest.approx(10.0, rel=1e-12)
    # One that never gives up falls where the roots meet.
    found_V = float(supply.brown_out_voltage(100.0, 1.0, 5.0))
    assert found_V == pytest.approx(20.0)
    assert np.isnan(supply.constant_power_current(0.999 * found_V, 1.0, 100.0))
    assert np.isfinite(supply.constant_power_current(1.001 * found_V, 1.0, 100.0))


def test_outside_their_range_is_nan():
    assert np.isnan(supply.derated_power_slope(-1.0, 300.0, 323.15, 343.15, 0.025))
    assert np.isnan(supply.derated_power_line(300.0, 300.0, 333.15, 323.15, 0.6))
    assert np.isnan(supply.inrush_peak_current(230.0, 0.0, [0.0, -1.0, np.nan])).all()
    assert np.isnan(supply.capacitor_energy(-1e-6, 10.0))
    assert np.isnan(supply.charging_time_constant(-1.0, 1e-6))
    assert np.isnan(supply.capacitor_voltage_after(10.0, 0.0, 1e-6, 1.0))
    assert np.isnan(supply.constant_power_current(0.0, 0.1, 1.0))
    assert np.isnan(supply.constant_power_current_high(12.0, 0.0, 1.0))
    assert np.isnan(supply.constant_power_limit(-1.0, 1.0))
    assert np.isnan(supply.brown_out_voltage(1.0, 1.0, 0.0))
