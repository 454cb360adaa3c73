"""Water loop on the hot side: a block, a pump and a radiator instead of the hot sink."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import library_price
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.library import library
from coldwright.sheet.models import Sheet, WaterLoop


def _variants(start: Solved) -> Iterator[Variant]:
    modules = start.sheet.cooler.modules
    for name in library().names("sinks"):
        if library().part("sinks", name)["kind"] != "water_loop":
            continue
        edits: dict[str, Any] = {"cooler.hot_sink": {"part": name}}
        for number, group in enumerate(modules):
            if group.hot_sink_number != 1:
                edits[f"cooler.modules[{number}].hot_sink_number"] = 1
        yield Variant(
            f"Cool the hot side with water ({name})",
            edits,
            library_price(start.sheet, "sinks", name),
            "a pump that runs whenever the modules do, a cut-out for when it fails, and nothing "
            "electrical below the hoses",
        )


def _applies(sheet: Sheet) -> bool:
    return not any(isinstance(sink, WaterLoop) for sink in sheet.cooler.hot_sink)


CHANGE = Change(
    "water on the hot side",
    "A water block has a small resistance where the modules sit, and its radiator may be large.",
    _variants,
    _applies,
)
