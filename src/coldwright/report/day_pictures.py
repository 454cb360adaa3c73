"""Pictures of a day: temperatures with the goal, and the heat into the place by its causes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from coldwright.answers.day import Day
from coldwright.quantities.glossary import display
from coldwright.report.picture import PALETTE, mark_limit, picture

# Causes in the order they are stacked, with fill and hatch (readable in black and white).
_FILLS: dict[str, tuple[str, str]] = {
    "walls": ("#e9d8b4", ""),
    "windows, edges and leaks": ("#d9c08a", "..."),
    "sun": ("#f3e2a0", "ooo"),
    "people and appliances": ("#e3a26a", "\\\\\\"),
    "outdoor air by itself": ("#d5ece4", "///"),
    "outdoor air that replaces the exhaust": ("#8fcab5", "////"),
    "hot air": ("#d8764f", "xxx"),
    "hot duct": ("#e8b59d", "---"),
    "losses of supply, converter and wires": ("#c9b6e0", "..."),
    "contents": ("#d0cdc4", "|||"),
    "cold air": ("#5b86b4", ""),
    "moisture buffer": ("#bcd0e0", "++"),
    "water on the walls": ("#a9c2d8", "**"),
    "condensate that stays": ("#9fb3c4", "oo"),
}


def draw_day(day: Day, path: Path, *, goal_K: float | None = None) -> None:
    """Temperatures above, heat by cause below, over the time shown."""
    start_h = np.array(day.series["start_s"]) / 3600.0
    step_h = float(start_h[1] - start_h[0]) if len(start_h) > 1 else 1.0
    group = max(1, len(start_h) // 400)
    with picture(path, height_mm=150.0) as figure:
        top, low = figure.subplots(2, 1, sharex=True, height_ratios=[1.0, 1.2])
        _temperatures(top, day, start_h + 0.5 * step_h, goal_K)
        _heat(low, day, start_h, step_h, group)
        low.set_xlabel("clock [h]" if len(start_h) <= 48 else "hours from the first midnight [h]")


def _temperatures(axes: Any, day: Day, middle_h: Any, goal_K: float | None) -> None:
    place = np.array(day.series["place_air_K"]) - 273.15
    outdoor = np.array(day.series["outdoor_K"]) - 273.15
    low = np.array(day.series["place_lowest_K"]) - 273.15
    high = np.array(day.series["place_highest_K"]) - 273.15
    axes.fill_between(middle_h, low, high, color=PALETTE["cold"], alpha=0.15, linewidth=0)
    axes.plot(middle_h, place, color=PALETTE["cold"], label="place")
    axes.plot(middle_h, outdoor, color=PALETTE["outdoor"], linestyle=(0, (5, 2)), label="outdoors")
    if goal_K is not None:
        mark_limit(axes, goal_K - 273.15, f"goal {display('goal_air_K', goal_K)}")
    axes.legend(
        loc="center left", bbox_to_anchor=(1.01, 0.5), frameon=False, fontsize=8.5,
        handlelength=2.2, labelcolor="linecolor",
    )  # fmt: skip
    axes.set_ylabel("temperature [°C]")
    axes.set_title("Place and outdoors")


def _heat(axes: Any, day: Day, start_h: Any, step_h: float, group: int) -> None:
    count = len(start_h) // group
    edges = start_h[: count * group : group]
    width = step_h * group
    above = np.zeros(count)
    below = np.zeros(count)
    shown: list[str] = []
    for name, (fill, hatch) in _FILLS.items():
        heat = np.array(day.heat_J.get(name, []))
        if not len(heat) or np.abs(heat).sum() < 0.002 * _flow(day):
            continue
        watts = heat[: count * group].reshape(count, group).mean(axis=1) / (3600.0 * step_h)
        for part, base in ((np.maximum(watts, 0.0), above), (np.minimum(watts, 0.0), below)):
            if np.abs(part).max() <= 0.0:
                continue
            axes.bar(
                edges, part, width, bottom=base, align="edge", color=fill, hatch=hatch,
                edgecolor=PALETTE["soft"], linewidth=0.25,
            )  # fmt: skip
            base += part
        shown.append(name)
    axes.axhline(0.0, color=PALETTE["ink"], linewidth=0.8)
    axes.set_ylabel("heat into the air [W]")
    axes.set_title("What warms the place, and what cools it")
    axes.set_xlim(edges[0], edges[-1] + width)
    _key(axes, shown)


def _key(axes: Any, shown: list[str]) -> None:
    """A swatch and a name for each cause in the margin, in the order they are stacked.

    A dozen thin bands cannot be labelled where they are; fill and hatch tell them apart.
    """
    from matplotlib.patches import Patch

    swatches = [
        Patch(
            facecolor=_FILLS[name][0], hatch=_FILLS[name][1], edgecolor=PALETTE["soft"],
            linewidth=0.25, label=name,
        )
        for name in reversed(shown)
    ]  # fmt: skip
    axes.legend(
        handles=swatches, loc="center left", bbox_to_anchor=(1.01, 0.5), frameon=False,
        fontsize=7.5, handlelength=1.6, handleheight=1.2, labelspacing=0.5,
    )  # fmt: skip


def _flow(day: Day) -> float:
    return float(sum(np.abs(heat).sum() for heat in day.heat_J.values()))
