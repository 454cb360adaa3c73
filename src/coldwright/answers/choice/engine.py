"""What solves a batch of designs: the records of all parts, and how they are laid together.

Only arrays and numbers, so that it travels to other machines as it is.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.grid import Grid, grid_of
from coldwright.answers.choice.options import AXES, Options
from coldwright.answers.design import Design
from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.cooler import operate
from coldwright.machine.front import undominated
from coldwright.machine.records import POWER, Drive, Properties, Status
from coldwright.machine.search import CASE, POINT, Aim, combine, search
from coldwright.machine.values import Values
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
)
from coldwright.sheet.models import Sheet

# Designs of the front that differ by less than this in everything count as the same.
ROUND_K, ROUND_W, ROUND_DB, ROUND_PRICE = 0.05, 0.5, 0.5, 0.5

# What is kept of each design: half a line of a table.
KEPT = np.dtype(
    [
        ("flat", "i8"),
        ("merit", "f8"),
        ("cost", "f8"),  # of the best setting if no limit held
        ("drive_V", "f4"), ("cold_speed", "f4"), ("hot_speed", "f4"),
        ("level_K", "f4"), ("net_W", "f4"), ("plug_W", "f4"), ("sound_dB", "f4"),
        ("hot_face_K", "f4"),
        ("price", "f4"),
        ("broken", "u2"),
        ("free_broken", "u2"),
    ]
)  # fmt: skip
_FIGURES = (
    "drive_V", "cold_speed", "hot_speed", "level_K", "net_W", "plug_W", "sound_dB", "hot_face_K",
)  # fmt: skip
FRONT = np.dtype(
    [
        ("flat", "i8"),
        ("drive_V", "f8"), ("cold_speed", "f8"), ("hot_speed", "f8"),
        ("level_K", "f8"), ("net_W", "f8"), ("goal", "f8"), ("plug_W", "f8"), ("sound_dB", "f8"),
        ("price", "f8"),
    ]
)  # fmt: skip

# Compiled loops that run in parallel must not be entered by two threads at once.
_ONE_AT_A_TIME = threading.Lock()
# Currents and lifts between which modules known by constants or legs are used [K].
_COLD_K, _LIFT_K = 280.0, 60.0


@dataclass
class Engine:
    """Everything that a batch of designs needs."""

    grid: Grid
    base: Any
    place: Any
    pieces: dict[str, Any]
    limits: Any
    aim: Aim
    with_place: bool
    held_K: float
    spacer_W_m2K: float
    screws_W_K: float

    def coolers(self, flat: NDArray[np.int64]) -> NDArray[Any]:
        """Records of designs by their numbers."""
        parts = self.grid.parts(flat)
        spacer = self.screws_W_K + self.spacer_W_m2K * self.grid.gaps_m2(parts)
        return combine(self.base, self.pieces, parts, spacer)

    def solve(
        self, flat: NDArray[np.int64], *, fine: bool = False, start: Any | None = None
    ) -> tuple[NDArray[Any], NDArray[Any]]:
        """Solve designs; what is kept of each, and those on the batch's own front.

        Parameters
        ----------
        flat
            Numbers of possible designs.
        fine
            Whether to search each one's settings finely.
        start
            Settings (drive_V, cold_speed, hot_speed) to start a fine search from, shape (n,).
        """
        flat = np.asarray(flat, dtype=np.int64)
        parts = self.grid.parts(flat)
        cases = self.grid.cases(parts, CASE)
        starts = None
        if start is not None:
            starts = np.zeros(len(flat), dtype=POINT)
            for name in ("drive_V", "cold_speed", "hot_speed"):
                starts[name] = np.asarray(start[name], dtype=float)
            steps = np.where(starts["drive_V"] >= 10.0, 10.0, 20.0)
            set_V = np.round(starts["drive_V"] * steps) / steps
            starts["drive_V"] = np.where(cases["fixed"] == 1, cases["top_V"], set_V)
            for name in ("cold_speed", "hot_speed"):
                starts[name] = np.round(starts[name] * 50.0) / 50.0
        with _ONE_AT_A_TIME:
            found, points = search(
                self.coolers(flat), self.place, cases, self.limits, self.aim,
                with_place=self.with_place, held_K=self.held_K, fine=fine, start=starts,
            )  # fmt: skip
        kept = np.zeros(len(flat), dtype=KEPT)
        kept["flat"] = flat
        best = found["best"]
        for name in _FIGURES:
            kept[name] = best[name]
        kept["merit"] = best["merit"]
        kept["broken"] = best["broken"]
        kept["cost"] = found["free"]["cost"]
        kept["free_broken"] = found["free"]["broken"]
        kept["price"] = cases["price"]
        silent = cases["unknown_sound"] == 1
        kept["sound_dB"][silent] = np.nan
        if fine:
            points = np.concatenate([points, best[:, None]], axis=1)
        return kept, self._front(flat, cases["price"], silent, points)

    def one(self, flat: int, drive_V: float, cold: float, hot: float) -> Any:
        """The solved state of one design at one setting, as `operate` gives it."""
        cooler = self.coolers(np.array([flat]))
        on = cooler["group"]["drive"] == Drive.VOLTAGE
        cooler["group"]["drive_value"] = np.where(on, drive_V, cooler["group"]["drive_value"])
        cooler["cold_fan"]["speed"] = cold
        cooler["hot_fan"]["speed"] = hot
        with _ONE_AT_A_TIME:
            return operate(
                cooler, self.place, self.place["air_K"], self.place["humidity_ratio"],
                with_place=self.with_place,
            )  # fmt: skip

    def _front(
        self,
        flat: NDArray[np.int64],
        price: NDArray[np.float64],
        unknown_sound: NDArray[np.bool_],
        points: Any,
    ) -> NDArray[Any]:
        good = points["broken"] == 0
        which = np.nonzero(good)
        front = np.zeros(int(good.sum()), dtype=FRONT)
        held = points[good]
        for name in ("drive_V", "cold_speed", "hot_speed", "level_K", "net_W", "plug_W",
                     "sound_dB"):  # fmt: skip
            front[name] = held[name]
        front["goal"] = held["level_or_net"]
        front["flat"] = flat[which[0]]
        front["price"] = price[which[0]]
        front["sound_dB"][unknown_sound[which[0]]] = np.nan
        return front_of(front)


def front_of(points: NDArray[Any]) -> NDArray[Any]:
    """Those that no other beats in what is wanted, power, sound or price without losing in one."""
    if len(points) == 0:
        return points
    table = np.stack(
        [
            np.round(points["goal"] / ROUND_K),
            np.round(points["plug_W"] / ROUND_W),
            np.round(_known(points["sound_dB"]) / ROUND_DB),
            np.round(_known(points["price"]) / ROUND_PRICE),
        ],
        axis=1,
    )
    order = np.lexsort((points["flat"], points["plug_W"], points["goal"]))
    kept = undominated(table[order])
    return points[order[kept]]


def _known(numbers: NDArray[np.float64]) -> NDArray[np.float64]:
    """The numbers, and one behind all of them where one is not known."""
    return np.where(np.isfinite(numbers), numbers, 1e9)


def engine_of(
    design: Design,
    options: Options,
    limits: Any,
    aim: Aim,
    held_K: float = 0.0,
    load: float = 1.0,
) -> Engine:
    """Assemble each part once; the sheet's own records hold everything else."""
    sheet = design.sheet
    pieces = _pieces(sheet, options)
    module_A, module_V = _ratings(sheet, options, pieces["module"])
    grid = grid_of(options, module_A, module_V, own_parts(sheet, options), load)
    spacer_W_m2K, screws_W_K = _spacer(sheet)
    base = design.cooler.copy()
    return Engine(
        grid, base, design.place, pieces, limits, aim, design.enclosed, held_K, spacer_W_m2K,
        screws_W_K,
    )  # fmt: skip


def own_parts(sheet: Sheet, options: Options) -> dict[str, int] | None:
    """Options of the sheet's own design; None where it is not among the designs."""
    cooler = sheet.cooler
    found: dict[str, int] = {}
    for name in AXES:
        if name == "wiring":
            continue
        at = next((i for i, option in enumerate(options.axes[name]) if option.own), None)
        if at is None:
            return None
        found[name] = at
    groups = cooler.modules
    for at, wiring in enumerate(options.axes["wiring"]):
        same = (wiring.series[0], wiring.parallel[0]) == (groups[0].series, groups[0].parallel)
        if len(groups) == 1 and same and wiring.parallel[1] == 0:
            found["wiring"] = at
            return found
    return None


def _pieces(sheet: Sheet, options: Options) -> dict[str, Any]:
    """Records of every part, assembled by the same code as a whole sheet's."""
    axes = options.axes
    steps = max(len(axes[name]) for name in AXES if name != "wiring")
    rows: dict[str, list[Any]] = {name: [] for name in AXES}
    plate = sheet.place.kind == "plate"
    for step in range(steps):
        parts = {name: axes[name][min(step, len(axes[name]) - 1)].part for name in AXES
                 if name != "wiring"}  # fmt: skip
        module = parts["module"].model_copy(update={"series": 1, "parallel": 1, "spacer": None})
        update = {
            "modules": (module,),
            "hot_sink": (parts["hot_sink"],),
            "hot_fan": parts["hot_fan"],
        }
        if not plate:
            update |= {"cold_sink": (parts["cold_sink"],), "cold_fan": parts["cold_fan"]}
        power = sheet.power
        if parts["supply"] is not None and power is not None:
            wires = tuple(
                parts["wire"] if wire.name == "modules" and parts["wire"] is not None else wire
                for wire in power.wire
            )
            power = power.model_copy(
                update={
                    "supply": parts["supply"], "converter": parts["converter"], "wire": wires,
                }
            )  # fmt: skip
        made = assemble_cooler(
            sheet.model_copy(
                update={"cooler": sheet.cooler.model_copy(update=update), "power": power}
            ),
            Values(0),
        )
        rows["module"].append(made["group"][0, 0])
        rows["wire"].append(made["group"]["lead_ohm"][0, 0])
        for side in ("cold", "hot"):
            rows[f"{side}_sink"].append(made[f"{side}_sink"][0, 0])
            rows[f"{side}_fan"].append(made[f"{side}_fan"][0])
        rows["supply"].append(made["power"][0])
        rows["converter"].append(made["power"][0])
    pieces: dict[str, Any] = {
        name: np.array(held[: len(axes[name])], dtype=held[0].dtype)
        for name, held in rows.items()
        if name not in ("wiring", "wire")
    }
    pieces["lead_ohm"] = np.array(rows["wire"][: len(axes["wire"])], dtype=float)
    assert pieces["supply"].dtype == POWER
    if plate:
        from coldwright.machine.assemble_place import fill_plate

        # The plate itself stands where the cold sink would.
        whole = assemble_cooler(sheet, Values(0))
        fill_plate(whole, sheet, Values(0))
        pieces["cold_sink"] = whole["cold_sink"][:, 0].copy()
    wirings = axes["wiring"]
    pieces["series"] = np.array([wiring.series for wiring in wirings], dtype=float)
    pieces["parallel"] = np.array([wiring.parallel for wiring in wirings], dtype=float)
    pieces["off"] = np.array([wiring.off for wiring in wirings])
    pieces["off_A"] = 1e-3
    return pieces


def _ratings(
    sheet: Sheet, options: Options, groups: Any
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Most current and voltage of each module: its ratings, or where its lift is greatest."""
    most_A, most_V = [], []
    limits = sheet.limits
    for option, group in zip(options.axes["module"], groups, strict=True):
        part = option.part
        amps, volts = _rated(part, group, "")
        if part.second is not None:
            second_A, second_V = _rated(part.second, group, "second_")
            if part.second.wired == "in series":
                amps = min(amps, second_A)
                volts += second_V * part.second.ratio
        if limits.max_current is not None:
            amps = min(amps, limits.max_current.value)
        if limits.max_voltage is not None:
            volts = min(volts, limits.max_voltage.value)
        most_A.append(amps)
        most_V.append(volts)
    return np.array(most_A), np.array(most_V)


def _rated(part: Any, group: Any, prefix: str) -> tuple[float, float]:
    if part.ratings is not None:
        return part.ratings.max_current.value, part.ratings.max_voltage.value
    seebeck, ohm = float(group[f"{prefix}seebeck"]), float(group[f"{prefix}resistance"])
    if group[f"{prefix}properties"] == Properties.BISMUTH_TELLURIDE:
        seebeck *= float(bismuth_telluride_seebeck(300.0))
        ohm *= float(bismuth_telluride_resistivity(300.0))
    if prefix:
        seebeck, ohm = seebeck / part.ratio, ohm / part.ratio
    amps = seebeck * _COLD_K / ohm
    return amps, amps * ohm + seebeck * _LIFT_K


def _spacer(sheet: Sheet) -> tuple[float, float]:
    """Conductance of the gap's filling per area, and of the screws."""
    group = sheet.cooler.modules[0]
    spacer = group.spacer
    if spacer is None:
        return 0.0, 0.0

    def conductance(area_m2: float) -> float:
        other = spacer.model_copy(update={"area": replace(spacer.area, value=area_m2)})
        modules = (group.model_copy(update={"spacer": other}),)
        cooler = sheet.cooler.model_copy(update={"modules": modules})
        made = assemble_cooler(sheet.model_copy(update={"cooler": cooler}), Values(0))
        return float(made["spacer_W_K"][0])

    filling_W_m2K = conductance(2.0) - conductance(1.0)
    return filling_W_m2K, conductance(1.0) - filling_W_m2K


def is_solved(results: Any) -> bool:
    """Whether one solved case has numbers."""
    return int(results["status"][0]) == Status.SOLVED
