"""Batteries: voltage at rest, resistance inside, and how long a load runs.

Typical values for a plan; the maker's sheet and a measurement outrank them.
"""

from __future__ import annotations

from math import nan

from coldwright.physics.compiled import law

# Volts of a rested battery of six cells (lead-acid) and of four (lithium iron phosphate).
_LEAD_CELLS = 6.0
_LFP_CELLS = 4.0
# Resistance of one full cell times its capacity [ohm Ah].
_LEAD_OHM_AH = 0.10
_LFP_OHM_AH = 0.15


@law
def open_circuit_voltage_lead_acid(charge_share: float, cell_number: float) -> float:
    """Voltage of a rested lead-acid battery.

    Parameters
    ----------
    charge_share : float
        State of charge [1]; 0 to 1.
    cell_number : float
        Cells in series, 6 for "12 V" [1]; at least 1.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    11.80, 12.00, 12.20, 12.40, 12.70 V at 0, 25, 50, 75, 100 % of six cells, lines between; after
    some hours of rest at 25 degC. Gel and absorbed-glass types lie up to 0.2 V higher.

    Error: 2 %.
    Source: solar suppliers' tables of voltage and charge, sealed or flooded.
    Checked against: density of the acid plus 0.84 V a cell, 1.265 full and 1.120 empty.

    Examples
    --------
    >>> round(float(open_circuit_voltage_lead_acid(0.5, 6.0)), 6)
    12.2
    """
    if not (0.0 <= charge_share <= 1.0 and cell_number >= 1.0):
        return nan
    of_six_V = 11.8 + 0.8 * charge_share
    if charge_share > 0.75:
        of_six_V = 12.4 + 1.2 * (charge_share - 0.75)
    return of_six_V * cell_number / _LEAD_CELLS


@law
def open_circuit_voltage_lfp(charge_share: float, cell_number: float) -> float:
    """Voltage of a rested lithium iron phosphate battery.

    Nearly flat from a third to full: its volts hardly tell its charge.

    Parameters
    ----------
    charge_share : float
        State of charge [1]; 0 to 1.
    cell_number : float
        Cells in series, 4 for "12 V" [1]; at least 1.

    Returns
    -------
    float
        Voltage [V], in the broadcast shape; NaN outside the range.

    Notes
    -----
    10.0, 12.0, 12.8, 13.0, 13.2, 13.3, 13.4, 13.6 V at 0, 10, 20, 30, 40, 70, 90, 100 % of four
    cells, lines between.

    Error: 3 %.
    Source: builders' charts of voltage and charge.
    Checked against: nominal 3.2 V a cell and cut-off 2.5 V a cell.

    Examples
    --------
    >>> round(float(open_circuit_voltage_lfp(0.55, 4.0)), 6)
    13.25
    """
    if not (0.0 <= charge_share <= 1.0 and cell_number >= 1.0):
        return nan
    s = charge_share
    if s <= 0.1:
        of_four_V = 10.0 + 20.0 * s
    elif s <= 0.2:
        of_four_V = 12.0 + 8.0 * (s - 0.1)
    elif s <= 0.4:
        of_four_V = 12.8 + 2.0 * (s - 0.2)
    elif s <= 0.7:
        of_four_V = 13.2 + (s - 0.4) / 3.0
    elif s <= 0.9:
        of_four_V = 13.3 + 0.5 * (s - 0.7)
    else:
        of_four_V = 13.4 + 2.0 * (s - 0.9)
    return of_four_V * cell_number / _LFP_CELLS


@law
def internal_resistance_lead_acid(
    charge_share: float, cell_number: float, capacity_Ah: float
) -> float:
    """Resistance inside a lead-acid battery, new and at room temperature.

    Parameters
    ----------
    charge_share : float
        State of charge [1]; 0 to 1.
    cell_number : float
        Cells in series [1]; at least 1.
    capacity_Ah : float
        Rated capacity [Ah]; above 0.

    Returns
    -------
    float
        Resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``0.10 ohm Ah n / C (2 - s)``: 6 mohm for 100 Ah of six full cells, twice that when empty. Cold
    and age double it again.

    Error: 50 %.
    Source: order of makers' sheets of 12 V batteries, 3 to 10 mohm at 100 Ah (from memory).
    Checked against: that span.

    Examples
    --------
    >>> round(float(internal_resistance_lead_acid(1.0, 6.0, 100.0)), 6)
    0.006
    """
    if not (0.0 <= charge_share <= 1.0 and cell_number >= 1.0 and capacity_Ah > 0.0):
        return nan
    return _LEAD_OHM_AH * cell_number / capacity_Ah * (2.0 - charge_share)


@law
def internal_resistance_lfp(charge_share: float, cell_number: float, capacity_Ah: float) -> float:
    """Resistance inside a lithium iron phosphate battery with its protection, at room temperature.

    Parameters
    ----------
    charge_share : float
        State of charge [1]; 0 to 1.
    cell_number : float
        Cells in series [1]; at least 1.
    capacity_Ah : float
        Rated capacity [Ah]; above 0.

    Returns
    -------
    float
        Resistance [ohm], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``0.15 ohm Ah n / C``, half more below a tenth of charge: 6 mohm for 100 Ah of four cells. The
    protection opens at a current of its own.

    Error: 60 %.
    Source: order of makers' sheets of 12 V batteries, 2 to 15 mohm at 100 Ah (from memory).
    Checked against: that span.

    Examples
    --------
    >>> round(float(internal_resistance_lfp(0.5, 4.0, 100.0)), 6)
    0.006
    """
    if not (0.0 <= charge_share <= 1.0 and cell_number >= 1.0 and capacity_Ah > 0.0):
        return nan
    low = 1.5 if charge_share < 0.1 else 1.0
    return _LFP_OHM_AH * cell_number / capacity_Ah * low


@law
def discharge_time(
    capacity_Ah: float, rated_hour: float, current_A: float, rate_exponent: float
) -> float:
    """Time in which a steady current empties a full battery.

    Parameters
    ----------
    capacity_Ah : float
        Capacity at the rated time [Ah]; not negative.
    rated_hour : float
        Time of discharge for which the capacity holds, mostly 20 [h]; above 0.
    current_A : float
        Current [A]; above 0.
    rate_exponent : float
        1 where the rate costs nothing, 1.05 lithium, 1.1 to 1.3 lead [1]; 1 to 2.

    Returns
    -------
    float
        Time [s], in the broadcast shape; NaN outside the range.

    Notes
    -----
    ``H (C / (I H))^k``. Take the usable share of it. For slower than rated it promises too much.

    Error: 10 %.
    Source: W. Peukert, Elektrotechnische Zeitschrift 18 (1897) (from memory).
    Checked against: 100 Ah at 20 h and 1.2, 10 A: 8.7 h by hand.

    Examples
    --------
    >>> round(float(discharge_time(100.0, 20.0, 10.0, 1.2)) / 3600.0, 2)
    8.71
    """
    if not (capacity_Ah >= 0.0 and rated_hour > 0.0 and current_A > 0.0):
        return nan
    if not 1.0 <= rate_exponent <= 2.0:
        return nan
    return 3600.0 * rated_hour * (capacity_Ah / (current_A * rated_hour)) ** rate_exponent
