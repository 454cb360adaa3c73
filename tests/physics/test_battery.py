"""Batteries."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import battery as ba

SOLAR = "solar supplier's table, sealed or flooded lead-acid, open circuit"
CHART = "builders' chart of lithium iron phosphate, 12 V, at rest"


@pytest.mark.published(SOLAR)
@pytest.mark.parametrize(
    ("share", "volts_V"), [(1.0, 12.70), (0.75, 12.40), (0.5, 12.20), (0.25, 12.00), (0.0, 11.80)]
)
def test_volts_of_a_rested_lead_battery(share, volts_V):
    found_V = ba.open_circuit_voltage_lead_acid(share, 6.0)
    assert found_V == pytest.approx(volts_V, abs=1e-9)
    assert ba.open_circuit_voltage_lead_acid(share, 12.0) == pytest.approx(2.0 * found_V)


# Density of the acid when full, half and empty: 1.265, 1.190, 1.120.
@pytest.mark.published("Vinal, Storage Batteries (from memory): volts a cell are density plus 0.84")
@pytest.mark.parametrize(("share", "density"), [(1.0, 1.265), (0.5, 1.190), (0.0, 1.120)])
def test_volts_follow_the_acid(share, density):
    found_V = ba.open_circuit_voltage_lead_acid(share, 1.0)
    assert found_V == pytest.approx(density + 0.84, rel=0.01)


@pytest.mark.published(CHART)
@pytest.mark.parametrize(
    ("share", "volts_V"),
    [(1.0, 13.6), (0.9, 13.4), (0.7, 13.3), (0.4, 13.2), (0.3, 13.0), (0.2, 12.8), (0.1, 12.0),
     (0.0, 10.0)],
)  # fmt: skip
def test_volts_of_a_rested_lithium_battery(share, volts_V):
    assert ba.open_circuit_voltage_lfp(share, 4.0) == pytest.approx(volts_V, abs=1e-9)


@pytest.mark.practice
def test_a_lithium_battery_hardly_shows_its_charge():
    middle_V = ba.open_circuit_voltage_lfp([0.4, 0.9], 4.0)
    lead_V = ba.open_circuit_voltage_lead_acid([0.4, 0.9], 6.0)
    assert np.diff(middle_V)[0] < 0.5 * np.diff(lead_V)[0]
    shares = np.linspace(0.0, 1.0, 401)
    for law, cells in (
        (ba.open_circuit_voltage_lfp, 4.0),
        (ba.open_circuit_voltage_lead_acid, 6.0),
    ):
        steps = np.diff(law(shares, cells))
        assert np.all(steps > 0.0)
        assert steps.max() < 0.06  # no jump between the rows


@pytest.mark.practice
def test_resistance_inside_is_of_the_order_of_milliohms():
    # Makers' sheets, from memory: 3 to 10 mohm lead, 2 to 15 mohm lithium at 12 V and 100 Ah.
    full_ohm = ba.internal_resistance_lead_acid(1.0, 6.0, 100.0)
    assert 3e-3 <= full_ohm <= 10e-3
    assert ba.internal_resistance_lead_acid(0.0, 6.0, 100.0) == pytest.approx(2.0 * full_ohm)
    lithium_ohm = ba.internal_resistance_lfp(0.5, 4.0, 100.0)
    assert 2e-3 <= lithium_ohm <= 15e-3
    assert ba.internal_resistance_lfp(0.05, 4.0, 100.0) > lithium_ohm
    # Two side by side have half.
    assert ba.internal_resistance_lfp(0.5, 4.0, 200.0) == pytest.approx(0.5 * lithium_ohm)


@pytest.mark.published("W. Peukert 1897: I^k t is constant (from memory); by hand")
def test_a_fast_discharge_gives_less():
    # 100 Ah in 20 h is 5 A; at 10 A and 1.2: 20 h / 2^1.2.
    found_s = ba.discharge_time(100.0, 20.0, 10.0, 1.2)
    assert found_s / 3600.0 == pytest.approx(20.0 / 2.0**1.2, rel=1e-12)
    assert ba.discharge_time(100.0, 20.0, 5.0, 1.2) / 3600.0 == pytest.approx(20.0)
    assert ba.discharge_time(100.0, 20.0, 10.0, 1.0) / 3600.0 == pytest.approx(10.0)
    constant = [amperes**1.2 * ba.discharge_time(100.0, 20.0, amperes, 1.2) for amperes in (2, 50)]
    assert constant[0] == pytest.approx(constant[1], rel=1e-12)


def test_outside_their_range_is_nan():
    for law in (ba.open_circuit_voltage_lead_acid, ba.open_circuit_voltage_lfp):
        assert np.isnan(law([-0.1, 1.1, np.nan], 6.0)).all()
        assert np.isnan(law(0.5, 0.0))
    for law in (ba.internal_resistance_lead_acid, ba.internal_resistance_lfp):
        assert np.isnan(law([-0.1, 1.1, np.nan], 6.0, 100.0)).all()
        assert np.isnan(law(0.5, 6.0, 0.0))
    assert np.isnan(ba.discharge_time(100.0, 20.0, 0.0, 1.2))
    assert np.isnan(ba.discharge_time(100.0, 20.0, 5.0, 0.9))
