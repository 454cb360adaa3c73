"""Which of many designs no other one beats in everything."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.physics.compiled import compiled


def undominated(points: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which points no other point beats in one column without losing in another.

    Parameters
    ----------
    points
        Shape (n, k); smaller is better. Of equal points the first one stays.
    """
    kept = np.zeros(len(points), dtype=bool)
    if len(points):
        order = np.lexsort(points.T[::-1])
        _undominated(np.ascontiguousarray(points[order]), order, kept)
    return kept


@compiled
def _undominated(points: Any, order: Any, kept: Any) -> None:
    """One pass: in the order of its columns no later point can beat an earlier one."""
    n, columns = points.shape
    front = np.empty(n, dtype=np.int64)
    count = 0
    for i in range(n):
        beaten = False
        for k in range(count):
            j = front[k]
            worse = True
            for c in range(columns):
                if points[j, c] > points[i, c]:
                    worse = False
                    break
            if worse:
                beaten = True
                # What beats one point often beats the next: it moves towards the head.
                ahead = k // 2
                front[k] = front[ahead]
                front[ahead] = j
                break
        if not beaten:
            front[count] = i
            count += 1
            kept[order[i]] = True
