"""Plate-fin sinks: how much heat the air takes up between the fins, and what pressure it needs.

`channel_flow` holds the film and the friction of one channel and `fin` one fin; here they become
a whole sink.
"""

from __future__ import annotations

from math import log1p, nan, sqrt

from coldwright.physics.channel_flow import (
    friction_plates,
    nusselt_channel_teertstra,
    nusselt_plates,
)
from coldwright.physics.compiled import law
from coldwright.physics.fin import fin_efficiency

# Above this many transfer units the air leaves at the temperature of the base to the last digit
# of a float; holding the count there lets the conductance go to zero with the flow.
_MOST_UNITS = 40.0
_LAMINAR_LIMIT = 4000.0


@law
def plate_fin_conductance_stephan(
    flow_m3_s: float,
    channels: float,
    gap_m: float,
    fin_height_m: float,
    length_m: float,
    fin_thickness_m: float,
    fin_conductivity_W_mK: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
    air_conductivity_W_mK: float,
    prandtl: float,
    specific_heat_J_kgK: float,
) -> float:
    """Conductance from the base of a plate-fin sink to the air between its fins.

    To be used with the effectiveness ``1 - exp(-UA / (m cp))``: the air may warm up all the way
    to the base, and no further.

    Parameters
    ----------
    flow_m3_s : float
        Air through the channels, none around them [m^3/s]; not negative.
    channels : float
        Channels between the fins [1]; above 0.
    gap_m, fin_height_m, length_m, fin_thickness_m : float
        Clear width of a channel, height of the fins, length along the air, thickness of a fin
        [m]; above 0.
    fin_conductivity_W_mK : float
        Conductivity of the fins [W/m/K]; above 0.
    density_kg_m3, viscosity_Pa_s, air_conductivity_W_mK, specific_heat_J_kgK : float
        Of the air, at its mean temperature [kg/m^3], [Pa s], [W/m/K], [J/kg/K]; above 0.
    prandtl : float
        Prandtl number of the air [1]; 0.5 to 1000.

    Returns
    -------
    float
        Conductance UA [W/K], in the broadcast shape; 0 without flow; NaN outside the range.

    Notes
    -----
    ``UA = h N (2 H eta + b) L`` with ``h = Nu k / (2 b)`` from `nusselt_plates` (developing
    laminar flow, blended into turbulent flow between Reynolds numbers of 2300 and 4000) and the
    fin efficiency eta. Fin tips are closed by a cover and give no heat. Above some 10 transfer
    units UA is eased down to 40 m cp, which changes no temperature.

    Error: 15 %.
    Source: K. Stephan, Chemie Ingenieur Technik 31 (1959) 773-778, parallel plates at one
    temperature (as quoted in handbooks, from memory).
    Checked against: Teertstra's model of the same sink, a second method (3 to 6 % apart).

    Examples
    --------
    >>> ua = plate_fin_conductance_stephan(
    ...     20 / 3600, 20.0, 3.95e-3, 0.03, 0.1, 1e-3, 200.0, 1.161, 1.845e-5, 0.0263, 0.707, 1007.0
    ... )
    >>> round(float(ua), 1)
    3.7
    """
    if not (
        flow_m3_s >= 0.0
        and channels > 0.0
        and gap_m > 0.0
        and fin_height_m > 0.0
        and length_m > 0.0
        and fin_thickness_m > 0.0
        and fin_conductivity_W_mK > 0.0
        and density_kg_m3 > 0.0
        and viscosity_Pa_s > 0.0
        and air_conductivity_W_mK > 0.0
        and specific_heat_J_kgK > 0.0
    ):
        return nan
    if flow_m3_s == 0.0:
        return 0.0
    speed_m_s = flow_m3_s / (channels * gap_m * fin_height_m)
    width_m = 2.0 * gap_m
    reynolds = density_kg_m3 * speed_m_s * width_m / viscosity_Pa_s
    nusselt: float = nusselt_plates(reynolds, prandtl, length_m / width_m)
    film_W_m2K = nusselt * air_conductivity_W_mK / width_m
    efficiency: float = fin_efficiency(
        film_W_m2K, fin_height_m, fin_thickness_m, fin_conductivity_W_mK
    )
    area_m2 = channels * (2.0 * fin_height_m * efficiency + gap_m) * length_m
    conductance_W_K = film_W_m2K * area_m2
    capacity_W_K = flow_m3_s * density_kg_m3 * specific_heat_J_kgK
    excess = conductance_W_K / (_MOST_UNITS * capacity_W_K)
    excess = excess * excess
    return conductance_W_K / sqrt(sqrt(1.0 + excess * excess))


@law
def plate_fin_conductance_teertstra(
    flow_m3_s: float,
    channels: float,
    gap_m: float,
    fin_height_m: float,
    length_m: float,
    fin_thickness_m: float,
    fin_conductivity_W_mK: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
    air_conductivity_W_mK: float,
    prandtl: float,
    specific_heat_J_kgK: float,
) -> float:
    """Conductance of a plate-fin sink by a second, laminar method, for comparison.

    The method refers its film to the air that comes in; here it is turned into the conductance
    that gives the same heat with the effectiveness ``1 - exp(-UA / (m cp))``.

    Parameters
    ----------
    flow_m3_s : float
        Air through the channels, none around them [m^3/s]; not negative, up to a Reynolds number
        on twice the gap of 4000.
    channels : float
        Channels between the fins [1]; above 0.
    gap_m, fin_height_m, length_m, fin_thickness_m : float
        Clear width of a channel, height of the fins, length along the air, thickness of a fin
        [m]; above 0.
    fin_conductivity_W_mK : float
        Conductivity of the fins [W/m/K]; above 0.
    density_kg_m3, viscosity_Pa_s, air_conductivity_W_mK, specific_heat_J_kgK : float
        Of the air [kg/m^3], [Pa s], [W/m/K], [J/kg/K]; above 0.
    prandtl : float
        Prandtl number of the air [1]; 0.1 to 1000.

    Returns
    -------
    float
        Conductance UA [W/K], in the broadcast shape; 0 without flow; NaN outside the range and
        where the method would warm the air beyond the base (very little flow).

    Notes
    -----
    ``UA = -m cp ln(1 - h A / (m cp))``, ``A = N (2 H eta + b) L``, ``h = Nu k / b`` from
    `nusselt_channel_teertstra`. Beyond a Reynolds number of 2300 it is on the low side.

    Error: 15 %.
    Source: P. Teertstra, M. M. Yovanovich and J. R. Culham, "Analytical forced convection modeling
    of plate fin heat sinks", Journal of Electronics Manufacturing 10 (2000) 253-261; J. R. Culham
    and Y. S. Muzychka, IEEE Transactions on Components and Packaging Technologies 24 (2001)
    159-165.
    Checked against: Stephan's mean Nusselt number for the same sink, a second method.

    Examples
    --------
    >>> ua = plate_fin_conductance_teertstra(
    ...     20 / 3600, 20.0, 3.95e-3, 0.03, 0.1, 1e-3, 200.0, 1.161, 1.845e-5, 0.0263, 0.707, 1007.0
    ... )
    >>> round(float(ua), 1)
    3.9
    """
    if not (
        flow_m3_s >= 0.0
        and channels > 0.0
        and gap_m > 0.0
        and fin_height_m > 0.0
        and length_m > 0.0
        and fin_thickness_m > 0.0
        and fin_conductivity_W_mK > 0.0
        and density_kg_m3 > 0.0
        and viscosity_Pa_s > 0.0
        and air_conductivity_W_mK > 0.0
        and specific_heat_J_kgK > 0.0
    ):
        return nan
    if flow_m3_s == 0.0:
        return 0.0
    speed_m_s = flow_m3_s / (channels * gap_m * fin_height_m)
    gap_reynolds = density_kg_m3 * speed_m_s * gap_m / viscosity_Pa_s
    if 2.0 * gap_reynolds > _LAMINAR_LIMIT:
        return nan
    nusselt: float = nusselt_channel_teertstra(gap_reynolds * gap_m / length_m, prandtl)
    film_W_m2K = nusselt * air_conductivity_W_mK / gap_m
    efficiency: float = fin_efficiency(
        film_W_m2K, fin_height_m, fin_thickness_m, fin_conductivity_W_mK
    )
    area_m2 = channels * (2.0 * fin_height_m * efficiency + gap_m) * length_m
    capacity_W_K = flow_m3_s * density_kg_m3 * specific_heat_J_kgK
    share = film_W_m2K * area_m2 / capacity_W_K
    if not share < 1.0:
        return nan
    return -capacity_W_K * log1p(-share)


@law
def plate_fin_pressure_drop(
    flow_m3_s: float,
    channels: float,
    gap_m: float,
    fin_height_m: float,
    length_m: float,
    fin_thickness_m: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
) -> float:
    """Static pressure that air needs to pass between the fins of a sink.

    Parameters
    ----------
    flow_m3_s : float
        Air through the channels, none around them [m^3/s]; not negative.
    channels : float
        Channels between the fins [1]; above 0.
    gap_m, fin_height_m, length_m, fin_thickness_m : float
        Clear width of a channel, height of the fins, length along the air, thickness of a fin
        [m]; above 0.
    density_kg_m3, viscosity_Pa_s : float
        Of the air [kg/m^3], [Pa s]; above 0.

    Returns
    -------
    float
        Pressure drop [Pa], in the broadcast shape; 0 without flow; NaN outside the range.

    Notes
    -----
    ``dp = (Kc + 4 f L / (2 b) + Ke) rho V^2 / 2`` with the apparent friction factor f of
    `friction_plates` and, for a free share s of the front, ``Kc = 0.42 (1 - s^2)`` and
    ``Ke = (1 - s^2)^2``; N channels stand between N + 1 fins. A fan right against the fins, or
    air that turns into them, costs more.

    Error: 15 %.
    Source: J. R. Culham and Y. S. Muzychka, IEEE Transactions on Components and Packaging
    Technologies 24 (2001) 159-165.
    Checked against: the same formulas worked out apart from this code, two flows; fully developed
    flow between wide plates, 12 mu V L / b^2.

    Examples
    --------
    >>> drop = plate_fin_pressure_drop(
    ...     20 / 3600, 20.0, 3.95e-3, 0.03, 0.1, 1e-3, 1.161, 1.845e-5
    ... )
    >>> round(float(drop), 1)
    6.3
    """
    if not (
        flow_m3_s >= 0.0
        and channels > 0.0
        and gap_m > 0.0
        and fin_height_m > 0.0
        and length_m > 0.0
        and fin_thickness_m > 0.0
        and density_kg_m3 > 0.0
        and viscosity_Pa_s > 0.0
    ):
        return nan
    if flow_m3_s == 0.0:
        return 0.0
    speed_m_s = flow_m3_s / (channels * gap_m * fin_height_m)
    width_m = 2.0 * gap_m
    reynolds = density_kg_m3 * speed_m_s * width_m / viscosity_Pa_s
    friction: float = friction_plates(reynolds, length_m / width_m, gap_m / fin_height_m)
    free = channels * gap_m / (channels * gap_m + (channels + 1.0) * fin_thickness_m)
    blocked = 1.0 - free * free
    losses = 0.42 * blocked + 4.0 * friction * length_m / width_m + blocked * blocked
    return losses * 0.5 * density_kg_m3 * speed_m_s * speed_m_s
