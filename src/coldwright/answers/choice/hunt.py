"""Which designs are looked at, in which order, and what is remembered of them.

A space that is small enough is solved whole. Of a larger one an optimiser solves the promising
part, then every design that differs from the best, or from one of the front, by a single part.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.engine import FRONT, KEPT, Engine, front_of
from coldwright.answers.choice.faults import Stopped
from coldwright.answers.choice.optimiser import POPULATION, evolve
from coldwright.answers.choice.options import AXES
from coldwright.answers.choice.store import Store

BATCH = 4096
"""Designs that are solved at a time; about 15 kB each while they are."""
EXHAUSTIVE = 2_000_000
"""Up to so many possible designs are all solved, unless another number is asked for."""
SAMPLED = 60_000
"""So many are solved of a space that is larger, unless another number is asked for."""
# Combinations that are worth going through one by one to find those that are possible.
_COUNTED = 100_000_000
_SCREEN = 1 << 18
# Best designs that are remembered.
_BEST, _FREE = 4000, 400
# Share of a sampled search that goes to the optimiser; the rest to single exchanges.
_EVOLVED = 0.5
_STALLED = 25
# Starts of the optimiser, and the share of the whole below which one is not worth it.
_ROUNDS, _LEAST_ROUND = 6, 0.1
# What cannot be is behind everything that was solved.
_IMPOSSIBLE = 1e13

Report = Callable[[int, int, str], None]
"""Called with designs solved, designs to be solved, and what is being done."""


def _silent(_seen: int, _of: int, _what: str) -> None:
    return None


def _never() -> bool:
    return False


@dataclass
class Seen:
    """What is remembered of all designs that were looked at."""

    total: int
    """Combinations in the space."""
    possible: int | None = None
    """Of them those that need solving; None where nobody counted."""
    ruled_out: dict[str, int] = field(default_factory=dict)
    """How many need no solving, and why; of those that were looked at."""
    solved: int = 0
    whole: bool = False
    """Whether every possible design was solved."""
    unimproved: bool = False
    """Whether no exchange of one part makes the best design better."""
    best: NDArray[Any] = field(default_factory=lambda: np.zeros(0, dtype=KEPT))
    """Best within the limits first."""
    free: NDArray[Any] = field(default_factory=lambda: np.zeros(0, dtype=KEPT))
    """Those that would be best if no limit held, and break one."""
    front: NDArray[Any] = field(default_factory=lambda: np.zeros(0, dtype=FRONT))

    def take(self, kept: NDArray[Any], front: NDArray[Any]) -> None:
        """Remember a batch."""
        self.solved += len(kept)
        self.best = _lowest(np.concatenate([self.best, kept]), "merit", _BEST)
        over = kept[kept["free_broken"] > 1]
        self.free = _lowest(np.concatenate([self.free, over]), "cost", _FREE)
        self.front = front_of(np.concatenate([self.front, front]))


@dataclass
class Hunt:
    """A search over one space."""

    engine: Engine
    store: Store
    most: int | None = None
    seed: int = 20
    report: Report = _silent
    stop: Callable[[], bool] = _never
    over: Callable[[Iterator[tuple[int, NDArray[np.int64]]]], Iterator[Any]] | None = None
    """Solves batches elsewhere; None: here."""
    seen: Seen = field(init=False)

    def run(self) -> Seen:
        """Look at the space.

        Raises
        ------
        Stopped
            When `stop` says so; finished batches are in the store.
        """
        grid = self.engine.grid
        self.seen = Seen(grid.total)
        most = EXHAUSTIVE if self.most is None else self.most
        if grid.total <= _COUNTED:
            possible = self._count(most)
            if possible is not None:
                self.seen.possible = possible
                self._solve_all()
                return self.seen
        self._sample(SAMPLED if self.most is None else self.most)
        return self.seen

    def _count(self, most: int) -> int | None:
        """How many designs are possible; None as soon as they are more than `most`."""
        count = 0
        ruled: dict[str, int] = {}
        for start in range(0, self.seen.total, _SCREEN):
            self.report(0, 0, "counting what can be built")
            if self.stop():
                raise Stopped(0, self.seen.total, "")
            flat = np.arange(start, min(start + _SCREEN, self.seen.total))
            good = self._possible(flat, ruled)
            count += int(good.sum())
            if count > most:
                return None
        self.seen.ruled_out = ruled
        return count

    def _possible(
        self, flat: NDArray[np.int64], ruled: dict[str, int] | None = None
    ) -> NDArray[np.bool_]:
        good = np.ones(len(flat), dtype=bool)
        for why, passed in self.engine.grid.possible(self.engine.grid.parts(flat)).items():
            if ruled is not None:
                ruled[why] = ruled.get(why, 0) + int((good & ~passed).sum())
            good &= passed
        return good

    def _batches(self) -> Iterator[tuple[int, NDArray[np.int64]]]:
        """Possible designs in pieces; a piece depends on its number alone."""
        rest = np.zeros(0, dtype=np.int64)
        number = 0
        for start in range(0, self.seen.total, _SCREEN):
            flat = np.arange(start, min(start + _SCREEN, self.seen.total))
            rest = np.concatenate([rest, flat[self._possible(flat)]])
            while len(rest) >= BATCH:
                yield number, rest[:BATCH]
                rest = rest[BATCH:]
                number += 1
        if len(rest):
            yield number, rest

    def _solve_all(self) -> None:
        assert self.seen.possible is not None
        for number, kept, front in self._solved(self._waiting()):
            self.store.save(number, kept, front)
            self._take(kept, front)
            if self.stop() and self.seen.solved < self.seen.possible:
                raise self._stopped(self.seen.possible)
        self.seen.whole = True
        self.seen.unimproved = bool(len(self.seen.best) and self.seen.best[0]["broken"] == 0)

    def _waiting(self) -> Iterator[tuple[int, NDArray[np.int64]]]:
        """Batches that are not in the store; the others are taken from it on the way."""
        done = self.store.numbers()
        for number, flat in self._batches():
            held = self.store.load(number) if number in done else None
            if held is not None and np.array_equal(held[0]["flat"], flat):
                self._take(*held)
            else:
                yield number, flat

    def _solved(self, batches: Iterator[tuple[int, NDArray[np.int64]]]) -> Iterator[Any]:
        if self.over is not None:
            yield from self.over(batches)
            if self.stop():
                raise self._stopped(self.seen.possible or 0)
            return
        for number, flat in batches:
            kept, front = self.engine.solve(flat)
            yield number, kept, front

    def _take(self, kept: NDArray[Any], front: NDArray[Any]) -> None:
        self.seen.take(kept, front)
        self.report(self.seen.solved, self.seen.possible or 0, "solving designs")

    def _stopped(self, of: int) -> Stopped:
        file = self.store.file
        return Stopped(self.seen.solved, of, "" if file is None else str(file))

    def _sample(self, budget: int) -> None:
        """Evolve, exchange parts of the best and of the front, and again from another start."""
        sample = _Sample(self, budget)
        grid = self.engine.grid
        for round_ in range(_ROUNDS):
            left = budget - self.seen.solved
            if left < _LEAST_ROUND * budget:
                break
            start = self._first(self.seed + round_)
            sample.until = self.seen.solved + int(_EVOLVED * left)
            if len(start) >= 5:
                evolve(sample.merits, grid.sizes, start, sample.enough, self.seed + round_)
            sample.until = budget
            self.seen.unimproved = sample.exchange_best()
            if not len(self.seen.front):
                continue
            sample.exchange_front(np.random.default_rng(self.seed + round_))
            self.seen.unimproved = sample.exchange_best()

    def _first(self, seed: int) -> NDArray[np.int64]:
        """A first population of possible designs, drawn evenly, and the best one known."""
        grid = self.engine.grid
        random = np.random.default_rng(seed)
        found: list[NDArray[np.int64]] = []
        count = 0
        for _ in range(400):
            parts = {
                name: random.integers(0, size, _SCREEN // 8)
                for name, size in zip(AXES, grid.sizes, strict=True)
            }
            flat = grid.flat(parts)
            flat = flat[self._possible(flat)]
            found.append(flat[: POPULATION - count])
            count += len(found[-1])
            if count >= POPULATION:
                break
        flat = np.concatenate([self.seen.best["flat"][:1], *found])
        rows = grid.parts(flat)
        return np.stack([rows[name] for name in AXES], axis=1)


class _Sample:
    """Part of a space, solved design by design as an optimiser asks for them."""

    def __init__(self, hunt: Hunt, budget: int) -> None:
        self.hunt = hunt
        self.until = self.budget = budget
        self.known: dict[int, float] = {}
        self.number = 0
        self._still = 0
        self._before = -1

    def merits(self, rows: NDArray[np.int64]) -> NDArray[np.float64]:
        """Merit of designs by their option numbers; each is solved once."""
        grid = self.hunt.engine.grid
        return self.of(grid.flat({name: rows[:, at] for at, name in enumerate(AXES)}))

    def of(self, flat: NDArray[np.int64]) -> NDArray[np.float64]:
        """Merit of designs by their numbers."""
        new = np.unique([each for each in flat.tolist() if each not in self.known])
        new = new.astype(np.int64)
        if len(new):
            good = self.hunt._possible(new, self.hunt.seen.ruled_out)
            for each in new[~good].tolist():
                self.known[each] = _IMPOSSIBLE
            self._solve(new[good])
        return np.array([self.known[each] for each in flat.tolist()])

    def _solve(self, flat: NDArray[np.int64]) -> None:
        hunt = self.hunt
        pieces = [flat[at : at + BATCH] for at in range(0, len(flat), BATCH)]
        waiting = []
        solved = []
        for piece in pieces:
            number, self.number = self.number, self.number + 1
            held = hunt.store.load(number)
            if held is not None and np.array_equal(held[0]["flat"], piece):
                solved.append((number, *held))
            else:
                waiting.append((number, piece))
        for number, kept, front in hunt._solved(iter(waiting)):
            hunt.store.save(number, kept, front)
            solved.append((number, kept, front))
        # In the order of their numbers, so that the search is the same wherever it runs.
        for _, kept, front in sorted(solved, key=lambda one: one[0]):
            hunt.seen.take(kept, front)
            self.known.update(zip(kept["flat"].tolist(), kept["merit"].tolist(), strict=True))
        hunt.report(hunt.seen.solved, self.budget, "solving designs")
        if hunt.stop():
            raise hunt._stopped(self.budget)

    def enough(self) -> bool:
        """Whether the share for the optimiser is used up, or it finds nothing new."""
        solved = self.hunt.seen.solved
        self._still = self._still + 1 if solved == self._before else 0
        self._before = solved
        return solved >= self.until or self._still >= _STALLED

    def exchange_best(self) -> bool:
        """Exchange one part of the best design (or two that belong together) while that helps."""
        seen = self.hunt.seen
        while len(seen.best):
            best = seen.best[0]
            self.of(self._neighbours(int(best["flat"]), pairs=True))
            if seen.best[0]["flat"] == best["flat"]:
                return bool(best["broken"] == 0)
            if seen.solved >= 2 * self.budget:
                return False
        return False

    def exchange_front(self, random: np.random.Generator) -> None:
        """Exchange single parts of designs on the front until the share is used up."""
        seen = self.hunt.seen
        done: set[int] = set()
        while seen.solved < self.until:
            waiting = [each for each in np.unique(seen.front["flat"]).tolist() if each not in done]
            if not waiting:
                return
            flat = int(random.choice(waiting))
            done.add(flat)
            self.of(self._neighbours(flat))

    def _neighbours(self, flat: int, *, pairs: bool = False) -> NDArray[np.int64]:
        grid = self.hunt.engine.grid
        own = {name: int(held[0]) for name, held in grid.parts(np.array([flat])).items()}
        found = [np.array([flat])]
        for name, size in zip(AXES, grid.sizes, strict=True):
            found.append(self._with(own, {name: np.arange(size)}))
        if pairs:
            sizes = dict(zip(AXES, grid.sizes, strict=True))
            count = grid.count[own["wiring"]]
            near = np.flatnonzero(np.abs(grid.count - count) <= max(2, count // 4))
            for one, other in (("module", "wiring"), ("supply", "wiring"), ("supply", "converter")):
                first = np.arange(sizes[one])
                second = near if other == "wiring" else np.arange(sizes[other])
                both = np.meshgrid(first, second, indexing="ij")
                found.append(self._with(own, {one: both[0].ravel(), other: both[1].ravel()}))
        flats = np.unique(np.concatenate(found))
        return flats[self.hunt._possible(flats)]

    def _with(self, own: dict[str, int], other: dict[str, Any]) -> NDArray[np.int64]:
        length = len(next(iter(other.values())))
        parts = {name: np.full(length, at) for name, at in own.items()} | other
        return self.hunt.engine.grid.flat(parts)


def _lowest(kept: NDArray[Any], name: str, most: int) -> NDArray[Any]:
    """The `most` with the smallest number under `name`, smallest first, each design once."""
    if len(kept) > 4 * most:
        kept = kept[np.argpartition(kept[name], most)[: 2 * most]]
    kept = kept[np.lexsort((kept["flat"], kept[name]))]
    _, first = np.unique(kept["flat"], return_index=True)
    return kept[np.sort(first)][:most]
