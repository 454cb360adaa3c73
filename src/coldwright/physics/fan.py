"""Fans: what changes with speed and air density, and what the air and the plug get."""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law


@law
def flow_at_speed(flow_m3_s: float, speed_ratio: float) -> float:
    """Flow of a fan at another speed, on the matching point of its curve.

    Parameters
    ----------
    flow_m3_s : float
        Flow at the speed for which the curve holds [m^3/s]; any.
    speed_ratio : float
        New over old speed [1]; not negative.

    Returns
    -------
    float
        Flow [m^3/s], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Q ~ n``: first fan law, same fan.

    Error: exact.
    Source: ASHRAE Handbook HVAC Systems and Equipment, chapter on fans, fan laws.
    Checked against: a curve and a system intersected at full and at 80 % speed.

    Examples
    --------
    >>> round(float(flow_at_speed(0.1, 0.5)), 6)
    0.05
    """
    if not speed_ratio >= 0.0:
        return nan
    return flow_m3_s * speed_ratio


@law
def pressure_at_speed(pressure_Pa: float, speed_ratio: float, density_ratio: float) -> float:
    """Pressure of a fan at another speed and air density, on the matching point of its curve.

    Parameters
    ----------
    pressure_Pa : float
        Pressure at the speed and density for which the curve holds [Pa]; any.
    speed_ratio, density_ratio : float
        New over old speed and density [1]; not negative.

    Returns
    -------
    float
        Pressure [Pa], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``dp ~ n^2 rho``: second fan law, same fan.

    Error: 3 %.
    Source: ASHRAE Handbook HVAC Systems and Equipment, chapter on fans, fan laws.
    Checked against: a curve and a system intersected at full and at 80 % speed.

    Examples
    --------
    >>> round(float(pressure_at_speed(100.0, 0.5, 0.9)), 6)
    22.5
    """
    if not (speed_ratio >= 0.0 and density_ratio >= 0.0):
        return nan
    return pressure_Pa * speed_ratio * speed_ratio * density_ratio


@law
def power_at_speed(power_W: float, speed_ratio: float, density_ratio: float) -> float:
    """Power of a fan at another speed and air density, on the matching point of its curve.

    Parameters
    ----------
    power_W : float
        Power at the speed and density for which it holds [W]; not negative.
    speed_ratio, density_ratio : float
        New over old speed and density [1]; not negative.

    Returns
    -------
    float
        Power [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``P ~ n^3 rho``: third fan law, same fan. The electronics of a small fan keep a share that
    does not fall with speed, so a slow one takes more than this.

    Error: 15 %.
    Source: ASHRAE Handbook HVAC Systems and Equipment, chapter on fans, fan laws.
    Checked against: a curve and a system intersected at full and at 80 % speed.

    Examples
    --------
    >>> round(float(power_at_speed(10.0, 0.5, 1.0)), 6)
    1.25
    """
    if not (power_W >= 0.0 and speed_ratio >= 0.0 and density_ratio >= 0.0):
        return nan
    return power_W * speed_ratio * speed_ratio * speed_ratio * density_ratio


@law
def fan_pressure_quadratic(
    flow_m3_s: float, stall_pressure_Pa: float, free_flow_m3_s: float
) -> float:
    """Pressure of a fan of which only the two ends of its curve are known.

    Parameters
    ----------
    flow_m3_s : float
        Flow through the fan [m^3/s]; any.
    stall_pressure_Pa : float
        Pressure without flow [Pa]; not negative.
    free_flow_m3_s : float
        Flow without pressure [m^3/s]; above 0.

    Returns
    -------
    float
        Pressure that the fan adds [Pa], in the broadcast shape; negative beyond the free flow,
        where the fan is in the way; NaN outside the range.

    Notes
    -----
    ``dp = ps (1 - x |x|)``, ``x = Q / Qf``: always falling, so that a system has one operating
    point. Real axial fans have a dip on the left half of the curve.

    Error: 20 %.
    Source: a parabola through the two ends; practice, no published source.
    Checked against: the two ends; a system intersected by a root finder.

    Examples
    --------
    >>> round(float(fan_pressure_quadratic(0.05, 100.0, 0.1)), 6)
    75.0
    """
    if not (stall_pressure_Pa >= 0.0 and free_flow_m3_s > 0.0):
        return nan
    x = flow_m3_s / free_flow_m3_s
    return stall_pressure_Pa * (1.0 - x * abs(x))


@law
def air_power(flow_m3_s: float, pressure_Pa: float) -> float:
    """Power that a fan puts into the air as pressure.

    Parameters
    ----------
    flow_m3_s : float
        Flow through the fan [m^3/s]; any.
    pressure_Pa : float
        Pressure that the fan adds [Pa]; any.

    Returns
    -------
    float
        Power [W], in the broadcast shape; NaN only for NaN.

    Notes
    -----
    ``P = Q dp``, for pressures far below the atmosphere's.

    Error: exact.
    Source: ASHRAE Handbook HVAC Systems and Equipment, chapter on fans.
    Checked against: 226.78 m^3/h at 77.14 Pa by hand: 4.86 W.

    Examples
    --------
    >>> round(float(air_power(0.1, 50.0)), 6)
    5.0
    """
    return flow_m3_s * pressure_Pa


@law
def fan_electrical_power(flow_m3_s: float, pressure_Pa: float, efficiency: float) -> float:
    """Electrical power of a fan, from its work on the air and its efficiency as a whole.

    Parameters
    ----------
    flow_m3_s : float
        Flow through the fan [m^3/s]; not negative.
    pressure_Pa : float
        Pressure that the fan adds [Pa]; not negative.
    efficiency : float
        Work on the air over electrical power [1]; above 0, at most 1. Small axial fans have
        0.05 to 0.35.

    Returns
    -------
    float
        Power [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``P = Q dp / eta``. Says nothing of a fan that blocks (no flow) or blows freely.

    Error: exact.
    Source: ASHRAE Handbook HVAC Systems and Equipment, chapter on fans.
    Checked against: 200 m^3/h at 75 Pa and 0.30 by hand: 13.9 W.

    Examples
    --------
    >>> round(float(fan_electrical_power(0.1, 50.0, 0.25)), 6)
    20.0
    """
    if not (flow_m3_s >= 0.0 and pressure_Pa >= 0.0 and efficiency > 0.0 and efficiency <= 1.0):
        return nan
    return flow_m3_s * pressure_Pa / efficiency


@law
def air_temperature_rise(
    pressure_Pa: float, efficiency: float, density_kg_m3: float, specific_heat_J_kgK: float
) -> float:
    """Warming of the air when all of a fan's electrical power ends up in it.

    Parameters
    ----------
    pressure_Pa : float
        Pressure that the fan adds [Pa]; not negative.
    efficiency : float
        Work on the air over electrical power [1]; above 0, at most 1.
    density_kg_m3, specific_heat_J_kgK : float
        Of the air [kg/m^3], [J/kg/K]; above 0.

    Returns
    -------
    float
        Rise [K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``dT = dp / (eta rho cp)``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals, chapter 21 (fan heat).
    Checked against: 75 Pa at 0.30 by hand: 0.207 K.

    Examples
    --------
    >>> round(float(air_temperature_rise(60.0, 0.5, 1.2, 1000.0)), 6)
    0.1
    """
    if not (
        pressure_Pa >= 0.0
        and 0.0 < efficiency <= 1.0
        and density_kg_m3 > 0.0
        and specific_heat_J_kgK > 0.0
    ):
        return nan
    return pressure_Pa / (efficiency * density_kg_m3 * specific_heat_J_kgK)
