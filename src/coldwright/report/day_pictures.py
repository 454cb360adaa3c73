"""Pictures of a day, a week or a year: temperatures, and the heat into the place by its causes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.day import Day
from coldwright.quantities.glossary import display
from coldwright.report.picture import PALETTE, label_margin, mark_limit, picture
from coldwright.sheet.models import Sheet

_ZERO_C_K, _HOUR_S, _DAY_H, _KWH_J = 273.15, 3600.0, 24, 3.6e6
# Up to so many hours each is drawn by itself; up to so many days each is; beyond, months.
_HOURS, _DAYS = 48, 40

# Causes in the order in which they are stacked, each with a fill and a hatch of its own, so that
# they are told apart in black and white too.
_FILLS: dict[str, tuple[str, str]] = {
    "walls": ("#ead9b8", ""),
    "windows, edges and leaks": ("#f6eedc", "\\\\\\"),
    "sun": ("#f0c067", ".."),
    "people and appliances": ("#d99a7e", ""),
    "outdoor air by itself": ("#d5ece4", "///"),
    "outdoor air that replaces the exhaust": ("#7dbda6", "///"),
    "hot air": ("#d8764f", "xx"),
    "hot duct": ("#e8c3b4", "---"),
    "losses of supply, converter and wires": ("#ece6f6", "oo"),
    "contents": ("#dedbd2", "|||"),
    "cold air": ("#3f6d9e", ""),
    "moisture buffer": ("#c5d5e4", "+++"),
    "water on the walls": ("#c5d5e4", "\\\\"),
    "condensate that stays": ("#c5d5e4", "**"),
}
# A cause below this share of all that flows is not drawn.
_HARDLY = 0.002
_LABEL_PT = 7.5


def draw_temperatures(day: Day, path: Path, design: Sheet) -> None:
    """Place with its lowest and highest, outdoors, contents and goal; below, how much it runs.

    Raises
    ------
    OutputError
        As `picture`.
    """
    with picture(path, height_mm=110.0) as figure:
        top, low = figure.subplots(2, 1, sharex=True, height_ratios=[4.0, 1.0])
        _temperatures(top, day, design)
        _running(low, day)
        _time_axis(low, day)
        _midnights(top, day)


def draw_heat(day: Day, path: Path) -> None:
    """Heat into the place's air by its causes, stacked above nought, and out of it below.

    Hours are shown in watts, days and months of longer stretches in kilowatt hours.

    Raises
    ------
    OutputError
        As `picture`.
    """
    bars = _bars(day)
    with picture(path, height_mm=105.0) as figure:
        axes = figure.subplots()
        bands = list(_stacked(axes, day, bars))
        axes.axhline(0.0, color=PALETTE["ink"], linewidth=0.8)
        axes.set_ylabel(f"heat into the air [{bars.unit}]")
        axes.set_title(f"What warms the place, and what cools it, {bars.each}")
        _room_above_and_below(axes, bands)
        axes.set_xlim(bars.starts_h[0], bars.starts_h[-1] + bars.widths_h[-1])
        _time_axis(axes, day)
        # The layout must stand before it is known how much room a name has.
        figure.draw_without_rendering()
        _name_bands(figure, axes, bars, bands)


@dataclass(frozen=True)
class _Bars:
    """How the hours are put together: where each bar begins, how wide it is, what it counts in."""

    starts_h: NDArray[np.float64]
    widths_h: NDArray[np.float64]
    groups: list[slice]
    unit: str
    each: str


@dataclass(frozen=True)
class _Band:
    """One cause on one side of nought: its heights and what it stands on."""

    name: str
    heights: NDArray[np.float64]
    base: NDArray[np.float64]


def _temperatures(axes: Any, day: Day, design: Sheet) -> None:
    middle_h, series = _middles(day)
    air, outdoor = series("place_air_K"), series("outdoor_K")
    lowest, highest = series("place_lowest_K", np.min), series("place_highest_K", np.max)
    axes.fill_between(middle_h, lowest, highest, color=PALETTE["cold"], alpha=0.18, linewidth=0.0)
    axes.plot(middle_h, outdoor, color=PALETTE["outdoor"], linestyle=(0, (5, 2)), linewidth=1.3)
    named = [(air[-1], "place", PALETTE["cold"]), (outdoor[-1], "outdoors", PALETTE["outdoor"])]
    if getattr(design.place, "contents", None) is not None:
        contents = series("contents_K")
        axes.plot(middle_h, contents, color=PALETTE["ink"], linestyle=(0, (1, 1.6)), linewidth=1.2)
        named.append((contents[-1], "contents", PALETTE["ink"]))
    axes.plot(middle_h, air, color=PALETTE["cold"])
    goal = design.goal.air
    if goal is not None:
        mark_limit(axes, goal.value - _ZERO_C_K, f"goal {display('goal_air_K', goal.value)}")
    low, high = axes.get_ylim()
    axes.set_ylim(low, high + 0.06 * (high - low))
    axes.set_xlim(*_ends_h(day))
    label_margin(axes, named)
    axes.set_ylabel("temperature [°C]")
    axes.set_title("Air of the place and outdoors")
    if highest.max() - lowest.min() > 0.0 and np.max(highest - lowest) > 0.3:
        span = "of the day" if len(day.series["start_s"]) > _DAY_H * _DAYS else "of the hour"
        axes.set_title(f"pale: lowest to highest {span}", loc="right", fontsize=8,
                       fontweight="normal", color=PALETTE["soft"])  # fmt: skip


def _running(axes: Any, day: Day) -> None:
    middle_h, series = _middles(day, offset=0.0)
    share = 100.0 * series("running_share")
    axes.fill_between(
        middle_h, 0.0, share, step="mid", facecolor=PALETTE["power_fill"], hatch="..",
        edgecolor=PALETTE["power"], linewidth=0.6,
    )  # fmt: skip
    axes.set_ylim(0.0, 105.0)
    axes.set_yticks([0, 50, 100])
    axes.set_ylabel("running [%]")


def _stacked(axes: Any, day: Day, bars: _Bars) -> Iterator[_Band]:
    """Draw the bars and give the bands of which they are made."""
    above, below = np.zeros(len(bars.groups)), np.zeros(len(bars.groups))
    flows = sum(float(np.abs(heat).sum()) for heat in day.heat_J.values())
    for name, (fill, hatch) in _FILLS.items():
        heat = np.array(day.heat_J.get(name, ()))
        if not len(heat) or np.abs(heat).sum() < _HARDLY * flows:
            continue
        if bars.unit == "W":
            amounts = np.array([heat[group].mean() for group in bars.groups]) / _HOUR_S
        else:
            amounts = np.array([heat[group].sum() for group in bars.groups]) / _KWH_J
        for part, base in ((np.maximum(amounts, 0.0), above), (np.minimum(amounts, 0.0), below)):
            if not part.any():
                continue
            axes.bar(
                bars.starts_h, part, bars.widths_h, bottom=base, align="edge", color=fill,
                hatch=hatch, edgecolor=PALETTE["soft"], linewidth=0.3,
            )  # fmt: skip
            yield _Band(name, part, base.copy())
            base += part


def _name_bands(figure: Any, axes: Any, bars: _Bars, bands: list[_Band]) -> None:
    """Names in the bands where they are thick enough, the others with a swatch below."""
    from matplotlib.patches import Patch

    box = axes.get_window_extent()
    per_point = figure.dpi / 72.0
    low, high = axes.get_ylim()
    first, last = axes.get_xlim()
    tall = (high - low) * _LABEL_PT * 1.35 * per_point / box.height
    taken: list[tuple[float, float, float, float]] = []
    thin: list[str] = []
    for band in sorted(bands, key=lambda one: -float(np.abs(one.heights).sum())):
        wide = (last - first) * len(band.name) * 0.52 * _LABEL_PT * per_point / box.width
        thick = np.abs(band.heights)
        # The name must not reach into bars where the band is thin, and stands best amid thick ones.
        under = int(np.ceil(0.5 * wide / float(np.median(bars.widths_h)) - 0.5))
        amid = _least_around(thick, max(1, under))
        for at in np.lexsort((-thick, -amid)):
            if thick[at] < tall or _least_around(thick, under)[at] < 0.5 * tall:
                continue
            y = band.base[at] + 0.5 * band.heights[at]
            middle = bars.starts_h[at] + 0.5 * bars.widths_h[at]
            x = min(max(middle, first + 0.55 * wide), last - 0.55 * wide)
            here = (x - 0.55 * wide, y - 0.5 * tall, x + 0.55 * wide, y + 0.5 * tall)
            if abs(x - middle) > 0.5 * wide or any(_overlap(here, other) for other in taken):
                continue
            taken.append(here)
            axes.text(
                x, y, band.name, ha="center", va="center", fontsize=_LABEL_PT,
                bbox={"boxstyle": "round,pad=0.12", "facecolor": PALETTE["card"],
                      "edgecolor": "none", "alpha": 0.92},
            )  # fmt: skip
            break
        else:
            thin.append(band.name)
    named = {text.get_text() for text in axes.texts}
    rest = [name for name in _FILLS if name in thin and name not in named]
    if rest:
        swatches = [
            Patch(facecolor=_FILLS[name][0], hatch=_FILLS[name][1], edgecolor=PALETTE["soft"],
                  linewidth=0.3, label=name)
            for name in rest
        ]  # fmt: skip
        figure.legend(
            handles=swatches, loc="outside lower left", ncols=3, frameon=False,
            fontsize=_LABEL_PT, handlelength=1.6, handleheight=1.1,
        )  # fmt: skip


def _least_around(numbers: NDArray[np.float64], beside: int) -> NDArray[np.float64]:
    """Least of each number and of as many on either side of it."""
    reach = max(0, beside)
    return np.array(
        [numbers[max(0, at - reach) : at + reach + 1].min() for at in range(len(numbers))]
    )


def _overlap(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _room_above_and_below(axes: Any, bands: list[_Band]) -> None:
    tops = [band.base + band.heights for band in bands] or [np.zeros(1)]
    low, high = min(float(one.min()) for one in tops), max(float(one.max()) for one in tops)
    room = 0.04 * max(high - min(low, 0.0), 1e-9)
    axes.set_ylim(min(low, 0.0) - room, max(high, 0.0) + room)


def _bars(day: Day) -> _Bars:
    starts_h = np.array(day.series["start_s"]) / _HOUR_S
    count = len(starts_h)
    if count <= _HOURS:
        hours = [slice(at, at + 1) for at in range(count)]
        return _Bars(starts_h, np.ones(count), hours, "W", "hour by hour")
    days = [slice(at, min(at + _DAY_H, count)) for at in range(0, count, _DAY_H)]
    if count <= _DAY_H * _DAYS:
        return _grouped(starts_h, days, "kWh", "day by day")
    months: list[slice] = []
    named: list[Any] = []
    for span in days:
        date = day.date(day.series["start_s"][span.start])
        name = date.month if date is not None else span.start // (30 * _DAY_H)
        if named and named[-1] == name:
            months[-1] = slice(months[-1].start, span.stop)
        else:
            months.append(span)
            named.append(name)
    return _grouped(starts_h, months, "kWh", "month by month")


def _grouped(starts_h: NDArray[np.float64], spans: list[slice], unit: str, each: str) -> _Bars:
    starts = np.array([starts_h[span.start] for span in spans])
    widths = np.array([float(span.stop - span.start) for span in spans])
    return _Bars(starts, widths, spans, unit, each)


def _middles(day: Day, *, offset: float = _ZERO_C_K) -> tuple[NDArray[np.float64], Any]:
    """Middles of the points [h], and a function that gives a series there: hours, or days."""
    starts_h = np.array(day.series["start_s"]) / _HOUR_S
    width = _DAY_H if len(starts_h) > _DAY_H * _DAYS else 1
    count = len(starts_h) // width

    def series(name: str, put_together: Any = np.mean) -> NDArray[np.float64]:
        numbers = np.array(day.series[name])[: count * width].reshape(count, width)
        return np.asarray(put_together(numbers, axis=1) - offset)

    return starts_h[: count * width : width] + 0.5 * width, series


def _ends_h(day: Day) -> tuple[float, float]:
    starts = day.series["start_s"]
    return starts[0] / _HOUR_S, starts[-1] / _HOUR_S + 1.0


def _midnights(axes: Any, day: Day) -> None:
    first, last = _ends_h(day)
    if _HOURS < last - first <= _DAY_H * _DAYS:
        for number in range(int(first // _DAY_H) + 1, int(last // _DAY_H) + 1):
            axes.axvline(_DAY_H * number, color=PALETTE["selected"], linewidth=0.8, zorder=0)


def _time_axis(axes: Any, day: Day) -> None:
    """Clock times, days or months below, whichever fits the stretch."""
    first, last = _ends_h(day)
    if last - first <= _HOURS:
        axes.set_xticks(range(0, round(last) + 1, 3))
        axes.set_xlabel("time on the clock [h]")
        return
    numbers = range(int(first // _DAY_H), int((last - 1e-6) // _DAY_H) + 1)
    is_year = last - first > _DAY_H * _DAYS
    marks: list[tuple[float, str]] = []
    for number in numbers:
        date = day.date(number * 86400.0)
        if is_year and date is not None and date.day == 15:
            marks.append((_DAY_H * number, f"{date:%b}"))
        elif is_year and date is None and number % 30 == 0:
            marks.append((_DAY_H * number, f"day {number + 1}"))
        elif not is_year and _DAY_H * number + 12.0 <= last:
            name = f"{date.day} {date:%b}" if date is not None else f"day {number + 1}"
            marks.append((_DAY_H * number + 12.0, name))
    every = max(1, len(marks) // 14 + 1)
    axes.set_xticks([at for at, _ in marks[::every]], [name for _, name in marks[::every]])
    axes.tick_params(axis="x", length=0.0)
    _midnights(axes, day)


__all__ = ["draw_heat", "draw_temperatures"]
