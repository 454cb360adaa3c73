"""Small pictures in text: the pull-down as a curve of dots, and bars beside numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coldwright.faces.cli.figures import Interval, plain, span_of_time
from coldwright.faces.cli.page import Line, Page, columns, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display

_ROWS = 9
_BAR = 24
# A cell of eight dots, two wide and four high: the bits of its character.
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BLANK = 0x2800
_ZERO_C_K = 273.15


def put_bars(page: Page, rows: Sequence[tuple[str, Interval]]) -> None:
    """Heat by cause [W], each with a bar: filled for what comes in, hollow for what goes out."""
    largest = max(abs(value.value or 0.0) for _, value in rows)
    text = max(columns(cause) for cause, _ in rows)
    digits = 0 if largest >= 20.0 else 1 if largest >= 2.0 else 2
    numbers = [plain(value.value or 0.0, digits) for _, value in rows]
    number = max(columns(one) for one in numbers)
    page.line()
    for (cause, value), one in zip(rows, numbers, strict=True):
        amount = value.value or 0.0
        if round(amount, digits) == 0.0:
            continue
        length = round(_BAR * abs(amount) / largest) if largest else 0
        bar = ("█" if amount > 0.0 else "░") * max(1, length)
        note = "  takes heat away" if amount < 0.0 else ""
        page.line(
            f"  {padded(_capital(cause), text)}  ",
            (f"{padded(one, number, right=True)}{THIN_SPACE}W", "strong"),
            "  ",
            (bar, "hot" if amount > 0.0 else "cold"),
            (note, "soft"),
        )


def put_pull_down(page: Page, history: Mapping[str, Sequence[float]], goal_K: float | None) -> None:
    """The air of the place against time, with the goal as a broken line."""
    times, air = history.get("time_s", ()), history.get("place_air_K", ())
    if len(times) < 2 or not page.draws or not times[-1] > times[0]:
        return
    held = [*air, *(() if goal_K is None else (goal_K,))]
    low, high = _axis(min(held) - _ZERO_C_K, max(held) - _ZERO_C_K)
    width = page.width - 26
    cells = _curve(times, [kelvin - _ZERO_C_K for kelvin in air], low, high, width)
    goal_row = -1
    if goal_K is not None:
        goal_row = min(_ROWS - 1, int((high - (goal_K - _ZERO_C_K)) / (high - low) * _ROWS))
    page.heading("Air of the place after switching on")
    page.line()
    end_row = _last_row(cells)
    digits = 0 if (low + high) % 2.0 == 0.0 else 1
    for row in range(_ROWS):
        at = high - (high - low) * row / (_ROWS - 1)
        scale = f"{plain(at, digits)}{THIN_SPACE}°C" if row in _LABELLED else ""
        spans: list[tuple[str, str]] = [(f"{padded(scale, 9, right=True)} │", "soft")]
        spans += _cells(cells[row], broken=row == goal_row)
        spans.append(_beside(row, goal_row, end_row, goal_K, air[-1]))
        page.line(*spans)
    page.line((f"{' ' * 10}└{'─' * width}", "soft"))
    end = span_of_time(times[-1])
    page.line((f"{' ' * 11}0{padded(end, width - 1, right=True)}", "soft"))


_LABELLED = (0, (_ROWS - 1) // 2, _ROWS - 1)


def _curve(
    times: Sequence[float], air: Sequence[float], low: float, high: float, width: int
) -> list[list[int]]:
    """Dots of the curve, as bits per cell: rows from above, each of `width` cells."""
    cells = [[0] * width for _ in range(_ROWS)]
    across, down = 2 * width, 4 * _ROWS
    before = None
    for dot in range(across):
        time = times[0] + (times[-1] - times[0]) * dot / (across - 1)
        share = (high - _at(times, air, time)) / (high - low)
        height = min(down - 1, max(0, round(share * (down - 1))))
        start = height if before is None else before
        # Where the curve is steep its dots touch, so that it reads as one line.
        for each in range(min(start, height), max(start, height) + 1):
            if each == height or abs(each - start) > 0:
                cells[each // 4][dot // 2] |= _DOTS[each % 4][dot % 2]
        before = height
    return cells


def _at(times: Sequence[float], air: Sequence[float], time: float) -> float:
    from bisect import bisect_right

    after = min(len(times) - 1, max(1, bisect_right(times, time)))
    first, second = times[after - 1], times[after]
    share = (time - first) / (second - first) if second > first else 1.0
    return air[after - 1] + share * (air[after] - air[after - 1])


def _cells(bits: Sequence[int], *, broken: bool) -> Line:
    spans: list[tuple[str, str]] = []
    for at, held in enumerate(bits):
        if held:
            sign, style = chr(_BLANK + held), "cold"
        elif broken:
            sign, style = ("─" if at % 2 == 0 else " "), "soft"
        else:
            sign, style = " ", ""
        if spans and spans[-1][1] == style:
            spans[-1] = (spans[-1][0] + sign, style)
        else:
            spans.append((sign, style))
    return tuple(spans)


def _beside(
    row: int, goal_row: int, end_row: int, goal_K: float | None, last_K: float
) -> tuple[str, str]:
    """What the line that ends here is called."""
    if row == end_row:
        return (f" {display('place_air_K', last_K)}", "strong")
    if row == goal_row and goal_K is not None:
        return (f" goal {display('goal_air_K', goal_K)}", "soft")
    return ("", "")


def _last_row(cells: Sequence[Sequence[int]]) -> int:
    return max((row for row, held in enumerate(cells) if held[-1]), default=-1)


def _axis(low: float, high: float) -> tuple[float, float]:
    """Bounds of the axis: round numbers around the values, never less than 2 K apart."""
    import math

    step = 1.0 if high - low <= 10.0 else 2.0 if high - low <= 20.0 else 5.0
    bottom, top = math.floor(low / step) * step, math.ceil(high / step) * step
    while top - bottom < 2.0:
        top += step
        if top - bottom < 2.0:
            bottom -= step
    return bottom, top


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
