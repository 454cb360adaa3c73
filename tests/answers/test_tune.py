"""What to run it at: the best points against closed forms, published cases and scipy."""

import json
import math

import numpy as np
import pytest
from scipy import optimize

from coldwright.answers import tune, watts
from coldwright.answers.aims import setting_of
from coldwright.answers.design import SEED, Design
from coldwright.answers.hill import hill, zoom
from coldwright.errors import NoSolution
from coldwright.sheet.file import read, read_text
from tests.answers.test_design import BENCH

SEEBECK_V_K, RESISTANCE_OHM, CONDUCTANCE_W_K = 0.0513333, 1.984889, 0.525412
COLD_K, HOT_K = 280.0, 330.0
# One module between two winds so strong that its faces have the temperatures of the airs; the air
# is too dry for any water to condense.
PERFECT = f"""
[climate]
kind = "steady"
outdoor_air = "{HOT_K - 273.15:.2f} degC"
outdoor_humidity = "1 percent"
[place]
kind = "open_air"
air = "{COLD_K - 273.15:.2f} degC"
humidity = "1 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = {{ current = "3 A" }}
[cooler.modules]
properties.seebeck = "{SEEBECK_V_K} V/K"
properties.resistance = "{RESISTANCE_OHM} ohm"
properties.conductance = "{CONDUCTANCE_W_K} W/K"
cold_interface = "0.0001 K/W"
hot_interface = "0.0001 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.0002 K/W"
[cooler.cold_fan]
flow = "20000 m^3/h"
power = "0 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.0002 K/W"
[cooler.hot_fan]
flow = "20000 m^3/h"
power = "0 W"
"""
# A box with limits, fans that take power and make noise, and a price.
BOX = """
title = "Box"
[goal]
air = "14 degC"
max_plug_power = "60 W"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "30 percent"
[place]
kind = "box"
length = "0.5 m"
width = "0.4 m"
height = "0.4 m"
heat_loss = "1.1 W/K"
air_leakage = "none"
combustion = "none"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { voltage = "9 V" }
[cooler.modules]
properties.seebeck = "0.0513333 V/K"
properties.resistance = "1.984889 ohm"
properties.conductance = "0.525412 W/K"
series = 2
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.cold_fan]
flow = "60 m^3/h"
power = "4 W"
sound_at_1m = "38 dB"
[cooler.hot_sink]
kind = "resistance"
value = "0.16 K/W"
[cooler.hot_fan]
flow = "150 m^3/h"
power = "6 W"
sound_at_1m = "42 dB"
[price]
electricity = "0.30 EUR/kWh"
"""


def run(text, **changes):
    inputs = {"tries": 0, "speeds": 9, **changes}
    return tune.run(tune.Inputs(read_text(text, "sheet.toml"), **inputs))


def best(answer, aim):
    return next(one for one in answer.best if one.aim == aim)


@pytest.fixture(scope="module")
def perfect():
    return run(PERFECT, speeds=3)


@pytest.fixture(scope="module")
def box():
    return run(BOX)


# --- Closed forms, in the limit of perfect sinks -------------------------------------------------


@pytest.mark.published(
    "Mechanical Engineers' Handbook, vol. 4, Cooling electronic equipment: eq. for Im"
)
def test_the_most_heat_is_moved_at_s_tc_over_r(perfect):
    # Im = S Tc / R and Q = S^2 Tc^2 / 2R - K dT. The curve is flat at its top: 1 % of the current
    # is 0.01 % of the heat. The sinks take 0.3 of a thousandth of a kelvin per watt.
    found = best(perfect, "most capacity")
    assert found.drive == pytest.approx(SEEBECK_V_K * COLD_K / RESISTANCE_OHM, rel=0.01)
    most_W = (SEEBECK_V_K * COLD_K) ** 2 / (2.0 * RESISTANCE_OHM) - CONDUCTANCE_W_K * 50.0
    assert found.figures["cooling_W"].value == pytest.approx(most_W, rel=5e-3)


@pytest.mark.published(
    "Mechanical Engineers' Handbook, vol. 4, Cooling electronic equipment: I0, COP0"
)
def test_the_best_cop_has_the_current_and_the_value_of_the_closed_form(perfect):
    figure_per_K = SEEBECK_V_K**2 / (RESISTANCE_OHM * CONDUCTANCE_W_K)
    root = math.sqrt(1.0 + figure_per_K * 0.5 * (COLD_K + HOT_K))
    lift_K = HOT_K - COLD_K
    current_A = SEEBECK_V_K * lift_K / (RESISTANCE_OHM * (root - 1.0))
    cop = COLD_K / lift_K * (root - HOT_K / COLD_K) / (root + 1.0)
    found = best(perfect, "best COP with half of the best cooling")
    assert found.drive == pytest.approx(current_A, rel=0.01)
    assert found.figures["cop_system"].value == pytest.approx(cop, rel=5e-3)
    # It moves more than half of the most, so the closed form is not cut off by that condition.
    most_W = best(perfect, "most net cooling").figures["net_cooling_W"].value
    assert found.figures["net_cooling_W"].value > 0.55 * most_W


# --- Published cases of whole coolers ------------------------------------------------------------


@pytest.mark.published(
    "a coupled air-to-air cooler of constant properties, solved two ways by hand"
)
def test_four_modules_move_most_at_twelve_volts_each():
    # 72.02 W at 11.93 V a module, worked out apart from this program with two solvers (to 0.2 %).
    found = best(run(BENCH, speeds=5), "most capacity")
    assert found.figures["cooling_W"].value == pytest.approx(72.02, rel=2e-3)
    assert found.drive / 4.0 == pytest.approx(11.93, abs=0.06)
    assert found.cold_speed == pytest.approx(1.0)
    assert found.hot_speed == pytest.approx(1.0)


@pytest.mark.published(
    "Abdulghani, Results in Engineering 16 (2022) 100627: COP rises with modules"
)
@pytest.mark.parametrize("power_W", [22, 40, 60])
def test_more_modules_at_the_same_power_have_a_better_cop(power_W):
    # The same total power over one to four modules on shared sinks. The paper has air of one
    # temperature on both sides; here the hot air is 10 K warmer, so with few watts the heat that
    # leaks back makes the fourth module a little worse than the third.
    cops = []
    for count in (1, 2, 3, 4):
        text = BENCH.replace('module_voltage = "8 V"', f'module_power = "{power_W} W"').replace(
            "series = 4", f"series = {count}"
        )
        found = watts.run(watts.Inputs(read_text(text), tries=0)).values
        assert found["module_power_W"].value == pytest.approx(power_W, rel=1e-6)
        cops.append(found["cop_module"].value)
    assert cops[0] < cops[1] < cops[2]
    assert cops[3] > 0.99 * cops[2]
    assert cops[3] > 1.2 * cops[0]


# --- Independent search --------------------------------------------------------------------------


def solved(design, mapped, setting):
    """Figures of one setting by the single solve, not by the maps."""
    try:
        point = design.solve(with_place=design.enclosed, changed=setting_of(mapped, setting))
    except NoSolution:
        return None
    return point.nominal


def searched(design, mapped, cost, bounds):
    """The lowest cost by differential evolution, polished by a simplex: no map, no gradient."""

    def of(x):
        found = solved(design, mapped, tuple(x))
        return 1e3 if found is None else cost(found, x)

    rough = optimize.differential_evolution(
        of, bounds, maxiter=15, popsize=8, rng=3, tol=1e-6, polish=False
    )
    fine = optimize.minimize(of, rough.x, method="Nelder-Mead", bounds=bounds,
                             options={"xatol": 1e-4, "fatol": 1e-6, "maxiter": 400})  # fmt: skip
    return fine.x, fine.fun


AIMS = [
    # aim, figure, its sign, and how near the two searches must come
    ("coldest place", "place_K", 1.0, 0.01),
    ("most capacity", "cooling_W", -1.0, 0.02),
    ("cheapest that reaches the goal", "plug_power_W", 1.0, 0.05),
]


@pytest.mark.published("scipy.optimize.differential_evolution and Nelder-Mead on the same sheet")
@pytest.mark.parametrize(("aim", "figure", "sign", "near"), AIMS)
def test_the_best_point_is_that_of_an_independent_search(box, aim, figure, sign, near):
    design = Design(read_text(BOX), 0, SEED)
    mapped = hill(design, 3, 2)
    goal_K, most_W = 287.15, 60.0

    def cost(found, _x):
        # A limit that is broken costs more the farther it is broken.
        over = max(0.0, found["plug_power_W"] - most_W)
        if "goal" in aim:
            over += 20.0 * max(0.0, found["place_K"] - goal_K)
        return sign * found[figure] + 10.0 * over

    _, lowest = searched(design, mapped, cost, [(1.0, box.drive[-1]), (0.2, 1.0), (0.2, 1.0)])
    held = best(box, aim).figures
    ours = sign * held["place_air_K" if figure == "place_K" else figure].value
    assert ours <= lowest + near
    assert ours >= lowest - 5.0 * near  # better than the search by that much would be suspicious
    assert held["plug_power_W"].value <= most_W + 1e-3
    if "goal" in aim:
        assert held["place_air_K"].value <= goal_K + 1e-6


def test_the_maps_are_the_single_solves():
    design = Design(read_text(BOX), 0, SEED)
    drive, cold, hot = np.array([4.0, 9.0, 15.0]), np.array([0.3, 0.8]), np.array([0.5, 1.0])
    found = zoom(design, drive, cold, hot)
    for at in np.ndindex(3, 2, 2):
        one = solved(design, found, (drive[at[0]], cold[at[1]], hot[at[2]]))
        for name in ("cooling_W", "net_cooling_W", "plug_power_W", "cop_net", "hot_face_K"):
            assert found.maps[name][at] == pytest.approx(one[name], rel=1e-6), (name, at)
        assert found.maps["place_air_K"][at] == pytest.approx(one["place_K"], abs=1e-6)


@pytest.mark.published("fan law: sound power goes as the fifth power of speed (50 lg n)")
def test_sound_over_both_speeds_is_the_sum_of_both_fans(box):
    # ASHRAE Handbook HVAC Applications, ch. on noise control, from memory.
    for j, cold in enumerate(box.cold_speed):
        for k, hot in enumerate(box.hot_speed):
            levels = [38.0 + 50.0 * math.log10(cold), 42.0 + 50.0 * math.log10(hot)]
            total = 10.0 * math.log10(sum(10.0 ** (0.1 * level) for level in levels))
            assert box.maps["sound_dB"][0, j, k] == pytest.approx(total, abs=1e-6)


# --- What is said ---------------------------------------------------------------------------------


def test_a_limit_that_binds_is_named_and_is_met(box):
    found = best(box, "coldest place")
    assert found.binding == ["max_plug_power"]
    assert found.figures["plug_power_W"].value == pytest.approx(60.0, rel=2e-3)
    assert any("the power from the plug" in reason for reason in box.reasons)
    free = run(BOX.replace('max_plug_power = "60 W"\n', ""))
    colder = best(free, "coldest place")
    assert colder.binding == []
    assert colder.figures["place_air_K"].value < found.figures["place_air_K"].value - 0.02


def test_what_cannot_be_reached_is_said():
    hopeless = run(BOX.replace('air = "14 degC"', 'air = "-30 degC"'))
    for aim in ("quietest that reaches the goal", "cheapest that reaches the goal"):
        assert best(hopeless, aim).drive is None
    assert sum("no volts and fan speeds" in reason for reason in hopeless.reasons) == 2


@pytest.mark.parametrize("knob", ["drive", "cold_speed", "hot_speed"])
def test_what_a_knob_ten_percent_off_costs_is_the_difference_of_two_solves(knob):
    free = run(BOX.replace('max_plug_power = "60 W"\n', ""))
    found = best(free, "coldest place")
    design = Design(read_text(BOX), 0, SEED)
    mapped = hill(design, 3, 2)
    setting = (found.drive, found.cold_speed, found.hot_speed)
    at = ("drive", "cold_speed", "hot_speed").index(knob)
    here = solved(design, mapped, setting)["place_K"]
    losses = []
    for factor in (0.9, 1.1):
        other = tuple(x * (factor if i == at else 1.0) for i, x in enumerate(setting))
        losses.append(solved(design, mapped, other)["place_K"] - here)
    assert found.off_by_tenth[knob] == pytest.approx(max(losses), abs=1e-5)


def test_an_interval_holds_the_nominal_value():
    answer = run(BOX, tries=200)
    value = best(answer, "coldest place").figures["place_air_K"]
    assert value.low < value.value < value.high


@pytest.mark.parametrize(
    ("run_at", "axis"),
    [
        ('current = "2 A"', "current_A"),
        ('module_power = "30 W"', "module_power_W"),
        ('chopped = { rail = "12 V", duty = 0.5 }', "duty"),
    ],
)
def test_whatever_is_set_is_what_is_mapped(run_at, axis):
    answer = run(BOX.replace('voltage = "9 V"', run_at), drives=13, speeds=3)
    assert answer.axis == axis
    assert best(answer, "coldest place").drive > 0.0
    json.dumps(answer.to_json(), allow_nan=False)


@pytest.mark.parametrize("name", ["processor", "neck_cooler", "plant_box", "desk_cube", "stack"])
def test_every_kind_of_place_has_an_answer_that_is_json(name):
    sheet = read(f"examples/questions/{name}.toml")
    answer = tune.run(tune.Inputs(sheet, tries=0, drives=13, speeds=3))
    told = json.loads(json.dumps(answer.to_json(), allow_nan=False))
    assert told["best"]
    assert {len(told[axis]) for axis in ("cold_speed", "hot_speed")} <= {1, 3}
    kinds = {"plate": "coldest plate", "open_air": "most net cooling"}
    assert told["best"][0]["aim"] == kinds.get(sheet.place.kind, "coldest place")


# --- Ratings against reality ---------------------------------------------------------------------

RATED = BENCH.replace(
    """properties.seebeck = "0.0513333 V/K"
properties.resistance = "1.984889 ohm"
properties.conductance = "0.525412 W/K"
""",
    """ratings = { hot_face = "27 degC", max_current = "6 A", max_voltage = "15.4 V", \
max_heat = "56.7 W", max_difference = "68 K" }
""",
)


def test_ratings_stand_beside_what_the_module_does():
    found = watts.run(watts.Inputs(read_text(RATED), tries=0))
    rows = {row.what: row for row in found.ratings}
    assert rows["heat moved by all 4"].rated == pytest.approx(4 * 56.7)
    assert rows["heat moved by all 4"].here == pytest.approx(found.values["pumped_W"].value)
    assert rows["heat moved by one module"].here == pytest.approx(
        found.values["pumped_W"].value / 4.0, rel=1e-9
    )
    assert rows["lift"].here == pytest.approx(found.values["lift_K"].value)
    assert rows["current"].here == pytest.approx(found.values["current_A"].value)
    assert rows["voltage"].here == pytest.approx(8.0, rel=1e-6)
    # 227 W "rated" against about 60 W: the sum of ratings is no cooling.
    assert "227" in found.not_cooling[0]
    assert found.ratings == run(RATED, speeds=3).ratings


def test_watts_in_and_a_cold_outlet_are_not_taken_for_cooling():
    found = watts.run(watts.Inputs(read_text(BENCH), tries=0))
    assert found.ratings == []
    assert len(found.not_cooling) == 2
    assert "97.3" in found.not_cooling[0]  # 8 V and 3.042 A in four modules, from the case above
    assert "62.8" in found.not_cooling[0]
    assert "2.3" in found.not_cooling[1]  # 25 degC in, 22.66 degC out
    plate = read("examples/questions/processor.toml")
    assert len(watts.run(watts.Inputs(plate, tries=0)).not_cooling) <= 2
