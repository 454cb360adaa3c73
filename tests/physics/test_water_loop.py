"""A water loop from a module's base to the air."""

from __future__ import annotations

import ht
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import water_loop as wl


@pytest.mark.published("effectiveness at one constant temperature, as in the library ht")
@pytest.mark.parametrize("units", [0.1, 1.0, 3.0])
def test_block_effectiveness(units):
    expected = ht.effectiveness_from_NTU(units, Cr=0.0, subtype="counterflow")
    assert wl.block_effectiveness(1.0 / (units * 70.0), 70.0) == pytest.approx(expected, rel=1e-9)


# Against: the block's heat balance in 10,000 slices.
def test_block_outlet_resistance_against_slices():
    block_K_W, water_W_K, base_K = 0.02, 40.0, 330.0
    slices = 10000
    water_K = 300.0
    for _ in range(slices):
        water_K += (base_K - water_K) / block_K_W / slices / water_W_K
    heat_W = water_W_K * (water_K - 300.0)
    expected = (base_K - water_K) / heat_W
    assert wl.block_outlet_resistance(block_K_W, water_W_K) == pytest.approx(expected, rel=1e-3)


@settings(deadline=None)  # the first call may compile
@given(st.floats(1e-3, 1.0), st.floats(0.5, 500.0))
def test_the_two_ways_to_state_a_block_agree(block_K_W, water_W_K):
    effectiveness = wl.block_effectiveness(block_K_W, water_W_K)
    inlet_K_W = 1.0 / (effectiveness * water_W_K)  # base to the water that enters, per watt
    outlet_K_W = wl.block_outlet_resistance(block_K_W, water_W_K)
    assert inlet_K_W - outlet_K_W == pytest.approx(1.0 / water_W_K, rel=1e-9)
    assert outlet_K_W <= block_K_W <= inlet_K_W * (1.0 + 1e-12)


@pytest.mark.published("Incropera and DeWitt, chapter 11, cross flow unmixed, as in the library ht")
@pytest.mark.parametrize("ratio", [0.05, 0.3, 0.7, 1.0])
@pytest.mark.parametrize("ntu", [0.2, 1.0, 2.5, 5.0])
def test_radiator_effectiveness(ntu, ratio):
    found = wl.radiator_effectiveness_crossflow(ntu, ratio)
    same_form = ht.effectiveness_from_NTU(ntu, Cr=ratio, subtype="crossflow approximate")
    assert found == pytest.approx(same_form, rel=1e-9)
    exact = ht.effectiveness_from_NTU(ntu, Cr=ratio, subtype="crossflow")
    # The approximation is up to 3.7 % low at small N: the law states 4 % as its error.
    assert found == pytest.approx(exact, rel=0.04)


@pytest.mark.published("a condensing or boiling side, 1 - exp(-N), any handbook")
def test_radiator_limits():
    units = np.array([0.0, 0.5, 2.0])
    assert wl.radiator_effectiveness_crossflow(units, 0.0) == pytest.approx(-np.expm1(-units))
    near = wl.radiator_effectiveness_crossflow(units, 1e-8)
    assert near == pytest.approx(-np.expm1(-units), abs=1e-7)
    assert wl.radiator_effectiveness_crossflow(50.0, 0.5) <= 1.0


# Against: the loop's heat balances as linear equations, by hand.
def test_a_whole_loop_against_its_equations():
    block_K_W, water_W_K, air_W_K, ntu, pump_W, heat_W = 0.015, 60.0, 45.0, 1.2, 4.0, 150.0
    effectiveness = wl.radiator_effectiveness_crossflow(ntu, air_W_K / water_W_K)
    radiator_K_W = wl.radiator_resistance(effectiveness, air_W_K)
    # Unknowns: base, water into the block, out of it, and after the pump (into the radiator).
    air_K = 308.15
    share = wl.block_effectiveness(block_K_W, water_W_K) * water_W_K
    matrix = np.array(
        [
            [share, -share, 0.0, 0.0],
            [0.0, -water_W_K, water_W_K, 0.0],
            [0.0, 0.0, -water_W_K, water_W_K],
            [0.0, -water_W_K, 0.0, water_W_K - effectiveness * air_W_K],
        ]
    )
    right = np.array([heat_W, heat_W, pump_W, -effectiveness * air_W_K * air_K])
    base_K, _in_K, out_K, warm_K = np.linalg.solve(matrix, right)
    assert out_K - base_K == pytest.approx(
        -heat_W * wl.block_outlet_resistance(block_K_W, water_W_K), rel=1e-9
    )
    assert warm_K - out_K == pytest.approx(wl.pump_temperature_rise(pump_W, water_W_K), rel=1e-9)
    assert warm_K - air_K == pytest.approx((heat_W + pump_W) * radiator_K_W, rel=1e-9)


# Against: first law by hand: 5 W into one litre of water a minute, 0.072 K.
def test_the_pump_warms_the_water():
    water_W_K = 1.0 / 60.0 * 0.998 * 4182.0
    assert wl.pump_temperature_rise(5.0, water_W_K) == pytest.approx(0.072, rel=5e-3)


@settings(deadline=None)  # the first call may compile
@given(st.floats(0.0, 20.0), st.floats(0.0, 1.0))
def test_more_surface_always_helps_and_never_beyond_one(ntu, ratio):
    here = wl.radiator_effectiveness_crossflow(ntu, ratio)
    assert 0.0 <= here <= 1.0
    assert wl.radiator_effectiveness_crossflow(ntu + 0.1, ratio) >= here


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(wl.block_effectiveness([0.0, 0.1], [10.0, 0.0])).all()
        assert np.isnan(wl.block_outlet_resistance(np.nan, 10.0))
        assert np.isnan(wl.radiator_effectiveness_crossflow([-1.0, 1.0], [0.5, 1.1])).all()
        assert np.isnan(wl.radiator_resistance([0.0, 1.1], 10.0)).all()
        assert np.isnan(wl.pump_temperature_rise(-1.0, 10.0))
    assert wl.block_outlet_resistance(1e-6, 1.0) == 0.0
