"""Listing the library: compared with its TOML files, read here with the standard library."""

import json
import tomllib
from pathlib import Path

import pytest

import coldwright.sheet.library as library
from coldwright.answers.parts import Inputs, run

FILES = {
    file.stem: tomllib.loads(file.read_text(encoding="utf-8"))
    for file in Path(library.__file__).parent.glob("*.toml")
}


def test_all_rows_of_all_files_are_listed_with_their_sources():
    found = run(Inputs())
    listed = {(row.group, row.name): row for row in found.rows}
    in_files = {(group, name) for group, rows in FILES.items() for name in rows}
    assert set(listed) == in_files
    assert found.counts == {group: len(rows) for group, rows in FILES.items()}
    for (group, name), row in listed.items():
        held = dict(FILES[group][name])
        assert row.source == held.pop("source") != ""
        assert row.aliases == held.pop("aliases", [])
        assert row.values == held


@pytest.mark.parametrize("asked", ["fans", "fan", "FANS", "Fan"])
def test_a_group_may_be_named_in_the_singular(asked):
    found = run(Inputs(asked))
    assert found.known_group
    assert [row.name for row in found.rows] == list(FILES["fans"])


def test_all_words_of_a_search_must_be_mentioned():
    found = run(Inputs("fans", "strong axial 120"))
    both = [
        name
        for name, row in FILES["fans"].items()
        if all(word in f"{name} {row}" for word in ("strong", "axial", "120"))
    ]
    assert [row.name for row in found.rows] == both != []
    assert len(both) < len(run(Inputs("fans", "strong")).rows) < len(FILES["fans"])
    assert run(Inputs("fans", "120 nowhere")).rows == []


def test_an_unknown_group_names_the_nearest():
    found = run(Inputs("modul"))
    assert not found.known_group
    assert "modules" in found.nearest
    assert found.rows == []


def test_the_answer_is_plain_data():
    found = run(Inputs("sinks"))
    again = json.loads(json.dumps(found.to_json(), allow_nan=False))
    assert [row["name"] for row in again["parts"]] == list(FILES["sinks"])
