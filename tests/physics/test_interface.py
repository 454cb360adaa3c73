"""Layers, spreading and screws."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import interface as it

LEE = (
    "S. Lee, Calculating spreading resistance in heat sinks, Electronics Cooling, Jan 1998 "
    "(formula from memory)"
)

# Source and base side, thickness [m], conductivity, sink resistance -> largest, mean [K/W].
ROWS = [
    (0.025, 0.100, 0.0013, 200.0, 1.0, 0.6566, 0.5039),
    (0.040, 0.100, 0.003, 200.0, 0.30, 0.1648, 0.1131),
    (0.040, 0.100, 0.005, 200.0, 0.30, 0.1057, 0.0726),
]


@pytest.mark.published(LEE)
@pytest.mark.parametrize(("source", "base", "thickness", "k", "sink", "largest", "mean"), ROWS)
def test_spreading_closed_forms(source, base, thickness, k, sink, largest, mean):
    case = (source**2, base**2, thickness, k, sink)
    assert it.spreading_resistance_max_lee(*case) == pytest.approx(largest, rel=5e-3)
    assert it.spreading_resistance_mean_lee(*case) == pytest.approx(mean, rel=5e-3)


# Against: Fourier series of a square source on a square base, cooled on its back.
@pytest.mark.parametrize(("source", "base", "thickness", "k", "sink", "_largest", "_mean"), ROWS)
def test_spreading_against_a_full_series(source, base, thickness, k, sink, _largest, _mean):
    largest, mean = _series(source, base, thickness, k, sink)
    case = (source**2, base**2, thickness, k, sink)
    # The closed forms treat both squares as circles: 2 to 7 % below.
    assert it.spreading_resistance_max_lee(*case) == pytest.approx(largest, rel=0.05)
    assert it.spreading_resistance_mean_lee(*case) == pytest.approx(mean, rel=0.08)


# Against: the same series summed apart from this test, 400 terms a side.
def test_the_series_itself():
    largest, mean = _series(0.025, 0.100, 0.0013, 200.0, 1.0)
    assert largest == pytest.approx(0.6671, rel=5e-3)
    assert mean == pytest.approx(0.5263, rel=5e-3)


# Against: Fourier's law by hand.
def test_layers_and_rods():
    # One 40 x 40 x 0.7 mm alumina plate of 24 W/m/K; 50 um of paste of 3 W/m/K.
    assert it.slab_resistance(0.7e-3, 24.0, 1.6e-3) == pytest.approx(0.01823, rel=5e-4)
    assert it.slab_resistance(50e-6, 3.0, 1.6e-3) == pytest.approx(0.01042, rel=5e-4)
    # A rod is a slab's inverse.
    assert it.rod_conductance(1.6e-3, 0.7e-3, 24.0) == pytest.approx(1.0 / 0.0182292, rel=1e-5)


def test_spreading_vanishes_for_a_source_as_large_as_the_base_and_grows_as_it_shrinks():
    areas_m2 = np.linspace(1e-4, 1e-2, 100)
    for law in (it.spreading_resistance_mean_lee, it.spreading_resistance_max_lee):
        resistances = law(areas_m2, 1e-2, 5e-3, 200.0, 0.3)
        assert np.all(np.diff(resistances) < 0.0)
        assert resistances[-1] == pytest.approx(0.0, abs=1e-9)
    mean = it.spreading_resistance_mean_lee(areas_m2[:-1], 1e-2, 5e-3, 200.0, 0.3)
    largest = it.spreading_resistance_max_lee(areas_m2[:-1], 1e-2, 5e-3, 200.0, 0.3)
    assert np.all(mean < largest)


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        for law in (it.spreading_resistance_mean_lee, it.spreading_resistance_max_lee):
            assert np.isnan(law(2e-2, 1e-2, 5e-3, 200.0, 0.3))
            assert np.isnan(law(1e-3, 1e-2, 5e-3, 0.0, 0.3))
            assert np.isnan(law(1e-3, 1e-2, np.nan, 200.0, 0.3))
            assert law(1e-3, 1e-2, [1e-3, 2e-3], 200.0, 0.3).shape == (2,)
        assert np.isnan(
            it.slab_resistance([-1e-3, 1e-3, 1e-3], [1.0, 0.0, 1.0], [1.0, 1.0, 0])
        ).all()
        assert np.isnan(it.rod_conductance([-1.0, 1.0, 1.0], [1.0, 0.0, 1.0], [1.0, 1.0, -1])).all()


def _series(source, base, thickness, k, sink, terms=300):
    """Largest and mean excess over an evenly heated base, per watt, by Fourier's series."""
    film = 1.0 / (sink * base**2)
    flux = 1.0 / source**2
    n = np.arange(terms + 1)
    wave = 2.0 * np.pi * n / base  # even about the middle: whole waves only
    # Cosine coefficients of a centred strip of the source's width, and its mean over that strip.
    strip = np.where(n == 0, source / base, 0.0)
    mean = np.ones(terms + 1)
    some = n > 0
    strip[some] = 2.0 * source / base * np.sinc(n[some] * source / base)
    mean[some] = np.sinc(n[some] * source / base)
    both = np.sqrt(wave[:, None] ** 2 + wave[None, :] ** 2)
    both[0, 0] = 1.0
    depth = np.tanh(both * thickness)
    gain = (k * both / film + depth) / (1.0 + k * both / film * depth) / (k * both)
    gain[0, 0] = 0.0  # the even part is not spreading
    amplitude = flux * strip[:, None] * strip[None, :] * gain
    return float(amplitude.sum()), float((amplitude * mean[:, None] * mean[None, :]).sum())
