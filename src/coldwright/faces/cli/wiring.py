"""`coldwright wiring`: how do I power and wire it?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.wiring import Wiring


def wiring(sheet: of.SheetPath, as_json: of.AsJson = False, plain: of.Plain = False) -> None:
    """How do I power and wire it? Currents, wires, fuses, and where every loss ends as heat."""
    with answering(as_json=as_json, plain=plain):
        answer = _answer(sheet)
        if as_json:
            put_json(answer.to_json())
        else:
            put_wiring(answer, sheet, plain=plain)


def put_wiring(answer: Wiring, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, loads, runs, heat, cutting list, findings."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings
    from coldwright.faces.cli.wiring_table import (
        put_battery,
        put_cuts,
        put_heat,
        put_loadings,
        put_runs,
        put_states,
    )

    page = Page(plain=plain)
    put_opening(page, answer)
    put_states(page, answer)
    put_battery(page, answer)
    put_loadings(page, answer)
    put_runs(page, answer)
    put_heat(page, answer)
    put_cuts(page, answer)
    put_other_findings(page, answer.findings)
    page.line()
    page.text(
        "Currents that wires may carry, fuses and colours are advice by the tables named. The "
        "local wiring code, the marking on the part and a licensed person outrank them. Leave "
        "everything on the mains side to a licensed person.",
        style="soft",
    )
    put_next(
        page,
        [
            (of.command_line("watts", path), "where every watt goes in the cooler"),
            (of.command_line("check", path), "what the sheet lacks and assumes"),
        ],
    )
    page.show()


def _answer(path: str) -> Wiring:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Following the power chain ..."):
        from coldwright.answers import wiring as answer

        return answer.run(answer.Inputs(design))
