"""Air that people breathe: flames beside an exhaust, and sleepers in a tight place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coldwright.findings import Finding
from coldwright.machine.safety.thresholds import (
    FLUE_LIMIT_PA,
    FRESH_AIR_M3_S,
    LEAKAGE_EXPONENT,
    OUTDOOR_CO2_PPM,
    SLEEPER_CO2_M3_S,
)
from coldwright.machine.safety.what_is_known import Asked, Case, Solved, State, caution
from coldwright.physics.leakage import exhaust_allowance
from coldwright.quantities.glossary import display
from coldwright.sheet.check_air import sealed
from coldwright.sheet.library import electrical as el
from coldwright.sheet.models import Box, Room, Sheet

_FLUE = (
    'hot_takes_from = "outdoors" (two ducts) or a large opening for supply air, a carbon monoxide '
    "alarm, and a flue check by a licensed person"
)


@dataclass(frozen=True)
class Advice:
    """Whether something that takes air out of a place, or lets less in, may be advised there."""

    offered: bool
    asks: str
    """What must be done first, and stands beside the advice; empty where nothing must."""


def exhaust_advice(sheet: Sheet) -> Advice:
    """The one rule on advising an exhaust, a unit with one duct, a fan that blows out, or sealing.

    Beside an open flame none of them is advised; where it is not known what burns, it is asked.
    """
    combustion = getattr(sheet.place, "combustion", "none")
    if combustion == "open":
        return Advice(
            False,
            "not beside an open flame, because flue gas with carbon monoxide can come into the "
            "place",
        )
    if combustion == "not known":
        return Advice(
            True,
            "first make sure that nothing burns in the same air, because flue gas with carbon "
            "monoxide can come into the place",
        )
    if combustion == "sealed":
        return Advice(
            True,
            "first let a licensed person check the sealed appliance, and fit a carbon monoxide "
            "alarm, because worn seals leak",
        )
    return Advice(True, "")


def exhausts(sheet: Sheet) -> bool:
    """Whether the cooler blows air of the place outdoors."""
    return sheet.cooler.hot_takes_from == "place" and sheet.cooler.hot_sends_to == "outdoors"


def flame_is_asked(case: Case) -> Iterator[Finding]:
    """An exhaust, and it is not known whether something burns in the same air."""
    if _burning(case, "not known"):
        yield caution(
            case, "CW-SAFE-02", "warning", "place.combustion",
            "It is not known whether something burns in the same air",
            why="An exhaust lowers the pressure and can pull flue gas with carbon monoxide, "
            "which has no smell, into the place",
            action='combustion = "none", "sealed" or "open" after a look at every heater, '
            "stove, water heater and fireplace that shares the air",
        )  # fmt: skip


def sealed_appliance(case: Case) -> Iterator[Finding]:
    """An exhaust beside an appliance that takes its air from outdoors."""
    if _burning(case, "sealed"):
        yield caution(
            case, "CW-SAFE-03", "warning", "place.combustion",
            "A sealed appliance takes its air from outdoors",
            why="Worn seals still leak, and carbon monoxide has no smell",
            action="a carbon monoxide alarm and a check by a licensed person",
        )  # fmt: skip


def flame_without_air(case: Case) -> Iterator[Finding]:
    """An exhaust and an open flame in a place that is said to let no air in at all."""
    if _burning(case, "open") and _sealed(case):
        yield caution(
            case, "CW-SAFE-11", "stop", "place.air_leakage",
            "A sealed place with an exhaust and an open flame",
            allowed="a design that may be built",
            why="The flame and the fan want air that cannot come in: flue gas with carbon "
            "monoxide, which has no smell and kills, is drawn into the place",
            action=_FLUE,
        )  # fmt: skip


def flame_in_the_same_air(case: Case) -> Iterator[Finding]:
    """An exhaust and an open flame, before it is known by how much the pressure falls."""
    if _burning(case, "open") and not _sealed(case):
        yield caution(
            case, "CW-SAFE-04", "warning", "place.combustion",
            "The exhaust takes its air from a place with an open flame",
            why="Where it lowers the pressure by more than 2 Pa it can reverse the flue and bring "
            "carbon monoxide, which has no smell, into the place",
            action="two ducts, a carbon monoxide alarm, and a flue check by a licensed person "
            "before the first run",
        )  # fmt: skip


def flame_beside_exhaust(case: Case, state: State) -> Iterator[Finding]:
    """An open flame, and the exhaust lowers the pressure: refused above the working limit."""
    if not _burning(case, "open"):
        return
    pressure = display("pressure", state.place_pressure_Pa)
    if state.place_pressure_Pa > FLUE_LIMIT_PA:
        yield caution(
            case, "CW-SAFE-01", "stop", "place.combustion",
            f"{pressure} of under-pressure by the exhaust, beside an open flame,",
            allowed="below 2 Pa",
            why="It can reverse the flue and bring carbon monoxide, which has no smell, "
            "into the place: do not run it",
            action=_FLUE,
        )  # fmt: skip
        return
    if "air_leakage" not in case.sheet.place.model_fields_set:
        yield caution(
            case, "CW-SAFE-01", "stop", "place.air_leakage",
            "An exhaust beside an open flame, in a place whose leakage is only assumed,",
            allowed="safe to run",
            why=f"By that assumption the pressure falls by {pressure}; in a tighter place it can "
            "reverse the flue and bring carbon monoxide, which has no smell, into the place: do "
            "not run it",
            action=_FLUE,
        )  # fmt: skip
        return
    yield caution(
        case, "CW-SAFE-04", "warning", "place.combustion",
        f"The exhaust lowers the pressure by {pressure} beside an open flame",
        why="Wind, a kitchen hood or a dryer add to it, and flues differ",
        action="two ducts, a carbon monoxide alarm, and a flue check by a licensed person before "
        "the first run; and say in other_exhausts what else blows air out",
    )  # fmt: skip


def flame_stop(sheet: Sheet, given: str) -> Finding:
    """The stop on an exhaust that by its pressure must not run beside an open flame."""
    return Finding(
        "CW-SAFE-01", "stop", "place.combustion", f"{given}, beside an open flame", "",
        "It can reverse the flue and bring carbon monoxide, which has no smell, into the place: do "
        "not run it",
        _FLUE, sheet.line("place.combustion"), sheet.file,
    )  # fmt: skip


def flame_beside_several_exhausts(case: Case, state: State) -> Iterator[Finding]:
    """An open flame, and this exhaust with the other fans of the house passes the limit."""
    others = case.told.other_exhausts
    if others is None or not _burning(case, "open") or state.exhaust_m3_s <= 0.0:
        return
    together_Pa = pressure_of_several(state.place_pressure_Pa, state.exhaust_m3_s, others.value)
    if state.place_pressure_Pa <= FLUE_LIMIT_PA < together_Pa:
        yield caution(
            case, "CW-SAFE-10", "stop", "safety.other_exhausts",
            f"{display('pressure', together_Pa)} of under-pressure by all fans together, beside an "
            "open flame,",
            allowed="below 2 Pa",
            why="Together they can reverse the flue and bring carbon monoxide, which has no "
            "smell, into the place: do not run it",
            action=_FLUE,
        )  # fmt: skip


def make_up_air(case: Case, state: State) -> Iterator[Finding]:
    """Beside a flame: how large a house must be to do without an opening for what is blown out."""
    place = case.sheet.place
    if not isinstance(place, Room | Box) or place.combustion == "none":
        return
    if not exhausts(case.sheet) or state.exhaust_m3_s <= 0.0:
        return
    if place.combustion == "open" and state.place_pressure_Pa > FLUE_LIMIT_PA:
        return  # refused already, with what to do
    others = case.told.other_exhausts
    together_m3_s = state.exhaust_m3_s + (0.0 if others is None else others.value)
    row = "no flame or sealed" if place.combustion == "sealed" else "one open flue"
    least_m2 = house_that_needs_no_opening_m2(together_m3_s, row)
    if place.length.value * place.width.value >= least_m2:
        return
    beside = {"sealed": "a sealed appliance", "not known": "what may be an open flue"}
    flame = beside.get(place.combustion, "one open flue")
    yield caution(
        case, "CW-SAFE-19", "note", "place.combustion",
        f"{display('flow', together_m3_s)} blown out beside {flame}",
        allowed="right without an opening for outdoor air, unless the whole house has at least "
        f"{least_m2:.0f} m2 of floor",
        why="So one building code counts (Minnesota, table 501.4.1, new dwellings); other places "
        "have other rules",
        action="an opening that brings outdoor air to the exhaust, and what the local code says",
    )  # fmt: skip


def house_that_needs_no_opening_m2(exhaust_m3_s: float, row: str) -> float:
    """Floor area [m2] of a house that by the make-up-air table does without an opening."""
    each_m3_s = float(exhaust_allowance(1.0, el.exhaust_allowance(row).allowance_m_s))
    return exhaust_m3_s / each_m3_s


def pressure_of_several(alone_Pa: float, flow_m3_s: float, others_m3_s: float) -> float:
    """Under-pressure [Pa] when other fans [m3/s] join one that alone makes `alone_Pa`."""
    return float(alone_Pa * ((flow_m3_s + others_m3_s) / flow_m3_s) ** (1.0 / LEAKAGE_EXPONENT))


def sleepers_need_air(case: Case, state: State) -> Iterator[Finding]:
    """People sleep in the place, and less than about 4 L/s of outdoor air come in for each."""
    place = case.sheet.place
    if not isinstance(place, Room | Box) or state.fresh_air_m3_s is None:
        return
    asleep = [
        (at, gain.people)
        for at, gain in enumerate(place.gain)
        if gain.people and gain.activity == "sleeping"
    ]
    sleepers = sum(people for _, people in asleep)
    if not sleepers or state.fresh_air_m3_s >= FRESH_AIR_M3_S * sleepers:
        return
    each_m3_s = state.fresh_air_m3_s / sleepers
    where = "place.gain" + (f"[{asleep[0][0]}]" if len(place.gain) > 1 else "")
    yield caution(
        case, "CW-SAFE-12", "warning", where,
        f"{1e3 * each_m3_s:.1f} L/s of outdoor air for each sleeper",
        allowed="at least about 4 L/s",
        why=f"{_carbon_dioxide(each_m3_s)}; a cooler that only turns the air round brings no "
        "fresh air",
        action="an opening or a small fan that brings outdoor air in, and never a flame in there",
    )  # fmt: skip


def carbon_dioxide_ppm(each_m3_s: float) -> float:
    """Carbon dioxide [ppm] that a sleeper's air levels off at with this outdoor air [m3/s]."""
    return OUTDOOR_CO2_PPM + 1e6 * SLEEPER_CO2_M3_S / each_m3_s


def _carbon_dioxide(each_m3_s: float) -> str:
    if each_m3_s < 1e-4:
        return "The air is used up within hours"
    ppm = round(carbon_dioxide_ppm(each_m3_s), -2)
    return f"Carbon dioxide would level off near {ppm:.0f} parts per million, outdoors it is 420"


def _burning(case: Case, word: str) -> bool:
    place = case.sheet.place
    return isinstance(place, Room | Box) and exhausts(case.sheet) and place.combustion == word


def _sealed(case: Case) -> bool:
    place = case.sheet.place
    return isinstance(place, Room | Box) and sealed(place)


ASKED: tuple[Asked, ...] = (
    flame_is_asked,
    sealed_appliance,
    flame_without_air,
    flame_in_the_same_air,
)
SOLVED: tuple[Solved, ...] = (
    flame_beside_exhaust,
    flame_beside_several_exhausts,
    make_up_air,
    sleepers_need_air,
)
