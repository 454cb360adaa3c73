"""Cached machine code: an edited law is seen, and an installation that cannot be written runs."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import numba
import pytest

import coldwright
from coldwright.physics.compiled import source_hash, threads_for

PACKAGE = Path(coldwright.__file__).parent

# `plate_fin` calls `fin`: what the compiler itself would not notice when only `fin` is edited.
PROBE = """
from coldwright.physics.compiled import cache_folder
from coldwright.physics.plate_fin import plate_fin_conductance_stephan as law
print(repr(float(law(0.01, 20.0, 4e-3, 0.03, 0.1, 1e-3, 200.0, 1.16, 1.8e-5, 0.026, 0.7, 1007.0))))
print(cache_folder())
"""


def run(package_parent, **environment):
    """Answer and cache folder of a fresh process that uses this copy of the package."""
    inherited = {k: v for k, v in os.environ.items() if not k.startswith(("COLDWRIGHT", "NUMBA"))}
    done = subprocess.run(
        [sys.executable, "-B", "-c", PROBE],
        env={**inherited, "PYTHONPATH": str(package_parent), **environment},
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    answer, folder = done.stdout.split()
    return float(answer), Path(folder)


@pytest.fixture
def copied(tmp_path):
    """A copy of the package's lower ranks that a test may edit."""
    target = tmp_path / "copy" / "coldwright"
    target.mkdir(parents=True)
    for name in ("__init__.py", "physics", "machine"):
        source = PACKAGE / name
        if source.is_dir():
            shutil.copytree(source, target / name, ignore=shutil.ignore_patterns("__pycache__"))
    (target / "__init__.py").write_text("", encoding="utf-8")
    return target


def test_an_edited_law_is_seen_by_the_laws_that_call_it(copied, tmp_path):
    cache = str(tmp_path / "cache")
    before, folder = run(copied.parent, COLDWRIGHT_CACHE=cache)
    again, same = run(copied.parent, COLDWRIGHT_CACHE=cache)
    assert (again, same) == (before, folder)
    assert any(folder.rglob("*.nbc"))

    # The efficiency of a fin becomes that of a shorter one: no other file changes.
    file = copied / "physics" / "fin.py"
    text = file.read_text(encoding="utf-8")
    start = text.index("def fin_efficiency(")
    cut = text.index("    if not", start)
    edited = text[:cut] + "    height_m = 0.5 * height_m\n" + text[cut:]
    file.write_text(edited, encoding="utf-8")
    after, other = run(copied.parent, COLDWRIGHT_CACHE=cache)
    assert after > before * 1.01
    assert other != folder
    assert other.parent == folder.parent

    # Put back, the old code is found again.
    file.write_text(text, encoding="utf-8")
    assert run(copied.parent, COLDWRIGHT_CACHE=cache) == (before, folder)


def test_the_folder_bears_the_hash_of_the_sources(tmp_path):
    _, folder = run(PACKAGE.parent, COLDWRIGHT_CACHE=str(tmp_path))
    assert folder == tmp_path / "compiled" / source_hash()


def test_without_any_writable_cache_it_still_runs(copied, tmp_path):
    # A file stands where each folder would have to be made: nobody, root included, can write there.
    wall = tmp_path / "wall"
    wall.write_text("not a folder", encoding="utf-8")
    spare = tmp_path / "spare"
    spare.mkdir()
    blocked = {"COLDWRIGHT_CACHE": str(wall), "XDG_CACHE_HOME": str(wall), "HOME": str(wall)}
    for path in copied.rglob("*"):
        path.chmod(0o555 if path.is_dir() else 0o444)
    try:
        answer, folder = run(copied.parent, TMPDIR=str(spare), **blocked)
    finally:
        for path in copied.rglob("*"):
            path.chmod(0o755 if path.is_dir() else 0o644)
    assert answer == run(PACKAGE.parent)[0]
    assert spare in folder.parents
    assert not any(copied.rglob("*.nbc"))


def test_a_loop_over_few_cases_takes_no_idle_threads_and_gives_them_back():
    before = numba.get_num_threads()
    with threads_for(1):
        assert numba.get_num_threads() == 1
    assert numba.get_num_threads() == before
    with pytest.raises(RuntimeError), threads_for(0):
        raise RuntimeError
    assert numba.get_num_threads() == before
    with threads_for(10_000):
        assert numba.get_num_threads() == before
