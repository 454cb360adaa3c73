"""How far a number may be off: a limit, or an expanded uncertainty with k = 2."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Shape = Literal["limit", "k2"]


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What stands behind the sign "+/-".

    Parameters
    ----------
    half_width : float
        Half of the interval, in the SI unit of its quantity (kelvin for a temperature); at
        least 0, finite.
    shape : {"limit", "k2"}
        ``"limit"``: every value within the interval is equally likely, none outside it.
        ``"k2"``: a normal distribution of which the interval is two standard deviations.
    assumed : bool
        Whether it is the glossary's default for the kind, not something the person wrote.

    Raises
    ------
    ValueError
        If `half_width` is negative or not finite.

    Notes
    -----
    ``u = a / sqrt(3)`` for a limit of half width a; ``u = U / k`` for an expanded uncertainty.

    Source: JCGM 100:2008 (GUM), 4.3.7 (rectangular) and 6.2.1 (coverage factor).
    """

    half_width: float
    shape: Shape = "limit"
    assumed: bool = False

    def __post_init__(self) -> None:
        if not (math.isfinite(self.half_width) and self.half_width >= 0.0):
            raise ValueError(f"half width must be finite and not negative, not {self.half_width}")

    @property
    def standard_uncertainty(self) -> float:
        """Standard deviation of the distribution, in the SI unit of the quantity."""
        return self.half_width / (math.sqrt(3.0) if self.shape == "limit" else 2.0)

    def sample(self, value: float, count: int, rng: np.random.Generator) -> NDArray[np.float64]:
        """Draw `count` values around `value` (SI); shape (count,)."""
        if self.shape == "limit":
            return rng.uniform(value - self.half_width, value + self.half_width, count)
        return rng.normal(value, self.half_width / 2.0, count)


EXACT = Tolerance(0.0)
"""No tolerance at all: a count, a definition."""
