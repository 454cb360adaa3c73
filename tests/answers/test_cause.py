"""Why a design has no steady state: the part and the law are named."""

from __future__ import annotations

import pytest

from coldwright.answers.design import Design
from coldwright.answers.scene import Scene, absent
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.sheet.file import read_text
from tests.answers.test_design import BENCH, BOX

CASES = [
    (BENCH, {"cooler.hot_fan.power": "1e6 W"}, "hot fan's"),
    (BENCH, {"cooler.cold_fan.power": "1e6 W"}, "cold fan's"),
    (BENCH, {"cooler.cold_fan_speed": "0"}, "cold fan stands still"),
    (BENCH, {"cooler.hot_fan_speed": "0"}, "hot fan stands still"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "changes", "says"), CASES)
def test_the_cause_is_named(text, changes, says):
    design = Design(read_text(text).changed(changes), 0, 1)
    with pytest.raises(NoSolution, match=says):
        design.solve(with_place=design.enclosed)


def test_a_sink_just_beyond_the_bound_is_named_with_its_side_and_the_bound():
    # 80 m3/h at 25 degC and 4 g/kg: 1.177 kg/m3 of dry air (ideal gas) with 1013 J/kg/K give
    # 1/(m cp) = 0.0377 K/W; at 20 degC, and dry, 0.0371 K/W is the bound that no sheet may pass.
    text = BENCH.replace('value = "0.15 K/W"', 'value = "0.0375 K/W"')
    with pytest.raises(NoSolution, match=r"cold sink is given 0\.0375") as caught:
        Design(read_text(text), 0, 1).solve(with_place=False)
    assert "0.0377" in caught.value.reason
    assert "80.0" in caught.value.reason


def test_an_air_flow_beyond_the_correlation_names_the_sink():
    fins = """[cooler.hot_sink]
kind = "plate_fin"
base = ["100 mm", "40 mm", "6 mm"]
fin_height = "10 mm"
fin_thickness = "1 mm"
fin_gap = "4 mm"
material = "aluminium 6063"
"""
    start, end = BENCH.index("[cooler.hot_sink]"), BENCH.index("[cooler.hot_fan]")
    text = BENCH[:start] + fins + BENCH[end:].replace("150 m^3/h", "9000 m^3/h")
    with pytest.raises(NoSolution, match=r"hot sink takes .* more air than its correlation"):
        Design(read_text(text), 0, 1).solve(with_place=False)


def test_a_number_that_no_law_takes_is_named():
    design = Design(read_text(BOX), 0, 1)
    design.place["loss_W_K"] = float("nan")
    with pytest.raises(NoSolution, match="No law has a value for the heat leak"):
        design.solve(with_place=True)
    with pytest.raises(NoSolution, match=r"without a cooler .* the heat leak"):
        absent(design.cooler, design.place)


def test_a_place_that_gets_too_hot_without_a_cooler_says_so():
    text = BOX.replace('combustion = "none"', 'combustion = "none"\n'
                       'gain = [{ name = "oven", heat = "900 W" }]')  # fmt: skip
    design = Design(read_text(text), 0, 1)
    with pytest.raises(NoSolution, match=r"without a cooler .* hotter than 100"):
        absent(design.cooler, design.place)


def test_what_is_refused_by_the_sheet_s_own_numbers():
    for changes, code, where in (
        ({"cooler.cold_sink.value": "0.03 K/W"}, "CW-SINK-07", "cooler.cold_sink.value"),
        ({"cooler.hot_sink.value": "0.01 K/W"}, "CW-SINK-07", "cooler.hot_sink.value"),
        ({"climate.outdoor_humidity": None, "climate.outdoor_dew_point": "36 degC"},
         "CW-CLIMATE-12", "climate.outdoor_dew_point"),
        ({"place.humidity": None, "place.dew_point": "26 degC"}, "CW-CLIMATE-12",
         "place.dew_point"),
        ({"climate.outdoor_air": "26 K"}, "CW-SHEET-12", "climate.outdoor_air"),
        ({"climate.altitude": "90 km"}, "CW-SHEET-12", "climate.altitude"),
        ({"power.battery": {"voltage": "12 V", "capacity": "9 Ah", "rate_exponent": 3.0}},
         "CW-SHEET-12", "power.battery.rate_exponent"),
    ):  # fmt: skip
        with pytest.raises(SheetInvalid) as caught:
            Design(read_text(BENCH).changed(changes), 0, 1)
        stops = [each for each in caught.value.findings if each.severity == "stop"]
        assert [(each.code, each.where) for each in stops] == [(code, where)]


# 80 m3/h of dry air at 20 degC, 1.2045 kg/m3: by hand 1/(0.02677 x 1006) = 0.0371 K/W.
@pytest.mark.published("ideal gas, p/(R T) with R = 287.06 J/kg/K; 1/(m cp), by hand")
def test_the_bound_of_a_sink_lies_at_one_over_m_cp():
    for value, refused in (("0.0370 K/W", True), ("0.0372 K/W", False)):
        sheet = read_text(BENCH).changed({"cooler.cold_sink.value": value})
        if refused:
            with pytest.raises(SheetInvalid) as caught:
                Design(sheet, 0, 1)
            assert "0.0371" in caught.value.findings[0].allowed
        else:
            Design(sheet, 0, 1)


def test_a_scene_without_any_goal_still_stands():
    design = Design(read_text(BOX), 0, 1)
    point = design.solve(with_place=True)
    scene = Scene.of(design, design.sheet, point, comfort=False)
    assert scene.goal_K is None
