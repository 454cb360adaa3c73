"""Tables of the electrical trade: each row has a source, and says what its named table prints."""

from __future__ import annotations

from itertools import pairwise

import pytest

from coldwright.errors import PartMissing
from coldwright.physics.ampacity import continuous_rating
from coldwright.physics.conductor import awg_area, circular_mils
from coldwright.physics.fuse import fuse_rating_iec, fuse_rating_ul
from coldwright.physics.leakage import depressurisation, exhaust_allowance, largest_exhaust
from coldwright.physics.mains import leakage_current
from coldwright.sheet.library import electrical as el


@pytest.mark.parametrize("table", el.TABLES)
def test_every_row_can_be_used_and_says_where_it_comes_from(table):
    assert len(el.names(table)) >= 3
    for name in el.names(table):
        written = el.as_written(table, name)
        assert len(written["source"]) > 8, name


def test_a_missing_name_offers_the_nearest():
    with pytest.raises(PartMissing, match="IEC 60898"):
        el.fuse_family("circuit breaker 60898")
    assert el.fuse_family("ul 248-14").name == "cartridge UL 248-14"
    assert el.inlet("c13").name == "C14"


CORD = "NEC 400.5(A), column of two conductors, read in an extract of an appliance standard"


@pytest.mark.practice
@pytest.mark.published(CORD)
def test_currents_of_cords():
    table = el.current_table("NEC 400.5(A), two conductors")
    printed = {"18 AWG": 10, "17 AWG": 12, "16 AWG": 13, "14 AWG": 18, "12 AWG": 25}
    assert table.currents_A == printed
    assert (table.ambient_K, table.conductors) == (303.15, 2)
    assert table.edition
    assert table.smallest_size(12.5) == "16 AWG"
    assert table.smallest_size(26.0) is None
    assert table.current_A("10 AWG") is None


@pytest.mark.practice
@pytest.mark.published("NEC 310.16, 60 degC column, and its footnote on overcurrent protection")
def test_two_editions_of_one_table_differ():
    older = el.current_table("NEC 310.16, before 2011")
    newer = el.current_table("NEC 310.16, from 2011")
    sizes = ("14 AWG", "12 AWG", "10 AWG")
    assert [older.currents_A[size] for size in sizes] == [20.0, 25.0, 30.0]
    assert [newer.currents_A[size] for size in sizes] == [15.0, 20.0, 30.0]
    for table in (older, newer):
        assert table.fuses_A is not None
        assert [table.fuses_A[size] for size in sizes] == [15.0, 20.0, 30.0]
        assert "2011" in table.edition


@pytest.mark.published("IEC 60364-5-52, method B2, three loaded, PVC, read in an instruction table")
def test_currents_by_the_international_table():
    table = el.current_table("IEC 60364-5-52, B2, three conductors")
    assert list(table.currents_A.values()) == [15.0, 20.0, 27.0, 34.0, 46.0]
    assert (table.ambient_K, table.insulation_K) == (303.15, 343.15)


@pytest.mark.practice
def test_thicker_wire_always_carries_more_but_less_for_each_square_millimetre():
    for name in el.names("currents"):
        table = el.current_table(name)
        currents = list(table.currents_A.values())
        assert currents == sorted(currents), name
    # The chart's two columns, one of 700 circular mils an ampere, are a factor of six apart.
    chart = el.current_table("chassis wiring chart")
    assert chart.currents_A["16 AWG"] == 22.0
    by_rule_A = circular_mils(awg_area(16.0)) / 700.0
    assert chart.currents_A["16 AWG"] / by_rule_A == pytest.approx(6.0, rel=0.02)


@pytest.mark.practice
@pytest.mark.published("IEC 60320: C14 10 A, surroundings to 40 degC, not for direct current")
def test_an_inlet():
    row = el.inlet("C14")

    def fits(current_A, ambient_K):
        return current_A <= row.current_A and ambient_K <= row.ambient_K

    assert fits(8.0, 298.15)
    assert not fits(11.0, 298.15)
    assert not fits(8.0, 328.15)
    assert row.earthed
    assert not el.inlet("C8").earthed
    assert (el.inlet("C20").current_A, el.inlet("C20").north_america_A) == (16.0, 20.0)
    assert el.inlet("C16").pin_K - row.pin_K == pytest.approx(50.0)


@pytest.mark.practice
@pytest.mark.published("NEC 125 % rule; UL 248-14, 75 %; IEC 60127, working current")
def test_a_steady_load_of_eight_amperes_wants_different_fuses():
    ul, iec = el.fuse_family("UL 248-14"), el.fuse_family("IEC 60127")
    assert continuous_rating(8.0) == pytest.approx(10.0)
    least_A = float(fuse_rating_ul(8.0))
    assert least_A == pytest.approx(10.67, abs=0.01)
    assert ul.next_size_A(least_A) in (12.0, 15.0)
    assert iec.next_size_A(float(fuse_rating_iec(8.0))) == 8.0
    assert 8.0 / ul.load_share == pytest.approx(least_A)
    assert 8.0 / iec.load_share == 8.0
    assert el.fuse_family("NEC 240.6").next_size_A(16.0) == 20.0
    assert ul.largest_size_A(14.0) == 12.0
    assert ul.largest_size_A(0.1) is None
    assert iec.next_size_A(11.0) is None


def test_only_the_blade_fuse_breaks_direct_current_unmarked():
    assert el.fuse_family("blade").direct_V == 32.0
    for name in el.names("fuses"):
        family = el.fuse_family(name)
        assert all(one < two for one, two in pairwise(family.sizes_A))
        assert 0.0 < family.load_share <= 1.0 <= family.holds_ratio < family.opens_ratio
        if name != "blade":
            assert family.direct_V is None
    # 493 A from a battery of 12.8 V and 10 mohm through 1 m of 2.5 mm^2: the glass fuse cannot.
    assert el.fuse_family("IEC 60127").breaking_A < 493.0 < el.fuse_family("blade").breaking_A


@pytest.mark.practice
@pytest.mark.published("SELV of the International Electrotechnical Vocabulary; NEC class 2")
def test_names_of_low_voltage():
    selv, class_2 = el.low_voltage("SELV, direct"), el.low_voltage("NEC class 2")
    assert selv.holds(24.0, 24.0 * 6.0)
    assert not class_2.holds(24.0, 24.0 * 6.0)
    assert selv.holds(12.0, 12.0 * 30.0)
    assert not class_2.holds(12.0, 12.0 * 30.0)
    assert class_2.holds(12.0, 60.0)
    assert not selv.holds(130.0, 10.0)
    assert not el.low_voltage("SELV, alternating").holds(60.0, 10.0)
    assert el.low_voltage("plug pins after one second").most_V == 34.0


@pytest.mark.published("IEC 60335-1, 13.2; two of 2.2 nF a supply, 243.8 V, 50 Hz")
def test_three_supplies_leak_too_much_for_a_portable_appliance():
    limit_A = el.touch_current("portable class I").current_A
    assert limit_A == pytest.approx(0.75e-3)
    assert leakage_current(4.4e-9, 243.8, 50.0) <= limit_A
    assert leakage_current(3 * 4.4e-9, 243.8, 50.0) > limit_A
    assert el.touch_current("class II").current_A == pytest.approx(0.25e-3)


@pytest.mark.practice
@pytest.mark.published("makers' general sheets: XPS 75 degC; EPS 75 degC long, 82 degC short")
def test_what_foams_bear():
    assert not el.foam_limit("XPS").bears(351.15, for_short=False)
    assert not el.foam_limit("XPS").bears(351.15, for_short=True)
    assert el.foam_limit("EPS").bears(343.15, for_short=False)
    assert el.foam_limit("EPS").bears(353.15, for_short=True)
    assert not el.foam_limit("EPS").bears(353.15, for_short=False)
    assert not el.foam_limit("EPS").bears(356.15, for_short=True)


@pytest.mark.practice
def test_colours_contradict_and_are_all_shown():
    rows = el.colours_for("international", "direct")
    positives = {row.colours["positive"][0] for row in rows if "positive" in row.colours}
    assert positives == {"red", "brown"}
    (mains,) = el.colours_for("international", "alternating")
    assert mains.colours["line"][0] == "brown"
    assert mains.colours["neutral"] == ("blue",)
    assert mains.colours["earth"] == ("green-yellow",)
    # A black wire is live or negative in one place, and neutral was black in no row.
    (american,) = el.colours_for("North America", "alternating")
    assert "black" in american.colours["line"]
    assert american.colours["neutral"][0] == "white"
    for name in el.names("colours"):
        row = el.colours(name)
        earth = set(row.colours["earth"])
        assert earth <= {"green-yellow", "green", "bare"}
        for conductor, shades in row.colours.items():
            if conductor != "earth":
                assert not earth & set(shades), name


@pytest.mark.practice
def test_digits_insulations_and_terminals():
    assert "15 degrees" in el.ingress("IPX2").means
    assert el.insulation("PVC").withstand_coefficient == 115.0
    assert el.insulation("XLPE").withstand_coefficient == 143.0
    assert el.insulation("XLPE").hottest_K > el.insulation("PVC").hottest_K
    assert el.terminal("terminal block 2.5 mm^2").current_A == 24.0


# Exhaust [m^3/h], leakage at 50 Pa [m^3/h], under-pressure [Pa].
@pytest.mark.published("power law with n = 0.65, ASHRAE Fundamentals ch. 16; by hand")
@pytest.mark.parametrize(
    ("exhaust", "at_50", "pressure_Pa"), [(150, 1500, 1.45), (300, 1500, 4.20), (150, 500, 7.84)]
)
def test_under_pressure_of_an_exhaust(exhaust, at_50, pressure_Pa):
    found = depressurisation(exhaust / 3600.0, at_50 / 3600.0, 0.65)
    assert found == pytest.approx(pressure_Pa, rel=1e-2)


@pytest.mark.published("power law with n = 0.65; limits of BPI and CGSB 51.71 (from memory)")
@pytest.mark.parametrize(
    ("flue", "limit_Pa", "most_m3_h"),
    [
        ("water heater alone, natural draught", 2.0, 185.0),
        ("furnace or boiler and water heater, natural draught", 3.0, 241.0),
        ("induced draught or fireplace", 5.0, 336.0),
    ],
)
def test_largest_exhaust_beside_a_flue(flue, limit_Pa, most_m3_h):
    assert el.flue_limit(flue).most_Pa == limit_Pa
    found = largest_exhaust(limit_Pa, 1500.0 / 3600.0, 0.65)
    assert found * 3600.0 == pytest.approx(most_m3_h, rel=1e-2)
    assert depressurisation(found, 1500.0 / 3600.0, 0.65) == pytest.approx(limit_Pa)


@pytest.mark.published("Minnesota Rules 1346.0501, table 501.4.1, worked form: 4068 ft^2")
@pytest.mark.parametrize(
    ("name", "allowed_cfm"),
    [
        ("no flame or sealed", 610),
        ("with a fan in the flue", 366),
        ("one open flue", 244),
        ("several open flues", 122),
    ],
)
def test_exhaust_that_a_house_of_4068_square_feet_may_have(name, allowed_cfm):
    found = exhaust_allowance(4068.0 * 0.3048**2, el.exhaust_allowance(name).allowance_m_s)
    assert found / (0.3048**3 / 60.0) == pytest.approx(allowed_cfm, abs=1.0)
