"""Supplies at their limits: heat, switching on, and a load that takes the same power at any volts.

A converter takes constant power, so that a drop before it raises its current. Behind a resistance
such a load has two currents that fit, or none: then the source cannot carry it.
"""

from __future__ import annotations

from math import exp, inf, nan, sqrt

from coldwright.physics.compiled import law


@law
def derated_power_slope(
    rated_W: float, air_K: float, full_to_K: float, end_K: float, slope_per_K: float
) -> float:
    """Power that a supply may give in warm air, by so much per kelvin.

    Parameters
    ----------
    rated_W : float
        Rated output [W]; not negative.
    air_K : float
        Air at the supply itself, which in the exhaust is warmer than the room [K]; above 0.
    full_to_K, end_K : float
        Full power up to here, and hottest air allowed at all [K]; the second not below the first.
    slope_per_K : float
        Share of the rated power lost per kelvin [1/K]; not negative.

    Returns
    -------
    float
        Power [W], in the broadcast shape: 0 above `end_K`; NaN outside the range.

    Notes
    -----
    ``P (1 - s (T - T0))`` from T0 to the end, not below 0.

    Error: exact.
    Source: makers' derating guides: full to 50 degC, then 2.5 % per kelvin to 70 degC.
    Checked against: 300 W at 60 and 65 degC by hand: 225 and 187.5 W.

    Examples
    --------
    >>> round(float(derated_power_slope(300.0, 333.15, 323.15, 343.15, 0.025)), 6)
    225.0
    """
    if not (rated_W >= 0.0 and air_K > 0.0 and end_K >= full_to_K and slope_per_K >= 0.0):
        return nan
    if air_K <= full_to_K:
        return rated_W
    if air_K > end_K:
        return 0.0
    return rated_W * max(0.0, 1.0 - slope_per_K * (air_K - full_to_K))


@law
def derated_power_line(
    rated_W: float, air_K: float, full_to_K: float, end_K: float, end_share: float
) -> float:
    """Power that a supply may give in warm air, by a straight line to a share at the hottest.

    Parameters
    ----------
    rated_W : float
        Rated output [W]; not negative.
    air_K : float
        Air at the supply itself [K]; above 0.
    full_to_K, end_K : float
        Full power up to here, and hottest air allowed at all [K]; the second above the first.
    end_share : float
        Share of the rated power at `end_K` [1]; 0 to 1.

    Returns
    -------
    float
        Power [W], in the broadcast shape: 0 above `end_K`; NaN outside the range.

    Notes
    -----
    ``P (1 - (1 - e) (T - T0) / (T1 - T0))`` from T0 to T1.

    Error: exact.
    Source: makers' derating texts: full at 50 degC, 60 % at 60 degC, a line between.
    Checked against: 55 degC by hand: 80 %.

    Examples
    --------
    >>> round(float(derated_power_line(300.0, 328.15, 323.15, 333.15, 0.6)), 6)
    240.0
    """
    if not (rated_W >= 0.0 and air_K > 0.0 and end_K > full_to_K and 0.0 <= end_share <= 1.0):
        return nan
    if air_K <= full_to_K:
        return rated_W
    if air_K > end_K:
        return 0.0
    return rated_W * (1.0 - (1.0 - end_share) * (air_K - full_to_K) / (end_K - full_to_K))


@law
def inrush_peak_current(voltage_V: float, charged_V: float, resistance_ohm: float) -> float:
    """Peak current when a supply with a bulk capacitor is switched on at the crest of the mains.

    Parameters
    ----------
    voltage_V : float
        Effective mains voltage, the highest that may come [V]; not negative.
    charged_V : float
        What the capacitor still holds, 0 after a long pause [V]; not negative.
    resistance_ohm : float
        Limiter and line together [ohm]; above 0. A limiter that is still hot counts as none.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``(sqrt(2) V - Vc) / R``, not below 0. Supplies behind one switch add.

    Error: 10 %.
    Source: Ohm's law on an empty capacitor, as makers' guides on inrush limiters do.
    Checked against: 253 V, 5.5 and 0.5 ohm by hand: 65.1 and 716 A.

    Examples
    --------
    >>> round(float(inrush_peak_current(253.0, 0.0, 5.5)), 2)
    65.05
    """
    if not (voltage_V >= 0.0 and charged_V >= 0.0 and resistance_ohm > 0.0):
        return nan
    return max(0.0, sqrt(2.0) * voltage_V - charged_V) / resistance_ohm


@law
def capacitor_energy(capacitance_F: float, voltage_V: float) -> float:
    """Energy in a capacitor, and about the same again in what it was charged through.

    Parameters
    ----------
    capacitance_F : float
        Capacitance [F]; not negative.
    voltage_V : float
        Voltage across it; at switch-on the crest of the mains [V]; any.

    Returns
    -------
    float
        Energy [J], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``C V^2 / 2``. Charged through a resistance from a constant voltage, that resistance takes
    exactly as much, whatever its size: what an inrush limiter must bear.

    Error: exact.
    Source: textbook electrostatics.
    Checked against: 220 uF at 357.8 V by hand: 14.1 J.

    Examples
    --------
    >>> round(float(capacitor_energy(220e-6, 357.8)), 2)
    14.08
    """
    if not capacitance_F >= 0.0:
        return nan
    return 0.5 * capacitance_F * voltage_V * voltage_V


@law
def charging_time_constant(resistance_ohm: float, capacitance_F: float) -> float:
    """Time in which a capacitor comes within 37 % of its end through a resistance.

    Parameters
    ----------
    resistance_ohm : float
        Resistance [ohm]; not negative.
    capacitance_F : float
        Capacitance [F]; not negative.

    Returns
    -------
    float
        Time [s], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``tau = R C``.

    Error: exact.
    Source: textbook circuit theory.
    Checked against: 5.5 ohm and 220 uF by hand: 1.21 ms.

    Examples
    --------
    >>> round(float(charging_time_constant(5.5, 220e-6)) * 1e3, 3)
    1.21
    """
    if not (resistance_ohm >= 0.0 and capacitance_F >= 0.0):
        return nan
    return resistance_ohm * capacitance_F


@law
def capacitor_voltage_after(
    start_V: float, resistance_ohm: float, capacitance_F: float, elapsed_s: float
) -> float:
    """Voltage left on a capacitor that is drained by a resistor, as at the pins of a pulled plug.

    Parameters
    ----------
    start_V : float
        Voltage at first; at worst the crest of the mains [V]; any.
    resistance_ohm : float
        Bleed resistor [ohm]; above 0, may be infinite.
    capacitance_F : float
        Capacitance [F]; above 0.
    elapsed_s : float
        Time since [s]; not negative.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V exp(-t / (R C))``.

    Error: exact.
    Source: textbook circuit theory.
    Checked against: 0.47 uF from 325.27 V for 1 s by hand: 38.7 V with 1 Mohm.

    Examples
    --------
    >>> round(float(capacitor_voltage_after(325.27, 1e6, 0.47e-6, 1.0)), 2)
    38.74
    """
    if not (resistance_ohm > 0.0 and capacitance_F > 0.0 and elapsed_s >= 0.0):
        return nan
    return start_V * exp(-elapsed_s / (resistance_ohm * capacitance_F))


@law
def constant_power_current(source_V: float, resistance_ohm: float, power_W: float) -> float:
    """Current into a load of constant power behind a resistance: the root at which it works.

    Parameters
    ----------
    source_V : float
        Voltage before the resistance [V]; above 0.
    resistance_ohm : float
        Resistance of source and wires together [ohm]; not negative.
    power_W : float
        Power that the load takes at any voltage, such as a converter's input [W]; not negative.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range and where the source cannot
        carry the load.

    Notes
    -----
    The lower root of ``R I^2 - V I + P = 0``: ``2 P / (V + sqrt(V^2 - 4 R P))``. There is none
    when ``P > V^2 / (4 R)``.

    Error: exact.
    Source: Ohm's law.
    Checked against: volts after the drop times current give the power back; numpy.roots.

    Examples
    --------
    >>> round(float(constant_power_current(12.0, 0.1, 100.0)), 4)
    9.0098
    >>> float(constant_power_current(12.0, 0.5, 100.0))
    nan
    """
    if not (source_V > 0.0 and resistance_ohm >= 0.0 and power_W >= 0.0):
        return nan
    under = source_V * source_V - 4.0 * resistance_ohm * power_W
    if under < 0.0:
        return nan
    return 2.0 * power_W / (source_V + sqrt(under))


@law
def constant_power_current_high(source_V: float, resistance_ohm: float, power_W: float) -> float:
    """Current at the other root of a load of constant power: where a sagging converter hangs.

    Parameters
    ----------
    source_V : float
        Voltage before the resistance [V]; above 0.
    resistance_ohm : float
        Resistance of source and wires together [ohm]; above 0.
    power_W : float
        Power that the load takes at any voltage [W]; not negative.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range and where the source cannot
        carry the load.

    Notes
    -----
    The upper root of ``R I^2 - V I + P = 0``: ``(V + sqrt(V^2 - 4 R P)) / (2 R)``. Most of the
    power heats the wires; a converter without an under-voltage cut-off may latch there at start.

    Error: exact.
    Source: Ohm's law.
    Checked against: both roots add up to V / R; numpy.roots.

    Examples
    --------
    >>> round(float(constant_power_current_high(12.0, 0.1, 100.0)), 4)
    110.9902
    """
    if not (source_V > 0.0 and resistance_ohm > 0.0 and power_W >= 0.0):
        return nan
    under = source_V * source_V - 4.0 * resistance_ohm * power_W
    if under < 0.0:
        return nan
    return (source_V + sqrt(under)) / (2.0 * resistance_ohm)


@law
def constant_power_limit(source_V: float, resistance_ohm: float) -> float:
    """Most power that a source can pass on through a resistance.

    Parameters
    ----------
    source_V : float
        Voltage before the resistance [V]; not negative.
    resistance_ohm : float
        Resistance of source and wires together [ohm]; not negative.

    Returns
    -------
    float
        Power [W], in the broadcast shape: infinite without resistance; NaN outside the range.

    Notes
    -----
    ``V^2 / (4 R)``, at half the voltage: half of the power heats the wires.

    Error: exact.
    Source: theorem of the greatest power transfer.
    Checked against: the double root of the current.

    Examples
    --------
    >>> float(constant_power_limit(12.0, 0.5))
    72.0
    """
    if not (source_V >= 0.0 and resistance_ohm >= 0.0):
        return nan
    if resistance_ohm == 0.0:
        return inf
    return source_V * source_V / (4.0 * resistance_ohm)


@law
def brown_out_voltage(power_W: float, resistance_ohm: float, lowest_V: float) -> float:
    """Source voltage below which a load of constant power can no longer be served.

    Parameters
    ----------
    power_W : float
        Power that the load takes at any voltage [W]; not negative.
    resistance_ohm : float
        Resistance of source and wires together [ohm]; not negative.
    lowest_V : float
        Voltage at the load's terminals below which it switches off [V]; above 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Vmin + R P / Vmin``, but never below ``2 sqrt(R P)``, where the two roots meet.

    Error: exact.
    Source: Ohm's law.
    Checked against: at this voltage the load's terminals are at the lowest.

    Examples
    --------
    >>> round(float(brown_out_voltage(100.0, 0.1, 10.0)), 6)
    11.0
    """
    if not (power_W >= 0.0 and resistance_ohm >= 0.0 and lowest_V > 0.0):
        return nan
    meeting_V = sqrt(resistance_ohm * power_W)
    if lowest_V <= meeting_V:
        return 2.0 * meeting_V
    return lowest_V + resistance_ohm * power_W / lowest_V
