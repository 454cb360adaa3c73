"""What should I run it at? The hill over volts and both fan speeds, and its best places."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.aims import AIMS, Aim, Best, find_best
from coldwright.answers.design import SEED, Design
from coldwright.answers.hill import Hill, hill
from coldwright.answers.hottest_hour import moment_judged
from coldwright.answers.ratings_panel import RatingRow, not_cooling, ratings_panel
from coldwright.answers.tune_sentences import tune_headline, tune_reasons
from coldwright.answers.value import in_ordinary_spaces
from coldwright.errors import NoSolution, SolverError
from coldwright.findings import Finding
from coldwright.machine.records import Drive
from coldwright.sheet.models import Sheet

TRIES = 500


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the interval of each best setting; 0 for none."""
    seed: int = SEED
    drives: int = 61
    """Points along volts (or amperes, watts, duty)."""
    speeds: int = 13
    """Points along each fan's speed."""


@dataclass(frozen=True)
class Tune:
    """The answer to "What should I run it at?"."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    axis: str
    """Glossary name of what is set: voltage_V, current_A, module_power_W, pumped_W, or duty."""
    drive: list[float]
    cold_speed: list[float]
    hot_speed: list[float]
    maps: dict[str, NDArray[np.float64]]
    """Figures over (drive, cold speed, hot speed); NaN where there is no answer."""
    allowed: NDArray[np.bool_]
    """Where every limit of the sheet is kept, same shape."""
    now: dict[str, float]
    """The sheet's own setting and its figures."""
    best: list[Best]
    ratings: list[RatingRow]
    not_cooling: list[str]
    """What is often taken for the cooling and is not, in words."""
    findings: list[Finding]
    tries: int

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object; maps as nested lists, null where there is no answer."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "axis": self.axis,
            "drive": self.drive,
            "cold_speed": self.cold_speed,
            "hot_speed": self.hot_speed,
            "maps": {name: _nested(numbers) for name, numbers in self.maps.items()},
            "allowed": self.allowed.tolist(),
            "now": self.now,
            "best": [each.to_json() for each in self.best],
            "ratings": [row.to_json() for row in self.ratings],
            "not_cooling": self.not_cooling,
            "findings": [asdict(finding) for finding in self.findings],
            "tries": self.tries,
        }


def run(inputs: Inputs) -> Tune:
    """Map the design and find its best settings.

    Raises
    ------
    SheetInvalid, NoSolution
        As for the other answers; NoSolution only when no setting at all has a steady state.
    """
    design = Design(inputs.sheet, inputs.tries, inputs.seed)
    found = hill(design, inputs.drives, inputs.speeds)
    found.stopped_K = _stopped_K(design, found)
    aims: list[Aim] = [aim for aim in AIMS if aim.applies(inputs.sheet)]
    best = [find_best(design, found, aim) for aim in aims]
    point = design.solve(with_place=design.enclosed)
    now = {
        "drive": found.now,
        "cold_speed": float(design.cooler["cold_fan"]["speed"][0]),
        "hot_speed": float(design.cooler["hot_fan"]["speed"][0]),
        **{name: number for name, number in point.nominal.items() if np.isfinite(number)},
    }
    sound_dB = design.sound().value
    if sound_dB is not None:
        now["sound_dB"] = sound_dB
    return Tune(
        title=inputs.sheet.title,
        file=inputs.sheet.file,
        headline=tune_headline(inputs.sheet, found, now, best),
        reasons=[
            *moment_judged(design, None, 0.0, None),
            *tune_reasons(inputs.sheet, found, now, best),
        ],
        axis=found.axis,
        drive=found.drive.tolist(),
        cold_speed=found.cold.tolist(),
        hot_speed=found.hot.tolist(),
        maps=found.maps,
        allowed=found.allowed,
        now=now,
        best=best,
        ratings=ratings_panel(design, point),
        not_cooling=not_cooling(design, point),
        findings=design.findings(point),
        tries=inputs.tries,
    )


def _stopped_K(design: Design, found: Hill) -> float | None:
    """Level with the modules stopped: what every watt of theirs is measured from."""

    def off(coolers: Any) -> None:
        coolers["group"]["drive"] = Drive.OFF

    try:
        still = design.solve(with_place=design.enclosed, changed=off)
    except (NoSolution, SolverError):
        return None
    return still.nominal["place_K" if found.objective == "place_air_K" else found.objective]


def _nested(numbers: NDArray[np.float64]) -> Any:
    shown = numbers.astype(object)
    shown[~np.isfinite(numbers)] = None
    return shown.tolist()


__all__ = ["Best", "Hill", "Inputs", "RatingRow", "Tune", "run"]
