"""Heat on the way through a duct: what the air in it loses to the air around it."""

from __future__ import annotations

from math import exp, expm1, nan, pi

from coldwright.physics.channel_flow import nusselt_tube
from coldwright.physics.compiled import law


@law
def duct_end_temperature(
    inlet_K: float, surroundings_K: float, conductance_W_K: float, capacity_rate_W_K: float
) -> float:
    """Temperature at which air leaves a duct that runs through other air.

    Parameters
    ----------
    inlet_K, surroundings_K : float
        Air that enters the duct, air around the duct [K]; above 0.
    conductance_W_K : float
        From the air in the duct to the air around it, all along [W/K]; not negative.
    capacity_rate_W_K : float
        Mass flow times specific heat of the air in the duct [W/K]; not negative.

    Returns
    -------
    float
        Temperature at the end [K], in the broadcast shape; that of the surroundings without
        flow; NaN outside the range.

    Notes
    -----
    ``T = Ts + (T0 - Ts) exp(-UA / (m cp))``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 8,
    internal flow in a uniform surrounding.
    Checked against: a duct integrated in 10,000 short pieces.

    Examples
    --------
    >>> round(float(duct_end_temperature(310.0, 300.0, 0.0, 20.0)), 3)
    310.0
    """
    if not (
        inlet_K > 0.0
        and surroundings_K > 0.0
        and conductance_W_K >= 0.0
        and capacity_rate_W_K >= 0.0
    ):
        return nan
    if capacity_rate_W_K == 0.0:
        return surroundings_K
    return surroundings_K + (inlet_K - surroundings_K) * exp(-conductance_W_K / capacity_rate_W_K)


@law
def duct_heat_loss(
    inlet_K: float, surroundings_K: float, conductance_W_K: float, capacity_rate_W_K: float
) -> float:
    """Heat that the air in a duct gives to the air around it.

    Parameters
    ----------
    inlet_K, surroundings_K : float
        Air that enters the duct, air around the duct [K]; above 0.
    conductance_W_K : float
        From the air in the duct to the air around it, all along [W/K]; not negative.
    capacity_rate_W_K : float
        Mass flow times specific heat of the air in the duct [W/K]; not negative.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; negative where the duct is colder; 0 without flow; NaN
        outside the range.

    Notes
    -----
    ``q = m cp (T0 - Ts) (1 - exp(-UA / (m cp)))``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 8,
    internal flow in a uniform surrounding.
    Checked against: a duct integrated in 10,000 short pieces.

    Examples
    --------
    >>> round(float(duct_heat_loss(310.0, 300.0, 1e9, 20.0)), 3)
    200.0
    """
    if not (
        inlet_K > 0.0
        and surroundings_K > 0.0
        and conductance_W_K >= 0.0
        and capacity_rate_W_K >= 0.0
    ):
        return nan
    if capacity_rate_W_K == 0.0:
        return 0.0
    reached = -expm1(-conductance_W_K / capacity_rate_W_K)
    return capacity_rate_W_K * (inlet_K - surroundings_K) * reached


@law
def duct_surface_heat(
    coefficient_W_m2K: float, area_m2: float, surface_K: float, room_K: float
) -> float:
    """Heat that a duct's outside gives to the room, from its surface temperature.

    Parameters
    ----------
    coefficient_W_m2K : float
        Film and radiation together [W/m^2/K]; not negative. Test rules for portable air
        conditioners take 17.03.
    area_m2 : float
        Outside area of the duct in the room [m^2]; not negative.
    surface_K, room_K : float
        Surface of the duct and air of the room [K]; above 0.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``q = h A (Ts - Tr)``.

    Error: 20 %.
    Source: US 10 CFR 430, Subpart B, Appendix CC (form and coefficient from memory).
    Checked against: 6 in by 5 ft at 115 degF in a room of 80 degF, by hand: 824.7 Btu/h.

    Examples
    --------
    >>> round(float(duct_surface_heat(10.0, 0.7, 310.0, 300.0)), 6)
    70.0
    """
    if not (coefficient_W_m2K >= 0.0 and area_m2 >= 0.0 and surface_K > 0.0 and room_K > 0.0):
        return nan
    return coefficient_W_m2K * area_m2 * (surface_K - room_K)


@law
def duct_inner_film(
    flow_m3_s: float,
    diameter_m: float,
    length_m: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
    air_conductivity_W_mK: float,
    prandtl: float,
) -> float:
    """Film coefficient from the air in a round duct to its wall.

    Parameters
    ----------
    flow_m3_s : float
        Air through the duct [m^3/s]; not negative.
    diameter_m, length_m : float
        Inner diameter and length [m]; above 0.
    density_kg_m3, viscosity_Pa_s, air_conductivity_W_mK : float
        Of the air [kg/m^3], [Pa s], [W/m/K]; above 0.
    prandtl : float
        Prandtl number [1]; 0.5 to 1000.

    Returns
    -------
    float
        Film coefficient [W/m^2/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``h = Nu k / D`` with `nusselt_tube`. Smooth wall: a corrugated duct has more.

    Error: 25 %.
    Source: V. Gnielinski, International Chemical Engineering 16 (1976) 359-368.
    Checked against: Dittus-Boelter, 0.023 Re^0.8 Pr^0.4, in a long duct.

    Examples
    --------
    >>> round(float(duct_inner_film(0.0, 0.15, 1e6, 1.2, 1.8e-5, 0.026, 0.71)), 2)
    0.63
    """
    if not (
        flow_m3_s >= 0.0
        and diameter_m > 0.0
        and length_m > 0.0
        and density_kg_m3 > 0.0
        and viscosity_Pa_s > 0.0
        and air_conductivity_W_mK > 0.0
    ):
        return nan
    reynolds = 4.0 * density_kg_m3 * flow_m3_s / (pi * diameter_m * viscosity_Pa_s)
    nusselt: float = nusselt_tube(reynolds, prandtl, length_m / diameter_m)
    return nusselt * air_conductivity_W_mK / diameter_m
