"""Infiltration against the handbook's worked examples, and its heat against CoolProp."""

import numpy as np
import pytest
from CoolProp.CoolProp import HAPropsSI
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.physics.compiled import stated_error
from coldwright.physics.infiltration import (
    STACK_COEFFICIENTS,
    WIND_COEFFICIENTS,
    combined_flow,
    infiltration_basic,
    infiltration_enhanced,
    infiltration_latent,
    infiltration_sensible,
    infiltration_stack,
    infiltration_wind,
)
from coldwright.physics.moist_air import (
    enthalpy,
    humidity_ratio_from_relative,
    humidity_ratio_from_wet_bulb,
    specific_volume,
)

ATMOSPHERE_PA = 101325.0
BTU_H_W = 0.29307107
CFM_M3_S = 0.3048**3 / 60.0
LB_H_KG_S = 0.45359237 / 3600.0
quick = settings(deadline=None)
flows = st.floats(0.0, 1.0)


def _celsius_of_fahrenheit(fahrenheit):
    return (fahrenheit - 32.0) / 1.8


# ASHRAE Fundamentals 2021 (SI), chapter 16, worked examples 2 and 4, both two storeys, class 3:
# area m2, K, m/s, volume m3; printed m3/s, m3/h, air changes per hour.
BASIC_EXAMPLES = [
    (0.0500, 39.0, 6.7, 340.0, 0.0736, 265.0, 0.78),
    (0.0848, 20.0, 3.2, 310.0, 0.077, 276.0, 0.89),
]


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 16, worked examples 2 and 4")
@pytest.mark.parametrize(
    ("area_m2", "difference_K", "wind_m_s", "volume_m3", "m3_s", "m3_h", "per_h"), BASIC_EXAMPLES
)
def test_basic_model(area_m2, difference_K, wind_m_s, volume_m3, m3_s, m3_h, per_h):
    stack, wind = STACK_COEFFICIENTS[2], WIND_COEFFICIENTS[2][3 - 1]
    flow = infiltration_basic(area_m2, difference_K, wind_m_s, stack, wind)
    assert flow == pytest.approx(m3_s, rel=5e-3)
    assert flow * 3600.0 == pytest.approx(m3_h, rel=5e-3)
    assert flow * 3600.0 / volume_m3 == pytest.approx(per_h, rel=5e-3)


# Example 4 to more digits, by hand: 848/1000 sqrt(0.000290 x 20 + 0.000231 x 3.2^2), that is
# 0.848 sqrt(0.00816544).
@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 16, worked example 4, by hand")
def test_example_4_before_it_was_rounded():
    flow = infiltration_basic(0.0848, 20.0, 3.2, 0.000290, 0.000231)
    assert flow == pytest.approx(0.07663, rel=1e-4)
    assert flow * 3600.0 == pytest.approx(275.9, rel=2e-4)
    assert flow * 3600.0 / 310.0 == pytest.approx(0.890, abs=5e-4)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 16, worked example 5")
def test_enhanced_model():
    # Printed: 0.053 and 0.027 m3/s, together 0.059 m3/s, 214 m3/h, 0.63 1/h (rounded on the way,
    # hence 1 %; the wind part is printed cut off, 0.0276 in full).
    wind_m_s = 0.59 * 6.7
    stack = infiltration_stack(0.051, 0.67, 39.0, 0.089)
    wind = infiltration_wind(0.051, 0.67, wind_m_s, 0.64, 0.156)
    flow = infiltration_enhanced(0.051, 0.67, 39.0, wind_m_s, 0.64, 0.089, 0.156)
    assert stack == pytest.approx(0.053, abs=5e-4)
    assert wind == pytest.approx(0.027, abs=1e-3)
    assert flow == pytest.approx(0.059, abs=1e-3)
    assert flow * 3600.0 == pytest.approx(214.0, rel=1e-2)
    assert flow * 3600.0 / 340.0 == pytest.approx(0.63, rel=1e-2)


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 16, equation 51, by hand")
def test_fans_and_leakage_add_in_quadrature():
    assert combined_flow(0.0, 0.03, 0.04) == pytest.approx(0.05, rel=1e-12)
    assert combined_flow(0.02, 0.03, 0.04) == pytest.approx(0.07, rel=1e-12)
    assert combined_flow(0.02, 0.0, 0.04) == pytest.approx(0.06, rel=1e-12)


@quick
@given(flows, flows, flows)
def test_combined_flow_lies_between_the_larger_and_the_sum(balanced, unbalanced, natural):
    flow = combined_flow(balanced, unbalanced, natural)
    assert flow >= balanced + max(unbalanced, natural) - 1e-12
    assert flow <= balanced + unbalanced + natural + 1e-12


@quick
@given(st.floats(-40.0, 40.0), st.floats(0.0, 15.0))
def test_basic_model_ignores_the_sign_and_grows(difference_K, wind_m_s):
    flow = infiltration_basic(0.05, difference_K, wind_m_s, 0.000145, 0.000174)
    assert infiltration_basic(0.05, -difference_K, wind_m_s, 0.000145, 0.000174) == flow
    assert infiltration_basic(0.05, difference_K, wind_m_s + 0.1, 0.000145, 0.000174) > flow


# 10 CFR 430 subpart B appendix CC (from memory), worked in the rule's own units: single duct,
# 250 cfm leaving at 115 F with the humidity of indoor air (80/67 F), outdoors 95/75 F:
# 0.01117 and 0.01406 lb/lb, 1017.1 lb/h of dry air, 3861 + 3123 = 6985 Btu/h (2047 W).
@pytest.mark.published("10 CFR 430 subpart B appendix CC, arithmetic in inch-pound units")
def test_portable_unit_rating_arithmetic():
    room_K, wet_K = (_celsius_of_fahrenheit(f) + 273.15 for f in (80.0, 67.0))
    out_K, out_wet_K = (_celsius_of_fahrenheit(f) + 273.15 for f in (95.0, 75.0))
    leaving_K = _celsius_of_fahrenheit(115.0) + 273.15
    room = humidity_ratio_from_wet_bulb(room_K, wet_K, ATMOSPHERE_PA)
    outdoor = humidity_ratio_from_wet_bulb(out_K, out_wet_K, ATMOSPHERE_PA)
    mass = 250.0 * CFM_M3_S / specific_volume(leaving_K, room, ATMOSPHERE_PA)
    sensible = infiltration_sensible(mass, out_K, room_K, outdoor, room)
    latent = infiltration_latent(mass, outdoor, room)
    assert room == pytest.approx(0.01117, rel=5e-3)
    assert outdoor == pytest.approx(0.01406, rel=5e-3)
    assert mass == pytest.approx(1017.1 * LB_H_KG_S, rel=5e-3)
    # The rule counts the vapour's warmth from 0 °F, we count it from 0 °C: that moves some watts
    # from one part to the other and leaves the sum.
    moved = mass * 1860.0 * (outdoor - room) * (32.0 / 1.8)
    assert sensible + moved == pytest.approx(3861.0 * BTU_H_W, rel=5e-3)
    assert latent - moved == pytest.approx(3123.0 * BTU_H_W, rel=5e-3)
    assert sensible + latent == pytest.approx(2047.0, rel=5e-3)


@pytest.mark.published("CoolProp HAPropsSI (ASHRAE RP-1485)")
@pytest.mark.parametrize(
    ("out_C", "out_RH", "room_C", "room_RH"),
    [(33.0, 0.40, 26.0, 0.50), (35.0, 0.40, 27.0, 0.47), (38.0, 0.15, 25.0, 0.55)],
)
def test_replacement_air_costs_its_enthalpy(out_C, out_RH, room_C, room_RH):
    out = ("T", out_C + 273.15, "R", out_RH, "P", ATMOSPHERE_PA)
    room = ("T", room_C + 273.15, "R", room_RH, "P", ATMOSPHERE_PA)
    real_W = 0.05 * (HAPropsSI("Hda", *out) - HAPropsSI("Hda", *room))
    ratios = HAPropsSI("W", *out), HAPropsSI("W", *room)
    sensible = infiltration_sensible(0.05, out_C + 273.15, room_C + 273.15, *ratios)
    latent = infiltration_latent(0.05, *ratios)
    # The stated error of each part; they may cancel (dry heat against moist room air).
    within_W = stated_error(infiltration_sensible) * abs(sensible)
    within_W += stated_error(infiltration_latent) * abs(latent)
    assert sensible + latent == pytest.approx(real_W, abs=within_W)


@pytest.mark.published(
    "hand calculation: 150 m3/h of room air at 40 °C, 26 °C 50 % against 33 °C 40 %"
)
def test_exhaust_of_room_air_outweighs_a_small_cooler():
    room = humidity_ratio_from_relative(299.15, 0.5, ATMOSPHERE_PA)
    outdoor = humidity_ratio_from_relative(306.15, 0.4, ATMOSPHERE_PA)
    mass = 150.0 / 3600.0 / specific_volume(313.15, room, ATMOSPHERE_PA)
    sensible = infiltration_sensible(mass, 306.15, 299.15, outdoor, room)
    latent = infiltration_latent(mass, outdoor, room)
    assert mass == pytest.approx(0.04619, rel=5e-3)
    assert sensible == pytest.approx(337.6, rel=5e-3)
    assert latent == pytest.approx(244.4, rel=5e-3)


@quick
@given(st.floats(263.0, 318.0), st.floats(263.0, 318.0), st.floats(0.0, 0.03), st.floats(0.0, 0.03))
def test_sensible_and_latent_are_the_enthalpy_difference(out_K, room_K, outdoor, room):
    both = infiltration_sensible(0.1, out_K, room_K, outdoor, room)
    both += infiltration_latent(0.1, outdoor, room)
    difference = enthalpy(out_K, outdoor) - enthalpy(room_K, room)
    assert both == pytest.approx(0.1 * difference, rel=1e-9, abs=1e-8)


@pytest.mark.filterwarnings("ignore:.* encountered in")
@pytest.mark.parametrize(
    ("law", "inside", "outside"),
    [
        (
            infiltration_basic,
            (0.05, 20.0, 3.0, 0.000145, 0.000174),
            [(-0.05, 20.0, 3.0, 0.000145, 0.000174), (0.05, 20.0, -3.0, 0.000145, 0.000174)],
        ),
        (infiltration_stack, (0.05, 0.67, 20.0, 0.089), [(0.05, 0.4, 20.0, 0.089)]),
        (infiltration_wind, (0.05, 0.67, 4.0, 0.6, 0.156), [(0.05, 0.67, 4.0, 1.6, 0.156)]),
        (
            infiltration_enhanced,
            (0.05, 0.67, 20.0, 4.0, 0.6, 0.089, 0.156),
            [
                (0.05, 0.67, 20.0, -4.0, 0.6, 0.089, 0.156),
                (0.05, 1.2, 20.0, 4.0, 0.6, 0.089, 0.156),
            ],
        ),
        (combined_flow, (0.1, 0.1, 0.1), [(-0.1, 0.1, 0.1), (0.1, -0.1, 0.1), (0.1, 0.1, -0.1)]),
        (
            infiltration_sensible,
            (0.1, 306.0, 299.0, 0.01, 0.01),
            [(-0.1, 306.0, 299.0, 0.01, 0.01)],
        ),
        (infiltration_latent, (0.1, 0.012, 0.01), [(0.1, -0.012, 0.01)]),
    ],
)
def test_range_shape_and_missing_values(law, inside, outside):
    assert np.isfinite(law(*inside))
    for arguments in outside:
        assert np.isnan(law(*arguments)), arguments
    for place in range(len(inside)):
        missing = list(inside)
        missing[place] = np.nan
        assert np.isnan(law(*missing))
    column = np.full((3, 1), inside[0])
    assert law(column, *[np.full((1, 2), value) for value in inside[1:]]).shape == (3, 2)
