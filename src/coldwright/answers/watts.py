"""Where do the watts go? The operating point, and a ledger that follows every watt."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np

from coldwright.answers.design import SEED, TRIES, Design, Point
from coldwright.answers.laws import sources_of
from coldwright.answers.ratings_panel import RatingRow, not_cooling, ratings_panel
from coldwright.answers.sentences import watts_headline, watts_reasons
from coldwright.answers.value import Value, in_ordinary_spaces, value_of
from coldwright.findings import Finding
from coldwright.machine.ledger_lines import Line
from coldwright.physics.air_volume import specific_volume
from coldwright.sheet.models import Sheet

# Figures of an operating point, in the order a person reads them.
FIGURES = (
    "current_A",
    "voltage_V",
    "module_power_W",
    "plug_power_W",
    "pumped_W",
    "cooling_W",
    "cooling_sensible_W",
    "cooling_latent_W",
    "heat_rejected_W",
    "net_cooling_W",
    "infiltration_sensible_W",
    "infiltration_latent_W",
    "cold_outlet_K",
    "hot_outlet_K",
    "cold_outlet_humidity_ratio",
    "cold_sink_K",
    "hot_sink_K",
    "cold_face_K",
    "hot_face_K",
    "lift_K",
    "dew_point_K",
    "cold_flow_m3_s",
    "hot_flow_m3_s",
    "condensate_kg_s",
    "cop_module",
    "cop_system",
    "cop_net",
)
_WIDEST = ("cooling_W", "net_cooling_W", "place_air_K", "plug_power_W", "cold_sink_K")


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the intervals; 0 for none."""
    seed: int = SEED


@dataclass(frozen=True)
class Entry:
    """One line of the ledger: heat into a node [W], negative out of it."""

    node: str
    what: str
    W: float


@dataclass(frozen=True)
class WaterEntry:
    """One line of the water ledger: water into a node [kg/s], negative out of it."""

    node: str
    what: str
    kg_s: float


@dataclass(frozen=True)
class Watts:
    """The answer to "Where do the watts go?"."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    values: dict[str, Value]
    ledger: list[Entry]
    water_ledger: list[WaterEntry]
    ledger_residual_W: float
    findings: list[Finding]
    assumptions: dict[str, str]
    widest: dict[str, list[tuple[str, float]]]
    tries: int
    solved: int
    ratings: list[RatingRow] = field(default_factory=list)
    """Printed ratings of the modules beside what they do here; empty where none are given."""
    not_cooling: list[str] = field(default_factory=list)
    """What is often taken for the cooling and is not, in words."""
    sources: list[str] = field(default_factory=list)
    sheet: Sheet | None = None
    """The design as it was solved (in changing weather: at its judged moment), for pictures."""
    states: dict[str, float] = field(default_factory=dict)
    """Temperatures [K] and air flows [m3/s] of the point that are no figures of the answer."""

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, keys in SI by the glossary's names."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            **{name: value.to_json() for name, value in self.values.items()},
            "ledger": [asdict(entry) for entry in self.ledger],
            "ledger_residual_W": self.ledger_residual_W,
            "water_ledger": [asdict(entry) for entry in self.water_ledger],
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
            "widest": {
                name: [{"input": path, "share": share} for path, share in shares]
                for name, shares in self.widest.items()
            },
            "tries": self.tries,
            "solved_tries": self.solved,
            "ratings": [row.to_json() for row in self.ratings],
            "not_cooling": self.not_cooling,
            "sources": self.sources,
        }


def run(inputs: Inputs) -> Watts:
    """Solve the operating point and follow every watt.

    In a room or box the point is where the place levels off; in open air and at a plate it is the
    given state.

    Raises
    ------
    SheetInvalid
        When findings allow no answer.
    NoSolution
        When the design has no steady state.
    """
    return of_design(inputs.sheet, Design(inputs.sheet, inputs.tries, inputs.seed))


def of_design(sheet: Sheet, design: Design) -> Watts:
    """The same of a design whose records are made already; `sheet` is as the person wrote it."""
    point = design.solve(with_place=design.enclosed)
    values = point_values(design, point)
    findings = design.findings(point)
    return Watts(
        title=sheet.title,
        file=sheet.file,
        headline=watts_headline(sheet, values),
        reasons=watts_reasons(sheet, values),
        values=values,
        ledger=entries(point.book.heat),
        water_ledger=water_entries(point.book.water),
        ledger_residual_W=float(np.max(point.book.residual_W())),
        findings=findings,
        assumptions=sheet.assumptions(),
        widest=design.widest(_with_place_name(design, point), _WIDEST),
        tries=design.tries,
        solved=0 if point.solved is None else int(point.solved.sum()),
        ratings=ratings_panel(design, point),
        not_cooling=not_cooling(design, point),
        sources=sources_of(sheet),
        sheet=design.sheet,
        states=point_states(design, point),
    )


def point_values(design: Design, point: Point) -> dict[str, Value]:
    """Every figure of a solved point with its interval."""
    values = {name: point.value(name) for name in FIGURES}
    if design.enclosed:
        tried = None if point.tried is None else point.tried["place_K"]
        values["place_air_K"] = value_of(point.nominal["place_K"], tried, point.solved)
    values["sound_dB"] = design.sound()
    return values


def point_states(design: Design, point: Point) -> dict[str, float]:
    """What a picture tells besides the figures: air that comes in and leaves.

    Flows through the gaps are told at the state outdoors.
    """
    solved, place = point.results[0], design.place[0]
    outdoors = (place["outdoor_K"], place["outdoor_humidity_ratio"], place["pressure_Pa"])
    volume_m3_kg = float(specific_volume(*outdoors))
    return {
        "outdoor_K": float(place["outdoor_K"]),
        "place_K": float(solved["place_K"]),
        "hot_end_K": float(solved["exhaust_end_K"]),
        "plate_K": float(solved["cold_surface_K"][0]),
        "gaps_m3_s": float(solved["natural_kg_s"]) * volume_m3_kg,
        "replaced_m3_s": float(solved["inflow_kg_s"] - solved["natural_kg_s"]) * volume_m3_kg,
    }


def entries(lines: list[Line]) -> list[Entry]:
    """Ledger lines of the nominal case."""
    return [Entry(line.node, line.what, _number(line.amount)) for line in lines]


def water_entries(lines: list[Line]) -> list[WaterEntry]:
    """Water lines of the nominal case."""
    return [WaterEntry(line.node, line.what, _number(line.amount)) for line in lines]


def _number(amount: Any) -> float:
    return float(np.ravel(amount)[0])


def _with_place_name(design: Design, point: Point) -> Point:
    if point.tried is not None and design.enclosed:
        point.tried["place_air_K"] = point.tried["place_K"]
    return point
