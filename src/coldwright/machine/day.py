"""The place and its cooler through days: changing weather, schedules, and a thermostat.

The same two-stage step as the pull-down, with the weather taken at each stage. A thermostat's
switching instant is found inside the step: the step ends there, and the next begins with the other
state. What flows is summed with the step's own weights, so that over any run the sums equal the
change of what is stored.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coldwright.machine.balance import unknowns
from coldwright.machine.frame import set_flows
from coldwright.machine.place import (
    AIR_J,
    AIR_KG,
    COLD_BASE,
    CONTENTS_K,
    GAMMA,
    HOT_BASE,
    STORES,
    WALL_SHAPE,
    WALLS,
    lay_walls,
    stage,
)
from coldwright.machine.place_lines import HEATS, WATERS, into_walls, place_lines
from coldwright.machine.records import MAX_GROUPS, MAX_UNKNOWNS, OUTPUTS, Status
from coldwright.machine.rows import (
    ALLOWED,
    FORCINGS,
    SET_K,
    set_weather,
    to_next_jump,
    weather_at,
)
from coldwright.machine.solve import _fan_states
from coldwright.machine.walk import first_guess
from coldwright.physics.compiled import compiled, inlined

_SOLVED = int(Status.SOLVED)
_NO_FLOW = int(Status.NO_FLOW)

# Columns of a bin of the series: sums over time (divide by the bin's length for a mean).
S_TIME = 0
S_AIR = 1
S_WATER = 2
S_OUTDOOR = 3
S_PLUG = 4
S_MODULES = 5
S_CONDENSATE = 6
S_RUNNING = 7
S_SWITCHES = 8
S_MIN = 9
S_MAX = 10
S_CONTENTS = 11
S_ABOVE = 12
S_WALLS_OUT = 13
S_DRAINED = 14
S_HOT_FACE = 15
S_HEAT = 16
S_WATERS = S_HEAT + HEATS
BIN_COLUMNS = S_WATERS + WATERS
# What is noted of each stage: the heats of `place_lines`, and six more (`_note`).
NOTED = HEATS + 6

# What the thermostat feels.
PROBE_AIR = 0
PROBE_OUTLET = 1
PROBE_CONTENTS = 2

# Slots of the run's own state, besides stores and unknowns: it can be put away and continued.
M_TIME = 0
M_ON = 1
M_SHARE = 2
M_SWITCHES = 3
M_HELD = 4  # seconds since the thermostat last switched
M_FELT = 5  # what its probe shows [K]; NaN: it has not begun yet
MEMORY = 6

# Switching instants are found to this accuracy [s].
_INSTANT_S = 1e-2
# Once switched, a thermostat holds for so long (common practice, no source: relays and controllers
# do). Without it a probe that follows at once, or no hysteresis, would switch without end.
HOLD_S = 10.0
# A stopped proportional drive starts again when this much more is asked for than stops it.
_RESTART_SHARE = 0.1
# A step that cannot be solved is tried again, shorter, down to this [s].
_SHORTEST_S = 0.05
# After a switch air and fins move within seconds: steps begin with this and grow with the time
# since, up to the wanted length [s].
_FIRST_S = 2.0


# Scratch of one run (see `FRAME` for why it is not made in compiled code): the walls, the state as
# it moves, as it was before the step, and the flows of a step's two stages.
FOLLOWED = np.dtype(
    [
        ("walls", "f8", WALL_SHAPE),
        ("stores", "f8", (STORES,)),
        ("first", "f8", (STORES,)),
        ("base", "f8", (STORES,)),
        ("keep_stores", "f8", (STORES,)),
        ("keep_x", "f8", (MAX_UNKNOWNS,)),
        ("keep_o", "f8", (OUTPUTS,)),
        ("row", "f8", (FORCINGS,)),
        ("heat", "f8", (NOTED,)),
        ("water", "f8", (WATERS,)),
        ("heat2", "f8", (NOTED,)),
        ("water2", "f8", (WATERS,)),
        ("full_drive", "f8", (MAX_GROUPS,)),
    ],
    align=True,
)


@compiled
def probe(kind: int, n: int, x: Any, o: Any, y: Any) -> float:
    """Temperature [K] where the thermostat feels it."""
    if kind == PROBE_OUTLET:
        return o[0]
    if kind == PROBE_CONTENTS:
        return y[CONTENTS_K]
    return x[n - 2]


@inlined
def lagging(felt_K: float, before_K: float, after_K: float, h: float, lag_s: float) -> float:
    """What a probe of this time constant shows after a step in which its surroundings pass from
    one temperature to another on a straight line (exact for a first-order lag)."""
    if lag_s <= 0.0:
        return after_K
    behind_K = (after_K - before_K) / h * lag_s
    return after_K - behind_K + (felt_K - before_K + behind_K) * math.exp(-h / lag_s)


@compiled
def follow(
    on: Any,
    off: Any,
    place: Any,
    clock: Any,
    forcing: Any,
    control: Any,
    end_s: float,
    bin_s: float,
    memory: Any,
    run: Any,
    frame: Any,
    bins: Any,
    profile: Any,
) -> int:
    """Run from `memory[M_TIME]` to `end_s` and add up `bins`, shape (k, BIN_COLUMNS).

    Parameters
    ----------
    on, off
        Records of the cooler running and stopped, of one layout.
    place
        A scratch record of the place: its weather is overwritten.
    control
        step [s], period of the forcing [s] (0: none), thermostat kind (0 none, 1 on/off,
        2 proportional), hysteresis or band [K], probe, natural flow without doors [m³/s], limit
        for "hours above" [K], least share of a proportional drive, time constant of the probe [s].
    memory, run, frame
        State of the run: times and switches, stores (`run.stores`), unknowns and outputs
        (`frame.x`, `frame.o`); changed in place, so that it can be continued.
    """
    step_s, period_s = control[0], control[1]
    thermostat, hysteresis_K = int(control[2]), control[3]
    probe_kind, natural, limit_K, least = int(control[4]), control[5], control[6], control[7]
    lag_s = control[8]
    n = unknowns(on, True)
    start_s = memory[M_TIME]
    time_s = start_s
    walls, y, x, o, work = run.walls, run.stores, frame.x, frame.o, frame.work
    first, base, row = run.first, run.base, run.row
    keep_y, keep_x, keep_o = run.keep_stores, run.keep_x, run.keep_o
    heat, water, heat2, water2 = run.heat, run.water, run.heat2, run.water2
    full_drive = run.full_drive
    lay_walls(place, walls)
    for g in range(on.groups):
        full_drive[g] = on.group[g].drive_value
    while time_s < end_s - 1e-9:
        # The step ends at the next whole step, bin, jump of the forcing or the end.
        h = min(step_s, end_s - time_s)
        bin_end = start_s + (math.floor((time_s - start_s + 1e-9) / bin_s) + 1.0) * bin_s
        h = min(h, bin_end - time_s)
        h = min(h, to_next_jump(clock, period_s, time_s, h))
        weather_at(clock, forcing, period_s, time_s, False, row)
        set_K = row[SET_K]
        allowed = row[ALLOWED] > 0.5
        around_K = probe(probe_kind, n, x, o, y)
        if math.isnan(memory[M_FELT]):
            memory[M_FELT] = around_K
        felt = memory[M_FELT] if lag_s > 0.0 else around_K
        held = memory[M_HELD] < HOLD_S - 1e-6
        was = memory[M_ON] > 0.5
        running = was
        if not allowed:
            running = False
        elif thermostat == 0:
            running = True
        elif thermostat == 1:
            if not held:
                mark = set_K - 0.5 * hysteresis_K if was else set_K + 0.5 * hysteresis_K
                running = felt > mark if was else felt >= mark
            else:
                h = min(h, HOLD_S - memory[M_HELD])
        else:
            # Nothing at the temperature to hold, everything at the band above it.
            asked = (felt - set_K) / max(hysteresis_K, 1e-6)
            running = asked > 0.0 and asked >= least
            if not was:
                running = asked > least + _RESTART_SHARE
            memory[M_SHARE] = min(max(asked, least), 1.0)
            for g in range(on.groups):
                on.group[g].drive_value = full_drive[g] * memory[M_SHARE]
        if running != was:
            memory[M_ON] = 1.0 if running else 0.0
            memory[M_SWITCHES] += 1.0
            memory[M_HELD] = 0.0
            held = thermostat == 1 and allowed
        h = min(h, max(memory[M_HELD], _FIRST_S))
        cooler = on if running else off
        memory[M_TIME] = time_s
        for i in range(STORES):
            keep_y[i] = y[i]
        for i in range(n):
            keep_x[i] = x[i]
        for i in range(OUTPUTS):
            keep_o[i] = o[i]
        whole = False
        while True:
            status = _step(
                cooler, place, walls, clock, forcing, period_s, natural, time_s, h, whole, y, first,
                base, x, row, frame, o, work, heat, water, heat2, water2,
            )  # fmt: skip
            if status == _SOLVED:
                break
            # Where air or fins follow much faster than the step, two stages may swing past what
            # can be (less than no water); one implicit stage does not.
            if whole:
                h *= 0.5
                if h < _SHORTEST_S:
                    return status
            whole = not whole
            for i in range(STORES):
                y[i] = keep_y[i]
            for i in range(n):
                x[i] = keep_x[i]
            for i in range(OUTPUTS):
                o[i] = keep_o[i]
        if thermostat == 1 and allowed and not held:
            # Did the probe pass its mark inside the step? Then the step ends there.
            mark = set_K - 0.5 * hysteresis_K if running else set_K + 0.5 * hysteresis_K
            sign = -1.0 if running else 1.0
            now_K = lagging(felt, around_K, probe(probe_kind, n, x, o, y), h, lag_s)
            over = sign * (now_K - mark)
            if over > 0.0 and h > _INSTANT_S:
                low, high = 0.0, h
                f_low = sign * (felt - mark)
                f_high = over
                done = False
                for _ in range(60):
                    # The last of these steps ends just past the mark, so that the switch follows.
                    done = high - low <= _INSTANT_S
                    guess = high
                    if not done:
                        share = min(max(-f_low / (f_high - f_low), 0.05), 0.95)
                        guess = low + (high - low) * share
                    for i in range(STORES):
                        y[i] = keep_y[i]
                    for i in range(n):
                        x[i] = keep_x[i]
                    status = _step(
                        cooler, place, walls, clock, forcing, period_s, natural, time_s, guess,
                        whole, y, first, base, x, row, frame, o, work, heat, water, heat2, water2,
                    )  # fmt: skip
                    if status != _SOLVED:
                        return status
                    h = guess
                    if done:
                        break
                    now_K = lagging(felt, around_K, probe(probe_kind, n, x, o, y), guess, lag_s)
                    value = sign * (now_K - mark)
                    if value > 0.0:
                        high, f_high = guess, value
                    else:
                        low, f_low = guess, value
        memory[M_FELT] = lagging(felt, around_K, probe(probe_kind, n, x, o, y), h, lag_s)
        k = min(int((time_s - start_s + 1e-9) / bin_s), len(bins) - 1)
        _add(bins[k], h, running, limit_K, n, keep_x, keep_y, x, o, y, profile)
        for j in range(HEATS):
            bins[k, S_HEAT + j] += h * ((1.0 - GAMMA) * heat[j] + GAMMA * heat2[j])
        for j in range(WATERS):
            bins[k, S_WATERS + j] += h * ((1.0 - GAMMA) * water[j] + GAMMA * water2[j])
        for j in range(4):
            column = (S_PLUG, S_MODULES, S_CONDENSATE, S_WALLS_OUT)[j]
            bins[k, column] += h * ((1.0 - GAMMA) * heat[HEATS + j] + GAMMA * heat2[HEATS + j])
        bins[k, S_DRAINED] += h * ((1.0 - GAMMA) * heat[HEATS + 4] + GAMMA * heat2[HEATS + 4])
        bins[k, S_OUTDOOR] += h * ((1.0 - GAMMA) * heat[HEATS + 5] + GAMMA * heat2[HEATS + 5])
        time_s += h
        memory[M_HELD] += h
    for g in range(on.groups):
        on.group[g].drive_value = full_drive[g]
    memory[M_TIME] = time_s
    return _SOLVED


@compiled
def _step(
    cooler: Any,
    place: Any,
    walls: Any,
    clock: Any,
    forcing: Any,
    period_s: float,
    natural: float,
    time_s: float,
    h: float,
    whole: bool,
    y: Any,
    first: Any,
    base: Any,
    x: Any,
    row: Any,
    frame: Any,
    o: Any,
    work: Any,
    heat: Any,
    water: Any,
    heat2: Any,
    water2: Any,
) -> int:
    """One step of two stages under the forcing; flows of both stages into the four arrays.

    With `whole` it is one stage over the whole step (backward Euler): of first order, but it never
    swings past anything.
    """
    n = unknowns(cooler, True)
    stage_s = h if whole else GAMMA * h
    weather_at(clock, forcing, period_s, time_s + stage_s, True, row)
    set_weather(place, row, natural)
    if cooler.cold_sinks + cooler.hot_sinks > 0:
        cold_K, cold_water, hot_K, hot_water = _fan_states(
            cooler, place, x[n - 2], x[n - 1] * 1e-3, True, n, x, o, True
        )
        if not set_flows(cooler, place, cold_K, cold_water, hot_K, hot_water, frame):
            return _NO_FLOW
    inverse = 1.0 / stage_s
    for i in range(STORES):
        first[i] = y[i]
    status = stage(cooler, place, walls, inverse, y, first, n, x, frame, o, work)
    if status != _SOLVED:
        return status
    if whole:
        _note(cooler, frame, place, walls, x, o, first, heat, water)
        _note(cooler, frame, place, walls, x, o, first, heat2, water2)
        for i in range(STORES):
            y[i] = first[i]
        return status
    _note(cooler, frame, place, walls, x, o, first, heat, water)
    ratio = (1.0 - GAMMA) / GAMMA
    for i in range(STORES):
        base[i] = y[i] + ratio * (first[i] - y[i])
    weather_at(clock, forcing, period_s, time_s + h, True, row)
    set_weather(place, row, natural)
    status = stage(cooler, place, walls, inverse, base, y, n, x, frame, o, work)
    if status == _SOLVED:
        _note(cooler, frame, place, walls, x, o, y, heat2, water2)
    return status


@compiled
def _note(
    cooler: Any, frame: Any, place: Any, walls: Any, x: Any, o: Any, stores: Any, heat: Any,
    water: Any,
) -> None:  # fmt: skip
    place_lines(cooler, frame, place, x, o, heat, water)
    heat[HEATS] = o[6]
    heat[HEATS + 1] = o[5]
    heat[HEATS + 2] = o[4]
    heat[HEATS + 3] = into_walls(place, walls, stores, WALLS)
    heat[HEATS + 4] = o[4] * 4186.0 * (o[16] - 273.15)
    heat[HEATS + 5] = place.outdoor_K


@compiled
def _add(
    row: Any, h: float, running: bool, limit_K: float, n: int, last_x: Any, last_y: Any, x: Any,
    o: Any, y: Any, profile: Any,
) -> None:  # fmt: skip
    last_K, air_K = last_x[n - 2], x[n - 2]
    row[S_TIME] += h
    row[S_AIR] += h * 0.5 * (last_K + air_K)
    row[S_WATER] += h * 0.5e-3 * (last_x[n - 1] + x[n - 1])
    row[S_CONTENTS] += h * 0.5 * (last_y[CONTENTS_K] + y[CONTENTS_K])
    if running:
        row[S_RUNNING] += h
    # The air passes the limit on a straight line within the step.
    if min(last_K, air_K) > limit_K:
        row[S_ABOVE] += h
    elif max(last_K, air_K) > limit_K:
        row[S_ABOVE] += h * (max(last_K, air_K) - limit_K) / abs(air_K - last_K)
    if row[S_MIN] == 0.0 or air_K < row[S_MIN]:
        row[S_MIN] = air_K
    row[S_MAX] = max(row[S_MAX], air_K)
    if o[23] > profile[0]:
        profile[0] = o[23]


@compiled
def start_state(cooler: Any, place: Any, air_K: float, water: float, x: Any, o: Any) -> None:
    """Unknowns of a run that begins with the cooler at rest."""
    first_guess(cooler, place, air_K, water, True, x)
    o[0] = air_K
    o[1] = water
    o[2] = place.outdoor_K if cooler.hot_takes == 1 else air_K
    o[3] = place.outdoor_humidity_ratio if cooler.hot_takes == 1 else water
    o[17], o[18] = o[0], o[2]


STORED = (AIR_J, AIR_KG, CONTENTS_K, COLD_BASE, HOT_BASE, WALLS)
