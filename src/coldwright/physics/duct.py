"""Round ducts: friction, and the pressure that a duct with its fittings costs.

The fittings stand in `fitting`, the heat on the way in `duct_heat`.
"""

from __future__ import annotations

from math import exp, log, log10, nan, pi, sqrt

from coldwright.physics.compiled import compiled, law

# Diameters that the measurements behind `compressed_duct_factor` cover; smaller or larger ones
# are an extrapolation that an answer has to flag.
COMPRESSED_DUCT_FITTED_M = (0.150, 0.250)

_ROUGHEST = 0.06


@law
def duct_pressure_drop(
    flow_m3_s: float,
    diameter_m: float,
    length_m: float,
    roughness_m: float,
    loss_coefficient: float,
    density_kg_m3: float,
    viscosity_Pa_s: float,
) -> float:
    """Pressure that air loses in a round duct and its fittings.

    Parameters
    ----------
    flow_m3_s : float
        Air through the duct [m^3/s]; any, the drop has the sign of the flow.
    diameter_m : float
        Inner diameter [m]; above 0.
    length_m, roughness_m : float
        Stretched length, roughness of the wall [m]; not negative, roughness up to 6 % of the
        diameter.
    loss_coefficient : float
        Sum over the fittings, on the velocity pressure in the duct [1]; not negative.
    density_kg_m3, viscosity_Pa_s : float
        Of the air [kg/m^3], [Pa s]; above 0.

    Returns
    -------
    float
        Pressure drop [Pa], in the broadcast shape; 0 without flow; NaN outside the range.

    Notes
    -----
    ``dp = (f L / D + C) rho V^2 / 2``, f from `friction_factor_churchill`.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals, chapter 21 (duct design), the Darcy equation.
    Checked against: ASHRAE Handbook Fundamentals, chapter 21, example 6 (250 mm, 470 L/s).

    Examples
    --------
    >>> round(float(duct_pressure_drop(0.0, 0.15, 1.5, 9e-4, 1.0, 1.2, 1.8e-5)), 3)
    0.0
    """
    if not (
        diameter_m > 0.0
        and length_m >= 0.0
        and loss_coefficient >= 0.0
        and density_kg_m3 > 0.0
        and viscosity_Pa_s > 0.0
        and roughness_m >= 0.0
        and roughness_m <= _ROUGHEST * diameter_m
    ):
        return nan
    if flow_m3_s == 0.0:
        return 0.0
    speed_m_s = flow_m3_s / (0.25 * pi * diameter_m * diameter_m)
    reynolds = density_kg_m3 * abs(speed_m_s) * diameter_m / viscosity_Pa_s
    friction: float = _churchill(reynolds, roughness_m / diameter_m)
    losses = friction * length_m / diameter_m + loss_coefficient
    return losses * 0.5 * density_kg_m3 * speed_m_s * abs(speed_m_s)


@law
def friction_factor_churchill(reynolds: float, relative_roughness: float) -> float:
    """Friction factor (Darcy) of a round duct over the whole range of flow.

    Parameters
    ----------
    reynolds : float
        On the diameter [1]; above 0, up to 1e8.
    relative_roughness : float
        Roughness over diameter [1]; 0 to 0.06.

    Returns
    -------
    float
        Friction factor, four times Fanning's [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``f = 8 ((8/Re)^12 + (A + B)^-1.5)^(1/12)``,
    ``A = (2.457 ln(1 / ((7/Re)^0.9 + 0.27 e)))^16``, ``B = (37530/Re)^16``.

    Error: 3 %.
    Source: S. W. Churchill, "Friction-factor equation spans all fluid-flow regimes", Chemical
    Engineering 84 (7 November 1977) 91-92.
    Checked against: Colebrook's equation; 64/Re.

    Examples
    --------
    >>> round(float(friction_factor_churchill(1e5, 1e-4)), 4)
    0.0185
    """
    if not (0.0 < reynolds <= 1e8 and 0.0 <= relative_roughness <= _ROUGHEST):
        return nan
    value: float = _churchill(reynolds, relative_roughness)
    return value


@law
def friction_factor_colebrook(reynolds: float, relative_roughness: float) -> float:
    """Friction factor (Darcy) of turbulent flow in a round duct.

    Parameters
    ----------
    reynolds : float
        On the diameter [1]; 4000 to 1e8.
    relative_roughness : float
        Roughness over diameter [1]; 0 to 0.06.

    Returns
    -------
    float
        Friction factor, four times Fanning's [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``x = 1/sqrt(f)`` solves ``x = -2 log10(e / 3.7 + 2.51 x / Re)``; found by Newton's rule to
    1e-12 of itself.

    Error: 3 %.
    Source: C. F. Colebrook, Journal of the Institution of Civil Engineers 11 (1939) 133-156;
    ASHRAE Handbook Fundamentals, chapter 21.
    Checked against: the library fluids (exact solution); the equation itself.

    Examples
    --------
    >>> round(float(friction_factor_colebrook(1e5, 1e-4)), 6)
    0.018514
    """
    if not (4000.0 <= reynolds <= 1e8 and 0.0 <= relative_roughness <= _ROUGHEST):
        return nan
    rough = relative_roughness / 3.7
    slope = 2.51 / reynolds
    x = -1.8 * log10(rough**1.11 + 6.9 / reynolds)
    for _ in range(20):
        inside = rough + slope * x
        misfit = x + 2.0 * log10(inside)
        step = misfit / (1.0 + 2.0 / log(10.0) * slope / inside)
        x = x - step
        if abs(step) <= 1e-13 * x:
            break
    return 1.0 / (x * x)


@law
def compressed_duct_factor(diameter_m: float, compression_percent: float) -> float:
    """How many times more pressure a flexible duct loses when it is not pulled out straight.

    Parameters
    ----------
    diameter_m : float
        Inner diameter [m]; 0.075 to 0.4. Measured from 0.150 to 0.250
        (`COMPRESSED_DUCT_FITTED_M`); the rest is an extrapolation.
    compression_percent : float
        How much shorter than fully stretched [%]; 0 to 30.

    Returns
    -------
    float
        Factor on the friction loss of the stretched duct [1], in the broadcast shape; NaN outside
        the range.

    Notes
    -----
    ``1 + 0.58 K exp(-0.00496 D)``, D in mm, K in percent, on the loss of a roughness of 0.9 mm.
    Fabric over a wire; metal ducts were not measured.

    Error: 25 %.
    Source: ASHRAE Handbook Fundamentals, chapter 21, eqs 22-23, after Abushakra et al. (2004) and
    Culp (2011).
    Checked against: ASHRAE Handbook Fundamentals, chapter 21, example 6 (1.7 and 3.5).

    Examples
    --------
    >>> round(float(compressed_duct_factor(0.25, 15.0)), 2)
    3.52
    """
    if not (0.075 <= diameter_m <= 0.4 and 0.0 <= compression_percent <= 30.0):
        return nan
    return 1.0 + 0.58 * compression_percent * exp(-4.96 * diameter_m)


@law
def equivalent_diameter_huebscher(width_m: float, height_m: float) -> float:
    """Round duct that loses the same pressure at the same flow as a rectangular one.

    Parameters
    ----------
    width_m, height_m : float
        Inner sides of the rectangle [m]; above 0.

    Returns
    -------
    float
        Diameter [m], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``D = 1.30 (a b)^0.625 / (a + b)^0.25``. Neither the hydraulic diameter nor the round duct of
    equal area.

    Error: 3 %.
    Source: R. G. Huebscher, ASHVE Transactions 54 (1948), as given in ASHRAE Handbook
    Fundamentals, chapter 21.
    Checked against: equal friction of both ducts by way of the hydraulic diameter.

    Examples
    --------
    >>> round(float(equivalent_diameter_huebscher(0.2, 0.2)), 4)
    0.2186
    """
    if not (width_m > 0.0 and height_m > 0.0):
        return nan
    area: float = width_m * height_m
    return 1.30 * area**0.625 / sqrt(sqrt(width_m + height_m))


@law
def hydraulic_diameter(area_m2: float, perimeter_m: float) -> float:
    """Four times the flow's cross-section over its wetted perimeter.

    Parameters
    ----------
    area_m2, perimeter_m : float
        Cross-section and perimeter [m^2], [m]; above 0.

    Returns
    -------
    float
        Hydraulic diameter [m], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``D = 4 A / P``.

    Error: exact.
    Source: definition; ASHRAE Handbook Fundamentals, chapter 21.
    Checked against: the diameter of a circle and the side of a square.

    Examples
    --------
    >>> round(float(hydraulic_diameter(0.04, 0.8)), 9)
    0.2
    """
    if not (area_m2 > 0.0 and perimeter_m > 0.0):
        return nan
    return 4.0 * area_m2 / perimeter_m


@compiled
def _churchill(reynolds: float, relative_roughness: float) -> float:
    if reynolds < 10.0:
        return 64.0 / reynolds
    a = 2.457 * log(exp(0.9 * log(7.0 / reynolds)) + 0.27 * relative_roughness)
    a = a * a
    if reynolds > 2e4:
        return 8.0 / a  # the rest is then a part in 1e13
    a = a * a
    a = a * a
    b = 37530.0 / reynolds
    b = b * b
    b = b * b
    b = b * b
    both = a * a + b * b
    c = 8.0 / reynolds
    c = c * c * c
    c = c * c
    return 8.0 * (c * c + 1.0 / (both * sqrt(both))) ** (1.0 / 12.0)
