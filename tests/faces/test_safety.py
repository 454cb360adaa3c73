"""`coldwright safety` as a person uses it: read, print, write, sign."""

from __future__ import annotations

import json
import re

import pytest
from tests.machine.test_safety_rules import BOX

WARY = BOX.replace('"65 degC"', '"none"').replace('"90 W"', '"150 W"')


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "sheet.toml").write_text(WARY, encoding="utf-8")
    return tmp_path


def test_the_page_says_everything_without_any_option(call, folder):
    done = call("safety", folder)
    assert done.exit_code == 0
    said = done.stdout
    parts = [
        "Warning: Nothing in the sheet stops the modules", "Source: ", "can start a fire",
        "Before buying", "While building", "Before the first power", "First power-up",
        "Every season", "Only a licensed person", "Local codes and a licensed person decide.",
    ]  # fmt: skip
    places = [said.index(part) for part in parts[:-1]]
    assert places == sorted(places)
    assert parts[-1] in said
    assert [line for line in said.split("\n") if len(line) > 80 and str(folder) not in line] == []


def test_the_page_fits_a_narrow_terminal(call, folder, monkeypatch):
    monkeypatch.setenv("COLUMNS", "52")
    said = call("safety", folder).stdout.split("\n")
    assert [line for line in said if len(line) > 52 and str(folder) not in line] == []


def test_the_print_holds_a_line_to_sign_for_every_open_step(call, folder):
    said = call("safety", folder, "--print").stdout
    data = json.loads(call("safety", folder, "--json").stdout)
    steps = len(data["check_list"]) + len(data["licensed"])
    assert said.count("[ ]") == said.count("Name ____") == steps
    assert data["state"] in said
    assert "\x1b" not in said
    assert "Next" not in said


def test_the_list_is_written_once_and_never_over_a_file(call, folder):
    page = folder / "list.md"
    assert call("safety", folder, "--list", page).exit_code == 0
    text = page.read_text(encoding="utf-8")
    assert re.search(r"^- \[ \] \*\*build-cut-out\*\*", text, re.MULTILINE)
    assert "## Every season" in text
    again = call("safety", folder, "--list", page)
    assert again.exit_code == 2
    assert page.read_text(encoding="utf-8") == text
    for bad in (folder / "list.pdf", folder / "none" / "list.md"):
        assert call("safety", folder, "--list", bad).exit_code == 2


def test_a_step_is_signed_and_asked_again_after_a_change(call, folder):
    done = call("safety", folder, "--sign", "build-cut-out", "--sign", "build-guard",
                "--by", "A. Maker")  # fmt: skip
    assert done.exit_code == 0
    assert "Signed: build-cut-out, build-guard" in done.stdout
    assert "signed by A. Maker" in done.stdout
    assert "2 of " in done.stdout
    (folder / "sheet.toml").write_text(WARY.replace('"6 V"', '"5 V"'), encoding="utf-8")
    said = call("safety", folder).stdout
    assert "[?]" in said
    assert "the design changed since A. Maker signed it" in " ".join(said.split())


@pytest.mark.parametrize(
    "options",
    [("--sign", "build-guard"), ("--by", "A. Maker"), ("--sign", "x-y", "--by", "A"),
     ("--sign", "build-guard", "--by", " ")],
)  # fmt: skip
def test_half_a_signature_is_refused(call, folder, options):
    done = call("safety", folder, *options)
    assert done.exit_code == 2
    assert "Traceback" not in done.output
    assert not (folder / "safety.toml").exists()


def test_a_damaged_list_is_told_and_the_cautions_stay(call, folder):
    (folder / "safety.toml").write_text("format = 1\nsigned = 3\n", encoding="utf-8")
    shown = call("safety", folder)
    assert shown.exit_code == 0
    assert "Nothing counts as signed" in shown.stdout
    assert "Nothing in the sheet stops the modules" in shown.stdout
    refused = call("safety", folder, "--sign", "build-guard", "--by", "A. Maker")
    assert refused.exit_code == 3
    assert "safety.toml" in refused.stderr.replace("\n", "")


def test_markup_in_a_title_stays_text(call, folder):
    (folder / "sheet.toml").write_text(
        WARY.replace('"A box"', '"A [box](x) *now* <b>"'), encoding="utf-8"
    )
    call("safety", folder, "--list", folder / "list.md")
    assert r"A \[box\](x) \*now\* \<b\>" in (folder / "list.md").read_text(encoding="utf-8")


def test_the_verdict_shows_warnings_and_counts_the_notes(call, folder):
    said = call("verdict", folder, "--no-intervals").stdout
    assert "Warning: Nothing in the sheet stops the modules" in said
    assert f"1 safety note: coldwright safety {folder}" in " ".join(said.split())
    assert "CW-SAFE-24" not in said
