"""What flows in and out over a run is what the stores gained: walls, contents, air, water, sinks.

The designs and their weather are random; what is asked of them stands outside the program:
conservation of energy and of mass.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from coldwright.errors import SolverError
from coldwright.machine.balance import unknowns
from coldwright.machine.cooler import operate
from coldwright.machine.day import (
    PROBE_AIR,
    PROBE_CONTENTS,
    PROBE_OUTLET,
    S_CONDENSATE,
    S_DRAINED,
    S_PLUG,
    S_TIME,
    S_WALLS_OUT,
)
from coldwright.machine.frame import set_flows
from coldwright.machine.place import (
    AIR_J,
    AIR_KG,
    BUFFER,
    COLD_BASE,
    CONTENTS_K,
    GAMMA,
    HOT_BASE,
    STORES,
    WALLS,
    lay_walls,
    new_walls,
    stage,
)
from coldwright.machine.place_lines import HEAT_NAMES, WATER_NAMES
from coldwright.machine.records import FRAME, MAX_NODES, MAX_SINKS, Condensate, End, Status
from coldwright.machine.rows import set_weather, weather_at
from coldwright.machine.run import (
    M_ON,
    M_SWITCHES,
    Control,
    Forcing,
    State,
    begin_run,
    run_days,
    stopped,
)
from coldwright.machine.solve import _fan_states, new_work
from tests.machine.day_designs import all_layered, random_weather
from tests.machine.day_places import all_heat, all_water, heat_of, water_of
from tests.machine.designs import random_batch
from tests.machine.wall_references import DAY_S

FIRST_LAW = "first law of thermodynamics; conservation of mass"
CLOSES = 1e-6

CONTROLS = {
    "always on": Control(),
    "on and off by the air": Control(1, 1.0, PROBE_AIR),
    "on and off by the outlet": Control(1, 2.0, PROBE_OUTLET),
    "on and off by the contents": Control(1, 0.3, PROBE_CONTENTS),
    "less and less": Control(2, 3.0, PROBE_AIR, 0.1),
}


@dataclass
class Run:
    """Cases that could be followed to the end of their weather."""

    possible: int  # as many had a steady answer in their first weather

    coolers: Any
    places: Any
    before: Any
    after: Any
    bins: Any
    switches: Any

    def gained(self, store: int) -> Any:
        return self.after[:, store] - self.before[:, store]


def followed(
    seed: int, control: Control, *, count: int = 24, keep: bool = False, change=None
) -> Run:
    """A day of a random batch; designs with no steady answer (runaway, no flow) are left out."""
    rng = np.random.default_rng([11, seed])
    batch = random_batch(rng, count, "enclosed")
    all_layered(rng, batch.places)
    if change is not None:
        change(batch.coolers)
    steady = operate(batch.coolers, batch.places, batch.air_K, batch.water, with_place=True)
    batch = batch.take(np.flatnonzero(steady["status"] == Status.SOLVED))
    coolers, places = batch.coolers, batch.places
    forcing = random_weather(rng, places)
    off = stopped(coolers, fans_keep_running=keep)
    # The first case decides whether a run raises, so each one runs by itself.
    kept, bins, before, after, switches = [], [], [], [], []
    for i in range(len(coolers)):
        one = slice(i, i + 1)
        alone = Forcing(forcing.clock, forcing.rows[one], forcing.period_s)
        state = begin_run(coolers[one], places[one], alone)
        start = state.stores.copy()
        found = _or_none(coolers[one], off[one], places[one], alone, control, state)
        if found is not None:
            kept.append(i)
            bins.append(found[0])
            before.append(start[0])
            after.append(state.stores[0])
            switches.append(state.memory[0, M_SWITCHES])
    return Run(
        len(coolers), coolers[kept], places[kept], np.array(before), np.array(after),
        np.array(bins), np.array(switches),
    )  # fmt: skip


def _or_none(coolers, off, places, forcing, control, state):
    try:
        bins, _ = run_days(
            coolers, off, places, forcing, control, state, until_s=DAY_S, step_s=60.0, bin_s=7200.0
        )
    except SolverError:
        return None
    return bins


@pytest.fixture(scope="module")
def runs():
    return [
        followed(seed, control, keep=seed % 2 == 1)
        for seed, control in enumerate([*CONTROLS.values(), *CONTROLS.values()])
    ]


def closes(gained, flows, floor=0.0):
    """Whether the flows, shape (cases, ...), sum to what was gained, within a millionth of them."""
    axes = tuple(range(1, flows.ndim))
    size = np.maximum(np.abs(flows).sum(axis=axes), floor)
    worst = np.abs(flows.sum(axis=axes) - gained) / size
    assert np.isfinite(worst).all()
    assert worst.max() < CLOSES, f"off by {worst.max():.2g} of what flowed"


def test_what_has_a_steady_answer_can_be_followed_through_a_day(runs):
    # A few come to where a law ends: the weather goes farther than the steady hour.
    possible = sum(run.possible for run in runs)
    assert possible > 100
    assert sum(len(run.coolers) for run in runs) > 0.95 * possible


@pytest.mark.published(FIRST_LAW)
def test_heat_and_water_of_the_air(runs):
    for run in runs:
        closes(run.gained(AIR_J), all_heat(run.bins), 1.0)
        closes(run.gained(AIR_KG), all_water(run.bins), 1e-6)
        assert run.bins[:, :, S_TIME].sum(axis=1) == pytest.approx(DAY_S)


@pytest.mark.published(FIRST_LAW)
def test_heat_of_the_walls(runs):
    for run in runs:
        stored_J = np.zeros(len(run.places))
        for s in range(int(run.places["surfaces"][0])):
            surface = run.places["surface"][:, s]
            for case in range(len(run.places)):
                node = WALLS + s * MAX_NODES
                for layer in range(surface["layers"][case]):
                    volumes = surface["layer_volumes"][case, layer]
                    each_J_K = surface["area_m2"] * surface["layer_J_m2K"][:, layer] / volumes
                    rise_K = run.after[case] - run.before[case]
                    stored_J[case] += each_J_K[case] * rise_K[node : node + volumes].sum()
                    node += volumes
        flows = np.stack([run.bins[:, :, S_WALLS_OUT], -heat_of(run.bins, "walls")], axis=2)
        closes(stored_J, flows, 1.0)


@pytest.mark.published(FIRST_LAW)
def test_heat_of_the_contents_and_water_of_the_buffer(runs):
    for run in runs:
        stored_J = run.places["contents_J_K"] * run.gained(CONTENTS_K)
        closes(stored_J, -heat_of(run.bins, "contents"), 1.0)
        stored_kg = run.places["buffer_kg"] * run.gained(BUFFER)
        # The store is a difference of kilograms; what flowed may be micrograms.
        floor_kg = 1e-9 / CLOSES * (run.places["buffer_kg"] + 1.0)
        closes(stored_kg, -water_of(run.bins, "moisture buffer"), floor_kg)


def test_every_cause_and_every_way_is_among_the_designs(runs):
    heat = sum(np.abs(all_heat(run.bins)).sum(axis=(0, 1)) for run in runs)
    assert dict(zip(HEAT_NAMES, heat > 0.0, strict=True)) == dict.fromkeys(HEAT_NAMES, True)
    water = sum(np.abs(all_water(run.bins)).sum(axis=(0, 1)) for run in runs)
    assert dict(zip(WATER_NAMES, water > 0.0, strict=True)) == dict.fromkeys(WATER_NAMES, True)
    ways = {
        tuple(int(run.coolers[name][case]) for name in ("cold_takes", "hot_takes", "hot_sends"))
        for run in runs
        for case in range(len(run.coolers))
    }
    assert len(ways) == 8
    assert any(run.switches.max() > 40 for run in runs)
    assert sum(int(run.bins[:, :, S_CONDENSATE].sum(axis=1).max() > 1e-3) for run in runs) > 3


def _all_in_the_place(coolers):
    """Both streams from and to the place, everything electrical and the duct in it."""
    coolers["cold_takes"] = coolers["hot_takes"] = coolers["hot_sends"] = int(End.PLACE)
    coolers["hot_duct"]["in_place"] = 1
    for part in ("supply_at", "converter_at", "lead_at"):
        coolers["power"][part] = int(End.PLACE)


@pytest.mark.published(FIRST_LAW)
@pytest.mark.parametrize("name", CONTROLS)
def test_a_cooler_that_stands_in_the_place_leaves_all_of_its_plug_power_there(name):
    seed = 50 + list(CONTROLS).index(name)
    run = followed(seed, CONTROLS[name], change=_all_in_the_place)
    bins, condensate = run.bins, run.coolers["condensate"][:, None]
    drained = np.where(condensate == Condensate.DRAINED, bins[:, :, S_DRAINED], 0.0)
    names = (
        "cold air", "hot air", "hot duct", "losses of supply, converter and wires",
        "condensate that stays",
    )  # fmt: skip
    flows = np.stack(
        [bins[:, :, S_PLUG], -drained, *(-heat_of(bins, one) for one in names)], axis=2
    )
    closes(_sinks_J(run.coolers, run.after) - _sinks_J(run.coolers, run.before), flows, 1.0)
    # Water that the cold sink takes out is drained, stays, or goes with the hot air.
    taken_kg = -water_of(bins, "cold air")
    gone_kg = np.where(condensate == Condensate.DRAINED, bins[:, :, S_CONDENSATE], 0.0)
    gone_kg = gone_kg + water_of(bins, "condensate that stays") + water_of(bins, "hot air")
    assert np.abs(taken_kg - gone_kg).max() < 1e-9


def _sinks_J(coolers, stores):
    total = np.zeros(len(coolers))
    for side, first in (("cold_sink", COLD_BASE), ("hot_sink", HOT_BASE)):
        count = int(coolers[side + "s"][0])
        capacity = coolers[side]["heat_capacity_J_K"][:, :count]
        total += (capacity * stores[:, first : first + count]).sum(axis=1)
    return total


@pytest.mark.published(FIRST_LAW)
def test_heat_of_the_sinks_wherever_the_air_goes():
    # Two stages of each step by hand, so that what the hot air takes outdoors is seen as well.
    seen = set()
    for seed in range(6):
        rng = np.random.default_rng([12, seed])
        batch = random_batch(rng, 12, "enclosed")
        forcing = random_weather(rng, batch.places)
        for case in range(12):
            seen |= _sinks_of_one(
                batch.coolers[case : case + 1],
                batch.places[case : case + 1],
                Forcing(forcing.clock, forcing.rows[case : case + 1], 0.0),
            )
    assert len(seen) >= 7


def _sinks_of_one(coolers, places, forcing):
    """Follow one design through forty steps; the ways its air goes, if it can be followed."""
    state = begin_run(coolers, places, forcing)
    start, x, o = state.stores[0].copy(), state.unknowns[0].copy(), state.outputs[0].copy()
    cooler, place, y = coolers[0], places.copy()[0], start.copy()
    walls, frames, work = new_walls(), np.zeros(1, dtype=FRAME), new_work()
    lay_walls(place, walls)
    n, row, frame = unknowns(cooler, True), np.empty(forcing.rows.shape[2]), frames[0]
    given_J, size_J, step_s, steps = 0.0, 1.0, 60.0, 40
    natural_m3_s = float(places["natural_m3_s"][0])
    for at in range(steps):
        base, new = y.copy(), y.copy()
        for share, weight in ((GAMMA, 1.0 - GAMMA), (1.0, GAMMA)):
            time_s = (at + share) * step_s
            weather_at(forcing.clock, forcing.rows[0], 0.0, time_s, True, row)
            set_weather(place, row, natural_m3_s)
            if weight != GAMMA:
                inlets = _fan_states(cooler, place, x[n - 2], x[n - 1] * 1e-3, True, n, x, o, True)
                if not set_flows(cooler, place, *inlets, frame):
                    return set()
            status = stage(
                cooler, place, walls, 1 / (GAMMA * step_s), base, new, n, x, frame, o, work
            )
            if status != Status.SOLVED:
                return set()
            flows_W = _flows_of_the_cooler(coolers[0], frame, place, x[n - 2], x[n - 1] * 1e-3, o)
            given_J += step_s * weight * sum(flows_W)
            size_J += step_s * weight * sum(abs(flow) for flow in flows_W)
            if weight != GAMMA:
                base = y + (1.0 - GAMMA) / GAMMA * (new - y)
        y = new.copy()
    stored_J = (_sinks_J(coolers, y[None]) - _sinks_J(coolers, start[None]))[0]
    assert abs(stored_J - given_J) < CLOSES * size_J
    # It was the same run: so far the program's own comes to the same stores.
    other = State(state.memory, state.stores, state.unknowns, state.outputs)
    other.memory[:, M_ON] = 1.0  # it runs already: after a switch the steps begin short
    run_days(
        coolers, stopped(coolers, fans_keep_running=True), places, forcing, Control(), other,
        until_s=steps * step_s, step_s=step_s,
    )  # fmt: skip
    jump_s = forcing.clock[np.flatnonzero(np.diff(forcing.clock) == 0.0)[0]]
    if jump_s > steps * step_s and forcing.rows[0, 0, 8] == 1.0:
        np.testing.assert_allclose(other.stores[0, :WALLS], y[:WALLS], rtol=1e-7)
    return {tuple(int(coolers[way][0]) for way in ("cold_takes", "hot_takes", "hot_sends"))}


def _flows_of_the_cooler(cooler, frame, place, place_K, place_water, o):
    """Heat into the cooler as a whole [W], one by one: plug, both airs, duct, water, losses.

    h = 1006 t + W (2501000 + 1860 t) and 4186 t, t in degC: ASHRAE Fundamentals, chapter 1.
    """

    def air_h(kelvin, water):
        return 1006.0 * (kelvin - 273.15) + water * (2501e3 + 1860.0 * (kelvin - 273.15))

    airs = {
        int(End.PLACE): (place_K, place_water),
        int(End.OUTDOORS): (place["outdoor_K"], place["outdoor_humidity_ratio"]),
    }
    power = cooler["power"]
    flows = [
        o[6],
        frame["cold_fresh_kg_s"] * (air_h(*airs[int(cooler["cold_takes"])]) - air_h(o[0], o[1])),
        frame["hot_fresh_kg_s"] * (air_h(*airs[int(cooler["hot_takes"])]) - air_h(o[11], o[3])),
        -o[10],
    ]
    if cooler["condensate"] != Condensate.ONTO_HOT_SINK:
        flows.append(-o[4] * 4186.0 * (o[16] - 273.15))
    for where, lost_W in (
        ("supply_at", o[7]), ("converter_at", o[8]), ("lead_at", o[9] + power["controller_W"]),
    ):  # fmt: skip
        flows.append(0.0 if power[where] == End.EXHAUST else -lost_W)
    return [float(flow) for flow in flows]


def test_the_stores_are_all_known():
    # A store that is added must be added to these checks.
    assert [AIR_J, AIR_KG, CONTENTS_K, BUFFER, COLD_BASE, HOT_BASE, WALLS] == [
        0, 1, 2, 3, 4, 4 + MAX_SINKS, 4 + 2 * MAX_SINKS,
    ]  # fmt: skip
    assert WALLS + 12 * MAX_NODES == STORES
