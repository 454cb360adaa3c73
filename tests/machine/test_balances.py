"""Laws that no design may break: first and second law, conservation of water, and a ledger with
teeth. Worked out here from the solved states, apart from the ledger's own lines."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.machine.cooler import operate
from coldwright.machine.outcome import heat_into_place, outcome
from coldwright.machine.records import Condensate, Drive, End, Properties, Status
from tests.machine.designs import plain_cooler, plain_place, random_batch

FIRST_LAW = "first law of thermodynamics, with the enthalpy of moist air of ASHRAE Fundamentals"


def solve(batch):
    """Its solved cases and their results."""
    results = operate(
        batch.coolers, batch.places, batch.air_K, batch.water,
        with_place=batch.with_place, held=batch.held,
    )  # fmt: skip
    kept = np.flatnonzero(results["status"] == Status.SOLVED)
    return batch.take(kept), results[kept]


def batches(kinds, number=4, count=400, seed=2):
    """Random designs of these kinds."""
    for i in range(number):
        for kind in kinds:
            yield random_batch(np.random.default_rng([seed, i, len(kind)]), count, kind)


# Moist air and water per kilogram, t in degC: h = 1006 t + W (2501000 + 1860 t); 4186 t.
def air_h(air_K, water):
    celsius = air_K - 273.15
    return 1006.0 * celsius + water * (2_501_000.0 + 1860.0 * celsius)


def vapour_h(air_K):
    return 2_501_000.0 + 1860.0 * (air_K - 273.15)


def liquid_h(water_K):
    return 4186.0 * (water_K - 273.15)


def sources(batch, results):
    """Air that each side draws from: temperature and water."""
    found = []
    for side in ("cold", "hot"):
        outside = batch.coolers[f"{side}_takes"] == End.OUTDOORS
        found.append(np.where(outside, batch.places["outdoor_K"], results["place_K"]))
        found.append(
            np.where(
                outside, batch.places["outdoor_humidity_ratio"], results["place_humidity_ratio"]
            )
        )
    return found


def scale(results):
    return np.maximum(np.abs(results["plug_W"]), 1.0) + np.abs(results["modules_W"])


@pytest.mark.published(FIRST_LAW)
def test_energy_of_the_whole_machine():
    # Plug and air that comes in = air that leaves, duct, water that runs off, losses elsewhere.
    for batch in batches(["open air", "given air", "enclosed", "plate"]):
        batch, r = solve(batch)
        c = batch.coolers
        cold_K, cold_water, hot_K, hot_water = sources(batch, r)
        given_W = r["plug_W"].copy()
        if batch.kind == "plate":
            sink = c["cold_sink"][:, 0]
            given_W += sink["load_W"] + sink["load_conductance_W_K"] * (
                sink["load_surroundings_K"] - r["cold_surface_K"][:, 0]
            )
        else:
            fresh_kg_s = (1.0 - c["cold_recirculation"]) * r["cold_kg_s"]
            given_W += fresh_kg_s * (
                air_h(cold_K, cold_water) - air_h(r["cold_outlet_K"], r["cold_outlet_water"])
            )
        fresh_kg_s = (1.0 - c["hot_recirculation"]) * r["hot_kg_s"]
        given_W -= fresh_kg_s * (
            air_h(r["exhaust_end_K"], r["hot_outlet_water"]) - air_h(hot_K, hot_water)
        )
        given_W -= r["duct_W"]
        onto = c["condensate"] == Condensate.ONTO_HOT_SINK
        given_W -= np.where(onto, 0.0, r["condensate_kg_s"] * liquid_h(r["liquid_K"]))
        power = c["power"]
        for where, lost_W in (
            ("supply_at", r["supply_W"]),
            ("converter_at", r["converter_W"]),
            ("lead_at", r["leads_W"] + power["controller_W"]),
        ):
            given_W -= np.where(power[where] == End.EXHAUST, 0.0, lost_W)
        assert np.abs(given_W / scale(r)).max() < 1e-8, batch.kind


@pytest.mark.published("conservation of mass")
def test_water_of_the_whole_machine():
    wet = 0
    for batch in batches(["open air", "given air", "enclosed"]):
        batch, r = solve(batch)
        c = batch.coolers
        _, cold_water, _, hot_water = sources(batch, r)
        fresh_kg_s = (1.0 - c["cold_recirculation"]) * r["cold_kg_s"]
        taken_kg_s = fresh_kg_s * (cold_water - r["cold_outlet_water"])
        assert np.abs(taken_kg_s - r["condensate_kg_s"]).max() < 1e-12
        fresh_kg_s = (1.0 - c["hot_recirculation"]) * r["hot_kg_s"]
        given_kg_s = fresh_kg_s * (r["hot_outlet_water"] - hot_water)
        onto = c["condensate"] == Condensate.ONTO_HOT_SINK
        assert np.abs(given_kg_s - np.where(onto, r["condensate_kg_s"], 0.0)).max() < 1e-12
        wet += np.sum(onto & (r["condensate_kg_s"] > 1e-7))
    assert wet > 100


@pytest.mark.published("second law of thermodynamics")
def test_every_module_makes_entropy():
    # Heats through the two joints, by the joints' own resistances: Qh/Th - Qc/Tc >= 0.
    count = 0
    for batch in batches(["open air", "enclosed", "plate"], number=6):
        batch, r = solve(batch)
        c = batch.coolers
        for g in range(int(c["groups"][0])):
            group = c["group"][:, g]
            cold_r, hot_r = r["cold_interface_K_W"][:, g], r["hot_interface_K_W"][:, g]
            cold_K, hot_K = r["cold_face_K"][:, g], r["hot_face_K"][:, g]
            base_K = r["cold_base_K"][:, int(group["cold_sink"][0])]
            sink_K = r["hot_base_K"][:, int(group["hot_sink"][0])]
            thick = (cold_r > 1e-3) & (hot_r > 1e-3)
            with np.errstate(divide="ignore", invalid="ignore"):
                in_W, out_W = (base_K - cold_K) / cold_r, (hot_K - sink_K) / hot_r
                made_W_K = (out_W / hot_K - in_W / cold_K)[thick]
            assert made_W_K.min() > -1e-9
            count += np.sum(made_W_K > 1e-4)
    assert count > 1000


def all_inside(batch):
    """The same designs with every part and every stream in the place, the water led away."""
    c = batch.coolers
    c["cold_takes"] = c["hot_takes"] = c["hot_sends"] = End.PLACE
    c["condensate"] = Condensate.DRAINED
    c["hot_duct"]["in_place"] = 1
    for part in ("supply_at", "converter_at", "lead_at"):
        at = c["power"][part]
        c["power"][part] = np.where(at == End.OUTDOORS, End.PLACE, at)
    return solve(batch)


@pytest.mark.published(FIRST_LAW)
def test_with_every_part_inside_the_place_gains_the_plug_power_less_the_drained_water():
    for batch in batches(["given air", "open air", "enclosed"]):
        batch, r = all_inside(batch)
        gained_W = heat_into_place(batch.coolers, batch.places, r)
        expected_W = r["plug_W"] - r["condensate_kg_s"] * liquid_h(r["liquid_K"])
        assert np.abs((gained_W - expected_W) / scale(r)).max() < 1e-8
        net_W = outcome(batch.coolers, batch.places, r)["net_cooling_W"]
        assert np.abs((net_W + expected_W) / scale(r)).max() < 1e-8


@pytest.mark.published(FIRST_LAW)
def test_with_every_part_inside_the_sensible_gain_is_plug_power_and_latent_heat():
    # Sensible: what the streams' temperatures alone bring, vapour counted at the place's.
    wet = 0
    for batch in batches(["given air", "open air", "enclosed"]):
        batch, r = all_inside(batch)
        c = batch.coolers
        place_K = r["place_K"]
        sensible_W = 0.0
        for side, air_K, water in (
            ("cold", r["cold_outlet_K"], r["cold_outlet_water"]),
            ("hot", r["exhaust_end_K"], r["hot_outlet_water"]),
        ):
            fresh_kg_s = (1.0 - c[f"{side}_recirculation"]) * r[f"{side}_kg_s"]
            sensible_W = sensible_W + fresh_kg_s * (1006.0 + 1860.0 * water) * (air_K - place_K)
        sensible_W = sensible_W + r["duct_W"]
        power = c["power"]
        for where, lost_W in (
            ("supply_at", r["supply_W"]),
            ("converter_at", r["converter_W"]),
            ("lead_at", r["leads_W"] + power["controller_W"]),
        ):
            sensible_W = sensible_W + np.where(power[where] == End.PLACE, lost_W, 0.0)
        latent_W = r["condensate_kg_s"] * (vapour_h(place_K) - liquid_h(r["liquid_K"]))
        expected_W = r["plug_W"] + latent_W
        assert np.abs((sensible_W - expected_W) / scale(r)).max() < 1e-8
        wet += np.sum(latent_W > 1.0)
    assert wet > 100


def forward_designs(rng, count, telluride):
    """One group of one stage at given flows, forward current, at most S Th volts a module."""
    c, p = plain_cooler(count), plain_place(count)
    p["air_K"] = rng.uniform(285.0, 312.0, count)
    p["outdoor_K"] = rng.uniform(285.0, 315.0, count)
    p["humidity_ratio"] = rng.uniform(0.001, 0.012, count)
    group = c["group"][:, 0]
    group["series"], group["parallel"] = rng.integers(1, 7, count), rng.integers(1, 4, count)
    group["properties"] = Properties.BISMUTH_TELLURIDE if telluride else Properties.CONSTANT
    couples, slender_m = rng.uniform(60, 200, count), rng.uniform(5e-4, 2e-3, count)
    group["seebeck"] = np.where(telluride, 2 * couples, rng.uniform(0.03, 0.06, count))
    group["resistance"] = np.where(telluride, 2 * couples / slender_m, rng.uniform(1, 4, count))
    group["conductance"] = np.where(telluride, 2 * couples * slender_m, rng.uniform(0.2, 1, count))
    seebeck = np.where(telluride, 2 * couples * 2.0e-4, group["seebeck"])
    ohm = np.where(telluride, 2 * couples / slender_m * 1.1e-5, group["resistance"])
    rated_V = seebeck * np.minimum(p["outdoor_K"], p["air_K"])
    share = rng.uniform(0.05, 1.0, count)
    drive = rng.choice([Drive.VOLTAGE, Drive.CHOPPED, Drive.CURRENT], count)
    group["drive"] = drive
    group["drive_value"] = np.where(
        drive == Drive.CURRENT,
        0.4 * share * rated_V / ohm * group["parallel"],
        share * rated_V * group["series"],
    )
    group["duty"] = rng.uniform(0.3, 1.0, count)
    group["hot_interface_K_W"] = rng.uniform(0.0, 0.2, count)
    group["cold_interface_K_W"] = rng.uniform(0.0, 0.2, count)
    c["spacer_W_K"] = rng.uniform(0.0, 0.5, count)
    c["hot_sink"]["resistance_K_W"][:, 0] = rng.uniform(0.05, 0.5, count)
    c["cold_sink"]["resistance_K_W"][:, 0] = rng.uniform(0.1, 0.8, count)
    return c, p


@pytest.mark.published("Qc = S I Tc - I^2 R/2 - K dT with V at most S Th: dQc/dTh never positive")
@pytest.mark.parametrize("telluride", [False, True])
@pytest.mark.parametrize("where", ["hot_sink", "hot_interface"])
def test_more_thermal_resistance_on_the_hot_side_never_helps(where, telluride):
    rng = np.random.default_rng(5)
    c, p = forward_designs(rng, 4000, telluride)
    worse = c.copy()
    if where == "hot_sink":
        worse["hot_sink"]["resistance_K_W"][:, 0] *= rng.uniform(1.01, 3.0, len(c))
    else:
        worse["group"]["hot_interface_K_W"][:, 0] += rng.uniform(0.001, 0.3, len(c))
    before = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    after = operate(worse, p, p["air_K"], p["humidity_ratio"], with_place=False)
    # A design that a worse sink lets run away loses everything; one that is not solved before
    # must not be solved after.
    assert not np.any((before["status"] != Status.SOLVED) & (after["status"] == Status.SOLVED))
    both = (before["status"] == Status.SOLVED) & (after["status"] == Status.SOLVED)
    both &= before["module_A"][:, 0] > 0.0
    # Where so little current flows that heat leaks in from the hot air, a worse sink insulates.
    rejects = before["hot_base_K"][:, 0] > p["outdoor_K"]
    assert np.sum(both & ~rejects) < 0.1 * len(c)
    both &= rejects
    assert both.sum() > 2500
    for name in ("pumped_W", "cooling_W"):
        was = outcome(c[both], p[both], before[both])[name]
        now = outcome(worse[both], p[both], after[both])[name]
        assert np.all(now <= was + 1e-8), name
        assert np.median(was - now) > 0.01


@pytest.mark.published("a module at open circuit is a wall: Q = K (Th - Tc)")
def test_off_means_open_circuit_and_heat_leaks_through_the_legs_alone():
    rng = np.random.default_rng(6)
    c, p = plain_cooler(500), plain_place(500)
    group = c["group"][:, 0]
    group["drive"], group["drive_value"] = Drive.OFF, 12.0
    group["series"], group["conductance"] = rng.integers(1, 9, 500), rng.uniform(0.2, 1.0, 500)
    p["outdoor_K"] = rng.uniform(290.0, 320.0, 500)
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    assert np.all(r["status"] == Status.SOLVED)
    assert np.all(r["module_A"] == 0.0)
    assert np.all(r["modules_W"] == 0.0)
    leak_W = group["conductance"] * (r["hot_face_K"] - r["cold_face_K"])[:, 0]
    through_W = (r["hot_base_K"][:, 0] - r["hot_face_K"][:, 0]) / 0.05
    assert np.allclose(through_W, leak_W, rtol=0, atol=1e-8)
    found = outcome(c, p, r)
    assert np.allclose(found["pumped_W"], -leak_W * group["series"], rtol=0, atol=1e-8)
    hotter = p["outdoor_K"] > p["air_K"] + 0.1
    assert np.all(found["pumped_W"][hotter] < 0.0)
    # Its voltage is that of the temperature difference alone.
    lift_K = (r["hot_face_K"] - r["cold_face_K"])[:, 0]
    assert np.allclose(r["module_V"][:, 0], 0.0513333 * lift_K, rtol=0, atol=1e-9)


@pytest.mark.published("heat resistances in series: worked by hand")
def test_off_leak_by_hand():
    # 35 degC outdoors, 25 degC inside: two sinks (to the incoming air), two joints, one module.
    c, p = plain_cooler(1), plain_place(1)
    c["group"]["drive"] = Drive.OFF
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    expected_W = 10.0 / (0.15 + 0.10 + 2 * 0.05 + 1.0 / 0.525412)
    assert outcome(c, p, r)["pumped_W"][0] == pytest.approx(-expected_W, rel=1e-4)


@pytest.mark.parametrize("drive", [d for d in Drive if d != Drive.OFF])
def test_what_is_set_is_what_runs(drive):
    # Current, voltage and power of the array are products of what one module does.
    rng = np.random.default_rng([7, int(drive)])
    n = 500
    c, p = plain_cooler(n), plain_place(n)
    group = c["group"][:, 0]
    series, parallel = rng.integers(1, 5, n), rng.integers(1, 4, n)
    group["series"], group["parallel"], group["drive"] = series, parallel, drive
    group["lead_ohm"], group["duty"] = rng.uniform(0.0, 0.3, n), rng.uniform(0.2, 1.0, n)
    value = {
        Drive.VOLTAGE: rng.uniform(1, 12, n) * series,
        Drive.CURRENT: rng.uniform(0.2, 4, n) * parallel,
        Drive.POWER: rng.uniform(1, 20, n) * series * parallel,
        Drive.CHOPPED: rng.uniform(4, 12, n) * series,
        Drive.PUMPED: rng.uniform(0.1, 3, n) * series * parallel,
    }[drive]
    group["drive_value"] = value
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    ok = r["status"] == Status.SOLVED
    assert ok.sum() > 200
    found = {name: number[ok] for name, number in outcome(c, p, r).items()}
    module_A, on_V = r["module_A"][ok, 0], r["module_V"][ok, 0]
    on_A = module_A / np.where(drive == Drive.CHOPPED, group["duty"][ok], 1.0)
    assert np.allclose(r["module_A2"][ok, 0], on_A * module_A, rtol=1e-12)
    lift_K = (r["hot_face_K"] - r["cold_face_K"])[ok, 0]
    assert np.allclose(on_V, 0.0513333 * lift_K + 1.984889 * on_A, rtol=1e-12)
    array_V = on_V * series[ok] + on_A * parallel[ok] * group["lead_ohm"][ok]
    kept = {
        Drive.VOLTAGE: array_V,
        Drive.CHOPPED: array_V,
        Drive.CURRENT: found["current_A"],
        Drive.POWER: found["module_power_W"],
        Drive.PUMPED: found["pumped_W"],
    }[drive]
    assert np.allclose(kept, value[ok], rtol=1e-7)
    assert np.allclose(found["current_A"], module_A * parallel[ok], rtol=1e-12)
    assert np.allclose(
        r["leads_W"][ok], r["module_A2"][ok, 0] * parallel[ok] ** 2 * group["lead_ohm"][ok]
    )


def test_flows_are_those_of_the_fans_in_the_state_they_stand_in():
    # Mass flow is volume flow over the specific volume at the fan's inlet (ideal moist air).
    rng = np.random.default_rng(8)
    n = 300
    c, p = plain_cooler(n), plain_place(n)
    for side in ("cold", "hot"):
        c[f"{side}_fan"]["after_sink"] = rng.random(n) < 0.5
        c[f"{side}_fan"]["power_W"] = 6.0
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    for side, source_K, water in (("cold", p["air_K"], 0.003), ("hot", p["outdoor_K"], 0.003)):
        after = c[f"{side}_fan"]["after_sink"] == 1
        inlet_K = np.where(after, r[f"{side}_out_K"][:, 0], source_K)
        volume = 287.042 * inlet_K * (1 + 1.607858 * water) / 101325.0
        assert np.allclose(r[f"{side}_kg_s"], c[f"{side}_fan"]["flow_m3_s"] / volume, rtol=1e-5), (
            side
        )
