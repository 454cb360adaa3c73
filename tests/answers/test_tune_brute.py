"""The best settings against a search by scipy that knows nothing of the maps.

Each figure is that of one operating point solved by itself; scipy's differential evolution walks
over volts and both fan speeds and a simplex polishes what it finds. The limits are taken from the
sheet and added to what is made small.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import optimize

from coldwright.answers import tune, verdict, watts
from coldwright.answers.design import SEED, Design
from coldwright.answers.tune_sentences import _summit
from coldwright.errors import NoSolution
from coldwright.sheet.file import read, read_text
from coldwright.sheet.models import Sheet
from tests.answers.test_design import BENCH
from tests.answers.test_tune import PERFECT

DEMOS = Path(__file__).resolve().parents[2] / "demos"
QUESTIONS = Path(__file__).resolve().parents[2] / "examples" / "questions"


def random_sheet(seed: int) -> Sheet:
    """A room with a single duct or a box with two, of parts that nobody chose."""
    draw = np.random.default_rng(seed)

    def number(low: float, high: float) -> float:
        return round(float(draw.uniform(low, high)), 4)

    single = seed % 2 == 1
    kind, size_m, loss_W_K = (
        ("room", 2.0, number(8, 20)) if single else ("box", 0.5, number(0.5, 2))
    )
    count = 6 if single else 2
    return read_text(f"""
title = "Random {seed}"
[goal]
air = "{26 if single else 14} degC"
max_plug_power = "{number(180, 260) if single else number(30, 60)} W"
[climate]
kind = "steady"
outdoor_air = "{number(29, 36)} degC"
outdoor_humidity = "{number(20, 60)} percent"
[place]
kind = "{kind}"
length = "{size_m} m"
width = "{size_m} m"
height = "{size_m} m"
combustion = "none"
heat_loss = "{loss_W_K} W/K"
air_leakage = {'"tight"' if single else '"none"'}
[cooler]
hot_takes_from = "{"place" if single else "outdoors"}"
hot_sends_to = "outdoors"
run_at = {{ voltage = "{6 * count} V" }}
[cooler.modules]
ratings.max_current = "{number(4, 8)} A"
ratings.max_voltage = "{number(14.5, 16)} V"
ratings.max_difference = "{number(64, 70)} K"
series = {count}
cold_interface = "{number(0.02, 0.08)} K/W"
hot_interface = "{number(0.02, 0.08)} K/W"
[cooler.cold_sink]
kind = "resistance"
value = "{number(0.5, 0.8) / count} K/W"
at_flow = "{30 * count} m^3/h"
[cooler.cold_fan]
curve = [["0 m^3/h", "60 Pa"], ["{number(30, 50) * count} m^3/h", "0 Pa"]]
power = "{number(1, 2.5) * count} W"
[cooler.cold_duct]
diameter = "100 mm"
length = "{number(0.5, 2)} m"
[cooler.hot_sink]
kind = "resistance"
value = "{number(0.3, 0.5) / count} K/W"
at_flow = "{50 * count} m^3/h"
[cooler.hot_fan]
curve = [["0 m^3/h", "120 Pa"], ["{number(50, 80) * count} m^3/h", "0 Pa"]]
power = "{number(1, 3) * count} W"
[cooler.hot_duct]
diameter = "120 mm"
length = "{number(0.5, 2)} m"
""")


SHEETS: dict[str, Callable[[], Sheet]] = {
    "kiosk": lambda: read(DEMOS / "kiosk"),
    "cabinet": lambda: read(DEMOS / "cabinet"),
    "random room": lambda: random_sheet(43),
    "random box": lambda: random_sheet(42),
}
# Aim, the figure of one operating point, its sign, and how near both searches must come: a tenth of
# a percent, and 0.01 K. The maps end in steps of a hundredth of their own, where the tops are flat.
AIMS = {
    "coldest place": ("place_K", 1.0, 0.0, 0.01),
    "most capacity": ("cooling_W", -1.0, 1e-3, 0.0),
    "best COP with half of the best cooling": ("cop_net", -1.0, 1e-3, 0.0),
}


@cache
def tuned(name: str) -> tune.Tune:
    return tune.run(tune.Inputs(SHEETS[name](), tries=0))


class Alone:
    """One design, one point at a time."""

    def __init__(self, name: str) -> None:
        self.design = Design(SHEETS[name](), 0, SEED)
        sheet = self.design.sheet
        run_at = sheet.cooler.run_at
        if run_at.module_voltage is not None:
            self.now_V = run_at.module_voltage.value * sheet.cooler.modules[0].series
        else:
            assert run_at.voltage is not None
            self.now_V = run_at.voltage.value
        answer = tuned(name)
        self.bounds = [(answer.drive[0], answer.drive[-1]), (0.2, 1.0), (0.2, 1.0)]

    def point(self, x: Any) -> dict[str, float] | None:
        """Every figure at these volts and speeds; None without a steady state."""

        def turned(coolers: Any) -> None:
            coolers["group"]["drive_value"] *= x[0] / self.now_V
            coolers["cold_fan"]["speed"], coolers["hot_fan"]["speed"] = x[1], x[2]

        try:
            return self.design.at(turned).solve(with_place=True).nominal
        except NoSolution:
            return None

    def over(self, found: dict[str, float], x: Any) -> float:
        """By how much the sheet's limits are broken, as shares of them."""
        sheet = self.design.sheet
        goal, limits = sheet.goal, sheet.limits
        broken = 0.0
        if goal.max_plug_power is not None:
            broken += max(0.0, found["plug_power_W"] / goal.max_plug_power.value - 1.0)
        if goal.max_sound is not None:
            broken += max(0.0, self.sound_dB(x) - goal.max_sound.value)
        for name, sign in (("hot_face", 1.0), ("hot_sink", 1.0), ("cold_sink", -1.0)):
            limit = getattr(limits, name)
            if limit is not None:
                broken += max(0.0, sign * (found[f"{name}_K"] - limit.value)) / 10.0
        assert limits.dew_point_margin is None
        assert limits.cold_face is None
        return broken

    def sound_dB(self, x: Any) -> float:
        """Level at 1 m by the fan law."""
        # 50 lg of the speed for each fan, added as powers (ASHRAE Handbook HVAC Applications).
        powers = 0.0
        for fan, speed in ((self.design.sheet.cooler.cold_fan, x[1]),
                           (self.design.sheet.cooler.hot_fan, x[2])):  # fmt: skip
            if fan is not None and fan.sound_at_1m is not None:
                level = fan.sound_at_1m.value + 50.0 * math.log10(speed)
                powers += fan.count * 10.0 ** (0.1 * level)
        return 10.0 * math.log10(powers) if powers else 0.0

    def least(self, cost: Callable[[dict[str, float], Any], float]) -> tuple[float, Any]:
        """The least of a cost within the limits: lowest value and where."""

        def of(x: Any) -> float:
            found = self.point(x)
            if found is None:
                return 1e6
            return cost(found, x) + 1e4 * self.over(found, x)

        rough = optimize.differential_evolution(
            of, self.bounds, maxiter=25, popsize=8, rng=5, tol=1e-9, polish=False
        )
        near = {"xatol": 1e-6, "fatol": 1e-8, "maxiter": 300}
        fine = optimize.minimize(
            of, rough.x, method="Nelder-Mead", bounds=self.bounds, options=near
        )
        return float(fine.fun), fine.x


@pytest.mark.published("scipy.optimize.differential_evolution and Nelder-Mead on the same sheet")
@pytest.mark.parametrize("aim", AIMS)
@pytest.mark.parametrize("name", SHEETS)
def test_no_search_finds_better_than_the_map(name: str, aim: str) -> None:
    figure, sign, relative, absolute = AIMS[aim]
    alone = Alone(name)
    (best,) = [each for each in tuned(name).best if each.aim == aim]
    assert best.drive is not None
    assert best.cold_speed is not None
    assert best.hot_speed is not None
    where = (best.drive, best.cold_speed, best.hot_speed)
    least_W = -math.inf
    if aim.startswith("best COP"):
        least_W = -0.5 * alone.least(lambda found, _x: -found["net_cooling_W"])[0]

    def cost(found: dict[str, float], _x: Any) -> float:
        short = max(0.0, least_W - found["net_cooling_W"])
        return sign * found[figure] + 1e3 * short

    lowest, at = alone.least(cost)
    # What `tune` tells is what one point by itself gives there, within every limit ...
    held = alone.point(where)
    assert held is not None
    told = best.figures["place_air_K" if figure == "place_K" else figure].value
    assert told == pytest.approx(held[figure], rel=1e-8)
    assert alone.over(held, where) <= 1e-6
    # ... and neither search beats the other.
    near = relative * abs(lowest) + absolute
    assert sign * held[figure] == pytest.approx(lowest, abs=near), (where, at)


@pytest.mark.published("scipy.optimize.differential_evolution and Nelder-Mead on the same sheet")
@pytest.mark.parametrize(
    "aim", ["cheapest that reaches the goal", "quietest that reaches the goal"]
)
def test_no_search_reaches_the_cabinets_goal_for_less(aim: str) -> None:
    alone = Alone("cabinet")
    goal = alone.design.sheet.goal.air
    assert goal is not None
    (best,) = [each for each in tuned("cabinet").best if each.aim == aim]
    quiet = aim.startswith("quietest")

    def told(found: dict[str, float], x: Any) -> float:
        return alone.sound_dB(x) if quiet else found["plug_power_W"]

    def cost(found: dict[str, float], x: Any) -> float:
        return told(found, x) + 1e3 * max(0.0, found["place_K"] - goal.value)

    lowest, at = alone.least(cost)
    where = (best.drive, best.cold_speed, best.hot_speed)
    held = alone.point(where)
    assert held is not None
    assert held["place_K"] <= goal.value + 1e-6
    # Nearly the same sound comes from many pairs of speeds: 0.1 dB is a fan 0.5 % slower.
    near = 0.1 if quiet else 1e-3 * lowest
    assert told(held, where) == pytest.approx(lowest, abs=near), (where, at)


def test_where_no_setting_cools_there_is_no_best_cop() -> None:
    # A single duct whose replacement air brings in more than the modules take out, however it runs.
    SHEETS["hopeless room"] = lambda: random_sheet(41)
    try:
        alone = Alone("hopeless room")
        (best,) = [each for each in tuned("hopeless room").best if each.aim.startswith("best COP")]
        assert best.drive is None
        assert -alone.least(lambda found, _x: -found["net_cooling_W"])[0] < 0.0
    finally:
        del SHEETS["hopeless room"]


# --- Closed forms with sinks that grow better and better ------------------------------------------

SEEBECK_V_K, RESISTANCE_OHM, CONDUCTANCE_W_K = 0.0513333, 1.984889, 0.525412


@pytest.mark.published(
    "Mechanical Engineers' Handbook, vol. 4, Cooling electronic equipment, eqs. 111-123: Im, I0"
)
def test_the_best_currents_come_to_the_closed_forms_as_the_sinks_get_better() -> None:
    # Im = S Tc / R and I0 = S dT / (R (sqrt(1 + Z Tm) - 1)) hold for given faces.
    cold_K, hot_K = 280.0, 330.0
    figure_per_K = SEEBECK_V_K**2 / (RESISTANCE_OHM * CONDUCTANCE_W_K)
    root = math.sqrt(1.0 + figure_per_K * 0.5 * (cold_K + hot_K))
    most_A = SEEBECK_V_K * cold_K / RESISTANCE_OHM
    cop_A = SEEBECK_V_K * (hot_K - cold_K) / (RESISTANCE_OHM * (root - 1.0))
    off_most, off_cop = [], []
    for resistance_K_W in (0.02, 0.005, 0.00125):
        text = PERFECT.replace('value = "0.0002 K/W"', f'value = "{resistance_K_W} K/W"')
        answer = tune.run(tune.Inputs(read_text(text), tries=0, speeds=3))
        found = {each.aim: each.drive for each in answer.best}
        most, cop = found["most capacity"], found["best COP with half of the best cooling"]
        assert most is not None
        assert cop is not None
        off_most.append(abs(most - most_A))
        off_cop.append(abs(cop - cop_A))
    # A quarter of the resistance leaves about a quarter of the gap; a step of the search is 1.5 mA.
    for off in (off_most, off_cop):
        assert off[1] == pytest.approx(off[0] / 4.0, abs=0.1 * off[0] + 1.5e-3)
        assert off[2] == pytest.approx(off[1] / 4.0, abs=0.1 * off[1] + 1.5e-3)
    assert off_most[2] < 0.002 * most_A
    assert off_cop[2] < 0.001 * cop_A


# --- Published tables, by current ----------------------------------------------------------------

# M1 between faces of 290 and 310 K: current, heat moved, power, volts, COP.
HANDBOOK = [
    (1.0, 3.386, 3.012, 3.012, 1.124),
    (2.0, 15.295, 9.993, 4.996, 1.531),
    (3.0, 25.220, 20.944, 6.981, 1.204),
    (4.0, 33.159, 35.865, 8.966, 0.925),
    (5.0, 39.114, 54.756, 10.951, 0.714),
    (6.0, 43.084, 77.616, 12.936, 0.555),
]
FACES = PERFECT.replace('air = "6.85 degC"', 'air = "16.85 degC"').replace("56.85", "36.85")


@pytest.mark.published(
    "Mechanical Engineers' Handbook, vol. 4, Cooling electronic equipment, eqs. 111-123, worked "
    "out for one module of constant properties (to 0.05 %)"
)
def test_a_module_between_given_faces_follows_the_handbook() -> None:
    for current_A, heat_W, power_W, voltage_V, cop in HANDBOOK:
        text = FACES.replace('current = "3 A"', f'current = "{current_A} A"')
        found = watts.run(watts.Inputs(read_text(text), tries=0)).values
        told = {name: found[name].value for name in found}
        assert told["pumped_W"] == pytest.approx(heat_W, rel=2e-3)
        assert told["module_power_W"] == pytest.approx(power_W, rel=5e-4)
        assert told["voltage_V"] == pytest.approx(voltage_V, rel=5e-4)
        assert told["cop_module"] == pytest.approx(cop, rel=2e-3)
    best = tune.run(tune.Inputs(read_text(FACES), tries=0, speeds=3)).best
    (cop_best,) = [each for each in best if each.aim.startswith("best COP")]
    # I0 = 1.58709 A moves 10.618 W, less than half of the most: the best within that condition
    # moves just half, and its COP lies below COP0 = 1.60180.
    (most,) = [each for each in best if each.aim == "most net cooling"]
    half_W = 0.5 * (most.figures["net_cooling_W"].value or 0.0)
    assert cop_best.figures["net_cooling_W"].value == pytest.approx(half_W, rel=5e-3)
    assert (cop_best.figures["cop_system"].value or 0.0) < 1.60180
    assert (cop_best.drive or 0.0) > 1.58709


@pytest.mark.published(
    "identity of two stages, 1/((1 + 1/c1)(1 + 1/c2) - 1); github.com/DmitryMyadzelets/epicx, week "
    "29: 1.93 W and 1.74 W in the first stage are 3.67 W for the second"
)
def test_the_cop_of_a_stack_follows_from_those_of_its_stages() -> None:
    stack = read(QUESTIONS / "stack.toml").changed({"place.heat": "1.93 W"})
    found = watts.run(watts.Inputs(stack, tries=0))
    told = {name: value.value or 0.0 for name, value in found.values.items()}
    (between_W,) = [entry.W for entry in found.ledger if entry.what == "from the first stage"]
    first_W = between_W - told["pumped_W"]
    assert told["pumped_W"] == pytest.approx(1.93, rel=1e-9)
    cops = told["pumped_W"] / first_W, between_W / (told["module_power_W"] - first_W)
    whole = 1.0 / ((1.0 + 1.0 / cops[0]) * (1.0 + 1.0 / cops[1]) - 1.0)
    assert told["cop_module"] == pytest.approx(whole, rel=1e-3)
    # The published pair: with 1.74 W into the first stage the second takes up 3.67 W.
    driven = stack.changed({"cooler.run_at": {"module_power": "1.74 W"}})
    found = watts.run(watts.Inputs(driven, tries=0))
    (between_W,) = [entry.W for entry in found.ledger if entry.what == "from the first stage"]
    assert between_W == pytest.approx(3.67, rel=1e-3)


@pytest.mark.published(
    "Abdulghani, Results in Engineering 16 (2022) 100627: from 30 to 78 m3/h more cold air first "
    "raises, then lowers the COP"
)
def test_more_cold_air_first_raises_then_lowers_the_cop() -> None:
    # Four modules on shared sinks at 60 W; a cold fan that takes 8 W at 78 m3/h.
    text = BENCH.replace('module_voltage = "8 V"', 'module_power = "60 W"').replace(
        'flow = "80 m^3/h"\npower = "0 W"', 'flow = "78 m^3/h"\npower = "8 W"'
    )
    answer = tune.run(tune.Inputs(read_text(text), tries=0, speeds=33))
    at = int(np.argmin(np.abs(np.array(answer.drive) - 60.0)))
    flows = 78.0 * np.array(answer.cold_speed)
    cops = answer.maps["cop_system"][at, :, -1][flows >= 30.0]
    top = int(np.argmax(cops))
    assert 0 < top < len(cops) - 1
    assert (np.diff(cops[: top + 1]) > 0.0).all()
    assert (np.diff(cops[top:]) < 0.0).all()


@pytest.mark.parametrize("name", ["kiosk", "random box"])
def test_the_share_of_cooling_and_power_that_is_told_holds(name: str) -> None:
    said = next(line for line in tuned(name).reasons if "of its power" in line)
    found = re.search(
        r"both fans as the sheet has them ([\d.]+)\sV gives (\d+) % of the cooling of ([\d.]+)\sV, "
        r"the most of all, at (\d+) % of its power",
        said,
    )
    assert found is not None, said
    enough_V, cooling, most_V, power = (float(each) for each in found.groups())
    alone = Alone(name)
    now = tuned(name).now
    enough, most = (
        alone.point((volts, now["cold_speed"], now["hot_speed"])) for volts in (enough_V, most_V)
    )
    # "No cooling" is the place with the modules stopped, as the verdict tells it.
    said_so = verdict.run(verdict.Inputs(SHEETS[name](), tries=0))
    stopped_K = said_so.values["place_air_stopped_K"].value
    assert enough is not None
    assert most is not None
    share = (stopped_K - enough["place_K"]) / (stopped_K - most["place_K"])
    # Volts are told to three figures, shares to one percent.
    assert 100.0 * share == pytest.approx(cooling, abs=0.8)
    assert 100.0 * enough["plug_power_W"] / most["plug_power_W"] == pytest.approx(power, abs=1.5)


def test_a_summit_is_that_of_the_parabola_and_an_edge_is_itself() -> None:
    at = np.linspace(0.0, 10.0, 11)
    assert _summit(at, -((at - 4.3) ** 2), 4) == pytest.approx(4.3)
    assert _summit(at, at, 10) == 10.0
    assert _summit(at, -at, 0) == 0.0
