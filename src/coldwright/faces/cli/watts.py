"""`coldwright watts`: where do the watts go?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.watts import Watts

PictureFile = Annotated[
    Path | None,
    typer.Option(
        "--picture", metavar="FILE", show_default=False,
        help="A picture of place, cooler and outdoors in which heat flows as bands, as SVG; "
        "replaces the picture.",
    ),
]  # fmt: skip


def watts(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: of.Tries = of.DEFAULT_TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    no_intervals: of.NoIntervals = False,
    picture: PictureFile = None,
    plain: of.Plain = False,
) -> None:
    """Where do the watts go? The operating point, and every watt followed until it leaves."""
    with answering(as_json=as_json, plain=plain):
        if picture is not None:
            from coldwright.drawings.heat_flow_file import check_heat_flow

            check_heat_flow(picture)
        answer = _answer(sheet, 0 if no_intervals else tries, seed)
        if picture is not None:
            from coldwright.drawings.heat_flow_file import write_heat_flow

            write_heat_flow(answer, picture)
        if as_json:
            put_json(answer.to_json())
        else:
            put_watts(answer, sheet, plain=plain)


def put_watts(answer: Watts, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, figures, ledger, ratings, findings, next step."""
    from coldwright.faces.cli.ledger import put_ledger, put_water
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.ratings import put_ratings
    from coldwright.faces.cli.sections import (
        put_next,
        put_opening,
        put_other_findings,
        put_widest,
    )
    from coldwright.faces.cli.table import put_figures
    from coldwright.report.labels import WATTS, WIDEST

    page = Page(plain=plain)
    put_opening(page, answer)
    put_figures(page, WATTS, answer.values, answer.tries)
    put_widest(page, answer.widest, WIDEST)
    put_ledger(page, answer.ledger, answer.ledger_residual_W)
    put_water(page, answer.water_ledger)
    put_ratings(page, answer.ratings, answer.not_cooling)
    put_other_findings(page, answer.findings, safety=of.command_line("safety", path))
    put_next(
        page,
        [
            (of.command_line("verdict", path), "will it do, and why"),
            (of.command_line("check", path), "what the sheet lacks and assumes"),
        ],
    )
    page.show()


def _answer(path: str, tries: int, seed: int) -> Watts:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    said = (
        f"Solving the operating point in {tries:,} tries ..."
        if tries
        else "Solving the operating point ..."
    )
    with computing(said, many=tries >= of.MANY_TRIES):
        from coldwright.answers import watts as answer

        return answer.run(answer.Inputs(design, tries, seed))
