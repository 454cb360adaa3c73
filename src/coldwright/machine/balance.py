"""The equations of the coupled cooler and its place, as residuals that vanish at the solution.

The unknowns stand in one vector, in this order: the surface temperature of each cold sink, of each
hot sink; per group the cold and hot face (and, with two stages, the two faces between them); where
outlet air is drawn in again, the inlet temperature and water of the cold stream and the inlet
temperature of the hot one; and, when the place is solved too, its air temperature and water.
Temperatures are in kelvins, water in grams per kilogram so that all unknowns are of one size.
Residuals are in watts.
"""

from __future__ import annotations

from typing import Any

from coldwright.machine.modules import group_state
from coldwright.machine.place_air import (
    dry_air,
    exhaust,
    inflow_mass,
    natural_flow,
    place_rows,
    unbalanced_mass,
)
from coldwright.machine.records import COUNTED, MAX_SINKS
from coldwright.machine.streams import mixed_rows, stream_rows
from coldwright.physics.compiled import compiled, inlined


@compiled
def unknowns(cooler: Any, with_place: bool) -> int:
    """Number of unknowns."""
    n = streams_begin(cooler)
    if cooler.cold_recirculation > 0.0:
        n += 2
    if cooler.hot_recirculation > 0.0:
        n += 1
    if with_place:
        n += 2
    return int(n)


@inlined
def streams_begin(cooler: Any) -> int:
    """Where the unknowns of recirculated streams begin: behind those of sinks and modules."""
    k = cooler.cold_sinks + cooler.hot_sinks
    for g in range(cooler.groups):
        k += 4 if cooler.group[g].stages == 2 else 2
    return int(k)


@compiled
def balance(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    x: Any,
    f: Any,
    o: Any,
) -> bool:
    """Fill `f` with the residuals [W] at `x`, and `o` with what else was computed on the way.

    `o`: 0 cold outlet [K], 1 its water [kg/kg], 2 hot outlet [K], 3 its water, 4 condensate [kg/s],
    5 power of the modules [W], 6 from the plug, 7 loss of the supply, 8 of the converter,
    9 of the leads, 10 heat of the hot duct into its surroundings, 11 exhaust temperature [K] at
    the duct's end, 12 heat through the spacer [W], 13 inflow [kg/s], 14 natural inflow [kg/s],
    15 hot air after sink and fan and what is lost into the exhaust [K], 16 liquid temperature [K],
    17 cold air and 18 hot air after the sinks, before a fan that stands behind them [K],
    19 enthalpy that the condensate carries [W], from 20 on the bases of the sinks [K], and last
    (COUNTED) the natural inflow whose warmth a known heat loss counts already [kg/s].
    Returns whether every drive's wish could be met.
    """
    possible = residuals(cooler, frame, place, place_K, place_water, with_place, x, f, o)
    if not with_place:
        beyond_residuals(cooler, frame, place, place_K, o)
    return bool(possible)


@inlined
def beyond_residuals(cooler: Any, frame: Any, place: Any, place_K: float, o: Any) -> None:
    """Of `o`, what the residuals without the place have no need of."""
    exhaust(cooler, frame, place, place_K, o[5], o[9], o)
    o[13], o[14], o[COUNTED] = inflow_mass(place, unbalanced_mass(cooler, frame), place_K)


@compiled
def residuals(
    cooler: Any,
    frame: Any,
    place: Any,
    place_K: float,
    place_water: float,
    with_place: bool,
    x: Any,
    f: Any,
    o: Any,
) -> bool:
    """The same without what no residual needs; `o[6]` is then the load, not the plug."""
    k = streams_begin(cooler)
    if with_place:
        i = unknowns(cooler, True) - 2
        place_K = x[i]
        place_water = x[i + 1] * 1e-3
    stream_rows(cooler, frame, place, place_K, place_water, k, x, f, o)
    possible = _module_rows(cooler, frame, x, f, o)
    o[6] = o[5] + o[9] + frame.cold_fan_W + frame.hot_fan_W + frame.pumps_W
    if with_place:
        electric_W = exhaust(cooler, frame, place, place_K, o[5], o[9], o)
        o[13], o[14], o[COUNTED] = inflow_mass(place, unbalanced_mass(cooler, frame), place_K)
        place_rows(cooler, frame, place, place_K, place_water, electric_W, i, x, f, o)
    elif cooler.hot_recirculation > 0.0:
        exhaust(cooler, frame, place, place_K, o[5], o[9], o)
    mixed_rows(cooler, frame, place, place_K, place_water, k, x, f, o)
    return possible


@inlined
def _module_rows(cooler: Any, frame: Any, x: Any, f: Any, o: Any) -> bool:
    """Groups of modules between their bases: two or four residuals each, and heat at the sinks."""
    n_cold = cooler.cold_sinks
    possible = True
    power_W = 0.0
    leads_W = 0.0
    i = n_cold + cooler.hot_sinks
    for g in range(cooler.groups):
        group = cooler.group[g]
        count = group.series * group.parallel
        cold_K = x[i]
        cold_r = frame.cold_interface_K_W[g]
        hot_r = frame.hot_interface_K_W[g]
        if group.stages == 2:
            middle_hot_K, middle_cold_K, hot_K = x[i + 1], x[i + 2], x[i + 3]
        else:
            middle_hot_K, middle_cold_K, hot_K = x[i + 1], cold_K, x[i + 1]
        into_W, first_W, second_W, out_W, each_W, _, _, square_A2, _, wish = group_state(
            group, cold_K, middle_cold_K, middle_hot_K, hot_K
        )
        possible = possible and wish
        f[i] = (o[20 + group.cold_sink] - cold_K - cold_r * into_W) / (cold_r + 0.01)
        if group.stages == 2:
            between_r = group.between_K_W
            f[i + 1] = (middle_hot_K - middle_cold_K - between_r * first_W) / (between_r + 0.01)
            f[i + 2] = first_W - second_W
            i += 2
        base_K = o[20 + MAX_SINKS + group.hot_sink]
        f[i + 1] = (hot_K - base_K - hot_r * out_W) / (hot_r + 0.01)
        i += 2
        f[group.cold_sink] -= count * into_W
        f[n_cold + group.hot_sink] += count * out_W
        power_W += count * each_W
        leads_W += square_A2 * group.parallel * group.parallel * group.lead_ohm
    o[5] = power_W
    o[9] = leads_W
    return possible


__all__ = [
    "balance",
    "beyond_residuals",
    "dry_air",
    "inflow_mass",
    "natural_flow",
    "residuals",
    "streams_begin",
    "unbalanced_mass",
    "unknowns",
]
