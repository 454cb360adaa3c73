"""`coldwright tune`: what should I run it at?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.tune import Tune
    from coldwright.sheet.models import Sheet

Tries = Annotated[
    int,
    typer.Option(
        "--tries", min=0, max=20_000, metavar="N",
        help="How many tries the interval of each best point comes from (0 for none; 500 unless "
        "given).",
    ),
]  # fmt: skip
Plot = Annotated[
    Path | None,
    typer.Option(
        "--plot", metavar="FILE",
        help="The way along the volts (or amperes) as PNG, SVG or PDF; replaces the picture.",
    ),
]  # fmt: skip
Map = Annotated[
    Path | None,
    typer.Option(
        "--map", metavar="FILE", help="A map over the volts and a fan's speed, likewise.",
    ),
]  # fmt: skip
Csv = Annotated[
    Path | None,
    typer.Option("--csv", metavar="FILE", help="Write every point of the maps to a new file."),
]
_TRIES = 500
_MANY_TRIES = 5000


def tune(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: Tries = _TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    plot: Plot = None,
    chart: Map = None,
    csv: Csv = None,
    plain: of.Plain = False,
) -> None:
    """What should I run it at? Volts and fan speeds: the best for each aim, and what is enough."""
    with answering(as_json=as_json, plain=plain):
        _check_files(csv, plot, chart)
        design, answer = _answer(sheet, tries, seed)
        _write_files(answer, design, plot, chart, csv)
        if as_json:
            put_json(answer.to_json())
        else:
            put_tune(answer, design, sheet, plain=plain)


def put_tune(answer: Tune, design: Sheet, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, the best points, the way along the volts, ratings."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.ratings import put_ratings
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings
    from coldwright.faces.cli.tune_table import put_best, put_way

    page = Page(plain=plain)
    put_opening(page, answer)
    put_best(page, answer, design)
    put_way(page, answer, design)
    put_ratings(page, answer.ratings, answer.not_cooling)
    put_other_findings(page, answer.findings)
    put_next(
        page,
        [
            (of.command_line("changes", path), "what else would improve it"),
            (of.command_line("verdict", path), "will it do, and why"),
        ],
    )
    page.show()


def _check_files(csv: Path | None, *pictures: Path | None) -> None:
    """Refuse a file that cannot be written before anything is computed."""
    from coldwright.report.picture import check_picture
    from coldwright.report.table_files import check_table

    if csv is not None:
        check_table(csv)
    for path in pictures:
        if path is not None:
            check_picture(path)


def _write_files(
    answer: Tune, design: Sheet, plot: Path | None, chart: Path | None, csv: Path | None
) -> None:
    if plot is not None:
        from coldwright.report.tune_pictures import draw_drive

        draw_drive(answer, plot, design)
    if chart is not None:
        from coldwright.report.tune_pictures import draw_map

        draw_map(answer, chart, design)
    if csv is not None:
        from coldwright.report.table_files import write_map

        write_map(answer, csv)


def _answer(path: str, tries: int, seed: int) -> tuple[Sheet, Tune]:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Mapping what it can be run at ...", many=tries >= _MANY_TRIES):
        from coldwright.answers import tune as answer

        return design, answer.run(answer.Inputs(design, tries, seed))
