"""The same cooler, written the plain way: one scalar Python function, for `scipy.optimize.root`.

`residual` is what a careful person writes with the `math` module: six unknowns (the base of either
sink, the two faces of a module, both flows) and six equations. Care was taken for speed as such a
person takes it: what does not depend on the unknowns (the air at the fans' inlets, areas, shares)
is worked out beforehand, parameters lie in objects with slots, and no numpy call is made on a
single number. `compiled_residual` is the very same function, compiled with numba.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numba
import numpy as np
from numba.extending import register_jitable
from numpy.typing import NDArray

from coldwright.physics.moist_air import (
    air_conductivity,
    air_prandtl,
    air_viscosity,
    density,
    specific_volume,
)

UNKNOWNS = 6
_POINTS = 4
_f = "f8"
_SIDE_NAMES = [
    "inlet_K",
    "water",
    "density_kg_m3",
    "volume_m3_kg",
    "viscosity_Pa_s",
    "conductivity_W_mK",
    "prandtl",
    "heat_J_kgK",
    "channels",
    "gap_m",
    "height_m",
    "length_m",
    "fin_m",
    "metal_W_mK",
    "thick_m",
    "conductance_ratio",
    "pressure_ratio",
    "duct_area_m2",
    "front_m2",
    "contraction_loss",
    "area_share",
    "radius_m",
    "base_radius_m",
    "joint_K_W",
    "speed",
    "fan_W",
]
_CASE_NAMES = [
    "pressure_Pa",
    "count",
    "series",
    "voltage_V",
    "lead_ohm",
    "seebeck",
    "resistance",
    "conductance",
    "contact_ohm",
    "spacer_W_K",
    "duct_m",
    "duct_length_m",
    "roughness_m",
    "duct_loss",
    "leak",
    "leak_power",
]
SIDE = np.dtype(
    [(name, _f) for name in _SIDE_NAMES] + [("flows", _f, (_POINTS,)), ("heads", _f, (_POINTS,))]
)
CASE = np.dtype([(name, _f) for name in _CASE_NAMES] + [("cold", SIDE), ("hot", SIDE)])


@register_jitable  # type: ignore[untyped-decorator]
def residual(x: Any, case: Any) -> Any:
    """What is left over at `x`: watts for the two bases, kelvins for the faces, pascals for flows.

    Parameters
    ----------
    x
        Cold base, hot base, cold face, hot face [K]; cold flow, hot flow [L/s].
    case
        A `PlainCase`, or one `CASE` record in compiled code.
    """
    cold, hot = case.cold, case.hot
    cold_K, hot_K, cold_face_K, hot_face_K = x[0], x[1], x[2], x[3]
    cold_m3_s = max(x[4], 1e-3) * 1e-3
    hot_m3_s = max(x[5], 1e-3) * 1e-3

    # Flows: what each fan gives, less what its path takes.
    cold_spare_Pa = _fan(cold_m3_s, cold) - _fins_Pa(cold_m3_s, cold)
    speed_m_s = hot_m3_s / hot.duct_area_m2
    reynolds = hot.density_kg_m3 * speed_m_s * case.duct_m / hot.viscosity_Pa_s
    friction = _churchill(reynolds, case.roughness_m / case.duct_m)
    losses = friction * case.duct_length_m / case.duct_m + case.duct_loss
    path_Pa = _fins_Pa(hot_m3_s, hot) + losses * 0.5 * hot.density_kg_m3 * speed_m_s * speed_m_s
    if case.leak > 0.0:
        path_Pa += (hot_m3_s / case.leak) ** case.leak_power
    hot_spare_Pa = _fan(hot_m3_s, hot) - path_Pa

    # Cold sink: contact mixture, with condensation below the dew point.
    cold_W_K = _fins_W_K(cold_m3_s, cold)
    mass_kg_s = cold_m3_s / cold.volume_m3_kg
    rate_W_K = mass_kg_s * cold.heat_J_kgK
    inlet_K = cold.inlet_K + cold.fan_W / rate_W_K
    bypass = math.exp(-cold_W_K / rate_W_K)
    outlet_K = cold_K + bypass * (inlet_K - cold_K)
    outlet_water = cold.water
    saturated = _saturated(cold_K, case.pressure_Pa)
    if saturated < outlet_water:
        outlet_water = saturated + bypass * (outlet_water - saturated)
    fall_J_kg = (
        1006.0 * (inlet_K - outlet_K)
        + cold.water * (2_501_000.0 + 1860.0 * (inlet_K - 273.15))
        - outlet_water * (2_501_000.0 + 1860.0 * (outlet_K - 273.15))
        - (cold.water - outlet_water) * 4186.0 * (cold_K - 273.15)
    )

    # Hot sink, dry.
    hot_W_K = _fins_W_K(hot_m3_s, hot)
    rate_W_K = hot_m3_s / hot.volume_m3_kg * hot.heat_J_kgK
    inlet_K = hot.inlet_K + hot.fan_W / rate_W_K
    given_W = rate_W_K * (1.0 - math.exp(-hot_W_K / rate_W_K)) * (hot_K - inlet_K)

    # One module, its properties at the mean temperature of its faces.
    mean_K = 0.5 * (cold_face_K + hot_face_K)
    lift_K = hot_face_K - cold_face_K
    seebeck = case.seebeck * (22224.0 + mean_K * (930.6 - 0.9905 * mean_K)) * 1e-9
    ohm = case.resistance * (5112.0 + mean_K * (163.4 + 0.6279 * mean_K)) * 1e-10
    ohm += case.contact_ohm
    leaked_W = case.conductance * (62605.0 + mean_K * (-277.7 + 0.4131 * mean_K)) * 1e-4 * lift_K
    current_A = (case.voltage_V / case.series - seebeck * lift_K) / (ohm + case.lead_ohm)
    joule_W = 0.5 * current_A * current_A * ohm
    into_W = seebeck * current_A * cold_face_K - joule_W - leaked_W
    out_W = seebeck * current_A * hot_face_K + joule_W - leaked_W

    spacer_W = case.spacer_W_K * (hot_K - cold_K)
    count = case.count
    return (
        mass_kg_s * fall_J_kg + spacer_W - count * into_W,
        count * out_W - spacer_W - given_W,
        cold_K - cold_face_K - (cold.joint_K_W + _spreading(cold, count / cold_W_K)) * into_W,
        hot_face_K - hot_K - (hot.joint_K_W + _spreading(hot, count / hot_W_K)) * out_W,
        cold_spare_Pa,
        hot_spare_Pa,
    )


@numba.njit  # type: ignore[untyped-decorator]
def compiled_residual(x: Any, case: Any) -> Any:
    """`residual` compiled; `case` is a `CASE` array of one record."""
    return np.array(residual(x, case[0]))


def start(case: Any) -> list[float]:
    """First guess: what the solver starts from too, and flows at two thirds of the free ones."""
    cold, hot = case.cold, case.hot
    return [
        cold.inlet_K - 3.0,
        hot.inlet_K + 5.0,
        cold.inlet_K - 6.0,
        hot.inlet_K + 8.0,
        667.0 * cold.flows[-1] * cold.speed,
        667.0 * hot.flows[-1] * hot.speed,
    ]


@dataclass(slots=True)
class PlainSide:
    """One side of a `PlainCase`: air at the fan's inlet, sink, fan."""

    inlet_K: float
    water: float
    density_kg_m3: float
    volume_m3_kg: float
    viscosity_Pa_s: float
    conductivity_W_mK: float
    prandtl: float
    heat_J_kgK: float
    channels: float
    gap_m: float
    height_m: float
    length_m: float
    fin_m: float
    metal_W_mK: float
    thick_m: float
    conductance_ratio: float
    pressure_ratio: float
    duct_area_m2: float
    front_m2: float
    contraction_loss: float
    area_share: float
    radius_m: float
    base_radius_m: float
    joint_K_W: float
    speed: float
    fan_W: float
    flows: list[float]
    heads: list[float]


@dataclass(slots=True)
class PlainCase:
    """Parameters of one cooler as plain Python numbers."""

    pressure_Pa: float
    count: float
    series: float
    voltage_V: float
    lead_ohm: float
    seebeck: float
    resistance: float
    conductance: float
    contact_ohm: float
    spacer_W_K: float
    duct_m: float
    duct_length_m: float
    roughness_m: float
    duct_loss: float
    leak: float
    leak_power: float
    cold: PlainSide
    hot: PlainSide


def plain(case: Any) -> PlainCase:
    """One `CASE` record as plain numbers."""
    sides = []
    for record in (case["cold"], case["hot"]):
        numbers = [float(record[name]) for name in _SIDE_NAMES]
        sides.append(PlainSide(*numbers, record["flows"].tolist(), record["heads"].tolist()))
    return PlainCase(*(float(case[name]) for name in _CASE_NAMES), *sides)


def cases_of(
    coolers: Any, places: Any, air_K: NDArray[np.float64], water: NDArray[np.float64]
) -> Any:
    """The parameters of the solver's records in this file's own layout, shape (n,)."""
    cases = np.zeros(len(coolers), dtype=CASE)
    group, duct = coolers["group"][:, 0], coolers["hot_duct"]
    count = group["series"] * group["parallel"]
    from_place = coolers["hot_takes"] == 0
    cases["pressure_Pa"] = coolers["pressure_Pa"]
    cases["count"] = count
    cases["series"] = group["series"]
    cases["voltage_V"] = group["drive_value"]
    cases["lead_ohm"] = group["lead_ohm"] * group["parallel"] / group["series"]
    for name in ("seebeck", "resistance", "conductance"):
        cases[name] = group[name]
    cases["contact_ohm"] = group["resistance_contact_ohm"]
    cases["spacer_W_K"] = coolers["spacer_W_K"]
    cases["duct_m"] = duct["diameter_m"]
    cases["duct_length_m"] = duct["length_m"] * duct["friction_factor_ratio"]
    cases["roughness_m"] = duct["roughness_m"]
    cases["duct_loss"] = duct["loss_coefficient"]
    cases["leak"] = np.where(from_place & (places["enclosed"] == 1), places["leak_m3_s_Pan"], 0.0)
    cases["leak_power"] = 1.0 / places["leak_exponent"]
    cases["hot"]["duct_area_m2"] = np.pi / 4.0 * duct["diameter_m"] ** 2
    hot_K = np.where(from_place, air_K, places["outdoor_K"])
    hot_water = np.where(from_place, water, places["outdoor_humidity_ratio"])
    for name, inlet_K, inlet_water in (("cold", air_K, water), ("hot", hot_K, hot_water)):
        side, fan, sink = cases[name], coolers[f"{name}_fan"], coolers[f"{name}_sink"][:, 0]
        _fill_air(side, inlet_K, inlet_water, coolers["pressure_Pa"])
        _fill_sink(side, sink, group["footprint_m2"], count)
        side["joint_K_W"] = group[f"{name}_interface_K_W"]
        side["speed"] = fan["speed"]
        side["fan_W"] = fan["power_W"] * fan["speed"] ** 3 * side["density_kg_m3"] / 1.2
        side["flows"] = fan["curve_flow_m3_s"][:, :_POINTS]
        side["heads"] = fan["curve_pressure_Pa"][:, :_POINTS]
    return cases


def _fill_air(side: Any, inlet_K: Any, water: Any, pressure_Pa: Any) -> None:
    side["inlet_K"] = inlet_K
    side["water"] = water
    side["density_kg_m3"] = density(inlet_K, water, pressure_Pa)
    side["volume_m3_kg"] = specific_volume(inlet_K, water, pressure_Pa)
    side["viscosity_Pa_s"] = air_viscosity(inlet_K)
    side["conductivity_W_mK"] = air_conductivity(inlet_K)
    side["prandtl"] = air_prandtl(inlet_K)
    side["heat_J_kgK"] = 1006.0 + 1860.0 * water


def _fill_sink(side: Any, sink: Any, footprint_m2: Any, count: Any) -> None:
    for name, field in (
        ("channels", "channels"),
        ("gap_m", "gap_m"),
        ("height_m", "fin_height_m"),
        ("length_m", "length_m"),
        ("fin_m", "fin_thickness_m"),
        ("metal_W_mK", "fin_conductivity_W_mK"),
        ("thick_m", "base_thickness_m"),
        ("conductance_ratio", "conductance_ratio"),
        ("pressure_ratio", "pressure_ratio"),
    ):
        side[name] = sink[field]
    open_m = sink["channels"] * sink["gap_m"]
    free = open_m / (open_m + (sink["channels"] + 1.0) * sink["fin_thickness_m"])
    blocked = 1.0 - free**2
    side["front_m2"] = open_m * sink["fin_height_m"]
    side["contraction_loss"] = 0.42 * blocked + blocked**2
    side["radius_m"] = np.sqrt(footprint_m2 / np.pi)
    side["base_radius_m"] = np.sqrt(sink["base_area_m2"] / count / np.pi)
    side["area_share"] = side["radius_m"] / side["base_radius_m"]


@register_jitable  # type: ignore[untyped-decorator]
def _fan(flow_m3_s: float, side: Any) -> float:
    """Pressure of the fan [Pa]: straight lines between the points, the last one going on."""
    flows, heads, speed = side.flows, side.heads, side.speed
    flow_m3_s /= speed
    i = 1
    while i < 3 and flow_m3_s > flows[i]:
        i += 1
    slope = (heads[i] - heads[i - 1]) / (flows[i] - flows[i - 1])
    head_Pa = heads[i - 1] + slope * (flow_m3_s - flows[i - 1])
    return head_Pa * speed * speed * side.density_kg_m3 / 1.2  # type: ignore[no-any-return]


@register_jitable  # type: ignore[untyped-decorator]
def _fins_Pa(flow_m3_s: float, side: Any) -> float:
    """Pressure drop between plate fins [Pa] (Muzychka and Yovanovich; Culham and Muzychka)."""
    width_m = 2.0 * side.gap_m
    speed_m_s = flow_m3_s / side.front_m2
    reynolds = side.density_kg_m3 * speed_m_s * width_m / side.viscosity_Pa_s
    slender = side.length_m / width_m
    a = side.gap_m / side.height_m
    developed = 24.0 * (
        1.0 - a * (1.3553 - a * (1.9467 - a * (1.7012 - a * (0.9564 - 0.2537 * a))))
    )
    friction = math.sqrt(11.8336 * reynolds / slender + developed * developed) / reynolds
    if reynolds > 2300.0:
        root = 0.79 * math.log((2.0 / 3.0 + 11.0 / 24.0 * a * (2.0 - a)) * reynolds) - 1.64
        turbulent = ((0.25 / (root * root)) ** 8 + friction**8) ** 0.125
        friction += _blend(reynolds) * (turbulent - friction)
    losses = side.contraction_loss + 4.0 * friction * slender
    dynamic_Pa = 0.5 * side.density_kg_m3 * speed_m_s * speed_m_s
    return side.pressure_ratio * losses * dynamic_Pa  # type: ignore[no-any-return]


@register_jitable  # type: ignore[untyped-decorator]
def _fins_W_K(flow_m3_s: float, side: Any) -> float:
    """Conductance of plate fins [W/K]: Stephan, blended into Gnielinski, with fin efficiency."""
    width_m = 2.0 * side.gap_m
    prandtl = side.prandtl
    reynolds = side.density_kg_m3 * flow_m3_s / side.front_m2 * width_m / side.viscosity_Pa_s
    slender = side.length_m / width_m
    entrance = reynolds * prandtl / slender
    nusselt = 7.55 + 0.024 * entrance**1.14 / (1.0 + 0.0358 * entrance**0.64 * prandtl**0.17)
    if reynolds > 2300.0:
        root = 0.79 * math.log(reynolds) - 1.64
        eighth = 0.125 / (root * root)
        turbulent = eighth * (reynolds - 1000.0) * prandtl
        turbulent /= 1.0 + 12.7 * math.sqrt(eighth) * (prandtl ** (2.0 / 3.0) - 1.0)
        turbulent *= 1.0 + max(slender, 1.0) ** (-2.0 / 3.0)
        turbulent = (turbulent**8 + nusselt**8) ** 0.125
        nusselt += _blend(reynolds) * (turbulent - nusselt)
    film_W_m2K = nusselt * side.conductivity_W_mK / width_m
    m_height = side.height_m * math.sqrt(2.0 * film_W_m2K / (side.metal_W_mK * side.fin_m))
    efficiency = math.tanh(m_height) / m_height
    area_m2 = side.channels * (2.0 * side.height_m * efficiency + side.gap_m) * side.length_m
    rate_W_K = flow_m3_s * side.density_kg_m3 * side.heat_J_kgK
    excess = film_W_m2K * area_m2 / (40.0 * rate_W_K)
    eased = film_W_m2K * area_m2 / (1.0 + excess**4) ** 0.25
    return side.conductance_ratio * eased  # type: ignore[no-any-return]


@register_jitable  # type: ignore[untyped-decorator]
def _blend(reynolds: float) -> float:
    s = min((reynolds - 2300.0) / 1700.0, 1.0)
    return s * s * (3.0 - 2.0 * s)


@register_jitable  # type: ignore[untyped-decorator]
def _spreading(side: Any, sink_K_W: float) -> float:
    """Spreading resistance of one module's share of the base [K/W] (Lee)."""
    if side.area_share >= 1.0:
        return 0.0
    eigenvalue = math.pi + 1.0 / (math.sqrt(math.pi) * side.area_share)
    depth = math.tanh(eigenvalue * side.thick_m / side.base_radius_m)
    cooling = eigenvalue * math.pi * side.metal_W_mK * side.base_radius_m * sink_K_W
    shape = (depth + cooling) / (1.0 + cooling * depth)
    narrow = (1.0 - side.area_share) ** 1.5
    metal = 2.0 * math.sqrt(math.pi) * side.metal_W_mK * side.radius_m
    return narrow * shape / metal  # type: ignore[no-any-return]


@register_jitable  # type: ignore[untyped-decorator]
def _churchill(reynolds: float, roughness: float) -> float:
    """Friction factor of a round duct for all flows (Churchill)."""
    if reynolds < 10.0:
        return 64.0 / reynolds
    a = (2.457 * math.log((7.0 / reynolds) ** 0.9 + 0.27 * roughness)) ** 16
    b = (37530.0 / reynolds) ** 16
    power = (8.0 / reynolds) ** 12 + 1.0 / (a + b) ** 1.5
    return 8.0 * power ** (1.0 / 12.0)  # type: ignore[no-any-return]


@register_jitable  # type: ignore[untyped-decorator]
def _saturated(temperature_K: float, pressure_Pa: float) -> float:
    """Water that saturated air holds [kg/kg] (Hyland and Wexler)."""
    t = temperature_K
    if t < 273.16:
        series = -9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13))
        power = -5674.5359 / t + 6.3925247 + t * series + 4.1635019 * math.log(t)
    else:
        series = -4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8)
        power = -5800.2206 / t + 1.3914993 + t * series + 6.5459673 * math.log(t)
    vapour_Pa = math.exp(power)
    return 0.621945 * vapour_Pa / (pressure_Pa - vapour_Pa)
