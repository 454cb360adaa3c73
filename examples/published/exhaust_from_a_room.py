"""A cooler that blows a room's air outdoors: what the replacement air and the duct cost."""

from __future__ import annotations

import math

from comparison import FORMULA, Case, Row, finish
from solved import Solved, solve

from coldwright.physics.infiltration import infiltration_latent, infiltration_sensible

# The machine is invented, and its hot sink chosen: with it the exhaust leaves at the 40 degC that
# the case states while the modules pump the 200 W of the case. Its fan pulls: what it draws in
# 1.7 K colder is 150 m3/h where it leaves.
SHEET = """
[place]
kind = "room"
length = "4 m"
width = "3 m"
height = "2.5 m"
start_air = "26 degC"
start_humidity = "50 percent"
air_leakage = { area = "30 cm^2" }  # a way in for what the exhaust takes; still air
heat_loss = "50 W/K"
[climate]
kind = "steady"
outdoor_air = "33 degC"
outdoor_humidity = "40 percent"
[cooler]
hot_takes_from = "place"
hot_sends_to = "outdoors"
run_at = { pumped = "200 W" }
[cooler.modules]
properties = { seebeck = "0.05 V/K", resistance = "2 ohm", conductance = "0.5 W/K" }
series = 6
cold_interface = "0.02 K/W"
hot_interface = "0.02 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.03 K/W"
[cooler.cold_fan]
flow = "300 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.0400194 K/W"
[cooler.hot_fan]
flow = "149.24 m^3/h"
power = "80 W"
position = "after sink"
[cooler.hot_duct]
diameter = "150 mm"
length = "1.5 m"
runs_through = "place"
surface_coefficient = "17.03 W/m^2/K"
surface_temperature = "40 degC"
"""
BARE_DUCT = {
    "cooler.hot_duct.surface_temperature": None,
    "cooler.hot_duct.surface_coefficient": "10 W/m^2/K",
}


def infiltration(found: Solved) -> tuple[float, float]:
    """Sensible and latent heat [W] of the outdoor air that the exhaust draws in."""
    place, states = found.place[0], found.states
    humidities = (place["outdoor_humidity_ratio"], states["place_humidity_ratio"])
    mass = states["inflow_kg_s"]
    sensible_W = infiltration_sensible(mass, place["outdoor_K"], states["place_K"], *humidities)
    return float(sensible_W), float(infiltration_latent(mass, *humidities))


def net_cooling(found: Solved) -> float:
    """What is left for the room [W]: every line of the room's ledger that is the cooler's doing."""
    return -sum(
        found.line("place", what)
        for what in (
            "cold air",
            "outdoor air through the gaps",
            "hot duct",
            "losses of supply, converter and wires",
        )
    )


def single_duct() -> Case:
    """The whole unit: gross 200 W, net far below nought."""
    found = solve(SHEET)
    sensible_W, latent_W = infiltration(found)
    return Case(
        "A unit of 200 W that blows 150 m3/h of the room's air (26 degC, 50 %) outdoors at 40 degC",
        "arithmetic of US 10 CFR 430, Subpart B, Appendix CC (portable air conditioners; SI form "
        "from memory), moist air by ASHRAE equations; solved here from a design sheet",
        FORMULA,
        (
            Row("exhaust, as the case states it [degC]", 40.0, found.celsius("hot_outlet_K"),
                0.005, absolute=True),
            Row("room's water [kg/kg]", 0.010496,
                float(found.states["place_humidity_ratio"]), 5e-3),
            Row("outdoor water [kg/kg]", 0.012611,
                float(found.place["outdoor_humidity_ratio"][0]), 5e-3),
            Row("dry air replaced [kg/s]", 0.04619, float(found.states["inflow_kg_s"]), 5e-3),
            Row("its sensible heat [W]", 337.6, sensible_W, 5e-3),
            Row("its latent heat [W]", 244.4, latent_W, 5e-3),
            Row("together [W]", 581.9, sensible_W + latent_W, 5e-3),
            Row("the same in the room's ledger [W]", 581.9,
                found.line("place", "outdoor air through the gaps"), 5e-3),
            Row("heat of the duct [W]", 168.5, found.line("place", "hot duct"), 5e-3),
            Row("gross cooling [W]", 200.0, -found.line("place", "cold air"), 5e-3),
            Row("net cooling [W]", -550.0, net_cooling(found), 5e-3),
        ),
        note="it heats the room: the air that it throws out costs three times what it cools",
    )  # fmt: skip


def bare_duct() -> Case:
    """The same duct, its heat from the air that flows in it."""
    found = solve(SHEET, BARE_DUCT)
    by_17 = solve(SHEET, {"cooler.hot_duct.surface_temperature": None})
    rate_W_K = float(found.states["hot_kg_s"]) * (
        1006.0 + 1860.0 * float(found.states["hot_outlet_water"])
    )
    return Case(
        "The exhaust duct of that unit, 150 mm and 1.5 m, air at 40 degC in a room of 26 degC",
        "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter 8: "
        "T = Ts + (T0 - Ts) exp(-UA/(m cp)); solved here from a design sheet",
        FORMULA,
        (
            Row("exhaust at the duct's inlet [degC]", 40.0, found.celsius("hot_outlet_K"),
                0.005, absolute=True),
            Row("NTU with 10 W/m2/K", 0.1492, 10.0 * math.pi * 0.15 * 1.5 / rate_W_K, 3e-3),
            Row("end of the duct [degC]", 38.06, found.celsius("exhaust_end_K"), 0.01, True),
            Row("heat into the room [W]", 91.9, found.line("place", "hot duct"), 3e-3),
            Row("with 17.03 W/m2/K: end [degC]", 36.86, by_17.celsius("exhaust_end_K"), 0.01, True),
            Row("with 17.03 W/m2/K: heat [W]", 148.8, by_17.line("place", "hot duct"), 3e-3),
        ),
    )  # fmt: skip


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [single_duct(), bare_duct()]


if __name__ == "__main__":
    finish(cases())
