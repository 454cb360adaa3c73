"""The only door to an optimiser: a search of spaces too large to be seen whole."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

Merits = Callable[[NDArray[np.int64]], NDArray[np.float64]]

_POPULATION = 240
_GENERATIONS = 100_000


def evolve(
    merits: Merits,
    sizes: tuple[int, ...],
    start: NDArray[np.int64],
    enough: Callable[[], bool],
    seed: int,
) -> None:
    """Differential evolution over whole numbers: one for each kind of part.

    Parameters
    ----------
    merits
        Merit of designs, each a row of option numbers, shape (n, kinds); small is good.
    sizes
        Options of each kind.
    start
        The first population, shape (m, kinds).
    enough
        Whether to stop; asked after each generation.
    seed
        Start of the random numbers.
    """
    from scipy.optimize import differential_evolution

    def of_columns(columns: NDArray[np.float64]) -> NDArray[np.float64]:
        rows = np.rint(np.atleast_2d(columns.T)).astype(np.int64)
        return merits(np.clip(rows, 0, np.array(sizes) - 1))

    free = [at for at, size in enumerate(sizes) if size > 1]
    if not free:
        merits(start[:1])
        return
    whole = start[0].copy()

    def of_free(columns: NDArray[np.float64]) -> NDArray[np.float64]:
        full = np.repeat(whole[:, None].astype(float), np.atleast_2d(columns).shape[1], axis=1)
        full[free] = columns
        return of_columns(full)

    def after(*_: Any, **__: Any) -> bool:
        return enough()

    differential_evolution(
        of_free,
        [(0, sizes[at] - 1) for at in free],
        integrality=[True] * len(free),
        init=start[:, free].astype(float),
        strategy="rand1bin",
        mutation=(0.4, 0.9),
        recombination=0.6,
        maxiter=_GENERATIONS,
        tol=0.0,
        atol=-1.0,
        polish=False,
        updating="deferred",
        vectorized=True,
        callback=after,
        rng=np.random.default_rng(seed),
    )


POPULATION = _POPULATION
"""Designs in the first population."""
