"""Why a design is not the answer: a limit that it breaks, or another one that beats it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.engine import (
    ROUND_DB,
    ROUND_K,
    ROUND_PRICE,
    ROUND_W,
)
from coldwright.machine.search_point import Broken

KEYS: dict[Broken, str] = {
    Broken.UNSOLVED: "no steady state",
    Broken.GOAL: "goal",
    Broken.PLUG_POWER: "max_plug_power",
    Broken.SOUND: "max_sound",
    Broken.PRICE: "max_price",
    Broken.HOT_FACE: "hot_face",
    Broken.COLD_FACE: "cold_face",
    Broken.HOT_SINK: "hot_sink",
    Broken.COLD_SINK: "cold_sink",
    Broken.DEW_POINT: "dew_point_margin",
    Broken.SUPPLY: "supply rating",
    Broken.CONVERTER: "converter rating",
    Broken.MODULE: "module rating",
    Broken.FUSE: "fuse",
    Broken.PRESSURE: "under-pressure",
}
"""What each limit is called: its key in the sheet where it has one."""


@dataclass(frozen=True)
class Beaten:
    """A design near the best, and why it is none of them."""

    flat: int
    drive_V: float
    cold_speed: float
    hot_speed: float
    level_K: float
    net_W: float
    plug_W: float
    sound_dB: float | None
    price: float | None
    breaks: list[str]
    """Limits that it breaks at its best setting."""
    by: int | None
    """Place, in the front, of a design that beats it."""
    ahead: dict[str, float]
    """By how much that one is ahead: level_K or net_W, plug_W, sound_dB, price."""


def names_of(broken: int) -> list[str]:
    """The limits that a number stands for."""
    return [KEYS[bit] for bit in Broken if broken & bit]


def over_limits(free: NDArray[Any], best_cost: float, most: int) -> list[Any]:
    """Rows that would be better than the best one if a limit did not hold.

    One for each limit, or for limits that only break together, the fewest first.
    """
    better = [row for row in free if row["cost"] < best_cost]
    better.sort(key=lambda row: (int(row["free_broken"]).bit_count(), row["cost"]))
    found: list[Any] = []
    for row in better:
        broken = int(row["free_broken"])
        if all(int(other["free_broken"]) & ~broken for other in found):
            found.append(row)
    return found[:most]


def dominated(
    best: NDArray[Any], front: NDArray[Any], shown: list[int], *, by_net: bool
) -> Iterator[tuple[Any, int, dict[str, float]]]:
    """Good rows that a design of the front beats in everything: row, its place, by how much.

    Parameters
    ----------
    shown
        Places of the front that a reader sees: they are named first.
    """
    members = set(front["flat"].tolist())
    for row in best:
        if int(row["flat"]) in members or row["broken"]:
            continue
        by = _beats(front[shown], row, by_net) if shown else None
        place = shown[by] if by is not None else _beats(front, row, by_net)
        if place is not None:
            yield row, place, _ahead(front[place], row)


def spread_over(front: NDArray[Any], most: int, *, first: int | None = None) -> list[int]:
    """Places of a few designs that show the whole front: its ends, then what lies farthest off."""
    if len(front) <= most:
        return list(range(len(front)))
    table = np.stack(
        [
            front["goal"],
            front["plug_W"],
            _or_most(front["sound_dB"]),
            _or_most(front["price"]),
        ],
        axis=1,
    )
    spans = np.ptp(table, axis=0)
    table = (table - table.min(axis=0)) / np.where(spans > 0.0, spans, 1.0)
    chosen = [] if first is None else [first]
    for column in range(table.shape[1]):
        if spans[column] > 0.0:
            # Of several that are equally good in one thing, the best in the others.
            ties = table[:, column] * 1e3 + table.sum(axis=1)
            chosen.append(int(np.argmin(ties)))
    chosen = list(dict.fromkeys(chosen))[:most]
    while len(chosen) < most:
        apart = np.min(
            np.linalg.norm(table[:, None, :] - table[chosen][None, :, :], axis=2), axis=1
        )
        chosen.append(int(np.argmax(apart)))
    return sorted(set(chosen))


def beaten_of(row: Any, breaks: list[str], by: int | None, ahead: dict[str, float]) -> Beaten:
    """One beaten design from its kept row."""
    return Beaten(
        int(row["flat"]), float(row["drive_V"]), float(row["cold_speed"]),
        float(row["hot_speed"]), float(row["level_K"]), float(row["net_W"]),
        float(row["plug_W"]), finite(row["sound_dB"]), finite(row["price"]), breaks, by, ahead,
    )  # fmt: skip


def finite(number: Any) -> float | None:
    """A number, or None where it is not known."""
    found = float(number)
    return found if np.isfinite(found) else None


def _or_most(numbers: NDArray[np.float64]) -> NDArray[np.float64]:
    """The numbers, and the largest of them where one is not known."""
    known = np.isfinite(numbers)
    return np.where(known, numbers, numbers[known].max() if known.any() else 0.0)


def _beats(front: NDArray[Any], row: Any, by_net: bool) -> int | None:
    """The design of the front that is ahead in everything by most in all; None if none is."""
    wanted = float(-row["net_W"] if by_net else row["level_K"])
    gains = np.stack(
        [
            (wanted - front["goal"]) / ROUND_K,
            (row["plug_W"] - front["plug_W"]) / ROUND_W,
            _less(row["sound_dB"], front["sound_dB"]) / ROUND_DB,
            _less(row["price"], front["price"]) / ROUND_PRICE,
        ],
        axis=1,
    )
    ahead = (gains >= -1.0).all(axis=1) & (front["flat"] != row["flat"])
    if not ahead.any():
        return None
    scores = np.where(ahead, np.minimum(gains, 50.0).sum(axis=1), -np.inf)
    return int(np.argmax(scores))


def _less(number: Any, numbers: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much smaller other numbers are; nothing where one is not known."""
    apart = float(number) - numbers.astype(float)
    return np.where(np.isfinite(apart), apart, 0.0)


def _ahead(winner: Any, row: Any) -> dict[str, float]:
    found = {
        "level_K": float(row["level_K"] - winner["level_K"]),
        "net_W": float(winner["net_W"] - row["net_W"]),
        "plug_W": float(row["plug_W"] - winner["plug_W"]),
        "sound_dB": float(row["sound_dB"] - winner["sound_dB"]),
        "price": float(row["price"] - winner["price"]),
    }
    return {name: number for name, number in found.items() if np.isfinite(number)}
