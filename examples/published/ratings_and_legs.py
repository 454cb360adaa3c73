"""From ratings, or from legs of bismuth telluride, to a module's three constants."""

from __future__ import annotations

import numpy as np
from comparison import FORMULA, Case, Row, finish

from coldwright.machine.ratings import from_ratings
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_conductivity,
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
    module_conductance_legs,
    module_resistance_legs,
    module_seebeck_legs,
    seebeck_standard_nist,
)
from coldwright.physics.interface import slab_resistance
from coldwright.physics.module_limits import figure_of_merit, largest_pumping
from coldwright.physics.module_ratings import (
    conductance_from_ratings,
    heat_from_ratings,
    resistance_from_ratings,
    seebeck_from_ratings,
)
from coldwright.physics.thermoelectric import cold_side_heat, module_power, module_voltage

# 127 couples, legs of 1.4 x 1.4 mm, 1.6 mm long.
COUPLES, LENGTH_M, AREA_M2 = 127.0, 1.6e-3, 1.96e-6


def ratings() -> Case:
    """Three ratings give three constants; the fourth rating is then no longer free."""
    hot_K, lift_K, current_A, voltage_V = 300.0, 68.0, 6.0, 15.4
    module = (
        seebeck_from_ratings(hot_K, voltage_V),
        resistance_from_ratings(hot_K, lift_K, current_A, voltage_V),
        conductance_from_ratings(hot_K, lift_K, current_A, voltage_V),
    )
    # What the solver uses, at the mean temperature at which the ratings hold.
    mean_K = hot_K - lift_K / 2.0
    used = from_ratings(hot_K, current_A, voltage_V, lift_K)
    state = (current_A, hot_K - lift_K, hot_K)
    heat_W = heat_from_ratings(hot_K, lift_K, current_A, voltage_V)
    return Case(
        "Ratings of a module (6 A, 15.4 V, 68 K at 300 K) to its constants",
        "A simple method to estimate the physical characteristics of a thermoelectric cooler from "
        "vendor datasheets, Electronics Cooling, August 2008 (formulas from memory)",
        FORMULA,
        (
            Row("Seebeck coefficient [V/K]", 0.0513333, module[0], 1e-4),
            Row("resistance [ohm]", 1.984889, module[1], 1e-4),
            Row("conductance [W/K]", 0.525412, module[2], 1e-4),
            Row("figure of merit [1/K]", 2.52675e-3, figure_of_merit(*module), 1e-4),
            Row(
                "Seebeck coefficient in the solver [V/K]",
                0.0513333,
                used.seebeck * bismuth_telluride_seebeck(mean_K),
                1e-4,
            ),
            Row(
                "resistance in the solver [ohm]",
                1.984889,
                used.resistance * bismuth_telluride_resistivity(mean_K),
                1e-4,
            ),
            Row(
                "conductance in the solver [W/K]",
                0.525412,
                used.conductance * bismuth_telluride_conductivity(mean_K),
                1e-4,
            ),
            Row("heat at the rated lift [W]", 0.0, cold_side_heat(*state, *module), 1e-9, True),
            Row("voltage at the rated lift [V]", 15.400, module_voltage(*state, *module[:2]), 1e-4),
            Row("heat at 6 A without lift [W]", 56.67, heat_W, 1e-4),
            Row(
                "most heat without lift, at 7.76 A [W]",
                59.74,
                largest_pumping(hot_K, hot_K, *module),
                1e-4,
            ),
        ),
    )


def material() -> Case:
    """Properties of bismuth telluride over temperature."""
    table = [
        (250.0, 192.968, 0.85206, 1.89988, 2.3003),
        (273.15, 202.515, 0.96593, 1.75730, 2.4162),
        (300.0, 212.259, 1.10643, 1.64740, 2.4718),
        (325.0, 220.047, 1.24539, 1.59862, 2.4321),
        (350.0, 226.598, 1.39220, 1.60148, 2.3030),
    ]
    rows = []
    for at_K, seebeck_uV_K, resistivity, conductivity, merit in table:
        leg = (
            bismuth_telluride_seebeck(at_K),
            bismuth_telluride_resistivity(at_K),
            bismuth_telluride_conductivity(at_K),
        )
        at = f"at {at_K:g} K: "
        rows += [
            Row(at + "Seebeck [uV/K]", seebeck_uV_K, leg[0] * 1e6, 5e-4),
            Row(at + "resistivity [1e-5 ohm m]", resistivity, leg[1] * 1e5, 5e-4),
            Row(at + "conductivity [W/m/K]", conductivity, leg[2], 5e-4),
            Row(at + "figure of merit [1e-3/K]", merit, figure_of_merit(*leg) * 1e3, 5e-4),
        ]
    return Case(
        "Bismuth telluride between 250 and 350 K",
        "Xuan et al., Cryogenics 42 (2002) 273-278; polynomials as quoted in "
        "github.com/gqguan/TEC, TE_MaterialProp.m",
        FORMULA,
        tuple(rows),
    )


def legs() -> Case:
    """A module from its legs, and how good properties at the mean temperature are."""
    rows = [
        Row("Seebeck at 300 K [V/K]", 0.053914, module_seebeck_legs(COUPLES, 300.0), 5e-4),
        Row("resistance at 300 K [ohm]", 2.29416, _resistance(0.0, 300.0), 5e-4),
        Row(
            "conductance at 300 K [W/K]",
            0.512573,
            module_conductance_legs(COUPLES, LENGTH_M, AREA_M2, 300.0),
            5e-4,
        ),
        Row(
            "what contacts of 1e-10 ohm m2 add [ohm]",
            0.02592,
            _resistance(1e-10, 300.0) - _resistance(0.0, 300.0),
            5e-4,
        ),
        Row("0.7 mm of alumina [K/W]", 0.01823, slab_resistance(0.7e-3, 24.0, 1.6e-3), 5e-4),
        Row("50 um of paste [K/W]", 0.01042, slab_resistance(50e-6, 3.0, 1.6e-3), 5e-4),
    ]
    whole = [
        (2.0, 285.0, 305.0, 15.656, 11.093, 15.764, 11.149),
        (4.0, 280.0, 320.0, 21.527, 45.333, 22.168, 46.306),
    ]
    for current_A, cold_K, hot_K, mean_W, mean_power_W, full_W, full_power_W in whole:
        mean_K = 0.5 * (cold_K + hot_K)
        module = (
            module_seebeck_legs(COUPLES, mean_K),
            _resistance(0.0, mean_K),
            module_conductance_legs(COUPLES, LENGTH_M, AREA_M2, mean_K),
        )
        heat_W = cold_side_heat(current_A, cold_K, hot_K, *module)
        power_W = module_power(current_A, cold_K, hot_K, *module[:2])
        at = f"{current_A:.0f} A, {cold_K:.0f} to {hot_K:.0f} K: "
        rows += [
            Row(at + "heat, mean properties [W]", mean_W, heat_W, 1e-3),
            Row(at + "power, mean properties [W]", mean_power_W, power_W, 1e-3),
            Row(at + "heat, legs along their length [W]", full_W, heat_W, 0.04),
            Row(at + "power, legs along their length [W]", full_power_W, power_W, 0.04),
        ]
    return Case(
        "A module of 127 couples from its legs",
        "polynomials of Xuan et al. 2002; along the legs: heat equation with Thomson heat, solved "
        "as a boundary value problem",
        FORMULA,
        tuple(rows),
        note="the properties at the mean temperature cost 1 % of the heat at 20 K, 3 % at 40 K",
    )


def standard() -> Case:
    """The reference material for Seebeck coefficients."""
    table = [
        (250.0, -212.740),
        (275.0, -224.092),
        (295.0, -230.030),
        (300.0, -231.032),
        (325.0, -232.872),
        (350.0, -228.938),
        (390.0, -208.970),
    ]
    at_K, _ = np.array(table).T
    found = seebeck_standard_nist(at_K) * 1e6
    leg = bismuth_telluride_seebeck(300.0) * 1e6
    rows = [
        Row(f"at {at:g} K [uV/K]", listed, value, 1e-4)
        for (at, listed), value in zip(table, found, strict=True)
    ]
    rows.append(Row("size of the program's own leg at 300 K [uV/K]", (200.0, 235.0), leg))
    return Case(
        "A bismuth telluride standard",
        "NIST SRM 3451, polynomial of the certificate as quoted in open laboratory code",
        FORMULA,
        tuple(rows),
    )


def _resistance(contact_ohm_m2: float, mean_K: float) -> float:
    return module_resistance_legs(COUPLES, LENGTH_M, AREA_M2, contact_ohm_m2, mean_K)


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [ratings(), material(), legs(), standard()]


if __name__ == "__main__":
    finish(cases())
