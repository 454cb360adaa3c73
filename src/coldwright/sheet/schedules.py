"""When something that follows a daily schedule is on: for instants, for steps, and its switchings.

A schedule is a list of spans [from, until) on the clock, in seconds after midnight; a span that
ends before it begins runs through midnight. No schedule at all means always.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import ArrayLike, NDArray

Spans = Iterable[tuple[float, float]]
DAY_S = 86400.0


def schedule_at(schedule: Spans | None, second_of_day_s: ArrayLike) -> NDArray[np.bool_]:
    """Whether something is on at instants of the day.

    Parameters
    ----------
    schedule
        Spans as the sheet holds them (`Gain.schedule`, `Cooler.schedule`), or None for always.
    second_of_day_s
        Clock times [s]; any number, of which the part within its day counts.

    Returns
    -------
    array of bool, the shape of the instants
        True from the very beginning of a span up to, but not at, its end.
    """
    clock_s = np.mod(np.asarray(second_of_day_s, dtype=float), DAY_S)
    if schedule is None:
        return np.ones(clock_s.shape, dtype=bool)
    on = np.zeros(clock_s.shape, dtype=bool)
    for start_s, end_s in _unwrapped(schedule):
        on |= (clock_s >= start_s) & (clock_s < end_s)
    return on


def schedule_share(
    schedule: Spans | None, start_of_day_s: ArrayLike, step_s: float
) -> NDArray[np.float64]:
    """Share of each step during which something is on, 0 to 1.

    Parameters
    ----------
    schedule
        Spans, or None for always.
    start_of_day_s
        Clock times at which the steps begin [s]; may run beyond one day.
    step_s
        Length of every step [s]; above 0, at most a day.

    Returns
    -------
    array, the shape of the beginnings
        Overlapping spans count once.
    """
    if not 0.0 < step_s <= DAY_S:
        raise ValueError(f"a step of {step_s} s is not within a day")
    begins_s = np.mod(np.asarray(start_of_day_s, dtype=float), DAY_S)
    if schedule is None:
        return np.ones(begins_s.shape)
    on_s = np.zeros(begins_s.shape)
    ends_s = begins_s + step_s
    for start_s, end_s in _merged(schedule):
        for shift_s in (0.0, DAY_S):  # a step may run into the next day
            overlap_s = np.minimum(ends_s, end_s + shift_s) - np.maximum(
                begins_s, start_s + shift_s
            )
            on_s += np.maximum(overlap_s, 0.0)
    return on_s / step_s


def switching_times_s(schedule: Spans | None) -> tuple[float, ...]:
    """Clock times at which something goes on or off [s], rising, within [0, 86400)."""
    if schedule is None:
        return ()
    spans = _merged(schedule)
    edges = {edge for span in spans for edge in span}
    if any(end_s == DAY_S for _, end_s in spans) and any(start_s == 0.0 for start_s, _ in spans):
        edges -= {0.0, DAY_S}  # it stays on through midnight
    return tuple(sorted({edge % DAY_S for edge in edges}))


def _unwrapped(schedule: Spans) -> Iterator[tuple[float, float]]:
    """Spans within one day, those through midnight cut in two; empty ones left out."""
    for start_s, end_s in schedule:
        if start_s < end_s:
            yield start_s, end_s
        elif start_s > end_s:
            yield start_s, DAY_S
            if end_s > 0.0:
                yield 0.0, end_s


def _merged(schedule: Spans) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for start_s, end_s in sorted(span for span in _unwrapped(schedule) if span[0] < span[1]):
        if merged and start_s <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end_s))
        else:
            merged.append((start_s, end_s))
    return merged
