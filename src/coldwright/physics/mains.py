"""Mains and touch: continuity of the earth, leakage of capacitors.

Figures for reading a tester's report. Nobody should measure these at home; local codes and a
licensed person decide.
"""

from __future__ import annotations

from math import nan, pi

from coldwright.physics.compiled import law

_EARTH_OHM = 0.1


@law
def earth_continuity_limit(cord_ohm: float) -> float:
    """Highest resistance allowed from the earth pin to touchable metal.

    Parameters
    ----------
    cord_ohm : float
        Resistance of the earth conductor in the cord, 0 when measured without it [ohm]; not
        negative.

    Returns
    -------
    float
        Resistance [ohm], same shape; NaN outside the range.

    Notes
    -----
    ``0.1 ohm + cord``. The other allowed form is 0.2 ohm in all with a cord. Tested with 10 A or
    more: an ohmmeter cannot prove it.

    Error: exact.
    Source: EN 50106, routine test of earth continuity; IEC 60335-1, 27.5 (from memory).
    Checked against: 1.5 m of 0.75 mm^2 by hand: 0.139 ohm.

    Examples
    --------
    >>> round(float(earth_continuity_limit(1.5 * 0.026)), 3)
    0.139
    """
    if not cord_ohm >= 0.0:
        return nan
    return _EARTH_OHM + cord_ohm


@law
def resistance_measured(drop_V: float, test_A: float) -> float:
    """Resistance from the drop that a test current makes.

    Parameters
    ----------
    drop_V : float
        Voltage between the two points [V]; not negative.
    test_A : float
        Current through them [A]; above 0.

    Returns
    -------
    float
        Resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``R = V / I``.

    Error: exact.
    Source: Ohm's law.
    Checked against: 1.90 V at 25 A by hand: 0.076 ohm.

    Examples
    --------
    >>> round(float(resistance_measured(1.90, 25.0)), 6)
    0.076
    """
    if not (drop_V >= 0.0 and test_A > 0.0):
        return nan
    return drop_V / test_A


@law
def leakage_current(capacitance_F: float, voltage_V: float, frequency_Hz: float) -> float:
    """Current to earth through the interference (Y) capacitors of supplies.

    Parameters
    ----------
    capacitance_F : float
        All capacitors from mains conductors to earth together [F]; not negative.
    voltage_V : float
        Effective voltage across them, 1.06 of the mains in the test [V]; not negative.
    frequency_Hz : float
        Of the mains [Hz]; not negative.

    Returns
    -------
    float
        Effective current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``2 pi f C V``. Several supplies on one plug add.

    Error: exact.
    Source: reactance of a capacitor; test voltage of IEC 60335-1, 13.2.
    Checked against: 2 times 2.2 nF at 243.8 V, 50 Hz by hand: 0.337 mA.

    Examples
    --------
    >>> round(float(leakage_current(4.4e-9, 243.8, 50.0)) * 1e3, 4)
    0.337
    """
    if not (capacitance_F >= 0.0 and voltage_V >= 0.0 and frequency_Hz >= 0.0):
        return nan
    return 2.0 * pi * frequency_Hz * capacitance_F * voltage_V
