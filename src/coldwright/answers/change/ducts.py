"""The ducts of a sheet, by side."""

from __future__ import annotations

from coldwright.sheet.models import Duct, Sheet


def ducts(sheet: Sheet) -> list[tuple[str, Duct]]:
    """Each duct that the sheet describes, the hot one first."""
    both = (("hot", sheet.cooler.hot_duct), ("cold", sheet.cooler.cold_duct))
    return [(side, duct) for side, duct in both if duct is not None]
