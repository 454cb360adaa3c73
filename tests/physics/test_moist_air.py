"""Moist air against handbook tables, worked examples, CoolProp (real gas) and psychrolib."""

import fluids
import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from coldwright.physics import moist_air as air
from coldwright.physics.compiled import stated_error

ATMOSPHERE_PA = 101325.0
quick = settings(deadline=None)
temperatures_K = st.floats(233.15, 333.15)
humidities = st.floats(0.0, 1.0)
pressures_Pa = st.floats(70e3, 106e3)


@pytest.fixture(autouse=True)
def _si_units():
    psychrolib.SetUnitSystem(psychrolib.SI)


# ASHRAE Fundamentals 2021 (SI), chapter 1, equation 3 (standard atmosphere).
STANDARD_ATMOSPHERE = [
    (0.0, 101325.0),
    (500.0, 95460.8),
    (1000.0, 89874.5),
    (1500.0, 84555.9),
    (2000.0, 79495.1),
    (2500.0, 74682.4),
    (3000.0, 70108.4),
]


@pytest.mark.published("ISO 2533 standard atmosphere; ASHRAE Fundamentals ch. 1 eq. 3")
@pytest.mark.parametrize(("altitude_m", "expected_Pa"), STANDARD_ATMOSPHERE)
def test_standard_pressure(altitude_m, expected_Pa):
    assert air.standard_pressure(altitude_m) == pytest.approx(expected_Pa, rel=2e-4)
    assert air.standard_pressure(altitude_m) == pytest.approx(
        fluids.ATMOSPHERE_1976(altitude_m).P, rel=1e-3
    )


# ASHRAE Fundamentals 2021 (SI), chapter 1, table 2: saturated moist air (real gas) at 101.325 kPa.
# °C, kg/kg, m3/kg, J/kg
ASHRAE_TABLE_2 = [
    (10.0, 0.0076627, 0.8116, 29354.0),
    (25.0, 0.020173, 0.8716, 76503.0),
    (35.0, 0.036760, 0.9241, 129460.0),
]


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 1, table 2")
@pytest.mark.parametrize(("celsius", "ratio", "volume", "enthalpy_J_kg"), ASHRAE_TABLE_2)
def test_saturated_air_table(celsius, ratio, volume, enthalpy_J_kg):
    # Ideal gases leave out the enhancement factor: W comes out 0.3 to 0.5 % low.
    temperature_K = celsius + 273.15
    found = air.humidity_ratio_saturated(temperature_K, ATMOSPHERE_PA)
    assert found == pytest.approx(ratio, rel=6e-3)
    assert air.specific_volume(temperature_K, found, ATMOSPHERE_PA) == pytest.approx(
        volume, rel=1e-3
    )
    assert air.enthalpy(temperature_K, found) == pytest.approx(enthalpy_J_kg, rel=4e-3)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 1, worked example 1; CoolProp")
def test_worked_example_dry_and_wet_bulb():
    # 40 °C dry, 20 °C wet: read off the chart 6.5 g/kg, 56.7 kJ/kg, 7 °C, 14 %, 0.896 m3/kg;
    # real gas 6.45 g/kg, 56.86 kJ/kg, 7.49 °C, 14.02 %, 0.8961 m3/kg.
    dry_K, wet_K = 313.15, 293.15
    ratio = air.humidity_ratio_from_wet_bulb(dry_K, wet_K, ATMOSPHERE_PA)
    assert ratio == pytest.approx(0.00645, rel=0.01)
    assert ratio == pytest.approx(0.0065, rel=0.02)
    assert air.enthalpy(dry_K, ratio) == pytest.approx(56860.0, rel=3e-3)
    assert air.dew_point(ratio, ATMOSPHERE_PA) - 273.15 == pytest.approx(7.49, abs=0.15)
    assert air.relative_humidity(dry_K, ratio, ATMOSPHERE_PA) == pytest.approx(0.1402, abs=1e-3)
    assert air.specific_volume(dry_K, ratio, ATMOSPHERE_PA) == pytest.approx(0.8961, rel=5e-4)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 1, worked example 2")
def test_worked_example_heating():
    # 10 m3/s saturated at 2 °C heated to 40 °C: 490 kW; W 4.38 g/kg, h 13.0 and 51.5 kJ/kg, 0.785.
    ratio = air.humidity_ratio_saturated(275.15, ATMOSPHERE_PA)
    volume = air.specific_volume(275.15, ratio, ATMOSPHERE_PA)
    gained = air.enthalpy(313.15, ratio) - air.enthalpy(275.15, ratio)
    assert ratio == pytest.approx(0.00438, rel=6e-3)
    assert volume == pytest.approx(0.785, rel=1e-3)
    assert air.enthalpy(275.15, ratio) == pytest.approx(13000.0, abs=60.0)
    assert air.enthalpy(313.15, ratio) == pytest.approx(51500.0, abs=100.0)
    assert 10.0 / volume * gained == pytest.approx(490e3, rel=5e-3)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 1, worked example 3; CoolProp")
def test_worked_example_cooling_and_dehumidifying():
    # 5 m3/s at 30 °C 50 %, leaving saturated at 10 °C: 5.70 kg/s, 197 kW (real gas: 198.2 kW).
    entering = air.humidity_ratio_from_relative(303.15, 0.5, ATMOSPHERE_PA)
    leaving = air.humidity_ratio_saturated(283.15, ATMOSPHERE_PA)
    mass_flow = 5.0 / air.specific_volume(303.15, entering, ATMOSPHERE_PA)
    drained = (entering - leaving) * air.liquid_enthalpy(283.15)
    taken = air.enthalpy(303.15, entering) - air.enthalpy(283.15, leaving) - drained
    assert air.liquid_enthalpy(283.15) == pytest.approx(42020.0, rel=5e-3)
    assert mass_flow == pytest.approx(5.70, rel=7e-3)
    assert mass_flow * taken == pytest.approx(197e3, rel=7e-3)
    assert mass_flow * taken == pytest.approx(198.2e3, rel=7e-3)
    assert mass_flow * (entering - leaving) == pytest.approx(0.03238, rel=7e-3)


# CoolProp HAPropsSI (real gas, from ASHRAE RP-1485): °C, RH, Pa, then wet bulb °C, g/kg, kJ/kg,
# m3/kg dry air, dew point °C, kg/m3.
REAL_GAS_STATES = [
    (20.0, 0.50, 101325.0, 13.78, 7.294, 38.62, 0.8399, 9.27, 1.1994),
    (25.0, 0.50, 101325.0, 17.88, 9.926, 50.42, 0.8578, 13.87, 1.1774),
    (27.0, 0.47, 101325.0, 19.01, 10.512, 53.97, 0.8644, 14.74, 1.1691),
    (26.67, 0.51, 101325.0, 19.43, 11.200, 55.38, 0.8643, 15.71, 1.1699),
    (30.0, 0.60, 101325.0, 23.81, 16.116, 71.37, 0.8807, 21.39, 1.1537),
    (35.0, 0.40, 101325.0, 23.93, 14.200, 71.64, 0.8926, 19.39, 1.1362),
    (35.0, 0.20, 101325.0, 18.86, 7.020, 53.22, 0.8826, 8.71, 1.1410),
    (40.0, 0.15, 101325.0, 20.34, 6.908, 58.03, 0.8968, 8.48, 1.1228),
    (10.0, 0.90, 101325.0, 9.16, 6.888, 27.40, 0.8106, 8.44, 1.2421),
    (18.0, 1.00, 101325.0, 18.00, 12.991, 51.01, 0.8416, 18.00, 1.2036),
    (25.0, 0.50, 89875.0, 17.60, 11.209, 53.72, 0.9691, 13.87, 1.0435),
    (35.0, 0.40, 84556.0, 23.40, 17.086, 79.08, 1.0745, 19.39, 0.9465),
]


@pytest.mark.published("CoolProp HAPropsSI (ASHRAE RP-1485)")
@pytest.mark.parametrize(
    ("celsius", "relative", "pressure_Pa", "wet", "g_kg", "kJ_kg", "volume", "dew", "rho"),
    REAL_GAS_STATES,
)
def test_states(celsius, relative, pressure_Pa, wet, g_kg, kJ_kg, volume, dew, rho):
    temperature_K = celsius + 273.15
    ratio = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    assert ratio == pytest.approx(g_kg * 1e-3, rel=6e-3)
    assert air.wet_bulb(temperature_K, ratio, pressure_Pa) - 273.15 == pytest.approx(wet, abs=0.05)
    assert air.enthalpy(temperature_K, ratio) == pytest.approx(kJ_kg * 1e3, abs=300.0)
    assert air.specific_volume(temperature_K, ratio, pressure_Pa) == pytest.approx(volume, rel=5e-4)
    assert air.dew_point(ratio, pressure_Pa) - 273.15 == pytest.approx(dew, abs=0.05)
    assert air.density(temperature_K, ratio, pressure_Pa) == pytest.approx(rho, rel=1e-3)


# Rating states (Regulation (EU) 206/2012, annex II): dry and wet bulb °C, then by CoolProp
# g/kg, RH, kJ/kg, dew point °C.
RATING_STATES = [
    (27.0, 19.0, 10.506, 0.4697, 53.95, 14.73),
    (35.0, 24.0, 14.310, 0.4030, 71.92, 19.51),
]


@pytest.mark.published("CoolProp HAPropsSI at the states of Regulation (EU) 206/2012, annex II")
@pytest.mark.parametrize(("dry", "wet", "g_kg", "relative", "kJ_kg", "dew"), RATING_STATES)
def test_rating_states(dry, wet, g_kg, relative, kJ_kg, dew):
    dry_K = dry + 273.15
    ratio = air.humidity_ratio_from_wet_bulb(dry_K, wet + 273.15, ATMOSPHERE_PA)
    assert ratio == pytest.approx(g_kg * 1e-3, rel=6e-3)
    assert air.relative_humidity(dry_K, ratio, ATMOSPHERE_PA) == pytest.approx(relative, abs=1e-3)
    assert air.enthalpy(dry_K, ratio) == pytest.approx(kJ_kg * 1e3, abs=300.0)
    assert air.dew_point(ratio, ATMOSPHERE_PA) - 273.15 == pytest.approx(dew, abs=0.1)


@pytest.mark.published("hand calculation with ASHRAE Fundamentals ch. 1 ideal-gas equations")
@pytest.mark.parametrize(
    ("altitude_m", "rho", "heat_W"),
    [(0.0, 1.1770, 143.3), (1000.0, 1.0432, 127.1), (2000.0, 0.9219, 112.5)],
)
def test_thin_air_carries_less(altitude_m, rho, heat_W):
    # 0.02 m3/s at 25 °C and 50 %, cooled by 6 K without condensation.
    pressure_Pa = air.standard_pressure(altitude_m)
    ratio = air.humidity_ratio_from_relative(298.15, 0.5, pressure_Pa)
    mass_flow = 0.02 / air.specific_volume(298.15, ratio, pressure_Pa)
    assert air.density(298.15, ratio, pressure_Pa) == pytest.approx(rho, rel=5e-3)
    assert mass_flow * air.humid_heat(ratio) * 6.0 == pytest.approx(heat_W, rel=5e-3)


# EN ISO 13788 dew-point formula (p = 610.5 exp(17.269 t/(237.3 + t))): °C, RH, dew point °C.
@pytest.mark.published("EN ISO 13788, saturation formula and its inverse")
@pytest.mark.parametrize(
    ("celsius", "relative", "dew"), [(20.0, 0.5, 9.27), (25.0, 0.6, 16.70), (30.0, 0.7, 23.92)]
)
def test_dew_point_of_building_standard(celsius, relative, dew):
    ratio = air.humidity_ratio_from_relative(celsius + 273.15, relative, ATMOSPHERE_PA)
    assert air.dew_point(ratio, ATMOSPHERE_PA) - 273.15 == pytest.approx(dew, abs=0.05)


@pytest.mark.published("psychrolib 2.5 (ASHRAE Fundamentals ch. 1 equations)")
@quick
@given(st.floats(-30.0, 55.0), st.floats(0.02, 1.0), pressures_Pa)
def test_same_equations_as_psychrolib(celsius, relative, pressure_Pa):
    temperature_K = celsius + 273.15
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, relative, pressure_Pa)
    assume(ratio > 1e-6)  # below, that library clips
    found = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    assert found == pytest.approx(ratio, rel=1e-6)
    assert air.vapour_pressure(ratio, pressure_Pa) == pytest.approx(
        psychrolib.GetVapPresFromHumRatio(ratio, pressure_Pa), rel=1e-9
    )
    assert air.enthalpy(temperature_K, ratio) == pytest.approx(
        psychrolib.GetMoistAirEnthalpy(celsius, ratio), rel=1e-9, abs=1e-6
    )
    assert air.temperature_at_enthalpy(
        psychrolib.GetMoistAirEnthalpy(celsius, ratio), ratio
    ) == pytest.approx(temperature_K, abs=1e-6)
    assert air.specific_volume(temperature_K, ratio, pressure_Pa) == pytest.approx(
        psychrolib.GetMoistAirVolume(celsius, ratio, pressure_Pa), rel=1e-5
    )
    assert air.density(temperature_K, ratio, pressure_Pa) == pytest.approx(
        psychrolib.GetMoistAirDensity(celsius, ratio, pressure_Pa), rel=1e-5
    )


@pytest.mark.published("psychrolib 2.5 (its own iterations stop at 1 mK)")
@quick
@given(st.floats(-30.0, 55.0), st.floats(0.02, 1.0), pressures_Pa)
def test_iterated_states_agree_with_psychrolib(celsius, relative, pressure_Pa):
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, relative, pressure_Pa)
    assume(ratio > 1e-6)
    dew = psychrolib.GetTDewPointFromHumRatio(celsius, ratio, pressure_Pa)
    assert air.dew_point(ratio, pressure_Pa) - 273.15 == pytest.approx(dew, abs=2e-3)
    wet = psychrolib.GetTWetBulbFromHumRatio(celsius, ratio, pressure_Pa)
    found = air.wet_bulb(celsius + 273.15, ratio, pressure_Pa) - 273.15
    # Near 0 °C a bulb may be wet or iced and reads two values for one air; that library may take
    # the iced one, we take the wet. Ours must solve its equation in any case.
    assume(not 0.0 < found < 0.011)  # there it reckons with water, we with ice
    back = psychrolib.GetHumRatioFromTWetBulb(celsius, min(found, celsius), pressure_Pa)
    assert back == pytest.approx(ratio, abs=1e-9)
    if (wet < 0.0) == (found < 0.0):
        assert found == pytest.approx(wet, abs=3e-3)


@pytest.mark.published("CoolProp HAPropsSI (ASHRAE RP-1485)")
@pytest.mark.parametrize("pressure_Pa", [80e3, 101325.0])
@pytest.mark.parametrize("celsius", [-40.0, -15.0, -2.0, 3.0, 20.0, 35.0, 50.0])
@pytest.mark.parametrize("relative", [0.15, 0.6, 1.0])
def test_stated_errors_against_real_gas(celsius, relative, pressure_Pa):
    T = celsius + 273.15
    state = ("T", T, "R", relative, "P", pressure_Pa)
    ratio = HAPropsSI("W", *state)
    # Of an enthalpy only differences mean anything, hence 100 J/kg (0.1 K of air) beside the share.
    for law, arguments, key, floor in (
        (air.humidity_ratio_from_relative, (T, relative, pressure_Pa), "W", 0.0),
        (air.relative_humidity, (T, ratio, pressure_Pa), "R", 0.0),
        (air.dew_point, (ratio, pressure_Pa), "D", 0.0),
        (air.specific_volume, (T, ratio, pressure_Pa), "Vda", 0.0),
        (air.enthalpy, (T, ratio), "Hda", 100.0),
        (air.humid_heat, (ratio,), "cp", 0.0),
    ):
        real = HAPropsSI(key, *state)
        assert law(*arguments) == pytest.approx(real, rel=stated_error(law), abs=floor), key
    density = (1.0 + ratio) / HAPropsSI("Vda", *state)
    assert air.density(T, ratio, pressure_Pa) == pytest.approx(
        density, rel=stated_error(air.density)
    )


@pytest.mark.published("CoolProp HAPropsSI (ASHRAE RP-1485)")
@pytest.mark.parametrize("celsius", [3.0, 20.0, 35.0, 50.0])
@pytest.mark.parametrize("relative", [0.15, 0.6, 1.0])
def test_wet_bulb_against_real_gas(celsius, relative):
    T = celsius + 273.15
    real = HAPropsSI("W", "T", T, "R", relative, "P", ATMOSPHERE_PA)
    saturated = air.humidity_ratio_saturated(T, ATMOSPHERE_PA)
    wet_K = HAPropsSI("B", "T", T, "R", relative, "P", ATMOSPHERE_PA)
    found_K = air.wet_bulb(T, min(real, saturated), ATMOSPHERE_PA)
    assert found_K == pytest.approx(wet_K, rel=stated_error(air.wet_bulb))


@pytest.mark.published("IAPWS-95 by CoolProp")
def test_liquid_enthalpy_of_water():
    for celsius in (5.0, 10.0, 20.0, 40.0, 70.0, 100.0):
        real = PropsSI("H", "T", celsius + 273.15, "Q", 0, "Water")
        assert air.liquid_enthalpy(celsius + 273.15) == pytest.approx(real, rel=5e-3)


def _fog_by_hand(enthalpy_J_kg, water_ratio, pressure_Pa):
    """Energy balance with psychrolib's saturated air and water at 4.186 kJ/(kg K)."""

    def misfit(celsius):
        saturated = psychrolib.GetSatHumRatio(celsius, pressure_Pa)
        in_air = psychrolib.GetMoistAirEnthalpy(celsius, saturated)
        return in_air + (water_ratio - saturated) * 4186.0 * celsius - enthalpy_J_kg

    return brentq(misfit, -60.0, 90.0, xtol=1e-12) + 273.15


@pytest.mark.published("first law over psychrolib's saturated air; root by scipy.optimize.brentq")
@pytest.mark.parametrize(
    ("celsius", "water_ratio", "pressure_Pa"),
    [(20.0, 0.020, 101325.0), (5.0, 0.012, 101325.0), (25.0, 0.05, 85000.0), (-20.0, 0.003, 9e4)],
)
def test_fog_temperature_closes_the_energy_balance(celsius, water_ratio, pressure_Pa):
    # A supersaturated mixture at this temperature, all of it vapour, turns to fog.
    enthalpy_J_kg = psychrolib.GetMoistAirEnthalpy(celsius, water_ratio)
    found_K = air.fog_temperature(enthalpy_J_kg, water_ratio, pressure_Pa)
    expected_K = _fog_by_hand(enthalpy_J_kg, water_ratio, pressure_Pa)
    assert found_K == pytest.approx(expected_K, abs=1e-6)
    assert found_K > celsius + 273.15  # condensing warms it


@quick
@given(st.floats(175.0, 333.0), st.floats(1.0, 1.5), pressures_Pa)
def test_fog_keeps_energy_and_lies_below_the_dew_point(temperature_K, surplus, pressure_Pa):
    water = float(air.humidity_ratio_saturated(temperature_K, pressure_Pa)) * surplus
    total = float(air.enthalpy(temperature_K, water))
    fog_K = float(air.fog_temperature(total, water, pressure_Pa))
    vapour = float(air.humidity_ratio_saturated(fog_K, pressure_Pa))
    t = fog_K - 273.15
    kept = 1006.0 * t + vapour * (2501000.0 + 1860.0 * t) + (water - vapour) * 4186.0 * t
    # 1e-10 K times a slope of at most some 20 kJ/(kg K), plus rounding of h itself.
    assert kept == pytest.approx(total, abs=5e-6)
    assert temperature_K - 1e-6 <= fog_K <= air.dew_point(water, pressure_Pa) + 1e-6


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_no_fog_without_surplus_water():
    ratio = float(air.humidity_ratio_from_relative(298.15, 0.6, ATMOSPHERE_PA))
    assert np.isnan(air.fog_temperature(air.enthalpy(298.15, ratio), ratio, ATMOSPHERE_PA))


@quick
@given(temperatures_K, st.floats(0.001, 1.0), pressures_Pa)
def test_round_trips(temperature_K, relative, pressure_Pa):
    ratio = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    assert air.relative_humidity(temperature_K, ratio, pressure_Pa) == pytest.approx(relative)
    pressure = air.vapour_pressure(ratio, pressure_Pa)
    assert air.humidity_ratio_from_vapour(pressure, pressure_Pa) == pytest.approx(ratio, rel=1e-12)
    total = air.enthalpy(temperature_K, ratio)
    assert air.temperature_at_enthalpy(total, ratio) == pytest.approx(temperature_K, abs=1e-9)
    dew_K = air.dew_point(ratio, pressure_Pa)
    assert air.humidity_ratio_saturated(dew_K, pressure_Pa) == pytest.approx(ratio, rel=1e-9)


@quick
@given(temperatures_K, humidities, pressures_Pa)
def test_wet_bulb_inverts_its_equation(temperature_K, relative, pressure_Pa):
    ratio = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    wet_K = air.wet_bulb(temperature_K, ratio, pressure_Pa)
    assert wet_K <= temperature_K
    back = air.humidity_ratio_from_wet_bulb(temperature_K, wet_K, pressure_Pa)
    # 1e-9 K of wet bulb is some 1e-11 kg/kg here; a driest state may round to just below zero.
    assert back == pytest.approx(ratio, abs=1e-11) or (np.isnan(back) and ratio < 1e-11)


@quick
@given(temperatures_K, st.floats(0.02, 1.0), pressures_Pa)
def test_order_of_dew_point_wet_and_dry_bulb(temperature_K, relative, pressure_Pa):
    ratio = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    dew_K = air.dew_point(ratio, pressure_Pa)
    wet_K = air.wet_bulb(temperature_K, ratio, pressure_Pa)
    # Supercooled wet bulbs are read against water, the frost point against ice: a few mK apart.
    assert dew_K - 0.02 <= wet_K <= temperature_K


@quick
@given(temperatures_K, st.floats(0.0, 0.98), pressures_Pa)
def test_damper_air_is_lighter_and_richer(temperature_K, relative, pressure_Pa):
    drier = air.humidity_ratio_from_relative(temperature_K, relative, pressure_Pa)
    damper = air.humidity_ratio_from_relative(temperature_K, relative + 0.02, pressure_Pa)
    assert damper > drier
    assert air.enthalpy(temperature_K, damper) > air.enthalpy(temperature_K, drier)
    assert air.density(temperature_K, damper, pressure_Pa) < air.density(
        temperature_K, drier, pressure_Pa
    )
    assert air.wet_bulb(temperature_K, damper, pressure_Pa) > air.wet_bulb(
        temperature_K, drier, pressure_Pa
    )


@pytest.mark.filterwarnings("ignore:.* encountered in")
@pytest.mark.parametrize(
    ("law", "inside", "outside"),
    [
        (air.standard_pressure, (0.0,), [(-5001.0,), (11001.0,)]),
        (air.humidity_ratio_from_vapour, (1e3, 1e5), [(-1.0, 1e5), (1e5, 1e5), (2e5, 1e5)]),
        (air.vapour_pressure, (0.01, 1e5), [(-0.01, 1e5), (0.01, 0.0)]),
        (air.humidity_ratio_saturated, (300.0, 1e5), [(170.0, 1e5), (480.0, 1e7), (380.0, 1e5)]),
        (
            air.humidity_ratio_from_relative,
            (300.0, 0.5, 1e5),
            [(300.0, -0.1, 1e5), (300.0, 1.01, 1e5), (480.0, 0.5, 1e7), (390.0, 0.9, 1e5)],
        ),
        (
            air.relative_humidity,
            (300.0, 0.01, 1e5),
            [(300.0, -0.01, 1e5), (480.0, 0.01, 1e5), (300.0, 0.01, -1.0)],
        ),
        (air.enthalpy, (300.0, 0.01), [(170.0, 0.01), (480.0, 0.01), (300.0, -0.01)]),
        (air.temperature_at_enthalpy, (5e4, 0.01), [(5e4, -0.01), (1e6, 0.01), (-2e5, 0.01)]),
        (air.humid_heat, (0.01,), [(-0.01,)]),
        (air.liquid_enthalpy, (300.0,), [(170.0,), (374.0,)]),
        (
            air.specific_volume,
            (300.0, 0.01, 1e5),
            [(170.0, 0.01, 1e5), (300.0, -0.01, 1e5), (300.0, 0.01, 0.0)],
        ),
        (air.density, (300.0, 0.01, 1e5), [(480.0, 0.01, 1e5), (300.0, 0.01, -1.0)]),
        (air.dew_point, (0.01, 1e5), [(0.0, 1e5), (-0.01, 1e5), (0.01, 0.0), (1e-9, 1e5)]),
        (
            air.wet_bulb,
            (300.0, 0.01, 1e5),
            [(300.0, 0.03, 1e5), (300.0, -0.01, 1e5), (220.0, 0.0, 1e5), (300.0, 0.01, 500.0)],
        ),
        (
            air.humidity_ratio_from_wet_bulb,
            (300.0, 290.0, 1e5),
            [(300.0, 301.0, 1e5), (300.0, 270.0, 1e5), (380.0, 300.0, 1e5)],
        ),
        (
            air.fog_temperature,
            (6e4, 0.02, 1e5),
            [(6e4, -0.01, 1e5), (6e4, 0.005, 1e5), (1e6, 0.02, 1e5), (-2e5, 0.02, 1e5)],
        ),
    ],
)
def test_range_shape_and_missing_values(law, inside, outside):
    assert np.isfinite(law(*inside))
    for arguments in outside:
        assert np.isnan(law(*arguments)), arguments
    for place in range(len(inside)):
        missing = list(inside)
        missing[place] = np.nan
        assert np.isnan(law(*missing))
    column = np.full((3, 1), inside[0])
    row = [np.full((1, 2), value) for value in inside[1:]]
    shape = (3, 2) if row else (3, 1)
    assert law(column, *row).shape == shape
    assert law(column, *row) == pytest.approx(np.full(shape, law(*inside)), rel=1e-14)
