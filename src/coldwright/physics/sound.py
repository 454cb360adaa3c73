"""Sound of fans: adding sources, changing speed, moving away."""

from __future__ import annotations

import math

from coldwright.physics.compiled import law

# Sound power of a fan goes with the fifth power of its speed; 55 is also in use.
SPEED_EXPONENT_DB = 50.0


@law
def level_sum(first_dB: float, second_dB: float) -> float:
    """Level of two sources that are not in step, together.

    Parameters
    ----------
    first_dB, second_dB : float or array
        Levels of the same kind (both power, or both pressure at one spot) [dB]. Minus infinity
        stands for silence.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Level [dB]; NaN where an input is NaN or plus infinity.

    Notes
    -----
    ``L = 10 lg(10**(L1/10) + 10**(L2/10))``. Nest it for more than two.

    Error: exact.
    Source: ISO 3744:2010, energetic sum of levels; ASHRAE Handbook Fundamentals 2021 (SI),
    chapter 8.
    Checked against: the doubling rule (3.01 dB) and a sum of three by hand.

    Examples
    --------
    >>> round(float(level_sum(50.0, 50.0)), 2)
    53.01
    """
    if not (first_dB < math.inf and second_dB < math.inf):
        return math.nan
    louder = max(first_dB, second_dB)
    softer = min(first_dB, second_dB)
    if softer == -math.inf:
        return louder
    return louder + 10.0 * math.log10(1.0 + math.pow(10.0, (softer - louder) / 10.0))


@law
def level_speed_change(speed_ratio: float, exponent_dB: float) -> float:
    """Change of a fan's sound level when its speed changes.

    Parameters
    ----------
    speed_ratio : float or array
        New speed over old [-]. Valid above 0; trustworthy from 0.5 to 2.
    exponent_dB : float or array
        Decibels per decade of speed [dB], usually `SPEED_EXPONENT_DB`. Valid 0 to 100.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Change of level [dB]; NaN outside the valid range.

    Notes
    -----
    ``dL = 50 lg(n2/n1)``, at the same point of the (scaled) fan curve.

    Error: 10 %.
    Source: ASHRAE Handbook HVAC Applications, chapter on noise and vibration control (fan laws
    for sound power; from memory).
    Checked against: hand calculation at 1.5 and 0.8 times the speed.

    Examples
    --------
    >>> round(float(level_speed_change(1.5, 50.0)), 1)
    8.8
    """
    if not (speed_ratio > 0.0 and 0.0 <= exponent_dB <= 100.0):
        return math.nan
    return exponent_dB * math.log10(speed_ratio)


@law
def level_at_distance_free(power_level_dB: float, distance_m: float) -> float:
    """Sound pressure level at a distance from a small source in the open, no surface near.

    Parameters
    ----------
    power_level_dB : float or array
        Sound power level [dB re 1 pW].
    distance_m : float or array
        Distance from the source [m]. Valid above 0; sensible beyond twice the source's size.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Sound pressure level [dB re 20 uPa]; NaN outside the valid range.

    Notes
    -----
    ``Lp = Lw - 20 lg r - 10 lg(4 pi)``, that is 11 dB at 1 m.

    Error: exact.
    Source: ISO 3745:2012 (free field); ASHRAE Handbook Fundamentals 2021 (SI), chapter 8.
    Checked against: the 11 dB and the 6 dB per doubling of the textbooks.

    Examples
    --------
    >>> round(float(level_at_distance_free(55.0, 1.0)), 1)
    44.0
    """
    if not distance_m > 0.0:
        return math.nan
    return power_level_dB - 10.0 * math.log10(4.0 * math.pi * distance_m * distance_m)


@law
def level_at_distance_over_floor(power_level_dB: float, distance_m: float) -> float:
    """Sound pressure level at a distance from a small source on a hard floor, open otherwise.

    Parameters
    ----------
    power_level_dB : float or array
        Sound power level [dB re 1 pW].
    distance_m : float or array
        Distance from the source [m]. Valid above 0; sensible beyond twice the source's size.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Sound pressure level [dB re 20 uPa]; NaN outside the valid range.

    Notes
    -----
    ``Lp = Lw - 20 lg r - 10 lg(2 pi)``, that is 8 dB at 1 m.

    Error: exact.
    Source: ISO 3744:2010 (free field over a reflecting plane).
    Checked against: the 8 dB of the textbooks at 1, 2 and 3 m.

    Examples
    --------
    >>> round(float(level_at_distance_over_floor(55.0, 1.0)), 1)
    47.0
    """
    if not distance_m > 0.0:
        return math.nan
    return power_level_dB - 10.0 * math.log10(2.0 * math.pi * distance_m * distance_m)


@law
def room_constant(surface_m2: float, absorption: float) -> float:
    """Room constant: how much sound a room swallows.

    Parameters
    ----------
    surface_m2 : float or array
        All surfaces of the room [m2]. Valid above 0.
    absorption : float or array
        Mean absorption coefficient [-]: bare 0.05 to 0.1, furnished 0.15 to 0.3. Valid above 0,
        below 1.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Room constant [m2]; NaN outside the valid range.

    Notes
    -----
    ``R = S a / (1 - a)``.

    Error: exact.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 8 (from memory).
    Checked against: hand calculation for 54 m2 at 0.15.

    Examples
    --------
    >>> round(float(room_constant(54.0, 0.15)), 2)
    9.53
    """
    if not (surface_m2 > 0.0 and 0.0 < absorption < 1.0):
        return math.nan
    return surface_m2 * absorption / (1.0 - absorption)


@law
def level_at_distance_room(
    power_level_dB: float, distance_m: float, directivity: float, room_constant_m2: float
) -> float:
    """Sound pressure level at a distance from a small source in a room.

    Parameters
    ----------
    power_level_dB : float or array
        Sound power level [dB re 1 pW].
    distance_m : float or array
        Distance from the source [m]. Valid above 0.
    directivity : float or array
        1 in mid-air, 2 at a wall or on the floor, 4 in an edge, 8 in a corner [-]. Valid above 0.
    room_constant_m2 : float or array
        See `room_constant` [m2]. Valid above 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Sound pressure level [dB re 20 uPa]; NaN outside the valid range.

    Notes
    -----
    ``Lp = Lw + 10 lg(Q / (4 pi r**2) + 4 / R)``: the direct sound and the diffuse field. In small
    rooms the second hardly changes with distance.

    Error: 5 %.
    Source: ASHRAE Handbook Fundamentals 2021 (SI), chapter 8; L. L. Beranek, "Acoustics", 1954.
    Checked against: hand calculation at 1 and 2 m; the free field as limit.

    Examples
    --------
    >>> round(float(level_at_distance_room(55.0, 1.0, 2.0, 9.53)), 1)
    52.6
    """
    if not (distance_m > 0.0 and directivity > 0.0 and room_constant_m2 > 0.0):
        return math.nan
    direct = directivity / (4.0 * math.pi * distance_m * distance_m)
    return power_level_dB + 10.0 * math.log10(direct + 4.0 / room_constant_m2)
