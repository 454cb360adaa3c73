"""`coldwright tune`: what should I run it at?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.aims import Best
    from coldwright.answers.tune import Tune
    from coldwright.faces.cli.page import Page
    from coldwright.sheet.models import Sheet


def tune(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: Annotated[
        int,
        typer.Option(
            "--tries",
            min=0,
            max=10_000,
            metavar="N",
            help="How many tries the intervals come from (500 unless given; 0 for none).",
        ),
    ] = 500,
    plot: Annotated[
        Path | None,
        typer.Option(
            "--plot", metavar="FILE", help="A picture of the way along the volts, in a new file."
        ),
    ] = None,
    chart: Annotated[
        Path | None,
        typer.Option(
            "--map", metavar="FILE", help="A map over volts and cold fan speed, in a new file."
        ),
    ] = None,
    csv: Annotated[
        Path | None, typer.Option("--csv", metavar="FILE", help="Write every point to a new file.")
    ] = None,
    plain: of.Plain = False,
) -> None:
    """What should I run it at? Volts and fan speeds: the best for each aim, and what is enough."""
    with answering(as_json=as_json, plain=plain):
        answer, design = _answer(sheet, tries)
        _write_files(answer, design, plot, chart, csv)
        if as_json:
            put_json(answer.to_json())
        else:
            put_tune(answer, sheet, plain=plain)


def put_tune(answer: Tune, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, best settings, ratings against reality, next step."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings

    page = Page(plain=plain)
    put_opening(page, answer)
    _put_best(page, answer)
    _put_ratings(page, answer)
    put_other_findings(page, answer.findings)
    put_next(
        page,
        [
            (of.command_line("changes", path), "what else would improve it"),
            (of.command_line("verdict", path), "will it do, and why"),
        ],
    )
    page.show()


def _put_best(page: Page, answer: Tune) -> None:
    """One block for each aim: the setting, what it gives, what it loses when 10 % off."""
    page.heading("Best for each aim", "under the limits of the sheet")
    for best in answer.best:
        page.line()
        page.line(("  " + best.aim[:1].upper() + best.aim[1:], "strong"))
        if best.drive is None:
            page.text("Nothing within reach keeps every limit.", indent=6, first="      ")
            continue
        page.text(_setting(answer, best), indent=6, first="      ")
        page.text(_gives(best), indent=6, first="      ")
        off = _off(best)
        if off:
            page.text(off, style="soft", indent=6, first="      ")
        if best.binding:
            page.text(
                f"Held back by {', '.join(best.binding)}.", style="soft", indent=6, first="      "
            )


def _setting(answer: Tune, best: Best) -> str:
    from coldwright.quantities.glossary import display

    drive = best.drive or 0.0
    words = (
        f"a duty of {100 * drive:.0f}\u2009%"
        if answer.axis == "duty"
        else display(answer.axis, drive)
    )
    parts = [words]
    if len(answer.cold_speed) > 1 and best.cold_speed is not None:
        parts.append(f"cold fan {100 * best.cold_speed:.0f}\u2009%")
    if len(answer.hot_speed) > 1 and best.hot_speed is not None:
        parts.append(f"hot fan {100 * best.hot_speed:.0f}\u2009%")
    return ", ".join(parts) + "."


def _gives(best: Best) -> str:
    from coldwright.quantities.glossary import display

    names = {
        "place_air_K": "place", "cold_sink_K": "cold sink", "cooling_W": "takes out",
        "net_cooling_W": "net", "plug_power_W": "from the plug", "cop_net": "COP net",
        "sound_dB": "at 1 m", "hot_face_K": "hot face",
    }  # fmt: skip
    told = []
    for name, word in names.items():
        value = best.figures.get(name)
        if value is None or value.value is None:
            continue
        text = display(name, value.value)
        if value.low is not None and value.high is not None and name.endswith("_K"):
            low = display(name, value.low).rsplit("\u2009", 1)[0]
            high = display(name, value.high).rsplit("\u2009", 1)[0]
            text += f" ({low}–{high})"
        told.append(f"{word} {text}")
    return "; ".join(told) + "."


def _off(best: Best) -> str:
    from coldwright.quantities.glossary import display

    knobs = {"drive": "volts", "cold_speed": "cold fan", "hot_speed": "hot fan"}
    parts = []
    for knob, loss in best.off_by_tenth.items():
        unit = "lift_K" if best.unit.endswith("_K") else best.unit
        if best.unit == "sound_dB":
            text = f"{loss:.1f}\u2009dB"
        elif best.unit == "cop_net":
            text = f"{loss:.2f}"
        else:
            text = display(unit, loss)
        parts.append(f"{knobs[knob]} {text}")
    return f"10 % off costs at most: {', '.join(parts)}." if parts else ""


def _put_ratings(page: Page, answer: Tune) -> None:
    """The module's printed ratings against what it gives here."""
    from coldwright.faces.cli.page import columns, padded
    from coldwright.quantities.glossary import display

    if not answer.ratings:
        return
    page.heading("Rated, and here", "as the sheet runs it")
    page.line()
    rows = [
        (row.what, display(row.unit, row.rated), display(row.unit, row.here), row.remark)
        for row in answer.ratings
    ]
    widths = [max(columns(row[i]) for row in rows) for i in range(3)]
    for what, rated, here, remark in rows:
        page.line(
            f"  {padded(what, widths[0])}  ",
            (padded(rated, widths[1], right=True), "soft"),
            "  ",
            (padded(here, widths[2], right=True), "strong"),
        )
        if remark:
            page.text(remark, style="soft", indent=6, first="      ")


def _write_files(
    answer: Tune, design: Sheet, plot: Path | None, chart: Path | None, csv: Path | None
) -> None:
    if plot is not None:
        from coldwright.report.tune_pictures import draw_drive

        goal = design.goal.air
        draw_drive(answer, plot, goal_K=None if goal is None else goal.value)
    if chart is not None:
        from coldwright.report.tune_pictures import draw_map

        draw_map(answer, chart)
    if csv is not None:
        from coldwright.report.table_files import write_map

        write_map(answer, csv)


def _answer(path: str, tries: int) -> tuple[Tune, Sheet]:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Mapping volts and fan speeds ..."):
        from coldwright.answers import tune as answer

        return answer.run(answer.Inputs(design, tries)), design
