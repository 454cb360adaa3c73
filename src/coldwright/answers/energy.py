"""Energy of a run of days in the person's terms: money, emissions, battery hours, panel size."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.value import Value
from coldwright.machine.sky import DAY_S, Sky
from coldwright.physics.battery import discharge_time
from coldwright.sheet.models import Battery, Panel, Sheet

# Full sun, as panels are rated [W/m²] (standard test conditions, IEC 60904-3).
_FULL_SUN_W_M2 = 1000.0


# Days over which a battery evens out good and bad weather, where so many are followed: a panel must
# harvest what these days need (common practice, no source).
_WINDOW_DAYS = 7


@dataclass(frozen=True)
class Season:
    """Electricity of three months."""

    name: str
    plug_J: float
    price: float | None

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        return {"name": self.name, "plug_J": self.plug_J, "price": self.price}


def money(sheet: Sheet, sky: Sky, totals: dict[str, Value], daily_J: NDArray[np.float64]) -> None:
    """Add to the totals what the sheet gives a price, a factor, a battery or a panel for.

    `daily_J` is the electricity of each day followed, shape (d,). A battery must carry the
    hungriest of them, a panel the worst week.
    """
    plug = totals["plug_per_day_J"]
    price, power = sheet.price, sheet.power
    if price is not None and price.electricity is not None:
        totals["price_per_day"] = _scaled(plug, price.electricity.value)
        totals["price_per_year"] = _scaled(plug, 365.0 * price.electricity.value)
    if price is not None and price.emissions is not None:
        totals["emissions_per_year_kg"] = _scaled(plug, 365.0 * price.emissions.value)
    if power is None or plug.value is None or plug.value <= 0.0:
        return
    if power.battery is not None:
        load_W = float(daily_J.max()) / DAY_S
        totals["battery_s"] = Value(battery_time_s(power.battery, load_W))
        totals["battery_rate_share"] = Value(rate_share(power.battery, load_W))
    if power.panel is not None:
        needed = panel_needed_W(power.panel, power.battery, sky, daily_J)
        totals["panel_needed_W"] = Value(needed)
        if needed is not None:
            totals["panel_share"] = Value(power.panel.peak_power.value / needed)


def seasons(
    sheet: Sheet, start_s: list[float], plug_J: list[float], first_day: datetime.date | None
) -> list[Season]:
    """Electricity by season (whole months) of a run of most of a year; none of a shorter one."""
    if first_day is None or start_s[-1] - start_s[0] < 300.0 * DAY_S:
        return []
    price = sheet.price.electricity if sheet.price is not None else None
    sums = dict.fromkeys(("December to February", "March to May", "June to August",
                          "September to November"), 0.0)  # fmt: skip
    names = list(sums)
    for at_s, each_J in zip(start_s, plug_J, strict=True):
        month = (first_day + datetime.timedelta(days=int(at_s // DAY_S))).month
        sums[names[month % 12 // 3]] += each_J
    return [
        Season(name, total_J, None if price is None else total_J * price.value)
        for name, total_J in sums.items()
    ]


def battery_time_s(battery: Battery, load_W: float) -> float:
    """How long a full battery carries a load, down to its usable share [s]."""
    energy_J = _full_J(battery)
    return energy_J * battery.usable_share.value / load_W * rate_share(battery, load_W)


def rate_share(battery: Battery, load_W: float) -> float:
    """Share of its rated charge that a battery gives at this load [1].

    By the rate law (`discharge_time`). A slower discharge than the rated one does not count as
    more: the law ends there.
    """
    energy_J = _full_J(battery)
    if battery.rate_exponent is None or battery.rate_time is None:
        return 1.0
    # The law in watts and watt-hours: at one voltage they stand for amperes and ampere-hours.
    lasts_s = discharge_time(
        energy_J / 3600.0, battery.rate_time.value / 3600.0, load_W, battery.rate_exponent.value
    )
    return float(min(lasts_s * load_W / energy_J, 1.0))


def _full_J(battery: Battery) -> float:
    """Energy of a full battery [J]."""
    if battery.energy is not None:
        return battery.energy.value
    assert battery.capacity is not None
    return battery.capacity.value * battery.voltage.value


def panel_needed_W(
    panel: Panel, battery: Battery | None, sky: Sky, daily_J: NDArray[np.float64]
) -> float | None:
    """Rated power of panels that harvest what the worst week (or all days, if there are fewer than
    seven) needs in this weather; None where a week has no sun at all."""
    azimuth = None if panel.compass is None else panel.compass.value
    sun = sky.on_plane(panel.tilt.value, azimuth)
    so_far = np.concatenate([[0.0], np.cumsum(0.5 * (sun[1:] + sun[:-1]) * np.diff(sky.clock_s))])
    days = len(daily_J)
    if sky.period_s > 0.0:
        harvest_J_m2 = np.full(days, so_far[-1] / max(sky.length_s / DAY_S, 1.0))
    else:
        ends = np.interp(DAY_S * np.arange(days + 1), sky.clock_s, so_far)
        harvest_J_m2 = np.diff(ends)
    window = min(days, _WINDOW_DAYS)
    over = np.ones(window)
    need_J = np.convolve(daily_J, over, "valid")
    full_sun_s = np.convolve(harvest_J_m2, over, "valid") / _FULL_SUN_W_M2
    hungry = need_J > 0.0
    if not full_sun_s[hungry].all():
        return None
    # All of it may pass through the battery: the night's share does, the day's may not.
    kept = 1.0 if battery is None else battery.charge_efficiency.value
    return float((need_J[hungry] / full_sun_s[hungry]).max() / (panel.performance.value * kept))


def _scaled(value: Value, factor: float) -> Value:
    return Value(*(None if x is None else x * factor for x in (value.value, value.low, value.high)))
