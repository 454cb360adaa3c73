"""Where a stopped hot fan would end: the one fault that every verdict names."""

from __future__ import annotations

from coldwright.answers.design import Design, Point
from coldwright.answers.fault.limits import RUIN, limits_of
from coldwright.answers.fault.start import Start
from coldwright.answers.fault.words import degrees
from coldwright.findings import Finding
from coldwright.machine.cooler import operate
from coldwright.machine.fault_steps import HOTTEST_FACE_K
from coldwright.machine.faults import as_volts, fan_stopped
from coldwright.machine.records import Status


def hot_fan_finding(design: Design, point: Point) -> list[Finding]:
    """A finding where the machine with its hot fan standing ends above a limit: one steady solve.

    Where the sheet limits the hot sink itself, as a cut-out does, it is a note.
    """
    volts = as_volts(design.cooler, point.results)
    start = Start(design.sheet, volts, design.place, point.results, design.values)
    found = operate(
        fan_stopped(volts, "hot"), design.place, design.place["air_K"],
        design.place["humidity_ratio"], with_place=design.enclosed,
    )  # fmt: skip
    if found["status"][0] in (Status.RUNAWAY, Status.OUT_OF_RANGE):
        given = "With the hot fan standing the modules get hotter without end"
    elif found["status"][0] == Status.SOLVED:
        face_K = float(found["hot_face_K"].max())
        base_K = float(found["hot_base_K"].max())
        passed = [
            limit
            for limit in limits_of(start)
            if limit.above
            and limit.harm >= RUIN
            and limit.passed(face_K if limit.column == HOTTEST_FACE_K else base_K)
        ]
        if not passed:
            return []
        given = (
            f"With the hot fan standing the hot face would level off at {degrees(face_K)}, "
            f"past {passed[0].name}"
        )
    else:
        return []
    cut_out = design.sheet.limits.hot_sink
    action = "a thermal cut-out on the hot sink; `coldwright faults` says what to set it to"
    if cut_out is not None:
        action = (
            f"a look whether the thermal cut-out at {degrees(cut_out.value)} is there and opens; "
            "`coldwright faults` follows it"
        )
    return [
        design.finding(
            "CW-FAULT-06", "warning" if cut_out is None else "note", "cooler.hot_fan", given,
            why="Fans wear out, jam or lose their plug, mostly while nobody looks",
            action=action,
        )
    ]  # fmt: skip
