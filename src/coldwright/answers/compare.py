"""What else would do? The same place, weather and goal served by simpler and other means."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from coldwright.answers.design import SEED, Design, Point
from coldwright.answers.held import year_share
from coldwright.answers.rival import Rival, but
from coldwright.answers.rivals import all_rivals
from coldwright.answers.scene import Scene, load_at_goal_W
from coldwright.answers.spot import Felt, draught_finding, felt, spot_assumptions, spot_of
from coldwright.answers.value import in_ordinary_spaces
from coldwright.errors import NoSolution, SheetInvalid, SolverError
from coldwright.findings import Finding, worst_first
from coldwright.machine.safety import exhaust_advice, exhausts
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Room, Sheet


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    seed: int = SEED
    comfort: bool = True
    """Whether to say how a person feels (the comfort library takes a few seconds to load)."""


@dataclass(frozen=True)
class Compare:
    """One row for each way of serving the place, in a fixed order."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    basis: list[str]
    """What all rows have in common: which days, which hours."""
    goal_air_K: float | None
    load_at_goal_W: float | None
    """Must be taken out to hold the goal if the worst moment lasted, as the verdict has it."""
    held_mean_W: float | None
    """Must be taken out to hold the goal through the days, as needed: their mean."""
    held_worst_day_W: float | None
    """The same over the worst day, by which ice is told."""
    ice_s_per_kg: float | None
    """How long a kilogram of ice holds the goal on that day."""
    rows: list[Rival]
    comfort: list[Felt]
    findings: list[Finding]
    assumptions: dict[str, str]

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, SI."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "basis": self.basis,
            "goal_air_K": self.goal_air_K,
            "load_at_goal_W": self.load_at_goal_W,
            "held_mean_W": self.held_mean_W,
            "held_worst_day_W": self.held_worst_day_W,
            "ice_s_per_kg": self.ice_s_per_kg,
            "rows": [asdict(row) for row in self.rows],
            "comfort": [asdict(each) for each in self.comfort],
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
        }


def run(inputs: Inputs) -> Compare:
    """Serve the place by every rival and set them side by side.

    All are followed through the same days with the sheet's hours and its thermostat, and judged by
    the hottest hour in which the goal counts.

    Raises
    ------
    SheetInvalid
        When findings allow no answer, or the place is not a room or box.
    NoSolution, SolverError
        When this cooler, or the place by itself, has no solution.
    """
    sheet = inputs.sheet
    if not isinstance(sheet.place, Room | Box):
        raise SheetInvalid(
            [
                Finding(
                    "CW-PLACE-04", "stop", "place.kind", f"“{sheet.place.kind}”",
                    "“room” or “box”", "Other means serve an enclosed place", "",
                    sheet.line("place.kind"), sheet.file,
                )
            ]
        )  # fmt: skip
    design = Design(sheet, 0, inputs.seed)
    point = design.solve(with_place=True)
    scene = Scene.of(design, sheet, point, comfort=inputs.comfort)
    rows, left_out = all_rivals(scene)
    own = next(row for row in rows if row.name == "this cooler")
    spot = spot_of(scene)
    ice = next((row for row in rows if row.name == "ice"), None)
    melted_kg = None if ice is None else ice.water_kg_per_day
    water = float(point.results["place_humidity_ratio"][0])
    return Compare(
        title=sheet.title,
        file=sheet.file,
        headline=headline(scene, rows),
        reasons=[*(row.sentence for row in rows), *left_out],
        basis=_basis(scene, sheet),
        goal_air_K=scene.goal_K,
        load_at_goal_W=None if scene.goal_K is None else load_at_goal_W(design, scene.goal_K),
        held_mean_W=scene.mean_W,
        held_worst_day_W=scene.worst_day_W,
        ice_s_per_kg=86400.0 / melted_kg if melted_kg else None,
        rows=rows,
        comfort=felt(scene, spot, own.place_air_K or point.nominal["place_K"], water),
        findings=worst_first([*design.findings(scene.point), *draught_finding(scene, spot)]),
        assumptions=sheet.assumptions() | spot_assumptions(spot, scene),
    )


def scene_of(design: Design, sheet: Sheet, point: Point) -> Scene | None:
    """The place followed through its weather, for the verdict; None where that has no solution."""
    try:
        return Scene.of(design, sheet, point, comfort=False)
    except (NoSolution, SolverError, SheetInvalid):
        return None


def best_alternative(scene: Scene | None) -> str:
    """One sentence on what else would hold the goal, for the verdict; empty without a goal."""
    if scene is None or scene.goal_K is None:
        return ""
    try:
        return headline(scene, all_rivals(scene, only_of_place=True)[0])
    except (NoSolution, SolverError):
        return ""  # the verdict says so in its own way


def headline(scene: Scene, rows: list[Rival]) -> str:
    """What holds the goal best: of all that serve the place and keep the sheet's limits, the least
    electricity, then the lowest price, then the quietest; ice last, since somebody must make it."""
    own = next(row for row in rows if row.name == "this cooler")
    if scene.goal_K is None:
        return f"This cooler brings the place to {display('place_air_K', own.place_air_K)}."
    goal = display("goal_air_K", scene.goal_K)
    if any(row.name == "nothing" and row.reached for row in rows):
        stays = "stays at" if scene.design.moment is None else "gets no hotter than"
        off = display("place_air_K", scene.off_K)
        return f"Without any cooler it {stays} {off}: nothing is needed to hold {goal}."
    burns = exhausts(scene.sheet) and not exhaust_advice(scene.sheet).offered
    beside = "This cooler is not to be run beside an open flame"
    holding = [
        row for row in rows if row.reached and row.serves_place and not (row is own and burns)
    ]
    able = [row for row in holding if _within(scene, row)]
    if not able:
        end = f" {beside}." if burns else ""
        if holding:
            return f"What holds {goal} here breaks a limit of the sheet.{end}"
        return f"Nothing in this list holds {goal} in the hottest hour.{end}"
    best = min(able, key=_rank)
    if best is own:
        least = f"Of what holds {goal}, this cooler takes the least electricity."
        return f"{least}{but(own.caution)}"
    name = (best.name[:1].upper() + best.name[1:]).replace(",", "")
    if best.name == "ice":
        name = f"Ice, {best.water_kg_per_day:.1f}\u2009kg on the worst day,"
    how = f" with {best.kWh_per_day:.2f}\u2009kWh a day" if best.kWh_per_day else ""
    start = "This cooler does too" if own.reached else "This cooler does not"
    if not own.reached and scene.reaches(scene.always_on_K()):
        start += " as its thermostat runs it"
    end = f", with {own.kWh_per_day:.2f}\u2009kWh." if own.reached else "."
    if burns:
        start, end = beside, "."
    return f"{name} holds {goal}{how}.{but(best.caution)} {start}{end}"


def _rank(row: Rival) -> tuple[bool, float, float, float]:
    """What is better comes first; what is not known comes after what is."""
    return (
        row.name == "ice",
        row.kWh_per_day or 0.0,
        np.inf if row.price is None else row.price,
        np.inf if row.noise_dB is None else row.noise_dB,
    )


def _within(scene: Scene, row: Rival) -> bool:
    """Whether it keeps the sheet's limits of power, sound and price, as far as they are known."""
    goal = scene.sheet.goal
    limits = (
        (row.plug_W, goal.max_plug_power), (row.noise_dB, goal.max_sound),
        (row.price, goal.max_price),
    )  # fmt: skip
    return all(limit is None or (x or 0.0) <= limit.value for x, limit in limits)


def _basis(scene: Scene, sheet: Sheet) -> list[str]:
    hours = []
    if sheet.cooler.schedule is not None:
        hours.append("only in the hours of cooler.schedule")
    hours.append("only while it is needed")
    held = "goal" if sheet.cooler.thermostat is None else "thermostat's temperature"
    lines = [
        f"All are followed through {scene.stretch}, with the same weather, sun, people and doors. "
        f"What holds the {held} runs {' and '.join(hours)}; this cooler runs as the sheet says."
    ]
    share = year_share(scene.ready, sheet, scene.goal_K)
    if share is not None:
        days, part = share
        lines.append(
            f"Energy is told for a day of that week. Over all {days:.0f} days of the file about "
            f"{100.0 * part:.0f}\u2009% as much heat a day has to be taken out, walls apart."
        )
    return lines
