"""Volts and fan speeds: the highest place on the hill that the design stands on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.change.amounts import about
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.answers.hill import Hill, zoom
from coldwright.errors import NoSolution
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import OpenAir, RunAt, Sheet

_NEAR = 7
# What does not move a knob by so much is not worth telling.
_HARDLY = 0.02


def _variants(start: Solved) -> Iterator[Variant]:
    try:
        coarse = start.hill
    except NoSolution:
        return
    top = _lowest(coarse, start.sheet)
    if top is None:
        return
    fine = zoom(
        start.design, *(_around(axis, i) for axis, i in zip(_axes(coarse), top, strict=True))
    )
    found = _lowest(fine, start.sheet)
    if found is None:
        fine, found = coarse, top
    best = [float(axis[i]) for axis, i in zip(_axes(fine), found, strict=True)]
    cooler = start.sheet.cooler
    factors = (
        best[0] / coarse.now,
        best[1] / cooler.cold_fan_speed.value if cooler.cold_fan is not None else 1.0,
        best[2] / cooler.hot_fan_speed.value,
    )
    if all(abs(factor - 1.0) < _HARDLY for factor in factors):
        return
    edits: dict[str, str] = {}
    words: list[str] = []
    if abs(factors[0] - 1.0) >= _HARDLY:
        for way, quantity in _drives(start.sheet):
            edit = about(quantity, factors[0])
            edits |= edit
            words.append(
                f"{edit[quantity.path].partition(' +/-')[0]} {_WORDS.get(way, '')}".strip()
            )
        words = list(dict.fromkeys(words))
    drives = len(words)
    for name, speed, factor, fan in (
        ("cold", cooler.cold_fan_speed, factors[1], cooler.cold_fan),
        ("hot", cooler.hot_fan_speed, factors[2], cooler.hot_fan),
    ):
        if fan is not None and abs(factor - 1.0) >= _HARDLY:
            edits |= about(speed, factor)
            words.append(f"the {name} fan at {100 * speed.value * factor:.0f} %")
    needs = ["a converter"] * (drives > 0) + ["fan drives"] * (len(words) > drives)
    yield Variant(
        f"Run it with {_list(words)}",
        edits,
        price=0.0,
        asks=f"{_list(needs)} that can be set",
        sets_drive=drives > 0,
    )


CHANGE = Change(
    "volts and fan speeds",
    "Too few volts pump little, too many heat the hot side faster than they pump; a fan that is "
    "too fast brings heat or takes air out of the place.",
    _variants,
)


# What each way of running the modules sets; a number alone is a duty.
_WORDS = {
    "voltage": "across the array",
    "current": "through the array",
    "module_voltage": "for each module",
    "module_current": "through each module",
    "module_power": "into the modules",
    "pumped": "of heat pumped",
    "chopped": "of the time",
}


def _drives(sheet: Sheet) -> list[tuple[str, Quantity]]:
    """Everything that sets the modules: the cooler's own, and that of groups with their own."""
    ways: list[RunAt] = [sheet.cooler.run_at]
    ways += [group.run_at for group in sheet.cooler.modules if group.run_at is not None]
    return [
        (way.way, way.chopped.duty if way.chopped is not None else getattr(way, way.way))
        for way in ways
    ]


def _lowest(hill: Hill, sheet: Sheet) -> tuple[int, ...] | None:
    """Where it gets coldest (in open air: where most net cooling is) under every limit."""
    net = isinstance(sheet.place, OpenAir)
    cost = -hill.maps["net_cooling_W"] if net else hill.maps[hill.objective]
    cost = np.where(hill.allowed, cost, np.nan)
    if not np.isfinite(cost).any():
        return None
    return tuple(int(i) for i in np.unravel_index(np.nanargmin(cost), cost.shape))


def _axes(hill: Hill) -> tuple[NDArray[np.float64], ...]:
    return hill.drive, hill.cold, hill.hot


def _around(axis: NDArray[np.float64], i: int) -> NDArray[np.float64]:
    if len(axis) == 1:
        return axis
    step = max(b - a for a, b in pairwise(axis))
    return np.unique(np.clip(np.linspace(axis[i] - step, axis[i] + step, _NEAR), axis[0], axis[-1]))


def _list(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]
