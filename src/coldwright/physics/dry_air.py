"""Transport properties of dry air near atmospheric pressure.

Vapour changes them by less than 1 % below a humidity ratio of 0.03, which is left out.
"""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

_COLDEST_K = 200.0
_HOTTEST_K = 500.0


@law
def air_viscosity(temperature_K: float) -> float:
    """Dynamic viscosity of dry air.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 200 to 500 K.

    Returns
    -------
    float or array, same shape as the input
        Dynamic viscosity [Pa s]; NaN outside the valid range.

    Notes
    -----
    Sutherland's form: ``mu = 1.458e-6 T**1.5 / (T + 110.4)``.

    Error: 1.5 %.
    Source: U.S. Standard Atmosphere 1976 (NOAA/NASA/USAF), equation 51.
    Checked against: CoolProp (Lemmon and Jacobsen 2004); Incropera et al., "Fundamentals of Heat
    and Mass Transfer", table A.4.

    Examples
    --------
    >>> round(float(air_viscosity(300.0)) * 1e6, 2)
    18.46
    """
    if not _COLDEST_K <= temperature_K <= _HOTTEST_K:
        return math.nan
    return 1.458e-6 * temperature_K * math.sqrt(temperature_K) / (temperature_K + 110.4)


@law
def air_conductivity(temperature_K: float) -> float:
    """Thermal conductivity of dry air.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 200 to 500 K.

    Returns
    -------
    float or array, same shape as the input
        Thermal conductivity [W/(m K)]; NaN outside the valid range.

    Notes
    -----
    ``k = 2.64638e-3 T**1.5 / (T + 245.4 * 10**(-12/T))``.

    Error: 2.3 %.
    Source: U.S. Standard Atmosphere 1976 (NOAA/NASA/USAF), equation 53.
    Checked against: CoolProp (Lemmon and Jacobsen 2004); Incropera et al., "Fundamentals of Heat
    and Mass Transfer", table A.4.

    Examples
    --------
    >>> round(float(air_conductivity(300.0)), 4)
    0.0263
    """
    if not _COLDEST_K <= temperature_K <= _HOTTEST_K:
        return math.nan
    weakened = 245.4 * math.exp(-27.631021115928547 / temperature_K)  # 12 ln 10
    return 2.64638e-3 * temperature_K * math.sqrt(temperature_K) / (temperature_K + weakened)


@law
def air_prandtl(temperature_K: float) -> float:
    """Prandtl number of dry air: viscosity times heat capacity over conductivity.

    Parameters
    ----------
    temperature_K : float or array
        Air temperature [K]. Valid 200 to 500 K.

    Returns
    -------
    float or array, same shape as the input
        Prandtl number [-]; NaN outside the valid range.

    Notes
    -----
    ``Pr = mu cp / k`` with `air_viscosity`, `air_conductivity` and cp in J/(kg K) as a quartic,
    ``cp = 1057.5 - 0.44890 T + 1.1407e-3 T**2 - 7.9999e-7 T**3 + 1.9327e-10 T**4``; a constant cp
    would be 5 % out at 500 K.

    Error: 3 %.
    Source: U.S. Standard Atmosphere 1976, equations 51 and 53; cp after J. C. Dixon, "The Shock
    Absorber Handbook", 2nd ed. 2007, appendix on air (coefficients from memory).
    Checked against: CoolProp; Incropera et al., "Fundamentals of Heat and Mass Transfer", table
    A.4.

    Examples
    --------
    >>> round(float(air_prandtl(300.0)), 3)
    0.707
    """
    if not _COLDEST_K <= temperature_K <= _HOTTEST_K:
        return math.nan
    T = temperature_K
    heat_J_kgK = 1057.5 + T * (-0.44890 + T * (1.1407e-3 + T * (-7.9999e-7 + T * 1.9327e-10)))
    viscosity: float = air_viscosity(T)
    conductivity: float = air_conductivity(T)
    return viscosity * heat_J_kgK / conductivity
