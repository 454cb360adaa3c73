"""The simple hourly method (five resistances, one capacity): a cross-check of magnitude.

EN ISO 13790:2008, section 12.2.2 and annex C (from memory; withdrawn since, but the best known
small model). Nodes: air, inner surfaces, mass. Temperatures in °C as the standard has them.
"""

from __future__ import annotations

from typing import NamedTuple

SURFACE_PER_FLOOR = 4.5  # all inner surfaces over the floor area
SURFACE_FILM_W_M2K = 3.45
MASS_FILM_W_M2K = 9.1


class Room(NamedTuple):
    """What stays the same from hour to hour."""

    floor_m2: float
    mass_m2: float
    capacity_J_K: float
    opaque_W_K: float
    window_W_K: float
    ventilation_W_K: float


class Hour(NamedTuple):
    """What one hour gives; every figure that the method prints on its way."""

    air_surface_W_K: float
    surface_mass_W_K: float
    mass_outdoor_W_K: float
    first_W_K: float
    second_W_K: float
    third_W_K: float
    to_air_W: float
    to_surface_W: float
    to_mass_W: float
    total_W: float
    mass_C: float  # at the end of the hour
    surface_C: float
    air_C: float
    operative_C: float


def one_hour(
    room: Room,
    mass_before_C: float,
    outdoor_C: float,
    supply_C: float,
    internal_W: float,
    solar_W: float,
    plant_W: float = 0.0,
) -> Hour:
    """One hour by the Crank-Nicolson step of the method; cooling counts as negative `plant_W`."""
    surface_m2 = SURFACE_PER_FLOOR * room.floor_m2
    air_surface = SURFACE_FILM_W_M2K * surface_m2
    surface_mass = MASS_FILM_W_M2K * room.mass_m2
    mass_outdoor = 1.0 / (1.0 / room.opaque_W_K - 1.0 / surface_mass)
    first = 1.0 / (1.0 / room.ventilation_W_K + 1.0 / air_surface)
    second = first + room.window_W_K
    third = 1.0 / (1.0 / second + 1.0 / surface_mass)

    to_air = 0.5 * internal_W
    radiant = 0.5 * internal_W + solar_W
    mass_share = room.mass_m2 / surface_m2
    to_mass = mass_share * radiant
    window_share = room.window_W_K / (MASS_FILM_W_M2K * surface_m2)
    to_surface = (1.0 - mass_share - window_share) * radiant

    supplied = (to_air + plant_W) / room.ventilation_W_K + supply_C
    pulled = to_surface + room.window_W_K * outdoor_C + first * supplied
    total = to_mass + mass_outdoor * outdoor_C + third * pulled / second
    stored = room.capacity_J_K / 3600.0
    drag = 0.5 * (third + mass_outdoor)
    mass = (mass_before_C * (stored - drag) + total) / (stored + drag)
    mean = 0.5 * (mass + mass_before_C)
    surface = (surface_mass * mean + pulled) / (surface_mass + room.window_W_K + first)
    air = (air_surface * surface + room.ventilation_W_K * supply_C + to_air + plant_W) / (
        air_surface + room.ventilation_W_K
    )
    return Hour(
        air_surface, surface_mass, mass_outdoor, first, second, third, to_air, to_surface, to_mass,
        total, mass, surface, air, 0.3 * air + 0.7 * surface,
    )  # fmt: skip
