"""Supply moved out: its loss then lands outdoors."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Box, Power, Room, Sheet


def _variants(start: Solved) -> Iterator[Variant]:
    inside = _inside(start.sheet.power)
    yield Variant(
        f"Move the {' and the '.join(inside)} out of the place",
        {f"power.{part}.located": "outside" for part in inside},
        asks="longer low-voltage wires, sized anew, and a dry, ventilated spot; mains work is for "
        "a licensed person",
    )


def _applies(sheet: Sheet) -> bool:
    return isinstance(sheet.place, Room | Box) and bool(_inside(sheet.power))


CHANGE = Change(
    "supply moved out",
    "What a supply or converter loses warms the place that it stands in.",
    _variants,
    _applies,
)


def _inside(power: Power | None) -> list[str]:
    """Which parts of the power stand in the place."""
    parts = ("supply", "converter")
    held = [(name, getattr(power, name, None)) for name in parts]
    return [name for name, part in held if part is not None and part.located == "place"]
