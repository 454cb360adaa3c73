"""Facts of the trade without a published source, as bands."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.machine.cooler import operate
from coldwright.machine.outcome import outcome
from coldwright.machine.pulldown import AIR_K, COLD_BASE_K, pull_down
from coldwright.machine.records import Drive, End, Status
from tests.machine.designs import plain_cooler, plain_place

ALUMINIUM_J_KGK = 900.0


def assembly(n=1):
    """Eight common modules in two strings of four between finned blocks with fans, on a bench.

    Sinks of 0.05 to 0.15 K/W and 1 to 3 kg, paste joints, a sheet of foam between the blocks.
    """
    c, p = plain_cooler(n), plain_place(n, enclosed=True)
    group = c["group"][:, 0]
    group["series"], group["parallel"] = 4, 2
    group["drive"], group["drive_value"] = Drive.VOLTAGE, 48.0
    group["cold_interface_K_W"] = group["hot_interface_K_W"] = 0.03
    c["spacer_W_K"] = 0.3
    for side, resistance_K_W, mass_kg, flow_m3_h in (
        ("cold", 0.13, 2.8, 110.0), ("hot", 0.05, 3.0, 300.0),
    ):  # fmt: skip
        sink = c[f"{side}_sink"][:, 0]
        sink["resistance_K_W"], sink["reference_flow_m3_s"] = resistance_K_W, flow_m3_h / 3600
        sink["heat_capacity_J_K"] = mass_kg * ALUMINIUM_J_KGK
        c[f"{side}_fan"]["flow_m3_s"], c[f"{side}_fan"]["power_W"] = flow_m3_h / 3600, 8.0
    # A hall so large that the bench does not warm it; air of 30 degC and 30 %.
    p["air_K"] = p["outdoor_K"] = 303.15
    p["humidity_ratio"] = p["outdoor_humidity_ratio"] = 0.0079
    p["volume_m3"], p["loss_W_K"], p["natural_m3_s"] = 1e5, 1e6, 100.0
    return c, p


@pytest.mark.practice
def test_an_assembly_on_the_bench_gets_cold_in_seven_minutes():
    # A few hundred watts, air near 30 degC: the cold sink at about 12 degC after about 7 minutes,
    # and near 11 degC in the end. By hand: the sink takes 19 K / 0.13 K/W = 146 W from the air;
    # 2.5 kJ/K over 1/0.13 W/K plus what the modules add, about 10 W/K, makes 140 s, and after
    # three times that, 7 minutes, 5 % of the 19 K are left.
    c, p = assembly()
    times = np.arange(0.0, 3601.0, 10.0)
    history, status = pull_down(c, p, times)
    assert status[0] == Status.SOLVED
    base = history[0, :, COLD_BASE_K] - 273.15
    assert abs(history[0, -1, AIR_K] - 303.15) < 0.2
    assert 200.0 < history[0, -1, 4] < 600.0
    final = base[-1]
    assert 9.0 < final < 13.0
    at_seven = base[times == 420.0][0]
    assert 9.5 < at_seven < 14.0
    # Quick at first, level in the end.
    assert base[times == 60.0][0] < 26.0
    assert 0.1 < at_seven - final < 3.0


@pytest.mark.practice
def test_four_fifths_of_the_volts_move_nearly_the_same_heat_for_far_less_power():
    c, p = assembly(2)
    c["group"]["drive_value"][:, 0] = [48.0, 0.8 * 48.0]
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    found = outcome(c, p, r)
    full, less = found["cooling_W"]
    assert 0.88 < less / full < 1.02
    assert 0.58 < found["module_power_W"][1] / found["module_power_W"][0] < 0.72


def room(n=1):
    """A room of 30 m3 in 32 degC weather, fairly light, a little leaky, with furniture."""
    c, p = assembly(n)
    p["air_K"] = p["outdoor_K"] = 305.15
    p["humidity_ratio"] = p["outdoor_humidity_ratio"] = 0.012
    p["volume_m3"], p["loss_W_K"], p["natural_m3_s"] = 30.0, 25.0, 30.0 * 0.5 / 3600.0
    p["leak_m3_s_Pan"] = 0.01
    p["contents_J_K"], p["contents_W_K"] = 2e5, 100.0
    return c, p


@pytest.mark.practice
def test_a_single_duct_hardly_lowers_a_room_in_half_an_hour():
    c, p = room(2)
    c["hot_takes"], c["hot_sends"] = [End.PLACE, End.OUTDOORS], End.OUTDOORS
    history, status = pull_down(c, p, np.arange(0.0, 1801.0, 30.0))
    assert np.all(status == Status.SOLVED)
    single_K, dual_K = 305.15 - history[:, -1, AIR_K]
    assert -0.5 < single_K < 1.5
    assert dual_K > single_K


@pytest.mark.practice
def test_both_sides_in_one_room_warm_it():
    c, p = room()
    c["hot_takes"] = c["hot_sends"] = End.PLACE
    history, _ = pull_down(c, p, np.arange(0.0, 3601.0, 60.0))
    assert history[0, -1, AIR_K] > 305.15 + 2.0
