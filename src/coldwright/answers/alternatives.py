"""What the same modules would do with their air led another way, and what doing less would do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coldwright.answers.design import Design
from coldwright.answers.value import Value, value_of
from coldwright.errors import NoSolution
from coldwright.machine.records import End
from coldwright.machine.safety import exhaust_advice
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box


@dataclass(frozen=True)
class Alternative:
    """One other way, solved like the design itself."""

    name: str
    place_air_K: Value
    sentence: str

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        return {
            "name": self.name,
            "place_air_K": self.place_air_K.to_json(),
            "sentence": self.sentence,
        }


def alternatives(design: Design, goal_K: float | None) -> list[Alternative]:
    """The other ways of leading the air that are not the design's own."""
    cooler = design.sheet.cooler
    word = "box" if isinstance(design.sheet.place, Box) else "room"
    found = []
    if cooler.hot_takes_from == "place":
        found.append(
            _way(
                design, "dual duct", {"hot_takes": End.OUTDOORS, "hot_sends": End.OUTDOORS},
                "With the hot side's air taken from outdoors and sent back there", word, goal_K,
            )
        )  # fmt: skip
    advice = exhaust_advice(design.sheet)
    if cooler.hot_sends_to == "place" and advice.offered:
        found.append(
            _way(
                design, "single duct", {"hot_takes": End.PLACE, "hot_sends": End.OUTDOORS},
                "With the hot air sent outdoors", word, goal_K, advice.asks,
            )
        )  # fmt: skip
    return [each for each in found if each is not None]


def _way(
    design: Design,
    name: str,
    changed: dict[str, Any],
    start: str,
    word: str,
    goal_K: float | None,
    asks: str = "",
) -> Alternative | None:
    try:
        other = design.solve(with_place=True, changed={k: int(v) for k, v in changed.items()})
    except NoSolution:
        return None
    tried = None if other.tried is None else other.tried["place_K"]
    level = value_of(other.nominal["place_K"], tried, other.solved)
    bounds = ""
    if level.low is not None and level.high is not None:
        low = display("place_air_K", level.low).rsplit("\u2009", 1)[0]
        high = display("place_air_K", level.high).rsplit("\u2009", 1)[0]
        bounds = f" ({low}–{high})"
    reaches = ""
    if goal_K is not None and level.value is not None:
        reaches = ", which reaches the goal" if level.value <= goal_K else ", still above the goal"
    sentence = (
        f"{start}, the {word} would level off at "
        f"{display('place_air_K', level.value)}{bounds}{reaches}."
    )
    if asks:
        sentence += f" But {asks}."
    return Alternative(name, level, sentence)
