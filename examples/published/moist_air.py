"""Moist air over a cold coil, and over a small cold sink of which the surface is known."""

from __future__ import annotations

import numpy as np
from comparison import FORMULA, WORKED, Case, Row, finish
from CoolProp.HumidAirProp import HAPropsSI
from scipy.optimize import brentq
from solved import Solved, solve

from coldwright.physics.air_state import (
    enthalpy,
    humidity_ratio_from_relative,
    humidity_ratio_saturated,
)
from coldwright.physics.air_volume import specific_volume

PRESSURE_PA = 101325.0


def cooling_coil() -> Case:
    """120 m3/min of warm moist air cooled to saturation at 20 degC."""
    inlet_K, outlet_K = 308.15, 293.15
    pressure_Pa = 101320.0
    inlet_water = humidity_ratio_from_relative(inlet_K, 0.50, pressure_Pa)
    outlet_water = humidity_ratio_saturated(outlet_K, pressure_Pa)
    inlet_J_kg, outlet_J_kg = enthalpy(inlet_K, inlet_water), enthalpy(outlet_K, outlet_water)
    dry_kg_s = 120.0 / 60.0 / specific_volume(inlet_K, inlet_water, pressure_Pa)
    capacity_W = dry_kg_s * (inlet_J_kg - outlet_J_kg)
    water_kg_h = dry_kg_s * (inlet_water - outlet_water) * 3600.0
    sensible_W = dry_kg_s * (1006.0 + 1860.0 * inlet_water) * (inlet_K - outlet_K)
    return Case(
        "A cooling coil: 35 degC and 50 %, 120 m3/min, to saturated air of 20 degC",
        "R. K. Rajput, Engineering Thermodynamics, Example 10.8 (book inferred; inputs and "
        "arithmetic as in an open textbook companion); second column of rows: CoolProp",
        WORKED,
        (
            Row("water in, book [kg/kg]", 0.017775, inlet_water, 0.02),
            Row("water out, book [kg/kg]", 0.014705, outlet_water, 0.02),
            Row("enthalpy in, book [kJ/kg]", 81.17, inlet_J_kg / 1e3, 0.02),
            Row("enthalpy out, book [kJ/kg]", 57.42, outlet_J_kg / 1e3, 0.02),
            Row("dry air, book [kg/min]", 133.72, dry_kg_s * 60.0, 0.02),
            Row("capacity, book, 13.61 tons of 14000 kJ/h [kW]", 52.94, capacity_W / 1e3, 0.02),
            Row("water removed, book [kg/h]", 24.63, water_kg_h, 0.02),
            Row("capacity, CoolProp [kW]", 52.22, capacity_W / 1e3, 5e-3),
            Row("water removed, CoolProp [kg/h]", 24.80, water_kg_h, 0.01),
            Row("sensible part, CoolProp [kW]", 34.7, sensible_W / 1e3, 0.01),
        ),
        note="the book adds superheat to an enthalpy already taken at 35 degC: +1.4 % of capacity",
    )


# One module on one sink. The sink's dry number stands for 8 W/K between surface and air at this
# flow: R = 1/(m cp (1 - exp(-8/(m cp)))).
SHEET = """
[place]
kind = "open_air"
air = "30 degC"
humidity = "60 percent"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "60 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = {{ pumped = "100 W" }}
[cooler.modules]
properties = {{ seebeck = "0.05 V/K", resistance = "2 ohm", conductance = "0.5 W/K" }}
series = 40
cold_interface = "0.02 K/W"
hot_interface = "0.02 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "{resistance:.9f} K/W"
[cooler.cold_fan]
flow = "40 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.01 K/W"
[cooler.hot_fan]
flow = "1000 m^3/h"
"""

# Surface [degC]: outlet [degC], its water [kg/kg], total and sensible [W], condensate [g/h].
WET = {
    25.0: (27.71, 0.01612, 29.9, 29.9, 0.0),
    15.0: (23.13, 0.01363, 169.4, 89.7, 112.7),
    10.0: (20.84, 0.01225, 243.6, 119.7, 175.8),
}


def wet_sink_sheet() -> str:
    """The small wet sink as a design sheet, its air's flow of heat by CoolProp."""
    state = ("T", 303.15, "P", PRESSURE_PA, "R", 0.60)
    water = HAPropsSI("W", *state)
    rate_W_K = 40.0 / 3600.0 / HAPropsSI("Vda", *state) * (1006.0 + 1860.0 * water)
    return SHEET.format(resistance=1.0 / (rate_W_K * -np.expm1(-8.0 / rate_W_K)))


def at_surface(surface_C: float) -> Solved:
    """The cooler run so that its cold surface has this temperature."""
    text = wet_sink_sheet()

    def run(pumped_W: float) -> Solved:
        return solve(text, {"cooler.run_at": {"pumped": f"{pumped_W:.9f} W"}})

    def miss(pumped_W: float) -> float:
        return run(pumped_W).celsius("cold_surface_K") - surface_C

    return run(brentq(miss, 20.0, 260.0, xtol=1e-6))


def wet_sink() -> Case:
    """A small sink of which the surface is above, or below, the dew point."""
    rows = []
    for surface_C, (outlet_C, water, total_W, sensible_W, condensate_g_h) in WET.items():
        found = at_surface(surface_C)
        states = found.states
        mass = float(states["cold_kg_s"])
        inlet_water = float(states["cold_in_water"][0])
        taken_W = found.line("cold sink, air", "fall of the air's enthalpy")
        felt_W = (
            mass
            * (1006.0 + 1860.0 * inlet_water)
            * (float(states["cold_in_K"][0] - states["cold_outlet_K"]))
        )
        at = f"surface at {surface_C:.0f} degC: "
        rows += [
            Row(at + "as run [degC]", surface_C, found.celsius("cold_surface_K"), 1e-4, True),
            # 1.5 % of the fall of temperature, not of the temperature. Water: real gases hold 0.5 %
            # more vapour at saturation than the ideal ones of the program, on both ends alike.
            Row(at + "outlet [degC]", outlet_C, found.celsius("cold_outlet_K"),
                0.015 * (30.0 - outlet_C), True),
            Row(at + "its water [kg/kg]", water,
                float(states["cold_outlet_humidity_ratio"]), 0.015),
            Row(at + "total [W]", total_W, taken_W, 0.015),
            Row(at + "sensible [W]", sensible_W, felt_W, 0.015),
            Row(at + "condensate [g/h]", condensate_g_h, float(states["condensate_kg_s"]) * 3.6e6,
                max(0.015 * condensate_g_h, 1e-6), True),
        ]  # fmt: skip
    return Case(
        "A small cold sink in air of 30 degC and 60 % (dew point 21.4 degC), 40 m3/h, 8 W/K",
        "enthalpy and bypass form of the wet coil (ASHRAE Handbook, Lewis number 1), with "
        "properties by CoolProp; solved here from a design sheet",
        FORMULA,
        tuple(rows),
        note="water that condenses doubles what the modules must move at a plate of 10 degC",
    )


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [cooling_coil(), wet_sink()]


if __name__ == "__main__":
    finish(cases())
