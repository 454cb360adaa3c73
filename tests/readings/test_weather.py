"""Weather files: what is read, how the hours count, and what is said of bad ones."""

import copy
import csv
import datetime
import math
import subprocess
import sys

import numpy as np
import pytest
from tests.readings.invented_town import epw, tmy3, year_of

from coldwright.errors import ReadingError
from coldwright.findings import CATALOGUE
from coldwright.readings.weather import read_weather

# Figures of the files' own columns: coldest, mean, warmest air [degC], hours above 27 degC, sum of
# the global sun [kWh/m²], and the place of the header.
SAMPLES = [
    ("723170TYA.CSV", "TMY3", -16.7, 14.42, 35.6, 811, 1566.2, 36.10, -79.95, 273.0),
    ("703165TY.csv", "TMY3", -10.6, 4.42, 19.4, 0, None, None, None, None),
    ("12839.tm2", "TMY2", 3.3, 24.31, 33.9, None, None, 25.80, -80.27, 2.0),
]


@pytest.mark.published("NREL's typical years for Greensboro, Sand Point, Miami: column figures")
@pytest.mark.parametrize("row", SAMPLES, ids=lambda row: row[0])
def test_typical_years_have_their_own_figures(samples, row):
    name, kind, coldest, mean, warmest, hot_h, sun, latitude, longitude, altitude = row
    found = read_weather(samples / name)
    air = found.air_K - 273.15
    assert found.kind == kind
    assert found.hours == 8760
    assert found.covers_year
    # The files print 0.1 K.
    assert air.min() == pytest.approx(coldest, abs=0.051)
    assert air.mean() == pytest.approx(mean, abs=0.0051)
    assert air.max() == pytest.approx(warmest, abs=0.051)
    if hot_h is not None:
        assert np.count_nonzero(air > 27.0) == hot_h
    if sun is not None:
        assert found.global_W_m2.sum() / 1000.0 == pytest.approx(sun, abs=0.1)
        assert found.pressure_Pa.mean() == pytest.approx(98_690.0, abs=10.0)
    if latitude is not None:
        assert math.degrees(found.latitude_rad) == pytest.approx(latitude, abs=0.005)
        assert math.degrees(found.longitude_rad) == pytest.approx(longitude, abs=0.005)
        assert found.altitude_m == altitude
        assert found.utc_offset_s == -5 * 3600.0
    assert found.findings == ()


@pytest.mark.published("NREL's typical year for Greensboro, row by row")
def test_every_row_of_a_typical_year_is_where_it_belongs(samples):
    # Read here by nothing but the csv module: "07/21/1988,15:00" ends hour 15 of day 202.
    path = samples / "723170TYA.CSV"
    found = read_weather(path)
    with path.open(newline="") as file:
        next(file)
        rows = list(csv.DictReader(file))
    for at in (0, 23, 24, 24 * 201 + 14, 8759):
        month, day, _ = map(int, rows[at]["Date (MM/DD/YYYY)"].split("/"))
        number = datetime.date(2025, month, day).timetuple().tm_yday
        hour = int(rows[at]["Time (HH:MM)"][:2])
        assert found.time_s[at] == ((number - 1) * 24 + hour) * 3600.0
        assert found.air_K[at] == pytest.approx(float(rows[at]["Dry-bulb (C)"]) + 273.15)
        assert found.dew_point_K[at] == pytest.approx(float(rows[at]["Dew-point (C)"]) + 273.15)
        assert found.beam_W_m2[at] == float(rows[at]["DNI (W/m^2)"])
        assert found.wind_m_s[at] == float(rows[at]["Wspd (m/s)"])


def test_an_epw_comes_back_as_it_was_written(read, year):
    found = read(epw(year))
    assert (found.kind, found.name, found.findings) == ("EPW", "Hallental", ())
    assert found.covers_year
    for name, ours in (
        ("air", found.air_K - 273.15),
        ("dew_point", found.dew_point_K - 273.15),
        ("pressure", found.pressure_Pa),
        ("wind", found.wind_m_s),
        ("global_", found.global_W_m2),
        ("beam", found.beam_W_m2),
        ("diffuse", found.diffuse_W_m2),
    ):
        written = np.array([getattr(one, name) for one in year])
        np.testing.assert_allclose(ours, written, atol=1e-9, err_msg=name)
    assert not found.filled.any()
    assert found.utc_offset_s == 3600.0
    # Hour 1 of January 1 ends one hour after the year began; the last ends with the year.
    assert found.time_s[0] == 3600.0
    assert found.time_s[-1] == 365 * 86400.0
    assert set(np.diff(found.time_s)) == {3600.0}


def test_both_formats_tell_the_same_weather(read, year):
    one, other = read(epw(year)), read(tmy3(year), "town.csv")
    assert other.kind == "TMY3"
    assert other.findings == ()
    for name in ("time_s", "air_K", "dew_point_K", "pressure_Pa", "wind_m_s", "global_W_m2",
                 "beam_W_m2", "diffuse_W_m2"):  # fmt: skip
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), rtol=1e-12)


def test_states_stand_on_straight_lines_and_a_year_repeats(read, year):
    found = read(epw(year))
    middle = found.state_at(3600.0 * 10.5)
    assert middle.air_K == pytest.approx((found.air_K[9] + found.air_K[10]) / 2.0)
    assert found.state_at([3600.0, 7200.0]).air_K == pytest.approx(found.air_K[:2])
    # Midnight of New Year is the end of the last hour of the year.
    assert found.state_at(0.0).air_K == pytest.approx(found.air_K[-1])
    assert found.state_at(366 * 86400.0).air_K == pytest.approx(found.air_K[23])
    part = found.days(datetime.date(1999, 7, 10), 2)
    assert part.state_at(0.0).air_K == part.air_K[0]


def test_the_sun_stands_in_the_middle_of_its_hour(read, year):
    found = read(epw(year))
    # The texts' sun was made by Cooper's declination; 0.02 is what its equation of time leaves out.
    noon = slice(24 * 171 + 11, 24 * 171 + 13)
    declination = math.radians(23.45)
    highest = math.sin(math.radians(90.0 - 47.5) + declination)
    assert np.sin(found.sun.elevation_rad[noon]).max() == pytest.approx(highest, abs=0.02)
    assert found.sun.time_s[0] == 1800.0
    assert found.sun.global_W_m2 is found.global_W_m2


class TestDays:
    def test_some_days_whatever_their_year(self, read, year):
        week = read(epw(year)).days(datetime.date(1987, 7, 10), 7)
        assert week.hours == 168
        assert week.time_s[0] == (190 * 24 + 1) * 3600.0  # July 10 is day 191 of a common year
        assert week.air_K[0] == pytest.approx(year[190 * 24].air + 273.15)
        assert not week.covers_year
        assert week.sun.elevation_rad.shape == (168,)

    def test_days_that_run_over_new_year(self, read, year):
        days = read(epw(year)).days(datetime.date(2025, 12, 31), 3)
        assert days.hours == 72
        assert days.time_s[-1] == 367 * 86400.0
        assert days.air_K[24] == pytest.approx(year[0].air + 273.15)

    def test_the_hottest_days(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            if (one.month, one.day) in ((8, 20), (8, 21), (8, 22)):
                one.air += 9.0
        hot = read(epw(hours)).hottest_days(3)
        assert hot.time_s[0] == pytest.approx((231 * 24 + 1) * 3600.0)  # August 20: day 232
        assert hot.hours == 72

    def test_days_that_the_file_does_not_hold(self, read):
        part = read(epw(year_of(start=datetime.date(2025, 7, 1), days=31)))
        assert part.days(datetime.date(2025, 7, 31), 1).hours == 24
        with pytest.raises(ReadingError, match="July 1 to July 31, not the 2 days from July 31"):
            part.days(datetime.date(2025, 7, 31), 2)
        with pytest.raises(ReadingError, match="31 whole days, not 32"):
            part.hottest_days(32)
        with pytest.raises(ReadingError, match="February 29"):
            part.days(datetime.date(2024, 2, 29), 1)


def codes(found):
    assert all(one.code in CATALOGUE and one.file == found.file for one in found.findings)
    return {one.code: one for one in found.findings}


class TestGaps:
    def test_short_gaps_are_filled_by_a_line(self, read, year):
        hours = [one for at, one in enumerate(year) if at not in (4000, 4001)]
        found = read(epw(hours))
        finding = codes(found)["CW-WEATHER-01"]
        assert finding.severity == "note"
        assert "2 hours" in finding.sentence()
        assert finding.line == 9 + 3999  # after eight lines of header; the hour before the gap
        assert list(np.flatnonzero(found.filled)) == [4000, 4001]
        third = (year[4002].air - year[3999].air) / 3.0
        assert found.air_K[4000] == pytest.approx(year[3999].air + third + 273.15)
        assert found.covers_year

    def test_longer_gaps_are_filled_from_the_days_around(self, read, year):
        hours = [one for at, one in enumerate(year) if not 4000 <= at < 4010]
        found = read(epw(hours))
        finding = codes(found)["CW-WEATHER-02"]
        assert finding.severity == "warning"
        assert "10 in a row" in finding.sentence()
        around = (year[4005 - 24].air + year[4005 + 24].air) / 2.0
        assert found.air_K[4005] == pytest.approx(around + 273.15)

    def test_nothing_may_follow_from_a_gap_of_days(self, read, year):
        found = read(epw([one for at, one in enumerate(year) if not 4000 <= at < 4080]))
        assert codes(found)["CW-WEATHER-02"].severity == "stop"

    @pytest.mark.published("EPW data dictionary: 99.9, 999, 999999, 9999 mean missing")
    def test_codes_for_missing_are_gaps(self, read, year):
        hours = copy.deepcopy(list(year))
        hours[100].air, hours[100].dew_point = 99.9, 99.9
        hours[200].pressure, hours[300].wind = 999999.0, 999.0
        hours[400].global_, hours[400].beam, hours[400].diffuse = 9999, 9999, 9999
        found = read(epw(hours))
        assert set(codes(found)) == {"CW-WEATHER-01"}
        assert list(np.flatnonzero(found.filled)) == [100, 200, 300, 400]
        assert found.air_K[100] == pytest.approx((year[99].air + year[101].air) / 2.0 + 273.15)
        assert found.pressure_Pa.max() == 96300.0
        assert found.wind_m_s.max() == 2.5
        assert found.beam_W_m2.max() == 700.0

    @pytest.mark.published("TMY3 user's manual (NREL/TP-581-43156): -9900 means missing")
    def test_the_code_of_the_other_format_too(self, read, year):
        hours = copy.deepcopy(list(year))
        hours[100].air = -9900.0
        found = read(tmy3(hours), "town.csv")
        assert set(codes(found)) == {"CW-WEATHER-01"}
        assert found.air_K.min() > 250.0

    def test_an_empty_place_is_a_gap(self, read, year):
        text = epw(year).split("\n")
        fields = text[50].split(",")
        fields[6] = ""
        text[50] = ",".join(fields)
        assert list(np.flatnonzero(read("\n".join(text)).filled)) == [42]


class TestDoubts:
    def test_a_part_of_a_year(self, read):
        found = read(epw(year_of(start=datetime.date(2025, 7, 1), days=31)))
        finding = codes(found)["CW-WEATHER-03"]
        assert "744 hours of the 8760" in finding.sentence()
        assert not found.covers_year
        assert found.time_s[0] == (181 * 24 + 1) * 3600.0

    def test_a_leap_day(self, read):
        found = read(epw(year_of(2024, days=366), year=2024))
        assert set(codes(found)) == {"CW-WEATHER-08"}
        assert (found.year_days, found.hours) == (366, 8784)
        assert found.covers_year
        assert found.days(datetime.date(2024, 2, 29), 1).time_s[0] == (59 * 24 + 1) * 3600.0

    def test_hours_out_of_order(self, read, year):
        hours = list(year)
        hours[500], hours[501] = hours[501], hours[500]
        hours.insert(600, hours[599])
        found = read(epw(hours))
        finding = codes(found)["CW-WEATHER-04"]
        assert (finding.severity, finding.line) == ("warning", 9 + 501)
        assert "2 places, and 1 are repeated" in finding.sentence()
        np.testing.assert_allclose(found.air_K - 273.15, [one.air for one in year])

    def test_a_year_that_begins_in_summer(self, read, year):
        found = read(epw([*year[4344:], *year[:4344]]))
        assert codes(found)["CW-WEATHER-04"].severity == "note"
        np.testing.assert_allclose(found.air_K - 273.15, [one.air for one in year])

    @pytest.mark.practice
    @pytest.mark.parametrize(
        ("name", "value"),
        [("air", -91.0), ("air", 70.0), ("beam", 1450.0), ("wind", 120.0), ("pressure", 9000.0),
         ("dew_point", 45.0), ("diffuse", 1200.0)],
    )  # fmt: skip
    def test_what_no_weather_has(self, read, year, name, value):
        hours = copy.deepcopy(list(year))
        setattr(hours[4500], name, value)
        found = read(epw(hours))
        finding = codes(found)["CW-WEATHER-05"]
        assert finding.line == 9 + 4500
        assert f"{value:g}" in finding.sentence()
        if name == "dew_point":  # the relative humidity says it too
            assert found.dew_point_K[4500] < found.air_K[4500]
        else:
            assert found.filled[4500]

    @pytest.mark.parametrize("hours", [-11, -5, -1, 1, 2, 7])
    def test_a_sun_at_the_wrong_hours(self, read, year, hours):
        # A header zone that is h hours ahead of the true one makes the computed noon h hours
        # later on that clock, so the file's sun comes h hours early.
        finding = codes(read(epw(year, zone=1.0 + hours)))["CW-WEATHER-06"]
        plural = "hour" if abs(hours) == 1 else "hours"
        word = "early" if hours > 0 else "late"
        assert f"{abs(hours)} {plural} {word}" in finding.sentence()
        assert finding.line == 1

    def test_a_longitude_of_the_wrong_sign(self, read, year):
        # 9.5 W instead of 9.5 E: 19 degrees, or 1.27 hours of sun.
        finding = codes(read(epw(year, longitude=-9.5)))["CW-WEATHER-06"]
        assert "1 hour early" in finding.sentence()

    def test_a_moved_sun_in_a_real_year(self, read, samples):
        lines = (samples / "723170TYA.CSV").read_text().split("\n")
        lines[0] = lines[0].replace("-5.0", "-8.0")
        assert "3 hours late" in codes(read("\n".join(lines)))["CW-WEATHER-06"].sentence()


class TestColumnsWithoutValues:
    def test_the_dew_point_follows_from_the_humidity(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            one.dew_point = 99.9
        found = read(epw(hours))
        assert set(codes(found)) == {"CW-WEATHER-07"}
        # Magnus's formula (Alduchov and Eskridge 1996, over water) for air above freezing.
        warm = found.air_K > 275.0
        celsius = found.air_K[warm] - 273.15
        gamma = math.log(0.66) + 17.625 * celsius / (243.04 + celsius)
        magnus = 243.04 * gamma / (17.625 - gamma)
        over_water = magnus > 0.0
        np.testing.assert_allclose(
            (found.dew_point_K[warm] - 273.15)[over_water], magnus[over_water], atol=0.1
        )

    def test_beam_and_sky_follow_from_the_global_sun(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            one.beam = one.diffuse = 9999
        found = read(epw(hours))
        assert codes(found)["CW-WEATHER-07"].severity == "warning"
        up = found.sun.elevation_rad > 0.2
        whole = found.beam_W_m2 * np.sin(found.sun.elevation_rad) + found.diffuse_W_m2
        np.testing.assert_allclose(whole[up], found.global_W_m2[up], rtol=0.02, atol=2.0)

    def test_the_global_sun_follows_from_beam_and_sky(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            one.global_ = 9999
        found = read(epw(hours))
        assert codes(found)["CW-WEATHER-07"].severity == "note"
        written = np.array([one.global_ for one in year])
        assert found.global_W_m2.sum() == pytest.approx(written.sum(), rel=0.02)

    def test_pressure_and_wind(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            one.pressure, one.wind = 999999.0, 999.0
        found = read(epw(hours))
        given = [one.given for one in found.findings]
        assert len(given) == 2
        # ICAO standard atmosphere at 430 m: 101325 (1 - 2.25577e-5 z)^5.25588.
        assert found.pressure_Pa[0] == pytest.approx(
            101325.0 * (1 - 2.25577e-5 * 430.0) ** 5.25588, rel=1e-4
        )
        assert set(found.wind_m_s) == {2.0}

    def test_no_sun_at_all_is_said(self, read, year):
        hours = copy.deepcopy(list(year))
        for one in hours:
            one.global_ = one.beam = one.diffuse = 9999
        found = read(epw(hours))
        assert codes(found)["CW-WEATHER-07"].severity == "warning"
        assert found.global_W_m2.max() == 0.0

    @pytest.mark.parametrize(
        ("names", "said"),
        [(("air",), "no air temperature"), (("dew_point", "humidity"), "neither a dew point")],
    )
    def test_without_air_or_moisture_there_is_no_weather(self, read, year, names, said):
        hours = copy.deepcopy(list(year))
        for one in hours:
            for name in names:
                setattr(one, name, 999.0 if name == "humidity" else 99.9)
        with pytest.raises(ReadingError, match=said):
            read(epw(hours))


def test_line_ends_byte_order_mark_and_old_letters_do_not_matter(read):
    text = epw(year_of(days=5))
    plain = read(text)
    for other in (
        text.replace("\n", "\r\n").encode(),
        b"\xef\xbb\xbf" + text.encode(),
        text.replace("Hallental", "H\u00f6llental").encode("latin-1"),
        text.replace("\n2017", "\n\n2017").encode(),
    ):
        np.testing.assert_array_equal(read(other).air_K, plain.air_K)
    assert read(text.replace("Hallental", "H\u00f6llental").encode("latin-1")).name == "Höllental"


def test_importing_the_readers_does_not_import_pvlib():
    code = (
        "import sys, coldwright.readings.weather, coldwright.readings.sun\n"
        "print([name for name in ('pvlib', 'pandas') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
