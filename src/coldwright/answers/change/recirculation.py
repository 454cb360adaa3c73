"""No recirculation: outlet and intake so far apart that no air goes round twice."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved


def _variants(start: Solved) -> Iterator[Variant]:
    cooler = start.sheet.cooler
    for side, does in (("hot", "hot air that"), ("cold", "cold air that")):
        if getattr(cooler, f"{side}_recirculation").value > 0.0:
            yield Variant(
                f"Keep {does} has just left from being drawn in again",
                {f"cooler.{side}_recirculation": "0"},
                asks="a baffle, or outlet and intake on different sides",
            )


CHANGE = Change(
    "no recirculation",
    "What a side draws in again has already been warmed (or cooled) by it.",
    _variants,
)
