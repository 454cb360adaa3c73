"""One design at one setting, as the search sees it: its figures, its limits, what it is worth."""

from __future__ import annotations

import math
from enum import IntEnum, IntFlag
from typing import Any

import numpy as np

from coldwright.machine.cooler import write_result
from coldwright.machine.records import Drive, End, SinkKind, Status
from coldwright.machine.solve import solve_point
from coldwright.physics.compiled import compiled
from coldwright.physics.moist_air import CP_LIQUID, ZERO_C_K, dew_point, enthalpy
from coldwright.physics.sound import level_speed_change, level_sum


class Aim(IntEnum):
    """What makes one design better than another."""

    COLDEST = 0
    NET = 1
    CHEAPEST = 2
    QUIETEST = 3
    COP = 4


class Broken(IntFlag):
    """What a design breaks at a setting."""

    UNSOLVED = 1
    GOAL = 2
    PLUG_POWER = 4
    SOUND = 8
    PRICE = 16
    HOT_FACE = 32
    COLD_FACE = 64
    HOT_SINK = 128
    COLD_SINK = 256
    DEW_POINT = 512
    SUPPLY = 1024
    CONVERTER = 2048
    MODULE = 4096
    FUSE = 8192
    PRESSURE = 16384


_f = "f8"
POINT = np.dtype(
    [
        ("drive_V", _f),
        ("cold_speed", _f),
        ("hot_speed", _f),
        ("level_K", _f),  # of the place, of the plate, or of the cold outlet in open air
        ("net_W", _f),
        ("level_or_net", _f),  # what the coldest or the most net cooling makes small
        ("plug_W", _f),
        ("sound_dB", _f),  # -inf: no fan tells
        ("hot_face_K", _f),
        ("cold_sink_K", _f),
        ("over", _f),  # how far beyond the worst limit; negative: kept
        ("lack", _f),  # how far from the goal; negative: reached
        ("cost", _f),  # what the aim makes small
        ("merit", _f),  # the same; what breaks a limit or misses the goal ranks behind
        ("broken", "i8"),
        ("solved", "i8"),
    ],
    align=True,
)
CASE = np.dtype(
    [
        ("top_V", _f),  # highest voltage of the array
        ("fixed", "i8"),  # 1: it is the only one
        ("cold_dB", _f),  # fans at full speed; -inf: not known
        ("hot_dB", _f),
        ("module_A", _f),
        ("module_V", _f),
        ("supply_W", _f),
        ("converter_W", _f),
        ("fuse_A", _f),
        ("price", _f),  # NaN: not known
        ("unknown_sound", "i8"),
    ],
    align=True,
)
LIMITS = np.dtype(
    [
        ("plug_W", _f),  # inf where there is none; -inf below
        ("sound_dB", _f),
        ("price", _f),
        ("hot_face_K", _f),
        ("cold_face_K", _f),  # from below
        ("hot_sink_K", _f),
        ("cold_sink_K", _f),  # from below
        ("dew_margin_K", _f),  # from below
        ("pressure_Pa", _f),
        ("need_K", _f),  # the goal; inf: none
        ("need_W", _f),  # net cooling wanted instead; -inf: none
    ],
    align=True,
)

_SPEED_EXPONENT_DB = 50.0
# So much less power is worth as much as one unit of what the aim makes small [1/W]: of designs
# that are equally good the one that takes less stands first.
_TIE = 5e-4
# What is not known ranks behind everything that is.
_UNKNOWN = 1e5
_BEHIND = 1e6
_SCALE_K, _SCALE_DB = 20.0, 10.0

_SOLVED = int(Status.SOLVED)
_VOLTAGE = int(Drive.VOLTAGE)
_PLACE = int(End.PLACE)
_PLATE = int(SinkKind.PLATE_LOAD)
_COLDEST, _NET, _CHEAPEST = int(Aim.COLDEST), int(Aim.NET), int(Aim.CHEAPEST)
_QUIETEST = int(Aim.QUIETEST)
_B_UNSOLVED, _B_GOAL, _B_PLUG = int(Broken.UNSOLVED), int(Broken.GOAL), int(Broken.PLUG_POWER)
_B_SOUND, _B_PRICE, _B_HOT_FACE = int(Broken.SOUND), int(Broken.PRICE), int(Broken.HOT_FACE)
_B_COLD_FACE, _B_HOT_SINK = int(Broken.COLD_FACE), int(Broken.HOT_SINK)
_B_COLD_SINK, _B_DEW = int(Broken.COLD_SINK), int(Broken.DEW_POINT)
_B_SUPPLY, _B_CONVERTER = int(Broken.SUPPLY), int(Broken.CONVERTER)
_B_MODULE, _B_FUSE, _B_PRESSURE = int(Broken.MODULE), int(Broken.FUSE), int(Broken.PRESSURE)


@compiled
def try_setting(
    cooler: Any,
    place: Any,
    case: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    warm: bool,
    x: Any,
    frame: Any,
    o: Any,
    work: Any,
    result: Any,
    point: Any,
) -> bool:
    """Solve the setting that `point` holds and fill in the rest; whether it was solved."""
    cooler.cold_fan.speed = point.cold_speed
    cooler.hot_fan.speed = point.hot_speed
    for g in range(cooler.groups):
        if cooler.group[g].drive == _VOLTAGE:
            cooler.group[g].drive_value = point.drive_V
    air_K = frame.held_K if frame.held_K > 0.0 else place.air_K
    water = place.humidity_ratio
    status = solve_point(cooler, place, air_K, water, with_place, warm, x, frame, o, work)
    if status != _SOLVED and warm:
        status = solve_point(cooler, place, air_K, water, with_place, False, x, frame, o, work)
    if status == _SOLVED:
        result.status = _SOLVED
        write_result(cooler, place, air_K, water, with_place, x, frame, o, result)
        status = result.status
    if status != _SOLVED:
        point.solved = 0
        point.broken = _B_UNSOLVED
        point.level_K = point.net_W = point.plug_W = point.level_or_net = np.inf
        point.sound_dB = sound(case, point.cold_speed, point.hot_speed)
        point.over = point.lack = point.cost = np.inf
        point.merit = 1e12
        return False
    _fill(cooler, place, case, limits, aim, with_place, result, point)
    return True


@compiled
def sound(case: Any, cold_speed: float, hot_speed: float) -> float:
    """Level of both fans at their speeds [dB]; -inf when neither tells."""
    cold_dB = case.cold_dB
    hot_dB = case.hot_dB
    if cold_dB > -np.inf:
        cold_dB += level_speed_change(cold_speed, _SPEED_EXPONENT_DB)
    if hot_dB > -np.inf:
        hot_dB += level_speed_change(hot_speed, _SPEED_EXPONENT_DB)
    if cold_dB == -np.inf:
        return float(hot_dB)
    if hot_dB == -np.inf:
        return float(cold_dB)
    return float(level_sum(cold_dB, hot_dB))


@compiled
def allowed_speed(case: Any, limits: Any) -> float:
    """Speed of both fans, as a share of full speed, at which they are as loud as they may be."""
    full_dB = sound(case, 1.0, 1.0)
    if not full_dB > limits.sound_dB:
        return 1.0
    return float(10.0 ** ((limits.sound_dB - full_dB) / _SPEED_EXPONENT_DB))


@compiled
def other_speed(one_dB: float, other_dB: float, one_speed: float, most_dB: float) -> float:
    """How fast the other fan may turn when the one turns at this speed."""
    one_dB += level_speed_change(one_speed, _SPEED_EXPONENT_DB) if one_dB > -np.inf else 0.0
    left = 10.0 ** (most_dB / 10.0) - 10.0 ** (one_dB / 10.0)
    if other_dB == -np.inf:
        return 1.0
    if not left > 0.0:
        return 0.0
    return float(min(1.0, 10.0 ** ((10.0 * math.log10(left) - other_dB) / _SPEED_EXPONENT_DB)))


@compiled
def _fill(
    cooler: Any,
    place: Any,
    case: Any,
    limits: Any,
    aim: int,
    with_place: bool,
    result: Any,
    point: Any,
) -> None:
    n_cold = cooler.cold_sinks
    cold_sink_K = 0.0
    for s in range(n_cold):
        cold_sink_K += result.cold_base_K[s] / n_cold
    hot_sink_K = 0.0
    for s in range(cooler.hot_sinks):
        hot_sink_K += result.hot_base_K[s] / cooler.hot_sinks
    hot_face_K, cold_face_K, module_A, module_V = 0.0, np.inf, 0.0, 0.0
    array_A = 0.0
    for g in range(cooler.groups):
        hot_face_K = max(hot_face_K, result.hot_face_K[g])
        cold_face_K = min(cold_face_K, result.cold_face_K[g])
        array_A += result.module_A[g] * cooler.group[g].parallel
        if cooler.group[g].drive == _VOLTAGE:
            module_A = max(module_A, abs(result.module_A[g]))
            module_V = max(module_V, result.module_V[g])
    plate = n_cold > 0 and cooler.cold_sink[0].kind == _PLATE
    point.net_W = _net_cooling(cooler, place, result, plate)
    if plate:
        point.level_K = cold_sink_K
    elif with_place:
        point.level_K = result.place_K
    else:
        point.level_K = result.cold_outlet_air_K
    point.plug_W = result.plug_W
    point.sound_dB = sound(case, point.cold_speed, point.hot_speed)
    point.hot_face_K = hot_face_K
    point.cold_sink_K = cold_sink_K
    set_W = result.modules_W + result.leads_W
    broken = 0
    over = -np.inf

    over, broken = _most(result.plug_W, limits.plug_W, 0.0, over, broken, _B_PLUG)
    over, broken = _most(result.plug_W - result.supply_W, case.supply_W, 0.0, over, broken,
                         _B_SUPPLY)  # fmt: skip
    over, broken = _most(set_W, case.converter_W, 0.0, over, broken, _B_CONVERTER)
    over, broken = _most(array_A, case.fuse_A, 0.0, over, broken, _B_FUSE)
    over, broken = _most(module_A, case.module_A, 0.0, over, broken, _B_MODULE)
    over, broken = _most(module_V, case.module_V, 0.0, over, broken, _B_MODULE)
    over, broken = _most(hot_face_K, limits.hot_face_K, _SCALE_K, over, broken, _B_HOT_FACE)
    over, broken = _most(hot_sink_K, limits.hot_sink_K, _SCALE_K, over, broken, _B_HOT_SINK)
    over, broken = _most(-cold_face_K, -limits.cold_face_K, _SCALE_K, over, broken, _B_COLD_FACE)
    over, broken = _most(-cold_sink_K, -limits.cold_sink_K, _SCALE_K, over, broken, _B_COLD_SINK)
    if limits.dew_margin_K > -np.inf and not plate:
        dew_K = dew_point(result.cold_in_water[0], cooler.pressure_Pa)
        over, broken = _most(dew_K - cold_sink_K, -limits.dew_margin_K, _SCALE_K, over, broken,
                             _B_DEW)  # fmt: skip
    over, broken = _most(point.sound_dB, limits.sound_dB, _SCALE_DB, over, broken, _B_SOUND)
    over, broken = _most(result.place_pressure_Pa, limits.pressure_Pa, 1.0, over, broken,
                         _B_PRESSURE)  # fmt: skip
    # A price breaks its limit at every setting: it must not steer the voltage.
    price_over = 0.0
    if limits.price < np.inf and not case.price <= limits.price:
        broken |= _B_PRICE
        price_over = 1.0 if math.isnan(case.price) else case.price / limits.price - 1.0
    lack = -np.inf
    if limits.need_K < np.inf:
        lack = (point.level_K - limits.need_K) / _SCALE_K
    if limits.need_W > -np.inf:
        lack = max(lack, (limits.need_W - point.net_W) / max(abs(limits.need_W), 1.0))
    if lack > 0.0:
        broken |= _B_GOAL
    point.over = over
    point.lack = lack
    point.solved = 1
    point.broken = broken

    point.level_or_net = -point.net_W if aim == _NET or (not with_place and not plate) else (
        point.level_K
    )  # fmt: skip
    if aim in (_COLDEST, _NET):
        cost = point.level_or_net + _TIE * point.plug_W
    elif aim == _CHEAPEST:
        cost = _UNKNOWN if math.isnan(case.price) else case.price
        cost += _TIE * point.plug_W
    elif aim == _QUIETEST:
        cost = max(point.sound_dB, -100.0) + _TIE * point.plug_W
        if case.unknown_sound == 1:
            cost += _UNKNOWN
    else:
        cost = -point.net_W / max(point.plug_W, 1e-3)
    point.cost = cost
    beyond = max(over, 0.0) + max(lack, 0.0) + price_over
    point.merit = _BEHIND * (1.0 + beyond) if beyond > 0.0 else cost


@compiled
def _most(
    value: float, limit: float, scale: float, over: float, broken: int, bit: int
) -> tuple[float, int]:
    """How far a value is beyond a limit: in shares of it where `scale` is 0, else in that scale."""
    if math.isinf(limit):
        return over, broken
    excess = (value - limit) / (scale if scale > 0.0 else max(abs(limit), 1e-9))
    if excess > 0.0:
        broken |= bit
    return max(over, excess), broken


@compiled
def _net_cooling(cooler: Any, place: Any, result: Any, plate: bool) -> float:
    """Net cooling [W] at the place's air in `result`, as `outcome` defines it."""
    if plate:
        sink = cooler.cold_sink[0]
        return float(
            sink.load_W
            + sink.load_conductance_W_K * (sink.load_surroundings_K - result.cold_surface_K[0])
        )
    place_h = enthalpy(result.place_K, result.place_humidity_ratio)
    fresh_kg_s = (1.0 - cooler.cold_recirculation) * result.cold_kg_s
    heat_W = fresh_kg_s * (enthalpy(result.cold_outlet_K, result.cold_outlet_water) - place_h)
    if cooler.hot_sends == _PLACE:
        fresh_kg_s = (1.0 - cooler.hot_recirculation) * result.hot_kg_s
        heat_W += fresh_kg_s * (enthalpy(result.exhaust_end_K, result.hot_outlet_water) - place_h)
    if cooler.hot_duct.in_place == 1:
        heat_W += result.duct_W
    if cooler.power.supply_at == _PLACE:
        heat_W += result.supply_W
    if cooler.power.converter_at == _PLACE:
        heat_W += result.converter_W
    if cooler.power.lead_at == _PLACE:
        heat_W += result.leads_W + cooler.power.controller_W
    outdoor_h = enthalpy(place.outdoor_K, place.outdoor_humidity_ratio)
    heat_W += (result.inflow_kg_s - result.natural_kg_s) * (outdoor_h - place_h)
    if cooler.condensate == 1:
        heat_W += result.condensate_kg_s * CP_LIQUID * (result.liquid_K - ZERO_C_K)
    return float(-heat_W)
