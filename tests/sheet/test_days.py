"""Climates with days: what their keys mean, and what is said of doubtful ones."""

import datetime
import math
from pathlib import Path

import pytest

from coldwright.errors import SheetInvalid
from coldwright.sheet.check import check
from coldwright.sheet.file import read
from coldwright.sheet.models import DesignDay, WeatherFile

SAVED = Path(__file__).parent / "saved"


@pytest.fixture(scope="module")
def day():
    return read(SAVED / "v1_day.toml")


@pytest.fixture(scope="module")
def weather():
    return read(SAVED / "v1_weather.toml")


def remarks(sheet):
    """Findings by path."""
    return {one.where: one for one in check(sheet)}


def test_a_design_day_holds_what_its_text_says(day):
    climate = day.climate
    assert isinstance(climate, DesignDay)
    assert climate.highest_air.value == pytest.approx(307.15)
    assert climate.daily_range.value == 12.0
    assert climate.wet_bulb.value == pytest.approx(294.15)
    assert (climate.dew_point, climate.humidity) == (None, None)
    assert math.degrees(climate.latitude.value) == pytest.approx(47.5)
    assert math.degrees(climate.longitude.value) == pytest.approx(9.5)
    assert climate.latitude.tolerance.half_width == 0.0
    assert climate.day == datetime.date(2025, 7, 21)
    # Central European summer time is two hours ahead of UTC.
    assert climate.clock_offset_s == 7200.0
    assert climate.sunny
    assert climate.ground_albedo.value == 0.25


def test_what_surrounds_the_day(day):
    place, cooler = day.place, day.cooler
    walls, roof, floor = place.surface
    assert walls.tilt_rad == pytest.approx(math.pi / 2)
    assert walls.compass is None
    assert roof.tilt_rad == pytest.approx(math.radians(10.0))
    assert roof.shaded_share.value == 0.3
    assert floor.tilt_rad == pytest.approx(math.pi)
    assert place.window[0].tilt_rad == pytest.approx(math.pi / 2)
    assert walls.layers[1].state == "wet"
    assert walls.layers[1].water_share.value == 0.05
    assert walls.layers[0].state == "dry"
    dog = place.gain[1]
    assert (dog.people, dog.activity) == (1, "small dog")
    door, hatch = place.door
    assert door.openings_per_hour.value == pytest.approx(4 / 3600)
    assert (door.share.value, door.air) == (0.4, None)
    assert hatch.air.value == pytest.approx(0.050)
    assert hatch.share is None
    assert place.contents.start.value == pytest.approx(298.15)
    thermostat = cooler.thermostat
    assert (thermostat.probe, thermostat.drive) == ("outlet", "proportional")
    assert (thermostat.band.value, thermostat.minimum.value) == (3.0, 0.15)
    assert thermostat.setback.air.value == pytest.approx(302.15)
    assert thermostat.setback.schedule == ((64800.0, 25200.0),)
    battery, panel = day.power.battery, day.power.panel
    assert (battery.rate_exponent.value, battery.rate_time.value) == (1.15, 72000.0)
    assert math.degrees(panel.tilt.value) == pytest.approx(30.0)
    # 0.3 kg for 3.6 MJ.
    assert day.price.emissions.value == pytest.approx(0.3 / 3.6e6)


def test_a_weather_file_is_found_from_the_sheets_folder(weather):
    climate = weather.climate
    assert isinstance(climate, WeatherFile)
    assert weather.weather_path == SAVED / "town.epw"
    assert (climate.first, climate.length_days) == (None, 7)  # the hottest week
    assert climate.altitude.value == 450.0
    assert climate.wind is None
    assert climate.utc_offset_on(datetime.date(2025, 1, 1)) == 7200.0
    layers = weather.place.wall
    assert layers[0].water_share.text == "10 percent"
    assert layers[0].water_share.assumed
    assert layers[1].wet_factor.value == 1.5
    assert weather.place.door[0].share.assumed


def test_sound_days_are_remarked_on_only_where_they_should_be(day, weather, tmp_path):
    assert remarks(day) == {"place.surface[0]": remarks(day)["place.surface[0]"]}
    walls = remarks(day)["place.surface[0]"]
    assert (walls.code, walls.severity) == ("CW-CLIMATE-10", "note")
    assert {path: one.code for path, one in remarks(weather).items()} == {
        "climate.file": "CW-CLIMATE-09",  # it is not there
        "power": "CW-POWER-01",
    }
    sheet = tmp_path / "sheet.toml"
    sheet.write_text((SAVED / "v1_weather.toml").read_text())
    (tmp_path / "town.epw").write_text("")
    assert "climate.file" not in remarks(read(sheet))


def climate(kiosk, **keys):
    return kiosk.changed({"climate": {"kind": "design_day", **keys}}).climate


class TestDesignDay:
    def test_old_sheets_without_its_new_keys_still_open(self, kiosk):
        bare = kiosk.changed({"climate": {"kind": "design_day", "latitude": "48 deg"}})
        stops = {one.where: one.code for one in check(bare) if one.severity == "stop"}
        assert stops["climate.highest_air"] == "CW-CLIMATE-04"
        empty = kiosk.changed({"climate": {"kind": "weather_file"}})
        stops = {one.where: one.code for one in check(empty) if one.severity == "stop"}
        assert stops["climate.file"] == "CW-CLIMATE-04"

    def test_moisture_is_said_once_or_assumed(self, kiosk):
        assert climate(kiosk).humidity.assumed
        assert climate(kiosk, dew_point="14 degC").humidity is None
        assert climate(kiosk, wet_bulb="20 degC").humidity is None
        assert not climate(kiosk, humidity="30 percent").humidity.assumed
        with pytest.raises(SheetInvalid, match="`dew_point` and `wet_bulb`"):
            climate(kiosk, dew_point="14 degC", wet_bulb="20 degC")
        with pytest.raises(SheetInvalid, match="`wet_bulb` beside `wet_bulb_range`"):
            climate(kiosk, wet_bulb_range="3 K")

    @pytest.mark.parametrize(
        ("keys", "day"),
        [
            ({}, (2025, 7, 21)),
            ({"latitude": "34 S"}, (2025, 1, 21)),
            ({"month": 8}, (2025, 8, 21)),
            ({"month": "August"}, (2025, 8, 21)),
            ({"month": "sept"}, (2025, 9, 21)),
            ({"date": datetime.date(2031, 6, 1)}, (2031, 6, 1)),
            ({"date": "2031-06-01"}, (2031, 6, 1)),
            ({"date": "06-01"}, (2025, 6, 1)),
        ],
    )
    def test_its_day(self, kiosk, keys, day):
        assert climate(kiosk, **keys).day == datetime.date(*day)

    @pytest.mark.published("Time zones by law: India +5:30, Chatham +12:45, New York -4 in summer")
    @pytest.mark.parametrize(
        ("keys", "hours"),
        [
            ({"utc_offset": "+2 h"}, 2.0),
            ({"utc_offset": "UTC-5"}, -5.0),
            ({"utc_offset": "-05:30"}, -5.5),
            ({"utc_offset": 5.5}, 5.5),
            ({"utc_offset": "+9:30"}, 9.5),
            ({"time_zone": "Asia/Kolkata"}, 5.5),
            ({"time_zone": "America/New_York"}, -4.0),
            ({"time_zone": "America/New_York", "month": 1}, -5.0),
            ({"time_zone": "Pacific/Chatham", "month": 7}, 12.75),
            ({"longitude": "74 W"}, -5.0),
            ({"longitude": "9.5 E"}, 1.0),
            ({}, 0.0),
        ],
    )
    def test_its_clock(self, kiosk, keys, hours):
        assert climate(kiosk, **keys).clock_offset_s == pytest.approx(3600.0 * hours)

    def test_its_sun(self, kiosk):
        assert not climate(kiosk).sunny
        assert climate(kiosk, latitude=48.0).sunny
        assert not climate(kiosk, latitude=48.0, sun="none").sunny
        with pytest.raises(SheetInvalid, match="latitude"):
            climate(kiosk, sun="clear")

    @pytest.mark.parametrize(
        ("keys", "said"),
        [
            ({"utc_offset": "noon"}, "“noon” is not an offset from UTC"),
            ({"utc_offset": "+15 h"}, "is not an offset"),
            ({"utc_offset": True}, "is not an offset"),
            ({"utc_offset": "+2 h", "time_zone": "Europe/Berlin"}, "`utc_offset` and `time_zone`"),
            ({"time_zone": "Europe/Atlantis"}, "is not a known time zone"),
            ({"time_zone": "../../etc/passwd"}, "is not a known time zone"),
            ({"time_zone": "Europe"}, "is not a known time zone"),
            ({"month": 13}, "is not a month"),
            ({"month": "Ju"}, "is not a month"),
            ({"date": "31-12"}, "is not a day"),
            ({"date": "02-30"}, "is not a day"),
            ({"date": 7}, "is not a day"),
            ({"date": datetime.datetime(2025, 7, 1, 12)}, "is not a day"),
            ({"date": "07-01", "month": 7}, "`date` and `month`"),
            ({"latitude": "95 N"}, "cannot be more than 90"),
            ({"longitude": "-181 deg"}, "cannot be less than"),
            ({"latitude": "48"}, "A number alone"),
            ({"sun": "bright"}, "“bright” is not “clear” or “none”"),
        ],
    )
    def test_slips_are_named(self, kiosk, keys, said):
        with pytest.raises(SheetInvalid) as caught:
            climate(kiosk, **keys)
        (finding,) = caught.value.findings
        assert said in finding.sentence()
        assert finding.where.startswith("climate")


class TestStretch:
    @pytest.mark.parametrize(
        ("keys", "first", "length"),
        [
            ({}, None, None),
            ({"days": 3}, None, 3),
            ({"date": "07-10"}, (7, 10), 1),
            ({"first_day": "07-10"}, (7, 10), 1),
            ({"first_day": "07-10", "days": 5}, (7, 10), 5),
            ({"first_day": "07-10", "last_day": "07-16"}, (7, 10), 7),
            ({"first_day": "12-30", "last_day": "01-02"}, (12, 30), 4),
            ({"first_day": "01-01", "last_day": "12-31"}, (1, 1), 365),
            ({"first_day": "2024-02-28", "last_day": "2024-03-01"}, (2, 28), 2),
        ],
    )
    def test_which_days_are_followed(self, weather, keys, first, length):
        found = weather.changed(
            {"climate": {"kind": "weather_file", "file": "a.epw", **keys}}
        ).climate
        given = found.first
        assert (given and (given.month, given.day), found.length_days) == (first, length)

    @pytest.mark.parametrize(
        "keys",
        [
            {"last_day": "07-16"},
            {"first_day": "07-10", "last_day": "07-16", "days": 3},
            {"first_day": "07-10", "date": "07-10"},
            {"days": 0},
            {"days": 400},
        ],
    )
    def test_which_cannot_be(self, weather, keys):
        with pytest.raises(SheetInvalid):
            weather.changed({"climate": {"kind": "weather_file", "file": "a.epw", **keys}})


CASES = [
    ({"climate.daily_range": None}, "climate.daily_range", "CW-CLIMATE-06", "warning"),
    ({"climate.wet_bulb": None, "climate.wet_bulb_range": None}, "climate.humidity",
     "CW-CLIMATE-02", "warning"),
    ({"climate.wet_bulb": "36 degC"}, "climate.wet_bulb", "CW-CLIMATE-08", "stop"),
    ({"climate.time_zone": None}, "climate.utc_offset", "CW-CLIMATE-07", "warning"),
    ({"climate.longitude": None}, "climate.longitude", "CW-CLIMATE-07", "warning"),
    ({"climate.latitude": None, "climate.sun": None}, "climate.sun", "CW-CLIMATE-03", "warning"),
    ({"place.window[0].compass": None}, "place.window[0]", "CW-CLIMATE-10", "note"),
    ({"place.window[0].sun": "500 W/m^2"}, "place.window[0].sun", "CW-CLIMATE-11", "warning"),
    ({"place.gain[0].schedule": [["08:00", "08:00"]]}, "place.gain[0].schedule[0]",
     "CW-SCHEDULE-01", "warning"),
    ({"cooler.thermostat.air": "28 degC", "cooler.thermostat.probe": "place"},
     "cooler.thermostat.air", "CW-COOLER-07", "warning"),
    ({"cooler.thermostat.probe": "contents", "place.contents": None}, "cooler.thermostat.probe",
     "CW-COOLER-06", "stop"),
    ({"place.surface[0].layers[0].state": "wet"}, "place.surface[0].layers[0].state",
     "CW-PLACE-06", "stop"),
    ({"place.surface[0].layers[1].water_share": "25 percent"},
     "place.surface[0].layers[1].water_share", "CW-PLACE-05", "warning"),
    ({"place.door[1].name": "door"}, "place.door[1].name", "CW-SHEET-10", "warning"),
    ({"climate.pressure": "0 hPa"}, "climate.pressure", "CW-SHEET-12", "stop"),
]  # fmt: skip


@pytest.mark.practice
@pytest.mark.parametrize(
    ("changes", "path", "code", "severity"), CASES, ids=lambda value: str(value)
)
def test_a_doubtful_day_is_remarked_on(day, changes, path, code, severity):
    finding = remarks(day.changed(changes))[path]
    assert (finding.code, finding.severity) == (code, severity)
    assert finding.line
    assert len(finding.sentence()) > 30
    assert path not in remarks(day) or remarks(day)[path].code != code


def test_a_steady_hour_says_what_plays_no_part_in_it(kiosk, cabinet):
    notes = {one.where for one in check(cabinet) if one.code == "CW-CLIMATE-05"}
    assert notes == {"cooler.thermostat", "place.gain[0].schedule"}
    door = {"name": "door", "openings_per_hour": 4}
    notes = [one for one in check(kiosk.changed({"place.door": [door]})) if one.severity == "note"]
    assert [one.where for one in notes] == ["place.door[0]"]


BOTH = {"name": "a", "openings_per_hour": 1, "air": "1 L", "share": 0.1}
BATTERY = {"voltage": "12 V", "energy": "1 kWh", "rate_time": "20 h"}


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("place.door", [BOTH], "`air` and `share`"),
        ("place.door", [{"name": "a"}], "openings_per_hour"),
        ("cooler.thermostat", {"air": "20 degC", "band": "2 K"}, "drive"),
        ("cooler.thermostat", {"air": "20 degC", "probe": "wall"}, "“outlet”"),
        ("power.battery", BATTERY, "rate_exponent"),
        ("power.panel", {"peak_power": "100 W", "tilt": "30 deg"}, "compass"),
        ("place.surface[0].layers[1].water_share", "5 percent", "state"),
        ("place.gain[0]", {"name": "pet", "animals": 1}, "activity"),
        ("place.gain[0]", {"name": "pet", "animals": 1, "activity": "unicorn"}, "library"),
        ("price.emissions", "0.3 kg", "0.3 kg/kWh"),
    ],
)  # fmt: skip
def test_a_slip_is_named(kiosk, path, value, said):
    with pytest.raises(SheetInvalid) as caught:
        kiosk.changed({path: value})
    assert any(said in one.sentence() for one in caught.value.findings)


def test_what_is_only_there_when_needed_is_assumed_only_then(kiosk):
    plain = kiosk.changed({"cooler.thermostat": {"air": "20 degC"}})
    assert plain.cooler.thermostat.band is None
    driven = kiosk.changed({"cooler.thermostat": {"air": "20 degC", "drive": "proportional"}})
    assert driven.cooler.thermostat.band.assumed
    assert driven.assumptions()["cooler.thermostat.minimum"] == "0.1"
    assert not any("layers" in path for path in kiosk.assumptions())
