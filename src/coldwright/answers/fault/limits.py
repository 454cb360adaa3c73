"""What a fault may pass on its way: each limit with its number, and how bad it is to pass it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees
from coldwright.machine.fault_steps import (
    AIR_K,
    COLD_BASE_K,
    HOTTEST_BASE_K,
    HOTTEST_FACE_K,
    STORED_K,
    TIME_S,
)
from coldwright.machine.safety.heat import foam_beside, foam_limit_K
from coldwright.machine.safety.thresholds import FROST_K, HOT_FACE_LIMIT_K, TOUCH_LIMIT_K

# Bismuth-tin solder, the commonest in low-priced modules, melts here [K]: its eutectic, 138 °C
# (J. Glazer, International Materials Reviews 40, 1995, table 2, from memory).
SOLDER_K = 273.15 + 138.0

# How bad it is to pass a limit: what burns, what is destroyed, what hurts, what spoils, what
# merely fails.
FIRE, RUIN, HURT, SPOIL, MISSED = 5, 4, 3, 2, 1


@dataclass(frozen=True)
class Limit:
    """A number that one column of the history may pass."""

    name: str
    """As in the table, with its number: "foam 80 °C"; at most 18 characters."""
    column: int
    limit_K: float
    above: bool
    harm: int
    what: str
    """What happens there, as the end of a sentence."""

    def passed(self, numbers: Any) -> Any:
        """Whether each number lies beyond it."""
        return numbers > self.limit_K if self.above else numbers < self.limit_K


def limits_of(start: Start) -> list[Limit]:
    """Every limit that this design has, the worst first."""
    sheet = start.sheet
    found = []
    foam = foam_beside(sheet)
    if foam is not None:
        bears_K = foam_limit_K(foam)
        found.append(
            Limit(
                f"foam {degrees(bears_K)}", HOTTEST_BASE_K, bears_K, True, FIRE,
                f"{foam} against the base shrinks, then melts; it burns",
            )
        )  # fmt: skip
    found.append(
        Limit(
            f"solder {degrees(SOLDER_K)}", HOTTEST_FACE_K, SOLDER_K, True, RUIN,
            "the solder of common modules melts",
        )
    )  # fmt: skip
    face = sheet.limits.hot_face
    limit_K = HOT_FACE_LIMIT_K if face is None else face.value
    found.append(
        Limit(
            f"face {degrees(limit_K)}", HOTTEST_FACE_K, limit_K, True, RUIN,
            "the modules' own limit: solder creeps",
        )
    )  # fmt: skip
    wires = () if sheet.power is None else sheet.power.wire
    for wire in wires:
        if wire.name == "modules":
            bears_K = wire.insulation_limit.value
            found.append(
                Limit(
                    f"wire {degrees(bears_K)}", HOTTEST_BASE_K, bears_K, True, HURT,
                    "the wire's insulation softens where it touches the metal",
                )
            )  # fmt: skip
    found.append(
        Limit(
            f"touch {degrees(TOUCH_LIMIT_K)}", HOTTEST_BASE_K, TOUCH_LIMIT_K, True, HURT,
            "bare metal burns skin",
        )
    )  # fmt: skip
    if sheet.place.kind != "plate":
        found.append(
            Limit(
                f"frost {degrees(FROST_K)}", COLD_BASE_K, FROST_K, False, SPOIL,
                "frost closes the cold fins",
            )
        )  # fmt: skip
    if start.enclosed:
        goal = sheet.goal.air
        if goal is not None:
            found.append(
                Limit(
                    f"goal {degrees(goal.value)}", AIR_K, goal.value, True, MISSED,
                    "the place is warmer than its goal",
                )
            )  # fmt: skip
        if float(start.places["contents_J_K"][0]) > 0.0:
            found.append(
                Limit(
                    f"contents {degrees(FROST_K)}", STORED_K, FROST_K, False, SPOIL,
                    "what lies in the place freezes",
                )
            )  # fmt: skip
    return found


def first_passed(history: NDArray[np.float64], limit: Limit) -> NDArray[np.float64]:
    """Time [s] at which each case first passes a limit; inf: never; NaN: it was passed before.

    `history` has shape (n, rows, columns); between two rows the course is taken as straight.
    """
    numbers, times = history[:, :, limit.column], history[:, :, TIME_S]
    beyond = limit.passed(numbers)
    found = np.full(len(history), np.inf)
    for i in np.flatnonzero(beyond.any(axis=1)):
        k = int(np.argmax(beyond[i]))
        if k == 0:
            found[i] = np.nan
            continue
        share = (limit.limit_K - numbers[i, k - 1]) / (numbers[i, k] - numbers[i, k - 1])
        found[i] = times[i, k - 1] + share * (times[i, k] - times[i, k - 1])
    return found
