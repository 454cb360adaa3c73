"""The ducts of a sheet, and their fittings as plain data."""

from __future__ import annotations

from typing import Any

from coldwright.errors import PartMissing
from coldwright.sheet.library import library
from coldwright.sheet.models import Duct, Fitting, Sheet


def ducts(sheet: Sheet) -> list[tuple[str, Duct]]:
    """Each duct that the sheet describes, the hot one first."""
    both = (("hot", sheet.cooler.hot_duct), ("cold", sheet.cooler.cold_duct))
    return [(side, duct) for side, duct in both if duct is not None]


def fitting_data(fitting: Fitting) -> Any:
    """A fitting as the sheet may say it: its name alone where the library knows it so."""
    try:
        known = library().fitting(fitting.name)
    except PartMissing:
        known = None
    if known is not None and known.loss.value == fitting.loss.value:
        return fitting.name
    return {"name": fitting.name, "loss": fitting.loss.text}
