"""What a rival is, and what is asked before one is chosen that takes air out of the place."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.answers.scene import Scene
from coldwright.errors import NoSolution
from coldwright.machine.safety import exhaust_advice


@dataclass(frozen=True)
class Rival:
    """One way of serving the place; None is "not known" or "does not apply"."""

    name: str
    reached: bool | None
    """Whether the goal is held in every hour in which it counts."""
    place_air_K: float | None
    """Air of the place in the hottest of these hours."""
    feels_like_K: float | None
    plug_W: float | None
    """Electricity while it runs, in the worst hour."""
    kWh_per_day: float | None
    """Over the stretch that is followed, for a day: the sheet's hours, only as needed."""
    noise_dB: float | None
    price: float | None
    water_kg_per_day: float | None
    """Water evaporated, ice melted, or (this cooler) water that it takes out of the air."""
    asks: str
    """What it asks of the person."""
    sentence: str
    serves_place: bool = True
    """Whether it keeps the place itself, and not only a spot or the goods."""
    caution: str = ""
    """What must be made sure of before it is chosen: it takes air out of the place."""


def advised(scene: Scene) -> str:
    """What is to be asked before something that blows air out is chosen.

    Raises
    ------
    NoSolution
        Beside an open flame: there it is no rival.
    """
    advice = exhaust_advice(scene.sheet)
    if not advice.offered:
        raise NoSolution("CW-SOLVE-01", f"{advice.asks[:1].upper()}{advice.asks[1:]}.")
    return advice.asks


def but(asks: str) -> str:
    """A caution as a sentence of its own, with the blank before it; empty where there is none."""
    return f" But {asks}." if asks else ""
