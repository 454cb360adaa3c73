"""Parts that `watts` and `verdict` share: opening, spread, findings, next step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from coldwright.faces.cli.findings import put_findings, summary
from coldwright.faces.cli.page import Page, joined

if TYPE_CHECKING:
    from coldwright.findings import Finding


def put_opening(page: Page, title: str, headline: str, reasons: Sequence[str], tone: str) -> None:
    """The design's name, the sentence that answers, and the reasons."""
    if title:
        page.line((title, "soft"))
        page.line()
    page.text(headline, style=tone or "strong", indent=0)
    page.line()
    for reason in reasons:
        page.text(reason, indent=2, first="· ")


def put_widest(
    page: Page,
    widest: Mapping[str, Sequence[tuple[str, float]]],
    names: Mapping[str, str],
    solved: int,
    tries: int,
) -> None:
    """What widens the intervals most, and how many of the tries had an answer at all."""
    said = [
        f"{names[key]} {_inputs(shares)}"
        for key, shares in widest.items()
        if key in names and shares
    ]
    if not said and solved >= tries:
        return
    page.line()
    if said:
        page.text(f"What widens the interval most: {'; '.join(said)}.", style="soft")
    if solved < tries:
        page.text(f"{tries - solved} of {tries} tries have no steady state.", style="soft")


def put_all_findings(page: Page, findings: Sequence[Finding]) -> None:
    """The findings under their heading, or a word that there are none."""
    if not findings:
        return
    page.heading("Findings", summary(findings))
    put_findings(page, findings)


def put_next(page: Page, steps: Sequence[tuple[str, str]]) -> None:
    """Which command to run next, and what it tells."""
    page.heading("Next")
    width = max(len(command) for command, _ in steps)
    for command, what in steps:
        if width + len(what) + 5 > page.width:
            page.line("  ", (command, "link"))
            page.line("      ", what)
        else:
            page.line("  ", (f"{command:<{width}}", "link"), "   ", what)


def _inputs(shares: Sequence[tuple[str, float]]) -> str:
    first = [f"{path} ({100.0 * share:.0f}\u2009%)" for path, share in shares[:2]]
    return "by " + joined(first)
