"""What else is offered: never what harms beside a flame, and never by way of a failure."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.answers import compare, verdict
from coldwright.answers.changes import Inputs as ChangesInputs
from coldwright.answers.changes import run as changes
from coldwright.answers.design import Design
from coldwright.answers.first_aid import aids_of
from coldwright.answers.rivals_air import _aired
from coldwright.answers.scene import Scene
from coldwright.errors import NoSolution
from coldwright.machine.safety import exhaust_advice
from coldwright.sheet.file import read_text

# A hut of 20 m3 that somebody warms, with a cooler that stands wholly inside.
HUT = """
[goal]
air = "31 degC"
[climate]
kind = "steady"
outdoor_air = "29 degC"
outdoor_humidity = "40 percent"
[place]
kind = "room"
length = "4 m"
width = "2.5 m"
height = "2 m"
heat_loss = "40 W/K"
air_leakage = "ordinary"
combustion = "none"
gain = [{ name = "an oven", heat = "200 W" }]
[cooler]
hot_takes_from = "place"
hot_sends_to = "place"
run_at = { module_voltage = "6 V" }
[cooler.modules]
properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }
series = 2
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.2 K/W"
[cooler.cold_fan]
flow = "60 m^3/h"
power = "3 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.2 K/W"
[cooler.hot_fan]
flow = "60 m^3/h"
power = "3 W"
"""
TAKES_AIR_OUT = ("outdoor air by a fan", "a compressor unit, one duct")


@pytest.fixture(scope="module")
def hut():
    return read_text(HUT)


def compared(sheet):
    return compare.run(compare.Inputs(sheet, comfort=False))


def judged(sheet):
    return verdict.run(verdict.Inputs(sheet, tries=0))


@pytest.mark.practice
def test_beside_an_open_flame_nothing_that_takes_air_out_is_offered(hut):
    free, burns = compared(hut), compared(hut.changed({"place.combustion": "open"}))
    names = [row.name for row in free.rows]
    assert set(TAKES_AIR_OUT) < set(names)
    assert all(row.caution == "" for row in free.rows)
    kept = [name for name in names if name not in TAKES_AIR_OUT]
    assert [row.name for row in burns.rows] == kept
    for name in TAKES_AIR_OUT:
        (line,) = [each for each in burns.reasons if each.startswith(f"Left out: {name}")]
        assert "open flame" in line
    # A flame needs the air of the gaps: no sealing either.
    assert not any("ealing" in line for line in burns.reasons)
    assert any("ealing" in line for line in free.reasons)
    told = judged(hut.changed({"place.combustion": "open"}))
    assert [each.name for each in told.alternatives] == ["dual duct"]
    assert "by a fan" not in " ".join(told.reasons)


@pytest.mark.practice
def test_where_it_is_not_known_what_burns_the_advice_carries_the_question(hut):
    unknown = hut.changed({"place.combustion": "not known"})
    rows = {row.name: row for row in compared(unknown).rows}
    for name in TAKES_AIR_OUT:
        assert "first make sure that nothing burns" in rows[name].caution
        assert rows[name].caution in rows[name].sentence
    assert rows["a table fan"].caution == ""
    told = judged(unknown)
    (single,) = [each for each in told.alternatives if each.name == "single duct"]
    assert "first make sure that nothing burns" in single.sentence
    (dual,) = [each for each in told.alternatives if each.name == "dual duct"]
    assert "burns" not in dual.sentence


def test_the_best_one_carries_its_question_too(hut):
    # Outdoor air of 29 degC by a fan holds 31 degC with 30 W.
    for sheet in (hut, hut.changed({"place.combustion": "not known"})):
        asked = sheet is not hut
        for line in (compared(sheet).headline, judged(sheet).reasons[-1]):
            assert line.startswith("Outdoor air by a fan holds")
            assert ("first make sure that nothing burns" in line) is asked


def test_this_cooler_s_own_exhaust_is_never_the_best_beside_a_flame(hut):
    exhaust = {"cooler.hot_sends_to": "outdoors", "goal.air": "33.5 degC"}
    sheet = hut.changed({**exhaust, "place.combustion": "open"})
    found = compared(sheet)
    assert "not to be run beside an open flame" in found.headline
    assert "this cooler takes the least" not in found.headline


def test_every_advice_follows_the_one_rule(hut):
    by_word = {}
    for word in ("none", "sealed", "not known", "open"):
        sheet = hut.changed({"place.combustion": word})
        by_word[word] = exhaust_advice(sheet)
        options = changes(ChangesInputs(sheet, tries=0))
        every = [*options.options, *options.over_limit]
        outlets = [each for each in every if each.names == ["hot air sent outdoors"]]
        assert bool(outlets) is by_word[word].offered
        for each in outlets:
            assert by_word[word].asks in each.asks[0]
    assert [advice.offered for advice in by_word.values()] == [True, True, True, False]
    assert by_word["none"].asks == ""
    assert "licensed" in by_word["sealed"].asks


def test_a_sealed_place_has_no_single_duct(hut):
    sealed = hut.changed({"place.air_leakage": "none", "place.combustion": "none"})
    found = compared(sealed)
    assert "a compressor unit, one duct" not in [row.name for row in found.rows]
    assert any("No air can come into the place" in line for line in found.reasons)
    assert [each.name for each in judged(sealed).alternatives] == ["dual duct"]


@pytest.mark.parametrize("outdoor", ["51 degC", "55 degC", "-20 degC"])
def test_a_rival_that_fails_drops_out_with_a_line_and_kills_nothing(hut, outdoor):
    sheet = hut.changed({"climate.outdoor_air": outdoor})
    told = judged(sheet)
    assert told.values["place_air_K"].value is not None
    found = compared(sheet)
    assert "an evaporative cooler" not in [row.name for row in found.rows]
    (line,) = [each for each in found.reasons if "an evaporative cooler" in each]
    assert line.startswith("Left out")
    assert "50" in line


@pytest.mark.practice  # a balance of heat: the same air, told another way
def test_air_that_a_known_loss_counts_is_not_counted_twice_beside_a_fan(hut):
    """While the fan stands still the place is the one without it; running it adds its own air."""
    known = hut.changed({"place.air_leakage": None})
    design = Design(known, 0, 1)
    scene = Scene.of(design, known, design.solve(with_place=True), comfort=False)
    assert design.place["counted_W_K"][0] > 0.0
    idle = np.zeros(len(scene.wanted), dtype=bool)
    air_K, _ = scene.hottest(scene.served(*_aired(scene, idle, 0.1)))
    assert air_K == pytest.approx(scene.off_K, abs=0.02)
    # 0.1 m3/s of outdoor air at 29 degC, 1.148 kg/m3, beside the walls' share of 40 W/K.
    blown_K, _ = scene.hottest(scene.served(*_aired(scene, ~idle, 0.1)))
    _, counted_kg_s = scene.leaks()
    walls_W_K = 40.0 - 1006.0 * counted_kg_s.mean()
    assert blown_K - 302.15 == pytest.approx(200.0 / (walls_W_K + 0.1 * 1.148 * 1014.0), rel=0.02)


def test_sealing_is_not_offered_where_the_known_loss_does_not_tell_its_share(hut):
    names = {aid.name for aid in aids_of(hut)}
    assert names == {"sealing", "half as much insulation again"}
    assert {aid.name for aid in aids_of(hut.changed({"place.air_leakage": None}))} == names - {
        "sealing"
    }


def test_a_place_that_boils_without_a_cooler_says_why_it_cannot_be_followed(hut):
    cool = Design(hut, 0, 1)
    point = cool.solve(with_place=True)
    boiling = hut.changed({"place.gain": [{"name": "furnace", "heat": "6 kW"}]})
    with pytest.raises(NoSolution, match=r"without a cooler .* hotter than 100"):
        Scene.of(Design(boiling, 0, 1), boiling, point, comfort=False)
