"""Radiation between surfaces against tables, hand calculation and a radiosity balance."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.constants import Stefan_Boltzmann

from coldwright.physics.radiation import (
    STEFAN_BOLTZMANN_W_M2K4,
    effective_emissivity,
    effective_emissivity_enclosed,
    radiant_coefficient,
    radiant_flux_plates,
)

quick = settings(deadline=None)
emissivities = st.floats(0.02, 1.0)


@pytest.mark.published("CODATA, by scipy.constants")
def test_constant():
    assert pytest.approx(Stefan_Boltzmann, rel=1e-9) == STEFAN_BOLTZMANN_W_M2K4


@pytest.mark.published("EN ISO 6946, table of h_r0 (from memory; 5.1 at 10 °C, 5.7 at 20 °C)")
@pytest.mark.parametrize(
    ("celsius", "expected"), [(-10.0, 4.1), (0.0, 4.6), (10.0, 5.1), (20.0, 5.7)]
)
def test_black_body_coefficient(celsius, expected):
    # The table prints one decimal.
    assert radiant_coefficient(celsius + 273.15) == pytest.approx(expected, abs=0.051)


# ASHRAE Fundamentals 2021 (SI), chapter 26, table 2: emissivity of one face, and that of a gap
# whose other face has 0.9.
@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 26, table 2")
@pytest.mark.parametrize(
    ("face", "gap"),
    [
        (0.05, 0.05),
        (0.30, 0.29),
        (0.70, 0.65),
        (0.12, 0.12),
        (0.25, 0.24),
        (0.50, 0.47),
        (0.90, 0.82),
    ],
)
def test_effective_emissivity_of_gaps(face, gap):
    assert effective_emissivity(face, 0.9) == pytest.approx(gap, abs=0.0051)


# Plates at 30 and 10 °C by hand: sigma (303.15**4 - 283.15**4) = 114.4 W/m2, times E.
@pytest.mark.published("Stefan-Boltzmann law with the CODATA constant, by hand")
@pytest.mark.parametrize(("first", "second", "expected"), [(0.9, 0.9, 93.6), (0.9, 0.05, 5.69)])
def test_flux_between_plates(first, second, expected):
    assert radiant_flux_plates(283.15, 303.15, first, second) == pytest.approx(expected, rel=2e-3)


@quick
@given(st.floats(250.0, 350.0), st.floats(0.1, 20.0), emissivities, emissivities)
def test_linearised_coefficient_is_close_for_small_differences(mean_K, half_K, first, second):
    exact = radiant_flux_plates(mean_K - half_K, mean_K + half_K, first, second)
    linear = effective_emissivity(first, second) * radiant_coefficient(mean_K) * 2.0 * half_K
    # Exactly (half/mean)**2 of difference, by expanding the fourth powers.
    assert exact / linear - 1.0 == pytest.approx((half_K / mean_K) ** 2, abs=1e-9)


@quick
@given(emissivities, emissivities)
def test_symmetry_and_limits(first, second):
    factor = effective_emissivity(first, second)
    assert factor == pytest.approx(effective_emissivity(second, first), rel=1e-12)
    assert factor <= min(first, second) + 1e-12
    assert effective_emissivity_enclosed(first, second, 1.0) == pytest.approx(factor, rel=1e-12)
    assert effective_emissivity_enclosed(first, second, 0.0) == pytest.approx(first, rel=1e-12)


@pytest.mark.published("radiosity method (Incropera et al.), linear system solved by numpy")
@pytest.mark.parametrize(
    ("inner", "outer", "ratio"), [(0.9, 0.3, 0.5), (0.1, 0.8, 0.9), (0.6, 0.6, 0.1)]
)
def test_enclosed_body_by_radiosity(inner, outer, ratio):
    # Black emission 1 of the inner and 0 of the outer body; the outer sees the inner with `ratio`.
    system = np.array(
        [[1.0, -(1 - inner)], [-(1 - outer) * ratio, 1.0 - (1 - outer) * (1 - ratio)]]
    )
    radiosity = np.linalg.solve(system, [inner, 0.0])
    net = radiosity[0] - radiosity[1]
    assert effective_emissivity_enclosed(inner, outer, ratio) == pytest.approx(net, rel=1e-12)


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_range_and_shape():
    assert np.isnan(radiant_coefficient(np.array([0.0, -1.0, np.nan]))).all()
    assert np.isnan(effective_emissivity(np.array([0.0, 1.1, np.nan]), 0.9)).all()
    assert np.isnan(effective_emissivity_enclosed(0.9, 0.9, np.array([-0.1, 1.1, np.nan]))).all()
    assert np.isnan(radiant_flux_plates(np.array([-1.0, np.nan]), 300.0, 0.9, 0.9)).all()
    assert np.isnan(radiant_flux_plates(280.0, 300.0, 0.9, 1.2))
    assert radiant_flux_plates(280.0, 300.0, 0.9, 0.9) == -radiant_flux_plates(
        300.0, 280.0, 0.9, 0.9
    )
    assert radiant_flux_plates(np.full((3, 1), 280.0), np.full(2, 300.0), 0.9, 0.9).shape == (3, 2)
