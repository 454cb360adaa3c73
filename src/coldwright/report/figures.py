"""How figures are written: as many digits as the interval deserves, all in one unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

from coldwright.quantities.display import NEVER, NOT_KNOWN, THIN_SPACE
from coldwright.quantities.glossary import display, entry
from coldwright.quantities.units import conversion


class Interval(Protocol):
    """A computed figure in SI, with the bounds between which 90 of 100 tries lie."""

    @property
    def value(self) -> float | None:
        """The nominal figure; None: not known, or never for a time."""

    @property
    def low(self) -> float | None:
        """Bound with 5 % of the tries below it."""

    @property
    def high(self) -> float | None:
        """Bound with 95 % of the tries below it."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure ready to be set in columns: number and unit apart, and both bounds."""

    number: str
    unit: str = ""
    low: str = ""
    high: str = ""

    @property
    def text(self) -> str:
        """Number and unit with a thin space between."""
        return f"{self.number}{THIN_SPACE}{self.unit}" if self.unit else self.number

    @property
    def span(self) -> str:
        """The interval, "30.6 to 32.2"; empty when there is none."""
        return f"{self.low} to {self.high}" if self.low and self.high else ""


def figure(name: str, value: Interval, money: str = "") -> Figure:
    """Write a figure of the glossary for people; `money` is the currency of its prices."""
    row = entry(name)
    if row.kind == "time" and value.value == 0.0 and not value.high:
        return Figure("at once")
    number, unit = _parted(display(name, _or_never(name, value.value)))
    if row.kind == "price" and value.value is not None:
        unit = money
    if value.low is None and value.high is None:
        return Figure(number, unit)
    unit = unit or _parted(display(name, value.low if value.low is not None else value.high))[1]
    if unit.startswith("per ") or row.kind in ("price", "price_per_energy"):
        bounds = (_parted(display(name, bound))[0] for bound in (value.low, value.high))
        return Figure(number, unit, *bounds)
    factor, offset = conversion(unit, row.kind) if unit else (1.0, 0.0)

    def scaled(number_SI: float | None) -> float | None:
        return None if number_SI is None else (number_SI - offset) / factor

    low, middle, high = scaled(value.low), scaled(value.value), scaled(value.high)
    # A thermometer is read to a tenth, and so are the sentences; below that the interval decides.
    digits = max(1 if row.point else 0, _digits(low, middle, high))
    if row.kind == "ratio":
        # A COP is a quotient whose two sides err alike; its interval may be narrower than anybody
        # believes, and two digits tell one machine from another.
        digits = min(digits, 2)

    def written(number: float | None) -> str:
        if number is None:
            return NEVER if row.kind == "time" else NOT_KNOWN
        text = f"{number:.{digits}f}"
        return (text.lstrip("-") if float(text) == 0.0 else text).replace("-", "−")

    # A figure that is never reached has no unit of its own; its bounds do.
    return Figure(written(middle), unit if middle is not None else "", written(low), written(high))


def plain(number: float, digits: int = 1) -> str:
    """A bare number with a true minus sign, and no "minus nought"."""
    text = f"{number:.{digits}f}"
    return (text.lstrip("-") if float(text) == 0.0 else text).replace("-", "−")


def _digits(low: float | None, middle: float | None, high: float | None) -> int:
    """Digits after the point so that the half width shows one figure, or two if it is below 3."""
    held = [number for number in (low, middle, high) if number is not None]
    if len(held) < 2:
        return 0 if abs(held[0]) >= 10.0 else 1
    half = (max(held) - min(held)) / 2.0
    if half <= 0.0:
        largest = max(abs(number) for number in held)
        return 0 if largest >= 100.0 else 1
    exponent = math.floor(math.log10(half))
    leading = half / 10.0**exponent
    return min(4, max(0, -exponent + (1 if leading < 3.0 else 0)))


def _or_never(name: str, value: float | None) -> float | None:
    return math.inf if value is None and entry(name).kind == "time" else value


def _parted(text: str) -> tuple[str, str]:
    number, _, unit = text.partition(THIN_SPACE)
    return number, unit
