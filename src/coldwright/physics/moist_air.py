"""Moist air: the one door to its saturation, state, balance and transport laws."""

from __future__ import annotations

from coldwright.physics.air_balance import (
    dew_point,
    fog_temperature,
    humidity_ratio_from_wet_bulb,
    wet_bulb,
)
from coldwright.physics.air_state import (
    ATMOSPHERE_PA,
    CP_AIR,
    CP_LIQUID,
    CP_VAPOUR,
    GAS_J_KGK,
    LATENT_J_KG,
    MASS_RATIO,
    ZERO_C_K,
    enthalpy,
    humid_heat,
    humidity_ratio_from_relative,
    humidity_ratio_from_vapour,
    humidity_ratio_saturated,
    liquid_enthalpy,
    relative_humidity,
    standard_pressure,
    temperature_at_enthalpy,
    vapour_pressure,
)
from coldwright.physics.air_volume import density, specific_volume
from coldwright.physics.dry_air import air_conductivity, air_prandtl, air_viscosity
from coldwright.physics.saturation import (
    TRIPLE_POINT_K,
    saturation_pressure,
    saturation_pressure_ice,
    saturation_pressure_water,
    saturation_temperature,
)

__all__ = [
    "ATMOSPHERE_PA",
    "CP_AIR",
    "CP_LIQUID",
    "CP_VAPOUR",
    "GAS_J_KGK",
    "LATENT_J_KG",
    "MASS_RATIO",
    "TRIPLE_POINT_K",
    "ZERO_C_K",
    "air_conductivity",
    "air_prandtl",
    "air_viscosity",
    "density",
    "dew_point",
    "enthalpy",
    "fog_temperature",
    "humid_heat",
    "humidity_ratio_from_relative",
    "humidity_ratio_from_vapour",
    "humidity_ratio_from_wet_bulb",
    "humidity_ratio_saturated",
    "liquid_enthalpy",
    "relative_humidity",
    "saturation_pressure",
    "saturation_pressure_ice",
    "saturation_pressure_water",
    "saturation_temperature",
    "specific_volume",
    "standard_pressure",
    "temperature_at_enthalpy",
    "vapour_pressure",
    "wet_bulb",
]
