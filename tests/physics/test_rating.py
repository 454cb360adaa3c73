"""Rating arithmetic in the inch-pound units of the rule."""

import math

import numpy as np
import pytest

from coldwright.physics.rating import DUCT_FILM_W_M2K, duct_surface_heat, seasonal_capacity

BTU_H_W = 0.29307107
RULE = "10 CFR 430 subpart B appendix CC (from memory), arithmetic in inch-pound units"


@pytest.mark.published(RULE)
def test_duct_heat():
    # 6 in x 5 ft: 7.854 ft2; 3 Btu/(h ft2 F) * 35 F = 824.7 Btu/h = 241.7 W.
    room_K, surface_K = ((f - 32.0) / 1.8 + 273.15 for f in (80.0, 115.0))
    found = duct_surface_heat(6 * 0.0254, 5 * 0.3048, room_K, surface_K, DUCT_FILM_W_M2K)
    assert found == pytest.approx(824.7 * BTU_H_W, rel=1e-3)
    assert found == pytest.approx(241.7, rel=1e-3)


@pytest.mark.published(RULE)
def test_film_in_si():
    # 3 Btu/(h ft2 F)
    assert pytest.approx(3.0 * BTU_H_W / 0.3048**2 * 1.8, rel=1e-4) == DUCT_FILM_W_M2K


@pytest.mark.published("hand calculation: 150 mm x 1.5 m at 40 °C in a room of 26 °C, 17.03 W/m2K")
def test_bare_duct_in_si():
    assert duct_surface_heat(0.15, 1.5, 299.15, 313.15, 17.03) == pytest.approx(168.5, rel=5e-3)


@pytest.mark.published(RULE)
def test_seasonal_weights():
    weighted = seasonal_capacity(1500.0 * BTU_H_W, 3500.0 * BTU_H_W)
    assert weighted == pytest.approx(3100.0 * BTU_H_W, rel=1e-12)


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_range_and_shape():
    assert np.isnan(duct_surface_heat(np.array([-0.1, math.nan]), 1.5, 299.0, 313.0, 17.0)).all()
    assert duct_surface_heat(0.15, 1.5, 313.0, 299.0, 17.0) < 0.0
    assert duct_surface_heat(np.full((3, 1), 0.15), np.full(2, 1.5), 299.0, 313.0, 17.0).shape == (
        3,
        2,
    )
    assert math.isnan(seasonal_capacity(math.nan, 1.0))
