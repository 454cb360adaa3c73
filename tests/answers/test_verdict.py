"""Does it make sense? The word, where the place levels off and when, against closed solutions."""

import json
import math
import re

import numpy as np
import pytest

from coldwright.answers import verdict
from coldwright.answers.value import Value
from coldwright.answers.verdict import crossing
from coldwright.answers.verdict_reasons import _takes_out
from coldwright.sheet.file import read_text
from tests.answers.test_design import BENCH, BOX


def goal(text, air, within=None, more=""):
    time = "" if within is None else f'within = "{within}"\n'
    return f'[goal]\nair = "{air}"\n{time}{more}\n' + text


def judge(text, tries=0):
    return verdict.run(verdict.Inputs(read_text(text, "sheet.toml"), tries))


# A place that loses 2 W/K, gains 30 W and has no cooler running: level at To + Q/UA.
@pytest.mark.published("steady energy balance of one node, by hand")
def test_without_a_cooler_the_place_stands_where_its_balance_says():
    text = goal(BOX, "20 degC").replace(
        'combustion = "none"', 'combustion = "none"\ngain = [{ name = "lamp", heat = "30 W" }]'
    )
    found = judge(text)
    assert found.values["place_air_off_K"].value == pytest.approx(308.15 + 15.0, abs=1e-6)
    # With the modules stopped heat still leaks through them, and the fans run.
    assert found.values["place_air_stopped_K"].value < found.values["place_air_off_K"].value
    load = {cause: value.value for cause, value in found.heat_load}
    assert load["people and appliances"] == pytest.approx(30.0, rel=1e-9)
    assert load["windows, edges and leaks"] == pytest.approx(2.0 * 15.0, rel=1e-9)
    assert load["through the walls"] == 0.0
    assert load["outdoor air by itself"] == 0.0
    assert found.values["load_at_goal_W"].value == pytest.approx(60.0, rel=1e-9)


def test_an_easy_goal_is_a_yes_and_an_absurd_one_a_no():
    level_C = judge(goal(BOX, "20 degC")).values["place_air_K"].value - 273.15
    easy = judge(goal(BOX, f"{level_C + 6:.1f} degC"), tries=200)
    assert (easy.verdict, easy.reached) == ("yes", 200)
    assert easy.headline.startswith("Yes")
    hard = judge(goal(BOX, f"{level_C - 6:.1f} degC"), tries=200)
    assert (hard.verdict, hard.reached) == ("no", 0)
    assert hard.headline.startswith("No")
    assert hard.values["time_to_goal_s"].value is None
    middle = judge(goal(BOX, f"{level_C:.2f} degC"), tries=200)
    assert middle.verdict == "borderline"
    assert 20 < middle.reached < 180
    assert middle.headline.startswith("Borderline")


@pytest.mark.parametrize(("goal_off_K", "expected"), [(3.0, "yes"), (-3.0, "no")])
def test_without_tries_the_nominal_case_decides(goal_off_K, expected):
    level_C = judge(goal(BOX, "20 degC")).values["place_air_K"].value - 273.15
    found = judge(goal(BOX, f"{level_C + goal_off_K:.2f} degC"))
    assert found.verdict == expected
    assert found.tries == 0


def test_a_goal_reached_too_late_is_a_no():
    free = judge(goal(BOX, "24 degC", "24 h"))
    assert free.verdict == "yes"
    time_s = free.values["time_to_goal_s"].value
    assert time_s > 60.0
    late = judge(goal(BOX, "24 degC", f"{0.5 * time_s:.0f} s"))
    assert late.verdict == "no"
    # When it would get there is still told, from a longer look.
    assert late.values["time_to_goal_s"].value == pytest.approx(time_s, rel=0.02)
    assert late.values["place_air_at_limit_K"].value > 297.15


def test_the_curve_passes_the_goal_when_it_says():
    found = judge(goal(BOX, "24 degC", "10 h"))
    times, air = found.history["time_s"], found.history["place_air_K"]
    assert times[0] == 0.0
    assert times[-1] == pytest.approx(36000.0)
    at = np.interp(found.values["time_to_goal_s"].value, times, air)
    assert at == pytest.approx(297.15, abs=1e-6)
    assert found.values["place_air_at_limit_K"].value == pytest.approx(air[-1])


LIMITS = [
    ('max_plug_power = "50 W"', "no"),
    ('max_plug_power = "500 W"', "yes"),
    ('max_price = "10 EUR"', "no"),
]


@pytest.mark.parametrize(("limit", "expected"), LIMITS)
def test_a_limit_of_the_goal_can_turn_a_yes_into_a_no(limit, expected):
    text = goal(BOX, "27 degC", more=limit).replace("series = 4", 'series = 4\nprice = "8 EUR"')
    found = judge(text)
    assert found.verdict == expected
    if expected == "no":
        assert any("limit" in line for line in found.reasons)


def test_open_air_has_no_verdict():
    found = judge(BENCH)
    assert found.verdict is None
    assert "no place to judge" in found.headline
    assert found.history == {}


def test_a_plate_is_judged_by_its_own_temperature():
    base = BENCH.replace(
        'kind = "open_air"\nair = "25 degC"\nhumidity = "20 percent"',
        'kind = "plate"\nheat = "30 W"',
    )
    start, end = base.index("[cooler.cold_sink]"), base.index("[cooler.hot_sink]")
    base = base[:start] + base[end:]
    plate_C = judge(base).values["plate_K"].value - 273.15
    assert judge(f'[goal]\nplate = "{plate_C + 1:.2f} degC"\n{base}').verdict == "yes"
    assert judge(f'[goal]\nplate = "{plate_C - 1:.2f} degC"\n{base}').verdict == "no"


def test_a_single_duct_is_told_what_two_ducts_would_do():
    room = BOX.replace('air_leakage = "none"', 'air_leakage = { area = "50 cm^2" }').replace(
        'hot_takes_from = "outdoors"', 'hot_takes_from = "place"'
    )
    found = judge(goal(room, "24 degC"))
    (other,) = [each for each in found.alternatives if each.name == "dual duct"]
    same = judge(goal(room.replace('takes_from = "place"', 'takes_from = "outdoors"'), "24 degC"))
    assert other.place_air_K.value == pytest.approx(same.values["place_air_K"].value, abs=1e-6)
    assert other.place_air_K.value < found.values["place_air_K"].value
    assert any("replaces it brings" in line for line in found.reasons)


def test_an_exhaust_beside_an_open_flame_is_refused_whatever_it_would_reach():
    text = goal(BOX, "34 degC").replace(
        'air_leakage = "none"', 'air_leakage = { area = "200 cm^2" }'
    )
    text = text.replace('hot_takes_from = "outdoors"', 'hot_takes_from = "place"')
    harmless = judge(text)
    found = judge(text.replace('combustion = "none"', 'combustion = "open"'))
    assert found.verdict == "no"
    assert "open flame" in found.headline
    assert found.findings[0].code == "CW-SAFE-01"
    assert not any(finding.code == "CW-SAFE-01" for finding in harmless.findings)


def test_json_is_plain_and_complete():
    found = judge(goal(BOX, "24 degC", "2 h"), tries=100)
    data = json.loads(json.dumps(found.to_json(), allow_nan=False))
    for name in ("place_air_K", "place_air_at_limit_K", "place_air_off_K", "goal_air_K",
                 "time_to_goal_s", "net_cooling_W", "cooling_W", "plug_power_W"):  # fmt: skip
        assert set(data[name]) == {"value", "low", "high"}, name
    assert data["reached_tries"] == found.reached
    assert data["verdict"] in ("yes", "no", "borderline")
    assert len(data["history"]["time_s"]) == len(data["history"]["place_air_K"])
    low, high = data["history"]["place_air_low_K"], data["history"]["place_air_high_K"]
    assert all(a <= b for a, b in zip(low, high, strict=True))
    assert data["heat_load_W"]["windows, edges and leaks"]["value"] == pytest.approx(22.0)


@pytest.mark.published("straight lines between points, by hand")
def test_crossing():
    times = np.array([0.0, 10.0, 30.0, 40.0])
    air = np.array(
        [
            [20.0, 16.0, 12.0, 11.0],  # falls through 15 a quarter of the way from 16 to 12
            [14.0, 16.0, 18.0, 20.0],  # is below from the start
            [20.0, 19.0, 18.0, 17.0],  # never gets there
            [20.0, 15.0, 18.0, 14.0],  # touches it at 10 s
        ]
    )
    assert crossing(times, air, 15.0).tolist() == [15.0, 0.0, math.inf, 10.0]


# --- What nothing needs to be done for -----------------------------------------------------------


# 2 W/K and nothing that warms it: without a cooler the box stands at the 35 degC outdoors.
@pytest.mark.parametrize("air", ["35 degC", "40 degC"])
def test_a_goal_that_the_place_keeps_by_itself_is_nothing_to_cool(air):
    found = judge(goal(BOX, air))
    assert found.headline.startswith("Nothing to cool: without any cooler")
    (told,) = [each for each in found.findings if each.code == "CW-GOAL-04"]
    assert (told.severity, told.where) == ("warning", "goal.air")
    assert found.reasons[-1].startswith("Without any cooler it stays at 35.0")
    below = judge(goal(BOX, "34 degC"))
    assert "Nothing to cool" not in below.headline
    assert "CW-GOAL-04" not in [each.code for each in below.findings]


def test_a_place_that_starts_warmer_is_told_both():
    text = goal(BOX, "36 degC", "1 h").replace('start_air = "30 degC"', 'start_air = "45 degC"')
    found = judge(text)
    assert found.headline.startswith("Nothing to cool in the end")
    assert "Yes: " in found.headline
    (told,) = [each for each in found.findings if each.code == "CW-GOAL-04"]
    assert "sooner" in told.why


# --- Air that the exhaust draws in ---------------------------------------------------------------


def reasons_with(warmth_W, moisture_W):
    return _takes_out(
        {
            "infiltration_sensible_W": Value(warmth_W),
            "infiltration_latent_W": Value(moisture_W),
        }
    )


def test_warmth_and_moisture_of_the_replacing_air_are_told_apart():
    dry = reasons_with(38.0, -44.5)
    assert "hotter than outdoors" not in dry
    assert "fan alone" not in dry
    assert "44.5\u2009W of moisture's heat out, because outdoors is drier" in dry
    assert "38.0\u2009W of warmth in" in dry
    cool = reasons_with(-40.0, 0.0)
    assert "40.0\u2009W out as well, because the place is hotter than outdoors" in cool
    assert "fan alone" in cool
    both = reasons_with(-40.0, -10.0)
    assert "50.0\u2009W" in both
    assert "drier too" in both
    damp = reasons_with(-40.0, 12.0)
    assert "its moisture brings 12.0\u2009W in" in damp
    assert "fan alone" not in damp


# --- Tries of things that cannot be --------------------------------------------------------------


def test_tries_that_cannot_be_are_left_out_of_the_count():
    # 80 m3/h carry 1/(m cp) = 0.0385 K/W at 25 degC; half of the tries are said to do better.
    text = goal(BOX, "24 degC").replace('value = "0.15 K/W"', 'value = "0.0385 K/W +/- 15 %"')
    found = judge(text, tries=400)
    assert 100 < found.solved < 300
    assert found.counted == found.solved
    assert found.reached == found.counted
    assert found.verdict == "yes"
    assert f"({found.reached} of {found.counted} tries" in found.headline
    assert f"{400 - found.counted} more cannot be" in found.headline
    (told,) = [each for each in found.findings if each.code == "CW-SOLVE-02"]
    assert "left out of the count" in told.given
    assert found.to_json()["counted_tries"] == found.counted


def test_tries_that_run_away_count_as_misses():
    # Near the edge of runaway; a machine that runs away is a machine, and it misses the goal.
    text = goal(BOX, "34 degC").replace('module_voltage = "8 V"', 'current = "9 A"')
    text = text.replace('value = "0.10 K/W"', 'value = "0.14 K/W +/- 60 %"')
    found = judge(text, tries=400)
    assert 0 < found.solved < 400
    assert found.counted == 400
    assert "cannot be" not in found.headline


def test_a_no_that_is_cold_enough_says_what_fails():
    free = judge(goal(BOX, "24 degC", "24 h"))
    time_s = free.values["time_to_goal_s"].value
    late = judge(goal(BOX, "24 degC", f"{0.5 * time_s:.0f} s"))
    assert "allowed it is still at" in late.headline.partition(".")[0] + late.headline
    hot_C = free.values["hot_face_K"].value - 273.15
    too_hot = judge(goal(BOX, "24 degC") + f'[limits]\nhot_face = "{hot_C - 5:.1f} degC"\n')
    assert too_hot.headline.startswith("No: the hot face reaches")
    assert f"limit {hot_C - 5:.1f} degC" in too_hot.headline
    power = judge(goal(BOX, "27 degC", more='max_plug_power = "50 W"'))
    assert power.headline.startswith("No: it takes")
    # Where it is not cold enough, that is the reason.
    warm = judge(goal(BOX, "-10 degC", more='max_plug_power = "50 W"'))
    assert warm.headline.startswith("No: the box levels off at")


def test_two_temperatures_that_read_alike_are_told_apart():
    level_C = judge(goal(BOX, "20 degC")).values["place_air_K"].value - 273.15
    near = round(level_C, 1) if round(level_C, 1) < level_C else round(level_C, 1) - 0.04
    found = judge(goal(BOX, f"{near:.2f} degC"))
    level, wanted = re.findall(r"[\d.]+(?=\u2009°C)", found.headline)
    assert level != wanted


def test_a_cause_is_called_what_the_sheet_has():
    found = judge(goal(BOX, "20 degC"))  # a box with a known loss, without windows
    said = " ".join(found.reasons)
    assert "by the given heat loss" in said
    assert "windows" not in said
    assert found.causes == {"windows, edges and leaks": "by the given heat loss"}
    # What leaves by itself is not said to come in.
    cold = judge(goal(BOX, "38 degC"))
    line = next(one for one in cold.reasons if "by the given heat loss" in one)
    assert line.startswith("What goes out by itself: by the given heat loss 6.00")


def test_money_is_told_in_its_currency():
    found = judge(goal(BOX, "27 degC") + '[price]\nelectricity = "0.30 CHF/kWh"\n')
    assert found.currency == "CHF"
    cost = found.values["price_per_day"].value
    assert f"costs {cost:.2f}\u2009CHF in electricity" in " ".join(found.reasons)


def test_a_goal_after_years_is_said_in_years():
    found = judge(goal(BOX, "24 degC", "10 years"))
    assert any(line.startswith("After 10\u2009years it is at") for line in found.reasons)
