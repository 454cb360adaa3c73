"""`coldwright compare`: what else would do?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.compare import Compare
    from coldwright.answers.rival import Rival
    from coldwright.faces.cli.page import Page


def compare(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    comfort: Annotated[
        bool,
        typer.Option(
            "--comfort/--no-comfort", help="Whether to say how the air feels to a person."
        ),
    ] = True,
    plain: of.Plain = False,
) -> None:
    """What else would do? Fans, ice, shade, a compressor: the same place and goal, one table."""
    with answering(as_json=as_json, plain=plain):
        answer = _answer(sheet, comfort=comfort)
        if as_json:
            put_json(answer.to_json())
        else:
            put_compare(answer, sheet, plain=plain)


def put_compare(answer: Compare, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, one row for each way, a line on each, next step."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings

    page = Page(plain=plain)
    put_opening(page, answer)
    _put_rows(page, answer)
    _put_comfort(page, answer)
    put_other_findings(page, answer.findings)
    put_next(
        page,
        [
            (of.command_line("verdict", path), "will this cooler do, and why"),
            (of.command_line("changes", path), "what would improve it"),
        ],
    )
    page.show()


def _put_rows(page: Page, answer: Compare) -> None:
    """Two lines for each way of serving the place: figures, and what it costs and asks."""
    from coldwright.faces.cli.page import columns, padded

    head = ("", "goal", "air", "feels", "plug", "a day", "noise")
    rows = [_row(rival) for rival in answer.rows]
    shown = [at for at in range(len(head)) if any(row[at] not in ("", _UNKNOWN) for row in rows)]
    widths = {at: max(columns(row[at]) for row in (head, *rows)) for at in shown}
    page.heading("Side by side", "°C in the hottest hour, W from the plug, kWh a day, dB at 1 m")
    page.line()
    for line in answer.basis:
        page.text(line, style="soft")
    page.line()
    for number, row in enumerate((head, *rows)):
        cells = [padded(row[at], widths[at], right=at > 1) for at in shown]
        own = number > 0 and answer.rows[number - 1].name == "this cooler"
        style = "soft" if number == 0 else "strong" if own else ""
        page.line(f"  {cells[0]}  ", ("  ".join(cells[1:]), style))
        if number > 0:
            page.text(_costs(answer.rows[number - 1]), style="soft", indent=6)
    if any(_UNKNOWN in row for row in rows):
        page.line()
        page.text(f"{_UNKNOWN} not known, or not for this way", style="soft")


_UNKNOWN = "–"


def _row(rival: Rival) -> tuple[str, ...]:
    reached = {True: "yes", False: "no", None: _UNKNOWN}[rival.reached]
    return (
        rival.name,
        reached,
        _celsius(rival.place_air_K),
        _celsius(rival.feels_like_K),
        _number(rival.plug_W, 0),
        _number(rival.kWh_per_day, 2),
        _number(rival.noise_dB, 0),
    )


def _costs(rival: Rival) -> str:
    """What stands under a row: what it asks, water, price."""
    parts = [f"asks: {rival.asks}"]
    water = rival.water_kg_per_day or 0.0
    if rival.name == "an evaporative cooler":
        parts.append(f"takes {water:.0f} L of water a day")
    elif rival.name.startswith("this cooler") and water >= 0.0005:
        amount = f"{water:.1f} L" if water >= 1.0 else f"{1000.0 * water:.0f} g"
        parts.append(f"{amount} of water a day to drain")
    if rival.price is None:
        parts.append(f"price {_UNKNOWN}")
    elif rival.price > 0.0:
        parts.append(f"price {rival.price:.0f}")
    return "; ".join(parts)


def _put_comfort(page: Page, answer: Compare) -> None:
    """How a person feels, by the standards' indices, and what the jet takes for granted."""
    assumed = [
        f"{key} = {answer.assumptions[key]}"
        for key in ("goal.spot", "cooler.cold_fan.diameter")
        if key in answer.assumptions
    ]
    if not answer.comfort and not assumed:
        return
    page.heading("The person", "seated, in summer clothes" if answer.comfort else "in the jet")
    page.line()
    for each in answer.comfort:
        page.text(each.sentence, first="· ")
    if assumed:
        page.text(f"Assumed of the jet: {', '.join(assumed)}", style="soft")


def _celsius(kelvin: float | None) -> str:
    return _UNKNOWN if kelvin is None else f"{kelvin - 273.15:.1f}".replace("-", "−")


def _number(value: float | None, digits: int) -> str:
    return _UNKNOWN if value is None else f"{value:.{digits}f}"


def _answer(path: str, *, comfort: bool) -> Compare:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Serving the place by other means ..."):
        from coldwright.answers import compare as answer

        return answer.run(answer.Inputs(design, comfort=comfort))
