"""Thermal resistance of walls: slabs, films, air layers, bridged layers, U-values."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law
from coldwright.physics.radiation import effective_emissivity, radiant_coefficient

# Which way the heat flows, as a number that compiled code can carry.
HEAT_UP = 1.0
HEAT_SIDEWAYS = 0.0
HEAT_DOWN = -1.0


@law
def slab_resistance(thickness_m: float, conductivity_W_mK: float) -> float:
    """Thermal resistance of a plain layer, per area.

    Parameters
    ----------
    thickness_m : float or array
        Thickness [m]. Valid from 0.
    conductivity_W_mK : float or array
        Thermal conductivity [W/(m K)], the design value, not the best on a label. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Resistance [m2 K/W]; NaN outside the valid range.

    Notes
    -----
    ``R = d / lambda``.

    Error: exact.
    Source: EN ISO 6946:2017, resistance of homogeneous layers.
    Checked against: hand calculation of a foam panel.

    Examples
    --------
    >>> round(float(slab_resistance(0.030, 0.034)), 4)
    0.8824
    """
    if not (thickness_m >= 0.0 and conductivity_W_mK > 0.0):
        return math.nan
    return thickness_m / conductivity_W_mK


@law
def film_convection_interior(direction: float) -> float:
    """Convective part of the indoor surface film.

    Parameters
    ----------
    direction : float or array
        Direction of the heat flow [1]: `HEAT_UP` 1, `HEAT_SIDEWAYS` 0, `HEAT_DOWN` -1. No others.

    Returns
    -------
    float or array, same shape as the input
        Coefficient [W/(m2 K)]; NaN for any other direction.

    Notes
    -----
    5.0 upwards, 2.5 sideways, 0.7 downwards. Still room air; a fan's jet along the wall raises it.

    Error: 20 %.
    Source: EN ISO 6946:2017, annex on surface resistances (values from memory).
    Checked against: the same standard's surface resistances 0.10, 0.13 and 0.17 m2 K/W.

    Examples
    --------
    >>> float(film_convection_interior(0.0))
    2.5
    """
    if direction == 1.0:
        return 5.0
    if direction == 0.0:
        return 2.5
    if direction == -1.0:
        return 0.7
    return math.nan


@law
def film_convection_exterior(wind_m_s: float) -> float:
    """Convective part of the outdoor surface film.

    Parameters
    ----------
    wind_m_s : float or array
        Wind speed near the surface [m/s]. Valid 0 to 20.

    Returns
    -------
    float or array, same shape as the input
        Coefficient [W/(m2 K)]; NaN outside the valid range.

    Notes
    -----
    ``h = 4 + 4 v``.

    Error: 20 %.
    Source: EN ISO 6946:2017, annex on surface resistances (values from memory).
    Checked against: the same standard's surface resistance 0.04 m2 K/W at 4 m/s.

    Examples
    --------
    >>> float(film_convection_exterior(4.0))
    20.0
    """
    if not 0.0 <= wind_m_s <= 20.0:
        return math.nan
    return 4.0 + 4.0 * wind_m_s


@law
def film_resistance(convection_W_m2K: float, emissivity: float, mean_K: float) -> float:
    """Resistance between a surface and its surroundings, by convection and radiation together.

    Parameters
    ----------
    convection_W_m2K : float or array
        Convective coefficient [W/(m2 K)]. Valid from 0.
    emissivity : float or array
        Emissivity of the surface [-]; bright foil on the outside raises the resistance and makes
        sweating likelier. Valid 0 to 1, the film above 0 in sum.
    mean_K : float or array
        Mean temperature of the surface and what it sees [K]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Resistance [m2 K/W]; NaN outside the valid range.

    Notes
    -----
    ``Rs = 1 / (hc + eps 4 sigma T**3)``, with the surroundings' surfaces at air temperature.

    Error: 15 %.
    Source: EN ISO 6946:2017, annex on surface resistances.
    Checked against: the same standard's 0.10, 0.13, 0.17 and 0.04 m2 K/W.

    Examples
    --------
    >>> round(float(film_resistance(2.5, 0.9, 293.15)), 3)
    0.131
    """
    if not (convection_W_m2K >= 0.0 and 0.0 <= emissivity <= 1.0):
        return math.nan
    radiation: float = radiant_coefficient(mean_K)
    film = convection_W_m2K + emissivity * radiation
    if not film > 0.0:
        return math.nan
    return 1.0 / film


@law
def gap_convection(thickness_m: float, direction: float) -> float:
    """Conduction and convection through an unventilated air layer.

    Parameters
    ----------
    thickness_m : float or array
        Thickness of the layer along the heat flow [m]. Valid above 0, to 0.3 m.
    direction : float or array
        Direction of the heat flow [1]: `HEAT_UP` 1, `HEAT_SIDEWAYS` 0, `HEAT_DOWN` -1. No others.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Coefficient [W/(m2 K)]; NaN outside the valid range.

    Notes
    -----
    The larger of ``0.025/d`` and 1.95 (up), 1.25 (sideways) or ``0.12 d**-0.44`` (down), for
    temperature differences up to 5 K across the layer.

    Error: 20 %.
    Source: EN ISO 6946:2017, annex on air layers (values from memory).
    Checked against: the same standard's table of air layer resistances, sideways.

    Examples
    --------
    >>> round(float(gap_convection(0.010, 0.0)), 6)
    2.5
    """
    if not 0.0 < thickness_m <= 0.3:
        return math.nan
    still = 0.025 / thickness_m
    if direction == 1.0:
        return max(1.95, still)
    if direction == 0.0:
        return max(1.25, still)
    if direction == -1.0:
        return max(0.12 * math.pow(thickness_m, -0.44), still)
    return math.nan


@law
def gap_resistance(
    thickness_m: float,
    direction: float,
    first_emissivity: float,
    second_emissivity: float,
    mean_K: float,
) -> float:
    """Resistance of an unventilated air layer between two faces.

    Parameters
    ----------
    thickness_m : float or array
        Thickness along the heat flow [m]. Valid above 0, to 0.3 m.
    direction : float or array
        Direction of the heat flow [1]: `HEAT_UP` 1, `HEAT_SIDEWAYS` 0, `HEAT_DOWN` -1.
    first_emissivity, second_emissivity : float or array
        Emissivities of the two faces [-]. Valid above 0, to 1.
    mean_K : float or array
        Mean temperature of the layer [K]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Resistance [m2 K/W]; NaN outside the valid range.

    Notes
    -----
    ``Rg = 1 / (ha + E h_r0)`` with `gap_convection`, `effective_emissivity` and
    `radiant_coefficient`.

    Error: 15 %.
    Source: EN ISO 6946:2017, annex on air layers.
    Checked against: the same standard's table of air layer resistances, sideways.

    Examples
    --------
    >>> round(float(gap_resistance(0.025, 0.0, 0.9, 0.9, 283.15)), 2)
    0.18
    """
    convection: float = gap_convection(thickness_m, direction)
    factor: float = effective_emissivity(first_emissivity, second_emissivity)
    radiation: float = radiant_coefficient(mean_K)
    return 1.0 / (convection + factor * radiation)


@law
def parallel_resistance(share: float, first_m2K_W: float, second_m2K_W: float) -> float:
    """Resistance per area of two materials side by side.

    Parameters
    ----------
    share : float or array
        Share of the area that the first takes [-]. Valid 0 to 1.
    first_m2K_W, second_m2K_W : float or array
        Resistances per area of the two [m2 K/W]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Resistance [m2 K/W]; NaN outside the valid range.

    Notes
    -----
    ``1/R = f/R1 + (1 - f)/R2``. Of whole sections from air to air it is the upper limit of a
    bridged wall; of the bridged layer alone, with the other layers added, the lower limit.

    Error: exact.
    Source: EN ISO 6946:2017, combined method, upper and lower limit.
    Checked against: hand calculation of a timber-framed wall.

    Examples
    --------
    >>> round(float(parallel_resistance(0.85, 3.1733, 1.0854)), 4)
    2.4627
    """
    if not (0.0 <= share <= 1.0 and first_m2K_W > 0.0 and second_m2K_W > 0.0):
        return math.nan
    return 1.0 / (share / first_m2K_W + (1.0 - share) / second_m2K_W)


@law
def combined_resistance(lower_m2K_W: float, upper_m2K_W: float) -> float:
    """Resistance of a bridged wall between its two limits.

    Parameters
    ----------
    lower_m2K_W, upper_m2K_W : float or array
        The two limits, see `parallel_resistance` [m2 K/W]. Valid above 0, upper at least lower and
        at most 1.5 times it (beyond, the method does not hold).

    Returns
    -------
    float or array, broadcast shape of the inputs
        Resistance [m2 K/W]; NaN outside the valid range.

    Notes
    -----
    ``R = (R_upper + R_lower) / 2``.

    Error: 20 %.
    Source: EN ISO 6946:2017, combined method and its limit of use.
    Checked against: hand calculation of a timber-framed wall.

    Examples
    --------
    >>> round(float(combined_resistance(2.3466, 2.4627)), 3)
    2.405
    """
    # A grace of 1e-12: without a bridge the two limits are one, but for rounding.
    if not (0.0 < lower_m2K_W <= upper_m2K_W * (1.0 + 1e-12) and upper_m2K_W <= 1.5 * lower_m2K_W):
        return math.nan
    return 0.5 * (lower_m2K_W + upper_m2K_W)


@law
def combined_error(lower_m2K_W: float, upper_m2K_W: float) -> float:
    """Largest relative error of `combined_resistance`.

    Parameters
    ----------
    lower_m2K_W, upper_m2K_W : float or array
        The two limits [m2 K/W], ranges as in `combined_resistance`.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Half width over the mean, as a ratio [-]; NaN outside the valid range.

    Notes
    -----
    ``e = (R_upper - R_lower) / (2 R)``.

    Error: exact.
    Source: EN ISO 6946:2017, combined method, estimate of the error.
    Checked against: hand calculation of a timber-framed wall.

    Examples
    --------
    >>> round(float(combined_error(2.3466, 2.4627)), 3)
    0.024
    """
    mean: float = combined_resistance(lower_m2K_W, upper_m2K_W)
    return (upper_m2K_W - lower_m2K_W) / (2.0 * mean)


@law
def u_value(inside_m2K_W: float, layers_m2K_W: float, outside_m2K_W: float) -> float:
    """Thermal transmittance of a wall from air to air.

    Parameters
    ----------
    inside_m2K_W, outside_m2K_W : float or array
        Surface film resistances [m2 K/W]. Valid from 0.
    layers_m2K_W : float or array
        Sum of the layers [m2 K/W]. Valid from 0, the total above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        U-value [W/(m2 K)]; NaN outside the valid range.

    Notes
    -----
    ``U = 1 / (Rsi + R + Rse)``.

    Error: exact.
    Source: EN ISO 6946:2017, thermal transmittance.
    Checked against: hand calculation of foam panels, bare and with skins.

    Examples
    --------
    >>> round(float(u_value(0.13, 0.8824, 0.13)), 3)
    0.875
    """
    if not (inside_m2K_W >= 0.0 and layers_m2K_W >= 0.0 and outside_m2K_W >= 0.0):
        return math.nan
    total = inside_m2K_W + layers_m2K_W + outside_m2K_W
    if not total > 0.0:
        return math.nan
    return 1.0 / total
