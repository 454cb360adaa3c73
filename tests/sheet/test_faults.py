"""Slips in a sheet: each is reported with its path, its line, what is allowed and a way out."""

import pytest

from coldwright.findings import CATALOGUE

SLIPS = [
    # what stands in the kiosk, what is written instead, path, code, words of the sentence
    ('max_sound = "52 dB"', 'max_sond = "52 dB"', "goal.max_sond", "CW-SHEET-02", ["max_sound"]),
    ("[power.converter]", "[power.convertor]", "power.convertor", "CW-SHEET-02", ["converter"]),
    ('"35 degC +/- 1 K"', '"35"', "climate.outdoor_air", "CW-UNIT-01", ["unit", "35 degC"]),
    ('"35 degC +/- 1 K"', "35", "climate.outdoor_air", "CW-UNIT-01", ["unit"]),
    ('"35 degC +/- 1 K"', "nan", "climate.outdoor_air", "CW-UNIT-01", []),
    ('"35 degC +/- 1 K"', "true", "climate.outdoor_air", "CW-UNIT-01", ["true", "temperature"]),
    ('"35 degC +/- 1 K"', "[1]", "climate.outdoor_air", "CW-UNIT-01", ["A list"]),
    ('"35 degC +/- 1 K"', "{ x = 1 }", "climate.outdoor_air", "CW-UNIT-01", ["A table"]),
    ('power = "14 W"', 'power = "14 m"', "cooler.cold_fan.power", "CW-UNIT-01", ["14 W"]),
    ('kind = "room"\n', 'kind = "rom"\n', "place.kind", "CW-SHEET-03", ["room", "box", "open_air"]),
    ('kind = "room"\n', "\n", "place.kind", "CW-SHEET-01", ["room", "open_air"]),
    ('kind = "room"\n', "kind = 3\n", "place.kind", "CW-SHEET-03", ["room"]),
    ('kind = "plate_fin"', 'kind = "pin_fin"', "cooler.cold_sink.kind", "CW-SHEET-03",
     ["plate_fin"]),
    ('fin_gap = "3 mm"', "", "cooler.cold_sink.fin_gap", "CW-SHEET-01", ["fin_gap", "missing"]),
    ('"drained"', '"drain"', "cooler.condensate", "CW-SHEET-03", ["drained"]),
    ('"drained"', "1", "cooler.condensate", "CW-SHEET-03", ["drained"]),
    ('part = "typical 127 couples 6 A"', 'part = "typical 127 couple 6A"', "cooler.modules.part",
     "CW-PART-01", ["typical 127 couples 6 A"]),
    ('part = "typical 127 couples 6 A"', 'part = "typical 127 couples 6 A"\nproperties = {}',
     "cooler.modules", "CW-SHEET-05", ["one of"]),
    ('part = "typical 127 couples 6 A"', "", "cooler.modules", "CW-SHEET-05", ["one of"]),
    ('"elbow 90", "louvre"', '"elbow 91", "louvre"', "cooler.hot_duct.fittings[2]", "CW-PART-01",
     ["elbow 90"]),
    ('material = "EPS", thickness = "40', 'material = "EBS", thickness = "40',
     "place.surface[0].layers[1].material", "CW-PART-01", ["EPS"]),
    ('material = "EPS", thickness = "40 mm"', 'material = "EPS"', "place.surface[0].layers[1]",
     "CW-SHEET-07", ["thickness"]),
    ("series = 4", 'series = "4"', "cooler.modules.series", "CW-SHEET-04", ["a whole number"]),
    ("series = 4", "series = 4.0", "cooler.modules.series", "CW-SHEET-04", ["a whole number"]),
    ("series = 4", "series = true", "cooler.modules.series", "CW-SHEET-04", ["true"]),
    ("series = 4", "series = 0", "cooler.modules.series", "CW-SHEET-06", ["1"]),
    ("people = 1", "people = nan", "place.gain[0].people", "CW-SHEET-06", []),
    ("people = 1", "", "place.gain[0]", "CW-SHEET-05", ["people", "heat"]),
    ('run_at = { voltage = "30 V" }', 'run_at = { voltage = "30 V", current = "3 A" }',
     "cooler.run_at", "CW-SHEET-05", ["voltage", "current", "twice"]),
    ('run_at = { voltage = "30 V" }', "run_at = {}", "cooler.run_at", "CW-SHEET-05", ["pumped"]),
    ('run_at = { voltage = "30 V" }', 'run_at = "30 V"', "cooler.run_at", "CW-SHEET-04",
     ["a table"]),
    ('"4 x M4 steel, 20 mm"', '"four screws"', "cooler.modules.spacer.screws", "CW-SHEET-04",
     ["4 x M4 steel, 20 mm"]),
    ('"4 x M4 steel, 20 mm"', '"4 x M4 cheese, 20 mm"', "cooler.modules.spacer.screws.material",
     "CW-PART-01", ["cheese"]),
    ('size = "14 AWG"', 'size = "14 mm"', "power.wire[0].size", "CW-UNIT-01", ["cross section"]),
    ('size = "14 AWG"', 'size = "SEA 14"', "power.wire[0].size", "CW-PART-01", ["SAE 14"]),
    ("shaded_share = 0.6", "shaded_share = 60", "place.window[0].shaded_share", "CW-UNIT-01",
     ["60 %"]),
    ("[0.2, 0.86]", "[0.2, 1.86]", "power.supply.efficiency[0][1]", "CW-UNIT-01", ["100"]),
    ("[0.2, 0.86]", "[0.2]", "power.supply.efficiency[0]", "CW-SHEET-04", ["efficiency"]),
    ('["0 m^3/h", "70 Pa"]', '["0 m^3/h"]', "cooler.cold_fan.curve[0]", "CW-SHEET-04",
     ["pressure"]),
    ('["0 m^3/h", "70 Pa"]', '["0 m^3/h", "70 Pa", "x"]', "cooler.cold_fan.curve[0]",
     "CW-SHEET-06", ["2"]),
    ('["0 m^3/h", "70 Pa"]', '["70 Pa", "70 Pa"]', "cooler.cold_fan.curve[0][0]", "CW-UNIT-01",
     ["flow"]),
    ('air_leakage = { area = "380 cm^2" }', 'air_leakage = "leaky"', "place.air_leakage",
     "CW-SHEET-03", ["draughty"]),
    ('air_leakage = { area = "380 cm^2" }', "air_leakage = 3.5", "place.air_leakage",
     "CW-SHEET-03", ["draughty"]),
    ('air_leakage = { area = "380 cm^2" }', "air_leakage = {}", "place.air_leakage",
     "CW-SHEET-05", ["ach50"]),
    ('insulation = "none"', 'insulation = { material = "EPS" }',
     "cooler.hot_duct.insulation.thickness", "CW-SHEET-01", ["thickness"]),
    ('insulation = "none"', "insulation = [1]", "cooler.hot_duct.insulation", "CW-SHEET-04",
     ["none"]),
    ('diameter = "125 mm"', "", "cooler.hot_duct", "CW-SHEET-07", ["diameter"]),
    ('accuracy = "0.5 K"', "accuracy = 0.5", "instrument[0].accuracy", "CW-SHEET-04", ["a text"]),
    ('activity = "seated"', 'activity = "sitting"', "place.gain[0].activity", "CW-PART-01", []),
    ('title = "Ticket', 'format = 2\ntitle = "Ticket', "format", "CW-SHEET-03", ["1"]),
    ('[cooler.hot_fan]', '[cooler.hot_fan]\nflow = "90 m^3/h"', "cooler.hot_fan", "CW-SHEET-05",
     ["curve", "flow"]),
]  # fmt: skip


@pytest.mark.practice
@pytest.mark.parametrize(("old", "new", "path", "code", "words"), SLIPS)
def test_a_slip_is_found_with_its_path_and_a_way_out(
    kiosk_text, replaced, faults, old, new, path, code, words
):
    text = replaced(kiosk_text, old, new)
    found = faults(text)
    assert list(found) == [path]  # this fault and no echo of it
    finding = found[path]
    assert finding.code == code
    assert finding.severity == "stop"
    assert finding.file == "sheet.toml"
    for word in words:
        assert word in finding.sentence()


@pytest.mark.parametrize(("old", "new", "path", "code", "words"), SLIPS)
def test_a_slip_has_its_line(kiosk_text, replaced, faults, old, new, path, code, words):
    text = replaced(kiosk_text, old, new)
    line = faults(text)[path].line
    changed = kiosk_text[: kiosk_text.index(old)].count("\n") + 1
    header = text.split("\n")[line - 1].lstrip().startswith("[")
    # The fault stands on the changed line itself, or its table's header stands there or above.
    assert line == changed or (header and line < changed)


def test_all_faults_come_at_once_in_the_order_of_the_file(kiosk_text, faults):
    text = kiosk_text
    wanted = set()
    taken = ("place.kind", "cooler.modules", "format", "goal")
    for old, new, path, _, _ in SLIPS:
        if text.count(old) == 1 and new and not path.startswith(taken):
            text = text.replace(old, new)
            wanted.add(path)
    found = faults(text)
    assert len(wanted) > 8
    assert set(found) >= wanted - {"power.converter"}
    lines = [finding.line for finding in found.values()]
    assert lines == sorted(lines)


def test_a_key_under_the_wrong_kind_of_place_is_named(simplest_text, replaced, faults):
    text = replaced(
        simplest_text, 'humidity = "40 percent"', 'humidity = "40 percent"\nlength = "2 m"'
    )
    finding = faults(text)["place.length"]
    assert finding.code == "CW-SHEET-02"
    assert "dew_point" in finding.allowed  # a key of this kind of place
    assert "combustion" not in finding.allowed  # not one of a room


def test_a_missing_table_is_asked_for(faults):
    found = faults('title = "nothing else"')
    assert set(found) == {"climate", "place", "cooler"}
    assert {one.code for one in found.values()} == {"CW-SHEET-01"}


def test_very_many_faults_are_cut_short(faults, simplest_text):
    text = "\n".join(f"odd_{number} = 1" for number in range(5000)) + "\n" + simplest_text
    found = faults(text)
    assert len(found) <= 61
    assert "CW-SHEET-08" in {one.code for one in found.values()}


def test_a_list_of_modules_with_a_bad_one_says_which(kiosk_text, replaced, faults):
    text = replaced(
        kiosk_text, "[cooler.modules]", '[[cooler.modules]]\npart = "no such"\n[[cooler.modules]]'
    )
    found = faults(text)
    assert list(found) == ["cooler.modules[0].part"]
    assert found["cooler.modules[0].part"].line == text[: text.index("no such")].count("\n") + 1


def test_every_code_is_explained():
    assert {code for _, _, _, code, _ in SLIPS} <= set(CATALOGUE)
