"""From a sheet to the solver's records, with what its power chain loses counted in."""

from __future__ import annotations

from typing import Any

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place, fill_plate
from coldwright.machine.coupled import land, losses_of
from coldwright.machine.values import Values
from coldwright.sheet.models import Sheet


def records(sheet: Sheet, values: Values) -> tuple[Any, Any]:
    """Cooler and place, shape `values.shape`, for one nominal case or many tries.

    Raises
    ------
    NoSolution
        When the power chain cannot be.
    """
    cooler, place = records_before_chain(sheet, values)
    land(cooler, losses_of(sheet, *records_before_chain(sheet, Values(0))))
    return cooler, place


def records_before_chain(sheet: Sheet, values: Values) -> tuple[Any, Any]:
    """The same with supply, converter and the modules' own wire only."""
    cooler = assemble_cooler(sheet, values)
    place = assemble_place(sheet, values)
    if sheet.place.kind == "plate":
        fill_plate(cooler, sheet, values)
    return cooler, place
