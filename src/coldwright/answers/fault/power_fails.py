"""The power fails: the modules become a bridge for heat."""

from __future__ import annotations

import numpy as np

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import fan_stopped, modules_off
from coldwright.machine.modules import stage_properties


def leak_W(start: Start) -> float:
    """Heat [W] that all modules conduct back in the first moment, by their K alone."""
    total = 0.0
    cooler, result = start.coolers[0], start.results[0]
    for g in range(int(cooler["groups"])):
        group = cooler["group"][g]
        cold_K, hot_K = float(result["cold_face_K"][g]), float(result["hot_face_K"][g])
        _, _, conductance = stage_properties(group, False, 0.5 * (cold_K + hot_K))
        if int(group["stages"]) == 2:
            _, _, second = stage_properties(group, True, 0.5 * (cold_K + hot_K))
            conductance = 1.0 / (1.0 / conductance + group["between_K_W"] + 1.0 / second)
        total += float(group["series"] * group["parallel"] * conductance * (hot_K - cold_K))
    return total


def _put(start: Start) -> Broken:
    coolers = modules_off(start.coolers)
    for side in ("hot", "cold"):
        coolers = fan_stopped(coolers, side, start.vary(f"draught past the {side} sink", 0.6))
    first_W = leak_W(start)
    lift_K = float(np.max(start.results["hot_face_K"][0] - start.results["cold_face_K"][0]))
    return Broken(
        coolers,
        f"Modules and fans stop. At first the modules let {first_W:.3g}\u2009W back to the "
        "cold side "
        f"across {lift_K:.3g}\u2009K, by conduction alone.",
    )


FAULT = Fault(
    "power fails",
    _put,
    "What is kept here is not kept by a cooler without power: this is no refrigerator for food "
    "or medicine.",
    ("alarm",),
)
