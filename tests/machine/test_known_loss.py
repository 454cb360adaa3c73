"""A place whose heat loss is known as a whole: its air's warmth is in it, its moisture is not."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.cooler import operate
from coldwright.machine.ledger import ALLOWED, ledger
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.machine.values import Values
from coldwright.sheet.file import read_text

psychrolib.SetUnitSystem(psychrolib.SI)

ROOM = """
[place]
kind = "room"
length = "4 m"
width = "3.5 m"
height = "2.5 m"
heat_loss = "{loss} W/K"
{leakage}
combustion = "none"
[[place.gain]]
name = "somebody"
heat = "70 W"
moisture = "65 g/h"
[climate]
kind = "steady"
outdoor_air = "{outdoor} degC"
outdoor_humidity = "45 percent"
wind = "2 m/s"
[cooler]
hot_takes_from = "{takes}"
hot_sends_to = "outdoors"
run_at = {{ module_voltage = "3 V" }}
[cooler.modules]
properties = {{ seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }}
[cooler.cold_sink]
kind = "resistance"
value = "0.35 K/W"
[cooler.cold_fan]
flow = "80 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.hot_fan]
{fan}
"""


def records(leakage="", takes="outdoors", fan='flow = "50 m^3/h"', loss=60, outdoor=33):
    sheet = read_text(
        ROOM.format(leakage=leakage, takes=takes, fan=fan, loss=loss, outdoor=outdoor)
    )
    return assemble_cooler(sheet, Values()), assemble_place(sheet, Values())


def empty(**given):
    cooler, place = records(**given)
    cooler = no_cooler(cooler)
    found = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=True)
    assert found["status"][0] == Status.SOLVED
    return cooler, place, found


@pytest.mark.published(
    "ASHRAE Fundamentals ch. 16: Q = A sqrt(Cs dT + Cw U^2), Cs 0.000145, Cw 0.000104 (one storey, "
    "class 4; L/s, cm2); A of n50 by the power law; moisture balance by psychrolib and by hand"
)
def test_moisture_leaves_with_the_air_whose_warmth_the_loss_counts():
    _, _, found = empty()
    air_K, water = found["place_K"][0], found["place_humidity_ratio"][0]
    # By hand. Ordinary: 6 air changes an hour of 35 m3 at 50 Pa, exponent 0.65.
    outdoor_water = psychrolib.GetHumRatioFromRelHum(33.0, 0.45, 101325.0)
    volume = psychrolib.GetMoistAirVolume(33.0, outdoor_water, 101325.0)
    at_4_Pa = 6.0 * 35.0 / 3600.0 * (4.0 / 50.0) ** 0.65
    area_cm2 = 1e4 * at_4_Pa / np.sqrt(8.0 / ((1.0 + outdoor_water) / volume))
    flow = area_cm2 * np.sqrt(0.000145 * (air_K - 306.15) + 0.000104 * 2.0**2) / 1000.0
    assert found["natural_kg_s"][0] == pytest.approx(flow / volume, rel=5e-3)
    excess = 65e-3 / 3600.0 / (flow / volume)
    assert water == pytest.approx(outdoor_water + excess, rel=5e-3)
    # Warmth leaves by the loss of 60 W/K and nothing else.
    # (Its vapour comes and goes at the room's own temperature.)
    assert 60.0 * (air_K - 306.15) == pytest.approx(70.0, rel=1e-6)
    # The room's air is not saturated, as a shut room's would be.
    assert water < psychrolib.GetSatHumRatio(air_K - 273.15, 101325.0)


def test_its_ledger_closes_and_its_load_is_what_enters():
    cooler, place = records()
    start = place["air_K"], place["humidity_ratio"]
    found = operate(cooler, place, *start, with_place=True)
    assert found["counted_kg_s"][0] > 0.0
    assert ledger(cooler, place, found, with_place=True).relative_residual()[0] <= ALLOWED
    load = dict(heat_load(place, found))
    # What comes with the air is its moisture alone: (w_out - w) times the vapour's enthalpy.
    waters = place["outdoor_humidity_ratio"][0] - found["place_humidity_ratio"][0]
    vapour_J_kg = psychrolib.GetMoistAirEnthalpy(
        found["place_K"][0] - 273.15, 1.0
    ) - psychrolib.GetDryAirEnthalpy(found["place_K"][0] - 273.15)
    assert load["outdoor air by itself"][0] == pytest.approx(
        found["natural_kg_s"][0] * waters * vapour_J_kg, rel=1e-3
    )


def test_given_leakage_counts_beside_the_loss_as_before():
    _, _, found = empty(leakage='air_leakage = "ordinary"')
    assert found["counted_kg_s"][0] == 0.0
    assert found["natural_kg_s"][0] > 0.0
    # 70 W leave by the walls' 60 W/K and the air together.
    assert 60.0 * (found["place_K"][0] - 306.15) < 69.0


def test_no_more_air_passes_than_the_loss_has_warmth_for():
    _, _, found = empty(loss=0.9, outdoor=20)
    assert found["counted_kg_s"][0] == pytest.approx(0.9 / 1006.0, rel=1e-3)


@pytest.mark.published("power law of ASHRAE Fundamentals ch. 16, dp = 50 (V / V50)^(1/0.65)")
def test_an_exhaust_draws_through_the_gaps_that_are_assumed():
    cooler, place = records(takes="place")
    start = place["air_K"], place["humidity_ratio"]
    found = operate(cooler, place, *start, with_place=True)
    # 50 m3/h through walls that pass 6 x 35 = 210 m3/h at 50 Pa.
    assert found["place_pressure_Pa"][0] == pytest.approx(50.0 * (50 / 210) ** (1 / 0.65), rel=3e-3)
    assert ledger(cooler, place, found, with_place=True).relative_residual()[0] <= ALLOWED


def test_no_fan_draws_air_out_of_a_sealed_place():
    curve = 'curve = [["0 m^3/h", "150 Pa"], ["200 m^3/h", "0 Pa"]]'
    last = None
    for area in ("10 cm^2", "1 cm^2", "0.1 cm^2", "0 cm^2"):
        cooler, place = records(f'air_leakage = {{ area = "{area}" }}', "place", curve)
        found = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=True)
        flow = float(found["hot_flow_m3_s"][0])
        assert last is None or flow < last
        last = flow
    assert found["status"][0] == Status.NO_FLOW
    for fan in (curve, 'flow = "50 m^3/h"'):
        cooler, place = records('air_leakage = "none"', "place", fan)
        found = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=True)
        assert found["status"][0] == Status.NO_FLOW
