"""The references themselves: textbook numbers, and one method against another."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from tests.machine.wall_references import (
    DAY_S,
    Layer,
    periodic_wall,
    plate_in_air,
    plate_roots,
    resistance_layer,
    semi_infinite_flux,
    semi_infinite_step,
    slab_flux_far,
    slab_step,
    transfer_matrix,
    wall_step_flux,
    wall_step_insulated,
)

CONCRETE = Layer(0.20, 1.8, 2400.0, 1000.0)
FOAM = Layer(0.04, 0.035, 20.0, 1450.0)
PLYWOOD = Layer(0.012, 0.10, 500.0, 1600.0)
INSIDE, OUTSIDE = resistance_layer(0.13), resistance_layer(0.04)


@pytest.mark.published("Incropera et al., semi-infinite solid, buried water main (worked example)")
def test_frost_in_soil():
    # Soil of 20 °C, surface at -15 °C for 60 days, 0.52 W/(m K), 2050 kg/m3, 1840 J/(kg K): the
    # freezing point stands at 0.68 m.
    soil = Layer(10.0, 0.52, 2050.0, 1840.0)
    assert soil.diffusivity_m2_s == pytest.approx(0.138e-6, rel=5e-3)
    cooled = -35.0 * semi_infinite_step(0.68, 60.0 * DAY_S, soil)
    assert 20.0 + cooled == pytest.approx(0.0, abs=0.15)


# Bi, first root and its weight.
PLATE = [
    (0.01, 0.0998, 1.0017),
    (0.1, 0.3111, 1.0161),
    (1.0, 0.8603, 1.1191),
    (10.0, 1.4289, 1.2620),
]


@pytest.mark.published("Incropera et al., table of one-term coefficients for the plane wall")
@pytest.mark.parametrize(("biot", "root", "weight"), PLATE)
def test_plate_coefficients(biot, root, weight):
    z = plate_roots(biot, 1)[0]
    assert z == pytest.approx(root, abs=1e-4)
    assert 4.0 * math.sin(z) / (2.0 * z + math.sin(2.0 * z)) == pytest.approx(weight, abs=2e-4)


def test_plate_starts_whole_and_ends_at_nothing():
    assert plate_in_air(0.0, 60.0, CONCRETE, 8.0) == pytest.approx(1.0, abs=1e-6)
    assert plate_in_air(0.0, 30.0 * DAY_S, CONCRETE, 8.0) == pytest.approx(0.0, abs=1e-9)


def test_a_thin_slab_is_a_thick_one_at_first():
    # Until the far face is felt, both solutions are one.
    for seconds in (300.0, 1800.0):
        for depth in (0.01, 0.03):
            known = semi_infinite_step(depth, seconds, CONCRETE)
            assert slab_step(depth, seconds, CONCRETE) == pytest.approx(known, abs=1e-6)
    assert slab_step(0.05, 100.0 * DAY_S, CONCRETE) == pytest.approx(0.75)


@pytest.mark.parametrize("hours", [1.0, 3.0, 6.0, 12.0, 48.0])
def test_steps_by_series_and_by_transform(hours):
    seconds = 3600.0 * hours
    flux = wall_step_flux([CONCRETE], seconds)
    assert flux == pytest.approx(slab_flux_far(seconds, CONCRETE), abs=1e-8)
    # Half a plate, its middle insulated by symmetry, a film on the face.
    film = resistance_layer(1.0 / 8.0)
    half = CONCRETE._replace(thickness_m=0.10)
    risen = wall_step_insulated([half, film], seconds)
    assert 1.0 - risen == pytest.approx(plate_in_air(0.0, seconds, CONCRETE, 8.0), abs=1e-8)


def test_step_through_layers_ends_at_the_u_value():
    wall = [INSIDE, PLYWOOD, FOAM, CONCRETE, OUTSIDE]
    u_value = 1.0 / sum(layer.resistance_m2K_W for layer in wall)
    assert wall_step_flux(wall, 60.0) == pytest.approx(0.0, abs=1e-9)
    assert wall_step_flux(wall, 60.0 * DAY_S) == pytest.approx(u_value, rel=1e-9)


@pytest.mark.published("Carslaw and Jaeger 1959: heat into a surface k/sqrt(pi a t)")
def test_flux_is_the_slope_at_the_surface():
    seconds, step_m = 3600.0, 1e-6
    slope = (1.0 - semi_infinite_step(step_m, seconds, CONCRETE)) / step_m
    flux = CONCRETE.conductivity_W_mK * slope
    assert semi_infinite_flux(seconds, CONCRETE) == pytest.approx(flux, rel=1e-6)


# Concrete 300, mineral wool 100, brick 80 and 120, plaster 20 mm, inside to outside, films 0.13 and
# 0.04; results of another program for EN ISO 13786 (tests of the open library becalib).
LIBRARY_WALL = [
    INSIDE,
    Layer(0.30, 1.8, 2400.0, 1000.0),
    Layer(0.10, 0.034, 70.0, 700.0),
    Layer(0.08, 0.35, 750.0, 840.0),
    Layer(0.12, 0.8, 1800.0, 840.0),
    Layer(0.02, 0.9, 1400.0, 840.0),
    OUTSIDE,
]


@pytest.mark.published("EN ISO 13786 by the open library becalib (its tests, wall 1)")
def test_characteristics_of_a_heavy_wall():
    found = periodic_wall(LIBRARY_WALL)
    assert 1.0 / sum(layer.resistance_m2K_W for layer in LIBRARY_WALL) == pytest.approx(
        0.272, abs=5e-4
    )
    # It prints four digits.
    assert found.decrement == pytest.approx(0.03239, rel=1e-3)
    assert found.delay_s / 3600.0 == pytest.approx(17.854, rel=1e-3)
    assert found.transmittance_W_m2K == pytest.approx(0.008804, rel=1e-3)
    assert found.admittance_inside_W_m2K == pytest.approx(5.7303, rel=1e-3)
    assert found.admittance_outside_W_m2K == pytest.approx(7.7158, rel=1e-3)
    assert found.capacity_inside_J_m2K / 1e3 == pytest.approx(78.7761, rel=1e-3)
    assert found.capacity_outside_J_m2K / 1e3 == pytest.approx(106.035, rel=1e-3)


@pytest.mark.published("Carslaw and Jaeger 1959, section 2.6: admittance of thick ground")
def test_thick_ground():
    # sqrt(omega k rho c), an eighth of a period ahead.
    ground = CONCRETE._replace(thickness_m=3.0)
    omega = 2.0 * math.pi / DAY_S
    known = math.sqrt(omega * 1.8 * 2400.0 * 1000.0)
    assert periodic_wall([ground]).admittance_inside_W_m2K == pytest.approx(known, rel=1e-6)
    z = transfer_matrix([ground], 1j * omega)
    assert np.angle(z[0, 0] / -z[0, 1]) == pytest.approx(0.25 * math.pi)


@pytest.mark.published("the same swing solved as a boundary value problem (scipy)")
def test_matrix_against_a_boundary_value_problem():
    # k T'' = i omega rho c T in concrete, outer face swinging by 1, inner face still.
    omega = 2.0 * math.pi / DAY_S
    pull = omega * CONCRETE.density_kg_m3 * CONCRETE.heat_J_kgK / CONCRETE.conductivity_W_mK

    def slope(_, y):
        return np.vstack([y[2], y[3], -pull * y[1], pull * y[0]])

    def ends(a, b):
        return np.array([a[0], a[1], b[0] - 1.0, b[1]])

    x = np.linspace(0.0, CONCRETE.thickness_m, 81)
    solved = solve_bvp(slope, ends, x, np.zeros((4, x.size)), tol=1e-9, max_nodes=20_000)
    assert solved.success
    inward = CONCRETE.conductivity_W_mK * complex(solved.y[2, 0], solved.y[3, 0])
    z = transfer_matrix([CONCRETE], 1j * omega)
    known = 1.0 / -z[0, 1]
    assert inward.real == pytest.approx(known.real, abs=1e-6)
    assert inward.imag == pytest.approx(known.imag, abs=1e-6)


def test_a_slow_swing_is_steady_and_a_light_wall_has_no_delay():
    wall = [INSIDE, PLYWOOD, FOAM, CONCRETE, OUTSIDE]
    slow = periodic_wall(wall, 1000.0 * DAY_S)
    u_value = 1.0 / sum(layer.resistance_m2K_W for layer in wall)
    assert slow.transmittance_W_m2K == pytest.approx(u_value, rel=1e-3)
    light = periodic_wall([INSIDE, FOAM, OUTSIDE])
    assert light.decrement == pytest.approx(1.0, abs=0.01)
    assert light.delay_s < 1800.0
    # What a matrix does to temperature and heat must be undone by the mirrored wall.
    z = transfer_matrix(wall, 2j * math.pi / DAY_S)
    assert np.linalg.det(z) == pytest.approx(1.0)


def test_swing_and_step_belong_to_one_wall():
    # The swing's response is the sum of small steps (Duhamel): integrate s exp(-st) times the step
    # response numerically and compare with 1/Z12 at the same real s.
    wall = [INSIDE, PLYWOOD, CONCRETE, OUTSIDE]
    rate = 1.0 / (6.0 * 3600.0)
    times = np.linspace(30.0, 12.0 / rate, 4000)
    flux = np.array([wall_step_flux(wall, t, 24) for t in times])
    mean = np.trapezoid(rate * np.exp(-rate * times) * flux, times)
    z = transfer_matrix(wall, complex(rate))
    assert mean == pytest.approx((1.0 / -z[0, 1]).real, rel=2e-4)
