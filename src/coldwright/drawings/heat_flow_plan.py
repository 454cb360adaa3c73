"""How wide every band is, and in which order bands meet the air of the place."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from coldwright.drawings.heat_flow_bands import Band, Flows

LEAST_PX = 2.5
"""No band is drawn thinner than this, however few its watts."""
_STEPS = (8.0, 6.4, 5.0, 4.0, 3.2, 2.5, 2.0, 1.6, 1.25, 1.0)


@dataclass(frozen=True, slots=True)
class Room:
    """The most that a layout has room for [px]."""

    band: float
    turning: float
    """Bands that turn round inside the place, together."""
    node: float
    trunk: float
    lanes: float


@dataclass(frozen=True, slots=True)
class Slot:
    """Where a band meets the bar of the place's air: its middle, in px below the bar's top."""

    band: Band
    px: float
    at: float


@dataclass(frozen=True, slots=True)
class Plan:
    """Widths of all bands, and their order at the bar of the place."""

    flows: Flows
    px_W: float
    """Pixels for each watt."""
    arrive_over: list[Slot]
    arrive: list[Slot]
    arrive_under: list[Slot]
    leave_over: list[Slot]
    leave: list[Slot]
    cooling: Slot
    """Out of the bar; into it, and then among the first that arrive, where it is negative."""
    height: float

    def px(self, band: Band) -> float:
        """How wide a band is drawn; 0 for one that is not there."""
        return max(abs(band.W) * self.px_W, LEAST_PX) if band.shown else 0.0

    @property
    def reversed(self) -> bool:
        """Whether the cold side warms the place."""
        return self.flows.cooling.W < 0.0

    def thin(self) -> bool:
        """Whether any band is drawn wider than its watts."""
        return any(abs(band.W) * self.px_W < LEAST_PX for band in self.flows.every())


def plan(flows: Flows, room: Room, *, cooling_px: float = math.inf) -> Plan:
    """Choose the scale so that everything fits, in steps, so that a small change keeps it.

    `cooling_px`: the most for the cold side, where it has less room than the hot one.
    """
    cooling = flows.cooling
    back = cooling.W < 0.0
    over_in = [band for band in flows.over if band.W > 0.0]
    over_out = [band for band in flows.over if band.W < 0.0]
    causes = [band for band in flows.causes if band.W > 0.0]
    under = [band for band in flows.under if band.W > 0.0]
    out = [band for band in (*flows.causes, *flows.under) if band.W < 0.0]
    arriving = _sum(over_in) + _sum(causes) + _sum(under) + (abs(cooling.W) if back else 0.0)
    hot = abs(flows.leaves.W) + _sum(band for band in under if band.id == "duct")
    wanted = [
        (room.band, hot),
        (min(room.band, cooling_px), abs(cooling.W)),
        (room.turning, _sum(over_in) + (abs(cooling.W) if back else 0.0)),
        (room.turning, _sum(over_out)),
        (room.turning, _sum(out)),
        (room.node, arriving + (abs(cooling.W) if back else 0.0)),
        (room.trunk, abs(flows.plug.W)),
        (room.lanes, _sum(under)),
    ]
    px_W = _stepped(min((px / W for px, W in wanted if W > 1e-6), default=1.0))

    def px(band: Band) -> float:
        return max(abs(band.W) * px_W, LEAST_PX) if band.shown else 0.0

    leave_over, y = _stack(over_out, px, 0.0)
    at = Slot(cooling, px(cooling), y + px(cooling) / 2.0)
    if not back:
        y += at.px
    leave, leaving_px = _stack(out, px, y)
    # The outermost of what comes over the top arrives lowest, so that no turn crosses another;
    # from below it is the other way round.
    y = 0.0
    if back:
        at = Slot(cooling, px(cooling), px(cooling) / 2.0)
        y = at.px
    arrive_over, y = _stack(over_in, px, y)
    arrive, y = _stack(causes, px, y)
    arrive_under, y = _stack(list(reversed(under)), px, y)
    return Plan(
        flows, px_W, arrive_over, arrive, arrive_under, leave_over, leave, at,
        max(y, leaving_px, 4.0),
    )  # fmt: skip


def _sum(bands: Iterable[Band]) -> float:
    return sum(abs(band.W) for band in bands)


def _stack(
    bands: Iterable[Band], px: Callable[[Band], float], start: float
) -> tuple[list[Slot], float]:
    found, y = [], start
    for band in bands:
        wide = px(band)
        found.append(Slot(band, wide, y + wide / 2.0))
        y += wide
    return found, y


def _stepped(px_W: float) -> float:
    power = 10.0 ** math.floor(math.log10(px_W))
    return next(step * power for step in _STEPS if step * power <= px_W * (1.0 + 1e-9))
