"""What the glossary says about one quantity."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the glossary: a kind of quantity, or a result with its JSON name.

    Parameters
    ----------
    name : str
        The kind ("flow") or the name of the result in JSON ("plug_power_W").
    symbol : str
        Symbol on plot axes and in equations; may be empty.
    si_unit : str
        Unit of the stored value, readable by a unit parser; empty for ratios.
    display_unit : str
        Unit that faces print.
    low, high : float
        Plausible span of the magnitude, in SI. Beyond it a slip of the unit is likely; nothing
        is refused for it. Zero is always plausible.
    tolerance : str
        Default tolerance as text, "1 K" or "5 %".
    description : str
        What it is, in one sentence.
    example : str
        A text that reads as this kind; messages show it.
    kind : str
        For a result: the kind it belongs to. For a kind: its own name.
    aliases : mapping of str to str
        Further ways to write a unit, for this kind only: text (lower case, no spaces) to unit.
    slips : tuple of str
        Units that people mix up here, the likeliest first.
    least, most : float
        Bounds of the possible, in SI; a value beyond them is refused.
    steps : tuple of (float, str)
        Other display units, each from this SI magnitude upwards; ascending.
    point : bool
        Whether the zero is arbitrary (temperature, level, direction), so that a percentage of
        the value means nothing.
    """

    name: str
    symbol: str
    si_unit: str
    display_unit: str
    low: float
    high: float
    tolerance: str
    description: str
    example: str = ""
    kind: str = ""
    aliases: Mapping[str, str] = field(default_factory=dict)
    slips: tuple[str, ...] = ()
    least: float = -inf
    most: float = inf
    steps: tuple[tuple[float, str], ...] = ()
    point: bool = False
