"""A power transistor as a linear stage: how hot, how it follows a knob, whether it is stable.

Everything rests on the square law ``I = k/2 (Vgs - Vth)^2`` of a MOSFET in saturation.
"""

from __future__ import annotations

from math import nan, sqrt

from coldwright.physics.compiled import law


@law
def junction_temperature(
    air_K: float,
    heat_W: float,
    junction_case_K_W: float,
    case_sink_K_W: float,
    sink_air_K_W: float,
) -> float:
    """Temperature of a transistor's junction through the chain of its resistances.

    Parameters
    ----------
    air_K : float
        Air at the part or its sink [K]; above 0.
    heat_W : float
        Heat of all that shares the chain [W]; not negative.
    junction_case_K_W, case_sink_K_W, sink_air_K_W : float
        Junction to case, insulator or paste, sink to air [K/W]; not negative. A bare TO-220 case
        has about 62 in all (from memory): give that as the first, and 0 for the rest.

    Returns
    -------
    float
        Temperature [K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``T + P (R1 + R2 + R3)``. Aim at 110 degC or less for a part of 150 degC. The tab is live.

    Error: 10 %.
    Source: thermal Ohm's law; data-sheet practice.
    Checked against: 1.05 W on a bare case by hand: 110.1 degC; 4.2 W on a sink: 95.4 degC.

    Examples
    --------
    >>> round(float(junction_temperature(318.15, 4.2, 1.5, 0.5, 10.0)) - 273.15, 1)
    95.4
    """
    if not (air_K > 0.0 and heat_W >= 0.0):
        return nan
    if not (junction_case_K_W >= 0.0 and case_sink_K_W >= 0.0 and sink_air_K_W >= 0.0):
        return nan
    return air_K + heat_W * (junction_case_K_W + case_sink_K_W + sink_air_K_W)


@law
def sink_resistance_wanted(air_K: float, limit_K: float, heat_W: float, inner_K_W: float) -> float:
    """Most resistance that the sink of a transistor may have.

    Parameters
    ----------
    air_K : float
        Air at the sink [K]; above 0.
    limit_K : float
        Hottest junction wanted [K]; not below `air_K`.
    heat_W : float
        Heat [W]; above 0.
    inner_K_W : float
        Junction to case and case to sink together [K/W]; not negative.

    Returns
    -------
    float
        Resistance [K/W], in the broadcast shape; negative where no sink is enough, NaN outside
        the range.

    Notes
    -----
    ``(T_limit - T_air) / P - R_inner``.

    Error: exact.
    Source: thermal Ohm's law.
    Checked against: `junction_temperature` gives the limit back.

    Examples
    --------
    >>> round(float(sink_resistance_wanted(318.15, 383.15, 4.2, 2.0)), 2)
    13.48
    """
    if not (air_K > 0.0 and limit_K >= air_K and heat_W > 0.0 and inner_K_W >= 0.0):
        return nan
    return (limit_K - air_K) / heat_W - inner_K_W


@law
def overdrive_at_current(current_A: float, gain_A_V2: float) -> float:
    """Gate voltage beyond the threshold that a current wants.

    Parameters
    ----------
    current_A : float
        Drain current [A]; not negative.
    gain_A_V2 : float
        k of the square law [A/V2]; above 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``sqrt(2 I / k)``.

    Error: 20 %.
    Source: square law of the MOSFET, textbooks of electronics.
    Checked against: 0.3 A and 30 A/V^2 by hand: 0.1414 V.

    Examples
    --------
    >>> round(float(overdrive_at_current(0.3, 30.0)), 4)
    0.1414
    """
    if not (current_A >= 0.0 and gain_A_V2 > 0.0):
        return nan
    return sqrt(2.0 * current_A / gain_A_V2)


@law
def common_source_fan_voltage(
    gate_V: float, threshold_V: float, gain_A_V2: float, fan_ohm: float, supply_V: float
) -> float:
    """Voltage at a fan in the drain of a transistor whose gate hangs on a knob.

    Nearly a switch: the whole range of speed is about a hundredth of the knob's travel, thinner
    than the spread of the threshold and its drift with temperature.

    Parameters
    ----------
    gate_V : float
        Gate voltage [V]; any.
    threshold_V : float
        Gate voltage at which it begins to conduct [V]; above 0, spread 0.5 to 1 V either way.
    gain_A_V2 : float
        k of the square law [A/V2]; above 0.
    fan_ohm : float
        Rated voltage over rated current of the fan [ohm]; above 0.
    supply_V : float
        Supply voltage [V]; above 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    Saturated ``V = R k/2 Vov^2`` up to ``Vs - Vov``; above it the drain is short of volts and
    ``k (Vov u - u^2/2) = (Vs - u) / R`` gives what is left across the transistor, u.

    Error: 20 %.
    Source: square law of the MOSFET, textbooks of electronics.
    Checked against: 12 V, threshold 3 V, 30 A/V^2 by hand: 7.41 V at 0.26 of the knob.

    Examples
    --------
    >>> round(float(common_source_fan_voltage(3.12, 3.0, 30.0, 34.29, 12.0)), 3)
    7.407
    """
    if not (gate_V == gate_V and threshold_V > 0.0 and gain_A_V2 > 0.0):
        return nan
    if not (fan_ohm > 0.0 and supply_V > 0.0):
        return nan
    v = gate_V - threshold_V
    if v <= 0.0:
        return 0.0
    g = gain_A_V2 * fan_ohm
    saturated_V = 0.5 * g * v * v
    if saturated_V <= supply_V - v:
        return saturated_V
    # g u^2 / 2 - (g v + 1) u + Vs = 0, the lower root.
    b = g * v + 1.0
    return supply_V - 2.0 * supply_V / (b + sqrt(b * b - 2.0 * g * supply_V))


@law
def common_source_travel_share(
    supply_V: float, knob_V: float, gain_A_V2: float, fan_ohm: float
) -> float:
    """Share of a knob's travel in which a common-source stage takes a fan from rest to full speed.

    Parameters
    ----------
    supply_V : float
        Supply voltage of the fan [V]; not negative.
    knob_V : float
        Voltage across the whole knob [V]; above 0.
    gain_A_V2 : float
        k of the square law [A/V2]; above 0.
    fan_ohm : float
        Rated voltage over rated current of the fan [ohm]; above 0.

    Returns
    -------
    float
        Share [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``sqrt(2 Vs / (R k)) / V_knob``: from the threshold to the overdrive at full current.

    Error: 20 %.
    Source: square law of the MOSFET, textbooks of electronics.
    Checked against: 12 V, 30 A/V^2, 34.29 ohm by hand: 1.27 % of the travel.

    Examples
    --------
    >>> round(float(common_source_travel_share(12.0, 12.0, 30.0, 34.29)), 5)
    0.01273
    """
    if not (supply_V >= 0.0 and knob_V > 0.0 and gain_A_V2 > 0.0 and fan_ohm > 0.0):
        return nan
    return sqrt(2.0 * supply_V / (fan_ohm * gain_A_V2)) / knob_V


@law
def source_follower_fan_voltage(
    gate_V: float, threshold_V: float, gain_A_V2: float, fan_ohm: float, supply_V: float
) -> float:
    """Voltage at a fan in the source of a transistor whose gate hangs on a knob.

    Smooth over the travel above the threshold, but never the whole supply.

    Parameters
    ----------
    gate_V : float
        Gate voltage [V]; any.
    threshold_V : float
        Gate voltage at which it begins to conduct [V]; above 0.
    gain_A_V2 : float
        k of the square law [A/V2]; above 0.
    fan_ohm : float
        Rated voltage over rated current of the fan [ohm]; above 0.
    supply_V : float
        Supply voltage; a gate at most so high keeps the transistor saturated [V]; above 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape: at most the supply; NaN outside the range.

    Notes
    -----
    ``V = R k/2 s^2`` with s the positive root of ``Vg - Vth = s + R k/2 s^2``.

    Error: 5 %.
    Source: square law of the MOSFET, textbooks of electronics.
    Checked against: 12 V, threshold 3 V, 30 A/V^2 by hand: 2.925 V at half of the knob.

    Examples
    --------
    >>> round(float(source_follower_fan_voltage(6.0, 3.0, 30.0, 34.29, 12.0)), 3)
    2.925
    """
    if not (gate_V == gate_V and threshold_V > 0.0 and gain_A_V2 > 0.0):
        return nan
    if not (fan_ohm > 0.0 and supply_V > 0.0):
        return nan
    v = gate_V - threshold_V
    if v <= 0.0:
        return 0.0
    g = gain_A_V2 * fan_ohm
    s = 2.0 * v / (1.0 + sqrt(1.0 + 2.0 * g * v))
    return min(0.5 * g * s * s, supply_V)


@law
def drain_current_drift(
    current_A: float,
    temperature_K: float,
    gain_A_V2: float,
    threshold_drift_V_K: float,
    mobility_exponent: float,
) -> float:
    """Change of the drain current per kelvin at a held gate.

    Parameters
    ----------
    current_A : float
        Drain current [A]; not negative.
    temperature_K : float
        Of the junction [K]; above 0.
    gain_A_V2 : float
        k of the square law there [A/V2]; above 0.
    threshold_drift_V_K : float
        Change of the threshold, about -0.005 [V/K]; any.
    mobility_exponent : float
        p in ``k ~ T^p``, about -1.5 [1]; any.

    Returns
    -------
    float
        Change of the current [A/K], in the broadcast shape: positive where warmth draws more
        current; NaN outside the range.

    Notes
    -----
    ``p I / T - k Vov dVth/dT``.

    Error: 20 %.
    Source: derivative of the square law; P. Spirito et al., ISPSD 2002 (from memory).
    Checked against: 0.3 A by hand: 0.0197 A/K; a difference of the square law.

    Examples
    --------
    >>> round(float(drain_current_drift(0.3, 300.0, 30.0, -0.005, -1.5)), 5)
    0.01971
    """
    if not (current_A >= 0.0 and temperature_K > 0.0 and gain_A_V2 > 0.0):
        return nan
    overdrive_V = sqrt(2.0 * current_A / gain_A_V2)
    by_mobility = mobility_exponent * current_A / temperature_K
    return by_mobility - gain_A_V2 * overdrive_V * threshold_drift_V_K


@law
def thermal_stability_index(resistance_K_W: float, volts_V: float, drift_A_K: float) -> float:
    """Whether a transistor's warmth feeds itself: unstable at 1 and above.

    Parameters
    ----------
    resistance_K_W : float
        Junction to air, or for a hot spot the part of it that matters [K/W]; not negative.
    volts_V : float
        Drain to source; for the whole stage with a resistive fan in the drain ``Vs - 2 V_fan``,
        which turns negative, and so stable, above half the supply [V]; any.
    drift_A_K : float
        Change of the current per kelvin at a held gate [A/K]; any.

    Returns
    -------
    float
        Index [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``S = R V dI/dT``, must be below 1. The form for the whole stage says nothing about hot spots
    inside the die: parts sold as switches may lack a direct-current line in their safe area.

    Error: 30 %.
    Source: P. Spirito et al., ISPSD 2002 (from memory).
    Checked against: 5 V, 0.3 A by hand: 0.493 at 5 K/W, 6.11 at 62 K/W.

    Examples
    --------
    >>> round(float(thermal_stability_index(5.0, 5.0, 0.01971)), 3)
    0.493
    """
    if not resistance_K_W >= 0.0:
        return nan
    return resistance_K_W * volts_V * drift_A_K


@law
def zero_drift_overdrive(
    temperature_K: float, threshold_drift_V_K: float, mobility_exponent: float
) -> float:
    """Gate voltage beyond the threshold at which the current does not change with temperature.

    Below it a warm spot draws more current; parts made as switches have it far above the currents
    of a fan.

    Parameters
    ----------
    temperature_K : float
        Of the junction [K]; above 0.
    threshold_drift_V_K : float
        Change of the threshold, about -0.005 [V/K]; not positive.
    mobility_exponent : float
        p in ``k ~ T^p``, about -1.5 [1]; below 0.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``2 |dVth/dT| / |p / T|``.

    Error: 20 %.
    Source: derivative of the square law set to nought.
    Checked against: -5 mV/K at 300 K by hand: 2.0 V.

    Examples
    --------
    >>> round(float(zero_drift_overdrive(300.0, -0.005, -1.5)), 6)
    2.0
    """
    if not (temperature_K > 0.0 and threshold_drift_V_K <= 0.0 and mobility_exponent < 0.0):
        return nan
    return 2.0 * threshold_drift_V_K / (mobility_exponent / temperature_K)
