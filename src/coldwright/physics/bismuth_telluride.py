"""Bismuth telluride, the alloy of nearly every cooling module, and modules made of its legs.

One mean curve stands for the n and the p legs. Results take the laws, which know their range;
solvers, whose iterates may stray, take the three polynomials, which are smooth everywhere.
"""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import compiled, law

_COLDEST_K = 200.0
_HOTTEST_K = 400.0


@compiled
def seebeck_polynomial(temperature_K: float) -> float:
    """Seebeck coefficient of one bismuth-telluride leg [V/K]: smooth inner form, no limits.

    For solvers, whose iterates may stray; results take `bismuth_telluride_seebeck`.
    """
    return (22224.0 + temperature_K * (930.6 - 0.9905 * temperature_K)) * 1e-9


@compiled
def resistivity_polynomial(temperature_K: float) -> float:
    """Resistivity of bismuth-telluride legs [ohm m]: smooth inner form, no limits.

    For solvers, whose iterates may stray; results take `bismuth_telluride_resistivity`.
    """
    return (5112.0 + temperature_K * (163.4 + 0.6279 * temperature_K)) * 1e-10


@compiled
def conductivity_polynomial(temperature_K: float) -> float:
    """Heat conductivity of bismuth-telluride legs [W/m/K]: smooth inner form, no limits.

    For solvers, whose iterates may stray; results take `bismuth_telluride_conductivity`.
    """
    return (62605.0 + temperature_K * (-277.7 + 0.4131 * temperature_K)) * 1e-4


@law
def bismuth_telluride_seebeck(temperature_K: float) -> float:
    """Seebeck coefficient of one leg of the usual bismuth-telluride alloys (its size).

    Parameters
    ----------
    temperature_K : float
        Mean temperature of the leg [K]; 200 to 400.

    Returns
    -------
    float
        Seebeck coefficient of one leg [V/K], same shape; NaN outside the range. A couple has
        twice this.

    Notes
    -----
    ``(22224 + 930.6 T - 0.9905 T^2) 1e-9``, one mean curve for n and p legs. The materials of
    different makers differ by some 5 %.

    Error: 5 %.
    Source: X. C. Xuan et al., Cryogenics 42 (2002) 273-278; coefficients as quoted in open
    research code that reproduces it, the paper itself not read.
    Checked against: the NIST standard for Seebeck coefficients, SRM 3451 (a doped alloy), within
    15 % at 300 K.

    Examples
    --------
    >>> round(float(bismuth_telluride_seebeck(300.0)) * 1e6, 2)
    212.26
    """
    if not (_COLDEST_K <= temperature_K <= _HOTTEST_K):
        return nan
    value: float = seebeck_polynomial(temperature_K)
    return value


@law
def bismuth_telluride_resistivity(temperature_K: float) -> float:
    """Electrical resistivity of the usual bismuth-telluride alloys.

    Parameters
    ----------
    temperature_K : float
        Mean temperature of the leg [K]; 200 to 400.

    Returns
    -------
    float
        Resistivity [ohm m], same shape; NaN outside the range.

    Notes
    -----
    ``(5112 + 163.4 T + 0.6279 T^2) 1e-10``, one mean curve for n and p legs.

    Error: 10 %.
    Source: X. C. Xuan et al., Cryogenics 42 (2002) 273-278; coefficients as quoted in open
    research code that reproduces it, the paper itself not read.
    Checked against: the figure of merit that follows, 2.3 to 2.5 per 1000 K near room
    temperature.

    Examples
    --------
    >>> round(float(bismuth_telluride_resistivity(300.0)) * 1e5, 4)
    1.1064
    """
    if not (_COLDEST_K <= temperature_K <= _HOTTEST_K):
        return nan
    value: float = resistivity_polynomial(temperature_K)
    return value


@law
def bismuth_telluride_conductivity(temperature_K: float) -> float:
    """Heat conductivity of the usual bismuth-telluride alloys.

    Parameters
    ----------
    temperature_K : float
        Mean temperature of the leg [K]; 200 to 400.

    Returns
    -------
    float
        Conductivity [W/m/K], same shape; NaN outside the range.

    Notes
    -----
    ``(62605 - 277.7 T + 0.4131 T^2) 1e-4``, one mean curve for n and p legs.

    Error: 10 %.
    Source: X. C. Xuan et al., Cryogenics 42 (2002) 273-278; coefficients as quoted in open
    research code that reproduces it, the paper itself not read.
    Checked against: the figure of merit that follows, 2.3 to 2.5 per 1000 K near room
    temperature.

    Examples
    --------
    >>> round(float(bismuth_telluride_conductivity(300.0)), 4)
    1.6474
    """
    if not (_COLDEST_K <= temperature_K <= _HOTTEST_K):
        return nan
    value: float = conductivity_polynomial(temperature_K)
    return value


@law
def module_seebeck_legs(couples: float, temperature_K: float) -> float:
    """Seebeck coefficient of a module of bismuth-telluride couples.

    Parameters
    ----------
    couples : float
        Couples in series [1]; at least 1.
    temperature_K : float
        Mean temperature of the legs [K]; 200 to 400.

    Returns
    -------
    float
        Module Seebeck coefficient [V/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``S = 2 N alpha(T)``.

    Error: 5 %.
    Source: definition; alpha from `bismuth_telluride_seebeck`.
    Checked against: 127 couples at 300 K by hand: 254 * 212.259 uV/K = 0.053914 V/K.

    Examples
    --------
    >>> round(float(module_seebeck_legs(127.0, 300.0)), 6)
    0.053914
    """
    if not couples >= 1.0:
        return nan
    leg_V_K: float = bismuth_telluride_seebeck(temperature_K)
    return 2.0 * couples * leg_V_K


@law
def module_resistance_legs(
    couples: float,
    leg_length_m: float,
    leg_area_m2: float,
    contact_resistivity_ohm_m2: float,
    temperature_K: float,
) -> float:
    """Electrical resistance of a module of bismuth-telluride couples, with its contacts.

    Parameters
    ----------
    couples : float
        Couples in series [1]; at least 1.
    leg_length_m, leg_area_m2 : float
        Length and cross-section of one leg [m], [m^2]; above 0.
    contact_resistivity_ohm_m2 : float
        Resistance times area of one soldered end [ohm m^2]; not negative, 1e-10 is usual.
    temperature_K : float
        Mean temperature of the legs [K]; 200 to 400.

    Returns
    -------
    float
        Module resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = 2 N (rho(T) L + 2 r_c) / A``. The copper bridges and the leads are not in it.

    Error: 10 %.
    Source: definition; rho from `bismuth_telluride_resistivity`.
    Checked against: 127 couples of 1.4 x 1.4 x 1.6 mm at 300 K by hand: 2.294 ohm, contacts
    0.0259 ohm more.

    Examples
    --------
    >>> round(float(module_resistance_legs(127.0, 1.6e-3, 1.96e-6, 0.0, 300.0)), 3)
    2.294
    """
    if not (
        couples >= 1.0
        and leg_length_m > 0.0
        and leg_area_m2 > 0.0
        and contact_resistivity_ohm_m2 >= 0.0
    ):
        return nan
    resistivity_ohm_m: float = bismuth_telluride_resistivity(temperature_K)
    leg_ohm = (resistivity_ohm_m * leg_length_m + 2.0 * contact_resistivity_ohm_m2) / leg_area_m2
    return 2.0 * couples * leg_ohm


@law
def module_conductance_legs(
    couples: float, leg_length_m: float, leg_area_m2: float, temperature_K: float
) -> float:
    """Thermal conductance of the legs of a bismuth-telluride module.

    Parameters
    ----------
    couples : float
        Couples side by side [1]; at least 1.
    leg_length_m, leg_area_m2 : float
        Length and cross-section of one leg [m], [m^2]; above 0.
    temperature_K : float
        Mean temperature of the legs [K]; 200 to 400.

    Returns
    -------
    float
        Conductance between the faces [W/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``K = 2 N k(T) A / L``. Air or a seal between the legs adds to it.

    Error: 10 %.
    Source: definition; k from `bismuth_telluride_conductivity`.
    Checked against: 127 couples of 1.4 x 1.4 x 1.6 mm at 300 K by hand: 0.51257 W/K.

    Examples
    --------
    >>> round(float(module_conductance_legs(127.0, 1.6e-3, 1.96e-6, 300.0)), 4)
    0.5126
    """
    if not (couples >= 1.0 and leg_length_m > 0.0 and leg_area_m2 > 0.0):
        return nan
    conductivity_W_mK: float = bismuth_telluride_conductivity(temperature_K)
    return 2.0 * couples * conductivity_W_mK * leg_area_m2 / leg_length_m


@law
def seebeck_standard_nist(temperature_K: float) -> float:
    """Seebeck coefficient of the national standard made of bismuth telluride (n type).

    A yardstick: a leg whose coefficient near room temperature is far from this size is suspect.

    Parameters
    ----------
    temperature_K : float
        Temperature of the standard [K]; 250 to 390.

    Returns
    -------
    float
        Seebeck coefficient [V/K], negative, same shape; NaN outside the range.

    Notes
    -----
    With ``x = T - 295``: ``-230.03 - 0.22040 x + 3.9706e-3 x^2 + 7.2922e-6 x^3 - 1.0864e-9 x^4``
    [uV/K].

    Error: 2 %.
    Source: certificate of NIST Standard Reference Material 3451; polynomial as quoted in open
    laboratory code, the certificate itself not read.
    Checked against: values worked out from the certificate's polynomial apart from this code.

    Examples
    --------
    >>> round(float(seebeck_standard_nist(295.0)) * 1e6, 2)
    -230.03
    """
    if not (250.0 <= temperature_K <= 390.0):
        return nan
    x = temperature_K - 295.0
    series = x * (-0.22040 + x * (3.9706e-3 + x * (7.2922e-6 - 1.0864e-9 * x)))
    return (-230.03 + series) * 1e-6
