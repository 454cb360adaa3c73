"""A jet of air in a still place: how fast and how much cooler it still is at a distance."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Centre-line constant K of outlets: ASHRAE Handbook Fundamentals 2021 (SI), chapter 20, table 1.
JET_FACTORS = {"free nozzle": 6.0, "grille": 5.7, "grille, spreading": 4.0}
# A jet that runs free has this part of the throw of one that clings to a ceiling; same chapter.
FREE_OVER_ATTACHED = 0.707


@law
def jet_velocity(flow_m3_s: float, area_m2: float, distance_m: float, jet_factor: float) -> float:
    """Speed on the centre line of a free jet.

    Parameters
    ----------
    flow_m3_s : float or array
        Air blown out [m3/s]. Valid from 0.
    area_m2 : float or array
        Open area of the outlet [m2]. Valid above 0.
    distance_m : float or array
        Distance from the outlet [m]. Valid from 0.
    jet_factor : float or array
        Constant K of the outlet, see `JET_FACTORS` [-]. Valid 1 to 10.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Speed [m/s]; NaN outside the valid range.

    Notes
    -----
    ``V = K Q0 / (X sqrt(A0))``, at most the outlet's own ``Q0 / A0``: near the outlet lies a core
    of full speed, about five diameters long. A jet of the place's own temperature; a cold one sinks
    besides. Below 0.25 m/s it dies out sooner than this.

    Error: 20 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 20, equation 4 and table 1.
    Checked against: the same chapter's worked example 1; hand calculation of a 100 mm nozzle;
    the 6.2 diameters over distance of measured round jets (C. J. Chen and W. Rodi, "Vertical
    Turbulent Buoyant Jets", 1980, from memory).

    Examples
    --------
    >>> round(float(jet_velocity(60.0 / 3600.0, 0.25 * math.pi * 0.1**2, 1.0, 5.7)), 3)
    1.072
    """
    if not (flow_m3_s >= 0.0 and area_m2 > 0.0 and distance_m >= 0.0 and 1.0 <= jet_factor <= 10.0):
        return math.nan
    outlet = flow_m3_s / area_m2
    core_m = jet_factor * math.sqrt(area_m2)
    return outlet if distance_m <= core_m else outlet * core_m / distance_m


@law
def jet_throw(flow_m3_s: float, area_m2: float, velocity_m_s: float, jet_factor: float) -> float:
    """Distance at which a free jet has slowed down to a given speed.

    Parameters
    ----------
    flow_m3_s : float or array
        Air blown out [m3/s]. Valid from 0.
    area_m2 : float or array
        Open area of the outlet [m2]. Valid above 0.
    velocity_m_s : float or array
        Speed on the centre line [m/s]. Valid above 0.
    jet_factor : float or array
        Constant K of the outlet, see `JET_FACTORS` [-]. Valid 1 to 10.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Distance [m], 0 where the jet never is as fast; NaN outside the valid range.

    Notes
    -----
    ``X = K Q0 / (V sqrt(A0))``. For 0.25 m/s and less the handbook takes off 30 %, which is left to
    the caller.

    Error: 20 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 20, equation 5.
    Checked against: the same chapter's worked example 1.

    Examples
    --------
    >>> round(float(jet_throw(0.3, 0.8 * 0.28 * 0.43, 0.5, 5.7)), 1)
    11.0
    """
    if not (flow_m3_s >= 0.0 and area_m2 > 0.0 and velocity_m_s > 0.0):
        return math.nan
    if not 1.0 <= jet_factor <= 10.0:
        return math.nan
    if velocity_m_s * area_m2 > flow_m3_s:
        return 0.0
    return jet_factor * flow_m3_s / (velocity_m_s * math.sqrt(area_m2))


@law
def entrainment_ratio(area_m2: float, distance_m: float, jet_factor: float) -> float:
    """Air that moves in a free jet over the air blown out.

    Parameters
    ----------
    area_m2 : float or array
        Open area of the outlet [m2]. Valid above 0.
    distance_m : float or array
        Distance from the outlet [m]. Valid from 0.
    jet_factor : float or array
        Constant K of the outlet, see `JET_FACTORS` [-]. Valid 1 to 10.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Ratio of flows [-], at least 1; NaN outside the valid range.

    Notes
    -----
    ``Qx / Q0 = 2 X / (K sqrt(A0))``: the momentum stays, so what slows down must grow.

    Error: 20 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 20, equation 7.
    Checked against: hand calculation of a 100 mm nozzle; the entrainment that F. P. Ricou and D. B.
    Spalding measured (J. Fluid Mech. 11, 1961).

    Examples
    --------
    >>> round(float(entrainment_ratio(0.25 * math.pi * 0.1**2, 1.0, 5.7)), 2)
    3.96
    """
    if not (area_m2 > 0.0 and distance_m >= 0.0 and 1.0 <= jet_factor <= 10.0):
        return math.nan
    return max(1.0, 2.0 * distance_m / (jet_factor * math.sqrt(area_m2)))


@law
def jet_mean_difference(
    difference_K: float, area_m2: float, distance_m: float, jet_factor: float
) -> float:
    """Mean temperature difference between a free jet and the place it blows into.

    Parameters
    ----------
    difference_K : float or array
        Air blown out less air of the place [K], negative for cold air.
    area_m2 : float or array
        Open area of the outlet [m2]. Valid above 0.
    distance_m : float or array
        Distance from the outlet [m]. Valid from 0.
    jet_factor : float or array
        Constant K of the outlet, see `JET_FACTORS` [-]. Valid 1 to 10.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Difference, weighted by the flow [K]; NaN outside the valid range.

    Notes
    -----
    ``dT_x = dT_0 Q0 / Qx``: the heat stays in the jet, and what it draws in has the temperature of
    the place. The middle is further off: `jet_centre_difference`.

    Error: 20 %.
    Source: balance of heat with the entrainment of ASHRAE Handbook Fundamentals 2021 (SI), chapter
    20, equation 7.
    Checked against: hand calculation of a 100 mm nozzle: a quarter is left at 1 m.

    Examples
    --------
    >>> round(float(jet_mean_difference(-8.0, 0.25 * math.pi * 0.1**2, 1.0, 5.7)), 2)
    -2.02
    """
    drawn: float = entrainment_ratio(area_m2, distance_m, jet_factor)
    return difference_K / drawn


@law
def jet_centre_difference(
    difference_K: float, area_m2: float, distance_m: float, jet_factor: float
) -> float:
    """Temperature difference to the place on the centre line of a free jet.

    Parameters
    ----------
    difference_K : float or array
        Air blown out less air of the place [K], negative for cold air.
    area_m2 : float or array
        Open area of the outlet [m2]. Valid above 0.
    distance_m : float or array
        Distance from the outlet [m]. Valid from 0.
    jet_factor : float or array
        Constant K of the outlet, see `JET_FACTORS` [-]. Valid 1 to 10.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Difference [K]; NaN outside the valid range.

    Notes
    -----
    ``dT_x = 0.8 dT_0 V_x / V_0``, at most dT_0: heat spreads a little faster than speed. It belongs
    to `jet_velocity`, for someone who sits in the middle of the jet.

    Error: 20 %.
    Source: A. Koestel, "Computing temperatures and velocities in vertical jets of hot or cold air",
    ASHVE Transactions 60, 1954; ASHRAE Handbook Fundamentals, chapter 20 (the 0.8 from memory).
    Checked against: the balance of heat in a jet of two bell-shaped profiles; the 5 diameters over
    distance of measured round jets (C. J. Chen and W. Rodi, "Vertical Turbulent Buoyant Jets",
    1980, from memory).

    Examples
    --------
    >>> round(float(jet_centre_difference(-8.0, 0.25 * math.pi * 0.1**2, 1.0, 5.7)), 2)
    -3.23
    """
    if not (area_m2 > 0.0 and distance_m >= 0.0 and 1.0 <= jet_factor <= 10.0):
        return math.nan
    core_m = 0.8 * jet_factor * math.sqrt(area_m2)
    return difference_K if distance_m <= core_m else difference_K * core_m / distance_m
