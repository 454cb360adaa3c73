"""The parts library: every row can be used, and its values agree with what their sources print."""

import math

import pytest
from pydantic import TypeAdapter

from coldwright.errors import PartMissing
from coldwright.sheet.library import GROUPS, library
from coldwright.sheet.models import Duct, Fan, Sink
from coldwright.sheet.models_cooler import Modules, Ratings

LEAST = {
    "modules": 12, "sinks": 12, "fans": 10, "duct_parts": 6, "ducts": 6, "fittings": 8,
    "materials": 16, "solids": 6, "interfaces": 6, "wires": 25, "activities": 5, "leakage": 3,
    "ceramics": 2, "buffers": 3,
}  # fmt: skip


def test_there_is_enough_to_choose_from():
    assert set(LEAST) == set(GROUPS)
    for group, least in LEAST.items():
        assert len(library().names(group)) >= least, group


@pytest.mark.parametrize("group", GROUPS)
def test_every_row_says_where_it_comes_from(group):
    for name in library().names(group):
        source = library().source(group, name)
        assert len(source) > 8, name
        if group in ("modules", "sinks", "fans", "duct_parts"):
            assert name.startswith("typical ")
            assert source.startswith("typical")


@pytest.mark.parametrize("group", GROUPS)
def test_every_row_can_be_used(group):
    parts = {
        "modules": Modules,
        "sinks": TypeAdapter(Sink).validate_python,
        "fans": Fan,
        "duct_parts": Duct,
    }
    typed = {
        "materials": library().material, "solids": library().solid,
        "ceramics": library().ceramic, "interfaces": library().interface,
        "ducts": library().duct, "fittings": library().fitting, "wires": library().conductor,
        "activities": library().activity, "leakage": library().leakage,
        "buffers": library().buffer,
    }  # fmt: skip
    for name in library().names(group):
        if group in parts:
            make = parts[group]
            part = library().part(group, name)
            made = make(part) if group == "sinks" else make.model_validate(part)
            assert made is not None
        else:
            row = typed[group](name)
            assert row.name == name
            assert row.source


def test_values_carry_their_own_path_and_tolerance():
    conductivity = library().material("XPS").conductivity
    assert conductivity.path == "library.materials.XPS.conductivity"
    assert conductivity.tolerance.half_width == pytest.approx(0.15 * 0.035)


def test_names_are_found_without_regard_to_case_and_by_alias():
    assert library().material("xps").name == "XPS"
    assert library().material("expanded polystyrene").name == "EPS"
    assert library().solid("Aluminum 6063").name == "aluminium 6063"
    assert library().conductor("2.5 mm²").name == "2.5 mm^2"


def test_a_missing_name_offers_the_nearest():
    with pytest.raises(PartMissing, match="typical 127 couples 6 A") as caught:
        library().part("modules", "typical 127 couple 6A")
    assert caught.value.part == "typical 127 couple 6A"
    with pytest.raises(PartMissing) as caught:
        library().material("unobtainium")
    assert caught.value.nearest == ()
    with pytest.raises(KeyError):
        library().names("nonsense")


# ASHRAE Handbook Fundamentals 2017, ch. 26, table 1, design values at 24 degC mean [W/m/K].
FOAMS = [
    ("EPS", 0.035, 0.037),
    ("EPS dense", 0.033, 0.033),
    ("XPS", 0.026, 0.036),
    ("PIR", 0.023, 0.025),
    ("PIR foil faced", 0.022, 0.023),
    ("phenolic foam", 0.020, 0.023),
    ("PUR", 0.020, 0.029),
    ("softwood", 0.09, 0.16),
    ("glass", 1.0, 1.0),
]


@pytest.mark.published("ASHRAE Handbook Fundamentals 2017, ch. 26, table 1")
@pytest.mark.parametrize(("name", "low", "high"), FOAMS)
def test_conductivities_lie_in_the_printed_span(name, low, high):
    assert low <= library().material(name).conductivity.value <= high


@pytest.mark.published("ASHRAE Handbook Fundamentals 2017, ch. 26, table 1: plywood about 0.10")
def test_the_tolerance_of_plywood_and_gypsum_reaches_the_other_source():
    # Two sources differ; the span of the row must hold both.
    for name, other in (("plywood", 0.105), ("gypsum board", 0.16)):
        value = library().material(name).conductivity
        assert abs(value.value - other) <= value.tolerance.half_width + 1e-12


# IEC 60228, greatest resistance at 20 degC of plain copper [ohm/km]: nominal mm² to class 5, 2.
IEC_60228 = {
    0.5: (39.0, 36.0), 0.75: (26.0, 24.5), 1: (19.5, 18.1), 1.5: (13.3, 12.1), 2.5: (7.98, 7.41),
    4: (4.95, 4.61), 6: (3.30, 3.08), 10: (1.91, 1.83),
}  # fmt: skip


@pytest.mark.published("IEC 60228, tables 1 to 3")
@pytest.mark.parametrize(("area", "resistances"), IEC_60228.items())
def test_metric_wires(area, resistances):
    wire = library().conductor(f"{area:g} mm^2")
    assert wire.area.value == pytest.approx(area * 1e-6)
    assert wire.flexible.value == pytest.approx(resistances[0] / 1000.0)
    assert wire.stranded.value == pytest.approx(resistances[1] / 1000.0)


@pytest.mark.published("ASTM B258: d = 0.127 mm * 92^((36 - n)/39); AWG 14, 12, 10, 18 areas")
@pytest.mark.parametrize(
    ("gauge", "area_mm2"), [(18, 0.823), (14, 2.081), (12, 3.309), (10, 5.261)]
)
def test_gauges(gauge, area_mm2):
    area = library().conductor(f"{gauge} AWG").area.value
    assert area == pytest.approx(area_mm2 * 1e-6, rel=1e-3)  # the table prints three decimals
    assert library().nominal_conductor(area).name == f"{gauge} AWG"


# SAE J1128 least areas in circular mils, as boat-wiring tables print them.
SAE = {18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360}


@pytest.mark.published("SAE J1128, least conductor area; 1 circular mil = pi/4 (25.4 um)^2")
@pytest.mark.parametrize(("gauge", "circular_mils"), SAE.items())
def test_sae_wire_is_thinner_than_the_same_gauge(gauge, circular_mils):
    sae = library().conductor(f"SAE {gauge}").area.value
    assert sae == pytest.approx(circular_mils * math.pi / 4 * 25.4e-6**2, rel=1e-4)
    assert sae < library().conductor(f"{gauge} AWG").area.value


def test_an_odd_area_is_no_listed_size():
    assert library().nominal_conductor(2.2e-6) is None
    assert library().nominal_conductor(2.5e-6).name == "2.5 mm^2"


@pytest.mark.published("ASHRAE Handbook Fundamentals 2017, ch. 18, table 1")
@pytest.mark.parametrize(
    ("activity", "sensible_W", "latent_W"),
    [("seated", 70, 35), ("seated, light work", 70, 45), ("office work", 75, 55),
     ("standing, light work", 75, 55)],
)  # fmt: skip
def test_heat_of_people(activity, sensible_W, latent_W):
    row = library().activity(activity)
    assert (row.sensible.value, row.latent.value) == (sensible_W, latent_W)


@pytest.mark.published("ASHRAE Handbook Fundamentals 2017, ch. 9, table 4; 1.8 m^2 of skin")
@pytest.mark.parametrize(("activity", "flux_W_m2"), [("sleeping", 40), ("reclining", 45)])
def test_heat_of_resting_people(activity, flux_W_m2):
    row = library().activity(activity)
    assert row.sensible.value + row.latent.value == pytest.approx(1.8 * flux_W_m2)


@pytest.mark.published("ASHRAE Handbook Fundamentals 2017, ch. 21, table 1")
@pytest.mark.parametrize(
    ("kind", "low_mm", "high_mm"),
    [("drawn tube", 0.0005, 0.0005), ("smooth plastic", 0.009, 0.046),
     ("spiral galvanised steel", 0.06, 0.12), ("flexible plastic", 0.09, 0.9),
     ("flexible aluminium", 1.2, 3.0)],
)  # fmt: skip
def test_roughness_of_ducts(kind, low_mm, high_mm):
    row = library().duct(kind)
    assert low_mm <= row.roughness.value * 1000.0 <= high_mm * (1 + 1e-12)
    assert row.flexible == kind.startswith("flexible")


@pytest.mark.published("Fourier's law: 25 and 100 um of 2 W/m/K on 40 x 40 mm: 0.0078, 0.0313 K/W")
@pytest.mark.parametrize(("name", "K_W"), [("thin paste", 0.0078125), ("thick paste", 0.03125)])
def test_paste_on_one_module(name, K_W):
    assert library().interface(name).insulance.value / 0.040**2 == pytest.approx(K_W)


@pytest.mark.practice
def test_interfaces_stand_in_the_order_that_builders_know():
    order = ["solder", "thin paste", "graphite", "thick paste", "pad 0.5 mm", "pad 1 mm"]
    values = [library().interface(name).insulance.value for name in order]
    assert values == sorted(values)
    assert (
        library().interface("dry").insulance.value
        > library().interface("thick paste").insulance.value
    )


@pytest.mark.published("constant-property module: Qmax = Vmax Imax (Th + dTmax) / (2 Th)")
@pytest.mark.parametrize("name", library().names("modules"))
def test_ratings_of_modules_belong_together(name):
    """The heat at no lift follows from the other three ratings, for constant properties.

    ``V = S Th`` and ``I = S (Th - dT) / R`` at the greatest lift give the heat at no lift. Real
    modules print up to about 8 % less, since properties fall off towards the cold end.
    """
    ratings = Modules.model_validate(library().part("modules", name)).ratings
    assert isinstance(ratings, Ratings)
    hot_K, lift_K = ratings.hot_face.value, ratings.max_difference.value
    power_W = ratings.max_voltage.value * ratings.max_current.value
    expected_W = power_W * (hot_K + lift_K) / (2 * hot_K)
    assert 0.90 * expected_W < ratings.max_heat.value <= expected_W


@pytest.mark.practice
@pytest.mark.parametrize("name", library().names("fans"))
def test_fans_do_what_small_fans_can(name):
    # Best air power over electrical power of small fans: a few to some 40 percent.
    fan = Fan.model_validate(library().part("fans", name))
    best_W = max(flow.value * pressure.value for flow, pressure in fan.curve)
    assert 0.03 < best_W / fan.power.value < 0.45
    flows = [flow.value for flow, _ in fan.curve]
    pressures = [pressure.value for _, pressure in fan.curve]
    assert flows == sorted(flows)
    assert pressures == sorted(pressures, reverse=True)
    assert (flows[0], pressures[-1]) == (0.0, 0.0)


@pytest.mark.practice
def test_leakage_words_stand_in_order():
    values = [
        library().leakage(word).ach50.value for word in ("none", "tight", "ordinary", "draughty")
    ]
    assert values == sorted(values)
    assert values[0] == 0.0


# ISO 10456:2007, table 4 (from memory): conversion coefficient for moisture by volume, and the
# content up to which it holds.
ISO_10456 = {
    "EPS": (4.0, 0.10), "XPS": (2.5, 0.10), "PUR": (6.0, 0.15), "mineral wool": (4.0, 0.15),
    "phenolic foam": (5.0, 0.15),
}  # fmt: skip


@pytest.mark.published("ISO 10456:2007, table 4")
@pytest.mark.parametrize(("name", "row"), ISO_10456.items())
def test_how_water_harms_insulation(name, row):
    material = library().material(name)
    assert (material.moisture.value, material.wettest.value) == pytest.approx(row)


def test_of_most_materials_nothing_is_known_when_wet():
    assert library().material("plywood").moisture is None


# ASHRAE Handbook Fundamentals, ch. 18, heat gain of laboratory animals (from memory): total 2.5
# times the basal 3.5 W/kg^0.75; its table has 0.41 kg with 4.47 W and 3 kg with 19.93 W.
@pytest.mark.published("ASHRAE Handbook Fundamentals, ch. 18, heat gain of laboratory animals")
@pytest.mark.parametrize(
    ("name", "mass_kg"), [("cat", 4.0), ("small dog", 10.0), ("large dog", 30.0)]
)
def test_heat_of_animals(name, mass_kg):
    for table_kg, table_W in ((0.41, 4.47), (3.0, 19.93)):
        assert 2.5 * 3.5 * table_kg**0.75 == pytest.approx(table_W, rel=0.01)
    animal = library().activity(name)
    total_W = animal.sensible.value + animal.latent.value
    assert total_W == pytest.approx(2.5 * 3.5 * mass_kg**0.75, rel=0.01)
    assert animal.sensible.value / total_W == pytest.approx(0.67, abs=0.01)
