"""Regulations' minimum efficiencies, and the arithmetic of the American rule by hand."""

import math

import numpy as np
import pytest

from coldwright.physics.compressor import (
    BTU_H_W,
    COOLING_SEASON,
    EU_BEST_2012,
    EU_CHECK_EER,
    EU_CHECK_SEER,
    EU_INDOOR,
    EU_MINIMUM,
    EU_OUTDOOR,
    EU_SINGLE_DUCT_BOTH_SIDES,
    EU_SOUND_POWER_DB,
    us_portable_cop,
)

# Annex I, table 6: with an ordinary refrigerant, and with one of low warming potential.
TABLE_6 = [
    ("split below 6 kW", "SEER", 4.60, 4.14),
    ("split 6 to 12 kW", "SEER", 4.30, 3.87),
    ("double duct", "EER", 2.60, 2.34),
    ("single duct", "EER", 2.60, 2.34),
]


@pytest.mark.published("Commission Regulation (EU) No 206/2012, Annex I, table 6")
@pytest.mark.parametrize(("name", "kind", "ordinary", "low_warming"), TABLE_6)
def test_european_minimum(name, kind, ordinary, low_warming):
    assert EU_MINIMUM[name] == (kind, ordinary, low_warming)
    # The allowance for a mild refrigerant is a tenth.
    assert low_warming == pytest.approx(0.9 * ordinary, abs=0.0051)


@pytest.mark.published("Commission Regulation (EU) No 206/2012, Annexes I to IV")
def test_european_states_and_limits():
    celsius = [tuple(round(kelvin - 273.15, 6) for kelvin in state) for state in (
        EU_INDOOR, EU_OUTDOOR, EU_SINGLE_DUCT_BOTH_SIDES
    )]  # fmt: skip
    assert celsius == [(27.0, 19.0), (35.0, 24.0), (35.0, 24.0)]
    assert EU_SOUND_POWER_DB == 65.0
    assert (EU_CHECK_EER, EU_CHECK_SEER) == (0.10, 0.08)
    assert EU_BEST_2012 == {"split": 8.50, "double duct": 3.00, "single duct": 3.15}
    for name, best in EU_BEST_2012.items():
        least = EU_MINIMUM["split below 6 kW" if name == "split" else name].ordinary
        assert best > least


@pytest.mark.published("Commission Regulation (EU) No 206/2012, Annex II, cooling season")
def test_cooling_season():
    # Sums by hand: 2602 h in all, mean 22.97 °C, 538 h at 27 °C and above.
    outdoor_C = np.array([kelvin - 273.15 for kelvin, _ in COOLING_SEASON])
    hours = np.array([seconds / 3600.0 for _, seconds in COOLING_SEASON])
    np.testing.assert_allclose(outdoor_C, np.arange(17.0, 41.0))
    assert hours.sum() == pytest.approx(2602.0)
    assert (hours * outdoor_C).sum() / hours.sum() == pytest.approx(22.97, abs=0.005)
    assert hours[outdoor_C > 26.5].sum() == pytest.approx(538.0)


# SACC in Btu/h, CEER in Btu/(W h), the same in W/W; by hand.
AMERICAN = [(5000.0, 6.10, 1.79), (8000.0, 7.22, 2.12), (10000.0, 7.83, 2.30)]


@pytest.mark.published("10 CFR 430.32, portable air conditioners from 2025 (from memory), by hand")
@pytest.mark.parametrize(("capacity", "ceer", "cop"), AMERICAN)
def test_american_minimum(capacity, ceer, cop):
    found = us_portable_cop(capacity * BTU_H_W)
    assert found == pytest.approx(cop, abs=0.0051)
    assert found / BTU_H_W == pytest.approx(ceer, abs=0.0051)


@pytest.mark.published("1 Btu (IT) = 1055.05585262 J; 1 h = 3600 s")
def test_btu():
    assert pytest.approx(1055.05585262 / 3600.0, rel=1e-8) == BTU_H_W


def test_range():
    assert np.isnan(us_portable_cop(np.array([400.0, 6000.0, math.nan]))).all()
    assert us_portable_cop(np.full((2, 3), 2000.0)).shape == (2, 3)
