"""Faults as an answer: every one offered in full, guards set by rule, and whether they act."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

import coldwright
from coldwright.answers import faults
from coldwright.answers.design import Design
from coldwright.answers.fault import fuses
from coldwright.answers.fault.caught import collected
from coldwright.answers.fault.hot_fan_end import hot_fan_finding
from coldwright.answers.fault.limits import FIRE, RUIN, SPOIL, Limit, first_passed, limits_of
from coldwright.answers.fault.registry import FAULTS
from coldwright.answers.fault.start import starts
from coldwright.answers.fault.words import in_time, litres
from coldwright.answers.fault_sentences import fault_paragraph
from coldwright.machine.fault_steps import COLUMNS, CONDENSATE_KG_S, HOT_BASE_K, TIME_S
from coldwright.sheet.file import read, read_text

ROOT = Path(__file__).resolve().parents[2]
DEMOS = ROOT / "demos"
SHEETS = [
    DEMOS / "kiosk" / "sheet.toml",
    DEMOS / "cabinet" / "sheet.toml",
    DEMOS / "cabinet" / "week.toml",
    *(path for path in sorted((ROOT / "examples" / "questions").glob("*.toml"))
      if path.stem != "expected"),
]  # fmt: skip

# Two modules of round constants in series on 24 V, as in the hand numbers of the standard model.
PAIR = """
title = "Two in series"
[place]
kind = "open_air"
air = "20 degC"
humidity = "30 percent"
[climate]
kind = "steady"
outdoor_air = "20 degC"
outdoor_humidity = "30 percent"
[cooler]
cold_takes_from = "place"
cold_sends_to = "place"
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { voltage = "24 V" }
[cooler.modules]
properties = { seebeck = "0.05 V/K", resistance = "1.8 ohm", conductance = "0.5 W/K" }
series = 2
parallel = 1
cold_interface = "0.001 K/W"
hot_interface = "0.001 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.1 K/W"
mass = "2 kg"
[cooler.cold_fan]
flow = "120 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.08 K/W"
mass = "3 kg"
[cooler.hot_fan]
flow = "240 m^3/h"
[power.supply]
voltage = "24 V"
rated_power = "150 W"
"""


def pair(**power):
    """The pair, with the lines of a wire where wanted."""
    text = PAIR
    if power:
        lines = "\n".join(f'{key} = "{value}"' for key, value in power.items())
        text += f'[[power.wire]]\nname = "modules"\nlength = "0.1 m"\nsize = "6 mm^2"\n{lines}\n'
    return read_text(text, name="pair.toml")


def followed(answer, name):
    return next(each for each in answer.followed if each.name == name)


def by_guard(one, key):
    return next(each for each in one.caught if each.guard == key)


@pytest.fixture(scope="module")
def kiosk():
    return faults.run(faults.Inputs(read(DEMOS / "kiosk"), tries=60))


@pytest.fixture(scope="module")
def cabinet():
    return faults.run(faults.Inputs(read(DEMOS / "cabinet"), tries=60))


# --- Every fault ----------------------------------------------------------------------------------


def test_every_fault_is_offered_in_full():
    names = [fault.name for fault in FAULTS]
    assert len(set(names)) == len(names)
    answer = faults.run(faults.Inputs(pair(fuse="10 A"), tries=0))
    known = {guard.key for guard in answer.guards}
    for fault in FAULTS:
        assert 0 < len(fault.name) <= 20
        assert fault.caution.endswith(".")
        assert fault.guards
        assert fault.stops_fan in ("", "hot", "cold")
    assert {"cut-out", "branch fuse", "keyed plug"} <= known
    # Files of the package that offer a fault stand in the registry.
    package = Path(fuses.__file__).parent
    offering = [p.stem for p in package.glob("*.py") if "\nFAULT = Fault(" in p.read_text("utf-8")]
    assert len(offering) == len(FAULTS)


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: f"{path.parent.stem}-{path.stem}")
def test_every_fault_is_followed_or_says_why_on_every_sheet(path):
    answer = faults.run(faults.Inputs(read(path), tries=0))
    assert [each.name for each in answer.followed] == [fault.name for fault in FAULTS]
    for each in answer.followed:
        if each.refused:
            assert each.said.endswith(".")
            assert "could not be followed" not in each.said
            continue
        times = each.history["time_s"]
        assert times[0] == 0.0
        assert np.all(np.diff(times) > 0.0)
        assert each.ends in ("levels off", "past the solder", "runs away")
        for sentence in fault_paragraph(each):
            assert sentence.endswith(".")
            assert "nan" not in sentence
    json.dumps(answer.to_json(), allow_nan=False)


def test_a_fault_leaves_the_machine_it_breaks_whole():
    design = Design(pair(), 0, 0)
    start, _ = starts(design, design.solve(with_place=False))
    for fault in FAULTS:
        before = start.coolers.tobytes()
        fault.put(start)
        assert start.coolers.tobytes() == before, fault.name


def test_the_same_tries_give_the_same_answer():
    one, two = (faults.run(faults.Inputs(read(DEMOS / "kiosk"), tries=40)) for _ in range(2))
    assert one.to_json() == two.to_json()
    alone = faults.run(faults.Inputs(read(DEMOS / "kiosk"), tries=40, fault="hot air blocked"))
    together = followed(one, "hot air blocked").to_json()
    assert alone.followed[0].to_json() == together


def test_from_python_one_fault_is_asked_for_by_name():
    answer = coldwright.faults(pair(), tries=0, fault="supply sags")
    assert [each.name for each in answer.followed] == ["supply sags"]
    with pytest.raises(KeyError):
        coldwright.faults(pair(), tries=0, fault="rain")


# --- What they do ---------------------------------------------------------------------------------


@pytest.mark.practice
def test_a_stopped_hot_fan_runs_hot_in_seconds_to_minutes(kiosk):
    # Common practice, no source: the hot side runs away in seconds to minutes.
    one = followed(kiosk, "hot fan stops")
    face = next(each for each in one.reached if each.name.startswith("face"))
    assert 10.0 < face.time_s.value < 1800.0
    assert face.time_s.low < face.time_s.value < face.time_s.high
    assert one.harm == FIRE
    assert one.place_rise_K.value > 1.0  # it heats the place


def test_the_first_rise_is_heat_over_heat_capacity(kiosk):
    # 513 W leave the hot sink (plate fins: 300 x 140 x 8 mm base and 43 fins of 300 x 60 x 0.8 mm
    # in aluminium of 2700 kg/m3 and 900 J/kg/K: 2.58 kg, 2320 J/K). All of it is stored, but for
    # what a draught takes: at most 5 % of 165 m3/h, 2.6 W/K.
    one = followed(kiosk, "hot fan stops")
    base_m3 = 0.3 * 0.14 * 0.008 + 43 * 0.3 * 0.06 * 0.0008
    capacity_J_K = 2700.0 * 900.0 * base_m3
    assert (513.0 - 2.6 * 18.0) / capacity_J_K < one.rise_K_s < 513.0 / capacity_J_K


@pytest.mark.practice
def test_swapped_leads_and_an_open_string_warm_the_place(cabinet):
    assert followed(cabinet, "leads swapped").place_rise_K.value > 20.0
    opened = followed(cabinet, "one module open")
    assert opened.place_rise_K.value > 5.0
    assert opened.most_A == pytest.approx(1.79, abs=0.02)  # before: afterwards nothing flows
    assert not any(opened.history["current_A"][1:])


@pytest.mark.published("Standard thermoelectric module model: I = (V - a dT)/R; by hand")
def test_a_short_in_the_pair_is_called_a_fault_and_shows_the_fuse():
    answer = faults.run(faults.Inputs(pair(), tries=0))
    one = followed(answer, "one module shorted")
    first_K = {key: one.history[key][0] for key in ("hot_face_K", "cold_sink_K")}
    before_A, after_A = one.history["current_A"][:2]
    # The cold face lies a hair below the cold sink (0.001 K/W).
    assert before_A == pytest.approx(
        (12.0 - 0.05 * (first_K["hot_face_K"] - first_K["cold_sink_K"])) / 1.8, rel=0.01
    )
    assert after_A > 2.0 * before_A
    fuse = by_guard(one, "branch fuse")
    assert fuse.acts == "yes"
    # 168 % of it: between the gates of 135 % and 200 % (ISO 8820-3) only the first is promised.
    assert fuse.time_s == pytest.approx(600.0)
    assert next(g for g in answer.guards if g.key == "branch fuse").number == 7.5
    assert by_guard(one, "supply limit").acts == "yes"  # 300 W and more of 150 W
    # A fuse of twice the size in the sheet sees nothing, and the answer says so with both numbers.
    blind = faults.run(faults.Inputs(pair(fuse="15 A"), tries=0))
    fuse = by_guard(followed(blind, "one module shorted"), "branch fuse")
    assert fuse.acts == "no"
    assert "does not see this fault" in fuse.said
    assert "15\u2009A" in fuse.said
    found = next(each for each in blind.findings if each.code == "CW-FAULT-03")
    assert "7.5\u2009A" in found.action


def test_a_thermostat_that_sticks_is_followed_in_the_coolest_moment():
    answer = faults.run(faults.Inputs(read(DEMOS / "cabinet" / "week.toml"), tries=0))
    one = followed(answer, "thermostat stuck on")
    assert one.history["place_air_K"][0] == pytest.approx(273.15 + 18.0, abs=0.01)
    assert one.place_rise_K.value < -10.0
    assert one.harm == SPOIL
    assert one.caught_by.guard == "second thermostat"
    assert one.in_time
    refused = followed(faults.run(faults.Inputs(pair(), tries=0)), "thermostat stuck on")
    assert refused.refused


def test_power_that_returns_takes_most_at_once(kiosk):
    one = followed(kiosk, "power returns")
    currents = one.history["current_A"]
    assert currents[0] == 0.0
    assert max(currents) == pytest.approx(currents[1], rel=0.02)
    assert one.current_ratio > 1.2
    assert kiosk.normal["current_at_switch_on_A"].value > 1.2 * kiosk.normal["current_A"].value


# --- Guards ---------------------------------------------------------------------------------------


@pytest.mark.practice
@pytest.mark.parametrize("name", ["kiosk", "cabinet"])
def test_the_cut_out_stands_between_normal_and_the_first_limit(name):
    # Common practice, no source: about 15 to 20 K above the worst normal, and at most 70 to 75 °C
    # where polystyrene touches (here: the foam's own limit); whole steps of 5 °C.
    # The sheets' own limit of the hot sink is left out, so that the rule alone decides.
    sheet = read(DEMOS / name).changed({"limits.hot_sink": None})
    answer = faults.run(faults.Inputs(sheet, tries=60))
    cut_out_K = next(g.number for g in answer.guards if g.key == "cut-out")
    normal_K = answer.normal["hot_sink_K"].high
    assert 14.0 <= cut_out_K - normal_K <= 20.5
    assert (cut_out_K - 273.15) % 5.0 == pytest.approx(0.0, abs=1e-6)
    design = Design(sheet, 0, 0)
    start, _ = starts(design, design.solve(with_place=True))
    for limit in limits_of(start):
        if limit.above and limit.harm >= RUIN:
            assert cut_out_K <= limit.limit_K
    one = followed(answer, "hot fan stops")
    act = by_guard(one, "cut-out")
    assert act.acts == "yes"
    assert one.in_time
    # Followed with the cut-out in the lead: the face stops within a kelvin or two of it.
    assert cut_out_K - 1.0 < one.peak_K < cut_out_K + 2.0


def test_a_cut_out_that_cannot_fit_is_a_finding():
    hot = read_text(PAIR.replace('value = "0.08 K/W"', 'value = "0.34 K/W"'), name="hot.toml")
    answer = faults.run(faults.Inputs(hot, tries=0))
    assert answer.normal["hot_sink_K"].value > 273.15 + 66.0
    assert "CW-FAULT-02" in {each.code for each in answer.findings}
    fine = faults.run(faults.Inputs(pair(), tries=0))
    assert "CW-FAULT-02" not in {each.code for each in fine.findings}


@pytest.mark.practice
def test_fuse_sizes_follow_the_quarter_rule():
    # The 125 % rule for loads of hours: 8 A asks for at least 10 A; and the rush must pass.
    assert fuses.next_size(8.0) == 10.0
    assert fuses.next_size(8.01) == 15.0
    assert fuses.next_size(5.97, 6.67) == 7.5
    assert fuses.next_size(2.0, 3.2) == 4.0
    assert fuses.next_size(1000.0) is None


@pytest.mark.practice
def test_a_fuse_opens_by_its_table_or_not_at_all():
    # Blade fuses, ISO 8820-3 as remembered: 135 % within 600 s, 200 % within 5 s, 110 % for hours.
    times = np.linspace(0.0, 3600.0, 36001)
    assert fuses.opens_after(times, np.full(36001, 13.5), 10.0) == pytest.approx(600.0, rel=1e-6)
    assert fuses.opens_after(times, np.full(36001, -20.0), 10.0) == pytest.approx(5.0, rel=1e-6)
    assert fuses.opens_after(times, np.full(36001, 13.4), 10.0) == np.inf
    # Half of its life at one current and half at another: half of both times.
    currents = np.where(times <= 300.0, 13.5, 20.0)
    assert fuses.opens_after(times, currents, 10.0) == pytest.approx(302.5, abs=0.2)
    # A short rush uses little of it.
    currents = np.where(times <= 1.0, 20.0, 8.0)
    assert fuses.opens_after(times, currents, 10.0) == np.inf


def test_a_fuse_too_small_for_switching_on_is_a_finding():
    small = faults.run(faults.Inputs(pair(fuse="5 A"), tries=0))
    found = next(each for each in small.findings if each.code == "CW-FAULT-04")
    assert found.line is not None
    right = faults.run(faults.Inputs(pair(fuse="7.5 A"), tries=0))
    assert "CW-FAULT-04" not in {each.code for each in right.findings}


def test_an_unknown_mass_is_said():
    light = read_text(PAIR.replace('mass = "3 kg"\n', ""), name="light.toml")
    codes = {each.code for each in faults.run(faults.Inputs(light, tries=0)).findings}
    assert "CW-FAULT-05" in codes
    codes = {each.code for each in faults.run(faults.Inputs(pair(), tries=0)).findings}
    assert "CW-FAULT-05" not in codes


def test_a_fan_that_stands_is_seen_by_the_interlock_and_a_blocked_one_is_not(kiosk):
    for name in ("hot fan stops", "cold fan stops"):
        assert by_guard(followed(kiosk, name), "fan-fail interlock").acts == "yes"
    assert by_guard(followed(kiosk, "hot air blocked"), "fan-fail interlock").acts == "no"


def test_the_tray_fills_when_the_water_says_so():
    history = np.zeros((3, COLUMNS))
    history[:, TIME_S] = 0.0, 3600.0, 7200.0
    history[:, CONDENSATE_KG_S] = 1e-4  # 0.36 l/h
    amount, full_s = collected(history, 0.5)
    assert full_s == pytest.approx(5000.0)
    assert amount == pytest.approx(8.64)
    history[:, CONDENSATE_KG_S] = 1e-6
    amount, full_s = collected(history, 0.5)
    assert full_s is None
    assert amount == pytest.approx(0.0864)


# --- Limits, findings, words ----------------------------------------------------------------------


def test_the_moment_of_passing_lies_between_two_rows():
    history = np.full((3, 3, COLUMNS), np.nan)
    history[:, :, TIME_S] = 0.0, 10.0, 20.0
    history[0, :, HOT_BASE_K] = 300.0, 310.0, 330.0
    history[1, :, HOT_BASE_K] = 325.0, 326.0, 327.0
    history[2, :, HOT_BASE_K] = 300.0, 301.0, np.nan
    limit = Limit("x", HOT_BASE_K, 320.0, True, RUIN, "")
    found = first_passed(history, limit)
    assert found[0] == pytest.approx(15.0)
    assert np.isnan(found[1])
    assert found[2] == np.inf


def test_the_worst_fault_is_a_finding_of_the_verdict():
    # Where the sheet has a limit of the hot sink, as a cut-out sets it, it is a note.
    kiosk = read(DEMOS / "kiosk")
    open_end = kiosk.changed({"limits.hot_sink": None})
    for sheet, severity in ((kiosk, "note"), (open_end, "warning")):
        verdict = coldwright.verdict(sheet, tries=0)
        found = [each for each in verdict.findings if each.code == "CW-FAULT-06"]
        assert [each.severity for each in found] == [severity]
    weak = read_text(PAIR.replace('voltage = "24 V" }', 'voltage = "1.5 V" }'), name="weak.toml")
    design = Design(weak, 0, 0)
    assert hot_fan_finding(design, design.solve(with_place=False)) == []


def test_times_and_amounts_read_as_people_say_them():
    assert in_time(0.2) == "1\u2009s"
    assert in_time(59.0) == "59\u2009s"
    assert in_time(150.0) == "2.5\u2009min"
    assert in_time(3600.0) == "60\u2009min"
    assert in_time(36000.0) == "10\u2009h"
    assert in_time(None) == "never"
    assert litres(0.013) == "13\u2009g"
    assert litres(0.52) == "0.52\u2009l"
