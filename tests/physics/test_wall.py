"""Walls against the values of EN ISO 6946 and hand calculation."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.wall import (
    HEAT_DOWN,
    HEAT_SIDEWAYS,
    HEAT_UP,
    combined_error,
    combined_resistance,
    film_convection_exterior,
    film_convection_interior,
    film_resistance,
    gap_convection,
    gap_resistance,
    parallel_resistance,
    slab_resistance,
    u_value,
)

quick = settings(deadline=None)
resistances = st.floats(0.05, 10.0)

# EN ISO 6946: printed surface resistances, and the formula worked by hand (emissivity 0.9, 20 °C).
INTERIOR_FILMS = [(HEAT_UP, 0.10, 0.0986), (HEAT_SIDEWAYS, 0.13, 0.1308), (HEAT_DOWN, 0.17, 0.1712)]


@pytest.mark.published("EN ISO 6946, surface resistances")
@pytest.mark.parametrize(("direction", "printed", "by_hand"), INTERIOR_FILMS)
def test_interior_film(direction, printed, by_hand):
    found = film_resistance(film_convection_interior(direction), 0.9, 293.15)
    assert found == pytest.approx(by_hand, rel=0.01)
    assert found == pytest.approx(printed, abs=0.005)


@pytest.mark.published("EN ISO 6946, surface resistances (4 m/s, 10 °C)")
def test_exterior_film():
    found = film_resistance(film_convection_exterior(4.0), 0.9, 283.15)
    assert found == pytest.approx(0.0406, rel=0.01)
    assert found == pytest.approx(0.04, abs=0.005)


# EN ISO 6946, table of unventilated air layers, heat sideways, both faces 0.9, at 10 °C: mm,
# printed, formula by hand.
AIR_LAYERS = [
    (5.0, 0.11, 0.109),
    (7.0, 0.13, 0.128),
    (10.0, 0.15, 0.149),
    (15.0, 0.17, 0.170),
    (25.0, 0.18, 0.183),
    (50.0, 0.18, 0.183),
]


@pytest.mark.published("EN ISO 6946, table of unventilated air layers")
@pytest.mark.parametrize(("thickness_mm", "printed", "by_hand"), AIR_LAYERS)
def test_air_layer(thickness_mm, printed, by_hand):
    found = gap_resistance(thickness_mm * 1e-3, HEAT_SIDEWAYS, 0.9, 0.9, 283.15)
    assert found == pytest.approx(by_hand, rel=0.01)
    assert found == pytest.approx(printed, abs=0.005)


@pytest.mark.published("EN ISO 6946, air layer formula with one bright face, by hand")
@pytest.mark.parametrize(("thickness_mm", "expected"), [(10.0, 0.363), (25.0, 0.664)])
def test_air_layer_with_foil(thickness_mm, expected):
    found = gap_resistance(thickness_mm * 1e-3, HEAT_SIDEWAYS, 0.9, 0.05, 283.15)
    assert found == pytest.approx(expected, rel=0.01)


# EN ISO 6946, the same table, heat upwards and downwards (printed values, from memory).
@pytest.mark.published("EN ISO 6946, table of unventilated air layers (from memory)")
@pytest.mark.parametrize(
    ("thickness_mm", "up", "down"),
    [
        (5.0, 0.11, 0.11),
        (10.0, 0.15, 0.15),
        (25.0, 0.16, 0.19),
        (50.0, 0.16, 0.21),
        (100.0, 0.16, 0.22),
    ],
)
def test_air_layer_up_and_down(thickness_mm, up, down):
    thickness_m = thickness_mm * 1e-3
    # The table prints two decimals.
    assert gap_resistance(thickness_m, HEAT_UP, 0.9, 0.9, 283.15) == pytest.approx(up, abs=0.0051)
    found = gap_resistance(thickness_m, HEAT_DOWN, 0.9, 0.9, 283.15)
    assert found == pytest.approx(down, abs=0.0051)


@pytest.mark.published("resistances in series (EN ISO 6946), by hand")
def test_foam_panel():
    # 30 mm of 0.034: 0.8824; with 0.13 on either side 1.1424.
    u = u_value(0.13, slab_resistance(0.030, 0.034), 0.13)
    assert u == pytest.approx(0.8754, rel=5e-4)
    assert 1.0 / u == pytest.approx(1.1424, rel=5e-4)


@pytest.mark.published("resistances in series (EN ISO 6946), by hand")
def test_foam_panel_with_skins():
    layers = slab_resistance(0.030, 0.034) + 2.0 * slab_resistance(0.003, 0.2)
    assert u_value(0.13, layers, 0.04) == pytest.approx(0.9239, rel=1e-3)


@pytest.mark.published("EN ISO 6946, combined method, timber-framed wall by hand")
def test_bridged_wall():
    # 85 % insulation 0.035, 15 % timber 0.13, both 100 mm; linings 12.5 mm of 0.25 and of 0.13.
    insulation, timber = slab_resistance(0.1, 0.035), slab_resistance(0.1, 0.13)
    rest = 0.13 + 0.04 + slab_resistance(0.0125, 0.25) + slab_resistance(0.0125, 0.13)
    assert rest + insulation == pytest.approx(3.1733, rel=1e-3)
    assert rest + timber == pytest.approx(1.0854, rel=1e-3)
    upper = parallel_resistance(0.85, rest + insulation, rest + timber)
    lower = rest + parallel_resistance(0.85, insulation, timber)
    assert upper == pytest.approx(2.4627, rel=1e-3)
    assert lower == pytest.approx(2.3466, rel=1e-3)
    assert combined_resistance(lower, upper) == pytest.approx(2.4047, rel=1e-3)
    assert 1.0 / combined_resistance(lower, upper) == pytest.approx(0.4159, rel=1e-3)
    assert combined_error(lower, upper) == pytest.approx(0.024, abs=5e-4)


@quick
@given(st.floats(0.0, 1.0), resistances, resistances, st.floats(0.1, 2.0))
def test_limits_enclose(share, first, second, rest):
    layer = parallel_resistance(share, first, second)
    assert min(first, second) - 1e-9 <= layer <= max(first, second) + 1e-9
    # The upper limit is never below the lower one: the mean of a sum beats the sum of the means.
    upper = parallel_resistance(share, rest + first, rest + second)
    assert upper >= rest + layer - 1e-9


@quick
@given(st.floats(0.001, 0.3), st.sampled_from([HEAT_UP, HEAT_SIDEWAYS, HEAT_DOWN]))
def test_air_never_insulates_better_than_still_air(thickness_m, direction):
    assert gap_convection(thickness_m, direction) >= 0.025 / thickness_m
    bright = gap_resistance(thickness_m, direction, 0.9, 0.05, 283.15)
    assert bright > gap_resistance(thickness_m, direction, 0.9, 0.9, 283.15)


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_range_and_shape():
    nan = math.nan
    assert np.isnan(slab_resistance(np.array([-0.1, nan]), 0.034)).all()
    assert np.isnan(slab_resistance(0.03, np.array([0.0, -1.0, nan]))).all()
    assert np.isnan(film_convection_interior(np.array([0.5, 2.0, nan]))).all()
    assert np.isnan(film_convection_exterior(np.array([-1.0, 21.0, nan]))).all()
    assert np.isnan(film_resistance(np.array([-1.0, nan]), 0.9, 293.15)).all()
    assert np.isnan(film_resistance(2.5, np.array([-0.1, 1.1, nan]), 293.15)).all()
    assert np.isnan(film_resistance(0.0, 0.0, 293.15))
    assert np.isnan(gap_convection(np.array([0.0, 0.31, nan]), 0.0)).all()
    assert np.isnan(gap_convection(0.02, 0.5))
    assert np.isnan(gap_resistance(0.02, 0.0, 0.9, 0.9, np.array([0.0, nan]))).all()
    assert np.isnan(parallel_resistance(np.array([-0.1, 1.1, nan]), 1.0, 1.0)).all()
    assert np.isnan(combined_resistance(1.0, np.array([0.9, 1.6, nan]))).all()
    assert np.isnan(combined_error(1.0, 1.6))
    assert np.isnan(u_value(0.0, np.array([0.0, -1.0, nan]), 0.0)).all()
    assert u_value(np.full((3, 1), 0.13), np.full(2, 1.0), 0.04).shape == (3, 2)
