"""Wiring: published worked cases through the answer, and what it says of bad ideas."""

from __future__ import annotations

import json
from math import sqrt
from pathlib import Path

import pytest

from coldwright.answers import verdict, wiring
from coldwright.answers.wiring_schema import wiring_schema
from coldwright.findings import CATALOGUE
from coldwright.sheet.file import read, read_text
from tests.machine.test_coupled import CONVERTER, PLAIN, SUPPLY

DEMOS = Path(__file__).resolve().parents[2] / "demos"


def answer(text):
    found = wiring.run(wiring.Inputs(read_text(text, "bench.toml")))
    assert abs(found.residual_W) <= 1e-9 * found.plug_power_W
    heat_W = sum(line.W for line in found.heat) + sum(found.leaves_W.values())
    assert heat_W == pytest.approx(found.plug_power_W, rel=1e-9)
    return found


def codes(found):
    return {one.code for one in found.findings}


def wire(**keys):
    rows = {"name": '"modules"', "length": '"2 m"', "size": '"1 mm^2"'} | keys
    return (
        "\n[[power.wire]]\n" + "\n".join(f"{key} = {value}" for key, value in rows.items()) + "\n"
    )


def run_of(found, part="modules"):
    return next(one for one in found.runs if one.feeds == part)


SIX_AMPERES = PLAIN.replace('{ voltage = "16 V" }', '{ current = "6 A" }').replace(
    "series = 2", "series = 1"
)


# --- Wires ---------------------------------------------------------------------------------------


@pytest.mark.published("IEC 60228 class 5, IEC 60028: 6 A over 2 m of 1.0 and of 2.5 mm2")
@pytest.mark.parametrize(("size", "cold_V"), [("1 mm^2", 0.4680), ("2.5 mm^2", 0.1915)])
def test_the_drop_of_a_run(size, cold_V):
    # At 20 degC 0.468 and 0.1915 V; the copper counts as 40 degC warm: 1 + 0.00393 x 20 = 1.0786.
    found = answer(SIX_AMPERES + SUPPLY + CONVERTER + wire(size=f'"{size}"'))
    run = run_of(found)
    assert run.running_A == pytest.approx(6.0, rel=1e-9)
    assert run.drop_V == pytest.approx(1.0786 * cold_V, rel=2e-3)
    assert run.heat_W == pytest.approx(6.0 * run.drop_V, rel=1e-9)


@pytest.mark.published("IEC 60364-5-52:2009, B.52.2 (from memory) and B.52.14: 23 A, 30 to 45 degC")
def test_warm_surroundings_bundle_and_foam_take_from_a_named_table():
    # 2.5 mm2: 23 A at 30 degC; at 45 degC sqrt(25 / 40) = 0.791. Three pairs: 0.70. 50 mm: 0.89.
    hot = wire(size='"2.5 mm^2"', around='"45 degC"')
    run = run_of(answer(PLAIN + SUPPLY + CONVERTER + hot))
    assert run.table.startswith("IEC 60364-5-52")
    assert "2009" in run.table
    assert run.allowed_A == pytest.approx(23.0 * sqrt(25.0 / 40.0), rel=1e-3)
    deep = wire(size='"2.5 mm^2"', around='"30 degC"', bundle="3", in_foam='"50 mm"')
    found = answer(PLAIN + SUPPLY + CONVERTER + deep)
    assert run_of(found).allowed_A == pytest.approx(23.0 * 0.70 * 0.89, rel=1e-3)
    assert "CW-WIRE-06" in codes(found)


@pytest.mark.published("UK wiring rules, BS 7671 16th edition, table 52A: 1 m buried halves it")
def test_a_long_way_in_foam_halves_what_a_wire_may_carry():
    open_air = answer(PLAIN + SUPPLY + CONVERTER + wire(around='"30 degC"'))
    buried = answer(PLAIN + SUPPLY + CONVERTER + wire(around='"30 degC"', in_foam='"1 m"'))
    assert run_of(buried).allowed_A == pytest.approx(0.5 * run_of(open_air).allowed_A)


@pytest.mark.published("NEC 400.5(A), two-conductor column: 18 A for 14 AWG, 60 degC, at 30 degC")
def test_gauge_sizes_are_asked_of_the_gauge_table():
    run = run_of(answer(PLAIN + SUPPLY + CONVERTER + wire(size='"14 AWG"', around='"30 degC"')))
    assert run.base_A == 18.0
    assert run.table.startswith("NEC 400.5(A)")
    assert (run.smaller, run.larger) == ("16 AWG", "12 AWG")


def test_a_thin_wire_is_named_and_the_next_size_is_offered():
    text = SIX_AMPERES + SUPPLY + CONVERTER
    found = answer(text + wire(size='"0.5 mm^2"', fuse='"10 A"', fuse_standard='"ISO 8820-3"'))
    assert {"CW-WIRE-04", "CW-WIRE-10"} <= codes(found)
    (thin,) = [one for one in found.findings if one.code == "CW-WIRE-04"]
    assert "0.75 mm^2" in thin.action
    assert "licensed" in thin.why
    assert "too thin" in found.headline


@pytest.mark.published("ABYC E-11: 3 % where it matters, 10 % at most")
@pytest.mark.parametrize(
    ("length", "severity"), [("0.5 m", None), ("4 m", "note"), ("14 m", "warning")]
)
def test_a_long_drop_is_remarked(length, severity):
    found = answer(SIX_AMPERES + SUPPLY + CONVERTER + wire(length=f'"{length}"'))
    said = [one.severity for one in found.findings if one.code == "CW-WIRE-07"]
    assert said == ([] if severity is None else [severity])


def test_the_drop_costs_what_a_cooler_with_ideal_wires_would_cool_more():
    with_wire = PLAIN + SUPPLY + CONVERTER + wire()
    ideal = PLAIN + SUPPLY + CONVERTER + wire(length='"0 m"')
    watts = [
        verdict.run(verdict.Inputs(read_text(text, "bench.toml"), tries=0))
        .values["net_cooling_W"]
        .value
        for text in (with_wire, ideal)
    ]
    assert run_of(answer(with_wire)).lost_cooling_W == pytest.approx(watts[1] - watts[0], rel=1e-6)


# --- Fuses and switch ----------------------------------------------------------------------------


@pytest.mark.published(
    "UL 248-14: loaded to 75 %; IEC 60127: to its print; 8 A wants 10.67 and 8 A"
)
@pytest.mark.parametrize(
    ("standard", "least_A"), [("UL 248-14", 8.0 / 0.75), ("IEC 60127", 8.0), ("ISO 8820-3", 10.0)]
)
def test_the_fuse_standards_are_kept_apart(standard, least_A):
    text = SIX_AMPERES.replace('"6 A"', '"8 A"').replace('"0.20 K/W"', '"0.10 K/W"')
    thick = wire(size='"6 mm^2"', fuse='"12 A"', fuse_standard=f'"{standard}"')
    run = run_of(answer(text + SUPPLY + CONVERTER + thick))
    assert run.fuse_least_A == pytest.approx(least_A)
    assert all(size >= least_A - 1e-9 for size in run.fuse_sizes_A)
    assert (
        run.fuse_sizes_A[0] == {"UL 248-14": 12.0, "IEC 60127": 8.0, "ISO 8820-3": 10.0}[standard]
    )


def test_a_fuse_of_unknown_standard_and_none_at_all_are_remarked():
    assert "CW-WIRE-09" in codes(answer(PLAIN + SUPPLY + CONVERTER + wire(fuse='"5 A"')))
    assert "CW-WIRE-08" in codes(answer(PLAIN + SUPPLY + CONVERTER + wire()))


@pytest.mark.published("Ohm's law: 12.8 V, 10 mohm and 1 m each way of 2.5 mm2 (20 degC): 493 A")
def test_a_small_fuse_cannot_break_a_battery():
    battery = '\n[power.battery]\nvoltage = "12.8 V"\ncapacity = "50 Ah"\n'
    battery += 'internal_resistance = "10 mohm"\n'
    run = wire(length='"1 m"', size='"2.5 mm^2"', fuse='"5 A"', fuse_standard='"IEC 60127"')
    found = answer(PLAIN.replace('"16 V"', '"12.8 V"') + battery + run)
    # The copper counts as warm: 10 + 15.96 x 1.0786 = 27.21 mohm.
    assert run_of(found).fault_A == pytest.approx(12.8 / 0.02721, rel=1e-3)
    assert {"CW-WIRE-12", "CW-WIRE-13"} <= codes(found)


@pytest.mark.practice  # an alternating rating says nothing about direct current
@pytest.mark.parametrize(("rating", "found_it"), [("", True), ('dc_voltage = "12 V"', True),
                                                  ('dc_voltage = "48 V"', False)])  # fmt: skip
def test_a_switch_without_a_direct_rating_is_warned_of(rating, found_it):
    switch = f'\n[power.switch]\nbreaks = "dc"\ncurrent = "20 A"\nac_voltage = "250 V"\n{rating}\n'
    assert ("CW-SAFE-28" in codes(answer(PLAIN + SUPPLY + CONVERTER + switch))) is found_it


# --- Supplies and mains --------------------------------------------------------------------------


@pytest.mark.published(
    "three-point loss: 0.80, 0.88, 0.87 at 30, 150, 300 W: 5.170 W, best at 160 W"
)
def test_the_loss_of_a_supply_through_three_points():
    supply = SUPPLY.replace('"200 W"', '"300 W"').replace(
        "[[0.2, 0.84], [0.5, 0.9], [1.0, 0.88]]", "[[0.1, 0.80], [0.5, 0.88], [1.0, 0.87]]"
    )
    one = answer(PLAIN + supply + CONVERTER).loadings[0]
    assert one.idle_W == pytest.approx(5.170, rel=2e-3)
    assert one.best_share * 300.0 == pytest.approx(160.0, rel=2e-3)
    assert one.best_efficiency == pytest.approx(0.8801, rel=2e-3)


@pytest.mark.published("makers' derating: 100 % to 50 degC, 50 % at 70: 75 % at 60 degC")
def test_a_supply_may_give_less_in_warm_air():
    supply = SUPPLY.replace('"200 W"', '"60 W"')
    supply += (
        'derating = { full_to = "50 degC", end = "70 degC", share_at_end = 0.5, air = "60 degC" }\n'
    )
    found = answer(PLAIN + supply + CONVERTER)
    assert found.loadings[0].allowed_W == pytest.approx(45.0)
    assert "CW-POWER-06" in codes(found)


def test_a_supply_in_the_exhaust_gets_the_air_of_the_exhaust():
    inside = answer(PLAIN + SUPPLY + 'located = "exhaust"\n' + CONVERTER).loadings[0]
    outside = answer(PLAIN + SUPPLY + CONVERTER).loadings[0]
    assert outside.air_K == pytest.approx(273.15 + 35.0)
    assert inside.air_K > outside.air_K + 1.0


@pytest.mark.published("S = P / PF, I = S / V")
def test_the_mains_cord_carries_volts_times_amperes():
    found = answer(PLAIN + SUPPLY + 'mains = { voltage = "230 V", power_factor = 0.6 }\n')
    assert found.mains.apparent_VA == pytest.approx(found.plug_power_W / 0.6)
    assert found.mains.line_A == pytest.approx(found.plug_power_W / 0.6 / 230.0)


@pytest.mark.published("230 V +10 %, 5 and 0.5 ohm, 220 uF: 65.05 A, 14.08 J, 1.21 ms; hot 715.6 A")
def test_switching_on_takes_a_peak():
    mains = answer(PLAIN + SUPPLY + 'inrush = { capacitance = "220 uF" }\n' + CONVERTER).mains
    assert mains.inrush_A == pytest.approx(65.05, rel=5e-3)
    assert mains.restart_A == pytest.approx(715.6, rel=5e-3)
    assert mains.inrush_J == pytest.approx(14.08, rel=5e-3)
    assert mains.inrush_s == pytest.approx(1.21e-3, rel=5e-3)


@pytest.mark.published("IEC 60320-1: C14 10 A, air at most 40 degC")
def test_an_inlet_has_its_limits():
    low = SUPPLY + 'mains = { voltage = "12 V", power_factor = 0.6 }\n' + CONVERTER
    c14 = '\n[power.inlet]\ncoupler = "C14"\n'
    assert "CW-SAFE-27" in codes(answer(PLAIN + low + c14))
    good = PLAIN + SUPPLY + CONVERTER
    assert "CW-SAFE-27" not in codes(answer(good + c14))
    assert "CW-SAFE-27" in codes(answer(good + c14 + 'around = "55 degC"\n'))
    # In air of 39 degC it may stand outside, but not in the exhaust, which is some kelvin warmer.
    warm = PLAIN.replace('outdoor_air = "35 degC"', 'outdoor_air = "39 degC"') + SUPPLY
    assert "CW-SAFE-27" not in codes(answer(warm + CONVERTER + c14))
    assert "CW-SAFE-27" in codes(answer(warm + 'located = "exhaust"\n' + CONVERTER + c14))


@pytest.mark.practice  # modules take most before there is a temperature difference
def test_a_supply_that_only_just_suffices_may_not_start():
    found = answer(PLAIN.replace('"16 V"', '"24 V"') + SUPPLY.replace('"200 W"', '"165 W"'))
    one = found.loadings[0]
    assert one.output_W < one.allowed_W < one.switch_on_W
    assert "CW-POWER-07" in codes(found)


def test_a_voltage_that_nothing_makes_is_remarked():
    assert "CW-POWER-09" in codes(answer(PLAIN + SUPPLY))
    assert "CW-POWER-09" not in codes(answer(PLAIN + SUPPLY + CONVERTER))


# --- Fans ----------------------------------------------------------------------------------------


def with_drive(drive, speed="0.583333", power="12 W"):
    text = PLAIN.replace('power = "12 W"', f'power = "{power}"\nvoltage = "12 V"\ndrive = {drive}')
    return text.replace("run_at", f"hot_fan_speed = {speed}\nrun_at")


@pytest.mark.practice  # about 100 mA stay cool enough without a sink, several hundred do not
@pytest.mark.parametrize(("power", "hot"), [("1.2 W", False), ("6 W", True)])
def test_a_linear_stage_needs_a_sink_or_not(power, hot):
    supply = SUPPLY.replace('"24 V"', '"12 V"')
    text = with_drive('{ kind = "linear" }', power=power).replace('"16 V"', '"12 V"')
    assert ("CW-DRIVE-06" in codes(answer(text + supply))) is hot


@pytest.mark.practice  # a chopped two-wire fan jumps to full speed or stops
def test_bad_ways_to_slow_a_fan_are_remarked():
    assert "CW-DRIVE-03" in codes(answer(with_drive('{ kind = "chopped" }') + SUPPLY + CONVERTER))
    low = '{ kind = "pwm4", frequency = "100 Hz" }'
    assert "CW-DRIVE-04" in codes(answer(with_drive(low) + SUPPLY + CONVERTER))
    assert "CW-DRIVE-01" in codes(answer(with_drive('{ kind = "pwm4" }') + SUPPLY + CONVERTER))
    knob = '{ kind = "linear", stage = "common source" }'
    assert "CW-DRIVE-07" in codes(answer(with_drive(knob) + SUPPLY + CONVERTER))
    slow = '{ kind = "converter", efficiency = 0.9, start_voltage = "7.5 V" }'
    assert "CW-DRIVE-05" in codes(answer(with_drive(slow) + SUPPLY + CONVERTER))


# --- Fans that start -----------------------------------------------------------------------------


@pytest.mark.practice  # 1.5 to 3 times the running current; 5 with a stopped rotor and no limiter
def test_what_fans_take_until_they_turn_by_hand():
    # 12 W at 24 V: 0.5 A. A standing rotor makes no voltage: at 7 of 12 V 7/12 of 1 A.
    direct = answer(PLAIN + SUPPLY + CONVERTER).fans[1]
    assert direct.start_A == pytest.approx((0.75, 1.5, 2.5), rel=1e-6)
    linear = answer(with_drive('{ kind = "linear" }') + SUPPLY + CONVERTER).fans[1]
    assert linear.start_A == pytest.approx((0.875, 1.75, 2.917), rel=1e-3)
    small = '{ kind = "converter", efficiency = 0.9 }'
    buck = answer(with_drive(small) + SUPPLY + CONVERTER).fans[1]
    assert buck.start_A == pytest.approx(tuple(7.0 / 24.0 * a for a in linear.start_A), rel=1e-3)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("rated", "severity"), [("100 W", "warning"), ("115 W", "note"), ("140 W", None)]
)
def test_fans_that_start_with_the_modules_may_be_too_much_for_the_supply(rated, severity):
    # 94.6 W at switch-on with 17.4 W of running fans. Fans of 18 W ask for 27 to 54 W instead:
    # 104 to 131 W.
    found = answer(PLAIN + SUPPLY.replace('"200 W"', f'"{rated}"') + CONVERTER)
    assert found.loadings[0].switch_on_W == pytest.approx(94.6, abs=0.2)
    said = [one for one in found.findings if one.code == "CW-DRIVE-08"]
    assert [one.severity for one in said] == ([] if severity is None else [severity])
    assert all("104" in one.given and "131" in one.given for one in said)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("fuse", "standard", "severity"),
    [("0.5 A", "UL 248-14", "warning"), ("0.5 A", "IEC 60127", "note"), ("2 A", "UL 248-14", None)],
)
def test_a_fuse_may_not_bear_the_start_of_its_fan(fuse, standard, severity):
    # 0.75 to 1.5 A; a fuse of 0.5 A opens within the hour at 0.675 A (UL) or 1.05 A (IEC).
    text = wire(name='"hot fan"', fuse=f'"{fuse}"', fuse_standard=f'"{standard}"')
    found = answer(PLAIN + SUPPLY + CONVERTER + text)
    said = [one for one in found.findings if one.code == "CW-DRIVE-09"]
    assert [one.severity for one in said] == ([] if severity is None else [severity])


# --- The answer as a whole -----------------------------------------------------------------------


def test_every_code_is_in_the_catalogue_and_warnings_join_the_verdict():
    text = SIX_AMPERES + SUPPLY + CONVERTER + wire(size='"0.5 mm^2"', fuse='"10 A"')
    found = answer(text)
    assert codes(found) <= set(CATALOGUE)
    judged = verdict.run(verdict.Inputs(read_text(text, "bench.toml"), tries=0))
    warned = {one.code for one in found.findings if one.severity == "warning"}
    assert {"CW-WIRE-04", "CW-WIRE-10"} <= warned
    assert warned <= {one.code for one in judged.findings}


def test_the_json_has_the_keys_of_its_schema():
    schema = wiring_schema()
    found = json.loads(json.dumps(answer(PLAIN + SUPPLY + CONVERTER + wire()).to_json()))
    assert _faults(found, schema) == []


def _faults(value, schema, where="$"):
    """A small reading of JSON Schema: types, keys, items, any of."""
    if "anyOf" in schema:
        return [] if any(not _faults(value, one) for one in schema["anyOf"]) else [where]
    kinds = {"string": str, "number": (int, float), "integer": int, "null": type(None),
             "array": list, "object": dict}  # fmt: skip
    if "type" in schema and not isinstance(value, kinds[schema["type"]]):
        return [where]
    said = []
    if isinstance(value, dict):
        said += [f"{where}.{key}" for key in schema.get("required", ()) if key not in value]
        for key, each in value.items():
            inner = schema.get("properties", {}).get(key, schema.get("additionalProperties"))
            said += [f"{where}.{key}"] if inner is False else _faults(each, inner, f"{where}.{key}")
    if isinstance(value, list) and "items" in schema:
        for at, each in enumerate(value):
            said += _faults(each, schema["items"], f"{where}[{at}]")
    return said


def test_pieces_to_cut_are_labelled_at_both_ends_and_longer_than_the_way():
    found = answer(PLAIN + SUPPLY + CONVERTER + wire() + wire(name='"hot fan"', length='"1 m"'))
    assert [cut.label for cut in found.cuts] == ["1+", "1-", "2+", "2-"]
    assert all(cut.length_m > 1.0 for cut in found.cuts)


def test_regions_have_their_colours_and_contradictions_are_shown():
    by_region = {
        region: answer(PLAIN + SUPPLY + CONVERTER + f'\n[power]\nregion = "{region}"\n' + wire())
        for region in ("Europe", "United Kingdom", "North America")
    }
    pairs = {region: {(one.plus, one.minus) for one in found.colours}
             for region, found in by_region.items()}  # fmt: skip
    assert pairs["Europe"] == {("red", "white")}
    assert pairs["United Kingdom"] == {("brown", "grey")}
    assert pairs["North America"] == {("red", "black")}
    unsaid = answer(PLAIN + SUPPLY + CONVERTER + wire())
    assert len(unsaid.colours) == 3
    assert "CW-WIRE-14" in codes(unsaid)


def test_a_wire_to_a_converter_that_is_gone_carries_nothing_and_is_told():
    # What `choose` leaves behind where a design does without one, and a person who takes it out.
    bare = read(DEMOS / "kiosk").changed({"power.converter": None})
    found = wiring.run(wiring.Inputs(bare))
    assert [each.code for each in found.findings].count("CW-WIRE-01") == 1
    assert "converter" not in [each.part for each in found.heat if each.W > 0.0]
    assert all(run.feeds != "converter" or run.running_A == 0.0 for run in found.runs)
