"""What may catch a fault, each guard set to a number that follows from the running machine."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from coldwright.answers.fault.fuses import BLADE, next_size
from coldwright.answers.fault.limits import RUIN, Limit
from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees
from coldwright.machine.fault_steps import HOTTEST_BASE_K
from coldwright.machine.safety.thresholds import FROST_K
from coldwright.sheet.models import Sheet

# A thermal cut-out stands so far above the hottest that is normal; closer than the second it
# opens for nothing (common practice).
ABOVE_NORMAL_K, LEAST_ABOVE_K = 15.0, 8.0
# Bimetal cut-outs come in steps of this and open within this of their number (common practice).
STEP_K = CUT_OUT_LIMIT_K = 5.0
# Common supplies give up somewhere between these shares of their rated power.
OVERLOAD = (1.1, 1.5)
LOW_VOLTS = 0.9
TRAY_L = 0.5
RESTART_S = 180.0
FAN_FAIL_S = 10.0
UNDER_K = 3.0


@dataclass(frozen=True)
class Guard:
    """One protection: what it is set to, where that comes from, and how it is fitted."""

    key: str
    set_to: str
    """As in the list: "opens at 65 °C". Empty where it has no number."""
    why: str
    fit: str
    number: float | None = None
    """What is compared, SI; None where nothing is."""
    in_sheet: bool = False
    """Whether the sheet has it."""
    least: float | None = None
    """Of a fuse in the sheet: the smallest size that would do."""
    standard: str = BLADE
    """Of a fuse: by which standard its number is meant."""


@dataclass(frozen=True)
class Guards:
    """All guards of a design by key, and the numbers they come from."""

    by_key: dict[str, Guard]
    normal_K: float
    """Hottest that the hot sink becomes in normal use [K]."""
    cut_out_K: float | None
    room_K: float
    """From there to the cap of the cut-out [K]."""
    cap: str = ""
    """What caps it, by name."""
    too_close: bool = False
    branch_A: float | None = None
    array_A: float | None = None
    strings: int = 1
    notes: list[str] = field(default_factory=list)


def guards_of(
    start: Start, limits: list[Limit], normal_K: float, cold_K: float, string_A: float
) -> Guards:
    """Choose every guard for a running machine.

    Parameters
    ----------
    start
        The nominal machine.
    limits
        Its limits; those of the hot base cap the cut-out.
    normal_K, cold_K
        Hottest hot base and coldest cold base in normal use, tries and start included [K].
    string_A
        Largest running current of one string [A], tries included.
    """
    sheet = start.sheet
    found: list[Guard] = []
    cut_out_K, room_K, cap = _cut_out(start, limits, normal_K)
    if cut_out_K is not None:
        found.append(
            Guard(
                "cut-out", f"opens at {degrees(cut_out_K)}",
                f"The hot sink's hottest normal {degrees(normal_K)} and about 15 K; below "
                f"{cap}",
                "bolted, not taped, to the hot sink, in the modules' lead; manual reset, so that "
                "somebody looks",
                cut_out_K,
            )
        )  # fmt: skip
    found += _fuses(start, string_A)
    found.append(
        Guard(
            "fan-fail interlock", f"acts within {FAN_FAIL_S:.0f}\u2009s",
            "It counts the fan's pulses (tacho wire) or feels its air",
            "fans with a third wire; it must cut the modules, not only light a lamp",
        )
    )  # fmt: skip
    if cold_K > FROST_K + 2.0:
        found.append(
            Guard(
                "frost cut-out", f"opens at {degrees(FROST_K)}",
                f"The cold sink's coldest normal is {degrees(cold_K)}", "on the cold sink's base",
                FROST_K,
            )
        )  # fmt: skip
    warm_K = _stepped(float(start.rested["air_K"][0]) + ABOVE_NORMAL_K)
    found.append(
        Guard(
            "cold-side cut-out", f"opens at {degrees(warm_K)}",
            "The cold side is never so warm in normal use", "on the cold sink's base", warm_K,
        )
    )  # fmt: skip
    found += _electric(sheet)
    thermostat = sheet.cooler.thermostat
    if thermostat is not None:
        under_K = thermostat.air.value - UNDER_K
        found.append(
            Guard(
                "second thermostat", f"opens below {degrees(under_K)}",
                f"{UNDER_K:.0f}\u2009K below what is held",
                "with a probe and contacts of its own", under_K,
            )
        )  # fmt: skip
    if sheet.cooler.condensate == "drained" and sheet.place.kind != "plate":
        found.append(
            Guard(
                "float switch", f"tray of {TRAY_L:g}\u2009l", "What the tray holds below the "
                "switch",
                "in a sloped tray under the cold sink; it cuts the modules",
            )
        )  # fmt: skip
    found.append(
        Guard(
            "delayed restart", f"waits {RESTART_S / 60:.0f}\u2009min",
            "Inrush limiters cool down, and several machines do not start at once",
            "in the controller, or by hand",
        )
    )  # fmt: skip
    found.append(Guard("keyed plug", "", "Only one way fits", "on every lead that comes off"))
    found.append(
        Guard("alarm", "", "Somebody must hear it", "with a battery of its own, at the place")
    )
    found.append(
        Guard("current reading", "", "One string's current missing", "one for each string")
    )
    return Guards(
        {guard.key: guard for guard in found},
        normal_K,
        cut_out_K,
        room_K,
        cap,
        too_close=cut_out_K is None or cut_out_K - normal_K < LEAST_ABOVE_K,
        branch_A=_number(found, "branch fuse"),
        array_A=_number(found, "array fuse"),
        strings=int((start.coolers["group"]["parallel"][0]).sum()),
    )


def _cut_out(start: Start, limits: list[Limit], normal_K: float) -> tuple[float | None, float, str]:
    """Where the thermal cut-out opens, how much room there is, and what caps it."""
    gap_K = float((start.results["hot_face_K"] - start.results["hot_base_K"][:, :1]).max())
    caps = [("the sheet's limit of the hot sink", limit) for limit in _sheet_limit(start.sheet)]
    for limit in limits:
        if not limit.above or limit.harm < RUIN:
            continue
        # A face is hotter than the base that the cut-out feels.
        below_K = 0.0 if limit.column == HOTTEST_BASE_K else max(gap_K, 0.0)
        caps.append((limit.name, limit.limit_K - below_K))
    cap, cap_K = min(caps, key=lambda one: one[1])
    room_K = cap_K - normal_K
    wanted_K = _stepped(normal_K + ABOVE_NORMAL_K)
    set_K = min(wanted_K, _stepped(cap_K, down=True))
    if set_K <= normal_K:
        return None, room_K, cap
    return set_K, room_K, cap


def _sheet_limit(sheet: Sheet) -> list[float]:
    limit = sheet.limits.hot_sink
    return [] if limit is None else [limit.value]


def _stepped(kelvin: float, *, down: bool = False) -> float:
    """To a whole step of degrees Celsius, up or down."""
    steps = (kelvin - 273.15) / STEP_K
    whole = math.floor(steps + 1e-9) if down else math.ceil(steps - 1e-9)
    return 273.15 + STEP_K * whole


def _fuses(start: Start, string_A: float) -> list[Guard]:
    """One fuse for each string, and the one in the common lead."""
    parallel = start.coolers["group"]["parallel"][0]
    strings = int(parallel.sum())
    on_A = float(start.switch_on_A[0])
    array_A = string_A / max(float(start.string_A[0]), 1e-9) * float(start.running_A[0])
    wires = () if start.sheet.power is None else start.sheet.power.wire
    wire = next((w for w in wires if w.target == "modules" and w.fuse is not None), None)
    given = None if wire is None else wire.fuse
    standard = (None if wire is None else wire.fuse_standard) or BLADE
    found = []
    fit = "at the source end, in plus, for direct current"
    if strings == 1 and given is not None:
        least_A = next_size(string_A, on_A, standard)
        return [
            Guard(
                "branch fuse", f"{given.value:g}\u2009A in the sheet",
                f"It carries {array_A:.3g}\u2009A, and {on_A:.3g}\u2009A at switch-on",
                fit, given.value,
                in_sheet=True,
                least=least_A,
                standard=standard,
            )
        ]  # fmt: skip
    on_each_A = on_A * float(start.string_A[0]) / max(float(start.running_A[0]), 1e-9)
    size = next_size(string_A, on_each_A)
    if size is not None:
        found.append(
            Guard(
                "branch fuse", f"{size:g}\u2009A" + ("" if strings == 1 else " for each string"),
                f"Next size above 1.25 times {string_A:.3g}\u2009A, and above "
                f"{on_each_A:.3g}\u2009A at "
                "switch-on",
                fit, size,
            )
        )  # fmt: skip
    if strings > 1:
        size = given.value if given is not None else next_size(array_A, on_A, standard)
        if size is not None:
            found.append(
                Guard(
                    "array fuse",
                    f"{size:g}\u2009A" + (" in the sheet" if given is not None else ""),
                    f"It carries {array_A:.3g}\u2009A, and {on_A:.3g}\u2009A at switch-on",
                    fit, size,
                    in_sheet=given is not None,
                    standard=standard,
                )
            )  # fmt: skip
    return found


def _electric(sheet: Sheet) -> list[Guard]:
    power = sheet.power
    if power is None:
        return []
    found = []
    if power.supply is not None:
        rated_W = power.supply.rated_power.value
        found.append(
            Guard(
                "supply limit", f"above {rated_W:.3g}\u2009W",
                "Common supplies give up between 110 and 150 % of their rated power",
                "read its sheet: cut off for good, hiccup, or constant current", rated_W,
            )
        )  # fmt: skip
    volts = power.battery.voltage if power.battery is not None else None
    if volts is None and power.supply is not None:
        volts = power.supply.voltage
    if volts is not None:
        found.append(
            Guard(
                "low-voltage cut-off", f"opens at {LOW_VOLTS * volts.value:.3g}\u2009V",
                "A tenth below; for a battery its maker's figure counts",
                "with a delay of some seconds, so that a start does not trip it",
                LOW_VOLTS * volts.value,
            )
        )  # fmt: skip
    return found


def _number(guards: list[Guard], key: str) -> float | None:
    return next((guard.number for guard in guards if guard.key == key), None)


def hottest_normal(*bases_K: np.ndarray) -> float:
    """95 of 100 of all that the hot base becomes in normal use [K]."""
    held = np.concatenate([np.ravel(each) for each in bases_K])
    held = np.sort(held[np.isfinite(held)])
    return float(held[round(0.95 * (len(held) - 1))])
