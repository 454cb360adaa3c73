"""Curves in text: cells of eight dots, a scale at the left, names at the right, marks below."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from coldwright.faces.cli.page import Line, Page, columns, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.report.figures import plain

# A cell of eight dots, two wide and four high: the bits of its character.
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BLANK = 0x2800
_SCALE = 9
_BESIDE = 15


@dataclass(frozen=True, slots=True)
class Curve:
    """A line through points, called at its end by `text`.

    A `thin` one has gaps between its dots, so that two curves are told apart without colour.
    """

    xs: Sequence[float]
    ys: Sequence[float]
    text: str
    style: str = "cold"
    thin: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """A value that counts, such as the goal: a broken line across, called at its end by `text`."""

    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark below the chart, centred there; with `points` a caret stands exactly below."""

    x: float
    text: str
    points: bool = False


def put_chart(
    page: Page,
    curves: Sequence[Curve],
    *,
    levels: Sequence[Level] = (),
    ticks: Sequence[Tick] = (),
    unit: str = "°C",
    rows: int = 9,
) -> None:
    """Curves over one axis; nothing where the stream cannot take dots, or there is no curve."""
    drawn = [curve for curve in curves if len(curve.xs) > 1 and curve.xs[-1] > curve.xs[0]]
    if not drawn or not page.draws:
        return
    held = [y for curve in drawn for y in curve.ys if math.isfinite(y)]
    if not held:
        return
    held += [level.y for level in levels]
    low, high = _around(min(held), max(held))
    names = [(curve.ys[-1], curve.text, "strong") for curve in drawn]
    names += [(level.y, level.text, "soft") for level in levels]
    beside = max(_BESIDE, *(columns(text) + 2 for _, text, _ in names))
    width = page.width - _SCALE - 2 - beside
    start, end = min(curve.xs[0] for curve in drawn), max(curve.xs[-1] for curve in drawn)
    cells = [_dots(curve, start, end, low, high, width, rows) for curve in drawn]
    broken = {_row(level.y, low, high, rows) for level in levels}
    called = _called(names, low, high, rows)
    digits = 0 if (low + high) % 2.0 == 0.0 else 1
    page.line()
    for row in range(rows):
        at = high - (high - low) * row / (rows - 1)
        shown = row in (0, (rows - 1) // 2, rows - 1)
        scale = f"{plain(at, digits)}{THIN_SPACE}{unit}" if shown else ""
        spans: list[tuple[str, str]] = [(f"{padded(scale, _SCALE, right=True)} │", "soft")]
        over = [(dots[row], curve.style) for dots, curve in zip(cells, drawn, strict=True)]
        spans += _cells(over, width, broken=row in broken)
        if row in called:
            text, style = called[row]
            spans.append((f" {text}", style))
        page.line(*spans)
    page.line((f"{' ' * (_SCALE + 1)}└{'─' * width}", "soft"))
    if ticks:
        below = _marks(ticks, start, end, width)
        page.line((f"{' ' * (_SCALE + 2)}{below}".rstrip(), "soft"))


def _dots(
    curve: Curve, start: float, end: float, low: float, high: float, width: int, rows: int
) -> list[list[int]]:
    """Dots of a curve as bits per cell: rows from above, each of `width` cells."""
    cells = [[0] * width for _ in range(rows)]
    across, down = 2 * width, 4 * rows
    before = None
    for dot in range(across):
        x = start + (end - start) * dot / (across - 1)
        y = _at(curve.xs, curve.ys, x)
        if not curve.xs[0] <= x <= curve.xs[-1] or not math.isfinite(y):
            before = None
            continue
        height = min(down - 1, max(0, round((high - y) / (high - low) * (down - 1))))
        first = height if before is None or curve.thin else before
        before = height
        if curve.thin and dot % 3 != 0:
            continue
        # Where the curve is steep its dots touch, so that it reads as one line.
        for each in range(min(first, height), max(first, height) + 1):
            if each == height or each != first:
                cells[each // 4][dot // 2] |= _DOTS[each % 4][dot % 2]
    return cells


def _at(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    after = min(len(xs) - 1, max(1, bisect_right(xs, x)))
    first, second = xs[after - 1], xs[after]
    share = (x - first) / (second - first) if second > first else 1.0
    return ys[after - 1] + share * (ys[after] - ys[after - 1])


def _cells(over: Sequence[tuple[Sequence[int], str]], width: int, *, broken: bool) -> Line:
    """One row of cells; where curves share a cell it has the style of the first."""
    spans: list[tuple[str, str]] = []
    for at in range(width):
        bits, style = 0, ""
        for row, curve_style in over:
            if row[at]:
                bits |= row[at]
                style = style or curve_style
        if bits:
            sign = chr(_BLANK + bits)
        elif broken:
            sign, style = ("─" if at % 2 == 0 else " "), "soft"
        else:
            sign = " "
        if spans and spans[-1][1] == style:
            spans[-1] = (spans[-1][0] + sign, style)
        else:
            spans.append((sign, style))
    return tuple(spans)


def _row(y: float, low: float, high: float, rows: int) -> int:
    return min(rows - 1, max(0, int((high - y) / (high - low) * rows)))


def _called(
    names: Sequence[tuple[float, str, str]], low: float, high: float, rows: int
) -> dict[int, tuple[str, str]]:
    """Row -> name and style: each at its height, or in the nearest free row, in their order."""
    called: dict[int, tuple[str, str]] = {}
    for y, text, style in sorted(names, key=lambda name: -name[0]):
        if not text or not math.isfinite(y):
            continue
        wanted = _row(y, low, high, rows)
        free = [row for row in range(rows) if row not in called]
        # Below the names that belong above it, as far as there is room.
        under = [row for row in free if row > max(called, default=-1)]
        called[min(under or free, key=lambda row: abs(row - wanted))] = (text, style)
    return called


def _marks(ticks: Sequence[Tick], start: float, end: float, width: int) -> str:
    """The marks in one line, those that point first; one that finds no room is left out."""
    line = [" "] * width
    for tick in sorted(ticks, key=lambda one: not one.points):
        at = min(width - 1, max(0, round((tick.x - start) / (end - start) * (width - 1))))
        text, first = tick.text, at - columns(tick.text) // 2
        if tick.points:
            fits = at + columns(text) + 2 <= width
            first = at if fits else at - columns(text) - 1
            text = f"^ {text}" if fits else f"{text} ^"
        size = columns(text)
        first = min(max(0, first), width - size)
        if first >= 0 and not "".join(line[max(0, first - 2) : first + size + 2]).strip():
            line[first : first + size] = list(text)
    return "".join(line)


def _around(low: float, high: float) -> tuple[float, float]:
    """Bounds of the axis: round numbers around the values, never less than 2 apart."""
    step = 1.0 if high - low <= 10.0 else 2.0 if high - low <= 20.0 else 5.0
    bottom, top = math.floor(low / step) * step, math.ceil(high / step) * step
    while top - bottom < 2.0:
        top += step
        if top - bottom < 2.0:
            bottom -= step
    return bottom, top
