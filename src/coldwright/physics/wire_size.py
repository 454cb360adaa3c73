"""Which size a wire must have: for a drop, by circular mils, as a gauge."""

from __future__ import annotations

from math import floor, log, nan, pi, sqrt

from coldwright.physics.compiled import law
from coldwright.physics.conductor import wire_resistance_per_m_area

_CIRCULAR_MIL_M2 = pi / 4.0 * 25.4e-6 * 25.4e-6
_FOOT_M = 0.3048
# Circular mils times ohm per foot of the boat-wiring rule: copper at about 29 degC.
_RULE_OHM_CMIL_FT = 10.75


@law
def current_by_circular_mils(area_m2: float, allowance_cmil_A: float) -> float:
    """Current that a rule of so many circular mils per ampere allows.

    Parameters
    ----------
    area_m2 : float
        Cross-section [m^2]; not negative.
    allowance_cmil_A : float
        Circular mils per ampere [cmil/A]; above 0. 700 is the "power transmission" column of
        common charts; their "chassis wiring" column is short single wires in free air and prints
        six times as much.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``I = CM / allowance``. A rule of thumb: it knows no insulation, bundle or surroundings.

    Error: exact.
    Source: rule of 700 circular mils per ampere, hand-book practice.
    Checked against: the chart's 3.7 A for 16 AWG and 1.5 A for 20 AWG.

    Examples
    --------
    >>> round(float(current_by_circular_mils(1.309e-6, 700.0)), 2)
    3.69
    """
    if not (area_m2 >= 0.0 and allowance_cmil_A > 0.0):
        return nan
    return area_m2 / _CIRCULAR_MIL_M2 / allowance_cmil_A


@law
def area_for_drop_boat_rule(current_A: float, loop_m: float, drop_V: float) -> float:
    """Least cross-section for a drop by the rule of boat wiring.

    Parameters
    ----------
    current_A : float
        Current [A]; not negative.
    loop_m : float
        Length there and back [m]; not negative.
    drop_V : float
        Allowed drop [V]; above 0.

    Returns
    -------
    float
        Cross-section [m^2], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``CM = 10.75 I L / E`` in circular mils, with L in feet.

    Error: 5 %.
    Source: ABYC E-11, voltage-drop formula and table IX.
    Checked against: the table's gauges, and a boat-wiring guide's worked case of 6271.

    Examples
    --------
    >>> from coldwright.physics.conductor import circular_mils
    >>> round(float(circular_mils(area_for_drop_boat_rule(10.0, 21.0 * 0.3048, 0.36))), 1)
    6270.8
    """
    if not (current_A >= 0.0 and loop_m >= 0.0 and drop_V > 0.0):
        return nan
    return _RULE_OHM_CMIL_FT * current_A * loop_m / _FOOT_M / drop_V * _CIRCULAR_MIL_M2


@law
def area_for_drop(current_A: float, loop_m: float, drop_V: float, temperature_K: float) -> float:
    """Least cross-section of copper for a drop.

    Parameters
    ----------
    current_A : float
        Current [A]; not negative.
    loop_m : float
        Length there and back [m]; not negative.
    drop_V : float
        Allowed drop [V]; above 0.
    temperature_K : float
        Of the copper at work, mostly 333 to 343 [K]; 233 to 423.

    Returns
    -------
    float
        Cross-section of copper [m^2], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``A = rho(T) I L / E``. Metric sizes are resistances: compare those with `E / (I L)`.

    Error: 2 %.
    Source: Ohm's law; IEC 60028 for copper.
    Checked against: the drop of the size found, by `voltage_drop`.

    Examples
    --------
    >>> round(float(area_for_drop(6.0, 4.0, 0.36, 333.15)) * 1e6, 3)
    1.33
    """
    if not (current_A >= 0.0 and loop_m >= 0.0 and drop_V > 0.0):
        return nan
    of_one_m2_ohm_m: float = wire_resistance_per_m_area(1.0, temperature_K)
    return of_one_m2_ohm_m * current_A * loop_m / drop_V


@law
def gauge_for_area(area_m2: float) -> float:
    """Thinnest size of the American gauge that is sold and has at least this cross-section.

    Parameters
    ----------
    area_m2 : float
        Cross-section wanted [m^2]; above 0, at most that of 0000 (107 mm^2).

    Returns
    -------
    float
        Gauge number [1], same shape: even down to 2, then each (0 for 1/0, -3 for 0000), at most
        40; NaN outside the range.

    Notes
    -----
    ``n = 36 - 39 log(d / 0.127 mm) / log 92``, taken down to a listed number.

    Error: exact.
    Source: ASTM B258, standard nominal diameters.
    Checked against: ABYC E-11, table IX.

    Examples
    --------
    >>> float(gauge_for_area(0.9e-6))
    16.0
    """
    if not area_m2 > 0.0:
        return nan
    diameter_m = sqrt(4.0 * area_m2 / pi)
    # A size asked for by its own area must not fall to the next by rounding.
    number = 36.0 - 39.0 * log(diameter_m / 0.127e-3) / log(92.0) + 1e-9
    if number < -3.0:
        return nan
    if number >= 2.0:
        return min(40.0, 2.0 * floor(number / 2.0))
    return float(floor(number))
