"""Why a design has no steady state, in words."""

from __future__ import annotations

from typing import Any

from coldwright.answers.cause import cause_of
from coldwright.findings import Finding
from coldwright.machine.records import Status
from coldwright.sheet.models import Sheet

# A try with one of these says nothing about a design that could be built: a sink that no sink can
# be, numbers outside every law. All other ends (runaway, no air) are ends of a real machine.
IMPOSSIBLE = (Status.SINK_TOO_GOOD, Status.BAD_INPUT, Status.NOT_CONVERGED)
_MANY = 0.02


def why_unsolved(sheet: Sheet, status: Status, records: Any = None) -> str:
    """The reason for a person; nothing is said of a design that is solved.

    `records` are the cooler, the place and the result of the case, where they tell its cause.
    """
    if records is not None:
        cause = cause_of(status, *records)
        if cause and status == Status.SINK_TOO_GOOD:
            return f"{cause} {_BARE_METAL}"
        if cause:
            return cause
    if status == Status.RUNAWAY and sheet.place.kind == "plate":
        return _PLATE_RUNAWAY
    return _REASONS[status]


def unsolved_tries(sheet: Sheet, reasons: dict[Status, int], tries: int) -> list[Finding]:
    """What is said of tries without a steady state: how many, why, and how they count."""
    found = []
    for impossible, words in (
        (True, "are of things that cannot be, and are left out of the count"),
        (False, "have no steady state and count as not reaching the goal"),
    ):
        these = {s: n for s, n in reasons.items() if (s in IMPOSSIBLE) is impossible}
        missing = sum(these.values())
        if not missing:
            continue
        found.append(
            Finding(
                "CW-SOLVE-02",
                "warning" if missing > _MANY * tries else "note",
                "",
                f"{missing} of {tries} tries {words}",
                "",
                why_unsolved(sheet, max(these, key=lambda one: these[one])),
                "a tolerance for the part that causes it, or another part",
                None,
                sheet.file,
            )
        )
    return found


_BARE_METAL = "Is the flow too small, or the resistance that of the bare metal?"
_REASONS = {
    Status.RUNAWAY: "The hot side cannot get rid of the heat: it gets hotter without end. Fewer "
    "volts or amperes, more air, or a better hot sink are needed.",
    Status.NO_FLOW: "A fan moves no air, or hardly any: its curve does not meet the path's "
    "resistance, no air can come in behind it, or its speed is 0.",
    Status.SINK_TOO_GOOD: "A sink's thermal resistance is below 1/(m cp) of the air that passes "
    "it. No sink can be so good, because the air cannot leave hotter than the base. " + _BARE_METAL,
    Status.CANNOT_PUMP: "The modules cannot move the wanted heat at any current.",
    Status.NOT_CONVERGED: "The equations could not be solved. This should not happen: please "
    "report the sheet.",
    Status.BAD_INPUT: "Some number in the sheet lies outside every law that uses it.",
    Status.OUT_OF_RANGE: "It would get hotter or colder than the laws reach: a module's legs "
    "outside 200 to 400 K, the cold sink above the boiling point, or air above 200 °C; or a sink "
    "takes more air than its correlation covers.",
}
# On a plate it may be the cold face as well, with more heat on it than the modules pass on.
_PLATE_RUNAWAY = (
    "The plate or the hot side gets hotter than anything here bears, about 200 °C: that is more "
    "heat than the modules and the hot sink pass on. Less heat, more or larger modules, or a "
    "better hot sink are needed; or the sink without modules."
)
