"""Flow between two plates and in tubes: film coefficient (as Nusselt number) and friction.

Between Reynolds numbers of 2300 and 4000 the flow is neither laminar nor turbulent; the laws for
the whole range pass from one to the other without a jump or a kink, and never fall as the flow
rises, so that a solver can lean on them.
"""

from __future__ import annotations

from math import exp, log, nan, sqrt

from coldwright.physics.compiled import compiled, law

_LAMINAR_END = 2300.0
_TURBULENT_START = 4000.0


@law
def nusselt_plates(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    """Mean Nusselt number between two plates at one temperature, over the whole range of flow.

    Parameters
    ----------
    reynolds : float
        On the hydraulic diameter, twice the gap [1]; 0 to 1e6.
    prandtl : float
        Prandtl number [1]; 0.5 to 1000.
    length_over_diameter : float
        Length over hydraulic diameter [1]; above 0.

    Returns
    -------
    float
        Mean Nusselt number on the hydraulic diameter, for the logarithmic mean difference [1], in
        the broadcast shape; NaN outside the range.

    Notes
    -----
    Below 2300 `nusselt_plates_stephan`, above 4000 `nusselt_tube_gnielinski` on the same hydraulic
    diameter, or, where the channel is so short that developing laminar flow gives more, the
    larger of both (joined by an eighth-power sum). Between them a cubic blend.

    Error: 15 %.
    Source: K. Stephan, Chemie Ingenieur Technik 31 (1959) 773-778; V. Gnielinski, International
    Chemical Engineering 16 (1976) 359-368; the blend is this project's own.
    Checked against: each of the two in its own range.

    Examples
    --------
    >>> round(float(nusselt_plates(1000.0, 0.71, 1000.0)), 1)
    7.6
    """
    if not (0.0 <= reynolds <= 1e6 and 0.5 <= prandtl <= 1000.0 and length_over_diameter > 0.0):
        return nan
    laminar: float = _stephan(reynolds, prandtl, length_over_diameter)
    if reynolds <= _LAMINAR_END:
        return laminar
    turbulent: float = _larger(_gnielinski(reynolds, prandtl, length_over_diameter), laminar)
    share: float = turbulent_share(reynolds)
    return laminar + share * (turbulent - laminar)


@law
def nusselt_plates_stephan(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    """Mean Nusselt number of laminar flow that develops between two plates at one temperature.

    Parameters
    ----------
    reynolds : float
        On the hydraulic diameter, twice the gap [1]; 0 to 4000 (above 2300 no longer surely
        laminar).
    prandtl : float
        Prandtl number [1]; 0.1 to 1000.
    length_over_diameter : float
        Length over hydraulic diameter [1]; above 0.

    Returns
    -------
    float
        Mean Nusselt number on the hydraulic diameter, for the logarithmic mean difference [1], in
        the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Nu = 7.55 + 0.024 X^-1.14 / (1 + 0.0358 X^-0.64 Pr^0.17)``, ``X = (L / D) / (Re Pr)``; speed
    and temperature profile both start flat.

    Error: 5 %.
    Source: K. Stephan, Chemie Ingenieur Technik 31 (1959) 773-778 (as quoted in handbooks, from
    memory).
    Checked against: R. K. Shah and A. L. London, Laminar Flow Forced Convection in Ducts (1978):
    7.541 far from the entrance; the flat plate, 0.664 Re^0.5 Pr^(1/3), at the entrance.

    Examples
    --------
    >>> round(float(nusselt_plates_stephan(100.0, 0.7, 1000.0)), 2)
    7.55
    """
    if not (0.0 <= reynolds <= _TURBULENT_START and 0.1 <= prandtl <= 1000.0):
        return nan
    if not length_over_diameter > 0.0:
        return nan
    value: float = _stephan(reynolds, prandtl, length_over_diameter)
    return value


@law
def nusselt_channel_teertstra(channel_reynolds: float, prandtl: float) -> float:
    """Mean Nusselt number of laminar flow between two plates, referred to the air that comes in.

    Parameters
    ----------
    channel_reynolds : float
        ``V b / nu * b / L``, of the gap b and the length L [1]; not negative.
    prandtl : float
        Prandtl number [1]; 0.1 to 1000.

    Returns
    -------
    float
        Mean Nusselt number on the gap b, for the difference between plate and incoming air [1],
        in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``Nu = (A^-3 + B^-3)^(-1/3)``, ``A = Re* Pr / 2``,
    ``B = 0.664 sqrt(Re*) Pr^(1/3) sqrt(1 + 3.65 / sqrt(Re*))``.

    Error: 10 %.
    Source: P. Teertstra, M. M. Yovanovich and J. R. Culham, "Analytical forced convection modeling
    of plate fin heat sinks", Journal of Electronics Manufacturing 10 (2000) 253-261.
    Checked against: Stephan's mean Nusselt number, turned to the same reference.

    Examples
    --------
    >>> round(float(nusselt_channel_teertstra(23.017, 0.707)), 3)
    3.649
    """
    if not (channel_reynolds >= 0.0 and 0.1 <= prandtl <= 1000.0):
        return nan
    if channel_reynolds == 0.0:
        return 0.0
    root = sqrt(channel_reynolds)
    developed = 0.5 * channel_reynolds * prandtl
    developing = 0.664 * sqrt(root * (root + 3.65)) * prandtl ** (1.0 / 3.0)
    ratio = developed / developing
    return developed / (1.0 + ratio * ratio * ratio) ** (1.0 / 3.0)


@law
def nusselt_tube_gnielinski(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    """Mean Nusselt number of turbulent flow in a smooth tube, with its entrance.

    Parameters
    ----------
    reynolds : float
        On the hydraulic diameter [1]; 2300 to 5e6 (3000 is the surer start).
    prandtl : float
        Prandtl number [1]; 0.5 to 2000.
    length_over_diameter : float
        Length over diameter [1]; at least 1.

    Returns
    -------
    float
        Mean Nusselt number on the hydraulic diameter [1], in the broadcast shape; NaN outside the
        range.

    Notes
    -----
    ``Nu = (f/8) (Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1)) (1 + (D/L)^(2/3))``,
    ``f = (0.79 ln Re - 1.64)^-2``.

    Error: 10 %.
    Source: V. Gnielinski, "New equations for heat and mass transfer in turbulent pipe and channel
    flow", International Chemical Engineering 16 (1976) 359-368.
    Checked against: the same correlation in the library ht; Dittus-Boelter within 20 %.

    Examples
    --------
    >>> round(float(nusselt_tube_gnielinski(1e5, 0.71, 1e6)))
    180
    """
    if not (_LAMINAR_END <= reynolds <= 5e6 and 0.5 <= prandtl <= 2000.0):
        return nan
    if not length_over_diameter >= 1.0:
        return nan
    value: float = _gnielinski(reynolds, prandtl, length_over_diameter)
    return value


@law
def nusselt_tube(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    """Mean Nusselt number in a round tube or duct at one temperature, over the whole range.

    Parameters
    ----------
    reynolds : float
        On the diameter [1]; 0 to 1e6.
    prandtl : float
        Prandtl number [1]; 0.5 to 1000.
    length_over_diameter : float
        Length over diameter [1]; above 0.

    Returns
    -------
    float
        Mean Nusselt number on the diameter, for the logarithmic mean difference [1], in the
        broadcast shape; NaN outside the range.

    Notes
    -----
    Laminar ``Nu = (3.66^3 + 0.7^3 + (1.615 (Re Pr D / L)^(1/3) - 0.7)^3)^(1/3)``, turbulent
    `nusselt_tube_gnielinski`, joined as in `nusselt_plates`. Smooth walls.

    Error: 15 %.
    Source: V. Gnielinski, VDI Heat Atlas, chapter G1 (from memory); the blend is this project's
    own.
    Checked against: 3.66 far from the entrance (Shah and London); Hausen's correlation in the
    library ht.

    Examples
    --------
    >>> round(float(nusselt_tube(500.0, 0.71, 1e6)), 2)
    3.66
    """
    if not (0.0 <= reynolds <= 1e6 and 0.5 <= prandtl <= 1000.0 and length_over_diameter > 0.0):
        return nan
    # 49.028 = 3.66^3; far from the entrance the last two terms cancel.
    entrance = 1.615 * (reynolds * prandtl / length_over_diameter) ** (1.0 / 3.0) - 0.7
    laminar = (49.028 + 0.343 + entrance * entrance * entrance) ** (1.0 / 3.0)
    if reynolds <= _LAMINAR_END:
        return laminar
    turbulent: float = _larger(_gnielinski(reynolds, prandtl, length_over_diameter), laminar)
    share: float = turbulent_share(reynolds)
    return laminar + share * (turbulent - laminar)


@law
def friction_plates(reynolds: float, length_over_diameter: float, aspect: float) -> float:
    """Mean friction factor (Fanning) of a channel between two plates, with its entrance.

    Parameters
    ----------
    reynolds : float
        On twice the gap [1]; above 0, up to 1e6.
    length_over_diameter : float
        Length over twice the gap [1]; above 0.
    aspect : float
        Gap over height of the channel [1]; 0 (wide plates) to 1.

    Returns
    -------
    float
        Apparent friction factor, a quarter of Darcy's [1], in the broadcast shape; NaN outside
        the range.

    Notes
    -----
    Laminar ``f = sqrt((3.44 / sqrt(X))^2 + F^2) / Re``, ``X = (L / D) / Re``, F the fully
    developed f Re of a rectangular channel. Above 4000 the smooth-wall law
    ``4 f = (0.79 ln Re' - 1.64)^-2`` at ``Re' = (2/3 + 11/24 a (2 - a)) Re``, or the laminar
    value where developing flow makes that one larger; between 2300 and 4000 a cubic blend.

    Error: 10 %.
    Source: Y. S. Muzychka and M. M. Yovanovich (form), R. K. Shah and A. L. London, Laminar Flow
    Forced Convection in Ducts (1978) (f Re); O. C. Jones, Journal of Fluids Engineering 98 (1976)
    173-181 (rectangular channels, from memory).
    Checked against: f Re = 24 of wide plates and 14.227 of a square channel.

    Examples
    --------
    >>> round(float(friction_plates(1000.0, 1e6, 0.0)), 4)
    0.024
    """
    if not (0.0 < reynolds <= 1e6 and length_over_diameter > 0.0 and 0.0 <= aspect <= 1.0):
        return nan
    a = aspect
    developed = 24.0 * (
        1.0 - a * (1.3553 - a * (1.9467 - a * (1.7012 - a * (0.9564 - 0.2537 * a))))
    )
    # (3.44 / sqrt(X))^2
    developing = 11.8336 * reynolds / length_over_diameter
    laminar = sqrt(developing + developed * developed) / reynolds
    if reynolds <= _LAMINAR_END:
        return laminar
    same_as_round = 2.0 / 3.0 + 11.0 / 24.0 * a * (2.0 - a)
    root = 0.79 * log(same_as_round * reynolds) - 1.64
    turbulent: float = _larger(0.25 / (root * root), laminar)
    share: float = turbulent_share(reynolds)
    return laminar + share * (turbulent - laminar)


@compiled
def turbulent_share(reynolds: float) -> float:
    """Weight of the turbulent law: 0 up to 2300, 1 from 4000, a smooth cubic between."""
    if reynolds <= _LAMINAR_END:
        return 0.0
    if reynolds >= _TURBULENT_START:
        return 1.0
    s = (reynolds - _LAMINAR_END) / (_TURBULENT_START - _LAMINAR_END)
    return s * s * (3.0 - 2.0 * s)


@compiled
def _larger(one: float, other: float) -> float:
    # A smooth maximum: 9 % above both where they are equal, exact where they differ.
    p = one * one
    q = other * other
    p = p * p
    q = q * q
    return sqrt(sqrt(sqrt(p * p + q * q)))


@compiled
def _stephan(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    if reynolds <= 0.0:
        return 7.55
    entrance = reynolds * prandtl / length_over_diameter  # 1 / X
    part = exp(0.64 * log(entrance))
    return 7.55 + 0.024 * part * sqrt(entrance) / (1.0 + 0.0358 * part * prandtl**0.17)


@compiled
def _gnielinski(reynolds: float, prandtl: float, length_over_diameter: float) -> float:
    root = 0.79 * log(reynolds) - 1.64
    eighth = 0.125 / (root * root)
    spread = prandtl ** (2.0 / 3.0) - 1.0
    developed = eighth * (reynolds - 1000.0) * prandtl / (1.0 + 12.7 * sqrt(eighth) * spread)
    # In channels shorter than one diameter the entrance term would outrun its data.
    shortness = 1.0 / max(length_over_diameter, 1.0)
    return developed * (1.0 + shortness ** (2.0 / 3.0))
