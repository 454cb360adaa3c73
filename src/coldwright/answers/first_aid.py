"""What to do before any machine: shade, sealing, insulation, as changes of the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coldwright.machine.assemble_place import layer_data
from coldwright.machine.safety import exhaust_advice
from coldwright.machine.values import Values
from coldwright.sheet.models import Box, Layer, Room, Sheet

# How much of the sun a good blind, awning, parasol or second roof keeps off (common practice, no
# source), and how much more insulation is tried.
_SHADED = 0.8
_THICKER = 1.5


SEALING = "sealing"


@dataclass(frozen=True)
class Aid:
    """One thing to do, and the keys that it changes."""

    name: str
    changes: dict[str, Any]


def aids_of(sheet: Sheet) -> list[Aid]:
    """What can still be done to this place."""
    place = sheet.place
    assert isinstance(place, Room | Box)
    found = (
        Aid("shade", _shade(place)),
        # A flame needs the air that comes through the gaps.
        Aid(SEALING, _sealing(place) if exhaust_advice(sheet).offered else {}),
        Aid("half as much insulation again", _insulation(place)),
    )
    return [aid for aid in found if aid.changes]


def _shade(place: Room | Box) -> dict[str, Any]:
    """Off the windows and off every skin that the sun heats."""
    sunlit = [("window", number, one) for number, one in enumerate(place.window)] + [
        ("surface", number, one)
        for number, one in enumerate(place.surface)
        if one.absorptance is not None and one.other_side == "outdoors"
    ]
    return {
        f"place.{kind}[{number}].shaded_share": f"{100.0 * _SHADED:.0f} percent"
        for kind, number, one in sunlit
        if one.shaded_share.value < _SHADED
    }


def _sealing(place: Room | Box) -> dict[str, Any]:
    """The next tighter kind, or half of what leaks."""
    if place.heat_loss is not None and "air_leakage" not in place.model_fields_set:
        return {}  # how much of that loss the gaps have is not known
    leakage = place.air_leakage
    if isinstance(leakage, str):
        tighter = {"draughty": "ordinary", "ordinary": "tight"}.get(leakage)
        return {} if tighter is None else {"place.air_leakage": tighter}
    if leakage.area is not None:
        half: dict[str, Any] = {"area": f"{leakage.area.value / 2.0:.7f} m^2"}
    elif leakage.ach50 is not None:
        half = {"ach50": f"{3600.0 * leakage.ach50.value / 2.0:.6f} 1/h"}
    else:
        assert leakage.natural is not None
        half = {"natural": f"{3600.0 * leakage.natural.value / 2.0:.6f} 1/h"}
    return {"place.air_leakage": half}


def _insulation(place: Room | Box) -> dict[str, Any]:
    """Half as thick again, where the outdoor air is behind it."""
    changes: dict[str, Any] = {}
    for number, surface in enumerate(place.surface):
        if surface.other_side != "outdoors":
            continue
        where = f"place.surface[{number}]"
        if surface.u_value is not None:
            changes[f"{where}.u_value"] = f"{surface.u_value.value / _THICKER:.5f} W/m^2/K"
        elif surface.layers is not None:
            changes |= _thicker(f"{where}.layers", surface.layers)
    if isinstance(place, Box) and place.wall is not None:
        changes |= _thicker("place.wall", place.wall)
    if place.heat_loss is not None:
        changes["place.heat_loss"] = f"{place.heat_loss.value / _THICKER:.6f} W/K"
    return changes


def _thicker(where: str, layers: tuple[Layer, ...]) -> dict[str, Any]:
    """The layer that insulates most."""
    values = Values(0)
    best = max(range(len(layers)), key=lambda at: float(layer_data(layers[at], values)[0]))
    layer = layers[best]
    if layer.insulance is not None:
        return {f"{where}[{best}].insulance": f"{_THICKER * layer.insulance.value:.5f} m^2 K/W"}
    assert layer.thickness is not None
    return {f"{where}[{best}].thickness": f"{_THICKER * layer.thickness.value:.5f} m"}
