"""Heat through solids between the module and its sinks: layers, spreading, screws."""

from __future__ import annotations

from math import nan, pi, sqrt, tanh

from coldwright.physics.compiled import law


@law
def slab_resistance(thickness_m: float, conductivity_W_mK: float, area_m2: float) -> float:
    """Thermal resistance of one flat layer: ceramic, paste, pad, plate, foam.

    Parameters
    ----------
    thickness_m : float
        Thickness along the heat [m]; not negative.
    conductivity_W_mK, area_m2 : float
        Conductivity and area of the layer [W/m/K], [m^2]; above 0.

    Returns
    -------
    float
        Resistance [K/W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = t / (k A)``, heat straight through. For a paste the thickness of the bond line is the
    uncertain part, not this law.

    Error: exact.
    Source: Fourier's law; F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass
    Transfer, chapter 3.
    Checked against: 0.7 mm of alumina on 40 x 40 mm by hand: 0.01823 K/W.

    Examples
    --------
    >>> round(float(slab_resistance(0.7e-3, 24.0, 1.6e-3)), 5)
    0.01823
    """
    if not (thickness_m >= 0.0 and conductivity_W_mK > 0.0 and area_m2 > 0.0):
        return nan
    return thickness_m / (conductivity_W_mK * area_m2)


@law
def rod_conductance(area_m2: float, length_m: float, conductivity_W_mK: float) -> float:
    """Heat conductance of a straight piece: a screw, or the foam around the modules.

    Parameters
    ----------
    area_m2, length_m : float
        Cross-section and length along the heat [m^2], [m]; the length above 0, the area not
        negative.
    conductivity_W_mK : float
        Conductivity [W/m/K]; not negative.

    Returns
    -------
    float
        Conductance [W/K], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``G = k A / L``.

    Error: exact.
    Source: Fourier's law; F. P. Incropera and D. P. DeWitt, Fundamentals of Heat and Mass
    Transfer, chapter 3.
    Checked against: a steel screw with 8.78 mm^2 and 20 mm by hand: 0.0220 W/K at 50 W/m/K.

    Examples
    --------
    >>> round(float(rod_conductance(8.78e-6, 0.02, 50.0)), 5)
    0.02195
    """
    if not (area_m2 >= 0.0 and length_m > 0.0 and conductivity_W_mK >= 0.0):
        return nan
    return conductivity_W_mK * area_m2 / length_m


@law
def spreading_resistance_mean_lee(
    source_area_m2: float,
    base_area_m2: float,
    thickness_m: float,
    conductivity_W_mK: float,
    sink_resistance_K_W: float,
) -> float:
    """Resistance that heat meets as it spreads from a module into a larger base: mean of the area.

    The one to take for a module, whose legs feel the mean temperature under it. Several modules
    on one base: give each its share of the base, and the sink's resistance times their number.

    Parameters
    ----------
    source_area_m2, base_area_m2 : float
        Area of the module and of its share of the base [m^2]; above 0, the source not larger.
    thickness_m : float
        Thickness of the base [m]; not negative.
    conductivity_W_mK : float
        Conductivity of the base [W/m/K]; above 0.
    sink_resistance_K_W : float
        Resistance from the base's other face to the air, evenly heated [K/W]; not negative.

    Returns
    -------
    float
        Resistance beyond that of an evenly heated base [K/W], in the broadcast shape; NaN outside
        the range.

    Notes
    -----
    With ``a = sqrt(As / pi)``, ``b = sqrt(Ap / pi)``, ``e = a / b``, ``l = pi + 1 / (sqrt(pi) e)``
    and ``c = pi k b R0``: ``phi = (tanh(l t / b) + l c) / (1 + l c tanh(l t / b))`` and
    ``R = (1 - e)^1.5 phi / (2 sqrt(pi) k a)``. For a source in the middle of a base of about the
    same shape; 4 to 7 % below a full series solution for thin bases.

    Error: 8 %.
    Source: S. Lee, S. Song, V. Au and K. P. Moran, "Constriction/spreading resistance model for
    electronics packaging", ASME/JSME Thermal Engineering Conference 4 (1995) 199-206 (from
    memory); S. Lee, "Calculating spreading resistance in heat sinks", Electronics Cooling,
    January 1998.
    Checked against: a three-dimensional Fourier series for a square source on a square base.

    Examples
    --------
    >>> round(float(spreading_resistance_mean_lee(1.6e-3, 1e-2, 5e-3, 200.0, 0.3)), 4)
    0.0726
    """
    if not (
        source_area_m2 > 0.0
        and source_area_m2 <= base_area_m2
        and thickness_m >= 0.0
        and conductivity_W_mK > 0.0
        and sink_resistance_K_W >= 0.0
    ):
        return nan
    a = sqrt(source_area_m2 / pi)
    b = sqrt(base_area_m2 / pi)
    e = a / b
    eigenvalue = pi + 1.0 / (sqrt(pi) * e)
    depth = tanh(eigenvalue * thickness_m / b)
    cooling = eigenvalue * pi * conductivity_W_mK * b * sink_resistance_K_W
    phi = (depth + cooling) / (1.0 + cooling * depth)
    return (1.0 - e) * sqrt(1.0 - e) * phi / (2.0 * sqrt(pi) * conductivity_W_mK * a)


@law
def spreading_resistance_max_lee(
    source_area_m2: float,
    base_area_m2: float,
    thickness_m: float,
    conductivity_W_mK: float,
    sink_resistance_K_W: float,
) -> float:
    """Resistance that heat meets as it spreads from a module into a larger base: hottest point.

    For the hottest point under the source only; a module takes `spreading_resistance_mean_lee`.

    Parameters
    ----------
    source_area_m2, base_area_m2 : float
        Area of the module and of its share of the base [m^2]; above 0, the source not larger.
    thickness_m : float
        Thickness of the base [m]; not negative.
    conductivity_W_mK : float
        Conductivity of the base [W/m/K]; above 0.
    sink_resistance_K_W : float
        Resistance from the base's other face to the air, evenly heated [K/W]; not negative.

    Returns
    -------
    float
        Resistance beyond that of an evenly heated base [K/W], in the broadcast shape; NaN outside
        the range.

    Notes
    -----
    With the symbols of `spreading_resistance_mean_lee`: ``R = (1 - e) phi / (pi k a)``. 2 to 4 %
    below a full series solution for thin bases.

    Error: 5 %.
    Source: S. Lee, "Calculating spreading resistance in heat sinks", Electronics Cooling,
    January 1998 (formula and worked example from memory).
    Checked against: a three-dimensional Fourier series for a square source on a square base.

    Examples
    --------
    >>> round(float(spreading_resistance_max_lee(6.25e-4, 1e-2, 1.3e-3, 200.0, 1.0)), 4)
    0.6566
    """
    if not (
        source_area_m2 > 0.0
        and source_area_m2 <= base_area_m2
        and thickness_m >= 0.0
        and conductivity_W_mK > 0.0
        and sink_resistance_K_W >= 0.0
    ):
        return nan
    a = sqrt(source_area_m2 / pi)
    b = sqrt(base_area_m2 / pi)
    e = a / b
    eigenvalue = pi + 1.0 / (sqrt(pi) * e)
    depth = tanh(eigenvalue * thickness_m / b)
    cooling = eigenvalue * pi * conductivity_W_mK * b * sink_resistance_K_W
    phi = (depth + cooling) / (1.0 + cooling * depth)
    return (1.0 - e) * phi / (pi * conductivity_W_mK * a)
