"""How a number is written for people."""

from __future__ import annotations

import math

from coldwright.quantities.entries import Entry
from coldwright.quantities.units import conversion

THIN_SPACE = "\u2009"
NOT_KNOWN = "not known"
NEVER = "never"

_FIGURES = 3
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def shown(entry: Entry, value_SI: float | None, digits: int | None = None) -> str:
    """Write `value_SI` in the display unit of its entry; see `glossary.display`."""
    if value_SI is None or math.isnan(value_SI):
        return NOT_KNOWN
    if math.isinf(value_SI):
        return NEVER if entry.kind == "time" else ("∞" if value_SI > 0 else "−∞")
    unit = _unit(entry, abs(float(value_SI)))
    factor, offset = conversion(unit, entry.kind)
    number = _number((float(value_SI) - offset) / factor, digits, entry)
    if not unit or unit == "price":
        return number
    if unit.startswith("price/"):
        unit = unit.replace("price/", "per ")
    return f"{number}{THIN_SPACE}{unit}"


def _unit(entry: Entry, magnitude: float) -> str:
    # Compared with a hair of slack, so that 7199.999999 s is still written as 2.00 h.
    chosen = entry.display_unit
    if entry.steps and magnitude > 0.0:
        for start, unit in entry.steps:
            if magnitude * (1.0 + 1e-9) >= start:
                chosen = unit
    return chosen


def _number(value: float, digits: int | None, entry: Entry) -> str:
    if digits is not None:
        text = f"{value:.{digits}f}"
    elif entry.point:
        text = f"{value:.1f}"
    elif entry.kind == "price":
        text = f"{value:.2f}"
    elif entry.kind == "count" and value == round(value):
        text = f"{value:.0f}"
    else:
        text = _three_figures(value)
    if float(text.split("×")[0]) == 0.0:
        text = text.lstrip("-")  # no "minus nought"
    return text.replace("-", "−")


def _three_figures(value: float) -> str:
    if value == 0.0:
        return "0"
    # Rounding first, so that 9.996 counts as 10.0 and not as 10.00.
    exponent = int(f"{value:.{_FIGURES - 1}e}".partition("e")[2])
    if -4 <= exponent <= 6:
        return f"{value:.{max(0, _FIGURES - 1 - exponent)}f}"
    mantissa = f"{value:.{_FIGURES - 1}e}".partition("e")[0]
    return f"{mantissa}×10{str(exponent).translate(_SUPERSCRIPT)}"
