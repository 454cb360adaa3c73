"""Supplies and converters: loss over load, and real against apparent power."""

from __future__ import annotations

from collections.abc import Sequence
from math import nan, sqrt

import numpy as np

from coldwright.physics.compiled import law


def loss_coefficients(
    output_W: Sequence[float], efficiency: Sequence[float]
) -> tuple[float, float, float]:
    """Loss of a converter over its load, from efficiencies at one, two, three or more loads.

    Parameters
    ----------
    output_W
        Output powers [W]; above 0, no two alike.
    efficiency
        Efficiency at each [1]; above 0, at most 1.

    Returns
    -------
    tuple of three floats
        k0 [W], k1 [1] and k2 [1/W] of ``loss = k0 + k1 P + k2 P^2``. One point gives k1 alone,
        two give k0 and k1, three all of them, more the least squares of the loss over the load.
        A negative k0 or k2 means that the points do not fit such a converter; the caller says so.

    Raises
    ------
    ValueError
        When the lists are empty, differ in length, repeat a load or hold an impossible value.

    Notes
    -----
    k0 is what it takes to be on, k1 a voltage drop, k2 a resistance. The fit says little below
    a tenth of the lowest load given.

    Source: H. Schmidt and D. U. Sauer, Sonnenenergie 4 (1996) 43-47, loss of inverters (form,
    from memory).
    """
    load = np.asarray(output_W, dtype=float)
    share = np.asarray(efficiency, dtype=float)
    if load.ndim != 1 or load.shape != share.shape or load.size == 0:
        raise ValueError("needs as many efficiencies as output powers, and at least one")
    if not (np.all(load > 0.0) and np.all(np.isfinite(load))):
        raise ValueError("an output power is not above 0 W")
    if not (np.all(share > 0.0) and np.all(share <= 1.0)):
        raise ValueError("an efficiency is not above 0 and at most 1")
    if np.unique(load).size != load.size:
        raise ValueError("an output power is given twice")
    relative_loss = 1.0 / share - 1.0
    powers = {1: (0,), 2: (-1, 0)}.get(load.size, (-1, 0, 1))
    scale = float(np.max(load))
    columns = np.stack([(load / scale) ** power for power in powers], axis=1)
    fitted = np.linalg.lstsq(columns, relative_loss, rcond=None)[0]
    found = dict(zip(powers, (float(value) for value in fitted), strict=True))
    return found.get(-1, 0.0) * scale, found[0], found.get(1, 0.0) / scale


@law
def converter_loss(output_W: float, k0_W: float, k1: float, k2_1_W: float) -> float:
    """Heat that a supply or converter makes at a load.

    Parameters
    ----------
    output_W : float
        Power it gives [W]; not negative.
    k0_W, k1, k2_1_W : float
        Loss when idle [W], share of the output [1], growth with the output [1/W]; any, usually
        not negative (`loss_coefficients`).

    Returns
    -------
    float
        Loss [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``k0 + k1 P + k2 P^2``.

    Error: 5 %.
    Source: H. Schmidt and D. U. Sauer, Sonnenenergie 4 (1996) 43-47, loss of inverters (form,
    from memory).
    Checked against: three efficiencies give back themselves; a fourth by hand.

    Examples
    --------
    >>> round(float(converter_loss(100.0, 5.0, 0.05, 2e-4)), 6)
    12.0
    """
    if not output_W >= 0.0:
        return nan
    return k0_W + output_W * (k1 + k2_1_W * output_W)


@law
def converter_efficiency(output_W: float, k0_W: float, k1: float, k2_1_W: float) -> float:
    """Share of the input that a supply or converter passes on.

    Parameters
    ----------
    output_W : float
        Power it gives [W]; not negative.
    k0_W, k1, k2_1_W : float
        Coefficients of its loss [W], [1], [1/W]; not negative.

    Returns
    -------
    float
        Efficiency [1], in the broadcast shape; NaN outside the range and where nothing goes in.

    Notes
    -----
    ``P / (P + k0 + k1 P + k2 P^2)``.

    Error: 1 %.
    Source: definition; loss from `converter_loss`.
    Checked against: three efficiencies give back themselves.

    Examples
    --------
    >>> round(float(converter_efficiency(100.0, 5.0, 0.05, 2e-4)), 6)
    0.892857
    """
    if not (output_W >= 0.0 and k0_W >= 0.0 and k1 >= 0.0 and k2_1_W >= 0.0):
        return nan
    input_W = output_W + k0_W + output_W * (k1 + k2_1_W * output_W)
    if input_W == 0.0:
        return nan
    return output_W / input_W


@law
def converter_output(input_W: float, k0_W: float, k1: float, k2_1_W: float) -> float:
    """Power that a supply or converter gives from a known input.

    Parameters
    ----------
    input_W : float
        Power that goes in [W]; at least the loss when idle.
    k0_W, k1, k2_1_W : float
        Coefficients of its loss [W], [1], [1/W]; not negative.

    Returns
    -------
    float
        Output [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    The root of ``k2 P^2 + (1 + k1) P + k0 = Pin``, in the form that stays exact for a small k2.

    Error: 1 %.
    Source: definition; loss from `converter_loss`.
    Checked against: output and loss add up to the input.

    Examples
    --------
    >>> round(float(converter_output(112.0, 5.0, 0.05, 2e-4)), 6)
    100.0
    """
    if not (k0_W >= 0.0 and k1 >= 0.0 and k2_1_W >= 0.0 and input_W >= k0_W):
        return nan
    b = 1.0 + k1
    c = input_W - k0_W
    return 2.0 * c / (b + sqrt(b * b + 4.0 * k2_1_W * c))


@law
def peak_load(k0_W: float, k2_1_W: float) -> float:
    """Output at which a supply or converter is most efficient.

    Parameters
    ----------
    k0_W, k2_1_W : float
        Coefficients of its loss [W], [1/W]; the first not negative, the second above 0.

    Returns
    -------
    float
        Output [W], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``P = sqrt(k0 / k2)``, where the loss when idle and the loss that grows with the square are
    equal.

    Error: 10 %.
    Source: derived from the form of the loss.
    Checked against: a search over the load.

    Examples
    --------
    >>> round(float(peak_load(5.0, 2e-4)), 3)
    158.114
    """
    if not (k0_W >= 0.0 and k2_1_W > 0.0):
        return nan
    return sqrt(k0_W / k2_1_W)


@law
def peak_efficiency(k0_W: float, k1: float, k2_1_W: float) -> float:
    """Highest efficiency of a supply or converter at any load.

    Parameters
    ----------
    k0_W, k1, k2_1_W : float
        Coefficients of its loss [W], [1], [1/W]; not negative.

    Returns
    -------
    float
        Efficiency [1], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``1 / (1 + k1 + 2 sqrt(k0 k2))``.

    Error: 1 %.
    Source: derived from the form of the loss.
    Checked against: a search over the load.

    Examples
    --------
    >>> round(float(peak_efficiency(5.0, 0.05, 2e-4)), 4)
    0.8983
    """
    if not (k0_W >= 0.0 and k1 >= 0.0 and k2_1_W >= 0.0):
        return nan
    return 1.0 / (1.0 + k1 + 2.0 * sqrt(k0_W * k2_1_W))


@law
def apparent_power(real_W: float, power_factor: float) -> float:
    """Volts times amperes that wires, fuses and inverters must carry for a real power.

    Parameters
    ----------
    real_W : float
        Real power, that is paid for and becomes heat [W]; not negative.
    power_factor : float
        Real over apparent power [1]; above 0, at most 1.

    Returns
    -------
    float
        Apparent power [V A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``S = P / PF``.

    Error: exact.
    Source: definition of the power factor.
    Checked against: 120 W at 0.60 by hand: 200 V A.

    Examples
    --------
    >>> round(float(apparent_power(120.0, 0.6)), 6)
    200.0
    """
    if not (real_W >= 0.0 and 0.0 < power_factor <= 1.0):
        return nan
    return real_W / power_factor


@law
def line_current(apparent_VA: float, voltage_V: float) -> float:
    """Effective current in the mains lead.

    Parameters
    ----------
    apparent_VA : float
        Apparent power [V A]; not negative.
    voltage_V : float
        Effective mains voltage, one phase [V]; above 0.

    Returns
    -------
    float
        Current [A], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``I = S / V``.

    Error: exact.
    Source: definition of apparent power.
    Checked against: 200 V A at 230 V by hand: 0.870 A.

    Examples
    --------
    >>> round(float(line_current(200.0, 230.0)), 3)
    0.87
    """
    if not (apparent_VA >= 0.0 and voltage_V > 0.0):
        return nan
    return apparent_VA / voltage_V
