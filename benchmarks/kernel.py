"""The coupled operating point, a million times, against a general root finder.

The same random wet coolers are solved by `operate` on all cores and, a sample of them, by
`scipy.optimize.root` (MINPACK's hybrid method) on a residual in plain scalar Python and on the same
residual compiled. All three must give one answer.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import root

from benchmarks.cases import random_cases
from benchmarks.reference import cases_of, compiled_residual, plain, residual, start
from benchmarks.table import Row
from coldwright.machine.cooler import operate
from coldwright.machine.ledger import ALLOWED, ledger
from coldwright.machine.records import Status

SEED = 7
# Cases solved in one call: as many as the tries of one answer.
PIECE = 2_000
# Faster than the root finder by so much, with a plain and with a compiled residual.
PLAIN_BAR, COMPILED_BAR = 100.0, 15.0
# The root finder stops at a relative step of 1.5e-8: micro-kelvins, and 1e-7 of a flow.
ALLOWED_K, ALLOWED_L_S = 2e-5, 2e-4
# Statuses that tell the person why there is no operating point.
_REASONS = (
    Status.RUNAWAY,
    Status.NO_FLOW,
    Status.SINK_TOO_GOOD,
    Status.CANNOT_PUMP,
    Status.OUT_OF_RANGE,
)


@dataclass
class Solved:
    """What became of many cases."""

    seconds: float = 0.0
    cases: int = 0
    wet: int = 0
    worst_ledger: float = 0.0
    statuses: NDArray[np.int64] = field(default_factory=lambda: np.zeros(len(Status), dtype=int))

    @property
    def microseconds(self) -> float:
        """Time per case."""
        return 1e6 * self.seconds / self.cases

    @property
    def without_reason(self) -> int:
        """Cases that were neither solved nor refused with a reason."""
        known = [int(status) for status in (Status.SOLVED, *_REASONS)]
        return self.cases - int(self.statuses[known].sum())


def solve_many(count: int, *, fans_behind_sinks: bool = False, check: bool = True) -> Solved:
    """Solve `count` random cases by the solver in pieces; only its own time is taken."""
    solved = Solved()
    random = np.random.default_rng(SEED)
    while solved.cases < count:
        piece = min(PIECE, count - solved.cases)
        coolers, places, air_K, water = random_cases(
            piece, random, fans_behind_sinks=fans_behind_sinks
        )
        if solved.cases == 0:
            operate(coolers, places, air_K, water, with_place=False)  # compiled from here on
        began = time.perf_counter()
        results = operate(coolers, places, air_K, water, with_place=False)
        solved.seconds += time.perf_counter() - began
        solved.cases += piece
        solved.statuses += np.bincount(results["status"], minlength=len(Status))
        if check:
            kept = results["status"] == Status.SOLVED
            solved.wet += int((results["condensate_kg_s"][kept] > 0.0).sum())
            book = ledger(coolers[kept], places[kept], results[kept], with_place=False)
            solved.worst_ledger = max(solved.worst_ledger, float(book.relative_residual().max()))
    return solved


@dataclass
class Compared:
    """The root finder on a sample of the same cases."""

    microseconds: float
    arrived: float
    """Share of the cases in which it reports success."""
    apart_K: float
    """Largest difference of a base or face to the solver's answer."""
    apart_L_s: float
    """The same of a flow."""
    evaluations: float


def compare(count: int, *, with_compiled: bool) -> Compared:
    """Solve the first `count` of the cases by `scipy.optimize.root` and compare the answers."""
    random = np.random.default_rng(SEED)
    coolers, places, air_K, water = random_cases(count, random)
    ours = operate(coolers, places, air_K, water, with_place=False)
    cases = cases_of(coolers, places, air_K, water)
    found = np.full((count, 6), np.nan)
    arrived = np.zeros(count, dtype=bool)
    evaluations = 0
    plain_cases = [plain(case) for case in cases]
    if with_compiled:
        compiled_residual(np.array(start(plain_cases[0])), cases[:1])  # compiled from here on
    began = time.perf_counter()
    for i, case in enumerate(plain_cases):
        if with_compiled:
            answer = root(compiled_residual, start(case), args=(cases[i : i + 1],))
        else:
            answer = root(_residual_of(case), start(case))
        found[i] = answer.x
        arrived[i] = answer.success
        evaluations += answer.nfev
    seconds = time.perf_counter() - began
    kept = arrived & (ours["status"] == Status.SOLVED)
    apart = np.abs(found - _unknowns(ours))[kept]
    return Compared(
        1e6 * seconds / count,
        float(arrived.mean()),
        float(apart[:, :4].max()),
        float(apart[:, 4:].max()),
        evaluations / count,
    )


def rows(count: int, plain_count: int, compiled_count: int) -> list[Row]:
    """Measure and tell."""
    many = solve_many(count)
    slow = compare(plain_count, with_compiled=False)
    fast = compare(compiled_count, with_compiled=True)
    cores = numba.get_num_threads()
    numba.set_num_threads(1)
    one = solve_many(min(count, 10 * PIECE), check=False)
    numba.set_num_threads(cores)
    behind = solve_many(min(count, 10 * PIECE), fans_behind_sinks=True, check=False)
    apart_K = max(slow.apart_K, fast.apart_K)
    apart_L_s = max(slow.apart_L_s, fast.apart_L_s)
    refused = many.cases - int(many.statuses[int(Status.SOLVED)])
    plain_ratio = slow.microseconds / many.microseconds
    compiled_ratio = fast.microseconds / many.microseconds
    return [
        Row(
            f"wet operating point, {many.cases:,} cases, {cores} cores",
            f"{many.microseconds:.2f} µs a point",
        ),
        Row(
            f"  root finder, plain Python residual, {plain_count:,} cases",
            f"{slow.microseconds:.0f} µs ({slow.evaluations:.0f} evaluations)",
        ),
        Row(
            "  so many times slower than the solver",
            f"{plain_ratio:.0f}",
            f"at least {PLAIN_BAR:.0f}",
            plain_ratio >= PLAIN_BAR,
        ),
        Row(
            f"  root finder, compiled residual, {compiled_count:,} cases",
            f"{fast.microseconds:.1f} µs",
        ),
        Row(
            "  so many times slower than the solver",
            f"{compiled_ratio:.0f}",
            f"at least {COMPILED_BAR:.0f}",
            compiled_ratio >= COMPILED_BAR,
        ),
        Row(
            "  largest difference of the answers",
            f"{apart_K:.0e} K, {apart_L_s:.0e} L/s",
            f"{ALLOWED_K:.0e} K, {ALLOWED_L_S:.0e} L/s",
            apart_K <= ALLOWED_K and apart_L_s <= ALLOWED_L_S,
        ),
        Row(
            "  root finder arrives (plain, compiled)",
            f"{slow.arrived:.1%}, {fast.arrived:.1%}",
        ),
        Row(
            "  neither solved nor refused with a reason",
            f"{many.without_reason} ({refused:,} refused)",
            "0",
            many.without_reason == 0,
        ),
        Row(
            "  largest residual of the ledger",
            f"{many.worst_ledger:.1e}",
            f"{ALLOWED:.0e}",
            many.worst_ledger <= ALLOWED,
        ),
        Row("  share of the cases with condensate", f"{many.wet / many.cases:.0%}"),
        Row("  the solver on one core", f"{one.microseconds:.2f} µs a point"),
        Row("  the solver, fans behind the sinks", f"{behind.microseconds:.2f} µs a point"),
    ]


def _residual_of(case: Any) -> Callable[[NDArray[np.float64]], Any]:
    # `tolist`: arithmetic on Python's own numbers is several times faster than on numpy's.
    return lambda x: residual(x.tolist(), case)


def _unknowns(results: Any) -> NDArray[np.float64]:
    """The solver's states in the order of the root finder's unknowns."""
    return np.stack(
        [
            results["cold_base_K"][:, 0],
            results["hot_base_K"][:, 0],
            results["cold_face_K"][:, 0],
            results["hot_face_K"][:, 0],
            1e3 * results["cold_flow_m3_s"],
            1e3 * results["hot_flow_m3_s"],
        ],
        axis=1,
    )
