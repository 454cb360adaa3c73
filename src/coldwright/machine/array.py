"""A group of modules as its terminals see it: a back voltage and a resistance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coldwright.machine.records import Properties
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
)


@dataclass(frozen=True, slots=True)
class Array:
    """Terminals of a whole group: volts that its lift makes, ohms that it has."""

    back_V: float
    ohm: float


def array_between(group: Any, result: Any, g: int, *, resting_K: float | None = None) -> Array:
    """A group as its terminals see it.

    Parameters
    ----------
    group
        One `GROUP` record.
    result, g
        The solved `RESULT` and the group's number in it: its faces.
    resting_K
        All faces at this temperature instead [K]: before switching on.
    """
    faces = [
        float(result[f"{name}_K"][g])
        for name in ("cold_face", "middle_hot", "middle_cold", "hot_face")
    ]
    if resting_K is not None:
        faces = [resting_K] * 4
    cold_K, middle_hot_K, middle_cold_K, hot_K = faces
    two = int(group["stages"]) == 2
    back_V, ohm = _stage(group, "", cold_K, middle_hot_K if two else hot_K)
    own_supply = float(group["second_voltage_V"]) == float(group["second_voltage_V"])
    if two and not own_supply:
        second_V, second_ohm = _stage(group, "second_", middle_cold_K, hot_K)
        back_V, ohm = back_V + second_V, ohm + second_ohm
    series, parallel = float(group["series"]), float(group["parallel"])
    return Array(back_V * series, ohm * series / parallel)


def _stage(group: Any, prefix: str, cold_K: float, hot_K: float) -> tuple[float, float]:
    """Back voltage [V] and resistance [ohm] of one module's stage."""
    mean_K = 0.5 * (cold_K + hot_K)
    seebeck_V_K, ohm = float(group[f"{prefix}seebeck"]), float(group[f"{prefix}resistance"])
    if int(group[f"{prefix}properties"]) == Properties.BISMUTH_TELLURIDE:
        contact = f"{prefix}contact_ohm" if prefix else "resistance_contact_ohm"
        seebeck_V_K *= float(bismuth_telluride_seebeck(mean_K))
        ohm = ohm * float(bismuth_telluride_resistivity(mean_K)) + float(group[contact])
    return seebeck_V_K * (hot_K - cold_K), ohm
