"""What the answer to "What should I buy?" holds."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from coldwright.answers.choice.beaten import Beaten
from coldwright.answers.choice.edits import Line
from coldwright.answers.value import Value
from coldwright.findings import Finding


@dataclass(frozen=True)
class Candidate:
    """One of the best designs."""

    parts: dict[str, str]
    """Name of the part of each kind; `wiring` says how the modules are joined."""
    modules: int
    drive_V: float
    cold_speed: float
    hot_speed: float
    figures: dict[str, Value]
    price: float | None
    best_share: float | None
    """Share of the tries in which it is the best of those compared."""
    kept_share: float | None
    """Share of the tries in which it keeps every limit, and reaches what it must."""
    edits: dict[str, Any]
    """What to write into the sheet, by key."""
    bill: list[Line]

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        data = {name: getattr(self, name) for name in self.__dataclass_fields__}
        data["figures"] = {name: value.to_json() for name, value in self.figures.items()}
        data["bill"] = [asdict(line) for line in self.bill]
        return data


@dataclass(frozen=True)
class FrontPoint:
    """One design and setting that no other beats in everything."""

    parts: dict[str, str]
    modules: int
    drive_V: float
    cold_speed: float
    hot_speed: float
    level_K: float
    """Of the place, of the plate, or of the cold outlet in open air."""
    net_W: float
    plug_W: float
    sound_dB: float | None
    price: float | None


@dataclass(frozen=True)
class BeatenDesign:
    """A design near the best, and why it is none of them."""

    parts: dict[str, str]
    reason: str
    beaten: Beaten


@dataclass(frozen=True)
class Choose:
    """The answer to "What should I buy?"."""

    title: str
    file: str
    aim: str
    headline: str
    reasons: list[str]
    best: list[Candidate]
    """Best first; empty when no design keeps all limits and reaches what it must."""
    nearest: dict[str, Any] | None
    """Where there is no best: the design that comes nearest, and what it breaks."""
    own: dict[str, Value]
    """Figures of the sheet's own design; empty where it has no steady state."""
    front: list[FrontPoint]
    """Best in the aim first."""
    shown: list[int]
    """Places of a few designs that show the whole front."""
    beaten: list[BeatenDesign]
    combinations: int
    possible: int | None
    solved: int
    ruled_out: dict[str, int]
    whole: bool
    """Whether every design that can be built was solved."""
    unimproved: bool
    """Whether no exchange of one part makes the best one better."""
    currency: str
    options: dict[str, int]
    """How many parts of each kind there were to choose from."""
    fan_volts: dict[str, float]
    """Rated voltage of the supply and of the fans of the best design, as far as they are known."""
    sheet_text: str
    """The sheet of the best design; empty when there is none."""
    written: str
    notes: list[str]
    findings: list[Finding]
    tries: int

    def to_json(self) -> dict[str, Any]:
        """One object, figures in SI."""
        data = {name: getattr(self, name) for name in self.__dataclass_fields__}
        data["best"] = [each.to_json() for each in self.best]
        data["own"] = {name: value.to_json() for name, value in self.own.items()}
        data["front"] = [asdict(each) for each in self.front]
        data["beaten"] = [
            {"parts": each.parts, "reason": each.reason, **asdict(each.beaten)}
            for each in self.beaten
        ]
        data["findings"] = [asdict(finding) for finding in self.findings]
        return data
