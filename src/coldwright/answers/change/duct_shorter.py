"""Shorter duct: half its length."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.amounts import times
from coldwright.answers.change.ducts import ducts
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved


def _variants(start: Solved) -> Iterator[Variant]:
    for side, duct in ducts(start.sheet):
        if duct.length.value > 0.0:
            yield Variant(
                f"Halve the length of the {side} duct",
                times(duct.length, 0.5),
                price=0.0,
                asks="the cooler nearer to the opening",
            )


CHANGE = Change(
    "shorter duct",
    "Half the length has half the friction and half the surface that its heat comes back through.",
    _variants,
    lambda sheet: bool(ducts(sheet)),
)
