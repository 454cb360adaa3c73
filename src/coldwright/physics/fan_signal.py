"""Signals of fans: tacho, the open four-wire control signal, and a smoothed control voltage."""

from __future__ import annotations

from math import expm1, nan, pi

from coldwright.physics.compiled import law

# Four-wire specification: frequency, highest pull-up, current that the drive must sink.
_PWM_LOWEST_HZ = 21e3
_PWM_HIGHEST_HZ = 28e3
_PULL_UP_V = 5.25
_SINK_A = 5e-3


@law
def tacho_speed(frequency_Hz: float, pulse_number: float) -> float:
    """Speed of a fan from the frequency of its tacho wire.

    Parameters
    ----------
    frequency_Hz : float
        Pulses per second [Hz]; not negative.
    pulse_number : float
        Pulses per turn, 2 by the open specification [1]; above 0.

    Returns
    -------
    float
        Speed [1/min], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``60 f / p``. A chopped supply breaks the signal.

    Error: exact.
    Source: 4-Wire PWM Controlled Fans Specification: two pulses a turn.
    Checked against: 40 Hz by hand: 1200 a minute.

    Examples
    --------
    >>> float(tacho_speed(40.0, 2.0))
    1200.0
    """
    if not (frequency_Hz >= 0.0 and pulse_number > 0.0):
        return nan
    return 60.0 * frequency_Hz / pulse_number


@law
def pwm_frequency_fits(frequency_Hz: float) -> float:
    """Whether a control signal's frequency fits four-wire fans.

    Parameters
    ----------
    frequency_Hz : float
        Of the signal [Hz]; not negative.

    Returns
    -------
    float
        1 where it fits, else 0 [1], same shape; NaN outside the range.

    Notes
    -----
    25 kHz nominal, 21 to 28 kHz.

    Error: exact.
    Source: 4-Wire PWM Controlled Fans Specification, control signal.
    Checked against: 24 kHz fits, 31 kHz does not.

    Examples
    --------
    >>> float(pwm_frequency_fits(24e3))
    1.0
    """
    if not frequency_Hz >= 0.0:
        return nan
    return 1.0 if _PWM_LOWEST_HZ <= frequency_Hz <= _PWM_HIGHEST_HZ else 0.0


@law
def pwm_drive_fits(open_V: float, sink_A: float) -> float:
    """Whether an open-collector drive fits the control wire of four-wire fans.

    Parameters
    ----------
    open_V : float
        Voltage of the wire when the drive lets go; the fan pulls it up itself [V]; not negative.
    sink_A : float
        Current that the drive can pull to at most 0.8 V [A]; not negative.

    Returns
    -------
    float
        1 where it fits, else 0 [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    At most 5.25 V, at least 5 mA (8 mA is recommended). Each fan on the wire adds its current.

    Error: exact.
    Source: 4-Wire PWM Controlled Fans Specification, control signal.
    Checked against: 5.0 V fits, 12 V does not.

    Examples
    --------
    >>> float(pwm_drive_fits(5.0, 8e-3))
    1.0
    """
    if not (open_V >= 0.0 and sink_A >= 0.0):
        return nan
    return 1.0 if open_V <= _PULL_UP_V and sink_A >= _SINK_A else 0.0


@law
def filter_cutoff(resistance_ohm: float, capacitance_F: float) -> float:
    """Corner frequency of a resistor and a capacitor that smooth a chopped control signal.

    Parameters
    ----------
    resistance_ohm : float
        Resistor [ohm]; above 0.
    capacitance_F : float
        Capacitor [F]; above 0.

    Returns
    -------
    float
        Frequency [Hz], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``1 / (2 pi R C)``.

    Error: exact.
    Source: textbook circuit theory.
    Checked against: 10 kohm and 1 uF by hand: 15.9 Hz.

    Examples
    --------
    >>> round(float(filter_cutoff(1e4, 1e-6)), 2)
    15.92
    """
    if not (resistance_ohm > 0.0 and capacitance_F > 0.0):
        return nan
    return 1.0 / (2.0 * pi * resistance_ohm * capacitance_F)


@law
def filter_ripple(
    high_V: float, duty: float, frequency_Hz: float, resistance_ohm: float, capacitance_F: float
) -> float:
    """Ripple left, peak to peak, when a resistor and a capacitor smooth a chopped signal.

    Parameters
    ----------
    high_V : float
        Height of the pulses [V]; not negative.
    duty : float
        Share of the time that they are on [1]; 0 to 1.
    frequency_Hz : float
        Of the pulses [Hz]; above 0.
    resistance_ohm : float
        Resistor [ohm]; above 0.
    capacitance_F : float
        Capacitor [F]; above 0.

    Returns
    -------
    float
        Voltage, peak to peak [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V (1 - e^(-D x)) (1 - e^(-(1 - D) x)) / (1 - e^(-x))`` with ``x = 1 / (f R C)``: the steady
    swing of the capacitor. About ``V D (1 - D) / (f R C)`` far above the corner.

    Error: exact.
    Source: textbook circuit theory, first-order filter.
    Checked against: 25 kHz, 12 V, 10 kohm, 1 uF by hand: 12 mV; the filter stepped in time.

    Examples
    --------
    >>> round(float(filter_ripple(12.0, 0.5, 25e3, 1e4, 1e-6)) * 1e3, 2)
    12.0
    """
    if not (high_V >= 0.0 and 0.0 <= duty <= 1.0 and frequency_Hz > 0.0):
        return nan
    if not (resistance_ohm > 0.0 and capacitance_F > 0.0):
        return nan
    x = 1.0 / (frequency_Hz * resistance_ohm * capacitance_F)
    return high_V * expm1(-duty * x) * expm1(-(1.0 - duty) * x) / -expm1(-x)
