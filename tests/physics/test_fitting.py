"""Loss coefficients and roughness."""

from __future__ import annotations

import fluids
import numpy as np
import pytest

from coldwright.physics import fitting


@pytest.mark.published("momentum (Borda and Carnot), as in the library fluids")
@pytest.mark.parametrize("ratio", [0.0, 0.3, 0.5625, 1.0])
def test_sudden_expansion(ratio):
    expected = (1.0 - ratio) ** 2
    if ratio > 0.0:
        expected = fluids.fittings.diffuser_sharp(Di1=np.sqrt(ratio), Di2=1.0, method="Rennels")
    assert fitting.loss_sudden_expansion(ratio) == pytest.approx(expected, abs=1e-9)


@pytest.mark.published("Rennels and Hudson, Pipe Flow (2012), as in the library fluids")
@pytest.mark.parametrize("ratio", [0.05, 0.3, 0.5625, 0.9])
def test_sudden_contraction(ratio):
    expected = fluids.fittings.contraction_sharp(Di1=1.0, Di2=np.sqrt(ratio), method="Rennels")
    assert fitting.loss_sudden_contraction(ratio) == pytest.approx(expected, rel=1e-6)


@pytest.mark.published("Rennels and Hudson, Pipe Flow (2012): 150 from 200 mm 0.29, entry 0.57")
def test_contraction_by_hand_and_its_ends():
    assert fitting.loss_sudden_contraction((150.0 / 200.0) ** 2) == pytest.approx(0.29, abs=0.005)
    assert fitting.loss_sudden_contraction(0.0) == pytest.approx(0.57, abs=0.005)
    assert fitting.loss_sudden_contraction(1.0) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.published("Blevins, Applied Fluid Dynamics Handbook: 4.0, 2.33, 1.35; and fluids")
@pytest.mark.parametrize(("open_fraction", "loss"), [(0.5, 4.0), (0.6, 2.33), (0.7, 1.35)])
def test_sharp_grilles(open_fraction, loss):
    assert fitting.loss_grille(open_fraction) == pytest.approx(loss, rel=5e-3)
    expected = fluids.filters.square_edge_grill(alpha=open_fraction)
    assert fitting.loss_grille(open_fraction) == pytest.approx(expected, rel=1e-9)


@pytest.mark.published("Rennels and Hudson, Pipe Flow (2012), as in the library fluids")
def test_fittings_of_the_list_that_a_library_knows():
    def listed(name):
        return fitting.FITTINGS[name][0]

    elbow = fluids.fittings.bend_rounded(Di=0.15, angle=90.0, bend_diameters=1.5, Re=3.1e4)
    assert listed("elbow 90") == pytest.approx(elbow, rel=0.05)
    mitre = fluids.fittings.bend_miter(90.0, Di=0.15, Re=3.1e4)
    assert listed("mitre 90") == pytest.approx(mitre, rel=0.05)
    bellmouth = fluids.fittings.entrance_rounded(Di=0.15, rc=0.015)
    assert listed("bellmouth") == pytest.approx(bellmouth, rel=0.05)
    assert listed("exit") == fluids.fittings.exit_normal()
    # Handbooks differ on the sharp entry: 0.5 in the older ones, 0.57 in the newest.
    assert listed("entry") == pytest.approx(fluids.fittings.entrance_sharp(), abs=0.08)
    assert listed("grille") == pytest.approx(2.33, abs=0.005)


@pytest.mark.practice
def test_every_fitting_has_a_plausible_loss_and_a_source():
    for name, (loss, source) in fitting.FITTINGS.items():
        assert 0.0 < loss < 30.0, name
        assert source, name


@pytest.mark.published("ASHRAE Handbook Fundamentals, chapter 21, table 1 (roughness in mm)")
def test_roughness():
    ranges_mm = {
        "drawn tube": (0.0005, 0.0005),
        "smooth plastic": (0.009, 0.046),
        "galvanised spiral": (0.06, 0.12),
        "flexible fabric": (0.09, 0.9),
        "flexible aluminium": (1.2, 3.0),
    }
    for name, (least, most) in ranges_mm.items():
        assert least - 1e-9 <= fitting.ROUGHNESS[name] * 1e3 <= most + 1e-9, name


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(fitting.loss_sudden_expansion([-0.1, 1.1, np.nan])).all()
        assert np.isnan(fitting.loss_sudden_contraction([-0.1, 1.1, np.nan])).all()
        assert np.isnan(fitting.loss_grille([0.1, 1.1, np.nan])).all()
