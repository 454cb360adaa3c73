"""What a day of the place says in words."""

from __future__ import annotations

import numpy as np

from coldwright.answers.holding import Holding
from coldwright.answers.sentences import from_the_plug, with_interval
from coldwright.answers.value import Value
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Sheet


def day_headline(
    sheet: Sheet,
    totals: dict[str, Value],
    days: float,
    weather: str,
) -> str:
    """The one sentence on top."""
    word = "box" if isinstance(sheet.place, Box) else "room"
    highest = with_interval("place_air_K", totals["place_highest_K"])
    stretch = "the day" if days <= 1.01 else f"these {days:.0f} days"
    goal = sheet.goal.air
    if goal is None:
        return f"In {weather} the {word} comes to {highest} at its hottest."
    above_h = (totals["above_goal_s"].value or 0.0) / 3600.0
    if above_h < 0.05:
        return (
            f"All of {stretch} the {word} stays at or below {display('goal_air_K', goal.value)}; "
            f"at its hottest it is {highest}."
        )
    whole_h = 24.0 * days
    if above_h > 0.98 * whole_h:
        return (
            f"All of {stretch} the {word} is above {display('goal_air_K', goal.value)}: "
            f"{highest} at its hottest."
        )
    return (
        f"The {word} is above {display('goal_air_K', goal.value)} for {above_h:.0f} of "
        f"{whole_h:.0f} hours; {highest} at its hottest."
    )


def day_reasons(
    sheet: Sheet,
    series: dict[str, list[float]],
    totals: dict[str, Value],
    days: float,
    worst: int,
    held: list[Holding],
) -> list[str]:
    """The lines under it."""
    start_h = series["start_s"][worst] / 3600.0
    lines = [
        f"The worst hour is {_hour(start_h, days)}: "
        f"{display('place_air_K', series['place_air_K'][worst])} inside, "
        f"{display('place_air_K', series['outdoor_K'][worst])} outdoors."
    ]
    plug = totals["plug_per_day_J"]
    if plug.value is not None and plug.value > 0.0:
        kwh = plug.value / 3.6e6
        low = (
            ""
            if plug.low is None or plug.high is None
            else (f" ({plug.low / 3.6e6:.2f}–{plug.high / 3.6e6:.2f})")
        )
        line = f"It takes {kwh:.2f}\u2009kWh{low} a day {from_the_plug(sheet)}"
        cost = totals.get("price_per_day")
        if cost is not None and cost.value is not None:
            line += f", {cost.value:.2f} a day at the sheet's price"
        lines.append(line + ".")
        share = totals["running_share"].value or 0.0
        if share < 0.995:
            count = (totals["switchings_per_day"].value or 0.0) / 2.0
            lines.append(
                f"The modules run {100.0 * share:.0f}\u2009% of the time and are switched on "
                f"{count:.0f} times a day."
            )
    water = totals["condensate_per_day_kg"].value or 0.0
    if water > 1e-3:
        lines.append(f"{1000.0 * water:.0f}\u2009g of water a day run off the cold sink.")
    if "battery_s" in totals and totals["battery_s"].value is not None:
        lines.append(f"The battery carries it for {display('time', totals['battery_s'].value)}.")
    if "panel_needed_W" in totals:
        needed = totals["panel_needed_W"].value
        lines.append(
            "In this weather there is no sun for a panel."
            if needed is None
            else f"To harvest that, panels of {needed:.0f}\u2009W peak are needed in this weather."
        )
    lines += [each.sentence for each in held]
    return lines


def _hour(start_h: float, days: float) -> str:
    day, hour = divmod(start_h, 24.0)
    clock = f"{int(hour):02d}:00–{int(hour) + 1:02d}:00"
    return clock if days <= 1.01 else f"{clock} of day {int(np.floor(day)) + 1}"
