"""Fuses: what their printed amperes mean in each standard, and when they surely open.

The same printed number means different things: a North American cartridge (UL 248-14) is loaded to
three quarters of it, an international miniature fuse (IEC 60127) to all of it. They are kept apart.
"""

from __future__ import annotations

from math import inf, nan

from coldwright.physics.compiled import law

_UL_LOAD_SHARE = 0.75
_OVERLOAD = 1.45  # of a wire's current: IEC 60364-4-43


@law
def fuse_rating_ul(load_A: float) -> float:
    """Least printed rating of a North American cartridge fuse for a steady load.

    Parameters
    ----------
    load_A : float
        Current of the load, at 25 degC around the fuse [A]; not negative.

    Returns
    -------
    float
        Rating [A], same shape; NaN outside the range.

    Notes
    -----
    ``I / 0.75``. Take the next size up.

    Error: exact.
    Source: UL 248-14 and makers' guides on it: holds 100 %, loaded to 75 % by design.
    Checked against: 8 A by hand: 10.67 A.

    Examples
    --------
    >>> round(float(fuse_rating_ul(8.0)), 2)
    10.67
    """
    if not load_A >= 0.0:
        return nan
    return load_A / _UL_LOAD_SHARE


@law
def fuse_rating_iec(load_A: float) -> float:
    """Least printed rating of an international miniature fuse for a steady load.

    Parameters
    ----------
    load_A : float
        Current of the load, at 23 degC around the fuse [A]; not negative.

    Returns
    -------
    float
        Rating [A], same shape; NaN outside the range.

    Notes
    -----
    ``I``: the rating is the working current. Take the same or the next size up.

    Error: exact.
    Source: IEC 60127-1 and -2: rated at its working current, need not open in 1 h at 150 %.
    Checked against: 8 A on an 8 A fuse.

    Examples
    --------
    >>> float(fuse_rating_iec(8.0))
    8.0
    """
    if not load_A >= 0.0:
        return nan
    return load_A


@law
def fuse_longest_time_ul(current_ratio: float) -> float:
    """Longest that a North American cartridge fuse may take to open.

    Parameters
    ----------
    current_ratio : float
        Current over printed rating [1]; not negative. Ratings to 30 A.

    Returns
    -------
    float
        Time [s], same shape: infinite where it need not open; NaN outside the range.

    Notes
    -----
    1 h from 135 %, 2 min from 200 %; between the standard's points the lower one counts.

    Error: exact.
    Source: UL 248-14, opening times to 30 A (read in makers' guides).
    Checked against: the standard's two points.

    Examples
    --------
    >>> float(fuse_longest_time_ul(1.4))
    3600.0
    """
    if not current_ratio >= 0.0:
        return nan
    if current_ratio < 1.35:
        return inf
    if current_ratio < 2.0:
        return 3600.0
    return 120.0


@law
def fuse_longest_time_iec(current_ratio: float) -> float:
    """Longest that an international miniature fuse may take to open.

    Parameters
    ----------
    current_ratio : float
        Current over printed rating [1]; not negative.

    Returns
    -------
    float
        Time [s], same shape: infinite where it need not open; NaN outside the range.

    Notes
    -----
    30 min from 210 %, the slowest of the common sheets (time-lag ones 2 min, from memory); below
    that nothing is promised, and at 150 % it must hold for an hour.

    Error: exact.
    Source: IEC 60127-2, standard sheets 1 to 6.
    Checked against: the points read: holds 150 % for 1 h, opens by 210 %.

    Examples
    --------
    >>> float(fuse_longest_time_iec(1.5))
    inf
    """
    if not current_ratio >= 0.0:
        return nan
    if current_ratio < 2.1:
        return inf
    return 1800.0


@law
def blade_fuse_longest_time(current_ratio: float) -> float:
    """Longest that a blade fuse may take to open.

    Parameters
    ----------
    current_ratio : float
        Current over printed rating [1]; not negative.

    Returns
    -------
    float
        Time [s], same shape: infinite where it need not open; NaN outside the range.

    Notes
    -----
    600, 5, 0.5, 0.1 s from 135, 200, 350, 600 %; between the points the lower one counts.

    Error: exact.
    Source: ISO 8820-3, time-current gates of blade fuses (from memory).
    Checked against: the gates, and that it is never shorter than the shortest.

    Examples
    --------
    >>> float(blade_fuse_longest_time(2.0))
    5.0
    """
    if not current_ratio >= 0.0:
        return nan
    if current_ratio < 1.35:
        return inf
    if current_ratio < 2.0:
        return 600.0
    if current_ratio < 3.5:
        return 5.0
    if current_ratio < 6.0:
        return 0.5
    return 0.1


@law
def blade_fuse_shortest_time(current_ratio: float) -> float:
    """Time that a blade fuse holds at least, so that a start does not blow it.

    Parameters
    ----------
    current_ratio : float
        Current over printed rating [1]; 0 to 6.

    Returns
    -------
    float
        Time [s], same shape; NaN outside the range.

    Notes
    -----
    100 h to 110 %, then 0.75, 0.15, 0.04, 0.02 s to 135, 200, 350, 600 %; between the points the
    upper one counts.

    Error: exact.
    Source: ISO 8820-3, time-current gates of blade fuses (from memory).
    Checked against: the gates, and that it is never longer than the longest.

    Examples
    --------
    >>> float(blade_fuse_shortest_time(2.0))
    0.15
    """
    if not 0.0 <= current_ratio <= 6.0:
        return nan
    if current_ratio <= 1.10:
        return 360000.0
    if current_ratio <= 1.35:
        return 0.75
    if current_ratio <= 2.0:
        return 0.15
    if current_ratio <= 3.5:
        return 0.04
    return 0.02


@law
def largest_fuse_for_wire(ampacity_A: float, opening_ratio: float) -> float:
    """Largest printed rating of a fuse that protects a wire against overload.

    Parameters
    ----------
    ampacity_A : float
        Current that the wire may carry where it lies [A]; not negative.
    opening_ratio : float
        Current over rating at which the fuse surely opens [1]: 1.35 North American cartridge and
        blade, 2.1 international miniature; at least 1.

    Returns
    -------
    float
        Rating [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``min(Iz, 1.45 Iz / ratio)``: rated no more than the wire, and surely open at 1.45 times what
    the wire may carry. So a wire behind an IEC 60127 fuse wants about 1.45 times its rating.

    Error: exact.
    Source: IEC 60364-4-43, 433.1: In <= Iz and I2 <= 1.45 Iz (from memory).
    Checked against: both conditions by hand.

    Examples
    --------
    >>> round(float(largest_fuse_for_wire(10.0, 2.1)), 2)
    6.9
    """
    if not (ampacity_A >= 0.0 and opening_ratio >= 1.0):
        return nan
    return min(ampacity_A, _OVERLOAD * ampacity_A / opening_ratio)
