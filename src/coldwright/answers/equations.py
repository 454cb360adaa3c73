"""Every law the answers rest on: what it says, where it holds, where it comes from.

Read from the sources' own docstrings, so that what a reader sees is what stands beside the code,
and without compiling anything.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

import coldwright.physics as physics
from coldwright.answers.value import in_ordinary_spaces
from coldwright.findings import Finding


@dataclass(frozen=True, slots=True)
class Parameter:
    """One argument of a law, with unit and range in words."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Equation:
    """One law, as its docstring tells it.

    Parameters
    ----------
    name, group : str
        Name of the function, and the file of `physics` it stands in ("fan").
    sentence, why : str
        What it gives, in one sentence; why it matters, which may be empty.
    parameters : list of Parameter
        In the order in which they are given.
    returns : str
        Unit, shape and where it is NaN.
    notes : str
        The equation, and what it assumes; paragraphs apart by an empty line.
    error : str
        The law's own limit of error ("8 %"), or "exact".
    source, checked_against : str
        Where it comes from, and what it was compared with.
    example : str
        A call and its result.
    """

    name: str
    group: str
    sentence: str
    why: str
    parameters: list[Parameter]
    returns: str
    notes: str
    error: str
    source: str
    checked_against: str
    example: str


@dataclass(frozen=True, slots=True)
class Inputs:
    """Which laws are asked for: a name, a group, a part of either, or nothing for all."""

    name: str = ""


@dataclass(frozen=True, slots=True)
class Equations:
    """The laws that fit, in the order of their files; `nearest` when none does."""

    asked: str
    equations: list[Equation]
    nearest: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """Plain data: one object per law."""
        return {"equations": [asdict(one) for one in self.equations], "nearest": self.nearest}


def run(inputs: Inputs) -> Equations:
    """List laws: the one of that name, else those of that group, else all that mention it."""
    every = list(_equations())
    asked = inputs.name.strip()
    if not asked:
        return Equations(asked, every)
    low = asked.casefold().replace("-", "_").replace(" ", "_")
    for fits in (
        lambda one: one.name == low,
        lambda one: one.group == low,
        lambda one: low in one.name,
        lambda one: asked.casefold() in f"{one.sentence} {one.why} {one.notes}".casefold(),
    ):
        found = [one for one in every if fits(one)]
        if found:
            return Equations(asked, found)
    known = {one.name for one in every} | {one.group for one in every}
    return Equations(asked, [], get_close_matches(low[:80], sorted(known), n=3, cutoff=0.6))


def _equations() -> Iterator[Equation]:
    for folder in physics.__path__:
        for file in sorted(Path(folder).glob("*.py")):
            for node in ast.parse(file.read_text(encoding="utf-8")).body:
                if isinstance(node, ast.FunctionDef) and _is_law(node):
                    yield _equation(node.name, file.stem, ast.get_docstring(node) or "")


def _is_law(node: ast.FunctionDef) -> bool:
    names = {ast.unparse(decorator) for decorator in node.decorator_list}
    return "law" in names and not node.name.startswith("_")


def _equation(name: str, group: str, text: str) -> Equation:
    parts = _sections(text)
    opening = parts[""].split("\n\n")
    notes = parts["Notes"]
    lines = {}
    for word in ("Error", "Source", "Checked against"):
        said = _LINE[word].search(notes)
        lines[word] = _flowing(said[1]).removesuffix(".") if said else ""
    first = _FIRST_LINE.search(notes)
    return Equation(
        name=name,
        group=group,
        sentence=_flowing(opening[0]),
        why=_flowing("\n\n".join(opening[1:])),
        parameters=_parameters(parts["Parameters"]),
        returns=_flowing("\n".join(parts["Returns"].split("\n")[1:])),
        notes=_flowing(notes[: first.start()] if first else notes),
        error=lines["Error"],
        source=lines["Source"],
        checked_against=lines["Checked against"],
        example=parts["Examples"].strip(),
    )


def _sections(text: str) -> dict[str, str]:
    """Text under each heading (a line underlined with dashes); "" is what stands before all."""
    parts = dict.fromkeys(("", "Parameters", "Returns", "Notes", "Examples"), "")
    heads = list(re.finditer(r"^(\w+)\n-+$\n?", text, re.MULTILINE))
    parts[""] = text[: heads[0].start()].strip() if heads else text.strip()
    for at, head in enumerate(heads):
        end = heads[at + 1].start() if at + 1 < len(heads) else len(text)
        parts[head[1]] = text[head.end() : end].strip("\n")
    return parts


_KEYS = "Error|Source|Checked against"
_FIRST_LINE = re.compile(rf"^(?:{_KEYS}):", re.MULTILINE)
_LINE = {
    word: re.compile(rf"^{word}:\s*(.*?)(?=^(?:{_KEYS}):|\Z)", re.MULTILINE | re.DOTALL)
    for word in _KEYS.split("|")
}


def _parameters(section: str) -> list[Parameter]:
    found = []
    for entry in re.finditer(r"^(\w+(?:, \w+)*) : .*\n((?:[ ]+.*\n?|\n)*)", section + "\n", re.M):
        text = _flowing(entry[2])
        found += [Parameter(name, text) for name in entry[1].split(", ")]
    return found


def _flowing(text: str) -> str:
    """Join the lines of each paragraph; signs that only serve as markup go."""
    paragraphs = [" ".join(part.split()) for part in re.split(r"\n\s*\n", text)]
    return "\n\n".join(part for part in paragraphs if part).replace("``", "`")
