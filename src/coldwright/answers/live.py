"""What changes under a person's hand: the operating point, the way along the drive, the problem.

The same figures as `watts` gives for the sheet with this setting in it: the pages show them while a
knob moves, without intervals first and with them as soon as the hand rests.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.answers import watts
from coldwright.answers.design import SEED, Design
from coldwright.answers.hill import zoom
from coldwright.answers.knobs import Knob, Setting, edits, knobs, setting_of
from coldwright.answers.prices import known_price
from coldwright.answers.value import Value
from coldwright.errors import NoSolution
from coldwright.findings import CATALOGUE, Finding
from coldwright.sheet.models import Sheet

# Curves that are drawn over the drive.
_CURVES = (
    "place_air_K", "cold_sink_K", "cold_outlet_K", "cooling_W", "net_cooling_W", "plug_power_W",
    "cop_system", "cop_net", "hot_face_K",
)  # fmt: skip
# An exhaust that lets in so much of what the cold side takes out is a problem of its own.
_MUCH = 0.15


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    setting: Setting | None = None
    """Where the knobs stand; None: as in the sheet."""
    tries: int = 0
    seed: int = SEED
    points: int = 60
    """Points of the way along the drive; 0 for none."""


@dataclass(frozen=True)
class Way:
    """Figures along what is set, both fans as they stand; None where there is no steady state."""

    axis: str
    drive: list[float]
    curves: dict[str, list[float | None]]


@dataclass(frozen=True)
class Live:
    """The answer while a knob moves."""

    sheet: Sheet
    """The sheet with the setting in it."""
    watts: watts.Watts
    knobs: list[Knob]
    """As they stand in the sheet itself."""
    setting: Setting
    way: Way | None
    goal_K: float | None
    price: float | None
    problem: str
    """The main problem in a few words; empty where there is none."""
    problem_code: str
    """Code of the finding it comes from; empty where it is the goal itself."""

    @property
    def values(self) -> dict[str, Value]:
        """Figures of the operating point."""
        return self.watts.values

    @property
    def level(self) -> str:
        """Name of the figure that says how cold it gets."""
        return level_of(self.sheet)


def level_of(sheet: Sheet) -> str:
    """Name of the figure that says how cold it gets in this kind of place."""
    return {"plate": "cold_sink_K", "open_air": "cold_outlet_K"}.get(
        sheet.place.kind, "place_air_K"
    )


def run(inputs: Inputs) -> Live:
    """Solve the operating point at a setting of the knobs.

    Raises
    ------
    SheetInvalid
        When findings allow no answer.
    NoSolution
        When the design has no steady state at this setting.
    """
    sheet, before = inputs.sheet, None
    design = None
    if inputs.setting is not None:
        before = Design(sheet, 0, inputs.seed)
        changes = edits(sheet, setting_of(before), inputs.setting)
        if changes:
            sheet = sheet.changed(changes)
        elif inputs.tries == 0:
            design = before
    design = design or Design(sheet, inputs.tries, inputs.seed)
    found = watts.of_design(sheet, design)
    goal = sheet.goal.plate if sheet.place.kind == "plate" else sheet.goal.air
    goal_K = None if goal is None else goal.value
    problem, code = main_problem(sheet, found, goal_K)
    return Live(
        sheet=sheet,
        watts=found,
        knobs=knobs(before or design),
        setting=setting_of(design),
        way=way(design, inputs.points) if inputs.points else None,
        goal_K=goal_K,
        price=known_price(sheet),
        problem=problem,
        problem_code=code,
    )


def way(design: Design, points: int) -> Way | None:
    """The way along the drive from nothing to the highest setting worth a look."""
    found = [knob for knob in knobs(design) if knob.name == "drive"]
    if not found:
        return None
    now = setting_of(design)
    drive = np.linspace(found[0].most / points, found[0].most, points)
    cold, hot = np.array([now.cold_speed]), np.array([now.hot_speed])
    try:
        hill = zoom(design, drive, cold, hot)
    except NoSolution:
        return None
    curves = {name: _known(hill.maps[name][:, 0, 0]) for name in _CURVES if name in hill.maps}
    return Way(found[0].axis, drive.tolist(), curves)


def main_problem(sheet: Sheet, found: watts.Watts, goal_K: float | None) -> tuple[str, str]:
    """What stands in the way most, in a few words, and the code of its finding."""
    stops = [each for each in found.findings if each.severity == "stop"]
    if stops:
        return _title(stops[0])
    values = found.values
    level = values.get(level_of(sheet))
    short = level is not None and level.value is not None and goal_K is not None
    missed = short and level is not None and (level.value or 0.0) > (goal_K or 0.0)
    cooling = values["cooling_W"].value or 0.0
    let_in = sum(
        value.value or 0.0
        for name, value in values.items()
        if name in ("infiltration_sensible_W", "infiltration_latent_W")
    )
    if missed and cooling > 0.0 and let_in > _MUCH * cooling:
        return "exhaust air", ""
    warnings = [each for each in found.findings if each.severity == "warning"]
    if warnings:
        return _title(warnings[0])
    return ("not cold enough", "") if missed else ("", "")


def _title(finding: Finding) -> tuple[str, str]:
    title = CATALOGUE[finding.code].title
    return title[:1].lower() + title[1:], finding.code


def _known(numbers: Any) -> list[float | None]:
    return [float(each) if np.isfinite(each) else None for each in numbers]
