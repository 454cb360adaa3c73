"""Ripple: two meanings of its cost, and three ways to state it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from coldwright.physics import ripple
from coldwright.physics.thermoelectric import cold_side_heat

MAKERS = "makers' technical notes: dTmax / (1 + N^2); 48 % ripple costs up to 23 %, 10 % below 1 %"
MODULE = (0.05, 1.8, 0.5)
FULL_WAVE = np.sqrt(np.pi**2 / 8.0 - 1.0)


@pytest.mark.published(MAKERS)
@pytest.mark.parametrize(
    ("ratio", "turned_down", "kept"),
    [(0.10, 0.99010, 0.99000), (0.4834, 0.8106, 0.7663)],
)
def test_both_published_statements(ratio, turned_down, kept):
    assert ripple.pumping_factor_best_current(ratio) == pytest.approx(turned_down, rel=1e-3)
    assert ripple.pumping_factor_kept_current(ratio) == pytest.approx(kept, rel=1e-3)


@pytest.mark.published("makers' technical notes; N read as the amplitude of a sine")
def test_an_amplitude_is_not_an_effective_value():
    ratio = ripple.ripple_ratio_sine(0.48)
    assert ripple.pumping_factor_best_current(ratio) == pytest.approx(0.8967, rel=1e-3)


# Against: definition of the effective value, summed over one period.
def test_a_rectified_sine_summed_over_a_period():
    shape = np.abs(np.sin(np.pi * (np.arange(20000) + 0.5) / 20000))
    shape /= shape.mean()
    assert np.std(shape) == pytest.approx(FULL_WAVE, rel=1e-6)

    def pumped_W(mean_A):
        return float(np.mean(cold_side_heat(mean_A * shape, 285.0, 285.0, *MODULE)))

    smooth_A = 0.05 * 285.0 / 1.8
    smooth_W = float(cold_side_heat(smooth_A, 285.0, 285.0, *MODULE))
    kept = pumped_W(smooth_A) / smooth_W
    assert ripple.pumping_factor_kept_current(FULL_WAVE) == pytest.approx(kept, rel=1e-6)
    search = minimize_scalar(lambda i: -pumped_W(i), bounds=(0.0, smooth_A), method="bounded")
    turned_down = -search.fun / smooth_W
    assert ripple.pumping_factor_best_current(FULL_WAVE) == pytest.approx(turned_down, rel=1e-6)
    assert search.x / smooth_A == pytest.approx(turned_down, rel=1e-4)


# Against: definition of the effective value, summed over one period.
def test_the_ratios_are_effective_values():
    phase = (np.arange(100000) + 0.5) / 100000
    sine = 1.0 + 0.3 * np.sin(2.0 * np.pi * phase)
    assert ripple.ripple_ratio_sine(0.3) == pytest.approx(np.std(sine), rel=1e-6)
    triangle = 1.0 + 0.4 * (phase - 0.5)
    assert ripple.ripple_ratio_triangle(0.4) == pytest.approx(np.std(triangle), rel=1e-6)
    chopped = np.where(phase < 0.3, 1.0 / 0.3, 0.0)
    assert ripple.ripple_ratio_chopped(0.3) == pytest.approx(np.std(chopped), rel=1e-3)


@pytest.mark.published("buck converter by hand: 24 to 12 V, 6 A, 33 uH, 300 kHz")
def test_ripple_behind_a_step_down_converter():
    peak_to_peak_A = (24.0 - 12.0) * 0.5 / (33e-6 * 300e3)
    assert peak_to_peak_A == pytest.approx(0.606, rel=5e-3)
    ratio = ripple.ripple_ratio_triangle(peak_to_peak_A / 6.0)
    assert ratio == pytest.approx(0.0292, rel=5e-3)
    lost_percent = 100.0 * (1.0 - ripple.pumping_factor_best_current(ratio))
    assert lost_percent == pytest.approx(0.085, rel=5e-3)


@pytest.mark.published("chopped current by hand: 7.917 A half of the time, no lift, 285 K")
def test_chopping_pumps_a_third_less_than_the_same_mean():
    peak_A = 7.9166667
    chopped_W = 0.5 * cold_side_heat(peak_A, 285.0, 285.0, *MODULE)
    smooth_W = cold_side_heat(0.5 * peak_A, 285.0, 285.0, *MODULE)
    assert chopped_W == pytest.approx(28.203, rel=1e-3)
    assert smooth_W == pytest.approx(42.305, rel=1e-3)
    assert 1.0 + ripple.ripple_ratio_chopped(0.5) ** 2 == pytest.approx(2.0)


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(ripple.pumping_factor_kept_current([-0.1, 1.1, np.nan])).all()
        assert np.isnan(ripple.pumping_factor_best_current(-0.1))
        assert np.isnan(ripple.ripple_ratio_sine(-0.1))
        assert np.isnan(ripple.ripple_ratio_triangle(-0.1))
        assert np.isnan(ripple.ripple_ratio_chopped([0.0, 1.1])).all()
