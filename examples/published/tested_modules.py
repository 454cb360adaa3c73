"""Modules that people measured: three constants found from their readings."""

from __future__ import annotations

import numpy as np
from comparison import MEASURED, WORKED, Case, Row, finish

from coldwright.physics.module_ratings import resistance_from_divider
from coldwright.physics.thermoelectric import cold_side_heat, hot_side_heat, module_voltage

# Volts, amperes, hot and cold face [degC], heat out and in [W].
READINGS = """
12 3.33 33.28 16.12 43.674 3.736
10 2.88 31.56 16.18 34.113 5.330
8 2.38 29.29 16.27 21.764 2.755
6 1.82 27.90 16.56 15.392 4.477
4 1.22 26.43 16.94 8.842 3.958
2 0.59 25.38 17.47 2.801 1.618
12 3.25 40.53 17.60 42.714 3.746
10 2.79 38.70 17.67 32.327 4.433
8 2.29 36.78 17.83 21.589 3.276
6 1.74 35.28 18.14 12.764 2.335
4 1.14 33.85 18.59 6.381 1.810
12 3.16 46.60 18.65 41.322 3.343
10 2.70 45.13 18.62 30.851 3.809
8 2.21 43.58 18.70 21.245 3.571
6 1.66 42.13 19.01 11.636 1.657
12 3.07 54.42 19.28 39.136 2.246
10 2.62 52.54 19.23 28.327 2.146
8 2.12 50.98 19.37 19.236 2.295
"""


def calorimetry() -> Case:
    """S, R and K of a module from 18 readings of a calorimeter."""
    table = np.array([line.split() for line in READINGS.split("\n") if line], dtype=float).T
    volts_V, current_A, hot_C, cold_C, hot_W, cold_W = table
    state = (current_A, cold_C + 273.15, hot_C + 273.15)
    # The laws are linear in S, R and K: each column is a law with one of them at 1.
    columns = [
        np.concatenate(
            [
                module_voltage(*state, one[0], one[1]),
                hot_side_heat(*state, *one),
                cold_side_heat(*state, *one),
            ]
        )
        for one in np.eye(3)
    ]
    matrix = np.stack(columns, axis=1)
    measured = np.concatenate([volts_V, hot_W, cold_W])
    found = np.linalg.lstsq(matrix, measured, rcond=None)[0]
    rms = np.sqrt(np.mean((matrix @ found - measured).reshape(3, -1) ** 2, axis=1))
    return Case(
        "A module in a calorimeter, 18 readings",
        "github.com/gqguan/TEC, ExpData.txt, commit 3ea12f1; a fit made apart from this program "
        "left 0.33 V, 2.2 W and 1.4 W",
        MEASURED,
        (
            Row("Seebeck coefficient [V/K]", (0.024, 0.029), found[0]),
            Row("resistance [ohm]", (3.3, 3.5), found[1]),
            Row("misfit of the voltage [V]", (0.0, 1.2 * 0.33), rms[0]),
            Row("misfit of the heat out [W]", (0.0, 1.2 * 2.2), rms[1]),
            Row("misfit of the heat in [W]", (0.0, 1.2 * 1.4), rms[2]),
        ),
        note="the faces lie outside plates and joints: values of the assembly, not of the legs",
    )


def wrong_resistance() -> Case:
    """A resistance from a divider that steady runs refute, and the right one."""
    # Published as "Rp = Ua R/Ur - 1 = 14.4 ohm": solved for the resistor R that was meant.
    resistor_ohm = (14.4 + 1.0) * 85.2 / 128.4
    module_ohm = resistance_from_divider(resistor_ohm, 128.4e-3, 85.2e-3)
    rows = [
        Row("module's resistance [ohm]", 5.18, module_ohm, 0.01),
        Row("volts that 14.4 ohm needs at 0.73 A, of 5 V [V]", 10.5,
            module_voltage(0.73, 300.0, 300.0, 0.038, 14.4), 0.01),
    ]  # fmt: skip
    runs = [(5.0, 0.73, -2.0, 29.2, 0.0390), (8.0, 1.19, -7.0, 41.6, 0.0377)]
    for volts_V, current_A, cold_C, hot_C, seebeck in runs:
        across_V = volts_V - module_voltage(current_A, 300.0, 300.0, 0.0, module_ohm)
        found = across_V / (hot_C - cold_C)
        rows += [
            Row(f"Seebeck coefficient at {volts_V:.0f} V [V/K]", seebeck, found, 0.01),
            Row("  of 189 couples that share the lift [V/K]", (0.036, 0.041), found),
        ]
    return Case(
        "A module's resistance by a voltage divider",
        "open laboratory journal, github.com/DmitryMyadzelets/epicx, week 22",
        WORKED,
        tuple(rows),
        note='the journal\'s "Ua R/Ur - 1" for R (Ua/Ur - 1) makes 14.4 ohm of 5.2',
    )


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [calorimetry(), wrong_resistance()]


if __name__ == "__main__":
    finish(cases())
