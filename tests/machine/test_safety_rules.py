"""Each safety rule speaks when it must and is silent when it must not."""

from __future__ import annotations

import inspect
from dataclasses import replace

import pytest

from coldwright.findings import CATALOGUE
from coldwright.findings_safety import DEFERS, SAFETY, SOURCES
from coldwright.machine.safety import (
    State,
    air,
    before_solving,
    case_of,
    electric,
    heat,
    of_state,
    thresholds,
    water,
)
from coldwright.machine.safety.what_is_known import Electrics
from coldwright.physics.mains import leakage_current
from coldwright.sheet.file import read_text
from tests.machine.test_safety import CALM

ZERO_C_K = 273.15

BOX = """
title = "A box"
[goal]
air = "8 degC"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "40 percent"
[place]
kind = "box"
length = "40 cm"
width = "30 cm"
height = "30 cm"
combustion = "none"
wall = [{ material = "XPS", thickness = "50 mm" }, { material = "plywood", thickness = "6 mm" }]
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "6 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
spacer = { thickness = "30 mm", area = "100 cm^2", material = "XPS" }
[cooler.cold_sink]
kind = "resistance"
value = "0.4 K/W"
[cooler.cold_fan]
flow = "40 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.2 K/W"
[cooler.hot_fan]
flow = "80 m^3/h"
[power.supply]
voltage = "12 V"
rated_power = "90 W"
located = "outside"
[[power.wire]]
name = "modules"
length = "1 m"
size = "1.5 mm^2"
[safety]
mains_side = "sealed supply"
supply_stands = "in free air"
cut_out = "65 degC"
keeps = "neither"
"""

ROOM = """
title = "A room"
[climate]
kind = "steady"
outdoor_air = "32 degC"
outdoor_humidity = "40 percent"
[place]
kind = "room"
length = "5 m"
width = "3 m"
height = "2 m"
combustion = "open"
[[place.surface]]
name = "all around"
area = "62 m^2"
layers = [
    { material = "gypsum board", thickness = "12 mm" },
    { material = "EPS", thickness = "60 mm" },
]
[[place.gain]]
name = "two guests"
people = 2
activity = "sleeping"
[cooler]
hot_takes_from = "place"
hot_sends_to = "outdoors"
run_at = { module_voltage = "6 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
[cooler.cold_sink]
kind = "resistance"
value = "0.4 K/W"
[cooler.cold_fan]
flow = "40 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.2 K/W"
[cooler.hot_fan]
flow = "80 m^3/h"
"""


@pytest.fixture(scope="module")
def box():
    return read_text(BOX)


@pytest.fixture(scope="module")
def room():
    return read_text(ROOM)


def codes(found):
    return [finding.code for finding in found]


def test_a_box_that_is_built_well_gets_no_caution(box):
    assert before_solving(box) == []
    assert of_state(box, CALM) == []


# --- What the sheet says: changes that make a rule speak, and its code and severity --------------

ASKED = [
    ({"safety.mains_side": "wired by hand"}, "CW-SAFE-20", "warning"),
    ({"safety.mains_side": "not known"}, "CW-SAFE-20", "note"),
    ({"safety.supply_stands": "in foam"}, "CW-SAFE-21", "stop"),
    ({"power.supply.located": "place"}, "CW-SAFE-22", "warning"),
    ({"power.supply.voltage": "130 V", "power.wire[0].fuse": "2 A"}, "CW-SAFE-23", "warning"),
    ({"power.supply.rated_power": "144 W", "power.wire[0].fuse": "5 A"}, "CW-SAFE-24", "note"),
    ({"power.supply.rated_power": "144 W"}, "CW-SAFE-25", "warning"),
    ({"power.battery": {"voltage": "12 V", "capacity": "60 Ah"}}, "CW-SAFE-25", "warning"),
    ({"safety.supplies": 3}, "CW-SAFE-26", "warning"),
    ({"safety.supply_leakage": "0.8 mA"}, "CW-SAFE-26", "warning"),
    ({"safety.cut_out": "none"}, "CW-SAFE-14", "warning"),
    ({"safety.cut_out": "not known"}, "CW-SAFE-14", "warning"),
    ({"safety.cut_out": "85 degC"}, "CW-SAFE-15", "warning"),
    ({"safety.keeps": "food"}, "CW-SAFE-31", "warning"),
    ({"safety.keeps": "medicine"}, "CW-SAFE-32", "warning"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("changes", "code", "severity"), ASKED)
def test_a_rule_that_asks_speaks_when_it_must(box, changes, code, severity):
    found = {one.code: one for one in before_solving(box.changed(changes))}
    assert code in found
    assert found[code].severity == severity
    assert found[code].why
    assert found[code].action


SILENT = [
    # No mains: nothing to wire, to earth or to leak; the battery's wire has its fuse.
    ({"power.supply": None, "power.battery": {"voltage": "12 V", "capacity": "60 Ah"},
      "power.wire[0].fuse": "10 A", "safety.mains_side": "not known", "safety.supplies": 3}, None),
    ({"safety.cut_out": "75 degC"}, "CW-SAFE-15"),
    ({"safety.cut_out": "85 degC", "cooler.modules.spacer.material": "mineral wool"}, "CW-SAFE-15"),
    ({"safety.cut_out": "not known", "cooler.modules.spacer.material": "mineral wool"},
     "CW-SAFE-14"),
    ({"safety.supplies": 2}, "CW-SAFE-26"),
    ({"safety.supplies": 3, "safety.supply_leakage": "0.2 mA"}, "CW-SAFE-26"),
    ({"power.supply.voltage": "120 V"}, "CW-SAFE-23"),
    ({"safety.supply_stands": "not known"}, None),
    ({"safety.keeps": "not known"}, None),
]  # fmt: skip


@pytest.mark.practice
@pytest.mark.parametrize(("changes", "code"), SILENT)
def test_a_rule_that_asks_is_silent_when_it_must_be(box, changes, code):
    found = codes(before_solving(box.changed(changes)))
    assert code not in found if code else found == []


def test_without_a_word_on_power_nobody_asks_who_wires_it(box):
    bare = box.changed({"power": None, "safety": None})
    assert codes(before_solving(bare)) == ["CW-SAFE-14"]  # foam at the hot base, no cut-out


@pytest.mark.practice
def test_a_supply_in_a_room_that_is_cooled_is_no_supply_in_the_cold_box(room):
    supply = {"voltage": "12 V", "rated_power": "90 W", "located": "place"}
    found = before_solving(room.changed({"power": {"supply": supply}}))
    assert "CW-SAFE-22" not in codes(found)


# --- Air -----------------------------------------------------------------------------------------


@pytest.mark.practice
def test_a_sealed_place_with_an_exhaust_and_a_flame_is_refused_before_it_is_solved(room):
    sealed = room.changed({"place.air_leakage": "none"})
    (found,) = [one for one in before_solving(sealed) if one.severity == "stop"]
    assert found.code == "CW-SAFE-11"
    assert "carbon monoxide" in found.why
    for changes in (
        {"place.combustion": "none"},
        {"cooler.hot_takes_from": "outdoors"},
        {"place.air_leakage": "tight"},
    ):
        assert "CW-SAFE-11" not in codes(before_solving(sealed.changed(changes)))


# Q50 = 1500 m3/h: 150 m3/h make 1.45 Pa, 300 make 4.20 Pa (n = 0.65).
@pytest.mark.published("power law of ASHRAE Fundamentals ch. 16 at n = 0.65, worked by hand")
def test_a_second_exhaust_raises_the_pressure_by_the_power_law():
    assert air.pressure_of_several(1.447, 150.0, 150.0) == pytest.approx(4.204, rel=1e-3)
    assert air.pressure_of_several(1.447, 150.0, 0.0) == 1.447


@pytest.mark.practice
@pytest.mark.parametrize(
    ("others", "combustion", "told"),
    [("150 m^3/h", "open", True), ("5 m^3/h", "open", False), (None, "open", False),
     ("150 m^3/h", "none", False), ("150 m^3/h", "sealed", False)],
)  # fmt: skip
def test_exhausts_count_together_beside_a_flame(room, others, combustion, told):
    state = replace(CALM, place_pressure_Pa=1.447, exhaust_m3_s=150.0 / 3600.0)
    text = room.changed({"place.combustion": combustion, "safety.other_exhausts": others})
    found = of_state(text, state)
    assert ("CW-SAFE-10" in codes(found)) is told
    if told:
        (stop,) = [one for one in found if one.code == "CW-SAFE-10"]
        assert stop.severity == "stop"
        assert "4.20\u2009Pa" in stop.given


# Category III: 4 L/s each, carbon dioxide 950 ppm above outdoors in bedrooms.
@pytest.mark.published("EN 16798-1:2019, categories of indoor air (from memory)")
def test_sleepers_at_four_litres_a_second_stay_near_the_category_of_that_flow():
    above_ppm = air.carbon_dioxide_ppm(4e-3) - thresholds.OUTDOOR_CO2_PPM
    assert above_ppm == pytest.approx(950.0, rel=0.08)


@pytest.mark.published("EN 16798-1:2019, category III, 4 L/s a person (from memory)")
@pytest.mark.parametrize(
    ("fresh_L_s", "people", "told"),
    [(7.9, 2, True), (8.1, 2, False), (4.1, 1, False), (3.9, 1, True), (0.0, 1, True)],
)
def test_two_sleepers_want_eight_litres_a_second(room, fresh_L_s, people, told):
    state = replace(CALM, fresh_air_m3_s=1e-3 * fresh_L_s)
    asleep = room.changed({"place.combustion": "none", "place.gain[0].people": people})
    assert ("CW-SAFE-12" in codes(of_state(asleep, state))) is told
    awake = asleep.changed({"place.gain[0].activity": "seated"})
    assert "CW-SAFE-12" not in codes(of_state(awake, state))


def test_where_fresh_air_is_not_known_nothing_is_said_of_it(room):
    assert "CW-SAFE-12" not in codes(of_state(room, CALM))


# --- Foam and heat -------------------------------------------------------------------------------


# Service limits: XPS 75 degC; EPS 75 degC for long (167 degF), 82 degC for hours (180 degF).
@pytest.mark.published("makers' general declarations of service temperature, EPS and XPS")
@pytest.mark.parametrize(
    ("foam", "celsius", "expected"),
    [("XPS", 78.0, "not"), ("EPS", 70.0, "always"), ("EPS", 80.0, "for hours"),
     ("EPS", 83.0, "not"), ("XPS", 75.0, "always"), ("PIR", 95.0, "always")],
)  # fmt: skip
def test_what_foam_bears(foam, celsius, expected):
    assert heat.foam_bears(foam, ZERO_C_K + celsius) == expected


@pytest.mark.published("makers' general declarations of service temperature, EPS and XPS")
@pytest.mark.parametrize(
    ("foam", "celsius", "told"),
    [("XPS", 78.0, "stop"), ("EPS", 70.0, None), ("EPS", 80.0, "stop"), ("PIR", 80.0, None)],
)
def test_foam_at_a_base_that_is_too_hot_for_long_is_refused(box, foam, celsius, told):
    state = replace(CALM, hot_sink_K=ZERO_C_K + celsius)
    found = of_state(box.changed({"cooler.modules.spacer.material": foam}), state)
    severities = {one.code: one.severity for one in found}
    assert severities.get("CW-SAFE-07") == told
    if foam == "EPS" and told:
        assert "for hours only" in next(one.why for one in found if one.code == "CW-SAFE-07")


@pytest.mark.practice
def test_the_tolerances_of_the_base_count_for_foam(box):
    at = ZERO_C_K + 70.0
    near = replace(CALM, hot_sink_K=at, hot_sink_high_K=at + 8.0)
    assert "CW-SAFE-13" in codes(of_state(box, near))
    assert "CW-SAFE-13" not in codes(of_state(box, replace(near, hot_sink_high_K=at + 4.0)))
    assert "CW-SAFE-13" not in codes(of_state(box, replace(near, hot_sink_high_K=None)))
    refused = codes(of_state(box, replace(near, hot_sink_K=at + 6.0)))
    assert "CW-SAFE-07" in refused
    assert "CW-SAFE-13" not in refused


@pytest.mark.practice
def test_a_cut_out_near_normal_work_is_told(box):
    # It opens at 65 degC; common practice wants 15 to 20 K above normal, 5 K is surely too near.
    for high, told in ((61.0, True), (59.0, False)):
        state = replace(CALM, hot_sink_high_K=ZERO_C_K + high)
        assert ("CW-SAFE-16" in codes(of_state(box, state))) is told
    hot = replace(CALM, hot_sink_K=ZERO_C_K + 61.0)
    assert "CW-SAFE-16" in codes(of_state(box, hot))


@pytest.mark.practice
def test_foam_near_something_hot_is_told(box):
    bare = box.changed({"place.wall": [{"material": "XPS", "thickness": "50 mm"}]})
    hot = replace(CALM, hot_sink_K=ZERO_C_K + 80.0, exhaust_K=ZERO_C_K + 90.0)
    assert "CW-SAFE-18" in codes(of_state(bare, hot))
    assert "CW-SAFE-18" not in codes(of_state(box, hot))  # plywood lies over it
    assert "CW-SAFE-18" not in codes(of_state(bare, CALM))
    duct = {
        "diameter": "125 mm",
        "length": "1 m",
        "insulation": {"material": "elastomeric foam", "thickness": "13 mm"},
    }
    ducted = box.changed({"cooler.hot_duct": duct})
    assert "CW-SAFE-18" in codes(of_state(ducted, hot))
    assert "CW-SAFE-18" not in codes(of_state(ducted, replace(hot, exhaust_K=ZERO_C_K + 60.0)))


@pytest.mark.published("International Residential Code R316: a barrier between foam and a room")
def test_bare_foam_towards_a_room_is_told(room):
    assert "CW-SAFE-17" not in codes(before_solving(room))
    foam = room.changed({"place.surface[0].layers": [{"material": "EPS", "thickness": "60 mm"}]})
    assert "CW-SAFE-17" in codes(before_solving(foam))


@pytest.mark.practice
def test_foam_of_ones_own_numbers_is_not_looked_up(box):
    own = [{"material": "my board", "conductivity": "0.03 W/m/K", "thickness": "40 mm"}]
    assert before_solving(box.changed({"place.wall": own})) == []
    assert "CW-SAFE-18" not in codes(
        of_state(box.changed({"place.wall": own}), replace(CALM, hot_sink_K=ZERO_C_K + 74.0))
    )


# --- Electricity ---------------------------------------------------------------------------------


# 24 V 6 A: safety extra-low voltage, 144 VA is over class 2. 12 V 30 A: likewise. 130 V: neither.
@pytest.mark.published("IEV 826-12-31 (120 V smooth direct current); NEC class 2 (100 VA, 30 V)")
@pytest.mark.parametrize(
    ("volts", "watts", "selv", "class_2"),
    [(24.0, 144.0, True, False), (12.0, 360.0, True, False), (130.0, 50.0, False, False),
     (12.0, 60.0, True, True), (120.0, 90.0, True, False)],
)  # fmt: skip
def test_low_voltage_is_safe_from_shock_but_not_from_fire(volts, watts, selv, class_2):
    assert electric.is_selv(volts) is selv
    assert electric.is_class_2(volts, watts) is class_2


@pytest.mark.published("IEV 826-12-31: safety extra-low voltage ends at 120 V direct current")
def test_an_array_beyond_low_voltage_is_told_without_any_supply(box):
    bare = box.changed({"power": None})
    assert "CW-SAFE-23" in codes(of_state(bare, replace(CALM, array_V=130.0)))
    assert "CW-SAFE-23" not in codes(of_state(bare, replace(CALM, array_V=119.0)))


# Two capacitors of 2.2 nF at 1.06 x 230 V, 50 Hz: 0.337 mA each supply; limit 0.75 mA.
@pytest.mark.published(
    "IEC 60335-1, clause 13.2: 1.06 times rated voltage, 0.75 mA portable class I"
)
@pytest.mark.parametrize(("supplies", "expected_mA"), [(1, 0.3370), (3, 1.0111)])
def test_leakage_currents_of_supplies_add_up(supplies, expected_mA):
    test_V = thresholds.LEAKAGE_TEST_RATIO * 230.0
    total_A = float(leakage_current(supplies * thresholds.EARTH_CAPACITANCE_F, test_V, 50.0))
    assert 1e3 * total_A == pytest.approx(expected_mA, rel=5e-3)
    assert (total_A > thresholds.LEAKAGE_LIMIT_A) is (supplies == 3)


# An inlet C14: 10 A, in air of at most 40 degC; 8 A pass, 11 A and 55 degC do not.
@pytest.mark.published("IEC 60320-1, C13/C14: 10 A, surroundings of normally at most 40 degC")
@pytest.mark.parametrize(
    ("load_A", "air", "refused"),
    [(8.0, "30 degC", False), (11.0, "30 degC", True), (8.0, "55 degC", True),
     (8.0, "40 degC", False), (10.0, None, False)],
)  # fmt: skip
def test_an_inlet_is_refused_beyond_its_current_or_its_air(box, load_A, air, refused):
    around = {} if air is None else {"around": air}
    sheet = box.changed(
        {"power.inlet": {"coupler": "C14"} | around, "power.supply.mains.power_factor": 0.9}
    )
    found = of_state(sheet, replace(CALM, plug_W=load_A * 230.0 * 0.9))
    assert ("CW-SAFE-27" in codes(found)) is refused
    assert all(one.severity == "stop" for one in found if one.code == "CW-SAFE-27")


@pytest.mark.published("IEC 60320-1: C8 2.5 A, C20 16 A; North America marks C14 15 A, C20 20 A")
@pytest.mark.parametrize(
    ("inlet", "region", "load_A", "refused"),
    [
        ({"coupler": "C8"}, "Europe", 3.0, True),
        ({"coupler": "C20"}, "Europe", 15.0, False),
        ({"coupler": "C20"}, "Europe", 18.0, True),
        ({"coupler": "C20"}, "North America", 18.0, False),
        ({"coupler": "C14"}, "North America", 14.0, False),
        ({"coupler": "C14"}, "North America", 16.0, True),
        ({"coupler": "C14", "current": "6 A"}, "Europe", 7.0, True),
        ({"coupler": "fixed cord"}, "Europe", 30.0, False),
    ],
)
def test_the_coupler_and_the_region_decide_what_an_inlet_bears(box, inlet, region, load_A, refused):
    sheet = box.changed({
        "power.inlet": inlet, "power.region": region, "power.supply.mains.power_factor": 1.0,
    })  # fmt: skip
    found = of_state(sheet, replace(CALM, plug_W=load_A * 230.0))
    assert ("CW-SAFE-27" in codes(found)) is refused


@pytest.mark.published("IEC 60320-1, C13/C14: surroundings of normally at most 40 degC")
@pytest.mark.parametrize(
    ("located", "air", "refused"),
    [("exhaust", "exhaust_K", True), ("place", "place_K", True), ("outside", "outdoor_K", True),
     ("outside", "exhaust_K", False), ("exhaust", "outdoor_K", False)],
)  # fmt: skip
def test_an_inlet_stands_in_the_air_of_its_supply(box, located, air, refused):
    sheet = box.changed({"power.inlet": {"coupler": "C14"}, "power.supply.located": located})
    state = replace(CALM, plug_W=50.0, **{air: ZERO_C_K + 45.0})
    assert ("CW-SAFE-27" in codes(of_state(sheet, state))) is refused


def test_without_an_inlet_or_a_load_nothing_is_said_of_it(box):
    assert "CW-SAFE-27" not in codes(of_state(box, replace(CALM, plug_W=1e4)))
    inlet = box.changed({"power.inlet": {"coupler": "C14"}})
    assert "CW-SAFE-27" not in codes(of_state(inlet, CALM))


# 120 W at 230 V: 0.870 A at a power factor of 0.60, 0.549 A at 0.95.
@pytest.mark.published("definition of the power factor, worked by hand")
@pytest.mark.parametrize(("factor", "expected_A"), [(0.60, 0.8696), (0.95, 0.5492)])
def test_the_current_at_the_plug_counts_the_power_factor(factor, expected_A):
    assert electric.mains_current_A(120.0, 230.0, factor) == pytest.approx(expected_A, rel=5e-4)


@pytest.mark.practice  # a mark for alternating current says nothing of direct current
@pytest.mark.parametrize(
    ("switch", "told"),
    [
        ({"breaks": "dc", "ac_voltage": "250 V"}, True),
        ({"breaks": "dc", "dc_voltage": "6 V"}, True),
        ({"breaks": "dc", "dc_voltage": "30 V"}, False),
        ({"breaks": "mains", "poles": 2}, False),
        (None, False),
    ],
)
def test_a_switch_in_direct_current_must_be_marked_for_it(box, switch, told):
    sheet = box
    if switch is not None:
        sheet = box.changed({"power.switch": switch | {"current": "10 A"}})
    found = [one for one in before_solving(sheet) if one.code == "CW-SAFE-28"]
    assert bool(found) is told
    assert all(one.severity == "stop" for one in found)


@pytest.mark.practice
def test_the_switch_of_a_battery_breaks_the_battery_s_volts(box):
    battery = {"voltage": "24 V", "capacity": "50 Ah"}
    switch = {"breaks": "dc", "current": "10 A", "dc_voltage": "14 V"}
    sheet = box.changed({"power": {"battery": battery, "switch": switch}})
    assert "CW-SAFE-28" in codes(before_solving(sheet))
    sheet = sheet.changed({"power.switch.dc_voltage": "32 V"})
    assert "CW-SAFE-28" not in codes(before_solving(sheet))


@pytest.mark.practice  # plugs of the United Kingdom and of Australia go in one way only
@pytest.mark.parametrize(
    ("switch", "region", "told"),
    [
        ({"breaks": "mains", "poles": 1}, None, True),
        ({"breaks": "mains", "poles": 1}, "Europe", True),
        ({"breaks": "mains", "poles": 1}, "United Kingdom", False),
        ({"breaks": "mains", "poles": 2}, "Europe", False),
        ({"breaks": "dc", "poles": 1}, "Europe", False),
    ],
)
def test_a_mains_switch_opens_both_poles(box, switch, region, told):
    sheet = box.changed({"power.switch": switch | {"current": "10 A"}})
    if region is not None:
        sheet = sheet.changed({"power.region": region})
    assert ("CW-SAFE-29" in codes(before_solving(sheet))) is told


@pytest.mark.practice
def test_a_switch_on_a_battery_alone_has_no_second_pole_to_open(box):
    battery = {"voltage": "12 V", "capacity": "50 Ah"}
    sheet = box.changed({"power": {"battery": battery, "switch": {"current": "10 A"}}})
    assert case_of(sheet).chain.switch_poles == 1
    assert "CW-SAFE-29" not in codes(before_solving(sheet))


@pytest.mark.practice
@pytest.mark.parametrize(
    ("located", "celsius", "told"),
    [("exhaust", 55.0, True), ("exhaust", 45.0, False), ("outside", 55.0, False)],
)
def test_a_supply_in_hot_air_is_told(box, located, celsius, told):
    state = replace(CALM, exhaust_K=ZERO_C_K + celsius)
    text = box.changed({"power.supply.located": located})
    assert ("CW-SAFE-30" in codes(of_state(text, state))) is told


def test_a_sheet_without_power_leaves_all_of_it_unknown(box):
    assert case_of(box.changed({"power": None})).chain == Electrics()
    chain = case_of(box).chain
    assert (chain.mains, chain.supply_V, chain.supply_W) == (True, 12.0, 90.0)
    assert chain.without_fuse == (0,)


# --- Food ----------------------------------------------------------------------------------------


@pytest.mark.published("US Food Code 2017, 3-501.16: cold holding at 5 degC or below (from memory)")
def test_food_above_five_degrees_is_told_why(box):
    (warm,) = water.not_for_food(case_of(box.changed({"safety.keeps": "food"})))
    assert "not food-safe" in warm.given
    assert "5 °C" in warm.why
    cold = box.changed({"safety.keeps": "food", "goal.air": "4 degC"})
    (still,) = water.not_for_food(case_of(cold))
    assert "above about 5 °C" not in still.why


# --- All of them ---------------------------------------------------------------------------------


def test_every_caution_has_a_source_and_defers_to_a_licensed_person():
    for code, entry in SAFETY.items():
        assert CATALOGUE[code] == entry
        assert entry.explanation.endswith(DEFERS)
        assert SOURCES[code]
    assert {code for code in CATALOGUE if code.startswith(("CW-SAFE-", "CW-WATER-"))} == set(
        SOURCES
    )


def test_every_rule_is_a_small_function_that_says_when_it_speaks():
    rules = [
        rule for module in (air, heat, electric, water) for rule in (*module.ASKED, *module.SOLVED)
    ]
    assert len(rules) == len(set(rules)) > 25
    for rule in rules:
        assert rule.__doc__
        assert len(inspect.getsource(rule).split("\n")) < 45, rule


def test_the_state_of_old_still_reads():
    old = State(0.0, 310.0, 305.0, 285.0, 290.0, None, 0.0, 0.0)
    assert old.fresh_air_m3_s is None
