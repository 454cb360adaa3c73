"""What a fault does to the solver's records: the same machine with one thing broken.

Each function takes records of a running cooler, shape (n,), and gives changed copies. They know
nothing of names, words or guards; `answers.fault` does. What is broken still stands there: a
stopped module leaks heat, a stopped fan lets a draught through.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.modules import group_state, stage_properties
from coldwright.machine.records import MAX_GROUPS, Condensate, Drive
from coldwright.machine.run import DRAUGHT

# What a blocked path still lets through: a cloth over a grille, a crushed hose (common practice,
# no source).
BLOCKED_SHARE = 0.10
_SOLVED_BY_VOLTS = (Drive.POWER, Drive.PUMPED)


class NoRoomError(ValueError):
    """The records have no room left to tell one string or module from the others."""


def as_volts(coolers: Any, results: Any) -> Any:
    """The same coolers driven by the volts that were solved for.

    A supply is set to volts or amperes; watts and heat are wishes that its knob was turned to
    meet, and after a fault the knob stays where it is.
    """
    changed = coolers.copy()
    for g in range(int(coolers["groups"][0])):
        group = changed["group"][:, g]
        wished = np.isin(group["drive"], _SOLVED_BY_VOLTS)
        volts = results["module_V"][:, g] * group["series"] + (
            results["module_A"][:, g] * group["parallel"] * group["lead_ohm"]
        )
        group["drive_value"] = np.where(wished, volts, group["drive_value"])
        group["drive"] = np.where(wished, Drive.VOLTAGE, group["drive"])
    return changed


def fan_stopped(coolers: Any, side: str, draught: Any = 1.0) -> Any:
    """One fan stands still (`side` is "hot" or "cold"); `draught` scales what passes all the same.

    Standing hot metal makes its own draught, a duct or a filter holds it off: `DRAUGHT` of the
    speed stands for both, and the tries vary it widely.
    """
    changed = _unmeasured(coolers)
    changed[f"{side}_fan"]["speed"] *= DRAUGHT * np.asarray(draught)
    changed[f"{side}_fan"]["power_W"] = 0.0
    # The other correlation ends before so little flow.
    changed[f"{side}_sink"]["correlation"] = 0
    return changed


def path_blocked(coolers: Any, results: Any, side: str = "hot", share: Any = BLOCKED_SHARE) -> Any:
    """Something lies in the way of one side's air while its fan turns on.

    A resistance is added at which the fan's still-air pressure would press `share` of the normal
    flow through; a fan that is known by one flow only gets that share.
    """
    changed = _unmeasured(coolers)
    fan = changed[f"{side}_fan"]
    normal_m3_s = results[f"{side}_flow_m3_s"]
    left_m3_s = np.maximum(np.asarray(share) * normal_m3_s, 1e-9)
    stall_Pa = fan["curve_pressure_Pa"][:, 0] * fan["speed"] ** 2
    given = fan["given_flow"] == 1
    changed[f"{side}_duct"]["extra_Pa_s2_m6"] += np.where(given, 0.0, stall_Pa / left_m3_s**2)
    # Fan power follows the cube of the speed; a blocked fan turns on and takes about what it took.
    fan["power_W"] = np.where(given, fan["power_W"] / np.asarray(share) ** 3, fan["power_W"])
    fan["speed"] = np.where(given, fan["speed"] * np.asarray(share), fan["speed"])
    changed[f"{side}_sink"]["correlation"] = 0
    return changed


def module_open(coolers: Any, group: int = 0) -> Any:
    """One module of a group is open: its string stops, and every module of it leaks heat."""
    changed = coolers.copy()
    parallel = changed["group"]["parallel"][:, group]
    if float(parallel[0]) == 1.0:
        _stop(changed["group"][:, group])
        return changed
    at = _new_groups(changed, group, 1)
    changed["group"]["parallel"][:, group] = parallel - 1.0
    changed["group"]["parallel"][:, at] = 1.0
    _stop(changed["group"][:, at])
    return changed


def module_shorted(coolers: Any, results: Any, group: int = 0) -> Any:
    """One module of a group is shorted: its partners share its volts, and it only leaks heat.

    Where nothing stands in series with it the array itself is shorted: no volts are left, and
    everything stops.
    """
    changed = coolers.copy()
    one = changed["group"][:, group].copy()
    series, parallel = float(one["series"][0]), float(one["parallel"][0])
    if series == 1.0:
        for g in range(int(coolers["groups"][0])):
            _stop(changed["group"][:, g])
        return changed
    if parallel == 1.0:
        dead = _new_groups(changed, group, 1)
        changed["group"]["series"][:, group] = series - 1.0
    else:
        # The other strings, the one with the short, and the dead module itself.
        at = _new_groups(changed, group, 2)
        dead = at + 1
        changed["group"]["parallel"][:, group] = parallel - 1.0
        changed["group"]["series"][:, at] = series - 1.0
        changed["group"]["parallel"][:, at] = 1.0
        _share_leads(changed, results, one, group, at)
    changed["group"]["series"][:, dead] = 1.0
    changed["group"]["parallel"][:, dead] = 1.0
    _stop(changed["group"][:, dead])
    return changed


def driven(coolers: Any, factor: Any, duty: float | None = None) -> Any:
    """What is set times a factor, every group alike; negative: the leads are swapped."""
    changed = coolers.copy()
    changed["group"]["drive_value"] *= np.asarray(factor)[..., None]
    # A second stage on volts of its own hangs on the same supply.
    changed["group"]["second_voltage_V"] *= np.asarray(factor)[..., None]
    if duty is not None:
        changed["group"]["duty"] = duty
    return changed


def fans_slowed(coolers: Any, factor: float) -> Any:
    """Both fans at a share of their speed, as on a sagging supply."""
    changed = _unmeasured(coolers)
    for side in ("cold", "hot"):
        changed[f"{side}_fan"]["speed"] *= factor
    return changed


def modules_off(coolers: Any) -> Any:
    """Every module open, fans as they are: what a cut-out in the modules' lead leaves."""
    changed = _unmeasured(coolers)
    changed["group"]["drive"] = Drive.OFF
    changed["group"]["second_voltage_V"] = np.nan
    return changed


def drain_blocked(coolers: Any) -> Any:
    """The condensate stays in the place instead of running off."""
    changed = coolers.copy()
    changed["condensate"] = Condensate.STAYS
    return changed


def modules_without_lift(coolers: Any, air_K: Any) -> NDArray[np.float64]:
    """Current of the whole array [A] in the first moment, all faces at `air_K`: no lift yet."""
    total = np.zeros(len(coolers))
    for i, cooler in enumerate(coolers):
        at_K = float(np.broadcast_to(air_K, (len(coolers),))[i])
        for g in range(int(cooler["groups"])):
            found = group_state(cooler["group"][g], at_K, at_K, at_K, at_K)
            total[i] += found[5] * cooler["group"][g]["parallel"]
    return total


def _unmeasured(coolers: Any) -> Any:
    changed = coolers.copy()
    # A duct's surface was measured with the machine whole.
    changed["hot_duct"]["surface_K"] = np.nan
    return changed


def _stop(group: Any) -> None:
    group["drive"] = Drive.OFF
    group["second_voltage_V"] = np.nan


def _new_groups(coolers: Any, of: int, count: int) -> int:
    """Add copies of a group behind the others; the number of the first."""
    first = int(coolers["groups"][0])
    if first + count > MAX_GROUPS:
        raise NoRoomError(
            f"with {first} groups of modules there is no room to follow one module by itself"
        )
    for k in range(count):
        coolers["group"][:, first + k] = coolers["group"][:, of]
    coolers["groups"] = first + count
    return first


def _share_leads(coolers: Any, results: Any, one: Any, whole: int, short: int) -> None:
    """Common leads, and a common given current, of strings with and without a short.

    Both kinds of string hang on one pair of leads, so each sees the drop of their sum. The split
    is that of the first moment, when all faces are as they were.
    """
    n, strings = one["series"], one["parallel"] - 1.0
    mean_A = results["module_A"][:, whole]
    back_V = results["module_V"][:, whole]
    # Resistance and back-voltage of one module in its state before the fault.
    lift_K = results["hot_face_K"][:, whole] - results["cold_face_K"][:, whole]
    seebeck = _seebeck(one, results, whole)
    emf_V = seebeck * lift_K
    with np.errstate(divide="ignore", invalid="ignore"):
        ohm = np.where(np.abs(mean_A) > 0.0, (back_V - emf_V) / mean_A, np.inf)
    given = one["drive"] == Drive.CURRENT
    # Conductances of both kinds of string, and the volts between which they hang.
    whole_S, short_S = strings / (n * ohm), 1.0 / ((n - 1.0) * ohm)
    emf_A = strings * emf_V / ohm + emf_V / ohm
    lead = one["lead_ohm"]
    volts = np.where(
        given,
        (one["drive_value"] + emf_A) / (whole_S + short_S),
        (one["drive_value"] + lead * emf_A) / (1.0 + lead * (whole_S + short_S)),
    )
    whole_A = (volts - n * emf_V) * whole_S
    short_A = (volts - (n - 1.0) * emf_V) * short_S
    total_A = whole_A + short_A
    for at, branch_A in ((whole, whole_A), (short, short_A)):
        group = coolers["group"][:, at]
        with np.errstate(divide="ignore", invalid="ignore"):
            group["lead_ohm"] = np.where(branch_A != 0.0, lead * total_A / branch_A, lead)
        group["drive_value"] = np.where(given, branch_A, one["drive_value"])


def _seebeck(one: Any, results: Any, group: int) -> Any:
    """Seebeck coefficient [V/K] of one module, all its stages, at the state of `results`."""
    found = np.zeros(len(one))
    for i in range(len(one)):
        cold_K = float(results["cold_face_K"][i, group])
        hot_K = float(results["hot_face_K"][i, group])
        found[i] = stage_properties(one[i], False, 0.5 * (cold_K + hot_K))[0]
    return found
