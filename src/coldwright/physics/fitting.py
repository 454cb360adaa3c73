"""What stands in the way of air besides a straight duct: loss coefficients and wall roughness.

A loss coefficient C costs ``C rho V^2 / 2``. `FITTINGS` gives ordinary values on the speed in the
duct; where a fitting's size is known, a law is better.
"""

from __future__ import annotations

from math import nan
from typing import Final

from coldwright.physics.compiled import law

_RENNELS = "D. C. Rennels and H. M. Hudson, Pipe Flow (2012)"
_IDELCHIK = "I. E. Idelchik, Handbook of Hydraulic Resistance"
_CHAPTER = "ASHRAE Handbook Fundamentals, chapter 21"
_PRACTICE = "practice; ask the maker for a value"

# Name on a design sheet -> (loss coefficient on the duct's velocity pressure, where it is from).
FITTINGS: Final[dict[str, tuple[float, str]]] = {
    "entry": (0.5, f"sharp opening flush with a wall; {_IDELCHIK} (from memory)"),
    "free end": (1.0, f"duct end that stands free, air drawn in; {_IDELCHIK} (from memory)"),
    "bellmouth": (0.2, f"rounded to a tenth of the diameter; {_RENNELS}"),
    "exit": (1.0, "all of the speed is lost in still air; momentum, any handbook"),
    "elbow 90": (0.28, f"smooth, bent to 1.5 diameters; {_RENNELS}"),
    "elbow 45": (0.17, f"smooth, bent to 1.5 diameters, 0.6 of a right angle; {_CHAPTER}"),
    "mitre 90": (1.2, f"sharp corner without vanes; {_RENNELS}"),
    "louvre": (2.5, f"outdoor louvre with insect screen, fully on the duct; {_PRACTICE}"),
    "flap": (1.5, f"backdraught flap held open by the air; {_PRACTICE}"),
    "grille": (
        2.33,
        "sharp-edged, 60 percent open; R. D. Blevins, Applied Fluid Dynamics Handbook",
    ),
    "screen": (0.8, f"wire mesh, 65 percent open; {_IDELCHIK} (from memory)"),
    "filter": (15.0, f"clean coarse mat over the duct's own area; {_PRACTICE}"),
}

# Kind of duct -> roughness [m].
ROUGHNESS: Final[dict[str, float]] = {
    "smooth plastic": 0.046e-3,  # ASHRAE Fundamentals chapter 21 table 1: PVC 0.009 to 0.046 mm
    "drawn tube": 0.0005e-3,  # the same table
    "galvanised spiral": 0.09e-3,  # the same table: 0.06 to 0.12 mm
    "flexible fabric": 0.9e-3,  # the same table: flexible, not metal, pulled out straight
    "flexible aluminium": 3.0e-3,  # the same table: metal, corrugated; measured 1.2 to 2.1 mm
    "printed": 0.3e-3,  # practice: layers of a printed part; no source
}


@law
def loss_sudden_expansion(area_ratio: float) -> float:
    """Loss coefficient where a duct widens at a step.

    Parameters
    ----------
    area_ratio : float
        Small over large cross-section [1]; 0 (into the open) to 1.

    Returns
    -------
    float
        Loss coefficient on the speed in the small duct [1], same shape; NaN outside the range.

    Notes
    -----
    ``C = (1 - A1 / A2)^2``, from momentum.

    Error: 5 %.
    Source: J.-C. de Borda and L. Carnot, as in any handbook of fluid mechanics.
    Checked against: the library fluids.

    Examples
    --------
    >>> round(float(loss_sudden_expansion(0.5)), 3)
    0.25
    """
    if not (0.0 <= area_ratio <= 1.0):
        return nan
    return (1.0 - area_ratio) * (1.0 - area_ratio)


@law
def loss_sudden_contraction(area_ratio: float) -> float:
    """Loss coefficient where a duct narrows at a sharp step.

    Parameters
    ----------
    area_ratio : float
        Small over large cross-section [1]; 0 (out of the open) to 1.

    Returns
    -------
    float
        Loss coefficient on the speed in the small duct [1], same shape; NaN outside the range.

    Notes
    -----
    With the diameters' ratio ``b``: ``x = 1 + 0.622 (1 - 0.215 b^2 - 0.785 b^5)``,
    ``C = 0.0696 (1 - b^5) x^2 + (x - 1)^2``.

    Error: 10 %.
    Source: D. C. Rennels and H. M. Hudson, Pipe Flow (2012), sharp-edged contraction (from
    memory, as the library fluids has it).
    Checked against: the library fluids (0.29 from 200 to 150 mm).

    Examples
    --------
    >>> round(float(loss_sudden_contraction(0.5625)), 2)
    0.29
    """
    if not (0.0 <= area_ratio <= 1.0):
        return nan
    ratio_5 = area_ratio * area_ratio * area_ratio**0.5
    x = 1.0 + 0.622 * (1.0 - 0.215 * area_ratio - 0.785 * ratio_5)
    return 0.0696 * (1.0 - ratio_5) * x * x + (x - 1.0) * (x - 1.0)


@law
def loss_grille(open_fraction: float) -> float:
    """Loss coefficient of a sharp-edged grille or perforated plate.

    Parameters
    ----------
    open_fraction : float
        Open over whole area [1]; 0.2 to 1.

    Returns
    -------
    float
        Loss coefficient on the speed before the grille [1], same shape; NaN outside the range.

    Notes
    -----
    ``C = (0.5 (1 - s) + 1 - s^2) / s^2``, without friction in the openings.

    Error: 20 %.
    Source: R. D. Blevins, Applied Fluid Dynamics Handbook (1984), square-edged grilles (as the
    library fluids has it).
    Checked against: the library fluids (4.0, 2.33 and 1.35 at 0.5, 0.6 and 0.7).

    Examples
    --------
    >>> round(float(loss_grille(0.5)), 3)
    4.0
    """
    if not (0.2 <= open_fraction <= 1.0):
        return nan
    square = open_fraction * open_fraction
    return (0.5 * (1.0 - open_fraction) + 1.0 - square) / square
