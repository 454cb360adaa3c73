"""A module from its ratings: three are met exactly, four are weighed against each other."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.machine.ratings import MISFIT_ALLOWED, from_ratings

# Per leg of bismuth telluride, T in K: X. C. Xuan et al., Cryogenics 42 (2002) 273-278.
ALPHA = (22224.0, 930.6, -0.9905)  # 1e-9 V/K
RHO = (5112.0, 163.4, 0.6279)  # 1e-10 ohm m
KAPPA = (62605.0, -277.7, 0.4131)  # 1e-4 W/m/K


def leg(coefficients, unit, at_K):
    a, b, c = coefficients
    return (a + b * at_K + c * at_K**2) * unit


def module(fitted, mean_K):
    """Seebeck coefficient, resistance and conductance of a fitted module at a mean temperature."""
    return (
        fitted.seebeck * leg(ALPHA, 1e-9, mean_K),
        fitted.resistance * leg(RHO, 1e-10, mean_K),
        fitted.conductance * leg(KAPPA, 1e-4, mean_K),
    )


def heat(fitted, current_A, cold_K, hot_K):
    S, R, K = module(fitted, 0.5 * (cold_K + hot_K))
    return S * current_A * cold_K - 0.5 * current_A**2 * R - K * (hot_K - cold_K)


# Hot face 300 K, 6.0 A, 15.4 V, 68 K:
# S = V/Th, R = V (Th - dT)/(I Th), K = V I (Th - dT)/(2 Th dT).
FORMULAS = "closed formulas for a cooler's ratings, Electronics Cooling, August 2008 (from memory)"


@pytest.mark.published(FORMULAS)
def test_three_ratings_are_met_exactly_at_the_mean_temperature():
    fitted = from_ratings(300.0, 6.0, 15.4, 68.0)
    S, R, K = module(fitted, 300.0 - 34.0)
    assert pytest.approx(0.0513333, rel=1e-4) == S
    assert pytest.approx(1.984889, rel=1e-4) == R
    assert pytest.approx(0.525412, rel=1e-4) == K
    assert fitted.misfit == 0.0
    # Back: no heat at the greatest lift, and the rated volts there.
    assert heat(fitted, 6.0, 232.0, 300.0) == pytest.approx(0.0, abs=1e-6)
    assert pytest.approx(15.4, rel=1e-9) == S * 68.0 + 6.0 * R
    # The greatest lift stands at the rated current: more and less current both leave less.
    assert heat(fitted, 5.9, 232.0, 300.0) < 0.0
    assert heat(fitted, 6.1, 232.0, 300.0) < 0.0


@pytest.mark.published(FORMULAS)
def test_four_ratings_of_one_module_do_not_disagree():
    three = from_ratings(300.0, 6.0, 15.4, 68.0)
    max_heat_W = heat(three, 6.0, 300.0, 300.0)
    four = from_ratings(300.0, 6.0, 15.4, 68.0, max_heat_W)
    assert four.misfit < 1e-9
    for name in ("seebeck", "resistance", "conductance"):
        assert getattr(four, name) == pytest.approx(getattr(three, name), rel=1e-9)


def test_four_ratings_that_are_a_little_off_are_shared_out():
    three = from_ratings(300.0, 6.0, 15.4, 68.0)
    max_heat_W = 1.04 * heat(three, 6.0, 300.0, 300.0)
    four = from_ratings(300.0, 6.0, 15.4, 68.0, max_heat_W)
    assert 0.005 < four.misfit < MISFIT_ALLOWED
    # Least squares: the fit lies between, and misses less than the odd rating alone would.
    found = heat(four, 6.0, 300.0, 300.0)
    assert max_heat_W / 1.04 < found < max_heat_W
    assert four.misfit < 0.04


@pytest.mark.parametrize("factor", [0.6, 1.6])
def test_ratings_that_belong_to_no_module_are_told(factor):
    three = from_ratings(300.0, 6.0, 15.4, 68.0)
    four = from_ratings(300.0, 6.0, 15.4, 68.0, factor * heat(three, 6.0, 300.0, 300.0))
    assert four.misfit > MISFIT_ALLOWED


@pytest.mark.published("scipy.optimize.least_squares on the same relative misfits")
def test_the_fit_is_the_least_squares_one():
    from scipy.optimize import least_squares

    hot_K, current_A, volts, lift_K, max_heat_W = 300.0, 6.0, 15.4, 68.0, 62.0
    four = from_ratings(hot_K, current_A, volts, lift_K, max_heat_W)
    three = from_ratings(hot_K, current_A, volts, lift_K)
    start = np.array([three.seebeck, three.resistance, three.conductance])

    def misfits(ratios):
        class Tried:
            seebeck, resistance, conductance = start * ratios

        S, R, K = module(Tried, hot_K - lift_K / 2)
        peltier_W = start[0] * leg(ALPHA, 1e-9, hot_K - lift_K / 2) * current_A * (hot_K - lift_K)
        best_A = S * (hot_K - lift_K)
        return [
            (S * lift_K + current_A * R) / volts - 1.0,
            (S * current_A * (hot_K - lift_K) - 0.5 * current_A**2 * R - K * lift_K) / peltier_W,
            (best_A - current_A * R) / (peltier_W / current_A),
            heat(Tried, current_A, hot_K, hot_K) / max_heat_W - 1.0,
        ]

    found = least_squares(misfits, np.ones(3), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    ratios = np.array([four.seebeck, four.resistance, four.conductance]) / start
    assert ratios == pytest.approx(found.x, rel=1e-7)
    assert four.misfit == pytest.approx(np.abs(found.fun).max(), rel=1e-6)


def test_many_ratings_at_once_are_each_its_own():
    volts = np.array([12.0, 15.4, 16.0])
    heats = np.array([40.0, 56.0, 90.0])
    many = from_ratings(300.0, 6.0, volts, 68.0, heats)
    for i in range(3):
        one = from_ratings(300.0, 6.0, volts[i], 68.0, heats[i])
        assert many.seebeck[i] == pytest.approx(one.seebeck, rel=1e-12)
        assert many.misfit[i] == pytest.approx(one.misfit, rel=1e-9, abs=1e-12)
