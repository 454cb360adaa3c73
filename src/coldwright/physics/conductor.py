"""Copper wires: sizes of three worlds (metric, AWG, SAE), resistance, drop and loss.

The tables keep the units of their standards (mm^2, ohm per km, circular mils) because people look
them up; the laws and `cable_resistance_per_m` speak SI.
"""

from __future__ import annotations

from math import nan, pi
from typing import Final

from coldwright.physics.compiled import law

_COPPER_OHM_M = 1.7241e-8  # IACS, annealed copper at 20 degC
_COPPER_1_K = 0.00393  # its temperature coefficient at 20 degC
_REFERENCE_K = 293.15
_CIRCULAR_MIL_M2 = pi / 4.0 * 25.4e-6 * 25.4e-6

# Nominal size [mm^2] -> largest resistance at 20 degC [ohm/km], plain copper: IEC 60228.
# Class 5 is flexible (cords, hook-up wire), class 2 stranded for fixed wiring.
RESISTANCE_CLASS5: Final[dict[float, float]] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
}
RESISTANCE_CLASS2: Final[dict[float, float]] = {
    0.5: 36.0,
    0.75: 24.5,
    1.0: 18.1,
    1.5: 12.1,
    2.5: 7.41,
    4.0: 4.61,
    6.0: 3.08,
    10.0: 1.83,
}

# SAE gauge -> smallest area [circular mils]: automotive and marine cable, thinner than AWG of the
# same number. Boat-wiring guides; the three largest settled by the ABYC E-11 table.
SAE_CIRCULAR_MILS: Final[dict[int, float]] = {
    18: 1537.0,
    16: 2336.0,
    14: 3702.0,
    12: 5833.0,
    10: 9343.0,
    8: 14810.0,
    6: 24538.0,
    4: 37360.0,
}


def cable_resistance_per_m(size_mm2: float, conductor_class: int = 5) -> float:
    """Largest resistance at 20 degC of a metric wire that its standard allows [ohm/m].

    Parameters
    ----------
    size_mm2
        Nominal size, one of the table's.
    conductor_class
        5 (flexible) or 2 (stranded, fixed wiring).

    Raises
    ------
    ValueError
        When the standard's table has no such size or there is no table for the class.

    Source: IEC 60228, tables 2 and 3 (read in secondary copies).
    """
    tables = {5: RESISTANCE_CLASS5, 2: RESISTANCE_CLASS2}
    if conductor_class not in tables:
        raise ValueError(f"class {conductor_class} is not one of {sorted(tables)}")
    table = tables[conductor_class]
    if size_mm2 not in table:
        raise ValueError(f"{size_mm2:g} mm2 is not one of {sorted(table)}")
    return table[size_mm2] / 1000.0


@law
def awg_diameter(gauge: float) -> float:
    """Diameter of a solid wire of the American gauge.

    Parameters
    ----------
    gauge : float
        Gauge number [1]; -3 (0000) to 40, 0 for 1/0, -1 for 2/0.

    Returns
    -------
    float
        Diameter [m], same shape; NaN outside the range.

    Notes
    -----
    ``d = 0.127 mm 92^((36 - n) / 39)``.

    Error: 1 %.
    Source: ASTM B258, standard nominal diameters.
    Checked against: its ends, 0.0050 in for 36 and 0.4600 in for 0000.

    Examples
    --------
    >>> round(float(awg_diameter(18.0)) * 1e3, 3)
    1.024
    """
    if not (-3.0 <= gauge <= 40.0):
        return nan
    return 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)


@law
def awg_area(gauge: float) -> float:
    """Cross-section of a solid wire of the American gauge.

    Parameters
    ----------
    gauge : float
        Gauge number [1]; -3 (0000) to 40.

    Returns
    -------
    float
        Cross-section [m^2], same shape; NaN outside the range.

    Notes
    -----
    ``A = pi d^2 / 4``. Stranded wire has a little less copper.

    Error: 2 %.
    Source: ASTM B258, standard nominal diameters.
    Checked against: handbook values of 18, 14, 12 and 10 AWG.

    Examples
    --------
    >>> round(float(awg_area(18.0)) * 1e6, 3)
    0.823
    """
    diameter_m: float = awg_diameter(gauge)
    return 0.25 * pi * diameter_m * diameter_m


@law
def circular_mils(area_m2: float) -> float:
    """Cross-section in circular mils, the unit of American cable tables.

    Parameters
    ----------
    area_m2 : float
        Cross-section [m^2]; not negative.

    Returns
    -------
    float
        Cross-section [cmil], same shape; NaN outside the range.

    Notes
    -----
    One is the area of a circle of a thousandth of an inch.

    Error: exact.
    Source: definition; ASTM B258.
    Checked against: 18 AWG, 1624.

    Examples
    --------
    >>> round(float(circular_mils(0.82302e-6)))
    1624
    """
    if not area_m2 >= 0.0:
        return nan
    return area_m2 / _CIRCULAR_MIL_M2


@law
def sae_area(area_cmil: float) -> float:
    """Cross-section from circular mils, as `SAE_CIRCULAR_MILS` lists them.

    Parameters
    ----------
    area_cmil : float
        Cross-section [cmil]; not negative.

    Returns
    -------
    float
        Cross-section [m^2], same shape; NaN outside the range.

    Notes
    -----
    One is the area of a circle of a thousandth of an inch, 506.7e-12 m^2.

    Error: exact.
    Source: definition; ASTM B258.
    Checked against: the definition by hand.

    Examples
    --------
    >>> round(float(sae_area(3702.0)) * 1e6, 3)
    1.876
    """
    if not area_cmil >= 0.0:
        return nan
    return area_cmil * _CIRCULAR_MIL_M2


@law
def wire_resistance_per_m_area(area_m2: float, temperature_K: float) -> float:
    """Resistance of a metre of copper wire of a known cross-section.

    Parameters
    ----------
    area_m2 : float
        Cross-section of copper [m^2]; above 0.
    temperature_K : float
        Of the copper [K]; 233 to 423.

    Returns
    -------
    float
        Resistance [ohm/m], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``rho (1 + 0.00393 (T - 293.15)) / A``, rho = 1.7241e-8 ohm m. A metric size is a largest
    resistance, not a cross-section: take `cable_resistance_per_m` for it.

    Error: 2 %.
    Source: IEC 60028, annealed copper (IACS).
    Checked against: handbook values of 18, 14, 12 and 10 AWG.

    Examples
    --------
    >>> round(float(wire_resistance_per_m_area(1e-6, 293.15)) * 1e3, 4)
    17.241
    """
    if not (area_m2 > 0.0 and 233.0 <= temperature_K <= 423.0):
        return nan
    return _COPPER_OHM_M * (1.0 + _COPPER_1_K * (temperature_K - _REFERENCE_K)) / area_m2


@law
def wire_resistance_per_m_awg(gauge: float, temperature_K: float) -> float:
    """Resistance of a metre of copper wire of the American gauge.

    Parameters
    ----------
    gauge : float
        Gauge number [1]; -3 (0000) to 40.
    temperature_K : float
        Of the copper [K]; 233 to 423.

    Returns
    -------
    float
        Resistance [ohm/m], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``rho (1 + 0.00393 (T - 293.15)) / A``, rho = 1.7241e-8 ohm m.

    Error: 3 %.
    Source: ASTM B258 (size), IEC 60028 (annealed copper, IACS).
    Checked against: handbook values of 18, 14, 12 and 10 AWG.

    Examples
    --------
    >>> round(float(wire_resistance_per_m_awg(18.0, 293.15)) * 1e3, 2)
    20.95
    """
    area_m2: float = awg_area(gauge)
    value: float = wire_resistance_per_m_area(area_m2, temperature_K)
    return value


@law
def resistance_at_temperature(resistance_ohm: float, temperature_K: float) -> float:
    """Resistance of copper at another temperature, from that at 20 degC.

    Parameters
    ----------
    resistance_ohm : float
        At 20 degC [ohm], or per length; not negative.
    temperature_K : float
        Of the copper [K]; 233 to 423.

    Returns
    -------
    float
        Resistance [ohm], or per length as the input, in the broadcast shape; NaN outside the
        range.

    Notes
    -----
    ``R = R20 (1 + 0.00393 (T - 293.15))``.

    Error: 0.5 %.
    Source: IEC 60028, annealed copper.
    Checked against: IEC 60228, temperature factors (0.893 at 50 and 0.833 at 70 degC, inverse).

    Examples
    --------
    >>> round(float(resistance_at_temperature(1.0, 333.15)), 4)
    1.1572
    """
    if not (resistance_ohm >= 0.0 and 233.0 <= temperature_K <= 423.0):
        return nan
    return resistance_ohm * (1.0 + _COPPER_1_K * (temperature_K - _REFERENCE_K))


@law
def loop_resistance(resistance_ohm_m: float, distance_m: float) -> float:
    """Resistance of a pair of wires, there and back.

    Parameters
    ----------
    resistance_ohm_m : float
        Of one wire per length [ohm/m]; not negative.
    distance_m : float
        From the source to the load, one way [m]; not negative.

    Returns
    -------
    float
        Resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = 2 r d``. Terminals come on top.

    Error: exact.
    Source: Ohm's law, resistors in series.
    Checked against: 2 m of 1 mm^2 by hand: 78 mohm.

    Examples
    --------
    >>> round(float(loop_resistance(0.0195, 2.0)), 6)
    0.078
    """
    if not (resistance_ohm_m >= 0.0 and distance_m >= 0.0):
        return nan
    return 2.0 * resistance_ohm_m * distance_m


@law
def voltage_drop(current_A: float, resistance_ohm: float) -> float:
    """Voltage lost over a resistance, such as a pair of wires.

    Parameters
    ----------
    current_A : float
        Current [A]; any.
    resistance_ohm : float
        Resistance of the whole loop [ohm]; not negative.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V = I R``.

    Error: exact.
    Source: Ohm's law.
    Checked against: 6 A over 2 m of 1 mm^2 by hand: 0.468 V.

    Examples
    --------
    >>> round(float(voltage_drop(6.0, 0.078)), 6)
    0.468
    """
    if not resistance_ohm >= 0.0:
        return nan
    return current_A * resistance_ohm


@law
def wire_loss(current_A: float, resistance_ohm: float) -> float:
    """Heat that a current makes in a resistance, such as a pair of wires.

    Parameters
    ----------
    current_A : float
        Effective current [A]; any.
    resistance_ohm : float
        Resistance of the whole loop [ohm]; not negative.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``P = I^2 R``.

    Error: exact.
    Source: Joule's law.
    Checked against: 6 A over 2 m of 1 mm^2 by hand: 2.81 W.

    Examples
    --------
    >>> round(float(wire_loss(6.0, 0.078)), 6)
    2.808
    """
    if not resistance_ohm >= 0.0:
        return nan
    return current_A * current_A * resistance_ohm
