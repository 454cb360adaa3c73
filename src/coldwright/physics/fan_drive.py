"""Driving a fan slower: plain volts, chopped supply, linear stage."""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law


@law
def fan_speed_at_voltage(
    voltage_V: float, rated_V: float, start_V: float, stop_V: float, running: float
) -> float:
    """Speed of a brushless fan on plain direct voltage.

    Parameters
    ----------
    voltage_V : float
        Voltage at its terminals [V]; any, runs on positive only.
    rated_V : float
        Rated voltage [V]; above 0.
    start_V, stop_V : float
        Least voltage at which it starts, and at which it keeps running once started [V]; the
        second from 0 to the first. A 12 V fan starts at some 6.5 to 7 V.
    running : float
        Above 0 where it runs already, else 0 [1].

    Returns
    -------
    float
        Speed over rated speed [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V / V_rated`` where it runs, else 0. Real fans are some percent off the line.

    Error: 10 %.
    Source: trade practice; start voltages read in fan makers' and builders' notes.
    Checked against: fan laws at 7 V: flow 0.583, pressure 0.340, power 0.198.

    Examples
    --------
    >>> float(fan_speed_at_voltage(6.0, 12.0, 7.0, 4.0, 1.0))
    0.5
    >>> float(fan_speed_at_voltage(6.0, 12.0, 7.0, 4.0, 0.0))
    0.0
    """
    if not (rated_V > 0.0 and 0.0 <= stop_V <= start_V and voltage_V == voltage_V):
        return nan
    if not running >= 0.0:
        return nan
    needed_V = stop_V if running > 0.0 else start_V
    if voltage_V < needed_V or voltage_V <= 0.0:
        return 0.0
    return voltage_V / rated_V


@law
def fan_current(voltage_V: float, rated_V: float, rated_A: float, exponent: float) -> float:
    """Current of a fan at another voltage.

    Parameters
    ----------
    voltage_V : float
        Voltage at its terminals [V]; not negative.
    rated_V : float
        Rated voltage [V]; above 0.
    rated_A : float
        Current there [A]; not negative.
    exponent : float
        1 as a resistor, 2 as the fan laws ask [1]; 0 to 3.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``I0 (V / V0)^n``. Power goes as the cube of speed, so current as the square; friction and
    electronics bring real fans between 1 and 2.

    Error: 15 %.
    Source: fan laws, ASHRAE Handbook HVAC Systems and Equipment; speed in proportion to volts.
    Checked against: 0.35 A at 12 V, 7 V by hand.

    Examples
    --------
    >>> round(float(fan_current(7.0, 12.0, 0.35, 1.0)), 4)
    0.2042
    """
    if not (voltage_V >= 0.0 and rated_V > 0.0 and rated_A >= 0.0 and 0.0 <= exponent <= 3.0):
        return nan
    return rated_A * (voltage_V / rated_V) ** exponent


@law
def linear_stage_heat(supply_V: float, fan_V: float, current_A: float) -> float:
    """Heat in a transistor that keeps the rest of the voltage from a fan.

    Parameters
    ----------
    supply_V : float
        Supply voltage [V]; any.
    fan_V : float
        Voltage left for the fan [V]; 0 to `supply_V`.
    current_A : float
        Current of the fan at that voltage [A]; not negative.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``(Vs - V) I``.

    Error: exact.
    Source: Joule's law.
    Checked against: 12 V, fan at 7 V by hand: 1.02 and 0.595 W.

    Examples
    --------
    >>> round(float(linear_stage_heat(12.0, 7.0, 0.2)), 6)
    1.0
    """
    if not (0.0 <= fan_V <= supply_V and current_A >= 0.0):
        return nan
    return (supply_V - fan_V) * current_A


@law
def linear_stage_worst_voltage(supply_V: float, exponent: float) -> float:
    """Fan voltage at which a linear stage is hottest: not at full speed.

    Parameters
    ----------
    supply_V : float
        Supply voltage [V]; not negative.
    exponent : float
        Of the fan's current over voltage [1]; 0 to 3. Take 1 where it is not known.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``n / (n + 1) Vs``, where the derivative of ``(Vs - V) V^n`` is nought.

    Error: exact.
    Source: derived from `linear_stage_heat` and `fan_current`.
    Checked against: a sweep over the voltage.

    Examples
    --------
    >>> float(linear_stage_worst_voltage(12.0, 1.0))
    6.0
    """
    if not (supply_V >= 0.0 and 0.0 <= exponent <= 3.0):
        return nan
    return supply_V * exponent / (exponent + 1.0)


@law
def linear_stage_worst_heat(
    supply_V: float, rated_V: float, rated_A: float, exponent: float
) -> float:
    """Heat in a linear stage at its hottest point.

    Parameters
    ----------
    supply_V : float
        Supply voltage [V]; not negative.
    rated_V : float
        Rated voltage of the fan [V]; above 0.
    rated_A : float
        Current of the fan, or of all on the stage, at that voltage [A]; not negative.
    exponent : float
        Of its current over voltage [1]; 0 to 3. 1 is the safe one.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``(Vs - V) I`` at ``V = n / (n + 1) Vs``: ``Vs I / 4`` for n = 1, ``4/27 Vs I`` for n = 2, where
    the supply has the rated voltage.

    Error: 15 %.
    Source: derived from `linear_stage_heat` and `fan_current`.
    Checked against: a sweep over the voltage; 1.05 and 0.622 W by hand.

    Examples
    --------
    >>> round(float(linear_stage_worst_heat(12.0, 12.0, 0.35, 1.0)), 4)
    1.05
    """
    if not (supply_V >= 0.0 and rated_V > 0.0 and rated_A >= 0.0 and 0.0 <= exponent <= 3.0):
        return nan
    worst_V = supply_V * exponent / (exponent + 1.0)
    return (supply_V - worst_V) * rated_A * (worst_V / rated_V) ** exponent


@law
def chopped_fan_voltage(supply_V: float, duty: float, source_ohm: float, fan_ohm: float) -> float:
    """Voltage that a two-wire fan makes for itself of a supply that is chopped fast.

    Its electronics carry an input capacitor, which each pulse fills again and the fan empties
    slowly: the fan sees nearly the crest at any duty, then too little, and stops. So it runs at
    full speed or not at all.

    Parameters
    ----------
    supply_V : float
        Voltage of the pulses [V]; not negative.
    duty : float
        Share of the time that the supply is on [1]; 0 to 1.
    source_ohm : float
        Resistance through which the capacitor fills: switch, wires, supply, diode [ohm]; above 0.
    fan_ohm : float
        Rated voltage over rated current of the fan [ohm]; above 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V D / (D + Rs / R)``: what flows in during the pulse, ``D (V - Vc) / Rs``, is what the fan
    takes all the time, ``Vc / R``. For a capacitor that hardly empties in one period, and a drive
    that does not pull down between the pulses (one switch, no free-wheeling path). Slow chopping,
    below some 100 Hz, instead restarts the electronics at each pulse.

    Error: 30 %.
    Source: balance of charge on the capacitor; behaviour as builders report it.
    Checked against: the circuit stepped in time.

    Examples
    --------
    >>> round(float(chopped_fan_voltage(12.0, 0.2, 0.5, 60.0)), 2)
    11.52
    """
    if not (supply_V >= 0.0 and 0.0 <= duty <= 1.0 and source_ohm > 0.0 and fan_ohm > 0.0):
        return nan
    return supply_V * duty / (duty + source_ohm / fan_ohm)
