"""Heat from ducts."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import duct_heat as dh

BTU_H_W = 0.29307107


@pytest.mark.published("US 10 CFR 430 subpart B appendix CC, duct heat (from memory), by hand")
def test_a_bare_duct_by_its_surface_temperature():
    # 6 in by 5 ft, 115 degF in a room of 80 degF, 3 Btu/(h ft2 F).
    area_m2 = np.pi * 0.1524 * 1.524
    assert area_m2 / 0.3048**2 == pytest.approx(7.854, rel=1e-3)
    surface_K, room_K = (115.0 + 459.67) / 1.8, (80.0 + 459.67) / 1.8
    heat_W = dh.duct_surface_heat(17.0348, area_m2, surface_K, room_K)
    assert heat_W == pytest.approx(241.7, rel=1e-3)
    assert heat_W / BTU_H_W == pytest.approx(824.7, rel=1e-3)


# Against: flow in a uniform surrounding by hand: 150 mm x 1.5 m, 40 in 26 degC.
@pytest.mark.parametrize(
    ("film", "units", "end_C", "heat_W"),
    [(10.0, 0.1492, 38.06, 91.9), (17.03, 0.254, 36.86, 148.8)],
)
def test_an_exhaust_duct_through_the_room(film, units, end_C, heat_W):
    conductance_W_K = film * np.pi * 0.150 * 1.5
    capacity_W_K = 0.04619 * (1006.0 + 1860.0 * 0.010496)
    assert conductance_W_K / capacity_W_K == pytest.approx(units, rel=3e-3)
    state = (313.15, 299.15, conductance_W_K, capacity_W_K)
    assert dh.duct_end_temperature(*state) - 273.15 == pytest.approx(end_C, abs=0.01)
    assert dh.duct_heat_loss(*state) == pytest.approx(heat_W, rel=3e-3)


# Against: the duct's heat balance in 10,000 slices.
def test_against_slices():
    air_K, slices = 313.15, 10000
    for _ in range(slices):
        air_K -= 12.0 / slices / 20.0 * (air_K - 299.15)
    assert dh.duct_end_temperature(313.15, 299.15, 12.0, 20.0) == pytest.approx(air_K, abs=1e-3)


@settings(deadline=None)  # the first call may compile
@given(
    st.floats(250.0, 350.0), st.floats(250.0, 350.0), st.floats(0.0, 100.0), st.floats(0.1, 100.0)
)
def test_heat_lost_is_what_the_air_cools(inlet_K, room_K, conductance_W_K, capacity_W_K):
    state = (inlet_K, room_K, conductance_W_K, capacity_W_K)
    cooled_W = capacity_W_K * (inlet_K - dh.duct_end_temperature(*state))
    assert dh.duct_heat_loss(*state) == pytest.approx(float(cooled_W), abs=1e-9)


@pytest.mark.published("Dittus-Boelter, Nu = 0.023 Re^0.8 Pr^0.3 (air that cools), any handbook")
def test_film_inside_a_long_duct():
    flow_m3_s, diameter_m = 200.0 / 3600.0, 0.15
    reynolds = 1.2 * flow_m3_s / (np.pi / 4.0 * diameter_m**2) * diameter_m / 1.825e-5
    older = 0.023 * reynolds**0.8 * 0.71**0.3 * 0.026 / diameter_m
    found = dh.duct_inner_film(flow_m3_s, diameter_m, 1e4, 1.2, 1.825e-5, 0.026, 0.71)
    assert found == pytest.approx(older, rel=0.15)
    # A short duct has more.
    assert dh.duct_inner_film(flow_m3_s, diameter_m, 1.5, 1.2, 1.825e-5, 0.026, 0.71) > found


def test_without_flow_and_outside_the_range():
    assert dh.duct_end_temperature(313.0, 299.0, 5.0, 0.0) == 299.0
    assert dh.duct_heat_loss(313.0, 299.0, 5.0, 0.0) == 0.0
    with np.errstate(all="ignore"):
        assert np.isnan(dh.duct_end_temperature(313.0, 299.0, -5.0, 10.0))
        assert np.isnan(dh.duct_heat_loss(313.0, np.nan, 5.0, 10.0))
        assert np.isnan(dh.duct_surface_heat(-1.0, 1.0, 300.0, 290.0))
        assert np.isnan(dh.duct_inner_film(-0.1, 0.15, 1.0, 1.2, 1.8e-5, 0.026, 0.71))
    assert dh.duct_heat_loss([[310.0], [320.0]], 300.0, 5.0, [10.0, 20.0]).shape == (2, 2)
