"""What people write, and what must be refused."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.errors import QuantityError
from coldwright.quantities.display import shown
from coldwright.quantities.glossary import GLOSSARY, KINDS
from coldwright.quantities.notations import compass_angle, currency
from coldwright.quantities.parsing import (
    TEXT_LENGTH_LIMIT,
    Quantity,
    is_plausible,
    likely_slip,
    parse,
)

# Each value by hand from the definitions 1 in = 25.4 mm, 1 ft = 12 in, 1 CFM = 4.719474432e-4 m3/s,
# 1 BTU (International Table) = 1055.05585262 J, 1 US gallon = 231 in3, 0 degC = 273.15 K,
# 0 degF = 459.67 x 5/9 K.
ACCEPTED = [
    ("4 in", "length", 0.1016),
    ('4"', "length", 0.1016),
    ("4″", "length", 0.1016),
    ("1/2 in", "length", 0.0127),
    ("½ in", "length", 0.0127),
    ("1 1/2 in", "length", 0.0381),
    ("1-1/2 in", "length", 0.0381),
    ("12 ft 3 in", "length", 3.7338),
    ("12' 3\"", "length", 3.7338),
    ("12' 3 1/2\"", "length", 3.7465),
    ("1,5 m", "length", 1.5),
    ("0,250 m", "length", 0.25),
    (".5 m", "length", 0.5),
    ("300mm", "length", 0.3),
    ("30 mil", "length", 0.000762),
    ("5 µm", "length", 5e-6),
    ("100 MM", "length", 0.1),
    ("380 cm^2", "area", 0.038),
    ("380 cm²", "area", 0.038),
    ("380 cm2", "area", 0.038),
    ("19 L", "volume", 0.019),
    ("5 lb 8 oz", "mass", 5.5 * 0.45359237),
    ("1 h 30 min", "time", 5400.0),
    ("60 min", "time", 3600.0),
    ("2 hours", "time", 7200.0),
    ("35 degC", "temperature", 308.15),
    ("35 °C", "temperature", 308.15),
    ("35°C", "temperature", 308.15),
    ("35 ℃", "temperature", 308.15),
    ("35 deg C", "temperature", 308.15),
    ("35 degrees Celsius", "temperature", 308.15),
    ("35C", "temperature", 308.15),
    ("35 c", "temperature", 308.15),
    ("5 C", "temperature", 278.15),
    ("-5 °C", "temperature", 268.15),
    ("−5 °C", "temperature", 268.15),
    ("95 °F", "temperature", 308.15),
    ("95 F", "temperature", 308.15),
    ("-40 degF", "temperature", 233.15),
    ("308 K", "temperature", 308.0),
    ("2 K", "temperature_difference", 2.0),
    ("2 degC", "temperature_difference", 2.0),
    ("2 °C", "temperature_difference", 2.0),
    ("2 K difference", "temperature_difference", 2.0),
    ("2 degC difference", "temperature_difference", 2.0),
    ("2 delta_degC", "temperature_difference", 2.0),
    ("2 Δ°C", "temperature_difference", 2.0),
    ("3.6 °F", "temperature_difference", 2.0),
    ("120 CFM", "flow", 120 * 4.719474432e-4),
    ("120 cfm", "flow", 120 * 4.719474432e-4),
    ("1.2 m^3/h", "flow", 1.2 / 3600),
    ("1.2 m³/h", "flow", 1.2 / 3600),
    ("1.2 m3/h", "flow", 1.2 / 3600),
    ("30 L/s", "flow", 0.03),
    ("5 gpm", "water_flow", 5 * 3.785411784e-3 / 60),
    ("1.5 L/min", "water_flow", 1.5e-3 / 60),
    ("60 g/h", "moisture_rate", 0.06 / 3600),
    ("40 percent", "humidity", 0.4),
    ("40 %", "humidity", 0.4),
    ("40%RH", "humidity", 0.4),
    (0.4, "humidity", 0.4),
    ("0.4", "humidity", 0.4),
    (1, "share", 1.0),
    (0, "share", 0.0),
    ("8 g/kg", "humidity_ratio", 0.008),
    ("12 VDC", "voltage", 12.0),
    ("12 V DC", "voltage", 12.0),
    ("230 Vac", "voltage", 230.0),
    ("12 v", "voltage", 12.0),
    ("1500 mA", "current", 1.5),
    ("6 a", "current", 6.0),
    ("6 amps", "current", 6.0),
    ("1.985 Ω", "resistance", 1.985),
    ("10 mΩ", "resistance", 0.010),
    ("8.29 ohm/km", "resistance_per_length", 0.00829),
    ("0.0513 V/K", "seebeck", 0.0513),
    ("51.3 mV/K", "seebeck", 0.0513),
    ("0.5 KW", "power", 500.0),
    ("1.2 kWh/24h", "power", 50.0),
    ("1000 BTU/h", "heat", 1055055.85262 / 3600),
    ("1000 btu/hr", "heat", 1055055.85262 / 3600),
    ("0.25 EUR/kWh", "price_per_energy", 0.25 / 3.6e6),
    ("€0.25/kWh", "price_per_energy", 0.25 / 3.6e6),
    ("25 ct/kWh", "price_per_energy", 0.25 / 3.6e6),
    ("12 EUR", "price", 12.0),
    ("12,50 €", "price", 12.5),
    ("$12", "price", 12.0),
    ("EUR 12.5", "price", 12.5),
    ("5 ACH", "air_changes", 5 / 3600),
    ("5 1/h", "air_changes", 5 / 3600),
    ("5 per hour", "air_changes", 5 / 3600),
    ("46 dB", "sound_level", 46.0),
    ("46 dBA", "sound_level", 46.0),
    ("46 dB(A)", "sound_level", 46.0),
    ("200 deg", "angle", 200 * math.pi / 180),
    ("200°", "angle", 200 * math.pi / 180),
    ("2.5 mm^2", "wire_size", 2.5e-6),
    ("2.5 mm²", "wire_size", 2.5e-6),
    ("0.25 m^2*K/W", "thermal_insulance", 0.25),
    ("RSI 2.3", "thermal_insulance", 2.3),
    ("0.035 W/mK", "thermal_conductivity", 0.035),
    ("1.2 kJ/kgK", "specific_heat", 1200.0),
    ("100 Ah", "charge", 360000.0),
    ("1.2 met", "irradiance", 1.2 * 58.2),
    ("25 kHz", "frequency", 25000.0),
    ("1500 rpm", "rotation", 25.0),
    ("1×10⁻¹⁰ ohm m²", "contact_resistivity", 1e-10),
    ("1e-10 ohm m^2", "contact_resistivity", 1e-10),
    ("12", "count", 12.0),
]


@pytest.mark.published("NIST SP 811 (2008), appendix B: exact definitions; ASHRAE 55: 1 met")
@pytest.mark.parametrize(("text", "kind", "value"), ACCEPTED)
def test_accepted_texts(text, kind, value):
    quantity = parse(text, kind)
    assert quantity.value == pytest.approx(value, rel=1e-12, abs=0.0)
    assert quantity.text == (text if isinstance(text, str) else str(text))
    assert quantity.kind == kind
    assert quantity.tolerance.assumed
    assert not quantity.assumed


# ASTM B258 as printed in wire tables: diameter in mils (0.001 in) to one decimal. 4/0 is 460 and
# 36 is 5 by definition.
GAUGES = [
    ("18 AWG", 40.3),
    ("14 AWG", 64.1),
    ("AWG 12", 80.8),
    ("10 awg", 101.9),
    ("AWG10", 101.9),
    ("1/0 AWG", 324.9),
    ("2/0 AWG", 364.8),
    ("0000 AWG", 460.0),
    ("36 AWG", 5.0),
]


@pytest.mark.published("ASTM B258-02, table of gauges (from memory)")
@pytest.mark.parametrize(("text", "diameter_mil"), GAUGES)
def test_wire_gauges(text, diameter_mil):
    # 0.05 mil: half of the last printed figure.
    diameter_m = math.sqrt(4.0 * parse(text, "wire_size").value / math.pi)
    assert diameter_m / 25.4e-6 == pytest.approx(diameter_mil, abs=0.05)


@pytest.mark.published("NIST SP 811 (2008), B.8: degF h ft2/BTU(IT) = 1.761102e-1 m2 K/W")
@pytest.mark.parametrize("text", ["R13", "R-13", "R 13", "r13"])
def test_r_values_are_in_the_us_unit(text):
    assert parse(text, "thermal_insulance").value == pytest.approx(13 * 0.1761102, rel=3e-7)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("text", "degrees"),
    [("N", 0), ("e", 90), ("SSW", 202.5), ("north-west", 315), ("NNW", 337.5), ("south", 180)],
)
def test_compass_points(text, degrees):
    # Sixteen points, 22.5 degrees apart, clockwise from north.
    assert math.degrees(parse(text, "angle").value) == pytest.approx(degrees)
    assert compass_angle(text) is not None


@pytest.mark.practice
@pytest.mark.parametrize(
    ("text", "kind", "value", "half_width", "shape"),
    [
        ("53 W +/- 10%", "heat", 53.0, 5.3, "limit"),
        ("53 W ± 10 %", "power", 53.0, 5.3, "limit"),
        ("53 W +- 10 percent", "power", 53.0, 5.3, "limit"),
        ("53 W+/-5 W", "power", 53.0, 5.0, "limit"),
        ("53 +/- 5 W", "power", 53.0, 5.0, "limit"),
        ("53 W +/- 5", "power", 53.0, 5.0, "limit"),
        ("53 W +/- 500 mW", "power", 53.0, 0.5, "limit"),
        ("53 W +/- 0 W", "power", 53.0, 0.0, "limit"),
        ("53 W +/- 5 W (k=2)", "power", 53.0, 5.0, "k2"),
        ("53 W ± 10 % (k = 2)", "power", 53.0, 5.3, "k2"),
        ("0.02 +/- 0.005 K/W", "thermal_resistance", 0.02, 0.005, "limit"),
        ("35 degC +/- 1 K", "temperature", 308.15, 1.0, "limit"),
        ("35 +/- 1 degC", "temperature", 308.15, 1.0, "limit"),
        ("35 degC +/- 1", "temperature", 308.15, 1.0, "limit"),
        ("95 °F ± 1.8 °F", "temperature", 308.15, 1.0, "limit"),
        ("-20 W +/- 10 %", "heat", -20.0, 2.0, "limit"),
        # Percent of a percentage: instruments state points of relative humidity.
        ("40 % +/- 3 %", "humidity", 0.4, 0.03, "limit"),
        ("0.9 +/- 0.02", "efficiency", 0.9, 0.02, "limit"),
        ("46 dB +/- 3 dB", "sound_level", 46.0, 3.0, "limit"),
        ("SSW +/- 10 deg", "angle", math.radians(202.5), math.radians(10.0), "limit"),
        ("12 ft 3 in +/- 1 in", "length", 3.7338, 0.0254, "limit"),
        ("R10 +/- 10 %", "thermal_insulance", 1.761102, 0.1761102, "limit"),
        ("2 K difference +/- 0.5", "temperature_difference", 2.0, 0.5, "limit"),
    ],
)
def test_tolerances(text, kind, value, half_width, shape):
    quantity = parse(text, kind)
    assert quantity.value == pytest.approx(value, rel=3e-7)
    assert quantity.tolerance.half_width == pytest.approx(half_width, rel=3e-7)
    assert quantity.tolerance.shape == shape
    assert not quantity.tolerance.assumed


REFUSED = [
    ("12", "power"),
    (12, "power"),
    (12.5, "temperature"),
    ("35", "temperature"),
    ("35 deg", "temperature"),
    ("12", "price"),
    ("12 W", "price"),
    ("", "power"),
    ("   ", "power"),
    ("\n", "power"),
    ("W", "power"),
    ("nan W", "power"),
    ("inf W", "power"),
    ("1e999 W", "power"),
    ("1e-999 W", "power"),
    (float("nan"), "share"),
    (float("inf"), "share"),
    (True, "share"),
    (False, "count"),
    (None, "share"),
    ([1], "share"),
    ("1" * 201, "ratio"),
    ("12 W" + " " * 200, "power"),
    ("1,500 W", "power"),  # one and a half, or fifteen hundred
    ("1,234,567 W", "power"),
    ("1.234,5 W", "power"),
    ("12 345 W", "power"),
    ("12 W 3", "power"),
    ("4-6 V", "voltage"),
    ("4 V to 6 V", "voltage"),
    ("4..6 V", "voltage"),
    ("1/0 in", "length"),
    ("3 in 12 ft", "length"),
    ("12 ft 3", "length"),
    ("12 ft 3 kg", "length"),
    ("-5 m", "length"),
    ("-1 %", "share"),
    ("40", "humidity"),
    ("140 %", "humidity"),
    ("1.2", "share"),
    ("2.5", "count"),
    ("-300 degC", "temperature"),
    ("0 K", "temperature"),
    ("2 K difference", "temperature"),
    ("2 delta_degC", "temperature"),
    ("35 degC/W", "temperature"),
    ("80 m/s", "flow"),
    ("80 m^3", "flow"),
    ("5 W/K", "thermal_resistance"),
    ("2.5 mm", "wire_size"),
    ("60 AWG", "wire_size"),
    ("14.5 AWG", "wire_size"),
    ("R", "thermal_insulance"),
    ("SSSW", "angle"),
    ("35 degC +/- 1 %", "temperature"),
    ("46 dB +/- 10 %", "sound_level"),
    ("53 +/- 10 %", "power"),
    ("0.4 +/- 5 %", "humidity"),
    ("53 W +/- -5 W", "power"),
    ("53 W +/- 5 K", "power"),
    ("53 W +/-", "power"),
    ("+/- 5 W", "power"),
    ("53 W +/- 5 W +/- 1 W", "power"),
    ("53 W +5/-2 W", "power"),
    ("53 W (k=2)", "power"),
    ("53 W +/- 5 W (k=3)", "power"),
    ("53 W +/- 1e999 W", "power"),
    ("12 W; drop table", "power"),
    ("__import__('os') W", "power"),
    ("9**9**9**9 W", "power"),
    ("1 m^9^9^9^9", "length"),
    ("\ud800 W", "power"),
    ("12\x00 W", "power"),
    ("٣ W", "power"),
    ("12 W", "no such kind"),
    ("12 W", "plug_power_W"),
]


@pytest.mark.parametrize(("text", "kind"), REFUSED, ids=ascii)
def test_refused_texts(text, kind):
    with pytest.raises(QuantityError) as refused:
        parse(text, kind)
    assert str(refused.value)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 400


@pytest.mark.parametrize("digits", [400, 5000])
def test_whole_numbers_beyond_a_float_are_refused(digits):
    # Python itself refuses to print whole numbers of more than 4300 digits.
    with pytest.raises(QuantityError):
        parse(10**digits, "ratio")


def test_coulomb_is_meant_only_where_charge_is():
    # A battery's charge may be in coulomb; a temperature never is.
    assert parse("5 C", "charge").value == 5.0
    assert parse("5 C", "temperature").value == 278.15


def test_a_bare_number_is_told_which_unit_it_lacks():
    with pytest.raises(QuantityError) as refused:
        parse(80, "flow")
    assert "“80 m^3/h”" in refused.value.action
    assert refused.value.given == "“80”"


@pytest.mark.parametrize(
    ("text", "kind", "mentions"),
    [
        ("3 m/s", "flow", "unit of velocity"),
        ("0.5 W/K", "thermal_resistance", "reciprocal"),
        ("1.2 kWh", "power", "energy per time"),
        ("2.5 mm", "wire_size", "cross section"),
        ("40", "humidity", "“40 %”"),
        ("1,500 W", "power", "“1500” or “1.5”"),
        ("4-6 V", "voltage", "range"),
    ],
)
def test_the_message_guesses_what_was_meant(text, kind, mentions):
    with pytest.raises(QuantityError, match=mentions):
        parse(text, kind)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("text", "kind", "meant"),
    [
        ("900 m^3/s", "flow", "900 m³/h"),
        ("120 m^3/s", "flow", "120 m³/h"),
        ("35 K", "temperature", "35 °C"),
        ("2 K", "temperature", "2 °C"),
        ("300 m", "length", "300 mm"),
        ("1.2 J/kg/K", "specific_heat", "1.2 kJ/kg/K"),
        ("35 W/m/K +/- 10 %", "thermal_conductivity", None),
        ("0.25 EUR/J", "price_per_energy", "0.25 EUR/kWh"),
        ("53 J/K", "heat_capacity", None),
        ("0 m^3/h", "flow", None),
        ("500000 W", "heat", None),
        ("0.4 %", "humidity", "0.4"),
        ("600 W/m^2", "irradiance", None),
        ("51.3 V/K", "seebeck", "51.3 mV/K"),
        ("2.5 m^2", "wire_size", "2.5 mm²"),
    ],
)
def test_likely_slips(text, kind, meant):
    said = likely_slip(parse(text, kind))
    if meant is None:
        assert said is None
    else:
        assert said == meant


@given(st.sampled_from(sorted(KINDS)), st.floats(-1e6, 1e6))
def test_a_slip_is_only_ever_offered_outside_the_span(kind, number):
    row = KINDS[kind]
    unit = "EUR" if kind == "price" else row.si_unit.replace("price", "EUR")
    try:
        quantity = parse(f"{number!r} {unit}", kind)
    except QuantityError:
        return
    if likely_slip(quantity) is not None:
        assert not is_plausible(quantity)


def _kinds_with_factor():
    return sorted(kind for kind in KINDS if kind not in ("count", "angle", "temperature"))


@given(
    st.sampled_from(_kinds_with_factor()),
    st.floats(1e-6, 1.0),
)
def test_text_is_kept_and_the_value_is_exact(kind, number):
    row = KINDS[kind]
    unit = "EUR" if kind == "price" else row.si_unit.replace("price", "EUR")
    text = f"{number!r} {unit}"
    quantity = parse(text, kind)
    assert quantity.text == text
    assert quantity.value == pytest.approx(number, rel=1e-12)
    assert quantity.at("a.b").path == "a.b"
    assert quantity.at("a.b").value == quantity.value


@given(st.floats(-50.0, 200.0))
def test_celsius_and_fahrenheit_name_the_same_temperature(celsius):
    fahrenheit = celsius * 1.8 + 32.0
    first = parse(f"{celsius!r} degC", "temperature").value
    assert first == pytest.approx(celsius + 273.15, rel=1e-15)
    assert parse(f"{fahrenheit!r} degF", "temperature").value == pytest.approx(first, rel=1e-12)


@given(st.sampled_from(_kinds_with_factor()), st.floats(0.01, 1.0))
def test_what_is_shown_can_be_read_again(kind, share):
    row = KINDS[kind]
    if kind.startswith("price"):
        return
    value = min(row.high, row.most) * share
    shown_text = shown(row, value)
    # Three figures are kept, or one decimal of a level.
    assert parse(shown_text, kind).value == pytest.approx(value, rel=6e-3, abs=0.06)


def test_every_kind_reads_its_own_example_and_default_tolerance():
    for kind, row in KINDS.items():
        quantity = parse(row.example, kind)
        assert is_plausible(quantity), kind
        assert quantity.tolerance.assumed
        assert math.isfinite(quantity.tolerance.half_width)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("text", "kind", "half_width"),
    [
        ("35 degC", "temperature", 1.0),
        ("53 W", "heat", 5.3),
        ("-53 W", "heat", 5.3),
        ("46 dB", "sound_level", 3.0),
        ("12", "count", 0.0),
    ],
)
def test_a_value_without_tolerance_takes_the_default_of_its_kind(text, kind, half_width):
    quantity = parse(text, kind)
    assert quantity.tolerance.half_width == pytest.approx(half_width)
    assert quantity.tolerance.assumed


def test_defaults_of_the_program_are_marked():
    assert parse("10 W/m^2/K", "film_coefficient", assumed=True).assumed


@pytest.mark.parametrize(
    ("text", "name"),
    [("12 EUR", "EUR"), ("$12", "$"), ("0.25 EUR/kWh", "EUR"), ("€0.25/kWh", "€"), ("12", "")],
)
def test_the_currency_is_kept(text, name):
    assert currency(text) == name


def _assert_reads_or_refuses(text, kind):
    try:
        quantity = parse(text, kind)
    except QuantityError:
        return
    assert isinstance(quantity, Quantity)
    assert math.isfinite(quantity.value)
    assert math.isfinite(quantity.tolerance.half_width)
    assert quantity.text == text
    likely_slip(quantity)


@settings(max_examples=2500, deadline=None)
@given(st.text(max_size=TEXT_LENGTH_LIMIT + 20), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused(text, kind):
    _assert_reads_or_refuses(text, kind)


PIECES = [
    *"0123456789", ".", ",", "/", "-", "+", "e", "E", " ", "  ", "(", ")", "^", "*", "²", "³", "%",
    "+/-", "±", "(k=2)", "W", "m", "K", "degC", "°", "C", "F", "kW", "h", "ft", "in", '"', "'",
    "AWG", "R", "dB", "EUR", "$", "difference", "BTU", "inH2O", "µ", "⁻¹", "×10", "Δ", "S", "mol",
    "cd", "nan", "inf", "e9", "0x", "_", "to", "gal", "furlong", "degRe", "dBm", "pH", "None",
]  # fmt: skip


@settings(max_examples=2500, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=14), st.sampled_from(sorted(KINDS)))
def test_any_heap_of_plausible_pieces_is_read_or_refused(pieces, kind):
    _assert_reads_or_refuses("".join(pieces), kind)


@pytest.mark.parametrize(
    "text",
    [
        "1" * 200, "1 " * 100, "(" * 200, "1 " + "(" * 58, "1/" * 100, "deg " * 50, "in " * 66,
        "ft 3 in " * 25, "1 ft " * 40, "+/-" * 66, "(k=" * 60, "1e" * 100, "1 m" + "2" * 100,
        "1×10" * 40, "1 1/" * 50, "9" * 100 + "," + "9" * 99, " " * 199 + "x",
    ],
)  # fmt: skip
def test_no_text_takes_long(text):
    # Linear scanning needs microseconds; a text that backtracks badly needs seconds.
    parse("1 furlong", "length")
    start = time.perf_counter()
    for kind in ("length", "power", "temperature", "price", "wire_size", "thermal_insulance"):
        _assert_reads_or_refuses(text, kind)
    assert time.perf_counter() - start < 0.5


def test_results_and_kinds_share_one_glossary():
    assert set(KINDS) < set(GLOSSARY)


@pytest.mark.parametrize(
    ("text", "kind", "degrees"),
    [
        ("48.1 N", "latitude", 48.1),
        ("33.9 S", "latitude", -33.9),
        ("-33.9 deg", "latitude", -33.9),
        ("48° 30' N", "latitude", 48.5),
        ("11°34′E", "longitude", 11.0 + 34.0 / 60.0),
        ("79.95 w", "longitude", -79.95),
        ("170 deg", "longitude", 170.0),
    ],
)
def test_places_on_the_globe(text, kind, degrees):
    quantity = parse(text, kind)
    assert math.degrees(quantity.value) == pytest.approx(degrees, abs=1e-12)
    assert quantity.tolerance.half_width == 0.0


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        ("95 N", "latitude", "more than 90"),
        ("-95 deg", "latitude", "less than"),
        ("48 E", "latitude", "no unit|not a known unit"),
        ("12 N", "longitude", "unit of|no unit|not a"),
        ("48° 75' N", "latitude", "not a latitude"),
        ("48.1", "latitude", "A number alone"),
    ],
)
def test_places_that_are_none(text, kind, said):
    with pytest.raises(QuantityError, match=said):
        parse(text, kind)


@pytest.mark.parametrize("text", ["0.3 kg/kWh", "300 g/kWh", "300 kg/MWh"])
def test_emissions_per_energy(text):
    # 0.3 kg for 3.6 MJ.
    assert parse(text, "emission_factor").value == pytest.approx(0.3 / 3.6e6, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "action"),
    [
        ("101 percent", "humidity", ""),
        ("101 %", "share", ""),
        ("40", "humidity", "“40 %”"),
        ("85", "efficiency", "“85 %”"),
        ("2", "efficiency", ""),  # two percent is no supply
        ("1.5", "share", ""),
        ("120", "share", ""),
    ],
)
def test_a_share_above_the_whole_is_taken_for_percent_only_where_that_helps(text, kind, action):
    with pytest.raises(QuantityError) as refused:
        parse(text, kind)
    assert refused.value.action == action
    assert "�" not in str(refused.value)


@pytest.mark.published("ASTM B258: gauges are whole numbers, and 1/0 to 4/0")
@pytest.mark.parametrize("text", ["99 AWG", "1.5 AWG", "7/0 AWG", "-3 awg"])
def test_a_gauge_that_is_none_is_not_called_an_unknown_unit(text):
    with pytest.raises(QuantityError) as refused:
        parse(text, "wire_size")
    assert "known unit" not in str(refused.value)
    assert "Gauges" in refused.value.why
