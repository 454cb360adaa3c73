"""One straight fin: how well it carries heat from its base to its tip."""

from __future__ import annotations

from math import cosh, nan, sinh, sqrt, tanh

from coldwright.physics.compiled import law


@law
def fin_efficiency(
    film_W_m2K: float, height_m: float, thickness_m: float, conductivity_W_mK: float
) -> float:
    """Mean excess temperature of a straight fin over that of its base.

    Parameters
    ----------
    film_W_m2K : float
        Film coefficient on both faces [W/m^2/K]; not negative.
    height_m, thickness_m : float
        Height and thickness of the fin [m]; above 0.
    conductivity_W_mK : float
        Conductivity of the fin [W/m/K]; above 0.

    Returns
    -------
    float
        Efficiency [1], 0 to 1, in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``eta = tanh(m H) / (m H)``, ``m = sqrt(2 h / (k t))``, no heat through the tip: a plate fin
    long in the direction of the air, with a cover over its tips. For an open tip take half the
    thickness more in height.

    Error: 2 %.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 3,
    fins of uniform cross-section.
    Checked against: a fin solved by finite differences.

    Examples
    --------
    >>> round(float(fin_efficiency(24.296, 0.03, 1e-3, 200.0)), 4)
    0.933
    """
    if not (film_W_m2K >= 0.0 and height_m > 0.0 and thickness_m > 0.0 and conductivity_W_mK > 0.0):
        return nan
    square = 2.0 * film_W_m2K * height_m * height_m / (conductivity_W_mK * thickness_m)
    if square < 1e-8:
        return 1.0 - square / 3.0
    m_height = sqrt(square)
    return tanh(m_height) / m_height


@law
def fin_heat_endless(
    film_W_m2K: float,
    perimeter_m: float,
    area_m2: float,
    conductivity_W_mK: float,
    excess_K: float,
) -> float:
    """Heat of a rod or fin so long that its end is as cold as the air: the most a fin can give.

    Parameters
    ----------
    film_W_m2K : float
        Film coefficient [W/m^2/K]; not negative.
    perimeter_m, area_m2 : float
        Perimeter and area of its cross-section [m], [m^2]; above 0.
    conductivity_W_mK : float
        Conductivity of the fin [W/m/K]; above 0.
    excess_K : float
        Base above air [K]; any.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``q = sqrt(h P k A) dT``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 3,
    fins of uniform cross-section.
    Checked against: a handbook's aluminium fin of 2 x 40 mm, by hand: 13.374 W.

    Examples
    --------
    >>> round(float(fin_heat_endless(30.0, 0.084, 80e-6, 210.0, 65.0)), 3)
    13.374
    """
    if not (film_W_m2K >= 0.0 and perimeter_m > 0.0 and area_m2 > 0.0 and conductivity_W_mK > 0.0):
        return nan
    return sqrt(film_W_m2K * perimeter_m * conductivity_W_mK * area_m2) * excess_K


@law
def fin_heat_adiabatic_tip(
    film_W_m2K: float,
    perimeter_m: float,
    area_m2: float,
    length_m: float,
    conductivity_W_mK: float,
    excess_K: float,
) -> float:
    """Heat of a rod or fin whose tip gives off none.

    Parameters
    ----------
    film_W_m2K : float
        Film coefficient [W/m^2/K]; not negative.
    perimeter_m, area_m2, length_m : float
        Perimeter and area of its cross-section, length [m], [m^2], [m]; above 0.
    conductivity_W_mK : float
        Conductivity of the fin [W/m/K]; above 0.
    excess_K : float
        Base above air [K]; any.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``q = sqrt(h P k A) dT tanh(m L)``, ``m = sqrt(h P / (k A))``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 3,
    fins of uniform cross-section.
    Checked against: a handbook's aluminium fin of 2 x 40 x 30 mm, by hand: 4.7042 W.

    Examples
    --------
    >>> round(float(fin_heat_adiabatic_tip(30.0, 0.084, 80e-6, 0.03, 210.0, 65.0)), 4)
    4.7042
    """
    if not (
        film_W_m2K >= 0.0
        and perimeter_m > 0.0
        and area_m2 > 0.0
        and length_m > 0.0
        and conductivity_W_mK > 0.0
    ):
        return nan
    film_W_mK = film_W_m2K * perimeter_m
    solid_W_m = conductivity_W_mK * area_m2
    return sqrt(film_W_mK * solid_W_m) * excess_K * tanh(sqrt(film_W_mK / solid_W_m) * length_m)


@law
def fin_heat_convecting_tip(
    film_W_m2K: float,
    perimeter_m: float,
    area_m2: float,
    length_m: float,
    conductivity_W_mK: float,
    excess_K: float,
) -> float:
    """Heat of a rod or fin whose tip has the same film as its sides.

    Parameters
    ----------
    film_W_m2K : float
        Film coefficient [W/m^2/K]; not negative.
    perimeter_m, area_m2, length_m : float
        Perimeter and area of its cross-section, length [m], [m^2], [m]; above 0.
    conductivity_W_mK : float
        Conductivity of the fin [W/m/K]; above 0.
    excess_K : float
        Base above air [K]; any.

    Returns
    -------
    float
        Heat [W], in the broadcast shape; 0 without a film; NaN outside the range.

    Notes
    -----
    ``q = sqrt(h P k A) dT (sinh x + c cosh x) / (cosh x + c sinh x)``, ``x = m L``,
    ``c = h / (m k)``; up to ``x = 300``.

    Error: exact.
    Source: F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, chapter 3,
    fins of uniform cross-section.
    Checked against: a handbook's aluminium fin of 2 x 40 x 30 mm, by hand: 4.8403 W.

    Examples
    --------
    >>> round(float(fin_heat_convecting_tip(30.0, 0.084, 80e-6, 0.03, 210.0, 65.0)), 4)
    4.8403
    """
    if not (
        film_W_m2K >= 0.0
        and perimeter_m > 0.0
        and area_m2 > 0.0
        and length_m > 0.0
        and conductivity_W_mK > 0.0
    ):
        return nan
    if film_W_m2K == 0.0:
        return 0.0
    film_W_mK = film_W_m2K * perimeter_m
    solid_W_m = conductivity_W_mK * area_m2
    m_1_m = sqrt(film_W_mK / solid_W_m)
    x = m_1_m * length_m
    if not x <= 300.0:
        return nan
    c = film_W_m2K / (m_1_m * conductivity_W_mK)
    shape = (sinh(x) + c * cosh(x)) / (cosh(x) + c * sinh(x))
    return sqrt(film_W_mK * solid_W_m) * excess_K * shape
