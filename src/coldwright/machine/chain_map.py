"""What the power chain loses over all that the knobs can reach, from a few settings of them.

A network is solved in milliseconds, a map has tens of thousands of points. The losses are smooth in
what is set and in both speeds, so they are known from a few nodes: along what is set at two speeds,
and along either speed. Where the modules hang on the bus without a converter they are a case apart.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

from coldwright.errors import NoSolution
from coldwright.machine.assemble_network import SAME_VOLTAGE, power_chain_of
from coldwright.machine.cooler import operate
from coldwright.machine.coupled import losses_of
from coldwright.machine.network import solve_network
from coldwright.machine.records import MAX_GROUPS, Drive, Status
from coldwright.sheet.models import Box, Room, Sheet

_DRIVES, _SPEEDS = 6, 4
_BY_VOLTAGE = (Drive.VOLTAGE, Drive.CHOPPED)


@dataclass(frozen=True)
class ChainLosses:
    """What the chain loses at each setting of a map, and the volts that it leaves."""

    extra_W: NDArray[np.float64]
    """Loss that the cooler's own solve does not know, shape (drives, cold, hot)."""
    drive_ratio: NDArray[np.float64]
    """What is left of what each group is set to, shape (drives, MAX_GROUPS)."""


class ChainMap:
    """The losses of one design's chain, by what is set and both speeds.

    Parameters
    ----------
    sheet
        The design; it says something of the chain (`uses_network`).
    cooler, place
        Its nominal records before the chain, shape (1,).
    least, most
        Factors on what the sheet sets between which the losses are wanted.
    """

    def __init__(self, sheet: Sheet, cooler: Any, place: Any, least: float, most: float) -> None:
        self._sheet, self._cooler, self._place = sheet, cooler, place
        self.least, self.most = least, most
        self._now = [float(cooler[f"{side}_fan"]["speed"][0]) for side in ("cold", "hot")]
        self._bus = self._bus_factor()
        self._along = self._fit(least, most, _DRIVES, lambda x: self._solved(x, *self._now))
        self._beside = [
            self._fit(min(0.1, now), max(1.0, now), _SPEEDS, self._of_speed(side))
            for side, now in enumerate(self._now)
        ]
        at_now = self._along(np.array([min(max(1.0, least), most)]))[0]
        self._offsets = [
            float(one(np.array([now]))[0] - at_now)
            for one, now in zip(self._beside, self._now, strict=True)
        ]
        self._at_now = at_now
        self._on_bus = None if self._bus is None else self._landed(self._bus)

    @classmethod
    def around(
        cls, held: ChainMap | None, sheet: Sheet, cooler: Any, place: Any, least: float, most: float
    ) -> ChainMap:
        """One that covers these factors, with room beyond for what is a tenth off."""
        if held is not None:
            least, most = min(least, held.least), max(most, held.most)
        return cls(sheet, cooler, place, 0.8 * least, 1.15 * most)

    def covers(self, least: float, most: float) -> bool:
        """Whether the losses are known between two factors."""
        return self.least <= least and most <= self.most

    def losses(
        self, factors: NDArray[np.float64], cold: NDArray[np.float64], hot: NDArray[np.float64]
    ) -> ChainLosses:
        """The losses over a map: factors on what the sheet sets, and speeds."""
        along = self._along(factors)
        ratio = np.ones((len(factors), MAX_GROUPS))
        if self._bus is not None and self._on_bus is not None:
            direct = np.abs(factors / self._bus - 1.0) <= SAME_VOLTAGE
            along[direct] = self._on_bus[0]
            ratio[direct] = self._on_bus[1]
        beside = [
            one(speeds) - self._at_now - offset
            for one, speeds, offset in zip(self._beside, (cold, hot), self._offsets, strict=True)
        ]
        extra_W = along[:, None, None] + beside[0][None, :, None] + beside[1][None, None, :]
        return ChainLosses(np.maximum(extra_W, 0.0), ratio)

    def _of_speed(self, side: int) -> Callable[[float], float]:
        def solved(speed: float) -> float:
            speeds = list(self._now)
            speeds[side] = speed
            return self._solved(1.0, *speeds)

        return solved

    def _fit(
        self, low: float, high: float, count: int, function: Callable[[float], float]
    ) -> Callable[[NDArray[np.float64]], NDArray[np.float64]]:
        """A polynomial through as many nodes, scaled to the span; level where nothing is known."""
        nodes = np.cos(np.pi * (np.arange(count) + 0.5) / count)
        xs = 0.5 * (low + high) + 0.5 * (high - low) * nodes
        ys = np.array([function(float(x)) for x in xs])
        known = np.isfinite(ys)
        if not known.any():
            return lambda x: np.zeros(np.shape(x))
        held = chebyshev.chebfit(nodes[known], ys[known], int(known.sum()) - 1)
        scale = 0.5 * (high - low) or 1.0

        def value(x: NDArray[np.float64]) -> NDArray[np.float64]:
            inside = np.clip((x - 0.5 * (low + high)) / scale, -1.0, 1.0)
            return np.asarray(chebyshev.chebval(inside, held), dtype=float)

        return value

    def _bus_factor(self) -> float | None:
        """At which factor the modules would hang on the bus; None where a converter stands."""
        power = self._sheet.power
        if power is None or power.converter is not None:
            return None
        source = power.supply or power.battery
        group = self._cooler["group"][0, 0]
        if source is None or Drive(int(group["drive"])) not in _BY_VOLTAGE:
            return None
        set_V = float(group["drive_value"])
        return source.voltage.value / set_V if set_V > 0.0 else None

    def _landed(self, factor: float) -> tuple[float, NDArray[np.float64]] | None:
        """Loss and volts left on the bus itself, brought to agree as for a sheet."""
        cooler = self._cooler.copy()
        cooler["group"]["drive_value"] *= factor
        found = losses_of(self._sheet, cooler, self._place)
        return None if found is None else (found.extra_W, found.drive_ratio)

    def _solved(self, factor: float, cold: float, hot: float) -> float:
        """Loss at one setting; NaN where there is no state."""
        if self._bus is not None and abs(factor / self._bus - 1.0) <= SAME_VOLTAGE:
            factor = self._bus * (1.0 - 1.5 * SAME_VOLTAGE)
        cooler = self._cooler.copy()
        cooler["group"]["drive_value"] *= factor
        cooler["cold_fan"]["speed"], cooler["hot_fan"]["speed"] = cold, hot
        result = operate(
            cooler, self._place, self._place["air_K"], self._place["humidity_ratio"],
            with_place=isinstance(self._sheet.place, Room | Box),
        )  # fmt: skip
        if result["status"][0] != Status.SOLVED:
            return float("nan")
        try:
            chain = power_chain_of(
                self._sheet, cooler[0], result[0], float(self._place["air_K"][0])
            )
            found = solve_network(chain.elements)
        except NoSolution:
            return float("nan")
        return float(sum(heat.watts for heat in found.heat if heat.element in chain.extra))
