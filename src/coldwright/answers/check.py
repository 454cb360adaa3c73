"""What can be said of a design sheet without solving anything: faults, gaps, slips, cautions."""

from __future__ import annotations

import os
from dataclasses import asdict, dataclass, field
from typing import Any

from coldwright.answers.value import in_ordinary_spaces
from coldwright.errors import SheetInvalid
from coldwright.findings import Finding, worst_first
from coldwright.machine import safety
from coldwright.machine.sink_bound import sinks_too_good
from coldwright.sheet.check import check
from coldwright.sheet.file import read, sheet_file
from coldwright.sheet.models import Sheet
from coldwright.sheet.schema import json_schema


@dataclass(frozen=True, slots=True)
class Inputs:
    """The sheet's file, or the project folder that holds it; or a sheet that was read."""

    sheet: Sheet | str | os.PathLike[str]


@dataclass(frozen=True, slots=True)
class Check:
    """What a sheet holds and lacks.

    Parameters
    ----------
    file, title : str
        The file that was read, and what the design is called.
    reads : bool
        Whether the text is a design sheet at all; if not, the findings say all that is wrong.
    findings : list of Finding
        Worst first.
    given : int
        How many quantities the person wrote.
    assumptions : dict of str to str
        What is assumed because the sheet does not say it: key path to text.
    """

    file: str
    title: str
    reads: bool
    findings: list[Finding]
    given: int = 0
    assumptions: dict[str, str] = field(default_factory=dict)

    @property
    def stops(self) -> bool:
        """Whether any finding stops the work."""
        return any(found.severity == "stop" for found in self.findings)

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """Plain data."""
        return {
            "file": self.file,
            "title": self.title,
            "reads": self.reads,
            "findings": [asdict(found) for found in self.findings],
            "given": self.given,
            "assumptions": self.assumptions,
        }


def run(inputs: Inputs) -> Check:
    """Read a sheet, unless it is read already, and list all findings that need no solved state.

    Raises
    ------
    SheetError
        When there is no such file, or it is no text in TOML. Faults of the sheet are findings.
    """
    if isinstance(inputs.sheet, Sheet):
        sheet, file = inputs.sheet, inputs.sheet.file
    else:
        file = str(sheet_file(inputs.sheet))
        try:
            sheet = read(file)
        except SheetInvalid as error:
            return Check(file, "", reads=False, findings=worst_first(error.findings))
    # What cannot be at all would have no bound on its sinks either.
    found = check(sheet)
    if not any(each.severity == "stop" for each in found):
        found += sinks_too_good(sheet)
    found = worst_first([*found, *safety.before_solving(sheet)])
    given = sum(not quantity.assumed for quantity in sheet.quantities().values())
    return Check(file, sheet.title, True, found, given, sheet.assumptions())


def schema() -> dict[str, Any]:
    """The JSON Schema of the design sheet, for editors."""
    return json_schema()
