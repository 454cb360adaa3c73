"""What the program has to say about a design: findings, all at once and worst first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from coldwright.errors import explanation
from coldwright.findings_catalogue import CATALOGUE as _GENERAL
from coldwright.findings_catalogue import Entry
from coldwright.findings_electrical import ELECTRICAL
from coldwright.findings_faults import FAULTS
from coldwright.findings_person import PERSON
from coldwright.findings_safety import SAFETY
from coldwright.findings_weather import WEATHER

__all__ = ["CATALOGUE", "SEVERITIES", "Entry", "Finding", "Severity", "worst_first"]

CATALOGUE: dict[str, Entry] = dict(
    sorted({**_GENERAL, **ELECTRICAL, **FAULTS, **PERSON, **SAFETY, **WEATHER}.items())
)
"""Every code a finding may carry, with what it means and what to do: alphabetical."""

Severity = Literal["stop", "warning", "note"]

SEVERITIES: tuple[Severity, ...] = ("stop", "warning", "note")
"""Worst first. stop: no answer is possible; warning: the answer stands, read it with care."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One remark on a design: where, what was given, what is allowed, why, and what helps.

    Parameters
    ----------
    code : str
        Code of its catalogue entry, ``"CW-<AREA>-<two digits>"``.
    severity : Severity
        ``"stop"``, ``"warning"`` or ``"note"``.
    where : str
        Key path in the sheet, ``"cooler.hot_fan.flow"``; empty for the whole design.
    given, allowed, why, action : str
        They complete the sentences "<given> is not <allowed>. <why>. Try <action>."; each may be
        empty. A `given` that is a clause stands as a sentence of its own, and `allowed` follows in
        brackets (see `coldwright.errors.explanation`).
    line : int, optional
        Line in the file, counted from 1.
    file : str
        Name of the file; empty when unknown.
    """

    code: str
    severity: Severity
    where: str
    given: str
    allowed: str
    why: str
    action: str
    line: int | None = None
    file: str = ""

    def sentence(self) -> str:
        """Say the finding in one line of text, leaving out what is empty."""
        place = " ".join(
            part
            for part in (
                f"`{self.file}`" if self.file else "",
                f"line {self.line}" if self.line is not None else "",
            )
            if part
        )
        head = ", ".join(part for part in (place, self.where) if part)
        body = explanation(self.given, self.allowed, self.why, self.action)
        if not body:
            known = CATALOGUE.get(self.code)
            body = f"{known.title}." if known else ""
        return " ".join(
            part for part in (f"{head}:" if head else "", body, f"[{self.code}]") if part
        )


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Sort by severity, worst first; findings of one severity keep their order."""
    return sorted(findings, key=lambda found: SEVERITIES.index(found.severity))
