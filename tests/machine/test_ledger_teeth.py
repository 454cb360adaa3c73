"""The ledger could fail to close: a shift of any one state that it reads breaks it."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.errors import LedgerError
from coldwright.machine.cooler import RESULT, operate
from coldwright.machine.ledger import ALLOWED, Ledger, Line, ledger
from coldwright.machine.records import Condensate, Drive, End, Status
from tests.machine.designs import random_batch


def two_stages(b, r):
    return b.coolers["group"]["stages"][:, 0] == 2


def duct(b, r):
    return (b.coolers["hot_duct"]["diameter_m"] > 0.0) & np.isnan(
        b.coolers["hot_duct"]["surface_K"]
    )


def located(part):
    def there(b, r):
        at = np.isin(b.coolers["power"][f"{part}_at"], [int(End.PLACE), int(End.EXHAUST)])
        return at & (b.coolers["power"][f"{part}_points"] > 0)

    return there


def leads(b, r):
    return np.isin(b.coolers["power"]["lead_at"], [int(End.PLACE), int(End.EXHAUST)])


def always(b, r):
    return np.ones(len(r), dtype=bool)


def joint(side):
    """Where no heat passes, a joint's resistance changes nothing."""

    def there(b, r):
        group = b.coolers["group"]
        sink = group[f"{side}_sink"][:, 0]
        base_K = r[f"{side}_base_K"][np.arange(len(r)), sink]
        passes = np.abs(base_K - r[f"{side}_face_K"][:, 0]) > 0.05
        return passes & (group[f"{side}_interface_K_W"][:, 0] > 1e-3)

    return there


def into_place(b, r):
    return b.coolers["hot_sends"] == End.PLACE


def water_that_counts(b, r):
    return b.coolers["condensate"] != Condensate.DRAINED


def base(side):
    """Between ideal joints on both of its sides a base has no law of its own."""

    def there(b, r):
        group, sink = b.coolers["group"], b.coolers[f"{side}_sink"]
        own = group[f"{side}_interface_K_W"][:, 0] > 1e-3
        return own | (sink["block_K_W"][:, 0] > 1e-3)

    return there


def sink(side):
    """Where the air leaves at the sink's temperature, a better sink changes nothing."""

    def felt(b, r):
        capacity_W_K = r[f"{side}_kg_s"] * 1006.0
        away = np.abs(r[f"{side}_surface_K"] - r[f"{side}_in_K"])[:, 0] > 1.0
        return away & (r[f"{side}_conductance_W_K"][:, 0] < 3.0 * capacity_W_K)

    return felt


def other_air(b, r):
    """Air like the place's own changes nothing when more of it comes in."""
    return np.abs(r["place_humidity_ratio"] - b.places["outdoor_humidity_ratio"]) > 1e-4


def counted(b, r):
    """Where a known heat loss counts the warmth of the air; as warm as the place it has none."""
    apart = np.abs(r["place_K"] - b.places["outdoor_K"]) > 1.0
    return apart & (r["counted_kg_s"] > 0.0)


# Field, index of the part (None: a scalar), shift, and for which designs it matters.
STATES = [
    ("place_K", None, 1e-3, always),
    ("place_humidity_ratio", None, 1e-6, always),
    ("cold_kg_s", None, 1e-6, always),
    ("hot_kg_s", None, 1e-6, always),
    ("cold_in_K", 0, 1e-3, always),
    ("cold_in_water", 0, 1e-6, always),
    ("cold_out_K", 0, 1e-3, always),
    ("cold_out_water", 0, 1e-6, always),
    ("cold_surface_K", 0, 1e-3, always),
    ("cold_base_K", 0, 1e-3, base("cold")),
    ("cold_conductance_W_K", 0, 1e-2, sink("cold")),
    ("hot_in_K", 0, 1e-3, always),
    ("hot_in_water", 0, 1e-6, always),
    ("hot_out_K", 0, 1e-3, always),
    ("hot_out_water", 0, 1e-6, always),
    ("hot_surface_K", 0, 1e-3, always),
    ("hot_base_K", 0, 1e-3, base("hot")),
    ("hot_conductance_W_K", 0, 1e-2, sink("hot")),
    ("cold_face_K", 0, 1e-3, always),
    ("hot_face_K", 0, 1e-3, always),
    ("middle_hot_K", 0, 1e-3, two_stages),
    ("middle_cold_K", 0, 1e-3, two_stages),
    ("module_A", 0, 1e-3, always),
    ("module_A2", 0, 1e-3, always),
    ("second_A", 0, 1e-3, two_stages),
    ("cold_interface_K_W", 0, 1e-4, joint("cold")),
    ("hot_interface_K_W", 0, 1e-4, joint("hot")),
    ("cold_outlet_K", None, 1e-3, always),
    ("cold_outlet_water", None, 1e-6, always),
    ("hot_outlet_K", None, 1e-3, always),
    ("hot_outlet_water", None, 1e-6, into_place),
    ("exhaust_K", None, 1e-3, duct),
    ("exhaust_end_K", None, 1e-3, always),
    ("condensate_kg_s", None, 1e-7, water_that_counts),
    ("leads_W", None, 1e-3, leads),
    ("converter_W", None, 1e-3, located("converter")),
    ("supply_W", None, 1e-2, located("supply")),
    ("plug_W", None, 1e-2, always),
    ("cold_fan_W", None, 1e-3, always),
    ("hot_fan_W", None, 1e-3, always),
    ("pumps_W", None, 1e-3, always),
    ("inflow_kg_s", None, 1e-6, other_air),
    ("counted_kg_s", None, 1e-5, counted),
]


class Seen:
    """Results that remember which of their fields were read."""

    def __init__(self, results):
        self.results, self.names = results, set()

    def __getitem__(self, name):
        self.names.add(name)
        return self.results[name]


@pytest.fixture(scope="module")
def solved():
    """Random designs in enclosed places, modules running, with their results."""
    runs = []
    for number in range(24):
        batch = random_batch(np.random.default_rng([9, number]), 150, "enclosed")
        results = operate(batch.coolers, batch.places, batch.air_K, batch.water, with_place=True)
        running = batch.coolers["group"]["drive"][:, 0] != Drive.OFF
        running &= np.abs(results["module_A"][:, 0]) > 1e-2
        kept = np.flatnonzero((results["status"] == Status.SOLVED) & running)
        runs.append((batch.take(kept), results[kept]))
    return runs


def test_every_state_that_the_ledger_reads_is_tried(solved):
    read = set()
    for batch, results in solved:
        seen = Seen(results)
        ledger(batch.coolers, batch.places, seen, with_place=True)
        read |= seen.names
    assert read == {name for name, *_ in STATES}
    assert read < set(RESULT.names)


@pytest.mark.parametrize(("name", "part", "shift", "when"), STATES, ids=[row[0] for row in STATES])
def test_a_shift_of_one_state_breaks_the_ledger(solved, name, part, shift, when):
    tried = 0
    for batch, results in solved:
        read = when(batch, results)
        if not read.any():
            continue
        batch, kept = batch.take(read), results[read]
        closed = ledger(batch.coolers, batch.places, kept, with_place=True)
        assert np.all(closed.relative_residual() <= ALLOWED)
        moved = kept.copy()
        if part is None:
            moved[name] += shift
        else:
            moved[name][:, part] += shift
        broken = ledger(batch.coolers, batch.places, moved, with_place=True)
        assert np.all(broken.relative_residual() > ALLOWED)
        with pytest.raises(LedgerError, match="does not close"):
            broken.require_closed()
        tried += len(kept)
    assert tried > 50


def test_nothing_is_called_closed_that_is_not_a_number():
    line = Line("place", "something", np.array([1.0, np.nan]))
    book = Ledger([line, Line("place", "back", np.array([-1.0, 1.0]))], [], np.ones(2))
    with pytest.raises(LedgerError):
        book.require_closed()


def test_the_residual_is_the_largest_sum_of_a_node():
    # Two nodes worked by hand: 5 - 4.9 = 0.1 and 2 - 2 = 0, on a scale of the largest line, 5 W.
    lines = [
        Line("a", "in", np.array([5.0])), Line("a", "out", np.array([-4.9])),
        Line("b", "in", np.array([2.0])), Line("b", "out", np.array([-2.0])),
    ]  # fmt: skip
    book = Ledger(lines, [], np.array([1.0]))
    assert book.residual_W()[0] == pytest.approx(0.1)
    assert book.relative_residual()[0] == pytest.approx(0.1 / 5.0)
