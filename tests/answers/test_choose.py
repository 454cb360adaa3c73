"""The answer of `choose`: kinds of design that it can reach, stop and resume, files, a cluster."""

import csv
import os
import signal
from pathlib import Path

import numpy as np
import pytest

from coldwright.answers import choose, verdict
from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.faults import SearchError, Stopped
from coldwright.answers.choice.options import options_of
from coldwright.answers.choice.store import STORE_NAME
from coldwright.answers.design import SEED, Design
from coldwright.sheet.file import read, read_text
from coldwright.sheet.parts_file import parts_of
from tests.answers.choose_sheets import CUPBOARD, FIXED, FREE, cupboard, given_air, listed

MANY = {
    **FREE,
    "module": [{"part": "typical 127 couples 4 A"}, {"part": "typical 127 couples 5 A"}],
    "sink": [{"part": "typical square 120 x 120 x 50"}, {"part": "typical long 200 x 120 x 45"}],
    "fan": [{"part": f"typical axial {name}"} for name in ("60 mm", "92 mm", "120 mm")],
}  # fmt: skip


def run(sheet, parts, *, report=None, stop=None, **more):
    hooks = {} if report is None else {"report": report}
    if stop is not None:
        hooks["stop"] = stop
    return choose.run(choose.Inputs(sheet, parts, **{"tries": 0, **more}), **hooks)


def same(one, other):
    assert one.best[0].parts == other.best[0].parts
    assert one.solved == other.solved
    assert [point.parts for point in one.front] == [point.parts for point in other.front]
    assert one.best[0].figures["place_air_K"] == other.best[0].figures["place_air_K"]


# --- Kinds of design -----------------------------------------------------------------------------


def kinds(search, **more):
    """Wirings and modules of all designs on the front of a search that allows them."""
    parts = listed({**FREE, **more, "search": {**FREE["search"], "most_modules": 5, **search}})
    answer = run(cupboard(goal__max_price="400 EUR"), parts)
    return answer, {point.parts["wiring"] for point in answer.front}


def test_stacks_are_reached():
    answer, _ = kinds({"stacks": True})
    modules = {point.parts["module"] for point in answer.front}
    assert any("two of its kind" in name or "one of its kind" in name for name in modules)
    # The sheet of such a design is one that the other answers read.
    stacked = run(
        cupboard(), listed({**FREE, "search": {**FREE["search"], "stacks": True}}), aim="coldest"
    )
    assert verdict.run(verdict.Inputs(read_text(stacked.sheet_text), tries=0)).verdict


def test_unequal_strings_and_groups_switched_off_are_reached():
    _, wirings = kinds({"unequal_strings": True, "switched_groups": True, "least_modules": 1})
    assert any(" and " in name for name in wirings)
    sheet, parts = cupboard(), listed({**FIXED, "search": {**FIXED["search"]}})
    assert any("off" in name for name in _wirings(sheet, parts))


def _wirings(sheet, parts):
    return [held.name for held in options_of(Design(sheet, 0, SEED).sheet, parts).axes["wiring"]]


def test_a_water_cooled_hot_side_is_reached():
    text = CUPBOARD.replace('max_price = "160 EUR"', 'max_price = "900 EUR"')
    loop = {
        "name": "loop", "side": "hot", "kind": "water_loop", "block_resistance": "0.02 K/W",
        "radiator": {"conductance": "30 W/K", "at_flow": "120 m^3/h"}, "water_flow": "2 L/min",
        "pump_power": "4 W", "price": "60 EUR",
    }  # fmt: skip
    plain, with_loop = listed(FREE), listed({**FREE, "sink": [*FREE["sink"], loop]})
    sheet = read_text(text)
    dry, wet = run(sheet, plain), run(sheet, with_loop)
    assert (
        wet.best[0].figures["place_air_K"].value <= dry.best[0].figures["place_air_K"].value + 0.05
    )
    assert any(point.parts["hot_sink"] == "loop" for point in wet.front)


# --- Limits, ranks, tries ------------------------------------------------------------------------


def test_the_best_keeps_every_limit_and_its_sheet_says_the_same():
    answer = run(cupboard(), listed(FREE))
    best = answer.best[0]
    assert best.figures["plug_power_W"].value <= 70.0 + 1e-6
    assert best.price <= 160.0
    again = verdict.run(verdict.Inputs(read_text(answer.sheet_text), tries=0))
    assert again.to_json()["place_air_K"]["value"] == pytest.approx(
        best.figures["place_air_K"].value, abs=1e-6
    )
    assert sum(line.total or 0.0 for line in best.bill) == pytest.approx(best.price)


def test_losses_of_fuses_and_joints_count_in_what_is_told():
    joint = [{"name": "plug", "count": 4, "resistance": "20 mohm"}]
    wire = {"name": "modules", "length": "1 m", "size": "1.5 mm^2", "joint": joint}
    plain = run(cupboard(), listed(FREE))
    jointed = run(cupboard(power__wire=[wire]), listed(FREE))
    assert not any("fuses, joints" in note for note in plain.notes)
    assert any("fuses, joints" in note for note in jointed.notes)
    told = verdict.run(verdict.Inputs(read_text(jointed.sheet_text), tries=0)).to_json()
    best = jointed.best[0].figures
    assert told["plug_power_W"]["value"] == pytest.approx(best["plug_power_W"].value, rel=1e-9)
    assert told["plug_power_W"]["value"] != pytest.approx(
        plain.best[0].figures["plug_power_W"].value, abs=0.01
    )


@pytest.mark.parametrize("aim", ["cheapest", "quietest", "cop"])
def test_other_aims_reach_the_goal(aim):
    answer = run(cupboard(), listed(FREE), aim=aim)
    coldest = run(cupboard(), listed(FREE))
    best, cold = answer.best[0], coldest.best[0]
    assert best.figures["place_air_K"].value <= 289.15 + 1e-6
    if aim == "cheapest":
        assert best.price <= cold.price
        assert all(point.price >= best.price - 1e-9 for point in answer.front
                   if point.level_K <= 289.15)  # fmt: skip
    elif aim == "quietest":
        assert best.figures["sound_dB"].value <= cold.figures["sound_dB"].value
    else:
        assert best.figures["cop_net"].value >= cold.figures["cop_net"].value


def test_shares_of_tries_are_counted_over_common_tries():
    answer = run(cupboard(), listed(FREE), tries=100)
    shares = [each.best_share for each in answer.best]
    assert all(0.0 <= share <= 1.0 for share in shares)
    assert 0.99 <= sum(shares) <= 1.0 + 1e-9 or sum(shares) <= 1.0


# --- Stop, resume, files -------------------------------------------------------------------------


def test_a_stopped_search_goes_on_where_it_ended(tmp_path, monkeypatch):
    monkeypatch.setattr("coldwright.answers.choice.hunt.BATCH", 512)
    folder = tmp_path / "cupboard"
    folder.mkdir()
    (folder / "sheet.toml").write_text(CUPBOARD)
    sheet, parts = read(folder), listed(MANY)
    solve, calls = Engine.solve, []

    def counted(engine, flat, **more):
        if not more:
            calls.append(len(flat))
        return solve(engine, flat, **more)

    monkeypatch.setattr(Engine, "solve", counted)
    whole = run(cupboard(), parts)
    in_all = sum(calls)
    assert in_all == whole.solved > 5 * 512
    calls.clear()
    with pytest.raises(Stopped) as stopped:
        run(sheet, parts, stop=lambda: len(calls) >= 2)
    assert 0 < stopped.value.seen < whole.solved
    assert (folder / STORE_NAME).exists()
    before = sum(calls)
    calls.clear()
    again = run(sheet, parts, resume=True)
    same(again, whole)
    # What was finished was not solved a second time.
    assert before > 0
    assert sum(calls) == in_all - before
    assert not (folder / STORE_NAME).exists()


def test_a_store_of_another_search_is_not_taken(tmp_path):
    store = tmp_path / "kept.sqlite"
    first = run(cupboard(), listed(FREE), store=store)
    other = run(cupboard(goal__max_plug_power="40 W"), listed(FREE), store=store, resume=True)
    alone = run(cupboard(goal__max_plug_power="40 W"), listed(FREE))
    same(other, alone)
    same(run(cupboard(), listed(FREE), store=store, resume=True), first)


def test_a_damaged_store_is_told(tmp_path):
    store = tmp_path / "kept.sqlite"
    store.write_bytes(b"not a database" * 100)
    with pytest.raises(SearchError, match="cannot be kept"):
        run(cupboard(), listed(FREE), store=store)
    assert store.read_bytes() == b"not a database" * 100


@pytest.mark.parametrize("ending", ["csv", "parquet"])
def test_all_designs_go_into_a_table(tmp_path, ending):
    out = tmp_path / f"all.{ending}"
    answer = run(cupboard(), listed(FREE), out=out)
    if ending == "csv":
        with out.open(newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
    else:
        from pyarrow import parquet

        rows = parquet.read_table(out).to_pylist()
    assert len(rows) == answer.solved
    before = out.read_bytes()
    with pytest.raises(SearchError, match="there already"):
        run(cupboard(), listed(FREE), out=out)
    assert out.read_bytes() == before


def test_the_best_design_becomes_a_folder_and_nothing_is_overwritten(tmp_path):
    new = tmp_path / "best"
    answer = run(cupboard(), listed(FREE), write=new)
    assert read(new).title
    told = verdict.run(verdict.Inputs(read(new), tries=0)).to_json()
    assert told["place_air_K"]["value"] == pytest.approx(
        answer.best[0].figures["place_air_K"].value, abs=1e-6
    )
    with pytest.raises(SearchError, match="there already"):
        run(cupboard(), listed(FREE), write=new)


def test_an_aim_without_sense_is_refused():
    with pytest.raises(SearchError, match="no aim"):
        run(cupboard(), listed(FREE), aim="prettiest")
    quiet = parts_of({
        "fan": [{"name": "a", "flow": "60 m^3/h", "power": "2 W"}],
        "search": {"keep_own": False, "most_modules": 2},
    })  # fmt: skip
    with pytest.raises(SearchError, match="tells its sound"):
        run(given_air(), quiet, aim="quietest")


# --- Several machines ----------------------------------------------------------------------------


def test_a_worker_killed_half_way_loses_nothing(monkeypatch):
    distributed = pytest.importorskip("distributed")
    monkeypatch.setattr("coldwright.answers.choice.hunt.BATCH", 256)
    here = run(cupboard(), listed(MANY))
    assert here.solved > 10 * 256
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None,
        silence_logs=50, host="127.0.0.1",
    ) as cluster:  # fmt: skip
        victims = [worker.pid for worker in cluster.workers.values()]
        killed = []

        def report(seen, of, _what):
            if not killed and of and seen > of / 3:
                os.kill(victims[0], signal.SIGKILL)
                killed.append(seen)

        there = run(cupboard(), listed(MANY), scheduler=cluster.scheduler_address, report=report)
    assert killed
    assert killed[0] < there.solved
    same(there, here)


def test_a_scheduler_that_does_not_answer_is_told(monkeypatch):
    monkeypatch.setattr("coldwright.answers.choice.cluster._CONNECT_S", 1)
    with pytest.raises(SearchError, match="does not answer"):
        run(cupboard(), listed(FREE), scheduler="tcp://127.0.0.1:9")


def test_memory_of_a_batch_is_bounded():
    # A batch of 4096 designs must not hold more than some hundred megabytes.
    from coldwright.answers.choice.hunt import BATCH
    from coldwright.machine.records import COOLER
    from coldwright.machine.search import FOUND, POINT, POINTS

    held = BATCH * (COOLER.itemsize + FOUND.itemsize + POINTS * POINT.itemsize)
    assert held < 2e8
    assert np.isfinite(held)


@pytest.mark.parametrize("demo", ["kiosk", "cabinet"])
def test_the_demos_with_their_whole_wiring_are_searched(demo, tmp_path):
    # A design of the search is held against its own sheet; where they part, an error is raised.
    sheet = read(Path(__file__).resolve().parents[2] / "demos" / demo)
    answer = run(sheet, None, most=2000, store=tmp_path / "kept.sqlite")
    assert answer.best
    own_K = answer.own["place_air_K"].value
    assert answer.best[0].figures["place_air_K"].value < own_K
