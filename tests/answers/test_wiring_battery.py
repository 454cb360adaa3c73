"""A battery and a panel as the source: by hand, through its charge, and what it cannot do."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from coldwright.answers import verdict, wiring
from coldwright.answers.wiring_battery import at_voltage
from coldwright.sheet.file import read_text
from tests.machine.test_coupled import PLAIN

BATTERY = """
[power.battery]
voltage = "24 V"
kind = "lead-acid"
capacity = "50 Ah"
internal_resistance = "50 mohm"
"""
DIRECT = PLAIN.replace('"16 V"', '"24 V"')
BUCK = '\n[power.converter]\nefficiency = 0.92\nheadroom = "1 V"\n'


def panel(peak):
    return f'\n[power.panel]\npeak_power = "{peak}"\n'


def answer(text):
    found = wiring.run(wiring.Inputs(read_text(text, "van.toml")))
    heat_W = sum(line.W for line in found.heat) + sum(found.leaves_W.values())
    assert heat_W == pytest.approx(found.plug_power_W, rel=1e-9)
    return found


def codes(found):
    return {one.code for one in found.findings}


@pytest.mark.published("Ohm's law and module model V = S dT + I R, by hand")
def test_the_voltage_sags_by_the_current_times_the_resistance():
    # By hand: lift 60 K and more at 24 V: (23.7 - 0.1 x 59) / 3.6 = 4.95 A; fans 17.3 W at 23.7 V
    # 0.73 A; 5.68 A through 50 mohm: 0.284 V.
    found = answer(DIRECT + BATTERY)
    now = found.battery.state("nominal")
    assert now.battery_A == pytest.approx(5.68, rel=0.01)
    assert now.rest_V - now.terminal_V == pytest.approx(0.284, rel=0.01)
    assert now.terminal_V == pytest.approx(24.0 - 0.050 * now.battery_A, rel=1e-9)
    assert found.plug_power_W == pytest.approx(24.0 * now.battery_A, rel=1e-9)
    # 50 Ah x 24 V x 0.5 of 136 W.
    assert found.battery.lasts_s == pytest.approx(3600.0 * 600.0 / found.plug_power_W, rel=1e-9)
    # More than one percent of sag does not make it need a regulator.
    assert "CW-POWER-09" not in codes(found)


@pytest.mark.published("rested lead-acid battery of 12 cells: 25.4 V full, 24.4 V half empty")
def test_each_state_of_charge_is_the_same_cooler_at_another_voltage():
    found = answer(DIRECT + BATTERY)
    full, low = found.battery.state("full"), found.battery.state("run down")
    assert (full.rest_V, low.rest_V) == (pytest.approx(25.4), pytest.approx(24.4))
    for one in (full, low):
        # The same sheet written by hand with this voltage, and fans that follow it.
        ratio = one.rest_V / 24.0
        text = DIRECT.replace('"24 V"', f'"{one.rest_V} V"').replace(
            "run_at", f"cold_fan_speed = {ratio}\nhot_fan_speed = {ratio}\nrun_at"
        )
        again = answer(text + BATTERY.replace('"24 V"', f'"{one.rest_V} V"'))
        assert again.battery.states[0].battery_A == pytest.approx(one.battery_A, rel=1e-6)
        assert again.battery.states[0].net_cooling_W == pytest.approx(one.net_cooling_W, rel=1e-6)
    assert full.battery_A > found.battery.state("nominal").battery_A


@pytest.mark.published("lithium iron phosphate, 3.2 V a cell: 13.6 V full, 13.23 V half empty")
def test_kind_and_nominal_voltage_give_the_cells():
    lithium = BATTERY.replace('"24 V"', '"12.8 V"').replace("lead-acid", "lithium iron phosphate")
    side = answer(PLAIN.replace('"16 V"', '"12.8 V"') + lithium).battery
    assert side.state("full").rest_V == pytest.approx(13.6)
    assert side.state("run down").rest_V == pytest.approx(13.2333, rel=1e-4)


def test_what_stands_behind_a_converter_keeps_its_voltage():
    sheet = read_text(PLAIN + BATTERY + BUCK, "van.toml")
    assert at_voltage(sheet, 22.0, []).cooler.run_at.voltage.value == 16.0
    direct = at_voltage(read_text(DIRECT + BATTERY, "van.toml"), 22.0, [0])
    assert direct.cooler.run_at.voltage.value == pytest.approx(22.0)
    assert direct.cooler.hot_fan_speed.value == pytest.approx(22.0 / 24.0)
    # With less input the converter takes more current.
    side = answer(PLAIN + BATTERY + BUCK).battery
    full, low = side.state("full"), side.state("run down")
    assert low.modules_A == pytest.approx(full.modules_A, rel=0.02)
    assert low.battery_A > full.battery_A * 0.99


# At 24 V and 0.05 ohm, with P of sun: P / v = (v - back) / 3.6 + fans / v + (v - 24) / 0.05.
@pytest.mark.published("Kirchhoff's current rule, solved by scipy.optimize.brentq")
@pytest.mark.parametrize(("peak_W", "charges"), [(300.0, True), (100.0, False)])
def test_the_panel_s_current_stands_beside_the_load(peak_W, charges):
    found = answer(DIRECT + BATTERY + panel(f"{peak_W} W"))
    side, now = found.battery, found.battery.state("nominal")
    sun_W = 0.75 * peak_W
    assert side.panel_W == pytest.approx(sun_W)
    fans_W = sum(fan.power_W for fan in found.fans)
    back_V = now.terminal_V - 3.6 * now.modules_A
    volts = brentq(
        lambda v: sun_W / v - (v - back_V) / 3.6 - fans_W / v - (v - 24.0) / 0.05,
        20.0, 30.0, xtol=1e-13,
    )  # fmt: skip
    sun = side.state("full sun")
    assert sun.terminal_V == pytest.approx(volts, rel=1e-9)
    assert sun.panel_A == pytest.approx(sun_W / volts, rel=1e-9)
    assert sun.load_A == pytest.approx((volts - back_V) / 3.6 + fans_W / volts, rel=1e-9)
    assert sun.battery_A == pytest.approx((24.0 - volts) / 0.05, rel=1e-6)
    assert (sun.battery_A < 0.0) is charges
    said = " ".join(found.reasons)
    assert ("charge the battery" in said) is charges
    assert ("the battery gives the other" in said) is not charges


@pytest.mark.practice
def test_a_run_down_battery_may_be_too_low_for_a_converter():
    # 12 cells at rest: 24.4 V half empty, 23.68 V with a twentieth left, 0.2 V less under load.
    # 22.6 V and 1 V of headroom want 23.6 V.
    text = PLAIN.replace('"16 V"', '"22.6 V"').replace("series = 2", "series = 3") + BUCK
    fine = answer(text + BATTERY)
    assert "CW-POWER-14" not in codes(fine)
    deep = answer(text + BATTERY + "usable_share = 0.95\n")
    (said,) = [one for one in deep.findings if one.code == "CW-POWER-14"]
    assert said.severity == "warning"
    assert "at least 23.6 V" in said.why
    assert deep.battery.state("run down").battery_A is None
    judged = verdict.run(verdict.Inputs(read_text(text + BATTERY + "usable_share = 0.95\n"), 0))
    assert "CW-POWER-14" in {one.code for one in judged.findings}


def test_what_is_not_said_of_a_battery_is_asked_with_a_usual_value():
    bare = BATTERY.replace('internal_resistance = "50 mohm"\n', "")
    (said,) = [one for one in answer(DIRECT + bare).findings if one.code == "CW-POWER-13"]
    # 0.10 ohm Ah x 12 cells / 50 Ah x 1.5: 36 mohm.
    assert "36 mohm" in said.action
    unknown = answer(DIRECT + BATTERY.replace('kind = "lead-acid"\n', ""))
    assert "CW-POWER-12" in codes(unknown)
    assert unknown.battery.state("full") is None


def test_a_supply_at_the_plug_has_no_battery_answer():
    supply = '\n[power.supply]\nvoltage = "24 V"\nrated_power = "200 W"\n'
    assert answer(DIRECT + supply).battery is None
    assert answer(DIRECT + supply + BATTERY).battery is None
