"""Whole plate-fin sinks against two textbook methods."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics import plate_fin as pf
from coldwright.physics.channel_flow import nusselt_channel_teertstra
from coldwright.physics.fin import fin_efficiency

CULHAM = "Teertstra et al. 2000; Culham and Muzychka, IEEE Trans. CPT 24 (2001) 159-165"
STEPHAN = "K. Stephan, Chemie Ingenieur Technik 31 (1959) 773-778 (from memory)"

NU, K_AIR, PRANDTL, DENSITY, CP = 1.589e-5, 0.0263, 0.707, 1.161, 1007.0
AIR = (DENSITY, NU * DENSITY, K_AIR, PRANDTL, CP)
# 100 x 100 mm base, 21 fins of 1 mm, 30 mm high: 20 channels of 3.95 mm.
SINK = (20.0, 3.95e-3, 0.030, 0.100, 1.0e-3)
BOTH = [pf.plate_fin_conductance_stephan, pf.plate_fin_conductance_teertstra]


def _inlet_resistance(conductance_W_K, flow_m3_s):
    capacity_W_K = flow_m3_s * DENSITY * CP
    return 1.0 / (capacity_W_K * -np.expm1(-conductance_W_K / capacity_W_K))


@pytest.mark.published(CULHAM)
@pytest.mark.parametrize(("flow_m3_h", "resistance"), [(20.0, 0.3434), (40.0, 0.2596)])
def test_teertstra_with_the_faces_inside_the_channels(flow_m3_h, resistance):
    flow_m3_s = flow_m3_h / 3600.0
    found = pf.plate_fin_conductance_teertstra(flow_m3_s, *SINK, 200.0, *AIR)
    assert _inlet_resistance(found, flow_m3_s) == pytest.approx(resistance, rel=3e-4)


@pytest.mark.published(CULHAM)
@pytest.mark.parametrize(
    ("flow_m3_h", "speed", "film", "efficiency", "resistance"),
    [(20.0, 2.344, 24.296, 0.9330, 0.3281), (40.0, 4.688, 32.829, 0.9119, 0.2480)],
)
def test_teertstra_with_all_fin_faces(flow_m3_h, speed, film, efficiency, resistance):
    # The published worked form counts the two outermost faces too: 21 fins, 20 gaps.
    _, gap_m, height_m, length_m, thickness_m = SINK
    speed_m_s = flow_m3_h / 3600.0 / (20.0 * gap_m * height_m)
    assert speed_m_s == pytest.approx(speed, rel=1e-3)
    channel_reynolds = speed_m_s * gap_m / NU * gap_m / length_m
    found_film = nusselt_channel_teertstra(channel_reynolds, PRANDTL) * K_AIR / gap_m
    assert found_film == pytest.approx(film, rel=5e-3)
    found_efficiency = fin_efficiency(found_film, height_m, thickness_m, 200.0)
    assert found_efficiency == pytest.approx(efficiency, rel=5e-3)
    area_m2 = 20.0 * gap_m * length_m + 2.0 * height_m * length_m * 21.0 * found_efficiency
    assert 1.0 / (found_film * area_m2) == pytest.approx(resistance, rel=3e-4)


@pytest.mark.published(STEPHAN)
@pytest.mark.parametrize(("flow_m3_h", "resistance"), [(20.0, 0.3547), (40.0, 0.2744)])
def test_stephan_of_the_same_sink(flow_m3_h, resistance):
    # 40 m3/h is a Reynolds number of 2331: the blend has hardly begun.
    flow_m3_s = flow_m3_h / 3600.0
    found = pf.plate_fin_conductance_stephan(flow_m3_s, *SINK, 200.0, *AIR)
    assert _inlet_resistance(found, flow_m3_s) == pytest.approx(resistance, rel=3e-4)


@pytest.mark.published(CULHAM + "; " + STEPHAN)
def test_the_two_methods_agree_within_their_stated_error():
    flows_m3_s = np.linspace(8.0, 40.0, 9) / 3600.0
    one = pf.plate_fin_conductance_stephan(flows_m3_s, *SINK, 200.0, *AIR)
    other = pf.plate_fin_conductance_teertstra(flows_m3_s, *SINK, 200.0, *AIR)
    resistances = _inlet_resistance(one, flows_m3_s) / _inlet_resistance(other, flows_m3_s)
    assert np.all(np.abs(resistances - 1.0) < 0.15)


@pytest.mark.published(CULHAM + ": developing friction, Kc 0.42 (1 - s^2), Ke (1 - s^2)^2")
@pytest.mark.parametrize(("flow_m3_h", "drop_Pa"), [(20.0, 6.33), (40.0, 17.9)])
def test_pressure_drop_of_the_same_sink(flow_m3_h, drop_Pa):
    found = pf.plate_fin_pressure_drop(flow_m3_h / 3600.0, *SINK, *AIR[:2])
    assert found == pytest.approx(drop_Pa, rel=0.03)


@pytest.mark.published("plane Poiseuille flow, dp = 12 mu V L / b^2, any handbook")
def test_slow_flow_between_long_wide_plates():
    gap_m, height_m, length_m, speed_m_s = 1e-3, 1.0, 3.0, 0.2
    flow_m3_s = speed_m_s * gap_m * height_m
    found = pf.plate_fin_pressure_drop(flow_m3_s, 1.0, gap_m, height_m, length_m, 1e-9, *AIR[:2])
    exact_Pa = 12.0 * AIR[1] * speed_m_s * length_m / gap_m**2
    # The gap is a thousandth of the height: 0.14 % less friction than between endless plates.
    assert found == pytest.approx(exact_Pa, rel=2e-3)


# Against: first law: air cannot leave warmer than the base, R >= 1 / (m cp).
@pytest.mark.parametrize(("flow_m3_h", "least"), [(10.0, 0.308), (20.0, 0.154), (40.0, 0.077)])
@pytest.mark.parametrize("law", BOTH)
def test_resistance_to_the_incoming_air_has_a_floor(law, flow_m3_h, least):
    flow_m3_s = flow_m3_h / 3600.0
    assert 1.0 / (flow_m3_s * DENSITY * CP) == pytest.approx(least, rel=3e-3)
    found = law(flow_m3_s, *SINK, 200.0, *AIR)
    assert _inlet_resistance(found, flow_m3_s) > least


def test_teertstra_refuses_flows_so_small_that_it_breaks_the_first_law():
    # At 1 m3/h its film would warm the air beyond the base.
    assert np.isnan(pf.plate_fin_conductance_teertstra(1.0 / 3600.0, *SINK, 200.0, *AIR))
    assert np.isfinite(pf.plate_fin_conductance_stephan(1.0 / 3600.0, *SINK, 200.0, *AIR))


@settings(deadline=None)  # the first call may compile
@given(st.floats(1e-3, 6e-3), st.floats(0.01, 0.06), st.floats(0.03, 0.4))
def test_conductance_and_pressure_rise_from_zero_without_a_jump(gap_m, height_m, length_m):
    sink = (20.0, gap_m, height_m, length_m, 0.8e-3)
    # Up to a Reynolds number of 15000 on twice the gap.
    most_m3_s = 15000.0 * NU / (2.0 * gap_m) * 20.0 * gap_m * height_m
    flows_m3_s = np.linspace(0.0, most_m3_s, 3001)
    conductance = pf.plate_fin_conductance_stephan(flows_m3_s, *sink, 200.0, *AIR)
    pressure = pf.plate_fin_pressure_drop(flows_m3_s, *sink, *AIR[:2])
    for values in (conductance, pressure):
        assert values[0] == 0.0
        assert np.all(np.isfinite(values))
        assert np.all(np.diff(values) > 0.0)
    # No jump: no step is more than 2 % of the whole, but for the rise out of zero.
    assert np.all(np.diff(conductance)[60:] < 0.02 * conductance[-1])
    assert np.all(np.diff(pressure) < 0.02 * pressure[-1])


def test_at_very_small_flows_the_air_still_reaches_the_base():
    flows_m3_s = np.geomspace(1e-12, 1e-5, 50)
    conductance = pf.plate_fin_conductance_stephan(flows_m3_s, *SINK, 200.0, *AIR)
    reached = -np.expm1(-conductance / (flows_m3_s * DENSITY * CP))
    assert reached[:40] == pytest.approx(1.0, abs=1e-12)
    assert np.all(np.diff(conductance) > 0.0)


def test_better_fins_conduct_more():
    base = pf.plate_fin_conductance_stephan(0.01, *SINK, 200.0, *AIR)
    for changed in (
        (24.0, 3.95e-3, 0.030, 0.100, 1.0e-3),
        (20.0, 3.95e-3, 0.030, 0.120, 1.0e-3),
        (20.0, 3.95e-3, 0.030, 0.100, 1.5e-3),
    ):
        assert pf.plate_fin_conductance_stephan(0.01, *changed, 200.0, *AIR) > base
    assert pf.plate_fin_conductance_stephan(0.01, *SINK, 380.0, *AIR) > base


def test_outside_their_range_is_nan_and_shapes_broadcast():
    with np.errstate(all="ignore"):
        for law in BOTH:
            assert np.isnan(law(-0.01, *SINK, 200.0, *AIR))
            assert np.isnan(law(0.005, *SINK, 0.0, *AIR))
            assert np.isnan(law(np.nan, *SINK, 200.0, *AIR))
            assert law([[0.004], [0.005]], *SINK, [150.0, 200.0, 380.0], *AIR).shape == (2, 3)
        assert np.isnan(pf.plate_fin_conductance_teertstra(0.05, *SINK, 200.0, *AIR))
        assert np.isnan(pf.plate_fin_pressure_drop(-0.01, *SINK, *AIR[:2]))
        assert np.isnan(pf.plate_fin_pressure_drop(0.01, *SINK, 0.0, 1.8e-5))
