"""Checking a sheet without solving: all findings at once, worst first, and what is assumed."""

import json

import pytest

import coldwright
from coldwright.answers.check import Inputs, run, schema
from coldwright.errors import SheetError

SHEET = """
title = "Hut"
[climate]
kind = "steady"
outdoor_air = "33 degC"
outdoor_humidity = "45 percent"
[place]
kind = "room"
length = "2 m"
width = "2 m"
height = "2 m"
heat_loss = "20 W/K"
combustion = "{combustion}"
[cooler]
hot_takes_from = "{hot_takes_from}"
hot_sends_to = "outdoors"
run_at = {{ module_voltage = "7 V" }}
[cooler.modules]
part = "{module}"
series = 4
[cooler.cold_sink]
part = "typical long 300 x 140 x 38"
[cooler.cold_fan]
part = "typical axial 120 mm strong"
[cooler.hot_sink]
part = "typical long 300 x 200 x 75"
[cooler.hot_fan]
part = "typical axial 172 mm strong"
"""
GOOD = {
    "combustion": "none",
    "hot_takes_from": "outdoors",
    "module": "typical 127 couples 6 A",
}


def checked(tmp_path, text):
    (tmp_path / "sheet.toml").write_text(text, encoding="utf-8")
    return run(Inputs(tmp_path))


def test_a_good_sheet_tells_what_it_holds_and_what_is_assumed(tmp_path):
    found = checked(tmp_path, SHEET.format(**GOOD))
    assert (found.reads, found.stops, found.title) == (True, False, "Hut")
    assert found.file == str(tmp_path / "sheet.toml")
    assert "stop" not in [one.severity for one in found.findings]
    # What the sheet says is given, what it leaves out is assumed, never both.
    assert found.assumptions["cooler.cold_fan_speed"] == "1.0"
    assert "climate.outdoor_air" not in found.assumptions
    assert found.given >= SHEET.count('= "') - SHEET.count("part") - 6


def test_every_fault_of_a_bad_sheet_is_listed_at_once(tmp_path):
    text = SHEET.format(**GOOD | {"module": "typical 127 cuples 6 A"})
    text = text.replace("outdoor_air =", "outdor_air =").replace('"2 m"', '"-2 m"', 1)
    found = checked(tmp_path, text)
    assert (found.reads, found.stops) == (False, True)
    lines = {one.line for one in found.findings}
    for part in ("outdor_air", '"-2 m"', "cuples"):
        line = next(at for at, row in enumerate(text.split("\n"), 1) if part in row)
        assert line in lines, part
    assert {one.severity for one in found.findings} == {"stop"}


@pytest.mark.practice
@pytest.mark.parametrize(
    ("combustion", "hot_takes_from", "asked"),
    [
        # An exhaust lowers the pressure; with two ducts the place keeps its own air.
        ("not known", "place", True),
        ("not known", "outdoors", False),
        ("none", "place", False),
    ],
)
def test_combustion_is_asked_before_any_exhaust(tmp_path, combustion, hot_takes_from, asked):
    changed = {"combustion": combustion, "hot_takes_from": hot_takes_from}
    found = checked(tmp_path, SHEET.format(**GOOD | changed))
    codes = [one.code for one in found.findings]
    assert ("CW-SAFE-02" in codes) is asked


def test_findings_stand_worst_first(tmp_path):
    text = SHEET.format(**GOOD | {"combustion": "not known", "hot_takes_from": "place"})
    text = text.replace('heat_loss = "20 W/K"', 'air_leakage = "tight"')  # nothing brings heat in
    found = checked(tmp_path, text)
    order = [("stop", "warning", "note").index(one.severity) for one in found.findings]
    assert found.stops
    assert order == sorted(order)
    assert len(set(order)) > 1


def test_a_file_that_is_no_sheet_raises(tmp_path):
    with pytest.raises(SheetError, match="no such file"):
        run(Inputs(tmp_path / "none.toml"))
    with pytest.raises(SheetError, match="empty"):
        checked(tmp_path, "")


def test_the_answer_is_plain_data(tmp_path):
    found = checked(tmp_path, SHEET.format(**GOOD))
    again = json.loads(json.dumps(found.to_json(), allow_nan=False))
    assert again["assumptions"] == found.assumptions
    assert len(again["findings"]) == len(found.findings)


def test_the_schema_is_one_of_the_draft_it_names():
    data = schema()
    assert data["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert {"climate", "place", "cooler"} <= set(data["required"])


def test_a_sheet_that_was_read_is_checked_like_its_file(tmp_path):
    (tmp_path / "sheet.toml").write_text(SHEET.format(**GOOD), encoding="utf-8")
    by_file = coldwright.check(tmp_path)
    by_sheet = coldwright.check(coldwright.read(tmp_path))
    assert by_sheet.to_json() == by_file.to_json()
