"""`coldwright verdict`: does it make sense?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json

if TYPE_CHECKING:
    from coldwright.answers.verdict import Verdict
    from coldwright.faces.cli.page import Page

_TONES = {"yes": "good", "no": "alarm", "borderline": "hot"}


def verdict(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: of.Tries = of.DEFAULT_TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    no_intervals: of.NoIntervals = False,
    plain: of.Plain = False,
) -> None:
    """Does it make sense? Where the place levels off and when, against the goal, and why."""
    with answering(as_json=as_json, plain=plain):
        answer = _answer(sheet, 0 if no_intervals else tries, seed)
        if as_json:
            put_json(answer.to_json())
        else:
            put_verdict(answer, sheet, plain=plain)


def put_verdict(answer: Verdict, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, figures, heat load, pull-down, findings, next step."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.plot import put_pull_down
    from coldwright.faces.cli.sections import (
        put_next,
        put_opening,
        put_other_findings,
        put_widest,
    )
    from coldwright.faces.cli.table import put_figures
    from coldwright.report.labels import WIDEST, verdict_labels

    page = Page(plain=plain)
    put_opening(page, answer, _TONES.get(answer.verdict or "", ""))
    labels = verdict_labels(answer.history, followed=bool(answer.judged_at))
    put_figures(page, labels, answer.values, answer.tries, answer.currency)
    put_widest(page, answer.widest, WIDEST)
    _put_load(page, answer)
    goal = answer.values.get("goal_air_K")
    put_pull_down(
        page, answer.history, None if goal is None else goal.value, judged_at=answer.judged_at
    )
    put_other_findings(page, answer.findings, safety=of.command_line("safety", path))
    put_next(
        page,
        [
            (of.command_line("watts", path), "where every watt goes"),
            (of.command_line("check", path), "what the sheet lacks and assumes"),
            (of.command_line("safety", path), "what to mind before building"),
        ],
    )
    page.show()


def _put_load(page: Page, answer: Verdict) -> None:
    """What warms the place at the goal, by cause, each with a bar."""
    from coldwright.faces.cli.plot import put_bars

    rows = [
        (answer.causes.get(cause, cause), value)
        for cause, value in answer.heat_load
        if value.value is not None
    ]
    if rows:
        page.heading("What warms the place at the goal", "the cooler apart")
        put_bars(page, rows)


def _answer(path: str, tries: int, seed: int) -> Verdict:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    said = (
        f"Following the place through {tries:,} tries ..." if tries else "Following the place ..."
    )
    with computing(said, "pulldown._pull_down_all", many=tries >= of.MANY_TRIES):
        from coldwright.answers import verdict as answer

        return answer.run(answer.Inputs(design, tries, seed))
