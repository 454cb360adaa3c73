"""`coldwright day`: what does a day look like, or a week, or a year?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.day import Day
    from coldwright.faces.cli.page import Page
    from coldwright.report.labels import Label
    from coldwright.sheet.models import Sheet

Days = Annotated[
    int | None,
    typer.Option(
        "--days", min=1, max=366, metavar="N",
        help="How many days to follow from the start. Without it a day that repeats is followed "
        "until it does so, and its last day is shown; a weather file is followed to its end.",
    ),
]  # fmt: skip
Tries = Annotated[
    int | None,
    typer.Option(
        "--tries", min=0, max=2000, metavar="N",
        help="How many tries the intervals come from (0 for none; 100 unless given, and none for "
        "more than two weeks).",
    ),
]  # fmt: skip
Step = Annotated[
    float | None,
    typer.Option(
        "--step", min=1.0, max=600.0, metavar="SECONDS",
        help="Longest step in time (30 unless given, 60 for more than two weeks).",
    ),
]  # fmt: skip
WithoutCooler = Annotated[
    bool, typer.Option("--without-cooler", help="The same place with no cooler in it.")
]
Csv = Annotated[
    Path | None,
    typer.Option(
        "--csv", metavar="FILE",
        help="Write every hour to a new file: temperatures, energy, heat and water by cause.",
    ),
]  # fmt: skip
Plot = Annotated[
    Path | None,
    typer.Option(
        "--plot", metavar="FILE",
        help="A picture of the temperatures over time as PNG, SVG or PDF; replaces the picture.",
    ),
]  # fmt: skip
HeatPlot = Annotated[
    Path | None,
    typer.Option(
        "--heat-plot", metavar="FILE",
        help="A picture of the heat into the place hour by hour, by what brings it, likewise.",
    ),
]  # fmt: skip

_LONG_DAYS = 14
_YEAR_DAYS = 365
_TRIES, _STEP_S, _LONG_STEP_S = 100, 30.0, 60.0


def day(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    days: Days = None,
    tries: Tries = None,
    seed: of.Seed = of.DEFAULT_SEED,
    step: Step = None,
    without_cooler: WithoutCooler = False,
    csv: Csv = None,
    plot: Plot = None,
    heat_plot: HeatPlot = None,
    plain: of.Plain = False,
) -> None:
    """What does a day look like? The place through its weather: hours, energy, water, money."""
    with answering(as_json=as_json, plain=plain):
        _check_files(csv, plot, heat_plot)
        design, answer = _answer(sheet, days, tries, seed, step, with_cooler=not without_cooler)
        _write_files(answer, design, csv, plot, heat_plot)
        if as_json:
            put_json(answer.to_json())
        else:
            put_day(answer, design, sheet, plain=plain)


def put_day(answer: Day, design: Sheet, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, totals, the time, the heat by cause, next step."""
    from coldwright.faces.cli.day_table import put_time
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings
    from coldwright.faces.cli.table import put_figures
    from coldwright.quantities.notations import currency

    page = Page(plain=plain)
    put_opening(page, answer)
    price = design.price
    money = "" if price is None or price.electricity is None else currency(price.electricity.text)
    put_figures(page, _labels(answer), answer.totals, answer.tries, money)
    if not answer.tries and answer.days_followed > _LONG_DAYS:
        page.line(("  For so long a time there are no intervals unless --tries asks.", "soft"))
    put_time(page, answer, design)
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


def _labels(answer: Day) -> tuple[Label, ...]:
    """Rows of the table of totals."""
    from coldwright.report.labels import GAP, Label

    short = len(answer.series["start_s"]) <= 24
    each = "" if short else " a day"
    return (
        Label("place_mean_K", "Air of the place, on average"),
        Label("place_highest_K", "  at its hottest"),
        Label("place_lowest_K", "  at its coolest"),
        Label("above_goal_per_day_s", f"Time{each} above the goal", needs="above_goal_per_day_s"),
        GAP,
        Label("plug_per_day_J", f"Electricity{' a day' if each else ''}", needs="plug_per_day_J"),
        Label("price_per_day", f"  costs{each}", needs="price_per_day"),
        Label("price_per_year", "  a year of such days", needs="price_per_year"),
        Label("emissions_per_year_kg", "  sets free a year", needs="emissions_per_year_kg"),
        Label("battery_s", "The battery carries it for", needs="battery_s"),
        Label("panel_needed_W", "Panels needed, peak", needs="panel_needed_W"),
        Label("condensate_per_day_kg", f"Water off the cold sink{each}",
              needs="condensate_per_day_kg"),
    )  # fmt: skip


def _put_heat(page: Page, answer: Day) -> None:
    """What brought heat into the place's air and what took it out, with the check of the sum."""
    from coldwright.answers.value import Value
    from coldwright.faces.cli.plot import put_bars
    from coldwright.quantities.glossary import display

    sums = {name: sum(heat) for name, heat in answer.heat_J.items()}
    largest_J = max(abs(heat) for heat in sums.values())
    if largest_J <= 0.0:
        return
    rows = [
        (name, Value(heat / 3.6e6))
        for name, heat in sorted(sums.items(), key=lambda one: -one[1])
        if abs(heat) > 1e-3 * largest_J
    ]
    page.heading("What warms the place's air, and what cools it", "over the time shown")
    put_bars(page, rows, "kWh", 0 if largest_J > 200.0 * 3.6e6 else 2)
    page.line()
    page.text(
        "What comes in goes out again or stays in the air. The gap is "
        f"{display('ratio', answer.ledger_residual)} of all that flows.",
        style="soft",
    )


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
    answer: Day, design: Sheet, csv: Path | None, plot: Path | None, heat_plot: Path | None
) -> None:
    if csv is not None:
        from coldwright.report.table_files import write_day

        write_day(answer, csv)
    if plot is not None:
        from coldwright.report.day_pictures import draw_temperatures

        draw_temperatures(answer, plot, design)
    if heat_plot is not None:
        from coldwright.report.day_pictures import draw_heat

        draw_heat(answer, heat_plot)


def _answer(
    path: str,
    days: int | None,
    tries: int | None,
    seed: int,
    step: float | None,
    *,
    with_cooler: bool,
) -> tuple[Sheet, Day]:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    is_long = _stretch_days(design, days) > _LONG_DAYS
    if tries is None:
        tries = 0 if is_long else _TRIES
    said = "Following the place through its weather"
    said = f"{said}, and {tries} tries of it ..." if tries else f"{said} ..."
    with computing(said, "run._run_all"):
        from coldwright.answers import day as answer

        inputs = answer.Inputs(
            design, tries, seed, days,
            step_s=step or (_LONG_STEP_S if is_long else _STEP_S), with_cooler=with_cooler,
        )  # fmt: skip
        return design, answer.run(inputs)


def _stretch_days(design: Sheet, days: int | None) -> int:
    """About how many days will be followed."""
    if days is not None:
        return days
    if design.climate.kind == "weather_file":
        return design.climate.length_days or _days_in(design.weather_path)
    return 1


def _days_in(file: Path | None) -> int:
    """Days that a weather file seems to hold, by its lines; what it holds is found out later."""
    try:
        with open(file or "", "rb") as opened:
            return min(_YEAR_DAYS, sum(1 for _ in opened) // 24)
    except (OSError, ValueError):
        return _YEAR_DAYS
