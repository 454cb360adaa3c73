"""How commands end: one message, the documented code, never a traceback."""

import json
import os
import signal
import subprocess
import sys
import time

import pytest
import typer

from coldwright.answers import warm
from coldwright.errors import (
    LedgerError,
    NoSolution,
    OutputError,
    PartMissing,
    QuantityError,
    ReadingError,
    SheetError,
    SheetInvalid,
    SolverError,
)
from coldwright.faces.cli.exits import MEANINGS, Exit, answering, put_json
from coldwright.findings import Finding

FAULT = Finding("CW-UNIT-01", "stop", "place.length", "“nan”", "a length", "", "", 7, "x.toml")


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (SheetError("There is no such file.", "x.toml"), 3, "no such file"),
        (SheetInvalid([FAULT], "x.toml"), 3, "line 7"),
        (PartMissing("fan", ["typical fan"]), 3, "typical fan"),
        (QuantityError("“x”", "a length"), 2, "a length"),
        (ReadingError("The file is empty.", "town.epw", 1), 3, "town.epw"),
        (OutputError("a.csv: is there already"), 2, "is there already"),
        (NoSolution("CW-SOLVE-01", "The sink gets hotter without end."), 4, "without end"),
        (SolverError("did not converge", 3.0), 5, "report"),
        (LedgerError("does not close", 3.0), 5, "report"),
        (ZeroDivisionError("division by zero"), 5, "ZeroDivisionError in test_exits.py line"),
        (RecursionError("too deep"), 5, "report"),
        (MemoryError(), 5, "memory"),
        (KeyboardInterrupt(), 130, "Stopped"),
        (typer.Abort(), 130, "Stopped"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_every_error_is_one_message_and_its_code(capsys, error, code, said, as_json):
    with pytest.raises(typer.Exit) as ended, answering(as_json=as_json):
        raise error
    assert ended.value.exit_code == code
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    if as_json:
        told = json.loads(out)
        assert err == ""
        assert set(told) == {"error", "exit_code", "findings"}
        assert told["exit_code"] == code
        assert isinstance(error, SheetInvalid) == bool(told["findings"])
    else:
        assert out == ""
        assert said in " ".join(err.split())


def test_an_exit_that_a_command_chose_passes_through():
    with pytest.raises(typer.Exit) as ended, answering():
        raise typer.Exit(Exit.STOPPED)
    assert ended.value.exit_code == 1


def test_every_code_has_a_meaning():
    assert set(MEANINGS) == set(Exit)
    assert all(meaning.endswith(".") for meaning in MEANINGS.values())


@pytest.mark.published("RFC 8259, section 6: NaN and infinities are no JSON numbers")
def test_a_number_that_is_none_is_a_fault_and_not_json(capsys):
    with pytest.raises(typer.Exit) as ended, answering(as_json=True):
        put_json({"cooling_W": float("nan")})
    assert ended.value.exit_code == Exit.FAULT
    assert "NaN" not in capsys.readouterr().out


COMMAND = [sys.executable, "-c", "from coldwright.faces.cli.app import main; main()"]


def test_a_reader_that_leaves_early_is_no_fault():
    line = f'"{sys.executable}" -c "from coldwright.faces.cli.app import main; main()" parts wires'
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {line} | head -n 1"],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.stderr == ""
    assert done.returncode == 0
    assert done.stdout.strip() == "Wires  size of [[power.wire]]"


@pytest.mark.published("shells give 128 plus the signal's number: 130 for SIGINT (POSIX.1, bash)")
@pytest.mark.parametrize("after_s", [0.0, 0.3, 1.0])
def test_ctrl_c_ends_with_130(tmp_path, after_s):
    subprocess.run([*COMMAND, "new", str(tmp_path / "p"), "--kind", "box"], check=True,
                   capture_output=True)  # fmt: skip
    running = subprocess.Popen(
        [*COMMAND, "verdict", str(tmp_path / "p"), "--tries", "200000"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    # The word on standard error comes when the solver is about to start.
    assert running.stderr.readline()
    time.sleep(after_s)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=120)
    assert running.returncode == 130
    assert out == ""
    assert "Traceback" not in err
    assert err.strip().endswith("Stopped.")


def test_output_in_an_old_encoding_is_plainer_but_whole():
    for arguments in (["parts", "materials"], ["equations", "dew_point"], ["--help"]):
        asked = [0, 0]
        for at, narrow in enumerate(({}, {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})):
            environment = os.environ | {"PYTHONIOENCODING": "utf-8"} | narrow
            done = subprocess.run([*COMMAND, *arguments], capture_output=True, check=False,
                                  env=environment)  # fmt: skip
            assert done.returncode == 0, done.stderr
            text = done.stdout.decode("ascii" if narrow else "utf-8")
            asked[at] = text.count("?")
        # A sign that nothing plainer stands for would have become a question mark.
        assert asked[0] == asked[1]


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device that is always full")
def test_an_answer_that_finds_no_room_is_no_fault_of_the_program():
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [*COMMAND, "parts", "wires"],
            stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False,
        )  # fmt: skip
    assert done.returncode == Exit.WRONG_USE
    assert "cannot be written" in done.stderr
    assert "fault of the program" not in done.stderr
    assert "Exception ignored" not in done.stderr


def test_json_holds_ordinary_spaces(call, project):
    for command in (("verdict", "--no-intervals"), ("watts", "--no-intervals"), ("check",)):
        done = call(command[0], project, "--json", *command[1:])
        assert done.exit_code == 0
        assert "\u2009" not in done.stdout
        assert "\\u2009" not in done.stdout
        # What people read keeps numbers and units together.
        if command[0] != "check":
            assert "\u2009" in call(command[0], project, *command[1:]).stdout


@pytest.mark.parametrize("command", ["verdict", "watts", "changes"])
def test_few_tries_are_refused_and_none_is_said_how(call, project, command):
    done = call(command, project, "--tries", "50")
    assert done.exit_code == Exit.WRONG_USE
    assert "0 for none" in " ".join(done.output.replace("│", " ").split())


def test_no_tries_are_no_intervals(call, project):
    none = call("verdict", project, "--tries", "0", "--json")
    assert none.exit_code == 0
    assert none.stdout == call("verdict", project, "--no-intervals", "--json").stdout


def test_a_cache_that_holds_some_laws_is_not_a_compiled_solver(tmp_path, monkeypatch):
    monkeypatch.setattr(warm, "cache_folder", lambda: tmp_path)
    assert not warm.is_warm()
    (tmp_path / "saturation.saturation_pressure-20.py311.1.nbc").touch()
    assert not warm.is_warm()
    (tmp_path / "cooler.operate_one-166.py311.1.nbc").touch()
    assert warm.is_warm()
    assert not warm.is_warm("run._run_all")
