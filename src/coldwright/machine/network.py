"""A direct-current network solved: node voltages, currents, and where every watt ends.

Unknown are the voltages of the nodes and the currents of what holds a voltage (supplies, batteries,
outputs of converters, ideal joints). Kirchhoff's current rule at each node and one equation for
each held voltage are solved by a damped Newton iteration. What takes the same power at any voltage
is brought up from nothing step by step: so the state is the one that is reached on switching on,
and a line that cannot carry the load shows as a fold in the path, not as a wrong root.

Networks that cannot be are refused before (`network_faults`) or after the solve, by name.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coldwright.errors import NoSolution, SolverError
from coldwright.machine.network_elements import (
    Battery,
    Charger,
    Converter,
    Diode,
    Element,
    Load,
    Panel,
    Source,
    Steady,
    Supply,
)
from coldwright.machine.network_faults import (
    BROWN_OUT,
    OVERLOAD,
    SOURCES_FIGHT,
    TOO_LOW,
    refuse_impossible,
)
from coldwright.machine.network_system import System

STORED = "charge stored in the battery"
# Largest imbalance, of the largest current or voltage in the network.
_ALLOWED = 1e-14
_GOOD_ENOUGH = 1e-11
_SMALLEST_STEP = 1e-3
# Knees of diodes on the way to a first state, as multiples of their own.
_ROUNDER = (64.0, 16.0, 4.0, 1.0)


@dataclass(frozen=True, slots=True)
class Heat:
    """Heat [W] of one element, and the named place where it lands."""

    element: str
    at: str
    watts: float


@dataclass(frozen=True)
class Solution:
    """A solved network. All maps go by name, in the order of the elements."""

    voltage_V: Mapping[str, float]
    """Of each node, against the minus of its own circuit's first source."""
    current_A: Mapping[str, float]
    """From plus to minus through a load, out of the plus of a source or of a converter."""
    input_A: Mapping[str, float]
    """Into each converter."""
    across_V: Mapping[str, float]
    """From plus to minus of each element; of a converter, at its input."""
    heat: list[Heat]
    leaves_W: Mapping[str, float]
    """What leaves as light, sound or work, or as charge that a battery stores."""
    taken_W: Mapping[str, float]
    """What each source takes from outside: the plug, a battery's chemistry, the sun."""

    @property
    def plug_W(self) -> float:
        """Everything taken from plug, battery and panel [W]."""
        return sum(self.taken_W.values())

    def heat_at(self) -> dict[str, float]:
        """Heat [W] by place."""
        found: dict[str, float] = {}
        for each in self.heat:
            found[each.at] = found.get(each.at, 0.0) + each.watts
        return found

    def heat_of(self, element: str) -> float:
        """Heat [W] of one element, wherever it lands."""
        return sum(each.watts for each in self.heat if each.element == element)

    def residual_W(self) -> float:
        """What the balance leaves open [W]: taken, less heat, less what leaves."""
        heat_W = sum(each.watts for each in self.heat)
        return self.plug_W - heat_W - sum(self.leaves_W.values())


def solve_network(elements: Iterable[Element]) -> Solution:
    """Solve a network of elements.

    Parameters
    ----------
    elements
        Any number, each with a name of its own. Circuits that are joined by converters alone are
        solved together, each against its own reference.

    Returns
    -------
    Solution
        With a heat balance that closes to rounding.

    Raises
    ------
    NoSolution
        When the network cannot be; code and sentence say why and name the place. By its shape:
        ``CW-NET-01`` a short, ``-02`` no way back, ``-03`` no source, ``-04`` sources against each
        other, ``-05`` converters in a ring, ``-08`` ideal joints in a ring. By its state: ``-04``
        a source fed backwards, ``-06`` overload, ``-07`` brown-out, ``-09`` an input too low.
    SolverError
        When the iteration does not arrive though nothing is wrong: a fault of the program.
    """
    rows = list(elements)
    refuse_impossible(rows)
    system = System(rows)
    found = _solution(system, _switch_on(system))
    _refuse_state(rows, found)
    return found


def _switch_on(system: System) -> NDArray[np.float64]:
    """Follow the state from resistive loads to what they are; refuse where the way ends."""
    x = np.zeros(system.size)
    for _ in range(2):
        f, slopes, _, _ = system.equations(x, 0.0, straight=True)
        x = x - np.linalg.solve(slopes, f)
    diodes = any(isinstance(each, Diode) for each in system.elements)
    sign = 1.0
    for rounder in _ROUNDER if diodes else (1.0,):
        start, sign = _newton(system, x, 0.0, rounder)
        if start is None:
            raise SolverError("the network could not be solved", residual_W=float("nan"))
        x = start
    share, step = 0.0, 1.0
    while share < 1.0 and system.fixed:
        if not system.upright(x):
            break
        goal = min(1.0, share + step)
        found, turned = _newton(system, x, goal)
        if found is not None and turned == sign and system.upright(found):
            x, share, step = found, goal, 2.0 * step
            continue
        step *= 0.25
        if step < _SMALLEST_STEP:
            break
    if share < 1.0 and system.fixed:
        raise NoSolution(BROWN_OUT, _brown_out(system, x))
    return x


def _newton(
    system: System, start: NDArray[np.float64], share: float, rounder: float = 1.0
) -> tuple[NDArray[np.float64] | None, float]:
    """Damped Newton from a start: the state (None: not reached) and the sign of the slopes."""
    x = start
    f, slopes, amps, volts = system.equations(x, share, rounder=rounder)
    # Steps are judged by one measure all along; only the end by the currents that then flow.
    first_A, first_V = amps, volts
    distance = system.distance(f, first_A, first_V)
    for _ in range(200):
        if system.distance(f, amps, volts) <= _ALLOWED:
            break
        try:
            step = np.linalg.solve(slopes, -f)
        except np.linalg.LinAlgError:
            return None, 0.0
        scale = 1.0
        better = False
        for _ in range(40 if distance > _GOOD_ENOUGH else 2):
            tried = x + scale * step
            if share == 0.0 or system.upright(tried):
                after = system.equations(tried, share, rounder=rounder)
                after_distance = system.distance(after[0], first_A, first_V)
                if after_distance < distance:
                    better = True
                    break
            scale *= 0.5
        if not better:
            break
        x, distance = tried, after_distance
        f, slopes, amps, volts = after
    # Where tiny resistances meet, rounding of the volts alone makes currents.
    rounding = 4e-16 * float(np.abs(slopes).max()) * volts / amps
    if system.distance(f, amps, volts) > max(_GOOD_ENOUGH, rounding):
        return None, 0.0
    return x, float(np.linalg.slogdet(slopes)[0])


def _solution(system: System, x: NDArray[np.float64]) -> Solution:
    """Currents, volts, heat and what leaves, each by its element's own law."""
    current: dict[str, float] = {}
    into: dict[str, float] = {}
    across: dict[str, float] = {}
    heat: list[Heat] = []
    leaves: dict[str, float] = {}
    taken: dict[str, float] = {}
    for each in system.elements:
        name = each.name
        v = across[name] = system.voltage(x, each.plus, each.minus)
        if name in system.held:
            current[name] = float(x[system.held[name]])
        if isinstance(each, Converter):
            out_W = each.voltage_V * current[name]
            loss_W, _ = each.loss.loss(out_W)
            into[name] = (out_W + loss_W) / v
            heat.append(Heat(name, each.at, loss_W))
        elif isinstance(each, Supply | Battery):
            out_W = v * current[name]
            lost_W = each.ohm * current[name] ** 2
            if isinstance(each, Supply):
                lost_W += each.loss.loss(out_W)[0]
            taken[name] = out_W + lost_W
            if isinstance(each, Battery) and each.charges and current[name] < 0.0:
                leaves[STORED] = leaves.get(STORED, 0.0) - taken[name]
                taken[name] = 0.0
            heat.append(Heat(name, each.at, lost_W))
        elif isinstance(each, Load):
            current[name] = each.power_W / v
            for what, share in each.leaves:
                leaves[what] = leaves.get(what, 0.0) + share * each.power_W
            kept = 1.0 - sum(share for _, share in each.leaves)
            heat.append(Heat(name, each.at, kept * each.power_W))
        elif isinstance(each, Panel | Charger):
            current[name] = -each.current(v)[0]
            taken[name] = v * current[name]
        elif name in system.held:
            heat.append(Heat(name, each.at, 0.0))
        else:
            current[name] = each.current(v)[0]
            heat.append(Heat(name, each.at, v * current[name]))
    nodes = {node: float(x[i]) if i >= 0 else 0.0 for node, i in system.node.items()}
    return Solution(nodes, current, into, across, heat, leaves, taken)


def _refuse_state(elements: Iterable[Element], found: Solution) -> None:
    """Raise for a state that parts cannot keep: fed backwards, overloaded, too little input."""
    for each in elements:
        if isinstance(each, Steady) and found.across_V[each.name] < 0.0:
            raise NoSolution(
                TOO_LOW,
                f"“{each.name}” gets {-found.across_V[each.name]:.3g} V less than the part behind "
                "it is to have: a linear stage only lowers a voltage.",
            )
        if not isinstance(each, Source):
            continue
        amps = found.current_A[each.name]
        fed = isinstance(each, Battery) and each.charges
        if not fed and amps < -1e-9 * max(1.0, *(abs(other) for other in found.current_A.values())):
            raise NoSolution(
                SOURCES_FIGHT,
                f"“{each.name}” is fed backwards with {-amps:.3g} A: a source of higher voltage "
                "works against it. A diode or a charger belongs between them.",
            )
        if each.limit_A is not None and amps > each.limit_A * (1.0 + 1e-9):
            raise NoSolution(
                OVERLOAD,
                f"“{each.name}” would have to give {amps:.3g} A and can give {each.limit_A:.3g} A.",
            )
        if isinstance(each, Converter) and found.across_V[each.name] < each.least_V:
            raise NoSolution(
                TOO_LOW,
                f"“{each.name}” gets {found.across_V[each.name]:.3g} V and needs at least "
                f"{each.least_V:.3g} V to give its {each.voltage_V:.3g} V.",
            )


def _brown_out(system: System, x: NDArray[np.float64]) -> str:
    """Which part brings the voltage down, in words."""

    def left(each: Load | Converter) -> float:
        return system.voltage(x, each.plus, each.minus) / system.usual_V[each.name]

    worst = min(system.fixed, key=left)
    return (
        f"The wires to “{worst.name}” cannot carry the power that it takes: its current rises as "
        f"the voltage falls, from {system.usual_V[worst.name]:.3g} V without end (brown-out)."
    )
