"""A design made ready: nominal and tried records, solves, and what it finds out about itself."""

import re

import numpy as np
import pytest

from coldwright.answers.design import Design, limits_kept, refuse
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.machine.records import Drive, Status
from coldwright.sheet.file import read_text

# Four reference modules, one sink a side to the incoming air, 25 degC against 35 degC.
BENCH = """
[climate]
kind = "steady"
outdoor_air = "35 degC"
outdoor_humidity = "10 percent"
[place]
kind = "open_air"
air = "25 degC"
humidity = "20 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "8 V" }
[cooler.modules]
properties.seebeck = "0.0513333 V/K"
properties.resistance = "1.984889 ohm"
properties.conductance = "0.525412 W/K"
series = 4
parallel = 1
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.15 K/W"
[cooler.cold_fan]
flow = "80 m^3/h"
power = "0 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.10 K/W"
[cooler.hot_fan]
flow = "150 m^3/h"
power = "0 W"
"""

BOX = BENCH.replace(
    """kind = "open_air"
air = "25 degC"
humidity = "20 percent"
""",
    """kind = "box"
length = "0.6 m"
width = "0.5 m"
height = "0.5 m"
start_air = "30 degC"
heat_loss = "2 W/K"
air_leakage = "none"
combustion = "none"
contents = { heat_capacity = "20 kJ/K", area = "1 m^2" }
""",
)


def bench(tries=0, seed=1, text=BENCH, **changes):
    sheet = read_text(text, "bench.toml")
    if changes:
        sheet = sheet.changed({key.replace("__", "."): value for key, value in changes.items()})
    return Design(sheet, tries, seed)


# V per module, then I [A], faces, cold and hot outlet [degC], Qc and P [W]: worked out apart from
# this code by two solvers, with rho cp = 1.2 x 1006 J/m3/K for both streams.
COOLER = [
    (2, 0.661, 23.33, 36.75, 24.62, 35.31, 10.28, 5.28),
    (4, 1.453, 19.60, 41.35, 23.76, 36.12, 33.23, 23.24),
    (6, 2.247, 16.77, 46.77, 23.11, 37.08, 50.67, 53.93),
    (8, 3.042, 14.80, 53.02, 22.66, 38.18, 62.80, 97.34),
    (12, 4.628, 13.30, 68.10, 22.32, 40.85, 72.02, 222.17),
]


@pytest.mark.published("module equations of the Mechanical Engineers' Handbook with 1 - exp(-NTU)")
@pytest.mark.parametrize("row", COOLER)
def test_a_whole_cooler(row):
    volts, amperes, cold_C, hot_C, cold_out_C, hot_out_C, pumped_W, power_W = row
    point = bench(cooler__run_at__module_voltage=f"{volts} V").solve(with_place=False)
    found = point.nominal
    # Outlets within 0.1 K. The air's density follows its temperature here (1.18 and 1.14 against
    # 1.2 kg/m3), which moves the sinks' air by 2 to 5 % and so currents and heats by up to 1 %.
    assert found["cold_outlet_K"] - 273.15 == pytest.approx(cold_out_C, abs=0.1)
    assert found["hot_outlet_K"] - 273.15 == pytest.approx(hot_out_C, abs=0.3)
    assert found["current_A"] == pytest.approx(amperes, rel=0.01)
    assert found["cold_face_K"] - 273.15 == pytest.approx(cold_C, abs=0.2)
    assert found["hot_face_K"] - 273.15 == pytest.approx(hot_C, abs=0.4)
    assert found["pumped_W"] == pytest.approx(pumped_W, rel=0.01)
    assert found["module_power_W"] == pytest.approx(power_W, rel=0.01)
    assert found["voltage_V"] == pytest.approx(4.0 * volts)


def test_tries_vary_around_the_nominal_case_and_repeat():
    design = bench(tries=400)
    point = design.solve(with_place=False)
    assert point.solved.all()
    power = point.tried["module_power_W"]
    assert power.shape == (400,)
    assert np.median(power) == pytest.approx(point.nominal["module_power_W"], rel=0.02)
    value = point.value("module_power_W")
    assert value.low < value.value < value.high
    again = bench(tries=400).solve(with_place=False)
    assert np.array_equal(again.tried["module_power_W"], power)
    other = bench(tries=400, seed=2).solve(with_place=False)
    assert not np.array_equal(other.tried["module_power_W"], power)


def test_a_changed_line_changes_only_its_own_stream_of_tries():
    one, other = bench(tries=50), bench(tries=50, cooler__run_at__module_voltage="6 V")
    path = "cooler.modules.conductance"
    names = [name for name in one.varied.varied if "conductance" in name]
    assert names, path
    for name in names:
        assert np.array_equal(one.varied.varied[name], other.varied.varied[name])


@pytest.mark.published("GUM, JCGM 100:2008, 5.1.2: a product's relative variances add")
def test_the_interval_is_that_of_the_inputs():
    # At open circuit between ideal sinks the leak is K (Th - Tc) alone: its spread is that of K.
    text = BENCH.replace('"0.525412 W/K"', '"0.525412 W/K +/- 10 %"')
    design = Design(read_text(text), 4000, 3)
    spread = design.varied.varied
    (name,) = [one for one in spread if one.endswith("conductance")]
    numbers = spread[name]
    assert numbers.min() > 0.9 * 0.525412 - 1e-9
    assert numbers.max() < 1.1 * 0.525412 + 1e-9
    assert numbers.std() / 0.525412 == pytest.approx(0.1 / np.sqrt(3.0), rel=0.03)


def test_the_input_that_widens_most_is_named_first():
    text = BENCH.replace('"1.984889 ohm"', '"1.984889 ohm +/- 30 %"')
    design = Design(read_text(text), 800, 3)
    point = design.solve(with_place=False)
    shares = design.widest(point, ["module_power_W"])["module_power_W"]
    assert shares[0][0].endswith("resistance")
    assert shares[0][1] > 0.8
    # The squared correlation, by another library.
    numbers = design.varied.varied[shares[0][0]]
    expected = np.corrcoef(numbers, point.tried["module_power_W"])[0, 1] ** 2
    assert shares[0][1] == pytest.approx(expected, rel=1e-9)


def test_a_change_leaves_the_design_as_it_was():
    design = bench()
    before = design.cooler.copy()
    off = design.solve(with_place=False, changed={"group.drive": int(Drive.OFF)})
    assert off.nominal["current_A"] == 0.0
    assert off.nominal["pumped_W"] < 0.0
    assert design.cooler.tobytes() == before.tobytes()


def test_a_held_goal_is_held():
    design = bench(text=BOX)
    point = design.solve(with_place=True, air=288.15, held=True)
    assert point.nominal["place_K"] == pytest.approx(288.15, abs=1e-9)


@pytest.mark.published(
    "at the level that a place settles to, net cooling is the heat that comes in"
)
def test_at_the_level_net_cooling_is_the_load():
    design = bench(text=BOX)
    point = design.solve(with_place=True)
    load_W = 2.0 * (308.15 - point.nominal["place_K"])
    assert point.nominal["net_cooling_W"] == pytest.approx(load_W, rel=1e-8)


# At 9 A the four modules reject about a kilowatt by hand, 4 (S I Th + I^2 R/2 - K dT): on 0.5 K/W
# that is 500 K. A stream of 150 m3/h at 35 degC (1.14 kg/m3) cannot take heat at less than
# 1/(m cp) = 0.0208 K/W. (Below 0.0198, that of air of 20 degC, the sheet itself is at fault.)
IMPOSSIBLE = [
    ("current", "9 A", "0.5 K/W", "hotter without end"),
    ("module_voltage", "8 V", "0.0203 K/W", "no sink is below 0.020"),
    ("pumped", "900 W", "0.10 K/W", "cannot move the wanted heat"),
]


@pytest.mark.parametrize(("way", "value", "sink", "reason"), IMPOSSIBLE)
def test_what_has_no_steady_state_says_why(way, value, sink, reason):
    text = BENCH.replace('module_voltage = "8 V"', f'{way} = "{value}"')
    design = Design(read_text(text.replace("0.10 K/W", sink)), 0, 1)
    with pytest.raises(NoSolution, match=re.escape(reason)) as caught:
        design.solve(with_place=False)
    assert caught.value.code == "CW-SOLVE-01"


def test_tries_without_a_steady_state_are_counted_and_told():
    # Near the edge of running away some tries fall over it.
    text = BENCH.replace('module_voltage = "8 V"', 'current = "9 A"').replace(
        'value = "0.10 K/W"', 'value = "0.14 K/W +/- 60 %"'
    )
    design = Design(read_text(text), 200, 1)
    point = design.solve(with_place=False)
    missing = int((~point.solved).sum())
    assert 0 < missing < 200
    assert np.isnan(point.tried["pumped_W"][~point.solved]).all()
    told = [f for f in design.findings(point) if f.code == "CW-SOLVE-02"]
    assert len(told) == 1
    assert str(missing) in told[0].given
    assert Status.SOLVED not in point.reasons


def test_ratings_that_belong_to_no_module_are_found():
    rated = (
        'ratings = { max_current = "6 A", max_voltage = "15.4 V", max_difference = "68 K", '
        'max_heat = "%s W" }'
    )
    start = BENCH.index("properties"), BENCH.index("\nseries")
    for heat_W, told in (("53", False), ("90", True)):
        text = BENCH[: start[0]] + rated % heat_W + BENCH[start[1] :]
        design = Design(read_text(text), 0, 1)
        found = design.findings(design.solve(with_place=False))
        assert ("CW-MODULE-02" in [f.code for f in found]) is told
        if told:
            finding = next(f for f in found if f.code == "CW-MODULE-02")
            assert finding.where == "cooler.modules.ratings"
            assert finding.line == 15
            assert "8 %" in finding.allowed


def test_a_sheet_that_must_not_be_answered_is_refused_with_all_its_findings():
    text = BOX.replace('heat_loss = "2 W/K"\n', "")
    with pytest.raises(SheetInvalid) as caught:
        Design(read_text(text), 0, 1)
    assert "CW-PLACE-02" in [finding.code for finding in caught.value.findings]
    refuse([])


def test_limits_are_kept_case_by_case():
    text = BENCH + '[goal]\nmax_plug_power = "90 W"\n[limits]\nhot_face = "50 degC"\n'
    design = Design(read_text(text), 0, 1)
    figures = {
        "plug_power_W": np.array([80.0, 100.0, 80.0, 90.0]),
        "hot_face_K": np.array([320.0, 320.0, 330.0, 323.15]),
    }
    assert limits_kept(design, figures, None, None).tolist() == [True, False, False, True]


@pytest.mark.published("fan laws: sound level with 50 lg of the speed; sum of equal sources + 3 dB")
def test_sound_of_the_fans():
    text = BENCH.replace('power = "0 W"', 'power = "5 W"\nsound_at_1m = "40 dB"')
    assert Design(read_text(text), 0, 1).sound().value == pytest.approx(43.01, abs=0.01)
    slow = text.replace("[cooler.modules]", "[cooler.modules]", 1).replace(
        "hot_takes_from", "cold_fan_speed = 0.5\nhot_fan_speed = 0.5\nhot_takes_from"
    )
    level = Design(read_text(slow), 0, 1).sound().value
    assert level == pytest.approx(43.01 + 50 * np.log10(0.5), abs=0.01)
    assert bench().sound().value is None
