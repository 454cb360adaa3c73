"""Volts and fan speeds: the highest place on the hill that the design stands on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.change.amounts import times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.answers.hill import Hill, zoom
from coldwright.answers.tune_sentences import drive_words
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
    words = []
    if abs(factors[0] - 1.0) >= _HARDLY:
        for quantity in _drives(start.sheet):
            edits |= times(quantity, factors[0])
        words.append(drive_words(coarse, best[0]))
    for name, speed, factor, fan in (
        ("cold", cooler.cold_fan_speed, factors[1], cooler.cold_fan),
        ("hot", cooler.hot_fan_speed, factors[2], cooler.hot_fan),
    ):
        if fan is not None and abs(factor - 1.0) >= _HARDLY:
            edits |= times(speed, factor)
            words.append(f"the {name} fan at {100 * speed.value * factor:.0f} %")
    yield Variant(
        f"Run it with {_list(words)}",
        edits,
        price=0.0,
        asks="a converter and fan drives that can be set",
    )


CHANGE = Change(
    "volts and fan speeds",
    "Past the best current more volts heat the hot side faster than they pump, and a fan that is "
    "faster than needed brings heat or takes air out of the place.",
    _variants,
)


def _drives(sheet: Sheet) -> list[Quantity]:
    """Everything that sets the modules: the cooler's own, and that of groups with their own."""
    ways: list[RunAt] = [sheet.cooler.run_at]
    ways += [group.run_at for group in sheet.cooler.modules if group.run_at is not None]
    return [way.chopped.duty if way.chopped is not None else getattr(way, way.way) for way in ways]


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
