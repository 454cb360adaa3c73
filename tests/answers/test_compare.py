"""What else would do: one rule for every row, the hour that is judged, and what is called best."""

from pathlib import Path

import numpy as np
import pytest

from coldwright.answers import compare, day, verdict
from coldwright.answers.followed import follow
from coldwright.answers.rival import Rival
from coldwright.answers.steady_hour import worst_moment
from coldwright.machine.day import S_HEAT, S_TIME
from coldwright.machine.place_lines import HEAT_NAMES
from coldwright.sheet.file import read, read_text

DEMOS = Path(__file__).resolve().parents[2] / "demos"
KWH_J, ZERO_C = 3.6e6, 273.15

# A van on a hot day: its skin lies in the sun, two people sleep in it, a thermostat runs it.
VAN = """
title = "Van"
[goal]
air = "25 degC"
[climate]
kind = "design_day"
highest_air = "33 degC"
daily_range = "12 K"
dew_point = "15 degC"
latitude = "44 N"
longitude = "5 E"
utc_offset = "+2 h"
month = "July"
[place]
kind = "room"
length = "3.2 m"
width = "1.8 m"
height = "1.9 m"
combustion = "none"
air_leakage = "draughty"
[[place.surface]]
name = "skin"
area = "29.5 m^2"
absorptance = 0.8
u_value = "0.9 W/m^2/K"
[[place.gain]]
name = "sleepers"
people = 2
activity = "sleeping"
schedule = [["22:00", "08:00"]]
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "7 V" }
[cooler.thermostat]
air = "25 degC"
[cooler.modules]
part = "typical 127 couples 6 A"
parallel = 6
[cooler.cold_sink]
kind = "resistance"
value = "0.06 K/W"
[cooler.cold_fan]
flow = "120 m^3/h"
power = "6 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.05 K/W"
[cooler.hot_fan]
flow = "250 m^3/h"
power = "10 W"
"""


def _van(**changes):
    sheet = read_text(VAN)
    return sheet.changed(changes) if changes else sheet


def _compared(sheet, *, comfort=False):
    answer = compare.run(compare.Inputs(sheet, comfort=comfort))
    return answer, {row.name: row for row in answer.rows}


def _scene(sheet):
    design = compare.Design(sheet, 0, 20)
    return compare.scene_of(design, sheet, design.solve(with_place=True))


@pytest.fixture(scope="module")
def van():
    return _compared(_van())


# One rule for every row


@pytest.mark.parametrize(
    "sheet", [DEMOS / "kiosk" / "week.toml", DEMOS / "cabinet" / "week.toml", None]
)
def test_this_cooler_takes_what_the_day_says(sheet):
    """Thermostat, time switch and weather of the sheet; two ways through the same days."""
    sheet = _van() if sheet is None else read(sheet)
    own = _compared(sheet)[1]["this cooler"]
    followed = day.run(day.Inputs(sheet, tries=0))
    assert own.kWh_per_day == pytest.approx(
        followed.totals["plug_per_day_J"].value / KWH_J, rel=2e-3
    )


def test_a_fan_runs_only_as_needed():
    """Above 30 °C by day, below it by night: 20 W for all 24 hours would be 0.48 kWh."""
    mild = _van(**{"goal.air": "30 degC", "cooler.thermostat.air": "30 degC", "place.gain": None})
    scene, rows = _scene(mild), _compared(mild)[1]
    hours = (scene.free.air_K[0] > 30.0 + ZERO_C).sum()
    assert 5 < hours < 20
    assert rows["a table fan"].kWh_per_day == pytest.approx(0.02 * hours)
    assert rows["a table fan"].plug_W == 20.0


def test_the_time_switch_counts_for_every_row():
    """A compressor that may run for four hours moves no heat in the other twenty."""
    short = _van(**{"cooler.schedule": [["12:00", "16:00"]]})
    always, switched = _compared(_van())[1], _compared(short)[1]
    for name in ("a compressor unit, through the wall", "ice", "a table fan"):
        key = "water_kg_per_day" if name == "ice" else "kWh_per_day"
        assert getattr(switched[name], key) < 0.7 * getattr(always[name], key)


@pytest.mark.practice  # a balance of heat: nothing is stored over a day that repeats
def test_heat_taken_out_to_hold_the_goal_is_the_heat_that_comes_in():
    """Held by hand: put the found heat into the balance and see that the goal is just kept."""
    scene = _scene(_van())
    warmest = scene.served(scene.ready.places, _with_heat(scene, scene.held_W)).air_K[0].max()
    assert warmest == pytest.approx(25.0 + ZERO_C, abs=0.1)
    # An eighth less in every hour no longer holds it.
    less = scene.served(scene.ready.places, _with_heat(scene, 0.88 * scene.held_W)).air_K[0].max()
    assert less > 25.3 + ZERO_C
    hours = scene.served(scene.ready.places, _with_heat(scene, scene.held_W))
    flows = [hours.bins[0, :, S_HEAT + at].sum() for at in range(len(HEAT_NAMES))]
    assert abs(sum(flows)) < 0.01 * 86400.0 * scene.held_W.mean()


def _with_heat(scene, heat_W):
    rows = scene.rows.copy()
    rows[:, 4] -= heat_W[scene.hour_of_row]
    return rows


@pytest.mark.practice  # UA (T_out - T_goal), nothing stored in a wall without layers
def test_held_heat_of_a_light_place_in_steady_weather_is_worked_by_hand():
    steady = _van(**{
        "climate": {"kind": "steady", "outdoor_air": "35 degC", "outdoor_dew_point": "5 degC"},
        "place.gain": None, "place.air_leakage": "none", "place.surface[0].absorptance": None,
    })  # fmt: skip
    answer, rows = _compared(steady)
    by_hand_W = 0.9 * 29.5 * (35.0 - 25.0)
    assert answer.held_mean_W == pytest.approx(by_hand_W, rel=0.01)
    # 2.6 W of cooling for each watt: Regulation (EU) No 206/2012, Annex I, table 6.
    wall = rows["a compressor unit, through the wall"]
    assert wall.kWh_per_day == pytest.approx(by_hand_W / 2.6 * 24.0 / 1000.0, rel=0.01)
    assert wall.plug_W == pytest.approx(by_hand_W / 2.6, rel=0.01)
    # 1 kg of ice that ends as water of 25 °C: 334 + 4.19 * 25 = 438 kJ (IAPWS; the handbook).
    kilograms = by_hand_W * 86400.0 / 438e3
    assert rows["ice"].water_kg_per_day == pytest.approx(kilograms, rel=0.01)
    assert answer.ice_s_per_kg == pytest.approx(438e3 / by_hand_W, rel=0.01)
    assert "5\u2009kg hold" in rows["ice"].sentence


def test_a_year_is_told_by_its_worst_week(tmp_path):
    sheet = (DEMOS / "cabinet" / "week.toml").read_text(encoding="utf-8")
    _year(DEMOS / "cabinet" / "week.epw", tmp_path / "week.epw", days=30)
    (tmp_path / "sheet.toml").write_text(sheet, encoding="utf-8")
    answer, _ = _compared(read(tmp_path / "sheet.toml"))
    assert "the hottest week, from " in answer.basis[0]
    assert "all 30 days" in answer.basis[1]
    assert answer.held_worst_day_W > answer.held_mean_W


def _year(source, target, *, days):
    """A month of days, mild but for one hot day in the middle, in the frame of the week's file."""
    head = [line for line in source.read_text().splitlines() if not line[:4].isdigit()]
    row = next(line for line in source.read_text().splitlines() if line[:4].isdigit()).split(",")
    lines = []
    for at in range(days):
        for hour in range(24):
            cells = list(row)
            cells[1:4] = ["6", str(at + 1), str(hour + 1)]
            air_C = (38.0 if at == 15 else 22.0) + 6.0 * np.cos(2 * np.pi * (hour - 15) / 24)
            cells[6], cells[7] = f"{air_C:.1f}", "10.0"
            lines.append(",".join(cells))
    head = [
        f"DATA PERIODS,1,1,Data,Sunday,6/1,6/{days}" if line.startswith("DATA PERIODS") else line
        for line in head
    ]
    target.write_text("\n".join([*head, *lines]) + "\n")


# The hour that is judged


def test_the_worst_moment_has_the_gains_of_its_hour():
    moment = worst_moment(_van())
    hour = moment.clock_s / 3600.0 % 24.0
    assert 12.0 < hour < 18.0  # sun and warmth, hours after the sleepers left
    assert not moment.sheet.place.gain
    heat = dict(verdict.run(verdict.Inputs(_van(), tries=0)).heat_load)
    assert heat["people and appliances"].value == pytest.approx(0.0, abs=1e-9)


def test_a_heavy_gain_at_night_is_the_worst_moment():
    oven = [{"name": "oven", "heat": "2000 W", "schedule": [["20:00", "21:00"]]}]
    moment = worst_moment(_van(**{"place.gain": oven}))
    assert 20.0 <= moment.clock_s / 3600.0 % 24.0 <= 21.0
    assert moment.sheet.place.gain[0].heat.value == 2000.0


def test_a_door_counts_while_it_is_used():
    door = [
        {"name": "door", "openings_per_hour": 10, "air": "1 m^3", "schedule": [["12:00", "20:00"]]}
    ]
    assert worst_moment(_van(**{"place.door": door})).door_m3_s * 3600.0 == pytest.approx(10.0)
    night = [dict(door[0], schedule=[["01:00", "03:00"]])]
    assert worst_moment(_van(**{"place.door": night})).door_m3_s == 0.0


@pytest.mark.parametrize("heavy", [False, True])
def test_verdict_and_comparison_stand_where_the_day_without_a_cooler_does(heavy):
    sheet = _van()
    if heavy:
        layers = [{"material": "concrete", "thickness": "150 mm"}]
        sheet = _van(**{"place.surface[0].u_value": None, "place.surface[0].layers": layers})
    alone = day.run(day.Inputs(sheet, tries=0, with_cooler=False))
    hottest_K = max(alone.series["place_air_K"])
    said = verdict.run(verdict.Inputs(sheet, tries=0))
    assert said.values["place_air_off_K"].value == pytest.approx(hottest_K, abs=0.05)
    assert _compared(sheet)[1]["nothing"].place_air_K == pytest.approx(hottest_K, abs=0.05)
    # And with the cooler always on.
    on = day.run(day.Inputs(sheet.changed({"cooler.thermostat": None}), tries=0))
    level_K = said.values["place_air_K"].value
    assert level_K == pytest.approx(max(on.series["place_air_K"]), abs=0.05)
    assert ("if that moment lasted" in said.reasons[0]) == heavy


def test_the_load_at_the_goal_means_the_same_in_both_answers(van):
    answer, _ = van
    said = verdict.run(verdict.Inputs(_van(), tries=0))
    assert answer.load_at_goal_W == pytest.approx(said.values["load_at_goal_W"].value, rel=1e-9)
    assert answer.held_mean_W < answer.held_worst_day_W + 1e-9 < answer.load_at_goal_W


def test_a_no_never_reaches_the_goal_in_no_time():
    """It starts below the goal and does not stay there."""
    said = verdict.run(verdict.Inputs(read(DEMOS / "kiosk" / "week.toml"), tries=0))
    assert said.verdict == "no"
    assert said.values["time_to_goal_s"].value is None
    assert "hottest hour" in said.headline


# What is called best


def _row(name, **figures):
    known = dict.fromkeys(("feels_like_K", "noise_dB", "price", "water_kg_per_day"))
    known |= {"reached": True, "place_air_K": 298.0, "plug_W": 10.0, "kWh_per_day": 1.0}
    return Rival(name, asks="", sentence="", **(known | figures))


def test_the_best_serves_the_place_and_then_takes_least_costs_least_and_is_quietest():
    scene = _scene(_van())
    own = _row("this cooler", kWh_per_day=3.0, price=100.0)
    box = _row("this cooler on a 100 L box", kWh_per_day=0.1, serves_place=False)
    missed = _row("a fan", kWh_per_day=0.1, reached=False)
    ice = _row("ice", kWh_per_day=0.0, water_kg_per_day=9.0)
    plain, cheap = _row("unit a", price=300.0), _row("unit b", price=200.0, noise_dB=60.0)
    quiet = _row("unit c", price=200.0, noise_dB=40.0)
    rows = [own, box, missed, ice, plain, cheap, quiet]
    assert compare.headline(scene, rows).startswith("Unit c holds")
    assert compare.headline(scene, rows[:5]).startswith("Unit a holds")
    assert compare.headline(scene, rows[:4]).startswith("Of what holds")
    assert "Nothing in this list" in compare.headline(
        scene, [_row("this cooler", reached=False), box, missed]
    )


def test_a_box_is_no_answer_for_people(van):
    answer, rows = van
    box = rows["this cooler on a 100 L box"]
    assert box.reached is None
    assert "not the people" in box.sentence
    assert "box" not in answer.headline
    assert answer.headline.startswith("A compressor unit through the wall holds")


def test_what_is_louder_than_the_sheet_allows_is_not_preferred():
    quiet = _van(**{"goal.max_sound": "50 dB"})
    answer, rows = _compared(quiet)
    assert rows["a compressor unit, through the wall"].noise_dB > 50.0
    assert "compressor" not in answer.headline


# Shade, sealing, insulation


def test_shade_acts_on_a_skin_in_the_sun_and_sealing_only_where_it_helps(van):
    _, rows = van
    nothing, aid = rows["nothing"], rows["shade, sealing, insulation first"]
    assert aid.place_air_K < nothing.place_air_K - 2.0
    assert "shade" in aid.asks
    # Outdoors is cooler than this van: less of its air makes it hotter.
    assert "sealing" not in aid.asks
    assert "Tried alone: shade" in aid.sentence


@pytest.mark.practice  # sol-air: U A (alpha I R_out), the same balance by hand
def test_shade_takes_off_four_fifths_of_what_the_sun_adds():
    sheet = _van(**{
        "climate": {"kind": "steady", "outdoor_air": "30 degC", "sun": "500 W/m^2"},
        "place.gain": None, "place.air_leakage": "none", "cooler.thermostat": None,
    })  # fmt: skip
    scene = _scene(sheet)
    levels = {
        some[0].name: scene.hottest(hours, case)[0]
        for some, hours, case in scene.aided()
        if len(some) == 1
    }
    rise_K = 0.8 * 500.0 * 0.04  # all of the skin lies in the sun: the place takes its temperature
    assert scene.off_K == pytest.approx(30.0 + ZERO_C + rise_K, abs=0.05)
    assert levels["shade"] == pytest.approx(30.0 + ZERO_C + 0.2 * rise_K, abs=0.05)


def test_first_aid_is_never_worse_than_nothing():
    """A leaky van with people in it in mild air: tighter or thicker walls only keep the heat in."""
    people = [{"name": "party", "people": 8, "activity": "seated"}]
    mild = {"kind": "steady", "outdoor_air": "18 degC"}
    _, rows = _compared(_van(**{"climate": mild, "place.gain": people}))
    aid, nothing = rows["shade, sealing, insulation first"], rows["nothing"]
    assert aid.place_air_K <= nothing.place_air_K
    assert "None of it helps" in aid.sentence


# The person in the jet


@pytest.mark.published("EN ISO 7730:2005, draught rate, worked by hand at the formula's limits")
def test_a_fast_jet_gives_a_draught_caution():
    """26 °C and 0.5 m/s: (34 - 26) 0.45^0.62 (37 * 0.5 * 0.4 + 3.14) = 51 %; more is worse."""
    from coldwright.answers.spot import spot_of

    answer, _ = _compared(read(DEMOS / "kiosk" / "week.toml"))
    found = next(one for one in answer.findings if one.code == "CW-PERSON-01")
    assert "2.9" in found.given
    sheet = read(DEMOS / "kiosk" / "week.toml")
    spot = spot_of(_scene(sheet))
    by_hand = (34.0 - (spot.air_K - ZERO_C)) * 0.45**0.62 * (37.0 * 0.5 * 0.4 + 3.14) / 100.0
    assert spot.draught == pytest.approx(by_hand, rel=1e-3)
    assert spot.draught_at_least


def test_far_away_the_jet_is_no_draught_and_the_distance_is_the_sheet_s():
    from coldwright.answers.spot import spot_of

    near, far = (
        _scene(_van()),
        _scene(_van(**{"goal.spot": "8 m", "cooler.cold_fan.flow": "60 m^3/h"})),
    )
    assert spot_of(near).too_much
    spot = spot_of(far)
    assert spot.distance_m == 8.0
    assert not spot.too_much
    assert "goal.spot" not in _compared(far.sheet)[0].assumptions


def test_the_mouth_of_the_jet_is_the_fan_s_or_an_assumption_that_is_told():
    from coldwright.answers.spot import spot_of

    answer, _ = _compared(_van())
    assert answer.assumptions["cooler.cold_fan.diameter"].startswith("100 mm")
    wide = _van(**{"cooler.cold_fan.diameter": "200 mm"})
    assert "cooler.cold_fan.diameter" not in _compared(wide)[0].assumptions
    spot = spot_of(_scene(wide))
    assert not spot.mouth_assumed
    # Within its core (5.7 sqrt(A), 1.0 m) it keeps the speed of the mouth: 120 m3/h over 314 cm2.
    assert spot.velocity_m_s == pytest.approx(120.0 / 3600.0 / (np.pi / 4.0 * 0.2**2), rel=1e-3)


def test_comfort_is_told_by_the_standards_indices_or_why_not():
    mild = _van(**{
        "climate": {"kind": "steady", "outdoor_air": "28 degC"}, "goal.spot": "6 m",
        "place.surface[0].absorptance": None, "place.gain": None,
    })  # fmt: skip
    answer, _ = _compared(mild, comfort=True)
    place, jet = answer.comfort
    # ISO 7730: the share of dissatisfied follows from the vote alone (its equation 5).
    share = 1.0 - 0.95 * np.exp(-0.03353 * place.mean_vote**4 - 0.2179 * place.mean_vote**2)
    assert place.dissatisfied == pytest.approx(share, abs=2e-3)
    assert "PMV, PPD" in place.sentence
    assert "SET" in jet.sentence
    hot, _ = _compared(_van(), comfort=True)
    assert hot.comfort[0].mean_vote is None
    assert "no mean vote: air is outside" in hot.comfort[0].sentence


def test_an_hour_is_an_hour():
    scene = _scene(_van())
    assert np.allclose(follow(scene.ready).bins[0, :, S_TIME], 3600.0)
    assert len(scene.free.start_s) == 24
