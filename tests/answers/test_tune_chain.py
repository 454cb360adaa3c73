"""Tuning holds the power chain to agree at every setting, as the answer for that setting does."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from coldwright.answers import changes, tune, verdict, watts
from coldwright.errors import NoSolution
from coldwright.sheet.file import read, read_text
from tests.answers.test_design import BENCH

DEMOS = Path(__file__).resolve().parents[2] / "demos"


def _at(sheet: Any, drive: float, cold: float, hot: float) -> Any:
    return sheet.changed(
        {
            "cooler.run_at": {"voltage": f"{drive!r} V"},
            "cooler.cold_fan_speed": cold,
            "cooler.hot_fan_speed": hot,
        }
    )


# What `watts` says of the sheet with the setting written into it is what `tune` told of it.
@pytest.mark.parametrize("demo", ["kiosk", "cabinet"])
def test_the_best_settings_are_those_of_the_sheet_with_them_in_it(demo: str) -> None:
    sheet = read(DEMOS / demo)
    told = tune.run(tune.Inputs(sheet, tries=0))
    seen = 0
    for best in told.best:
        if best.drive is None or best.cold_speed is None or best.hot_speed is None:
            continue
        found = watts.run(
            watts.Inputs(_at(sheet, best.drive, best.cold_speed, best.hot_speed), tries=0)
        )
        for name in ("plug_power_W", "place_air_K", "cooling_W", "cop_net"):
            assert best.figures[name].value == pytest.approx(found.values[name].value, rel=1e-6)
        limit = sheet.goal.max_plug_power
        if limit is not None:
            assert found.values["plug_power_W"].value <= limit.value
        seen += 1
    assert seen >= 3


def test_the_map_knows_the_chain_s_losses_far_from_the_sheet_s_setting() -> None:
    sheet = read(DEMOS / "kiosk")
    told = tune.run(tune.Inputs(sheet, tries=0))
    for i in (6, 30, 60):
        for j, k in ((-1, -1), (4, 6)):
            drive = told.drive[min(i, len(told.drive) - 1)]
            cold, hot = told.cold_speed[j], told.hot_speed[k]
            found = watts.run(watts.Inputs(_at(sheet, drive, cold, hot), tries=0))
            there = told.maps["plug_power_W"][min(i, len(told.drive) - 1), j, k]
            assert there == pytest.approx(found.values["plug_power_W"].value, rel=2e-3)


def test_a_wish_for_heat_has_a_best_too() -> None:
    text = BENCH.replace('module_voltage = "8 V"', 'pumped = "8 W"')
    told = tune.run(tune.Inputs(read_text(text), tries=0))
    assert told.axis == "pumped_W"
    for best in told.best:
        assert best.drive is None or best.figures, best.aim
    assert "not known" not in told.headline


def test_absurd_volts_are_no_fault_of_the_program() -> None:
    text = BENCH.replace('module_voltage = "8 V"', 'voltage = "1e9 V"')
    with pytest.raises(NoSolution, match="hotter"):
        verdict.run(verdict.Inputs(read_text(text), tries=0))
    with pytest.raises(NoSolution, match="hotter"):
        tune.run(tune.Inputs(read_text(text), tries=0))


def test_changes_know_the_sun_of_a_clear_day() -> None:
    found = changes.run(changes.Inputs(read(DEMOS / "kiosk" / "week.toml"), tries=0))
    assert found.options
