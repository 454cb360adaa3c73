"""Insulation with water or ice in its pores: how much better it conducts than dry."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Conductivities of ice at 0 °C and of water at 0 °C [W/m/K]: 2.22 and 0.56.
# Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 33 (ice), IAPWS R15-11 (water).
ICE_W_MK = 2.22
WATER_W_MK = 0.56
# Beyond this share of water by volume no standard's coefficient holds.
_MOST_SHARE = 0.5


@law
def damp_conductivity_factor(coefficient: float, water_share: float) -> float:
    """Conductivity of a damp material over that of the dry one.

    Parameters
    ----------
    coefficient : float or array
        Moisture conversion coefficient of the material for water by volume [1]: 2.5 for extruded
        and 4 for expanded polystyrene and mineral wool, 5 phenolic, 6 polyurethane. Valid 0 to 20.
    water_share : float or array
        Share of the volume that is water [1]. Valid 0 to 0.5; the standard's coefficients hold to
        0.10 (polystyrenes) or 0.15.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Ratio [1], 1 when dry; NaN outside the valid range.

    Notes
    -----
    ``F = exp(f psi)``. Heat that the water carries by evaporating on the warm side and condensing
    on the cold one is left out.

    Error: 25 %.
    Source: ISO 10456:2007, 7.3 and table 4 (coefficients from memory).
    Checked against: the factor 1.49 for expanded polystyrene at 10 % by volume, by hand.

    Examples
    --------
    >>> round(float(damp_conductivity_factor(4.0, 0.10)), 3)
    1.492
    """
    if not (0.0 <= coefficient <= 20.0 and 0.0 <= water_share <= _MOST_SHARE):
        return math.nan
    return math.exp(coefficient * water_share)


@law
def frozen_conductivity_factor(water_share: float) -> float:
    """Conductivity of a material with ice in its pores over that with as much water.

    Parameters
    ----------
    water_share : float or array
        Share of the volume that is ice [1]. Valid 0 to 0.5.

    Returns
    -------
    float or array, same shape as the input
        Ratio [1], at least 1; NaN outside the valid range.

    Notes
    -----
    ``F = (k_ice / k_water)^psi``: in a geometric mean of the conductivities of all constituents,
    weighted by volume, the water is exchanged for ice. Layers of ice across the heat flow do less,
    bridges of ice along it do more.

    Error: 30 %.
    Source: O. Johansen, "Thermal conductivity of soils", thesis, Trondheim (1975): geometric mean
    for frozen and unfrozen pores (from memory).
    Checked against: the mean's own ends, all water to all ice (2.22/0.56 = 3.96 by volume 1).

    Examples
    --------
    >>> round(float(frozen_conductivity_factor(0.10)), 3)
    1.148
    """
    if not 0.0 <= water_share <= _MOST_SHARE:
        return math.nan
    return math.exp(water_share * math.log(ICE_W_MK / WATER_W_MK))
