"""Slips of a unit are noticed by the field they stand in: a fin is no wall, a fan no supply."""

from typing import Annotated, get_args, get_origin

import pytest

from coldwright.quantities.parsing import is_plausible, likely_slip, parse, span
from coldwright.sheet.check import check
from coldwright.sheet.fields import Kind, Usual
from coldwright.sheet.file import read_text
from coldwright.sheet.models import Sheet
from coldwright.sheet.tables import Table


def _fields(table, seen):
    """Every field of every table below one, with what is written at it."""
    if table in seen:
        return
    seen.add(table)
    for name, field in table.model_fields.items():
        annotation = field.annotation
        for mark in field.metadata:
            annotation = Annotated[annotation, mark]
        for marks, inner in _walk(annotation):
            if isinstance(inner, type) and issubclass(inner, Table):
                yield from _fields(inner, seen)
            elif any(isinstance(mark, Kind) for mark in marks):
                yield f"{table.__name__}.{name}", marks


def _walk(annotation, marks=()):
    if get_origin(annotation) is Annotated:
        inner, *more = get_args(annotation)
        yield from _walk(inner, (*marks, *more))
    elif any(isinstance(mark, Kind) for mark in marks) or not get_args(annotation):
        yield marks, annotation
    else:
        for part in get_args(annotation):
            yield from _walk(part)


FIELDS = list(_fields(Sheet, set()))
SPANS = [(name, kind, usual) for name, marks in FIELDS
         for kind in marks if isinstance(kind, Kind)
         for usual in marks if isinstance(usual, Usual)]  # fmt: skip
# What these hold is bounded by nature, or has no size that a slip could be told from: shares,
# directions and money.
WITHOUT = {
    "share", "humidity", "efficiency", "emissivity", "angle", "latitude", "longitude", "price",
    "price_per_energy", "emission_factor", "air_pressure", "u_value", "contact_resistivity",
    "specific_heat", "heat_capacity",
}  # fmt: skip


def test_every_size_has_the_span_of_its_own_field():
    assert len(SPANS) > 150
    for name, marks in FIELDS:
        kind = next(mark for mark in marks if isinstance(mark, Kind))
        if kind.name not in WITHOUT and not name.startswith("_Enclosed."):
            assert any(isinstance(mark, Usual) for mark in marks), name


@pytest.mark.parametrize(("name", "kind", "usual"), SPANS)
def test_a_span_reads_and_is_one(name, kind, usual):
    low, high = parse(usual.low, kind.name).value, parse(usual.high, kind.name).value
    assert low < high, name
    if kind.name in ("length", "area", "power", "voltage", "flow", "thermal_resistance"):
        # Narrow enough to notice most slips of a thousand, at one end or the other.
        assert high / low < 1e6, name


SLIPS = [
    # key, as it stands, as it slips, what was meant
    ('power = "14 W"', "14 kW", "14 W"),
    ('fin_height = "30 mm"', "30 m", "30 mm"),
    ('fin_gap = "3 mm"', "3 um", "3 mm"),
    ('fin_thickness = "0.8 mm"', "0.8 m", "0.8 mm"),
    ('within = "60 min"', "60 d", None),
    ('within = "60 min"', "24 s", "24 min"),
    ('cold_interface = "0.02 K/W"', "20 K/W", "20 mK/W"),
    ('max_plug_power = "700 W"', "700 kW", "700 W"),
    ('diameter = "125 mm"', "125 um", "125 mm"),
    ('height = "2.3 m"', "2.3 mm", "2.3 m"),
    ('height = "2.3 m"', "40 m", "40 cm"),
    ('mass = "80 kg"', "80 t", None),
    ('mass = "80 kg"', "15 g", "15 kg"),
    ('area = "380 cm^2"', "380 m^2", "380 cm²"),
    ('area = "14.8 m^2"', "14.8 cm^2", "14.8 m²"),
    ('thickness = "4 mm"', "4 m", "4 mm"),
    ('thickness = "40 mm"', "40 m", "40 mm"),
    ('voltage = "30 V"', "30 mV", "30 V"),
    ('voltage = "30 V"', "30 kV", "30 V"),
    ('outdoor_air = "35 degC +/- 1 K"', "95 degC", "95 °F"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("line", "slipped", "meant"), SLIPS)
def test_a_slip_is_noticed_and_its_unit_guessed(kiosk_text, line, slipped, meant):
    key = line.partition(" = ")[0]
    assert line in kiosk_text
    text = kiosk_text.replace(line, f'{key} = "{slipped}"', 1)
    found = [one for one in check(read_text(text, "sheet.toml")) if one.code == "CW-UNIT-02"]
    if slipped == "60 d":
        assert not found  # a bound itself is usual
        return
    (one,) = found
    assert one.severity == "warning"
    assert one.given == f"“{slipped}”"
    if meant is not None:
        assert one.why == f"Was {meant} meant?"


def test_a_crowd_in_a_kiosk_is_noticed(kiosk_text):
    # 1.8 m by 1.6 m; some four people stand on a square metre of a packed train.
    for people, codes in ((1, []), (10, []), (1000, ["CW-UNIT-02"])):
        text = kiosk_text.replace("people = 1", f"people = {people}")
        assert [one.code for one in check(read_text(text, "sheet.toml"))] == codes


def test_a_changed_value_keeps_the_span_of_its_field(kiosk):
    path = "cooler.cold_sink.fin_height"
    one = kiosk.changed({path: "30 m"}).quantities()[path]
    assert not is_plausible(one)
    assert likely_slip(one) == "30 mm"
    assert span(one) == "1\u2009mm to 200\u2009mm"
