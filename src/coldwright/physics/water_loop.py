"""A water loop between a module's base and the air: block, pump and radiator.

Round the loop: the block warms (or cools) the water from ``Tin`` to ``Tout``, the pump adds its
power, the radiator passes the heat to the air. Each law here is one part of it; signs follow the
differences, so the same laws serve the hot and the cold side.
"""

from __future__ import annotations

from math import exp, expm1, nan

from coldwright.physics.compiled import law


@law
def block_effectiveness(block_resistance_K_W: float, water_capacity_W_K: float) -> float:
    """How near the water comes to the base of a water block.

    Parameters
    ----------
    block_resistance_K_W : float
        From the base to the water, as a film over the wetted area [K/W]; above 0.
    water_capacity_W_K : float
        Mass flow times specific heat of the water [W/K]; above 0.

    Returns
    -------
    float
        ``(Tout - Tin) / (Tbase - Tin)`` [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``eps = 1 - exp(-1 / (R C))``, a base of one temperature.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 11,
    effectiveness with one side of constant temperature.
    Checked against: the library ht (effectiveness from NTU at a capacity ratio of 0).

    Examples
    --------
    >>> round(float(block_effectiveness(0.02, 50.0)), 6)
    0.632121
    """
    if not (block_resistance_K_W > 0.0 and water_capacity_W_K > 0.0):
        return nan
    return -expm1(-1.0 / (block_resistance_K_W * water_capacity_W_K))


@law
def block_outlet_resistance(block_resistance_K_W: float, water_capacity_W_K: float) -> float:
    """Difference between the base of a water block and the water that leaves it, per watt.

    Parameters
    ----------
    block_resistance_K_W : float
        From the base to the water, as a film over the wetted area [K/W]; above 0.
    water_capacity_W_K : float
        Mass flow times specific heat of the water [W/K]; above 0.

    Returns
    -------
    float
        ``(Tbase - Tout) / Q`` [K/W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    From ``Q = C eps (Tbase - Tin)`` and ``Tout = Tin + Q / C``: ``(1 / eps - 1) / C``, written as
    ``1 / (C (exp(1 / (R C)) - 1))``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 11,
    effectiveness with one side of constant temperature.
    Checked against: the block integrated in 10,000 short pieces.

    Examples
    --------
    >>> round(float(block_outlet_resistance(0.02, 50.0)), 6)
    0.01164
    """
    if not (block_resistance_K_W > 0.0 and water_capacity_W_K > 0.0):
        return nan
    units = 1.0 / (block_resistance_K_W * water_capacity_W_K)
    if units > 700.0:
        return 0.0
    return 1.0 / (water_capacity_W_K * expm1(units))


@law
def radiator_effectiveness_crossflow(ntu: float, capacity_ratio: float) -> float:
    """Effectiveness of a radiator: air across water, neither mixed.

    Parameters
    ----------
    ntu : float
        Conductance over the smaller heat-capacity flow [1]; not negative.
    capacity_ratio : float
        Smaller over larger heat-capacity flow [1]; 0 to 1.

    Returns
    -------
    float
        Heat over the most that the smaller flow could take up [1], in the broadcast shape; NaN
        outside the range.

    Notes
    -----
    ``eps = 1 - exp((exp(-Cr N^0.78) - 1) N^0.22 / Cr)``; at ``Cr = 0``, ``1 - exp(-N)``. An
    approximation to a series, lowest (by 3.7 %) near ``N = 0.2`` and ``Cr = 1``.

    Error: 4 %.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 11,
    table of effectiveness relations, after W. M. Kays and A. L. London.
    Checked against: the library ht, approximate and exact forms.

    Examples
    --------
    >>> round(float(radiator_effectiveness_crossflow(1.0, 0.0)), 6)
    0.632121
    """
    if not (ntu >= 0.0 and 0.0 <= capacity_ratio <= 1.0):
        return nan
    if ntu == 0.0:
        return 0.0
    if capacity_ratio < 1e-9:
        return -expm1(-ntu)
    spread: float = ntu**0.22
    return 1.0 - exp(spread / capacity_ratio * expm1(-capacity_ratio * ntu / spread))


@law
def radiator_resistance(effectiveness: float, smaller_capacity_W_K: float) -> float:
    """Difference between the water that enters a radiator and the air that enters it, per watt.

    Parameters
    ----------
    effectiveness : float
        Effectiveness of the radiator [1]; above 0, at most 1.
    smaller_capacity_W_K : float
        The smaller of the two heat-capacity flows [W/K]; above 0.

    Returns
    -------
    float
        Resistance [K/W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = 1 / (eps Cmin)``. With `block_outlet_resistance`, and no pump between block and radiator,
    the two add up to the resistance from the base to the air that comes in.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 11,
    definition of effectiveness.
    Checked against: a loop solved as linear equations.

    Examples
    --------
    >>> round(float(radiator_resistance(0.5, 40.0)), 6)
    0.05
    """
    if not (0.0 < effectiveness <= 1.0 and smaller_capacity_W_K > 0.0):
        return nan
    return 1.0 / (effectiveness * smaller_capacity_W_K)


@law
def pump_temperature_rise(pump_W: float, water_capacity_W_K: float) -> float:
    """Warming of the water by the pump, when all of its power ends up in the water.

    Parameters
    ----------
    pump_W : float
        Electrical power of the pump that reaches the water [W]; not negative.
    water_capacity_W_K : float
        Mass flow times specific heat of the water [W/K]; above 0.

    Returns
    -------
    float
        Rise [K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``dT = P / C``.

    Error: exact.
    Source: conservation of energy.
    Checked against: 5 W into 1 L/min by hand: 0.072 K.

    Examples
    --------
    >>> round(float(pump_temperature_rise(5.0, 69.7)), 3)
    0.072
    """
    if not (pump_W >= 0.0 and water_capacity_W_K > 0.0):
        return nan
    return pump_W / water_capacity_W_K
