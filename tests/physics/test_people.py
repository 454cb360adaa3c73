"""Heat of people against the handbook's tables."""

import math

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.physics.people import (
    BODY_AREA_M2,
    METABOLIC_RATE_W_M2,
    PERSON_HEAT,
    body_area_dubois,
    metabolic_heat,
    moisture_of_latent,
)

# ASHRAE Fundamentals 2021 (SI), chapter 18, table 1: total, sensible, latent (adjusted), W.
TABLE_1 = [
    ("seated, watching", 105.0, 70.0, 35.0),
    ("seated, very light work", 115.0, 70.0, 45.0),
    ("office work", 130.0, 75.0, 55.0),
    ("standing, light work", 130.0, 75.0, 55.0),
]


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 18, table 1")
@pytest.mark.parametrize(("activity", "total_W", "sensible_W", "latent_W"), TABLE_1)
def test_heat_by_activity(activity, total_W, sensible_W, latent_W):
    person = PERSON_HEAT[activity]
    assert (person.sensible_W, person.latent_W) == (sensible_W, latent_W)
    assert person.sensible_W + person.latent_W == total_W


@pytest.mark.published("ASHRAE Fundamentals 2021 (SI), chapter 9, table 4, times 1.8 m2")
@pytest.mark.parametrize(
    ("activity", "heat_W"), [("sleeping", 72.0), ("reclining", 81.0), ("seated, quiet", 108.0)]
)
def test_metabolic_heat(activity, heat_W):
    found = metabolic_heat(METABOLIC_RATE_W_M2[activity], BODY_AREA_M2)
    assert found == pytest.approx(heat_W, rel=1e-12)


@pytest.mark.published("ASHRAE Fundamentals, chapter 9: standard adult 1.73 m, 70 kg, 1.8 m2")
def test_body_area():
    # "1.8" is one decimal of 1.83.
    assert body_area_dubois(70.0, 1.73) == pytest.approx(1.8, abs=0.05)


@pytest.mark.published("IAPWS-95 heat of evaporation at 0 °C, by CoolProp")
def test_moisture_of_latent():
    evaporation = PropsSI("H", "T", 273.16, "Q", 1, "Water") - PropsSI(
        "H", "T", 273.16, "Q", 0, "Water"
    )
    assert moisture_of_latent(35.0) == pytest.approx(35.0 / evaporation, rel=1e-3)


@pytest.mark.filterwarnings("ignore:.* encountered in")
def test_range_and_shape():
    assert np.isnan(metabolic_heat(np.array([20.0, 700.0, math.nan]), 1.8)).all()
    assert np.isnan(metabolic_heat(60.0, np.array([0.1, 4.0]))).all()
    assert np.isnan(body_area_dubois(np.array([4.0, 300.0, math.nan]), 1.7)).all()
    assert np.isnan(body_area_dubois(70.0, np.array([0.4, 2.6]))).all()
    assert np.isnan(moisture_of_latent(np.array([-1.0, math.nan]))).all()
    assert metabolic_heat(np.full((3, 1), 60.0), np.full(2, 1.8)).shape == (3, 2)
