"""The search against brute force: every design through a sheet of its own, every setting apart."""

import numpy as np
import pytest
from scipy.optimize import minimize

from coldwright.answers import choose
from coldwright.answers.choice.edits import edits_of
from coldwright.answers.choice.engine import (
    FRONT,
    ROUND_DB,
    ROUND_K,
    ROUND_PRICE,
    ROUND_W,
    engine_of,
    front_of,
)
from coldwright.answers.choice.hunt import Hunt
from coldwright.answers.choice.options import AXES, options_of
from coldwright.answers.choice.store import Store
from coldwright.answers.choice.wanted import wanted_of
from coldwright.answers.design import Design, limits_kept
from coldwright.answers.prices import known_price
from coldwright.errors import NoSolution
from coldwright.machine.search import _SPEEDS, CASE, Aim
from tests.answers.choose_sheets import FIXED, FREE, cupboard, given_air, listed


def _engine(sheet, parts, aim=Aim.COLDEST):
    design = Design(sheet, 0, 0)
    options = options_of(design.sheet, parts)
    wanted = wanted_of(design, aim)
    return options, engine_of(design, options, wanted.limits, aim, wanted.held_K), wanted


def _possible(engine):
    flat = np.arange(engine.grid.total)
    passed = engine.grid.possible(engine.grid.parts(flat))
    return flat[np.all(list(passed.values()), axis=0)]


def _as_sheet(sheet, options, engine, flat, drive_V, cold, hot):
    """A design as a person would write it."""
    return Design(sheet.changed(edits_of(options, engine, flat, drive_V, cold, hot)), 0, 0)


def _objectives(design, cold, hot):
    """Level, plug power, sound and price through the design's own sheet; None if a limit breaks."""

    def slower(coolers):
        coolers["cold_fan"]["speed"], coolers["hot_fan"]["speed"] = cold, hot

    try:
        point = design.solve(with_place=True, changed=slower)
    except NoSolution:
        return None
    sound, price = _sound(design, cold, hot), known_price(design.sheet)
    figures = {name: np.atleast_1d(each) for name, each in point.nominal.items()}
    if not limits_kept(design, figures, sound, price).all():
        return None
    load_W = float((point.results["plug_W"] - point.results["supply_W"])[0])
    if load_W > design.sheet.power.supply.rated_power.value:
        return None
    for at, group in enumerate(design.sheet.cooler.modules):
        if point.results["module_A"][0, at] > 1.001 * group.ratings.max_current.value:
            return None
        if point.results["module_V"][0, at] > 1.001 * group.ratings.max_voltage.value:
            return None
    return (
        round(point.nominal["place_K"] / ROUND_K),
        round(point.nominal["plug_power_W"] / ROUND_W),
        round(sound / ROUND_DB),
        round(price / ROUND_PRICE),
    )


def _beats(one, other):
    return all(a <= b for a, b in zip(one, other, strict=True)) and one != other


def test_the_front_is_the_one_of_brute_force():
    # One voltage, nine pairs of fan speeds: the search sees exactly what brute force sees. Each
    # design is written into a sheet, read, assembled and solved by itself; the domination is the
    # plain definition, pair by pair.
    sheet = cupboard()
    options, engine, _ = _engine(sheet, listed(FIXED))
    flats = _possible(engine)
    assert 40 < len(flats) < 80
    _, points = engine.solve(flats)
    seen = {
        (int(row["flat"]), round(float(row["cold_speed"]), 2), round(float(row["hot_speed"]), 2))
        for row in points
    }
    speeds = [tuple(round(0.02 * int(one / 0.02 + 1e-6), 2) for one in pair) for pair in _SPEEDS]
    brute = {}
    for flat in flats.tolist():
        whole = _as_sheet(sheet, options, engine, flat, 12.0, 1.0, 1.0)
        for cold, hot in speeds:
            found = _objectives(whole, cold, hot)
            if found is not None:
                brute[flat, cold, hot] = found
    assert 100 < len(brute) < len(flats) * len(speeds)
    front = {
        key for key, own in brute.items() if not any(_beats(other, own) for other in brute.values())
    }
    assert seen <= front
    # Of designs that are equal after rounding the search keeps one.
    assert {brute[key] for key in seen} == {brute[key] for key in front}


def test_the_best_design_is_the_one_that_an_optimiser_finds():
    # The voltage and both fans are free. For every design scipy's Nelder and Mead looks for the
    # coldest state within the limits, through that design's own sheet.
    sheet = cupboard(goal__max_plug_power="45 W")
    parts = listed(FREE)
    options, engine, _ = _engine(sheet, parts)
    answer = choose.run(choose.Inputs(sheet, parts, tries=0))
    assert answer.whole
    flats = _possible(engine)
    assert answer.solved == len(flats) == answer.possible
    best, lowest_K = {}, np.inf
    for flat in flats:
        case = engine.grid.cases(engine.grid.parts(np.array([flat])), CASE)[0]
        volts, fixed = float(case["top_V"]), bool(case["fixed"])
        design = _as_sheet(sheet, options, engine, int(flat), volts, 1.0, 1.0)
        best[int(flat)] = _coldest(design, volts, fixed, lowest_K)
        lowest_K = min(lowest_K, best[int(flat)])
    flat = min(best, key=lambda one: best[one])
    found = answer.best[0].figures["place_air_K"].value
    # What is left apart: steps of 0.05 V and 0.02 of speed, and that 50 W count as 25 mK.
    assert found == pytest.approx(best[flat], abs=0.05)
    names = {
        name: options.axes[name][int(at[0])].name
        for name, at in engine.grid.parts(np.array([flat])).items()
    }
    assert answer.best[0].parts == names


def _coldest(design, volts, fixed, lowest_K):
    """From one start; from two more where that comes within 1 K of the lowest so far."""
    now = design.cooler["group"]["drive_value"][0, 0]
    limit_W = design.sheet.goal.max_plug_power.value
    rated_W = design.sheet.power.supply.rated_power.value
    amps = design.sheet.cooler.modules[0].ratings.max_current.value

    def level(x):
        drive, cold, hot = x
        drive = volts if fixed else drive * volts
        if not (0.02 * volts < drive <= volts and 0.2 <= cold <= 1.0 and 0.2 <= hot <= 1.0):
            return 400.0

        def change(coolers):
            coolers["group"]["drive_value"] *= drive / now
            coolers["cold_fan"]["speed"], coolers["hot_fan"]["speed"] = cold, hot

        try:
            point = design.solve(with_place=True, changed=change)
        except NoSolution:
            return 400.0
        results = point.results
        over = max(
            point.nominal["plug_power_W"] / limit_W - 1.0,
            float((results["plug_W"] - results["supply_W"])[0]) / rated_W - 1.0,
            float(results["module_A"][0, 0]) / amps - 1.0,
            (point.nominal["hot_face_K"] - 348.15) / 20.0,
            (_sound(design, cold, hot) - 45.0) / 10.0,
            0.0,
        )
        return point.nominal["place_K"] + 200.0 * over

    lowest = np.inf
    for share in (1.0,) if fixed else (0.55, 0.3, 0.8):
        options = {"xatol": 2e-3, "fatol": 2e-3}
        found = minimize(level, (share, 0.9, 0.9), method="Nelder-Mead", options=options)
        lowest = min(lowest, found.fun)
        if lowest > lowest_K + 1.0:
            break
    return lowest


def _sound(design, cold, hot):
    """Sum of two fans whose level goes with 50 times the logarithm of the speed, by hand."""
    total = 0.0
    for fan, speed in (
        (design.sheet.cooler.cold_fan, cold), (design.sheet.cooler.hot_fan, hot),
    ):  # fmt: skip
        total += 10.0 ** ((fan.sound_at_1m.value + 50.0 * np.log10(speed)) / 10.0)
    return 10.0 * np.log10(total)


def test_every_design_of_the_search_is_the_design_of_its_sheet():
    # Records laid together from parts against records assembled from the written sheet.
    sheet = cupboard()
    parts = listed(FIXED, stacks=True)
    options, engine, _ = _engine(sheet, parts)
    random = np.random.default_rng(3)
    for flat in random.choice(_possible(engine), 12, replace=False):
        own = _as_sheet(sheet, options, engine, int(flat), 12.0, 0.8, 0.9)
        found = engine.one(int(flat), 12.0, 0.8, 0.9)
        point = own.solve(with_place=True)
        for name in ("place_K", "plug_W", "hot_outlet_K"):
            assert found[name][0] == pytest.approx(float(point.results[name][0]), rel=1e-10)
        assert known_price(own.sheet) == pytest.approx(
            float(engine.grid.prices(engine.grid.parts(np.array([flat])))[0])
        )


@pytest.mark.parametrize("make", [cupboard, given_air])
def test_net_cooling_in_the_search_is_that_of_the_answers(make):
    # Two ways of coding one definition: line by line over records, and over arrays.
    sheet = make()
    parts = listed(FREE if make is cupboard else {"search": {"most_modules": 4}})
    options, engine, _ = _engine(sheet, parts)
    _, points = engine.solve(_possible(engine)[:20])
    assert len(points)
    for row in points[:8]:
        setting = (float(row["drive_V"]), float(row["cold_speed"]), float(row["hot_speed"]))
        own = _as_sheet(sheet, options, engine, int(row["flat"]), *setting)
        point = own.solve(with_place=own.enclosed)
        assert row["net_W"] == pytest.approx(point.nominal["net_cooling_W"], abs=1e-6)
        assert row["plug_W"] == pytest.approx(point.nominal["plug_power_W"], rel=1e-9)


def test_a_space_too_large_is_sampled_and_finds_the_best_of_all():
    # The whole space is small enough to be seen; asked for less, the optimiser must find the same.
    sheet = cupboard()
    parts = listed(
        {**FIXED, "fan": [{"part": "typical axial 120 mm"}, {"part": "typical axial 60 mm"}]},
        stacks=True, most_modules=4,
    )  # fmt: skip
    whole = choose.run(choose.Inputs(sheet, parts, tries=0))
    part = choose.run(choose.Inputs(sheet, parts, tries=0, most=whole.possible // 2))
    assert whole.whole
    assert not part.whole
    assert part.solved < whole.solved
    assert part.best[0].figures["place_air_K"].value == pytest.approx(
        whole.best[0].figures["place_air_K"].value, abs=0.03
    )


def test_the_numbers_of_designs_go_both_ways():
    _, engine, _ = _engine(cupboard(), listed(FIXED))
    grid = engine.grid
    flat = np.arange(grid.total)
    assert np.array_equal(grid.flat(grid.parts(flat)), flat)
    rows = np.stack([grid.parts(flat)[name] for name in AXES], axis=1)
    assert len(np.unique(rows, axis=0)) == grid.total == np.prod(grid.sizes)


def test_nothing_on_a_front_is_beaten_and_everything_off_it_is():
    random = np.random.default_rng(1)
    points = np.zeros(600, dtype=FRONT)
    points["flat"] = np.arange(600)
    for name, span in (("goal", 10.0), ("plug_W", 60.0), ("sound_dB", 20.0), ("price", 90.0)):
        points[name] = random.uniform(0.0, span, 600)
    kept = front_of(points)
    rounded = {
        int(row["flat"]): (
            round(row["goal"] / 0.05), round(row["plug_W"] / 0.5), round(row["sound_dB"] / 0.5),
            round(row["price"] / 0.5),
        )
        for row in points
    }  # fmt: skip
    members = set(kept["flat"].tolist())
    for flat, own in rounded.items():
        beaten = any(_beats(other, own) for other in rounded.values())
        assert beaten == (flat not in members)


def test_what_is_ruled_out_is_counted_by_its_reason():
    sheet = cupboard(goal__max_price="75 EUR")
    parts = listed({**FIXED, "module": [{"part": "typical 127 couples 4 A", "stock": 2}]})
    _, engine, _ = _engine(sheet, parts)
    with Store(None, "x") as store:
        seen = Hunt(engine, store).run()
    assert seen.whole
    assert seen.possible + sum(seen.ruled_out.values()) == seen.total
    assert seen.ruled_out["stock"] > 0
    assert seen.ruled_out["price"] > 0
    # Three modules of 40 x 40 mm need 48 cm²; the smallest face has 100 cm².
    assert seen.ruled_out["room"] == 0
