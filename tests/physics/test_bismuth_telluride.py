"""Bismuth telluride and modules made of its legs."""

from __future__ import annotations

import numpy as np
import pytest

from coldwright.physics import bismuth_telluride as bt

XUAN = "X. C. Xuan et al., Cryogenics 42 (2002) 273-278, as quoted in open research code"

# T [K], Seebeck [uV/K], resistivity [1e-5 ohm m], conductivity [W/m/K], Z [1e-3/K], Thomson [uV/K]
ROWS = [
    (250.0, 192.968, 0.85206, 1.89988, 2.3003, 108.84),
    (273.15, 202.515, 0.96593, 1.75730, 2.4162, 106.39),
    (300.0, 212.259, 1.10643, 1.64740, 2.4718, 100.89),
    (325.0, 220.047, 1.24539, 1.59862, 2.4321, 93.20),
    (350.0, 226.598, 1.39220, 1.60148, 2.3030, 83.04),
]


@pytest.mark.published(XUAN)
@pytest.mark.parametrize(
    ("t_K", "seebeck", "resistivity", "conductivity", "merit", "thomson"), ROWS
)
def test_properties_of_one_leg(t_K, seebeck, resistivity, conductivity, merit, thomson):
    # Worked out from the published coefficients apart from this code; 0.05 %.
    alpha = bt.bismuth_telluride_seebeck(t_K)
    rho = bt.bismuth_telluride_resistivity(t_K)
    k = bt.bismuth_telluride_conductivity(t_K)
    assert alpha * 1e6 == pytest.approx(seebeck, rel=5e-4)
    assert rho * 1e5 == pytest.approx(resistivity, rel=5e-4)
    assert k == pytest.approx(conductivity, rel=5e-4)
    assert alpha**2 / (rho * k) * 1e3 == pytest.approx(merit, rel=5e-4)
    slope = (
        bt.bismuth_telluride_seebeck(t_K + 0.5) - bt.bismuth_telluride_seebeck(t_K - 0.5)
    ) / 1.0
    assert t_K * slope * 1e6 == pytest.approx(thomson, rel=5e-4)


@pytest.mark.published("definition: 254 legs of 1.4 x 1.4 x 1.6 mm in series, by hand; " + XUAN)
def test_a_module_from_its_legs():
    geometry = (1.6e-3, 1.4e-3 * 1.4e-3)
    assert bt.module_seebeck_legs(127.0, 300.0) == pytest.approx(0.053914, rel=5e-4)
    bare_ohm = bt.module_resistance_legs(127.0, *geometry, 0.0, 300.0)
    assert bare_ohm == pytest.approx(2.29416, rel=5e-4)
    assert bt.module_conductance_legs(127.0, *geometry, 300.0) == pytest.approx(0.512573, rel=5e-4)
    # A contact of 1e-10 ohm m2 on both ends of every leg.
    with_contacts_ohm = bt.module_resistance_legs(127.0, *geometry, 1e-10, 300.0)
    assert with_contacts_ohm - bare_ohm == pytest.approx(0.02592, rel=5e-4)


# T [K] -> Seebeck of the national standard [uV/K].
STANDARD = [
    (250.0, -212.740),
    (275.0, -224.092),
    (295.0, -230.030),
    (300.0, -231.032),
    (325.0, -232.872),
    (350.0, -228.938),
    (390.0, -208.970),
]


@pytest.mark.published("NIST SRM 3451 certificate polynomial, as quoted in open laboratory code")
@pytest.mark.parametrize(("temperature_K", "seebeck_uV_K"), STANDARD)
def test_the_national_standard(temperature_K, seebeck_uV_K):
    value = bt.seebeck_standard_nist(temperature_K)
    assert value * 1e6 == pytest.approx(seebeck_uV_K, rel=1e-4)


@pytest.mark.published("NIST SRM 3451: 200 to 235 uV/K near room temperature")
def test_the_mean_leg_lies_near_the_national_standard():
    temperature_K = np.array([285.0, 300.0, 315.0, 330.0])
    leg_V_K = bt.bismuth_telluride_seebeck(temperature_K)
    standard_V_K = np.abs(bt.seebeck_standard_nist(temperature_K))
    assert np.all((leg_V_K > 200e-6) & (leg_V_K < 235e-6))
    assert np.all(np.abs(leg_V_K / standard_V_K - 1.0) < 0.15)


@pytest.mark.parametrize(
    "law",
    [
        bt.bismuth_telluride_seebeck,
        bt.bismuth_telluride_resistivity,
        bt.bismuth_telluride_conductivity,
    ],
)
def test_outside_200_to_400_kelvin_is_nan(law):
    values = law(np.array([199.9, 200.0, 400.0, 400.1, np.nan]))
    assert np.isnan(values).tolist() == [True, False, False, True, True]


def test_the_inner_forms_go_on_smoothly_where_the_laws_stop():
    for law, inner in [
        (bt.bismuth_telluride_seebeck, bt.seebeck_polynomial),
        (bt.bismuth_telluride_resistivity, bt.resistivity_polynomial),
        (bt.bismuth_telluride_conductivity, bt.conductivity_polynomial),
    ]:
        assert inner(300.0) == law(300.0)
        step = inner(400.1) - inner(400.0)
        assert abs(step) < 1e-3 * inner(400.0)
        assert np.isfinite(inner(150.0))


def test_legs_outside_their_range_are_nan():
    with np.errstate(all="ignore"):
        assert np.isnan(bt.module_seebeck_legs(0.0, 300.0))
        assert np.isnan(bt.module_resistance_legs(127.0, 0.0, 1e-6, 0.0, 300.0))
        assert np.isnan(bt.module_resistance_legs(127.0, 1e-3, 1e-6, -1e-10, 300.0))
        assert np.isnan(bt.module_conductance_legs(127.0, 1e-3, 0.0, 300.0))
        assert np.isnan(bt.module_conductance_legs(127.0, 1e-3, 1e-6, 450.0))
        assert np.isnan(bt.seebeck_standard_nist(240.0))
