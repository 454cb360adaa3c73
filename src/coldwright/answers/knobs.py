"""The knobs of a design (what is set, both fan speeds), and a setting of them as edits."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coldwright.answers.change.amounts import times_text
from coldwright.answers.design import Design
from coldwright.answers.hill import highest
from coldwright.machine.records import Drive
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import RunAt, Sheet

SLOWEST, FASTEST = 0.1, 1.0
# A knob is told to four figures: no finer than a meter shows it.
_FIGURES = 4


@dataclass(frozen=True)
class Setting:
    """Where the knobs stand.

    Parameters
    ----------
    drive : float
        What is set, in the unit of its axis: V or A of the array, W, or a duty.
    cold_speed, hot_speed : float
        Speeds of the fans as shares of full speed.
    """

    drive: float
    cold_speed: float
    hot_speed: float


@dataclass(frozen=True)
class Knob:
    """One knob: its name, where it may stand, where it stands in the sheet."""

    name: str
    """ "drive", "cold_speed" or "hot_speed"."""
    axis: str
    """Glossary name of what it sets; "ratio" for a share."""
    least: float
    most: float
    now: float
    step: float


def knobs(design: Design) -> list[Knob]:
    """Knobs that this design has: none for what does not exist in it."""
    found = []
    drive = Drive(int(design.cooler["group"]["drive"][0, 0]))
    if drive != Drive.OFF:
        axis, most = highest(design)
        found.append(Knob("drive", axis, 0.0, most, design.set_drive, _step(most)))
    cooler = design.sheet.cooler
    for side, fan, speed in (
        ("cold_speed", cooler.cold_fan, cooler.cold_fan_speed),
        ("hot_speed", cooler.hot_fan, cooler.hot_fan_speed),
    ):
        if fan is None or (design.sheet.place.kind == "plate" and side == "cold_speed"):
            continue
        now = speed.value
        found.append(Knob(side, "ratio", min(SLOWEST, now), max(FASTEST, now), now, 0.01))
    return found


def edits(sheet: Sheet, now: Setting, wanted: Setting) -> dict[str, str]:
    """Edits of the sheet that bring its knobs from `now` to `wanted`; tolerances stay.

    Groups of modules with a `run_at` of their own keep their proportion to the first.
    """
    cooler = sheet.cooler
    found: dict[str, str] = {}
    if now.drive > 0.0 and not _same(now.drive, wanted.drive):
        for quantity in _drives(sheet):
            found[quantity.path] = times_text(quantity, _rounded(wanted.drive) / now.drive)
    for path, speed, before, after in (
        ("cooler.cold_fan_speed", cooler.cold_fan_speed, now.cold_speed, wanted.cold_speed),
        ("cooler.hot_fan_speed", cooler.hot_fan_speed, now.hot_speed, wanted.hot_speed),
    ):
        if not _same(before, after) and speed.value > 0.0:
            found[path] = times_text(speed, _rounded(after) / speed.value)
    return found


def setting_of(design: Design) -> Setting:
    """Where the knobs stand in the sheet."""
    cooler = design.sheet.cooler
    return Setting(design.set_drive, cooler.cold_fan_speed.value, cooler.hot_fan_speed.value)


def _drives(sheet: Sheet) -> Iterator[Quantity]:
    """Every quantity that sets modules: the cooler's own, and those of groups with their own."""
    ways: list[RunAt] = [sheet.cooler.run_at]
    ways += [group.run_at for group in sheet.cooler.modules if group.run_at is not None]
    for way in ways:
        yield way.chopped.duty if way.chopped is not None else getattr(way, way.way)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= 5e-5 * max(abs(one), abs(other))


def _rounded(value: float) -> float:
    return float(f"{value:.{_FIGURES}g}")


def _step(most: float) -> float:
    """About a three hundredth of the way, as 1, 2 or 5 of a decade."""
    raw = most / 300.0
    decade = 10.0 ** math.floor(math.log10(raw))
    return min((1.0, 2.0, 5.0, 10.0), key=lambda one: abs(math.log(raw / (one * decade)))) * decade
