"""Better spacer: a wider gap with a block under the modules, or a material that leads less."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import amount
from coldwright.answers.change.interface import joint_K_W
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.sheet.library import library
from coldwright.sheet.models import Modules

_WIDER_M = 0.010
_BLOCK = "aluminium 6063"
_MATERIAL = "PIR"
# A material that leads less than this share of the present one is worth the change.
_WORTH = 0.85


def _variants(start: Solved) -> Iterator[Variant]:
    modules = start.sheet.cooler.modules
    wider: dict[str, Any] = {}
    better: dict[str, Any] = {}
    for number, group in enumerate(modules):
        if group.spacer is None:
            continue
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        gap_m = group.spacer.thickness.value + _WIDER_M
        wider[f"{at}.spacer.thickness"] = amount(gap_m, "length")
        wider[f"{at}.cold_interface"] = _with_block(group)
        led = library().material(group.spacer.material).conductivity.value
        if library().material(_MATERIAL).conductivity.value < _WORTH * led:
            better[f"{at}.spacer.material"] = _MATERIAL
    if wider:
        yield Variant(
            "Widen the gap between the sinks by 10 mm, with a block under each module",
            wider,
            asks="blocks of aluminium as large as the modules, flat on both sides; screws get "
            "longer too",
        )
    if better:
        yield Variant(
            f"Fill the gap between the sinks with {_MATERIAL} board",
            better,
            asks="board cut to the gap; every such foam burns: a thermal cut-out on the hot sink",
        )


CHANGE = Change(
    "better spacer",
    "Around the modules heat leaks from the hot base straight back to the cold one.",
    _variants,
    lambda sheet: any(group.spacer is not None for group in sheet.cooler.modules),
)


def _with_block(group: Modules) -> str:
    """The cold joint [K/W] with a block of metal and one more film of paste in it."""
    footprint_m2 = group.footprint[0].value * group.footprint[1].value
    block_K_W = _WIDER_M / (library().solid(_BLOCK).conductivity.value * footprint_m2)
    whole_K_W = joint_K_W(group, group.cold_interface) + block_K_W + joint_K_W(group, "thin paste")
    return f"{whole_K_W:.4g} K/W +/- 25 %"
