"""`coldwright faults` as a person meets it."""

import json
import re
from pathlib import Path

import pytest

from coldwright.answers import faults
from coldwright.faces.cli.page import columns
from coldwright.sheet.file import read

DEMOS = Path(__file__).resolve().parents[2] / "demos"
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?|impossible)\b", re.IGNORECASE
)


def test_the_kiosk_reads_from_the_sentence_to_the_next_step(call):
    done = call("faults", DEMOS / "kiosk")
    assert done.exit_code == 0, done.output
    text = done.stdout
    assert text.startswith("Ticket kiosk, single duct\n\nTwo faults do lasting harm; the worst is")
    marks = [
        "Two faults do lasting harm", "· In normal use", "Fault by fault", "caught by",
        "▲ hot fan stops", "\nHot fan stops\n", "What to fit", "Thermal cut-out: opens at",
        "Not followed", "Thermostat stuck on", "Findings", "CW-FAULT-01", "Next\n",
    ]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)
    assert "Local codes and a licensed person decide" in " ".join(text.split())
    # Three in full, and what a fuse does not see is said with both numbers.
    plain = " ".join(text.replace("\u2009", " ").split())
    assert re.search(r"branch fuse does not see this fault: \d\.\d+ A against \d A", plain)


@pytest.mark.parametrize("sheet", ["kiosk", "cabinet", "kiosk/week.toml", "cabinet/week.toml"])
def test_it_fits_eighty_columns_and_keeps_to_our_words(call, sheet):
    done = call("faults", DEMOS / sheet, "--tries", "40")
    assert done.exit_code == 0, done.output
    for line in done.stdout.split("\n"):
        if str(DEMOS) not in line:
            assert columns(line) <= 80, line
        assert line == line.rstrip(), line
    assert not UNWANTED.search(done.stdout), UNWANTED.search(done.stdout)
    assert "…" not in done.stdout  # nothing is cut off in the table
    assert "!" not in done.stdout
    assert "\x1b" not in done.stdout


def test_json_is_the_answer_of_the_function(call):
    done = call("faults", DEMOS / "cabinet", "--json", "--tries", "40", "--seed", "3")
    assert done.exit_code == 0, done.output
    same = faults.run(faults.Inputs(read(DEMOS / "cabinet"), tries=40, seed=3)).to_json()
    found = json.loads(done.stdout)
    same["file"] = found["file"]
    same["findings"] = found["findings"]  # their file is named as it was given
    assert found == json.loads(json.dumps(same))


def test_one_fault_in_full(call):
    text = call("faults", DEMOS / "cabinet", "--fault", "one module sh").stdout
    assert "“one module shorted”: goal 20\u2009°C after" in text
    assert "\nOne module shorted\n" in text
    assert "hot fan stops" not in text
    done = call("faults", DEMOS / "cabinet", "--fault", "rain")
    assert done.exit_code == 2
    assert "“hot fan stops”" in done.stderr.replace("\n", " ")
    assert call("faults", DEMOS / "cabinet", "--fault", "one module").exit_code == 2  # two do
    told = json.loads(call("faults", DEMOS / "cabinet", "--fault", "rain", "--json").stdout)
    assert told["exit_code"] == 2


def test_a_refused_fault_says_why_alone(call):
    done = call("faults", DEMOS / "kiosk", "--fault", "thermostat")
    assert done.exit_code == 0
    assert "There is no thermostat" in done.stdout


def test_without_intervals_there_are_none(call):
    text = call("faults", DEMOS / "kiosk", "--no-intervals").stdout
    assert "of 100 tries" not in text
    assert "foam 80" in text
