"""Starting a project: a few questions, then a folder with a design sheet that already runs."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, fields
from pathlib import Path

from coldwright.answers.new_sheet import notes_text, sheet_text
from coldwright.errors import PartMissing, QuantityError, SheetError
from coldwright.findings import Finding
from coldwright.quantities.parsing import parse
from coldwright.sheet.check import check
from coldwright.sheet.file import read_text
from coldwright.sheet.library import library

SHEET_NAME = "sheet.toml"
NOTES_NAME = "notes.md"
KINDS = {
    "room": "a room, a kiosk, a cabin",
    "box": "a closed box with one kind of wall",
    "open_air": "a stream of air in the open",
    "plate": "a plate, or something bolted to it",
}
"""Kinds of place, and what they are in words."""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that a new sheet needs to know.

    Parameters
    ----------
    key : str
        Field of `Inputs`, and with dashes the command's option.
    asks : str
        The question as a person hears it.
    defaults : mapping of str to str
        Answer that is taken when none is given, by kind of place; a kind that is not listed is
        not asked.
    kind : str
        Kind of quantity of the answer.
    group : str
        Group of the parts library that the answer is a name of.
    words : tuple of str
        The answers that are possible.
    least, most : int
        Bounds, for a count.
    by_heart : bool
        Whether a dialogue asks it; the others are for options.
    """

    key: str
    asks: str
    defaults: Mapping[str, str]
    kind: str = ""
    group: str = ""
    words: tuple[str, ...] = ()
    least: int = 0
    most: int = 0
    by_heart: bool = True


def _by_kind(room: str = "", box: str = "", open_air: str = "", plate: str = "") -> dict[str, str]:
    given = {"room": room, "box": box, "open_air": open_air, "plate": plate}
    return {kind: text for kind, text in given.items() if text}


def _for_all(text: str) -> dict[str, str]:
    return dict.fromkeys(KINDS, text)


QUESTIONS: tuple[Question, ...] = (
    Question("title", "What is it called?", _for_all("My cooler")),
    Question("length", "How long is it inside?", _by_kind("2.4 m", "500 mm"), "length"),
    Question("width", "How wide?", _by_kind("1.8 m", "400 mm"), "length"),
    Question("height", "How high?", _by_kind("2.2 m", "400 mm"), "length"),
    Question(
        "wall", "What are the walls made of?", _by_kind("EPS", "XPS"), group="materials"
    ),
    Question("wall_thickness", "How thick is that?", _by_kind("60 mm", "40 mm"), "length"),
    Question(
        "outdoor_air",
        "How hot is the air around it on a hot day?",
        _by_kind("34 degC", "32 degC", "32 degC", "30 degC"),
        "temperature",
    ),
    Question(
        "outdoor_humidity",
        "How moist is that air?",
        _by_kind("40 percent", "45 percent", "45 percent", "50 percent"),
        "humidity",
        by_heart=False,
    ),
    Question(
        "air", "How warm is the air that shall be cooled?", _by_kind(open_air="28 degC"),
        "temperature",
    ),
    Question(
        "goal", "Which temperature do you want?",
        _by_kind("29 degC", "18 degC", plate="15 degC"), "temperature",
    ),
    Question("within", "Within what time?", _by_kind("60 min", "4 h"), "time"),
    Question(
        "heat",
        "How much heat is set free there?",
        _by_kind("70 W", "2 W", plate="20 W"),
        "heat",
    ),
    Question(
        "combustion",
        "Does anything burn in the same air?",
        _by_kind("not known"),
        words=("none", "sealed", "open", "not known"),
    ),
    Question(
        "hot_air",
        "Where does the hot side take its air from?",
        _by_kind("outdoors", "outdoors"),
        words=("outdoors", "place"),
    ),
    Question(
        "module", "Which module?", _for_all("typical 127 couples 6 A"), group="modules"
    ),
    Question(
        "count", "How many of them?", _by_kind("12", "2", "2", "1"), least=1, most=100
    ),
    Question(
        "module_voltage", "How many volts across each?",
        _by_kind("7 V", "6 V", "8 V", "8 V"), "voltage",
    ),
    Question(
        "cold_sink", "Which cold sink?",
        _by_kind("typical long 300 x 140 x 38", "typical square 100 x 100 x 35",
                 "typical square 100 x 100 x 35"),
        group="sinks", by_heart=False,
    ),
    Question(
        "cold_fan", "Which cold fan?",
        _by_kind("typical axial 120 mm strong", "typical axial 92 mm", "typical axial 92 mm"),
        group="fans", by_heart=False,
    ),
    Question(
        "hot_sink", "Which hot sink?",
        _by_kind("typical long 300 x 200 x 75", "typical square 120 x 120 x 50",
                 "typical square 120 x 120 x 50", "typical square 120 x 120 x 50"),
        group="sinks", by_heart=False,
    ),
    Question(
        "hot_fan", "Which hot fan?",
        _by_kind("typical axial 172 mm strong", "typical axial 120 mm strong",
                 "typical axial 120 mm strong", "typical axial 120 mm strong"),
        group="fans", by_heart=False,
    ),
)  # fmt: skip
"""Everything a new sheet may be told, in the order in which it is asked."""


@dataclass(frozen=True, slots=True)
class Inputs:
    """Where the project goes, and what is known of it; None takes the kind's default."""

    folder: str | os.PathLike[str]
    kind: str = "box"
    title: str | None = None
    length: str | None = None
    width: str | None = None
    height: str | None = None
    wall: str | None = None
    wall_thickness: str | None = None
    outdoor_air: str | None = None
    outdoor_humidity: str | None = None
    air: str | None = None
    goal: str | None = None
    within: str | None = None
    heat: str | None = None
    combustion: str | None = None
    hot_air: str | None = None
    module: str | None = None
    count: str | None = None
    module_voltage: str | None = None
    cold_sink: str | None = None
    cold_fan: str | None = None
    hot_sink: str | None = None
    hot_fan: str | None = None


@dataclass(frozen=True, slots=True)
class New:
    """What was written, and what the sheet still lacks."""

    folder: str
    files: list[str]
    sheet: str
    findings: list[Finding] = field(default_factory=list)


class AnswersRefused(QuantityError):  # noqa: N818 - read as what happened, not as its class
    """Answers that a new sheet cannot take: `refused` holds what is wrong, by key."""

    def __init__(self, refused: Mapping[str, str]) -> None:
        self.refused = dict(refused)
        super().__init__("\n".join(self.refused.values()), "")

    def __reduce__(self) -> tuple[object, ...]:
        return type(self), (self.refused,)


class FolderTaken(SheetError):  # noqa: N818 - read as what happened, not as its class
    """A folder that holds a project already, or cannot hold one; nothing was written."""


def run(inputs: Inputs) -> New:
    """Write a new project folder; what exists is never touched.

    Raises
    ------
    AnswersRefused
        When answers make no sense: all of them at once.
    FolderTaken
        When the folder holds a sheet already, or cannot be written.
    """
    answers = _answers(inputs)
    text = sheet_text(inputs.kind, answers)
    sheet = read_text(text, name=SHEET_NAME)
    stops = [found for found in check(sheet) if found.severity == "stop"]
    if stops:
        raise AnswersRefused({found.where: found.sentence() for found in stops})
    written = _written(
        Path(inputs.folder),
        {NOTES_NAME: notes_text(inputs.kind, answers), SHEET_NAME: text},
    )
    return New(str(inputs.folder), written, text, check(sheet))


def questions(kind: str) -> list[Question]:
    """The questions that make sense for a kind of place."""
    return [one for one in QUESTIONS if kind in one.defaults]


def accepted(question: Question, text: str) -> str:
    """The answer as the sheet will hold it; raises `QuantityError` or `PartMissing`."""
    given = " ".join(text.split())
    if question.kind:
        quantity = parse(given, question.kind)
        if quantity.value == 0.0 and question.kind in ("length", "time", "voltage"):
            raise QuantityError(f"“{given}”", "more than zero")
        return given
    if question.group:
        return library().canonical(question.group, given)
    if question.words:
        if given.casefold() in question.words:
            return given.casefold()
        raise QuantityError(f"“{given}”", "one of " + ", ".join(question.words))
    if question.most:
        if given.isdecimal() and question.least <= int(given) <= question.most:
            return str(int(given))
        raise QuantityError(
            f"“{given}”", f"a whole number from {question.least} to {question.most}"
        )
    if not given or not given.isprintable() or len(given) > 120:
        raise QuantityError(f"“{given[:40]}”", "a line of text")
    return given


def _answers(inputs: Inputs) -> dict[str, str]:
    if inputs.kind not in KINDS:
        raise AnswersRefused({"kind": f"“{inputs.kind}” is not one of {', '.join(KINDS)}."})
    answers: dict[str, str] = {}
    refused: dict[str, str] = {}
    asked = {one.key: one for one in questions(inputs.kind)}
    for name in (one.name for one in fields(inputs) if one.name not in ("folder", "kind")):
        given = getattr(inputs, name)
        question = asked.get(name)
        if question is None:
            if given is not None:
                place = KINDS[inputs.kind]
                refused[name] = f"It has no part in {place} (kind “{inputs.kind}”)."
            continue
        try:
            answers[name] = accepted(
                question, question.defaults[inputs.kind] if given is None else given
            )
        except (QuantityError, PartMissing) as error:
            refused[name] = str(error)
    if refused:
        raise AnswersRefused(refused)
    return answers


def _written(folder: Path, texts: Mapping[str, str]) -> list[str]:
    try:
        held = sorted(one.name for one in folder.iterdir()) if folder.is_dir() else []
        taken = [name for name in held if name in texts or name.endswith(".toml")]
        if taken:
            raise FolderTaken(
                f"The folder already holds {' and '.join(taken[:3])}; nothing was written. "
                "Name another folder.",
                str(folder),
            )
        folder.mkdir(parents=True, exist_ok=True)
        done: list[Path] = []
        try:
            for name, text in texts.items():
                # "x" refuses to open what exists, so that nothing is lost even in a race.
                with (folder / name).open("x", encoding="utf-8", newline="\n") as file:
                    done.append(folder / name)
                    file.write(text)
        except OSError:
            for file_ in done:
                with suppress(OSError):
                    file_.unlink()
            raise
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "it is no possible name"
        raise FolderTaken(f"It cannot be written: {why}.", str(folder)) from None
    return [str(folder / name) for name in sorted(texts, reverse=True)]
