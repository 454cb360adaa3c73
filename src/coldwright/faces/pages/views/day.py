"""What does a day look like? The place through its weather, hour by hour."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.day import Day, Inputs, run
from coldwright.faces.pages.markup import bars, findings, opening, plot, simple_figures
from coldwright.faces.pages.views.view import Progress, View
from coldwright.sheet.models import Sheet

_ZERO_C_K = 273.15
_ROWS = (
    ("place_mean_K", "Air of the place, on average"),
    ("place_highest_K", "at its hottest"),
    ("place_lowest_K", "at its coolest"),
    ("above_goal_per_day_s", "Time a day above the goal"),
    ("plug_per_day_J", "Electricity a day"),
    ("battery_s", "The battery carries it for"),
    ("panel_needed_W", "Panels needed, peak"),
    ("condensate_per_day_kg", "Water off the cold sink a day"),
)


def answer(
    sheet: Sheet, options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """The place through its weather."""
    progress("Following the place through its weather …")
    tries = 0 if options.get("tries") == "none" else 200
    days = None if sheet.climate.kind != "weather_file" else 366
    found = run(Inputs(sheet, tries=tries, days=days))
    return _markup(found, sheet), found.to_json()


def _markup(found: Day, sheet: Sheet) -> str:
    series = found.series
    start = series["start_s"]
    scale, unit = (3600.0, "hours") if len(start) <= 24 * 4 else (86400.0, "days")
    xs = [each / scale for each in start]
    curves = [
        ("place", _celsius(series["place_air_K"])),
        ("outdoors", _celsius(series["outdoor_K"])),
    ]
    goal = sheet.goal.air
    levels = [] if goal is None else [("goal", goal.value - _ZERO_C_K)]
    heat = [(name, sum(parts) / 3.6e6) for name, parts in found.heat_J.items()]
    parts = [
        opening(found.headline, found.reasons),
        plot("Through the time shown", ("time", unit), ("temperature", "°C"), xs, curves, levels),
        '<div class="columns"><section><h2>In sum</h2>',
        simple_figures(_ROWS, found.totals),
        "</section><section><h2>What warms the place's air, and what cools it</h2>",
        bars(sorted(heat, key=lambda row: -row[1]), unit="kWh"),
        "</section></div>",
        "<section><h2>Findings</h2>",
        findings(found.findings, empty="Nothing found."),
        "</section>",
    ]
    return "".join(parts)


def _celsius(kelvin: list[float]) -> list[float | None]:
    return [each - _ZERO_C_K for each in kelvin]


VIEW = View(
    "day", "day", "What does a day look like?", below="verdict", answer=answer,
    codes=("CW-DAY", "CW-WEATHER"), options={"tries": "many"},
)  # fmt: skip
