import math

import numpy as np
import pytest

from coldwright.quantities.tolerance import EXACT, Tolerance


@pytest.mark.published("JCGM 100:2008 (GUM), 4.3.7 with its example: u = a / sqrt(3)")
def test_a_limit_has_the_standard_uncertainty_of_a_rectangle():
    # GUM 4.3.7: thermal expansion of copper between 16.40 and 16.92 x 1e-6 per degC, so a is
    # 0.26e-6 and u is 0.15e-6 as printed, to two figures.
    assert Tolerance(0.26e-6).standard_uncertainty == pytest.approx(0.15e-6, abs=0.005e-6)
    assert Tolerance(math.sqrt(3.0)).standard_uncertainty == pytest.approx(1.0, rel=1e-15)


@pytest.mark.published("JCGM 100:2008 (GUM), 4.3.3 and 6.2.1: u = U / k")
def test_an_expanded_uncertainty_is_divided_by_two():
    assert Tolerance(240e-6, "k2").standard_uncertainty == 120e-6


@pytest.mark.published("moments of the rectangular and the normal distribution")
@pytest.mark.parametrize("shape", ["limit", "k2"])
def test_samples_have_the_stated_mean_and_spread(shape):
    tolerance = Tolerance(2.0, shape)
    sample = tolerance.sample(10.0, 200_000, np.random.default_rng(7))
    assert sample.shape == (200_000,)
    # Standard error of the mean of 200 000 values: 1.15 / 447; four of them.
    assert sample.mean() == pytest.approx(10.0, abs=0.011)
    assert sample.std() == pytest.approx(tolerance.standard_uncertainty, rel=0.01)
    inside = float(np.mean(np.abs(sample - 10.0) <= 2.0))
    # A limit holds all; two standard deviations of a normal hold 95.45 %.
    assert inside == 1.0 if shape == "limit" else inside == pytest.approx(0.9545, abs=0.002)


def test_an_exact_value_does_not_vary():
    assert EXACT.sample(3.0, 4, np.random.default_rng(1)).tolist() == [3.0] * 4


@pytest.mark.parametrize("width", [-1.0, math.nan, math.inf])
def test_a_width_must_be_a_width(width):
    with pytest.raises(ValueError, match="half width"):
        Tolerance(width)
