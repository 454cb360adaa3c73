"""Sinks in the compiled code: the registry and the switch are one, tables and numbers by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from coldwright.machine.air_path import fan_pressure, operating_flow
from coldwright.machine.records import DUCT, FAN, SINK, SinkKind
from coldwright.machine.sinks import (
    CORRELATIONS,
    conductance_of_resistance,
    interpolate,
    sink_conductance,
    sink_pressure,
)
from coldwright.physics.plate_fin import plate_fin_pressure_drop

# Air near 30 degC: dry air per volume, humid heat, viscosity, conductivity, Prandtl number, then
# density.
AIR = (1.15, 1015.0, 1.87e-5, 0.0264, 0.707, 1.16)
SHAPE = (20.0, 3.95e-3, 0.03, 0.1, 1e-3, 200.0)


def plate_fin(code):
    sink = np.zeros(1, dtype=SINK)[0]
    sink["kind"], sink["correlation"] = SinkKind.PLATE_FIN, code
    for name, value in zip(
        ("channels", "gap_m", "fin_height_m", "length_m", "fin_thickness_m",
         "fin_conductivity_W_mK"), SHAPE, strict=True,
    ):  # fmt: skip
        sink[name] = value
    sink["conductance_ratio"] = sink["pressure_ratio"] = 1.0
    return sink


def called(law, flow_m3_s):
    _, heat, viscosity, conductivity, prandtl, density = AIR
    return law(flow_m3_s, *SHAPE, density, viscosity, conductivity, prandtl, heat)


@pytest.mark.parametrize(("code", "name"), list(enumerate(CORRELATIONS)))
def test_a_code_of_the_switch_is_its_entry_in_the_registry(code, name):
    sink = plate_fin(code)
    for flow_m3_h in (8.0, 20.0, 35.0, 55.0):
        flow = flow_m3_h / 3600.0
        assert sink_conductance(sink, flow, *AIR) == float(called(CORRELATIONS[name], flow))


def test_the_codes_do_not_all_give_the_same():
    flow = 30.0 / 3600.0
    found = {sink_conductance(plate_fin(code), flow, *AIR) for code in range(len(CORRELATIONS))}
    assert len(found) == len(CORRELATIONS)


@pytest.mark.parametrize("name", list(CORRELATIONS))
def test_every_correlation(name):
    law = CORRELATIONS[name]
    flows = np.linspace(5.0, 55.0, 40) / 3600.0
    found = called(law, flows)
    # Positive, and rising with the flow, but never more than the air's capacity carries.
    assert np.all(found > 0.0)
    assert np.all(np.diff(found) > 0.0)
    # Shapes broadcast.
    assert np.shape(called(law, flows[0])) == ()
    assert called(law, flows.reshape(4, 10)).shape == (4, 10)
    # Outside of what it was made for there is no number; what is not known stays unknown.
    assert np.isnan(called(law, -1e-3))
    assert np.isnan(called(law, math.nan))
    bad = [*SHAPE]
    bad[1] = 0.0
    _, heat, viscosity, conductivity, prandtl, density = AIR
    assert np.isnan(law(0.01, *bad, density, viscosity, conductivity, prandtl, heat))
    for part in ("Source:", "Error:", "Checked against:"):
        assert part in law.__doc__


@pytest.mark.parametrize("code", range(len(CORRELATIONS)))
def test_the_stated_error_of_a_sink_scales_it(code):
    sink = plate_fin(code)
    plain, drop = sink_conductance(sink, 0.01, *AIR), sink_pressure(sink, 0.01, 1.16, 1.87e-5)
    sink["conductance_ratio"], sink["pressure_ratio"] = 0.9, 1.2
    assert sink_conductance(sink, 0.01, *AIR) == pytest.approx(0.9 * plain, rel=1e-14)
    assert sink_pressure(sink, 0.01, 1.16, 1.87e-5) == pytest.approx(1.2 * drop, rel=1e-14)


def test_the_pressure_of_fins_is_the_law_s():
    found = sink_pressure(plate_fin(0), 0.01, 1.16, 1.87e-5)
    assert found == float(plate_fin_pressure_drop(0.01, *SHAPE[:5], 1.16, 1.87e-5))


# With R to the incoming air: NTU = -ln(1 - 1/(R m cp)). By hand, m cp = 20 W/K and R = 0.1 K/W:
# the air takes 10 W a kelvin of its 20, so NTU = ln 2 and UA = 13.863 W/K.
@pytest.mark.published("effectiveness of a sink at one temperature, 1 - exp(-NTU), by hand")
def test_a_resistance_to_the_incoming_air():
    assert conductance_of_resistance(0.1, 20.0) == pytest.approx(20.0 * math.log(2.0), rel=1e-14)
    # No sink is better than 1/(m cp).
    assert math.isnan(conductance_of_resistance(0.05, 20.0))
    assert math.isnan(conductance_of_resistance(0.04, 20.0))


def test_a_one_number_sink_at_another_flow():
    sink = np.zeros(1, dtype=SINK)[0]
    sink["resistance_K_W"], sink["reference_flow_m3_s"], sink["flow_exponent"] = 0.2, 0.02, 0.5
    sink["conductance_ratio"] = 1.0
    at_reference = sink_conductance(sink, 0.02, *AIR)
    rate_W_K = 0.02 * AIR[0] * AIR[1]
    assert at_reference == pytest.approx(-rate_W_K * math.log(1.0 - 5.0 / rate_W_K), rel=1e-14)
    assert sink_conductance(sink, 0.08, *AIR) == pytest.approx(2.0 * at_reference, rel=1e-14)


def table():
    sink = np.zeros(1, dtype=SINK)[0]
    sink["kind"], sink["points"] = SinkKind.TABLE, 3
    sink["table_flow_m3_s"][:3] = [0.01, 0.02, 0.04]
    sink["table_conductance_W_K"][:3] = [4.0, 7.0, 9.0]
    sink["table_pressure_Pa"][:3] = [5.0, 20.0, 70.0]
    sink["conductance_ratio"] = sink["pressure_ratio"] = 1.0
    return sink


def test_a_table_is_read_in_straight_lines():
    sink = table()
    flows = np.linspace(0.01, 0.04, 13)
    expected = np.interp(flows, [0.01, 0.02, 0.04], [4.0, 7.0, 9.0])
    assert [sink_conductance(sink, flow, *AIR) for flow in flows] == pytest.approx(list(expected))
    expected = np.interp(flows, [0.01, 0.02, 0.04], [5.0, 20.0, 70.0])
    found = [sink_pressure(sink, flow, 1.2, 1.8e-5) for flow in flows]
    assert found == pytest.approx(list(expected))


def test_beyond_its_rows_a_table_goes_on_sensibly():
    sink = table()
    # No air, no heat and no pressure; at more than the last flow, pressure as its square.
    assert sink_conductance(sink, 0.0025, *AIR) == pytest.approx(2.0)
    assert sink_pressure(sink, 0.005, 1.2, 1.8e-5) == pytest.approx(1.25)
    assert sink_conductance(sink, 0.08, *AIR) == pytest.approx(9.0)
    assert sink_pressure(sink, 0.08, 1.2, 1.8e-5) == pytest.approx(280.0)


@pytest.mark.published("numpy.interp")
def test_interpolation():
    rng = np.random.default_rng(1)
    for _ in range(50):
        xs, ys = np.sort(rng.random(5)), rng.normal(size=5)
        for x in rng.uniform(-0.2, 1.2, 20):
            assert interpolate(5, xs, ys, x) == pytest.approx(np.interp(x, xs, ys), abs=1e-12)


def fan(speed=1.0):
    one = np.zeros(1, dtype=FAN)[0]
    one["points"], one["speed"] = 3, speed
    one["curve_flow_m3_s"][:3] = [0.0, 0.03, 0.06]
    one["curve_pressure_Pa"][:3] = [60.0, 40.0, 0.0]
    return one


@pytest.mark.published("fan laws (affinity): flow with speed, pressure with its square and density")
def test_fan_laws():
    full, half = fan(), fan(0.5)
    assert fan_pressure(full, 0.03, 1.2) == pytest.approx(40.0)
    assert fan_pressure(half, 0.015, 1.2) == pytest.approx(10.0)
    assert fan_pressure(half, 0.015, 0.9) == pytest.approx(7.5)


@pytest.mark.published("fan curve against p = a V^2, crossed by hand")
def test_the_flow_is_where_fan_and_path_meet():
    # Path of 40 Pa at 0.03 m3/s: it crosses just at the curve's knee.
    sinks = np.zeros(1, dtype=SINK)
    sinks["pressure_ratio"], sinks["pressure_Pa_s2_m6"] = 1.0, 40.0 / 0.03**2
    duct = np.zeros(1, dtype=DUCT)[0]
    flow = operating_flow(fan(), sinks, 1, duct, 0.0, 0.65, 1.2, 1.8e-5, 0.0, 0.0)[0]
    assert flow == pytest.approx(0.03, rel=1e-9)
    # At half the speed the same path takes half the flow.
    flow = operating_flow(fan(0.5), sinks, 1, duct, 0.0, 0.65, 1.2, 1.8e-5, 0.0, 0.0)[0]
    assert flow == pytest.approx(0.015, rel=1e-9)
    # Without any path: the free flow. Standing still: none.
    sinks["pressure_Pa_s2_m6"] = 0.0
    assert operating_flow(fan(), sinks, 1, duct, 0.0, 0.65, 1.2, 1.8e-5, 0.0, 0.0)[
        0
    ] == pytest.approx(0.06)
    assert operating_flow(fan(0.0), sinks, 1, duct, 0.0, 0.65, 1.2, 1.8e-5, 0.0, 0.0)[0] == 0.0


@pytest.mark.published("power law of leakage, dp = (V/c)^(1/n), crossed by hand")
def test_an_exhaust_fan_has_to_overcome_the_gaps_of_the_place():
    # c chosen so that the gaps take 40 Pa at 0.03 m3/s with n = 0.5.
    sinks = np.zeros(1, dtype=SINK)
    sinks["pressure_ratio"] = 1.0
    duct = np.zeros(1, dtype=DUCT)[0]
    leak = 0.03 / math.sqrt(40.0)
    flow = operating_flow(fan(), sinks, 1, duct, leak, 0.5, 1.2, 1.8e-5, 0.0, 0.0)[0]
    assert flow == pytest.approx(0.03, rel=1e-9)
