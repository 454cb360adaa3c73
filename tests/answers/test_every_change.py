"""Every change: offered in full, never touching the sheet it starts from, and with the right sign.

The closed balances rest on two facts. Where the heat that the modules pump is given
(`run_at = { pumped = ... }`), a place is a linear balance: it levels off at the outdoor air less
pumped heat over its loss coefficient. And a module of constant properties between two given joints
is two linear equations.
"""

from __future__ import annotations

import ast
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coldwright.answers import change
from coldwright.answers.change import dual_duct
from coldwright.answers.change.fans import sound_rise_dB
from coldwright.answers.change.kind import Change, Variant
from coldwright.answers.change.registry import CHANGES
from coldwright.answers.change.solved import Solved
from coldwright.sheet.file import read, read_text
from coldwright.sheet.models import Sheet

DEMOS = Path(__file__).resolve().parents[2] / "demos"
QUESTIONS = Path(__file__).resolve().parents[2] / "examples" / "questions"
BY_NAME = {each.name: each for each in CHANGES}

# A dry room of known loss, a given heat pumped, fans of given flow that need no power.
ROOM = """
title = "balance"
[goal]
air = "25 degC"
[climate]
kind = "steady"
outdoor_air = "35 degC"
outdoor_humidity = "3 percent"
sun = "400 W/m^2"
[place]
kind = "room"
length = "2 m"
width = "2 m"
height = "2 m"
combustion = "none"
heat_loss = "12 W/K"
air_leakage = { natural = "2 1/h" }
[[place.window]]
name = "pane"
area = "1 m^2"
u_value = "3 W/m^2/K"
solar_factor = 0.6
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
hot_recirculation = 0.1
run_at = { pumped = "60 W" }
[cooler.modules]
properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }
series = 4
cold_interface = "0.08 K/W"
hot_interface = "0.08 K/W"
spacer = { thickness = "4 mm", area = "60 cm^2", material = "EPS", screws = "8 x M4 steel, 20 mm" }
[cooler.cold_sink]
kind = "resistance"
value = "0.12 K/W"
at_flow = "120 m^3/h"
[cooler.cold_fan]
flow = "120 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.08 K/W"
at_flow = "220 m^3/h"
[cooler.hot_fan]
flow = "220 m^3/h"
[cooler.hot_duct]
diameter = "125 mm"
length = "2 m"
fittings = ["entry", "elbow 90", "louvre"]
[power.supply]
voltage = "24 V"
rated_power = "400 W"
efficiency = 0.8
located = "place"
"""

BOX = """
title = "box balance"
[goal]
air = "10 degC"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "3 percent"
[place]
kind = "box"
length = "50 cm"
width = "40 cm"
height = "40 cm"
heat_loss = "0.8 W/K"
air_leakage = "none"
lid_seal = "0.2 W/K"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { pumped = "12 W" }
[cooler.modules]
properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }
[cooler.cold_sink]
kind = "resistance"
value = "0.5 K/W"
[cooler.cold_fan]
flow = "30 m^3/h"
[cooler.hot_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.hot_fan]
flow = "60 m^3/h"
"""

PLATE = """
title = "plate"
[climate]
kind = "steady"
outdoor_air = "25 degC"
outdoor_humidity = "30 percent"
[place]
kind = "plate"
heat = "20 W"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { current = "2.5 A" }
[cooler.modules]
properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }
cold_interface = "0.2 K/W"
hot_interface = "0.02 K/W"
[cooler.hot_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.hot_fan]
flow = "60 m^3/h"
"""

each_change = pytest.mark.parametrize("one", CHANGES, ids=lambda each: each.name)


def sheets() -> list[Sheet]:
    """Sheets of every kind of place and of both demos; between them every change applies."""
    humid = ROOM.replace('"3 percent"', '"80 percent"').replace('"400 W/m^2"', '"0 W/m^2"')
    both_in = ROOM.replace('hot_sends_to = "outdoors"', 'hot_sends_to = "place"').replace(
        'hot_takes_from = "outdoors"', 'hot_takes_from = "place"'
    )
    strung = PLATE.replace("[cooler.modules]", "[cooler.modules]\nparallel = 4")
    texts = (ROOM, humid, both_in, BOX, PLATE, strung)
    files = (QUESTIONS / "neck_cooler.toml", DEMOS / "kiosk", DEMOS / "cabinet")
    return [*(read_text(text) for text in texts), *(read(file) for file in files)]


def offered(one: Change) -> list[tuple[Solved, Variant]]:
    """Every way of a change on every sheet, with the design that it starts from."""
    starts = [Solved(sheet) for sheet in sheets()]
    return [(start, way) for start in starts for way in one.ways(start)]


def made(name: str, text: str, start: Solved | None = None) -> tuple[Solved, Solved]:
    """The design of a text, and the same with the first way of a change."""
    before = Solved(read_text(text)) if start is None else start
    way = BY_NAME[name].ways(before)[0]
    return before, Solved(way.sheet(before.sheet))


# --- What each must offer ------------------------------------------------------------------------


def test_every_file_with_a_change_stands_in_the_registry() -> None:
    folder = Path(change.__file__).parent
    with_change = {
        path.stem
        for path in folder.glob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "CHANGE"
    }
    listed = ast.parse((folder / "registry.py").read_text(encoding="utf-8"))
    names = {
        node.value.id
        for node in ast.walk(listed)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name)
    }
    assert with_change == names
    assert len(with_change) == len(CHANGES) == len(BY_NAME)


@each_change
def test_a_change_says_in_a_sentence_why(one: Change) -> None:
    assert 3 <= len(one.name) <= 23
    assert one.name == one.name.lower()
    for why in {one.reason(sheet) for sheet in sheets()}:
        assert why[0].isupper()
        assert why.endswith(".")
        assert why.count(".") == 1, "one sentence"


@each_change
def test_a_change_applies_somewhere_and_leaves_its_sheet_alone(one: Change) -> None:
    found = offered(one)
    assert found, "no sheet of this test has anything for it to change"
    for start, way in found:
        before = start.sheet.model_dump_json()
        after = way.sheet(start.sheet)
        assert after.model_dump_json() != before
        assert start.sheet.model_dump_json() == before
        assert way.does[0].isupper()
        assert not way.does.endswith(".")
        assert way.price is None or way.price >= 0.0
        # What costs something or nothing is known; what it asks stands with it.
        assert way.asks
        assert not way.asks.endswith(".")
        # Solving it closes the ledger or says why there is no steady state.
        assert math.isfinite(Solved(after).level_K)


@each_change
def test_a_change_offers_nothing_twice(one: Change) -> None:
    for start in (Solved(sheet) for sheet in sheets()):
        ways = [repr(way.edits) for way in one.ways(start)]
        assert len(set(ways)) == len(ways)


# --- Signs ---------------------------------------------------------------------------------------

# With the hot air from and to outdoors, flows given and the place cooler than outdoors, these can
# only make it colder: they take heat or a resistance away and touch nothing else.
NEVER_WARMS = {
    "no recirculation", "tighter place", "more insulation", "shaded windows", "supply moved out",
    "better hot sink", "better cold sink", "better joints", "fewer or plastic screws",
    "insulated duct", "shorter duct", "volts and fan speeds",
}  # fmt: skip
# These may go either way, each for the reason beside it.
EITHER_WAY = {
    "hot air from outdoors": "takes hotter air in exchange for none out of the place: see below",
    "hot air sent outdoors": "an exhaust draws outdoor air in: see below",
    "better lid seal": "boxes only: see below",
    "wider duct": "more surface gives more of the exhaust's heat back",
    "straighter duct": "more exhaust, where the hot side breathes the place's air",
    "condensate on hot sink": "water at the cold sink's temperature, or little of it",
    "water on the hot side": "the library's loops are smaller than some sinks",
    "thicker sink bases": "heat also has to pass through the base",
    "stronger hot fan": "its own heat, and more exhaust",
    "stronger cold fan": "its own heat",
    "better spacer": "a wider gap needs a block, which has a resistance",
    "more modules": "more of them leak more heat back",
    "modules wired otherwise": "more or fewer volts for each",
    "a spot, not the room": "another place",
    "a smaller box": "another place",
}


def test_every_change_has_a_sign_or_a_reason_for_none() -> None:
    assert NEVER_WARMS | set(EITHER_WAY) == set(BY_NAME)
    assert not NEVER_WARMS & set(EITHER_WAY)


@pytest.mark.practice  # signs of heat flows: each of these removes a heat source or a resistance
@settings(max_examples=8)
@given(
    outdoor_C=st.integers(28, 42),
    volts=st.floats(3.0, 9.0),
    loss_W_K=st.floats(6.0, 40.0),
    flow=st.integers(150, 260),
)
def test_what_takes_a_source_or_a_resistance_away_never_warms(
    outdoor_C: int, volts: float, loss_W_K: float, flow: int
) -> None:
    text = (
        ROOM.replace('pumped = "60 W"', f'module_voltage = "{volts:.3f} V"')
        .replace('"35 degC"', f'"{outdoor_C} degC"')
        .replace('"12 W/K"', f'"{loss_W_K:.3f} W/K"')
        .replace('flow = "220 m^3/h"\n[cooler.hot_duct', f'flow = "{flow} m^3/h"\n[cooler.hot_duct')
        .replace("solar_factor = 0.6", "solar_factor = 0.05")
    )
    start = Solved(read_text(text))
    assume(start.level_K < start.outdoor_K)  # else sealing and insulating it keep heat in
    for name in NEVER_WARMS:
        for way in BY_NAME[name].ways(start):
            after = Solved(way.sheet(start.sheet))
            assert after.level_K <= start.level_K + 1e-6, (name, way.does)


@pytest.mark.practice  # signs of heat flows
@settings(max_examples=8)
@given(volts=st.floats(2.0, 9.0), outdoor_C=st.integers(20, 45), wall_mm=st.integers(20, 80))
def test_insulation_and_seals_never_warm_a_box_that_is_cooler_than_outdoors(
    volts: float, outdoor_C: int, wall_mm: int
) -> None:
    text = (
        BOX.replace(
            'heat_loss = "0.8 W/K"', f'wall = {{ material = "XPS", thickness = "{wall_mm} mm" }}'
        )
        .replace('"none"', '"ordinary"')
        .replace('pumped = "12 W"', f'module_voltage = "{volts:.3f} V"')
        .replace('"30 degC"', f'"{outdoor_C} degC"')
    )  # fmt: skip
    start = Solved(read_text(text))
    assume(start.level_K < start.outdoor_K)
    for name in ("more insulation", "better lid seal", "tighter place", "a smaller box"):
        (way,) = BY_NAME[name].ways(start)
        assert Solved(way.sheet(start.sheet)).level_K < start.level_K, name


@pytest.mark.practice  # a material that leads less leaks less
def test_a_better_material_in_the_gap_never_warms() -> None:
    start = Solved(read_text(ROOM.replace('pumped = "60 W"', 'module_voltage = "6 V"')))
    way = next(way for way in BY_NAME["better spacer"].ways(start) if "board" in way.does)
    assert Solved(way.sheet(start.sheet)).level_K < start.level_K


# --- Closed balances -----------------------------------------------------------------------------

ROOM_UA_W_K = 12.0 + 3.0 * 1.0  # known loss, and the pane
SUN_W = 1.0 * 0.6 * 400.0
# Two air changes an hour of 8 m3, of dry air at 35 degC and 101325 Pa (ideal gas).
AIR_W_K = 2.0 * 8.0 / 3600.0 * 101325.0 / (287.042 * 308.15) * 1006.0
BARE = (
    ROOM.replace("[cooler.hot_duct]", "[cooler.cold_duct]")  # no duct that gives heat back
    .replace("hot_recirculation = 0.1\n", "")
    .replace(', screws = "8 x M4 steel, 20 mm"', "")
)
OUT = BARE.replace('located = "place"', 'located = "outside"')


def level_of_balance(pumped_W: float, into_W: float, loss_W_K: float, outdoor_K: float) -> float:
    """Where heat in equals heat out."""
    return outdoor_K + (into_W - pumped_W) / loss_W_K


@pytest.mark.practice  # steady heat balance of a room, by hand
def test_shading_takes_three_quarters_of_the_sun_away() -> None:
    before, after = made("shaded windows", OUT)
    loss_W_K = ROOM_UA_W_K + AIR_W_K
    leak_W = _spacer_W(before)
    expected_K = level_of_balance(60.0 - leak_W, SUN_W, loss_W_K, 308.15)
    assert before.level_K == pytest.approx(expected_K, abs=0.05)
    # The leak through the spacer changes a little with the room.
    gained_K = 0.75 * SUN_W / loss_W_K - (_spacer_W(after) - leak_W) / loss_W_K
    assert before.level_K - after.level_K == pytest.approx(gained_K, abs=0.03)


@pytest.mark.practice  # steady heat balance of a room, by hand
def test_half_the_leaks_let_half_the_air_in() -> None:
    quiet = OUT.replace('sun = "400 W/m^2"', 'sun = "0 W/m^2"')
    before, after = made("tighter place", quiet)
    levels_K = [
        level_of_balance(60.0 - _spacer_W(each), 0.0, ROOM_UA_W_K + share * AIR_W_K, 308.15)
        for each, share in ((before, 1.0), (after, 0.5))
    ]
    assert before.level_K == pytest.approx(levels_K[0], abs=0.03)
    assert after.level_K == pytest.approx(levels_K[1], abs=0.03)


@pytest.mark.practice  # the loss of a supply of efficiency 0.8 is a fifth of what it takes
def test_a_supply_moved_out_takes_its_loss_with_it() -> None:
    before, after = made("supply moved out", BARE)
    loss_W = 0.2 * before.point.nominal["plug_power_W"]
    more_leak_W = _spacer_W(after) - _spacer_W(before)
    gained_K = (loss_W - more_leak_W) / (ROOM_UA_W_K + AIR_W_K)
    assert before.level_K - after.level_K == pytest.approx(gained_K, abs=0.02)


@pytest.mark.practice  # steady heat balance of a box, by hand
def test_half_the_lid_seal_and_less_heat_loss_follow_the_balance() -> None:
    before, after = made("better lid seal", BOX)
    assert before.level_K == pytest.approx(303.15 - 12.0 / 1.0, abs=0.02)
    assert after.level_K == pytest.approx(303.15 - 12.0 / 0.9, abs=0.02)
    _, after = made("more insulation", BOX, before)
    assert after.level_K == pytest.approx(303.15 - 12.0 / (0.75 * 0.8 + 0.2), abs=0.02)


@pytest.mark.published(
    "ISO 6946:2017, table 7: surface resistances 0.13 inside and 0.04 m2 K/W outside"
)
def test_half_as_much_insulation_again_by_the_sum_of_resistances() -> None:
    # 10 m2 of 40 mm at 0.035 W/m/K; nothing else loses heat.
    wall = '[[place.surface]]\nname = "walls"\narea = "10 m^2"\n'
    wall += 'layers = [{ material = "slab", conductivity = "0.035 W/m/K", thickness = "40 mm" }]\n'
    text = OUT.replace('heat_loss = "12 W/K"\n', "").replace('sun = "400 W/m^2"\n', "")
    text = text.replace('air_leakage = { natural = "2 1/h" }', 'air_leakage = "none"')
    text = text.replace("[[place.window]]", wall + "[[place.window]]")
    before, after = made("more insulation", text)
    for each, thick_m in ((before, 0.040), (after, 0.060)):
        loss_W_K = 3.0 + 10.0 / (0.13 + 0.04 + thick_m / 0.035)
        expected_K = level_of_balance(60.0 - _spacer_W(each), 0.0, loss_W_K, 308.15)
        assert each.level_K == pytest.approx(expected_K, abs=0.05)


@pytest.mark.published(
    "ASHRAE Handbook Fundamentals: sensible heat of replacement air m cp (T_out - T_in)"
)
def test_two_ducts_save_the_replacement_air_of_one() -> None:
    single = OUT.replace('hot_takes_from = "outdoors"', 'hot_takes_from = "place"')
    single = single.replace('sun = "400 W/m^2"', 'sun = "0 W/m^2"')
    before, after = made("hot air from outdoors", single)
    # 220 m3/h at the state of the room, which the hot fan breathes; all of it comes back in.
    kg_s = 220.0 / 3600.0 * 101325.0 / (287.042 * before.level_K)
    exhaust_W_K = math.hypot(kg_s * 1006.0, AIR_W_K)  # with what comes in by itself
    one_K = level_of_balance(60.0 - _spacer_W(before), 0.0, ROOM_UA_W_K + exhaust_W_K, 308.15)
    two_K = level_of_balance(60.0 - _spacer_W(after), 0.0, ROOM_UA_W_K + AIR_W_K, 308.15)
    assert before.level_K == pytest.approx(one_K, abs=0.05)
    assert after.level_K == pytest.approx(two_K, abs=0.05)


@pytest.mark.practice  # with both sides in a room all the electricity stays in it
def test_hot_air_sent_outdoors_removes_what_the_cooler_adds() -> None:
    both = OUT.replace('hot_sends_to = "outdoors"', 'hot_sends_to = "place"')
    both = both.replace('hot_takes_from = "outdoors"', 'hot_takes_from = "place"')
    before, after = made("hot air sent outdoors", both)
    power_W = before.point.nominal["module_power_W"]
    expected_K = level_of_balance(0.0, SUN_W + power_W, ROOM_UA_W_K + AIR_W_K, 308.15)
    assert before.level_K == pytest.approx(expected_K, abs=0.05)
    # Here the room stays above the outdoor air, so even the replacement air helps.
    assert after.level_K < before.level_K


def module_between(
    heat_W: float, current_A: float, hot_K_W: float, air_K: float
) -> tuple[float, float]:
    """Faces of one module of the constants above, from its two linear balances."""
    S, R, K = 0.0513, 1.985, 0.5254
    I = current_A  # noqa: E741 - the module equations' own letter
    # Qc = S I Tc - I2R/2 - K (Th - Tc) = heat;  Qh = S I Th + I2R/2 - K (Th - Tc) = (Th - air)/Rh
    matrix = [[S * I + K, -K], [K, S * I - K - 1.0 / hot_K_W]]
    right = [heat_W + I * I * R / 2.0, -I * I * R / 2.0 - air_K / hot_K_W]
    cold_K, hot_K = np.linalg.solve(np.array(matrix), np.array(right))
    return float(cold_K), float(hot_K)


@pytest.mark.published("module equations with constant properties (Goldsmid 2016, from memory)")
def test_a_quarter_less_hot_resistance_by_the_two_linear_equations() -> None:
    before, after = made("better hot sink", PLATE)
    for each, sink_K_W in ((before, 0.3), (after, 0.225)):
        cold_K, hot_K = module_between(20.0, 2.5, sink_K_W + 0.02, 298.15)
        assert each.point.nominal["hot_face_K"] == pytest.approx(hot_K, abs=0.01)
        assert each.level_K == pytest.approx(cold_K + 0.2 * 20.0, abs=0.01)


@pytest.mark.published("resistance of a film: thickness over conductivity and area")
def test_a_film_of_paste_saves_heat_times_resistance() -> None:
    # 25 micrometres of 2 W/m/K under 40 x 40 mm: 0.0078 K/W; the hot joint too is replaced.
    film_K_W = 25e-6 / 2.0 / 0.04**2
    before, after = made("better joints", PLATE)
    cold_K, _ = module_between(20.0, 2.5, 0.3 + film_K_W, 298.15)
    assert after.level_K == pytest.approx(cold_K + film_K_W * 20.0, abs=0.01)
    assert before.level_K - after.level_K > (0.2 - film_K_W) * 20.0 - 0.01


@pytest.mark.practice  # Kirchhoff: strings of twice the length halve the volts of each module
def test_wiring_otherwise_is_another_voltage_for_each_module() -> None:
    text = PLATE.replace('current = "2.5 A"', 'voltage = "12 V"').replace(
        "[cooler.modules]", "[cooler.modules]\nseries = 2\nparallel = 2"
    )
    start = Solved(read_text(text))
    found = {}
    for way in BY_NAME["modules wired otherwise"].ways(start):
        after = Solved(way.sheet(start.sheet))
        found[after.sheet.cooler.modules[0].series] = after.level_K
    for series, each_V in ((4, 3.0), (1, 12.0)):
        same = PLATE.replace('current = "2.5 A"', f'module_voltage = "{each_V} V"').replace(
            "[cooler.modules]", "[cooler.modules]\nseries = 4"
        )
        assert found[series] == pytest.approx(Solved(read_text(same)).level_K, abs=1e-6)


@pytest.mark.published(
    "Abdulghani, Results in Engineering 16 (2022) 100627: at one total power the COP rises with "
    "the number of modules"
)
def test_more_modules_at_the_same_power_have_a_better_cop() -> None:
    text = ROOM.replace('pumped = "60 W"', 'module_voltage = "8 V"')
    start = Solved(read_text(text))
    gentle, same = (Solved(way.sheet(start.sheet)) for way in BY_NAME["more modules"].ways(start))
    now = start.point.nominal
    assert same.point.nominal["module_power_W"] == pytest.approx(now["module_power_W"], rel=0.1)
    assert same.point.nominal["cop_module"] > now["cop_module"]
    # At half the volts each: half the power in all, at a better COP still.
    assert gentle.point.nominal["module_power_W"] == pytest.approx(
        0.5 * now["module_power_W"], rel=0.1
    )
    assert gentle.point.nominal["cop_module"] > same.point.nominal["cop_module"]


@pytest.mark.practice  # twice as many strings at the same current: half the amperes in each
def test_more_modules_share_what_is_set() -> None:
    start = Solved(read_text(PLATE))
    gentle, _ = BY_NAME["more modules"].ways(start)
    after = Solved(gentle.sheet(start.sheet))
    assert after.point.nominal["current_A"] == pytest.approx(2.5, rel=1e-6)
    assert float(after.point.results["module_A"][0, 0]) == pytest.approx(1.25, rel=1e-6)


@pytest.mark.published(
    "fan laws for similar fans (ASHRAE Handbook HVAC Applications, from memory): sound power rises "
    "by 70 lg of the diameter and 50 lg of the speed; flow n D3, pressure n2 D2, power n3 D5"
)
def test_a_stronger_fan_obeys_the_fan_laws() -> None:
    # Half as much flow and pressure again: n D3 = 1.5 and n2 D2 = 1.5 give D = n = 1.5**0.25.
    diameter = speed = 1.5**0.25
    expected_dB = 70.0 * math.log10(diameter) + 50.0 * math.log10(speed)
    assert sound_rise_dB(1.5, 1.5) == pytest.approx(expected_dB, abs=1e-9)
    # One fan run half as fast again in the same path.
    assert sound_rise_dB(1.5, 1.5**2) == pytest.approx(50.0 * math.log10(1.5), abs=1e-9)
    start = Solved(read(DEMOS / "kiosk"))
    before = start.sheet.cooler.hot_fan
    _, after = made("stronger hot fan", "", start)
    fan = after.sheet.cooler.hot_fan
    assert before.power is not None
    assert before.sound_at_1m is not None
    assert fan.power is not None
    assert fan.sound_at_1m is not None
    assert fan.power.value == pytest.approx(before.power.value * speed**3 * diameter**5, rel=2e-3)
    assert fan.sound_at_1m.value - before.sound_at_1m.value == pytest.approx(expected_dB, abs=0.06)


@pytest.mark.published("Colebrook 1939, fully rough pipe: 1/sqrt(f) = 2 lg(3.7 D/e)")
def test_the_second_hose_has_the_friction_of_a_corrugated_one() -> None:
    # Flexible aluminium: 3 mm of roughness in 150 mm.
    friction = (2.0 * math.log10(3.7 * 150.0 / 3.0)) ** -2
    assert pytest.approx(friction, rel=0.05) == dual_duct._FRICTION


@pytest.mark.published("best of the same model found by scipy.optimize.differential_evolution")
def test_the_best_place_on_the_hill_is_that_of_an_independent_optimiser() -> None:
    from scipy.optimize import differential_evolution

    text = ROOM.replace('pumped = "60 W"', 'voltage = "16 V"')
    text = text.replace('"220 m^3/h"\n[cooler.hot_d', '"220 m^3/h"\npower = "30 W"\n[cooler.hot_d')
    text = text.replace('hot_takes_from = "outdoors"', 'hot_takes_from = "place"')
    start, after = made("volts and fan speeds", text)

    def level_K(knobs: np.ndarray) -> float:
        def turned(coolers: np.ndarray) -> None:
            coolers["group"]["drive_value"] *= knobs[0]
            coolers["cold_fan"]["speed"], coolers["hot_fan"]["speed"] = knobs[1], knobs[2]

        point = start.design.solve(with_place=True, changed=turned)
        return point.nominal["place_K"]

    top = float(start.hill.drive[-1]) / start.hill.now
    bounds = [(0.05, top), (0.2, 1.0), (0.2, 1.0)]
    best = differential_evolution(level_K, bounds, maxiter=12, popsize=8, seed=1, polish=True)
    assert after.level_K == pytest.approx(float(best.fun), abs=0.03)


def _spacer_W(solved: Solved) -> float:
    """Heat that the spacer (and its screws) leak from the hot base to the cold one, by hand."""
    spacer = solved.sheet.cooler.modules[0].spacer
    assert spacer is not None
    lead_W_K = 0.035 * spacer.area.value / spacer.thickness.value
    if spacer.screws is not None:
        area_m2 = math.pi / 4.0 * spacer.screws.diameter.value**2
        lead_W_K += 50.0 * spacer.screws.count * area_m2 / spacer.screws.length.value
    now = solved.point.nominal
    return lead_W_K * (now["hot_sink_K"] - now["cold_sink_K"])
