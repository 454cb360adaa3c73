"""The place in time, against closed solutions: one node, walls, moisture, and what is stored."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import expm
from scipy.special import erfc

from coldwright.machine.balance import dry_air, unknowns
from coldwright.machine.cooler import operate
from coldwright.machine.frame import set_flows
from coldwright.machine.outcome import heat_load
from coldwright.machine.place import (
    AIR_J,
    AIR_KG,
    BUFFER,
    COLD_BASE,
    CONTENTS_K,
    GAMMA,
    HOT_BASE,
    STORES,
    WALLS,
    begin,
    new_walls,
    stage,
)
from coldwright.machine.pulldown import AIR_K, HUMIDITY_RATIO, no_cooler, pull_down, step_times
from coldwright.machine.records import FRAME, MAX_NODES, MAX_UNKNOWNS, Drive, Status
from coldwright.machine.solve import OUTPUTS, _fan_states, new_work
from tests.machine.designs import plain_cooler, plain_place

STIRRED = "energy balance of one well-stirred node: C dT/dt = UA (To - T) + Q, worked by hand"


def one_node(n=1):
    """C = 120 kJ/K that follows the air at once, UA = 8 W/K, Q = -40 W, 30 degC all around."""
    p = plain_place(n, enclosed=True)
    p["volume_m3"] = 1e-6
    p["contents_J_K"], p["contents_W_K"] = 120e3, 1e7
    p["loss_W_K"], p["gain_W"] = 8.0, -40.0
    p["air_K"] = p["outdoor_K"] = 303.15
    return p


def alone(p):
    """The place with no cooler in it."""
    return no_cooler(plain_cooler(len(p)))


# C 120 kJ/K, UA 8 W/K, Q -40 W: level 25.000 degC, time constant 15000 s.
NODE = [(3600.0, 28.9331), (14400.0, 26.9145)]


@pytest.mark.published(STIRRED)
def test_one_node_follows_its_exponential():
    p = one_node()
    times = np.arange(0.0, 14400.1, 60.0)
    history, status = pull_down(alone(p), p, times)
    assert status[0] == Status.SOLVED
    air = history[0, :, AIR_K] - 273.15
    for at_s, expected_C in NODE:
        # 0.1 % of the 5 K drop.
        assert air[times == at_s][0] == pytest.approx(expected_C, abs=0.005)
    exact = 25.0 + 5.0 * np.exp(-times / 15000.0)
    assert np.abs(air - exact).max() < 1e-4
    crossing_s = np.interp(-27.0, -air, times)
    assert crossing_s == pytest.approx(13744.4, rel=1e-3)
    steady = operate(alone(p), p, p["air_K"], p["humidity_ratio"], with_place=True)
    assert steady["place_K"][0] - 273.15 == pytest.approx(25.0, abs=1e-9)


@pytest.mark.published("order of the two-stage method of Alexander, SIAM J. Numer. Anal. 14, 1977")
def test_halving_the_step_quarters_the_error():
    p = one_node()
    exact = 25.0 + 5.0 * math.exp(-14400.0 / 15000.0)
    errors = []
    for steps in (3, 6, 12, 24):
        history, _ = pull_down(alone(p), p, np.linspace(0.0, 14400.0, steps + 1))
        errors.append(abs(history[0, -1, AIR_K] - 273.15 - exact))
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert np.all((orders > 1.8) & (orders < 2.2))


# A box of 5000 J/K and 0.8 W/K in air of 30 degC with a cooler of Qc = 30 - 1.2 (Ta - T) W:
# ends at 15.00 degC, time constant 2500 s, 20 degC after 2746.5 s, 22.301 degC at 1800 s.
@pytest.mark.published("Qc = S I Tc - I^2 R/2 - K (Th - Tc) in a box: solved by hand")
def test_a_box_is_pulled_down_by_a_module():
    c = plain_cooler(1)
    # Nearly ideal sinks and joints: the faces have the air's temperatures. The slope of Qc is
    # S I + K = 0.05 x 2 + 1.1 W/K and Qc at 30 degC is 0.1 x 303.15 - 2 R = 30 W.
    group = c["group"][:, 0]
    group["seebeck"], group["conductance"] = 0.05, 1.1
    group["resistance"] = (0.1 * 303.15 - 30.0) / 2.0
    group["drive"], group["drive_value"] = Drive.CURRENT, 2.0
    group["cold_interface_K_W"] = group["hot_interface_K_W"] = 1e-5
    for side in ("cold", "hot"):
        c[f"{side}_sink"]["resistance_K_W"] = 1.0 / 11000.0
        c[f"{side}_sink"]["reference_flow_m3_s"] = c[f"{side}_fan"]["flow_m3_s"] = 10.0
    p = plain_place(1, enclosed=True)
    p["volume_m3"], p["contents_J_K"], p["contents_W_K"] = 1e-6, 5000.0, 1e5
    p["loss_W_K"] = 0.8
    p["air_K"] = p["outdoor_K"] = 303.15
    p["humidity_ratio"] = p["outdoor_humidity_ratio"] = 1e-4
    times = np.arange(0.0, 3600.1, 20.0)
    history, status = pull_down(c, p, times)
    assert status[0] == Status.SOLVED
    air = history[0, :, AIR_K] - 273.15
    assert air[times == 1800.0][0] == pytest.approx(22.301, abs=0.015)
    assert np.interp(-20.0, -air, times) == pytest.approx(2746.5, rel=1e-3)
    steady = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=True)
    assert steady["place_K"][0] - 273.15 == pytest.approx(15.0, abs=0.015)


def brick(n_volumes=24):
    """A place behind 1 m2 of a 0.6 m wall: k = 1 W/m/K, rho c = 2 MJ/m3/K; no film on it."""
    p = plain_place(1, enclosed=True)
    p["outdoor_K"] = p["air_K"] = 293.15
    p["surfaces"] = 1
    surface = p["surface"][:, 0]
    surface["area_m2"], surface["other_K"], surface["layers"] = 1.0, 293.15, 1
    surface["film_in_m2K_W"] = surface["film_out_m2K_W"] = 1e-9
    surface["layer_m2K_W"][:, 0], surface["layer_J_m2K"][:, 0] = 0.6, 1.2e6
    surface["layer_volumes"][:, 0] = n_volumes
    return p


class Run:
    """One case stepped by hand, so that every store can be read."""

    def __init__(self, cooler, place, held_K=0.0):
        self.c, self.p = cooler[0], place[0]
        self.walls, self.work = new_walls(), new_work()
        self.y, self.x, self.o = np.zeros(STORES), np.zeros(MAX_UNKNOWNS), np.zeros(OUTPUTS)
        self.frame = np.zeros(1, dtype=FRAME)[0]
        self.n = unknowns(self.c, True)
        begin(self.c, self.p, self.walls, self.y, self.x, self.o)
        if held_K > 0.0:
            self.frame["held_K"] = held_K
            self.x[self.n - 2] = held_K

    def step(self, step_s, see=None):
        """One step of two stages; `see` is called after each with its weight in seconds."""
        c, p, n = self.c, self.p, self.n
        if c["hot_sinks"] > 0:
            state = _fan_states(
                c, p, self.x[n - 2], self.x[n - 1] * 1e-3, True, n, self.x, self.o, True
            )
            assert set_flows(c, p, *state, self.frame)
        inverse = 1.0 / (GAMMA * step_s)
        first, end = self.y.copy(), self.y.copy()
        base = self.y.copy()
        for number in (1, 2):
            new = first if number == 1 else end
            status = stage(
                c, p, self.walls, inverse, base, new, n, self.x, self.frame, self.o, self.work
            )
            assert status == Status.SOLVED
            if see is not None:
                see(step_s * ((1.0 - GAMMA) if number == 1 else GAMMA), new)
            base = self.y + (1.0 - GAMMA) / GAMMA * (first - self.y)
        self.y = end

    @property
    def air_K(self):
        return self.x[self.n - 2]

    @property
    def water(self):
        return self.x[self.n - 1] * 1e-3


@pytest.mark.published("Carslaw and Jaeger: half-space whose surface is raised at once (memory)")
def test_heat_enters_a_thick_wall_as_into_a_half_space():
    p = brick()
    run = Run(alone(p), p, held_K=303.15)
    for _ in range(240):
        run.step(60.0)
    depth_m = (np.arange(24) + 0.5) * 0.6 / 24
    diffusivity = 1.0 / 2e6
    after_s = 240 * 60.0
    expected = 293.15 + 10.0 * erfc(depth_m / (2.0 * math.sqrt(diffusivity * after_s)))
    found = run.y[WALLS : WALLS + 24]
    # Volumes of 25 mm against a depth of penetration of 170 mm.
    assert np.abs(found - expected).max() < 0.1
    stored_J = np.sum(found - 293.15) * 1.2e6 / 24
    assert stored_J == pytest.approx(
        20.0 * math.sqrt(1.0 * 2e6 * after_s / math.pi), rel=0.01
    )  # 2 dT sqrt(k rho c t / pi)


@pytest.mark.published("steady conduction in a layered wall: resistances add (ISO 6946)")
def test_a_layered_wall_settles_to_its_u_value():
    p = brick()
    surface = p["surface"][:, 0]
    surface["area_m2"], surface["layers"], surface["other_K"] = 14.0, 3, 273.15
    surface["film_in_m2K_W"], surface["film_out_m2K_W"] = 0.13, 0.04
    surface["layer_m2K_W"][:, :3] = [0.1, 1.2, 0.05]
    surface["layer_J_m2K"][:, :3] = [9e3, 1.2e3, 4e3]
    surface["layer_volumes"][:, :3] = [2, 6, 1]
    p["outdoor_K"], p["loss_W_K"] = 273.15, 3.0
    run = Run(alone(p), p, held_K=303.15)
    for _ in range(200):
        run.step(3600.0)
    wall = run.y[WALLS : WALLS + 9]
    u_W_m2K = 1.0 / (0.13 + 0.1 + 1.2 + 0.05 + 0.04)
    flux_W_m2 = 30.0 * u_W_m2K
    # Down from the air through the inner film and half of the first volume, and so on.
    before = np.array([0.025] * 2 + [0.1] * 6 + [0.025])
    passed = 0.13 + np.cumsum(before) + np.concatenate([[0.0], np.cumsum(before)[:-1]])
    assert np.allclose(wall, 303.15 - flux_W_m2 * passed, rtol=0, atol=1e-6)
    load = dict(heat_load(p, operate(alone(p), p, 303.15, 0.003, with_place=True, held=True)))
    assert load["through the walls"][0] == pytest.approx(-30.0 * 14.0 * u_W_m2K, rel=1e-12)
    assert load["windows, edges and leaks"][0] == pytest.approx(-90.0, rel=1e-12)


@pytest.mark.published("well-stirred nodes of moisture: M dW/dt = m (Wo - W) + G + b (Wb - W)")
@pytest.mark.parametrize("buffer_kg", [0.0, 25.0])
def test_moisture_follows_its_exponential(buffer_kg):
    p = plain_place(1, enclosed=True)
    p["volume_m3"], p["natural_m3_s"], p["moisture_kg_s"] = 20.0, 0.01, 2e-5
    p["loss_W_K"] = 1e5
    p["air_K"] = p["outdoor_K"] = 298.15
    p["humidity_ratio"], p["outdoor_humidity_ratio"] = 0.012, 0.006
    p["buffer_kg"], p["buffer_kg_s"] = buffer_kg, 0.02
    # The two first steps are of first order, so they are kept short.
    times = np.concatenate([[0.0, 1.0, 2.0], np.arange(30.0, 7201.0, 30.0)])
    history, _ = pull_down(alone(p), p, times)
    air_kg = 20.0 * 101325.0 / (287.042 * 298.15 * (1 + 1.607858 * 0.012))
    flow_kg_s = 0.01 * 101325.0 / (287.042 * 298.15 * (1 + 1.607858 * 0.006))
    level = 0.006 + 2e-5 / flow_kg_s
    if buffer_kg == 0.0:
        exact = level + (0.012 - level) * np.exp(-flow_kg_s * times / air_kg)
    else:
        rates = np.array(
            [[-(flow_kg_s + 0.02) / air_kg, 0.02 / air_kg], [0.02 / buffer_kg, -0.02 / buffer_kg]]
        )
        exact = np.array([level + (expm(rates * t) @ np.full(2, 0.012 - level))[0] for t in times])
    assert np.abs(history[0, :, HUMIDITY_RATIO] - exact).max() < 2e-7


@pytest.mark.published("saturation: what the air cannot hold runs down the walls")
def test_a_closed_place_with_a_source_of_moisture_sweats():
    p = plain_place(1, enclosed=True)
    p["moisture_kg_s"], p["sweat_kg_s"], p["loss_W_K"] = 1e-5, 0.05, 50.0
    p["air_K"] = p["outdoor_K"] = 298.15
    r = operate(alone(p), p, p["air_K"], p["humidity_ratio"], with_place=True)
    assert r["status"][0] == Status.SOLVED
    # Saturated at 25 degC: 20.17 g/kg (ASHRAE Fundamentals, table of moist air, from memory).
    air_C = r["place_K"][0] - 273.15
    assert air_C == pytest.approx(25.0 + 1e-5 * 2.44e6 / 50.0, abs=0.01)
    surplus = 1e-5 / 0.05
    assert r["place_humidity_ratio"][0] - surplus == pytest.approx(0.02017 * 1.0305, rel=5e-3)


@pytest.mark.published("conservation of energy and mass over a run")
def test_what_flows_in_over_a_run_is_what_is_stored():
    c, p = plain_cooler(1), plain_place(1, enclosed=True)
    c["group"]["series"], c["group"]["drive_value"] = 4, 32.0
    for side, capacity_J_K in (("cold", 900.0), ("hot", 2500.0)):
        c[f"{side}_sink"]["heat_capacity_J_K"] = capacity_J_K
        c[f"{side}_fan"]["power_W"] = 5.0
    c["spacer_W_K"] = 0.3
    wall = brick()
    p["surfaces"], p["surface"] = 1, wall["surface"]
    p["surface"]["layer_volumes"][:, 0, 0], p["surface"]["area_m2"][:, 0] = 8, 9.0
    p["surface"]["film_in_m2K_W"][:, 0], p["surface"]["other_K"][:, 0] = 0.13, 308.15
    p["volume_m3"], p["natural_m3_s"], p["moisture_kg_s"] = 3.0, 2e-3, 2e-5
    p["contents_J_K"], p["contents_W_K"], p["loss_W_K"], p["gain_W"] = 5e4, 30.0, 2.0, 25.0
    p["humidity_ratio"], p["outdoor_humidity_ratio"], p["air_K"] = 0.018, 0.016, 303.15
    run = Run(c, p)
    one = p[0]
    volumes_J_K = 9.0 * 1.2e6 / 8

    def energy_J():
        y = run.y
        bases_J = 900.0 * y[COLD_BASE] + 2500.0 * y[HOT_BASE]
        return y[AIR_J] + 5e4 * y[CONTENTS_K] + bases_J + volumes_J_K * y[WALLS : WALLS + 8].sum()

    def air_h(air_K, water):
        celsius = air_K - 273.15
        return 1006.0 * celsius + water * (2_501_000.0 + 1860.0 * celsius)

    into_J, into_kg = [0.0], [0.0]

    def see(weight_s, stores):
        o, air_K, water = run.o, run.air_K, run.water
        outdoor_h = air_h(308.15, 0.016)
        heat_W = o[6] - run.frame["hot_kg_s"] * (air_h(o[11], o[3]) - outdoor_h)
        heat_W -= o[4] * 4186.0 * (o[16] - 273.15)
        heat_W += o[13] * (outdoor_h - air_h(air_K, water)) + 25.0 + 2.0 * (308.15 - air_K)
        heat_W += 2e-5 * (2_501_000.0 + 1860.0 * (air_K - 273.15))
        half_m2K_W = 0.6 / 16 + 1e-9
        heat_W += 9.0 / half_m2K_W * (308.15 - stores[WALLS + 7])
        into_J[0] += weight_s * heat_W
        into_kg[0] += weight_s * (o[13] * (0.016 - water) + 2e-5 - o[4])

    was_J, was_kg = energy_J(), run.y[AIR_KG]
    wet = False
    for step_s in np.diff(step_times(7200.0, 60)):
        run.step(step_s, see)
        wet = wet or run.o[4] > 1e-6
    assert wet
    assert run.y[BUFFER] == pytest.approx(run.water)
    moved_J = energy_J() - was_J
    assert abs(moved_J) > 1e4
    assert into_J[0] == pytest.approx(moved_J, rel=1e-6)
    assert into_kg[0] == pytest.approx(run.y[AIR_KG] - was_kg, rel=1e-6)
    assert run.y[AIR_KG] == pytest.approx(dry_air(one) * run.water, rel=1e-12)


def test_a_long_run_ends_at_the_steady_state():
    # Two roads to one place: stepping for days, and solving for the level at once.
    c, p = plain_cooler(3), plain_place(3, enclosed=True)
    c["group"]["series"], c["group"]["drive_value"] = (
        4,
        np.array([[12.0], [24.0], [40.0]]) * [[1, 0, 0, 0]],
    )
    for side in ("cold", "hot"):
        c[f"{side}_sink"]["heat_capacity_J_K"] = 1000.0
    p["volume_m3"], p["natural_m3_s"], p["loss_W_K"], p["gain_W"] = 2.0, 1e-3, 3.0, 10.0
    p["contents_J_K"], p["contents_W_K"] = 2e4, 20.0
    p["surfaces"], p["surface"] = 1, np.repeat(brick()["surface"], 3, axis=0)
    p["surface"]["other_K"][:, 0] = 300.15
    p["humidity_ratio"], p["outdoor_humidity_ratio"] = 0.012, 0.014
    steady = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=True)
    assert np.all(steady["status"] == Status.SOLVED)
    history, status = pull_down(c, p, step_times(60 * 86400.0, 400))
    assert np.all(status == Status.SOLVED)
    assert np.allclose(history[:, -1, AIR_K], steady["place_K"], rtol=0, atol=1e-5)
    assert np.allclose(
        history[:, -1, HUMIDITY_RATIO], steady["place_humidity_ratio"], rtol=0, atol=1e-8
    )
    assert MAX_NODES >= 24


def quick_air(n=1):
    """A box whose air follows in seconds, with contents that follow in an hour, and a cooler."""
    c, p = plain_cooler(n), plain_place(n, enclosed=True)
    c["group"]["series"][:, 0], c["group"]["drive_value"][:, 0] = 4, 32.0
    for side in ("cold", "hot"):
        c[f"{side}_sink"]["heat_capacity_J_K"] = 400.0
    p["volume_m3"], p["loss_W_K"], p["air_K"] = 0.15, 2.0, 303.15
    p["contents_J_K"], p["contents_W_K"] = 2e4, 8.0
    p["surfaces"], p["surface"] = 1, np.repeat(brick()["surface"], n, axis=0)
    p["surface"]["layer_m2K_W"][:, 0, 0], p["surface"]["layer_J_m2K"][:, 0, 0] = 0.5, 2e4
    p["surface"]["layer_volumes"][:, 0, 0], p["surface"]["film_in_m2K_W"][:, 0] = 4, 0.13
    return c, p


@pytest.mark.parametrize("hours", [0.5, 2, 10, 24, 72])
def test_steps_that_grow_follow_the_fine_curve(hours):
    c, p = quick_air()
    times = step_times(hours * 3600.0)
    assert times[0] == 0.0
    assert times[-1] == pytest.approx(hours * 3600.0)
    assert times[1] <= 45.0
    history, status = pull_down(c, p, times)
    assert status[0] == Status.SOLVED
    fine = np.unique(
        np.concatenate([np.arange(0.0, 1800.0, 2.0), np.linspace(1800, times[-1], 900)])
    )
    exact, _ = pull_down(c, p, fine[fine <= times[-1]])
    error_K = history[0, :, AIR_K] - np.interp(times, fine[fine <= times[-1]], exact[0, :, AIR_K])
    # The first seconds are crossed in few steps; after a minute a tenth of a kelvin is kept.
    assert np.abs(error_K[times > 60.0]).max() < 0.1
    assert abs(error_K[-1]) < 0.02


def test_the_first_steps_do_not_swing_past_what_comes_after():
    # With steps far longer than the air needs: it must fall steadily, never below its later path.
    c, p = quick_air()
    for first_s in (30.0, 120.0, 600.0):
        times = np.arange(0.0, 40.0) * first_s
        history, _ = pull_down(c, p, times)
        assert np.all(np.diff(history[0, :, AIR_K]) < 1e-6)
