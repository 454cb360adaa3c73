"""What a page says when there is no answer: one message, whatever happened."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

from coldwright.errors import (
    ColdwrightError,
    NoSolution,
    OutputError,
    QuantityError,
    ReadingError,
    SheetError,
    SheetInvalid,
    SolverError,
)
from coldwright.findings import Finding

_REPORT = "Please report it with the sheet."


@dataclass(frozen=True)
class Problem:
    """Why there is no answer."""

    kind: str
    """ "sheet", "no steady state", "use" or "fault"."""
    message: str
    findings: list[Finding] = field(default_factory=list)
    line: int | None = None

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return {
            "kind": self.kind,
            "message": self.message,
            "line": self.line,
            "findings": [{**asdict(each), "sentence": each.sentence()} for each in self.findings],
        }


def problem_of(error: BaseException) -> Problem:
    """The message of an error; anything not expected is a fault of the program, told as one."""
    if isinstance(error, SheetInvalid):
        return Problem("sheet", "The design sheet needs mending first.", list(error.findings))
    if isinstance(error, SheetError):
        return Problem("sheet", error.message, line=error.line)
    if isinstance(error, ReadingError):
        return Problem("sheet", str(error))
    if isinstance(error, QuantityError | OutputError):
        return Problem("use", str(error))
    if isinstance(error, NoSolution):
        return Problem("no steady state", f"There is no steady state. {error}")
    if isinstance(error, SolverError):
        return Problem("fault", f"The answer cannot be trusted: {error}. {_REPORT}")
    if isinstance(error, ColdwrightError):
        return Problem("fault", str(error))
    if isinstance(error, MemoryError):
        return Problem("fault", "There is not enough memory for so many tries.")
    return Problem("fault", f"The program failed ({type(error).__name__}). {_REPORT}")
