"""The space of designs in numbers: which part each design has, what it costs, whether it can be.

Only arrays, so that it travels to other machines.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.options import AXES, COVERED, Option, Options, Wiring

_Floats = NDArray[np.float64]
_Ints = NDArray[np.int64]

# Below this share of a module's rated voltage a given voltage does next to nothing.
_LEAST_VOLTS = 0.04
# A fuse is loaded with at most this share of its rating for long (practice of fused wiring).
FUSE_SHARE = 0.8


@dataclass(frozen=True)
class Grid:
    """One array per property of the options, by kind."""

    sizes: tuple[int, ...]
    price: dict[str, _Floats]
    """Price of each option; modules one by one, fans with all that stand side by side."""
    stock: dict[str, _Floats]
    each: dict[str, _Floats]
    face_m2: dict[str, _Floats]
    same: _Ints
    """For each cold fan the number of the same fan on the hot side, or -1; so for the sinks in
    `same_sink`."""
    same_sink: _Ints
    count: _Ints
    series: NDArray[np.float64]
    """Shape (wirings, 2)."""
    parallel: NDArray[np.float64]
    off: NDArray[np.bool_]
    module_A: _Floats
    module_V: _Floats
    supply_V: _Floats
    """inf: no supply is searched."""
    supply_W: _Floats
    adjustable: NDArray[np.bool_]
    """Of each supply; a converter makes any adjustable."""
    converter_W: _Floats
    converts: NDArray[np.bool_]
    fuse_A: _Floats
    cold_dB: _Floats
    hot_dB: _Floats
    silent: dict[str, NDArray[np.bool_]] = field(repr=False)
    """Fans that do not tell their sound, by side."""
    items_price: float = 0.0
    most_price: float = np.inf
    gap_m2: float = 0.0
    """What the sheet's own gap is larger than its bases less its modules."""
    own_gap_m2: float = 0.0
    has_spacer: bool = False

    @property
    def total(self) -> int:
        """Number of combinations, those that cannot be included; exact however many."""
        total = 1
        for size in self.sizes:
            total *= size
        return total

    def parts(self, flat: _Ints) -> dict[str, _Ints]:
        """Which option of each kind each design has."""
        found: dict[str, _Ints] = {}
        rest = np.asarray(flat, dtype=np.int64)
        for name, size in zip(reversed(AXES), reversed(self.sizes), strict=True):
            rest, found[name] = np.divmod(rest, size)
        return {name: found[name] for name in AXES}

    def flat(self, parts: dict[str, Any]) -> _Ints:
        """The number of each design from its options."""
        total = np.zeros(np.shape(parts[AXES[0]]), dtype=np.int64)
        for name, size in zip(AXES, self.sizes, strict=True):
            total = total * size + np.asarray(parts[name], dtype=np.int64)
        return total

    def prices(self, parts: dict[str, _Ints]) -> _Floats:
        """What each design costs to buy; NaN where a price is not known."""
        total = (
            self.items_price + self.count[parts["wiring"]] * self.price["module"][parts["module"]]
        )
        for name in AXES[2:]:
            total = total + self.price[name][parts[name]]
        return np.asarray(total)

    def possible(self, parts: dict[str, _Ints]) -> dict[str, NDArray[np.bool_]]:
        """Whether each design passes what needs no solving, by what it would fail for."""
        count = self.count[parts["wiring"]]
        room_m2 = np.minimum(
            self.face_m2["cold_sink"][parts["cold_sink"]],
            self.face_m2["hot_sink"][parts["hot_sink"]],
        )
        found = {"room": count * self.face_m2["module"][parts["module"]] <= COVERED * room_m2}
        bought = count * self.each["module"][parts["module"]]
        in_stock = bought <= self.stock["module"][parts["module"]]
        for name in ("cold_sink", "hot_sink", "cold_fan", "hot_fan", "supply", "converter", "wire"):
            in_stock &= self.each[name][parts[name]] <= self.stock[name][parts[name]]
        for name, same in (("fan", self.same), ("sink", self.same_sink)):
            cold, hot = parts[f"cold_{name}"], parts[f"hot_{name}"]
            both = same[cold] == hot
            needed = self.each[f"cold_{name}"][cold] + self.each[f"hot_{name}"][hot]
            in_stock &= ~both | (needed <= self.stock[f"hot_{name}"][hot])
        found["stock"] = in_stock
        volts = self.supply_V[parts["supply"]]
        longest, shortest = self._lengths(parts["wiring"])
        rated = self.module_V[parts["module"]]
        given = ~self._settable(parts)
        found["voltage"] = ~given | (
            (volts <= 1.001 * rated * shortest) & (volts >= _LEAST_VOLTS * rated * longest)
        )
        found["price"] = ~(self.prices(parts) > self.most_price)
        return found

    def cases(self, parts: dict[str, _Ints], dtype: Any) -> NDArray[Any]:
        """What each design's own parts allow, as the compiled search wants it."""
        found = np.zeros(len(parts["module"]), dtype=dtype)
        volts = self.supply_V[parts["supply"]]
        _, shortest = self._lengths(parts["wiring"])
        rated = self.module_V[parts["module"]] * shortest
        given = ~self._settable(parts)
        found["fixed"] = given
        found["top_V"] = np.where(given, volts, np.minimum(volts, rated))
        # In steps a person can set, so that the top itself is one.
        free = found["top_V"]
        found["top_V"] = np.where(given, free, np.floor(free * 20.0 + 1e-6) / 20.0)
        found["cold_dB"] = self.cold_dB[parts["cold_fan"]]
        found["hot_dB"] = self.hot_dB[parts["hot_fan"]]
        found["unknown_sound"] = (
            self.silent["cold"][parts["cold_fan"]] | self.silent["hot"][parts["hot_fan"]]
        )
        found["module_A"] = 1.001 * self.module_A[parts["module"]]
        found["module_V"] = 1.001 * self.module_V[parts["module"]]
        found["supply_W"] = self.supply_W[parts["supply"]]
        found["converter_W"] = self.converter_W[parts["converter"]]
        found["fuse_A"] = self.fuse_A[parts["wire"]]
        found["price"] = self.prices(parts)
        return found

    def gaps_m2(self, parts: dict[str, _Ints]) -> _Floats:
        """Gap between the bases around the modules, in whole tenths of a square centimetre."""
        if not self.has_spacer:
            return np.zeros(len(parts["module"]))
        covered = self.count[parts["wiring"]] * self.face_m2["module"][parts["module"]]
        base_m2 = np.minimum(
            self.face_m2["cold_sink"][parts["cold_sink"]],
            self.face_m2["hot_sink"][parts["hot_sink"]],
        )
        known = np.isfinite(base_m2)
        gap = np.where(known, np.where(known, base_m2, 0.0) + self.gap_m2, self.own_gap_m2)
        return np.round(np.maximum(gap - covered, 0.0) * 1e5) / 1e5

    def _settable(self, parts: dict[str, _Ints]) -> NDArray[np.bool_]:
        return np.asarray(
            self.converts[parts["converter"]]
            | self.adjustable[parts["supply"]]
            | ~np.isfinite(self.supply_V[parts["supply"]])
        )

    def _lengths(self, wiring: _Ints) -> tuple[_Floats, _Floats]:
        """Modules in the longest and in the shortest string that is on."""
        series = self.series[wiring]
        on = (self.parallel[wiring] > 0) & ~self.off[wiring]
        return (
            np.where(on, series, 0.0).max(axis=1),
            np.where(on, series, np.inf).min(axis=1),
        )


def grid_of(
    options: Options,
    module_A: _Floats,
    module_V: _Floats,
    own: dict[str, int] | None,
    load: float = 1.0,
) -> Grid:
    """The grid of some options.

    Parameters
    ----------
    options
        What there is to choose from.
    module_A, module_V
        Most current and voltage of each module, shape (modules,).
    own
        Which options the sheet's own design has; None where it is not among them.
    load
        Share of their ratings to which supplies and converters may be loaded.
    """
    axes, sheet = options.axes, options.sheet
    wirings: list[Wiring] = axes["wiring"]
    parted = [name for name in AXES if name != "wiring"]

    def of(name: str, key: str) -> _Floats:
        return np.array([getattr(option, key) for option in axes[name]], dtype=float)

    supplies = [option.part for option in axes["supply"]]
    converters = [option.part for option in axes["converter"]]
    wires = [option.part for option in axes["wire"]]
    spacer = sheet.cooler.modules[0].spacer
    items = sheet.price.item if sheet.price is not None else ()
    most = sheet.goal.max_price
    levels = {side: _levels(axes[f"{side}_fan"]) for side in ("cold", "hot")}
    grid = Grid(
        sizes=tuple(len(axes[name]) for name in AXES),
        price={name: of(name, "price") for name in parted},
        stock={name: of(name, "stock") for name in parted},
        each={name: of(name, "each") for name in parted},
        face_m2={name: of(name, "face_m2") for name in ("module", "cold_sink", "hot_sink")},
        same=_same(axes["cold_fan"], axes["hot_fan"]),
        same_sink=_same(axes["cold_sink"], axes["hot_sink"]),
        count=np.array([wiring.count for wiring in wirings]),
        series=np.array([wiring.series for wiring in wirings], dtype=float),
        parallel=np.array([wiring.parallel for wiring in wirings], dtype=float),
        off=np.array([wiring.off for wiring in wirings]),
        module_A=module_A,
        module_V=module_V,
        supply_V=np.array([np.inf if one is None else one.voltage.value for one in supplies]),
        supply_W=np.array(
            [np.inf if one is None else load * one.rated_power.value for one in supplies]
        ),
        adjustable=np.array([option.adjustable for option in axes["supply"]]),
        converter_W=np.array(
            [
                np.inf if one is None or one.rated_power is None else load * one.rated_power.value
                for one in converters
            ]
        ),
        converts=np.array([one is not None for one in converters]),
        fuse_A=np.array(
            [
                np.inf if one is None or one.fuse is None else FUSE_SHARE * one.fuse.value
                for one in wires
            ]
        ),
        cold_dB=levels["cold"],
        hot_dB=levels["hot"],
        silent={
            side: ~np.isfinite(level)
            & np.array([option.part is not None for option in axes[f"{side}_fan"]])
            for side, level in levels.items()
        },
        items_price=sum(item.price.value * item.count for item in items),
        most_price=np.inf if most is None else most.value,
        has_spacer=spacer is not None,
    )
    if spacer is None:
        return grid
    group = sheet.cooler.modules[0]
    covered = sum(
        each.series * each.parallel * each.footprint[0].value * each.footprint[1].value
        for each in sheet.cooler.modules
    )
    offset = 0.0
    if own is not None:
        base = min(
            grid.face_m2["cold_sink"][own["cold_sink"]], grid.face_m2["hot_sink"][own["hot_sink"]]
        )
        offset = spacer.area.value - (base - covered) if np.isfinite(base) else 0.0
    assert group.spacer is not None
    held = {**grid.__dict__, "gap_m2": offset, "own_gap_m2": spacer.area.value + covered}
    return Grid(**held)


def _levels(fans: list[Option]) -> _Floats:
    found = []
    for option in fans:
        fan = option.part
        if fan is None or fan.sound_at_1m is None:
            found.append(-np.inf)
        else:
            found.append(fan.sound_at_1m.value + 10.0 * np.log10(fan.count))
    return np.array(found)


def _same(cold: list[Option], hot: list[Option]) -> _Ints:
    """For each part of the cold side the number of the same part on the hot side, or -1."""
    names = {option.name: at for at, option in enumerate(hot) if not option.own}
    return np.array(
        [-1 if option.own else names.get(option.name, -1) for option in cold], dtype=np.int64
    )
