"""Rooms of few temperatures against the exponential and the matrix exponential, and for size
against the simple hourly method."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coldwright.machine.day import S_AIR, S_MAX, S_TIME
from coldwright.machine.place import AIR_KG, BUFFER, CONTENTS_K, WALLS
from coldwright.machine.rows import (
    DOOR_M3_S,
    GAIN_W,
    MOISTURE,
    OTHER_K,
    OUTDOOR_K,
    OUTDOOR_WATER,
    WIND,
)
from tests.machine.day_places import (
    START_K,
    WATER,
    heat_of,
    put_wall,
    run_without_cooler,
    still_place,
    weather,
)
from tests.machine.hourly_reference import Room, one_hour
from tests.machine.room_references import network_room, one_node_room
from tests.machine.wall_references import DAY_S, Layer

# Heat of moist air per kilogram of dry air and kelvin; volume per kilogram: ASHRAE Fundamentals,
# chapter 1 (1006 and 1860 J/(kg K); v = 287.042 T (1 + 1.607858 W) / p).
HEAT_J_KGK = 1006.0 + 1860.0 * WATER


def dry_air_kg(volume_m3, air_K=START_K, water=WATER):
    return volume_m3 / (287.042 * air_K * (1.0 + 1.607858 * water) / 101325.0)


def air_K_of(state):
    """Temperature of the air at the end of a run without a cooler."""
    return state.unknowns[0, 0]


def one_node(capacity_J_K=120e3):
    """A room of one capacity: only its air, of the volume that it takes."""
    return still_place(capacity_J_K / HEAT_J_KGK / dry_air_kg(1.0))


@pytest.mark.published("one-node room by hand: 120 kJ/K, 8 W/K, -40 W, all at 30 °C at first")
@pytest.mark.parametrize(
    ("seconds", "known_C"), [(3600.0, 28.9331), (14400.0, 26.9145), (15000.0, 26.8394), (9e5, 25.0)]
)
def test_one_node(seconds, known_C):
    places = one_node()
    places["air_K"] = places["outdoor_K"] = 303.15
    places["volume_m3"] = 120e3 / HEAT_J_KGK / dry_air_kg(1.0, 303.15)
    places["loss_W_K"] = 8.0
    forcing = weather([0.0, 1e6], {GAIN_W: -40.0}, places)
    _, state = run_without_cooler(places, forcing, seconds, bin_s=3600.0)
    assert air_K_of(state) - 273.15 == pytest.approx(known_C, abs=1e-4)


@pytest.mark.published("one-node room: e^(-t/RC) after a jump, a lag of RC behind a ramp")
def test_one_node_behind_jumps_and_ramps():
    # Outdoors jumps by 6 K at 1 h, holds to 3 h, and then falls by 1 K/h.
    places = one_node()
    places["loss_W_K"] = 12.0
    lag_s = 120e3 / 12.0
    forcing = weather(
        [0.0, 3600.0, 3600.0, 10800.0, 10800.0 + 12 * 3600.0],
        {OUTDOOR_K: [300.0, 300.0, 306.0, 306.0, 294.0]},
        places,
    )
    _, state = run_without_cooler(places, forcing, 3600.0)
    assert air_K_of(state) == pytest.approx(300.0, abs=1e-6)
    _, state = run_without_cooler(places, forcing, 10800.0, state=state)
    jumped_K = one_node_room(7200.0, 300.0, 306.0, 0.0, 12.0, 120e3)
    assert air_K_of(state) == pytest.approx(jumped_K, abs=2e-5)
    seconds = 5.0 * 3600.0
    _, state = run_without_cooler(places, forcing, 10800.0 + seconds, state=state)
    fall_K_s = 1.0 / 3600.0
    behind_K = fall_K_s * lag_s
    outdoor_K = 306.0 - fall_K_s * seconds
    known_K = outdoor_K + behind_K + (jumped_K - 306.0 - behind_K) * math.exp(-seconds / lag_s)
    assert air_K_of(state) == pytest.approx(known_K, abs=2e-5)


def network(step_s):
    """Air, contents and a wall of five volumes, with a window, air change and steady gains."""
    places = still_place(30.0)
    places["loss_W_K"] = 4.0
    places["contents_J_K"], places["contents_W_K"] = 90e3, 25.0
    places["natural_m3_s"] = 30.0 / 3600.0
    layers = [Layer(0.012, 0.10, 500.0, 1600.0), Layer(0.04, 0.035, 20.0, 1450.0)]
    put_wall(places, layers, [2, 3], area_m2=9.0)
    jump = [START_K, START_K, 309.0, 309.0]
    forcing = weather(
        [0.0, 60.0, 60.0, 1e6],
        {OUTDOOR_K: jump, OTHER_K: jump, GAIN_W: [0.0, 0.0, 120.0, 120.0]},
        places,
    )
    _, state = run_without_cooler(places, forcing, 60.0 + 7200.0, step_s=step_s, bin_s=3600.0)
    return np.concatenate(
        [[air_K_of(state), state.stores[0, CONTENTS_K]], state.stores[0, WALLS : WALLS + 5]]
    )


def exact_network():
    """The same by the matrix exponential. Nodes: air, contents, wall from inside to outside."""
    capacity = [30.0 * dry_air_kg(1.0) * HEAT_J_KGK, 90e3]
    capacity += [9.0 * 0.012 * 500.0 * 1600.0 / 2] * 2 + [9.0 * 0.04 * 20.0 * 1450.0 / 3] * 3
    plywood, foam = 0.012 / 0.10 / 2, 0.04 / 0.035 / 3
    between = [0.13 + plywood / 2, plywood, plywood / 2 + foam / 2, foam, foam]
    links = np.zeros((7, 7))
    links[0, 1] = 25.0
    for at, insulance in enumerate(between):
        links[0 if at == 0 else at + 1, at + 2] = 9.0 / insulance
    out = np.zeros(7)
    fresh_kg_s = 30.0 / 3600.0 * dry_air_kg(1.0, 309.0)
    out[0] = 4.0 + fresh_kg_s * HEAT_J_KGK
    out[6] = 9.0 / (foam / 2 + 0.04)
    heat_W = [120.0, 0, 0, 0, 0, 0, 0]
    return network_room(7200.0, np.full(7, START_K), capacity, links + links.T, out, 309.0, heat_W)


@pytest.mark.published("matrix exponential of the same room (scipy.linalg.expm)")
def test_air_contents_and_wall_together():
    np.testing.assert_allclose(network(30.0), exact_network(), atol=2e-4)


@pytest.mark.published("R. Alexander 1977: the two-stage method is of second order")
def test_half_the_step_a_quarter_of_the_error():
    known_K = exact_network()
    errors = [np.abs(network(step_s) - known_K).max() for step_s in (240.0, 120.0, 60.0)]
    assert 3.0 < errors[0] / errors[1] < 5.0
    assert 3.0 < errors[1] / errors[2] < 5.0


@pytest.mark.published("mixing: water in a ventilated room nears its level as e^(-t n)")
def test_moisture_of_a_ventilated_room():
    # 50 m3, one air change an hour, 100 g/h of vapour; outdoors 8 g/kg.
    places = still_place(50.0)
    places["natural_m3_s"] = 50.0 / 3600.0
    forcing = weather([0.0, 1e6], {MOISTURE: 0.1 / 3600.0}, places)
    for hours in (0.5, 1.0, 3.0):
        _, state = run_without_cooler(places, forcing, hours * 3600.0)
        # The room holds what it held at the start: mass of its air and of what comes in per hour
        # are one.
        level = WATER + 0.1 / dry_air_kg(50.0)
        known = level + (WATER - level) * math.exp(-hours)
        assert state.stores[0, AIR_KG] / dry_air_kg(50.0) == pytest.approx(known, rel=1e-6)


@pytest.mark.published("matrix exponential of air and moisture buffer (scipy.linalg.expm)")
def test_moisture_of_a_room_with_a_buffer():
    # Hot and dry outdoors; paper that is as good as 40 kg of air gives back what it holds.
    places = still_place(20.0)
    places["natural_m3_s"] = 5.0 / 3600.0
    places["buffer_kg"], places["buffer_kg_s"] = 40.0, 6e-3
    places["loss_W_K"] = 1e4  # the room stays at 300 K while water evaporates in it
    forcing = weather(
        [0.0, 60.0, 60.0, 1e6],
        {OUTDOOR_WATER: [WATER, WATER, 0.003, 0.003]},
        places,
    )
    _, state = run_without_cooler(places, forcing, 60.0 + 6 * 3600.0)
    fresh_kg_s = 5.0 / 3600.0 * dry_air_kg(1.0, START_K, 0.003)
    known = network_room(
        6 * 3600.0, [WATER, WATER], [dry_air_kg(20.0), 40.0], [[0.0, 6e-3], [6e-3, 0.0]],
        [fresh_kg_s, 0.0], 0.003, [0.0, 0.0],
    )  # fmt: skip
    assert state.stores[0, AIR_KG] / dry_air_kg(20.0) == pytest.approx(known[0], rel=2e-5)
    assert state.stores[0, BUFFER] == pytest.approx(known[1], rel=2e-5)


@pytest.mark.published("air change by hand: Q = m (h_out - h_in)")
@pytest.mark.parametrize("gaps_m2", [0.0, 0.01])
def test_a_door_brings_what_its_air_holds(gaps_m2):
    # Six openings an hour of 2 m3, outdoors 35 degC and 12 g/kg, into a large room at 27 degC.
    # What comes in through gaps comes besides.
    places = still_place()
    places["leak_area_m2"], places["wind_m_s"] = gaps_m2, 2.0
    places["stack_coefficient"], places["wind_coefficient"] = 0.000145, 0.000137
    weather_only = {OUTDOOR_K: 308.15, OUTDOOR_WATER: 0.012, WIND: 2.0}
    shut, _ = run_without_cooler(places, weather([0.0, 1e6], weather_only, places), 600.0)
    door_m3_s = 12.0 / 3600.0
    forcing = weather([0.0, 1e6], weather_only | {DOOR_M3_S: door_m3_s}, places)
    bins, _ = run_without_cooler(places, forcing, 600.0)
    fresh_kg_s = door_m3_s * dry_air_kg(1.0, 308.15, 0.012)
    outdoor_J = 1006.0 * 35.0 + 0.012 * (2501e3 + 1860.0 * 35.0)
    indoor_J = 1006.0 * 26.85 + 0.008 * (2501e3 + 1860.0 * 26.85)
    known_W = fresh_kg_s * (outdoor_J - indoor_J)
    # About 69 W, of which more than half is moisture.
    assert known_W == pytest.approx(69.0, abs=1.0)
    gaps_W, both_W = (heat_of(each, "outdoor air by itself")[0, 0] / 600.0 for each in (shut, bins))
    assert both_W - gaps_W == pytest.approx(known_W, rel=1e-5)
    # Class of a one-storey house: Q = A (Cs dT + Cw U2)^0.5, 0.01 m2 in cm2 and m3/s.
    gaps_m3_s = 1e-3 * gaps_m2 * 1e4 * math.sqrt(0.000145 * 8.15 + 0.000137 * 4.0)
    assert gaps_W == pytest.approx(known_W * gaps_m3_s / door_m3_s, rel=2e-2)


@pytest.mark.published("EN ISO 13790:2008, annex C (from memory): simple hourly method, for size")
def test_a_day_is_as_large_as_by_the_simple_hourly_method():
    # The kiosk of that method's worked numbers, 12 m2: mass 1.98 MJ/K behind 273 W/K, opaque
    # 12 W/K, window 4.2 W/K, air change 10.2 W/K. Sun and people from 9 to 17 h.
    kiosk = Room(12.0, 30.0, 1.98e6, 12.0, 4.2, 10.2)
    hours = np.arange(24)
    outdoor_C = 28.0 + 6.0 * np.cos(2.0 * math.pi * (hours + 0.5 - 15.0) / 24.0)
    heat_W = np.where((hours >= 9) & (hours < 17), 250.0, 0.0)
    mass_C, series_C = 28.0, np.zeros(24)
    for _ in range(60):
        for hour in hours:
            found = one_hour(kiosk, mass_C, outdoor_C[hour], outdoor_C[hour], heat_W[hour], 0.0)
            mass_C, series_C[hour] = found.mass_C, found.air_C

    # Ours has no mean surface between air and mass: the same two paths stand in series.
    places = still_place(26.0)
    places["contents_J_K"] = 1.98e6
    places["contents_W_K"] = 1.0 / (1.0 / 273.0 + 1.0 / 186.3)
    places["loss_W_K"] = 12.0 + 4.2
    places["natural_m3_s"] = 10.2 / HEAT_J_KGK / dry_air_kg(1.0)
    clock = np.arange(0.0, DAY_S + 1.0, 600.0)
    air_K = 301.15 + 6.0 * np.cos(2.0 * math.pi * (clock / 3600.0 - 15.0) / 24.0)
    on = np.array([9.0, 9.0, 17.0, 17.0]) * 3600.0
    plain = np.setdiff1d(clock, on)
    whole = np.sort(np.concatenate([plain, on]))
    gain_W = np.where((whole >= on[0]) & (whole <= on[3]), 250.0, 0.0)
    gain_W[np.searchsorted(whole, on[0])] = 0.0
    gain_W[np.searchsorted(whole, on[3], side="right") - 1] = 0.0
    forcing = weather(
        whole, {OUTDOOR_K: np.interp(whole, clock, air_K), GAIN_W: gain_W}, places, period_s=DAY_S
    )
    bins, _ = run_without_cooler(places, forcing, 10 * DAY_S, bin_s=3600.0)
    last = bins[0, -24:]
    ours_C = last[:, S_AIR] / last[:, S_TIME] - 273.15
    assert series_C.max() > 31.0  # it does become hot
    assert ours_C.mean() == pytest.approx(series_C.mean(), abs=0.3)
    assert ours_C.max() == pytest.approx(series_C.max(), abs=1.0)
    assert ours_C.min() == pytest.approx(series_C.min(), abs=1.0)
    assert abs(int(np.argmax(ours_C)) - int(np.argmax(series_C))) <= 1
    assert last[:, S_MAX].max() >= last[:, S_AIR].max() / 3600.0
