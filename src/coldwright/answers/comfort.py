"""How the air of a place or of a jet feels to a person: the one door to the comfort library.

Inputs are SI and broadcast: temperatures in kelvin, relative humidity and shares from 0 to 1,
activity in watts per square metre of skin (`MET_W_M2` is one met), clothing in m2 K/W (`CLO_M2K_W`
is one clo). A single number gives a float, arrays give an array. What lies outside an index's range
is NaN, never a guess; `outside_pmv` and `outside_set` say why.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldwright.physics.moist_air import ATMOSPHERE_PA, ZERO_C_K, saturation_pressure

MET_W_M2 = 58.15  # EN ISO 7730: seated, quiet
CLO_M2K_W = 0.155  # EN ISO 7730
SUMMER_CLOTHES_M2K_W = 0.5 * CLO_M2K_W  # short sleeves and light trousers, same standard
STILL_AIR_M_S = 0.1  # ANSI/ASHRAE 55: what counts as still

Numbers = NDArray[np.float64]

# What the indices are made for: argument, least, most, and the range in a reader's units.
_PMV_RANGE = (
    ("air", ZERO_C_K + 10.0, ZERO_C_K + 30.0, "10 to 30\u2009°C"),
    ("surroundings", ZERO_C_K + 10.0, ZERO_C_K + 40.0, "10 to 40\u2009°C"),
    ("air speed", 0.0, 1.0, "up to 1\u2009m/s"),
    ("activity", 0.8 * MET_W_M2, 4.0 * MET_W_M2, "0.8 to 4 met"),
    ("clothing", 0.0, 2.0 * CLO_M2K_W, "up to 2 clo"),
)
_SET_RANGE = (
    ("air", ZERO_C_K + 0.0, ZERO_C_K + 50.0, "0 to 50\u2009°C"),
    ("surroundings", ZERO_C_K + 0.0, ZERO_C_K + 60.0, "0 to 60\u2009°C"),
    ("air speed", 0.0, 3.0, "up to 3\u2009m/s"),
    ("activity", 0.8 * MET_W_M2, 4.0 * MET_W_M2, "0.8 to 4 met"),
    ("clothing", 0.0, 4.0 * CLO_M2K_W, "up to 4 clo"),
)
_MOST_VAPOUR_PA = 2700.0
_LARGEST_VOTE = 2.0
_COLDEST_K, _HOTTEST_K = ZERO_C_K - 30.0, ZERO_C_K + 60.0
_GRACE = 1e-9  # rounding between units


class Vote(NamedTuple):
    """What a large group would say, on average."""

    vote: Any
    """Predicted mean vote (PMV): -2 cool, -1 slightly cool, 0 neutral, 1 slightly warm, 2 warm."""
    dissatisfied: Any
    """Share of people who are dissatisfied (PPD), 0.05 to 1."""


def pmv_ppd(
    air_K: Any,
    radiant_K: Any,
    velocity_m_s: Any,
    relative_humidity: Any,
    metabolic_W_m2: Any = MET_W_M2,
    clothing_m2K_W: Any = SUMMER_CLOTHES_M2K_W,
) -> Vote:
    """Mean vote and share of dissatisfied people in steady, mild air (PMV and PPD).

    NaN outside 10 to 30 °C, above 1 m/s, above 2700 Pa of vapour and where the vote leaves -2 to 2:
    in hot places and in front of fans use `set_temperature`.

    Source: EN ISO 7730:2005, clauses 4 and 5 and Annex D, by the library pythermalcomfort.
    """
    given = _broadcast(
        air_K, radiant_K, velocity_m_s, metabolic_W_m2, clothing_m2K_W, relative_humidity
    )
    fits = _inside(given[:5], _PMV_RANGE) & (given[5] >= 0.0) & (given[5] <= 1.0)
    fits &= given[5] * saturation_pressure(given[0]) <= _MOST_VAPOUR_PA
    vote, dissatisfied = np.full(fits.shape, np.nan), np.full(fits.shape, np.nan)
    if fits.any():
        air, radiant, speed, activity, clothes, humidity = (part[fits] for part in given)
        found = _library().pmv_ppd_iso(
            air - ZERO_C_K,
            radiant - ZERO_C_K,
            speed,
            100.0 * humidity,
            activity / MET_W_M2,
            clothes / CLO_M2K_W,
            limit_inputs=False,
            round_output=False,
        )
        valid = np.abs(found.pmv) <= _LARGEST_VOTE
        vote[fits] = np.where(valid, found.pmv, np.nan)
        dissatisfied[fits] = np.where(valid, np.asarray(found.ppd) / 100.0, np.nan)
    return Vote(_plain(vote), _plain(dissatisfied))


def set_temperature(
    air_K: Any,
    radiant_K: Any,
    velocity_m_s: Any,
    relative_humidity: Any,
    metabolic_W_m2: Any = MET_W_M2,
    clothing_m2K_W: Any = SUMMER_CLOTHES_M2K_W,
    pressure_Pa: Any = ATMOSPHERE_PA,
) -> Any:
    """Standard effective temperature (SET) [K]: one figure for warmth, moisture, wind and clothes.

    The even temperature of a still, half-damp room in which the same body would lose the same heat
    with the same share of wet skin. Holds in hot, moving air. NaN outside 0 to 50 °C, 3 m/s, 0.8 to
    4 met and 4 clo; the standard's own table of tests ends at 40 °C, what lies above is the same
    model of the body carried on.

    Source: A. P. Gagge, A. P. Fobelets and L. G. Berglund, ASHRAE Transactions 92, 1986;
    ANSI/ASHRAE Standard 55, by the library pythermalcomfort.
    """
    given = _broadcast(
        air_K,
        radiant_K,
        velocity_m_s,
        metabolic_W_m2,
        clothing_m2K_W,
        relative_humidity,
        pressure_Pa,
    )
    found = np.full(given[0].shape, np.nan)
    fits = _fits_set(given)
    if fits.any():
        found[fits] = _set(*(part[fits] for part in given), stirred=True)
    return _plain(found)


def feels_like(
    air_K: Any,
    radiant_K: Any,
    velocity_m_s: Any,
    relative_humidity: Any,
    metabolic_W_m2: Any = MET_W_M2,
    clothing_m2K_W: Any = SUMMER_CLOTHES_M2K_W,
    pressure_Pa: Any = ATMOSPHERE_PA,
    still_humidity: Any = None,
) -> Any:
    """Temperature [K] of a still room, walls included, that would feel the same to this person.

    "The room stays at 31 °C, but in the jet it feels like 28 °C": both are temperatures of still
    air for the same person in the same clothes. `still_humidity` is that of the room it is compared
    with; left out, that of the air given. `velocity_m_s` is the speed along the body: what its own
    movement stirs up is not added a second time, as the standard does it for the cooling effect.
    NaN as in `set_temperature`, and where no still room from -30 to 60 °C feels like it.

    Source: equal standard effective temperature, ANSI/ASHRAE Standard 55 (as in its cooling effect
    of air speed), by the library pythermalcomfort.
    """
    given = _broadcast(
        air_K,
        radiant_K,
        velocity_m_s,
        metabolic_W_m2,
        clothing_m2K_W,
        relative_humidity,
        pressure_Pa,
        relative_humidity if still_humidity is None else still_humidity,
    )
    found = np.full(given[0].shape, np.nan)
    fits = _fits_set(given[:7]) & (given[7] >= 0.0) & (given[7] <= 1.0)
    if fits.any():
        here = [part[fits] for part in given]
        target = _set(*here[:7])
        still = np.full(target.shape, STILL_AIR_M_S)

        def surplus(kelvin: Numbers) -> Numbers:
            return _set(kelvin, kelvin, still, here[3], here[4], here[7], here[6]) - target

        found[fits] = _bisected(
            surplus, np.full(target.shape, _COLDEST_K), np.full(target.shape, _HOTTEST_K)
        )
    return _plain(found)


def cooling_effect(
    air_K: Any,
    radiant_K: Any,
    velocity_m_s: Any,
    relative_humidity: Any,
    metabolic_W_m2: Any = MET_W_M2,
    clothing_m2K_W: Any = SUMMER_CLOTHES_M2K_W,
    pressure_Pa: Any = ATMOSPHERE_PA,
) -> Any:
    """Kelvins that air and walls could be cooler in still air to feel as they do in this wind [K].

    What a fan is worth. Negative where moving air heats: hotter and damper than skin. 0 at and
    below 0.1 m/s. NaN as in `set_temperature`. `velocity_m_s` is the speed along the body, as in
    `feels_like`.

    Source: ANSI/ASHRAE Standard 55, cooling effect of elevated air speed, by the standard effective
    temperature of the library pythermalcomfort.
    """
    given = _broadcast(
        air_K,
        radiant_K,
        velocity_m_s,
        metabolic_W_m2,
        clothing_m2K_W,
        relative_humidity,
        pressure_Pa,
    )
    found = np.full(given[0].shape, np.nan)
    fits = _fits_set(given)
    found[fits & (given[2] <= STILL_AIR_M_S)] = 0.0
    fits &= given[2] > STILL_AIR_M_S
    if fits.any():
        here = [part[fits] for part in given]
        target = _set(*here)
        still = np.full(target.shape, STILL_AIR_M_S)

        def surplus(drop: Numbers) -> Numbers:
            return target - _set(here[0] - drop, here[1] - drop, still, *here[3:])

        shape = target.shape
        found[fits] = _bisected(surplus, np.full(shape, -20.0), np.full(shape, 40.0))
    return _plain(found)


def outside_pmv(
    air_K: float,
    radiant_K: float,
    velocity_m_s: float,
    relative_humidity: float,
    metabolic_W_m2: float = MET_W_M2,
    clothing_m2K_W: float = SUMMER_CLOTHES_M2K_W,
) -> list[str]:
    """Why `pmv_ppd` gives nothing here, in words; empty where it does.

    The last reason is the vote itself: colder than cool, or hotter than warm.
    """
    given = (air_K, radiant_K, velocity_m_s, metabolic_W_m2, clothing_m2K_W)
    reasons = _reasons(given, _PMV_RANGE, relative_humidity)
    if reasons:
        return reasons
    if relative_humidity * float(saturation_pressure(air_K)) > _MOST_VAPOUR_PA:
        return ["moisture is outside what the mean vote is made for: up to 2700 Pa of vapour"]
    found = pmv_ppd(
        air_K, radiant_K, velocity_m_s, relative_humidity, metabolic_W_m2, clothing_m2K_W
    )
    return ["the vote is beyond cool or warm (-2 to 2)"] if np.isnan(found.vote) else []


def outside_set(
    air_K: float,
    radiant_K: float,
    velocity_m_s: float,
    relative_humidity: float,
    metabolic_W_m2: float = MET_W_M2,
    clothing_m2K_W: float = SUMMER_CLOTHES_M2K_W,
) -> list[str]:
    """Why `set_temperature` and its kin give nothing here, in words; empty where they do."""
    given = (air_K, radiant_K, velocity_m_s, metabolic_W_m2, clothing_m2K_W)
    return _reasons(given, _SET_RANGE, relative_humidity)


def _library() -> Any:
    # Costs a second to import, so only where a person is asked about.
    from pythermalcomfort import models  # type: ignore[import-untyped]

    return models


def _set(
    air: Numbers,
    radiant: Numbers,
    speed: Numbers,
    activity: Numbers,
    clothes: Numbers,
    humidity: Numbers,
    pressure: Numbers,
    *,
    stirred: bool = False,
) -> Numbers:
    found = _library().set_tmp(
        air - ZERO_C_K,
        radiant - ZERO_C_K,
        speed,
        100.0 * humidity,
        activity / MET_W_M2,
        clothes / CLO_M2K_W,
        p_atm=pressure,
        # Without the air that an active body stirs up by itself.
        calculate_ce=not stirred,
        limit_inputs=False,
        round_output=False,
    )
    return np.asarray(found.set, dtype=float) + ZERO_C_K


def _fits_set(given: list[Numbers]) -> NDArray[np.bool_]:
    # The model knows no pressure far from the ground's.
    fits = _inside(given[:5], _SET_RANGE) & (given[5] >= 0.0) & (given[5] <= 1.0)
    return fits & (given[6] >= 40e3) & (given[6] <= 120e3)


def _inside(
    given: list[Numbers], ranges: tuple[tuple[str, float, float, str], ...]
) -> NDArray[np.bool_]:
    fits = np.ones(given[0].shape, dtype=bool)
    for part, (_, least, most, _) in zip(given, ranges, strict=True):
        fits &= (part >= least - _GRACE) & (part <= most + _GRACE)
    return fits


def _reasons(
    given: tuple[float, ...],
    ranges: tuple[tuple[str, float, float, str], ...],
    relative_humidity: float,
) -> list[str]:
    reasons = [
        f"{name} is outside what the index is made for: {words}"
        for number, (name, least, most, words) in zip(given, ranges, strict=True)
        if not least - _GRACE <= number <= most + _GRACE
    ]
    if not 0.0 <= relative_humidity <= 1.0:
        reasons.append("humidity is not between dry and saturated")
    return reasons


def _bisected(function: Any, low: Numbers, high: Numbers) -> Numbers:
    """Where a rising function is zero, to a tenth of a millikelvin; NaN where it is not between."""
    between = (function(low) <= 0.0) & (function(high) >= 0.0)
    for _ in range(20):
        middle = 0.5 * (low + high)
        below = function(middle) < 0.0
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.where(between, 0.5 * (low + high), np.nan)


def _broadcast(*given: Any) -> list[Numbers]:
    return [
        np.array(part, dtype=float)
        for part in np.broadcast_arrays(*(np.asarray(each, dtype=float) for each in given))
    ]


def _plain(found: Numbers) -> Any:
    return float(found) if found.ndim == 0 else found
