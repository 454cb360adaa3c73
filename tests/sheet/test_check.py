"""Findings that need no physics: each from one change to a sheet that has none."""

import pytest

from coldwright.findings import CATALOGUE, SEVERITIES
from coldwright.sheet.check import check
from coldwright.sheet.file import read_text


@pytest.fixture
def found(kiosk_text, replaced):
    """Changes the kiosk and gives its findings as path to finding."""

    def findings(*changes):
        text = kiosk_text
        for old, new in changes:
            text = replaced(text, old, new)
        return {one.where: one for one in check(read_text(text, "sheet.toml"))}

    return findings


def test_a_sound_sheet_has_no_findings(kiosk):
    assert check(kiosk) == []


CASES = [
    ('area = "14.8 m^2"', 'area = "9 m^2"', "place.surface", "CW-PLACE-01", "warning"),
    ('length = "1.8 m"', 'length = "1800 m"', "place.length", "CW-UNIT-02", "warning"),
    ('altitude = "120 m"', 'altitude = "120 km"', "climate.altitude", "CW-UNIT-02", "warning"),
    ('power = "14 W"', 'power = "-14 W"', "cooler.cold_fan.power", "CW-SHEET-12", "stop"),
    ('fin_gap = "3 mm"', 'fin_gap = "0 mm"', "cooler.cold_sink.fin_gap", "CW-SHEET-12", "stop"),
    ('u_value = "5.7 W/m^2/K"', 'u_value = "0 W/m^2/K"', "place.window[0].u_value",
     "CW-SHEET-12", "stop"),
    ('sun = "0 W/m^2"', "", "climate.sun", "CW-CLIMATE-03", "warning"),
    ('outdoor_humidity = "40 percent"', "", "climate.outdoor_humidity", "CW-CLIMATE-02",
     "warning"),
    ('power = "14 W"\n', "", "cooler.cold_fan.power", "CW-FAN-01", "warning"),
    ('["160 m^3/h", "45 Pa"]', '["250 m^3/h", "45 Pa"]', "cooler.cold_fan.curve[2][0]",
     "CW-FAN-02", "stop"),
    ('["160 m^3/h", "45 Pa"]', '["160 m^3/h", "95 Pa"]', "cooler.cold_fan.curve[1][1]",
     "CW-FAN-03", "warning"),
    ("cold_fan_speed = 1.0", "cold_fan_speed = 1.3", "cooler.cold_fan_speed", "CW-FAN-04",
     "warning"),
    ('hot_sends_to = "outdoors"', 'hot_sends_to = "place"', "cooler.hot_sends_to",
     "CW-COOLER-01", "warning"),
    ('cold_takes_from = "place"', 'cold_takes_from = "place"\ncold_sends_to = "outdoors"',
     "cooler.cold_sends_to", "CW-COOLER-03", "stop"),
    ("hot_recirculation = 0.0", "hot_recirculation = 1.0", "cooler.hot_recirculation",
     "CW-COOLER-05", "stop"),
    ('run_at = { voltage = "30 V" }', 'run_at = { voltage = "90 V" }', "cooler.run_at.voltage",
     "CW-MODULE-01", "warning"),
    ('run_at = { voltage = "30 V" }', 'run_at = { current = "30 A" }', "cooler.run_at.current",
     "CW-MODULE-01", "warning"),
    ('["300 mm", "140 mm", "8 mm"]', '["60 mm", "40 mm", "8 mm"]', "cooler.cold_sink.base[0]",
     "CW-SINK-04", "warning"),
    ('["300 mm", "140 mm", "8 mm"]', '["30 cm", "4 mm", "14 cm"]', "cooler.cold_sink.base[1]",
     "CW-SINK-03", "stop"),
    ("series = 4", "series = 4\ncold_sink_number = 2", "cooler.modules.cold_sink_number",
     "CW-SINK-05", "stop"),
    ("[0.5, 0.90]", "[0.1, 0.90]", "power.supply.efficiency[1][0]", "CW-POWER-02", "stop"),
    ('name = "roof and floor"', 'name = "walls"', "place.surface[1].name", "CW-SHEET-10",
     "warning"),
    ('length = "1.2 m"', 'length = "1.2 m"\ncompression = "60 percent"',
     "cooler.hot_duct.compression", "CW-DUCT-01", "warning"),
    ('kind = "flexible aluminium"', 'kind = "smooth plastic"\ncompression = "10 percent"',
     "cooler.hot_duct.compression", "CW-DUCT-01", "warning"),
    ('start_air = "34 degC"', 'start_air = "20 degC"', "goal.air", "CW-GOAL-03", "note"),
    ('air = "27 degC"', "", "goal.within", "CW-GOAL-02", "warning"),
    ('air = "27 degC"', 'plate = "27 degC"', "goal.plate", "CW-GOAL-01", "warning"),
    ('height = "2.3 m"', 'height = "2.3 m"\nheat_loss = "20 W/K"', "place.heat_loss",
     "CW-PLACE-03", "stop"),
    ("[power.supply]", "[power.panel]\npeak_power = \"90 W\"\n[power.supply]", "power.panel",
     "CW-POWER-03", "warning"),
]  # fmt: skip


@pytest.mark.practice
@pytest.mark.parametrize(("old", "new", "path", "code", "severity"), CASES)
def test_a_doubtful_design_is_remarked_on(found, old, new, path, code, severity):
    finding = found((old, new))[path]
    assert (finding.code, finding.severity) == (code, severity)
    assert finding.line
    assert finding.file == "sheet.toml"
    assert len(finding.sentence()) > 30


def test_findings_come_worst_first(found):
    findings = list(
        found(
            ('power = "14 W"', 'power = "-14 W"'),
            ('start_air = "34 degC"', 'start_air = "20 degC"'),
            ("cold_fan_speed = 1.0", "cold_fan_speed = 1.3"),
        ).values()
    )
    ranks = [SEVERITIES.index(one.severity) for one in findings]
    assert len(set(ranks)) == 3
    assert ranks == sorted(ranks)


def test_a_flow_in_another_unit_is_guessed(found):
    # 120 m³/h is 33 L/s; a person who writes "120 m^3/s" slipped by the factor 3600.
    finding = found(('"160 m^3/h", "45 Pa"', '"160 m^3/s", "45 Pa"'),
                    ('"240 m^3/h", "0 Pa"', '"240 m^3/s", "0 Pa"'))  # fmt: skip
    assert "m³/h meant?" in finding["cooler.cold_fan.curve[1][0]"].sentence()


def test_a_room_without_walls_cannot_be_calculated(kiosk):
    bare = kiosk.changed({"place.surface": None})
    finding = next(one for one in check(bare) if one.code == "CW-PLACE-02")
    assert finding.severity == "stop"
    known = kiosk.changed({"place.surface": None, "place.heat_loss": "20 W/K"})
    assert check(known) == []


def test_a_resistance_with_a_fan_curve_needs_its_flow(kiosk):
    changes = {"cooler.hot_sink": {"kind": "resistance", "value": "0.1 K/W"}}
    finding = next(one for one in check(kiosk.changed(changes)))
    assert (finding.code, finding.where) == ("CW-SINK-02", "cooler.hot_sink.value")
    assert "at_flow" in finding.action
    given = kiosk.changed(
        {"cooler.hot_sink": {"kind": "resistance", "value": "0.1 K/W", "at_flow": "150 m^3/h"}}
    )
    assert check(given) == []


@pytest.mark.parametrize(
    "rows",
    [
        [["40 m^3/h", "0.3 K/W"], ["20 m^3/h", "0.2 K/W"]],
        [["20 m^3/h", "0.2 K/W"], ["40 m^3/h", "0.3 K/W"]],
        [["20 m^3/h", "0.3 K/W", "5 Pa"], ["40 m^3/h", "0.2 K/W"]],
    ],
)
def test_a_sink_table_must_be_in_order(kiosk, rows):
    other = kiosk.changed({"cooler.hot_sink": {"kind": "table", "rows": rows}})
    assert "CW-SINK-01" in {one.code for one in check(other) if one.severity == "stop"}


def test_a_plate_uses_no_cold_sink_and_a_room_needs_one(kiosk):
    plate = kiosk.changed({"place": {"kind": "plate", "heat": "5 W"}, "goal": {}})
    codes = [one.code for one in check(plate)]
    assert codes.count("CW-COOLER-04") == 2
    bare = kiosk.changed({"cooler.cold_sink": None, "cooler.cold_fan": None})
    stops = {one.where for one in check(bare) if one.severity == "stop"}
    assert stops == {"cooler.cold_sink", "cooler.cold_fan"}


def test_an_absurd_voltage_for_one_module(simplest):
    # 8 V per module is fine; 230 V on a string of two is a slip, whatever the module.
    sheet = simplest.changed({"cooler.run_at": {"voltage": "230 V"}})
    finding = next(one for one in check(sheet) if one.code == "CW-MODULE-01")
    assert finding.where == "cooler.run_at.voltage"
    assert "115" in finding.given


def test_without_a_supply_the_reader_is_told(simplest):
    codes = {one.code: one for one in check(simplest)}
    assert codes["CW-POWER-01"].severity == "note"
    assert codes["CW-FAN-01"].severity == "warning"


def test_every_code_is_explained_in_the_catalogue():
    assert {code for _, _, _, code, _ in CASES} <= set(CATALOGUE)


@pytest.mark.parametrize("efficiency", ["0", '"0 %"', "[[0, 0.5], [1, 0]]", "[[0.5, 0], [1, 0.9]]"])
def test_a_supply_out_of_which_nothing_comes_is_a_fault(kiosk_text, efficiency):
    line = next(one for one in kiosk_text.split("\n") if one.startswith("efficiency"))
    text = kiosk_text.replace(line, f"efficiency = {efficiency}", 1)
    (found,) = (one for one in check(read_text(text, "sheet.toml")) if one.severity == "stop")
    assert found.code == "CW-SHEET-12"
    assert found.where.startswith("power.supply.efficiency")
    assert text.split("\n")[found.line - 1].startswith("efficiency")


def test_nothing_comes_out_at_no_load(kiosk_text):
    line = next(one for one in kiosk_text.split("\n") if one.startswith("efficiency"))
    text = kiosk_text.replace(line, "efficiency = [[0, 0], [1, 0.9]]", 1)
    assert not [one for one in check(read_text(text, "sheet.toml")) if one.severity == "stop"]


def test_numbers_in_messages_are_printed_as_they_are(kiosk_text):
    text = kiosk_text.replace('fin_gap = "3 mm"', 'fin_gap = "3 um"').replace(
        'outdoor_humidity = "40 percent"', 'outdoor_humidity = "39 percent"'
    )
    (found,) = check(read_text(text, "sheet.toml"))
    assert "�" not in found.sentence()
    assert "0.3\u2009mm to 40\u2009mm" in found.sentence()
