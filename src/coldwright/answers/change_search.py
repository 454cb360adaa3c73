"""Tries out changes of a design: one by one, then pairs and triples of those that help."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.registry import CHANGES
from coldwright.answers.change.solved import Solved
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.sheet.models import OpenAir

# How many of the best single changes are joined to pairs, and to triples.
_IN_PAIRS, _IN_TRIPLES = 9, 6
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
    """What was looked at, and what came of it."""

    singles: list[Made]
    """Best first, at most one for each change."""
    smaller: list[Made]
    refused: list[Refused]
    pair: Made | None = None
    triple: Made | None = None
    seen: int = 0
    """How many changed designs were solved."""


def search(start: Solved, changes: Iterable[Change] = CHANGES) -> Search:
    """Make every change that applies, then join the best ones.

    Two changes are joined by making the second on the design that the first has made, where it
    must still be on offer. Each joined design is solved, never summed.
    """
    found = Search([], [], [])
    for change in changes:
        ways = [_made(start, change, variant, start, found) for variant in change.ways(start)]
        best = _best([way for way in ways if way is not None])
        if best is not None:
            (found.smaller if change.smaller else found.singles).append(best)
    found.singles.sort(key=_rank)
    found.smaller.sort(key=_rank)
    helpful = [each for each in found.singles if each.gain >= least(start)]
    pairs = _joined(start, helpful[:_IN_PAIRS], 2, found)
    found.pair = _best(pairs)
    found.triple = _best(_joined(start, helpful[:_IN_TRIPLES], 3, found, pairs))
    return found


def gain(before: Solved, after: Solved) -> float:
    """What a change gains: kelvins of the level, or watts of net cooling in open air."""
    if isinstance(before.sheet.place, OpenAir):
        return after.point.nominal["net_cooling_W"] - before.point.nominal["net_cooling_W"]
    return before.level_K - after.level_K


def least(start: Solved) -> float:
    """From what gain on a change helps at all."""
    return LEAST_W if isinstance(start.sheet.place, OpenAir) else LEAST_K


def _made(
    on: Solved, change: Change, variant: Variant, start: Solved, found: Search, *before: Made
) -> Made | None:
    """Make one more change on a design; what cannot be is noted, if it is the first one."""
    found.seen += 1
    try:
        solved = Solved(variant.sheet(on.sheet))
        gained = gain(start, solved)
    except SheetInvalid as error:
        reason = error.findings[0].sentence() if error.findings else str(error)
    except NoSolution as error:
        reason = str(error)
    else:
        return Made(
            (*(each for made in before for each in made.changes), change),
            (*(each for made in before for each in made.variants), variant),
            solved,
            gained,
            tuple(name for name in solved.broken if name not in start.broken),
        )
    if not before:
        found.refused.append(Refused(change, variant, reason))
    return None


def _joined(
    start: Solved, singles: Sequence[Made], size: int, found: Search, pairs: Sequence[Made] = ()
) -> list[Made]:
    """Every joining of so many single changes, made in the order of the registry."""
    order = {id(change): at for at, change in enumerate(CHANGES)}
    ranked = sorted(singles, key=lambda made: order.get(id(made.changes[0]), 0))
    known = {tuple(each.name for each in made.changes): made for made in (*singles, *pairs)}
    joined = []
    for chosen in combinations(ranked, size):
        first = known.get(tuple(made.changes[0].name for made in chosen[:-1]))
        last = chosen[-1]
        if first is None:
            continue
        change, wanted = last.changes[0], last.variants[0].key
        way = next((way for way in change.ways(first.solved) if way.key == wanted), None)
        made = None if way is None else _made(first.solved, change, way, start, found, first)
        if made is not None:
            joined.append(made)
    return joined


def _best(made: Sequence[Made]) -> Made | None:
    return min(made, key=_rank) if made else None


def _rank(made: Made) -> tuple[bool, float]:
    """What keeps the sheet's limits comes first, then what gains most."""
    return bool(made.breaks), -made.gain
