"""A hundred thousand random designs: each is solved with a ledger that closes, or refused.

What is asked of them stands outside the program: conservation of energy and of mass.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from coldwright.machine.cooler import operate
from coldwright.machine.ledger import ALLOWED, ledger
from coldwright.machine.outcome import outcome
from coldwright.machine.records import Condensate, Drive, End, Properties, SinkKind, Status
from tests.machine.designs import PLACES, random_batch

BATCHES, COUNT = 100, 1000

# What a case cannot have, and when: a plate has no air stream, and a ratio to no power is none.
NO_STREAM = {"cold_outlet_K", "cold_outlet_humidity_ratio", "cold_flow_m3_s", "dew_point_K"}
RATIOS = {"cop_module": "module_power_W", "cop_system": "plug_power_W", "cop_net": "plug_power_W"}


@pytest.fixture(scope="module")
def solved():
    """Every batch with its results, and what became of each design."""
    runs = []
    ends = Counter()
    for number in range(BATCHES):
        batch = random_batch(np.random.default_rng([1, number]), COUNT)
        results = operate(
            batch.coolers, batch.places, batch.air_K, batch.water,
            with_place=batch.with_place, held=batch.held,
        )  # fmt: skip
        ends.update(Status(int(status)) for status in results["status"])
        kept = np.flatnonzero(results["status"] == Status.SOLVED)
        runs.append((batch.take(kept), results[kept]))
    return runs, ends


@pytest.mark.published("first law of thermodynamics; conservation of mass")
def test_every_ledger_closes(solved):
    runs, _ = solved
    worst = 0.0
    for batch, results in runs:
        if len(results):
            book = ledger(
                batch.coolers, batch.places, results, with_place=batch.with_place and not batch.held
            )
            worst = max(worst, np.max(book.relative_residual()))
    assert worst <= ALLOWED


def test_every_design_is_solved_or_refused_with_a_reason(solved):
    _, ends = solved
    assert ends.total() == BATCHES * COUNT
    assert ends[Status.NOT_CONVERGED] == 0
    assert ends[Status.BAD_INPUT] == 0
    # The designs are such as people draw up: most of them must have an answer.
    assert ends[Status.SOLVED] > 0.6 * ends.total()


def test_a_solved_design_leaves_nothing_unknown(solved):
    runs, _ = solved
    for batch, results in runs:
        if not len(results):
            continue
        found = outcome(batch.coolers, batch.places, results)
        for name, numbers in found.items():
            missing = ~np.isfinite(np.broadcast_to(numbers, len(results)))
            if name in NO_STREAM and batch.kind == "plate":
                assert missing.all(), name
            elif name in RATIOS:
                assert np.array_equal(missing, ~(found[RATIOS[name]] > 0.0)), name
            else:
                assert not missing.any(), name


def test_the_designs_hold_every_kind_of_part(solved):
    runs, _ = solved
    seen = set()
    for batch, results in runs:
        if not len(results):
            continue
        c = batch.coolers
        seen.add(batch.kind)
        for side in ("cold", "hot"):
            count = int(c[f"{side}_sinks"][0])
            seen.add(f"{count} {side} sinks")
            seen |= {(side, SinkKind(k)) for k in np.unique(c[f"{side}_sink"]["kind"][:, :count])}
            fan = c[f"{side}_fan"]
            seen |= {(side, "given", int(k)) for k in np.unique(fan["given_flow"])}
            seen |= {(side, "after", int(k)) for k in np.unique(fan["after_sink"])}
            seen.add((side, "water", bool(np.any(c[f"{side}_sink"]["water_W_K"] > 0.0))))
            seen.add((side, "again", bool(np.any(c[f"{side}_recirculation"] > 0.0))))
        groups = c["group"][:, : int(c["groups"][0])]
        seen.add(f"{groups.shape[1]} groups")
        seen |= {Drive(k) for k in np.unique(groups["drive"])}
        seen |= {("stages", int(k)) for k in np.unique(groups["stages"])}
        seen |= {Properties(k) for k in np.unique(groups["properties"])}
        two = groups["stages"] == 2
        seen.add(("own volts", bool(np.any(two & ~np.isnan(groups["second_voltage_V"])))))
        seen |= {Condensate(k) for k in np.unique(c["condensate"])}
        ways = np.stack([c["cold_takes"], c["hot_takes"], c["hot_sends"]], axis=1)
        seen |= {("air", *map(int, way)) for way in np.unique(ways, axis=0)}
        for part in ("supply", "converter"):
            if c["power"][f"{part}_points"][0] > 0:
                seen |= {(part, End(k)) for k in np.unique(c["power"][f"{part}_at"])}
        wet = bool(np.any(results["condensate_kg_s"] > 0.0))
        seen |= {("wet", wet), ("fog", bool(np.any(results["fog_ratio"] > 0.0)))}
        seen.add(("under-pressure", bool(np.any(results["place_pressure_Pa"] > 0.0))))
    wanted = {
        *PLACES, *Drive, *Properties, *Condensate, ("stages", 1), ("stages", 2),
        ("own volts", True), ("wet", True), ("fog", True), ("under-pressure", True),
        "1 groups", "2 groups", "3 groups",
    }  # fmt: skip
    for side in ("cold", "hot"):
        wanted |= {f"{k} {side} sinks" for k in (1, 2, 3)}
        wanted |= {(side, "water", True), (side, "again", True)}
        wanted |= {(side, what, k) for what in ("given", "after") for k in (0, 1)}
        wanted |= {(side, kind) for kind in SinkKind if kind != SinkKind.PLATE_LOAD}
    wanted.add(("cold", SinkKind.PLATE_LOAD))
    wanted |= {("air", i, j, k) for i in (0, 1) for j in (0, 1) for k in (0, 1)}
    wanted |= {(part, end) for part in ("supply", "converter") for end in End}
    assert wanted - seen == set()
