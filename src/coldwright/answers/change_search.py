"""Tries out changes of a design: one by one, then pairs and triples of those that help."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.registry import CHANGES
from coldwright.answers.change.solved import Solved
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.sheet.models import OpenAir

# Of the best single changes every pair, and every triple, of so many is looked at. Besides, the
# best one is joined with every other change, and the best pair with every third: some changes
# help only after another one.
_IN_PAIRS, _IN_TRIPLES = 6, 4
# What gains less is told as "makes no difference": K, and W in open air.
LEAST_K, LEAST_W = 0.05, 0.5


@dataclass(frozen=True)
class Made:
    """Changes made to the sheet, and the design that they make of it."""

    changes: tuple[Change, ...]
    variants: tuple[Variant, ...]
    solved: Solved
    gain: float
    """What it gains: kelvins of the level, or watts of net cooling in open air."""
    breaks: tuple[str, ...]
    """Limits that this design breaks and the sheet's own did not."""

    @property
    def price(self) -> float | None:
        """What must be bought for all of them; None when one is not known."""
        known = [variant.price for variant in self.variants if variant.price is not None]
        return sum(known) if len(known) == len(self.variants) else None


@dataclass(frozen=True)
class Refused:
    """A change that would leave no steady state, or no valid sheet."""

    change: Change
    variant: Variant
    reason: str


@dataclass
class Search:
    """Changes made on one design, each joining solved once, never summed.

    Several changes are made in the order of the list; each is asked for its ways on the design
    that the ones before it have made.
    """

    start: Solved
    changes: Sequence[Change] = CHANGES
    singles: list[Made] = field(default_factory=list)
    """Best first, at most one for each change."""
    smaller: list[Made] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)
    pair: Made | None = None
    triple: Made | None = None
    seen: int = 0
    """How many changed designs were solved."""
    _known: dict[tuple[int, ...], Made | None] = field(default_factory=dict)

    def run(self) -> Search:
        """Make every change that applies, then join the best ones."""
        for at, change in enumerate(self.changes):
            made = self._made((at,))
            if made is not None:
                (self.smaller if change.smaller else self.singles).append(made)
        self.singles.sort(key=rank)
        self.smaller.sort(key=rank)
        order = {id(change): at for at, change in enumerate(self.changes)}
        helpful = [made for made in self.singles if made.gain >= least(self.start)]
        if not helpful:
            return self
        ranked = [order[id(made.changes[0])] for made in self.singles]
        kept = ranked[: len([made for made in helpful if not made.breaks])] or ranked
        self.pair = self._best_of(
            {*combinations(kept[:_IN_PAIRS], 2), *((kept[0], other) for other in ranked[1:])}
        )
        if self.pair is None:
            return self
        two = tuple(order[id(change)] for change in self.pair.changes)
        self.triple = self._best_of(
            {
                *combinations(kept[:_IN_TRIPLES], 3),
                *((*two, other) for other in ranked if other not in two),
            }
        )
        return self

    def _best_of(self, joined: Iterable[tuple[int, ...]]) -> Made | None:
        found = [self._made(tuple(sorted(each))) for each in sorted(joined)]
        return min((made for made in found if made is not None), key=rank, default=None)

    def _made(self, which: tuple[int, ...]) -> Made | None:
        """Some changes made one after the other, the last one in its best way; remembered."""
        if which not in self._known:
            self._known[which] = self._make(which)
        return self._known[which]

    def _make(self, which: tuple[int, ...]) -> Made | None:
        change = self.changes[which[-1]]
        before = self._made(which[:-1]) if len(which) > 1 else None
        if before is None and len(which) > 1:
            return None
        on = self.start if before is None else before.solved
        ways = [self._way(on, before, change, variant) for variant in change.ways(on)]
        return min((way for way in ways if way is not None), key=rank, default=None)

    def _way(
        self, on: Solved, before: Made | None, change: Change, variant: Variant
    ) -> Made | None:
        """One more change made; what cannot be is noted, if it is the first one."""
        self.seen += 1
        try:
            solved = Solved(variant.sheet(on.sheet))
            gained = gain(self.start, solved)
        except SheetInvalid as error:
            reason = error.findings[0].sentence() if error.findings else str(error)
        except NoSolution as error:
            reason = str(error)
        else:
            breaks = tuple(name for name in solved.broken if name not in self.start.broken)
            done = (before.changes, before.variants) if before is not None else ((), ())
            return Made((*done[0], change), (*done[1], variant), solved, gained, breaks)
        if before is None:
            self.refused.append(Refused(change, variant, reason))
        return None


def gain(before: Solved, after: Solved) -> float:
    """What a change gains: kelvins of the level, or watts of net cooling in open air."""
    if isinstance(before.sheet.place, OpenAir):
        return after.point.nominal["net_cooling_W"] - before.point.nominal["net_cooling_W"]
    return before.level_K - after.level_K


def least(start: Solved) -> float:
    """From what gain on a change helps at all."""
    return LEAST_W if isinstance(start.sheet.place, OpenAir) else LEAST_K


def rank(made: Made) -> tuple[bool, float]:
    """What keeps the sheet's limits comes first, then what gains most."""
    return bool(made.breaks), -made.gain
