"""How do I power and wire it? Currents, drops, wires, fuses, and where every loss lands as heat."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

from coldwright.answers.design import Design
from coldwright.answers.laws import sources_of
from coldwright.answers.value import in_ordinary_spaces
from coldwright.answers.wiring_battery import (
    BatterySide,
    battery_findings,
    battery_reasons,
    battery_side,
)
from coldwright.answers.wiring_findings import wiring_findings
from coldwright.answers.wiring_loads import (
    FanFeed,
    Loading,
    MainsSide,
    fan_feeds,
    loadings,
    mains_side,
)
from coldwright.answers.wiring_runs import Run, runs_of
from coldwright.answers.wiring_sentences import fans_sentence, wiring_headline, wiring_reasons
from coldwright.answers.wiring_states import States, states_of
from coldwright.answers.wiring_tables import colour_rows
from coldwright.findings import Finding, worst_first
from coldwright.machine.assemble_network import Moment
from coldwright.sheet.models import Sheet

# Spare wire at each end, to strip, crimp and bend [m].
_SPARE_M = 0.10


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet


@dataclass(frozen=True)
class HeatLine:
    """Heat of one part of the chain, and where it lands."""

    part: str
    located: str
    W: float


@dataclass(frozen=True)
class Cut:
    """One line of the cutting list: equal pieces of one wire."""

    size: str
    strands: str
    colour: str
    label: str
    length_m: float
    pieces: int


@dataclass(frozen=True)
class Colour:
    """Colours of a pair by one standard."""

    plus: str
    minus: str
    standard: str
    note: str


@dataclass(frozen=True)
class State:
    """The chain in one state of the modules."""

    moment: str
    module_A: float | None
    source_A: float | None
    plug_W: float | None
    refused: str
    """Why there is no such state; empty where there is."""


@dataclass(frozen=True)
class Wiring:
    """The answer to "How do I power and wire it?"."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    states: list[State]
    loadings: list[Loading]
    mains: MainsSide | None
    battery: BatterySide | None
    """The battery, where no mains feeds the cooler."""
    fans: list[FanFeed]
    runs: list[Run]
    heat: list[HeatLine]
    leaves_W: dict[str, float]
    plug_power_W: float
    residual_W: float
    cuts: list[Cut]
    region: str | None
    colours: list[Colour]
    """Colours that may apply: several where editions contradict each other."""
    findings: list[Finding]
    assumptions: dict[str, str]
    sources: list[str] = field(default_factory=list)

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, figures in SI."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "states": [asdict(each) for each in self.states],
            "loadings": [each.to_json() for each in self.loadings],
            "mains": None if self.mains is None else self.mains.to_json(),
            "battery": None if self.battery is None else self.battery.to_json(),
            "fans": [each.to_json() for each in self.fans],
            "runs": [each.to_json() for each in self.runs],
            "heat": [asdict(each) for each in self.heat],
            "leaves_W": self.leaves_W,
            "plug_power_W": self.plug_power_W,
            "residual_W": self.residual_W,
            "cutting_list": [asdict(each) for each in self.cuts],
            "region": self.region,
            "colours": [asdict(each) for each in self.colours],
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
            "sources": self.sources,
        }


def run(inputs: Inputs) -> Wiring:
    """Follow the power chain of a design.

    Raises
    ------
    SheetInvalid
        When findings allow no answer.
    NoSolution
        When the design has no steady state, or its power chain cannot be.
    """
    sheet = inputs.sheet
    design = Design(sheet, 0, 0)
    point = design.solve(with_place=design.enclosed)
    states = states_of(design, point)
    loads = loadings(design, point, states)
    mains = mains_side(sheet, states.running.plug_W)
    battery = battery_side(design, point, states)
    fans = fan_feeds(design, states)
    runs = runs_of(design, point, states)
    region = None if sheet.power is None else sheet.power.region
    found = [
        *wiring_findings(design, point, states, loads, mains, fans, runs),
        *battery_findings(design, battery),
    ]
    return Wiring(
        title=sheet.title,
        file=sheet.file,
        headline=wiring_headline(states, mains, runs, loads),
        reasons=[
            *wiring_reasons(states, loads, mains, runs),
            *fans_sentence(fans),
            *_of_battery(sheet, battery),
        ],
        states=[
            State(
                str(moment),
                states.current_A("modules", moment),
                _source_A(states, moment),
                states.solved[moment].plug_W if moment in states.solved else None,
                states.refused[moment].reason if moment in states.refused else "",
            )
            for moment in Moment
        ],
        loadings=loads,
        mains=mains,
        battery=battery,
        fans=fans,
        runs=runs,
        heat=_heat(states),
        leaves_W=dict(states.running.leaves_W),
        plug_power_W=states.running.plug_W,
        residual_W=states.running.residual_W(),
        cuts=_cutting_list(runs),
        region=region,
        colours=[
            Colour(row.colours["positive"][0], row.colours["negative"][0], row.standard, row.note)
            for row in colour_rows(region)
        ],
        findings=worst_first([*design.findings(point), *found]),
        assumptions=sheet.assumptions(),
        sources=sources_of(sheet),
    )


def _of_battery(sheet: Sheet, side: BatterySide | None) -> list[str]:
    if sheet.power is None or sheet.power.battery is None:
        return []
    return battery_reasons(sheet.power.battery, side)


def _source_A(states: States, moment: Moment) -> float | None:
    source = states.chain.elements[0].name
    return states.solved[moment].current_A[source] if moment in states.solved else None


def _heat(states: States) -> list[HeatLine]:
    """Heat of every part: the conductors of one run together, everything else by itself."""
    lines: dict[tuple[str, str], float] = {}
    for each in states.running.heat:
        part = each.element.partition(":")[0]
        name = f"wires, joints and fuse to the {part}" if ":" in each.element else each.element
        lines[name, each.at] = lines.get((name, each.at), 0.0) + each.watts
    return [HeatLine(name, at, watts) for (name, at), watts in lines.items() if watts > 0.0]


def _cutting_list(runs: list[Run]) -> list[Cut]:
    """Two pieces for each run, each with its colour and its label."""
    cuts = []
    for each in runs:
        length_m = each.length_m + 2.0 * _SPARE_M
        for colour, label in ((each.plus, each.label_plus), (each.minus, each.label_minus)):
            cuts.append(Cut(each.size, each.strands, colour, label, length_m, 1))
    return cuts
