"""Published cases from a sheet on disk through the command, as a person would run them."""

from __future__ import annotations

import json

import pytest
from tests.machine.test_published_cases import (
    AIR_TO_AIR,
    COLD_W_K,
    HOT_W_K,
    RULE,
    SINGLE_DUCT,
    WET_SINK,
    _volume,
)
from typer.testing import CliRunner

from coldwright.faces.cli.app import app

ZERO_C_K = 273.15
# The room of the published duct cases has given air: 26 degC and 50 %.
GIVEN_AIR = """
[place]
kind = "open_air"
air = "26 degC"
humidity = "50 percent"
"""


def _watts(folder, text):
    """What `coldwright watts SHEET --json` prints for a sheet."""
    path = folder / "sheet.toml"
    path.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["watts", str(path), "--json", "--no-intervals"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def _in_given_air(text):
    return GIVEN_AIR + text[text.index("[climate]") :]


# Four modules of M1 constants, air to air: V per module, cold and hot outlet [degC], heat [W].
OUTLETS = [(2, 24.62, 35.31, 10.28), (6, 23.11, 37.08, 50.67), (12, 22.32, 40.85, 72.02)]


@pytest.mark.published("coupled constant-property model, two independent solvers (numpy, scipy)")
@pytest.mark.parametrize(("module_V", "cold_C", "hot_C", "pumped_W"), OUTLETS)
def test_four_modules_air_to_air(tmp_path, module_V, cold_C, hot_C, pumped_W):
    text = AIR_TO_AIR.format(
        array_V=4.0 * module_V,
        cold_m3_s=_volume(COLD_W_K, 25.0),
        hot_m3_s=_volume(HOT_W_K, 35.0),
    )
    found = _watts(tmp_path, text)
    assert found["cold_outlet_K"]["value"] - ZERO_C_K == pytest.approx(cold_C, abs=0.1)
    assert found["hot_outlet_K"]["value"] - ZERO_C_K == pytest.approx(hot_C, abs=0.1)
    assert found["pumped_W"]["value"] == pytest.approx(pumped_W, rel=2e-3)


@pytest.mark.published("wet coil in the enthalpy and bypass form, Lewis number 1 (ASHRAE Handbook)")
def test_a_small_wet_sink_at_15_degrees(tmp_path):
    # 8 W/K between surface and air; with NTU 0.612 of the case, as one number to incoming air.
    rate_W_K = 8.0 / 0.612
    resistance = 1.0 / (rate_W_K * (1.0 - 0.542))
    # Into the sink goes the fall of enthalpy less what the drained water carries: 169.4 W less
    # 112.7 g/h at 15 degC times 4.186 kJ/kg/K.
    into_W = 169.4 - 112.7e-3 / 3600.0 * 4186.0 * 15.0
    found = _watts(tmp_path, WET_SINK.format(pumped_W=into_W, resistance=resistance))
    assert found["cold_sink_K"]["value"] - ZERO_C_K == pytest.approx(15.0, abs=0.15)
    assert found["cold_outlet_K"]["value"] - ZERO_C_K == pytest.approx(23.13, abs=0.1)
    assert found["cooling_W"]["value"] == pytest.approx(169.4, rel=0.015)
    assert found["cooling_sensible_W"]["value"] == pytest.approx(89.7, rel=0.015)
    assert found["condensate_kg_s"]["value"] * 3.6e6 == pytest.approx(112.7, rel=0.015)


@pytest.mark.published(RULE)
def test_an_exhaust_costs_more_than_the_unit_cools(tmp_path):
    found = _watts(tmp_path, _in_given_air(SINGLE_DUCT))
    assert found["hot_outlet_K"]["value"] - ZERO_C_K == pytest.approx(40.0, abs=0.01)
    assert found["cooling_W"]["value"] == pytest.approx(200.0, rel=5e-3)
    assert found["infiltration_sensible_W"]["value"] == pytest.approx(337.6, rel=5e-3)
    assert found["infiltration_latent_W"]["value"] == pytest.approx(244.4, rel=5e-3)
    assert found["net_cooling_W"]["value"] == pytest.approx(-550.0, rel=5e-3)


@pytest.mark.published("Incropera and DeWitt, chapter 8: T = Ts + (T0 - Ts) exp(-UA/(m cp))")
def test_a_bare_duct_warms_the_room(tmp_path):
    text = SINGLE_DUCT.replace('surface_temperature = "40 degC"\n', "")
    text = text.replace('"17.03 W/m^2/K"', '"10 W/m^2/K"')
    found = _watts(tmp_path, _in_given_air(text))
    (lost,) = (
        line["W"]
        for line in found["ledger"]
        if (line["node"], line["what"]) == ("exhaust", "lost from the duct")
    )
    assert -lost == pytest.approx(91.9, rel=3e-3)
