"""The power chain and the cooler brought to agree: what the chain loses lands in the ledger.

The cooler's solve knows supply, converter and the modules' own run. What fuses, switch, drives and
the other runs lose depends on its currents, and warms the place or the exhaust in turn: a few
passes settle it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coldwright.machine.assemble_network import Chain, power_chain_of, uses_network
from coldwright.machine.cooler import operate
from coldwright.machine.network import Solution, solve_network
from coldwright.machine.records import Status
from coldwright.sheet.models import Box, Room, Sheet

_PASSES = 30
# Agreed: the extra loss moves by less, of the power from the plug.
_AGREED = 1e-12


def land_losses(sheet: Sheet, coolers: Any, nominal: Callable[[], tuple[Any, Any]]) -> None:
    """Write into records what the chain loses beyond what the cooler's solve knows.

    Parameters
    ----------
    sheet
        The design; one that says nothing of the chain is left as it is, to the last bit.
    coolers
        `COOLER` records, nominal or tries, shape (n,): changed in place.
    nominal
        Makes the nominal cooler and place, shape (1,): its losses hold for all tries.

    Raises
    ------
    NoSolution
        When the chain cannot be; the sentence names the place.
    """
    if not uses_network(sheet):
        return
    cooler, place = nominal()
    before = cooler["group"]["drive_value"].copy()
    for _ in range(_PASSES):
        result = operate(
            cooler, place, place["air_K"], place["humidity_ratio"],
            with_place=isinstance(sheet.place, Room | Box),
        )  # fmt: skip
        if result["status"][0] != Status.SOLVED:
            return  # the solve itself will say why
        chain = power_chain_of(sheet, cooler[0], result[0], float(place["air_K"][0]))
        found = solve_network(chain.elements)
        moved_W = _write(cooler, chain, found)
        if moved_W <= _AGREED * max(float(result["plug_W"][0]), 1.0):
            break
    power, agreed = coolers["power"], cooler["power"]
    power["controller_W"] += agreed["extra_W"][0]
    power["extra_W"] = agreed["extra_W"][0]
    held = before[0] != 0.0
    ratio = cooler["group"]["drive_value"][0][held] / before[0][held]
    coolers["group"]["drive_value"][:, held] *= ratio


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
