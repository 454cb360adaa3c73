"""Bad input: one clear message each, the documented code, nothing overwritten, no traceback."""

import json
import os

import pytest

COMMANDS = ["verdict", "watts", "check"]


def _changed(old, new):
    def make(folder, text):
        assert old in text
        (folder / "sheet.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
        return folder / "sheet.toml"

    return make


def _bytes(held):
    def make(folder, text):
        (folder / "sheet.toml").write_bytes(held)
        return folder / "sheet.toml"

    return make


def _sparse(folder, text):
    with (folder / "sheet.toml").open("wb") as file:
        file.truncate(2 * 1024**3)
    return folder / "sheet.toml"


def _empty_folder(folder, text):
    (folder / "below").mkdir()
    return folder / "below"


def _two_sheets(folder, text):
    (folder / "sheet.toml").rename(folder / "a.toml")
    (folder / "b.toml").write_text(text, encoding="utf-8")
    return folder


def _named(name):
    def make(folder, text):
        return folder / name

    return make


def _pipe(folder, text):
    os.mkfifo(folder / "pipe.toml")
    return folder / "pipe.toml"


# What is wrong, and words that the message must hold.
CASES = {
    "empty file": (_bytes(b""), ["empty"]),
    "only comments": (_bytes(b"# nothing\n"), ["empty"]),
    "Latin-1": (_bytes('title = "Kühlbox"\n'.encode("latin-1")), ["UTF-8", "line 1"]),
    "UTF-16": (_bytes('title = "x"'.encode("utf-16")), ["UTF-16"]),
    "binary": (_bytes(bytes(range(256)) * 40), ["UTF-8"]),
    "not TOML": (_bytes(b"title = Film cabinet\n"), ["line 1", "quotes"]),
    "2 GB": (_sparse, ["2147.5 MB", "at most 2 MB"]),
    "folder without a sheet": (_empty_folder, ["no design sheet", "sheet.toml"]),
    "folder with several": (_two_sheets, ["a.toml", "b.toml"]),
    "pipe": (_pipe, ["no ordinary file"]),
    "no such file": (_named("none.toml"), ["no such file"]),
    "name that cannot be": (_named("x" * 5000), []),
    "unknown key": (_changed("outdoor_air", "outdor_air"), ["outdor_air", "outdoor_air", "line"]),
    "unknown table": (_changed("[climate]", "[climat]"), ["climat"]),
    "NaN in a text": (_changed('"500 mm"', '"nan mm"'), ["nan mm", "place.length", "line"]),
    "NaN as a number": (_changed('length = "500 mm"', "length = nan"), ["place.length"]),
    "infinite": (_changed('"500 mm"', '"inf mm"'), ["inf mm"]),
    "negative length": (_changed('"500 mm"', '"-500 mm"'), ["cannot be negative"]),
    "absurd unit": (_changed('"500 mm"', '"500 furlongs per fortnight"'), ["place.length"]),
    "unit of another kind": (_changed('"32 degC"', '"32 W"'), ["32 W", "temperature"]),
    "missing part": (
        _changed("typical 127 couples 6 A", "typical 172 couples 6 A"),
        ["typical 172 couples 6 A", "typical 127 couples 6 A", "cooler.modules.part"],
    ),
    "wrong kind of value": (_changed("series = 2", 'series = "two"'), ["cooler.modules.series"]),
    "missing table": (_changed("[cooler.hot_fan]", "[cooler.cold_duct]"), ["hot_fan"]),
    "key twice": (_changed("[climate]", "[climate]\n[climate]"), ["climate"]),
}


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("case", CASES)
def test_bad_input_gets_one_clear_message(call, project, command, case):
    make, words = CASES[case]
    text = (project / "sheet.toml").read_text(encoding="utf-8")
    path = make(project, text)
    before = {one.name: one.stat().st_mtime_ns for one in project.rglob("*")}
    done = call(command, path)
    said = " ".join((done.stdout + done.stderr).split())
    assert done.exit_code == 3, said
    for word in words:
        assert word in said
    assert "Traceback" not in said
    assert "pydantic" not in said.lower()
    assert len(said) < 2500
    # A message goes to standard error; findings that `check` was asked for are its answer.
    assert (done.stdout == "") or command == "check"
    assert {one.name: one.stat().st_mtime_ns for one in project.rglob("*")} == before

    told = json.loads(call(command, path, "--json").stdout)
    assert told["error"]
    assert told["exit_code"] == 3
    if told["findings"]:
        # A table that is missing altogether stands on no line.
        assert all(one["line"] or one["where"] == "climate" for one in told["findings"])


@pytest.mark.parametrize("command", COMMANDS)
def test_a_value_that_cannot_be_stops_the_answer(call, project, command):
    text = (project / "sheet.toml").read_text(encoding="utf-8")
    written = _changed("altitude", 'sun = "-5 W/m^2"\naltitude')(project, text)
    line = written.read_text(encoding="utf-8").split("-5 W")[0].count("\n") + 1
    done = call(command, project)
    said = " ".join((done.stdout + done.stderr).split())
    assert done.exit_code == (1 if command == "check" else 3)
    assert "climate.sun" in said
    assert f"line {line} " in said
    assert "Traceback" not in said


def test_all_faults_are_listed_at_once(call, project):
    text = (project / "sheet.toml").read_text(encoding="utf-8")
    for old, new in (('"500 mm"', '"-1 m"'), ("outdoor_air", "outdor_air"), ('"6 V"', '"6 kg"')):
        text = text.replace(old, new, 1)
    (project / "sheet.toml").write_text(text, encoding="utf-8")
    done = call("verdict", project)
    assert done.exit_code == 3
    for word in ("-1 m", "outdor_air", "6 kg"):
        assert word in done.stderr
    assert "4 faults" in done.stderr  # the misspelt key is also missing


@pytest.mark.parametrize(
    "arguments",
    [
        ["verdict"],
        ["verdict", "a", "b"],
        ["verdict", "x", "--tries", "many"],
        ["verdict", "x", "--tries", "5"],
        ["verdict", "x", "--nope"],
        ["nope"],
        ["check"],
        ["parts", "gizmos"],
        ["equations", "qqqqq"],
        ["new"],
    ],
)
def test_wrong_use_ends_with_two_and_says_how(call, arguments):
    done = call(*arguments)
    assert done.exit_code == 2
    assert done.stderr
    assert "Traceback" not in done.stderr


def test_a_design_without_a_steady_state_says_why(call, project):
    text = (project / "sheet.toml").read_text(encoding="utf-8")
    # A sink better than its air can be: 1/(m cp) of 3 m^3/h is about 1 K/W. (Where it is clearly
    # below, at 20 degC, the sheet itself is at fault.)
    text = text.replace(
        '[cooler.hot_sink]\npart = "typical square 120 x 120 x 50"\n',
        '[cooler.hot_sink]\nkind = "resistance"\nvalue = "0.99 K/W"\n',
    ).replace(
        '[cooler.hot_fan]\npart = "typical axial 120 mm strong"\n',
        '[cooler.hot_fan]\nflow = "3 m^3/h"\n',
    )
    (project / "sheet.toml").write_text(text, encoding="utf-8")
    for command in ("verdict", "watts"):
        done = call(command, project)
        assert done.exit_code == 4, done.output
        assert done.stdout == ""
        assert "no steady state" in " ".join(done.stderr.split())
        told = json.loads(call(command, project, "--json").stdout)
        assert told["exit_code"] == 4
