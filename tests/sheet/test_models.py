"""What a sheet means once it is read: shapes, units, paths, assumptions, changes."""

from pathlib import Path

import pytest

from coldwright.errors import SheetInvalid
from coldwright.sheet.file import read, read_text
from coldwright.sheet.models import (
    Box,
    OpenAir,
    Plate,
    PlateFinSink,
    Room,
    SteadyClimate,
    TableSink,
    WaterLoop,
)

SAVED = sorted((Path(__file__).parent / "saved").glob("v1_*.toml"))


@pytest.mark.parametrize("path", SAVED, ids=lambda path: path.stem)
def test_sheets_of_the_first_format_still_open(path):
    sheet = read(path)
    assert sheet.format == 1
    assert sheet.quantities()


def test_there_are_saved_sheets():
    assert {path.stem for path in SAVED} >= {"v1_kiosk", "v1_simplest", "v1_cabinet", "v1_plate"}


def test_the_kiosk_holds_what_its_text_says(kiosk):
    place = kiosk.place
    assert isinstance(kiosk.climate, SteadyClimate)
    assert isinstance(place, Room)
    # 35 degC is 308.15 K by the definition of the Celsius scale; +/- 1 K is what the text says.
    assert kiosk.climate.outdoor_air.value == pytest.approx(308.15, abs=1e-9)
    assert kiosk.climate.outdoor_air.tolerance.half_width == pytest.approx(1.0)
    assert kiosk.climate.outdoor_humidity.value == pytest.approx(0.40)
    assert kiosk.goal.within.value == pytest.approx(3600.0)
    assert place.air_leakage.area.value == pytest.approx(0.0380)
    assert [layer.material for layer in place.surface[0].layers] == ["plywood", "EPS", "plywood"]
    assert place.surface[0].layers[1].thickness.value == pytest.approx(0.040)
    assert place.window[0].shaded_share.value == pytest.approx(0.6)
    assert place.gain[0].people == 1
    modules = kiosk.cooler.modules[0]
    assert (modules.series, modules.parallel) == (4, 3)
    assert modules.cold_interface.value == pytest.approx(0.02)
    assert modules.spacer.screws.count == 4
    assert modules.spacer.screws.diameter.value == pytest.approx(0.004)
    assert modules.spacer.screws.length.value == pytest.approx(0.020)
    assert modules.spacer.screws.material == "steel"
    sink = kiosk.cooler.cold_sink[0]
    assert isinstance(sink, PlateFinSink)
    assert [side.value for side in sink.base] == pytest.approx([0.300, 0.140, 0.008])
    flow, pressure = kiosk.cooler.cold_fan.curve[1]
    assert flow.value == pytest.approx(160.0 / 3600.0)
    assert pressure.value == pytest.approx(45.0)
    assert kiosk.cooler.run_at.way == "voltage"
    assert [fitting.name for fitting in kiosk.cooler.hot_duct.fittings] == [
        "entry", "elbow 90", "elbow 90", "louvre",
    ]  # fmt: skip
    assert [load.value for load, _ in kiosk.power.supply.efficiency] == [0.2, 0.5, 1.0]
    assert kiosk.power.wire[0].fuse.value == 15.0
    assert kiosk.instrument[0].matched_with == "cold_inlet_air"


def test_the_simplest_form_needs_one_number_a_part(simplest):
    assert isinstance(simplest.place, OpenAir)
    assert simplest.cooler.modules[0].properties.seebeck.value == pytest.approx(0.0513)
    assert simplest.cooler.cold_sink[0].value.value == pytest.approx(0.35)
    assert simplest.cooler.cold_fan.flow.value == pytest.approx(80.0 / 3600.0)
    assert simplest.cooler.cold_fan.power is None
    assert simplest.power is None


def test_the_cabinet_shows_the_other_ways_of_writing(cabinet):
    place, cooler = cabinet.place, cabinet.cooler
    assert isinstance(place, Box)
    assert place.air_leakage.ach50.value == pytest.approx(2.0 / 3600.0)  # n50 is the same thing
    assert [layer.material for layer in place.wall] == ["XPS", "plywood"]
    assert place.gain[0].schedule == ((28800.0, 30600.0), (61200.0, 86400.0))
    assert cooler.modules[0].ratings.max_current.value == 6.0  # from the library's part
    assert cooler.modules[0].hot_interface == "pad 1 mm"
    assert cooler.modules[1].legs.ceramic.material == "aluminium nitride"
    assert cooler.modules[1].cold_sink_number == 2
    assert isinstance(cooler.cold_sink[0], PlateFinSink)
    assert cooler.cold_sink[0].material == "copper"  # a key given outranks the part's
    assert isinstance(cooler.cold_sink[1], TableSink)
    assert isinstance(cooler.hot_sink[0], WaterLoop)
    assert cabinet.power.battery.capacity.value == pytest.approx(100 * 3600.0)


def test_a_plate_carries_two_stages():
    sheet = read(Path(__file__).parent / "saved" / "v1_plate.toml")
    assert isinstance(sheet.place, Plate)
    assert sheet.cooler.cold_sink is None
    assert sheet.cooler.modules[0].second.run_at.way == "voltage"
    assert sheet.cooler.run_at.chopped.duty.value == pytest.approx(0.7)
    assert sheet.place.film_coefficient.assumed  # an area without a film coefficient


def test_every_quantity_knows_its_own_path(kiosk, cabinet):
    for sheet in (kiosk, cabinet):
        for path, quantity in sheet.quantities().items():
            assert quantity.path == path
    quantities = kiosk.quantities()
    assert quantities["place.surface[0].area"] is kiosk.place.surface[0].area
    assert quantities["cooler.cold_fan.curve[1][0]"] is kiosk.cooler.cold_fan.curve[1][0]
    # One table where several may stand has no place in brackets; several have.
    assert "cooler.modules.cold_interface" in quantities
    assert "cooler.cold_sink.base[2]" in quantities
    assert "cooler.modules[1].legs.leg_length" in cabinet.quantities()
    assert "cooler.cold_sink[1].rows[1][0]" in cabinet.quantities()


def test_every_quantity_that_was_written_has_its_line(kiosk, kiosk_text):
    rows = kiosk_text.split("\n")
    supplied = ("ratings", "footprint", "modules.price", "screws", "fittings")
    for path, quantity in kiosk.quantities().items():
        if path in kiosk.lines:
            assert quantity.text in rows[kiosk.lines[path] - 1], path
        else:
            assert quantity.assumed or any(word in path for word in supplied), path
        assert quantity.assumed or kiosk.line(path)


def test_what_is_assumed_is_listed_and_what_is_written_is_not(simplest, kiosk):
    assumptions = simplest.assumptions()
    assert assumptions["climate.wind"] == "2 m/s"
    assert assumptions["climate.altitude"] == "0 m"
    assert assumptions["cooler.cold_takes_from"] == "place"
    assert assumptions["cooler.modules.footprint[0]"] == "40 mm"
    assert simplest.climate.wind.assumed
    assert "climate.altitude" not in kiosk.assumptions()
    assert "place.combustion" not in kiosk.assumptions()
    written = {path for path, one in kiosk.quantities().items() if not one.assumed}
    assert not written & set(kiosk.assumptions())


def test_assumed_values_are_shared_by_no_two_sheets(simplest, kiosk):
    # Paths are put into copies: one sheet's path must not show up in another's default.
    assert simplest.climate.wind.path == "climate.wind"
    assert kiosk.climate.wind.path == "climate.wind"
    assert simplest.cooler.cold_fan_speed.path == "cooler.cold_fan_speed"
    assert simplest.cooler.hot_fan_speed.path == "cooler.hot_fan_speed"


def test_a_sheet_cannot_be_changed_in_place(kiosk):
    with pytest.raises(ValueError, match="frozen"):
        kiosk.title = "another"
    with pytest.raises(ValueError, match="frozen"):
        kiosk.cooler.modules[0].series = 2


class TestChanged:
    def test_a_value_a_word_and_a_table(self, kiosk):
        new = kiosk.changed(
            {
                "cooler.modules.series": 2,
                "climate.outdoor_air": "30 degC",
                "cooler.condensate": "stays in the place",
                "cooler.run_at": {"module_current": "2 A"},
                "place.surface[1].area": "6 m^2",
                "cooler.cold_fan.curve[1][1]": "40 Pa",
            }
        )
        assert new.cooler.modules[0].series == 2
        assert new.climate.outdoor_air.value == pytest.approx(303.15)
        assert new.cooler.condensate == "stays in the place"
        assert new.cooler.run_at.way == "module_current"
        assert new.place.surface[1].area.value == 6.0
        assert new.cooler.cold_fan.curve[1][1].value == 40.0
        assert new.cooler.cold_fan.curve[1][1].path == "cooler.cold_fan.curve[1][1]"

    def test_the_old_sheet_stays_as_it_was(self, kiosk):
        before = kiosk.model_dump()
        kiosk.changed({"cooler.modules.series": 2, "climate.outdoor_air": "30 degC"})
        assert kiosk.model_dump() == before

    def test_none_leaves_a_key_out(self, kiosk):
        assert kiosk.changed({"cooler.cold_fan.power": None}).cooler.cold_fan.power is None

    def test_what_a_library_part_supplies_can_change_and_stays_changed(self, kiosk):
        once = kiosk.changed({"cooler.modules.ratings.max_current": "7 A"})
        twice = once.changed({"cooler.modules.series": 5})
        for sheet in (once, twice):
            assert sheet.cooler.modules[0].ratings.max_current.value == 7.0
            assert "cooler.modules.ratings.max_current" in sheet.quantities()
        assert twice.cooler.modules[0].series == 5
        assert kiosk.cooler.modules[0].ratings.max_current.value == 6.0

    def test_a_part_that_is_exchanged_brings_its_own_values(self, kiosk):
        new = kiosk.changed({"cooler.modules.part": "typical 127 couples 8 A"})
        assert new.cooler.modules[0].ratings.max_current.value == 8.0

    def test_a_default_that_was_never_written_can_change(self, simplest):
        new = simplest.changed({"climate.wind": "4 m/s"})
        assert new.climate.wind.value == 4.0
        assert not new.climate.wind.assumed

    @pytest.mark.parametrize(
        ("path", "value"),
        [
            ("climate.outdoor_air", "35"),
            ("cooler.modules.series", 0),
            ("cooler.modules.ratings.max_current", "7 K"),
            ("cooler.run_at.current", "3 A"),  # beside the voltage that is there
            ("cooler.nothing", "x"),
        ],
    )
    def test_a_bad_change_is_refused_with_its_path(self, kiosk, path, value):
        with pytest.raises(SheetInvalid) as caught:
            kiosk.changed({path: value})
        assert any(path.startswith(one.where) for one in caught.value.findings)


def test_the_humidity_is_assumed_only_where_nothing_says_it(simplest_text, replaced):
    text = replaced(
        simplest_text, 'outdoor_humidity = "30 percent"', 'outdoor_dew_point = "12 degC"'
    )
    sheet = read_text(text)
    assert sheet.climate.outdoor_humidity is None
    assert sheet.climate.outdoor_dew_point.value == pytest.approx(285.15)
    bare = read_text(replaced(simplest_text, 'outdoor_humidity = "30 percent"', ""))
    assert bare.climate.outdoor_humidity.assumed


def test_a_number_may_stand_where_the_key_says_its_unit(kiosk_text, replaced):
    text = replaced(
        kiosk_text, 'air_leakage = { area = "380 cm^2" }', "air_leakage = { ach50 = 12 }"
    )
    assert read_text(text).place.air_leakage.ach50.value == pytest.approx(12.0 / 3600.0)


@pytest.mark.published("SAE J1128: 3702 circular mils; one circular mil is pi/4 (0.001 in)^2")
def test_wire_of_the_other_gauge_is_found_by_name(cabinet):
    # 3702 * pi / 4 * (25.4e-6 m)^2 = 1.8758 mm^2; the library keeps four decimals.
    wire = cabinet.power.wire[0]
    assert wire.size.text == "SAE 14"
    assert wire.size.value == pytest.approx(1.8758e-6, rel=1e-4)


class TestBounds:
    """What the solver has no room for is refused, never left out."""

    def test_the_sheet_promises_no_more_than_the_solver_holds(self):
        from coldwright.machine import records
        from coldwright.sheet import bounds

        assert bounds.MOST_GROUPS <= records.MAX_GROUPS
        assert bounds.MOST_SINKS <= records.MAX_SINKS
        assert bounds.MOST_POINTS <= records.MAX_POINTS
        assert bounds.MOST_SURFACES + 1 <= records.MAX_SURFACES
        assert bounds.MOST_LAYERS <= records.MAX_LAYERS

    @pytest.mark.parametrize(
        ("path", "entry", "most"),
        [
            ("cooler.modules", {"part": "typical 127 couples 6 A"}, 4),
            ("cooler.hot_sink", {"kind": "resistance", "value": "0.2 K/W"}, 3),
            ("cooler.cold_sink", {"kind": "resistance", "value": "0.2 K/W"}, 3),
            ("place.surface", {"name": "x", "area": "1 m^2", "u_value": "1 W/m^2/K"}, 11),
            ("place.surface[0].layers", {"material": "EPS", "thickness": "1 cm"}, 6),
            ("cooler.cold_fan.curve", ["1 m^3/h", "2 Pa"], 16),
        ],
    )
    def test_longer_lists_are_refused(self, kiosk, path, entry, most):
        assert kiosk.changed({path: [entry] * most})
        with pytest.raises(SheetInvalid) as caught:
            kiosk.changed({path: [entry] * (most + 1)})
        (finding,) = caught.value.findings
        assert (finding.code, finding.where) == ("CW-SHEET-06", path)
        assert f"at most {most}" in finding.sentence()
