"""Heat and moisture that people give off."""

from __future__ import annotations

import math
from typing import NamedTuple

from coldwright.physics.air_state import LATENT_J_KG
from coldwright.physics.compiled import law


class PersonHeat(NamedTuple):
    """Heat of one adult, mean of men and women, at a room temperature of about 24 °C."""

    sensible_W: float
    latent_W: float


# ASHRAE Handbook Fundamentals 2021 (SI), chapter 18, table 1. At 27 °C the totals stay and some
# 20 % of the sensible part goes over to the latent one (that note from memory).
PERSON_HEAT = {
    "seated, watching": PersonHeat(70.0, 35.0),
    "seated, very light work": PersonHeat(70.0, 45.0),
    "office work": PersonHeat(75.0, 55.0),
    "standing, light work": PersonHeat(75.0, 55.0),
}
# Share of the sensible heat that leaves by radiation, in still and in fast air (same table).
RADIANT_SHARE_STILL = 0.60
RADIANT_SHARE_FAST = 0.27

# ASHRAE Handbook Fundamentals 2021 (SI), chapter 9, table 4, per area of skin [W/m2].
METABOLIC_RATE_W_M2 = {"sleeping": 40.0, "reclining": 45.0, "seated, quiet": 60.0}
BODY_AREA_M2 = 1.8


@law
def metabolic_heat(rate_W_m2: float, body_area_m2: float) -> float:
    """Total heat, sensible and latent, of one person.

    Parameters
    ----------
    rate_W_m2 : float or array
        Metabolic rate per area of skin [W/m2]. Valid 30 to 600.
    body_area_m2 : float or array
        Area of skin [m2], an adult about `BODY_AREA_M2`. Valid 0.2 to 3.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Heat [W]; NaN outside the valid range.

    Notes
    -----
    ``Q = M A``; without outside work all of it becomes heat.

    Error: 15 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 9, table 4.
    Checked against: the same handbook, chapter 18, table 1 (seated, 105 W).

    Examples
    --------
    >>> float(metabolic_heat(60.0, 1.8))
    108.0
    """
    if not (30.0 <= rate_W_m2 <= 600.0 and 0.2 <= body_area_m2 <= 3.0):
        return math.nan
    return rate_W_m2 * body_area_m2


@law
def body_area_dubois(mass_kg: float, height_m: float) -> float:
    """Area of skin of a person.

    Parameters
    ----------
    mass_kg : float or array
        Body mass [kg]. Valid 5 to 250.
    height_m : float or array
        Height [m]. Valid 0.5 to 2.5.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Area [m2]; NaN outside the valid range.

    Notes
    -----
    ``A = 0.202 m**0.425 l**0.725``.

    Error: 10 %.
    Source: D. DuBois and E. F. DuBois, Arch. Intern. Med. 17, 1916; ASHRAE Handbook Fundamentals
    2021 (SI), chapter 9.
    Checked against: the 1.8 m2 of the standard adult of 1.73 m and 70 kg.

    Examples
    --------
    >>> round(float(body_area_dubois(70.0, 1.73)), 2)
    1.83
    """
    if not (5.0 <= mass_kg <= 250.0 and 0.5 <= height_m <= 2.5):
        return math.nan
    return 0.202 * math.pow(mass_kg, 0.425) * math.pow(height_m, 0.725)


@law
def moisture_of_latent(latent_W: float) -> float:
    """Vapour given off with a latent heat, so that the air's enthalpy rises by just that heat.

    Parameters
    ----------
    latent_W : float or array
        Latent heat [W]. Valid from 0.

    Returns
    -------
    float or array, same shape as the input
        Water vapour [kg/s]; NaN outside the valid range.

    Notes
    -----
    ``m = Q / 2501000``, the heat of evaporation at 0 °C as `enthalpy` counts it. The vapour's own
    warmth (2.5 % at 35 °C) is left in the sensible part.

    Error: 4 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 1, enthalpy of moist air.
    Checked against: IAPWS-95 heat of evaporation at 0 °C (CoolProp).

    Examples
    --------
    >>> round(float(moisture_of_latent(35.0)) * 3.6e6, 1)
    50.4
    """
    if not latent_W >= 0.0:
        return math.nan
    return latent_W / LATENT_J_KG
