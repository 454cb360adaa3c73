"""Pictures of the hill: the way along the volts, and the map over volts and a fan speed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.tune import Tune
from coldwright.answers.tune_sentences import LIMITS
from coldwright.errors import OutputError
from coldwright.quantities.glossary import display
from coldwright.report.picture import PALETTE, label_margin, mark_limit, mark_point, picture
from coldwright.sheet.models import Sheet

_ZERO_C_K = 273.15
_AXIS = {
    "voltage_V": "volts of the array [V]",
    "current_A": "amperes of the array [A]",
    "module_power_W": "power into the modules [W]",
    "pumped_W": "heat to be moved [W]",
    "duty": "duty [%]",
}
_TITLES = {
    "place_air_K": "Where the place levels off",
    "net_cooling_W": "Net cooling",
    "cold_sink_K": "Where the plate levels off",
}
_CURVES = (
    ("plug_power_W", "power", (0, (1, 1.4)), "from the plug"),
    ("cooling_W", "cold", "-", "cold side takes out"),
    ("net_cooling_W", "outdoor", (0, (5, 2)), "net for the place"),
)


def draw_drive(tune: Tune, path: Path, design: Sheet) -> None:
    """Temperature, cooling and power along what is set, both fans as in the sheet.

    Raises
    ------
    OutputError
        As `picture`.
    """
    drive, here = _drive(tune)
    at = (_nearest(tune.cold_speed, tune.now["cold_speed"]),
          _nearest(tune.hot_speed, tune.now["hot_speed"]))  # fmt: skip
    name = _level_name(tune, design)
    with picture(path, height_mm=125.0 if name else 80.0) as figure:
        axes = figure.subplots(2 if name else 1, 1, sharex=True, squeeze=False)[:, 0]
        axes[-1].set_xlim(0.0, drive[-1])
        axes[-1].set_xlabel(_AXIS[tune.axis])
        if name:
            _level(axes[0], tune, design, name, drive, here, at)
        _watts(axes[-1], tune, drive, here, at, with_net=design.place.kind != "plate")
        known = np.isfinite(tune.maps["plug_power_W"][:, at[0], at[1]])
        notes = []
        for where, hatch, words in (
            (known & ~tune.allowed[:, at[0], at[1]], "///",
             f"hatched: beyond {_beyond(tune, design, (slice(None), *at))}"),
            (~known, "xx", "crossed: no steady state"),
        ):  # fmt: skip
            for one in axes:
                _hatch(one, drive, where, hatch)
            if where.any():
                notes.append(words)
        _below(axes[-1], "     ".join(notes), right=True)


def draw_map(tune: Tune, path: Path, design: Sheet) -> None:
    """Map over what is set and one fan's speed (the cold one's if it has one), the other as is.

    Raises
    ------
    OutputError
        As `picture`, and where no fan's speed can be changed.
    """
    side = "cold" if len(tune.cold_speed) > 1 else "hot"
    speeds = 100.0 * np.array(tune.cold_speed if side == "cold" else tune.hot_speed)
    if len(speeds) < 2:
        raise OutputError(f"{path.name}: there is no fan whose speed could be mapped")
    drive, here = _drive(tune)
    other = "hot" if side == "cold" else "cold"
    at = _nearest(tune.hot_speed if side == "cold" else tune.cold_speed, tune.now[f"{other}_speed"])
    part_of = (slice(None), slice(None), at) if side == "cold" else (slice(None), at)
    name = next(
        one
        for one in ("place_air_K", "net_cooling_W", "cold_sink_K")
        if np.isfinite(tune.maps.get(one, np.nan)).any()
    )
    if not np.isfinite(tune.maps["cold_outlet_K"]).any():
        name = "cold_sink_K"  # a plate has no air of its own
    shown = _slice(tune.maps[name], side, at)
    allowed = _slice(tune.allowed, side, at)
    is_temperature = name.endswith("_K")
    unit = "°C" if is_temperature else "W"
    shown = shown - _ZERO_C_K if is_temperature else shown
    with picture(path, height_mm=110.0) as figure:
        axes = figure.subplots()
        _contours(axes, drive, speeds, shown, unit)
        notes = [_best_region(axes, drive, speeds, shown if is_temperature else -shown)]
        known = np.isfinite(shown)
        for where, hatch, words in (
            (known & ~allowed, "///", f"hatched: beyond {_beyond(tune, design, part_of)}"),
            (~known, "xx", "crossed: no steady state"),
        ):
            if where.any() and not where.all():
                axes.contourf(
                    drive, speeds, where.astype(float).T, levels=[0.5, 1.5], colors="none",
                    hatches=[hatch],
                )  # fmt: skip
                notes.append(words)
        axes.set_xlabel(_AXIS[tune.axis])
        axes.set_ylabel(f"speed of the {side} fan [%]")
        mark_point(axes, here, 100.0 * tune.now[f"{side}_speed"], "as the sheet has it")
        title = _TITLES[name]
        if len(tune.hot_speed if side == "cold" else tune.cold_speed) > 1:
            title += f", {other} fan at {100.0 * tune.now[f'{other}_speed']:.0f} %"
        axes.set_title(f"{title} [{unit}]")
        _below(axes, "     ".join(note for note in notes if note), right=False)


def _level(
    axes: Any,
    tune: Tune,
    design: Sheet,
    name: str,
    drive: NDArray[np.float64],
    here: float,
    at: tuple[int, int],
) -> None:
    """How cold it gets along what is set, with the goal, the sheet's point and the coldest."""
    level = tune.maps[name][:, at[0], at[1]] - _ZERO_C_K
    known = np.flatnonzero(np.isfinite(level))
    is_plate = name == "cold_sink_K"
    axes.set_title("How cold it gets")
    axes.set_ylabel("plate [°C]" if is_plate else "place levels off at [°C]")
    if not len(known):
        return
    axes.plot(drive, level, color=PALETTE["cold"])
    goal = design.goal.plate if is_plate else design.goal.air
    if goal is not None:
        mark_limit(axes, goal.value - _ZERO_C_K, f"goal {display('goal_air_K', goal.value)}")
    low, high = axes.get_ylim()
    axes.set_ylim(low - 0.12 * (high - low), high + 0.05 * (high - low))
    best = int(np.nanargmin(level))
    mark_point(axes, here, float(np.interp(here, drive[known], level[known])),
               "as the sheet has it")  # fmt: skip
    if best < known[-1] and abs(drive[best] - here) > 0.05 * drive[-1]:
        axes.plot([drive[best]], [level[best]], marker="v", markersize=5, color=PALETTE["cold"])
        axes.annotate(
            f"coldest at {_plain(tune.axis, drive[best])}", (drive[best], level[best]),
            xytext=(0, -13), textcoords="offset points", ha="center", fontsize=8.5,
            color=PALETTE["cold"],
        )  # fmt: skip


def _watts(
    axes: Any,
    tune: Tune,
    drive: NDArray[np.float64],
    here: float,
    at: tuple[int, int],
    *,
    with_net: bool,
) -> None:
    """What is moved, and what it takes, named at the ends of the curves."""
    axes.set_title("What is moved, and what it takes")
    axes.set_ylabel("watts [W]")
    axes.axhline(0.0, color=PALETTE["soft"], linewidth=0.6)
    named = []
    for name, colour, style, text in _CURVES:
        curve = tune.maps[name][:, at[0], at[1]]
        known = np.flatnonzero(np.isfinite(curve))
        if not len(known) or (name == "net_cooling_W" and not with_net):
            continue
        axes.plot(drive, curve, color=PALETTE[colour], linestyle=style)
        named.append((float(curve[known[-1]]), text, PALETTE[colour]))
    axes.axvline(here, color=PALETTE["edge"], linewidth=0.8, linestyle=(0, (2, 2)))
    axes.set_ylim(*axes.get_ylim())
    label_margin(axes, named)


def _hatch(axes: Any, drive: NDArray[np.float64], where: NDArray[np.bool_], hatch: str) -> None:
    """Hatch the stretches of the axis where something holds."""
    half = 0.5 * (drive[1] - drive[0]) if len(drive) > 1 else 0.0
    edges = np.flatnonzero(np.diff(np.concatenate([[0], where.astype(int), [0]])))
    for first, after in zip(edges[::2], edges[1::2], strict=True):
        axes.axvspan(
            drive[first] - half, min(drive[after - 1] + half, drive[-1]), facecolor="none",
            hatch=hatch, edgecolor="none", linewidth=0.0, zorder=0,
        )  # fmt: skip


def _beyond(tune: Tune, design: Sheet, part_of: tuple[Any, ...]) -> str:
    """Which limits are broken somewhere in a part of the maps, in words."""
    figures = {"max_plug_power": "plug_power_W", "max_sound": "sound_dB"}
    figures |= {name: f"{name}_K" for name in ("hot_face", "hot_sink", "cold_face", "cold_sink")}
    found = []
    for name, figure in figures.items():
        part: Any = design.goal if name.startswith("max") else design.limits
        limit = getattr(part, name, None)
        if limit is None:
            continue
        along = tune.maps[figure][part_of]
        sign = -1.0 if name.startswith("cold") else 1.0
        if (sign * along > sign * limit.value).any():
            found.append(f"{LIMITS[name]}, {limit.text}")
    return " and ".join(found) or "a limit of the sheet"


def _contours(
    axes: Any,
    drive: NDArray[np.float64],
    speeds: NDArray[np.float64],
    shown: NDArray[np.float64],
    unit: str,
) -> None:
    known = shown[np.isfinite(shown)]
    if not len(known) or np.ptp(known) < 1e-6:
        return
    lines = axes.contour(
        drive, speeds, shown.T, levels=_levels(known), colors=PALETTE["cold"], linewidths=0.9
    )
    levels = lines.levels
    digits = next((d for d in range(3) if np.allclose(levels, np.round(levels, d))), 2)
    axes.clabel(lines, fmt=f"%.{digits}f {unit}", fontsize=7.5)


def _levels(known: NDArray[np.float64]) -> NDArray[np.float64]:
    """Round levels where most of the map lies: a cliff at one edge must not take them all."""
    from matplotlib.ticker import MaxNLocator

    low, high = np.quantile(known, [0.0, 0.97])
    if high - low < 1e-6:
        low, high = known.min(), known.max()
    return np.asarray(MaxNLocator(12).tick_values(low, high))


def _best_region(
    axes: Any, drive: NDArray[np.float64], speeds: NDArray[np.float64], cost: NDArray[np.float64]
) -> str:
    """Shade where it is within a twentieth of the best, and say so."""
    known = cost[np.isfinite(cost)]
    if not len(known) or np.ptp(known) < 1e-6:
        return ""
    edge = known.min() + 0.05 * (np.quantile(known, 0.97) - known.min())
    axes.contourf(
        drive, speeds, cost.T, levels=[known.min() - 1.0, edge], colors=[PALETTE["outdoor_fill"]],
        zorder=0,
    )  # fmt: skip
    return "shaded: within a twentieth of the best"


def _below(axes: Any, text: str, *, right: bool) -> None:
    """A note under the axis, beside its label."""
    axes.annotate(
        text, (1.0 if right else 0.0, 0.0), xycoords="axes fraction", xytext=(0, -33),
        textcoords="offset points", ha="right" if right else "left", va="top", fontsize=8,
        color=PALETTE["soft"],
    )  # fmt: skip


def _level_name(tune: Tune, design: Sheet) -> str | None:
    if "place_air_K" in tune.maps:
        return "place_air_K"
    return "cold_sink_K" if design.place.kind == "plate" else None


def _drive(tune: Tune) -> tuple[NDArray[np.float64], float]:
    scale = 100.0 if tune.axis == "duty" else 1.0
    return np.array(tune.drive) * scale, tune.now["drive"] * scale


def _nearest(axis: list[float], value: float) -> int:
    return int(np.argmin(np.abs(np.array(axis) - value)))


def _slice(field: NDArray[Any], side: str, at: int) -> NDArray[Any]:
    return field[:, :, at] if side == "cold" else field[:, at, :]


def _plain(axis: str, number: float) -> str:
    if axis == "duty":
        return f"{number:.0f}\u2009%"
    return display(axis, float(number))
