"""An exhaust needs air that comes in: sealed places, impossible flows, flames."""

from __future__ import annotations

import pytest

from coldwright.answers.design import Design
from coldwright.errors import SheetInvalid
from coldwright.machine.safety import before_solving
from coldwright.sheet.check import check
from tests.machine.test_safety import sheet

SEALED = [
    "none", {"area": "0 cm^2"}, {"ach50": "0 1/h"}, {"natural": "0 1/h"},
]  # fmt: skip


def codes(found):
    return [each.code for each in found]


def refused(text):
    with pytest.raises(SheetInvalid) as caught:
        Design(text, 0, 1)
    return [each for each in caught.value.findings if each.severity == "stop"]


def findings(text):
    design = Design(text, 0, 1)
    return design.findings(design.solve(with_place=True))


@pytest.mark.parametrize("leakage", SEALED)
@pytest.mark.parametrize("combustion", ["none", "open"])
def test_an_exhaust_out_of_a_sealed_place_is_refused(leakage, combustion):
    text = sheet(combustion).changed({"place.air_leakage": leakage})
    stops = refused(text)
    assert "CW-COOLER-08" in codes(stops)
    stop = next(each for each in stops if each.code == "CW-COOLER-08")
    assert stop.where == "place.air_leakage"
    assert "outdoors" in stop.action
    assert ("CW-SAFE-11" in codes(stops)) is (combustion == "open")
    assert "CW-COOLER-08" in codes(check(text))


def test_a_stream_that_comes_from_where_it_goes_needs_no_gap():
    for ends in ({"cooler.hot_takes_from": "outdoors"}, {"cooler.hot_sends_to": "place"}):
        text = sheet().changed({"place.air_leakage": "none", **ends})
        assert "CW-COOLER-08" not in codes(check(text))
    blown_in = sheet().changed(
        {"place.air_leakage": "none", "cooler.hot_takes_from": "outdoors",
         "cooler.hot_sends_to": "place"}
    )  # fmt: skip
    (stop,) = [each for each in check(blown_in) if each.code == "CW-COOLER-08"]
    assert "leave this place" in stop.given


def test_a_gap_however_small_is_not_sealed():
    text = sheet().changed({"place.air_leakage": {"area": "0.1 cm^2"}})
    assert "CW-COOLER-08" not in codes(check(text))


# The room of the safety rules passes 150 m3/h at 50 Pa; by dp = 50 (V/150)^(1/0.65) 235 m3/h need
# 99.7 Pa and 236 m3/h 100.4 Pa; 669 m3/h need 499 Pa and 671 m3/h 501 Pa.
@pytest.mark.published("power law of ASHRAE Fundamentals ch. 16; n50 of EN ISO 9972; by hand")
@pytest.mark.parametrize(
    ("flow", "told"), [("235", None), ("236", "warning"), ("669", "warning"), ("671", "stop")]
)
def test_a_given_flow_that_no_fan_draws_is_told_at_its_thresholds(flow, told):
    text = sheet(flow=flow)
    if told == "stop":
        assert codes(refused(text)) == ["CW-COOLER-09"]
        return
    found = [each for each in findings(text) if each.code == "CW-COOLER-09"]
    assert [each.severity for each in found] == ([told] if told else [])
    for each in found:
        assert each.where == "cooler.hot_fan.flow"
        assert each.line
        assert "50 to 200 Pa" in each.why


def test_an_impossible_flow_beside_a_flame_is_stopped_for_the_flame_too():
    stops = refused(sheet("open", flow="900"))
    assert codes(stops) == ["CW-SAFE-01", "CW-COOLER-09"]
    assert "more than 500" in stops[0].given


def test_a_fan_with_a_curve_needs_no_such_rule():
    text = sheet().changed(
        {"cooler.hot_fan.flow": None,
         "cooler.hot_fan.curve": [["0 m^3/h", "150 Pa"], ["900 m^3/h", "0 Pa"]],
         "cooler.hot_sink.at_flow": "100 m^3/h"}
    )  # fmt: skip
    assert "CW-COOLER-09" not in codes(findings(text))


# Of a leakage that is only assumed nothing can be said to be safe: 10 m3/h out of 30 m3 whose walls
# would pass 6 x 30 = 180 m3/h at 50 Pa lower the pressure by 0.6 Pa only, if they are so.
@pytest.mark.practice
def test_an_assumed_leakage_is_a_stop_beside_a_flame_and_a_told_one_is_not():
    small = {"cooler.hot_fan.flow": "10 m^3/h", "cooler.hot_sink.value": "1 K/W",
             "cooler.run_at.module_voltage": "0.5 V"}  # fmt: skip
    told = sheet("open").changed(small)
    assert {"CW-SAFE-01", "CW-SAFE-04"} & set(codes(findings(told))) == {"CW-SAFE-04"}
    assumed = told.changed({"place.air_leakage": None})
    found = {each.code: each for each in findings(assumed)}
    assert "CW-SAFE-04" not in found
    assert found["CW-SAFE-01"].severity == "stop"
    assert found["CW-SAFE-01"].where == "place.air_leakage"
    assert "assumed" in found["CW-SAFE-01"].given
    # Without a flame it is assumed as everywhere.
    assert "CW-SAFE-01" not in codes(findings(assumed.changed({"place.combustion": "none"})))


# A known heat loss says nothing of gaps: those that are assumed make the under-pressure. 100 m3/h
# by dp = 50 (100/180)^(1/0.65) = 20.2 Pa.
@pytest.mark.published("power law of ASHRAE Fundamentals ch. 16; n50 of EN ISO 9972; by hand")
def test_a_known_heat_loss_is_stopped_by_the_pressure_that_its_assumed_gaps_make():
    text = sheet("open").changed({"place.air_leakage": None})
    (stop,) = [each for each in findings(text) if each.code == "CW-SAFE-01"]
    assert stop.severity == "stop"
    assert "20.2\u2009Pa" in stop.given


def test_check_warns_of_an_exhaust_beside_a_flame_and_a_solved_state_says_it_once():
    text = sheet("open")
    (told,) = before_solving(text)
    assert (told.code, told.severity) == ("CW-SAFE-04", "warning")
    assert "2 Pa" in told.why
    solved = [each for each in findings(text) if each.where == "place.combustion"]
    assert codes(solved) == ["CW-SAFE-01"]


def test_the_advice_against_a_cooler_inside_is_two_ducts():
    text = sheet("open", sends="place")
    (told,) = [each for each in check(text) if each.code == "CW-COOLER-01"]
    assert "hot_takes_from" in told.action
