"""From the plug to the modules and fans: what each stage loses, for a given load."""

from __future__ import annotations

from typing import Any

from coldwright.machine.sinks import interpolate
from coldwright.physics.compiled import compiled


@compiled
def power_chain(power: Any, modules_W: float, leads_W: float, others_W: float) -> Any:
    """Power from the plug [W], loss of the supply [W], loss of the converter [W].

    `modules_W` at the array's terminals, `leads_W` lost in its wires, `others_W` what hangs on the
    supply directly (fans, pumps). The supply's efficiency is read at its share of the rated load.
    """
    set_W = modules_W + leads_W
    converter_W = 0.0
    if power.converter_points > 0:
        converter_W = lost(
            power.converter_points,
            power.converter_load,
            power.converter_efficiency,
            power.converter_rated_W,
            set_W,
        )
    load_W = set_W + converter_W + others_W + power.controller_W
    supply_W = 0.0
    if power.supply_points > 0:
        supply_W = lost(
            power.supply_points,
            power.supply_load,
            power.supply_efficiency,
            power.supply_rated_W,
            load_W,
        )
    return load_W + supply_W, supply_W, converter_W


@compiled
def lost(points: int, loads: Any, efficiencies: Any, rated_W: float, output_W: float) -> float:
    """Loss [W] at this output, from efficiency over the share of the rated load."""
    efficiency = interpolate(points, loads, efficiencies, output_W / rated_W)
    return float(output_W * (1.0 / efficiency - 1.0))
