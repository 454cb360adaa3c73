"""The power chain in its three states: running, at switch-on, and with the modules reversed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from coldwright.answers.design import Design, Point
from coldwright.errors import NoSolution
from coldwright.machine.assemble_network import Chain, Moment, power_chain_of
from coldwright.machine.coupled import before_chain
from coldwright.machine.network import Solution, solve_network


@dataclass
class States:
    """One chain, solved in each state; a state that cannot be has its reason instead."""

    chain: Chain
    solved: dict[Moment, Solution] = field(default_factory=dict)
    refused: dict[Moment, NoSolution] = field(default_factory=dict)

    @property
    def running(self) -> Solution:
        """The state that the cooler's own solve agrees with."""
        return self.solved[Moment.RUNNING]

    def current_A(self, part: str, moment: Moment) -> float | None:
        """Mean current in the run to a part [A]; None where there is none or no such state."""
        names = self.chain.parts.get(part, [])
        found = self.solved.get(moment)
        if found is None or not names:
            return None
        first = names[0]
        # A run that begins with a converter itself has no wire of its own: its input counts.
        return found.input_A.get(first, found.current_A[first])

    def drop_V(self, part: str) -> float:
        """What fuse, joints and copper of a run lose together while it runs [V]."""
        return sum(self.running.across_V[name] for name in self.wires(part))

    def heat_W(self, part: str) -> float:
        """Heat of fuse, joints and copper of a run while it runs [W]."""
        return sum(self.running.heat_of(name) for name in self.wires(part))

    def start_V(self, part: str) -> float:
        """Voltage at which a run begins [V]."""
        rest = [name for name in self.chain.parts[part] if name not in self.wires(part)]
        return self.running.across_V[rest[0]] + self.drop_V(part)

    def wires(self, part: str) -> list[str]:
        """The conductors of a run."""
        return [
            name
            for name in self.chain.parts.get(part, [])
            if name.startswith((f"{part}: ", f"{part} 1: "))
        ]


def states_of(design: Design, point: Point) -> States:
    """Solve the chain of a design at a solved point, and at switch-on and reversed besides.

    Raises
    ------
    NoSolution
        When the running chain cannot be.
    """
    start_K = float(design.place["air_K"][0])
    cooler, result = design.cooler[0], point.results[0]

    def chain(moment: Moment) -> Chain:
        return power_chain_of(design.sheet, cooler, result, start_K, moment, asked=asked_of(design))

    states = States(chain(Moment.RUNNING))
    states.solved[Moment.RUNNING] = solve_network(states.chain.elements)
    for moment in (Moment.SWITCH_ON, Moment.REVERSED):
        try:
            states.solved[moment] = solve_network(chain(moment).elements)
        except NoSolution as error:
            states.refused[moment] = error
    return states


def asked_of(design: Design) -> Any:
    """What each group is set to, before the chain takes its part; shape (groups,)."""
    return before_chain(design.cooler, design.losses)["group"]["drive_value"][0]


def air_at(located: str, design: Design, result: Any) -> float:
    """Temperature of the air where a part stands [K]: the exhaust is warmer than the room."""
    if located == "place":
        return float(result["place_K"])
    if located == "exhaust":
        return float(result["exhaust_K"])
    return float(design.place["outdoor_K"][0])
