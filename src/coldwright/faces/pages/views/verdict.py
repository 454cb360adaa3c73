"""Does it make sense? The verdict, why, the pull-down, what warms the place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.verdict import Inputs, Verdict, run
from coldwright.faces.pages.markup import bars, figures, findings, opening, plot
from coldwright.faces.pages.views.view import Progress, View
from coldwright.report.labels import verdict_labels
from coldwright.sheet.models import Sheet

_ZERO_C_K = 273.15


def answer(
    sheet: Sheet, options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """The verdict of a sheet."""
    tries = 0 if options.get("tries") == "none" else 2000
    progress("Following the place through 2,000 tries …" if tries else "Following the place …")
    found = run(Inputs(sheet, tries=tries))
    return _markup(found), found.to_json()


def _markup(found: Verdict) -> str:
    labels = verdict_labels(found.history, followed=bool(found.judged_at))
    rows = [(cause, value.value) for cause, value in found.heat_load if value.value is not None]
    parts = [
        f'<div class="verdict">{opening(found.headline, found.reasons)}</div>',
        '<div class="columns"><section><h2>The figures</h2>',
        figures(labels, found.values, found.tries, found.currency),
        "</section><section>",
        _pull_down(found),
        "</section></div>",
    ]
    if rows:
        parts.append(f"<section><h2>What warms the place at the goal</h2>{bars(rows)}</section>")
    shown = findings(found.findings, empty="Nothing found.")
    parts.append(f"<section><h2>Findings</h2>{shown}</section>")
    return "".join(parts)


def _pull_down(found: Verdict) -> str:
    """How the place gets colder after switching on."""
    times = found.history.get("time_s", [])
    if len(times) < 2:
        return ""
    goal = found.values.get("goal_air_K")
    scale, unit = (3600.0, "h") if times[-1] <= 3 * 86400.0 else (86400.0, "d")
    curves = [("place", [each - _ZERO_C_K for each in found.history["place_air_K"]])]
    levels = []
    if goal is not None and goal.value is not None:
        levels.append(("goal", goal.value - _ZERO_C_K))
    return plot(
        "After switching on", ("time", unit), ("temperature", "°C"),
        [each / scale for each in times], curves, levels,
    )  # fmt: skip


VIEW = View(
    "verdict", "verdict", "Does it make sense?", answer=answer,
    codes=("CW-GOAL", "CW-PLACE", "CW-CLIMATE"), options={"tries": "many"},
)  # fmt: skip
