"""The thermoelectric module at work: heat in, heat out, voltage and current.

A module is three numbers: Seebeck coefficient S [V/K], electrical resistance R [ohm] and thermal
conductance K [W/K], of the whole module and between its two faces. They come from its legs
(`bismuth_telluride`), from its ratings (`module_ratings`) or from a person's own test; what such
a module can do at best stands in `module_limits`.
"""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law


@law
def cold_side_heat(
    current_A: float,
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Heat that a module draws in at its cold face.

    What the current pumps, less half of the heat it makes on the way, less what leaks back.

    Parameters
    ----------
    current_A : float
        Current through the module [A]; any. Negative warms the "cold" face.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face, not of the air [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module, at its mean temperature [V/K], [ohm], [W/K]; the last two not
        negative.

    Returns
    -------
    float
        Heat into the cold face [W], in the broadcast shape; negative where the module warms it;
        NaN outside the range.

    Notes
    -----
    ``Qc = S I Tc - I^2 R / 2 - K (Th - Tc)``. Properties do not vary along the legs, so there is
    no Thomson heat: against a solution with it, 1 % at 20 K of lift and 3 % at 40 K.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator; a boundary value solution with Thomson heat.

    Examples
    --------
    >>> round(float(cold_side_heat(2.0, 290.0, 310.0, 0.05, 2.0, 0.5)), 9)
    15.0
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm >= 0.0 and conductance_W_K >= 0.0):
        return nan
    pumped = seebeck_V_K * current_A * cold_K
    joule = current_A * current_A * resistance_ohm
    leaked = conductance_W_K * (hot_K - cold_K)
    return pumped - 0.5 * joule - leaked


@law
def hot_side_heat(
    current_A: float,
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Heat that a module gives off at its hot face.

    Always the heat from the cold face and the electrical power together.

    Parameters
    ----------
    current_A : float
        Current through the module [A]; any.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the last two not negative.

    Returns
    -------
    float
        Heat out of the hot face [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Qh = S I Th + I^2 R / 2 - K (Th - Tc)``; constant properties along the legs.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator; conservation of energy.

    Examples
    --------
    >>> round(float(hot_side_heat(2.0, 290.0, 310.0, 0.05, 2.0, 0.5)), 9)
    25.0
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm >= 0.0 and conductance_W_K >= 0.0):
        return nan
    pumped = seebeck_V_K * current_A * hot_K
    joule = current_A * current_A * resistance_ohm
    leaked = conductance_W_K * (hot_K - cold_K)
    return pumped + 0.5 * joule - leaked


@law
def module_voltage(
    current_A: float, cold_K: float, hot_K: float, seebeck_V_K: float, resistance_ohm: float
) -> float:
    """Voltage across a module that carries a current between two face temperatures.

    Parameters
    ----------
    current_A : float
        Current through the module [A]; any.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm : float
        Of the whole module [V/K], [ohm]; the resistance not negative.

    Returns
    -------
    float
        Voltage at the module's terminals [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``V = S (Th - Tc) + I R``: the back voltage of the lift and the drop over the resistance.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (12.4 V over 100 couples).

    Examples
    --------
    >>> round(float(module_voltage(2.0, 290.0, 310.0, 0.05, 2.0)), 9)
    5.0
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm >= 0.0):
        return nan
    return seebeck_V_K * (hot_K - cold_K) + current_A * resistance_ohm


@law
def current_at_voltage(
    voltage_V: float, cold_K: float, hot_K: float, seebeck_V_K: float, resistance_ohm: float
) -> float:
    """Current that a voltage drives through a module between two face temperatures.

    Parameters
    ----------
    voltage_V : float
        Voltage at the module's terminals [V]; any.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm : float
        Of the whole module [V/K], [ohm]; the resistance above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; negative where the lift's back voltage is higher;
        NaN outside the range.

    Notes
    -----
    ``I = (V - S (Th - Tc)) / R``.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: the same module at 12 V and 25 K by hand: (12 - 0.05 * 25) / 1.8.

    Examples
    --------
    >>> round(float(current_at_voltage(5.0, 290.0, 310.0, 0.05, 2.0)), 9)
    2.0
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm > 0.0):
        return nan
    return (voltage_V - seebeck_V_K * (hot_K - cold_K)) / resistance_ohm


@law
def module_power(
    current_A: float, cold_K: float, hot_K: float, seebeck_V_K: float, resistance_ohm: float
) -> float:
    """Electrical power that a module takes up.

    Parameters
    ----------
    current_A : float
        Current through the module [A]; any.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm : float
        Of the whole module [V/K], [ohm]; the resistance not negative.

    Returns
    -------
    float
        Power [W], in the broadcast shape; negative where the module generates; NaN outside the
        range.

    Notes
    -----
    ``P = S I (Th - Tc) + I^2 R``.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (0.336385 W a couple).

    Examples
    --------
    >>> round(float(module_power(2.0, 290.0, 310.0, 0.05, 2.0)), 9)
    10.0
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm >= 0.0):
        return nan
    return current_A * (seebeck_V_K * (hot_K - cold_K) + current_A * resistance_ohm)


@law
def module_cop(
    current_A: float,
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Heat drawn in at the cold face per electrical power: the module's COP, without any fan.

    Parameters
    ----------
    current_A : float
        Current through the module [A]; not 0.
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the last two not negative.

    Returns
    -------
    float
        COP [1], in the broadcast shape; NaN outside the range and where no power is taken up.

    Notes
    -----
    ``COP = Qc / P``.

    Error: 5 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (0.297278).

    Examples
    --------
    >>> round(float(module_cop(2.0, 290.0, 310.0, 0.05, 2.0, 0.5)), 9)
    1.5
    """
    power_W: float = module_power(current_A, cold_K, hot_K, seebeck_V_K, resistance_ohm)
    if not power_W > 0.0:
        return nan
    heat_W: float = cold_side_heat(
        current_A, cold_K, hot_K, seebeck_V_K, resistance_ohm, conductance_W_K
    )
    return heat_W / power_W
