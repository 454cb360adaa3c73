"""At which voltage a design is looked at next, from what the voltages before have shown."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.search_point import Aim
from coldwright.physics.compiled import compiled

_COLDEST, _NET, _COP = int(Aim.COLDEST), int(Aim.NET), int(Aim.COP)
# The finest steps of what a person sets: below so many volts finer ones.
_FINE_VOLTS, _FINE_STEP, _STEP = 10.0, 0.05, 0.1


@compiled
def next_drive(points: Any, used: int, aim: int, top_V: float) -> float:
    """Voltage to look at next, from the points at full allowed speed so far.

    What is wanted is smooth in the voltage: the top of a parabola through three points, or the
    voltage at which the goal is just reached, and never beyond the one at which a limit is.
    """
    order = np.empty(used, dtype=np.int64)
    count = 0
    for k in range(used):
        if points[k].solved == 1:
            at = count
            while at > 0 and points[order[at - 1]].drive_V > points[k].drive_V:
                order[at] = order[at - 1]
                at -= 1
            order[at] = k
            count += 1
    if count == 0:
        return 0.5 * points[0].drive_V
    most_V = _crossing(points, order, count, top_V)
    if most_V <= points[order[0]].drive_V:
        return max(0.5 * points[order[0]].drive_V, most_V)
    goes_for_top = aim in (_COLDEST, _NET)
    wanted_V = 0.0
    if not goes_for_top:
        wanted_V = _reaching(points, order, count)
        goes_for_top = wanted_V < 0.0
        if not goes_for_top and aim == _COP:
            wanted_V = max(wanted_V, _lowest(points, order, count, True))
    if goes_for_top:
        wanted_V = _lowest(points, order, count, False)
    return min(wanted_V, most_V)


@compiled
def _crossing(points: Any, order: Any, count: int, top_V: float) -> float:
    """Largest voltage that keeps every limit, between the last that does and the first that not."""
    for i in range(count):
        over = points[order[i]].over
        if over > 0.0:
            if i == 0:
                return 0.0
            low = points[order[i - 1]]
            high = points[order[i]]
            share = -low.over / (high.over - low.over)
            return float(low.drive_V + min(share, 0.98) * (high.drive_V - low.drive_V))
    return top_V


@compiled
def _reaching(points: Any, order: Any, count: int) -> float:
    """Smallest voltage that reaches the goal; negative when none does."""
    for i in range(count):
        if points[order[i]].lack <= 0.0:
            if i == 0:
                return 0.6 * float(points[order[0]].drive_V)
            low = points[order[i - 1]]
            high = points[order[i]]
            share = low.lack / max(low.lack - high.lack, 1e-12)
            step_V = volt_step(high.drive_V)
            return float(low.drive_V + share * (high.drive_V - low.drive_V) + step_V)
    return -1.0


@compiled
def _lowest(points: Any, order: Any, count: int, by_cost: bool) -> float:
    """Where the parabola through the lowest point and its neighbours is lowest."""
    lowest = 0
    for i in range(1, count):
        if _height(points[order[i]], by_cost) < _height(points[order[lowest]], by_cost):
            lowest = i
    if count < 3:
        return float(points[order[lowest]].drive_V)
    middle = min(max(lowest, 1), count - 2)
    x0, x1, x2 = (
        points[order[middle - 1]].drive_V,
        points[order[middle]].drive_V,
        points[order[middle + 1]].drive_V,
    )
    y0 = _height(points[order[middle - 1]], by_cost)
    y1 = _height(points[order[middle]], by_cost)
    y2 = _height(points[order[middle + 1]], by_cost)
    first = (y1 - y0) / (x1 - x0)
    second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0)
    if not second > 0.0:
        return float(points[order[lowest]].drive_V)
    found = 0.5 * (x0 + x1) - 0.5 * first / second
    return float(min(max(found, x0), x2))


@compiled
def _height(point: Any, by_cost: bool) -> float:
    return float(point.cost if by_cost else point.level_or_net)


@compiled
def volt_step(volts: float) -> float:
    """The finest step [V] that a person sets at so many volts."""
    return _STEP if volts >= _FINE_VOLTS else _FINE_STEP
