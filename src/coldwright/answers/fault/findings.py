"""What the faults have to say as findings."""

from __future__ import annotations

import numpy as np

from coldwright.answers.design import Design
from coldwright.answers.fault.followed import Followed
from coldwright.answers.fault.fuses import HEADROOM, opens_after
from coldwright.answers.fault.guards import LEAST_ABOVE_K, Guards
from coldwright.answers.fault.limits import RUIN
from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees, in_time
from coldwright.findings import Finding
from coldwright.machine.records import SinkKind


def fault_findings(
    design: Design, start: Start, followed: list[Followed], guards: Guards
) -> list[Finding]:
    """Findings about the faults of a design; the order is that of the rules here."""
    found: list[Finding] = []
    burning = [each for each in followed if each.harm >= RUIN]
    if burning:
        one = min(burning, key=lambda each: each.rank)
        worst = one.worst
        given = f"With “{one.name}” the modules get hotter without end"
        what = "They come apart"
        if worst is not None:
            given = f"“{one.name}” passes {worst.name} after {in_time(worst.time_s.value)}"
            what = worst.what[:1].upper() + worst.what[1:]
        how = (
            "a hot sink that stays cooler, so that a thermal cut-out fits"
            if guards.cut_out_K is None
            else (
                f"a thermal cut-out that opens at {degrees(guards.cut_out_K)}, bolted to the hot "
                "sink in the modules' lead"
            )
        )
        found.append(
            design.finding(
                "CW-FAULT-01", "warning", "cooler.hot_sink",
                given,
                why=f"{what}, and nobody may be there",
                action=f"{how}; local codes and a licensed person decide what a build must have",
            )
        )  # fmt: skip
    if guards.too_close:
        given = f"The hot sink reaches {degrees(guards.normal_K)} in normal use"
        found.append(
            design.finding(
                "CW-FAULT-02", "warning", "cooler.hot_sink",
                f"{given}, and {guards.cap} is next",
                why=f"A cut-out needs {LEAST_ABOVE_K:.0f}\u2009K above what is normal, or it "
                "opens for "
                "nothing and gets bridged",
                action="a better hot sink, more air on it or fewer volts",
            )
        )  # fmt: skip
    short = next((each for each in followed if each.name == "one module shorted"), None)
    blind = None if short is None else next(
        (one for one in short.caught if one.guard in ("branch fuse", "array fuse")
         and one.acts == "no"), None,
    )  # fmt: skip
    caught = short is not None and any(
        one.guard in ("branch fuse", "array fuse") and one.acts == "yes" for one in short.caught
    )
    if short is not None and blind is not None and not caught:
        smaller = _smaller_fuse(short, guards)
        found.append(
            design.finding(
                "CW-FAULT-03", "warning", "cooler.modules",
                "No fuse sees a shorted module: " + blind.said.rsplit(": ", 1)[-1].rstrip("."),
                why="Its partners take more than their share and go on heating",
                action=smaller + "a reading of each string's current, and the thermal cut-out",
            )
        )  # fmt: skip
    array = guards.by_key.get("array fuse") or guards.by_key.get("branch fuse")
    if array is not None and array.in_sheet and array.number is not None:
        found += _fuse_of_sheet(design, start, array.number)
    if any(
        sink["kind"] != SinkKind.PLATE_FIN and sink["heat_capacity_J_K"] == 0.0
        for sink in start.coolers["hot_sink"][0][: int(start.coolers["hot_sinks"][0])]
    ):
        found.append(
            design.finding(
                "CW-FAULT-05", "note", "cooler.hot_sink", "The hot sink's mass is not known",
                why="Times until something is too hot are then too short, for nothing stores heat",
                action='mass = "1.2 kg" in the hot sink, from a scale',
            )
        )  # fmt: skip
    return found


def _smaller_fuse(short: Followed, guards: Guards) -> str:
    """The beginning of an advice: a smaller fuse that would see the short, if there is one."""
    fuse = guards.by_key.get("branch fuse")
    if fuse is None or fuse.least is None or fuse.number is None or fuse.least >= fuse.number:
        return ""
    after_s = opens_after(
        short.history["time_s"], short.history["current_A"], fuse.least, fuse.standard
    )
    if not np.isfinite(after_s):
        return ""
    return f"a fuse of {fuse.least:g}\u2009A, which opens within {in_time(after_s)}; "


def _fuse_of_sheet(design: Design, start: Start, rating_A: float) -> list[Finding]:
    """Whether the fuse that the sheet names carries what is normal."""
    running_A, on_A = float(start.running_A[0]), float(start.switch_on_A[0])
    if rating_A >= HEADROOM * running_A and rating_A >= on_A:
        return []
    return [
        design.finding(
            "CW-FAULT-04", "warning", "power.wire",
            f"The fuse of {rating_A:g}\u2009A carries {running_A:.3g}\u2009A for hours, and "
            f"{on_A:.3g}\u2009A "
            "at switch-on",
            allowed=f"at least {HEADROOM:g} times the first, and the second",
            why="It ages and opens for nothing",
            action="the next size, if the wire bears it",
        )
    ]  # fmt: skip
