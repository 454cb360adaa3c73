"""Cold kept in water and ice, and how long a store holds."""

from __future__ import annotations

import math

from coldwright.physics.air_state import CP_LIQUID, ZERO_C_K
from coldwright.physics.compiled import law

MELTING_J_KG = 333_400.0  # ice to water at 0 °C; IAPWS R10-06 gives 333 430 J/kg at 1 bar
CP_ICE = 2050.0  # mean of 0 to -20 °C [J/(kg K)]; IAPWS R10-06 gives 2097 at 0 and 1957 at -20 °C


@law
def ice_heat(ice_K: float, final_K: float) -> float:
    """Heat that a kilogram of ice takes up until it is water of a final temperature.

    Parameters
    ----------
    ice_K : float or array
        Temperature of the ice [K]. Valid 233.15 to 273.15.
    final_K : float or array
        Temperature of the water when it is drained or poured away [K]. Valid 273.15 to 373.15.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat [J/kg]; NaN outside the valid range.

    Notes
    -----
    ``q = 2050 (273.15 - T_ice) + 333400 + 4186 (T_final - 273.15)``. Melting is nearly all of it:
    ice from a freezer brings a tenth more, melt water kept to 20 °C a quarter more.

    Error: 1 %.
    Source: IAPWS R10-06(2009), ice Ih; ASHRAE Handbook Fundamentals 2021 (SI), chapter 1.
    Checked against: IAPWS R10-06 table 6 with IAPWS-95 water (from memory, and CoolProp).

    Examples
    --------
    >>> round(float(ice_heat(255.15, 293.15)))
    454020
    """
    if not (233.15 <= ice_K <= 273.15 and 273.15 <= final_K <= 373.15):
        return math.nan
    return CP_ICE * (ZERO_C_K - ice_K) + MELTING_J_KG + CP_LIQUID * (final_K - ZERO_C_K)


@law
def ice_rate(heat_W: float, ice_K: float, final_K: float) -> float:
    """Ice that must be brought to carry off a heat.

    Parameters
    ----------
    heat_W : float or array
        Heat to carry off [W]. Valid from 0.
    ice_K : float or array
        Temperature of the ice [K]. Valid 233.15 to 273.15.
    final_K : float or array
        Temperature of the water when it is drained or poured away [K]. Valid 273.15 to 373.15.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Ice [kg/s]; NaN outside the valid range.

    Notes
    -----
    ``m = Q / q`` with q of `ice_heat`. Its freezer needs electricity of its own.

    Error: 1 %.
    Source: `ice_heat`.
    Checked against: hand calculation: 100 W melt 26 kg a day.

    Examples
    --------
    >>> round(86400.0 * float(ice_rate(100.0, 273.15, 273.15)), 1)
    25.9
    """
    if not heat_W >= 0.0:
        return math.nan
    return heat_W / ice_heat(ice_K, final_K)


@law
def hold_time(
    heat_W: float,
    start_K: float,
    end_K: float,
    outside_K: float,
    conductance_W_K: float,
    capacity_J_K: float,
) -> float:
    """Time in which a store that is left alone, or with a steady heat, reaches a temperature.

    Parameters
    ----------
    heat_W : float or array
        Steady heat into the store besides the leak, negative for cooling [W].
    start_K, end_K : float or array
        Temperatures of the store at the start and at the end [K]. Valid above 0.
    outside_K : float or array
        Temperature around it [K]. Valid above 0.
    conductance_W_K : float or array
        Leak of the store [W/K]. Valid above 0.
    capacity_J_K : float or array
        Heat capacity of the store [J/K]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Time [s], infinite where it levels off before; NaN outside the valid range.

    Notes
    -----
    ``t = (C/UA) ln((T_inf - T_start) / (T_inf - T_end))``, ``T_inf = T_outside + Q/UA``: one
    temperature for the whole store, a steady outside.

    Error: exact.
    Source: Incropera et al., "Fundamentals of Heat and Mass Transfer", lumped capacitance with a
    heat source.
    Checked against: hand calculation of a room of 120 kJ/K; integration of the same equation.

    Examples
    --------
    >>> round(float(hold_time(-40.0, 303.15, 300.15, 303.15, 8.0, 120e3)), 1)
    13744.4
    >>> float(hold_time(0.0, 278.15, 310.15, 303.15, 1.0, 20e3))
    inf
    """
    if not (start_K > 0.0 and end_K > 0.0 and outside_K > 0.0 and conductance_W_K > 0.0):
        return math.nan
    if not (capacity_J_K >= 0.0 and math.isfinite(heat_W)):
        return math.nan
    if start_K == end_K:
        return 0.0
    level_K = outside_K + heat_W / conductance_W_K
    left = level_K - end_K
    # Not on the way, or only reached after an endless time.
    if left == 0.0 or (level_K - start_K) / left <= 1.0:
        return math.inf
    return capacity_J_K / conductance_W_K * math.log((level_K - start_K) / left)
