"""What a change is: another design that differs in a few keys, and what it asks of a person."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from coldwright.answers.change.solved import Solved
from coldwright.sheet.models import Sheet


@dataclass(frozen=True)
class Variant:
    """One way of making a change.

    Attributes
    ----------
    does
        What to do, as the beginning of a sentence: "Take the hot air from outdoors".
    edits
        New value for each key path of the sheet, as for `Sheet.changed`.
    price
        What must be bought, in the sheet's currency; 0.0 for nothing, None for not known. What a
        replaced part would have cost is not taken off.
    asks
        What it asks of the person, cautions included; may be empty.
    run_at
        How the modules are then run, such as "at about the same power": told where no change
        beside it sets that anew.
    sets_drive
        Whether it sets how the modules are run.
    """

    does: str
    edits: Mapping[str, Any]
    price: float | None = None
    asks: str = ""
    run_at: str = ""
    sets_drive: bool = False

    def sheet(self, of: Sheet) -> Sheet:
        """The changed sheet; raises `SheetInvalid` when that is no valid one."""
        return of.changed(self.edits)


def _always(_sheet: Sheet) -> bool:
    return True


@dataclass(frozen=True)
class Change:
    """One kind of change, as a file of this package offers it.

    Attributes
    ----------
    name
        What it is called in a table; at most 23 characters.
    why
        One sentence: why it can help; where that depends on the sheet, what finds it.
    variants
        The ways of making it on a solved design; none where nothing is left to change. At most
        one of them is made.
    applies
        Whether it makes sense for a sheet at all, before anything is solved.
    smaller
        Whether it cools something smaller than the sheet's place. Such a change is told apart
        from the others and never joined with them.
    """

    name: str
    why: str | Callable[[Sheet], str]
    variants: Callable[[Solved], Iterable[Variant]]
    applies: Callable[[Sheet], bool] = field(default=_always)
    smaller: bool = False

    def reason(self, sheet: Sheet) -> str:
        """Why it can help this design."""
        return self.why if isinstance(self.why, str) else self.why(sheet)

    def ways(self, start: Solved) -> list[Variant]:
        """Its variants for a solved design; empty where it does not apply."""
        return list(self.variants(start)) if self.applies(start.sheet) else []
