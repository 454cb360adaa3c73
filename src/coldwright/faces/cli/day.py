"""`coldwright day`: what a day, a stretch of days or a year looks like."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.day import Day
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.table import Label
    from coldwright.sheet.models import Sheet

# A stretch longer than this is shown day by day or month by month, not hour by hour.
_HOURS_SHOWN = 24
_DAY_S, _ZERO_C_K, _KWH_J = 86400.0, 273.15, 3.6e6


def day(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: Annotated[
        int,
        typer.Option(
            "--tries",
            min=0,
            max=2000,
            metavar="N",
            help="How many tries the intervals come from (100 unless given; 0 for none).",
        ),
    ] = 100,
    days: Annotated[
        int | None,
        typer.Option(
            "--days",
            min=1,
            max=366,
            metavar="N",
            help="How many days to follow; else a repeating day until it repeats, or the whole "
            "weather file.",
        ),
    ] = None,
    without_cooler: Annotated[
        bool, typer.Option("--without-cooler", help="The place with no cooler in it.")
    ] = False,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the hourly table to a new file."),
    ] = None,
    plot: Annotated[
        Path | None,
        typer.Option(
            "--plot", metavar="FILE", help="A picture of it, in a new PNG, SVG or PDF file."
        ),
    ] = None,
    plain: of.Plain = False,
) -> None:
    """What does a day look like? The place through its weather, energy, water, money."""
    with answering(as_json=as_json, plain=plain):
        answer, design = _answer(sheet, tries, days, with_cooler=not without_cooler)
        _write_files(answer, design, csv, plot)
        if as_json:
            put_json(answer.to_json())
        else:
            put_day(answer, sheet, plain=plain)


def put_day(answer: Day, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, totals, the hours, the ledger of the day."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings
    from coldwright.faces.cli.table import put_figures

    page = Page(plain=plain)
    put_opening(page, answer)
    put_figures(page, _labels(), answer.totals, answer.tries)
    _put_hours(page, answer)
    _put_heat(page, answer)
    put_other_findings(page, answer.findings)
    put_next(
        page,
        [
            (of.command_line("compare", path), "what else would do"),
            (of.command_line("changes", path), "what would improve it"),
        ],
    )
    page.show()


def _labels() -> tuple[Label, ...]:
    from coldwright.faces.cli.table import GAP, Label

    return (
        Label("place_mean_K", "Mean of the place"),
        Label("place_highest_K", "Hottest"),
        Label("place_lowest_K", "Coolest"),
        Label("above_goal_per_day_s", "Above the goal, a day", needs="above_goal_per_day_s"),
        GAP,
        Label("plug_per_day_J", "Energy a day", needs="plug_per_day_J"),
        Label("price_per_day", "Electricity a day", needs="price_per_day"),
        Label("price_per_year", "Electricity a year", needs="price_per_year"),
        Label("emissions_per_year_kg", "Emissions a year", needs="emissions_per_year_kg"),
        Label("condensate_per_day_kg", "Water a day", needs="condensate_per_day_kg"),
        Label("battery_s", "From the battery", needs="battery_s"),
        Label("panel_needed_W", "Panels needed, peak", needs="panel_needed_W"),
    )


def _put_hours(page: Page, answer: Day) -> None:
    """One line an hour for a day; one a day or month for longer stretches."""
    from coldwright.faces.cli.figures import plain

    rows = _rows(answer)
    page.heading("Hour by hour" if len(rows) <= _HOURS_SHOWN else "In time", answer.weather)
    page.line()
    air = [row[1] for row in rows]
    low, high = min(air), max(air)
    for name, place_C, outdoor_C, kwh, share in rows:
        length = round(18 * (place_C - low) / (high - low)) if high > low else 0
        page.line(
            f"  {name:<8} ",
            (f"{plain(place_C):>5} °C", "strong"),
            (
                f"  outdoors {plain(outdoor_C):>5} °C  {kwh:6.2f} kWh  {100 * share:3.0f} %  ",
                "soft",
            ),
            ("█" * max(1, length), "hot"),
        )


def _rows(answer: Day) -> list[tuple[str, float, float, float, float]]:
    """Name, place, outdoors, energy and share of running for each line."""
    series = answer.series
    starts = series["start_s"]
    count = len(starts)
    group = 1 if count <= _HOURS_SHOWN else 24 if count <= 24 * 40 else 730
    rows = []
    for first in range(0, count, group):
        part = slice(first, min(first + group, count))
        n = part.stop - part.start
        if group == 1:
            hour = int(starts[first] % _DAY_S // 3600)
            name = f"{hour:02d}:00"
        elif group == 24:
            name = f"day {int(starts[first] // _DAY_S) + 1}"
        else:
            name = f"month {first // group + 1}"
        rows.append(
            (
                name,
                sum(series["place_air_K"][part]) / n - _ZERO_C_K,
                sum(series["outdoor_K"][part]) / n - _ZERO_C_K,
                sum(series["plug_J"][part]) / _KWH_J,
                sum(series["running_share"][part]) / n,
            )
        )
    return rows


def _put_heat(page: Page, answer: Day) -> None:
    """What brought heat into the place's air and what took it out, in kWh."""
    from coldwright.faces.cli.figures import plain
    from coldwright.faces.cli.page import columns, padded

    sums = [(name, sum(heat) / _KWH_J) for name, heat in answer.heat_J.items()]
    rows = [(name, kwh) for name, kwh in sums if abs(kwh) >= 0.005]
    if not rows:
        return
    page.heading("Heat into the place's air", "kWh over the time shown; minus takes it out")
    page.line()
    width = max(columns(name) for name, _ in rows)
    largest = max(abs(kwh) for _, kwh in rows)
    for name, kwh in sorted(rows, key=lambda row: -row[1]):
        bar = ("█" if kwh > 0 else "░") * max(1, round(24 * abs(kwh) / largest))
        page.line(
            f"  {padded(name[:1].upper() + name[1:], width)}  ",
            (padded(plain(kwh, 2), 7, right=True), "strong"),
            "  ",
            (bar, "hot" if kwh > 0 else "cold"),
        )


def _write_files(answer: Day, design: Sheet, csv: Path | None, plot: Path | None) -> None:
    if csv is not None:
        from coldwright.report.table_files import write_day

        write_day(answer, csv)
    if plot is not None:
        from coldwright.report.day_pictures import draw_day

        goal = design.goal.air
        draw_day(answer, plot, goal_K=None if goal is None else goal.value)


def _answer(path: str, tries: int, days: int | None, *, with_cooler: bool) -> tuple[Day, Sheet]:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Following the place through its weather ..."):
        from coldwright.answers import day as answer

        inputs = answer.Inputs(design, tries, days=days, with_cooler=with_cooler)
        return answer.run(inputs), design
