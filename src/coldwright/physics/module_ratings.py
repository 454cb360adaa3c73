"""A module's three constants from the few numbers that are commonly known of it.

Ratings are two ends of a line, never both at once: the largest lift (at no heat) and the largest
heat (at no lift), both at the largest current and one temperature of the hot face.
"""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law


@law
def seebeck_from_ratings(hot_K: float, max_voltage_V: float) -> float:
    """Module Seebeck coefficient from the voltage at the largest lift.

    Parameters
    ----------
    hot_K : float
        Temperature of the hot face for which the ratings hold [K]; above 0.
    max_voltage_V : float
        Voltage where the lift is greatest [V]; above 0.

    Returns
    -------
    float
        Module Seebeck coefficient [V/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``S = Vmax / Th``. At the current of the largest lift, ``I R = S Tc``; so
    ``V = S (Th - Tc) + S Tc = S Th``.

    Error: 8 %.
    Source: "A simple method to estimate the physical characteristics of a thermoelectric cooler
    from vendor datasheets", Electronics Cooling, August 2008 (formulas from memory, derived anew).
    Checked against: the ratings come back from the three constants.

    Examples
    --------
    >>> round(float(seebeck_from_ratings(300.0, 15.4)), 6)
    0.051333
    """
    if not (hot_K > 0.0 and max_voltage_V > 0.0):
        return nan
    return max_voltage_V / hot_K


@law
def resistance_from_ratings(
    hot_K: float, max_difference_K: float, max_current_A: float, max_voltage_V: float
) -> float:
    """Module resistance from the largest lift and the current and voltage there.

    Parameters
    ----------
    hot_K : float
        Temperature of the hot face for which the ratings hold [K]; above 0.
    max_difference_K : float
        Largest lift, at no heat [K]; above 0, below `hot_K`.
    max_current_A, max_voltage_V : float
        Current and voltage where the lift is greatest [A], [V]; above 0.

    Returns
    -------
    float
        Module resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = Vmax (Th - dTmax) / (Imax Th)``, because ``Imax = S Tc / R``.

    Error: 8 %.
    Source: "A simple method to estimate the physical characteristics of a thermoelectric cooler
    from vendor datasheets", Electronics Cooling, August 2008 (formulas from memory, derived anew).
    Checked against: the ratings come back from the three constants.

    Examples
    --------
    >>> round(float(resistance_from_ratings(300.0, 68.0, 6.0, 15.4)), 6)
    1.984889
    """
    if not (
        max_difference_K > 0.0
        and max_difference_K < hot_K
        and max_current_A > 0.0
        and max_voltage_V > 0.0
    ):
        return nan
    return max_voltage_V * (hot_K - max_difference_K) / (max_current_A * hot_K)


@law
def conductance_from_ratings(
    hot_K: float, max_difference_K: float, max_current_A: float, max_voltage_V: float
) -> float:
    """Module thermal conductance from the largest lift and the current and voltage there.

    Parameters
    ----------
    hot_K : float
        Temperature of the hot face for which the ratings hold [K]; above 0.
    max_difference_K : float
        Largest lift, at no heat [K]; above 0, below `hot_K`.
    max_current_A, max_voltage_V : float
        Current and voltage where the lift is greatest [A], [V]; above 0.

    Returns
    -------
    float
        Module conductance [W/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``K = Vmax Imax (Th - dTmax) / (2 Th dTmax)``, because the heat drawn in is 0 there.

    Error: 8 %.
    Source: "A simple method to estimate the physical characteristics of a thermoelectric cooler
    from vendor datasheets", Electronics Cooling, August 2008 (formulas from memory, derived anew).
    Checked against: the ratings come back from the three constants.

    Examples
    --------
    >>> round(float(conductance_from_ratings(300.0, 68.0, 6.0, 15.4)), 6)
    0.525412
    """
    if not (
        max_difference_K > 0.0
        and max_difference_K < hot_K
        and max_current_A > 0.0
        and max_voltage_V > 0.0
    ):
        return nan
    power_W = max_voltage_V * max_current_A
    return power_W * (hot_K - max_difference_K) / (2.0 * hot_K * max_difference_K)


@law
def heat_from_ratings(
    hot_K: float, max_difference_K: float, max_current_A: float, max_voltage_V: float
) -> float:
    """Heat at no lift and the rated current that the other three ratings imply.

    The fourth rating is not free: one that differs by more than some 8 % shows that no module of
    constant properties has all four.

    Parameters
    ----------
    hot_K : float
        Temperature of both faces [K]; above 0.
    max_difference_K : float
        Largest lift, at no heat [K]; above 0, below `hot_K`.
    max_current_A, max_voltage_V : float
        Current and voltage where the lift is greatest [A], [V]; above 0.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Q = S Imax Th - Imax^2 R / 2 = Vmax Imax (Th + dTmax) / (2 Th)``.

    Error: 8 %.
    Source: "A simple method to estimate the physical characteristics of a thermoelectric cooler
    from vendor datasheets", Electronics Cooling, August 2008 (formulas from memory, derived anew).
    Checked against: the same ratings by hand, 15.4 * 6 * 368 / 600 = 56.67 W.

    Examples
    --------
    >>> round(float(heat_from_ratings(300.0, 68.0, 6.0, 15.4)), 3)
    56.672
    """
    if not (
        max_difference_K > 0.0
        and max_difference_K < hot_K
        and max_current_A > 0.0
        and max_voltage_V > 0.0
    ):
        return nan
    return max_voltage_V * max_current_A * (hot_K + max_difference_K) / (2.0 * hot_K)


@law
def resistance_from_divider(
    known_resistor_ohm: float, whole_voltage_V: float, known_resistor_voltage_V: float
) -> float:
    """Module resistance from a small alternating voltage over it and a known resistor in series.

    Alternating, so that no lift and with it no back voltage builds up.

    Parameters
    ----------
    known_resistor_ohm : float
        The known resistor [ohm]; above 0.
    whole_voltage_V : float
        Voltage over resistor and module together [V]; not below the next.
    known_resistor_voltage_V : float
        Voltage over the known resistor [V]; above 0.

    Returns
    -------
    float
        Resistance of the module [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    One current runs through both: ``R = Rk (U / Uk - 1)``. A common slip is ``Rk U / Uk - 1``,
    which is wrong by several times and which a steady run at once refutes.

    Error: exact.
    Source: Ohm's law, resistors in series.
    Checked against: an open laboratory journal (128.4 mV, 85.2 mV, 10.2 ohm) and its steady runs.

    Examples
    --------
    >>> round(float(resistance_from_divider(10.0, 0.15, 0.10)), 9)
    5.0
    """
    if not (
        known_resistor_ohm > 0.0
        and known_resistor_voltage_V > 0.0
        and whole_voltage_V >= known_resistor_voltage_V
    ):
        return nan
    return known_resistor_ohm * (whole_voltage_V / known_resistor_voltage_V - 1.0)
