"""The rivals: every one serves the same place in the same weather under the same rules."""

from __future__ import annotations

from collections.abc import Callable

from coldwright.answers import rivals_air as by_air
from coldwright.answers import rivals_machine as by_machine
from coldwright.answers.rival import Rival
from coldwright.answers.scene import Scene
from coldwright.errors import NoSolution, SheetInvalid, SolverError

Maker = Callable[[Scene], Rival | None]

RIVALS: dict[str, Maker] = {
    "nothing": by_air.nothing,
    "shade, sealing, insulation first": by_air.first_aid,
    "a table fan": by_air.table_fan,
    "outdoor air by a fan": by_air.window_fan,
    "an evaporative cooler": by_air.evaporative,
    "ice": by_machine.ice,
    "this cooler": by_machine.this_cooler,
    "this cooler, aimed at the person": by_machine.at_the_person,
    "this cooler on a 100 L box": by_machine.smaller_box,
    "a small compressor in its place": by_machine.refrigerator,
    "a compressor unit, one duct": by_machine.compressor(
        "single duct", "a compressor unit, one duct", "one-duct compressor unit", exhausts=True
    ),
    "a compressor unit, through the wall": by_machine.compressor(
        "double duct", "a compressor unit, through the wall", "through-wall compressor unit",
        exhausts=False,
    ),
}  # fmt: skip

# These serve a spot or goods, not the place.
_BESIDE: tuple[Maker, ...] = (by_machine.at_the_person, by_machine.smaller_box)


def all_rivals(scene: Scene, *, only_of_place: bool = False) -> tuple[list[Rival], list[str]]:
    """Every rival that can serve the place, in a fixed order, and a line on each that cannot.

    Raises
    ------
    NoSolution, SolverError
        When this cooler itself has no solution: without it there is nothing to compare.
    """
    rows: list[Rival] = []
    left_out: list[str] = []
    for name, make in RIVALS.items():
        if only_of_place and make in _BESIDE:
            continue
        try:
            row = make(scene)
        except (NoSolution, SolverError, SheetInvalid) as error:
            if make is by_machine.this_cooler:
                raise
            left_out.append(f"Left out: {name}. {_reason(error)}")
        else:
            if row is not None:
                rows.append(row)
    return rows, left_out


def _reason(error: NoSolution | SolverError | SheetInvalid) -> str:
    """Why, as a sentence."""
    if isinstance(error, NoSolution):
        return error.reason
    if isinstance(error, SheetInvalid):
        return " ".join(found.sentence() for found in error.findings[:1])
    return f"{error.message[:1].upper()}{error.message[1:].rstrip('.')}."
