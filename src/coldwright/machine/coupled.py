"""The power chain and the cooler brought to agree: what the chain loses lands in the ledger.

The cooler's solve knows supply, converter and the modules' own run. What fuses, switch, drives and
the other runs lose depends on its currents, and warms the place or the exhaust in turn: a few
passes settle it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.assemble_network import Chain, power_chain_of, uses_network
from coldwright.machine.cooler import operate
from coldwright.machine.network import Solution, solve_network
from coldwright.machine.records import Status
from coldwright.sheet.models import Box, Room, Sheet

_PASSES = 30
# Agreed: the extra loss moves by less, of the power from the plug.
_AGREED = 1e-12


@dataclass(frozen=True)
class Landed:
    """What the chain loses beyond what the cooler's solve knows, and the volts it leaves."""

    extra_W: float
    drive_ratio: NDArray[np.float64]
    """What is left of what each group is set to, shape (groups,)."""


def losses_of(sheet: Sheet, cooler: Any, place: Any) -> Landed | None:
    """Bring chain and cooler to agree; None for a sheet that says nothing of the chain.

    Parameters
    ----------
    sheet
        The design.
    cooler, place
        Its nominal records, shape (1,); they are left as they are.

    Raises
    ------
    NoSolution
        When the chain cannot be; the sentence names the place.
    """
    if not uses_network(sheet):
        return None
    cooler = cooler.copy()
    before = cooler["group"]["drive_value"][0].copy()
    for _ in range(_PASSES):
        result = operate(
            cooler, place, place["air_K"], place["humidity_ratio"],
            with_place=isinstance(sheet.place, Room | Box),
        )  # fmt: skip
        if result["status"][0] != Status.SOLVED:
            return None  # the solve itself will say why
        start_K = float(place["air_K"][0])
        chain = power_chain_of(sheet, cooler[0], result[0], start_K, asked=before)
        found = solve_network(chain.elements)
        moved_W = _write(cooler, chain, found)
        if moved_W <= _AGREED * max(float(result["plug_W"][0]), 1.0):
            break
    after = cooler["group"]["drive_value"][0]
    ratio = np.divide(after, before, out=np.ones_like(before), where=before != 0.0)
    return Landed(float(cooler["power"]["extra_W"][0]), ratio)


def land(coolers: Any, losses: Landed | None) -> None:
    """Write the losses of the nominal case into records of any number of tries, shape (n,)."""
    if losses is None:
        return
    coolers["power"]["controller_W"] += losses.extra_W
    coolers["power"]["extra_W"] = losses.extra_W
    coolers["group"]["drive_value"] *= losses.drive_ratio


def before_chain(coolers: Any, losses: Landed | None) -> Any:
    """A copy of records that holds none of the landed losses any more."""
    bare = coolers.copy()
    if losses is not None:
        bare["power"]["controller_W"] -= bare["power"]["extra_W"]
        bare["power"]["extra_W"] = 0.0
        bare["group"]["drive_value"] /= losses.drive_ratio
    return bare


def _write(cooler: Any, chain: Chain, found: Solution) -> float:
    """Put this pass's losses and voltages into the nominal record; how far they moved [W]."""
    power = cooler["power"]
    extra_W = sum(heat.watts for heat in found.heat if heat.element in chain.extra)
    moved_W = abs(extra_W - float(power["extra_W"][0]))
    power["controller_W"] += extra_W - power["extra_W"]
    power["extra_W"] = extra_W
    for g in chain.direct:
        plus, minus = chain.starts[g]
        volts = found.voltage_V[plus] - found.voltage_V[minus]
        was_V = float(cooler["group"]["drive_value"][0, g])
        moved_W += abs(volts - was_V) * float(sum(abs(a) for a in found.current_A.values()))
        cooler["group"]["drive_value"][:, g] = volts
    return moved_W
