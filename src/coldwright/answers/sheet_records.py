"""From a sheet to the solver's records, with what its power chain loses counted in."""

from __future__ import annotations

from typing import Any

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place, fill_plate
from coldwright.machine.coupled import land_losses
from coldwright.machine.values import Values
from coldwright.sheet.models import Sheet


def records(sheet: Sheet, values: Values) -> tuple[Any, Any]:
    """Cooler and place, shape `values.shape`, for one nominal case or many tries.

    Raises
    ------
    NoSolution
        When the power chain cannot be.
    """
    cooler, place = _filled(sheet, values)
    land_losses(sheet, cooler, lambda: _filled(sheet, Values(0)))
    return cooler, place


def _filled(sheet: Sheet, values: Values) -> tuple[Any, Any]:
    cooler = assemble_cooler(sheet, values)
    place = assemble_place(sheet, values)
    if sheet.place.kind == "plate":
        fill_plate(cooler, sheet, values)
    return cooler, place
