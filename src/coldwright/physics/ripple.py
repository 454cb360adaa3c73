"""Ripple of the supply: how far from smooth the current is, and what that costs in pumped heat.

Pumping follows the mean current, Joule heat its mean square. Everywhere here *ripple ratio* means
the effective value (rms) of the alternating part over the mean, never an amplitude or a
peak-to-peak value; three laws turn those into it.
"""

from __future__ import annotations

from math import nan, sqrt

from coldwright.physics.compiled import law


@law
def pumping_factor_kept_current(ripple_ratio: float) -> float:
    """Share of the largest heat (or lift) left when the mean current stays at the smooth best.

    Parameters
    ----------
    ripple_ratio : float
        Effective ripple over mean current [1]; 0 to 1.

    Returns
    -------
    float
        Factor on the largest heat at no lift and on the largest lift [1], same shape; NaN outside
        the range.

    Notes
    -----
    ``1 - r^2``: Joule heat grows by ``1 + r^2`` and takes half of what was pumped.

    Error: exact.
    Source: derived; "a full-wave rectifier's 48 % ripple can cost up to 23 %" is found in makers'
    technical notes on thermoelectric coolers.
    Checked against: a rectified sine summed over one period.

    Examples
    --------
    >>> round(float(pumping_factor_kept_current(0.1)), 6)
    0.99
    """
    if not (0.0 <= ripple_ratio <= 1.0):
        return nan
    return 1.0 - ripple_ratio * ripple_ratio


@law
def pumping_factor_best_current(ripple_ratio: float) -> float:
    """Share of the largest heat (or lift) left when the mean current is turned down to suit.

    Parameters
    ----------
    ripple_ratio : float
        Effective ripple over mean current [1]; not negative.

    Returns
    -------
    float
        Factor on the largest heat at no lift and on the largest lift [1], same shape; NaN outside
        the range.

    Notes
    -----
    ``1 / (1 + r^2)``, at a mean current lower by the same factor.

    Error: exact.
    Source: derived; the form 1 / (1 + N^2) is found in makers' technical notes on thermoelectric
    coolers.
    Checked against: a search over the current with a rectified sine summed over one period.

    Examples
    --------
    >>> round(float(pumping_factor_best_current(0.1)), 6)
    0.990099
    """
    if not ripple_ratio >= 0.0:
        return nan
    return 1.0 / (1.0 + ripple_ratio * ripple_ratio)


@law
def ripple_ratio_sine(amplitude_ratio: float) -> float:
    """Ripple ratio of a sine on a mean current, from its amplitude.

    Parameters
    ----------
    amplitude_ratio : float
        Amplitude (half of peak to peak) over the mean [1]; not negative.

    Returns
    -------
    float
        Ripple ratio [1], same shape; NaN outside the range.

    Notes
    -----
    ``r = a / sqrt(2)``.

    Error: exact.
    Source: definition of the effective value.
    Checked against: a sine summed over one period.

    Examples
    --------
    >>> round(float(ripple_ratio_sine(0.48)), 4)
    0.3394
    """
    if not amplitude_ratio >= 0.0:
        return nan
    return amplitude_ratio / sqrt(2.0)


@law
def ripple_ratio_triangle(peak_to_peak_ratio: float) -> float:
    """Ripple ratio of a triangle on a mean current, as behind a step-down converter.

    Parameters
    ----------
    peak_to_peak_ratio : float
        Peak to peak over the mean [1]; not negative.

    Returns
    -------
    float
        Ripple ratio [1], same shape; NaN outside the range.

    Notes
    -----
    ``r = x / sqrt(12)``.

    Error: exact.
    Source: definition of the effective value.
    Checked against: a triangle summed over one period.

    Examples
    --------
    >>> round(float(ripple_ratio_triangle(0.1)), 6)
    0.028868
    """
    if not peak_to_peak_ratio >= 0.0:
        return nan
    return peak_to_peak_ratio / sqrt(12.0)


@law
def ripple_ratio_chopped(duty: float) -> float:
    """Ripple ratio of a current that is switched on and off.

    Parameters
    ----------
    duty : float
        Share of the time that the current flows [1]; above 0, at most 1.

    Returns
    -------
    float
        Ripple ratio [1], same shape; NaN outside the range.

    Notes
    -----
    ``r = sqrt(1 / D - 1)``: at the same mean, Joule heat is ``1 / D`` times that of a smooth
    current.

    Error: exact.
    Source: definition of the effective value.
    Checked against: a square wave summed over one period.

    Examples
    --------
    >>> round(float(ripple_ratio_chopped(0.5)), 9)
    1.0
    """
    if not (0.0 < duty <= 1.0):
        return nan
    return sqrt(1.0 / duty - 1.0)
