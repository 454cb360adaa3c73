"""A computed quantity with its interval, and how many such are shown as JSON."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np

from coldwright.quantities.display import ordinary_spaces


@dataclass(frozen=True, slots=True)
class Value:
    """One figure of an answer, SI.

    `value` is the nominal solve; `low` and `high` hold 5 and 95 % of the tries below them. None
    means not known (or never, for a time); unknown stays unknown.
    """

    value: float | None
    low: float | None = None
    high: float | None = None

    def to_json(self) -> dict[str, float | None]:
        """The object of the JSON answer."""
        return {"value": self.value, "low": self.low, "high": self.high}


_Answer = TypeVar("_Answer")


def in_ordinary_spaces(
    to_json: Callable[[_Answer], dict[str, Any]],
) -> Callable[[_Answer], dict[str, Any]]:
    """Make the JSON of an answer hold no thin spaces: those are for eyes, not for scripts."""

    @functools.wraps(to_json)
    def plainly(answer: _Answer) -> dict[str, Any]:
        found: dict[str, Any] = ordinary_spaces(to_json(answer))
        return found

    return plainly


def known(number: Any) -> float | None:
    """A float, or None where it is not a finite number."""
    found = float(number)
    return found if math.isfinite(found) else None


def value_of(nominal: Any, tried: Any | None, solved: Any | None = None) -> Value:
    """A value from its nominal number and its numbers in the tries, shape (n,).

    Only solved tries count. Where 5 or 95 % of them lie at "never" or "not known", that bound is
    None.
    """
    if tried is None:
        return Value(known(nominal))
    numbers = np.asarray(tried, dtype=float)
    if solved is not None:
        numbers = numbers[solved]
    if len(numbers) < 20:
        return Value(known(nominal))
    # A number that is not there ranks as the largest: a time that is never reached.
    ranked = np.sort(np.where(np.isnan(numbers), np.inf, numbers))
    low, high = (ranked[round(share * (len(ranked) - 1))] for share in (0.05, 0.95))
    return Value(known(nominal), known(low), known(high))
