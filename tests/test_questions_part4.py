"""More questions that people ask, of power, wires and control, answered as by hand.

Every expected figure stands in `examples/questions/part4/expected.toml`. It was worked by hand
before the sheet was first run. The bounds are those of such an estimate: 20 percent on heat flows
and what follows from them, 2 K on temperatures.
"""

from __future__ import annotations

import math
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from coldwright.answers import tune, watts, wiring
from coldwright.errors import NoSolution
from coldwright.sheet.file import read

FOLDER = Path(__file__).parent.parent / "examples" / "questions" / "part4"
QUESTIONS = tomllib.loads((FOLDER / "expected.toml").read_text(encoding="utf-8"))["question"]
BY_ID = {question["id"]: question for question in QUESTIONS}
HEAT = 0.20
TEMPERATURE_K = 2.0
AS_ASKED = "as asked"


def _points() -> list[Any]:
    """Each question as its sheet asks it, and then with each of its changes."""
    return [
        pytest.param(
            question["id"],
            point.get("name", AS_ASKED),
            id=f"{question['id']}: {point.get('name', AS_ASKED)}",
            marks=[
                pytest.mark.xfail(
                    raises=(AssertionError, NoSolution), reason=point["disagrees"], strict=True
                )
            ]
            if "disagrees" in point
            else [],
        )
        for question in QUESTIONS
        for point in (question, *question.get("point", []))
    ]


@pytest.mark.practice  # a competent estimate: 20 percent on heat flows, 2 K on temperatures
@pytest.mark.parametrize(("question", "name"), _points())
def test_answer_agrees_with_a_competent_estimate(question: str, name: str) -> None:
    point = _point(question, name)
    for figure in point["figure"]:
        low, high = _bounds(figure)
        found = _figure(question, name, figure)
        if "over_point" in figure:
            found /= _figure(question, figure["over_point"], figure)
        assert low <= found <= high, f"{figure}: {found:.4g}, not {low:.4g} to {high:.4g}"
    for order in point.get("order", []):
        here = _figure(question, name, order)
        if "above" in order:
            assert here > _figure(question, order["above"], order), order
        else:
            assert here < _figure(question, order["below"], order), order
    if "finds" in point or "silent" in point:
        codes = {finding.code for finding in _answer(question, name).findings}
        assert set(point.get("finds", [])) <= codes
        assert not set(point.get("silent", [])) & codes
    assert point["figure"] or {"order", "finds", "silent"} & set(point)


def test_the_questions_cover_the_answers_and_every_sheet() -> None:
    agree = [
        each
        for each in QUESTIONS
        if not any("disagrees" in point for point in (each, *each.get("point", [])))
    ]
    assert len(agree) >= 10
    assert {each["answer"] for each in QUESTIONS} == {"wiring", "watts", "tune"}
    sheets = {path.name for path in FOLDER.glob("*.toml")} - {"expected.toml"}
    assert sheets == {question["sheet"] for question in QUESTIONS}


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda each: each["id"])
def test_the_readme_names_the_sheet(question: dict[str, Any]) -> None:
    text = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert f"`{question['sheet']}`" in text


def _point(question: str, name: str) -> dict[str, Any]:
    asked: dict[str, Any] = BY_ID[question]
    if name == AS_ASKED:
        return asked
    found: list[dict[str, Any]] = [each for each in asked["point"] if each["name"] == name]
    (point,) = found
    return point


@cache
def _answer(question: str, name: str) -> Any:
    point = _point(question, name)
    sheet = read(FOLDER / BY_ID[question]["sheet"])
    edits = dict.fromkeys(point.get("leave_out", []), None) | point.get("change", {})
    if edits:
        sheet = sheet.changed(edits)
    kind = point.get("answer", BY_ID[question]["answer"])
    if kind == "tune":
        return tune.run(tune.Inputs(sheet, tries=0, speeds=5))
    if kind == "wiring":
        return wiring.run(wiring.Inputs(sheet))
    return watts.run(watts.Inputs(sheet, tries=0))


def _figure(question: str, name: str, figure: dict[str, Any]) -> float:
    """One number of an answer, as the head of `expected.toml` explains."""
    value: float | None
    answer = _answer(question, name)
    if "state" in figure:
        (state,) = [each for each in answer.states if each.moment == figure["state"]]
        value = getattr(state, figure["name"])
    elif "run" in figure:
        (run,) = [each for each in answer.runs if each.feeds == figure["run"]]
        value = getattr(run, figure["name"])
    elif "heat_of" in figure:
        (value,) = [line.W for line in answer.heat if line.part == figure["heat_of"]]
    elif "aim" in figure:
        (best,) = [each for each in answer.best if each.aim == figure["aim"]]
        value = best.drive if figure["name"] == "drive" else best.figures[figure["name"]].value
    else:
        value = answer.values[figure["name"]].value
    assert value is not None, f"{figure} is not known"
    assert math.isfinite(value)
    return value


def _bounds(figure: dict[str, Any]) -> tuple[float, float]:
    """What is allowed: the tolerance about the estimate, or about the middle of its range."""
    low, high = figure.get("from"), figure.get("to")
    middle = figure["expected"] if low is None else (low + high) / 2.0
    half = {"temperature": TEMPERATURE_K, "heat": HEAT * abs(middle)}[figure["tolerance"]]
    if low is None:
        return middle - half, middle + half
    return min(low, middle - half), max(high, middle + half)
