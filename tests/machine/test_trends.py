"""How a cooler answers to its settings: the truths of the trade that the tool exists to show."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest

from coldwright.machine.cooler import operate
from coldwright.machine.outcome import outcome
from coldwright.machine.records import Drive, End, SinkKind, Status
from tests.machine.designs import plain_cooler, plain_place

psychrolib.SetUnitSystem(psychrolib.SI)


def solved(c, p):
    r = operate(c, p, p["air_K"], p["humidity_ratio"], with_place=False)
    assert np.all(r["status"] == Status.SOLVED)
    return r, outcome(c, p, r)


def fins(c, side):
    """A plate-fin sink of 100 x 100 mm and a fan with a curve."""
    sink = c[f"{side}_sink"][:, 0]
    sink["kind"] = SinkKind.PLATE_FIN
    sink["channels"], sink["gap_m"], sink["fin_height_m"] = 25, 3e-3, 0.03
    sink["length_m"], sink["fin_thickness_m"], sink["fin_conductivity_W_mK"] = 0.1, 1e-3, 200.0
    fan = c[f"{side}_fan"]
    fan["given_flow"], fan["points"] = 0, 3
    fan["curve_flow_m3_s"][:, :3] = np.array([0.0, 100.0, 160.0]) / 3600.0
    fan["curve_pressure_Pa"][:, :3] = [60.0, 35.0, 0.0]


@pytest.mark.practice
@pytest.mark.parametrize("humidity_ratio", [0.003, 0.018])
@pytest.mark.parametrize("after", [0, 1])
def test_a_slower_cold_fan_blows_colder_air_and_moves_no_more_heat(humidity_ratio, after):
    n = 41
    c, p = plain_cooler(n), plain_place(n)
    fins(c, "cold")
    c["cold_fan"]["power_W"], c["cold_fan"]["after_sink"] = 6.0, after
    c["cold_fan"]["speed"] = np.linspace(0.2, 1.0, n)
    p["humidity_ratio"] = humidity_ratio
    _, found = solved(c, p)
    assert np.all(np.diff(found["cold_flow_m3_s"]) > 0.0)
    assert np.all(np.diff(found["cold_outlet_K"]) > 0.0)
    assert np.all(np.diff(found["cooling_W"]) > 0.0)
    # Half the speed costs some of the heat and gives several kelvin at the outlet.
    assert found["cold_outlet_K"][-1] - found["cold_outlet_K"][0] > 3.0


@pytest.mark.practice
def test_net_of_its_own_heat_the_cold_fan_has_a_best_speed():
    n = 81
    c, p = plain_cooler(n), plain_place(n)
    fins(c, "cold")
    c["cold_fan"]["power_W"], c["cold_fan"]["speed"] = 20.0, np.linspace(0.2, 1.0, n)
    r, found = solved(c, p)
    net_W = found["net_cooling_W"]
    best = int(np.argmax(net_W))
    assert 5 < best < n - 5
    assert np.all(np.diff(net_W[: best + 1]) > 0.0)
    assert np.all(np.diff(net_W[best:]) < 0.0)
    # In open air without any exhaust, net is gross less the fan.
    assert np.allclose(net_W, found["cooling_W"] - r["cold_fan_W"], rtol=0, atol=1e-9)


@pytest.mark.published("Qc = S I Tc - I^2 R/2 - K dT: a parabola in the current")
@pytest.mark.parametrize("telluride", [False, True])
def test_beyond_the_best_current_capacity_falls(telluride):
    n = 161
    c, p = plain_cooler(n), plain_place(n)
    group = c["group"][:, 0]
    if telluride:
        group["properties"], group["seebeck"] = 1, 254.0
        group["resistance"], group["conductance"] = 254.0 / 1.225e-3, 254.0 * 1.225e-3
    group["series"] = 4
    group["drive"], group["drive_value"] = Drive.CURRENT, np.linspace(0.1, 8.0, n)
    _, found = solved(c, p)
    best = int(np.argmax(found["cooling_W"]))
    assert 20 < best < n - 20
    assert np.all(np.diff(found["cooling_W"][: best + 1]) > 0.0)
    assert np.all(np.diff(found["cooling_W"][best:]) < 0.0)
    # The best current for COP lies far below.
    assert np.argmax(found["cop_module"]) < 0.5 * best


# Four of the reference modules on one pair of sinks, 35 degC against 25 degC: capacity is largest
# at 11.93 V a module (72.02 W), COP at 2.19 V (1.970), nothing is pumped below 1.24 V. Worked out
# apart from this code for constant air properties; here air's density follows its temperature.
@pytest.mark.published(
    "module equations of the Mechanical Engineers' Handbook; solved apart by scipy"
)
def test_the_hill_over_volts():
    n = 1501
    c, p = plain_cooler(n), plain_place(n)
    volts = np.linspace(1.0, 16.0, n)
    group = c["group"][:, 0]
    group["series"], group["drive_value"] = 4, 4 * volts
    # The same heat capacity rates as in the hand calculation: rho cp = 1.2 x 1006.
    for side, air_K in (("cold", 298.15), ("hot", 308.15)):
        ratio = 1.2 * 287.042 * air_K * (1 + 1.607858 * 0.003) / 101325.0
        ratio *= 1006.0 / (1006.0 + 1860.0 * 0.003)
        c[f"{side}_fan"]["flow_m3_s"] *= ratio
        c[f"{side}_sink"]["reference_flow_m3_s"] *= ratio
    _, found = solved(c, p)
    best = int(np.argmax(found["pumped_W"]))
    assert found["pumped_W"][best] == pytest.approx(72.02, rel=2e-3)
    assert volts[best] == pytest.approx(11.93, abs=0.05)
    best = int(np.argmax(np.where(found["pumped_W"] > 0.0, found["cop_module"], 0.0)))
    assert found["cop_module"][best] == pytest.approx(1.970, rel=3e-3)
    assert volts[best] == pytest.approx(2.19, abs=0.05)
    assert volts[np.argmax(found["pumped_W"] > 0.0)] == pytest.approx(1.24, abs=0.02)


def single_duct(n):
    """Air of the place through the hot sink and out."""
    c, p = plain_cooler(n), plain_place(n)
    c["group"]["series"][:, 0] = 4
    c["group"]["drive_value"][:, 0] = 24.0
    c["hot_takes"], c["hot_sends"] = End.PLACE, End.OUTDOORS
    p["air_K"] = 299.15
    return c, p


@pytest.mark.published("ASHRAE Fundamentals ch. 1: enthalpy of moist air, by psychrolib")
def test_an_exhaust_costs_its_mass_times_the_difference_of_enthalpy():
    n = 25
    c, p = single_duct(n)
    p["outdoor_K"] = np.linspace(288.15, 313.15, n)
    p["outdoor_humidity_ratio"] = np.linspace(0.002, 0.014, n)
    p["humidity_ratio"] = 0.010
    r, found = solved(c, p)
    outdoor_h = psychrolib.GetMoistAirEnthalpy
    expected_W = r["hot_kg_s"] * np.array(
        [
            outdoor_h(out_K - 273.15, out_water) - outdoor_h(26.0, 0.010)
            for out_K, out_water in zip(p["outdoor_K"], p["outdoor_humidity_ratio"], strict=True)
        ]
    )
    total_W = found["infiltration_sensible_W"] + found["infiltration_latent_W"]
    assert np.allclose(total_W, expected_W, rtol=1e-6, atol=1e-6)
    latent_W = r["hot_kg_s"] * 2_501_000.0 * (p["outdoor_humidity_ratio"] - 0.010)
    assert np.allclose(found["infiltration_latent_W"], latent_W, rtol=1e-9, atol=1e-9)
    # Signs are kept: colder, drier outdoor air helps, and is told apart.
    assert total_W[0] < 0.0 < total_W[-1]
    assert np.any((found["infiltration_sensible_W"] > 0.0) & (found["infiltration_latent_W"] < 0.0))
    # Net is what the cold side takes less what comes in; it may fall below nothing.
    assert np.allclose(found["net_cooling_W"], found["cooling_W"] - total_W, rtol=0, atol=1e-8)
    assert found["net_cooling_W"][-1] < 0.0 < found["net_cooling_W"][0]
    # The cold side itself does not care what comes in elsewhere.
    assert np.ptp(found["cooling_W"]) < 1e-6


@pytest.mark.published("ASHRAE Fundamentals ch. 16: fan and natural flows join as root of squares")
def test_natural_leakage_softens_what_an_exhaust_costs():
    # By hand: with as much natural as exhaust flow, sqrt(2) - 1 = 0.414 of the exhaust is added.
    c, p = single_duct(2)
    p["enclosed"], p["leak_m3_s_Pan"] = 1, 1.0
    p["outdoor_humidity_ratio"] = p["humidity_ratio"] = 0.008
    r, _ = solved(c, p)
    volume = 287.042 * p["outdoor_K"] * (1 + 1.607858 * 0.008) / 101325.0
    p["natural_m3_s"] = r["hot_kg_s"] * volume * np.array([1.0, 0.75])
    r, found = solved(c, p)
    added_kg_s = r["hot_kg_s"] * np.array([np.sqrt(2.0) - 1.0, 0.5])
    sensible_W = added_kg_s * (1006.0 + 1860.0 * 0.008) * (p["outdoor_K"] - p["air_K"])
    assert np.allclose(found["infiltration_sensible_W"], sensible_W, rtol=1e-5)
    assert np.allclose(found["infiltration_latent_W"], 0.0, atol=1e-9)


@pytest.mark.published("ASHRAE Fundamentals ch. 16: fan and natural flows join as root of squares")
def test_air_that_is_blown_in_holds_natural_leakage_off():
    # Hot side from outdoors into the place: less comes in by itself than without, so what the
    # cooler adds is negative: sqrt(m^2 + n^2) - m - n, by hand 5 - 4 - 3 = -2 thirds of n.
    c, p = single_duct(1)
    c["hot_takes"], c["hot_sends"] = End.OUTDOORS, End.PLACE
    p["enclosed"] = 1
    r, _ = solved(c, p)
    volume = 287.042 * p["outdoor_K"] * (1 + 1.607858 * 0.003) / 101325.0
    p["natural_m3_s"] = 0.75 * r["hot_kg_s"] * volume
    r, found = solved(c, p)
    assert r["inflow_kg_s"][0] == pytest.approx(0.25 * r["hot_kg_s"][0], rel=1e-5)
    sensible_W = -0.5 * r["hot_kg_s"] * (1006.0 + 1860.0 * 0.003) * 9.0
    assert found["infiltration_sensible_W"][0] == pytest.approx(sensible_W[0], rel=1e-5)


@pytest.mark.published("mixing at constant enthalpy: the share that goes round is not exchanged")
def test_air_drawn_in_again_costs_capacity_and_is_not_counted_twice():
    n = 11
    c, p = plain_cooler(n), plain_place(n)
    c["cold_recirculation"] = np.linspace(0.0, 0.6, n)
    r, found = solved(c, p)
    assert np.all(np.diff(found["cooling_W"]) < 0.0)
    # What the place loses is what the sink takes, whatever goes round.
    assert np.allclose(found["net_cooling_W"], found["cooling_W"], rtol=1e-9)
    fresh_W = (1 - c["cold_recirculation"]) * r["cold_kg_s"] * (1006.0 + 1860.0 * 0.003)
    assert np.allclose(fresh_W * (298.15 - r["cold_outlet_K"]), found["cooling_W"], rtol=1e-9)
