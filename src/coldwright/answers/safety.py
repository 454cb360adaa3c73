"""What can hurt, and what to do about it: cautions, a check list to sign, what others must do."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any, Literal

from coldwright.answers.design import SEED, Design, refuse
from coldwright.answers.value import in_ordinary_spaces
from coldwright.errors import NoSolution, QuantityError, SheetError, SheetInvalid
from coldwright.findings import Finding, worst_first
from coldwright.findings_safety import DEFERS, SOURCES
from coldwright.machine.safety import (
    STAGES,
    Item,
    before_solving,
    check_list,
    licensed_list,
    without_an_answer,
)
from coldwright.sheet.check import check
from coldwright.sheet.models import Sheet
from coldwright.sheet.signatures import (
    LONGEST_NAME,
    Signature,
    add_signatures,
    read_signatures,
    signed_file,
    state_of,
)

__all__ = ["DEFERS", "STAGES", "Caution", "Inputs", "Safety", "Step", "run", "sign"]

TRIES = 500
Status = Literal["open", "signed", "design changed"]


@dataclass(frozen=True, slots=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the bound of the hot sink's temperature; 0 for none."""
    seed: int = SEED


@dataclass(frozen=True, slots=True)
class Caution:
    """A finding of the safety rules, and where its figure or habit comes from."""

    finding: Finding
    source: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the list: what to do, why, and who signed it for which design."""

    code: str
    stage: str
    text: str
    why: str
    source: str
    status: Status = "open"
    by: str = ""
    on: str = ""
    """Date and time of the last signature, as ISO 8601."""


@dataclass(frozen=True)
class Safety:
    """The answer to "How do I build and run it without harm?"."""

    title: str
    file: str
    headline: str
    cautions: list[Caution]
    steps: list[Step]
    licensed: list[Step]
    signed_file: str
    state: str
    """Mark of the design that signatures hold for."""
    remarks: list[str] = field(default_factory=list)
    """What kept this answer from being complete."""
    defers: str = DEFERS

    @property
    def findings(self) -> list[Finding]:
        """The cautions as findings, worst first."""
        return [caution.finding for caution in self.cautions]

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "findings": [{**asdict(one.finding), "source": one.source} for one in self.cautions],
            "check_list": [asdict(step) for step in self.steps],
            "licensed": [asdict(step) for step in self.licensed],
            "signed_file": self.signed_file,
            "state": self.state,
            "remarks": self.remarks,
            "defers": self.defers,
        }


def run(inputs: Inputs) -> Safety:
    """Look at a design with every safety rule, and make its check list.

    A design without a steady state gets the rules that need none, and a remark; a damaged list of
    signatures gives a remark, and nothing counts as signed then.

    Raises
    ------
    SheetInvalid
        When the sheet has faults that allow no answer.
    """
    sheet = inputs.sheet
    # Of a sealed place beside a flame the rules have more to say than that no air comes in.
    faults = check(sheet)
    if without_an_answer(sheet):
        faults = [one for one in faults if one.code != "CW-COOLER-08"]
    refuse(faults)
    found, remarks = _findings(inputs)
    mark, file = state_of(sheet), signed_file(sheet)
    try:
        signed = read_signatures(file) if sheet.file else []
    except SheetError as error:
        signed = []
        remarks.append(f"Nothing counts as signed. {error}")
    own = [one for one in signed if one.sheet == Path(sheet.file).name]
    steps = [_step(item, own, mark) for item in check_list(sheet)]
    licensed = [_step(item, own, mark) for item in licensed_list(sheet)]
    return Safety(
        title=sheet.title,
        file=sheet.file,
        headline=_headline(found, steps),
        cautions=[Caution(one, SOURCES[one.code]) for one in found],
        steps=steps,
        licensed=licensed,
        signed_file=str(file),
        state=mark,
        remarks=remarks,
    )


def sign(
    sheet: Sheet,
    items: Sequence[str],
    by: str,
    *,
    now: datetime.datetime | None = None,
) -> list[str]:
    """Sign off steps for the design as it is now; the codes that were signed, in order.

    Parameters
    ----------
    sheet : Sheet
        Read from a file: the signatures go into ``safety.toml`` beside it.
    items : sequence of str
        Codes of steps that apply to this design.
    by : str
        Who did or saw it.
    now : datetime, optional
        Date and time with its offset; now unless given.

    Raises
    ------
    QuantityError
        When a code is unknown or does not apply, or the name is empty or no name.
    SheetError
        When the list of signatures is damaged; it is left as it is.
    OutputError
        When it cannot be written.
    """
    name = " ".join(by.split())
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        raise QuantityError(f"“{by[:60]}”", "a name", "Whoever signs stands for it")
    if not sheet.file:
        raise QuantityError("A sheet that stands in no file", "one to sign for")
    known = [item.code for item in (*check_list(sheet), *licensed_list(sheet))]
    wanted = list(dict.fromkeys(items))
    for code in wanted:
        if code not in known:
            near = difflib.get_close_matches(code, known, n=3, cutoff=0.4)
            raise QuantityError(
                f"“{code[:60]}”", "a step of this design's list",
                action=" or ".join(near) if near else "a code that `coldwright safety` lists",
            )  # fmt: skip
    on = (now or datetime.datetime.now().astimezone()).replace(microsecond=0)
    own, mark = Path(sheet.file).name, state_of(sheet)
    add_signatures(signed_file(sheet), [Signature(code, name, on, own, mark) for code in wanted])
    return wanted


def _findings(inputs: Inputs) -> tuple[list[Finding], list[str]]:
    """What the rules find on the same points that the verdict judges, and what was left out."""
    try:
        design = Design(inputs.sheet, inputs.tries, inputs.seed)
        points = [design.solve(with_place=design.enclosed)]
    except NoSolution as error:
        return worst_first(before_solving(inputs.sheet)), [
            f"The design has no steady state, so no rule on temperatures, water and pressure was "
            f"tried. {error.reason}"
        ]
    except SheetInvalid:
        return worst_first(before_solving(inputs.sheet)), [
            "The design is refused before anything is solved, so no rule on temperatures, water "
            "and pressure was tried."
        ]
    goal = inputs.sheet.goal.air
    if design.enclosed and goal is not None:
        # Where it cannot be held there, the verdict too judges the level-off alone.
        with suppress(NoSolution):
            points.append(design.solve(with_place=True, air=goal.value, held=True))
    return [one for one in design.findings(*points) if one.code in SOURCES], []


def _step(item: Item, signed: Sequence[Signature], mark: str) -> Step:
    given = [one for one in signed if one.item == item.code]
    if not given:
        return Step(item.code, item.stage, item.text, item.why, item.source)
    # A signature for this very design counts even if a later one was for another.
    last = next((one for one in reversed(given) if one.state == mark), given[-1])
    status: Status = "signed" if last.state == mark else "design changed"
    return Step(
        item.code, item.stage, item.text, item.why, item.source, status, last.by,
        last.on.isoformat(timespec="minutes"),
    )  # fmt: skip


def _headline(found: Sequence[Finding], steps: Sequence[Step]) -> str:
    signed = sum(step.status == "signed" for step in steps)
    changed = sum(step.status == "design changed" for step in steps)
    again = f", and {changed} to be looked at again" if changed else ""
    listed = f"{signed} of {len(steps)} steps of the check list are signed off{again}."
    if any(one.severity == "stop" for one in found):
        return f"Do not build it like this. {listed}"
    warnings = sum(one.severity == "warning" for one in found)
    if warnings:
        return f"{warnings} thing{'s' if warnings > 1 else ''} to mend first. {listed}"
    return f"Nothing forbids it. {listed}"
