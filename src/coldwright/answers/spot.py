"""How a person feels in the place and in the cooler's jet, and whether it is a draught."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.answers.scene import Scene
from coldwright.findings import Finding
from coldwright.physics.draught import TURBULENCE_MIXED, draught_rate
from coldwright.physics.jet import JET_FACTORS, jet_centre_difference, jet_velocity
from coldwright.quantities.glossary import display

# Where a fan has no diameter, the mouth of the jet is taken to be so wide [m].
MOUTH_M = 0.10
# Where the sheet does not say how far the person sits [m].
DISTANCE_M = 0.5
# EN ISO 7730:2005: in a place of the middle class at most so many are bothered (from memory).
DRAUGHT_ALLOWED = 0.20
# The draught rate holds from 20 to 26 °C and to 0.5 m/s. What is colder or faster bothers more.
_COLDEST_K, _WARMEST_K, _FASTEST_M_S = 293.15, 299.15, 0.5
# Above 26 °C moving air is a relief, up to a speed at which papers fly: ANSI/ASHRAE 55, air speed
# that nobody controls (from memory).
_PAPERS_FLY_M_S = 0.8
# The standard effective temperature is made for no faster air.
_SET_FASTEST_M_S = 3.0


@dataclass(frozen=True)
class Spot:
    """The middle of the jet where the person sits."""

    distance_m: float
    mouth_m: float
    mouth_assumed: bool
    air_K: float
    velocity_m_s: float
    humidity_ratio: float
    draught: float | None
    """Share of people who call it a draught, who are neither warm nor cold; None above 26 °C."""
    draught_at_least: bool
    """Whether the air is faster or colder than the formula reaches: then it is more than that."""

    @property
    def too_much(self) -> bool:
        """Whether a caution is due."""
        if self.draught is None:
            return self.velocity_m_s > _PAPERS_FLY_M_S
        return self.draught > DRAUGHT_ALLOWED


@dataclass(frozen=True)
class Felt:
    """A seated person in summer clothes, by the standards' indices; None outside their range."""

    where: str
    air_K: float
    velocity_m_s: float
    relative_humidity: float
    mean_vote: float | None
    dissatisfied: float | None
    set_K: float | None
    draught: float | None
    sentence: str


def spot_of(scene: Scene) -> Spot | None:
    """The jet at the judged moment; None where there is none, or nobody to sit in it."""
    point = scene.point
    outlet_K = point.nominal.get("cold_outlet_K")
    if scene.is_box or outlet_K is None or not np.isfinite(outlet_K):
        return None
    fan, asked = scene.sheet.cooler.cold_fan, scene.sheet.goal.spot
    given = None if fan is None else fan.diameter
    mouth_m = MOUTH_M if given is None else given.value
    # Fans side by side make one stream.
    area = np.pi / 4.0 * mouth_m**2 * (1 if fan is None else fan.count)
    distance_m = DISTANCE_M if asked is None else asked.value
    factor = JET_FACTORS["grille"]
    flow, air_K = point.nominal["cold_flow_m3_s"], point.nominal["place_K"]
    drop_K = float(jet_centre_difference(air_K - outlet_K, area, distance_m, factor))
    spot_K, speed = air_K - drop_K, float(jet_velocity(flow, area, distance_m, factor))
    draught = None
    if spot_K <= _WARMEST_K + 1e-9:
        draught = float(
            draught_rate(max(spot_K, _COLDEST_K), min(speed, _FASTEST_M_S), TURBULENCE_MIXED)
        )
    water = float(point.results["place_humidity_ratio"][0])
    return Spot(
        distance_m, mouth_m, given is None, spot_K, speed, water, draught,
        spot_K < _COLDEST_K or speed > _FASTEST_M_S,
    )  # fmt: skip


def felt(scene: Scene, spot: Spot | None, air_K: float, water: float) -> list[Felt]:
    """The place with this cooler in its hottest hour, and the spot in its jet."""
    if not scene.comfort or scene.is_box:
        return []
    found = [_felt(scene, "in the place", air_K, 0.1, scene.humidity(air_K, water), None)]
    if spot is not None:
        humidity = scene.humidity(spot.air_K, spot.humidity_ratio)
        found.append(_felt(scene, "in the jet", spot.air_K, spot.velocity_m_s, humidity, spot))
    return found


def _felt(
    scene: Scene, where: str, air_K: float, speed: float, humidity: float, spot: Spot | None
) -> Felt:
    from coldwright.answers.comfort import outside_pmv, pmv_ppd, set_temperature

    around_K = scene.off_K
    vote, dissatisfied = pmv_ppd(air_K, around_K, speed, humidity)
    effective = float(
        set_temperature(
            air_K, around_K, min(speed, _SET_FASTEST_M_S), humidity, pressure_Pa=scene.pressure_Pa
        )
    )
    start = f"A seated person {where}"
    if spot is not None:
        start += f", {100.0 * spot.distance_m:.0f}\u2009cm from its mouth"
    at = f"{display('place_air_K', air_K)}"
    if spot is not None:
        at += f" and {speed:.1f}\u2009m/s"
    parts = []
    if np.isfinite(vote):
        parts.append(
            f"mean vote {vote:+.1f} ({_word(float(vote))}), {100.0 * dissatisfied:.0f}\u2009% "
            "dissatisfied (PMV, PPD)".replace("-", "−")
        )
    if np.isfinite(effective):
        parts.append(f"standard effective temperature (SET) {display('place_air_K', effective)}")
    if not np.isfinite(vote):
        parts.append("no mean vote: " + "; ".join(outside_pmv(air_K, around_K, speed, humidity)))
    if spot is not None and spot.draught is not None:
        least = "at least " if spot.draught_at_least else ""
        parts.append(f"a draught to {least}{100.0 * spot.draught:.0f}\u2009% of people")

    def known(number: float) -> float | None:
        return float(number) if np.isfinite(number) else None

    return Felt(
        where, air_K, speed, humidity, known(vote), known(dissatisfied), known(effective),
        None if spot is None else spot.draught,
        f"{start} ({at}): {'; '.join(parts)}.",
    )  # fmt: skip


def draught_finding(scene: Scene, spot: Spot | None) -> list[Finding]:
    """The caution, where the jet is too much."""
    if spot is None or not spot.too_much:
        return []
    what = (
        f"The jet reaches the person with {spot.velocity_m_s:.1f}\u2009m/s at "
        f"{display('place_air_K', spot.air_K)}"
    )
    if spot.draught is None:
        why = (
            f"A breeze is welcome in the heat, but above {_PAPERS_FLY_M_S:g}\u2009m/s it dries the "
            "eyes and lifts paper"
        )
    else:
        least = "at least " if spot.draught_at_least else ""
        why = (
            f"Of people who are neither warm nor cold {least}{100.0 * spot.draught:.0f}\u2009% "
            f"would call it a draught on the neck; {100.0 * DRAUGHT_ALLOWED:.0f}\u2009% is the "
            "limit"
        )
    return [
        scene.ready.finding(
            "CW-PERSON-01", "warning", "cooler.cold_fan", what, why=why,
            action="a wider mouth, a slower fan, more distance, or aiming beside the person",
        )
    ]  # fmt: skip


def spot_assumptions(spot: Spot | None, scene: Scene) -> dict[str, str]:
    """What the jet takes for granted, by key of the sheet."""
    if spot is None:
        return {}
    found = {}
    if spot.mouth_assumed:
        found["cooler.cold_fan.diameter"] = f"{1000.0 * MOUTH_M:.0f} mm (mouth of the jet)"
    if scene.sheet.goal.spot is None:
        found["goal.spot"] = f"{DISTANCE_M:g} m"
    return found


def _word(vote: float) -> str:
    words = ("cold", "cool", "slightly cool", "neutral", "slightly warm", "warm", "hot")
    return words[int(np.clip(np.round(vote) + 3, 0, 6))]
