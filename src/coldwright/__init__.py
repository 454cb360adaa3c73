"""Coldwright: design, check and explain coolers made of thermoelectric modules that cool air.

The answers of the commands, in three lines::

    import coldwright
    sheet = coldwright.read("kiosk/sheet.toml")
    print(coldwright.verdict(sheet).headline)

Every answer is a plain object with the figures in SI, their intervals and the findings; its
`to_json()` is what `--json` prints. Importing the package loads none of its parts.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coldwright.answers.changes import Changes
    from coldwright.answers.check import Check
    from coldwright.answers.compare import Compare
    from coldwright.answers.day import Day
    from coldwright.answers.equations import Equations
    from coldwright.answers.faults import Faults
    from coldwright.answers.parts import Parts
    from coldwright.answers.safety import Safety
    from coldwright.answers.tune import Tune
    from coldwright.answers.verdict import Verdict
    from coldwright.answers.watts import Watts
    from coldwright.sheet.models import Sheet

__version__ = "0.1.0"
__all__ = [
    "__version__",
    "changes",
    "check",
    "compare",
    "day",
    "equations",
    "faults",
    "parts",
    "read",
    "safety",
    "tune",
    "verdict",
    "watts",
]


def read(path: str | os.PathLike[str]) -> Sheet:
    """Read a design sheet: a TOML file, or the project folder that holds it.

    Raises
    ------
    coldwright.errors.SheetError
        When the file cannot be read; `SheetInvalid` lists every fault with its line.
    """
    from coldwright.sheet.file import read as read_sheet

    return read_sheet(path)


def verdict(sheet: Sheet, *, tries: int = 2000, seed: int = 20) -> Verdict:
    """Does it make sense? Where the place levels off and when, against the goal, and why.

    Parameters
    ----------
    sheet : Sheet
        From `read`, or such a sheet with other values (`sheet.changed`).
    tries : int
        Tries from which the intervals come; 0 for none.
    seed : int
        Start of the random numbers: the same seed gives the same intervals.

    Raises
    ------
    coldwright.errors.SheetInvalid
        When findings allow no answer.
    coldwright.errors.NoSolution
        When the design has no steady state; with the reason.
    """
    from coldwright.answers import verdict as answer

    return answer.run(answer.Inputs(sheet, tries, seed))


def watts(sheet: Sheet, *, tries: int = 2000, seed: int = 20) -> Watts:
    """Where do the watts go? The operating point and the ledger; arguments as for `verdict`."""
    from coldwright.answers import watts as answer

    return answer.run(answer.Inputs(sheet, tries, seed))


def day(sheet: Sheet, *, tries: int = 100, seed: int = 20, days: int | None = None) -> Day:
    """What does a day look like? The place through its weather; `days` as in the command."""
    from coldwright.answers import day as answer

    return answer.run(answer.Inputs(sheet, tries, seed, days))


def compare(sheet: Sheet, *, comfort: bool = True) -> Compare:
    """What else would do? The same place and goal served by other means."""
    from coldwright.answers import compare as answer

    return answer.run(answer.Inputs(sheet, comfort=comfort))


def tune(sheet: Sheet, *, tries: int = 500, seed: int = 20) -> Tune:
    """What should I run it at? The hill over volts and both fan speeds."""
    from coldwright.answers import tune as answer

    return answer.run(answer.Inputs(sheet, tries, seed))


def changes(sheet: Sheet, *, tries: int = 200, seed: int = 20) -> Changes:
    """What should I change? Every change solved anew, ranked by what it gains."""
    from coldwright.answers import changes as answer

    return answer.run(answer.Inputs(sheet, tries, seed))


def safety(sheet: Sheet, *, tries: int = 500, seed: int = 20) -> Safety:
    """What can hurt? Cautions with their sources, the check list, what a licensed person does."""
    from coldwright.answers import safety as answer

    return answer.run(answer.Inputs(sheet, tries, seed))


def faults(sheet: Sheet, *, tries: int = 100, seed: int = 20, fault: str = "") -> Faults:
    """What if something fails? Every fault followed in time, and what catches it.

    `fault` names one of them; an unknown name raises `KeyError`.
    """
    from coldwright.answers import faults as answer

    return answer.run(answer.Inputs(sheet, tries, seed, fault))


def check(sheet: Sheet | str | os.PathLike[str]) -> Check:
    """What does a sheet lack? Every finding that needs no solving, and all that is assumed.

    Takes a sheet from `read` as the other answers do, or its file: `read` refuses a sheet with
    faults, and of a file they are listed.
    """
    from coldwright.answers import check as answer

    return answer.run(answer.Inputs(sheet))


def parts(group: str = "", find: str = "") -> Parts:
    """The parts library, or the rows of one group that mention all words of `find`."""
    from coldwright.answers import parts as answer

    return answer.run(answer.Inputs(group, find))


def equations(name: str = "") -> Equations:
    """The laws the answers rest on: all, one, a group, or those that mention a word."""
    from coldwright.answers import equations as answer

    return answer.run(answer.Inputs(name))
