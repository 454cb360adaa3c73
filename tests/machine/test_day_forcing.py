"""From a sheet's schedules, doors and climate to what acts on the place from instant to instant."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from coldwright.answers import day
from coldwright.answers.prepared import prepare
from coldwright.machine.rows import ALLOWED, DOOR_M3_S, GAIN_W, OUTDOOR_K, SET_K, weather_at
from coldwright.machine.sky import Sky
from coldwright.sheet.file import read
from tests.machine.wall_references import DAY_S

DEMOS = Path(__file__).parent.parent.parent / "demos"
KIOSK = DEMOS / "kiosk" / "sheet.toml"
HOT_DAY = {
    "kind": "design_day", "latitude": "48 N", "longitude": "11 E", "utc_offset": "+2 h",
    "highest_air": "36 degC", "daily_range": "13 K", "humidity": "35 percent",
}  # fmt: skip
CLIMATES = {"steady": {}, "design day": {"climate": HOT_DAY}}
LAMP = 1  # the second gain of the kiosk: 25 W


def forced(changes):
    return prepare(read(KIOSK).changed(changes), 0, 1).forcing


def at(forcing, seconds, column, *, last=False):
    row = np.empty(forcing.rows.shape[2])
    weather_at(forcing.clock, forcing.rows[0], forcing.period_s, seconds, last, row)
    return row[column]


SPANS = {
    "through noon": ([["08:30", "17:15"]], 8.75),
    "until midnight": ([["20:00", "24:00"]], 4.0),
    "from midnight": ([["00:00", "06:00"]], 6.0),
    "through midnight": ([["22:00", "05:00"]], 7.0),
    "two spans": ([["00:00", "02:00"], ["23:00", "24:00"]], 3.0),
    "the whole day": ([["00:00", "24:00"]], 24.0),
}


@pytest.mark.published("energy by hand: 25 W for the hours of the schedule")
@pytest.mark.parametrize("climate", CLIMATES)
@pytest.mark.parametrize("name", SPANS)
def test_a_lamp_burns_for_its_hours(name, climate):
    spans, hours = SPANS[name]
    changes = CLIMATES[climate] | {
        "place.gain": [{"name": "lamp", "heat": "25 W", "schedule": spans}],
    }
    found = day.run(day.Inputs(read(KIOSK).changed(changes), tries=0))
    burnt_J = np.array(found.heat_J["people and appliances"])
    assert burnt_J.sum() == pytest.approx(25.0 * 3600.0 * hours, rel=1e-9)
    assert len(burnt_J) == 24
    # In its hours and in no others: whole hours are full or empty.
    clock = np.array(found.series["start_s"]) / 3600.0 % 24.0
    for hour, joules in zip(clock, burnt_J, strict=True):
        inside = sum(_overlap(hour, span) for span in spans)
        assert joules == pytest.approx(25.0 * 3600.0 * inside, abs=1e-6), f"{hour} h"


def _overlap(hour, span):
    """Share of the hour from `hour` on that lies in a span of clock times."""
    start, end = (int(text[:2]) + int(text[3:]) / 60.0 for text in span)
    parts = [(start, end)] if start < end else [(start, 24.0), (0.0, end)]
    return sum(max(0.0, min(hour + 1.0, b) - max(hour, a)) for a, b in parts)


@pytest.mark.published("hours of the schedule by hand")
@pytest.mark.parametrize("name", SPANS)
def test_the_cooler_runs_in_its_hours(name):
    spans, hours = SPANS[name]
    found = day.run(day.Inputs(read(KIOSK).changed({"cooler.schedule": spans}), tries=0))
    assert found.totals["running_share"].value == pytest.approx(hours / 24.0, abs=1e-9)


@pytest.mark.published("air change by hand: openings an hour times the air of each")
def test_doors_by_what_each_opening_exchanges():
    # 30 openings an hour of 1 m3; 10 of four fifths (assumed) of 1.8 x 1.6 x 2.2 m3.
    doors = [
        {"name": "door", "openings_per_hour": 30, "air": "1 m^3"},
        {"name": "hatch", "openings_per_hour": 10, "schedule": [["09:00", "17:00"]]},
    ]
    forcing = forced({"place.door": doors})
    shut_m3_h, open_m3_h = (3600.0 * at(forcing, 3600.0 * t, DOOR_M3_S) for t in (8.9, 9.1))
    assert shut_m3_h == pytest.approx(30.0)
    assert open_m3_h == pytest.approx(30.0 + 10.0 * 0.8 * 1.8 * 1.6 * 2.2)


@pytest.mark.published("the schedule itself, by hand")
def test_a_setback_holds_another_temperature_in_its_hours():
    forcing = forced(
        {
            "cooler.thermostat": {
                "air": "26 degC",
                "setback": {"air": "30 degC", "schedule": [["18:00", "07:30"]]},
            }
        }
    )
    hour = 3600.0
    held = [
        at(forcing, t * hour, SET_K) - 273.15 for t in (0.0, 7.49, 7.5, 12.0, 17.99, 18.0, 23.9)
    ]
    assert held == pytest.approx([30.0, 30.0, 26.0, 26.0, 26.0, 30.0, 30.0])
    assert at(forcing, 7.5 * hour, SET_K, last=True) - 273.15 == pytest.approx(30.0)
    assert at(forcing, DAY_S, SET_K, last=True) - 273.15 == pytest.approx(30.0)


@pytest.mark.published(
    "ASHRAE Fundamentals chapter 14, table 6: the hottest hours are 14 and 15, solar"
)
def test_the_hottest_hour_by_the_clock():
    # 11 E with a clock two hours ahead of UTC: solar noon at 13:16 plus six minutes in July.
    forcing = forced({"climate": HOT_DAY})
    air_K = [at(forcing, t * 600.0, OUTDOOR_K) for t in range(144)]
    assert max(air_K) - 273.15 == pytest.approx(36.0, abs=0.05)
    assert min(air_K) - 273.15 == pytest.approx(23.0, abs=0.1)
    hottest = np.flatnonzero(np.array(air_K) > max(air_K) - 0.05) / 6.0
    assert 14.9 <= hottest.min() <= 15.6
    assert 16.0 <= hottest.max() <= 16.7
    assert isinstance(prepare(read(KIOSK), 0, 1).sky, Sky)


def test_rows_rise_and_jump_only_where_something_switches():
    forcing = forced(
        {
            "climate": HOT_DAY,
            "cooler.schedule": [["09:00", "18:00"]],
            f"place.gain[{LAMP}].schedule": [["08:07", "18:00"]],
        }
    )
    assert (np.diff(forcing.clock) >= 0.0).all()
    jumps = forcing.clock[np.flatnonzero(np.diff(forcing.clock) == 0.0)] / 3600.0
    assert jumps == pytest.approx([8.0 + 7.0 / 60.0, 9.0, 18.0])
    assert forcing.clock[0] == 0.0
    assert forcing.clock[-1] == DAY_S
    lamp_W = at(forcing, 12 * 3600.0, GAIN_W) - at(forcing, 4 * 3600.0, GAIN_W)
    assert lamp_W == pytest.approx(25.0)
    assert [at(forcing, t * 3600.0, ALLOWED) for t in (8.99, 9.0, 17.99, 18.0)] == [0, 1, 1, 0]
