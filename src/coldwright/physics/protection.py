"""Polarity protection, step-down converters, and a string of modules one of which has failed."""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law


@law
def diode_loss(current_A: float, forward_V: float) -> float:
    """Heat in a diode that guards against reversed polarity.

    Parameters
    ----------
    current_A : float
        Current [A]; not negative.
    forward_V : float
        Forward voltage, about 0.5 for a Schottky diode [V]; not negative.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V I``; a MOSFET in its place loses ``I^2 R`` (`wire_loss`), mostly a fraction of it.

    Error: exact.
    Source: Joule's law.
    Checked against: 10 A at 0.5 V by hand: 5 W, against 1 W in 10 mohm.

    Examples
    --------
    >>> float(diode_loss(10.0, 0.5))
    5.0
    """
    if not (current_A >= 0.0 and forward_V >= 0.0):
        return nan
    return current_A * forward_V


@law
def step_down_ripple_current(
    input_V: float, output_V: float, inductance_H: float, frequency_Hz: float
) -> float:
    """Ripple of the current in the coil of a step-down converter, peak to peak.

    Parameters
    ----------
    input_V : float
        Voltage in [V]; above 0.
    output_V : float
        Voltage out [V]; 0 to `input_V`.
    inductance_H : float
        Coil [H]; above 0.
    frequency_Hz : float
        Of switching [Hz]; above 0.

    Returns
    -------
    float
        Current, peak to peak [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``(Vin - Vout) Vout / (Vin L f)``, current never at nought. A capacitor at the output keeps
    most of it from the modules: for them this is the upper bound.

    Error: 20 %.
    Source: volt-seconds of a coil, textbooks of power electronics.
    Checked against: 24 to 12 V, 33 uH, 300 kHz by hand: 0.606 A.

    Examples
    --------
    >>> round(float(step_down_ripple_current(24.0, 12.0, 33e-6, 300e3)), 3)
    0.606
    """
    if not (input_V > 0.0 and 0.0 <= output_V <= input_V):
        return nan
    if not (inductance_H > 0.0 and frequency_Hz > 0.0):
        return nan
    return (input_V - output_V) * output_V / (input_V * inductance_H * frequency_Hz)


@law
def converter_input_current(output_W: float, efficiency: float, input_V: float) -> float:
    """Current into a converter at a known voltage.

    Parameters
    ----------
    output_W : float
        Power that it gives [W]; not negative.
    efficiency : float
        Efficiency there [1]; above 0, at most 1.
    input_V : float
        Voltage at its input [V]; above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``P / (eta V)``: fewer volts, more amperes. Behind a resistance take `constant_power_current`.

    Error: exact.
    Source: definition of efficiency.
    Checked against: 24 to 12 V, 6 A at 0.93 by hand: 3.226 A.

    Examples
    --------
    >>> round(float(converter_input_current(72.0, 0.93, 24.0)), 3)
    3.226
    """
    if not (output_W >= 0.0 and 0.0 < efficiency <= 1.0 and input_V > 0.0):
        return nan
    return output_W / (efficiency * input_V)


@law
def string_current(
    string_V: float,
    module_count: float,
    shorted_count: float,
    lift_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
) -> float:
    """Current of a string of equal modules some of which are shorted.

    Parameters
    ----------
    string_V : float
        Voltage across the string [V]; any.
    module_count, shorted_count : float
        Modules in series, and how many of them are bridged [1]; the second from 0, below the
        first.
    lift_K : float
        Hot less cold face of those at work [K]; any.
    seebeck_V_K : float
        Of one module [V/K]; not negative.
    resistance_ohm : float
        Of one module [ohm]; above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``(V / (n - s) - S dT) / R``: those left share the whole voltage. One open module instead stops
    the string.

    Error: exact.
    Source: ``V = S dT + I R`` of a module, textbooks of thermoelectrics.
    Checked against: two on 24 V by hand, one shorted: 12.64 A instead of 5.97 A.

    Examples
    --------
    >>> round(float(string_current(24.0, 2.0, 1.0, 25.0, 0.05, 1.8)), 3)
    12.639
    """
    if not (0.0 <= shorted_count < module_count and lift_K == lift_K):
        return nan
    if not (seebeck_V_K >= 0.0 and resistance_ohm > 0.0):
        return nan
    each_V = string_V / (module_count - shorted_count)
    return (each_V - seebeck_V_K * lift_K) / resistance_ohm


@law
def open_module_leak(lift_K: float, conductance_W_K: float) -> float:
    """Heat that a module without current lets back to the cold side.

    Parameters
    ----------
    lift_K : float
        Hot less cold face [K]; any.
    conductance_W_K : float
        Of the module [W/K]; not negative.

    Returns
    -------
    float
        Heat into the cold side [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``K dT``, for each module of a string that has stopped.

    Error: exact.
    Source: Fourier's law.
    Checked against: 0.5 W/K over 25 K by hand: 12.5 W.

    Examples
    --------
    >>> float(open_module_leak(25.0, 0.5))
    12.5
    """
    if not conductance_W_K >= 0.0:
        return nan
    return conductance_W_K * lift_K


@law
def shorted_module_leak(
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Heat that a module bridged at its terminals lets back to the cold side.

    It drives a current through the bridge by its own thermal voltage, which carries more heat back
    than one that is open.

    Parameters
    ----------
    cold_K, hot_K : float
        Faces [K]; above 0.
    seebeck_V_K : float
        Of the module [V/K]; not negative.
    resistance_ohm : float
        Of the module and the bridge [ohm]; above 0.
    conductance_W_K : float
        Of the module [W/K]; not negative.

    Returns
    -------
    float
        Heat into the cold side [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``S^2 dT Tc / R + (S dT)^2 / (2 R) + K dT``: the module's own equation at ``I = -S dT / R``. A
    module that broke inside may conduct less.

    Error: exact.
    Source: textbooks of thermoelectrics, short-circuited generator.
    Checked against: the pumped heat at that current.

    Examples
    --------
    >>> round(float(shorted_module_leak(285.0, 310.0, 0.05, 1.8, 0.5)), 2)
    22.83
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and seebeck_V_K >= 0.0):
        return nan
    if not (resistance_ohm > 0.0 and conductance_W_K >= 0.0):
        return nan
    lift_K = hot_K - cold_K
    own_V = seebeck_V_K * lift_K
    pumped_back_W = seebeck_V_K * own_V * cold_K / resistance_ohm
    return pumped_back_W + own_V * own_V / (2.0 * resistance_ohm) + conductance_W_K * lift_K
