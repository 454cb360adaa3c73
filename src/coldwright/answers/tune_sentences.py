"""What the hill says in words: how much is enough, where more hurts, and why."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.aims import Best
from coldwright.answers.hill import Hill
from coldwright.answers.prices import known_price
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

# This share of the most cooling is enough for most people.
_ENOUGH = 0.95
LIMITS = {
    "max_plug_power": "the power from the plug",
    "max_sound": "the sound at 1 m",
    "hot_face": "the hot face",
    "cold_face": "the cold face",
    "hot_sink": "the hot sink",
    "cold_sink": "the cold sink",
    "dew_point_margin": "the margin to the dew point",
}
"""What the sheet's limits are called."""


def tune_headline(sheet: Sheet, hill: Hill, now: dict[str, float], best: list[Best]) -> str:
    """The sentence on top: the best setting against the sheet's own."""
    first = best[0]
    if first.drive is None:
        return "Nothing within reach keeps every limit of the sheet."
    name = first.unit
    if name not in first.figures or first.figures[name].value is None:
        return "The best is not known."
    figure = display(name, first.figures[name].value)
    here = now.get("place_K" if name == "place_air_K" else name)
    setting = setting_words(hill, first)
    if here is None:
        return f"Best at {setting}: {figure}."
    noun = {"place_air_K": sheet.place.kind, "cold_sink_K": "plate"}.get(name, "cooling")
    same = abs(here - (first.figures[name].value or 0.0)) < (0.1 if name.endswith("_K") else 1.0)
    if same:
        return f"As the sheet runs it, it is as good as it gets: {figure}."
    return f"At {setting} the {noun} comes to {figure}; as the sheet has it, {display(name, here)}."


def tune_reasons(sheet: Sheet, hill: Hill, now: dict[str, float], best: list[Best]) -> list[str]:
    """The lines under it."""
    lines = []
    ridge = _ridge(hill, now)
    if ridge is not None:
        lines += _enough(sheet, hill, ridge)
        lines += _too_much(sheet, hill, ridge)
    lines += _slower_fan(hill, now)
    for each in best:
        if each.drive is None:
            missed = "the goal" if "goal" in each.aim else "every limit"
            lines.append(f"“{capital(each.aim)}”: no volts and fan speeds keep to {missed}.")
        elif each.binding:
            limits = " and ".join(LIMITS[name] for name in each.binding)
            lines.append(f"“{capital(each.aim)}” is held back by {limits}.")
    return [*lines, *_no_converter(sheet, hill, best), *_too_dear(sheet)]


def _no_converter(sheet: Sheet, hill: Hill, best: list[Best]) -> list[str]:
    """Volts that nothing in the sheet makes."""
    power = sheet.power
    source = None if power is None else power.supply or power.battery
    if power is None or source is None or power.converter is not None or hill.axis != "voltage_V":
        return []
    bus_V = source.voltage.value
    if all(each.drive is None or abs(each.drive / bus_V - 1.0) < 0.02 for each in best):
        return []
    return [
        f"Other volts than the {display('voltage_V', bus_V)} of the supply take a converter, which "
        "the sheet does not have; none of its loss is counted here."
    ]


def _too_dear(sheet: Sheet) -> list[str]:
    """A limit of price, which no setting keeps."""
    price, limit = known_price(sheet), sheet.goal.max_price
    if price is None or limit is None or price <= limit.value:
        return []
    return [
        f"The known parts cost {price:.0f}; the limit is {limit.text}. No setting changes that."
    ]


def setting_words(hill: Hill, best: Best) -> str:
    """A setting as a person would say it."""
    parts = [drive_words(hill, best.drive or 0.0)]
    if best.cold_speed is not None and len(hill.cold) > 1:
        parts.append(f"cold fan {100 * best.cold_speed:.0f} %")
    if best.hot_speed is not None and len(hill.hot) > 1:
        parts.append(f"hot fan {100 * best.hot_speed:.0f} %")
    return ", ".join(parts)


def capital(text: str) -> str:
    """The text with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def drive_words(hill: Hill, drive: float) -> str:
    """What is set, with its unit."""
    if hill.axis == "duty":
        return f"a duty of {100 * drive:.0f} %"
    return display(hill.axis, drive)


def _ridge(hill: Hill, now: dict[str, float]) -> tuple[int, int] | None:
    """Fan speeds nearest to those of the sheet, where the volts are looked at."""
    j = int(np.argmin(np.abs(hill.cold - now["cold_speed"])))
    k = int(np.argmin(np.abs(hill.hot - now["hot_speed"])))
    return (j, k) if np.isfinite(hill.maps["plug_power_W"][:, j, k]).any() else None


def _gain(sheet: Sheet, hill: Hill, ridge: tuple[int, int]) -> NDArray[np.float64]:
    """How much cooling each drive gives: kelvins below the stopped modules', or watts."""
    j, k = ridge
    if sheet.place.kind == "open_air":
        gain: NDArray[np.float64] = hill.maps["net_cooling_W"][:, j, k]
        return gain
    level = hill.maps[hill.objective][:, j, k]
    return np.asarray((level[0] if hill.stopped_K is None else hill.stopped_K) - level)


def _enough(sheet: Sheet, hill: Hill, ridge: tuple[int, int]) -> list[str]:
    gain = _gain(sheet, hill, ridge)
    power = hill.maps["plug_power_W"][:, ridge[0], ridge[1]]
    if not np.isfinite(gain).any():
        return []
    top = int(np.nanargmax(gain))
    if gain[top] <= 0.0:
        return ["Nowhere does it cool more than with the modules hardly on."]
    share = gain / gain[top]
    enough = np.flatnonzero((share >= _ENOUGH) & (np.arange(len(gain)) < top))
    if not len(enough):
        return []
    i = int(enough[0])
    drive, share_there = float(hill.drive[i]), float(share[i])
    if i > 0 and np.isfinite(share[i - 1]):
        # Between the points of the map, where the share is just enough.
        drive = float(np.interp(_ENOUGH, share[i - 1 : i + 1], hill.drive[i - 1 : i + 1]))
        share_there = _ENOUGH
    summit = _summit(hill.drive, gain, top)
    most_W, there_W = (float(np.interp(x, hill.drive, power)) for x in (summit, drive))
    return [
        f"{_as_set(hill)}{drive_words(hill, drive)} gives {100 * share_there:.0f} % of the "
        f"cooling of {drive_words(hill, summit)}, the most of all, at "
        f"{100 * there_W / most_W:.0f} % of its power."
    ]


def _too_much(sheet: Sheet, hill: Hill, ridge: tuple[int, int]) -> list[str]:
    gain = _gain(sheet, hill, ridge)
    if not np.isfinite(gain).any():
        return []
    top = int(np.nanargmax(gain))
    if top >= np.flatnonzero(np.isfinite(gain))[-1]:
        return []
    what = (
        "the cooling falls"
        if sheet.place.kind == "open_air"
        else ("the plate gets warmer" if sheet.place.kind == "plate" else "the place gets warmer")
    )
    return [
        f"Above {drive_words(hill, _summit(hill.drive, gain, top))} {what}: the hot side heats "
        "faster than the modules pump."
    ]


def _as_set(hill: Hill) -> str:
    """The fans at which the volts are looked at, where the map has others."""
    fans = (len(hill.cold) > 1) + (len(hill.hot) > 1)
    return ("", "With the fan as the sheet has it ", "With both fans as the sheet has them ")[fans]


def _summit(drive: NDArray[np.float64], gain: NDArray[np.float64], top: int) -> float:
    """Where the parabola through the three highest points of the map has its top."""
    near = slice(max(top - 1, 0), top + 2)
    at, high = drive[near], gain[near]
    if len(at) < 3 or not np.isfinite(high).all():
        return float(drive[top])
    step = 0.5 * float(at[2] - at[0])
    left, right = float(high[1] - high[0]), float(high[1] - high[2])
    if left + right <= 0.0:
        return float(drive[top])
    return float(at[1]) + 0.5 * step * (left - right) / (left + right)


def _slower_fan(hill: Hill, now: dict[str, float]) -> list[str]:
    if len(hill.cold) < 3:
        return []
    i = int(np.argmin(np.abs(hill.drive - now["drive"])))
    half = int(np.argmin(np.abs(hill.cold - 0.6 * hill.cold[-1])))
    outlet = hill.maps["cold_outlet_K"][i, :, -1]
    cooling = hill.maps["cooling_W"][i, :, -1]
    if not (np.isfinite(outlet[[half, -1]]).all() and np.isfinite(cooling[[half, -1]]).all()):
        return []
    if not outlet[half] < outlet[-1] - 0.05 or not cooling[half] < 0.99 * cooling[-1]:
        return []
    return [
        f"A cold fan at {100 * hill.cold[half]:.0f} % blows {outlet[-1] - outlet[half]:.1f}\u2009K "
        f"colder air, yet takes out {display('cooling_W', cooling[half])} instead of "
        f"{display('cooling_W', cooling[-1])}: a cold outlet is not a large capacity."
    ]
