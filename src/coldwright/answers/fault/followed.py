"""One fault followed: what it passes and when, where it ends, and what would have caught it."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.fault.caught import Caught, caught, collected
from coldwright.answers.fault.guards import Guards
from coldwright.answers.fault.kind import Fault, NotFollowedError
from coldwright.answers.fault.limits import MISSED, RUIN, SOLDER_K, Limit, first_passed
from coldwright.answers.fault.start import Start
from coldwright.answers.value import Value, known, value_of
from coldwright.machine.cooler import operate
from coldwright.machine.fault_steps import (
    AIR_K,
    COLD_BASE_K,
    CONDENSATE_KG_S,
    HOT_BASE_K,
    HOTTEST_BASE_K,
    HOTTEST_FACE_K,
    LEADS_A,
    MODULE_A,
    PLUG_W,
    TIME_S,
    follow_fault,
)
from coldwright.machine.faults import modules_off
from coldwright.machine.records import MAX_GROUPS, Status

_FIGURES = {
    "hot_face_K": HOTTEST_FACE_K,
    "hot_sink_K": HOT_BASE_K,
    "cold_sink_K": COLD_BASE_K,
    "place_air_K": AIR_K,
    "plug_power_W": PLUG_W,
    "current_A": LEADS_A,
}
_SHOWN = {
    "time_s": TIME_S, "hot_sink_K": HOT_BASE_K, "hot_face_K": HOTTEST_FACE_K,
    "hottest_sink_K": HOTTEST_BASE_K, "cold_sink_K": COLD_BASE_K, "place_air_K": AIR_K,
    "plug_power_W": PLUG_W, "current_A": LEADS_A, "condensate_kg_s": CONDENSATE_KG_S,
}  # fmt: skip


@dataclass(frozen=True)
class Outcome:
    """What a fault is followed with."""

    start: Start
    tried: Start | None
    limits: list[Limit]
    guards: Guards


@dataclass(frozen=True)
class Reached:
    """A limit that a fault passes."""

    name: str
    limit_K: float
    time_s: Value
    """None: only some of the tries pass it, and the sheet's own values do not."""
    share: float | None
    """Share of the tries that pass it."""
    harm: int
    what: str


@dataclass(frozen=True)
class Followed:
    """One fault from its first moment to its end."""

    name: str
    said: str
    """What was broken, with numbers; where it was not followed, why."""
    refused: bool
    caution: str
    reached: list[Reached] = field(default_factory=list)
    """Limits passed that were not passed before, the worst first."""
    ends: str = ""
    """"levels off", "past the solder" or "runs away"."""
    figures: dict[str, Value] = field(default_factory=dict)
    """Where it ends if nothing stops it (and nothing melts)."""
    most_A: float | None = None
    """Largest current of the array on the way."""
    current_ratio: float | None = None
    """Largest current of one string on the way, over that of the running machine."""
    water_kg: float | None = None
    """Water of the first day, where the fault is about water."""
    place_rise_K: Value | None = None
    """How much warmer the place ends than before the fault; None where its air is given."""
    rise_K_s: float | None = None
    """How fast the hot sink warms at first."""
    caught: list[Caught] = field(default_factory=list)
    caught_by: Caught | None = None
    """The guard that acts first, of those that act at all."""
    in_time: bool = True
    """Whether it acts before anything worse than a missed goal."""
    peak_K: float | None = None
    """Hottest that any face still becomes where the thermal cut-out opens."""
    history: dict[str, list[float]] = field(default_factory=dict)

    @classmethod
    def refusal(cls, fault: Fault, why: str) -> Followed:
        """A fault that cannot happen here, or cannot be followed."""
        return cls(fault.name, why, True, fault.caution)

    @property
    def worst(self) -> Reached | None:
        """The worst limit that the sheet's own values pass."""
        return next((one for one in self.reached if one.time_s.value is not None), None)

    @property
    def harm(self) -> int:
        """How bad it is: of the worst limit passed, 0 for none."""
        harm = 0 if self.worst is None else self.worst.harm
        return harm if self.ends in ("", "levels off") else max(harm, RUIN)

    @property
    def rank(self) -> tuple[Any, ...]:
        """Worst first: harm, then what nothing catches in time, then the sooner."""
        at = np.inf if self.worst is None else self.worst.time_s.value
        return (-self.harm, self.caught_by is not None and self.in_time, at)

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        data = asdict(self)
        data["figures"] = {name: value.to_json() for name, value in self.figures.items()}
        data["place_rise_K"] = None if self.place_rise_K is None else self.place_rise_K.to_json()
        data["reached"] = [{**asdict(one), "time_s": one.time_s.to_json()} for one in self.reached]
        return data


def follow(fault: Fault, of: Outcome) -> Followed:
    """Break the machine and follow it, nominal and in its tries."""
    start = of.start
    try:
        broken = fault.put(start)
    except NotFollowedError as error:
        return Followed.refusal(fault, str(error))
    history, status = _followed(fault, start, broken.coolers)
    if status[0] not in (Status.SOLVED, Status.RUNAWAY) and _without_end(start, broken.coolers):
        # Nothing stores heat, so it is too hot in the first moment.
        status[0] = Status.RUNAWAY
    if status[0] not in (Status.SOLVED, Status.RUNAWAY):
        why = _REASONS.get(Status(int(status[0])), "The equations could not be solved.")
        return Followed.refusal(fault, f"{broken.said} It could not be followed: {why}")
    nominal = history[0][np.isfinite(history[0, :, TIME_S])]
    end = _end(start, broken.coolers, history, status)
    tried_history = tried_end = None
    if of.tried is not None:
        try:
            many = fault.put(of.tried).coolers
            tried_history, tried_status = _followed(fault, of.tried, many)
            tried_end = _end(of.tried, many, tried_history, tried_status)
        except NotFollowedError:  # the nominal case was followed: only its intervals are missing
            tried_history = None
    reached = [
        one for limit in of.limits if (one := _reached(limit, history, tried_history)) is not None
    ]
    asked = [of.guards.by_key[key] for key in fault.guards if key in of.guards.by_key]
    answers = [caught(fault, guard, start, nominal, broken.coolers) for guard in asked]
    begins_s = _harm_begins(reached)
    first = _first(answers, begins_s)
    in_time = first is None or (first.time_s or 0.0) <= begins_s
    figures = {
        name: value_of(end[name][0], None if tried_end is None else tried_end[name])
        for name in _FIGURES
    }
    return Followed(
        name=fault.name,
        said=broken.said,
        refused=False,
        caution=fault.caution,
        reached=reached,
        ends=_ends(status[0], end["hot_face_K"][0]),
        figures=figures,
        most_A=float(np.abs(nominal[:, LEADS_A]).max()),
        current_ratio=_ratio(start, nominal),
        water_kg=collected(nominal, 1.0)[0] if "float switch" in fault.guards else None,
        place_rise_K=_rise(start, of.tried, end, tried_end),
        rise_K_s=_first_rise(nominal),
        caught=answers,
        caught_by=first,
        in_time=in_time,
        peak_K=_peak(fault, of, broken.coolers, answers),
        history={name: nominal[:, column].tolist() for name, column in _SHOWN.items()},
    )


_REASONS = {
    Status.NO_FLOW: "no air at all moves past a sink.",
    Status.OUT_OF_RANGE: "a part gets colder or hotter than the laws reach.",
    Status.SINK_TOO_GOOD: "a sink's number does not hold at so little air.",
}


def _followed(fault: Fault, start: Start, coolers: Any, **more: Any) -> tuple[Any, Any]:
    at_rest = fault.begins == "rest"
    return follow_fault(
        start.coolers, coolers, start.rested if at_rest else start.places, at_rest=at_rest,
        held_start_K=start.held_K, **more,
    )  # fmt: skip


def _end(start: Start, coolers: Any, history: Any, status: Any) -> dict[str, NDArray[np.float64]]:
    """The steady end of each case: solved by itself where there is one, else the last moment."""
    places = start.places
    found = operate(
        coolers, places, places["air_K"], places["humidity_ratio"], with_place=start.enclosed
    )
    count = np.isfinite(history[:, :, TIME_S]).sum(axis=1)
    last = history[np.arange(len(history)), np.maximum(count - 1, 0)]
    solved = (found["status"] == Status.SOLVED) & (status == Status.SOLVED)
    groups, hot = int(coolers["groups"][0]), int(coolers["hot_sinks"][0])
    cold = int(coolers["cold_sinks"][0])
    faces = np.maximum(found["hot_face_K"], found["cold_face_K"])[:, :groups].max(axis=1)
    ends = {
        "hot_face_K": faces,
        "hot_sink_K": found["hot_base_K"][:, :hot].max(axis=1),
        "cold_sink_K": found["cold_base_K"][:, :cold].min(axis=1),
        "place_air_K": found["place_K"],
        "plug_power_W": found["plug_W"],
        "current_A": (found["module_A"] * coolers["group"]["parallel"]).sum(axis=1),
    }
    return {name: np.where(solved, ends[name], last[:, _FIGURES[name]]) for name in ends}


def _without_end(start: Start, coolers: Any) -> bool:
    """Whether the nominal machine with the fault in it has no steady state for it gets too hot."""
    places = start.places
    found = operate(
        coolers, places, places["air_K"], places["humidity_ratio"], with_place=start.enclosed
    )
    return int(found["status"][0]) in (Status.RUNAWAY, Status.OUT_OF_RANGE)


def _reached(limit: Limit, history: Any, tried: Any) -> Reached | None:
    """A limit that this fault passes, in the nominal case or in at least one of twenty tries."""
    at_s = float(first_passed(history, limit)[0])
    share = None
    value = Value(known(at_s))
    if np.isnan(at_s):
        return None  # passed before: not the fault's doing
    if tried is not None:
        times = first_passed(tried, limit)
        times = times[~np.isnan(times)]
        if len(times) >= 20:
            share = float(np.isfinite(times).mean())
            value = value_of(at_s, times)
    if not np.isfinite(at_s) and (share is None or share < 0.05):
        return None
    return Reached(limit.name, limit.limit_K, value, share, limit.harm, limit.what)


def _harm_begins(reached: list[Reached]) -> float:
    """When the worst that a fault does begins [s]; what merely hurts to touch does not count
    where something is destroyed."""
    passed = [one for one in reached if one.time_s.value is not None and one.harm > MISSED]
    if not passed:
        return float(np.inf)
    level = min(max(one.harm for one in passed), RUIN)
    return min(one.time_s.value or 0.0 for one in passed if one.harm >= level)


def _ratio(start: Start, nominal: NDArray[np.float64]) -> float | None:
    running_A = float(start.string_A[0])
    strings = np.abs(nominal[-1 if len(nominal) == 1 else 1 :, MODULE_A : MODULE_A + MAX_GROUPS])
    most_A = float(np.nanmax(strings))
    return most_A / running_A if running_A > 0.0 else None


def _ends(status: int, face_K: float) -> str:
    if status == Status.RUNAWAY:
        return "runs away"
    return "past the solder" if face_K > SOLDER_K else "levels off"


def _rise(start: Start, tried: Start | None, end: Any, tried_end: Any) -> Value | None:
    if not start.enclosed:
        return None
    before_K = start.held_K if start.held_K > 0.0 else start.results["place_K"][0]
    many = None
    if tried is not None and tried_end is not None:
        first = tried.held_K if tried.held_K > 0.0 else tried.results["place_K"]
        many = tried_end["place_air_K"] - first
    return value_of(end["place_air_K"][0] - before_K, many)


def _first_rise(nominal: NDArray[np.float64]) -> float | None:
    """Slope of the hot base over the first second or so [K/s]."""
    k = int(np.searchsorted(nominal[:, TIME_S], 1.0))
    if k < 1 or k >= len(nominal):
        return None
    return float((nominal[k, HOT_BASE_K] - nominal[0, HOT_BASE_K]) / nominal[k, TIME_S])


def _first(answers: list[Caught], begins_s: float) -> Caught | None:
    """The guard to name: what prevents it, else the first of the fault's own order that acts in
    time, else the one that acts soonest."""
    acting = [one for one in answers if one.acts in ("yes", "prevents")]
    for one in acting:
        if one.acts == "prevents":
            return one
    for one in acting:
        if one.time_s is not None and one.time_s <= begins_s:
            return one
    return min(acting, key=lambda one: 1e9 if one.time_s is None else one.time_s, default=None)


def _peak(fault: Fault, of: Outcome, coolers: Any, answers: list[Caught]) -> float | None:
    """Hottest face after the thermal cut-out has opened, followed with it in the lead."""
    opens = any(one.guard == "cut-out" and one.acts == "yes" for one in answers)
    if not opens or of.guards.cut_out_K is None:
        return None
    history, status = _followed(
        fault, of.start, coolers, off=modules_off(coolers), trip_K=of.guards.cut_out_K
    )
    if status[0] != Status.SOLVED:
        return None
    return float(np.nanmax(history[0, :, HOTTEST_FACE_K]))
