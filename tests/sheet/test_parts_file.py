"""Parts lists: TOML and CSV say the same, faults come with their lines, units stay the person's."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.errors import SheetError, SheetInvalid
from coldwright.sheet.library import library
from coldwright.sheet.parts_file import KINDS, name_of, parts_of, read_parts, typical_parts
from coldwright.sheet.parts_table import data_of_csv

TOML = """
title = "the drawer"
[[module]]
name = "six ampere"
ratings.max_current = "6 A"
ratings.max_voltage = "15.4 V"
ratings.max_heat = "53 W"
ratings.max_difference = "68 K"
footprint = ["40 mm", "40 mm"]
price = "5 EUR"
stock = 8
[[sink]]
name = "block"
kind = "plate_fin"
base = ["120 mm", "100 mm", "6 mm"]
fin_height = "30 mm"
fin_thickness = "1 mm"
fin_gap = "3 mm"
price = "11.50 EUR"
[[sink]]
name = "loop"
part = "typical water loop 240 mm"
face = ["120 mm", "84 mm"]
[[fan]]
name = "pair"
curve = [["0 m^3/h", "30 Pa"], ["70 m^3/h", "16 Pa"], ["140 m^3/h", "0 Pa"]]
power = "2.6 W"
sound_at_1m = "33 dB"
count = 2
side = "hot"
[[supply]]
name = "brick"
voltage = "12 V"
rated_power = "60 W"
efficiency = [[0.2, 0.82], [1.0, 0.86]]
price = "14 EUR"
[[converter]]
name = "step"
efficiency = 0.93
rated_power = "100 W"
[[wire]]
size = "14 AWG"
fuse = "15 A"
"""
CSV = (
    "what,name,part,price [EUR],stock,side,ratings.max_current [A],ratings.max_voltage,"
    "ratings.max_heat,ratings.max_difference,footprint,kind,base [mm],fin_height,fin_thickness,"
    "fin_gap,face,curve,power,sound_at_1m,count,voltage,rated_power,efficiency,size,fuse\n"
    "module,six ampere,,5,8,,6,15.4 V,53 W,68 K,40 mm x 40 mm,,,,,,,,,,,,,,,\n"
    "sink,block,,11.50,,,,,,,,plate_fin,120 x 100 x 6,30 mm,1 mm,3 mm,,,,,,,,,,\n"
    "sink,loop,typical water loop 240 mm,,,,,,,,,,,,,,120 mm x 84 mm,,,,,,,,,\n"
    "# what stands in the cellar,,,,,,,,,,,,,,,,,,,,,,,,,\n"
    'fan,pair,,,,hot,,,,,,,,,,,,"0 m^3/h: 30 Pa; 70 m^3/h: 16 Pa; 140 m^3/h: 0 Pa",2.6 W,33 dB,2,'
    ",,,,\n"
    "supply,brick,,14,,,,,,,,,,,,,,,,,,12 V,60 W,0.2: 0.82; 1.0: 0.86,,\n"
    "converter,step,,,,,,,,,,,,,,,,,,,,,100 W,0.93,,\n"
    "wire,,,,,,,,,,,,,,,,,,,,,,,,14 AWG,15 A\n"
)


@pytest.fixture
def written(tmp_path):
    def write(text, name):
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        return file

    return write


def _numbers(found, kind):
    """Every quantity of the rows of a kind, by place and key."""
    held = {}
    for place, row in enumerate(getattr(found, kind)):
        stack = [("", row)]
        while stack:
            path, value = stack.pop()
            if hasattr(value, "kind") and hasattr(value, "tolerance"):
                held[f"{place}{path}"] = value.value
            elif isinstance(value, tuple):
                stack += [(f"{path}[{at}]", each) for at, each in enumerate(value)]
            elif hasattr(type(value), "model_fields"):
                stack += [(f"{path}.{key}", each) for key, each in value]
            elif value is not None:
                held[f"{place}{path}"] = value
    return held


def test_a_table_and_toml_say_the_same(written):
    from_toml = read_parts(written(TOML, "drawer.toml"))
    from_csv = read_parts(written(CSV, "drawer.csv"))
    for kind in KINDS:
        assert len(getattr(from_csv, kind)) == len(getattr(from_toml, kind)) > 0
        assert _numbers(from_csv, kind) == _numbers(from_toml, kind)


def test_values_are_those_of_the_text(written):
    # 14 AWG is 2.08 mm² (ASTM B258, as every table of wire sizes says).
    found = read_parts(written(TOML, "drawer.toml"))
    assert found.module[0].ratings.max_heat.value == 53.0
    assert found.module[0].stock == 8
    assert found.sink[0].price.value == 11.5
    assert found.sink[1].kind == "water_loop"
    assert found.fan[0].curve[1][0].value == pytest.approx(70.0 / 3600.0)
    assert found.wire[0].size.value == pytest.approx(2.08e-6, rel=2e-3)
    assert [name_of(row, "wire", 0) for row in found.wire] == ["14 AWG"]


@pytest.mark.parametrize("delimiter", [";", "\t"])
def test_other_separators_are_noticed(written, delimiter):
    text = delimiter.join(("what", "name", "voltage", "rated_power")) + "\n"
    text += delimiter.join(("supply", "brick", "12 V", "60 W")) + "\n"
    found = read_parts(written(text, "list.csv"))
    assert found.supply[0].rated_power.value == 60.0


def test_all_faults_come_at_once_with_their_lines(written):
    bad = TOML.replace('"6 A"', '"6 kg"').replace('fin_gap = "3 mm"', 'fin_gab = "3 mm"')
    file = written(bad, "drawer.toml")
    with pytest.raises(SheetInvalid) as raised:
        read_parts(file)
    lines = bad.split("\n")
    found = {(one.line, one.code) for one in raised.value.findings}
    amps = next(at for at, line in enumerate(lines, 1) if "6 kg" in line)
    gap = next(at for at, line in enumerate(lines, 1) if "fin_gab" in line)
    assert (amps, "CW-UNIT-01") in found
    assert (gap, "CW-SHEET-02") in found
    assert all(one.file == str(file) for one in raised.value.findings)


def test_faults_of_a_table_come_with_the_line_of_the_row(written):
    text = "what,name,voltage,rated_power\nsupply,a,12 V,60 W\nsupply,b,12 W,60 W\n"
    with pytest.raises(SheetInvalid) as raised:
        read_parts(written(text, "list.csv"))
    assert [one.line for one in raised.value.findings] == [3]


@pytest.mark.parametrize(
    ("text", "word", "line"),
    [
        ("name,voltage\nbrick,12 V\n", "what", 1),
        ("what,name\nhammer,a\n", "hammer", 2),
        ("what,name\nfan,a,9,9\n", "cells", 2),
        ("what,name,name\nfan,a,b\n", "twice", 1),
        ("what,price (EUR)\nfan,3\n", "no name of a column", 1),
        ("what,name\n,a\n", "does not say", 2),
        ('what,name\nfan,"a\n', "CSV", 2),
        ("what,ratings,ratings.max_current\nmodule,6 A,6 A\n", "both a value and a table", 2),
    ],
)
def test_a_table_that_cannot_be_read_says_where(written, text, word, line):
    with pytest.raises(SheetError) as raised:
        read_parts(written(text, "list.csv"))
    assert word in str(raised.value)
    assert raised.value.line == line


def test_a_list_without_parts_or_with_twins_is_refused(written):
    with pytest.raises(SheetError, match="lists no parts"):
        read_parts(written('title = "empty"\n', "list.toml"))
    twins = '[[supply]]\nname = "a"\nvoltage = "12 V"\nrated_power = "60 W"\n'
    with pytest.raises(SheetInvalid) as raised:
        read_parts(written(twins + twins, "list.toml"))
    assert raised.value.findings[0].line == 5
    with pytest.raises(SheetError, match="no such file"):
        read_parts(Path("nowhere.toml"))


def test_a_sink_by_one_number_needs_its_flow():
    row = {"name": "x", "kind": "resistance", "value": "0.3 K/W"}
    with pytest.raises(SheetInvalid, match="at_flow"):
        parts_of({"sink": [row]})


def test_the_typical_list_holds_the_library():
    found = typical_parts()
    for kind, group in (("module", "modules"), ("sink", "sinks"), ("fan", "fans")):
        names = [name_of(row, kind, place) for place, row in enumerate(getattr(found, kind))]
        assert names == library().names(group)
    assert len(found.supply) >= 6
    assert len(found.converter) >= 2
    assert len(found.wire) >= 3
    # Where a sink has no base by dimensions, the list says what modules may cover.
    for row in found.sink:
        assert row.kind == "plate_fin" or row.face is not None


@pytest.mark.published("IEC 60204-1:2016, table 6, method B2, copper at 40 degC, from memory")
def test_typical_fuses_protect_their_wires():
    # 1.5 mm²: 13.1 A, 2.5: 17.4 A, 4: 23 A, 6: 30 A in conduit or trunking at 40 °C.
    allowed_A = {1.5: 13.1, 2.5: 17.4, 4.0: 23.0, 6.0: 30.0}
    for row in typical_parts().wire:
        size_mm2 = round(row.size.value * 1e6, 2)
        assert row.fuse.value <= allowed_A[size_mm2]


def test_typical_supplies_have_efficiencies_that_supplies_have():
    for row in (*typical_parts().supply, *typical_parts().converter):
        for load, share in row.efficiency:
            assert 0.0 < load.value <= 1.0
            assert 0.75 <= share.value <= 0.96


@given(st.text(max_size=200))
def test_no_text_makes_the_table_reader_fall_over(text):
    try:
        data, lines = data_of_csv(text, "list.csv")
    except SheetError:
        return
    assert set(data) <= set(KINDS)
    assert all(line >= 1 for line in lines.values())


def test_the_text_of_the_typical_list_is_toml_with_known_keys():
    file = Path(__import__("coldwright").__file__).parent / "sheet" / "typical_parts.toml"
    data = tomllib.loads(file.read_text(encoding="utf-8"))
    assert set(data) <= set(KINDS)
