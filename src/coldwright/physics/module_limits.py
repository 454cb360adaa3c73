"""What a thermoelectric module can do at best: lift, heat, COP, and stages one on another."""

from __future__ import annotations

from math import nan, sqrt

from coldwright.physics.compiled import law


@law
def figure_of_merit(seebeck_V_K: float, resistance_ohm: float, conductance_W_K: float) -> float:
    """Figure of merit of a module: the one number that bounds its lift and its COP.

    Parameters
    ----------
    seebeck_V_K : float
        Of the whole module [V/K]; any.
    resistance_ohm, conductance_W_K : float
        Of the whole module [ohm], [W/K]; above 0.

    Returns
    -------
    float
        Figure of merit [1/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Z = S^2 / (R K)``.

    Error: exact.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (3.0 per 1000 K).

    Examples
    --------
    >>> round(float(figure_of_merit(0.05, 2.0, 0.5)), 6)
    0.0025
    """
    if not (resistance_ohm > 0.0 and conductance_W_K > 0.0):
        return nan
    return seebeck_V_K * seebeck_V_K / (resistance_ohm * conductance_W_K)


@law
def largest_lift(
    cold_K: float, seebeck_V_K: float, resistance_ohm: float, conductance_W_K: float
) -> float:
    """Largest lift over a given cold face, when no heat comes in there.

    Parameters
    ----------
    cold_K : float
        Temperature of the cold face [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the last two above 0.

    Returns
    -------
    float
        Lift [K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``dTmax = Z Tc^2 / 2``.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: a search over the current with the module's heat balance (290 K: 106.25 K).

    Examples
    --------
    >>> round(float(largest_lift(290.0, 0.05, 2.0, 0.5)), 3)
    105.125
    """
    if not cold_K > 0.0:
        return nan
    merit_1_K: float = figure_of_merit(seebeck_V_K, resistance_ohm, conductance_W_K)
    return 0.5 * merit_1_K * cold_K * cold_K


@law
def coldest_face(
    hot_K: float, seebeck_V_K: float, resistance_ohm: float, conductance_W_K: float
) -> float:
    """Coldest temperature of a cold face under a given hot face, when no heat comes in.

    Parameters
    ----------
    hot_K : float
        Temperature of the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the last two above 0.

    Returns
    -------
    float
        Temperature [K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Tc = (sqrt(1 + 2 Z Th) - 1) / Z``, from ``Th - Tc = Z Tc^2 / 2``; written without the
    division by Z so that a module without any pumping gives the hot face's temperature.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: Field and Blum 1979, two elements, hot junction 27 degC: about -40 degC
    measured.

    Examples
    --------
    >>> round(float(coldest_face(300.0, 0.05, 2.0, 0.5)), 2)
    232.46
    """
    if not hot_K > 0.0:
        return nan
    merit_1_K: float = figure_of_merit(seebeck_V_K, resistance_ohm, conductance_W_K)
    return 2.0 * hot_K / (sqrt(1.0 + 2.0 * merit_1_K * hot_K) + 1.0)


@law
def current_largest_lift(cold_K: float, seebeck_V_K: float, resistance_ohm: float) -> float:
    """Current above which a module pumps less: where heat and lift are largest.

    Parameters
    ----------
    cold_K : float
        Temperature of the cold face [K]; above 0.
    seebeck_V_K, resistance_ohm : float
        Of the whole module [V/K], [ohm]; the resistance above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Im = S Tc / R``, for a cold face held at its temperature; with sinks on both sides the best
    current is much lower.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: a search over the current with the module's heat balance.

    Examples
    --------
    >>> round(float(current_largest_lift(290.0, 0.05, 2.0)), 9)
    7.25
    """
    if not (cold_K > 0.0 and resistance_ohm > 0.0):
        return nan
    return seebeck_V_K * cold_K / resistance_ohm


@law
def largest_pumping(
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Most heat that any current draws in at a cold face between two face temperatures.

    Parameters
    ----------
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the resistance above 0, the last not negative.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; negative beyond the largest lift; NaN outside the range.

    Notes
    -----
    ``Qm = (S Tc)^2 / (2 R) - K (Th - Tc)``, at ``I = S Tc / R``.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: a search over the current with the module's heat balance.

    Examples
    --------
    >>> round(float(largest_pumping(290.0, 310.0, 0.05, 2.0, 0.5)), 4)
    42.5625
    """
    if not (cold_K > 0.0 and hot_K > 0.0 and resistance_ohm > 0.0 and conductance_W_K >= 0.0):
        return nan
    most_V = seebeck_V_K * cold_K
    return 0.5 * most_V * most_V / resistance_ohm - conductance_W_K * (hot_K - cold_K)


@law
def cop_largest_pumping(
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """COP at the current that pumps the most heat: never above one half.

    Parameters
    ----------
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0, the hot one not below the cold.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; the last two above 0.

    Returns
    -------
    float
        COP [1], in the broadcast shape; negative beyond the largest lift; NaN outside the range.

    Notes
    -----
    ``COP = (1 - dT / dTmax) / (2 (1 + dT / Tc))``.

    Error: 5 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: heat over power at that current (290 to 310 K: 0.379696).

    Examples
    --------
    >>> round(float(cop_largest_pumping(290.0, 310.0, 0.05, 2.0, 0.5)), 6)
    0.378754
    """
    if not hot_K >= cold_K:
        return nan
    limit_K: float = largest_lift(cold_K, seebeck_V_K, resistance_ohm, conductance_W_K)
    if not limit_K > 0.0:
        return nan
    lift_K = hot_K - cold_K
    return (1.0 - lift_K / limit_K) / (2.0 * (1.0 + lift_K / cold_K))


@law
def current_best_cop(
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Current that moves heat for the fewest watts between two face temperatures.

    Parameters
    ----------
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0, the hot one above the cold one by
        less than the largest lift.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; all above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``I0 = S dT / (R (sqrt(1 + Z Tm) - 1))``, ``Tm = (Tc + Th) / 2``. Fans are not counted; with
    them the best current lies higher.

    Error: 3 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (2.71312 A).

    Examples
    --------
    >>> round(float(current_best_cop(290.0, 310.0, 0.05, 2.0, 0.5)), 4)
    1.5486
    """
    limit_K: float = largest_lift(cold_K, seebeck_V_K, resistance_ohm, conductance_W_K)
    lift_K = hot_K - cold_K
    if not (lift_K > 0.0 and lift_K < limit_K and seebeck_V_K > 0.0):
        return nan
    merit_1_K: float = figure_of_merit(seebeck_V_K, resistance_ohm, conductance_W_K)
    root = sqrt(1.0 + 0.5 * merit_1_K * (cold_K + hot_K))
    return seebeck_V_K * lift_K / (resistance_ohm * (root - 1.0))


@law
def best_cop(
    cold_K: float,
    hot_K: float,
    seebeck_V_K: float,
    resistance_ohm: float,
    conductance_W_K: float,
) -> float:
    """Highest COP that any current gives between two face temperatures, without any fan.

    Parameters
    ----------
    cold_K, hot_K : float
        Temperatures of the cold and the hot face [K]; above 0, the hot one above the cold one by
        less than the largest lift.
    seebeck_V_K, resistance_ohm, conductance_W_K : float
        Of the whole module [V/K], [ohm], [W/K]; all above 0.

    Returns
    -------
    float
        COP [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``COP0 = (Tc / dT) (g - Th / Tc) / (g + 1)``, ``g = sqrt(1 + Z Tm)``.

    Error: 5 %.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment", eqs 111-123.
    Checked against: A. V. da Rosa, Fundamentals of Renewable Energy Processes, worked design of a
    refrigerator (0.297278).

    Examples
    --------
    >>> round(float(best_cop(290.0, 310.0, 0.05, 2.0, 0.5)), 4)
    1.585
    """
    limit_K: float = largest_lift(cold_K, seebeck_V_K, resistance_ohm, conductance_W_K)
    lift_K = hot_K - cold_K
    if not (lift_K > 0.0 and lift_K < limit_K and seebeck_V_K > 0.0):
        return nan
    merit_1_K: float = figure_of_merit(seebeck_V_K, resistance_ohm, conductance_W_K)
    g = sqrt(1.0 + 0.5 * merit_1_K * (cold_K + hot_K))
    return cold_K / lift_K * (g - hot_K / cold_K) / (g + 1.0)


@law
def cascade_cop(cop_first: float, cop_second: float) -> float:
    """COP of two stages, the second of which carries away all that the first gives off.

    Parameters
    ----------
    cop_first, cop_second : float
        COP of the stage at the cold end and of the stage behind it [1]; above 0.

    Returns
    -------
    float
        COP of both together [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``1 / ((1 + 1/c1) (1 + 1/c2) - 1) = c1 c2 / (c1 + c2 + 1)``.

    Error: exact.
    Source: Mechanical Engineers' Handbook, vol. 4, "Cooling electronic equipment" (identity).
    Checked against: the heat balance of two stages, written out.

    Examples
    --------
    >>> round(float(cascade_cop(1.0, 1.0)), 6)
    0.333333
    """
    if not (cop_first > 0.0 and cop_second > 0.0):
        return nan
    return cop_first * cop_second / (cop_first + cop_second + 1.0)
