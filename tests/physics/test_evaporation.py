"""Evaporative cooling against steam tables, real-gas moist air and hand calculation."""

import math

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coldwright.physics.evaporation import (
    evaporation_heat,
    evaporation_rate,
    evaporative_humidity,
    evaporative_outlet,
    evaporative_water,
)
from coldwright.physics.moist_air import enthalpy, liquid_enthalpy, wet_bulb

quick = settings(deadline=None)
psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.published("IAPWS-95 heat of evaporation, by CoolProp")
@pytest.mark.parametrize("celsius", [5.0, 15.0, 25.0, 40.0, 60.0, 100.0])
def test_evaporation_heat(celsius):
    kelvin = celsius + 273.15
    known = PropsSI("H", "T", kelvin, "Q", 1, "Water") - PropsSI("H", "T", kelvin, "Q", 0, "Water")
    assert evaporation_heat(kelvin) == pytest.approx(known, rel=0.006)


@pytest.mark.published("IAPWS-95 at 25 °C: 2442 kJ/kg; 100 W a day are 8.64 MJ")
def test_water_for_a_hundred_watts():
    assert 86400.0 * evaporation_rate(100.0, 298.15) == pytest.approx(8640.0 / 2442.0, rel=1e-3)


# 35 °C and 19.4 °C wet bulb: effectiveness, outlet in °C by hand.
OUTLETS = [(0.6, 25.64), (0.7, 24.08), (0.8, 22.52), (0.9, 20.96)]


@pytest.mark.published("definition of the wet-bulb effectiveness, by hand")
@pytest.mark.parametrize(("effectiveness", "outlet_C"), OUTLETS)
def test_outlet(effectiveness, outlet_C):
    found = evaporative_outlet(35.0 + 273.15, 19.4 + 273.15, effectiveness)
    assert found - 273.15 == pytest.approx(outlet_C, abs=1e-9)


# Inlet °C, relative humidity, pressure Pa, effectiveness.
PADS = [(35.0, 0.20, 101325.0, 0.8), (40.0, 0.15, 101325.0, 0.6), (30.0, 0.40, 84556.0, 0.9)]


@pytest.mark.published("moist air along a constant wet bulb, CoolProp HAPropsSI and psychrolib")
@pytest.mark.parametrize(("air_C", "relative", "pressure", "effectiveness"), PADS)
def test_humidity_along_the_wet_bulb(air_C, relative, pressure, effectiveness):
    ratio = psychrolib.GetHumRatioFromRelHum(air_C, relative, pressure)
    bulb_C = psychrolib.GetTWetBulbFromHumRatio(air_C, ratio, pressure)
    out_C = air_C - effectiveness * (air_C - bulb_C)
    ideal = psychrolib.GetHumRatioFromTWetBulb(out_C, bulb_C, pressure)
    found = evaporative_humidity(air_C + 273.15, ratio, pressure, effectiveness)
    # The other library solves its wet bulb to 1 mK.
    assert found == pytest.approx(ideal, rel=3e-4)
    # Real gas, from its own wet bulb at the same humidity ratio.
    bulb_K = HAPropsSI("B", "T", air_C + 273.15, "W", ratio, "P", pressure)
    out_K = air_C + 273.15 - effectiveness * (air_C + 273.15 - bulb_K)
    real = HAPropsSI("W", "T", out_K, "B", bulb_K, "P", pressure)
    assert found == pytest.approx(real, rel=0.007)
    volume = HAPropsSI("V", "T", air_C + 273.15, "W", ratio, "P", pressure)
    water = evaporative_water(0.1, air_C + 273.15, ratio, pressure, effectiveness)
    assert water == pytest.approx(0.1 / volume * (real - ratio), rel=0.02)


@quick
@given(st.floats(283.15, 320.0), st.floats(0.0005, 0.03), st.floats(0.0, 1.0))
def test_the_pad_takes_no_heat_but_the_water_s(air_K, ratio, effectiveness):
    # Adiabatic: the air's enthalpy rises by that of the water supplied at the wet bulb.
    bulb = wet_bulb(air_K, ratio, 101325.0)
    assume(bulb >= 273.16)
    out_K = evaporative_outlet(air_K, bulb, effectiveness)
    out = evaporative_humidity(air_K, ratio, 101325.0, effectiveness)
    supplied = (out - ratio) * liquid_enthalpy(bulb)
    assert enthalpy(out_K, out) - enthalpy(air_K, ratio) == pytest.approx(supplied, abs=0.5)


def test_range():
    assert np.isnan(evaporation_heat(np.array([270.0, 380.0, math.nan]))).all()
    assert np.isnan(evaporation_rate(-1.0, 300.0))
    assert np.isnan(evaporative_outlet(300.0, np.array([301.0, 0.0]), 0.8)).all()
    assert np.isnan(evaporative_outlet(300.0, 290.0, np.array([-0.1, 1.1]))).all()
    assert np.isnan(evaporative_humidity(np.array([270.0, 330.0]), 0.005, 101325.0, 0.8)).all()
    # More water than saturated air holds, and a wet bulb below freezing.
    assert np.isnan(evaporative_humidity(293.15, 0.02, 101325.0, 0.8))
    assert np.isnan(evaporative_humidity(276.15, 0.0005, 101325.0, 0.8))
    assert np.isnan(evaporative_water(-0.1, 308.15, 0.007, 101325.0, 0.8))
