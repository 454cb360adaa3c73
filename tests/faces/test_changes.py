"""`coldwright changes` as a person meets it."""

import json
import re
import tomllib
from pathlib import Path

import pytest

from coldwright.answers import changes
from coldwright.faces.cli.changes import written
from coldwright.faces.cli.page import columns
from coldwright.sheet.file import read

DEMOS = Path(__file__).resolve().parents[2] / "demos"
NECK = Path(__file__).resolve().parents[2] / "examples" / "questions" / "neck_cooler.toml"
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?|impossible)\b", re.IGNORECASE
)


@pytest.fixture
def kiosk(call):
    return call("changes", DEMOS / "kiosk")


def test_the_kiosk_reads_from_the_sentence_to_the_next_step(kiosk):
    assert kiosk.exit_code == 0, kiosk.output
    text = kiosk.stdout
    assert text.startswith("Ticket kiosk, single duct\n\nThree changes help most: hot air from")
    marks = [
        "Three changes help most", "· As the sheet has it", "One change at a time", "gain K",
        "Hot air from outdoors  then:", "hot_takes_from", "Made together",
        "If something smaller will do", "These do not help here", "Next\n", "coldwright verdict",
    ]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)
    # The one sentence holds all that ranks a change.
    sentence = " ".join(text[text.index("  · Take the hot side's air") :].split())
    assert re.match(
        r"· Take the hot side's air from outdoors: \d\.\d K colder \(\d\.\d–\d\.\d\), "
        r"\+\d+ W net, [−+]\d+ W from the plug, price not known; best in \d+ of 100 tries\.",
        sentence.replace("\u2009", " "),
    )


@pytest.mark.parametrize("sheet", [DEMOS / "kiosk", DEMOS / "cabinet", NECK], ids=lambda p: p.stem)
def test_it_fits_eighty_columns_and_keeps_to_our_words(call, sheet):
    done = call("changes", sheet)
    assert done.exit_code == 0, done.output
    for line in done.stdout.split("\n"):
        if str(sheet) not in line:
            assert columns(line) <= 80, line
        assert line == line.rstrip(), line
    assert not UNWANTED.search(done.stdout), UNWANTED.search(done.stdout)
    assert "!" not in done.stdout
    assert "\x1b" not in done.stdout


@pytest.mark.practice  # replacement air outweighs all else; a box has none to lose by
def test_the_kiosks_exhaust_comes_first_and_the_cabinets_does_not(call):
    exhaust = {"hot air from outdoors", "hot air sent outdoors"}
    found = {}
    for name in ("kiosk", "cabinet"):
        done = call("changes", DEMOS / name, "--json", "--tries", "100")
        assert done.exit_code == 0, done.output
        found[name] = [option["names"] for option in json.loads(done.stdout)["options"]]
    assert found["kiosk"][0] == ["hot air from outdoors"]
    assert found["cabinet"][0] == ["more insulation"]
    assert not exhaust & {name for names in found["cabinet"] for name in names}


def test_json_is_the_answer_of_the_function(call):
    done = call("changes", DEMOS / "cabinet", "--json", "--tries", "100", "--seed", "3")
    assert done.exit_code == 0, done.output
    same = changes.run(changes.Inputs(read(DEMOS / "cabinet"), tries=100, seed=3)).to_json()
    found = json.loads(done.stdout)
    same["file"] = found["file"]
    same["findings"] = found["findings"]  # their file is named as it was given
    assert found == json.loads(json.dumps(same))


def test_without_intervals_the_table_has_none(call):
    done = call("changes", DEMOS / "cabinet", "--no-intervals")
    assert done.exit_code == 0, done.output
    assert " tries" not in done.stdout
    assert "more insulation" in done.stdout


def test_in_open_air_the_table_is_in_watts(call):
    text = call("changes", NECK).stdout
    assert "gain W" in text
    assert "colder" not in text


def test_a_bad_sheet_ends_like_everywhere(call, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("title = 3", encoding="utf-8")
    assert call("changes", bad).exit_code == 3
    assert call("changes", tmp_path / "none.toml").exit_code == 3


def test_a_new_value_is_written_as_a_sheet_holds_it():
    table = {"cooler.run_at": {"current": "5 A"}, "cooler.modules.series": 6}
    told = {key: written(value) for key, value in table.items()}
    assert told == {"cooler.run_at": '{ current = "5 A" }', "cooler.modules.series": "6"}
    assert written(["entry", {"loss": "0.4"}]) == '["entry", { loss = "0.4" }]'
    assert written(None) == "(left out)"
    # What is shown can be pasted into a sheet.
    sheet = read(DEMOS / "kiosk")
    for option in changes.run(changes.Inputs(sheet, tries=0)).options:
        text = "\n".join(f"{key} = {written(value)}" for key, value in option.edits.items())
        if "[" not in "".join(option.edits):
            assert tomllib.loads(text)
