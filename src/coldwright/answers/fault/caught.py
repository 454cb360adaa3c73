"""Whether a guard would act in the state that a fault really leads to, and when."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.fault.fuses import CARRIES, OPENS, opens_after
from coldwright.answers.fault.guards import (
    CUT_OUT_LIMIT_K,
    FAN_FAIL_S,
    OVERLOAD,
    RESTART_S,
    TRAY_L,
    Guard,
)
from coldwright.answers.fault.kind import Fault
from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees, in_time, litres
from coldwright.machine.fault_steps import (
    AIR_K,
    COLD_BASE_K,
    CONDENSATE_KG_S,
    HOT_BASE_K,
    LEADS_A,
    MODULE_A,
    PLUG_W,
    TIME_S,
)
from coldwright.machine.records import MAX_GROUPS

Acts = Literal["yes", "perhaps", "no", "prevents"]


@dataclass(frozen=True)
class Caught:
    """One guard against one fault."""

    guard: str
    acts: Acts
    time_s: float | None
    """When it acts, at the latest; None where it does not or nothing tells."""
    said: str
    """In words, with the numbers that decide."""


def caught(
    fault: Fault, guard: Guard, start: Start, history: NDArray[np.float64], broken: Any
) -> Caught:
    """Ask one guard about a followed fault; `history` has shape (rows, columns), no NaN."""
    return _ASKED[guard.key](fault, guard, start, history, broken)


def _cut_out(_f: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    return _by_temperature(guard, history, HOT_BASE_K, "the hot sink", above=True)


def _frost(_f: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    return _by_temperature(guard, history, COLD_BASE_K, "the cold sink", above=False)


def _cold_side(_f: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    return _by_temperature(guard, history, COLD_BASE_K, "the cold sink", above=True)


def _second(_f: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    return _by_temperature(guard, history, AIR_K, "the place", above=False)


def _by_temperature(guard: Guard, history: Any, column: int, what: str, *, above: bool) -> Caught:
    numbers, times = history[:, column], history[:, TIME_S]
    number = guard.number
    assert number is not None
    sign = 1.0 if above else -1.0
    beyond = sign * numbers >= sign * number
    farthest = float(numbers.max() if above else numbers.min())
    named = guard.key if guard.key != "cut-out" else "thermal cut-out"
    if not beyond.any():
        word = "stays below" if above else "stays above"
        return Caught(
            guard.key, "no", None,
            f"The {named} does not see it: {what} {word} {degrees(number)} "
            f"({degrees(farthest)} at most)."
            if above
            else f"The {named} does not see it: {what} {word} {degrees(number)} "
            f"({degrees(farthest)} at least).",
        )  # fmt: skip
    k = int(np.argmax(beyond))
    time_s = float(times[0])
    if k > 0:
        share = (number - numbers[k - 1]) / (numbers[k] - numbers[k - 1])
        time_s = float(times[k - 1] + share * (times[k] - times[k - 1]))
    late = sign * numbers >= sign * number + CUT_OUT_LIMIT_K
    surely = bool(late.any())
    ends = "" if surely else "; a sample that opens 5 K later never does"
    return Caught(
        guard.key, "yes" if surely else "perhaps", time_s,
        f"The {named} opens after {in_time(time_s)}, at {degrees(number)}{ends}.",
    )  # fmt: skip


def _branch(fault: Fault, guard: Guard, _s: Start, history: Any, broken: Any) -> Caught:
    groups = int(broken["groups"][0])
    strings = np.abs(history[:, MODULE_A : MODULE_A + min(groups, MAX_GROUPS)])
    return _by_current(fault, guard, history, strings.max(axis=1), "branch fuse")


def _array(fault: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    return _by_current(fault, guard, history, np.abs(history[:, LEADS_A]), "array fuse")


def _by_current(fault: Fault, guard: Guard, history: Any, currents: Any, name: str) -> Caught:
    rating = guard.number
    assert rating is not None
    most_A = float(currents[min(1, len(currents) - 1) :].max())
    against = f"{most_A:.3g}\u2009A against {rating:g}\u2009A"
    if fault.name == "one module shorted" and most_A == 0.0:
        return Caught(
            guard.key, "perhaps", None,
            f"The {name} opens at once if the supply can give more than "
            f"{OPENS * rating:.3g}\u2009A; one that limits its current or hiccups keeps it whole.",
        )  # fmt: skip
    time_s = opens_after(history[:, TIME_S], currents, rating, guard.standard)
    if np.isfinite(time_s):
        return Caught(
            guard.key, "yes", time_s,
            f"The {name} opens within {in_time(max(time_s, 0.1))}: {against}.",
        )  # fmt: skip
    if most_A >= CARRIES * rating:
        return Caught(
            guard.key, "perhaps", None,
            f"The {name} may open in minutes or hours, or never: {against}.",
        )  # fmt: skip
    return Caught(guard.key, "no", None, f"The {name} does not see this fault: {against}.")


def _fan_fail(fault: Fault, guard: Guard, _s: Start, _h: Any, _b: Any) -> Caught:
    if fault.stops_fan:
        return Caught(
            guard.key, "yes", FAN_FAIL_S,
            f"A fan-fail interlock on the {fault.stops_fan} fan acts within "
            f"{FAN_FAIL_S:.0f}\u2009s.",
        )  # fmt: skip
    return Caught(
        guard.key, "no", None,
        "A fan-fail interlock does not see it: the fan turns, only its air is missing (one that "
        "feels the air does).",
    )  # fmt: skip


def _supply(fault: Fault, guard: Guard, start: Start, history: Any, _b: Any) -> Caught:
    rated_W = guard.number
    assert rated_W is not None
    if fault.name == "one module shorted" and float(_after(history)[:, LEADS_A].max()) == 0.0:
        return Caught(
            guard.key, "perhaps", None,
            "Into a short a good supply limits its current or hiccups; the converter's or "
            "supply's sheet must say so.",
        )  # fmt: skip
    # What the supply gives, from the plug: as its running loss goes with the load.
    running = start.results[0]
    share = 1.0 - float(running["supply_W"]) / max(float(running["plug_W"]), 1e-9)
    gives_W = float(_after(history)[:, PLUG_W].max()) * share
    against = f"{gives_W:.3g}\u2009W against {rated_W:.3g}\u2009W"
    if gives_W > OVERLOAD[1] * rated_W:
        return Caught(guard.key, "yes", 1.0, f"The supply itself gives up: {against} rated.")
    if gives_W > OVERLOAD[0] * rated_W:
        return Caught(
            guard.key, "perhaps", None,
            f"The supply may give up or run hot for long: {against} rated.",
        )  # fmt: skip
    return Caught(guard.key, "no", None, f"The supply bears it: {against} rated.")


def _low_volts(_f: Fault, guard: Guard, _s: Start, _h: Any, _b: Any) -> Caught:
    return Caught(
        guard.key, "yes", 10.0, f"A low-voltage cut-off that {guard.set_to} acts in seconds."
    )


def _float(_f: Fault, guard: Guard, _s: Start, history: Any, _b: Any) -> Caught:
    kilograms, full_s = collected(history, TRAY_L)
    if full_s is None:
        return Caught(
            guard.key, "no", None,
            f"{litres(kilograms)} of water in the first day does not fill a tray of "
            f"{TRAY_L:g}\u2009l; on a moister day it may.",
        )  # fmt: skip
    return Caught(
        guard.key, "yes", full_s,
        f"A tray of {TRAY_L:g}\u2009l is full after {in_time(full_s)}; a float switch in it "
        "then cuts "
        "the modules.",
    )  # fmt: skip


def collected(history: Any, tray_kg: float) -> tuple[float, float | None]:
    """Water [kg] of the first day, and when a tray is full [s]; None: not in two days."""
    times, rates = history[:, TIME_S], history[:, CONDENSATE_KG_S]
    sums = np.concatenate([[0.0], np.cumsum(0.5 * (rates[1:] + rates[:-1]) * np.diff(times))])
    # A run that came to rest early goes on as it stands.
    end_s, rate = float(times[-1]), float(rates[-1])
    day_s = 86400.0
    day_kg = float(np.interp(day_s, times, sums)) + rate * max(day_s - end_s, 0.0)
    if sums[-1] >= tray_kg:
        return day_kg, float(np.interp(tray_kg, sums, times))
    if rate > 0.0 and end_s + (tray_kg - sums[-1]) / rate <= 2.0 * day_s:
        return day_kg, end_s + (tray_kg - float(sums[-1])) / rate
    return day_kg, None


def _keyed(_f: Fault, guard: Guard, _s: Start, _h: Any, _b: Any) -> Caught:
    return Caught(guard.key, "prevents", None, "A keyed plug keeps it from happening.")


def _delay(_f: Fault, guard: Guard, _s: Start, _h: Any, _b: Any) -> Caught:
    return Caught(
        guard.key, "prevents", None,
        f"A restart that waits {in_time(RESTART_S)}, or for a hand, lets limiters cool and people "
        "know.",
    )  # fmt: skip


def _alarm(_f: Fault, guard: Guard, _s: Start, _h: Any, _b: Any) -> Caught:
    return Caught(guard.key, "yes", None, "An alarm with a battery of its own tells of it.")


def _reading(_f: Fault, guard: Guard, start: Start, _h: Any, _b: Any) -> Caught:
    strings = int(start.coolers["group"]["parallel"][0].sum())
    less = "nothing flows" if strings == 1 else f"a {_part(strings)} of the current is missing"
    return Caught(guard.key, "yes", None, f"A reading of the current shows it: {less}.")


_ASKED: dict[str, Callable[[Fault, Guard, Start, Any, Any], Caught]] = {
    "cut-out": _cut_out,
    "frost cut-out": _frost,
    "cold-side cut-out": _cold_side,
    "second thermostat": _second,
    "branch fuse": _branch,
    "array fuse": _array,
    "fan-fail interlock": _fan_fail,
    "supply limit": _supply,
    "low-voltage cut-off": _low_volts,
    "float switch": _float,
    "keyed plug": _keyed,
    "delayed restart": _delay,
    "alarm": _alarm,
    "current reading": _reading,
}


def _after(history: Any) -> Any:
    """The rows from the first moment after the fault on."""
    return history[min(1, len(history) - 1) :]


def _part(of: int) -> str:
    return {2: "half", 3: "third", 4: "quarter", 5: "fifth"}.get(of, f"1/{of}")
