"""Amounts in a changed sheet: a quantity times a factor, more decibels, a price."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from coldwright.errors import QuantityError
from coldwright.quantities.glossary import display, entry
from coldwright.quantities.notations import currency
from coldwright.quantities.parsing import Quantity, parse
from coldwright.sheet.library import library
from coldwright.sheet.models import Sheet

# A readable text may differ from the exact product by so much.
_ROUNDING = 1e-3
# Prices of the parts library.
_LIBRARY_CURRENCY = "EUR"


def times(quantity: Quantity, factor: float) -> dict[str, str]:
    """The edit that multiplies a quantity of the sheet; its relative tolerance stays."""
    return {quantity.path: times_text(quantity, factor)}


def about(quantity: Quantity, factor: float) -> dict[str, str]:
    """The same in three figures, rounded down so that no limit is passed; a knob has no more."""
    value = quantity.value * factor
    if value == 0.0:
        return times(quantity, 0.0)
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 2)
    return times(quantity, math.floor(value / step + 1e-6) * step / quantity.value)


def times_text(quantity: Quantity, factor: float) -> str:
    """A quantity times a factor as a text for the sheet; its relative tolerance stays."""
    value = quantity.value * factor
    text = amount(value, quantity.kind)
    tolerance = quantity.tolerance
    if tolerance.assumed or quantity.value == 0.0:
        return text
    spread = f"{tolerance.half_width / abs(quantity.value):.6g}"
    if entry(quantity.kind).si_unit:
        spread = f"{100.0 * float(spread):.6g} %"
    else:
        spread = f"{float(spread) * abs(value):.6g}"
        text = f"{value:.6g}"
    return f"{text} +/- {spread}{_coverage(quantity)}"


def plus_text(quantity: Quantity, more: float) -> str:
    """A quantity and so much more (SI) as a text for the sheet; its tolerance stays."""
    value = quantity.value + more
    text = amount(value, quantity.kind)
    if quantity.tolerance.assumed:
        return text
    unit = entry(quantity.kind).si_unit
    text = f"{value:.6g} {unit}"
    return f"{text} +/- {quantity.tolerance.half_width:.6g} {unit}{_coverage(quantity)}"


def amount(value_SI: float, kind: str) -> str:
    """A value as a text for the sheet: readable where that is exact enough, else in SI."""
    readable = display(kind, value_SI).replace("\u2009", " ").replace("−", "-")
    try:
        read = parse(readable, kind).value
    except QuantityError:
        read = float("nan")
    if abs(read - value_SI) <= _ROUNDING * abs(value_SI):
        return readable
    return f"{value_SI:.8g} {entry(kind).si_unit}".strip()


def text_of(value: Any) -> Any:
    """A part of a read sheet as plain data again: texts, words and numbers."""
    return value.text if isinstance(value, Quantity) else value


def price_of(sheet: Sheet, price: Quantity | None, count: float = 1) -> float | None:
    """What so many parts cost; None when it is not known, or in another currency."""
    if price is None or currency(price.text) != sheet_currency(sheet):
        return None
    return price.value * count


def library_price(sheet: Sheet, group: str, name: str) -> float | None:
    """What a part of the library costs; None when it is not known, or in another currency."""
    row: Mapping[str, Any] = library().row(group, name)
    return price_of(sheet, parse(row["price"], "price")) if "price" in row else None


def sheet_currency(sheet: Sheet) -> str:
    """The currency that the sheet's own prices are in; the library's when it states none."""
    own = [sheet.goal.max_price] if sheet.goal.max_price is not None else []
    if sheet.price is not None:
        own += [sheet.price.electricity] if sheet.price.electricity is not None else []
        own += [item.price for item in sheet.price.item]
    return next((found for price in own if (found := currency(price.text))), _LIBRARY_CURRENCY)


def _coverage(quantity: Quantity) -> str:
    return " (k=2)" if quantity.tolerance.shape == "k2" else ""
