"""Resistance of a run: copper there and back, joints, and the fuse with its holder."""

from __future__ import annotations

from typing import Any

from coldwright.machine.values import Values
from coldwright.physics.conductor import (
    loop_resistance,
    resistance_at_temperature,
    wire_resistance_per_m_area,
)
from coldwright.sheet.library import library
from coldwright.sheet.models import Wire

# Wires run warm; this is the usual rating temperature of a loaded cord [K].
WIRE_K = 313.15


def copper_resistance(wire: Wire, values: Values, copper_K: float = WIRE_K) -> Any:
    """Resistance [ohm] of the pair of conductors, there and back, at a temperature."""
    nominal = library().nominal_conductor(wire.size.value)
    listed = None if nominal is None else getattr(nominal, wire.strands, None)
    if listed is not None:
        per_m = resistance_at_temperature(values(listed), copper_K)
    else:
        per_m = wire_resistance_per_m_area(values(wire.size), copper_K)
    return loop_resistance(per_m, values(wire.length))


def joint_resistance(wire: Wire, values: Values) -> Any:
    """Resistance [ohm] of all joints of a run."""
    return sum((joint.count * values(joint.resistance) for joint in wire.joint), 0.0)


def fuse_resistance(wire: Wire, values: Values) -> Any:
    """Resistance [ohm] of the fuse and its holder, where it is given."""
    return 0.0 if wire.fuse_resistance is None else values(wire.fuse_resistance)


def run_resistance(wire: Wire, values: Values) -> Any:
    """Resistance [ohm] of the whole run."""
    copper_ohm = copper_resistance(wire, values)
    if not wire.joint and wire.fuse_resistance is None:
        return copper_ohm
    return copper_ohm + joint_resistance(wire, values) + fuse_resistance(wire, values)
