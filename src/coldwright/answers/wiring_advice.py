"""What wiring has to say to the verdict: its warnings, and a chain that cannot be."""

from __future__ import annotations

from coldwright.answers.design import Design, Point
from coldwright.answers.wiring_battery import battery_findings, battery_side
from coldwright.answers.wiring_findings import wiring_findings
from coldwright.answers.wiring_loads import fan_feeds, loadings, mains_side
from coldwright.answers.wiring_runs import runs_of
from coldwright.answers.wiring_states import states_of
from coldwright.errors import NoSolution
from coldwright.findings import Finding


def wiring_advice(design: Design, point: Point) -> list[Finding]:
    """Warnings on the power chain of a solved design; its notes stay with `wiring`."""
    if design.sheet.power is None:
        return []
    try:
        states = states_of(design, point)
    except NoSolution as error:
        return [design.finding(error.code, "warning", "power", error.reason.rstrip("."))]
    found = wiring_findings(
        design, point, states, loadings(design, point, states),
        mains_side(design.sheet, states.running.plug_W), fan_feeds(design, states),
        runs_of(design, point, states),
    )  # fmt: skip
    found += battery_findings(design, battery_side(design, point, states))
    return [one for one in found if one.severity != "note"]
