"""Parts that `watts` and `verdict` share: opening, spread, findings, next step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

from coldwright.faces.cli.findings import counted, put_findings, summary
from coldwright.faces.cli.page import Page, columns, padded, shortened, wrapped
from coldwright.quantities.display import THIN_SPACE

if TYPE_CHECKING:
    from coldwright.findings import Finding


# Shares of the spread below this are not worth a line.
_WORTH_SAYING = 0.05


class Opening(Protocol):
    """What an answer begins with."""

    @property
    def title(self) -> str:
        """What the design is called."""

    @property
    def headline(self) -> str:
        """The sentence that answers."""

    @property
    def reasons(self) -> list[str]:
        """Why, the weightiest first."""

    @property
    def findings(self) -> list[Finding]:
        """Worst first."""


def put_opening(page: Page, answer: Opening, tone: str = "") -> None:
    """The design's name, the sentence that answers, what forbids it, and the reasons."""
    title, headline, reasons = answer.title, answer.headline, answer.reasons
    if title:
        page.line((title, "soft"))
        page.line()
    word, colon, _ = headline.partition(":")
    if tone and colon and " " not in word:
        rows = wrapped(headline, page.width - 2)
        page.line((word, tone), (rows[0].removeprefix(word), "strong"))
        for row in rows[1:]:
            page.line((row, "strong"))
    else:
        page.text(headline, style="strong", indent=0)
    stops = [found for found in answer.findings if found.severity == "stop"]
    if stops:
        page.line()
        put_findings(page, stops)
    page.line()
    for reason in reasons:
        page.text(reason, indent=2, first="· ")


def put_widest(
    page: Page, widest: Mapping[str, Sequence[tuple[str, float]]], names: Mapping[str, str]
) -> None:
    """What widens the intervals most: for two results the two inputs with the largest shares."""
    rows: list[tuple[str, str, str]] = []
    told: list[list[str]] = []
    for key in [key for key in names if widest.get(key)]:
        shares = [row for row in widest[key] if row[1] >= _WORTH_SAYING][:2]
        inputs = [path for path, _ in shares]
        if inputs in told or len(told) == 2:
            continue
        told.append(inputs)
        for at, (path, share) in enumerate(shares):
            rows.append(
                (names[key] if at == 0 else "", _input(path), f"{100.0 * share:.0f}{THIN_SPACE}%")
            )
    if not rows:
        return
    name = max(columns(row[0]) for row in rows)
    room = page.width - name - 12
    if room < 16:  # the key stands alone; what it widens goes without saying so narrow
        name, room = 0, page.width - 12
        rows = [("", path, percent) for _, path, percent in dict.fromkeys(rows)]
    page.line()
    note = "  (share of the spread)" if page.width >= 58 else ""
    page.line("  What widens these intervals most", (note, "soft"))
    for text, path, percent in rows:
        page.line(
            (f"    {padded(text, name)}  {padded(shortened(path, room - 4), room - 4)}", "soft"),
            (padded(percent, 8, right=True), "soft"),
        )


def put_other_findings(page: Page, findings: Sequence[Finding], *, safety: str = "") -> None:
    """The findings under their heading; what forbids the design stands at the top already.

    With the command line of `safety`, notes of safety are counted and left to that command.
    """
    rest = [found for found in findings if found.severity != "stop"]
    left = [found for found in rest if safety and _is_safety_note(found)]
    shown = [found for found in rest if found not in left]
    if rest:
        page.heading("Findings", summary(rest))
        page.line()
        put_findings(page, shown)
    if left:
        page.text(f"{counted(len(left), 'safety note')}: {safety}", indent=4, first="  • ")


def _is_safety_note(found: Finding) -> bool:
    return found.severity == "note" and found.code.startswith("CW-SAFE-")


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


def _input(path: str) -> str:
    """What varied: a key of the sheet, or the limit of error of an equation."""
    return path.replace("law: ", "error of the equation: ", 1)
