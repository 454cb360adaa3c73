"""Wider duct: a quarter more in diameter."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.amounts import times
from coldwright.answers.change.ducts import ducts
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved

_WIDER = 1.25


def _variants(start: Solved) -> Iterator[Variant]:
    for side, duct in ducts(start.sheet):
        sides = [duct.diameter] if duct.diameter is not None else [*(duct.section or ())]
        edits: dict[str, str] = {}
        for each in sides:
            edits |= times(each, _WIDER)
        if edits:
            yield Variant(
                f"Make the {side} duct a quarter wider",
                edits,
                asks="a larger opening, and adapters without steps",
            )


CHANGE = Change(
    "wider duct",
    "Friction falls with the fifth power of the diameter.",
    _variants,
    lambda sheet: bool(ducts(sheet)),
)
