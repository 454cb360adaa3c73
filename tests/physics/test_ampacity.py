"""How much current wires may carry, and which size they must have."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import ampacity as am
from coldwright.physics import wire_size as ws
from coldwright.physics.conductor import (
    awg_area,
    cable_resistance_per_m,
    circular_mils,
    loop_resistance,
    voltage_drop,
    wire_resistance_per_m_area,
)

B2 = "IEC 60364-5-52, method B2, three loaded conductors in PVC, read in an instruction table"


# mm^2, at 30 degC, at 45 degC [A]; the table rounds to whole amperes.
@pytest.mark.published(B2)
@pytest.mark.parametrize(
    ("at_30_A", "at_45_A", "exact_A"),
    [(15, 12, 11.9), (20, 16, 15.8), (27, 21, 21.3), (34, 27, 26.9), (46, 36, 36.4)],
)
def test_warm_surroundings(at_30_A, at_45_A, exact_A):
    found_A = at_30_A * am.ambient_factor(343.15, 318.15, 303.15)
    assert found_A == pytest.approx(exact_A, abs=0.06)
    assert found_A == pytest.approx(at_45_A, abs=1.0)


@pytest.mark.published("IEC 60364-5-52, table B.52.14, PVC of 70 degC (from memory)")
@pytest.mark.parametrize(("air_C", "factor"), [(10, 1.22), (20, 1.12), (40, 0.87), (60, 0.50)])
def test_printed_ambient_factors(air_C, factor):
    # Printed to two decimals, a step of which is 1 to 2 %.
    assert am.ambient_factor(343.15, air_C + 273.15, 303.15) == pytest.approx(factor, abs=0.0101)


FOAM = "UK wiring rules, BS 7671 16th edition, cables surrounded by insulation, to 10 mm^2"


@pytest.mark.practice
@pytest.mark.published(FOAM)
@pytest.mark.parametrize(
    ("buried_m", "factor"),
    [(0.0, 1.0), (0.05, 0.89), (0.1, 0.81), (0.2, 0.68), (0.4, 0.55), (0.5, 0.50), (1.0, 0.50)],
)
def test_a_wire_in_foam_sheds_less(buried_m, factor):
    # A wire that is allowed 10 A free: 8.9 A through a wall of 50 mm, 5.5 A over 400 mm, 5 A over
    # a metre. The rows are exact; another edition differs by up to 7 %, the law's stated error.
    assert 10.0 * am.foam_factor(buried_m) == pytest.approx(10.0 * factor, rel=1e-12)


def test_between_the_rows_more_foam_is_never_better():
    swept = am.foam_factor(np.linspace(0.0, 2.0, 2001))
    assert np.all(np.diff(swept) <= 1e-15)
    assert np.max(np.abs(np.diff(swept))) < 0.003


# IEC 60364-5-52 table B.52.3 (the simplified form, by a guide to the standard): circuits, factor.
@pytest.mark.published("IEC 60364-5-52, table B.52.3, embedded or enclosed, as a guide prints it")
@pytest.mark.parametrize(
    ("circuits", "factor"),
    [(1, 1.0), (2, 0.8), (3, 0.7), (4, 0.7), (6, 0.55), (9, 0.5), (12, 0.45), (16, 0.4), (20, 0.4)],
)
def test_bundles_by_the_international_table(circuits, factor):
    # The simplified table is rounded to 0.05.
    assert am.bundle_factor_iec(float(circuits)) == pytest.approx(factor, abs=0.0501)


@pytest.mark.published("NEC 2014, table 310.15(B)(3)(a)")
@pytest.mark.parametrize(
    ("first", "last", "percent"),
    [(1, 3, 100), (4, 6, 80), (7, 9, 70), (10, 20, 50), (21, 30, 45), (31, 40, 40), (41, 99, 35)],
)
def test_bundles_by_the_north_american_table(first, last, percent):
    assert am.bundle_factor_nec(float(first)) == percent / 100.0
    assert am.bundle_factor_nec(float(last)) == percent / 100.0


ADIABATIC = "BS 7671 and IEC 60364-5-54, adiabatic equation, k of 115 for PVC on copper"


@pytest.mark.published(ADIABATIC)
def test_a_short_circuit_heats_a_wire():
    assert am.adiabatic_withstand_time(200.0, 1e-6, 115.0) == pytest.approx(0.331, rel=1e-2)
    # Only to 5 s: 50 A would take 5.29 s.
    assert np.isnan(am.adiabatic_withstand_time(50.0, 1e-6, 115.0))
    assert am.adiabatic_withstand_time(55.0, 1e-6, 115.0) < 5.0


@pytest.mark.published("heat capacity of copper 3.45 MJ/m^3/K; PVC from 70 to 160 degC")
def test_the_coefficient_is_the_heat_capacity_of_copper():
    # k^2 is the integral of heat capacity over resistivity, a closed form with 1 + alpha T.
    rho_20, alpha_K = 1.7241e-8, 0.00393
    start, end = (1.0 + alpha_K * (warm_C - 20.0) for warm_C in (70.0, 160.0))
    k = np.sqrt(3.45e6 / (rho_20 * alpha_K) * np.log(end / start)) / 1e6
    assert k == pytest.approx(115.0, rel=0.03)
    time_s = am.adiabatic_withstand_time(200.0, 1e-6, 115.0)
    assert time_s == pytest.approx((k * 1.0 / 200.0) ** 2, rel=0.06)


@pytest.mark.practice
@pytest.mark.published("rule of 700 circular mils per ampere, wire chart: 3.7 A at 16, 1.5 A at 20")
@pytest.mark.parametrize(("gauge", "current_A"), [(16, 3.7), (20, 1.5), (18, 2.3)])
def test_seven_hundred_circular_mils_an_ampere(gauge, current_A):
    # The chart prints one decimal.
    found = ws.current_by_circular_mils(awg_area(float(gauge)), 700.0)
    assert found == pytest.approx(current_A, abs=0.05)


BOAT = "ABYC E-11, table IX, 3 % of 12 V"


# Amperes, feet there and back, gauge, circular mils by hand.
@pytest.mark.published(BOAT)
@pytest.mark.parametrize(
    ("current_A", "feet", "gauge", "mils"),
    [(5, 10, 18, 1493), (10, 10, 14, 2986), (10, 15, 12, 4479), (10, 25, 10, 7465),
     (15, 20, 10, 8958), (20, 20, 8, 11944)],
)  # fmt: skip
def test_gauges_of_the_boat_table(current_A, feet, gauge, mils):
    area_m2 = ws.area_for_drop_boat_rule(float(current_A), feet * 0.3048, 0.36)
    assert circular_mils(area_m2) == pytest.approx(mils, abs=1.0)
    assert ws.gauge_for_area(area_m2) == gauge


@pytest.mark.published("boat-wiring guide, worked example: 10 A, 21 ft, 12 V, 3 %: 6271 cmil")
def test_twelve_gauge_is_enough_where_sae_twelve_is_not():
    area_m2 = ws.area_for_drop_boat_rule(10.0, 21.0 * 0.3048, 0.36)
    assert circular_mils(area_m2) == pytest.approx(6271.0, abs=1.0)
    assert ws.gauge_for_area(area_m2) == 12.0


@pytest.mark.published("ASTM B258, listed sizes")
def test_a_size_asked_for_by_its_own_area_is_found():
    listed = [*range(40, 0, -2), 1, 0, -1, -2, -3]
    for gauge in listed:
        area_m2 = awg_area(float(gauge))
        assert ws.gauge_for_area(area_m2) == gauge
        if gauge > -3:
            thicker = listed[listed.index(gauge) + 1]
            assert ws.gauge_for_area(1.001 * area_m2) == thicker
    assert np.isnan(ws.gauge_for_area(1.001 * awg_area(-3.0)))


# Against: Ohm's law, by the drop of the size found.
def test_the_size_for_a_drop_has_that_drop():
    area_m2 = ws.area_for_drop(6.0, 4.0, 0.36, 333.15)
    ohm = loop_resistance(wire_resistance_per_m_area(area_m2, 333.15), 2.0)
    assert voltage_drop(6.0, ohm) == pytest.approx(0.36, rel=1e-12)
    # The boat rule's 10.75 is copper at some 29 degC.
    by_rule_m2 = ws.area_for_drop_boat_rule(6.0, 4.0, 0.36)
    assert ws.area_for_drop(6.0, 4.0, 0.36, 302.5) == pytest.approx(by_rule_m2, rel=2e-3)


@pytest.mark.published("Ohm's law; IEC 60228 class 5, 2.5 mm^2: 7.98 ohm/km")
def test_a_battery_shorted_at_the_end_of_its_wires():
    loop_ohm = loop_resistance(cable_resistance_per_m(2.5), 1.0)
    assert am.fault_current(12.8, 0.010, loop_ohm) == pytest.approx(493.0, rel=1e-2)


@pytest.mark.practice
@pytest.mark.published("NEC 210.20(A), 215.3: 125 % of a continuous load")
def test_a_continuous_load_wants_a_quarter_more():
    assert am.continuous_rating(8.0) == pytest.approx(10.0)


def test_outside_their_range_is_nan():
    assert np.isnan(am.ambient_factor(343.15, [200.0, 344.0, np.nan], 303.15)).all()
    assert np.isnan(am.ambient_factor(300.0, 290.0, 303.15))
    assert am.ambient_factor(343.15, 343.15, 303.15) == 0.0
    assert np.isnan(am.foam_factor([-0.1, np.nan])).all()
    assert np.isnan(am.bundle_factor_iec(0.0))
    assert np.isnan(am.bundle_factor_nec(0.0))
    assert np.isnan(am.adiabatic_withstand_time(0.0, 1e-6, 115.0))
    assert np.isnan(am.fault_current(12.0, 0.0, 0.0))
    assert np.isnan(am.continuous_rating(-1.0))
    assert np.isnan(ws.current_by_circular_mils(1e-6, 0.0))
    assert np.isnan(ws.area_for_drop_boat_rule(1.0, 1.0, 0.0))
    assert np.isnan(ws.area_for_drop(1.0, 1.0, 0.3, 500.0))
    assert np.isnan(ws.gauge_for_area(0.0))
