"""Thermostats, schedules and the leak back, against rooms that can be worked out by hand.

One module of constant properties between two one-number sinks is linear in all temperatures while
its current is held, so a room of one capacity with it follows an exponential between switchings.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from coldwright.machine.day import (
    HOLD_S,
    M_HELD,
    M_ON,
    M_SHARE,
    M_SWITCHES,
    M_TIME,
    PROBE_OUTLET,
    S_MAX,
    S_MIN,
    S_PLUG,
    S_RUNNING,
)
from coldwright.machine.place import AIR_J, CONTENTS_K
from coldwright.machine.records import Drive
from coldwright.machine.rows import (
    ALLOWED,
    FORCINGS,
    GAIN_W,
    OUTDOOR_K,
    SET_K,
    to_next_jump,
    weather_at,
)
from coldwright.machine.run import Control, State, begin_run, run_days, stopped
from tests.machine.day_places import heat_of, weather
from tests.machine.designs import plain_cooler, plain_place

OUTDOOR = 308.15
WATER = 0.003  # dry: nothing condenses
CP = 1006.0 + 1860.0 * WATER
SEEBECK, RESISTANCE, CONDUCTANCE = 0.0513333, 1.984889, 0.525412
CURRENT_A = 3.0
SET = 300.15


@dataclass(frozen=True)
class Line:
    """Heat that the cooler takes out of the place: a + b (T - outdoors) [W]."""

    a: float
    b: float


def cold_heat(current_A: float, cold_K_W: float = 0.20, hot_K_W: float = 0.15) -> Line:
    """By hand: Qc = S I Tc - I2R/2 - K (Th - Tc), Tc = T - Rc Qc, Th = To + Rh Qh."""
    s, r, k, i = SEEBECK, RESISTANCE, CONDUCTANCE, current_A

    def taken_W(place_K: float) -> float:
        # Unknown faces: Tc + Rc Qc = T; Th - Rh Qh = To.
        matrix = [
            [1.0 + cold_K_W * (s * i + k), -cold_K_W * k],
            [-hot_K_W * k, 1.0 - hot_K_W * (s * i - k)],
        ]
        known = [place_K + cold_K_W * i * i * r / 2, OUTDOOR + hot_K_W * i * i * r / 2]
        cold_K, hot_K = np.linalg.solve(matrix, known)
        return float(s * i * cold_K - i * i * r / 2 - k * (hot_K - cold_K))

    at_outdoor = taken_W(OUTDOOR)
    return Line(at_outdoor, (taken_W(OUTDOOR - 20.0) - at_outdoor) / -20.0)


def kiosk(loss_W_K=1.5, gain_W=0.0, capacity_J_K=8e3, air_K=OUTDOOR):
    """A room of one capacity with that cooler, 0.05 K/W of each sink's resistance in its joint."""
    coolers = plain_cooler(1)
    coolers["group"]["drive"], coolers["group"]["drive_value"] = int(Drive.CURRENT), CURRENT_A
    places = plain_place(1, enclosed=True)
    places["air_K"] = air_K
    kg_m3 = 101325.0 / (287.042 * air_K * (1.0 + 1.607858 * WATER))
    places["volume_m3"] = capacity_J_K / CP / kg_m3
    places["loss_W_K"] = loss_W_K
    return coolers, places, Room(loss_W_K, gain_W, capacity_J_K)


@dataclass(frozen=True)
class Room:
    loss_W_K: float
    gain_W: float
    capacity_J_K: float

    def level_K(self, taken: Line) -> float:
        return OUTDOOR + (self.gain_W - taken.a) / (self.loss_W_K + taken.b)

    def time_s(self, taken: Line, start_K: float, end_K: float) -> float:
        level_K = self.level_K(taken)
        rate_W_K = self.loss_W_K + taken.b
        return self.capacity_J_K / rate_W_K * math.log((start_K - level_K) / (end_K - level_K))

    def after_K(self, taken: Line, start_K: float, seconds: float) -> float:
        level_K = self.level_K(taken)
        rate_W_K = self.loss_W_K + taken.b
        return level_K + (start_K - level_K) * math.exp(-seconds * rate_W_K / self.capacity_J_K)


def go(
    coolers, places, forcing, control, until_s, *, state=None, keep=True, step_s=30.0, bin_s=None
):
    off = stopped(coolers, fans_keep_running=keep)
    state = begin_run(coolers, places, forcing) if state is None else state
    bins, _ = run_days(
        coolers, off, places, forcing, control, state, until_s=until_s, step_s=step_s,
        bin_s=until_s if bin_s is None else bin_s,
    )  # fmt: skip
    return bins, state


def air_K(state):
    return float(state.unknowns[0, 4])


SOURCE = "three-constant module and one-node room by hand: piecewise exponentials"


@pytest.mark.published(SOURCE)
def test_on_and_off_at_the_very_instants():
    coolers, places, room = kiosk(loss_W_K=0.3, gain_W=10.0)
    forcing = weather([0.0, 1e6], {GAIN_W: 10.0, SET_K: SET}, places)
    on, off = cold_heat(CURRENT_A), cold_heat(0.0)
    high_K, low_K = SET + 1.0, SET - 1.0
    assert room.level_K(on) < low_K - 1.0
    # On from the start; then to and fro.
    time_s = room.time_s(on, OUTDOOR, low_K)
    running_s, switches, instants = time_s, 2, [time_s]
    while True:
        rest_s = room.time_s(off, low_K, high_K)
        work_s = room.time_s(on, high_K, low_K)
        assert rest_s > 60.0
        assert work_s > 60.0
        if time_s + rest_s + work_s > 6 * 3600.0:
            break
        running_s, time_s, switches = running_s + work_s, time_s + rest_s + work_s, switches + 2
        instants += [time_s - work_s, time_s]
    assert switches > 10
    control = Control(1, 2.0)
    # Just before the last instant it runs, just after it is stopped: 0.1 s after many cycles.
    bins, state = go(coolers, places, forcing, control, time_s - 0.3)
    assert state.memory[0, M_ON] == 1.0
    assert state.memory[0, M_SWITCHES] == switches - 1
    assert bins[0, :, S_RUNNING].sum() == pytest.approx(running_s - 0.3, abs=0.3)
    bins, state = go(coolers, places, forcing, control, time_s + 0.6, state=state)
    assert state.memory[0, M_ON] == 0.0
    assert state.memory[0, M_SWITCHES] == switches
    _, state = go(coolers, places, forcing, control, time_s + 20.0, state=state)
    assert air_K(state) == pytest.approx(room.after_K(off, low_K, 20.0), abs=2e-3)
    assert bins[0, :, S_MIN].min() == pytest.approx(low_K, abs=1e-3)


@pytest.mark.published("scipy.integrate.solve_ivp on air and probe, with the switching as events")
@pytest.mark.parametrize("lag_s", [30.0, 300.0])
def test_a_probe_that_lags_lets_the_air_swing_farther(lag_s):
    coolers, places, room = kiosk(loss_W_K=0.3, gain_W=10.0)
    forcing = weather([0.0, 1e6], {GAIN_W: 10.0, SET_K: SET}, places)
    taken = {True: cold_heat(CURRENT_A), False: cold_heat(0.0)}

    def rates(_, state, on):
        air, felt = state
        pulled_W = (room.loss_W_K + taken[on].b) * (room.level_K(taken[on]) - air)
        return [pulled_W / room.capacity_J_K, (air - felt) / lag_s]

    def mark(_, state, on):
        return state[1] - (SET - 1.0 if on else SET + 1.0)

    mark.terminal = True
    end_s, time_s, state, on, switches = 8.0 * 3600.0, 0.0, [OUTDOOR, OUTDOOR], True, 1
    coldest_K = OUTDOOR
    while time_s < end_s:
        path = solve_ivp(
            rates, (time_s, end_s), state, args=(on,), events=mark, rtol=1e-9, atol=1e-9
        )
        time_s, state = path.t[-1], path.y[:, -1]
        coldest_K = min(coldest_K, path.y[0].min())
        if time_s < end_s:
            on, switches = not on, switches + 1
            # Just past the mark, so that it is not met again at once.
            state = [state[0], state[1] + (1e-9 if not on else -1e-9)]
    assert switches > 8
    assert coldest_K < SET - 1.04
    bins, after = go(coolers, places, forcing, Control(1, 2.0, lag_s=lag_s), end_s)
    assert after.memory[0, M_SWITCHES] == switches
    assert bins[0, 0, S_MIN] == pytest.approx(coldest_K, abs=0.02)
    assert air_K(after) == pytest.approx(state[0], abs=0.1)
    # Put away half-way and taken up again, it is the same run.
    _, half = go(coolers, places, forcing, Control(1, 2.0, lag_s=lag_s), 0.5 * end_s)
    _, half = go(coolers, places, forcing, Control(1, 2.0, lag_s=lag_s), end_s, state=half)
    assert half.memory[0, M_SWITCHES] == switches
    assert air_K(half) == pytest.approx(air_K(after), abs=0.05)


@pytest.mark.published(SOURCE)
def test_steps_do_not_move_the_instants():
    coolers, places, room = kiosk(loss_W_K=0.3, gain_W=10.0)
    forcing = weather([0.0, 1e6], {GAIN_W: 10.0, SET_K: SET}, places)
    first_s = room.time_s(cold_heat(CURRENT_A), OUTDOOR, SET - 1.0)
    for step_s in (7.0, 60.0, 300.0):
        _, state = go(coolers, places, forcing, Control(1, 2.0), first_s + 9.0, step_s=step_s)
        assert state.memory[0, M_SWITCHES] == 2
        # It has been held stopped for nine seconds.
        assert state.memory[0, M_HELD] == pytest.approx(9.0, abs=0.3)


@pytest.mark.published(SOURCE)
def test_heat_leaks_back_through_stopped_modules():
    # 20 K colder than outdoors, nothing else lost: C/G with G = 1/(Rc + rc + 1/K + rh + Rh).
    coolers, places, _ = kiosk(loss_W_K=0.0, air_K=OUTDOOR - 20.0)
    forcing = weather([0.0, 1e6], {ALLOWED: 0.0}, places)
    back_W_K = 1.0 / (0.20 + 1.0 / CONDUCTANCE + 0.15)
    assert cold_heat(0.0).b == pytest.approx(back_W_K, rel=1e-9)
    for hours in (0.5, 2.0, 8.0):
        seconds = 3600.0 * hours
        bins, state = go(coolers, places, forcing, Control(), seconds)
        known_K = OUTDOOR - 20.0 * math.exp(-seconds * back_W_K / 8e3)
        assert air_K(state) == pytest.approx(known_K, abs=2e-3)
        assert bins[0, 0, S_RUNNING] == 0.0
        assert bins[0, 0, S_PLUG] == 0.0
        leaked_J = heat_of(bins, "cold air")[0].sum()
        assert leaked_J == pytest.approx(8e3 * (known_K - OUTDOOR + 20.0), rel=1e-3)


@pytest.mark.practice  # a stopped module of the 6 A class between 0.4 and 0.3 K/W: 8 W at 20 K
def test_the_leak_is_as_large_as_people_find_it():
    coolers, places, _ = kiosk(loss_W_K=0.0, air_K=OUTDOOR - 20.0, capacity_J_K=1e7)
    group = coolers["group"][:, 0]
    group["seebeck"], group["resistance"], group["conductance"] = 0.0497, 1.80, 0.542
    coolers["cold_sink"]["resistance_K_W"], coolers["hot_sink"]["resistance_K_W"] = 0.35, 0.25
    bins, _ = go(coolers, places, weather([0.0, 1e6], {ALLOWED: 0.0}, places), Control(), 600.0)
    assert heat_of(bins, "cold air")[0, 0] / 600.0 == pytest.approx(7.9, rel=0.03)


@pytest.mark.published("NTU = -ln(1 - 1/(R m cp)), UA with the root of the flow; three in series")
def test_with_stopped_fans_less_leaks_back():
    coolers, places, _ = kiosk(loss_W_K=0.0, air_K=OUTDOOR - 20.0, capacity_J_K=1e7)
    forcing = weather([0.0, 1e6], {ALLOWED: 0.0}, places)
    bins, _ = go(coolers, places, forcing, Control(), 600.0, keep=False)

    def resistance_K_W(full_K_W, flow_m3_s, kelvin):
        # A twentieth of the flow is left by draught.
        kg_m3 = 101325.0 / (287.042 * kelvin * (1.0 + 1.607858 * WATER))
        rate_W_K = flow_m3_s * kg_m3 * CP
        ua_W_K = -rate_W_K * math.log(1.0 - 1.0 / (full_K_W * rate_W_K)) * math.sqrt(0.05)
        return 1.0 / (0.05 * rate_W_K * -math.expm1(-ua_W_K / (0.05 * rate_W_K)))

    chain = [
        resistance_K_W(0.15, 80 / 3600, OUTDOOR - 20.0), 0.05, 1.0 / CONDUCTANCE, 0.05,
        resistance_K_W(0.10, 150 / 3600, OUTDOOR),
    ]  # fmt: skip
    known_W = 20.0 / sum(chain)
    assert known_W < 0.85 * 20.0 / (0.20 + 1.0 / CONDUCTANCE + 0.15)
    assert heat_of(bins, "cold air")[0, 0] / 600.0 == pytest.approx(known_W, rel=2e-3)


@pytest.mark.published(SOURCE)
def test_a_schedule_switches_at_its_instants():
    # On from 1:00:07 to 2:30:11, with a gain that comes and goes within a bin.
    coolers, places, room = kiosk()
    at = [3607.0, 9011.0]
    clock = [0.0, at[0], at[0], at[1], at[1], 1e6]
    allowed = [0.0, 0.0, 1.0, 1.0, 0.0, 0.0]
    forcing = weather(clock, {ALLOWED: allowed, GAIN_W: [0, 0, 30, 30, 0, 0]}, places)
    bins, state = go(coolers, places, forcing, Control(), 9011.0, bin_s=3600.0)
    assert bins[0, :, S_RUNNING].sum() == pytest.approx(at[1] - at[0], abs=1e-6)
    assert heat_of(bins, "people and appliances")[0].sum() == pytest.approx(
        30.0 * (at[1] - at[0]), rel=1e-9
    )
    warm = Room(room.loss_W_K, 30.0, room.capacity_J_K)
    known_K = warm.after_K(cold_heat(CURRENT_A), OUTDOOR, at[1] - at[0])
    assert air_K(state) == pytest.approx(known_K, abs=2e-3)
    bins, state = go(coolers, places, forcing, Control(), 12611.0, state=state, bin_s=3600.0)
    assert bins[0, :, S_RUNNING].sum() == 0.0
    assert air_K(state) == pytest.approx(room.after_K(cold_heat(0.0), known_K, 3600.0), abs=2e-3)


@pytest.mark.published(SOURCE)
def test_a_setback_changes_what_is_held_at_its_instant():
    coolers, places, room = kiosk(loss_W_K=0.3, gain_W=10.0)
    clock = [0.0, 7200.0, 7200.0, 1e6]
    forcing = weather(clock, {GAIN_W: 10.0, SET_K: [SET, SET, SET + 4.0, SET + 4.0]}, places)
    _, state = go(coolers, places, forcing, Control(1, 2.0), 7200.0)
    before_K = air_K(state)
    assert abs(before_K - SET) < 1.1
    # It rises to the new upper mark with the modules off, whatever they did before.
    rise_s = room.time_s(cold_heat(0.0), before_K, SET + 5.0)
    bins, state = go(coolers, places, forcing, Control(1, 2.0), 7200.0 + rise_s - 1.0, state=state)
    assert bins[0, :, S_RUNNING].sum() == 0.0
    assert air_K(state) == pytest.approx(SET + 5.0, abs=0.03)
    _, state = go(coolers, places, forcing, Control(1, 2.0), 7200.0 + rise_s + 1.0, state=state)
    assert state.memory[0, M_ON] == 1.0


@pytest.mark.published("the sheet: nothing at `air`, all of run_at at `band` above it")
def test_less_and_less_as_it_comes_down():
    # Current in proportion: where the room levels off, the share is its rise over the band.
    coolers, places, room = kiosk(gain_W=10.0)
    forcing = weather([0.0, 1e6], {GAIN_W: 10.0, SET_K: SET}, places)
    band_K = 8.0
    bins, state = go(
        coolers, places, forcing, Control(2, band_K, least=0.1), 5 * 86400.0, bin_s=86400.0
    )
    low, high = 0.1, 1.0
    for _ in range(60):
        share = 0.5 * (low + high)
        rise_K = room.level_K(cold_heat(share * CURRENT_A)) - SET
        low, high = (share, high) if rise_K > share * band_K else (low, share)
    assert 0.15 < share < 0.95
    assert state.memory[0, M_SHARE] == pytest.approx(share, rel=1e-4)
    assert air_K(state) == pytest.approx(SET + share * band_K, abs=2e-3)
    assert state.memory[0, M_SWITCHES] == 1
    # All the module takes: I (S (Th - Tc) + I R), by the first law Qh - Qc.
    taken_W = bins[0, -1, S_PLUG] / 86400.0
    line = cold_heat(share * CURRENT_A)
    pumped_W = line.a + line.b * (air_K(state) - OUTDOOR)
    cold_K, current_A = air_K(state) - 0.20 * pumped_W, share * CURRENT_A
    joule_W = current_A**2 * RESISTANCE / 2
    hot_K = cold_K + (SEEBECK * current_A * cold_K - joule_W - pumped_W) / CONDUCTANCE
    power_W = current_A * (SEEBECK * (hot_K - cold_K) + current_A * RESISTANCE)
    assert taken_W == pytest.approx(power_W, rel=1e-3)


@pytest.mark.published("the sheet: where less than `minimum` is asked for, the modules stand open")
def test_where_little_is_asked_for_it_stops():
    # Level with the cooler stopped is 1 K above what is to be held: of a band of 8 K an eighth is
    # asked for, which is less than the least of a fifth.
    coolers, places, _ = kiosk(loss_W_K=1.5)
    forcing = weather([0.0, 1e6], {SET_K: OUTDOOR - 1.0}, places)
    bins, state = go(coolers, places, forcing, Control(2, 8.0, least=0.2), 3600.0)
    assert bins[0, 0, S_RUNNING] == 0.0
    forcing = weather([0.0, 1e6], {SET_K: OUTDOOR - 7.0}, places)
    bins, state = go(coolers, places, forcing, Control(2, 8.0, least=0.2), 3600.0)
    assert state.memory[0, M_SWITCHES] >= 1


@pytest.mark.practice  # relays and controllers hold for some seconds
@pytest.mark.parametrize(("hysteresis_K", "probe"), [(0.0, 0), (0.5, PROBE_OUTLET)])
def test_a_thermostat_does_not_chatter(hysteresis_K, probe):
    # No hysteresis, or a probe in the outlet of a massless sink, would switch without end.
    coolers, places, _ = kiosk(loss_W_K=0.3, gain_W=10.0)
    forcing = weather([0.0, 1e6], {GAIN_W: 10.0, SET_K: SET}, places)
    bins, state = go(coolers, places, forcing, Control(1, hysteresis_K, probe), 10800.0)
    assert 100 < state.memory[0, M_SWITCHES] <= 10800.0 / HOLD_S
    assert 0.1 < bins[0, 0, S_RUNNING] / 10800.0 < 0.95


@pytest.mark.parametrize("control", [Control(1, 2.0), Control(2, 4.0, least=0.1), Control(1, 0.0)])
def test_a_run_continued_is_a_run_in_one_go(control, tmp_path):
    coolers, places, _ = kiosk(loss_W_K=0.3, gain_W=10.0)
    coolers["cold_sink"]["heat_capacity_J_K"] = coolers["hot_sink"]["heat_capacity_J_K"] = 400.0
    places["contents_J_K"], places["contents_W_K"] = 20e3, 8.0
    places["buffer_kg"], places["buffer_kg_s"] = 2.0, 1e-3
    clock = np.arange(0.0, 86401.0, 3600.0)
    outdoor_K = OUTDOOR + 3.0 * np.sin(clock / 9000.0)
    forcing = weather(
        clock, {GAIN_W: 10.0, SET_K: SET, OUTDOOR_K: outdoor_K}, places, period_s=86400.0
    )
    whole, state = go(coolers, places, forcing, control, 40 * 3600.0, bin_s=3600.0)
    parts, other = [], None
    for until_h in (5, 6, 24, 40):
        found, other = go(
            coolers, places, forcing, control, until_h * 3600.0, state=other, bin_s=3600.0
        )
        parts.append(found)
        # Put away in a file, and taken up again.
        kept = {name: getattr(other, name) for name in ("memory", "stores", "unknowns", "outputs")}
        np.savez(tmp_path / "state.npz", **kept)
        with np.load(tmp_path / "state.npz") as file:
            other = State(**{name: file[name] for name in kept})
    np.testing.assert_allclose(np.concatenate(parts, axis=1), whole, rtol=1e-7, atol=1e-6)
    np.testing.assert_allclose(other.stores, state.stores, rtol=1e-9)
    np.testing.assert_allclose(other.memory, state.memory, rtol=1e-6)
    assert other.memory[0, M_TIME] == 40 * 3600.0
    assert abs(state.stores[0, CONTENTS_K] - OUTDOOR) > 1.0
    assert state.stores[0, AIR_J] > 0.0
    assert whole[0, :, S_MAX].max() > whole[0, :, S_MIN].max()


def test_weather_between_at_and_beyond_its_rows():
    clock = np.array([0.0, 100.0, 100.0, 300.0, 400.0])
    rows = np.zeros((5, FORCINGS))
    rows[:, OUTDOOR_K] = [1.0, 3.0, 10.0, 20.0, 1.0]

    def at(time_s, last=False, period_s=0.0):
        row = np.empty(FORCINGS)
        weather_at(clock, rows, period_s, time_s, last, row)
        return row[OUTDOOR_K]

    assert [at(t) for t in (0.0, 50.0, 99.0, 101.0, 200.0)] == [1.0, 2.0, 2.98, 10.05, 15.0]
    # At a jump: what was before it ends a step, what comes after it begins one.
    assert (at(100.0, last=True), at(100.0)) == (3.0, 10.0)
    assert (at(-5.0), at(1000.0)) == (1.0, 1.0)
    # A day that repeats: its end is the end of one and the beginning of the next.
    rows[4, OUTDOOR_K] = 7.0
    assert (at(400.0, True, 400.0), at(400.0, False, 400.0)) == (7.0, 1.0)
    assert (at(850.0, period_s=400.0), at(1600.0, True, 400.0)) == (2.0, 7.0)
    assert at(0.0, True, 400.0) == 1.0


def test_the_next_jump():
    clock = np.array([0.0, 100.0, 100.0, 300.0, 400.0])
    assert to_next_jump(clock, 0.0, 0.0, 1e9) == 100.0
    assert to_next_jump(clock, 0.0, 40.0, 60.0) == 60.0
    assert to_next_jump(clock, 0.0, 40.0, 59.0) > 59.0
    assert to_next_jump(clock, 0.0, 100.0, 1e9) > 1e9
    # The end of a day that repeats is one, and the next day's come again.
    assert to_next_jump(clock, 400.0, 390.0, 1e9) == 10.0
    assert to_next_jump(clock, 400.0, 890.0, 1e9) == 10.0
