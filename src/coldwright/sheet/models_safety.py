"""What only the maker knows about mains, fire and use, and a rule has to ask."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from coldwright.quantities.parsing import Quantity
from coldwright.sheet import fields as of
from coldwright.sheet.fields import Kind, Usual
from coldwright.sheet.tables import Table


class Safety(Table):
    """What the safety rules ask; every key may be left out, and then is not known."""

    mains_side: Literal["sealed supply", "wired by hand", "not known"] = "not known"
    """Who made what carries mains: "sealed supply" is bought finished and never opened."""
    supply_stands: Literal["in free air", "in a metal box", "in foam", "not known"] = "not known"
    """What surrounds the supply."""
    supplies: Annotated[int, Field(ge=1, le=100)] = 1
    """How many supplies hang on the same plug, small ones counted."""
    supply_leakage: Annotated[of.Current, Usual("1 uA", "50 mA")] | None = None
    """Leakage current to earth of one supply, from its data sheet, such as "0.3 mA"."""
    cut_out: Annotated[
        Literal["none", "not known"] | Quantity,
        Kind("temperature", ("none", "not known")),
        Usual("40 degC", "250 degC"),
    ] = "not known"
    """Temperature at which the thermal cut-out on the hot sink stops the modules; or "none"."""
    other_exhausts: Annotated[of.Flow, Usual("1 m^3/h", "5000 m^3/h")] | None = None
    """Air that other fans blow out of the same rooms meanwhile: kitchen hood, bathroom, dryer."""
    keeps: Literal["food", "medicine", "neither", "not known"] = "not known"
    """Whether food or medicine shall lie in it."""
