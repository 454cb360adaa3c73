"""Power chain and cooler agree: one plug power by two codes, and losses land in the ledger."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.answers.design import Design
from coldwright.errors import ColdwrightError, NoSolution
from coldwright.machine.array import array_between
from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_network import Moment, power_chain_of, uses_network
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.coupled import land, losses_of
from coldwright.machine.ledger import ALLOWED
from coldwright.machine.network import solve_network
from coldwright.machine.values import Values
from coldwright.sheet.file import read_text
from tests.machine.sheet_texts import random_sheet

PLAIN = """
title = "Bench"
[place]
kind = "open_air"
air = "25 degC"
humidity = "30 percent"
[climate]
kind = "steady"
outdoor_air = "35 degC"
outdoor_humidity = "30 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { voltage = "16 V" }
[cooler.modules]
properties = { seebeck = "0.05 V/K", resistance = "1.8 ohm", conductance = "0.5 W/K" }
series = 2
parallel = 1
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.35 K/W"
[cooler.cold_fan]
flow = "80 m^3/h"
power = "6 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.20 K/W"
[cooler.hot_fan]
flow = "150 m^3/h"
power = "12 W"
"""
SUPPLY = """
[power.supply]
voltage = "24 V"
rated_power = "200 W"
efficiency = [[0.2, 0.84], [0.5, 0.9], [1.0, 0.88]]
"""
CONVERTER = """
[power.converter]
efficiency = 0.92
"""


def solved(text):
    design = Design(read_text(text, "bench.toml"), 0, 1)
    point = design.solve(with_place=design.enclosed)
    return design, point


def chain_of(design, point, moment=Moment.RUNNING):
    start_K = float(design.place["air_K"][0])
    chain = power_chain_of(design.sheet, design.cooler[0], point.results[0], start_K, moment)
    return chain, solve_network(chain.elements)


# --- Two codes, one answer -----------------------------------------------------------------------

WIRING = """
[[power.wire]]
name = "modules"
length = "0.8 m"
size = "2.5 mm^2"
fuse = "10 A"
fuse_resistance = "6 mohm"
joint = [{ count = 4, resistance = "3 mohm" }]
[[power.wire]]
name = "far fan"
feeds = "hot fan"
length = "3 m"
size = "0.5 mm^2"
[[power.wire]]
name = "cold fan"
length = "1 m"
size = "20 AWG"
[power.switch]
breaks = "dc"
poles = 2
current = "20 A"
"""


def test_random_sheets_have_one_power_at_the_plug_by_both_codes():
    agreed = 0
    for seed in range(400):
        text = random_sheet(seed)
        if seed % 2 and "[power.supply]" in text and "[[power.wire]]" not in text:
            text += WIRING
        try:
            design, point = solved(text)
        except ColdwrightError:
            continue
        result = point.results[0]
        try:
            _, found = chain_of(design, point)
        except NoSolution as error:
            # The lift of modules that are hardly driven pushes current back; no converter takes it.
            if error.code == "CW-NET-04" and (result["module_A"] < 0.0).any():
                continue
            raise
        assert found.plug_W == pytest.approx(float(result["plug_W"]), rel=1e-9, abs=1e-9), seed
        assert abs(found.residual_W()) <= 1e-9 * max(found.plug_W, 1.0)
        assert np.max(point.book.relative_residual()) <= ALLOWED
        agreed += 1
    assert agreed > 150


DRIVES = {
    "voltage": '{ voltage = "16 V" }',
    "current": '{ current = "3 A" }',
    "module_voltage": '{ module_voltage = "7 V" }',
    "module_power": '{ module_power = "50 W" }',
    "pumped": '{ pumped = "30 W" }',
    "chopped": '{ chopped = { rail = "24 V", duty = 0.5 } }',
}


@pytest.mark.parametrize("converter", [CONVERTER, ""], ids=["converter", "direct"])
@pytest.mark.parametrize("way", DRIVES)
def test_every_way_of_running_agrees(way, converter):
    text = PLAIN.replace('{ voltage = "16 V" }', DRIVES[way]) + SUPPLY + converter + WIRING
    design, point = solved(text)
    _, found = chain_of(design, point)
    assert found.plug_W == pytest.approx(float(point.results["plug_W"][0]), rel=1e-9)
    amps = float(point.results["module_A"][0, 0])
    assert found.current_A["modules"] == pytest.approx(amps, rel=1e-9)
    assert np.max(point.book.relative_residual()) <= ALLOWED


def test_modules_on_the_bus_get_what_switch_and_wires_leave():
    text = PLAIN.replace('"16 V"', '"24 V"') + SUPPLY + WIRING
    design, point = solved(text)
    chain, found = chain_of(design, point)
    assert chain.direct == [0]
    switch_A = found.current_A["supply"]
    assert found.voltage_V["bus"] == pytest.approx(24.0 - 0.02 * switch_A, rel=1e-9)
    assert float(design.cooler["group"]["drive_value"][0, 0]) == pytest.approx(
        found.voltage_V["bus"], rel=1e-9
    )


# --- By hand -------------------------------------------------------------------------------------


@pytest.mark.published("module model V = S dT + I R; Ohm's law, by hand")
def test_currents_at_switch_on_and_reversed_by_hand():
    # Two modules of 0.05 V/K and 1.8 ohm in series on 16 V. No lift: 16 / 3.6 = 4.444 A.
    design, point = solved(PLAIN + SUPPLY + CONVERTER)
    _, starting = chain_of(design, point, Moment.SWITCH_ON)
    assert starting.current_A["modules"] == pytest.approx(16.0 / 3.6, rel=1e-9)
    lift_K = point.nominal["lift_K"]
    assert lift_K > 20.0
    _, running = chain_of(design, point)
    assert running.current_A["modules"] == pytest.approx((16.0 - 0.1 * lift_K) / 3.6, rel=1e-9)
    _, reversed_ = chain_of(design, point, Moment.REVERSED)
    assert reversed_.current_A["modules"] == pytest.approx((16.0 + 0.1 * lift_K) / 3.6, rel=1e-9)


@pytest.mark.published("IEC 60228 class 5, IEC 60028, ASTM B258, Joule's law, by hand")
def test_what_the_runs_of_the_fans_lose_is_counted():
    # 11.5 W (12 W in thinner warm air) on 24 V over 3 m of 0.5 mm2 at 40 degC: 0.477 A through
    # 2 x 3 x 0.0390 x 1.0786 = 0.2524 ohm make 0.0575 W. The other fan over 1 m of 20 AWG at
    # 40 degC: 2 x 0.0333 x 1.0786 = 0.0719 ohm. The switch has 2 x 10 mohm.
    design, point = solved(PLAIN + SUPPLY + CONVERTER + WIRING)
    _, found = chain_of(design, point)
    hot_A, cold_A = (float(point.results[f"{side}_fan_W"][0]) / 24.0 for side in ("hot", "cold"))
    supply_A = float(point.results["plug_W"][0] - point.results["supply_W"][0]) / 24.0
    by_hand_W = 0.2524 * hot_A**2 + 0.0719 * cold_A**2 + 0.020 * supply_A**2
    assert found.heat_of("hot fan: wire there") == pytest.approx(0.1262 * hot_A**2, rel=0.02)
    # The drop raises the fan's current by half a percent, its square by one.
    assert float(design.cooler["power"]["extra_W"][0]) == pytest.approx(by_hand_W, rel=0.02)
    line = next(one for one in point.book.heat if one.what.startswith("lost in joints"))
    assert float(line.amount[0]) == pytest.approx(-by_hand_W, rel=0.02)


@pytest.mark.published("linear stage: P = (V supply - V fan) I, by hand")
def test_a_linear_stage_drops_the_rest():
    # Fan of 12 V at 58.33 % speed: 7 V. Its 2.38 W (12 W x 0.5833^3) flow at 0.340 A; the stage
    # drops 24 - 7 = 17 V: 5.78 W.
    text = PLAIN.replace('power = "12 W"', 'power = "12 W"\nvoltage = "12 V"\n'
                         'drive = { kind = "linear" }')  # fmt: skip
    text = text.replace("run_at", "hot_fan_speed = 0.583333333\nrun_at")
    design, point = solved(text + SUPPLY + CONVERTER)
    _, found = chain_of(design, point)
    fan_W = float(point.results["hot_fan_W"][0])
    assert found.across_V["hot fan"] == pytest.approx(7.0, rel=1e-5)
    assert found.heat_of("hot fan") == pytest.approx(fan_W, rel=1e-5)
    assert found.heat_of("hot fan stage") == pytest.approx(17.0 * fan_W / 7.0, rel=1e-5)


def test_wires_may_lose_their_heat_in_the_place():
    text = PLAIN + SUPPLY + CONVERTER + WIRING
    outside = solved(text)[1].nominal["net_cooling_W"]
    inside = solved(text + "[power]\n" + 'wires_located = "place"\n')[1].nominal["net_cooling_W"]
    design, point = solved(text)
    lost_W = float(point.results["leads_W"][0] + design.cooler["power"]["extra_W"][0])
    assert outside - inside == pytest.approx(lost_W, rel=1e-6)


def test_a_battery_sags_behind_its_resistance():
    battery = (
        '[power.battery]\nvoltage = "24 V"\ncapacity = "20 Ah"\ninternal_resistance = "50 mohm"\n'
    )
    design, point = solved(PLAIN.replace('"16 V"', '"24 V"') + battery)
    _, found = chain_of(design, point)
    amps = found.current_A["battery"]
    assert found.voltage_V["bus"] == pytest.approx(24.0 - 0.05 * amps, rel=1e-9)
    assert found.plug_W == pytest.approx(float(point.results["plug_W"][0]), rel=1e-9)


# --- Left alone, and refused ---------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_a_sheet_that_says_nothing_of_the_chain_is_left_to_the_last_bit(seed):
    try:
        sheet = read_text(random_sheet(seed), "old.toml")
    except ColdwrightError:
        return
    assert not uses_network(sheet)
    record = assemble_cooler(sheet, Values(0))
    before = record.tobytes()
    land(record, losses_of(sheet, record, assemble_place(sheet, Values(0))))
    assert record.tobytes() == before


def test_a_hair_of_a_wire_is_refused_by_name():
    thin = WIRING.replace('feeds = "hot fan"\nlength = "3 m"\nsize = "0.5 mm^2"',
                          'feeds = "hot fan"\nlength = "60 m"\nsize = "40 AWG"')  # fmt: skip
    with pytest.raises(NoSolution, match=r"hot fan.*brown-out"):
        solved(PLAIN + SUPPLY + CONVERTER + thin)


def test_an_array_is_what_its_modules_are_in_series_and_side_by_side():
    design, point = solved(PLAIN.replace("parallel = 1", "parallel = 3"))
    array = array_between(design.cooler["group"][0, 0], point.results[0], 0)
    assert array.ohm == pytest.approx(1.8 * 2 / 3)
    assert array.back_V == pytest.approx(0.1 * point.nominal["lift_K"])
