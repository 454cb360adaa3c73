"""Ways of writing that are no number with a unit: gauges, R-values, compass points, feet-inches."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from itertools import pairwise

from coldwright.errors import QuantityError
from coldwright.quantities.entries import Entry
from coldwright.quantities.numerals import leading_number
from coldwright.quantities.units import awg_area, conversion


def special_value(text: str, row: Entry) -> float | None:
    """Value in SI of a text in a notation of its own; None when it is an ordinary one."""
    reader = _READERS.get(row.name)
    return reader(text) if reader else None


def compass_angle(text: str) -> float | None:
    """Direction of a compass point in radians, clockwise from north: "SSW" is 202.5 degrees."""
    folded = text.strip().casefold().replace("-", "").replace(" ", "")
    for word, letter in (("north", "n"), ("east", "e"), ("south", "s"), ("west", "w")):
        folded = folded.replace(word, letter)
    if folded not in _POINTS:
        return None
    return math.radians(_POINTS.index(folded) * 22.5)


def position_angle(text: str, signs: str) -> float | None:
    """Latitude or longitude in radians: "48.1 N", "11° 34' E"; `signs` is "NS" or "EW".

    None for an ordinary number of degrees, whose sign says the side.
    """
    match = _POSITION.match(text)
    if match is None or match["side"].upper() not in signs:
        return None
    minutes = float((match["minutes"] or "0").replace(",", "."))
    degrees = float(match["degrees"].replace(",", ".")) + minutes / 60.0
    if minutes >= 60.0:
        return None
    return math.radians(-degrees if match["side"].upper() == signs[1] else degrees)


def currency(text: str) -> str:
    """The currency a price is written in, as the person wrote it; empty when there is none."""
    bare = text.partition("/")[0].partition("+")[0]
    return bare.strip(" 0123456789.,-±").strip()


_POINTS = (
    "n", "nne", "ne", "ene", "e", "ese", "se", "sse",
    "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw",
)  # fmt: skip

_GAUGE = re.compile(
    r"(?:(?P<n>[0-9]{1,2})|(?P<zeros>[1-4])/0|(?P<row>0{2,4}))\s*(?:AWG|ga\.?|gauge)\Z"
    r"|AWG\s*#?\s*(?:(?P<n2>[0-9]{1,2})|(?P<zeros2>[1-4])/0|(?P<row2>0{2,4}))\Z",
    re.ASCII | re.IGNORECASE,
)
_POSITION = re.compile(
    r"\s*(?P<degrees>[0-9]{1,3}(?:[.,][0-9]{1,9})?)\s*(?:°|deg)?"
    r"(?:\s*(?P<minutes>[0-9]{1,2}(?:[.,][0-9]{1,9})?)\s*['′])?\s*(?P<side>[NSEWnsew])\s*\Z",
    re.ASCII,
)
_R_VALUE = re.compile(r"(?P<si>RSI|R)\s*-?\s*(?P<number>[0-9].*)\Z", re.ASCII | re.IGNORECASE)
_PAIR = re.compile(
    r"\s*(?P<number>[0-9]+(?:[.,][0-9]+)?(?:\s+[0-9]+/[0-9]+)?|[0-9]+/[0-9]+)"
    r"\s*(?P<unit>[A-Za-z]+\.?|[\"']+)",
    re.ASCII,
)
_US_R_VALUE = "ft^2*delta_degF*h/BTU"


def _gauge(text: str) -> float | None:
    match = _GAUGE.match(text)
    if match is None:
        return None
    number = match["n"] or match["n2"]
    zeros = match["zeros"] or match["zeros2"]
    if number:
        return awg_area(int(number)) if int(number) <= 50 else None
    return awg_area(1 - (int(zeros) if zeros else len(match["row"] or match["row2"])))


def _r_value(text: str) -> float | None:
    match = _R_VALUE.match(text)
    numeral = leading_number(match["number"]) if match else None
    if match is None or numeral is None or numeral.rest or numeral.ambiguous:
        return None
    unit = "m^2*K/W" if match["si"].upper() == "RSI" else _US_R_VALUE
    return numeral.value * conversion(unit, "thermal_insulance")[0]


def _price(text: str) -> float | None:
    # "€12" and "$ 0.25/kWh": the sign first. The other order is an ordinary number with a unit.
    match = re.match(r"([^\W\d_]{1,4}|[$\u00a2-\u00a5\u20a0-\u20bf])\s*(?=[0-9.,])", text)
    numeral = leading_number(text[match.end() :]) if match else None
    if match is None or numeral is None or numeral.rest or numeral.ambiguous:
        return None
    return numeral.value


def _price_per_energy(text: str) -> float | None:
    money, slash, unit = text.partition("/")
    value = _price(money.strip())
    if value is None or not slash:
        return None
    return value * conversion(f"price/{unit.strip()}", "price_per_energy")[0]


def _in_two_units(kind: str, text: str) -> float | None:
    """ "12 ft 3 in", "1 h 30 min": units that fall in size, whole numbers before the last."""
    negative = text.lstrip().startswith("-")
    body = text.strip().lstrip("+-")
    total, factors, position = 0.0, [], 0
    while position < len(body):
        pair = _PAIR.match(body, position)
        numeral = leading_number(pair["number"]) if pair else None
        if pair is None or numeral is None or numeral.ambiguous:
            return None
        try:
            factors.append(conversion(pair["unit"], kind)[0])
        except QuantityError:
            return None
        total += numeral.value * factors[-1]
        position = pair.end()
    falling = all(a > b for a, b in pairwise(factors))
    if not 2 <= len(factors) <= 4 or not falling:
        return None
    return -total if negative else total


_READERS: dict[str, Callable[[str], float | None]] = {
    "angle": compass_angle,
    "latitude": lambda text: position_angle(text, "NS"),
    "longitude": lambda text: position_angle(text, "EW"),
    "wire_size": _gauge,
    "thermal_insulance": _r_value,
    "price": _price,
    "price_per_energy": _price_per_energy,
    "length": lambda text: _in_two_units("length", text),
    "mass": lambda text: _in_two_units("mass", text),
    "time": lambda text: _in_two_units("time", text),
}
