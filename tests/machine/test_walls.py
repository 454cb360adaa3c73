"""Walls cut into volumes, against exact solutions: steps, swings and the steady state.

The room is so large that it stays at its temperature; a wall's heat is then that of the exact wall
between a held room and a changing outdoors.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.day import S_WALLS_OUT
from coldwright.machine.place import WALLS
from coldwright.machine.rows import OTHER_K
from coldwright.machine.run import begin_run
from coldwright.machine.values import Values
from coldwright.sheet.file import read
from tests.machine.day_places import (
    START_K,
    heat_of,
    none_inside,
    put_wall,
    run_without_cooler,
    still_place,
    weather,
)
from tests.machine.test_wall_references import LIBRARY_WALL
from tests.machine.wall_references import (
    DAY_S,
    Layer,
    periodic_wall,
    resistance_layer,
    semi_infinite_step,
    slab_flux_far,
    slab_step,
    wall_step_flux,
)

CONCRETE = Layer(0.20, 1.8, 2400.0, 1000.0)
FOAM = Layer(0.04, 0.035, 20.0, 1450.0)
PLYWOOD = Layer(0.012, 0.10, 500.0, 1600.0)
INSIDE, OUTSIDE = resistance_layer(0.13), resistance_layer(0.04)
JUMP_S = 60.0


def after_step(places, seconds, *, step_s=20.0, bin_s=60.0):
    """Bins and state `seconds` after the outdoor side jumped up by 1 K at one minute."""
    other_K = [START_K, START_K, START_K + 1.0, START_K + 1.0]
    forcing = weather([0.0, JUMP_S, JUMP_S, 1e7], {OTHER_K: other_K}, places)
    bins, state = run_without_cooler(places, forcing, JUMP_S + seconds, step_s=step_s, bin_s=bin_s)
    return bins, state.stores[0, WALLS : WALLS + 24] - START_K


@pytest.mark.published("Carslaw and Jaeger 1959, section 2.5: erfc(x / (2 sqrt(a t)))")
@pytest.mark.parametrize("hours", [0.5, 3.0, 12.0])
def test_step_into_thick_ground(hours):
    # A metre of concrete whose outer face jumps, in volumes that grow with depth; 12 h of heat
    # reach a quarter of it. The coarsest volumes are a sixth as thick as heat reaches by then.
    layers = [CONCRETE._replace(thickness_m=d) for d in (0.50, 0.25, 0.12, 0.06, 0.03)]
    volumes = [3, 4, 5, 5, 7]
    places = still_place()
    put_wall(places, layers, volumes, outside_m2K_W=0.0)
    seconds = hours * 3600.0
    bins, risen_K = after_step(places, seconds)
    thick_m = np.concatenate(
        [np.full(n, layer.thickness_m / n) for layer, n in zip(layers, volumes, strict=True)]
    )
    depth_m = (np.cumsum(thick_m[::-1]) - thick_m[::-1] / 2.0)[::-1]
    np.testing.assert_allclose(risen_K, semi_infinite_step(depth_m, seconds, CONCRETE), atol=0.006)
    # Heat taken up until then: 2 k sqrt(t / (pi a)).
    known_J = 2.0 * 1.8 * math.sqrt(seconds / (math.pi * CONCRETE.diffusivity_m2_s))
    assert bins[0, :, S_WALLS_OUT].sum() == pytest.approx(known_J, rel=5e-3)


@pytest.mark.published("Carslaw and Jaeger 1959, section 3.4: slab between two held faces")
@pytest.mark.parametrize("hours", [0.5, 1.5, 3.0, 12.0])
def test_step_through_a_slab(hours):
    places = still_place()
    put_wall(places, [CONCRETE], [24], inside_m2K_W=0.0, outside_m2K_W=0.0)
    seconds = hours * 3600.0
    bins, risen_K = after_step(places, seconds)
    depth_m = 0.20 * (23 - np.arange(24) + 0.5) / 24.0
    known_K = [slab_step(float(depth), seconds, CONCRETE) for depth in depth_m]
    np.testing.assert_allclose(risen_K, known_K, atol=2e-3)
    # Mean of the last minute against its middle; a steady 9 W/m2 passes in the end.
    passed_W = heat_of(bins, "walls")[0, -1] / 60.0
    assert passed_W == pytest.approx(slab_flux_far(seconds - 30.0, CONCRETE), abs=0.01)


@pytest.mark.published("step through layers by transfer matrices, inverted by Abate and Valko 2004")
@pytest.mark.parametrize("hours", [3, 6, 12, 24, 48])
def test_step_through_layers(hours):
    wall = [PLYWOOD, FOAM, PLYWOOD, CONCRETE]
    places = still_place()
    put_wall(places, wall, [2, 4, 2, 16], area_m2=10.0)
    bins, _ = after_step(places, hours * 3600.0)
    found_W = heat_of(bins, "walls")[0, -60:].sum() / 3600.0 / 10.0
    known_W = _mean_of_last_hour(lambda t: wall_step_flux([INSIDE, *wall, OUTSIDE], t), hours)
    # A thousandth of the flux in the end, 0.597 W/m2.
    assert found_W == pytest.approx(known_W, abs=1e-3 * 0.6)


@pytest.mark.published(
    "second order of central finite volumes: half the width, a quarter the error"
)
def test_finer_volumes_come_nearer():
    wall = [PLYWOOD, FOAM, CONCRETE]
    known_W = _mean_of_last_hour(lambda t: wall_step_flux([INSIDE, *wall, OUTSIDE], t), 6)
    errors = []
    for volumes in ([1, 2, 3], [2, 4, 6], [4, 8, 12]):
        places = still_place()
        put_wall(places, wall, volumes, area_m2=10.0)
        bins, _ = after_step(places, 6 * 3600.0)
        errors.append(heat_of(bins, "walls")[0, -60:].sum() / 36000.0 - known_W)
    assert 3.0 < errors[0] / errors[1] < 5.0
    assert 3.0 < errors[1] / errors[2] < 5.0


def swing(layers, volumes, *, inside_m2K_W=0.13, outside_m2K_W=0.04, days=30):
    """Heat into the room and into the wall per kelvin of a daily outdoor swing, as phasors."""
    places = still_place()
    put_wall(
        places, layers, volumes, area_m2=10.0, inside_m2K_W=inside_m2K_W,
        outside_m2K_W=outside_m2K_W,
    )  # fmt: skip
    clock = np.arange(0.0, DAY_S + 1.0, 600.0)
    other_K = START_K + np.sin(2.0 * math.pi * clock / DAY_S)
    forcing = weather(clock, {OTHER_K: other_K}, places, period_s=DAY_S)
    bins, _ = run_without_cooler(places, forcing, days * DAY_S, step_s=60.0)
    middle = (np.arange(144) + 0.5) * 600.0
    turn = 2j * np.exp(-2j * math.pi * middle / DAY_S)
    # Straight lines between rows, and means over bins, flatten a sine by known factors.
    flat = np.sinc(600.0 / DAY_S) ** 3
    series_W = (heat_of(bins, "walls")[0, -144:], bins[0, -144:, S_WALLS_OUT])
    return [complex(np.mean(each * turn)) / 600.0 / 10.0 / flat for each in series_W]


@pytest.mark.published("EN ISO 13786 by the open library becalib (its tests, wall 1)")
def test_swing_through_a_heavy_wall():
    # U 0.272, yet only 0.0088 W/m2K of the daily swing comes through, 17.85 h later. The wall is
    # 62 cm thick, and the volumes that fit are up to 4 cm: 2 percent of so small a share.
    layers = LIBRARY_WALL[1:-1]
    through, into = swing(layers, [10, 3, 4, 5, 2])
    assert abs(through) == pytest.approx(0.008804, rel=0.02)
    assert _delay_h(through) == pytest.approx(17.854, abs=0.1)
    assert abs(into) == pytest.approx(7.7158, rel=0.005)
    # The same wall the other way round shows its inner admittance.
    through, into = swing(layers[::-1], [2, 5, 4, 3, 10], inside_m2K_W=0.04, outside_m2K_W=0.13)
    assert abs(through) == pytest.approx(0.008804, rel=0.02)
    assert abs(into) == pytest.approx(5.7303, rel=0.005)


@pytest.mark.published("EN ISO 13786: heat transfer matrix")
@pytest.mark.parametrize(
    ("layers", "volumes"),
    [
        ([PLYWOOD, FOAM, PLYWOOD], [4, 6, 4]),
        ([FOAM, CONCRETE], [4, 20]),
        ([CONCRETE, FOAM], [20, 4]),
    ],
)
def test_swing_through_common_walls(layers, volumes):
    known = periodic_wall([INSIDE, *layers, OUTSIDE])
    through, into = swing(layers, volumes, days=12)
    assert abs(through) == pytest.approx(known.transmittance_W_m2K, rel=3e-3)
    assert _delay_h(through) == pytest.approx(known.delay_s / 3600.0, abs=0.05)
    assert abs(into) == pytest.approx(known.admittance_outside_W_m2K, rel=3e-3)


HEAVY_SHEET = """
[climate]
kind = "steady"
outdoor_air = "26.85 degC"
[place]
kind = "room"
length = "5 m"
width = "5 m"
height = "2.5 m"
[[place.surface]]
name = "wall"
area = "10 m^2"
layers = [
    { material = "a", thickness = "300 mm", conductivity = "1.8 W/m/K", density = "2400 kg/m^3", specific_heat = "1000 J/kg/K" },
    { material = "b", thickness = "100 mm", conductivity = "0.034 W/m/K", density = "70 kg/m^3", specific_heat = "700 J/kg/K" },
    { material = "c", thickness = "80 mm", conductivity = "0.35 W/m/K", density = "750 kg/m^3", specific_heat = "840 J/kg/K" },
    { material = "d", thickness = "120 mm", conductivity = "0.8 W/m/K", density = "1800 kg/m^3", specific_heat = "840 J/kg/K" },
    { material = "e", thickness = "20 mm", conductivity = "0.9 W/m/K", density = "1400 kg/m^3", specific_heat = "840 J/kg/K" },
]
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { voltage = "6 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
[cooler.cold_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.cold_fan]
flow = "50 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.2 K/W"
[cooler.hot_fan]
flow = "100 m^3/h"
"""  # noqa: E501 - one layer a line


@pytest.mark.published("EN ISO 13786 by the open library becalib (its tests, wall 1)")
def test_the_volumes_that_a_sheet_is_given_are_fine_enough(tmp_path: Path):
    file = tmp_path / "sheet.toml"
    file.write_text(HEAVY_SHEET, encoding="utf-8")
    surface = assemble_place(read(file), Values(0))["surface"][0, 0]
    volumes = [int(n) for n in surface["layer_volumes"][:5]]
    layers = LIBRARY_WALL[1:-1]
    np.testing.assert_allclose(
        surface["layer_m2K_W"][:5], [layer.resistance_m2K_W for layer in layers]
    )
    np.testing.assert_allclose(
        surface["layer_J_m2K"][:5],
        [layer.thickness_m * layer.density_kg_m3 * layer.heat_J_kgK for layer in layers],
    )
    through, into = swing(layers, volumes)
    # What comes through is a thirtieth of U; a twentieth of that is nothing to a cooler.
    assert abs(through) == pytest.approx(0.008804, rel=0.05)
    assert _delay_h(through) == pytest.approx(17.854, abs=0.2)
    assert abs(into) == pytest.approx(7.7158, rel=0.01)


@pytest.mark.published("EN ISO 6946: R = Rsi + sum d/k + Rse")
def test_a_wall_that_stood_for_long_stays_as_it_is():
    # Begun at rest between 300 K and 320 K: not a node moves, and U A (To - Ti) flows through.
    places = still_place()
    wall = [PLYWOOD, FOAM, CONCRETE]
    put_wall(places, wall, [3, 6, 9], area_m2=4.0)
    forcing = weather([0.0, 1e6], {OTHER_K: 320.0}, places)
    start = begin_run(none_inside(places), places, forcing).stores.copy()
    bins, state = run_without_cooler(places, forcing, DAY_S)
    np.testing.assert_allclose(state.stores[0, WALLS:], start[0, WALLS:], atol=1e-4)
    insulance = 0.13 + 0.12 + 0.04 / 0.035 + 0.20 / 1.8 + 0.04
    known_W = 4.0 * 20.0 / insulance
    assert heat_of(bins, "walls")[0, 0] / 600.0 == pytest.approx(known_W, rel=1e-6)
    assert heat_of(bins, "walls")[0, -1] / 600.0 == pytest.approx(known_W, rel=1e-5)
    # Rise from the room to the middle of the outermost of nine concrete volumes.
    inner_K = START_K + 20.0 * (insulance - 0.04 - 0.20 / 1.8 / 18.0) / insulance
    assert start[0, WALLS + 17] == pytest.approx(inner_K, abs=1e-6)


def _mean_of_last_hour(flux, hours):
    points, weights = np.polynomial.legendre.leggauss(12)
    times = 3600.0 * (hours - 0.5 + 0.5 * points)
    return 0.5 * float(np.sum(weights * [flux(t) for t in times]))


def _delay_h(phasor):
    return (-np.angle(phasor) % (2.0 * math.pi)) * 24.0 / (2.0 * math.pi)
