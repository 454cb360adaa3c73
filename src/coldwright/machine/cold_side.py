"""Air that meets a cold surface: cooled, and dried where the surface is below its dew point."""

from __future__ import annotations

import math
from typing import Any

from coldwright.physics.compiled import compiled, inlined
from coldwright.physics.moist_air import (
    enthalpy,
    fog_temperature,
    humidity_ratio_saturated,
)


@inlined
def contact(
    inlet_K: float,
    inlet_humidity_ratio: float,
    surface_K: float,
    bypass: float,
    pressure_Pa: float,
) -> Any:
    """Air after a surface: outlet temperature [K] and water [kg/kg], by the contact mixture.

    Of the air, the share `bypass` passes untouched and the rest leaves in equilibrium with the
    surface (Lewis number one: heat and vapour are exchanged alike). The water counts everything
    that leaves with the air, fog included; `without_fog` splits it.

    ``T_out = T_s + BF (T_in - T_s)``; ``W_out = W_s + BF (W_in - W_s)`` where ``W_s < W_in``.
    """
    outlet_K = surface_K + bypass * (inlet_K - surface_K)
    saturated = humidity_ratio_saturated(surface_K, pressure_Pa)
    if saturated < inlet_humidity_ratio:
        return outlet_K, saturated + bypass * (inlet_humidity_ratio - saturated)
    return outlet_K, inlet_humidity_ratio


@compiled
def without_fog(air_K: float, water_ratio: float, pressure_Pa: float) -> Any:
    """Temperature [K], vapour [kg/kg] and suspended water [kg/kg] of a stream.

    A mixture that holds more water than it can as vapour is brought to saturation at the same
    enthalpy; what is left over is fog.
    """
    if not water_ratio > humidity_ratio_saturated(air_K, pressure_Pa):  # NaN: above boiling, no fog
        return air_K, water_ratio, 0.0
    fog_K = fog_temperature(enthalpy(air_K, water_ratio), water_ratio, pressure_Pa)
    vapour = humidity_ratio_saturated(fog_K, pressure_Pa)
    return fog_K, vapour, water_ratio - vapour


@compiled
def bypass_factor(conductance_W_K: float, capacity_rate_W_K: float) -> float:
    """Share of the air that leaves as it came: ``exp(-UA/(m cp))``."""
    return math.exp(-conductance_W_K / capacity_rate_W_K)
