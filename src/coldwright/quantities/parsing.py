"""Texts that people write, to quantities in SI with a tolerance.

What is accepted, besides "12 W":

- numbers: "1.5", "1,5" (decimal comma), "1/2", "1 1/2", "1e-5"; "1,500" is refused, because it is
  one and a half here and fifteen hundred there;
- lengths, masses and times in two units: "12 ft 3 in", "1 h 30 min";
- temperatures with a scale: "35 degC", "35 °C", "35 C", "95 °F", "308 K". A bare "35" is refused;
- differences: "2 K"; "2 degC" and "3.6 °F" are differences too where the kind is one, as on data
  sheets. A temperature that says "difference" or "delta" is refused, and no difference becomes a
  temperature: the kind decides, never the text;
- gauges ("14 AWG", "2/0 AWG"), R-values ("R13" in the US unit, "RSI 2.3"), compass points ("SSW"),
  latitudes and longitudes ("48.1 N", "11° 34' E"), prices in any currency ("12 EUR", "$12",
  "0.25 EUR/kWh");
- tolerances behind "+/-" or "±": in a unit ("53 W +/- 5 W"), sharing the unit ("35 +/- 1 degC"),
  in percent of the value ("53 W +/- 10 %"), with "(k=2)" for an expanded uncertainty. Where the
  value itself is in percent, "40 % +/- 3 %" means 37 to 43 %.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache

from coldwright.errors import QuantityError
from coldwright.quantities.display import THIN_SPACE, printable, shown
from coldwright.quantities.entries import Entry
from coldwright.quantities.kinds import KINDS
from coldwright.quantities.notations import currency, special_value
from coldwright.quantities.numerals import Numeral, leading_number
from coldwright.quantities.tolerance import Shape, Tolerance
from coldwright.quantities.units import conversion, kinds_like, plain, pretty

TEXT_LENGTH_LIMIT = 200


@dataclass(frozen=True, slots=True)
class Span:
    """What a field of the sheet has in practice: bounds in SI, and how they are said."""

    low: float
    high: float
    said: str

    @classmethod
    def of(cls, low: str, high: str, kind: str) -> Span:
        """The span between two texts of one kind."""
        said = " to ".join(pretty(text).replace(" ", THIN_SPACE, 1) for text in (low, high))
        return cls(parse(low, kind).value, parse(high, kind).value, said)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number as the person wrote it and as the program uses it.

    Parameters
    ----------
    text : str
        Exactly what was written.
    value : float
        In the SI unit of its kind (kelvin for a temperature); always finite.
    kind : str
        Name of the glossary's kind.
    tolerance : Tolerance
        In the same unit; the glossary's default when none was written.
    path : str
        Where it stands in the sheet, "cooler.hot_fan.power".
    assumed : bool
        Whether the program supplied it, not the person.
    usual : Span, optional
        What its field has in practice; without it the span of its kind holds.
    """

    text: str
    value: float
    kind: str
    tolerance: Tolerance
    path: str = ""
    assumed: bool = False
    usual: Span | None = None

    def at(self, path: str) -> Quantity:
        """Copy of this quantity that knows where it stands."""
        return replace(self, path=path)


def parse(text: str | int | float, kind: str, *, assumed: bool = False) -> Quantity:
    """Read what a person wrote as a quantity of one kind.

    Parameters
    ----------
    text : str, int or float
        The text, at most 200 characters; a bare number only for kinds without a unit.
    kind : str
        Name of a kind of the glossary.
    assumed : bool
        Whether the program supplies the value, not the person.

    Raises
    ------
    QuantityError
        If the text is no such quantity; the message names what is accepted.
    """
    if type(text) is str:
        return _parsed(text, kind, assumed)
    return _parsed.__wrapped__(text, kind, assumed)


@lru_cache(maxsize=4096)
def _parsed(text: str | int | float, kind: str, assumed: bool) -> Quantity:
    # A sheet of which a few keys are changed is read anew: the same texts again and again.
    row = _kind(kind)
    given = _checked_text(text, row)
    nominal, spread, shape = _split_tolerance(plain(given), given, row)
    if spread is None:
        value, _ = _nominal(nominal, given, row)
        tolerance = _default_tolerance(value, row)
    else:
        value, tolerance = _with_tolerance(nominal, spread, shape, given, row)
    return Quantity(given, value, kind, tolerance, assumed=assumed)


def likely_slip(quantity: Quantity) -> str | None:
    """Say which unit was probably meant, when a value lies far outside what is usual.

    Returns
    -------
    str or None
        The number with the unit that brings it back into its usual span, "40 mm"; None when the
        value is plausible or no unit of the trade explains it.
    """
    row = _kind(quantity.kind)
    if is_plausible(quantity):
        return None
    nominal = _split_tolerance(plain(quantity.text), quantity.text, row)[0]
    numeral = leading_number(nominal)
    if numeral is None:
        return None
    for unit in row.slips:
        factor, offset = conversion(unit, row.name)
        if _within(numeral.value * factor + offset, quantity.usual, row):
            money = currency(quantity.text) if "price" in unit else ""
            return f"{numeral.text} {pretty(unit).replace('price', money or 'price')}".strip()
    return None


def is_plausible(quantity: Quantity) -> bool:
    """Whether the magnitude lies within the usual span of its field; zero always does."""
    return _within(quantity.value, quantity.usual, _kind(quantity.kind))


def span(quantity: Quantity) -> str:
    """The usual span of a quantity's field, for people: "0.36 m³/h to 3600 m³/h"."""
    if quantity.usual is not None:
        return quantity.usual.said
    row = _kind(quantity.kind)
    return f"{_rounded(shown(row, row.low))} to {_rounded(shown(row, row.high))}"


def _rounded(text: str) -> str:
    """A round bound without the zeros that only say how exact a measurement is: "40 mm"."""
    number, *unit = text.split(THIN_SPACE)
    if "." in number and "×" not in number:
        number = number.rstrip("0").rstrip(".")
    return THIN_SPACE.join([number, *unit])


def _kind(kind: str) -> Entry:
    row = KINDS.get(kind)
    if row is None:
        from difflib import get_close_matches

        near = get_close_matches(str(kind), KINDS, n=3)
        raise QuantityError(
            f"“{kind}”", "a kind of quantity", action=" or ".join(f"“{name}”" for name in near)
        )
    return row


def _within(value: float, usual: Span | None, row: Entry) -> bool:
    # Where the zero is arbitrary the sign counts; elsewhere, and south or west, a minus sign only
    # gives a direction.
    either_way = row.least is not None and row.least < 0.0 < row.low
    magnitude = value if row.point and not either_way else abs(value)
    low, high = (usual.low, usual.high) if usual is not None else (row.low, row.high)
    # The bounds themselves are usual, however their units were converted.
    return magnitude == 0.0 or low - 1e-9 * abs(low) <= magnitude <= high + 1e-9 * abs(high)


def _checked_text(text: object, row: Entry) -> str:
    if isinstance(text, str):
        if len(text) > TEXT_LENGTH_LIMIT:
            raise QuantityError(
                _written(text), "a quantity", f"It is longer than {TEXT_LENGTH_LIMIT} characters"
            )
        if not text.strip():
            raise _refusal("an empty text", row, "A number is needed")
        return text
    if isinstance(text, bool) or not isinstance(text, int | float):
        raise _refusal(_written(str(text)), row, "Text or a number is needed")
    if isinstance(text, int) and text.bit_length() > 512:
        raise _refusal("such a long number", row)
    return repr(text) if isinstance(text, float) else str(text)


_COVERAGE = re.compile(r"\(\s*k\s*=\s*([0-9.]{1,5})\s*\)\s*\Z", re.ASCII)


def _split_tolerance(text: str, given: str, row: Entry) -> tuple[str, str | None, Shape]:
    text = text.replace("±", "+/-")
    shape: Shape = "limit"
    coverage = _COVERAGE.search(text)
    if coverage:
        if coverage.group(1) not in ("2", "2.0"):
            raise _refusal(_written(given), row, "Only k=2 is understood", "(k=2)")
        shape = "k2"
        text = text[: coverage.start()]
    for sign in ("+/-", "+-"):
        if sign in text:
            nominal, _, spread = text.partition(sign)
            if sign in spread or not spread.strip():
                raise _refusal(_written(given), row, "The tolerance cannot be read")
            return nominal.strip(), spread.strip(), shape
    if coverage:
        raise _refusal(_written(given), row, "“(k=2)” needs a tolerance before it")
    return text.strip(), None, shape


def _with_tolerance(
    nominal: str, spread: str, shape: Shape, given: str, row: Entry
) -> tuple[float, Tolerance]:
    width = leading_number(spread)
    if width is None or width.value < 0.0:
        raise _refusal(_written(given), row, "The tolerance is no positive number")
    bare = None if special_value(nominal, row) is not None else leading_number(nominal)
    percent = width.rest in ("%", "percent")
    if bare is not None and not bare.rest and width.rest and _fits(width.rest, row):
        if percent:
            raise _refusal(
                _written(given), row, "It does not say percent of what",
                f"“{bare.text} +/- {bare.value * width.value / 100.0:.3g}” or the value in percent",
            )  # fmt: skip
        nominal = f"{nominal} {width.rest}"
    elif bare is not None and not bare.rest and row.si_unit:
        raise _unit_refusal("", nominal, row, "")
    value, unit = _nominal(nominal, given, row)
    if percent and unit not in ("%", "percent"):
        if row.point:
            raise _refusal(
                _written(given), row, "A percentage of this has no meaning",
                f"a tolerance in {shown(row, 1.0).split(THIN_SPACE)[-1]}",
            )  # fmt: skip
        half_width = abs(value) * width.value / 100.0
    else:
        half_width = width.value * _spread_factor(width.rest or unit, given, row)
    if not math.isfinite(half_width):
        raise _refusal(_written(given), row, "The tolerance is no usable number")
    return value, Tolerance(half_width, shape)


def _fits(unit: str, row: Entry) -> bool:
    """Whether a unit belongs to a kind."""
    try:
        conversion(unit, row.name)
    except QuantityError:
        return False
    return True


def _spread_factor(unit: str, given: str, row: Entry) -> float:
    kind = "temperature_difference" if row.name == "temperature" else row.name
    try:
        return conversion(unit, kind)[0]
    except QuantityError as fault:
        raise _refusal(
            _written(given), row, f"The tolerance is not in a unit of {_noun(row.name)}"
        ) from fault


def _default_tolerance(value: float, row: Entry) -> Tolerance:
    width = leading_number(row.tolerance)
    assert width is not None  # a test reads every row of the table
    if width.rest == "%":
        return Tolerance(abs(value) * width.value / 100.0, assumed=True)
    return Tolerance(width.value * _spread_factor(width.rest, row.tolerance, row), assumed=True)


def _nominal(text: str, given: str, row: Entry) -> tuple[float, str]:
    """Value in SI, and the unit as written ("" for none)."""
    special = special_value(text, row)
    if special is not None:
        value, unit = special, ""
    else:
        if row.name == "wire_size" and "awg" in text.casefold():
            raise _refusal(
                _written(given), row, "Gauges are whole numbers from 0 to 50, and 1/0 to 4/0",
                "“14 AWG” or the cross section",
            )  # fmt: skip
        numeral = leading_number(text)
        if numeral is None:
            raise _refusal(_written(given), row, "It does not begin with a number")
        if numeral.ambiguous:
            raise _refusal(
                _written(given), row, "The comma may mark decimals or thousands",
                f"“{numeral.as_thousands}” or “{numeral.as_decimal}”",
            )  # fmt: skip
        unit = _unit(numeral, given, row)
        value = _in_si(numeral.value, unit, given, row)
    if not math.isfinite(value):
        raise _refusal(_written(given), row, "It is not a finite number")
    _check_possible(value, given, row)
    return value, unit


def _unit(numeral: Numeral, given: str, row: Entry) -> str:
    unit = numeral.rest
    if row.name == "temperature_difference":
        return _DIFFERENCE.sub("", unit)
    if row.name == "temperature" and _DIFFERENCE.search(unit):
        raise _refusal(_written(given), row, "This is a difference between temperatures")
    if _RANGE.match(unit):
        raise _refusal(
            _written(given), row, "A range is not read", "its middle with a tolerance, “5 +/- 1 V”"
        )
    if unit[:1].isdigit() and not unit.startswith("1/"):
        raise _refusal(_written(given), row, "Two numbers stand side by side")
    return unit


_DIFFERENCE = re.compile(r"\s*(?:of )?\bdiff(?:erence)?\.?\Z")
_RANGE = re.compile(r"[A-Za-z%°]{0,6}\s*(?:-|to\b|\.\.)\s*[0-9]")


def _in_si(number: float, unit: str, given: str, row: Entry) -> float:
    try:
        factor, offset = conversion(unit, row.name)
    except QuantityError as fault:
        raise _unit_refusal(unit, given, row, fault.why) from None
    if row.name == "count" and number != math.floor(number):
        raise _refusal(_written(given), row, "A whole number is needed")
    return number * factor + offset


def _check_possible(value: float, given: str, row: Entry) -> None:
    if row.name == "temperature" and value <= 0.0:
        raise _refusal(_written(given), row, "It lies below absolute zero")
    if value < row.least:
        why = "be negative" if row.least == 0.0 else f"be less than {shown(row, row.least)}"
        raise _refusal(_written(given), row, f"It cannot {why}")
    if value > row.most:
        # "40" for 40 percent is the usual slip; below some 5 it is none that anybody means.
        percent = ""
        numeral = leading_number(given.strip())
        if numeral is not None and not numeral.rest and 5.0 <= value <= 100.0 * row.most:
            percent = f"“{given.strip()} %”"
        raise _refusal(
            _written(given), row, f"It cannot be more than {shown(row, row.most)}", percent
        )


def _unit_refusal(unit: str, given: str, row: Entry, why: str) -> QuantityError:
    noun = _noun(row.name)
    if not unit:
        return _refusal(
            _written(given), row, "A number alone does not say which unit",
            f"“{given.strip()} {_example_unit(row)}” or another unit of {noun}",
        )  # fmt: skip
    others = [name for name in kinds_like(unit) if not name.startswith("price")]
    advice = [_MIXED_UP[row.name, name] for name in others if (row.name, name) in _MIXED_UP]
    if others and not why:
        named = next((name for name in others if (row.name, name) in _MIXED_UP), others[0])
        why = f"“{unit}” is a unit of {_noun(named)}"
    why = why or f"“{unit}” is no unit of {noun}"
    return _refusal(_written(given), row, why, advice[0] if advice else "")


_MIXED_UP = {
    ("flow", "velocity"): "multiplying the speed by the area it passes, as in “80 m^3/h”",
    ("flow", "mass_flow"): "dividing by the density of the air, as in “80 m^3/h”",
    ("velocity", "flow"): "dividing the flow by the area it passes, as in “2 m/s”",
    ("power", "energy"): "energy per time, as in “14 W” or “1.2 kWh/24h”",
    ("heat", "energy"): "energy per time, as in “53 W”",
    ("energy", "power"): "power times time, as in “1.2 kWh”",
    ("thermal_resistance", "thermal_conductance"): "its reciprocal, as in “0.35 K/W”",
    ("thermal_conductance", "thermal_resistance"): "its reciprocal, as in “0.5 W/K”",
    ("u_value", "thermal_insulance"): "its reciprocal, as in “5.7 W/m^2/K”",
    ("thermal_insulance", "u_value"): "its reciprocal, as in “0.25 m^2*K/W”",
    ("wire_size", "length"): "the cross section, as in “2.5 mm^2”, or a gauge, as in “14 AWG”",
    ("area", "length"): "an area, as in “380 cm^2”",
    ("length", "area"): "a length, as in “300 mm”",
    ("moisture_rate", "water_flow"): "the mass per time, as in “60 g/h”",
    ("thermal_resistance", "thermal_insulance"): "dividing by the area, as in “0.35 K/W”",
}


def _refusal(given: str, row: Entry, why: str = "", action: str = "") -> QuantityError:
    return QuantityError(given, _wanted(row), why, action)


def _wanted(row: Entry) -> str:
    noun = _noun(row.name)
    article = "an" if noun[0] in "aeio" else "a"
    return f"{article} {noun} such as “{row.example}”"


def _noun(kind: str) -> str:
    return {"heat": "heat flow", "u_value": "U value"}.get(kind, kind.replace("_", " "))


def _example_unit(row: Entry) -> str:
    numeral = leading_number(row.example)
    return numeral.rest if numeral else row.display_unit


def _written(text: str) -> str:
    """The person's text, safe to print on one line."""
    clean = printable(text[:41])
    return f"“{clean[:40]}…”" if len(text) > 40 else f"“{clean}”"
