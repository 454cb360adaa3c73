"""More questions that people ask, of days, boats, vans, cars and boxes, answered as by hand.

Every expected figure stands in `examples/questions/part2/expected.toml`. It was worked by hand
before the sheet was first run. The bounds are those of such an estimate: 20 percent on heat flows
and what follows from them, 2 K on temperatures.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from coldwright.answers import compare, day, verdict
from coldwright.sheet.file import read

FOLDER = Path(__file__).parent.parent / "examples" / "questions" / "part2"
QUESTIONS = tomllib.loads((FOLDER / "expected.toml").read_text(encoding="utf-8"))["question"]
HEAT = 0.20
TEMPERATURE_K = 2.0
DAY_S = 86400.0


def _points() -> list[Any]:
    """Each question as its sheet asks it, and then with each of its changes."""
    return [
        pytest.param(
            question,
            point,
            id=f"{question['id']} {point.get('name', 'as asked')}",
            marks=[pytest.mark.xfail(reason=point["disagrees"], strict=True)]
            if "disagrees" in point
            else [],
        )
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
        assert low <= found <= high, f"{figure}: {found:.4g}, not {low:.4g} to {high:.4g}"
    if "verdict" in point:
        assert answer.verdict == point["verdict"]
    assert point["figure"] or "verdict" in point


def test_the_questions_cover_both_answers_and_every_sheet() -> None:
    words = [point.get("verdict") for each in QUESTIONS for point in (each, *each.get("point", []))]
    assert sum("disagrees" not in question for question in QUESTIONS) >= 10
    assert words.count("yes") >= 3
    assert words.count("no") >= 3
    assert {question["answer"] for question in QUESTIONS} == {"verdict", "day", "compare"}
    sheets = {path.name for path in FOLDER.glob("*.toml")} - {"expected.toml"}
    assert sheets == {question["sheet"] for question in QUESTIONS}


def test_the_table_of_the_readme_names_every_sheet() -> None:
    text = (FOLDER / "README.md").read_text(encoding="utf-8")
    for question in QUESTIONS:
        assert f"`{question['sheet']}`" in text


def _answer(question: dict[str, Any], point: dict[str, Any]) -> Any:
    sheet = read(FOLDER / question["sheet"])
    changes = dict.fromkeys(point.get("leave_out", []), None) | point.get("change", {})
    if changes:
        sheet = sheet.changed(changes)
    name = point.get("answer", question["answer"])
    if name == "day":
        with_cooler = not question.get("without_cooler", False)
        return day.run(day.Inputs(sheet, tries=0, days=1, with_cooler=with_cooler))
    if name == "compare":
        return compare.run(compare.Inputs(sheet, comfort=False))
    return verdict.run(verdict.Inputs(sheet, tries=200))


def _found(answer: Any, figure: dict[str, Any]) -> float:
    found = _figure(answer, figure)
    less = figure.get("less", 0.0)
    found -= _figure(answer, {"name": less}) if isinstance(less, str) else less
    if "over" in figure:
        found /= _figure(answer, {"name": figure["over"]})
    return found


def _figure(answer: Any, figure: dict[str, Any]) -> float:
    """One number of an answer, as the head of `expected.toml` explains."""
    value: float | None
    name = figure.get("name", "")
    if isinstance(answer, compare.Compare):
        rows = {row.name: row for row in answer.rows}
        value = getattr(rows[figure["row"]] if "row" in figure else answer, name)
    elif isinstance(answer, day.Day):
        if "cause" in figure:
            value = sum(answer.heat_J[figure["cause"]])
        elif "hour" in figure:
            value = answer.series[name][figure["hour"]]
        elif name == "cycle_s":
            switchings = answer.totals["switchings_per_day"].value
            assert switchings
            value = 2.0 * DAY_S / switchings
        else:
            value = answer.totals[name].value
    elif "cause" in figure:
        value = dict(answer.heat_load)[figure["cause"]].value
    else:
        value = answer.values[name].value
    assert value is not None, f"{figure} is not known"
    return value


def _bounds(figure: dict[str, Any]) -> tuple[float, float]:
    """What is allowed: the tolerance about the estimate, or about the middle of its range."""
    low, high = figure.get("from"), figure.get("to")
    middle = figure["expected"] if low is None else (low + high) / 2.0
    half = TEMPERATURE_K if figure["tolerance"] == "temperature" else HEAT * abs(middle)
    if low is None:
        return middle - half, middle + half
    return min(low, middle - half), max(high, middle + half)
