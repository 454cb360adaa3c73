"""How warm a month is beyond a base temperature, from its mean and its spread alone."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

_ROOT_TWO = math.sqrt(2.0)
_ROOT_TWO_PI = math.sqrt(2.0 * math.pi)


@law
def warm_excess(mean_K: float, base_K: float, deviation_K: float) -> float:
    """Mean of what the daily temperature exceeds a base by, cool days counting nothing.

    Parameters
    ----------
    mean_K : float or array
        Mean temperature of the month [K]. Valid above 0.
    base_K : float or array
        Base temperature [K]. Valid above 0.
    deviation_K : float or array
        Standard deviation of the daily mean temperatures [K]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Mean excess [K]; times the days of the month it is the cooling degree-days. NaN outside the
        valid range.

    Notes
    -----
    ``s (z Phi(z) + phi(z))``, ``z = (T - T_base) / s``: daily means spread as a normal
    distribution.

    Error: 10 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 14, degree-days from mean and standard
    deviation (after W. Schoenau and R. Kehrig, Energy and Buildings 14, 1990).
    Checked against: the same chapter's worked example 10 (October, 17.5 °C); numerical integration.

    Examples
    --------
    >>> round(31.0 * float(warm_excess(290.65, 288.15, 3.93)), 1)
    96.9
    """
    if not (mean_K > 0.0 and base_K > 0.0 and deviation_K > 0.0):
        return math.nan
    z = (mean_K - base_K) / deviation_K
    below = 0.5 * (1.0 + math.erf(z / _ROOT_TWO))
    return deviation_K * (z * below + math.exp(-0.5 * z * z) / _ROOT_TWO_PI)
