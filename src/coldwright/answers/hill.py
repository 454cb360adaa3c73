"""The hill a design stands on: every figure over what is set and both fan speeds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import Design, limits_kept
from coldwright.errors import NoSolution
from coldwright.machine.coupled import before_chain
from coldwright.machine.outcome import outcome
from coldwright.machine.records import Drive, Status
from coldwright.machine.settings import map_settings
from coldwright.physics.sound import level_speed_change, level_sum

_AXES = {
    Drive.VOLTAGE: "voltage_V",
    Drive.CURRENT: "current_A",
    Drive.POWER: "module_power_W",
    Drive.CHOPPED: "duty",
    Drive.PUMPED: "pumped_W",
}
# Slowest fan speed worth a look: below it most fans stop.
_SLOWEST = 0.2


@dataclass
class Hill:
    """Maps of a design over (drive, cold speed, hot speed)."""

    axis: str
    now: float
    """What the sheet sets, in the axis' unit."""
    drive: NDArray[np.float64]
    cold: NDArray[np.float64]
    hot: NDArray[np.float64]
    maps: dict[str, NDArray[np.float64]]
    allowed: NDArray[np.bool_]
    stopped_K: float | None = None
    """Level of the place or plate with the modules stopped and the fans as the sheet has them."""
    most_net_W: float | None = None
    """The most net cooling within every limit, between the points of the map as well."""

    @property
    def objective(self) -> str:
        """Name of the figure that says how cold it gets."""
        return "place_air_K" if "place_air_K" in self.maps else "cold_sink_K"


def hill(design: Design, drives: int, speeds: int) -> Hill:
    """Map a design coarsely over everything its knobs can reach."""
    drive = Drive(int(design.cooler["group"]["drive"][0, 0]))
    if drive == Drive.OFF:
        raise NoSolution("CW-SOLVE-01", "The modules are switched off: there is nothing to tune.")
    top = _highest(design, drive, design.set_drive)
    shares = np.linspace(1.0 / drives, 1.0, drives)
    cold, hot = _speeds(design, "cold", speeds), _speeds(design, "hot", speeds)
    return zoom(design, shares * top, cold, hot)


def zoom(
    design: Design,
    drive: NDArray[np.float64],
    cold: NDArray[np.float64],
    hot: NDArray[np.float64],
) -> Hill:
    """Map a design over given settings, in the axis' unit."""
    kind = Drive(int(design.cooler["group"]["drive"][0, 0]))
    now = design.set_drive
    if kind == Drive.CHOPPED:
        results = _map_duty(design, drive, cold, hot)
    else:
        factors = drive / now
        chain = design.chain_over(float(factors.min()), float(factors.max()))
        results = map_settings(
            design.cooler if chain is None else before_chain(design.cooler, design.losses),
            design.place, factors, cold, hot, with_place=design.enclosed,
            chain=None if chain is None else chain.losses(factors, cold, hot),
        )  # fmt: skip
    solved = results["status"] == Status.SOLVED
    if not solved.any():
        raise NoSolution("CW-SOLVE-01", "There is no steady state, however it is run.")
    flat = np.ascontiguousarray(results).ravel()
    kept = np.flatnonzero(solved.ravel())
    coolers = np.broadcast_to(design.cooler, kept.shape)
    places = np.broadcast_to(design.place, kept.shape)
    found = outcome(coolers, places, flat[kept])
    if design.enclosed:
        found["place_air_K"] = flat["place_K"][kept]
    maps = {}
    for name, numbers in found.items():
        filled = np.full(flat.shape, np.nan)
        filled[kept] = numbers
        maps[name] = filled.reshape(results.shape)
    maps["sound_dB"] = np.broadcast_to(sound_map(design, cold, hot), results.shape).copy()
    price = design.sheet.price
    if price is not None and price.electricity is not None:
        maps["price_per_hour"] = maps["plug_power_W"] * 3600.0 * price.electricity.value
    # What the parts cost is no matter of a setting, and said apart.
    allowed = limits_kept(design, maps, maps["sound_dB"], None) & solved
    return Hill(_AXES[kind], now, drive, cold, hot, maps, allowed)


def highest(design: Design) -> tuple[str, float]:
    """Glossary name of what is set, and the highest setting worth a look."""
    drive = Drive(int(design.cooler["group"]["drive"][0, 0]))
    return _AXES[drive], _highest(design, drive, design.set_drive)


def sound_map(design: Design, cold: NDArray[Any], hot: NDArray[Any]) -> NDArray[np.float64]:
    """Level at 1 m [dB] over both speeds, shape (cold, hot); NaN when no fan states one."""
    total = np.full((len(cold), len(hot)), np.nan)
    cooler = design.sheet.cooler
    for fan, speeds in ((cooler.cold_fan, cold[:, None]), (cooler.hot_fan, hot[None, :])):
        if fan is None or fan.sound_at_1m is None:
            continue
        level = fan.sound_at_1m.value + 10.0 * np.log10(fan.count)
        level = np.broadcast_to(level + level_speed_change(speeds, 50.0), total.shape)
        total = np.where(np.isnan(total), level, level_sum(total, level))
    return total


def _speeds(design: Design, side: str, count: int) -> NDArray[np.float64]:
    """Speeds to map; a plate's cold side has no fan and needs one value only."""
    fan = design.sheet.cooler.cold_fan if side == "cold" else design.sheet.cooler.hot_fan
    now = float(design.cooler[f"{side}_fan"]["speed"][0])
    if fan is None or (design.sheet.place.kind == "plate" and side == "cold"):
        return np.array([now])
    return np.linspace(_SLOWEST, max(1.0, now), count)


def _highest(design: Design, drive: Drive, now: float) -> float:
    """Highest setting worth a look: the rating, or well beyond the best current."""
    if drive == Drive.CHOPPED:
        return 1.0
    group = design.cooler["group"][0, 0]
    modules = design.sheet.cooler.modules[0]
    limits = design.sheet.limits
    if modules.ratings is not None:
        max_A, max_V = modules.ratings.max_current.value, modules.ratings.max_voltage.value
    elif modules.properties is not None:
        # Beyond the current of most heat, I = S Tc / R, whatever the cold face.
        S, R = modules.properties.seebeck.value, modules.properties.resistance.value
        max_A = S * 340.0 / R
        max_V = max_A * R + S * 60.0
    else:
        max_A, max_V = np.inf, np.inf
    if limits.max_current is not None:
        max_A = min(max_A, limits.max_current.value)
    if limits.max_voltage is not None:
        max_V = min(max_V, limits.max_voltage.value)
    highest = {
        Drive.VOLTAGE: max_V * float(group["series"]),
        Drive.CURRENT: max_A * float(group["parallel"]),
        Drive.POWER: max_A * max_V * float(group["series"] * group["parallel"]),
        Drive.PUMPED: 3.0 * now,
    }[drive]
    if not np.isfinite(highest):
        highest = 2.0 * now
    supply = design.sheet.power.supply if design.sheet.power is not None else None
    if drive == Drive.VOLTAGE and supply is not None:
        # A converter that only steps down cannot give more than the supply.
        highest = min(highest, supply.voltage.value)
    # A slip of the pen in the sheet must not stretch the map beyond all that is worth a look.
    return max(highest, min(now, 3.0 * highest))


def _map_duty(
    design: Design, duty: NDArray[np.float64], cold: NDArray[Any], hot: NDArray[Any]
) -> NDArray[Any]:
    """A chopped drive has its duty as knob: one map per duty."""
    rows = []
    for share in duty:
        cooler = design.cooler.copy()
        cooler["group"]["duty"] = share
        rows.append(
            map_settings(cooler, design.place, np.ones(1), cold, hot, with_place=design.enclosed)[0]
        )
    return np.stack(rows)
