"""The numbers of a sheet for one nominal case, or for many tries within their tolerances."""

from __future__ import annotations

import zlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.physics.compiled import Law, stated_error
from coldwright.quantities.parsing import Quantity

# A tolerance may reach beyond what the quantity can be; these kinds have hard ends.
_ENDS = {"share": (0.0, 1.0), "humidity": (0.0, 1.0), "efficiency": (0.01, 1.0)}
_ANY_SIGN = frozenset({"temperature", "temperature_difference", "angle", "ratio"})


class Values:
    """Gives each quantity's value: one number, or an array with one value per try.

    Every quantity is varied by its own stream of random numbers, found from its path: the same
    sheet gives the same tries whatever is asked for first, and a changed line changes only itself.

    Parameters
    ----------
    tries
        Number of tries, or 0 for the nominal case.
    seed
        Fixed unless a caller wants other tries.
    """

    def __init__(self, tries: int = 0, seed: int = 20) -> None:
        self.tries = tries
        self._seed = seed
        self.varied: dict[str, NDArray[np.float64]] = {}
        """What was varied: path to values, shape (tries,)."""
        self.used: dict[str, Quantity] = {}
        """Every quantity that was asked for, by path."""

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the arrays to fill: one record per case."""
        return (max(self.tries, 1),)

    def __call__(self, quantity: Quantity) -> Any:
        """Value(s) of a quantity, SI."""
        self.used[quantity.path] = quantity
        half = quantity.tolerance.half_width
        if self.tries == 0 or half == 0.0 or not quantity.path:
            return quantity.value
        if quantity.path not in self.varied:
            sampled = quantity.tolerance.sample(
                quantity.value, self.tries, self._stream(quantity.path)
            )
            low, high = _ENDS.get(quantity.kind, (-np.inf, np.inf))
            if quantity.kind not in _ANY_SIGN and quantity.value > 0.0:
                low = max(low, 1e-3 * quantity.value)
            self.varied[quantity.path] = np.clip(sampled, low, high)
        return self.varied[quantity.path]

    def error(self, name: str, law: Law) -> Any:
        """Factor(s) by which a law may be off: 1 within its own stated error."""
        return self.factor(f"law: {name}", stated_error(law))

    def factor(self, name: str, limit: float) -> Any:
        """Factor(s) around 1, uniform within a relative limit."""
        if self.tries == 0 or limit == 0.0:
            return 1.0
        if name not in self.varied:
            self.varied[name] = self._stream(name).uniform(1.0 - limit, 1.0 + limit, self.tries)
        return self.varied[name]

    def _stream(self, name: str) -> np.random.Generator:
        return np.random.default_rng([self._seed, zlib.crc32(name.encode())])
