"""Four whole cases, each written as a design sheet, against numbers worked out elsewhere."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from scipy.optimize import brentq, root

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.cooler import operate
from coldwright.machine.ledger import ledger
from coldwright.machine.records import Status
from coldwright.machine.values import Values
from coldwright.physics.infiltration import infiltration_latent, infiltration_sensible
from coldwright.sheet.file import read_text

psychrolib.SetUnitSystem(psychrolib.SI)
PRESSURE_PA = 101325.0
ZERO_C_K = 273.15


class Solved:
    """One solved sheet; a ledger that does not close is no result."""

    def __init__(self, text, **changes):
        sheet = read_text(text)
        if changes:
            sheet = sheet.changed({key.replace("__", "."): value for key, value in changes.items()})
        self.cooler = assemble_cooler(sheet, Values())
        self.place = assemble_place(sheet, Values())
        start = self.place["air_K"], self.place["humidity_ratio"]
        result = operate(self.cooler, self.place, *start, with_place=False)
        assert result["status"][0] == Status.SOLVED
        ledger(self.cooler, self.place, result, with_place=False).require_closed()
        self.lines = ledger(self.cooler, self.place, result, with_place=True).heat
        self.states = result[0]

    def line(self, node, what):
        (found,) = (line for line in self.lines if (line.node, line.what) == (node, what))
        return float(found.amount[0])

    def celsius(self, name):
        return float(np.ravel(self.states[name])[0]) - ZERO_C_K


# --- Air to air, four modules, five voltages -----------------------------------------------------

# A module of common size from its ratings (6 A, 15.4 V, 68 K at 300 K), as constants.
SEEBECK_V_K, RESISTANCE_OHM, CONDUCTANCE_W_K = 0.0513333, 1.984889, 0.525412
AIR_TO_AIR = """
[place]
kind = "open_air"
air = "25 degC"
humidity = "5 percent"
[climate]
kind = "steady"
outdoor_air = "35 degC"
outdoor_humidity = "5 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = {{ voltage = "{array_V:g} V" }}
[cooler.modules]
properties = {{ seebeck = "0.0513333 V/K", resistance = "1.984889 ohm", conductance = "0.525412 W/K" }}
series = 4
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.15 K/W"
[cooler.cold_fan]
flow = "{cold_m3_s:.9f} m^3/s"
[cooler.hot_sink]
kind = "resistance"
value = "0.10 K/W"
[cooler.hot_fan]
flow = "{hot_m3_s:.9f} m^3/s"
"""  # noqa: E501
# The published case carries heat with rho cp = 1.2 * 1006 J/(m3 K) on both sides. Real air at the
# inlets has 1.18 and 1.14 kg/m3, so its *mass flow* is what must be kept: 80 and 150 m3/h of the
# case become 81.1 and 157.1 m3/h of real air with the same watts per kelvin.
COLD_W_K = 80.0 / 3600.0 * 1.2 * 1006.0
HOT_W_K = 150.0 / 3600.0 * 1.2 * 1006.0


def _volume(rate_W_K, air_C):
    water = psychrolib.GetHumRatioFromRelHum(air_C, 0.05, PRESSURE_PA)
    volume_m3_kg = psychrolib.GetMoistAirVolume(air_C, water, PRESSURE_PA)
    return rate_W_K / (1006.0 + 1860.0 * water) * volume_m3_kg


def _two_heat_balances(module_V):
    """The case's own equations, solved by a general solver: I, Tc, Th, Qc, P and both outlets."""

    def heats(cold_K, hot_K):
        current_A = (module_V - SEEBECK_V_K * (hot_K - cold_K)) / RESISTANCE_OHM
        joule_W = current_A**2 * RESISTANCE_OHM / 2.0
        leak_W = CONDUCTANCE_W_K * (hot_K - cold_K)
        in_W = SEEBECK_V_K * current_A * cold_K - joule_W - leak_W
        return current_A, in_W, SEEBECK_V_K * current_A * hot_K + joule_W - leak_W

    def miss(faces_K):
        _, in_W, out_W = heats(*faces_K)
        return [
            298.15 - (0.15 * 4 + 0.05) * in_W - faces_K[0],
            308.15 + (0.10 * 4 + 0.05) * out_W - faces_K[1],
        ]

    cold_K, hot_K = root(miss, [290.0, 320.0], tol=1e-12).x
    current_A, in_W, out_W = heats(cold_K, hot_K)
    outlets = 25.0 - 4 * in_W / COLD_W_K, 35.0 + 4 * out_W / HOT_W_K
    return (
        current_A,
        cold_K - ZERO_C_K,
        hot_K - ZERO_C_K,
        4 * in_W,
        4 * module_V * current_A,
        *outlets,
    )


@pytest.mark.published(
    "heat balances of Mechanical Engineers' Handbook, vol. 4, eqs 111-123, with sinks to the "
    "incoming air; solved elsewhere by two solvers to five digits, and here by scipy.optimize.root"
)
@pytest.mark.parametrize(
    ("module_V", "current_A", "cold_C", "hot_C", "pumped_W", "power_W", "cold_out_C", "hot_out_C"),
    [
        (2.0, 0.661, 23.33, 36.75, 10.28, 5.28, 24.62, 35.31),
        (4.0, 1.453, 19.60, 41.35, 33.23, 23.24, 23.76, 36.12),
        (6.0, 2.247, 16.77, 46.77, 50.67, 53.93, 23.11, 37.08),
        (8.0, 3.042, 14.80, 53.02, 62.80, 97.34, 22.66, 38.18),
        (12.0, 4.628, 13.30, 68.10, 72.02, 222.17, 22.32, 40.85),
    ],
)
def test_four_modules_air_to_air(
    module_V, current_A, cold_C, hot_C, pumped_W, power_W, cold_out_C, hot_out_C
):
    found = Solved(
        AIR_TO_AIR.format(
            array_V=4.0 * module_V,
            cold_m3_s=_volume(COLD_W_K, 25.0),
            hot_m3_s=_volume(HOT_W_K, 35.0),
        )
    )
    said = (
        float(found.states["module_A"][0]),
        found.celsius("cold_face_K"),
        found.celsius("hot_face_K"),
        found.line("modules", "heat into the cold faces"),
        float(found.states["modules_W"]),
        found.celsius("cold_outlet_K"),
        found.celsius("hot_outlet_K"),
    )
    # 0.2 % of the heats and of the current; the printed faces and outlets have two decimals.
    assert said[0] == pytest.approx(current_A, rel=2e-3)
    assert said[1] == pytest.approx(cold_C, abs=0.03)
    assert said[2] == pytest.approx(hot_C, abs=0.03)
    assert said[3] == pytest.approx(pumped_W, rel=2e-3)
    assert said[4] == pytest.approx(power_W, rel=2e-3)
    assert said[3] / said[4] == pytest.approx(pumped_W / power_W, rel=2e-3)
    assert said[5] == pytest.approx(cold_out_C, abs=0.1)
    assert said[6] == pytest.approx(hot_out_C, abs=0.1)
    # The same equations through scipy: here nothing is rounded.
    assert said == pytest.approx(_two_heat_balances(module_V), rel=1e-6)


# --- A small wet sink ----------------------------------------------------------------------------

WET_SINK = """
[place]
kind = "open_air"
air = "30 degC"
humidity = "60 percent"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "60 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = {{ pumped = "{pumped_W:.9f} W" }}
[cooler.modules]
properties = {{ seebeck = "0.05 V/K", resistance = "2 ohm", conductance = "0.5 W/K" }}
series = 40
cold_interface = "0.02 K/W"
hot_interface = "0.02 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "{resistance:.9f} K/W"
[cooler.cold_fan]
flow = "40 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.01 K/W"
[cooler.hot_fan]
flow = "1000 m^3/h"
"""


@pytest.mark.published(
    "wet coil in the enthalpy and bypass form, Lewis number 1 (ASHRAE Handbook, HVAC Systems and "
    "Equipment, air-cooling coils); properties by CoolProp"
)
@pytest.mark.parametrize(
    ("surface_C", "outlet_C", "outlet_water", "total_W", "sensible_W", "condensate_g_h"),
    [
        (25.0, 27.71, 0.01612, 29.9, 29.9, 0.0),
        (15.0, 23.13, 0.01363, 169.4, 89.7, 112.7),
        (10.0, 20.84, 0.01225, 243.6, 119.7, 175.8),
    ],
)
def test_a_small_wet_sink(surface_C, outlet_C, outlet_water, total_W, sensible_W, condensate_g_h):
    inlet = ("T", 303.15, "P", PRESSURE_PA, "R", 0.60)
    inlet_water = HAPropsSI("W", *inlet)
    rate_W_K = 40.0 / 3600.0 / HAPropsSI("Vda", *inlet) * (1006.0 + 1860.0 * inlet_water)
    # 8 W/K between surface and air, as one number to the air that comes in.
    resistance = 1.0 / (rate_W_K * -math.expm1(-8.0 / rate_W_K))
    assert math.exp(-8.0 / rate_W_K) == pytest.approx(0.542, abs=5e-4)

    def run(pumped_W):
        return Solved(WET_SINK.format(pumped_W=pumped_W, resistance=resistance))

    def miss(pumped_W):
        return run(pumped_W).celsius("cold_surface_K") - surface_C

    # The case gives the surface, the sheet takes the heat: the heat that makes that surface.
    found = run(brentq(miss, 20.0, 260.0, xtol=1e-6))
    states = found.states
    assert found.celsius("cold_surface_K") == pytest.approx(surface_C, abs=1e-4)
    assert found.celsius("cold_outlet_K") == pytest.approx(outlet_C, abs=0.015 * (30.0 - outlet_C))
    # Real gases hold half a percent more vapour at saturation than ideal ones, at both ends.
    assert states["cold_outlet_humidity_ratio"] == pytest.approx(outlet_water, rel=0.015)
    assert found.line("cold sink, air", "fall of the air's enthalpy") == pytest.approx(
        total_W, rel=0.015
    )
    humid_heat = 1006.0 + 1860.0 * states["cold_in_water"][0]
    felt_W = states["cold_kg_s"] * humid_heat * (states["cold_in_K"][0] - states["cold_outlet_K"])
    assert felt_W == pytest.approx(sensible_W, rel=0.015)
    assert states["condensate_kg_s"] * 3.6e6 == pytest.approx(condensate_g_h, rel=0.015)


# --- A unit that blows the room's air outdoors ---------------------------------------------------

# 200 W of cooling; 150 m3/h leave at 40 degC, counted there (the fan stands behind the sink). The
# hot sink is invented, and of such a size that the exhaust does leave at 40 degC.
SINGLE_DUCT = """
[place]
kind = "room"
length = "4 m"
width = "3 m"
height = "2.5 m"
start_air = "26 degC"
start_humidity = "50 percent"
air_leakage = { area = "30 cm^2" }  # a way in for what the exhaust takes; still air
heat_loss = "50 W/K"
[climate]
kind = "steady"
outdoor_air = "33 degC"
outdoor_humidity = "40 percent"
[cooler]
hot_takes_from = "place"
hot_sends_to = "outdoors"
run_at = { pumped = "200 W" }
[cooler.modules]
properties = { seebeck = "0.05 V/K", resistance = "2 ohm", conductance = "0.5 W/K" }
series = 6
cold_interface = "0.02 K/W"
hot_interface = "0.02 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.03 K/W"
[cooler.cold_fan]
flow = "300 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.0400194 K/W"
[cooler.hot_fan]
# 150 m3/h where they leave at 40 degC; the fan draws them in 80 W / (m cp) = 1.7 K colder.
flow = "149.24 m^3/h"
power = "80 W"
position = "after sink"
[cooler.hot_duct]
diameter = "150 mm"
length = "1.5 m"
runs_through = "place"
surface_temperature = "40 degC"
surface_coefficient = "17.03 W/m^2/K"
"""
RULE = "US 10 CFR 430, Subpart B, Appendix CC: arithmetic of portable air conditioners (SI form)"


@pytest.mark.published(RULE)
def test_an_exhaust_costs_more_than_the_unit_cools():
    found = Solved(SINGLE_DUCT)
    states, place = found.states, found.place[0]
    assert found.celsius("hot_outlet_K") == pytest.approx(40.0, abs=0.005)
    # Dry air in 150 m3/h of exhaust at 40 degC that carries the room's moisture, by psychrolib.
    room_water = psychrolib.GetHumRatioFromRelHum(26.0, 0.50, PRESSURE_PA)
    outdoor_water = psychrolib.GetHumRatioFromRelHum(33.0, 0.40, PRESSURE_PA)
    exhaust_kg_s = 150.0 / 3600.0 / psychrolib.GetMoistAirVolume(40.0, room_water, PRESSURE_PA)
    assert states["inflow_kg_s"] == pytest.approx(exhaust_kg_s, rel=1e-3)
    assert states["inflow_kg_s"] == pytest.approx(0.04619, rel=5e-3)
    assert states["place_humidity_ratio"] == pytest.approx(room_water, rel=1e-3)
    assert place["outdoor_humidity_ratio"] == pytest.approx(outdoor_water, rel=1e-3)

    waters = place["outdoor_humidity_ratio"], states["place_humidity_ratio"]
    sensible_W = infiltration_sensible(states["inflow_kg_s"], place["outdoor_K"], 299.15, *waters)
    latent_W = infiltration_latent(states["inflow_kg_s"], *waters)
    assert sensible_W == pytest.approx(337.6, rel=5e-3)
    assert latent_W == pytest.approx(244.4, rel=5e-3)
    assert sensible_W + latent_W == pytest.approx(581.9, rel=5e-3)
    # The room's own ledger says the same in one line.
    total_W = found.line("place", "outdoor air through the gaps")
    assert total_W == pytest.approx(581.9, rel=5e-3)
    by_enthalpy_W = exhaust_kg_s * (
        psychrolib.GetMoistAirEnthalpy(33.0, outdoor_water)
        - psychrolib.GetMoistAirEnthalpy(26.0, room_water)
    )
    assert total_W == pytest.approx(by_enthalpy_W, rel=2e-3)

    duct_W = found.line("place", "hot duct")
    assert duct_W == pytest.approx(168.5, rel=5e-3)
    gross_W = found.line("cold sink, air", "fall of the air's enthalpy")
    assert gross_W == pytest.approx(200.0, rel=5e-3)
    others_W = found.line("place", "losses of supply, converter and wires")
    assert others_W == 0.0
    assert gross_W - total_W - duct_W == pytest.approx(-550.0, rel=5e-3)


@pytest.mark.published(
    "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter 8: "
    "T = Ts + (T0 - Ts) exp(-UA/(m cp)); flow of " + RULE
)
@pytest.mark.parametrize(
    ("coefficient", "ntu", "end_C", "heat_W"),
    [(10.0, 0.1492, 38.06, 91.9), (17.03, 0.254, 36.86, 148.8)],
)
def test_a_bare_duct_warms_the_room_along_its_way(coefficient, ntu, end_C, heat_W):
    found = Solved(
        SINGLE_DUCT,
        cooler__hot_duct__surface_temperature=None,
        cooler__hot_duct__surface_coefficient=f"{coefficient} W/m^2/K",
    )
    states = found.states
    assert found.celsius("hot_outlet_K") == pytest.approx(40.0, abs=0.005)
    rate_W_K = states["hot_kg_s"] * (1006.0 + 1860.0 * states["hot_outlet_water"])
    assert coefficient * math.pi * 0.15 * 1.5 / rate_W_K == pytest.approx(ntu, rel=3e-3)
    assert found.celsius("exhaust_end_K") == pytest.approx(end_C, abs=0.01)
    assert found.line("place", "hot duct") == pytest.approx(heat_W, rel=3e-3)
    assert states["duct_W"] == pytest.approx(heat_W, rel=3e-3)
