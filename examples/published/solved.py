"""A design sheet solved by the machine, with its ledger required to close."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place, fill_plate
from coldwright.machine.cooler import operate
from coldwright.machine.ledger import Ledger, ledger
from coldwright.machine.records import Status
from coldwright.machine.values import Values
from coldwright.sheet.file import read_text

ZERO_C_K = 273.15


@dataclass(frozen=True)
class Solved:
    """Records of one solved case: what went in, the states, and the ledger."""

    cooler: Any
    place: Any
    states: Any
    ledger: Ledger

    def line(self, node: str, what: str) -> float:
        """One line of the ledger [W]."""
        (amount,) = (
            line.amount for line in self.ledger.heat if (line.node, line.what) == (node, what)
        )
        return float(amount[0])

    def celsius(self, name: str) -> float:
        """A temperature of the states [degC]; of sinks and groups, the first."""
        value = self.states[name]
        return float(value if value.ndim == 0 else value[0]) - ZERO_C_K

    @property
    def pumped_W(self) -> float:
        """Heat into the cold faces of all modules [W]."""
        return self.line("modules", "heat into the cold faces")

    @property
    def power_W(self) -> float:
        """Electrical power of all modules [W]."""
        return float(self.states["modules_W"])


def solve(text: str, changes: Mapping[str, object] | None = None) -> Solved:
    """Solve a sheet at the state in which its place starts (or which open air has)."""
    sheet = read_text(text)
    if changes:
        sheet = sheet.changed(changes)
    values = Values()
    cooler = assemble_cooler(sheet, values)
    place = assemble_place(sheet, values)
    if sheet.place.kind == "plate":
        fill_plate(cooler, sheet, values)
    result = operate(cooler, place, place["air_K"], place["humidity_ratio"], with_place=False)
    if result["status"][0] != Status.SOLVED:
        raise RuntimeError(f"not solved: {Status(result['status'][0]).name}")
    ledger(cooler, place, result, with_place=False).require_closed()
    # The place's own lines too: they need not add up here, because its air is given.
    return Solved(cooler, place, result[0], ledger(cooler, place, result, with_place=True))
