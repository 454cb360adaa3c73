"""Fuses as a fault meets them: which size a current asks for, and when one opens at the latest.

Sizes and opening times are those of the standard that the sheet names, else of blade fuses, as
`wiring` has them.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.physics.fuse import (
    blade_fuse_longest_time,
    fuse_longest_time_iec,
    fuse_longest_time_ul,
)
from coldwright.sheet.library.electrical import fuse_family

# A fuse that is loaded for hours wants a quarter more than the current (common practice).
HEADROOM = 1.25
# A blade fuse carries this share for at least 100 hours, and opens within ten minutes at the next.
CARRIES, OPENS = 1.10, 1.35
BLADE = "ISO 8820-3"
_LONGEST = {
    BLADE: blade_fuse_longest_time,
    "IEC 60127": fuse_longest_time_iec,
    "UL 248-14": fuse_longest_time_ul,
}


def next_size(running_A: float, switch_on_A: float = 0.0, standard: str = BLADE) -> float | None:
    """Smallest size that carries the running current with headroom, and the first rush.

    None where no size is large enough.
    """
    least_A = max(HEADROOM * running_A, switch_on_A)
    return fuse_family(standard).next_size_A(least_A * (1.0 - 1e-9))


def latest_opening(share: float, standard: str = BLADE) -> float:
    """Time [s] after which a fuse has opened at this share of its rating; inf where it need not."""
    return float(_LONGEST[standard](share))


def opens_after(times_s: Any, currents_A: Any, rating_A: float, standard: str = BLADE) -> float:
    """Time [s] at which a fuse has opened at the latest under a changing current; inf: never.

    Each stretch uses up the share of the fuse's life that it takes of the opening time at its
    current (a linear sum of damage).
    """
    used = 0.0
    for k in range(1, len(times_s)):
        share = 0.5 * (abs(currents_A[k]) + abs(currents_A[max(k - 1, 1)])) / rating_A
        latest_s = latest_opening(share, standard)
        stretch_s = times_s[k] - times_s[k - 1]
        if used + stretch_s / latest_s >= 1.0:
            return float(times_s[k - 1] + (1.0 - used) * latest_s)
        used += stretch_s / latest_s
    return float(np.inf)
