"""A run of days: the compiled stepping wrapped, its state kept, its sums named."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numba import prange
from numpy.typing import NDArray

from coldwright.errors import SolverError
from coldwright.machine.balance import unknowns
from coldwright.machine.day import (
    BIN_COLUMNS,
    FOLLOWED,
    M_FELT,
    M_HELD,
    M_ON,
    M_SHARE,
    M_SWITCHES,
    M_TIME,
    MEMORY,
    PROBE_AIR,
    follow,
    start_state,
)
from coldwright.machine.place import STORES, lay_walls, new_walls, steady_stores
from coldwright.machine.records import FRAME, MAX_UNKNOWNS, Drive, Status
from coldwright.machine.rows import FORCINGS, weather_at
from coldwright.machine.solve import OUTPUTS
from coldwright.physics.compiled import compiled, parallel, threads_for

_SOLVED = int(Status.SOLVED)
CONTROLS = 9
# A stopped fan still lets some air through by draught: this share of its speed (common practice,
# no source). Its power is then nothing.
DRAUGHT = 0.05


@dataclass
class Forcing:
    """Weather, sun, gains and set points over time for one or many cases of a place.

    `clock` [s] rises; two equal times are a jump. `rows` has shape (cases, m, FORCINGS) in the
    order of `machine.rows`. `period_s` is 86400 for a day that repeats, 0 for a run that does not.
    """

    clock: NDArray[np.float64]
    rows: NDArray[np.float64]
    period_s: float


@dataclass(frozen=True)
class Control:
    """How the cooler is switched: thermostat, or always as the schedule allows."""

    kind: int = 0
    """0 none, 1 on and off with hysteresis, 2 proportional."""
    hysteresis_K: float = 1.0
    probe: int = PROBE_AIR
    least: float = 0.0
    """Least share of a proportional drive."""
    lag_s: float = 0.0
    """Time constant of the probe [s]."""


@dataclass
class State:
    """Everything a run needs to be continued: one row per case."""

    memory: NDArray[np.float64]
    stores: NDArray[np.float64]
    unknowns: NDArray[np.float64]
    outputs: NDArray[np.float64]


def stopped(coolers: Any, *, fans_keep_running: bool) -> Any:
    """Records of the same coolers with the modules switched off (open circuit)."""
    off = coolers.copy()
    off["group"]["drive"] = Drive.OFF
    off["group"]["second_voltage_V"] = np.nan
    # A duct's surface was measured with the cooler running.
    off["hot_duct"]["surface_K"] = np.nan
    if not fans_keep_running:
        for side in ("cold_sink", "hot_sink"):
            # The other correlation ends before so little flow.
            off[side]["correlation"] = 0
        for side in ("cold_fan", "hot_fan"):
            off[side]["speed"] *= DRAUGHT
            off[side]["power_W"] = 0.0
        # Converter and supply idle; what they take standing by is in `controller_W`.
    return off


def begin_run(
    coolers: Any, places: Any, forcing: Forcing, mean: NDArray[np.float64] | None = None
) -> State:
    """State of places that stood for long at their start air, the cooler stopped.

    The weather outside is that of the first moment, or `mean`, shape (n, FORCINGS).
    """
    n = len(coolers)
    state = State(
        np.zeros((n, MEMORY)),
        np.zeros((n, STORES)),
        np.zeros((n, MAX_UNKNOWNS)),
        np.zeros((n, OUTPUTS)),
    )
    state.memory[:, M_SHARE] = 1.0
    state.memory[:, M_HELD] = np.inf
    state.memory[:, M_FELT] = np.nan
    scratch = places.copy()
    with threads_for(n):
        _begin_all(
            coolers,
            scratch,
            forcing.clock if mean is None else forcing.clock[:1],
            forcing.rows if mean is None else np.ascontiguousarray(mean[:, None, :]),
            state.stores,
            state.unknowns,
            state.outputs,
        )
    return state


def run_days(
    coolers: Any,
    off: Any,
    places: Any,
    forcing: Forcing,
    control: Control,
    state: State,
    *,
    until_s: float,
    step_s: float = 60.0,
    bin_s: float = 3600.0,
    limit_K: float = np.inf,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Carry many cases on from their state to `until_s`; the state is moved on in place.

    Returns
    -------
    bins, hottest
        Sums over each bin, shape (n, k, BIN_COLUMNS) (columns of `machine.day`), and the highest
        temperature of the hot base [K], shape (n,).

    Raises
    ------
    SolverError
        Where a step of the nominal (first) case has no solution; other cases keep NaN.
    """
    n = len(coolers)
    start_s = float(state.memory[0, M_TIME])
    count = max(int(np.ceil((until_s - start_s) / bin_s - 1e-9)), 1)
    bins = np.zeros((n, count, BIN_COLUMNS))
    profile = np.zeros((n, 2))
    controls = np.zeros((n, CONTROLS))
    controls[:, 0] = step_s
    controls[:, 1] = forcing.period_s
    controls[:, 2] = control.kind
    controls[:, 3] = control.hysteresis_K
    controls[:, 4] = control.probe
    controls[:, 5] = places["natural_m3_s"]
    controls[:, 6] = limit_K
    controls[:, 7] = control.least
    controls[:, 8] = control.lag_s
    status = np.zeros(n, dtype=np.int64)
    frames = np.zeros(n, dtype=FRAME)
    runs = np.zeros(n, dtype=FOLLOWED)
    with threads_for(n):
        _run_all(
            coolers.copy(), off, places.copy(), forcing.clock, forcing.rows, controls, until_s,
            bin_s, state.memory, state.stores, state.unknowns, state.outputs, runs, frames, bins,
            profile, status,
        )  # fmt: skip
    if status[0] != _SOLVED:
        at_h = state.memory[0, M_TIME] / 3600.0
        reason = Status(int(status[0])).name.lower().replace("_", " ")
        raise SolverError(f"the run stops after {at_h:.2f} h: {reason}", residual_W=np.nan)
    bins[status != _SOLVED] = np.nan
    return bins, profile[:, 0]


@parallel
def _begin_all(
    coolers: Any, places: Any, clock: Any, rows: Any, stores: Any, xs: Any, outputs: Any
) -> None:
    for i in prange(len(coolers)):
        begin_one(coolers[i], places[i], clock, rows[i], stores[i], xs[i], outputs[i])


@compiled
def begin_one(cooler: Any, place: Any, clock: Any, rows: Any, y: Any, x: Any, o: Any) -> None:
    """Put one case to rest in the first moment's weather."""
    walls = new_walls()
    lay_walls(place, walls)
    row = np.empty(FORCINGS)
    weather_at(clock, rows, 0.0, clock[0], False, row)
    place.outdoor_K = row[0]
    place.outdoor_humidity_ratio = row[1]
    for s in range(place.surfaces):
        place.surface[s].other_K = row[9 + s]
    steady_stores(place, cooler, walls, place.air_K, place.humidity_ratio, y)
    start_state(cooler, place, place.air_K, place.humidity_ratio, x, o)


@parallel
def _run_all(
    on: Any,
    off: Any,
    places: Any,
    clock: Any,
    rows: Any,
    controls: Any,
    until_s: float,
    bin_s: float,
    memory: Any,
    stores: Any,
    xs: Any,
    outputs: Any,
    runs: Any,
    frames: Any,
    bins: Any,
    profile: Any,
    status: Any,
) -> None:
    for i in prange(len(on)):
        run, frame = runs[i], frames[i]
        run.stores[:] = stores[i]
        frame.x[:] = xs[i]
        frame.o[:] = outputs[i]
        status[i] = follow(
            on[i], off[i], places[i], clock, rows[i], controls[i], until_s, bin_s, memory[i],
            run, frame, bins[i], profile[i],
        )  # fmt: skip
        stores[i] = run.stores
        xs[i] = frame.x
        outputs[i] = frame.o


__all__ = [
    "M_ON",
    "M_SWITCHES",
    "Control",
    "Forcing",
    "State",
    "begin_run",
    "run_days",
    "stopped",
    "unknowns",
]
