"""How much current a wire may carry: warm surroundings, foam, bundles, and a short.

These laws only turn one allowed current into another. The currents to begin with come from a named
table and edition (`coldwright.sheet.library.electrical`), and the local wiring code outranks all.
"""

from __future__ import annotations

from math import nan, sqrt

from coldwright.physics.compiled import law

_MM2_M2 = 1e6
_LONGEST_ADIABATIC_S = 5.0
_CONTINUOUS = 1.25


@law
def ambient_factor(insulation_K: float, ambient_K: float, reference_K: float) -> float:
    """Factor on a wire's table current for other surroundings.

    Parameters
    ----------
    insulation_K : float
        Hottest that the insulation may become [K]; above `reference_K`.
    ambient_K : float
        Air around the wire [K]; 233 to `insulation_K`.
    reference_K : float
        Air for which the table holds, mostly 303.15 [K]; above 0.

    Returns
    -------
    float
        Factor [1], in the broadcast shape; 0 where the surroundings are as hot as the insulation
        may be, NaN outside the range.

    Notes
    -----
    ``sqrt((T_ins - T_amb) / (T_ins - T_ref))``: heat goes with the square of the current, and the
    rise with the heat.

    Error: 3 %.
    Source: IEC 60364-5-52, table B.52.14, which follows from equal heat shed per kelvin.
    Checked against: method B2 column at 30 degC taken to 45 degC, PVC, within 1 A.

    Examples
    --------
    >>> round(float(ambient_factor(343.15, 318.15, 303.15)), 4)
    0.7906
    """
    if not (reference_K > 0.0 and insulation_K > reference_K and ambient_K >= 233.0):
        return nan
    if not ambient_K <= insulation_K:
        return nan
    return sqrt((insulation_K - ambient_K) / (insulation_K - reference_K))


@law
def foam_factor(buried_m: float) -> float:
    """Factor on a wire's current where a length of it is surrounded by thermal insulation.

    A wire inside foam cannot shed its heat; a short piece sheds it along the copper to its ends.

    Parameters
    ----------
    buried_m : float
        Length inside the insulation, such as the thickness of a wall it goes straight through [m];
        not negative.

    Returns
    -------
    float
        Factor [1], same shape; NaN outside the range.

    Notes
    -----
    0.89, 0.81, 0.68, 0.55, 0.50 at 0.05, 0.1, 0.2, 0.4, 0.5 m and beyond, straight lines between
    and from 1 at no length. Sizes to 10 mm^2. Later editions print 0.88, 0.78, 0.63, 0.51, 0.50
    (from memory).

    Error: 10 %.
    Source: UK wiring rules, BS 7671 16th edition, table 52A (read in a copy).
    Checked against: the table's rows.

    Examples
    --------
    >>> round(float(foam_factor(0.3)), 3)
    0.615
    """
    if not buried_m >= 0.0:
        return nan
    if buried_m <= 0.05:
        return 1.0 - (1.0 - 0.89) * buried_m / 0.05
    if buried_m <= 0.1:
        return 0.89 - (0.89 - 0.81) * (buried_m - 0.05) / 0.05
    if buried_m <= 0.2:
        return 0.81 - (0.81 - 0.68) * (buried_m - 0.1) / 0.1
    if buried_m <= 0.4:
        return 0.68 - (0.68 - 0.55) * (buried_m - 0.2) / 0.2
    if buried_m <= 0.5:
        return 0.55 - (0.55 - 0.50) * (buried_m - 0.4) / 0.1
    return 0.50


@law
def bundle_factor_iec(circuit_number: float) -> float:
    """Factor on the current of each circuit in a bundle, by the international table.

    Parameters
    ----------
    circuit_number : float
        Loaded circuits that touch each other; a go-and-return pair is one [1]; at least 1. Read
        at the next listed number upwards.

    Returns
    -------
    float
        Factor [1], same shape; NaN outside the range.

    Notes
    -----
    1.00, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50 for 1 to 9, 0.45, 0.41, 0.38 for 12, 16,
    20 and, for want of rows, 0.38 beyond. Wires loaded below 30 % of their allowance need not be
    counted.

    Error: 5 %.
    Source: IEC 60364-5-52:2009, table B.52.17 item 1, bunched in air, on a surface, embedded or
    enclosed (from memory).
    Checked against: its simplified form, table B.52.3, as a guide to the standard prints it.

    Examples
    --------
    >>> float(bundle_factor_iec(3.0))
    0.7
    """
    if not circuit_number >= 1.0:
        return nan
    factor = 0.38
    for most, row in (
        (16.0, 0.41), (12.0, 0.45), (9.0, 0.50), (8.0, 0.52), (7.0, 0.54), (6.0, 0.57),
        (5.0, 0.60), (4.0, 0.65), (3.0, 0.70), (2.0, 0.80), (1.0, 1.00),
    ):  # fmt: skip
        if circuit_number <= most:
            factor = row
    return factor


@law
def bundle_factor_nec(conductor_number: float) -> float:
    """Factor on the current of each conductor in a cable or bundle, by the North American table.

    Parameters
    ----------
    conductor_number : float
        Conductors that carry current, both of a pair counted [1]; at least 1.

    Returns
    -------
    float
        Factor [1], same shape; NaN outside the range.

    Notes
    -----
    1.00 to 3, 0.80 to 6, 0.70 to 9, 0.50 to 20, 0.45 to 30, 0.40 to 40, 0.35 beyond. For bundles
    longer than 0.6 m.

    Error: 5 %.
    Source: NEC (NFPA 70) 2014, table 310.15(B)(3)(a), from 2020 on 310.15(C)(1) (read in copies).
    Checked against: the table's rows.

    Examples
    --------
    >>> float(bundle_factor_nec(4.0))
    0.8
    """
    if not conductor_number >= 1.0:
        return nan
    factor = 0.35
    for most, row in (
        (40.0, 0.40), (30.0, 0.45), (20.0, 0.50), (9.0, 0.70), (6.0, 0.80), (3.0, 1.00),
    ):  # fmt: skip
        if conductor_number <= most:
            factor = row
    return factor


@law
def adiabatic_withstand_time(
    current_A: float, area_m2: float, withstand_coefficient: float
) -> float:
    """Time in which a short circuit heats a wire to the limit of its insulation.

    Parameters
    ----------
    current_A : float
        Fault current, effective value [A]; above 0.
    area_m2 : float
        Cross-section of the conductor [m^2]; above 0.
    withstand_coefficient : float
        k of the insulation [A s^0.5/mm^2]: 115 for PVC of 70 degC on copper, 143 for XLPE; above 0.

    Returns
    -------
    float
        Time [s], in the broadcast shape; NaN outside the range and above 5 s, where heat leaves
        the wire meanwhile.

    Notes
    -----
    ``t = (k S / I)^2``, the wire at its working temperature before. The fuse must open sooner.

    Error: 10 %.
    Source: IEC 60364-5-54 and BS 7671, adiabatic equation (k read on a cable engineer's page).
    Checked against: heat capacity of copper warmed from 70 to 160 degC, within 10 %.

    Examples
    --------
    >>> round(float(adiabatic_withstand_time(200.0, 1e-6, 115.0)), 4)
    0.3306
    """
    if not (current_A > 0.0 and area_m2 > 0.0 and withstand_coefficient > 0.0):
        return nan
    ratio = withstand_coefficient * area_m2 * _MM2_M2 / current_A
    time_s = ratio * ratio
    if time_s > _LONGEST_ADIABATIC_S:
        return nan
    return time_s


@law
def fault_current(source_V: float, source_ohm: float, loop_ohm: float) -> float:
    """Current that flows when the far end of a pair of wires is shorted.

    Parameters
    ----------
    source_V : float
        Voltage of the battery or supply without load [V]; not negative.
    source_ohm, loop_ohm : float
        Resistance inside the source, and of the wires there and back [ohm]; not negative, one of
        them above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``I = V / (Ri + R)``. What fuse and switch must be able to break; a supply with a current limit
    gives less, and then may not blow the fuse at all.

    Error: exact.
    Source: Ohm's law.
    Checked against: 12.8 V, 10 mohm, 1 m each way of 2.5 mm^2 by hand: 493 A.

    Examples
    --------
    >>> round(float(fault_current(12.8, 0.010, 0.01596)), 1)
    493.1
    """
    if not (source_V >= 0.0 and source_ohm >= 0.0 and loop_ohm >= 0.0):
        return nan
    whole_ohm = source_ohm + loop_ohm
    if whole_ohm == 0.0:
        return nan
    return source_V / whole_ohm


@law
def continuous_rating(load_A: float) -> float:
    """Least rating of a protective device for a load that runs three hours or more.

    Parameters
    ----------
    load_A : float
        Current of the load [A]; not negative.

    Returns
    -------
    float
        Rating [A], same shape; NaN outside the range.

    Notes
    -----
    ``1.25 I``. North American practice; elsewhere the device's own standard decides.

    Error: exact.
    Source: NEC (NFPA 70) 210.20(A) and 215.3 (from memory).
    Checked against: 8 A by hand: 10 A.

    Examples
    --------
    >>> float(continuous_rating(8.0))
    10.0
    """
    if not load_A >= 0.0:
        return nan
    return _CONTINUOUS * load_A
