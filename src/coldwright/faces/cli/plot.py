"""Small pictures in text: the pull-down as a curve of dots, and bars beside numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coldwright.faces.cli.dots import Curve, Level, Tick, put_chart
from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.display import THIN_SPACE, span_of_time
from coldwright.quantities.glossary import display
from coldwright.report.figures import Interval, plain

_BAR = 24
_ZERO_C_K = 273.15


def put_bars(
    page: Page, rows: Sequence[tuple[str, Interval]], unit: str = "W", digits: int | None = None
) -> None:
    """Heat by cause, each with a bar: filled for what comes in, hollow for what goes out."""
    largest = max(abs(value.value or 0.0) for _, value in rows)
    text = max(columns(cause) for cause, _ in rows)
    if digits is None:
        digits = 0 if largest >= 20.0 else 1 if largest >= 2.0 else 2
    numbers = [plain(value.value or 0.0, digits) for _, value in rows]
    number = max(columns(one) for one in numbers)
    room = page.width - text - number - columns(unit) - 7
    note = "  takes heat away" if room >= _BAR + 17 else "  out"
    bar_length = min(_BAR, room - columns(note))
    page.line()
    for (cause, value), one in zip(rows, numbers, strict=True):
        amount = value.value or 0.0
        if round(amount, digits) == 0.0:
            continue
        length = round(bar_length * abs(amount) / largest) if largest else 0
        bar = ("█" if amount > 0.0 else "░") * max(1, length)
        page.line(
            f"  {padded(_capital(cause), text)}  ",
            (f"{padded(one, number, right=True)}{THIN_SPACE}{unit}", "strong"),
            "  ",
            (bar, "hot" if amount > 0.0 else "cold"),
            (note if amount < 0.0 else "", "soft"),
        )


def put_pull_down(
    page: Page,
    history: Mapping[str, Sequence[float]],
    goal_K: float | None,
    *,
    judged_at: str = "",
) -> None:
    """The air of the place against time, with the goal as a broken line.

    In changing weather `judged_at` says which moment is taken to last.
    """
    times, air = history.get("time_s", ()), history.get("place_air_K", ())
    if len(times) < 2 or not page.draws or not times[-1] > times[0]:
        return
    page.heading(
        "Air of the place after switching on", f"if {judged_at} lasted" if judged_at else ""
    )
    levels = []
    if goal_K is not None:
        levels.append(Level(goal_K - _ZERO_C_K, f"goal {display('goal_air_K', goal_K)}"))
    put_chart(
        page,
        [Curve(times, [kelvin - _ZERO_C_K for kelvin in air], display("place_air_K", air[-1]))],
        levels=levels,
        ticks=[Tick(times[0], "0"), Tick(times[-1], span_of_time(times[-1]))],
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
