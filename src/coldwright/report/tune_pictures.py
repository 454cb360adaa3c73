"""Pictures of the hill: the way along the volts, and the map over volts and a fan speed."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from coldwright.answers.tune import Tune
from coldwright.quantities.glossary import display, entry
from coldwright.report.picture import PALETTE, mark_limit, mark_point, picture

_AXIS = {
    "voltage_V": "volts of the array [V]",
    "current_A": "amperes of the array [A]",
    "module_power_W": "power into the modules [W]",
    "pumped_W": "heat to be moved [W]",
    "duty": "duty [%]",
}


def draw_drive(tune: Tune, path: Path, *, goal_K: float | None = None) -> None:
    """Temperature, cooling and power along what is set, both fans at the sheet's speeds."""
    drive = np.array(tune.drive) * (100.0 if tune.axis == "duty" else 1.0)
    here = tune.now["drive"] * (100.0 if tune.axis == "duty" else 1.0)
    j = int(np.argmin(np.abs(np.array(tune.cold_speed) - tune.now["cold_speed"])))
    k = int(np.argmin(np.abs(np.array(tune.hot_speed) - tune.now["hot_speed"])))
    with picture(path, height_mm=120.0) as figure:
        level_name = "place_air_K" if "place_air_K" in tune.maps else None
        rows = 2 if level_name else 1
        axes = figure.subplots(rows, 1, sharex=True, squeeze=False)[:, 0]
        if level_name:
            top = axes[0]
            level = tune.maps[level_name][:, j, k] - 273.15
            top.plot(drive, level, color=PALETTE["cold"])
            top.set_ylabel("place levels off at [°C]")
            top.set_title("How cold it gets")
            if goal_K is not None:
                mark_limit(top, goal_K - 273.15, f"goal {display('goal_air_K', goal_K)}")
            mark_point(top, here, float(np.interp(here, drive, level)), "as the sheet has it")
            best = int(np.nanargmin(level))
            top.annotate(
                f"coldest at {_plain(tune.axis, drive[best])}", (drive[best], level[best]),
                xytext=(0, -14), textcoords="offset points", ha="center", fontsize=8.5,
                color=PALETTE["cold"],
            )  # fmt: skip
        low = axes[-1]
        low.set_title("What is moved, and what it takes")
        ends = [len(drive) - 1]
        for name, colour, style, text in (
            ("plug_power_W", PALETTE["power"], (0, (1, 1.4)), "from the plug"),
            ("cooling_W", PALETTE["cold"], "-", "cold side takes out"),
            ("net_cooling_W", PALETTE["outdoor"], (0, (5, 2)), "net for the place"),
        ):
            if name == "net_cooling_W" and level_name is None:
                continue
            curve = tune.maps[name][:, j, k]
            low.plot(drive, curve, color=colour, linestyle=style)
            good = np.flatnonzero(np.isfinite(curve))
            if len(good):
                ends.append(int(good[-1]))
                low.annotate(
                    text, (drive[good[-1]], curve[good[-1]]), xytext=(5, 0), va="center",
                    textcoords="offset points", color=colour, fontsize=8.5, annotation_clip=False,
                )  # fmt: skip
        low.axhline(0.0, color=PALETTE["soft"], linewidth=0.6)
        low.axvline(here, color=PALETTE["edge"], linewidth=0.8, linestyle=(0, (2, 2)))
        low.set_ylabel("watts [W]")
        low.set_xlabel(_AXIS[tune.axis])
        low.set_xlim(0.0, drive[-1] * 1.28)


def draw_map(tune: Tune, path: Path, *, side: str = "cold") -> None:
    """Map over what is set and one fan's speed, the other at the sheet's speed."""
    drive = np.array(tune.drive) * (100.0 if tune.axis == "duty" else 1.0)
    speeds = np.array(tune.cold_speed if side == "cold" else tune.hot_speed)
    other = np.array(tune.hot_speed if side == "cold" else tune.cold_speed)
    fixed = tune.now["hot_speed" if side == "cold" else "cold_speed"]
    i = int(np.argmin(np.abs(other - fixed)))
    name = next(n for n in ("place_air_K", "net_cooling_W") if n in tune.maps)
    field = tune.maps[name][:, :, i] if side == "cold" else tune.maps[name][:, i, :]
    shown = field - 273.15 if name.endswith("_K") else field
    unit = "°C" if name.endswith("_K") else "W"
    with picture(path, height_mm=105.0) as figure:
        axes = figure.subplots()
        lines = axes.contour(
            drive, 100.0 * speeds, shown.T, levels=12, colors=PALETTE["cold"], linewidths=0.9
        )
        axes.clabel(lines, fmt=f"%.1f {unit}" if unit == "°C" else f"%.0f {unit}", fontsize=7.5)
        sign = 1.0 if name.endswith("_K") else -1.0
        edge = np.nanmin(sign * shown) + 0.05 * np.ptp(shown[np.isfinite(shown)])
        axes.contourf(
            drive, 100.0 * speeds, (sign * shown).T, levels=[-1e9, edge],
            colors=[PALETTE["outdoor_fill"]],
        )  # fmt: skip
        allowed = tune.allowed[:, :, i] if side == "cold" else tune.allowed[:, i, :]
        if not allowed.all():
            axes.contourf(
                drive, 100.0 * speeds, allowed.astype(float).T, levels=[-0.5, 0.5],
                colors="none", hatches=["///"],
            )  # fmt: skip
            axes.annotate(
                "hatched: beyond a limit", (1.0, -0.16), xycoords="axes fraction", ha="right",
                fontsize=8, color=PALETTE["soft"],
            )  # fmt: skip
        here = tune.now["drive"] * (100.0 if tune.axis == "duty" else 1.0)
        mark_point(axes, here, 100.0 * tune.now[f"{side}_speed"], "as the sheet has it")
        axes.set_xlabel(_AXIS[tune.axis])
        axes.set_ylabel(f"speed of the {side} fan [%]")
        axes.set_title(f"{entry(name).description.rstrip('.')} [{unit}]")
        axes.annotate(
            "shaded: best region", (0.0, -0.16), xycoords="axes fraction", fontsize=8,
            color=PALETTE["soft"],
        )  # fmt: skip


def _plain(axis: str, number: float) -> str:
    if axis == "duty":
        return f"{number:.0f}\u2009%"
    return display(axis, float(number))
