"""`wiring` as a person meets it."""

import json
import re
from pathlib import Path

import pytest

from coldwright.answers import wiring
from coldwright.faces.cli.page import columns
from coldwright.sheet.file import read

ROOT = Path(__file__).resolve().parents[2]
DEMOS = ROOT / "demos"
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?)\b", re.IGNORECASE
)
SHEETS = [DEMOS / "kiosk", DEMOS / "cabinet", DEMOS / "kiosk" / "week.toml",
          *sorted((ROOT / "examples" / "questions").glob("[!e]*.toml"))]  # fmt: skip


def test_the_order_is_that_of_every_answer(call):
    text = call("wiring", DEMOS / "kiosk").stdout
    assert text.split("\n")[0] == "Ticket kiosk, single duct"
    marks = ["· ", "Currents\n", "Supply and converters", "Runs of wire", "Where the power ends",
             "Wires to cut", "Findings", "licensed person", "Next\n"]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda path: path.stem)
def test_every_page_fits_eighty_columns_and_keeps_to_our_words(call, sheet):
    done = call("wiring", sheet)
    if done.exit_code == 4:  # no steady state: nothing to wire
        return
    assert done.exit_code == 0, done.output
    for line in done.stdout.split("\n"):
        if "coldwright " not in line:
            assert columns(line) <= 80, line
        assert line == line.rstrip(), line
    found = UNWANTED.search(done.stdout)
    assert not found, found
    assert not re.search(r"\b(nan|None|inf)\b", done.stdout)


@pytest.mark.parametrize("name", ["kiosk", "cabinet"])
def test_text_and_json_and_python_are_one_answer(call, name):
    told = json.loads(call("wiring", DEMOS / name, "--json").stdout)
    found = wiring.run(wiring.Inputs(read(DEMOS / name)))
    assert told == json.loads(json.dumps(found.to_json()))
    text = call("wiring", DEMOS / name).stdout.replace("\u2009", " ")
    assert all(run["table"][:12] in text.replace("\n", " ") for run in told["runs"])


def test_the_demos_are_wired_without_a_warning(call):
    for name in ("kiosk", "cabinet"):
        told = json.loads(call("wiring", DEMOS / name, "--json").stdout)
        assert [one for one in told["findings"] if one["code"].startswith(("CW-WIRE", "CW-SWITCH"))
                and one["severity"] != "note"] == []  # fmt: skip
