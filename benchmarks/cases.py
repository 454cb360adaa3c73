"""Random wet coolers, as the solver's records: what the benchmarks are run on.

Every case is a whole machine: modules with temperature-dependent bismuth telluride between two
plate-fin sinks, a fan with a curve on either side, spreading in the base plates, wires, a spacer,
a hot duct, and half of the time a place whose gaps the exhaust has to draw its air through. The
air is damp enough for the cold sink to be wet in about half of the cases.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from coldwright.machine.records import (
    COOLER,
    PLACE,
    Drive,
    End,
    Properties,
    SinkKind,
)
from coldwright.physics.moist_air import humidity_ratio_from_relative

# Points of every fan curve: shares of the free flow and of the pressure without flow.
CURVE_FLOW = (0.0, 0.35, 0.7, 1.0)
CURVE_PRESSURE = (1.0, 0.8, 0.5, 0.0)


def random_cases(
    count: int, random: Generator, *, fans_behind_sinks: bool = False
) -> tuple[Any, Any, NDArray[np.float64], NDArray[np.float64]]:
    """Records of coolers and places, and the air [K], [kg/kg] that the cold side takes in.

    Returns
    -------
    coolers, places, air_K, humidity_ratio
        Each of shape (count,).
    """
    coolers = np.zeros(count, dtype=COOLER)
    places = np.zeros(count, dtype=PLACE)

    def between(low: float, high: float) -> NDArray[np.float64]:
        return random.uniform(low, high, count)

    pressure_Pa = between(85_000.0, 103_000.0)
    air_K = between(288.0, 313.0)
    water = humidity_ratio_from_relative(air_K, between(0.25, 0.95), pressure_Pa)
    outdoor_K = between(288.0, 315.0)
    places["pressure_Pa"] = pressure_Pa
    places["air_K"] = air_K
    places["humidity_ratio"] = water
    places["outdoor_K"] = outdoor_K
    places["outdoor_humidity_ratio"] = humidity_ratio_from_relative(
        outdoor_K, between(0.2, 0.9), pressure_Pa
    )
    places["leak_exponent"] = 0.65
    leaky = random.random(count) < 0.5
    # Air that an exhaust takes must come in: the others stand in the open.
    places["enclosed"] = leaky
    places["leak_m3_s_Pan"] = np.where(leaky, between(0.01, 0.08), 0.0)
    places["natural_m3_s"] = between(0.0, 0.01)
    places["volume_m3"] = 7.0

    coolers["pressure_Pa"] = pressure_Pa
    coolers["groups"] = coolers["cold_sinks"] = coolers["hot_sinks"] = 1
    coolers["hot_takes"] = np.where(random.random(count) < 0.5, End.PLACE, End.OUTDOORS)
    coolers["hot_sends"] = End.OUTDOORS
    coolers["spacer_W_K"] = between(0.05, 0.4)
    coolers["power"]["lead_at"] = End.OUTDOORS
    _fill_modules(coolers["group"][:, 0], random, between)
    for side, height_m in (("cold", 0.030), ("hot", 0.045)):
        _fill_sink(coolers[f"{side}_sink"][:, 0], height_m, between)
    for side, flow_m3_s, head_Pa in (("cold", 0.07, 70.0), ("hot", 0.12, 160.0)):
        fan = coolers[f"{side}_fan"]
        fan["points"] = len(CURVE_FLOW)
        fan["speed"] = between(0.4, 1.0)
        fan["power_W"] = between(5.0, 35.0)
        fan["after_sink"] = 1 if fans_behind_sinks else 0
        free_m3_s, most_Pa = flow_m3_s * between(0.6, 1.4), head_Pa * between(0.6, 1.4)
        for i, (flow, pressure) in enumerate(zip(CURVE_FLOW, CURVE_PRESSURE, strict=True)):
            fan["curve_flow_m3_s"][:, i] = flow * free_m3_s
            fan["curve_pressure_Pa"][:, i] = pressure * most_Pa
    coolers["cold_duct"]["surface_K"] = np.nan
    duct = coolers["hot_duct"]
    duct["surface_K"] = np.nan
    duct["diameter_m"] = between(0.10, 0.16)
    duct["length_m"] = between(0.5, 4.0)
    duct["roughness_m"] = between(1e-4, 3e-3)
    duct["loss_coefficient"] = between(1.0, 6.0)
    duct["friction_factor_ratio"] = 1.0
    duct["outer_W_m2K"] = between(5.0, 12.0)
    duct["insulation_m2K_W"] = between(0.0, 0.5)
    duct["in_place"] = 1
    return coolers, places, air_K, water


def _fill_modules(group: Any, random: Generator, between: Any) -> None:
    """Typical modules: 127 couples, legs of 1.0 to 1.4 mm area over length."""
    count = len(group)
    couples = 127.0
    leg_m = between(1.0e-3, 1.4e-3)  # cross-section over length of one leg
    group["series"] = random.integers(1, 5, count)
    group["parallel"] = random.integers(1, 4, count)
    group["drive"] = Drive.VOLTAGE
    group["drive_value"] = between(2.0, 13.0) * group["series"]
    group["lead_ohm"] = between(0.0, 0.05)
    group["properties"] = Properties.BISMUTH_TELLURIDE
    group["seebeck"] = 2.0 * couples
    group["resistance"] = 2.0 * couples / leg_m
    group["conductance"] = 2.0 * couples * leg_m
    group["resistance_contact_ohm"] = between(0.0, 0.1)
    group["stages"] = 1
    group["second_voltage_V"] = np.nan
    group["cold_interface_K_W"] = between(0.01, 0.08)
    group["hot_interface_K_W"] = between(0.01, 0.08)
    group["footprint_m2"] = 0.04 * 0.04


def _fill_sink(sink: Any, height_m: float, between: Any) -> None:
    sink["kind"] = SinkKind.PLATE_FIN
    sink["correlation"] = 0  # Stephan's
    along, across = between(0.2, 0.35), between(0.12, 0.20)
    sink["gap_m"] = between(2e-3, 4e-3)
    sink["fin_thickness_m"] = between(0.5e-3, 1.5e-3)
    sink["channels"] = np.floor(across / (sink["gap_m"] + sink["fin_thickness_m"]))
    sink["fin_height_m"] = height_m * between(0.7, 1.3)
    sink["length_m"] = along
    sink["fin_conductivity_W_mK"] = between(150.0, 220.0)
    sink["base_area_m2"] = along * across
    sink["base_thickness_m"] = between(5e-3, 12e-3)
    sink["base_conductivity_W_mK"] = sink["fin_conductivity_W_mK"]
    sink["conductance_ratio"] = between(0.85, 1.15)
    sink["pressure_ratio"] = between(0.85, 1.15)
