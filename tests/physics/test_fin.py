"""One fin."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import fin

HANDBOOK = "Heat Transfer (thermal management of electronics), Example 7.1 (inputs), by hand"
# h [W/m2K], perimeter [m], area [m2], conductivity, base above air [K]: 2 x 40 mm, aluminium.
FIN = (30.0, 0.084, 80e-6)


@pytest.mark.published(HANDBOOK)
def test_a_rectangular_aluminium_fin():
    assert np.sqrt(30.0 * 0.084 / (210.0 * 80e-6)) == pytest.approx(12.2474, rel=1e-5)
    assert fin.fin_heat_endless(*FIN, 210.0, 65.0) == pytest.approx(13.374, rel=1e-3)
    adiabatic_W = fin.fin_heat_adiabatic_tip(*FIN, 0.030, 210.0, 65.0)
    assert adiabatic_W == pytest.approx(4.7042, rel=1e-3)
    convecting_W = fin.fin_heat_convecting_tip(*FIN, 0.030, 210.0, 65.0)
    assert convecting_W == pytest.approx(4.8403, rel=1e-3)
    # The usual shortcut: no heat at the tip, but longer by area over perimeter.
    corrected_W = fin.fin_heat_adiabatic_tip(*FIN, 0.030 + 80e-6 / 0.084, 210.0, 65.0)
    assert corrected_W == pytest.approx(4.8403, rel=1e-3)


@pytest.mark.published("Culham and Muzychka 2001, plate-fin sink at two flows, by hand")
@pytest.mark.parametrize(("film", "efficiency"), [(24.296, 0.9330), (32.829, 0.9119)])
def test_efficiency_of_a_plate_fin(film, efficiency):
    assert fin.fin_efficiency(film, 0.030, 1e-3, 200.0) == pytest.approx(efficiency, rel=1e-4)


# Against: the fin's heat balance in 2000 slices (finite differences).
@pytest.mark.parametrize("film", [5.0, 60.0, 900.0])
def test_efficiency_against_slices(film):
    height_m, thickness_m, k, slices = 0.03, 0.8e-3, 200.0, 2000
    step_m = height_m / slices
    between = k * thickness_m / step_m
    leak = 2.0 * film * step_m
    matrix = np.diag(np.full(slices, 2.0 * between + leak))
    matrix += np.diag(np.full(slices - 1, -between), 1) + np.diag(np.full(slices - 1, -between), -1)
    matrix[0, 0] += between  # half a slice to the base
    matrix[-1, -1] -= between  # nothing through the tip
    source = np.zeros(slices)
    source[0] = 2.0 * between
    mean_excess = np.linalg.solve(matrix, source).mean()
    found = fin.fin_efficiency(film, height_m, thickness_m, k)
    assert found == pytest.approx(mean_excess, rel=1e-4)


def test_efficiency_falls_from_one_and_joins_smoothly():
    films = np.concatenate([[0.0], np.geomspace(1e-9, 1e5, 400)])
    values = fin.fin_efficiency(films, 0.03, 1e-3, 200.0)
    assert values[0] == 1.0
    assert np.all(np.diff(values) <= 0.0)
    assert np.all((values > 0.0) & (values <= 1.0))


def test_outside_their_range_is_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(
            fin.fin_efficiency([-1.0, 1.0, np.nan], [0.03, 0.0, 0.03], 1e-3, 200.0)
        ).all()
        assert np.isnan(fin.fin_heat_endless(30.0, 0.0, 80e-6, 210.0, 65.0))
        assert np.isnan(fin.fin_heat_adiabatic_tip(30.0, 0.084, 80e-6, -0.03, 210.0, 65.0))
        assert np.isnan(fin.fin_heat_convecting_tip(30.0, 0.084, 80e-6, 1e6, 210.0, 65.0))
    assert fin.fin_heat_convecting_tip(0.0, 0.084, 80e-6, 0.03, 210.0, 65.0) == 0.0
