"""What a day of the place says in words."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import numpy as np

from coldwright.answers.energy import Season
from coldwright.answers.holding import Holding
from coldwright.answers.sentences import from_the_plug, with_interval
from coldwright.answers.value import Value
from coldwright.quantities.glossary import display
from coldwright.quantities.notations import currency
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
    span = f"{60.0 * above_h:.0f} minutes" if above_h < 1.0 else f"{above_h:.0f}"
    return (
        f"The {word} is above {display('goal_air_K', goal.value)} for {span} of "
        f"{whole_h:.0f} hours; {highest} at its hottest."
    )


def day_reasons(
    sheet: Sheet,
    series: dict[str, list[float]],
    totals: dict[str, Value],
    days: float,
    worst: int,
    held: list[Holding],
    *,
    first_day: datetime.date | None = None,
    by_season: Sequence[Season] = (),
) -> list[str]:
    """The lines under it."""
    start_h = series["start_s"][worst] / 3600.0
    inside = display("place_air_K", series["place_air_K"][worst])
    outdoors = display("place_air_K", series["outdoor_K"][worst])
    if np.ptp(series["place_air_K"]) < 0.05:
        lines = [f"Every hour is like the other: {inside} inside, {outdoors} outdoors."]
    else:
        when = _hour(start_h, days, first_day)
        lines = [f"The worst hour is {when}: {inside} inside, {outdoors} outdoors."]
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
            assert sheet.price is not None
            assert sheet.price.electricity is not None
            money = f"{cost.value:.2f} {currency(sheet.price.electricity.text)}".strip()
            line += f", which {_costs(sheet)} {money}"
        lines.append(line + ".")
        share = totals["running_share"].value or 0.0
        if share < 0.995:
            count = (totals["switchings_per_day"].value or 0.0) / 2.0
            often = "once" if count < 1.5 else "twice" if count < 2.5 else f"{count:.0f} times"
            lines.append(
                f"The modules run {100.0 * share:.0f}\u2009% of the time and are switched on "
                f"{often} a day."
            )
    water = totals["condensate_per_day_kg"].value or 0.0
    if water > 1e-3:
        lines.append(f"{1000.0 * water:.0f}\u2009g of water a day run off the cold sink.")
    lines += _season_lines(sheet, by_season)
    lines += _battery_lines(sheet, totals, days)
    lines += [each.sentence for each in held]
    return lines


def _costs(sheet: Sheet) -> str:
    """A battery that a panel charges costs nothing to run."""
    power = sheet.power
    free = power is not None and power.supply is None and power.panel is not None
    return "from the mains would cost" if free else "costs"


def _season_lines(sheet: Sheet, by_season: Sequence[Season]) -> list[str]:
    if not by_season:
        return []
    price = sheet.price.electricity if sheet.price is not None else None
    parts = []
    for each in by_season:
        part = f"{each.name} {each.plug_J / 3.6e6:.0f}\u2009kWh"
        if each.price is not None and price is not None:
            part += f" ({each.price:.2f} {currency(price.text)}".rstrip() + ")"
        parts.append(part)
    return ["By season: " + ", ".join(parts) + "."]


def _battery_lines(sheet: Sheet, totals: dict[str, Value], days: float) -> list[str]:
    """How long the battery carries it, what the rate costs, and whether the panel is enough."""
    lines = []
    long = days > 1.5
    if "battery_s" in totals and totals["battery_s"].value is not None:
        which = " through the hungriest of these days" if long else ""
        line = (
            f"The battery alone carries it for {display('time', totals['battery_s'].value)}{which}"
        )
        share = totals["battery_rate_share"].value or 1.0
        if share < 0.995:
            line += f"; at this rate it gives {100.0 * share:.0f}\u2009% of its rated charge"
        lines.append(line + ".")
    if "panel_needed_W" not in totals:
        return lines
    needed = totals["panel_needed_W"].value
    if needed is None:
        return [*lines, "In this weather there is no sun for a panel."]
    when = " in the worst week" if days > 7.5 else ""
    line = f"To harvest that{when}, panels of {needed:.0f}\u2009W peak are needed"
    covered = totals["panel_share"].value
    assert sheet.power is not None
    assert sheet.power.panel is not None
    own = display("power", sheet.power.panel.peak_power.value)
    if covered is not None and covered >= 1.0:
        line += f"; the {own} of the sheet are enough"
    elif covered is not None:
        line += f"; the {own} of the sheet cover {100.0 * covered:.0f}\u2009% of it"
    return [*lines, line + "."]


def _hour(start_h: float, days: float, first_day: datetime.date | None) -> str:
    day, hour = divmod(start_h, 24.0)
    clock = f"{int(hour):02d}:00–{int(hour) + 1:02d}:00"
    if first_day is not None:
        when = first_day + datetime.timedelta(days=int(np.floor(day)))
        return f"{clock} on {when.day} {when:%B}"
    return clock if days <= 1.01 else f"{clock} of day {int(np.floor(day)) + 1}"
