"""Faults in time against closed forms: a sink that nothing cools, leaks by K alone, balances."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import fsolve

from coldwright.machine import faults
from coldwright.machine.cooler import operate
from coldwright.machine.fault_steps import (
    AIR_K,
    COLD_BASE_K,
    CONDENSATE_KG_S,
    HOT_BASE_K,
    HOTTEST_FACE_K,
    HUMIDITY_RATIO,
    LEADS_A,
    MODULE_A,
    MODULES_W,
    TIME_S,
    TRIPPED,
    follow_fault,
)
from coldwright.machine.modules import group_state
from coldwright.machine.records import Condensate, Drive, Status
from coldwright.physics.air_volume import specific_volume
from tests.machine.designs import plain_cooler, plain_place

# A module of round numbers, constant whatever the temperature; the hand numbers of the short and
# open cases below are those of the standard module model (heat balance at both faces).
SEEBECK, OHM, CONDUCTANCE = 0.05, 1.8, 0.5
ALUMINIUM_J_KGK = 900.0
STANDARD = "Standard thermoelectric module model, Qc = aITc - I^2R/2 - K dT, V = a dT + IR; by hand"


def cooler_of(series=1, parallel=1, drive=Drive.CURRENT, value=3.0, hot_kg=1.0, cold_kg=1.0):
    """Modules of constants on two sinks of known mass, faces at the bases."""
    c = plain_cooler(1)
    group = c["group"][:, 0]
    group["series"], group["parallel"] = series, parallel
    group["seebeck"], group["resistance"], group["conductance"] = SEEBECK, OHM, CONDUCTANCE
    group["cold_interface_K_W"] = group["hot_interface_K_W"] = 0.0
    group["drive"], group["drive_value"] = int(drive), value
    c["cold_sink"]["heat_capacity_J_K"][:, 0] = cold_kg * ALUMINIUM_J_KGK
    c["hot_sink"]["heat_capacity_J_K"][:, 0] = hot_kg * ALUMINIUM_J_KGK
    return c


def rows_of(history):
    return history[0][np.isfinite(history[0, :, TIME_S])]


def solved(cooler, place, **more):
    found = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=False)
    assert found["status"][0] == Status.SOLVED
    return found


def still(cooler):
    """No draught worth the name on the hot side."""
    return faults.fan_stopped(cooler, "hot", 1e-5)


# --- Rise of a sink whose fan stands --------------------------------------------------------------


@pytest.mark.published(STANDARD)
def test_a_hot_sink_without_air_warms_as_its_closed_form_says():
    # With given amperes and a cold side that hardly moves, what flows into the hot sink is linear
    # in its own temperature: C dT/dt = a I T + I^2 R/2 - K (T - Tc). It goes on until the solder
    # is gone. 0.03 K: what a cold side of four tonnes still moves, and the steps.
    current_A = 3.0
    c = cooler_of(value=current_A, hot_kg=0.5, cold_kg=4e3)
    place = plain_place(1)
    before = solved(c, place)
    history, _ = follow_fault(c, still(c), place, until_s=900.0)
    rows = rows_of(history)
    cold_K = rows[0, COLD_BASE_K]
    assert np.ptp(rows[:, COLD_BASE_K]) < 0.02
    store_J_K = 0.5 * ALUMINIUM_J_KGK
    rate = (SEEBECK * current_A - CONDUCTANCE) / store_J_K
    given = (0.5 * current_A**2 * OHM + CONDUCTANCE * cold_K) / store_J_K
    level = -given / rate
    start_K = float(before["hot_base_K"][0, 0])
    told = level + (start_K - level) * np.exp(rate * rows[:, TIME_S])
    assert rows[-1, HOT_BASE_K] - start_K > 25.0
    assert rows[:, HOT_BASE_K] == pytest.approx(told, abs=0.03)
    # At first m c dT/dt = P, all that the modules give off.
    first = np.argmax(rows[:, TIME_S] > 5.0)
    power_W = SEEBECK * current_A * start_K + 0.5 * current_A**2 * OHM
    power_W -= CONDUCTANCE * (start_K - cold_K)
    rise_K = power_W * rows[first, TIME_S] / store_J_K
    assert rows[first, HOT_BASE_K] - start_K == pytest.approx(rise_K, rel=0.03)


@pytest.mark.published(STANDARD)
def test_where_a_stopped_fan_ends_agrees_with_an_independent_solve():
    # The same end from equations written down here and solved by a general root finder: modules
    # between two sinks of UA ~ flow^0.5, each warming (or cooling) its air by 1 - exp(-UA/C).
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=16.0)
    place = plain_place(1)
    broken = faults.fan_stopped(c, "hot")
    history, status = follow_fault(c, broken, place)
    assert status[0] == Status.SOLVED

    def side(name, air_K, share):
        flow = float(c[f"{name}_fan"]["flow_m3_s"][0])
        sink = c[f"{name}_sink"][0, 0]
        volume = float(specific_volume(air_K, 0.003, 101325.0))
        heat = 1006.0 + 1860.0 * 0.003
        rate = flow / volume * heat
        full_UA = -rate * math.log(1.0 - 1.0 / (float(sink["resistance_K_W"]) * rate))
        rate *= share
        return rate * -math.expm1(-full_UA * share**0.5 / rate)

    cold_W_K = side("cold", 298.15, 1.0)
    hot_W_K = side("hot", 308.15, 0.05)

    def misses(x):
        cold_K, hot_K = x
        current = (8.0 - SEEBECK * (hot_K - cold_K)) / OHM
        leak = CONDUCTANCE * (hot_K - cold_K)
        into = 2.0 * (SEEBECK * current * cold_K - 0.5 * current**2 * OHM - leak)
        out = 2.0 * (SEEBECK * current * hot_K + 0.5 * current**2 * OHM - leak)
        return [cold_W_K * (298.15 - cold_K) - into, hot_W_K * (hot_K - 308.15) - out]

    cold_K, hot_K = fsolve(misses, [290.0, 350.0])
    end = rows_of(history)[-1]
    assert end[HOT_BASE_K] == pytest.approx(hot_K, abs=0.05)
    assert end[COLD_BASE_K] == pytest.approx(cold_K, abs=0.05)
    steady = solved(broken, place)
    assert steady["hot_base_K"][0, 0] == pytest.approx(hot_K, abs=0.02)


@pytest.mark.published("First law of thermodynamics: what is stored is what came in")
def test_without_air_all_electricity_is_stored():
    # Both fans stand in still air: what the plug gives the modules warms the two sinks, no more.
    c = cooler_of(series=3, drive=Drive.VOLTAGE, value=15.0, hot_kg=2.0, cold_kg=0.7)
    broken = faults.fan_stopped(still(c), "cold", 1e-5)
    history, _ = follow_fault(c, broken, plain_place(1), until_s=300.0)
    rows = rows_of(history)
    stored_J = ALUMINIUM_J_KGK * (
        2.0 * (rows[-1, HOT_BASE_K] - rows[1, HOT_BASE_K])
        + 0.7 * (rows[-1, COLD_BASE_K] - rows[1, COLD_BASE_K])
    )
    given_J = np.trapezoid(rows[1:, MODULES_W], rows[1:, TIME_S])
    assert given_J > 3000.0
    assert stored_J == pytest.approx(given_J, rel=0.005)


@pytest.mark.published(STANDARD)
def test_power_off_lets_heat_back_by_conduction_alone():
    # At the first moment the cold base loses what was pumped and gets n K dT on top.
    c = cooler_of(series=4, drive=Drive.VOLTAGE, value=24.0, hot_kg=50.0, cold_kg=50.0)
    place = plain_place(1)
    before = solved(c, place)
    cold_K, hot_K = float(before["cold_base_K"][0, 0]), float(before["hot_base_K"][0, 0])
    current = (6.0 - SEEBECK * (hot_K - cold_K)) / OHM
    pumped_W = SEEBECK * current * cold_K - 0.5 * current**2 * OHM
    pumped_W = 4.0 * (pumped_W - CONDUCTANCE * (hot_K - cold_K))
    history, _ = follow_fault(c, faults.modules_off(c), place, until_s=60.0)
    rows = rows_of(history)
    k = int(np.argmax(rows[:, TIME_S] > 10.0))
    slope_W = 50.0 * ALUMINIUM_J_KGK * (rows[k, COLD_BASE_K] - cold_K) / rows[k, TIME_S]
    assert slope_W == pytest.approx(pumped_W + 4.0 * CONDUCTANCE * (hot_K - cold_K), rel=0.01)
    assert np.all(rows[1:, LEADS_A] == 0.0)


def test_all_other_steps_follow_the_machine_at_rest():
    # Nothing is broken: nothing moves.
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=12.0)
    history, status = follow_fault(c, c, plain_place(1))
    rows = rows_of(history)
    assert status[0] == Status.SOLVED
    for column in (HOT_BASE_K, COLD_BASE_K, AIR_K, HOTTEST_FACE_K):
        assert np.ptp(rows[:, column]) < 1e-6


def test_a_cut_out_opens_where_it_is_told_and_the_sink_turns_round():
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=16.0)
    broken = faults.fan_stopped(c, "hot")
    place = plain_place(1)
    opens_K = 338.15
    free, _ = follow_fault(c, broken, place)
    held, _ = follow_fault(c, broken, place, off=faults.modules_off(broken), trip_K=opens_K)
    free, held = rows_of(free), rows_of(held)
    assert free[:, HOT_BASE_K].max() > opens_K + 10.0
    assert held[:, HOT_BASE_K].max() == pytest.approx(opens_K, abs=0.2)
    after = held[held[:, TRIPPED] == 1.0]
    assert np.all(after[:, LEADS_A] == 0.0)
    assert after[-1, HOT_BASE_K] < 309.0  # back to the air it stands in
    assert np.all(held[held[:, TRIPPED] == 0.0][:, LEADS_A] > 0.0)


# --- One module of a string -----------------------------------------------------------------------


@pytest.mark.published(STANDARD)
def test_a_short_in_two_of_series_more_than_doubles_the_current():
    # a 0.05 V/K, R 1.8 ohm, K 0.5 W/K, Tc 285 K, dT 25 K. Two in series on 24 V: 5.972 A, 40.50 W
    # pumped each. Partner shorted, 24 V on one: 12.64 A, 23.84 W, 303.3 W, COP 0.079.
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=24.0)
    whole = group_state(c[0]["group"][0], 285.0, 285.0, 310.0, 310.0)
    assert whole[5] == pytest.approx(5.972, rel=1e-3)
    assert whole[0] == pytest.approx(40.50, rel=1e-3)
    assert whole[4] == pytest.approx(71.67, rel=1e-3)
    broken = faults.module_shorted(c, solved(c, plain_place(1)))
    left = group_state(broken[0]["group"][0], 285.0, 285.0, 310.0, 310.0)
    assert left[5] == pytest.approx(12.64, rel=1e-3)
    assert left[0] == pytest.approx(23.84, rel=1e-3)
    assert left[4] == pytest.approx(303.3, rel=1e-3)
    assert left[0] / left[4] == pytest.approx(0.079, abs=5e-4)
    # The shorted one conducts on, K dT.
    dead = group_state(broken[0]["group"][1], 285.0, 285.0, 310.0, 310.0)
    assert dead[0] == pytest.approx(-12.5, rel=1e-9)
    assert left[5] > 2.0 * whole[5]


@pytest.mark.published(STANDARD)
def test_an_open_module_stops_its_string_and_each_leaks():
    # The same module, dT 25 K still there: each dead one lets 12.5 W into the cold side.
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=24.0)
    broken = faults.module_open(c)
    found = group_state(broken[0]["group"][0], 285.0, 285.0, 310.0, 310.0)
    assert found[5] == 0.0
    assert found[0] == pytest.approx(-12.5, rel=1e-9)
    # Of three strings two run on at their volts, and the third only leaks.
    c = cooler_of(series=2, parallel=3, drive=Drive.VOLTAGE, value=24.0)
    broken = faults.module_open(c)
    assert broken["groups"][0] == 2
    assert broken[0]["group"]["parallel"][:2].tolist() == [2.0, 1.0]
    assert broken[0]["group"]["drive"][1] == Drive.OFF
    assert c["groups"][0] == 1  # the machine it was made of is whole


@pytest.mark.parametrize("lead_ohm", [0.0, 0.4])
def test_strings_on_one_pair_of_leads_share_its_drop(lead_ohm):
    # Kirchhoff: both kinds of string hang between the same two nodes, and all current passes the
    # leads; solved here as two linear equations.
    c = cooler_of(
        series=3, parallel=4, drive=Drive.VOLTAGE, value=24.0, hot_kg=100.0, cold_kg=100.0
    )
    c["group"]["lead_ohm"][:, 0] = lead_ohm
    before = solved(c, plain_place(1))
    broken = faults.module_shorted(c, before)
    history, _ = follow_fault(c, broken, plain_place(1), until_s=1.0)
    row = rows_of(history)[1]
    lift_K = float(before["hot_base_K"][0, 0] - before["cold_base_K"][0, 0])
    emf = SEEBECK * lift_K
    # 24 = V + lead (3 Iw + Is);  Iw = (V - 3 e)/(3 R);  Is = (V - 2 e)/(2 R)
    matrix = np.array([
        [1.0, 3.0 * lead_ohm, lead_ohm], [-1.0, 3.0 * OHM, 0.0], [-1.0, 0.0, 2.0 * OHM],
    ])  # fmt: skip
    _, whole_A, short_A = np.linalg.solve(matrix, [24.0, -3.0 * emf, -2.0 * emf])
    assert row[MODULE_A] == pytest.approx(whole_A, rel=2e-3)
    assert row[MODULE_A + 1] == pytest.approx(short_A, rel=2e-3)
    assert row[LEADS_A] == pytest.approx(3.0 * whole_A + short_A, rel=2e-3)


def test_a_given_current_divides_over_what_is_left():
    c = cooler_of(series=3, parallel=2, drive=Drive.CURRENT, value=6.0, hot_kg=100.0, cold_kg=100.0)
    before = solved(c, plain_place(1))
    history, _ = follow_fault(c, faults.module_shorted(c, before), plain_place(1), until_s=1.0)
    row = rows_of(history)[1]
    assert row[LEADS_A] == pytest.approx(6.0, rel=1e-6)
    assert row[MODULE_A + 1] > 3.0 > row[MODULE_A]
    history, _ = follow_fault(c, faults.module_open(c), plain_place(1), until_s=1.0)
    row = rows_of(history)[1]
    assert row[MODULE_A] == pytest.approx(6.0, rel=1e-6)
    assert row[MODULE_A + 1] == 0.0


def test_a_short_of_single_modules_leaves_no_volts():
    c = cooler_of(series=1, parallel=3, drive=Drive.VOLTAGE, value=8.0)
    broken = faults.module_shorted(c, solved(c, plain_place(1)))
    assert broken[0]["group"]["drive"][0] == Drive.OFF


def test_too_many_groups_are_refused():
    c = cooler_of(series=2, parallel=2)
    c["groups"] = 3
    for g in (1, 2):
        c["group"][:, g] = c["group"][:, 0]
    with pytest.raises(faults.NoRoomError, match="3 groups"):
        faults.module_shorted(c, solved(c, plain_place(1)))


# --- Drives, fans and water -----------------------------------------------------------------------


def test_swapped_leads_swap_what_is_hot():
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=12.0)
    history, _ = follow_fault(c, faults.driven(c, -1.0), plain_place(1))
    rows = rows_of(history)
    first = rows[1]
    lift_K = rows[0, HOT_BASE_K] - rows[0, COLD_BASE_K]
    # In the first moment the back-voltage helps: I = -(V/n + a dT)/R.
    assert first[LEADS_A] == pytest.approx(-(6.0 + SEEBECK * lift_K) / OHM, rel=0.01)
    assert rows[-1, COLD_BASE_K] > 298.15 + 5.0
    assert rows[-1, HOT_BASE_K] < 308.15


def test_watts_and_heat_become_volts_before_anything_breaks():
    c = cooler_of(series=2, drive=Drive.POWER, value=40.0)
    c["group"]["lead_ohm"][:, 0] = 0.3
    place = plain_place(1)
    before = solved(c, place)
    volts = faults.as_volts(c, before)
    assert volts["group"]["drive"][0, 0] == Drive.VOLTAGE
    same = solved(volts, place)
    assert same["hot_face_K"][0, 0] == pytest.approx(before["hot_face_K"][0, 0], abs=1e-6)
    assert same["modules_W"][0] == pytest.approx(40.0, rel=1e-6)


def test_a_blocked_path_lets_about_its_share_through():
    c = cooler_of()
    fan = c["hot_fan"]
    fan["given_flow"], fan["points"] = 0, 2
    fan["curve_flow_m3_s"][:, :2] = [0.0, 0.05]
    fan["curve_pressure_Pa"][:, :2] = [100.0, 0.0]
    c["hot_sink"]["pressure_Pa_s2_m6"][:, 0] = 5e4
    place = plain_place(1)
    whole = solved(c, place)
    blocked = solved(faults.path_blocked(c, whole), place)
    share = blocked["hot_flow_m3_s"][0] / whole["hot_flow_m3_s"][0]
    # Still-air pressure over a tenth of the flow squared; the fan gives a little less than that.
    assert 0.08 < share <= 0.10
    given = cooler_of()
    given["hot_fan"]["power_W"] = 5.0
    found = solved(faults.path_blocked(given, solved(given, place)), place)
    assert found["hot_flow_m3_s"][0] == pytest.approx(0.1 * 150 / 3600, rel=1e-9)
    full = solved(given, place)["hot_fan_W"][0]
    assert found["hot_fan_W"][0] == pytest.approx(full, rel=0.05)  # it turns on


@pytest.mark.published("Conservation of water: what is set free and not carried off stays")
def test_water_of_a_blocked_drain_stays_in_the_place():
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=14.0)
    p = plain_place(1, enclosed=True)
    p["loss_W_K"], p["humidity_ratio"], p["air_K"] = 4.0, 0.010, 298.15
    p["moisture_kg_s"] = 4e-6
    p["natural_m3_s"] = 1e-5
    history, status = follow_fault(c, faults.drain_blocked(c), p, until_s=3600.0)
    assert status[0] == Status.SOLVED
    rows = rows_of(history)
    assert rows[0, CONDENSATE_KG_S] > 2e-6  # a drain had something to carry off
    air_kg = 10.0 / float(specific_volume(298.15, 0.010, 101325.0))
    leaves = 1e-5 / float(specific_volume(308.15, 0.003, 101325.0))
    set_free = 4e-6 * rows[-1, TIME_S]
    lost = np.trapezoid(leaves * (rows[:, HUMIDITY_RATIO] - 0.003), rows[:, TIME_S])
    gained = air_kg * (rows[-1, HUMIDITY_RATIO] - rows[0, HUMIDITY_RATIO])
    assert gained == pytest.approx(set_free - lost, rel=0.01)
    drained, _ = follow_fault(c, c, p, until_s=3600.0)
    assert np.ptp(rows_of(drained)[:, HUMIDITY_RATIO]) < 1e-7
    assert faults.drain_blocked(c)["condensate"][0] == Condensate.STAYS


def test_without_lift_the_current_is_volts_over_ohms():
    c = cooler_of(series=4, parallel=3, drive=Drive.VOLTAGE, value=24.0)
    assert faults.modules_without_lift(c, 300.0)[0] == pytest.approx(3 * 24.0 / (4 * OHM))


def test_given_air_stays_as_given_and_a_place_moves():
    c = cooler_of(series=2, drive=Drive.VOLTAGE, value=12.0)
    history, _ = follow_fault(c, still(c), plain_place(1))
    rows = rows_of(history)
    assert rows[:, AIR_K] == pytest.approx(298.15, abs=1e-9)
    assert rows[:, HUMIDITY_RATIO] == pytest.approx(0.003, rel=1e-4)
    p = plain_place(1, enclosed=True)
    p["loss_W_K"] = 3.0
    history, _ = follow_fault(c, faults.modules_off(c), p)
    rows = rows_of(history)
    assert rows[-1, AIR_K] == pytest.approx(308.15, abs=0.1)  # no cooler, no sun: as outdoors
    assert rows[0, AIR_K] < 306.0
