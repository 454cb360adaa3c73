"""Energy of a run of days in the person's terms: money, emissions, battery hours, panel size."""

from __future__ import annotations

import numpy as np

from coldwright.answers.value import Value
from coldwright.machine.sky import DAY_S, Sky
from coldwright.sheet.models import Battery, Panel, Sheet

# Full sun, as panels are rated [W/m²] (standard test conditions, IEC 60904-3).
_FULL_SUN_W_M2 = 1000.0


def money(sheet: Sheet, sky: Sky, totals: dict[str, Value]) -> None:
    """Add to the totals what the sheet gives a price, a factor, a battery or a panel for."""
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
        totals["battery_s"] = Value(battery_time_s(power.battery, plug.value / DAY_S))
    if power.panel is not None:
        needed = panel_needed_W(power.panel, power.battery, sky, plug.value)
        totals["panel_needed_W"] = Value(needed)


def battery_time_s(battery: Battery, load_W: float) -> float:
    """How long a full battery carries a load, down to its usable share [s].

    A rate effect follows the usual power law: at another current than the rated one the charge is
    ``C (I_rated / I)^(k - 1)`` (Peukert 1897, from memory).
    """
    if battery.energy is not None:
        energy_J = battery.energy.value
        rated_W = None
    else:
        assert battery.capacity is not None
        energy_J = battery.capacity.value * battery.voltage.value
        rated_W = None if battery.rate_time is None else energy_J / battery.rate_time.value
    time_s = energy_J * battery.usable_share.value / load_W
    if battery.rate_exponent is not None and rated_W is not None:
        time_s *= (rated_W / load_W) ** (battery.rate_exponent.value - 1.0)
    return float(time_s)


def panel_needed_W(panel: Panel, battery: Battery | None, sky: Sky, need_J: float) -> float | None:
    """Rated power of panels that harvest a day's need in this weather; None without any sun."""
    azimuth = None if panel.compass is None else panel.compass.value
    sun = sky.on_plane(panel.tilt.value, azimuth)
    days = max(sky.length_s / DAY_S, 1.0)
    harvest_J_m2 = float(np.trapezoid(sun, sky.clock_s)) / days
    if harvest_J_m2 <= 0.0:
        return None
    # All of it may pass through the battery: the night's share does, the day's may not.
    kept = 1.0 if battery is None else battery.charge_efficiency.value
    full_sun_s = harvest_J_m2 / _FULL_SUN_W_M2
    return need_J / (full_sun_s * panel.performance.value * kept)


def _scaled(value: Value, factor: float) -> Value:
    return Value(*(None if x is None else x * factor for x in (value.value, value.low, value.high)))
