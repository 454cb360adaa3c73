"""One module between two given faces: worked refrigerators, handbook forms, measured limits."""

from __future__ import annotations

import numpy as np
from comparison import FORMULA, MEASURED, WORKED, Case, Row, finish

from coldwright.physics.module_limits import (
    best_cop,
    cascade_cop,
    coldest_face,
    cop_largest_pumping,
    current_best_cop,
    current_largest_lift,
    figure_of_merit,
    largest_lift,
    largest_pumping,
)
from coldwright.physics.ripple import (
    pumping_factor_best_current,
    pumping_factor_kept_current,
    ripple_ratio_sine,
)
from coldwright.physics.thermoelectric import (
    cold_side_heat,
    hot_side_heat,
    module_cop,
    module_power,
    module_voltage,
)

# Seebeck coefficient [V/K], resistance [ohm], conductance [W/K] of a module of common size.
MODULE = (15.4 / 300.0, 15.4 * 232.0 / (6.0 * 300.0), 15.4 * 6.0 * 232.0 / (2.0 * 300.0 * 68.0))


def refrigerator_couple() -> Case:
    """A couple of two legs, cut so that it takes up 0.1 W at its best COP."""
    cold_K, hot_K = 258.15, 313.15
    seebeck_V_K = 0.0006
    # With the legs in their best proportion the product of conductance and resistance is fixed.
    product_V2_K = (np.sqrt(1.5 * 0.002e-2) + np.sqrt(1.0 * 0.003e-2)) ** 2
    # Heat at the best COP goes with 1/R: from a couple of 1 ohm to the one that takes up 0.1 W.
    one_A = current_best_cop(cold_K, hot_K, seebeck_V_K, 1.0, product_V2_K)
    one_W = cold_side_heat(one_A, cold_K, hot_K, seebeck_V_K, 1.0, product_V2_K)
    resistance_ohm = one_W / 0.1
    couple = (seebeck_V_K, resistance_ohm, product_V2_K / resistance_ohm)
    current_A = current_best_cop(cold_K, hot_K, *couple)
    power_W = module_power(current_A, cold_K, hot_K, *couple[:2])
    hundred = tuple(100.0 * value for value in couple)
    lowest_K = coldest_face(hot_K, *couple)
    return Case(
        "One couple chosen for the best COP; a refrigerator for 10 W",
        "A. V. da Rosa, Fundamentals of Renewable Energy Processes, thermoelectricity, "
        "design of a refrigerator; answers as solved in an open course notebook",
        WORKED,
        (
            Row("conductance times resistance [V2/K]", 1.2e-4, product_V2_K, 1e-3),
            Row("figure of merit [1/K]", 3.0e-3, figure_of_merit(*couple), 1e-3),
            Row("resistance [ohm]", 0.0335349, resistance_ohm, 1e-3),
            Row("conductance [W/K]", 0.00357836, couple[2], 1e-3),
            Row("current [A]", 2.71312, current_A, 1e-3),
            Row("power [W]", 0.336385, power_W, 1e-3),
            Row("COP", 0.297278, module_cop(current_A, cold_K, hot_K, *couple), 1e-3),
            Row("best COP, closed form", 0.297278, best_cop(cold_K, hot_K, *couple), 1e-3),
            Row(
                "voltage of 100 couples [V]",
                12.398,
                module_voltage(current_A, cold_K, hot_K, *hundred[:2]),
                1e-3,
            ),
            Row(
                "their power [W]",
                33.638,
                module_power(current_A, cold_K, hot_K, *hundred[:2]),
                1e-3,
            ),
            Row(
                "their heat into the room [W]",
                43.638,
                hot_side_heat(current_A, cold_K, hot_K, *hundred),
                1e-3,
            ),
            Row("coldest cold junction [degC]", -40.91, lowest_K - 273.15, 0.01, absolute=True),
        ),
        note="the last four were worked out apart from this program; the rest is printed there",
    )


def cup_cooler() -> Case:
    """Power of a cup cooler whose COP is 0.1, at a current of a module that has this COP."""
    heat_W = 0.350 * 4180.0 * (20.0 - 4.0) / (30.0 * 60.0)
    faces = (280.0, 320.0)
    currents_A = np.linspace(0.5, 12.0, 40001)
    cops = module_cop(currents_A, *faces, *MODULE)
    beyond = currents_A > currents_A[np.nanargmax(cops)]
    current_A = currents_A[beyond][np.nanargmin(np.abs(cops[beyond] - 0.1))]
    # Heat and power grow alike with the number of couples; their ratio does not.
    share = heat_W / cold_side_heat(current_A, *faces, *MODULE)
    power_W = share * module_power(current_A, *faces, *MODULE[:2])
    return Case(
        "A cup cooler: 0.35 L of water from 20 to 4 degC in 30 minutes at a COP of 0.1",
        "Cengel and Boles, Thermodynamics, Example 11-6 (the book is inferred)",
        WORKED,
        (Row("average electrical power [W]", 130.0, power_W, 0.01),),
    )


def handbook_forms() -> Case:
    """Operating points of one module, and the closed forms of its best points."""
    faces = (290.0, 310.0)
    points = [
        (1.0, 3.386, 3.012, 6.398, 3.012, 1.124),
        (2.0, 15.295, 9.993, 25.288, 4.996, 1.531),
        (3.0, 25.220, 20.944, 46.164, 6.981, 1.204),
        (4.0, 33.159, 35.865, 69.024, 8.966, 0.925),
        (5.0, 39.114, 54.756, 93.870, 10.951, 0.714),
        (6.0, 43.084, 77.616, 120.700, 12.936, 0.555),
    ]
    rows = []
    for current_A, cold_W, power_W, hot_W, voltage_V, cop in points:
        at = f"at {current_A:.0f} A: "
        heat_W = cold_side_heat(current_A, *faces, *MODULE)
        rows += [
            Row(at + "heat in [W]", cold_W, heat_W, 5e-4),
            Row(at + "power [W]", power_W, module_power(current_A, *faces, *MODULE[:2]), 5e-4),
            Row(at + "heat out [W]", hot_W, hot_side_heat(current_A, *faces, *MODULE), 5e-4),
            Row(
                at + "voltage [V]", voltage_V, module_voltage(current_A, *faces, *MODULE[:2]), 5e-4
            ),
            # Printed to three decimals: half of the last one is up to 0.09 %.
            Row(at + "COP", cop, module_cop(current_A, *faces, *MODULE), 6e-4, absolute=True),
        ]
    best_A = current_best_cop(*faces, *MODULE)
    most_A = current_largest_lift(faces[0], *MODULE[:2])
    rows += [
        Row("current of the best COP [A]", 1.58709, best_A, 5e-4),
        Row("best COP", 1.60180, best_cop(*faces, *MODULE), 5e-4),
        Row("COP at that current", 1.60180, module_cop(best_A, *faces, *MODULE), 5e-4),
        Row("heat at that current [W]", 10.618, cold_side_heat(best_A, *faces, *MODULE), 5e-4),
        Row("largest lift over 290 K [K]", 106.25, largest_lift(faces[0], *MODULE), 5e-4),
        Row("COP at most heat", 0.379696, cop_largest_pumping(*faces, *MODULE), 5e-4),
        Row("the same from the heats", 0.379696, module_cop(most_A, *faces, *MODULE), 5e-4),
        Row(
            "most heat, closed form over heats",
            1.0,
            largest_pumping(*faces, *MODULE) / cold_side_heat(most_A, *faces, *MODULE),
            1e-9,
        ),
    ]
    return Case(
        "Closed forms for a module between 290 and 310 K",
        "Mechanical Engineers' Handbook, vol. 4, Cooling electronic equipment, pp. 411-412, "
        "eqs 111-123",
        FORMULA,
        tuple(rows),
    )


def ripple() -> Case:
    """Two statements on ripple that look contradictory and are both right."""
    full_wave = np.sqrt(np.pi**2 / 8.0 - 1.0)
    return Case(
        "What ripple of the supply costs of the largest lift",
        "technical notes of two makers of modules: dTmax/(1+N^2); 48 % (full-wave rectifier) "
        "costs up to 23 %; 10 % costs less than 1 %",
        FORMULA,
        (
            Row("10 %, current turned down", 0.99010, pumping_factor_best_current(0.1), 1e-3),
            Row("10 %, mean current kept", 0.99000, pumping_factor_kept_current(0.1), 1e-3),
            Row("full wave, turned down", 0.8106, pumping_factor_best_current(full_wave), 1e-3),
            Row("full wave, kept", 0.7663, pumping_factor_kept_current(full_wave), 1e-3),
            Row("full wave, kept: loss", 0.23, 1.0 - pumping_factor_kept_current(0.48), 0.02),
            Row(
                "48 % amplitude of a sine",
                0.8967,
                pumping_factor_best_current(ripple_ratio_sine(0.48)),
                1e-3,
            ),
        ),
        note="ripple here is the effective value of the alternating part over the mean",
    )


def cascade() -> Case:
    """Two stages: an identity, and a stage that hands on what it took up and used."""
    # The measured first stage takes up 1.93 W with 1.74 W. Whatever the second stage's COP, its
    # power times that COP is the heat that the first stage passes on.
    heat_W, power_W = 1.93, 1.74
    second_cop = 1.8
    both_W = heat_W / cascade_cop(heat_W / power_W, second_cop)
    passed_W = (both_W - power_W) * second_cop
    return Case(
        "Two stages on each other",
        "identity of two heat balances; open laboratory journal, "
        "github.com/DmitryMyadzelets/epicx, week 29",
        FORMULA,
        (
            Row("COP of two stages of COP 1", 1.0 / 3.0, cascade_cop(1.0, 1.0), 1e-3),
            Row("passed to the second stage [W]", 3.67, passed_W, 1e-3),
        ),
    )


def coldest_element() -> Case:
    """The measured steady limit of two elements, from their figure of merit alone."""
    # Only Z is known; any S, R, K with that Z give the same lowest temperature.
    element = (2.69e-3**0.5, 1.0, 1.0)
    lowest_C = coldest_face(300.15, *element) - 273.15
    return Case(
        "Two elements with the hot junction at 27 degC and no load",
        "Field and Blum 1979 (abstract): Z = 2.69e-3 1/K, about -40 degC at the best current",
        MEASURED,
        (
            Row("lowest temperature [degC]", (-46.0, -38.0), lowest_C),
            Row("the same by hand [degC]", -43.8, lowest_C, 0.1, absolute=True),
        ),
        note="the -65 degC that a pulse reached for a moment is no steady state and not promised",
    )


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [
        refrigerator_couple(),
        cup_cooler(),
        handbook_forms(),
        ripple(),
        cascade(),
        coldest_element(),
    ]


if __name__ == "__main__":
    finish(cases())
