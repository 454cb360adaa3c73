"""How a number is written for people."""

from __future__ import annotations

import math
from typing import Any

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
    # Asked for so many digits, a number stays in the unit in which they were meant.
    unit = _unit(entry, abs(float(value_SI)) if digits is None else 0.0)
    factor, offset = conversion(unit, entry.kind)
    number = _number((float(value_SI) - offset) / factor, digits, entry)
    if not unit or unit == "price":
        return number
    if unit.startswith("price/"):
        unit = unit.replace("price/", "per ")
    return f"{number}{THIN_SPACE}{unit}"


def span_of_time(time_s: float) -> str:
    """A round span of time: "90 s", "60 min", "4 h", "2 d", "10 years"."""
    years = time_s / 31_557_600.0
    if years >= 3.0:
        return f"{years:.3g}{THIN_SPACE}years" if years < 1000.0 else "more than 1000 years"
    for seconds, unit in ((86400.0, "d"), (3600.0, "h"), (60.0, "min")):
        if time_s >= 2.0 * seconds:
            count = time_s / seconds
            number = f"{count:.0f}" if count >= 100.0 else f"{count:.3g}"
            return f"{number}{THIN_SPACE}{unit}"
    return f"{time_s:.3g}{THIN_SPACE}s"


def ordinary_spaces(data: Any) -> Any:
    """Plain data whose texts hold no thin spaces, as scripts and other programs expect them."""
    if isinstance(data, str):
        return data.replace(THIN_SPACE, " ")
    if isinstance(data, dict):
        return {ordinary_spaces(key): ordinary_spaces(value) for key, value in data.items()}
    if isinstance(data, list | tuple) and not _only_numbers(data):
        return [ordinary_spaces(item) for item in data]
    return data


def _only_numbers(data: Any) -> bool:
    return bool(data) and all(isinstance(item, int | float) for item in data)


def printable(text: str) -> str:
    """The text without signs that would break a line or turn its direction.

    The thin space that `shown` writes stays.
    """
    return "".join(sign if sign.isprintable() or sign == THIN_SPACE else "�" for sign in text)


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
