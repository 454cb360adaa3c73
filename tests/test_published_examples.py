"""The comparisons with published numbers run, and every row is within its tolerance.

Each row carries its own source; `examples/published/run_all.py` prints them all.
"""

from __future__ import annotations

import importlib
import math
import subprocess
import sys
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parents[1] / "examples" / "published"
NOT_COMPARISONS = {"comparison", "solved", "run_all", "not_compared"}
FILES = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem not in NOT_COMPARISONS)


@pytest.fixture
def examples(monkeypatch):
    """Import a file of the folder as the script itself would see its neighbours."""
    monkeypatch.syspath_prepend(str(FOLDER))
    return importlib.import_module


@pytest.mark.published("as each row says: worked examples, handbook formulas, measurements")
@pytest.mark.parametrize("name", FILES)
def test_every_row_is_within_its_tolerance(examples, name):
    cases = examples(name).cases()
    assert cases
    failing = [
        f"{case.title}: {row.what}: published {row.published}, computed {row.computed}"
        for case in cases
        for row in case.rows
        if not row.ok
    ]
    assert failing == []


@pytest.mark.parametrize("name", FILES)
def test_every_case_names_a_source_and_holds_rows(examples, name):
    for case in examples(name).cases():
        assert len(case.source) > 4, case.title
        assert case.basis, case.title
        assert case.rows, case.title
        for row in case.rows:
            band = isinstance(row.published, tuple)
            assert band or row.tolerance > 0.0, row.what
            # A band or a tolerance that lets everything through would prove nothing.
            if band:
                low, high = row.published
                assert low < high < math.inf, row.what
            elif not row.absolute:
                assert row.tolerance <= 0.30, row.what


def test_all_files_are_in_the_list_that_prints_them(examples):
    listed = {file.__name__ for file in examples("run_all").FILES}
    assert listed == set(FILES)


def test_a_wrong_number_is_noticed(examples):
    comparison = examples("comparison")
    assert comparison.Row("x", 10.0, 10.09, 0.01).ok
    assert not comparison.Row("x", 10.0, 10.11, 0.01).ok
    assert not comparison.Row("x", 10.0, math.nan, 0.01).ok
    assert not comparison.Row("x", (1.0, 2.0), math.nan).ok
    assert not comparison.Row("x", (1.0, 2.0), 2.1).ok
    wrong = comparison.Case("a", "b", "c", (comparison.Row("x", 1.0, 2.0, 0.1),))
    assert comparison.show([wrong]) is False


def test_a_script_prints_its_table():
    ended = subprocess.run(
        [sys.executable, str(FOLDER / "one_module.py")],
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert ended.returncode == 0, ended.stderr
    assert "published  computed" in ended.stdout
    assert "0.29728" in ended.stdout
    assert " NO" not in ended.stdout
