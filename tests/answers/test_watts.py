"""Where the watts go: the answer's figures, its ledger and its JSON."""

import json
from collections import defaultdict

import pytest

from coldwright.answers import watts
from coldwright.sheet.file import read_text
from tests.answers.test_design import BENCH, BOX

# A single duct: 150 m3/h of the room's air through the hot sink and out.
DUCT = BENCH.replace('hot_takes_from = "outdoors"', 'hot_takes_from = "place"').replace(
    'outdoor_humidity = "10 percent"', 'outdoor_humidity = "40 percent"'
)


def answer(text, tries=0):
    return watts.run(watts.Inputs(read_text(text, "sheet.toml"), tries))


@pytest.mark.published("first law of thermodynamics, line by line")
@pytest.mark.parametrize("text", [BENCH, BOX, DUCT])
def test_the_lines_of_each_node_add_up_to_nothing(text):
    found = answer(text)
    sums, water = defaultdict(float), defaultdict(float)
    for entry in found.ledger:
        sums[entry.node] += entry.W
    for entry in found.water_ledger:
        water[entry.node] += entry.kg_s
    largest = max(abs(entry.W) for entry in found.ledger)
    assert largest > 50.0
    assert max(map(abs, sums.values())) <= 1e-8 * largest
    assert max(map(abs, water.values()), default=0.0) < 1e-12
    assert found.ledger_residual_W <= 1e-8 * largest
    assert found.ledger_residual_W == pytest.approx(max(map(abs, sums.values())), abs=1e-15)


def test_figures_hang_together():
    # Definitions: products, sums and ratios of the answer's own figures.
    found = {name: value.value for name, value in answer(DUCT).values.items()}
    power_W = found["current_A"] * found["voltage_V"]
    assert found["module_power_W"] == pytest.approx(power_W, rel=1e-9)
    assert found["plug_power_W"] == pytest.approx(power_W, rel=1e-9)  # no fan power, no supply
    sum_W = found["cooling_sensible_W"] + found["cooling_latent_W"]
    assert found["cooling_W"] == pytest.approx(sum_W, rel=1e-9)
    assert found["lift_K"] == pytest.approx(found["hot_face_K"] - found["cold_face_K"], rel=1e-9)
    assert found["cop_module"] == pytest.approx(found["pumped_W"] / power_W, rel=1e-9)
    assert found["cop_system"] == pytest.approx(found["cooling_W"] / found["plug_power_W"])
    assert found["cop_net"] == pytest.approx(found["net_cooling_W"] / found["plug_power_W"])
    infiltration_W = found["infiltration_sensible_W"] + found["infiltration_latent_W"]
    assert found["net_cooling_W"] == pytest.approx(found["cooling_W"] - infiltration_W, rel=1e-9)
    rejected_W = found["pumped_W"] + found["module_power_W"]
    assert found["heat_rejected_W"] == pytest.approx(rejected_W, rel=1e-9)


@pytest.mark.published("m (h_out - h_place) of the replacement air, by psychrolib")
def test_what_the_exhaust_lets_in_is_said():
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    found = answer(DUCT)
    outdoor = psychrolib.GetHumRatioFromRelHum(35.0, 0.4, 101325.0)
    inside = psychrolib.GetHumRatioFromRelHum(25.0, 0.2, 101325.0)
    volume = psychrolib.GetMoistAirVolume(25.0, inside, 101325.0)
    rise_J_kg = psychrolib.GetMoistAirEnthalpy(35.0, outdoor)
    rise_J_kg -= psychrolib.GetMoistAirEnthalpy(25.0, inside)
    expected_W = 150.0 / 3600.0 / volume * rise_J_kg
    values = found.values
    total_W = values["infiltration_sensible_W"].value + values["infiltration_latent_W"].value
    # Vapour pressure by two formulations.
    assert total_W == pytest.approx(expected_W, rel=2e-3)
    assert values["net_cooling_W"].value < 0.0
    assert "exhaust" in found.headline


def test_both_sides_in_one_place_heat_it():
    text = DUCT.replace('hot_sends_to = "outdoors"', 'hot_sends_to = "place"')
    found = answer(text)
    assert found.values["net_cooling_W"].value == pytest.approx(
        -found.values["plug_power_W"].value, rel=1e-8
    )
    assert "heated" in found.headline


def test_json_is_plain_and_complete():
    found = answer(DUCT, tries=100)
    data = json.loads(json.dumps(found.to_json(), allow_nan=False))
    for name in watts.FIGURES:
        assert set(data[name]) == {"value", "low", "high"}, name
    assert data["cooling_W"]["low"] < data["cooling_W"]["value"] < data["cooling_W"]["high"]
    assert data["ledger"][0].keys() == {"node", "what", "W"}
    assert data["water_ledger"][0].keys() == {"node", "what", "kg_s"}
    assert data["tries"] == 100
    assert data["solved_tries"] == 100
    assert data["sources"]
    shares = [row["share"] for row in data["widest"]["cooling_W"]]
    assert shares == sorted(shares, reverse=True)
    assert 0.0 < sum(shares) < 1.2


def test_without_tries_there_are_no_bounds():
    data = answer(BOX).to_json()
    assert all(data[name]["low"] is None for name in watts.FIGURES)
    assert data["place_air_K"]["value"] < 308.15
    assert data["widest"] == {}


def test_a_plate_has_no_air_stream():
    text = BENCH.replace(
        'kind = "open_air"\nair = "25 degC"\nhumidity = "20 percent"',
        'kind = "plate"\nheat = "30 W"',
    )
    start, end = text.index("[cooler.cold_sink]"), text.index("[cooler.hot_sink]")
    found = answer(text[:start] + text[end:])
    assert found.values["cooling_W"].value == pytest.approx(30.0, rel=1e-9)
    assert found.values["cold_outlet_K"].value is None
    assert found.values["cooling_latent_W"].value == 0.0
