"""The exact rooms themselves: by hand, by integration, and the hourly method's worked numbers."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.machine.hourly_reference import Room, one_hour
from tests.machine.room_references import network_room, one_node_room, one_node_time


@pytest.mark.published("one-node room by hand: 120 kJ/K, 8 W/K, -40 W, all at 30 °C at first")
def test_one_node():
    room = (30.0, 30.0, -40.0, 8.0, 120e3)
    assert one_node_room(1e9, *room) == pytest.approx(25.000)
    assert one_node_room(3600.0, *room) == pytest.approx(28.9331, abs=5e-4)
    assert one_node_room(14400.0, *room) == pytest.approx(26.9145, abs=5e-4)
    assert one_node_time(27.0, *room) == pytest.approx(13744.4, rel=1e-4)
    # Time constant: 1 - 1/e of the way after 15,000 s.
    assert one_node_room(15000.0, *room) == pytest.approx(25.0 + 5.0 * np.exp(-1.0))


def test_a_network_of_one_is_the_one_node_room():
    found = network_room(7200.0, [30.0], [120e3], [[0.0]], [8.0], 30.0, [-40.0])
    assert found[0] == pytest.approx(one_node_room(7200.0, 30.0, 30.0, -40.0, 8.0, 120e3))


def test_air_and_mass_against_integration():
    # Air 15 kJ/K and contents 200 kJ/K, 25 W/K between them, the air leaks 12 W/K.
    def rate(_, kelvin):
        flow = 25.0 * (kelvin[1] - kelvin[0])
        return [(flow + 12.0 * (308.0 - kelvin[0]) - 250.0) / 15e3, (20.0 - flow) / 200e3]

    run = solve_ivp(rate, (0.0, 5400.0), [305.0, 305.0], rtol=1e-11, atol=1e-10)
    found = network_room(
        5400.0, [305.0, 305.0], [15e3, 200e3], [[0.0, 25.0], [25.0, 0.0]], [12.0, 0.0], 308.0,
        [-250.0, 20.0],
    )  # fmt: skip
    np.testing.assert_allclose(found, run.y[:, -1], atol=1e-6)


HOURLY = "EN ISO 13790:2008, annex C (from memory), worked by hand"
KIOSK = Room(12.0, 30.0, 1.98e6, 12.0, 4.2, 10.2)


@pytest.mark.published(HOURLY)
def test_an_hour_without_cooling():
    hour = one_hour(KIOSK, 28.0, 33.0, 33.0, 150.0, 200.0)
    assert hour == pytest.approx(
        (
            186.3, 273.0, 12.5517, 9.6705, 13.8705, 13.1999, 75.0, 119.872, 152.778, 1184.325,
            28.8231, 29.2991, 29.8729, 29.4713,
        ),
        abs=1e-3,
    )  # fmt: skip


@pytest.mark.published(HOURLY)
def test_an_hour_with_cooling():
    hour = one_hour(KIOSK, 28.0, 33.0, 33.0, 150.0, 200.0, -300.0)
    found = (hour.mass_C, hour.surface_C, hour.air_C, hour.operative_C)
    assert found == pytest.approx((28.3422, 28.0788, 27.1892, 27.8119), abs=1e-3)


def test_the_hourly_method_levels_off_where_the_heat_balance_says():
    # After a long time: outdoor 33 °C on all sides, all heat must leave by the three paths.
    mass = 33.0
    for _ in range(2000):
        hour = one_hour(KIOSK, mass, 33.0, 33.0, 150.0, 200.0)
        mass = hour.mass_C
    out = 10.2 * (hour.air_C - 33.0) + 4.2 * (hour.surface_C - 33.0)
    out += hour.mass_outdoor_W_K * (hour.mass_C - 33.0)
    # The method's window share of the radiant heat (0.85 % of 275 W) goes straight out.
    assert out + 4.2 / (9.1 * 54.0) * 275.0 == pytest.approx(350.0, abs=1e-6)
