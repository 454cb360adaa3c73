"""Condensate onto the hot sink: what the cold side takes out of the air cools the hot side."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved

# Below this rate it is not worth a pipe: 5 g/h.
_LEAST_KG_S = 5.0 / 3.6e6


def _variants(start: Solved) -> Iterator[Variant]:
    if start.point.nominal["condensate_kg_s"] > _LEAST_KG_S:
        yield Variant(
            "Let the condensate evaporate on the hot sink",
            {"cooler.condensate": "onto the hot sink"},
            asks="a wick or a drip that cannot reach a wire, an overflow, and fins kept clean: "
            "standing water grows germs",
        )


CHANGE = Change(
    "condensate on hot sink",
    "Evaporating it takes up on the hot side what condensing it cost on the cold side.",
    _variants,
    lambda sheet: sheet.place.kind != "plate" and sheet.cooler.condensate == "drained",
)
