"""A new project: reads, has no faults, can be answered, and never harms what is there."""

import dataclasses
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.answers import new, verdict
from coldwright.answers.new import AnswersRefused, FolderTaken, Inputs, run
from coldwright.answers.new_sheet import sheet_text
from coldwright.errors import PartMissing, QuantityError
from coldwright.quantities.parsing import parse
from coldwright.sheet.check import check
from coldwright.sheet.file import read, read_text

each_kind = pytest.mark.parametrize("kind", list(new.KINDS))


@each_kind
def test_a_new_project_reads_and_nothing_stops_it(tmp_path, kind):
    made = run(Inputs(tmp_path / "project", kind=kind))
    sheet = read(made.folder)
    assert sheet.place.kind == kind
    assert [one.code for one in check(sheet) if one.severity == "stop"] == []
    # Nothing in it is unusual, out of order or not covered: only questions it cannot answer.
    assert {one.code for one in made.findings} <= {"CW-POWER-01"}
    assert made.files == [f"{made.folder}/sheet.toml", f"{made.folder}/notes.md"]


@each_kind
def test_a_new_project_can_be_answered(tmp_path, kind):
    made = run(Inputs(tmp_path / "project", kind=kind))
    answer = verdict.run(verdict.Inputs(read(made.folder), tries=0))
    assert answer.verdict in {"room": ("yes", "no"), "box": ("yes", "no"), "open_air": (None,),
                              "plate": ("yes", "no")}[kind]  # fmt: skip
    assert answer.values["plug_power_W"].value > 0.0


def test_both_ways_of_leading_the_air_can_be_asked_for(tmp_path):
    for side in ("place", "outdoors"):
        made = run(Inputs(tmp_path / side, kind="room", hot_air=side, combustion="none"))
        assert read(made.folder).cooler.hot_takes_from == side


def test_surfaces_have_the_areas_of_a_cuboid(tmp_path):
    made = run(Inputs(tmp_path / "p", kind="room", length="12 ft", width="3 m", height="250 cm"))
    areas = {one.name: one.area.value for one in read(made.folder).place.surface}
    long_m = 12 * 0.3048  # the international foot
    assert areas["walls"] == pytest.approx(2 * (long_m + 3.0) * 2.5, rel=1e-3)
    assert areas["roof"] == areas["floor"] == pytest.approx(long_m * 3.0, rel=1e-3)


@given(count=st.integers(1, 100), volts=st.floats(0.5, 30.0))
def test_strings_hold_all_modules_and_stay_at_low_voltage(count, volts):
    answers = {one.key: one.defaults["box"] for one in new.questions("box")}
    text = sheet_text("box", answers | {"count": str(count), "module_voltage": f"{volts:.2f} V"})
    modules = read_text(text).cooler.modules[0]
    assert modules.series * modules.parallel == count
    assert modules.series == 1 or modules.series * float(f"{volts:.2f}") <= 36.0


@given(st.text(min_size=1, max_size=60))
def test_any_title_that_is_taken_comes_back_the_same(title):
    question = next(one for one in new.QUESTIONS if one.key == "title")
    try:
        taken = new.accepted(question, title)
    except QuantityError:
        return
    answers = {one.key: one.defaults["plate"] for one in new.questions("plate")}
    assert tomllib.loads(sheet_text("plate", answers | {"title": taken}))["title"] == taken
    assert taken == " ".join(title.split())


def _snapshot(folder):
    return {
        path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


@pytest.mark.parametrize("held", ["sheet.toml", "notes.md", "other.toml"])
def test_what_exists_is_never_overwritten(tmp_path, held):
    (tmp_path / held).write_text("mine", encoding="utf-8")
    (tmp_path / "photo.jpg").write_bytes(b"\xff\xd8")
    before = _snapshot(tmp_path)
    with pytest.raises(FolderTaken, match=held):
        run(Inputs(tmp_path))
    assert _snapshot(tmp_path) == before


def test_a_link_is_not_followed(tmp_path):
    target = tmp_path / "precious.txt"
    target.write_text("mine", encoding="utf-8")
    folder = tmp_path / "project"
    folder.mkdir()
    (folder / "notes.md").symlink_to(target)
    with pytest.raises(FolderTaken):
        run(Inputs(folder))
    assert target.read_text(encoding="utf-8") == "mine"


def test_a_folder_with_other_things_may_hold_a_project(tmp_path):
    (tmp_path / "photo.jpg").write_bytes(b"\xff\xd8")
    run(Inputs(tmp_path))
    assert (tmp_path / "photo.jpg").read_bytes() == b"\xff\xd8"
    with pytest.raises(FolderTaken):
        run(Inputs(tmp_path))


@pytest.mark.parametrize("name", ["file", "file/below", "nul\x00name", "x" * 5000])
def test_a_folder_that_cannot_be_is_refused(tmp_path, name):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    with pytest.raises(FolderTaken):
        run(Inputs(f"{tmp_path}/{name}"))
    assert _snapshot(tmp_path).keys() == {(tmp_path / "file").relative_to(tmp_path)}


def test_a_full_disk_leaves_no_half_project(tmp_path, monkeypatch):
    real_open = type(tmp_path).open

    def full(path, mode="r", *rest, **more):
        if path.name == "sheet.toml" and "x" in mode:
            raise OSError(28, "No space left on device")
        return real_open(path, mode, *rest, **more)

    monkeypatch.setattr(type(tmp_path), "open", full)
    with pytest.raises(FolderTaken, match="No space"):
        run(Inputs(tmp_path / "p"))
    assert _snapshot(tmp_path) == {}


def test_all_answers_that_make_no_sense_are_named_at_once(tmp_path):
    with pytest.raises(AnswersRefused) as refused:
        run(
            Inputs(
                tmp_path / "p", kind="box", length="-3 m", width="0 mm", height="40",
                wall="XSP", outdoor_air="32 W", count="none", hot_air="sideways",
                combustion="none", title="\x1b[31m",
            )
        )  # fmt: skip
    assert set(refused.value.refused) == {
        "length", "width", "height", "wall", "outdoor_air", "count", "hot_air", "combustion",
        "title",
    }  # fmt: skip
    assert "XPS" in refused.value.refused["wall"]
    assert not (tmp_path / "p").exists()


def test_a_kind_that_is_none_is_refused(tmp_path):
    with pytest.raises(AnswersRefused, match="igloo"):
        run(Inputs(tmp_path / "p", kind="igloo"))


@pytest.mark.parametrize("question", new.QUESTIONS, ids=lambda one: one.key)
def test_every_default_is_an_answer_that_is_taken(question):
    for text in question.defaults.values():
        assert new.accepted(question, text) == text
    assert question.key in {one.name for one in dataclasses.fields(Inputs)}
    for junk in ("", "nan", "1e400 m", "?" * 500):
        if question.key != "title":
            with pytest.raises((QuantityError, PartMissing)):
                new.accepted(question, junk)


def test_default_temperatures_ask_for_something_possible():
    for question in new.QUESTIONS:
        if question.kind == "temperature":
            for text in question.defaults.values():
                assert 270.0 < parse(text, "temperature").value < 320.0
