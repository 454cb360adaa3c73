"""Saturation pressure against tables and other formulations."""

import math

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.saturation import (
    TRIPLE_POINT_K,
    TRIPLE_POINT_PA,
    saturation_pressure,
    saturation_pressure_ice,
    saturation_pressure_water,
    saturation_temperature,
)

quick = settings(deadline=None)


# ASHRAE Handbook Fundamentals 2017 (SI), chapter 1, table 3, read through the table quoted in the
# test suite of the library psychrolib.
ASHRAE_TABLE_3 = [
    # °C, Pa, half a unit of the last printed digit (cold) or 0.03 % (the table follows IAPWS)
    (-60.0, 1.08, 0.005),
    (-20.0, 103.24, 0.03),
    (-5.0, 401.74, 0.1),
    (5.0, 872.6, 0.27),
    (25.0, 3169.7, 0.96),
    (50.0, 12351.3, 3.8),
    (100.0, 101418.0, 31.0),
    (150.0, 476101.4, 143.0),
]


@pytest.mark.published("ASHRAE Fundamentals 2017 (SI), chapter 1, table 3")
@pytest.mark.parametrize(("celsius", "expected_Pa", "within_Pa"), ASHRAE_TABLE_3)
def test_saturation_pressure_in_handbook_table(celsius, expected_Pa, within_Pa):
    assert saturation_pressure(celsius + 273.15) == pytest.approx(expected_Pa, abs=within_Pa)


# Hyland and Wexler's own values, computed independently from the handbook's coefficients, and
# IAPWS-95 beside them.
HYLAND_WEXLER = [
    (-10.0, 259.90, None),
    (5.0, 872.49, 872.58),
    (15.0, 1705.45, 1705.79),
    (25.0, 3169.22, 3169.93),
    (35.0, 5627.82, 5629.02),
    (50.0, 12349.9, 12352.0),
]


@pytest.mark.published("Hyland and Wexler 1983 (ASHRAE Fundamentals ch. 1 eq. 5, 6); IAPWS-95")
@pytest.mark.parametrize(("celsius", "hyland_wexler_Pa", "iapws_Pa"), HYLAND_WEXLER)
def test_saturation_pressure_agrees_with_both_formulations(celsius, hyland_wexler_Pa, iapws_Pa):
    found_Pa = saturation_pressure(celsius + 273.15)
    # The same equation: agreement to the digits given. Another equation: to its known 0.03 %.
    assert found_Pa == pytest.approx(hyland_wexler_Pa, rel=2e-5)
    if iapws_Pa is not None:
        assert found_Pa == pytest.approx(iapws_Pa, rel=1e-3)


@pytest.mark.published("IAPWS R6-95 by CoolProp")
def test_water_within_stated_error_of_iapws_over_its_range():
    temperature_K = np.linspace(TRIPLE_POINT_K, 473.15, 60)
    reference_Pa = [PropsSI("P", "T", T, "Q", 0, "Water") for T in temperature_K]
    assert saturation_pressure_water(temperature_K) == pytest.approx(reference_Pa, rel=5e-4)


@pytest.mark.published("IAPWS R7-97 (IF97), table 35")
def test_water_agrees_with_if97_table():
    assert saturation_pressure_water(300.0) == pytest.approx(3536.58941, rel=5e-4)


@pytest.mark.published("IAPWS R7-97 (IF97), table 36")
@pytest.mark.parametrize(("pressure_Pa", "expected_K"), [(0.1e6, 372.755919), (1.0e6, 453.035632)])
def test_saturation_temperature_agrees_with_if97_table(pressure_Pa, expected_K):
    # The stated 0.01 % of the temperature; the two IAPWS formulations themselves part by 8 mK.
    assert saturation_temperature(pressure_Pa) == pytest.approx(expected_K, rel=1e-4)


@pytest.mark.published("Murphy and Koop 2005, eq. 7 (coefficients from memory)")
def test_ice_within_stated_error_of_murphy_and_koop():
    T = np.linspace(173.15, 273.15, 60)
    reference_Pa = np.exp(9.550426 - 5723.265 / T + 3.53068 * np.log(T) - 0.00728332 * T)
    assert saturation_pressure_ice(T) == pytest.approx(reference_Pa, rel=1e-3)


@pytest.mark.published("IAPWS R6-95: triple point 273.16 K, 611.655 Pa")
def test_branches_meet_at_the_triple_point():
    over_ice = float(saturation_pressure_ice(TRIPLE_POINT_K))
    over_water = float(saturation_pressure_water(TRIPLE_POINT_K))
    assert over_ice == pytest.approx(over_water, rel=1e-7)
    assert over_water == pytest.approx(611.655, rel=1e-5)
    assert pytest.approx(over_water, rel=1e-7) == TRIPLE_POINT_PA


@quick
@given(st.floats(173.15, 473.0), st.floats(0.001, 0.15))
def test_warmer_means_higher_pressure(temperature_K, step_K):
    assert saturation_pressure(temperature_K + step_K) > saturation_pressure(temperature_K)


@quick
@given(st.floats(173.15, 473.15))
def test_temperature_and_pressure_are_inverse(temperature_K):
    back_K = saturation_temperature(saturation_pressure(temperature_K))
    assert back_K == pytest.approx(
        temperature_K, abs=1e-6 if abs(temperature_K - 273.16) < 1e-6 else 1e-9
    )


@pytest.mark.filterwarnings("ignore:.* encountered in")
@pytest.mark.parametrize(
    ("law", "inside", "outside"),
    [
        (saturation_pressure_water, (273.15, 473.15), (273.14, 473.16)),
        (saturation_pressure_ice, (173.15, 273.16), (173.14, 273.17)),
        (saturation_pressure, (173.15, 473.15), (173.14, 473.16)),
        (saturation_temperature, (0.0015, 1.5e6), (0.0, -1.0, 1e-4, 1.9e6, math.inf)),
    ],
)
def test_range_shape_and_missing_values(law, inside, outside):
    assert np.isfinite(law(np.array(inside))).all()
    assert np.isnan(law(np.array([*outside, np.nan]))).all()
    assert law(np.full((2, 3), inside[0])).shape == (2, 3)
