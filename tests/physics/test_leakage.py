"""Leakage by the power law: definitions, hand calculations, round trips."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.leakage import (
    coefficient_from_area,
    depressurisation,
    effective_leakage_area,
    exhaust_allowance,
    largest_exhaust,
    leakage_coefficient_n50,
    natural_air_changes,
    power_law_flow,
    power_law_pressure,
)

quick = settings(deadline=None)
exponents = st.floats(0.5, 1.0)

# A place of 30 m3 with 5 air changes per hour at 50 Pa and n = 0.65, worked by hand:
# Q50 = 150 m3/h; dp = 50 (Q/Q50)**(1/0.65).
UNDER_PRESSURE = [(50.0, 9.22), (100.0, 26.8), (150.0, 50.0)]


@pytest.mark.published("power law of ASHRAE Fundamentals ch. 16; n50 of EN ISO 9972; by hand")
@pytest.mark.parametrize(("flow_m3_h", "expected_Pa"), UNDER_PRESSURE)
def test_exhaust_fan_in_a_small_room(flow_m3_h, expected_Pa):
    coefficient = leakage_coefficient_n50(5.0, 30.0, 0.65)
    flow = flow_m3_h / 3600.0
    assert power_law_pressure(flow, coefficient, 0.65) == pytest.approx(expected_Pa, rel=3e-3)
    assert depressurisation(flow, 150.0 / 3600.0, 0.65) == pytest.approx(expected_Pa, rel=3e-3)


@pytest.mark.published("effective leakage area of ASHRAE Fundamentals ch. 16; by hand")
def test_leakage_area_of_a_small_room():
    coefficient = leakage_coefficient_n50(5.0, 30.0, 0.65)
    assert effective_leakage_area(coefficient, 0.65, 1.2) == pytest.approx(31.25e-4, rel=3e-3)


@pytest.mark.published("Sherman 1987: natural air changes are n50 / 20")
def test_natural_rule():
    assert natural_air_changes(5.0) == pytest.approx(0.25, rel=1e-12)


@pytest.mark.published("EN ISO 9972, definition of n50")
@quick
@given(st.floats(0.1, 50.0), st.floats(0.1, 1000.0), exponents)
def test_n50_is_the_air_change_rate_at_50_Pa(n50_per_h, volume_m3, exponent):
    coefficient = leakage_coefficient_n50(n50_per_h, volume_m3, exponent)
    per_hour = power_law_flow(50.0, coefficient, exponent) * 3600.0 / volume_m3
    assert per_hour == pytest.approx(n50_per_h, rel=1e-12)


@pytest.mark.published("Bernoulli's equation: the ideal nozzle at 4 Pa")
@quick
@given(st.floats(1e-4, 1.0), exponents, st.floats(0.9, 1.4))
def test_area_is_that_of_an_ideal_nozzle_at_4_Pa(area_m2, exponent, density_kg_m3):
    coefficient = coefficient_from_area(area_m2, exponent, density_kg_m3)
    speed = power_law_flow(4.0, coefficient, exponent) / area_m2
    assert 0.5 * density_kg_m3 * speed**2 == pytest.approx(4.0, rel=1e-12)
    back = effective_leakage_area(coefficient, exponent, density_kg_m3)
    assert back == pytest.approx(area_m2, rel=1e-12)


@quick
@given(st.floats(-200.0, 200.0), st.floats(1e-4, 1.0), exponents)
def test_flow_is_odd_and_invertible(pressure_Pa, coefficient, exponent):
    flow = power_law_flow(pressure_Pa, coefficient, exponent)
    assert power_law_flow(-pressure_Pa, coefficient, exponent) == -flow
    back = power_law_pressure(flow, coefficient, exponent)
    assert back == pytest.approx(pressure_Pa, rel=1e-9, abs=1e-12)


@quick
@given(st.floats(0.0, 100.0), st.floats(0.01, 10.0), exponents)
def test_more_pressure_more_flow(pressure_Pa, step_Pa, exponent):
    more = power_law_flow(pressure_Pa + step_Pa, 0.05, exponent)
    assert more > power_law_flow(pressure_Pa, 0.05, exponent)


def test_a_sealed_place_lets_nothing_through():
    assert power_law_flow(50.0, 0.0, 0.65) == 0.0
    assert math.isnan(power_law_pressure(0.01, 0.0, 0.65))


@pytest.mark.filterwarnings("ignore:.* encountered in")
@pytest.mark.parametrize(
    ("law", "inside", "outside"),
    [
        (
            power_law_flow,
            (10.0, 0.05, 0.65),
            [(10.0, -0.1, 0.65), (1.0, 0.05, 0.4), (1.0, 0.05, 1.1)],
        ),
        (
            power_law_pressure,
            (0.1, 0.05, 0.65),
            [(0.1, 0.0, 0.65), (0.1, 0.05, 0.4), (0.1, 0.05, 2.0)],
        ),
        (
            leakage_coefficient_n50,
            (5.0, 30.0, 0.65),
            [(-5.0, 30.0, 0.65), (5.0, 0.0, 0.65), (5.0, 30.0, 0.4)],
        ),
        (
            coefficient_from_area,
            (0.01, 0.65, 1.2),
            [(-0.01, 0.65, 1.2), (0.01, 0.4, 1.2), (0.01, 0.65, 0.0)],
        ),
        (
            effective_leakage_area,
            (0.05, 0.65, 1.2),
            [(-0.05, 0.65, 1.2), (0.05, 1.1, 1.2), (0.05, 0.65, 0.0)],
        ),
        (depressurisation, (0.01, 0.04, 0.65), [(0.01, 0.0, 0.65), (0.01, 0.04, 0.4)]),
        (largest_exhaust, (2.0, 0.4, 0.65), [(-1.0, 0.4, 0.65), (2.0, 0.0, 0.65), (2.0, 0.4, 2.0)]),
        (exhaust_allowance, (100.0, 1e-3), [(-1.0, 1e-3), (100.0, -1e-3)]),
        (natural_air_changes, (5.0,), [(-1.0,)]),
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
    assert law(column, *row).shape == ((3, 2) if row else (3, 1))
