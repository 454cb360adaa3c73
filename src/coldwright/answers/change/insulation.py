"""More insulation: half as thick again, and a first layer on walls that have none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldwright.answers.change.amounts import amount, text_of, times
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.solved import Solved
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import Box, Layer, Room, Sheet, Surface

_THICKER = 1.5
_FIRST = {"material": "EPS", "thickness": "40 mm"}
_FIRST_m2K_W = 0.040 / 0.035
# From this thermal resistance on a layer counts as insulation [m2 K/W].
_INSULATES_m2K_W = 0.4
# What half as much insulation again does to a known heat loss whose films and edges stay.
_LESS_LOSS = 0.75


def _variants(start: Solved) -> Iterator[Variant]:
    place = start.sheet.place
    assert isinstance(place, Room | Box)
    edits: dict[str, Any] = {}
    for number, surface in enumerate(place.surface):
        if _warmer_behind(surface, start):
            edits |= _better_surface(surface, number)
    if isinstance(place, Box) and place.wall is not None:
        edits |= _better_layers(place.wall, "place.wall")
    if place.heat_loss is not None:
        edits |= times(place.heat_loss, _LESS_LOSS)
    if edits:
        yield Variant(
            "Make the insulation half as thick again",
            edits,
            asks="room, joints without gaps, and foam behind a board and away from heat",
        )


def _applies(sheet: Sheet) -> bool:
    return isinstance(sheet.place, Room | Box)


CHANGE = Change(
    "more insulation",
    "The walls let less heat in from where it is warmer.",
    _variants,
    _applies,
)


def _warmer_behind(surface: Surface, start: Solved) -> bool:
    """Whether it is warmer on the other side than where the place stands."""
    other = surface.other_side
    if isinstance(other, Quantity):
        return other.value > start.level_K
    if other == "ground":
        ground = getattr(start.sheet.climate, "ground", None)
        return (start.outdoor_K if ground is None else ground.value) > start.level_K
    return True


def _better_surface(surface: Surface, number: int) -> dict[str, Any]:
    at = f"place.surface[{number}]"
    if surface.layers is not None:
        return _better_layers(surface.layers, f"{at}.layers")
    assert surface.u_value is not None
    return {f"{at}.u_value": amount(1.0 / (1.0 / surface.u_value.value + _FIRST_m2K_W), "u_value")}


def _better_layers(layers: tuple[Layer, ...], at: str) -> dict[str, Any]:
    resistances = [_resistance_m2K_W(layer) for layer in layers]
    most = max(resistances)
    if most < _INSULATES_m2K_W:
        return {at: [*(_table(layer) for layer in layers), _FIRST]}
    best = layers[resistances.index(most)]
    thicker = best.insulance if best.insulance is not None else best.thickness
    assert thicker is not None
    return {**times(thicker, _THICKER)}


def _resistance_m2K_W(layer: Layer) -> float:
    if layer.insulance is not None:
        return layer.insulance.value
    assert layer.thickness is not None
    conductivity = layer.conductivity or library().material(layer.material).conductivity
    return layer.thickness.value / conductivity.value


def _table(layer: Layer) -> dict[str, Any]:
    return {name: text_of(value) for name, value in layer if value is not None}
