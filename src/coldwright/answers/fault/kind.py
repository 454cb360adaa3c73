"""What a fault is: the same machine with one thing broken, and which guards may catch it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from coldwright.answers.fault.start import Start
from coldwright.sheet.models import Sheet


class NotFollowedError(ValueError):
    """A fault that cannot be followed on this design; the message says why."""


@dataclass(frozen=True)
class Broken:
    """Records of the machine with the fault in it, and what exactly was broken.

    Attributes
    ----------
    coolers
        One record per case, as many as `Start.coolers`.
    said
        The fault with its numbers, as a sentence: "36 V instead of 30 V reach the modules."
    """

    coolers: Any
    said: str


def _anywhere(_sheet: Sheet) -> str:
    return ""


@dataclass(frozen=True)
class Fault:
    """One fault, as a file of this package offers it.

    Attributes
    ----------
    name
        What it is called in the table and by `--fault`; at most 20 characters.
    put
        Breaks the machine: a start (nominal or tries) to records. May raise `NotFollowedError`.
    caution
        What a person must know about it, in plain words.
    guards
        Keys of the guards (`guards.GUARDS`) that are asked whether they catch it, the first that
        would act named first.
    not_here
        Why it cannot happen on a sheet; empty where it can.
    begins
        "running": from the steady state; "rest": after a long stop; "held": with the place held
        at the thermostat's temperature in the coolest moment of the weather.
    stops_fan
        The fan that no longer turns, which a fan-fail interlock notices; empty for none.
    """

    name: str
    put: Callable[[Start], Broken]
    caution: str
    guards: tuple[str, ...]
    not_here: Callable[[Sheet], str] = field(default=_anywhere)
    begins: Literal["running", "rest", "held"] = "running"
    stops_fan: str = ""
