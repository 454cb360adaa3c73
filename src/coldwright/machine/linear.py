"""Small dense linear algebra in place, for the compiled solver."""

from __future__ import annotations

import math
from typing import Any

from coldwright.physics.compiled import compiled, inlined


@inlined
def largest_of(f: Any, n: int) -> float:
    """Largest absolute value of the first `n`; NaN if one is NaN."""
    largest = 0.0
    for i in range(n):
        if math.isnan(f[i]):
            return math.nan
        largest = max(largest, abs(f[i]))
    return largest


@compiled
def factor(a: Any, pivot: Any, n: int) -> bool:
    """LU factors in place with row pivoting; False where the matrix is singular.

    On the diagonal stand the inverses, which saves the divisions of every solution.
    """
    for k in range(n):
        best = k
        for i in range(k + 1, n):
            if abs(a[i, k]) > abs(a[best, k]):
                best = i
        pivot[k] = best
        if best != k:
            for j in range(n):
                a[k, j], a[best, j] = a[best, j], a[k, j]
        if not abs(a[k, k]) > 0.0:
            return False
        a[k, k] = 1.0 / a[k, k]
        for i in range(k + 1, n):
            if a[i, k] != 0.0:
                a[i, k] *= a[k, k]
                for j in range(k + 1, n):
                    a[i, j] -= a[i, k] * a[k, j]
    return True


@inlined
def back_substitute(a: Any, pivot: Any, b: Any, n: int) -> None:
    """Solve with the factors of `factor`; the answer takes the place of `b`."""
    for k in range(n):
        best = int(pivot[k])
        if best != k:
            b[k], b[best] = b[best], b[k]
    for i in range(n):
        left = b[i]
        for k in range(i):
            left -= a[i, k] * b[k]
        b[i] = left
    for i in range(n - 1, -1, -1):
        left = b[i]
        for k in range(i + 1, n):
            left -= a[i, k] * b[k]
        b[i] = left * a[i, i]
