"""Straighter duct: without its bends."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.ducts import ducts, fitting_data
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved

_BENDS = ("elbow", "mitre", "bend")


def _variants(start: Solved) -> Iterator[Variant]:
    for side, duct in ducts(start.sheet):
        kept = [
            fitting_data(each)
            for each in duct.fittings
            if not each.name.casefold().startswith(_BENDS)
        ]
        bends = len(duct.fittings) - len(kept)
        if bends:
            yield Variant(
                f"Lead the {side} duct straight, without its bend{'s' if bends > 1 else ''}",
                {f"cooler.{side}_duct.fittings": kept},
                price=0.0,
                asks="the cooler opposite to the opening",
            )


CHANGE = Change(
    "straighter duct",
    "Every bend costs pressure, and so air.",
    _variants,
    lambda sheet: bool(ducts(sheet)),
)
