"""Signatures are added, never lost; they hold for one state of the design; damage is told."""

from __future__ import annotations

import datetime
import os

import pytest
from tests.machine.test_safety_rules import BOX

from coldwright.errors import OutputError, SheetError
from coldwright.sheet import file as sheet_files
from coldwright.sheet.file import read, sheet_file
from coldwright.sheet.signatures import (
    Signature,
    add_signatures,
    read_signatures,
    signed_file,
    state_of,
)

NOON = datetime.datetime(2026, 6, 1, 12, 0, tzinfo=datetime.timezone(datetime.timedelta(hours=2)))


def one(item="build-cut-out", by="A. Maker", sheet="sheet.toml", state="0123456789abcdef"):
    return Signature(item, by, NOON, sheet, state)


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "sheet.toml").write_text(BOX, encoding="utf-8")
    return tmp_path


def test_where_nothing_is_signed_there_is_nothing_to_read(tmp_path):
    assert read_signatures(tmp_path / "safety.toml") == []


def test_two_signatures_come_back_in_their_order(tmp_path):
    file = tmp_path / "safety.toml"
    add_signatures(file, [one()])
    add_signatures(file, [one("build-guard", "B. Helper"), one(by="B. Helper")])
    assert read_signatures(file) == [one(), one("build-guard", "B. Helper"), one(by="B. Helper")]


@pytest.mark.parametrize(
    "name", ['Mia "Volt" Lind', "back\\slash", "Øyvind 手", "a\x7fb", "#not a remark", "'''"]
)
def test_any_name_comes_back_as_it_was_written(tmp_path, name):
    add_signatures(tmp_path / "safety.toml", [one(by=name)])
    assert read_signatures(tmp_path / "safety.toml") == [one(by=name)]


def test_remarks_and_layout_of_the_file_stay(tmp_path):
    file = tmp_path / "safety.toml"
    add_signatures(file, [one()])
    mine = file.read_text(encoding="utf-8").replace("[[signed]]", "# seen twice\n\n[[signed]]  # !")
    file.write_text(mine.rstrip("\n"), encoding="utf-8")  # and no end of line
    add_signatures(file, [one("build-guard")])
    assert file.read_text(encoding="utf-8").startswith(mine.rstrip("\n"))
    assert [each.item for each in read_signatures(file)] == ["build-cut-out", "build-guard"]


DAMAGED = [
    ("half a file", 'format = 1\n[[signed]]\nitem = "build-cut'),
    ("no format", '[[signed]]\nitem = "a"\n'),
    ("another format", "format = 2\n"),
    ("no table", 'format = 1\nsigned = ["me"]\n'),
    ("one table", 'format = 1\n[signed]\nitem = "build-guard"\n'),
    ("a key is missing", 'format = 1\n[[signed]]\nitem = "build-guard"\n'),
    ("no time", 'format = 1\n[[signed]]\nitem="a"\nby="b"\non="May"\nsheet="s"\nstate="x"\n'),
    ("a number for a name", "format = 1\n[[signed]]\nitem=1\nby=2\non=3\nsheet=4\nstate=5\n"),
    ("not a text", "\x00\x00\x00"),
]


@pytest.mark.parametrize("text", [text for _, text in DAMAGED], ids=[name for name, _ in DAMAGED])
def test_a_damaged_file_is_told_and_left_as_it_is(tmp_path, text):
    file = tmp_path / "safety.toml"
    file.write_text(text, encoding="utf-8")
    for act in (lambda: read_signatures(file), lambda: add_signatures(file, [one()])):
        with pytest.raises(SheetError, match=r"safety\.toml"):
            act()
    assert file.read_text(encoding="utf-8") == text


def test_other_damage_is_told_too(tmp_path):
    file = tmp_path / "safety.toml"
    file.write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(SheetError, match="UTF-16"):
        read_signatures(file)
    file.unlink()
    file.mkdir()
    with pytest.raises(SheetError):
        add_signatures(file, [one()])


def test_a_list_that_cannot_be_added_to_is_told(tmp_path):
    file = tmp_path / "safety.toml"
    text = 'format = 1\nsigned = [{ item = "a", by = "b", on = 2026-06-01T12:00:00Z, sheet = "s", '
    text += 'state = "x" }]\n'
    file.write_text(text, encoding="utf-8")
    assert len(read_signatures(file)) == 1
    with pytest.raises(SheetError, match=r"\[\[signed\]\]"):
        add_signatures(file, [one()])
    assert file.read_text(encoding="utf-8") == text


def test_a_change_by_somebody_else_meanwhile_is_never_written_over(tmp_path, monkeypatch):
    file = tmp_path / "safety.toml"
    add_signatures(file, [one()])
    theirs = file.read_text(encoding="utf-8") + "# theirs\n"
    made = sheet_files.tempfile.mkstemp

    def meanwhile(*given, **more):
        file.write_text(theirs, encoding="utf-8")
        return made(*given, **more)

    monkeypatch.setattr(sheet_files.tempfile, "mkstemp", meanwhile)
    with pytest.raises(SheetError, match="meanwhile"):
        add_signatures(file, [one("build-guard")])
    assert file.read_text(encoding="utf-8") == theirs
    assert os.listdir(tmp_path) == ["safety.toml"]


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only for this user")
def test_a_folder_that_is_read_only_is_told(tmp_path):
    tmp_path.chmod(0o555)
    try:
        with pytest.raises(OutputError, match="Nothing is signed off"):
            add_signatures(tmp_path / "safety.toml", [one()])
    finally:
        tmp_path.chmod(0o755)
    assert os.listdir(tmp_path) == []


def test_a_folder_that_refuses_a_new_file_is_told(tmp_path):
    # Holds for every user, unlike a mode: there is no such folder to write into.
    with pytest.raises(OutputError, match="Nothing is signed off"):
        add_signatures(tmp_path / "gone" / "safety.toml", [one()])


def test_a_full_disk_leaves_no_half_file(tmp_path, monkeypatch):
    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left"):
        add_signatures(tmp_path / "safety.toml", [one()])
    assert os.listdir(tmp_path) == []


# --- The state of a design -----------------------------------------------------------------------


def test_a_design_that_changes_has_another_state(folder):
    sheet = read(folder)
    same = ({"title": "Another name"}, {"goal.air": "10 degC"},
            {"price.electricity": "0.3 EUR/kWh"}, {"notes": "n"})  # fmt: skip
    for changes in same:
        assert state_of(sheet.changed(changes)) == state_of(sheet)
    other = ({"cooler.run_at": {"module_voltage": "7 V"}}, {"safety.cut_out": "70 degC"},
             {"power.wire[0].fuse": "5 A"}, {"place.combustion": "open"})  # fmt: skip
    states = {state_of(sheet.changed(changes)) for changes in other}
    assert len(states | {state_of(sheet)}) == len(other) + 1


def test_remarks_in_the_sheet_do_not_change_its_state(folder):
    before = state_of(read(folder))
    text = "# a remark\n" + BOX.replace("[cooler]\n", "\n\n[cooler]   # here\n")
    (folder / "sheet.toml").write_text(text, encoding="utf-8")
    assert state_of(read(folder)) == before


def test_the_list_of_signatures_is_no_sheet_of_the_folder(tmp_path):
    (tmp_path / "my_box.toml").write_text(BOX, encoding="utf-8")
    add_signatures(tmp_path / "safety.toml", [one()])
    assert sheet_file(tmp_path).name == "my_box.toml"
    assert signed_file(read(tmp_path)) == tmp_path / "safety.toml"
