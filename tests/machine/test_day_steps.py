"""Whole days and a whole year of the demos: half the step changes nothing, and it comes to rest."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from coldwright.answers import day
from coldwright.answers.day import totals_of
from coldwright.answers.prepared import prepare
from coldwright.machine.day import S_TIME
from coldwright.machine.place import AIR_J, AIR_KG
from coldwright.machine.run import M_SWITCHES, Forcing, begin_run, run_days
from coldwright.sheet.file import read
from tests.machine.day_places import all_heat, all_water
from tests.machine.wall_references import DAY_S

DEMOS = Path(__file__).parent.parent.parent / "demos"
KIOSK, CABINET = DEMOS / "kiosk" / "sheet.toml", DEMOS / "cabinet" / "sheet.toml"
HOT_DAY = {
    "kind": "design_day", "latitude": "48 N", "longitude": "11 E", "utc_offset": "+2 h",
    "highest_air": "36 degC", "daily_range": "13 K", "humidity": "35 percent",
}  # fmt: skip
OFFICE_HOURS = {
    "cooler.schedule": [["08:00", "18:00"]],
    "place.gain[0].schedule": [["08:05", "17:55"]],
    "place.door": [{"name": "door", "openings_per_hour": 6, "schedule": [["08:10", "17:50"]]}],
}
WAYS = {
    "kiosk always on": (KIOSK, {}),
    "kiosk in office hours": (KIOSK, OFFICE_HOURS),
    "kiosk by thermostat": (KIOSK, {"cooler.thermostat": {"air": "31 degC"}}),
    "cabinet always on": (CABINET, {}),
    "cabinet by thermostat": (
        CABINET, {"cooler.thermostat": {"air": "19 degC", "hysteresis": "2 K"}}
    ),
    "cabinet by its contents": (
        CABINET,
        {"cooler.thermostat": {"air": "19 degC", "probe": "contents", "hysteresis": "0.5 K"}},
    ),
    "cabinet less and less": (
        CABINET, {"cooler.thermostat": {"air": "17 degC", "drive": "proportional"}}
    ),
}  # fmt: skip


def totals(name, step_s, days):
    """Totals of these days after a first one."""
    file, changes = WAYS[name]
    ready = prepare(read(file).changed({"climate": HOT_DAY} | changes), 0, 1)
    state = begin_run(ready.coolers, ready.places, ready.forcing)
    bins, switches = np.zeros(0), 0.0
    for until_s in (DAY_S, (days + 1) * DAY_S):
        switches = state.memory[:, M_SWITCHES].copy()
        bins, _ = run_days(
            ready.coolers, ready.off, ready.places, ready.forcing, ready.control, state,
            until_s=until_s, step_s=step_s, limit_K=ready.limit_K,
        )  # fmt: skip
    found = {
        k: float(v[0]) for k, v in totals_of(bins, state.memory[:, M_SWITCHES] - switches).items()
    }
    found["heat"] = float(np.abs(all_heat(bins)).sum())
    found["heat_by_name"] = np.abs(all_heat(bins)[0].sum(axis=0))
    return found


@pytest.mark.parametrize("name", WAYS)
def test_half_the_step_changes_the_totals_by_less_than_a_thousandth(name):
    # A thermostat of eighty cycles a day is somewhere within a cycle when the last day ends; of two
    # weeks that is less than a thousandth.
    days = 14 if "thermostat" in name else 1
    coarse, fine = totals(name, 30.0, days), totals(name, 15.0, days)
    assert coarse["plug_J"] == pytest.approx(fine["plug_J"], rel=1e-3)
    assert coarse["running_share"] == pytest.approx(fine["running_share"], rel=1e-3)
    assert coarse["heat"] == pytest.approx(fine["heat"], rel=1e-3)
    largest = fine["heat_by_name"].max()
    np.testing.assert_allclose(
        coarse["heat_by_name"], fine["heat_by_name"], rtol=1e-3, atol=1e-3 * largest
    )
    # A millikelvin or two of the mean; of the water, a thousandth or ten milligrams a day.
    assert coarse["place_mean_K"] == pytest.approx(fine["place_mean_K"], abs=2e-3)
    water = next(key for key in fine if key.startswith("condensate"))
    assert coarse[water] == pytest.approx(fine[water], rel=1e-3, abs=1e-5)
    # Seconds above the goal: a thousandth of the time followed.
    assert coarse["above_goal_s"] == pytest.approx(fine["above_goal_s"], abs=1e-3 * days * DAY_S)
    assert fine["plug_J"] > 1e5


@pytest.mark.parametrize(
    "name", ["kiosk always on", "kiosk by thermostat", "cabinet by thermostat"]
)
def test_steps_as_short_as_seconds_say_the_same(name):
    days = 3
    coarse, fine = totals(name, 30.0, days), totals(name, 3.0, days)
    # Half a cycle in three days of a hundred.
    assert coarse["plug_J"] == pytest.approx(fine["plug_J"], rel=2.5e-3)
    assert coarse["switchings_per_day"] == pytest.approx(fine["switchings_per_day"], rel=0.01)
    assert coarse["place_mean_K"] == pytest.approx(fine["place_mean_K"], abs=3e-3)


@pytest.mark.parametrize("file", [KIOSK, CABINET], ids=["kiosk", "cabinet"])
def test_a_day_that_repeats_does_not_know_how_it_began(file):
    found = [
        day.run(
            day.Inputs(read(file).changed({"climate": HOT_DAY, "place.start_air": start}), tries=0)
        )
        for start in ("12 degC", "45 degC")
    ]
    cold, warm = (np.array(each.series["place_air_K"]) for each in found)
    # The days end when a day's means move by less than 0.02 K.
    assert np.abs(cold - warm).max() < 0.05
    assert np.ptp(cold) > 2.0
    # A repeating day ends where it begins: what came in has left again.
    assert max(each.ledger_residual for each in found) < 1e-9
    for each in found:
        heat = np.array(list(each.heat_J.values()))
        assert abs(heat.sum()) < 1e-3 * np.abs(heat).sum()


@pytest.mark.published("first law of thermodynamics; conservation of mass")
def test_a_year_of_8760_hours():
    # Made-up weather: seasons, days and gusts, an hour's mean straight to the next.
    rng = np.random.default_rng(8760)
    ready = prepare(read(KIOSK).changed({"climate": HOT_DAY} | OFFICE_HOURS), 0, 1)
    hours = np.arange(8761)
    day_wave = np.cos(2.0 * np.pi * (hours - 15) / 24.0)
    year_wave = np.cos(2.0 * np.pi * (hours - 200 * 24) / 8760.0)
    outdoor_K = 288.0 + 11.0 * year_wave + 5.0 * day_wave + rng.normal(0.0, 1.0, 8761)
    rows = np.repeat(ready.forcing.rows[:, :1], 8761, axis=1)
    rows[:, :, 0] = outdoor_K
    rows[:, :, 1] = 0.004 + 0.003 * year_wave
    rows[:, :, 2] = rng.uniform(0.0, 5.0, 8761)
    rows[:, :, 3] = 80.0 * np.maximum(day_wave, 0.0)
    rows[:, :, 8] = 1.0
    rows[:, :, 9:] = outdoor_K[None, :, None]
    forcing = Forcing(hours * 3600.0, rows, 0.0)
    state = begin_run(ready.coolers, ready.places, forcing)
    before = state.stores.copy()
    bins, _ = run_days(
        ready.coolers, ready.off, ready.places, forcing, ready.control, state,
        until_s=8760 * 3600.0, step_s=60.0,
    )  # fmt: skip
    assert bins.shape[1] == 8760
    np.testing.assert_allclose(bins[0, :, S_TIME], 3600.0, rtol=1e-9)
    for flows, store in ((all_heat(bins), AIR_J), (all_water(bins), AIR_KG)):
        gained = (state.stores - before)[0, store]
        assert abs(flows.sum() - gained) < 1e-6 * np.abs(flows).sum()
    # The outdoor means are those that were put in: hours from row to row.
    assert bins[0, :, 3].sum() / bins[0, :, S_TIME].sum() == pytest.approx(
        0.5 * (outdoor_K[1:] + outdoor_K[:-1]).mean(), abs=0.02
    )
