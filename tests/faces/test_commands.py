"""The commands as a person meets them: order, width, words, and one answer in text and JSON."""

import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest

import coldwright
from coldwright.faces.cli.help_page import GROUPS
from coldwright.faces.cli.page import columns
from coldwright.quantities.glossary import display

COMMAND = [sys.executable, "-c", "from coldwright.faces.cli.app import main; main()"]
# People read something else in these words.
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?|impossible to)\b", re.IGNORECASE
)


@pytest.fixture
def answers(call, project):
    """Everything the commands say about one project, by command."""
    return {
        "verdict": call("verdict", project),
        "watts": call("watts", project),
        "check": call("check", project),
        "parts": call("parts"),
        "parts fans": call("parts", "fans"),
        "equations": call("equations"),
        "equations fan": call("equations", "fan"),
        "help": call("--help"),
        **{f"{name} help": call(name, "--help") for group in GROUPS.values() for name in group},
    }


def test_every_page_fits_eighty_columns_and_keeps_to_our_words(answers):
    for name, done in answers.items():
        assert done.exit_code == 0, (name, done.output)
        for line in done.stdout.split("\n"):
            # Long paths of a test's folder are nothing the page can help.
            if "/project" not in line:
                assert columns(line) <= 80, (name, line)
            assert line == line.rstrip(), (name, line)
        if not name.startswith("equations"):  # their sources are titles of other people's papers
            assert not UNWANTED.search(done.stdout), (name, UNWANTED.search(done.stdout))
        assert "!" not in done.stdout or name.startswith(("equations", "parts")), name
        assert "\x1b" not in done.stdout


@pytest.mark.parametrize("command", ["verdict", "watts"])
def test_sentence_reasons_figures_findings_and_next_step_stand_in_this_order(
    call, project, command
):
    text = call(command, project).stdout
    lines = text.split("\n")
    assert lines[0] == "Film cabinet"
    assert lines[2]  # the sentence
    marks = ["· ", "middle 90\u2009% of 2,000 tries", "What widens", "Findings", "Next\n"]
    if command == "watts":
        marks.insert(3, "Where every watt goes")
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)


def test_the_next_step_is_a_command_that_runs(call, project):
    offered = [
        line.split()[:3] for line in call("verdict", project).stdout.split("\n")
        if line.startswith("  coldwright ")
    ]  # fmt: skip
    assert len(offered) == 3
    for program, command, path in offered:
        assert program == "coldwright"
        assert call(command, path).exit_code == 0


@pytest.mark.parametrize("command", ["verdict", "watts"])
def test_text_and_json_are_one_answer(call, project, command):
    told = json.loads(call(command, project, "--json").stdout)
    text = call(command, project).stdout
    # A thin space keeps number and unit together on a page; scripts get ordinary ones.
    assert told["headline"] in " ".join(text.replace("\u2009", " ").split("\n"))
    for key in ("plug_power_W", "net_cooling_W"):
        held = told[key]
        assert held["low"] <= held["value"] <= held["high"]
    plug_W = told["plug_power_W"]["value"]
    row = next(line for line in text.split("\n") if line.startswith("  From the plug"))
    assert float(row.split()[3].replace("−", "-")) == pytest.approx(plug_W, abs=0.051)
    # The same seed gives the same answer, another one other bounds and the same figure.
    assert json.loads(call(command, project, "--json").stdout) == told
    other = json.loads(call(command, project, "--json", "--seed", "7").stdout)
    assert other["plug_power_W"]["value"] == plug_W
    assert other["plug_power_W"]["low"] != told["plug_power_W"]["low"]


@pytest.mark.parametrize("command", ["verdict", "watts"])
def test_without_intervals_there_are_none(call, project, command):
    told = json.loads(call(command, project, "--json", "--no-intervals").stdout)
    assert told["tries"] == 0
    assert told["plug_power_W"]["low"] is None
    text = call(command, project, "--no-intervals").stdout
    assert " tries" not in text
    assert "From the plug" in text


def test_every_watt_of_the_ledger_is_on_the_page(call, project):
    told = json.loads(call("watts", project, "--json").stdout)
    text = call("watts", project).stdout
    page = text[text.index("Where every watt goes") :]
    for entry in told["ledger"]:
        if entry["W"] != 0.0:
            assert f"{abs(entry['W']):.1f}" in page, entry
            assert entry["what"] in page
    assert display("ledger_residual_W", told["ledger_residual_W"]) in page


def test_findings_carry_their_code_and_line(call, project):
    told = json.loads(call("verdict", project, "--json").stdout)["findings"]
    text = call("verdict", project).stdout
    assert told
    for one in told:
        assert one["code"] in text
        if one["line"]:
            assert f"line {one['line']}" in text


def test_python_gives_the_same_answer_in_three_lines(call, project):
    sheet = coldwright.read(project)
    answer = coldwright.verdict(sheet)
    told = json.loads(call("verdict", project, "--json").stdout)
    assert answer.to_json()["headline"] == told["headline"]
    assert answer.to_json()["place_air_K"] == told["place_air_K"]
    assert coldwright.watts(sheet, tries=0).values["plug_power_W"].value > 0.0
    assert coldwright.check(project).reads
    assert coldwright.parts("fans").rows
    assert coldwright.equations("dew_point").equations[0].name == "dew_point"


def test_the_public_names_are_listed_and_explained():
    assert coldwright.__all__ == sorted(coldwright.__all__)
    for name in coldwright.__all__:
        assert getattr(coldwright, name)
        assert name == "__version__" or getattr(coldwright, name).__doc__


def test_the_version_is_the_one_of_the_package(call):
    import tomllib

    project = Path(__file__).resolve().parents[2] / "pyproject.toml"
    written = tomllib.loads(project.read_text(encoding="utf-8"))["project"]["version"]
    assert coldwright.__version__ == written
    assert call("--version").stdout.split() == ["coldwright", written]


def test_help_names_every_command_once(call):
    text = call("--help").stdout
    for group, commands in GROUPS.items():
        assert f"{group}:" in text
        for name in commands:
            assert len(re.findall(rf"^  {name} ", text, re.MULTILINE)) == 1
    assert call().stdout == text


def test_new_says_what_it_wrote_and_what_comes_next(call, tmp_path):
    done = call("new", tmp_path / "a b", "--kind", "plate", "--heat", "12 W")
    assert done.exit_code == 0
    assert (tmp_path / "a b" / "sheet.toml").exists()
    assert f"coldwright verdict '{tmp_path / 'a b'}'" in done.stdout.replace("\n", "")
    again = call("new", tmp_path / "a b")
    assert again.exit_code == 2
    assert "nothing was written" in " ".join(again.stderr.split())


def test_new_names_every_option_that_is_wrong(call, tmp_path):
    done = call("new", tmp_path / "p", "--kind", "box", "--length", "3 kg", "--count", "0",
                "--air", "20 degC")  # fmt: skip
    assert done.exit_code == 2
    for option in ("--length", "--count", "--air"):
        assert option in done.stderr
    assert not (tmp_path / "p").exists()


def test_new_asks_on_a_terminal_and_asks_again_what_it_cannot_take(tmp_path):
    answers = ["bag", "box", "Film cabinet", "60", "600 mm"] + [""] * 12
    keyboard, screen = pty.openpty()
    running = subprocess.Popen(
        [*COMMAND, "new", str(tmp_path / "p")], stdin=screen, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    os.write(keyboard, "".join(one + "\n" for one in answers).encode())
    out, err = running.communicate(timeout=60)
    os.close(keyboard)
    os.close(screen)
    assert running.returncode == 0, err
    assert "“bag” is not one of room, box, open_air, plate" in out
    assert "“60” is not a length" in out
    sheet = coldwright.read(tmp_path / "p")
    assert sheet.title == "Film cabinet"
    assert sheet.place.length.value == pytest.approx(0.6)


def test_colour_on_a_terminal_and_none_with_plain(project):
    environment = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "80"}

    def on_a_terminal(*arguments, **more):
        ours, theirs = pty.openpty()
        done = subprocess.run(
            [*COMMAND, "check", str(project), *arguments], stdout=theirs,
            stderr=subprocess.PIPE, check=False, env=environment | more,
        )  # fmt: skip
        assert done.returncode == 0
        os.close(theirs)
        held = b""
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:
                break
            if not part:
                break
            held += part
        os.close(ours)
        return held.decode().replace("\r\n", "\n")

    coloured = on_a_terminal()
    assert "\x1b[" in coloured
    plain = on_a_terminal("--plain")
    assert "\x1b" not in plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain
    assert on_a_terminal(NO_COLOR="1") == plain


def test_schema_is_json_and_needs_no_sheet(call):
    done = call("check", "--schema")
    assert done.exit_code == 0
    assert json.loads(done.stdout)["$schema"].endswith("2020-12/schema")


def test_lists_as_json(call):
    rows = json.loads(call("parts", "fans", "--find", "120", "--json").stdout)["parts"]
    assert rows
    assert all(row["group"] == "fans" and row["source"] for row in rows)
    found = json.loads(call("equations", "dew_point", "--json").stdout)["equations"]
    assert [one["name"] for one in found] == ["dew_point"]


def test_examples_that_are_offered_find_something(call):
    for text in (call("parts").stdout, call("equations").stdout):
        offered = re.findall(r"^  coldwright (.*?)(?:   |$)", text, re.MULTILINE)
        assert len(offered) >= 2
        for line in offered:
            arguments = [one.strip('"') for one in re.findall(r'"[^"]*"|\S+', line)]
            assert call(*arguments).exit_code == 0, line


@pytest.mark.parametrize("width", [40, 46, 60])
def test_the_verdict_fits_narrow_screens(call, project, monkeypatch, width):
    monkeypatch.setenv("COLUMNS", str(width))
    for line in call("verdict", project).stdout.split("\n"):
        if "/project" not in line:
            assert columns(line) <= width, line
