"""The best designs run at their best, and what stands near them: the front, and the beaten."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.beaten import (
    beaten_of,
    dominated,
    names_of,
    over_limits,
    spread_over,
)
from coldwright.answers.choice.choose_sentences import beaten_reason
from coldwright.answers.choice.edits import chosen
from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.finals import Final
from coldwright.answers.choice.hunt import Seen
from coldwright.answers.choice.options import Options
from coldwright.answers.choice.told import BeatenDesign
from coldwright.answers.choice.wanted import Wanted
from coldwright.machine.search import Aim

# So many of the best are run at their very best setting, and so many of those compared in tries.
_FINE, _FINALS = 500, 5
_ROUNDS = 3
_BEATEN = 3
_SHOWN = 8
# From what gain on it is worth a word that a limit keeps a design out: K, W, price, dB, ratio.
_LEAST_GAIN = {
    Aim.COLDEST: 0.1, Aim.NET: 1.0, Aim.CHEAPEST: 1.0, Aim.QUIETEST: 0.5, Aim.COP: 0.02,
}  # fmt: skip


def refined(engine: Engine, seen: Seen) -> NDArray[Any]:
    """The best designs at their very best setting, single parts exchanged again; best first."""
    rows = seen.best[:_FINE]
    rows = rows[rows["merit"] < 1e12]
    if not len(rows):
        return rows
    rows, front = engine.solve(rows["flat"], fine=True, start=rows)
    rows = rows[np.argsort(rows["merit"], kind="stable")]
    seen.take(rows[:0], front)
    for _ in range(_ROUNDS if not seen.whole else 0):
        best = rows[0]
        near = _swaps(engine, int(best["flat"]))
        near = near[~np.isin(near, rows["flat"])]
        if not len(near):
            break
        start = np.repeat(rows[:1], len(near))
        more, front = engine.solve(near, fine=True, start=start)
        seen.take(more[:0], front)
        seen.solved += len(more)
        rows = np.concatenate([rows, more])
        rows = rows[np.argsort(rows["merit"], kind="stable")]
        if rows[0]["flat"] == best["flat"]:
            break
        seen.unimproved = False
    else:
        return rows
    seen.unimproved = bool(rows[0]["broken"] == 0)
    return rows


def _swaps(engine: Engine, flat: int) -> NDArray[np.int64]:
    """Possible designs that differ from one by a single part."""
    grid = engine.grid
    own = {name: int(at[0]) for name, at in grid.parts(np.array([flat])).items()}
    found = []
    for name, size in zip(own, grid.sizes, strict=True):
        parts = {key: np.full(size, at) for key, at in own.items()}
        parts[name] = np.arange(size)
        found.append(grid.flat(parts))
    flats = np.unique(np.concatenate(found))
    good = np.all(list(grid.possible(grid.parts(flats)).values()), axis=0)
    swaps: NDArray[np.int64] = flats[good & (flats != flat)]
    return swaps


def different(engine: Engine, rows: NDArray[Any]) -> NDArray[Any]:
    """The best designs that differ in their modules or sinks, not only in what moves the air."""
    taken: list[int] = []
    known: set[tuple[int, ...]] = set()
    marks = _marks(engine, rows)
    for at, row in enumerate(rows):
        if not row["broken"] and marks[at] not in known:
            known.add(marks[at])
            taken.append(at)
        if len(taken) == _FINALS:
            break
    return rows[taken]


def _marks(engine: Engine, rows: NDArray[Any]) -> list[tuple[int, ...]]:
    parts = engine.grid.parts(rows["flat"])
    count = engine.grid.count[parts["wiring"]]
    columns = (parts["module"], count, parts["cold_sink"], parts["hot_sink"])
    return [tuple(int(column[at]) for column in columns) for at in range(len(rows))]


def shown_of(front: NDArray[Any], finals: list[Final], wanted: Wanted, engine: Engine) -> list[int]:
    """A few designs for a table: no worse in the aim than what there is, or what is wanted."""
    if not len(front):
        return []
    worst = np.inf
    if wanted.own is not None:
        figure = "place_K" if engine.with_place else "cold_sink_K"
        worst = wanted.own.nominal[figure]
        if engine.aim == Aim.NET or np.any(front["goal"] != front["level_K"]):
            worst = -wanted.own.nominal["net_cooling_W"]
    good = np.flatnonzero(front["goal"] <= worst)
    if len(good) < _SHOWN:
        good = np.arange(len(front))
    first = None
    if finals:
        same = np.flatnonzero(front["flat"][good] == finals[0].flat)
        first = int(same[0]) if len(same) else None
    return [int(good[at]) for at in spread_over(front[good], _SHOWN, first=first)]


def beaten_designs(
    options: Options,
    engine: Engine,
    seen: Seen,
    rows: NDArray[Any],
    finals: list[Final],
    front: NDArray[Any],
    shown: list[int],
    by_net: bool,
) -> list[BeatenDesign]:
    """Designs near the best that a limit keeps out, and such that others beat."""
    if not finals:
        return []
    best_cost = float(next(row["merit"] for row in rows if int(row["flat"]) == finals[0].flat))
    least = _LEAST_GAIN[engine.aim]
    found = [
        beaten_of(
            row, names_of(int(row["free_broken"])), None,
            {"cost": best_cost - float(row["cost"])},
        )
        for row in over_limits(seen.free, best_cost - least, _BEATEN)
    ]  # fmt: skip
    known = set(_marks(engine, rows[np.isin(rows["flat"], [final.flat for final in finals])]))
    count = 0
    for row, by, ahead in dominated(rows, front, shown, by_net=by_net):
        mark = _marks(engine, np.array([row]))[0]
        if mark not in known:
            known.add(mark)
            found.append(beaten_of(row, [], by, ahead))
            count += 1
        if count == _BEATEN:
            break
    return [
        BeatenDesign(
            names_in(options, engine, one.flat), beaten_reason(one, engine.aim, by_net), one
        )
        for one in found
    ]


def names_in(options: Options, engine: Engine, flat: int) -> dict[str, str]:
    """What each kind of part of a design is called."""
    return {name: option.name for name, option in chosen(options, engine, flat).items()}


def by_goal(front: NDArray[Any]) -> NDArray[Any]:
    """A front in order of what the aim wants, then of power."""
    return front[np.lexsort((front["flat"], front["plug_W"], front["goal"]))]
