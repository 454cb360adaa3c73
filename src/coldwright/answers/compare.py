"""What else would do? The same place, weather and goal served by simpler and other means."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from coldwright.answers.design import SEED, Design, Point
from coldwright.answers.rival import Rival, but
from coldwright.answers.rivals import RIVALS
from coldwright.answers.scene import Scene
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.findings import Finding
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
    goal_air_K: float | None
    load_at_goal_W: float | None
    """Mean over the day of what must be taken out to hold the goal."""
    rows: list[Rival]
    findings: list[Finding]

    def to_json(self) -> dict[str, Any]:
        """One object, SI."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "goal_air_K": self.goal_air_K,
            "load_at_goal_W": self.load_at_goal_W,
            "rows": [asdict(row) for row in self.rows],
            "findings": [asdict(finding) for finding in self.findings],
        }


def run(inputs: Inputs) -> Compare:
    """Serve the place by every rival and set them side by side.

    All are judged at the worst moment of the weather; energy is told per day.

    Raises
    ------
    SheetInvalid
        When findings allow no answer, or the place is not a room or box.
    """
    sheet = inputs.sheet
    if not isinstance(sheet.place, Room | Box):
        raise SheetInvalid(
            [
                Finding(
                    "CW-PLACE-05", "stop", "place.kind", f"“{sheet.place.kind}”",
                    "“room” or “box”", "Other means serve an enclosed place", "",
                    sheet.line("place.kind"), sheet.file,
                )
            ]
        )  # fmt: skip
    design = Design(sheet, 0, inputs.seed)
    point = design.solve(with_place=True)
    scene = Scene.of(design, sheet, point, comfort=inputs.comfort)
    rows, left_out = rivals_of(scene)
    return Compare(
        title=sheet.title,
        file=sheet.file,
        headline=_headline(scene, rows),
        reasons=[*(row.sentence for row in rows), *left_out],
        goal_air_K=scene.goal_K,
        load_at_goal_W=scene.mean_load_W,
        rows=rows,
        findings=design.findings(scene.point),
    )


def best_alternative(design: Design, sheet: Sheet, point: Point) -> str:
    """One sentence on what else would hold the goal, for the verdict; empty without a goal."""
    if sheet.goal.air is None:
        return ""
    try:
        scene = Scene.of(design, sheet, point, comfort=False)
    except NoSolution:
        return ""  # the verdict says so in its own way
    return _headline(scene, rivals_of(scene)[0])


def rivals_of(scene: Scene) -> tuple[list[Rival], list[str]]:
    """Every rival that can serve the place, and a line on each that cannot."""
    rows: list[Rival] = []
    left_out: list[str] = []
    for name, make in RIVALS.items():
        try:
            row = make(scene)
        except NoSolution as error:
            left_out.append(f"Left out: {name}. {error.reason}")
        else:
            if row is not None:
                rows.append(row)
    return rows, left_out


def _headline(scene: Scene, rows: list[Rival]) -> str:
    own = next(row for row in rows if row.name == "this cooler")
    if scene.goal_K is None:
        return f"This cooler brings the place to {display('place_air_K', own.place_air_K)}."
    burns = exhausts(scene.sheet) and not exhaust_advice(scene.sheet).offered
    reached = [row for row in rows if row.reached and not (row is own and burns)]
    goal = display("goal_air_K", scene.goal_K)
    if any(row.name == "nothing" for row in reached):
        off = display("place_air_K", scene.off_K)
        return f"Without any cooler it stays at {off}: nothing is needed to hold {goal}."
    if not reached:
        return f"Nothing in this list holds {goal} at the worst hour."
    # Of those that reach it the least electricity; ice comes last, since somebody must make it.
    best = min(reached, key=lambda row: (row.name == "ice", row.plug_W or 0.0, rows.index(row)))
    if best is own:
        least = f"Of what holds {goal}, this cooler takes the least electricity."
        return f"{least}{but(own.caution)}"
    start = "This cooler does too" if own.reached else "This cooler does not"
    how = f" with {display('plug_power_W', best.plug_W)}" if best.plug_W else ""
    end = f", with {display('plug_power_W', own.plug_W)}." if own.reached else "."
    if burns:
        start, end = "This cooler is not to be run beside an open flame", "."
    return (
        f"{best.name[:1].upper()}{best.name[1:]} holds {goal}{how}.{but(best.caution)} {start}{end}"
    )
