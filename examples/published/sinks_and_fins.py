"""Heat spreading in a base, one fin, a whole plate-fin sink."""

from __future__ import annotations

import numpy as np
from comparison import FORMULA, Case, Row, finish

from coldwright.physics.channel_flow import nusselt_channel_teertstra
from coldwright.physics.fin import (
    fin_efficiency,
    fin_heat_adiabatic_tip,
    fin_heat_convecting_tip,
    fin_heat_endless,
)
from coldwright.physics.interface import (
    spreading_resistance_max_lee,
    spreading_resistance_mean_lee,
)
from coldwright.physics.plate_fin import (
    plate_fin_conductance_stephan,
    plate_fin_conductance_teertstra,
    plate_fin_pressure_drop,
)

# Air: density, viscosity, conductivity, Prandtl number, specific heat.
AIR = (1.161, 1.589e-5 * 1.161, 0.0263, 0.707, 1007.0)
# 100 x 100 mm, 21 fins of 1 mm, 30 mm high: 20 channels of 3.95 mm.
SINK = (20.0, 3.95e-3, 0.030, 0.100, 1.0e-3)


def spreading() -> Case:
    """A square source in the middle of a square base, a sink on its other face."""
    table = [
        ("25 on 100 mm, 1 mm", (6.25e-4, 1e-2, 1.3e-3, 200.0, 1.0), 0.6566, 0.6671, 0.5039, 0.5263),
        ("40 on 100 mm, 3 mm", (1.6e-3, 1e-2, 3e-3, 200.0, 0.30), 0.1648, 0.1714, 0.1131, 0.1198),
        ("40 on 100 mm, 5 mm", (1.6e-3, 1e-2, 5e-3, 200.0, 0.30), 0.1057, 0.1101, 0.0726, 0.0777),
    ]  # fmt: skip
    rows = []
    for name, base, closed_most, series_most, closed_mean, series_mean in table:
        most = spreading_resistance_max_lee(*base)
        mean = spreading_resistance_mean_lee(*base)
        rows += [
            Row(f"{name}: hottest, closed form [K/W]", closed_most, most, 5e-3),
            Row(f"{name}: hottest, full series [K/W]", series_most, most, 0.08),
            Row(f"{name}: mean, closed form [K/W]", closed_mean, mean, 5e-3),
            Row(f"{name}: mean, full series [K/W]", series_mean, mean, 0.08),
        ]
    return Case(
        "Spreading resistance",
        "S. Lee, Calculating spreading resistance in heat sinks, Electronics Cooling, January 1998 "
        "(first base, 1.3 mm thick: his example); full series: three-dimensional Fourier series, "
        "400 terms a side",
        FORMULA,
        tuple(rows),
    )


def one_fin() -> Case:
    """A rectangular aluminium fin."""
    fin = (30.0, 0.084, 80e-6)
    longer_m = 0.030 + 80e-6 / 0.084
    return Case(
        "One aluminium fin, 2 x 40 mm and 30 mm long, 65 K above the air",
        "Heat Transfer (thermal management of electronics), Example 7.1 (inputs); fin equations of "
        "any handbook",
        FORMULA,
        (
            Row("endless [W]", 13.374, fin_heat_endless(*fin, 210.0, 65.0), 1e-3),
            Row("no heat at the tip [W]", 4.7042,
                fin_heat_adiabatic_tip(*fin, 0.030, 210.0, 65.0), 1e-3),
            Row("with heat at the tip [W]", 4.8403,
                fin_heat_convecting_tip(*fin, 0.030, 210.0, 65.0), 1e-3),
            Row("longer by area over perimeter [W]", 4.8403,
                fin_heat_adiabatic_tip(*fin, longer_m, 210.0, 65.0), 1e-3),
        ),
    )  # fmt: skip


def plate_fins() -> Case:
    """A plate-fin sink at two flows, by two textbook methods."""
    table = [
        (20.0, 3.6490, 24.296, 0.9330, 0.3434, 0.3547, 6.33),
        (40.0, 4.9306, 32.829, 0.9119, 0.2596, 0.2744, 17.9),
    ]
    rows = []
    _, gap_m, height_m, length_m, thickness_m = SINK
    for flow_m3_h, nusselt, film, efficiency, teertstra, stephan, drop_Pa in table:
        flow_m3_s = flow_m3_h / 3600.0
        speed_m_s = flow_m3_s / (SINK[0] * gap_m * height_m)
        channel_reynolds = speed_m_s * gap_m * AIR[0] / AIR[1] * gap_m / length_m
        found_nusselt = nusselt_channel_teertstra(channel_reynolds, AIR[3])
        found_film = found_nusselt * AIR[2] / gap_m
        one = _to_inlet(plate_fin_conductance_teertstra(flow_m3_s, *SINK, 200.0, *AIR), flow_m3_s)
        other = _to_inlet(plate_fin_conductance_stephan(flow_m3_s, *SINK, 200.0, *AIR), flow_m3_s)
        at = f"at {flow_m3_h:.0f} m3/h: "
        rows += [
            Row(at + "Nusselt number", nusselt, found_nusselt, 5e-3),
            Row(at + "film [W/m2/K]", film, found_film, 5e-3),
            Row(at + "fin efficiency", efficiency,
                fin_efficiency(found_film, height_m, thickness_m, 200.0), 5e-3),
            Row(at + "resistance, laminar model [K/W]", teertstra, one, 5e-3),
            Row(at + "resistance, Stephan [K/W]", stephan, other, 5e-3),
            Row(at + "one method over the other", 1.0, one / other, 0.15),
            Row(at + "pressure drop [Pa]", drop_Pa,
                plate_fin_pressure_drop(flow_m3_s, *SINK, *AIR[:2]), 0.03),
        ]  # fmt: skip
    for flow_m3_h, least in ((10.0, 0.308), (20.0, 0.154), (40.0, 0.077)):
        flow_m3_s = flow_m3_h / 3600.0
        found = _to_inlet(plate_fin_conductance_stephan(flow_m3_s, *SINK, 200.0, *AIR), flow_m3_s)
        rows.append(Row(f"at {flow_m3_h:.0f} m3/h: above 1/(m cp) [K/W]", (least, 10.0), found))
    return Case(
        "A plate-fin sink of 100 x 100 mm with 21 fins",
        "Teertstra et al. 2000 and Culham and Muzychka, IEEE Trans. CPT 24 (2001) 159-165; "
        "K. Stephan 1959 as in handbooks",
        FORMULA,
        tuple(rows),
        note="faces inside the channels only; with the two outermost ones it is 4 % better",
    )


def _to_inlet(conductance_W_K: float, flow_m3_s: float) -> float:
    """Resistance to the air that comes in [K/W]."""
    rate_W_K = flow_m3_s * AIR[0] * AIR[4]
    return 1.0 / (rate_W_K * -np.expm1(-conductance_W_K / rate_W_K))


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [spreading(), one_fin(), plate_fins()]


if __name__ == "__main__":
    finish(cases())
