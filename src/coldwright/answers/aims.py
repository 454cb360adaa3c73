"""What a person may want of a setting, and where on the hill each wish is met best."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import Design, Point
from coldwright.answers.hill import Hill, sound_map, zoom
from coldwright.answers.value import Value
from coldwright.errors import NoSolution
from coldwright.sheet.models import OpenAir, Plate, Sheet

# Figures told of every best setting.
TOLD = (
    "place_air_K", "cold_sink_K", "cooling_W", "net_cooling_W", "plug_power_W", "cop_system",
    "cop_net", "cold_outlet_K", "hot_face_K", "cold_face_K", "condensate_kg_s",
)  # fmt: skip
_LIMITS = ("max_plug_power", "max_sound", "hot_face", "cold_face", "hot_sink", "cold_sink",
           "dew_point_margin")  # fmt: skip
_ROUNDS, _MOST_ROUNDS = 8, 24
# How far a setting is taken back from an edge, as shares of what is set.
_LESS = (0.0, 1e-5, 1e-4, 1e-3, 3e-3, 0.01, 0.02, 0.05)
# How much better it must be without a limit for the limit to count as what holds it back.
_CLEARLY_K, _CLEARLY = 0.02, 1e-3


Cost = Callable[[Hill, Sheet, Hill], NDArray[np.float64]]
"""What an aim makes small: over a map, for a sheet, knowing the map of the whole hill."""


@dataclass(frozen=True)
class Aim:
    """One wish: what to make small over the map, and whether it makes sense for a sheet."""

    name: str
    cost: Cost
    unit: str
    """Glossary name of the figure that a loss is told in."""
    applies: Callable[[Sheet], bool] = lambda _sheet: True


@dataclass(frozen=True)
class Best:
    """The best setting for one aim."""

    aim: str
    drive: float | None
    cold_speed: float | None
    hot_speed: float | None
    figures: dict[str, Value]
    binding: list[str]
    """Limits without which it would be better."""
    off_by_tenth: dict[str, float] = field(default_factory=dict)
    """Loss in the aim's own figure when one knob is 10 % off, the worse way."""
    unit: str = ""
    reached: float | None = None
    """Share of the tries that reach the goal, of an aim that asks for it; None without tries."""

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        return {
            "aim": self.aim,
            "drive": self.drive,
            "cold_speed": self.cold_speed,
            "hot_speed": self.hot_speed,
            "figures": {name: value.to_json() for name, value in self.figures.items()},
            "binding": self.binding,
            "off_by_tenth": self.off_by_tenth,
            "unit": self.unit,
            "reached_share": self.reached,
        }


def _coldest(hill: Hill, sheet: Sheet, _whole: Hill) -> NDArray[np.float64]:
    if isinstance(sheet.place, OpenAir):
        return -hill.maps["net_cooling_W"]
    return hill.maps[hill.objective]


def _reaching(cost: str) -> Cost:
    def of(hill: Hill, sheet: Sheet, _whole: Hill) -> NDArray[np.float64]:
        goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
        assert goal is not None
        reached = hill.maps[hill.objective] <= goal.value
        return np.where(reached, hill.maps[cost], np.nan)

    return of


def _best_cop(hill: Hill, _sheet: Sheet, whole: Hill) -> NDArray[np.float64]:
    # COP grows without end towards no cooling at all; half of the most is still worth having.
    most_W = whole.most_net_W
    if most_W is None:
        most_W = float(np.nanmax(np.where(whole.allowed, whole.maps["net_cooling_W"], np.nan)))
    net = hill.maps["net_cooling_W"]
    worth = net >= 0.5 * most_W
    return np.where(worth & (net > 0.0), -hill.maps["cop_net"], np.nan)


def _most_net(hill: Hill, _sheet: Sheet, _whole: Hill) -> NDArray[np.float64]:
    return -hill.maps["net_cooling_W"]


def _has_goal(sheet: Sheet) -> bool:
    if isinstance(sheet.place, OpenAir):
        return False
    goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
    return goal is not None


def _tells_sound(sheet: Sheet) -> bool:
    fans = (sheet.cooler.cold_fan, sheet.cooler.hot_fan)
    return any(fan is not None and fan.sound_at_1m is not None for fan in fans)


AIMS: tuple[Aim, ...] = (
    Aim("coldest place", _coldest, "place_air_K",
        lambda sheet: sheet.place.kind in ("room", "box")),
    Aim("coldest plate", _coldest, "cold_sink_K", lambda sheet: sheet.place.kind == "plate"),
    Aim("most net cooling", _most_net, "net_cooling_W",
        lambda sheet: sheet.place.kind == "open_air"),
    Aim("most capacity", lambda hill, _sheet, _whole: -hill.maps["cooling_W"], "cooling_W",
        lambda sheet: sheet.place.kind != "plate"),
    Aim("best COP with half of the best cooling", _best_cop, "cop_net",
        lambda sheet: sheet.place.kind != "plate"),
    Aim("quietest that reaches the goal", _reaching("sound_dB"), "sound_dB",
        lambda sheet: _has_goal(sheet) and _tells_sound(sheet)),
    Aim("cheapest that reaches the goal", _reaching("plug_power_W"), "plug_power_W", _has_goal),
)  # fmt: skip


def find_best(design: Design, hill: Hill, aim: Aim) -> Best:
    """Find an aim's best setting under the sheet's limits: on the map, then ever closer."""
    if aim.cost is _best_cop and hill.most_net_W is None:
        hill.most_net_W = _highest_net_W(design, hill)
    place = _lowest(aim.cost(hill, design.sheet, hill), hill.allowed)
    if place is None:
        return Best(aim.name, None, None, None, {}, [], unit=aim.unit)
    setting, near = _closer(design, hill, aim, place)
    setting, figures, reached = _exactly(design, hill, setting)
    drive, cold, hot = setting
    return Best(
        aim.name,
        drive,
        cold,
        hot,
        figures,
        _binding(design, hill, aim, near),
        _off(design, aim, setting),
        aim.unit,
        reached if "goal" in aim.name else None,
    )


def _exactly(
    design: Design, hill: Hill, setting: tuple[float, float, float]
) -> tuple[tuple[float, float, float], dict[str, Value], float | None]:
    """The setting with its figures, the chain brought to agree there; a hair less at an edge.

    The map knows the chain's losses to a thousandth of themselves, and starts each point from its
    neighbour: at the very edge of a limit, or of what the modules can pump, the setting itself may
    lie beyond.
    """
    limit = design.sheet.goal.max_plug_power
    for less in _LESS:
        tried = (setting[0] * (1.0 - less), *setting[1:])
        try:
            figures, reached = _figures(design, hill, tried)
        except NoSolution:
            continue
        power_W = figures["plug_power_W"].value
        if limit is None or power_W is None or power_W <= limit.value:
            return tried, figures, reached
    return setting, {}, None


def _highest_net_W(design: Design, hill: Hill) -> float | None:
    """The most net cooling within every limit; None where no setting keeps them."""
    aim = Aim("most net cooling", _most_net, "net_cooling_W")
    place = _lowest(aim.cost(hill, design.sheet, hill), hill.allowed)
    return None if place is None else -_closer(design, hill, aim, place)[1]


def setting_of(hill: Hill, setting: tuple[float, float, float]) -> Callable[[Any], None]:
    """A change of records to this setting, for `Design.solve`."""
    drive, cold, hot = setting

    def change(coolers: Any) -> None:
        if hill.axis == "duty":
            coolers["group"]["duty"] = drive
        else:
            coolers["group"]["drive_value"] *= drive / hill.now
        coolers["cold_fan"]["speed"] *= cold / coolers["cold_fan"]["speed"].mean()
        coolers["hot_fan"]["speed"] *= hot / coolers["hot_fan"]["speed"].mean()

    return change


def _figures(
    design: Design, hill: Hill, setting: tuple[float, float, float]
) -> tuple[dict[str, Value], float | None]:
    """Figures of a setting, and the share of the tries that reach the goal there."""
    _, cold, hot = setting
    point = design.at(setting_of(hill, setting)).solve(with_place=design.enclosed)
    point.nominal["place_air_K"] = point.nominal["place_K"]
    if point.tried is not None:
        point.tried["place_air_K"] = point.tried["place_K"]
    told = [name for name in TOLD if name != "place_air_K" or design.enclosed]
    figures = {name: point.value(name) for name in told}
    level = _at(sound_map(design, np.array([cold]), np.array([hot])))
    figures["sound_dB"] = Value(level if np.isfinite(level) else None)
    return figures, _reached(design, point)


def _reached(design: Design, point: Point) -> float | None:
    sheet = design.sheet
    goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
    if goal is None or point.tried is None or point.counted is None or not point.counted.any():
        return None
    level = point.tried["cold_sink_K" if isinstance(sheet.place, Plate) else "place_K"]
    reached = np.nan_to_num(level, nan=np.inf) <= goal.value
    return float(reached[point.counted].mean())


def _closer(
    design: Design, hill: Hill, aim: Aim, place: tuple[int, ...]
) -> tuple[tuple[float, float, float], float]:
    """Zoom in around the best point of the map."""
    axes = [hill.drive, hill.cold, hill.hot]
    middle = [float(axis[i]) for axis, i in zip(axes, place, strict=True)]
    reach = [float(axis[1] - axis[0]) if len(axis) > 1 else 0.0 for axis in axes]
    best = float(aim.cost(hill, design.sheet, hill)[place])
    halved = 0
    for _ in range(_MOST_ROUNDS):
        finer = [
            np.unique(np.clip(np.linspace(m - r, m + r, 9), axis[0], axis[-1]))
            if r > 0.0
            else np.array([m])
            for m, r, axis in zip(middle, reach, axes, strict=True)
        ]
        try:
            near = zoom(design, *finer)
        except NoSolution:
            break  # At the very edge of what can run: what is found is as near as it gets.
        cost = aim.cost(near, design.sheet, hill)
        found = _lowest(cost, near.allowed)
        onwards = False
        if found is not None and float(cost[found]) <= best:
            # A valley along a limit is followed at this width while it leads out of the window.
            onwards = float(cost[found]) < best and any(
                i in (0, len(near_axis) - 1) and axis[0] < near_axis[i] < axis[-1]
                for i, near_axis, axis in zip(found, finer, axes, strict=True)
            )
            best = float(cost[found])
            middle = [float(axis[i]) for axis, i in zip(finer, found, strict=True)]
        if onwards:
            continue
        halved += 1
        if halved == _ROUNDS:
            break
        reach = [r / 2.0 for r in reach]
    return (middle[0], middle[1], middle[2]), best


def _lowest(cost: NDArray[np.float64], allowed: NDArray[np.bool_]) -> tuple[int, ...] | None:
    masked = np.where(allowed, cost, np.nan)
    if not np.isfinite(masked).any():
        return None
    return tuple(int(i) for i in np.unravel_index(np.nanargmin(masked), masked.shape))


def _binding(design: Design, hill: Hill, aim: Aim, best: float) -> list[str]:
    """Limits without which the map holds a clearly better setting."""
    cost = aim.cost(hill, design.sheet, hill)
    lowest = np.nanmin(np.where(np.isfinite(hill.maps["plug_power_W"]), cost, np.nan))
    # A thousandth of a temperature in kelvin would be a third of a kelvin.
    clearly = _CLEARLY_K if aim.unit.endswith("_K") else _CLEARLY * max(abs(best), 1.0)
    if not lowest < best - clearly:
        return []
    found = []
    for name in _LIMITS:
        without = _without(design, hill, name)
        if without is None:
            continue
        place = _lowest(cost, without)
        if place is not None and float(cost[place]) < best - clearly:
            found.append(name)
    return found


def _without(design: Design, hill: Hill, limit: str) -> NDArray[np.bool_] | None:
    """Where every limit but one is kept; None when the sheet does not set it."""
    from coldwright.answers.design import limits_kept

    sheet = design.sheet
    part = "goal" if limit in ("max_plug_power", "max_sound") else "limits"
    if getattr(getattr(sheet, part), limit) is None:
        return None
    freed = sheet.model_copy(update={part: getattr(sheet, part).model_copy(update={limit: None})})
    bare = object.__new__(Design)
    bare.sheet = freed
    solved = np.isfinite(hill.maps["plug_power_W"])
    return limits_kept(bare, hill.maps, hill.maps["sound_dB"], None) & solved


def _off(design: Design, aim: Aim, setting: tuple[float, float, float]) -> dict[str, float]:
    """What is lost in the aim's figure when one knob stands 10 % off, the worse way."""
    losses = {}
    for i, knob in enumerate(("drive", "cold_speed", "hot_speed")):
        if knob == "cold_speed" and design.sheet.cooler.cold_fan is None:
            continue
        axes = [np.array([x]) for x in setting]
        axes[i] = setting[i] * np.array([0.9, 1.0, 1.1])
        try:
            near = zoom(design, *axes)
        except NoSolution:
            continue
        figure = near.maps[aim.unit].ravel()
        sign = (
            1.0 if aim.unit in ("place_air_K", "cold_sink_K", "sound_dB", "plug_power_W") else -1.0
        )
        loss = sign * (figure - figure[1])
        # Beyond the edge of what can run there is no figure, and none at all for some fans.
        known = loss[np.isfinite(loss)]
        if known.size:
            losses[knob] = float(known.max())
    return losses


def _at(numbers: NDArray[np.float64]) -> float:
    return float(np.ravel(numbers)[0])
