"""What happens when something fails? Each fault followed in time, and which guard catches it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import SEED, Design
from coldwright.answers.fault.caught import Caught
from coldwright.answers.fault.findings import fault_findings
from coldwright.answers.fault.followed import Followed, Outcome, follow
from coldwright.answers.fault.guards import Guard, Guards, guards_of, hottest_normal
from coldwright.answers.fault.kind import Fault
from coldwright.answers.fault.limits import Limit, limits_of
from coldwright.answers.fault.registry import FAULTS
from coldwright.answers.fault.start import Start, starts
from coldwright.answers.fault_sentences import faults_headline, faults_reasons
from coldwright.answers.steady_hour import steady_at
from coldwright.answers.value import Value, in_ordinary_spaces, value_of
from coldwright.findings import Finding, worst_first
from coldwright.machine.fault_steps import HOT_BASE_K, follow_fault
from coldwright.machine.sky import sky_of
from coldwright.machine.values import Values
from coldwright.sheet.models import Sheet, SteadyClimate

TRIES = 100
WORST = 3


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the intervals; 0 for none."""
    seed: int = SEED
    fault: str = ""
    """Name of one fault to follow; empty for all."""


@dataclass(frozen=True)
class Faults:
    """The answer to "What happens when something fails?"."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    followed: list[Followed]
    """Every fault in the order of the registry, refused ones included."""
    worst: list[str]
    """Names of the worst, worst first."""
    guards: list[Guard]
    """What to fit, and what to set it to."""
    normal: dict[str, Value]
    """The machine before any fault."""
    tries: int
    findings: list[Finding]
    assumptions: dict[str, str]

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, keys in SI by the glossary's names."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "faults": [each.to_json() for each in self.followed],
            "worst": self.worst,
            "guards": [asdict(guard) for guard in self.guards],
            "normal": {name: value.to_json() for name, value in self.normal.items()},
            "tries": self.tries,
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
        }


def run(inputs: Inputs) -> Faults:
    """Follow every fault from the running machine on.

    Raises
    ------
    SheetInvalid, NoSolution
        As for the other answers: a machine that cannot run cannot fail.
    KeyError
        When no fault has the wanted name.
    """
    chosen = [fault for fault in FAULTS if inputs.fault in ("", fault.name)]
    if not chosen:
        raise KeyError(inputs.fault)
    design = Design(inputs.sheet, inputs.tries, inputs.seed)
    point = design.solve(with_place=design.enclosed)
    start, tried = starts(design, point)
    limits = limits_of(start)
    guards = _guards(start, tried, limits)
    followed = [_one(fault, inputs, start, tried, limits, guards) for fault in chosen]
    told = [each for each in followed if not each.refused]
    worst = sorted(told, key=lambda each: each.rank)
    names = [each.name for each in worst[:WORST] if each.harm > 0]
    return Faults(
        title=inputs.sheet.title,
        file=inputs.sheet.file,
        headline=faults_headline(worst, guards),
        reasons=faults_reasons(start, told, guards),
        followed=followed,
        worst=names,
        guards=_to_fit(told, guards),
        normal=_normal(start, tried),
        tries=0 if tried is None else inputs.tries,
        findings=worst_first(fault_findings(design, start, told, guards)),
        assumptions=inputs.sheet.assumptions(),
    )


def _one(
    fault: Fault,
    inputs: Inputs,
    start: Start,
    tried: Start | None,
    limits: list[Limit],
    guards: Guards,
) -> Followed:
    refused = fault.not_here(inputs.sheet)
    if refused:
        return Followed.refusal(fault, refused)
    if fault.begins == "held":
        start, tried = _coolest(inputs, start, tried)
    return follow(fault, Outcome(start, tried, limits, guards))


def _coolest(inputs: Inputs, start: Start, tried: Start | None) -> tuple[Start, Start | None]:
    """The machine with its place held by the thermostat, in the coolest moment of the weather."""
    thermostat = inputs.sheet.cooler.thermostat
    assert thermostat is not None
    held_K = thermostat.air.value
    sheet = inputs.sheet
    if isinstance(sheet.climate, SteadyClimate):
        return (
            Start(start.sheet, start.coolers, start.places, start.results, start.values, None,
                  held_K),
            tried and Start(tried.sheet, tried.coolers, tried.places, tried.results,
                            tried.values, tried.kept, held_K),
        )  # fmt: skip
    sky = sky_of(sheet, Values(0))
    coolest_s = float(sky.clock_s[int(np.argmin(np.atleast_2d(sky.air_K)[0]))])
    design = Design(steady_at(sheet, sky, coolest_s), inputs.tries, inputs.seed)
    return starts(design, design.solve(with_place=True), held_K)


def _guards(start: Start, tried: Start | None, limits: list[Limit]) -> Guards:
    """Guards of the running machine; its start after a long stop counts as normal use."""
    history, _ = follow_fault(
        start.coolers, start.coolers, start.rested, at_rest=True, until_s=4 * 3600.0
    )
    case = start if tried is None else tried
    hot_K = case.results["hot_base_K"][:, 0 : int(case.coolers["hot_sinks"][0])].max(axis=1)
    cold_K = case.results["cold_base_K"][:, 0 : int(case.coolers["cold_sinks"][0])].min(axis=1)
    peak_K = float(np.nanmax(history[0, :, HOT_BASE_K]))
    normal_K = max(hottest_normal(hot_K), peak_K)
    string_A: NDArray[np.float64] = np.sort(case.string_A)
    return guards_of(
        start, limits, normal_K, float(np.sort(cold_K)[round(0.05 * (len(cold_K) - 1))]),
        float(string_A[round(0.95 * (len(string_A) - 1))]),
    )  # fmt: skip


def _to_fit(told: list[Followed], guards: Guards) -> list[Guard]:
    """Guards that act on at least one of the faults, in the order of their list."""
    useful = {"branch fuse", "array fuse"}
    useful |= {one.guard for each in told for one in each.caught if one.acts != "no"}
    return [guard for key, guard in guards.by_key.items() if key in useful]


def _normal(start: Start, tried: Start | None) -> dict[str, Value]:
    rows: dict[str, Callable[[Any], Any]] = {
        "hot_sink_K": lambda r: r["hot_base_K"].max(axis=1),
        "hot_face_K": lambda r: r["hot_face_K"].max(axis=1),
        "place_air_K": lambda r: r["place_K"],
        "plug_power_W": lambda r: r["plug_W"],
    }
    found = {
        name: value_of(get(start.results)[0], None if tried is None else get(tried.results))
        for name, get in rows.items()
    }
    found["current_A"] = value_of(start.running_A[0], None if tried is None else tried.running_A)
    found["current_at_switch_on_A"] = Value(float(start.switch_on_A[0]))
    return found


def names() -> list[str]:
    """Names of all faults, as `--fault` takes them."""
    return [fault.name for fault in FAULTS]


__all__ = ["Caught", "Faults", "Followed", "Guard", "Inputs", "names", "run"]
