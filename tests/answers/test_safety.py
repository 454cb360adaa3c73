"""The answer of `safety`: cautions with sources, the signed list, what joins the verdict."""

from __future__ import annotations

import datetime
import json

import pytest

import coldwright
from coldwright.answers import safety, verdict
from coldwright.answers.safety import Inputs, run, sign
from coldwright.errors import QuantityError, SheetError, SheetInvalid
from coldwright.findings_safety import SOURCES
from coldwright.sheet.file import read, read_text
from tests.machine.test_safety_rules import BOX, ROOM

NOW = datetime.datetime(2026, 6, 1, 12, 0, 59, 7, tzinfo=datetime.UTC)


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "sheet.toml").write_text(BOX, encoding="utf-8")
    return tmp_path


def answered(folder):
    return run(Inputs(read(folder), tries=0))


def status(answer, code):
    return next(step for step in (*answer.steps, *answer.licensed) if step.code == code)


@pytest.mark.parametrize(
    "text",
    [
        BOX,
        BOX.replace('"65 degC"', '"none"').replace('"neither"', '"food"'),
        BOX.replace('"6 V"', '"14 V"').replace('"0.2 K/W"', '"0.9 K/W"'),  # it gets hot
        ROOM.replace('"open"', '"none"'),
        ROOM,
    ],
)
def test_every_caution_of_the_command_joins_the_verdict(text):
    sheet = read_text(text)
    told = run(Inputs(sheet, tries=100, seed=3))
    judged = verdict.run(verdict.Inputs(sheet, tries=100, seed=3))
    mine = [one for one in judged.findings if one.code in SOURCES]
    assert told.findings == mine
    assert all(one.source for one in told.cautions)
    ranks = [("stop", "warning", "note").index(one.severity) for one in told.findings]
    assert ranks == sorted(ranks)


def test_a_stop_makes_the_verdict_a_no_and_says_why():
    sheet = read_text(BOX.replace('"in free air"', '"in foam"'))
    judged = verdict.run(verdict.Inputs(sheet, tries=100))
    assert judged.verdict == "no"
    assert judged.headline == "No: a supply must not stand inside foam."
    assert run(Inputs(sheet, tries=0)).headline.startswith("Do not build it like this.")


def test_a_design_without_a_steady_state_is_looked_at_all_the_same():
    # A hot sink of 9 K/W for a module at its full voltage: nothing settles.
    text = BOX.replace('"0.2 K/W"', '"9 K/W"').replace('"6 V"', '"15 V"').replace('"65', '"85')
    told = run(Inputs(read_text(text), tries=0))
    assert [one.code for one in told.findings] == ["CW-SAFE-15"]
    assert "no steady state" in told.remarks[0]
    assert told.steps


def test_a_design_that_is_refused_before_solving_is_looked_at_all_the_same():
    sheet = read_text(ROOM.replace("combustion", 'air_leakage = "none"\ncombustion'))
    told = run(Inputs(sheet, tries=0))
    assert told.findings[0].code == "CW-SAFE-11"
    assert "refused" in told.remarks[0]
    with pytest.raises(SheetInvalid) as caught:
        verdict.run(verdict.Inputs(sheet, tries=0))
    assert "CW-SAFE-11" in [one.code for one in caught.value.findings]


def test_a_sheet_with_faults_has_no_answer():
    sheet = read_text(BOX.replace("[cooler]\n", '[cooler]\ncold_sends_to = "outdoors"\n'))
    with pytest.raises(SheetInvalid):
        run(Inputs(sheet, tries=0))


def test_nothing_is_signed_at_first(folder):
    told = answered(folder)
    assert {step.status for step in (*told.steps, *told.licensed)} == {"open"}
    assert "0 of" in told.headline
    assert not (folder / "safety.toml").exists()


def test_two_people_sign_and_both_stand_in_the_list(folder):
    assert sign(read(folder), ["build-cut-out"], "A. Maker", now=NOW) == ["build-cut-out"]
    sign(read(folder), ["licensed-leakage", "build-guard"], "  B.\tLicensed ", now=NOW)
    told = answered(folder)
    first, second = status(told, "build-cut-out"), status(told, "licensed-leakage")
    assert (first.status, first.by, first.on) == ("signed", "A. Maker", "2026-06-01T12:00+00:00")
    assert (second.status, second.by) == ("signed", "B. Licensed")
    assert status(told, "build-drip").status == "open"
    assert f"2 of {len(told.steps)}" in told.headline


def test_a_changed_design_asks_again_and_the_old_signature_stays(folder):
    sign(read(folder), ["build-cut-out"], "A. Maker", now=NOW)
    (folder / "sheet.toml").write_text(BOX.replace('"6 V"', '"7 V"'), encoding="utf-8")
    step = status(answered(folder), "build-cut-out")
    assert (step.status, step.by) == ("design changed", "A. Maker")
    assert "1 to be looked at again" in answered(folder).headline
    sign(read(folder), ["build-cut-out"], "B. Helper", now=NOW)
    assert status(answered(folder), "build-cut-out").by == "B. Helper"
    # Back to the first design: its own signature counts, not the later one.
    (folder / "sheet.toml").write_text(BOX, encoding="utf-8")
    step = status(answered(folder), "build-cut-out")
    assert (step.status, step.by) == ("signed", "A. Maker")


def test_two_sheets_of_one_folder_are_signed_apart(folder):
    (folder / "week.toml").write_text(BOX, encoding="utf-8")
    sign(read(folder / "sheet.toml"), ["build-cut-out"], "A. Maker", now=NOW)
    other = run(Inputs(read(folder / "week.toml"), tries=0))
    assert status(other, "build-cut-out").status == "open"


@pytest.mark.parametrize("code", ["build-cutout", "build-earth", "", "CW-SAFE-01"])
def test_a_step_that_is_not_in_the_list_cannot_be_signed(folder, code):
    # build-earth exists, but not for a design with a finished supply.
    with pytest.raises(QuantityError, match="a step of this design's list"):
        sign(read(folder), ["build-guard", code], "A. Maker")
    assert not (folder / "safety.toml").exists()


def test_a_slip_of_the_pen_is_answered_with_the_nearest_code(folder):
    with pytest.raises(QuantityError, match="build-cut-out"):
        sign(read(folder), ["build-cutout"], "A. Maker")


@pytest.mark.parametrize("name", ["", "   ", "\x1b[31m", "x" * 500, "\u202eevil"])
def test_somebody_must_sign(folder, name):
    with pytest.raises(QuantityError, match="a name"):
        sign(read(folder), ["build-guard"], name)


def test_a_damaged_list_of_signatures_hides_no_caution(folder):
    (folder / "sheet.toml").write_text(BOX.replace('"neither"', '"food"'), encoding="utf-8")
    (folder / "safety.toml").write_text("format = 1\n[[signed]\n", encoding="utf-8")
    told = answered(folder)
    assert [one.code for one in told.findings] == ["CW-SAFE-31"]
    assert "Nothing counts as signed" in told.remarks[0]
    assert "safety.toml" in told.remarks[0]
    with pytest.raises(SheetError, match=r"safety\.toml"):
        sign(read(folder), ["build-guard"], "A. Maker")


def test_a_sheet_without_a_file_cannot_be_signed():
    with pytest.raises(QuantityError, match="no file"):
        sign(read_text(BOX), ["build-guard"], "A. Maker")
    assert run(Inputs(read_text(BOX), tries=0)).steps


def test_json_is_plain_and_the_python_face_gives_the_same(folder):
    sheet = read(folder)
    data = json.loads(json.dumps(coldwright.safety(sheet, tries=0).to_json(), allow_nan=False))
    assert data == run(Inputs(sheet, tries=0)).to_json()
    assert {"findings", "check_list", "licensed", "state", "defers"} <= set(data)
    assert all(step["source"] for step in data["check_list"])
    assert data["defers"] == safety.DEFERS
