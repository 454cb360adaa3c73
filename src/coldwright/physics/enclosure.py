"""Insulated boxes: heat leak with edges and corners, temperature and sweating of their faces."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Conduction shape factors of edges (per length) and corners (per thickness).
EDGE_FACTOR = 0.54
CORNER_FACTOR = 0.15


@law
def box_shape_factor(length_m: float, width_m: float, height_m: float, thickness_m: float) -> float:
    """Conduction shape factor of a box with walls of one thickness.

    The inner area alone leaks too little, the outer area alone far too much.

    Parameters
    ----------
    length_m, width_m, height_m : float or array
        *Inner* dimensions [m]. Valid above a fifth of the thickness.
    thickness_m : float or array
        Wall thickness [m]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Shape factor S [m], so that the heat is k S dT between the faces; NaN outside the valid
        range.

    Notes
    -----
    ``S = A_inner/t + 0.54 * (sum of the 12 inner edges) + 8 * 0.15 t``.

    Error: 2 %.
    Source: Incropera et al., "Fundamentals of Heat and Mass Transfer", table of conduction shape
    factors (plane wall, edge of adjoining walls, corner of three walls).
    Checked against: the exact edge term by conformal mapping, 1 - (2/pi) ln 2 = 0.559; hand
    calculation of a 0.4 m cube.

    Examples
    --------
    >>> round(float(box_shape_factor(0.4, 0.4, 0.4, 0.03)), 3)
    34.628
    """
    if not thickness_m > 0.0:
        return math.nan
    if not min(length_m, width_m, height_m) > thickness_m / 5.0:
        return math.nan
    inner_m2 = 2.0 * (length_m * width_m + width_m * height_m + height_m * length_m)
    edges_m = 4.0 * (length_m + width_m + height_m)
    return inner_m2 / thickness_m + EDGE_FACTOR * edges_m + 8.0 * CORNER_FACTOR * thickness_m


@law
def box_conductance(
    length_m: float,
    width_m: float,
    height_m: float,
    thickness_m: float,
    conductivity_W_mK: float,
    inside_m2K_W: float,
    outside_m2K_W: float,
) -> float:
    """Heat leak of a closed insulated box per kelvin, from air to air.

    Parameters
    ----------
    length_m, width_m, height_m : float or array
        *Inner* dimensions [m]. Valid above a fifth of the thickness.
    thickness_m : float or array
        Wall thickness [m]. Valid above 0.
    conductivity_W_mK : float or array
        Thermal conductivity of the wall [W/(m K)]. Valid above 0.
    inside_m2K_W, outside_m2K_W : float or array
        Surface film resistances [m2 K/W]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Conductance [W/K]; NaN outside the valid range.

    Notes
    -----
    ``1/UA = 1/(k S) + Rsi/A_inner + Rso/A_outer`` with S of `box_shape_factor`. Gaskets, cut-outs,
    screws and leaks come on top.

    Error: 5 %.
    Source: Incropera et al., "Fundamentals of Heat and Mass Transfer", table of conduction shape
    factors; films in series.
    Checked against: hand calculation of a 0.4 m cube.

    Examples
    --------
    >>> round(float(box_conductance(0.4, 0.4, 0.4, 0.03, 0.034, 0.13, 0.13)), 3)
    0.92
    """
    if not (conductivity_W_mK > 0.0 and inside_m2K_W >= 0.0 and outside_m2K_W >= 0.0):
        return math.nan
    shape_m: float = box_shape_factor(length_m, width_m, height_m, thickness_m)
    inner_m2 = 2.0 * (length_m * width_m + width_m * height_m + height_m * length_m)
    a = length_m + 2.0 * thickness_m
    b = width_m + 2.0 * thickness_m
    c = height_m + 2.0 * thickness_m
    outer_m2 = 2.0 * (a * b + b * c + c * a)
    walls_K_W = 1.0 / (conductivity_W_mK * shape_m)
    return 1.0 / (walls_K_W + inside_m2K_W / inner_m2 + outside_m2K_W / outer_m2)


@law
def surface_temperature_factor(u_value_W_m2K: float, film_m2K_W: float) -> float:
    """Share of the air-to-air difference that lies between the far air and the near face.

    Parameters
    ----------
    u_value_W_m2K : float or array
        U-value of the wall [W/(m2 K)]. Valid from 0.
    film_m2K_W : float or array
        Film resistance at the face in question [m2 K/W]. Valid from 0, at most 1/U.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Factor f [-], 0 to 1; NaN outside the valid range.

    Notes
    -----
    ``f = 1 - U Rs``; the face is at ``T_far + f (T_near - T_far)``, see `face_temperature`.

    Error: 5 %.
    Source: EN ISO 13788:2012, temperature factor at the internal surface.
    Checked against: resistances in series by hand.

    Examples
    --------
    >>> round(float(surface_temperature_factor(0.8754, 0.13)), 3)
    0.886
    """
    if not (u_value_W_m2K >= 0.0 and film_m2K_W >= 0.0):
        return math.nan
    factor = 1.0 - u_value_W_m2K * film_m2K_W
    # A bare film (U = 1/Rs) gives 0, but for rounding.
    if factor < -1e-12:
        return math.nan
    return max(factor, 0.0)


@law
def face_temperature(far_K: float, near_K: float, temperature_factor: float) -> float:
    """Temperature of a wall's face.

    Parameters
    ----------
    far_K, near_K : float or array
        Air beyond the wall and air at this face [K]. Valid from 0.
    temperature_factor : float or array
        From `surface_temperature_factor` [-]. Valid 0 to 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Face temperature [K]; it sweats below the near air's dew point. NaN outside the valid range.

    Notes
    -----
    ``T = T_far + f (T_near - T_far)``.

    Error: exact.
    Source: EN ISO 13788:2012, definition of the temperature factor.
    Checked against: resistances in series by hand.

    Examples
    --------
    >>> round(float(face_temperature(281.15, 303.15, 0.886)), 2)
    300.64
    """
    if not (far_K >= 0.0 and near_K >= 0.0 and 0.0 <= temperature_factor <= 1.0):
        return math.nan
    return far_K + temperature_factor * (near_K - far_K)


@law
def anti_sweat_thickness(
    cold_K: float, dew_K: float, ambient_K: float, conductivity_W_mK: float, film_W_m2K: float
) -> float:
    """Least insulation on a flat cold surface that keeps its outside from sweating.

    Parameters
    ----------
    cold_K : float or array
        Temperature under the insulation [K]. Valid up to `ambient_K`.
    dew_K : float or array
        Dew point of the air outside [K]. Valid below `ambient_K`.
    ambient_K : float or array
        Air outside [K].
    conductivity_W_mK : float or array
        Thermal conductivity of the insulation [W/(m K)]. Valid above 0.
    film_W_m2K : float or array
        Surface film outside [W/(m2 K)]: about 7.7 painted and upright, 3 for bright foil. Valid
        above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Thickness [m], 0 where the bare surface is above the dew point; NaN outside the valid
        range: in saturated air no thickness is enough.

    Notes
    -----
    ``d = (k/h) [(Ta - Tc)/(Ta - Tdew) - 1]``: the face just reaches the dew point. Corners and
    pipes need more.

    Error: 5 %.
    Source: series resistances with the face at the dew point; EN ISO 12241:2008, prevention of
    surface condensation on plane walls.
    Checked against: hand calculation at 30 °C and 70 %; the face temperature it gives.

    Examples
    --------
    >>> round(float(anti_sweat_thickness(281.15, 297.07, 303.15, 0.034, 8.0)) * 1e3, 1)
    11.1
    """
    if not (cold_K <= ambient_K and dew_K < ambient_K):
        return math.nan
    if not (conductivity_W_mK > 0.0 and film_W_m2K > 0.0):
        return math.nan
    ratio = (ambient_K - cold_K) / (ambient_K - dew_K)
    return conductivity_W_mK / film_W_m2K * max(ratio - 1.0, 0.0)
