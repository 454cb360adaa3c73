"""Every exception that this package raises on purpose.

::

    ColdwrightError
    ├── QuantityError (also ValueError)   a text or number that is no quantity of the wanted kind
    ├── SheetError                        a file that cannot be read as a design sheet
    │   ├── SheetInvalid                  read, but with findings that stop the work
    │   └── PartMissing                   names a part that stands in no library
    ├── ReadingError                      a file of weather or measured values that cannot be read
    ├── OutputError                       a picture or table that cannot be written
    ├── NoSolution                        a design that has no steady state, with the reason
    └── SolverError                       a solve that failed; carries its residual
        └── LedgerError                   a result whose ledger does not close

A bad *design* is not an exception but a list of findings (`coldwright.findings`). An exception
means that there is nothing to show: the file is unreadable, or a number cannot be trusted.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from coldwright.findings import Finding


class ColdwrightError(Exception):
    """Root of the family: catch this to catch all of it."""


class QuantityError(ColdwrightError, ValueError):
    """A text or number that cannot be read as a quantity of the wanted kind.

    Parameters
    ----------
    given : str
        What was written, shortened to something a line can hold.
    allowed : str
        What is accepted; completes the sentence "<given> is not <allowed>" (see `explanation`).
    why : str
        The reason, without a full stop; may be empty.
    action : str
        What helps; completes the sentence "Try <action>"; may be empty.
    """

    def __init__(self, given: str, allowed: str, why: str = "", action: str = "") -> None:
        self.given = given
        self.allowed = allowed
        self.why = why
        self.action = action
        super().__init__(explanation(given, allowed, why, action))

    def __reduce__(self) -> tuple[Any, ...]:
        # Exceptions are rebuilt from `args`, which holds only the message here. They travel between
        # processes, so each says what its constructor takes.
        return type(self), (self.given, self.allowed, self.why, self.action)


class SheetError(ColdwrightError):
    """A file that cannot be read as a design sheet.

    Parameters
    ----------
    message : str
        What is wrong, as a sentence.
    path : str
        The file; empty when the text did not come from a file.
    line : int, optional
        Line of the fault, counted from 1.
    """

    def __init__(self, message: str, path: str = "", line: int | None = None) -> None:
        self.message = message
        self.path = path
        self.line = line
        super().__init__(_located(message, path, line))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.message, self.path, self.line)


class SheetInvalid(SheetError):  # noqa: N818 - read as what happened, not as its class
    """A sheet that was read but holds faults that stop the work; `findings` lists all of them."""

    def __init__(self, findings: Iterable[Finding], path: str = "") -> None:
        self.findings = list(findings)
        sentences = [found.sentence() for found in self.findings]
        super().__init__("\n".join(sentences) or "The sheet cannot be used.")
        self.path = path

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.findings, self.path)


class PartMissing(SheetError):  # noqa: N818 - read as what happened, not as its class
    """A sheet that names a part which stands in no library.

    `part` is the name that was asked for, `nearest` the known names most like it.
    """

    def __init__(
        self,
        part: str,
        nearest: Iterable[str] = (),
        path: str = "",
        line: int | None = None,
    ) -> None:
        self.part = part
        self.nearest = tuple(nearest)
        message = f"No part is called “{part}”."
        if self.nearest:
            message += " Was " + " or ".join(f"“{name}”" for name in self.nearest) + " meant?"
        super().__init__(message, path, line)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.part, self.nearest, self.path, self.line)


class ReadingError(ColdwrightError):
    """A file of weather or measured values that cannot be read, or not for what is asked of it.

    Parameters
    ----------
    message : str
        What is wrong, as a sentence.
    path : str
        The file; empty when the text did not come from a file.
    line : int, optional
        Line of the fault, counted from 1.
    """

    def __init__(self, message: str, path: str = "", line: int | None = None) -> None:
        self.message = message
        self.path = path
        self.line = line
        super().__init__(_located(message, path, line))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.message, self.path, self.line)


class OutputError(ColdwrightError):
    """A picture or table that cannot be made: its ending, its place, or a missing library."""


class NoSolution(ColdwrightError):  # noqa: N818 - read as what happened, not as its class
    """A design that has no steady state: the reason is physical, not numerical.

    Parameters
    ----------
    code : str
        The finding's code, such as ``"CW-SOLVE-01"``.
    reason : str
        What happens instead, as a sentence.
    """

    def __init__(self, code: str, reason: str) -> None:
        self.code = code
        self.reason = reason
        super().__init__(code, reason)

    def __str__(self) -> str:
        return f"{self.reason} [{self.code}]"


class SolverError(ColdwrightError):
    """A solve that did not converge; `residual_W` is the largest heat balance left open [W]."""

    def __init__(self, message: str, residual_W: float) -> None:
        self.message = message
        self.residual_W = residual_W
        super().__init__(message, residual_W)

    def __str__(self) -> str:
        return f"{self.message} (residual {self.residual_W:.3g} W)"


class LedgerError(SolverError):
    """A result whose ledger does not close: an error, never a number."""


def explanation(given: str, allowed: str, why: str = "", action: str = "") -> str:
    """Join the four parts of a message to sentences.

    What `given` begins with decides how `allowed` is said. A thing begins with a quotation mark,
    a backtick, a number or "a": "“2 A” is not a length", and with a bound "“2” is too high: at
    most 1". Anything else is a clause and stands as a sentence of its own: "The base reaches 90 °C
    (allowed: at most 80 °C)". Then follow the reason, and "Try <action>".
    """
    if not given:
        said = f"Needed: {allowed}" if allowed else ""
    elif not allowed:
        said = given
    elif not _THING.match(given):
        said = f"{given} (allowed: {allowed})"
    elif allowed.startswith("at most "):
        said = f"{given} is too high: {allowed}"
    elif allowed.startswith("at least "):
        said = f"{given} is too low: {allowed}"
    else:
        said = f"{given} is not {allowed}"
    parts = [said, why, f"Try {action}" if action else ""]
    return " ".join(_ended(part[0].upper() + part[1:]) for part in parts if part)


_THING = re.compile(r"[“`+\-−0-9]|(?:an?|such) ")


def _ended(sentence: str) -> str:
    sentence = sentence.strip()
    return sentence if sentence.endswith((".", "?", "!")) else sentence + "."


def _located(message: str, path: str, line: int | None) -> str:
    place = " ".join(
        part for part in (f"`{path}`" if path else "", f"line {line}" if line else "") if part
    )
    return f"{place}: {message}" if place else message
