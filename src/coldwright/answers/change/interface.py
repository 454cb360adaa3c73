"""Better joints: a thin film of paste under even pressure between modules and sinks."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import Modules

_BEST = "thin paste"
# A joint that is better than this share of the present one is worth the work.
_WORTH = 0.8


def _variants(start: Solved) -> Iterator[Variant]:
    modules = start.sheet.cooler.modules
    edits = {}
    for number, group in enumerate(modules):
        at = "cooler.modules" + (f"[{number}]" if len(modules) > 1 else "")
        for side in ("cold", "hot"):
            now = joint_K_W(group, getattr(group, f"{side}_interface"))
            if joint_K_W(group, _BEST) < _WORTH * now:
                edits[f"{at}.{side}_interface"] = _BEST
    if edits:
        yield Variant(
            "Join modules and sinks with a thin film of paste",
            edits,
            asks="flat, clean faces, a film just thick enough to fill the scratches, and even "
            "pressure",
        )


CHANGE = Change(
    "better joints",
    "What a joint resists is lost twice: the cold face gets colder and the hot face hotter.",
    _variants,
)


def joint_K_W(group: Modules, given: str | Quantity) -> float:
    """Resistance of a joint of one module [K/W], however the sheet gives it."""
    if isinstance(given, Quantity):
        return given.value
    footprint_m2 = group.footprint[0].value * group.footprint[1].value
    return library().interface(given).insulance.value / footprint_m2
