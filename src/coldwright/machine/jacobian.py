"""Slopes of the residuals by differences, of every unknown only what it can change."""

from __future__ import annotations

from typing import Any

from coldwright.machine.balance import residuals, streams_begin
from coldwright.machine.modules import group_state
from coldwright.machine.place_air import exhaust
from coldwright.physics.compiled import compiled, inlined
from coldwright.physics.moist_air import CP_AIR, CP_VAPOUR

_STEP_K = 1e-5
_STEP_G_KG = 1e-6
# A sealed and dry place says nothing about its water; this keeps what it has.
_KEEP_WATER = 1e-7


@compiled
def difference_jacobian(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    n: int,
    x: Any,
    f: Any,
    o: Any,
    moved: Any,
    jacobian: Any,
) -> None:
    """Fill `jacobian` by forward differences around `x`, where the residuals are `f`.

    A surface or a stream is felt all along the air, so its column takes a whole evaluation. A face
    of a module is felt by its own group, its two sinks and, through the power, by the place.
    """
    surfaces = cooler.cold_sinks + cooler.hot_sinks
    after = streams_begin(cooler)
    for j in range(n):
        if surfaces <= j < after:
            continue
        step = _STEP_G_KG if with_place and j == n - 1 else _STEP_K
        kept = x[j]
        x[j] = kept + step
        residuals(cooler, frame, place, place_K, place_water, with_place, x, moved, o)
        x[j] = kept
        for i in range(n):
            jacobian[i, j] = (moved[i] - f[i]) / step
    # Through the power a face is felt where the exhaust ends: by the place, and by hot air that is
    # drawn in again.
    farther = with_place or cooler.hot_recirculation > 0.0
    if farther:
        # The last column left another state in `o`.
        residuals(cooler, frame, place, place_K, place_water, with_place, x, moved, o)
    if with_place:
        jacobian[n - 1, n - 1] -= _KEEP_WATER
        place_K = x[n - 2]
    power_W, leads_W = o[5], o[9]
    there_W, end_K = 0.0, 0.0
    if farther:
        there_W = exhaust(cooler, frame, place, place_K, power_W, leads_W, o)
        end_K = o[11]
    at = surfaces
    for g in range(cooler.groups):
        faces = 4 if cooler.group[g].stages == 2 else 2
        still = _pushes(cooler, g, at, x)
        for j in range(at, at + faces):
            kept = x[j]
            x[j] = kept + _STEP_K
            now = _pushes(cooler, g, at, x)
            x[j] = kept
            for i in range(n):
                jacobian[i, j] = 0.0
            _face_column(cooler, frame, g, at, j, still, now, jacobian)
            if farther:
                power = power_W + now[4] - still[4]
                leads = leads_W + now[5] - still[5]
                moved_W = exhaust(cooler, frame, place, place_K, power, leads, o) - there_W
                moved_K = o[11] - end_K
                if with_place and frame.held_K == 0.0:
                    jacobian[n - 2, j] = moved_W / _STEP_K
                if cooler.hot_recirculation > 0.0:
                    row = after if cooler.cold_recirculation <= 0.0 else after + 2
                    heat = 1.0 + CP_VAPOUR / CP_AIR * o[3]
                    jacobian[row, j] = 10.0 * cooler.hot_recirculation * heat * moved_K / _STEP_K
        at += faces


@inlined
def _pushes(cooler: Any, g: int, at: int, x: Any) -> Any:
    """Of one group at the faces from `x[at]` on: heats of a module, power, loss in the leads."""
    group = cooler.group[g]
    two = group.stages == 2
    cold_K = x[at]
    hot_K = x[at + 3] if two else x[at + 1]
    middle_hot_K = x[at + 1] if two else hot_K
    middle_cold_K = x[at + 2] if two else cold_K
    into_W, first_W, second_W, out_W, each_W, _, _, square_A2, _, _ = group_state(
        group, cold_K, middle_cold_K, middle_hot_K, hot_K
    )
    power_W = group.series * group.parallel * each_W
    leads_W = square_A2 * group.parallel * group.parallel * group.lead_ohm
    return into_W, first_W, second_W, out_W, power_W, leads_W


@inlined
def _face_column(
    cooler: Any, frame: Any, g: int, at: int, j: int, still: Any, now: Any, jacobian: Any
) -> None:
    """Slopes of a group's own rows and of its sinks with the face `j`; rows as in `balance`."""
    group = cooler.group[g]
    count = group.series * group.parallel
    cold_r = frame.cold_interface_K_W[g]
    hot_r = frame.hot_interface_K_W[g]
    into = (now[0] - still[0]) / _STEP_K
    out = (now[3] - still[3]) / _STEP_K
    jacobian[group.cold_sink, j] = -count * into
    jacobian[cooler.cold_sinks + group.hot_sink, j] = count * out
    jacobian[at, j] = ((-1.0 if j == at else 0.0) - cold_r * into) / (cold_r + 0.01)
    last = at + 1
    if group.stages == 2:
        first = (now[1] - still[1]) / _STEP_K
        second = (now[2] - still[2]) / _STEP_K
        between_r = group.between_K_W
        own = 1.0 if j == at + 1 else (-1.0 if j == at + 2 else 0.0)
        jacobian[at + 1, j] = (own - between_r * first) / (between_r + 0.01)
        jacobian[at + 2, j] = first - second
        last = at + 3
    jacobian[last, j] = ((1.0 if j == last else 0.0) - hot_r * out) / (hot_r + 0.01)
