"""The best points of a design in one table, with what binds them; and the way along the volts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from coldwright.faces.cli.dots import Curve, Level, Tick, put_chart
from coldwright.faces.cli.page import Page, columns, joined, padded
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display, entry
from coldwright.quantities.units import conversion
from coldwright.report.figures import figure, plain

if TYPE_CHECKING:
    from coldwright.answers.aims import Best
    from coldwright.answers.tune import Tune
    from coldwright.sheet.models import Sheet

_ZERO_C_K = 273.15
# Short names for the table; the full ones stand below it.
_SHORT = {
    "best COP with half of the best cooling": "best COP *",
    "quietest that reaches the goal": "quietest at goal",
    "cheapest that reaches the goal": "cheapest at goal",
}
_KNOBS = {
    "voltage_V": "volts", "current_A": "amperes", "module_power_W": "watts", "duty": "duty",
    "pumped_W": "heat",
}  # fmt: skip
_TEMPERATURES = (("place_air_K", "place"), ("cold_sink_K", "plate"))


def put_best(page: Page, answer: Tune, design: Sheet) -> None:
    """A row for the sheet's own point and for each aim, then a line on each aim."""
    note = f"between: the middle 90\u2009% of {answer.tries:,} tries" if answer.tries else ""
    page.heading("What to run it at, by what is wanted", note)
    page.line()
    _put_table(page, answer, design)
    if any("half" in best.aim and best.drive is not None for best in answer.best):
        page.line(("  * with at least half of the best net cooling", "soft"))
    note = "net: net cooling where it levels off; COP: that over plug power"
    if design.place.kind == "plate":
        note = "COP: heat taken from the plate over plug power"
    page.line((f"  {note}", "soft"))
    page.line()
    for best in answer.best:
        page.text(_told(answer, best, design), indent=4, first="  · ")


def _put_table(page: Page, answer: Tune, design: Sheet) -> None:
    is_plate = design.place.kind == "plate"
    level = "cold_sink_K" if is_plate else "place_air_K"
    unit = "%" if answer.axis == "duty" else entry(answer.axis).display_unit
    names: list[tuple[str, str, str]] = [
        (level, "plate" if is_plate else "place", "°C"),
        ("cooling_W", "cools", "W"),
        ("net_cooling_W", "net", "W"),
        ("plug_power_W", "plug", "W"),
        ("cop_system" if is_plate else "cop_net", "COP", ""),
        ("sound_dB", "dB", ""),
    ]
    head = ("", _KNOBS[answer.axis], "cold", "hot", *(word for _, word, _ in names))
    units = ("", unit, "fan %", "fan %", *(each for _, _, each in names))
    now = dict(answer.now)
    now["place_air_K"] = now.get("place_K", math.nan)
    if "place_air_K" not in answer.maps:
        now.pop("place_air_K")
    rows = [_row("as in the sheet", answer, now, [name for name, _, _ in names])]
    for best in answer.best:
        if best.drive is None:
            continue
        held: dict[str, float] = {
            "drive": best.drive,
            "cold_speed": best.cold_speed or 0.0,
            "hot_speed": best.hot_speed or 0.0,
        }
        held |= {name: one.value for name, one in best.figures.items() if one.value is not None}
        rows.append(_row(_SHORT.get(best.aim, best.aim), answer, held, [n for n, _, _ in names]))
    table = [head, units, *rows]
    shown = [at for at in range(len(head)) if at == 0 or any(row[at] for row in rows)]
    widths = {at: max(columns(row[at]) for row in table) for at in shown}
    for number, row in enumerate(table):
        name, *figures = (padded(row[at], widths[at], right=at > 0) for at in shown)
        style = "soft" if number < 2 else "" if number == 2 else "strong"
        page.line(f"  {name}  ", ("  ".join(figures), style))


def _row(
    name: str, answer: Tune, held: Mapping[str, float], names: list[str]
) -> tuple[str, ...]:  # fmt: skip
    def speed(key: str, axis: list[float]) -> str:
        return plain(100.0 * held[key], 0) if len(axis) > 1 else ""

    return (
        name[:1].upper() + name[1:],
        _drive(answer, held["drive"]),
        speed("cold_speed", answer.cold_speed),
        speed("hot_speed", answer.hot_speed),
        *(_number(key, held.get(key)) for key in names),
    )


def _drive(answer: Tune, drive: float) -> str:
    if answer.axis == "duty":
        return plain(100.0 * drive, 0)
    factor, _ = conversion(entry(answer.axis).display_unit, entry(answer.axis).kind)
    return plain(drive / factor, 1 if drive / factor < 99.95 else 0)


def _number(name: str, number: float | None) -> str:
    if number is None or not math.isfinite(number):
        return ""
    if name.endswith("_K"):
        return plain(number - _ZERO_C_K, 1)
    if name.startswith("cop"):
        return plain(number, 2)
    return plain(number, 0 if abs(number) >= 9.95 else 1)


def _told(answer: Tune, best: Best, design: Sheet) -> str:
    """What one aim comes to, what holds it back, and what a knob 10 % off costs."""
    aim = best.aim[:1].upper() + best.aim[1:]
    if best.drive is None:
        return f"{aim}: nothing within reach does that within every limit."
    parts = [f"{aim}: {_figure(best)}."]
    if best.reached is not None:
        tries = f"{100.0 * best.reached:.0f}"
        parts.append(f"It gets there in {tries} of 100 tries; a kelvin in hand makes it safer.")
    if best.binding:
        held = joined(_limit(name, design) for name in best.binding)
        parts.append(f"Held back by {held}.")
    end = _end(answer, best, design)
    if end:
        parts.append(end)
    off = _off(answer, best)
    if off:
        parts.append(off)
    return " ".join(parts)


def _figure(best: Best) -> str:
    value = best.figures.get(best.unit)
    if value is None:
        return "not known"
    found = figure(best.unit, value)
    return f"{found.text} ({found.low}–{found.high})" if found.span else found.text


def _limit(name: str, design: Sheet) -> str:
    from coldwright.answers.tune_sentences import LIMITS

    part: Any = design.goal if name in ("max_plug_power", "max_sound") else design.limits
    return f"{LIMITS[name]} ({getattr(part, name).text})"


def _end(answer: Tune, best: Best, design: Sheet) -> str:
    """Whether the best point lies at the end of what can be given."""
    supply = design.power.supply if design.power is not None else None
    if best.drive is None or best.drive < answer.drive[-1] * (1.0 - 1e-9):
        return ""
    is_supply = supply is not None and abs(supply.voltage.value - answer.drive[-1]) < 1e-9
    if answer.axis == "voltage_V" and supply is not None and is_supply:
        return f"That is all of the supply's {display('voltage_V', supply.voltage.value)}."
    return f"That is the highest that was looked at, {_words(answer, answer.drive[-1])}."


def _off(answer: Tune, best: Best) -> str:
    knobs = {"drive": _KNOBS[answer.axis], "cold_speed": "cold fan", "hot_speed": "hot fan"}
    parts = []
    for knob, loss in best.off_by_tenth.items():
        if not math.isfinite(loss):
            continue
        if best.unit.endswith("_K"):
            size = plain(loss, 1 if loss >= 0.95 else 2) + f"{THIN_SPACE}K"
        elif best.unit == "sound_dB":
            size = plain(loss, 1) + f"{THIN_SPACE}dB"
        elif best.unit.startswith("cop"):
            size = plain(loss, 2)
        else:
            size = plain(loss, 0 if loss >= 9.95 else 1) + f"{THIN_SPACE}W"
        if float(size.partition(THIN_SPACE)[0]) > 0.0:
            parts.append(f"{knobs[knob]} {size}")
    if not parts:
        return ""
    miss = ", or misses the goal" if "goal" in best.aim else ""
    return f"10 % off costs at most: {', '.join(parts)}{miss}."


def put_way(page: Page, answer: Tune, design: Sheet) -> None:
    """How cold it gets (or how much is moved) along what is set, both fans as in the sheet."""
    cold, hot = (
        _nearest(answer.cold_speed, answer.now["cold_speed"]),
        _nearest(answer.hot_speed, answer.now["hot_speed"]),
    )
    in_open_air = design.place.kind == "open_air"
    name = "net_cooling_W" if in_open_air else "place_air_K"
    if design.place.kind == "plate":
        name = "cold_sink_K"
    offset = 0.0 if in_open_air else _ZERO_C_K
    points = [
        (drive, float(answer.maps[name][at, cold, hot]) - offset)
        for at, drive in enumerate(answer.drive)
        if math.isfinite(answer.maps[name][at, cold, hot])
    ]
    if len(points) < 2:
        return
    what = "How much is moved" if in_open_air else "How cold it gets"
    page.heading(f"{what} along the {_KNOBS[answer.axis]}", "fans as the sheet has them")
    goal = None if in_open_air else design.goal.plate if name == "cold_sink_K" else design.goal.air
    xs, ys = [x for x, _ in points], [y for _, y in points]
    last = display(name, ys[-1] + offset)
    put_chart(
        page,
        [Curve(xs, ys, last)],
        levels=[]
        if goal is None
        else [Level(goal.value - _ZERO_C_K, f"goal {display('goal_air_K', goal.value)}")],
        ticks=list(_ticks(answer, xs, ys, in_open_air)),
        unit="W" if in_open_air else "°C",
    )


def _ticks(answer: Tune, xs: list[float], ys: list[float], in_open_air: bool) -> Iterator[Tick]:
    now = answer.now["drive"]
    best = xs[ys.index(max(ys) if in_open_air else min(ys))]
    yield Tick(xs[0], _words(answer, xs[0]))
    yield Tick(now, f"{_words(answer, now)} now", points=True)
    if best < xs[-1] and abs(best - now) > 0.02 * xs[-1]:
        yield Tick(best, f"best {_words(answer, best)}", points=True)
    yield Tick(xs[-1], _words(answer, xs[-1]))


def _words(answer: Tune, drive: float) -> str:
    if answer.axis == "duty":
        return f"{100.0 * drive:.0f}{THIN_SPACE}%"
    return display(answer.axis, drive)


def _nearest(axis: list[float], value: float) -> int:
    return min(range(len(axis)), key=lambda at: abs(axis[at] - value))
