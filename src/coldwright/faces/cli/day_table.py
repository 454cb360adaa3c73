"""The time of a day, a week or a year: a chart, and below it a narrow table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from coldwright.faces.cli.dots import Curve, Level, Tick, put_chart
from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.glossary import display
from coldwright.report.figures import plain

if TYPE_CHECKING:
    from coldwright.answers.day import Day
    from coldwright.sheet.models import Sheet

_ZERO_C_K, _KWH_J, _DAY_H = 273.15, 3.6e6, 24
_ROWS = 11
# Up to so many hours each third hour has a row; up to so many days each day has one.
_HOURS, _DAYS = 48, 40
Rows = list[tuple[str, slice]]


def put_time(page: Page, answer: Day, design: Sheet) -> None:
    """Place and outdoors as curves with the goal, then figures by hours, days or months."""
    count = len(answer.series["start_s"])
    kind = "Hour by hour" if count <= _HOURS else "Day by day"
    if count > _DAY_H * _DAYS:
        kind = "Month by month"
    note = answer.weather
    if not answer.first_day and count == _DAY_H and answer.days_followed > 1.0:
        note += f"; day {answer.days_followed:.0f}, like the one before it"
    page.heading(kind, note)
    _put_chart(page, answer, design)
    page.line()
    if count <= _HOURS:
        _put_table(page, _HOUR_HEAD, _by_hours(answer, design))
    else:
        _put_table(page, _DAY_HEAD, _by_days(answer))


def _put_chart(page: Page, answer: Day, design: Sheet) -> None:
    series = answer.series
    start_h = [second / 3600.0 for second in series["start_s"]]
    # Over a year an hour is no wider than a hair: days are drawn.
    width = _DAY_H if len(start_h) > _DAY_H * _DAYS else 1
    spans = [slice(at, at + width) for at in range(0, len(start_h), width)]
    middle_h = [start_h[span][0] + 0.5 * width for span in spans]
    place = [_mean(series["place_air_K"][span]) - _ZERO_C_K for span in spans]
    outdoors = [_mean(series["outdoor_K"][span]) - _ZERO_C_K for span in spans]
    if width > 1:
        page.line(("  means of the days", "soft"))
    goal = design.goal.air
    put_chart(
        page,
        [
            Curve(middle_h, place, "place"),
            Curve(middle_h, outdoors, "outdoors", style="hot", thin=True),
        ],
        levels=[]
        if goal is None
        else [Level(goal.value - _ZERO_C_K, f"goal {display('goal_air_K', goal.value)}")],
        ticks=list(_ticks(answer, start_h)),
        rows=_ROWS,
    )


def _ticks(answer: Day, start_h: Sequence[float]) -> Iterator[Tick]:
    """Clock times in a day, midnights of days with their names, beginnings of months."""
    first, last = start_h[0], start_h[-1] + 1.0
    if last - first <= _HOURS:
        for hour in range(0, round(last) + 1, 6):
            yield Tick(hour, f"{hour % 24:02d}:00" if hour % 24 or hour == 0 else "24:00")
        return
    each_day = range(int(first // _DAY_H), int(last // _DAY_H) + 1)
    if last - first <= _DAY_H * _DAYS:
        for day in each_day:
            # The name of a day stands under its noon.
            yield Tick(_DAY_H * day + 12.0, _day_name(answer, day))
        return
    for day in each_day:
        date = answer.date(86400.0 * day)
        if date is not None and date.day == 1 and date.month % 2 == 1:
            yield Tick(_DAY_H * day + 12.0, f"{date:%b}")


_HOUR_HEAD = ("clock", "place", "outdoors", "contents", "humidity", "running", "electricity")
_DAY_HEAD = ("", "place", "hottest", "coolest", "outdoors", "running", "electricity", "water")


def _by_hours(answer: Day, design: Sheet) -> Iterator[tuple[str, ...]]:
    series = answer.series
    yield ("", "°C", "°C", "°C", "%", "%", "kWh")
    has_contents = getattr(design.place, "contents", None) is not None
    starts = series["start_s"]
    for at in range(0, len(starts), 3):
        span = slice(at, at + 3)
        hour = starts[at] / 3600.0 % _DAY_H
        end = hour + len(starts[span])
        yield (
            f"{hour:02.0f}–{end:02.0f} h",
            _celsius(_mean(series["place_air_K"][span])),
            _celsius(_mean(series["outdoor_K"][span])),
            _celsius(_mean(series["contents_K"][span])) if has_contents else "",
            plain(100.0 * _mean(series["relative_humidity"][span]), 0),
            plain(100.0 * _mean(series["running_share"][span]), 0),
            plain(sum(series["plug_J"][span]) / _KWH_J, 2),
        )


def _by_days(answer: Day) -> Iterator[tuple[str, ...]]:
    series = answer.series
    condenses = sum(series["condensate_kg"]) > 1e-3
    by_month = len(series["start_s"]) > _DAY_H * _DAYS
    yield ("", "°C", "°C", "°C", "°C", "%", "kWh", ("kg" if by_month else "g") if condenses else "")
    for name, span in _months(answer) if by_month else _days(answer):
        water_kg = sum(series["condensate_kg"][span])
        shown = plain(water_kg, 1) if by_month else plain(1000.0 * water_kg, 0)
        yield (
            name,
            _celsius(_mean(series["place_air_K"][span])),
            _celsius(max(series["place_highest_K"][span])),
            _celsius(min(series["place_lowest_K"][span])),
            _celsius(_mean(series["outdoor_K"][span])),
            plain(100.0 * _mean(series["running_share"][span]), 0),
            plain(sum(series["plug_J"][span]) / _KWH_J, 1 if by_month else 2),
            shown if condenses else "",
        )


def _days(answer: Day) -> Rows:
    """Rows of 24 hours from the beginning, called by the day in which they begin."""
    starts = answer.series["start_s"]
    return [
        (_day_name(answer, int(starts[at] // 86400.0)), slice(at, at + _DAY_H))
        for at in range(0, len(starts), _DAY_H)
    ]


def _months(answer: Day) -> Rows:
    """Rows by month where the date is known, else by 30 days."""
    starts = answer.series["start_s"]
    rows: Rows = []
    begin, name = 0, ""
    for at in range(0, len(starts), _DAY_H):
        day = int(starts[at] // 86400.0)
        date = answer.date(86400.0 * day)
        here = f"{date:%B}" if date else f"days {30 * (day // 30) + 1} to {30 * (day // 30) + 30}"
        if here != name:
            if name:
                rows.append((name, slice(begin, at)))
            begin, name = at, here
    return [*rows, (name, slice(begin, len(starts)))]


def _day_name(answer: Day, day: int) -> str:
    date = answer.date(86400.0 * day)
    return f"{date.day} {date:%b}" if date else f"day {day + 1}"


def _put_table(page: Page, head: tuple[str, ...], rows: Iterator[tuple[str, ...]]) -> None:
    held = [head, *rows]
    shown = [at for at in range(len(head)) if at == 0 or any(row[at] for row in held[1:])]
    widths = {at: max(columns(row[at]) for row in held) for at in shown}
    for number, row in enumerate(held):
        name, *figures = (padded(row[at], widths[at], right=at > 0) for at in shown)
        page.line(f"  {name}  ", ("  ".join(figures), "soft" if number < 2 else ""))


def _celsius(kelvin: float) -> str:
    return plain(kelvin - _ZERO_C_K, 1)


def _mean(numbers: Sequence[float]) -> float:
    return sum(numbers) / len(numbers)
