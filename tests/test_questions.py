"""Questions that people ask, answered by the program as a competent person answers them.

Every expected figure stands in `examples/questions/expected.toml`. It was worked by hand, with
three constants per module, before the sheet was first run. The bounds are those of such an
estimate: 20 percent on heat flows, 2 K on temperatures.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from coldwright.answers import verdict
from coldwright.answers.verdict import Verdict
from coldwright.sheet.file import read

FOLDER = Path(__file__).parent.parent / "examples" / "questions"
QUESTIONS = tomllib.loads((FOLDER / "expected.toml").read_text(encoding="utf-8"))["question"]
HEAT = 0.20
TEMPERATURE_K = 2.0


def _points() -> list[Any]:
    """Each question as its sheet asks it, and then with each of its changes."""
    return [
        pytest.param(question, point, id=f"{question['id']} {point.get('name', 'as asked')}")
        for question in QUESTIONS
        for point in (question, *question.get("point", []))
    ]


@pytest.mark.practice  # a competent estimate: 20 percent on heat flows, 2 K on temperatures
@pytest.mark.parametrize(("question", "point"), _points())
def test_answer_agrees_with_a_competent_estimate(
    question: dict[str, Any], point: dict[str, Any]
) -> None:
    answer = _answer(question, point)
    for figure in point["figure"]:
        low, high = _bounds(figure)
        found = _found(answer, figure)
        assert low <= found <= high, f"{figure['name']}: {found:.4g}, not {low:.4g} to {high:.4g}"
    if "verdict" in point:
        assert answer.verdict == point["verdict"]


@pytest.mark.practice  # a sink of 0.8 K/W peaks at 8 to 10 V: more power then cools less
def test_beyond_the_best_voltage_a_small_hot_sink_cools_less() -> None:
    question = next(each for each in QUESTIONS if each["id"] == "Q10")
    pumped = {
        volts: _answer(question, {"change": {"cooler.run_at": {"module_voltage": f"{volts} V"}}})
        .values["pumped_W"].value
        for volts in (6, 8, 10, 12, 15)
    }  # fmt: skip
    best = max(pumped, key=lambda volts: pumped[volts] or 0.0)
    assert best in (8, 10)
    assert (pumped[15] or 0.0) < (pumped[12] or 0.0) < (pumped[10] or 0.0)


def test_the_questions_cover_both_answers_and_every_sheet() -> None:
    words = [question.get("verdict") for question in QUESTIONS]
    assert len(QUESTIONS) >= 10
    assert words.count("yes") >= 3
    assert words.count("no") >= 3
    sheets = {path.name for path in FOLDER.glob("*.toml")} - {"expected.toml"}
    assert sheets == {question["sheet"] for question in QUESTIONS}


def _answer(question: dict[str, Any], point: dict[str, Any]) -> Verdict:
    sheet = read(FOLDER / question["sheet"])
    changes = dict.fromkeys(point.get("leave_out", []), None) | point.get("change", {})
    if changes:
        sheet = sheet.changed(changes)
    return verdict.run(verdict.Inputs(sheet, tries=200))


def _found(answer: Verdict, figure: dict[str, Any]) -> float:
    found = _figure(answer, figure["name"])
    less = figure.get("less", 0.0)
    found -= _figure(answer, less) if isinstance(less, str) else less
    if "over" in figure:
        found /= _figure(answer, figure["over"])
    return found


def _figure(answer: Verdict, name: str) -> float:
    value = answer.values[name].value
    assert value is not None, f"{name} is not known"
    return value


def _bounds(figure: dict[str, Any]) -> tuple[float, float]:
    """What is allowed: the tolerance about the estimate, or about the middle of its range."""
    low, high = figure.get("from"), figure.get("to")
    middle = figure["expected"] if low is None else (low + high) / 2.0
    half = TEMPERATURE_K if figure["tolerance"] == "temperature" else HEAT * abs(middle)
    if low is None:
        return middle - half, middle + half
    return min(low, middle - half), max(high, middle + half)
