"""The number at the beginning of a text: decimals, decimal commas, fractions, powers of ten."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number, how it was written, and what stands behind it.

    `ambiguous` marks a comma that may part thousands or decimals; `as_thousands` and
    `as_decimal` are then the two ways to write it plainly.
    """

    value: float
    text: str
    rest: str
    ambiguous: bool = False
    as_thousands: str = ""
    as_decimal: str = ""


def leading_number(text: str) -> Numeral | None:
    """Read the number at the beginning of `text`; None when there is none."""
    match = _FRACTION.match(text) or _DECIMAL.match(text)
    if match is None:
        return None
    written = match.group(0).strip()
    rest = text[match.end() :].strip()
    if rest[:1] in (",", "."):
        return None
    if match.re is _FRACTION:
        value = _fraction(match)
        return None if value is None else Numeral(value, written, rest)
    comma = "," in written
    value = float(written.replace(",", "."))
    if value == 0.0 and any(digit in "123456789" for digit in written.lower().split("e")[0]):
        return None  # too small for a float: not the same as nothing
    if comma and _THOUSANDS.match(written):
        return Numeral(value, written, rest, True, written.replace(",", ""), f"{value:g}")
    return Numeral(value, written, rest)


_DECIMAL = re.compile(r"\s*[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?")
_FRACTION = re.compile(r"\s*([+-]?)(?:([0-9]{1,6})(?:\s+|-))?([0-9]{1,6})/([0-9]{1,6})(?![0-9])")
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}\Z")


def _fraction(match: re.Match[str]) -> float | None:
    sign, whole, above, below = match.groups()
    if int(below) == 0:
        return None
    value = int(whole or 0) + int(above) / int(below)
    return -value if sign == "-" else value
