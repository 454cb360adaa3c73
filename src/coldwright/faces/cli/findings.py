"""Findings on a terminal: worst first, each as a sentence, and below it where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from coldwright.faces.cli.page import Page

if TYPE_CHECKING:
    from coldwright.findings import Finding

_MARKS = {"stop": "▲", "warning": "△", "note": "•"}
_STYLES = {"stop": "alarm", "warning": "hot", "note": ""}


def put_findings(page: Page, findings: Sequence[Finding], *, words: bool = True) -> None:
    """Each finding with its sign, its word, its sentence, and softly its key, line and code.

    Without `words` the sign stands alone: where all of them are faults.
    """
    for found in findings:
        bare = replace(found, where="", line=None, file="").sentence()
        sentence = bare.removesuffix(f"[{found.code}]").strip()
        silent = found.severity == "note" or not words
        word = "" if silent else f"{found.severity.capitalize()}: "
        style = _STYLES[found.severity]
        rows = _rows(page, word + sentence)
        for at, row in enumerate(rows):
            if at == 0:
                head = row[: len(word)]
                page.line(
                    "  ", (_MARKS[found.severity], style), " ", (head, style), row[len(word) :]
                )
            else:
                page.line("    ", row)
        page.line("    ", (_whereabouts(found), "soft"))


def counted(number: int, what: str) -> str:
    """A count with its noun: "1 fault", "3 faults"."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def summary(findings: Sequence[Finding]) -> str:
    """How many of each: "1 stop, 2 warnings and 3 notes"."""
    from coldwright.faces.cli.page import joined
    from coldwright.findings import SEVERITIES

    held = [sum(one.severity == severity for one in findings) for severity in SEVERITIES]
    return joined(counted(n, word) for n, word in zip(held, SEVERITIES, strict=True) if n)


def _rows(page: Page, text: str) -> list[str]:
    from coldwright.faces.cli.page import wrapped

    return wrapped(text, page.width - 6)


def _whereabouts(found: Finding) -> str:
    parts = [found.where, f"line {found.line}" if found.line is not None else "", found.code]
    return " · ".join(part for part in parts if part)
