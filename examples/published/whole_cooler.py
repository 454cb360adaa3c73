"""A whole air-to-air cooler: the program against an independent solution of the same equations."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import psychrolib
from comparison import FORMULA, Case, Row, finish
from scipy.optimize import root
from solved import Solved, solve

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.cooler import operate
from coldwright.machine.ledger import ledger
from coldwright.machine.values import Values
from coldwright.sheet.file import read_text

psychrolib.SetUnitSystem(psychrolib.SI)
PRESSURE_PA = 101325.0

# Seebeck coefficient, resistance, conductance of one module of common size.
MODULE = (15.4 / 300.0, 15.4 * 232.0 / (6.0 * 300.0), 15.4 * 6.0 * 232.0 / (2.0 * 300.0 * 68.0))
MODULES, COLD_SINK_K_W, HOT_SINK_K_W, FACE_K_W = 4.0, 0.15, 0.10, 0.05
COLD_IN_C, HOT_IN_C = 25.0, 35.0

# The case counts heat per volume with 1.2 kg/m3 and 1006 J/kg/K on both sides. Real air at 25 and
# at 35 degC, and with some moisture, has a little less or more. So that the *heat* per kelvin is
# the case's, the sheet gets the volume of real air that carries it.
CASE_J_M3K = 1.2 * 1006.0
COLD_W_K = 80.0 / 3600.0 * CASE_J_M3K
HOT_W_K = 150.0 / 3600.0 * CASE_J_M3K
HUMIDITY = 0.10  # so dry that nothing condenses

SHEET = """
[place]
kind = "open_air"
air = "25 degC"
humidity = "10 percent"
[climate]
kind = "steady"
outdoor_air = "35 degC"
outdoor_humidity = "10 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = {{ module_voltage = "8 V" }}
[cooler.modules]
properties = {{ seebeck = "{0:.9f} V/K", resistance = "{1:.9f} ohm", conductance = "{2:.9f} W/K" }}
series = 2
parallel = 2
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.15 K/W"
[cooler.cold_fan]
flow = "{cold:.9f} m^3/s"
[cooler.hot_sink]
kind = "resistance"
value = "0.10 K/W"
[cooler.hot_fan]
flow = "{hot:.9f} m^3/s"
"""

# Per module volts: amperes, cold and hot face [degC], heat in and power [W], COP, outlets [degC].
TABLE = {
    2.0: (0.661, 23.33, 36.75, 10.28, 5.28, 1.944, 24.62, 35.31),
    4.0: (1.453, 19.60, 41.35, 33.23, 23.24, 1.430, 23.76, 36.12),
    6.0: (2.247, 16.77, 46.77, 50.67, 53.93, 0.940, 23.11, 37.08),
    8.0: (3.042, 14.80, 53.02, 62.80, 97.34, 0.645, 22.66, 38.18),
    12.0: (4.628, 13.30, 68.10, 72.02, 222.17, 0.324, 22.32, 40.85),
}


def volume_of(rate_W_K: float, air_C: float) -> float:
    """Flow of real air [m3/s] that carries so many watts per kelvin, by psychrolib."""
    water = psychrolib.GetHumRatioFromRelHum(air_C, HUMIDITY, PRESSURE_PA)
    volume_m3_kg = psychrolib.GetMoistAirVolume(air_C, water, PRESSURE_PA)
    return rate_W_K / (1006.0 + 1860.0 * water) * volume_m3_kg


def sheet_text() -> str:
    """The case as a design sheet."""
    return SHEET.format(
        *MODULE, cold=volume_of(COLD_W_K, COLD_IN_C), hot=volume_of(HOT_W_K, HOT_IN_C)
    )


def run(voltage_V: float) -> Solved:
    """The program's answer at so many volts per module."""
    return solve(sheet_text(), {"cooler.run_at": {"module_voltage": f"{voltage_V:.6f} V"}})


def sweep(volts: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Heat pumped and power [W] at many voltages per module, in one call of the solver."""
    sheet = read_text(sheet_text())
    cooler = np.repeat(assemble_cooler(sheet, Values()), len(volts))
    place = np.repeat(assemble_place(sheet, Values()), len(volts))
    cooler["group"]["drive_value"][:, 0] = 2.0 * volts  # two in series
    found = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=False)
    assert not found["status"].any()
    lines = ledger(cooler, place, found, with_place=False)
    lines.require_closed()
    (pumped_W,) = (line.amount for line in lines.heat if line.what == "heat into the cold faces")
    return pumped_W, found["modules_W"]


def independent(voltage_V: float) -> tuple[float, ...]:
    """The same equations written out and solved by scipy: the columns of `TABLE`."""
    seebeck, resistance, conductance = MODULE

    def heats(cold_K: float, hot_K: float) -> tuple[float, float, float]:
        current = (voltage_V - seebeck * (hot_K - cold_K)) / resistance
        joule = current * current * resistance / 2.0
        leak = conductance * (hot_K - cold_K)
        return (
            current,
            seebeck * current * cold_K - joule - leak,
            seebeck * current * hot_K + joule - leak,
        )

    def misfit(unknown: np.ndarray) -> list[float]:
        cold_K, hot_K = unknown
        _, taken, given = heats(cold_K, hot_K)
        # From the air through the shared sink and each module's own joint to the face.
        cold_way = COLD_SINK_K_W * MODULES + FACE_K_W
        hot_way = HOT_SINK_K_W * MODULES + FACE_K_W
        return [
            COLD_IN_C + 273.15 - cold_way * taken - cold_K,
            HOT_IN_C + 273.15 + hot_way * given - hot_K,
        ]

    found = root(misfit, [290.0, 320.0], tol=1e-12)
    cold_K, hot_K = found.x
    current, taken, given = heats(cold_K, hot_K)
    power = MODULES * voltage_V * current
    return (
        current,
        cold_K - 273.15,
        hot_K - 273.15,
        MODULES * taken,
        power,
        MODULES * taken / power,
        COLD_IN_C - MODULES * taken / COLD_W_K,
        HOT_IN_C + MODULES * given / HOT_W_K,
    )


def operating_points() -> Case:
    """Five voltages."""
    rows = []
    for voltage_V, listed in TABLE.items():
        found = run(voltage_V)
        scipy_says = independent(voltage_V)
        at = f"{voltage_V:.0f} V: "
        # Printed to 0.01 K and 3 or 4 figures; 0.2 % beyond that, outlets within 0.1 K.
        named = (
            ("current of a module [A]", float(found.states["module_A"][0]), 2e-3, False),
            ("cold face [degC]", found.celsius("cold_face_K"), 0.03, True),
            ("hot face [degC]", found.celsius("hot_face_K"), 0.03, True),
            ("heat pumped [W]", found.pumped_W, 2e-3, False),
            ("power [W]", found.power_W, 2e-3, False),
            ("COP", found.pumped_W / found.power_W, 2e-3, False),
            ("cold outlet [degC]", found.celsius("cold_outlet_K"), 0.1, True),
            ("hot outlet [degC]", found.celsius("hot_outlet_K"), 0.1, True),
        )
        for number, (what, computed, tolerance, absolute) in enumerate(named):
            rows.append(Row(at + what, listed[number], computed, tolerance, absolute))
        rows.append(Row(at + "heat by scipy [W]", scipy_says[3], found.pumped_W, 1e-5))
        rows.append(
            Row(
                at + "cold outlet by scipy",
                scipy_says[6],
                found.celsius("cold_outlet_K"),
                1e-3,
                True,
            )
        )
        rows.append(
            Row(
                at + "hot outlet by scipy", scipy_says[7], found.celsius("hot_outlet_K"), 1e-3, True
            )
        )
    return Case(
        "Four modules between two finned sinks, air to air, at five voltages",
        "the module's heat balances (Mechanical Engineers' Handbook, vol. 4, eqs 111-123) with "
        "sinks to the incoming air, solved by two general solvers",
        FORMULA,
        tuple(rows),
        note="the published columns were solved apart from this program; scipy solves them again",
    )


def best_points() -> Case:
    """Where the whole cooler is at its best: far from the module's ratings."""
    volts = np.arange(100, 1600) / 100.0
    heat_W, power_W = sweep(volts)
    cops = np.where(heat_W > 0.0, heat_W / power_W, 0.0)
    most, best = int(np.argmax(heat_W)), int(np.argmax(cops))
    first = int(np.argmax(heat_W > 0.0))
    return Case(
        "The same cooler's best points",
        "the same equations, searched over the voltage",
        FORMULA,
        (
            Row("most heat [W]", 72.02, heat_W[most], 2e-3),
            Row("at volts per module", 11.93, volts[most], 0.03, absolute=True),
            Row("best COP", 1.970, cops[best], 2e-3),
            Row("at volts per module", 2.19, volts[best], 0.02, absolute=True),
            Row("heat there [W]", 12.7, heat_W[best], 0.01),
            Row("no heat below volts", 1.24, volts[first], 0.02, absolute=True),
            Row("most heat over the sum of ratings", 0.32, heat_W[most] / (4.0 * 56.67), 0.01),
        ),
        note="four modules rated 57 W each move 72 W at best, a third of the sum of the ratings",
    )


def more_modules() -> Case:
    """More modules for the same electrical power: the COP rises."""
    cops = []
    for count in (1, 2, 3, 4):
        found = solve(
            sheet_text(),
            {
                "cooler.modules.series": count,
                "cooler.modules.parallel": 1,
                "cooler.run_at": {"module_power": "40 W"},
            },
        )
        cops.append(found.pumped_W / found.power_W)
    rows = [
        Row(f"COP of {n + 1} over that of {n} modules", (1.0, 10.0), more / fewer)
        for n, (fewer, more) in enumerate(pairwise(cops), start=1)
    ]
    return Case(
        "One to four modules, always 40 W of electricity together",
        "Abdulghani, Results in Engineering 16 (2022) 100627 (abstract): 22 to 60 W, COP rises "
        "with the number of modules",
        "a measured trend; the data of that cooler were not readable, so only the direction",
        tuple(rows),
    )


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [operating_points(), best_points(), more_modules()]


if __name__ == "__main__":
    finish(cases())
