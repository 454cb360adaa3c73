"""The equations of a network: which unknown stands where, residuals and their slopes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from coldwright.machine.network_elements import (
    Battery,
    Charger,
    Conductor,
    Converter,
    Diode,
    Element,
    Fan,
    Load,
    Panel,
    Steady,
    String,
    Supply,
)
from coldwright.machine.network_shape import circuit_of, edges, holds_voltage, references

_BENT = Load | Converter | Diode | Fan | Panel | Charger


@dataclass
class System:
    """Where each unknown stands."""

    elements: list[Element]
    node: dict[str, int] = field(init=False)
    """Index of a node's voltage; -1 for the reference of a circuit."""
    held: dict[str, int] = field(init=False)
    """Index of the current of what holds a voltage."""
    size: int = field(init=False)
    usual_V: dict[str, float] = field(init=False)
    """For each element that takes a fixed power: the highest voltage of its circuit's sources."""
    fixed: list[Load | Converter] = field(init=False)
    """What takes a power that does not depend on its voltage."""
    bent: list[Load | Converter | Diode | Fan | Panel | Charger] = field(init=False)
    """What does not follow a straight line."""
    lines: NDArray[np.float64] = field(init=False)
    constant: NDArray[np.float64] = field(init=False)

    def __post_init__(self) -> None:
        found = references(self.elements)
        circuit = circuit_of(self.elements)
        highest = {circuit[node]: volts for node, volts in found.items()}
        self.fixed = [each for each in self.elements if isinstance(each, Load | Converter)]
        self.usual_V = {each.name: highest[circuit[each.plus]] for each in self.fixed}
        self.node = dict.fromkeys(found, -1)
        count = 0
        for way in edges(self.elements):
            for name in (way.plus, way.minus):
                if name not in self.node:
                    self.node[name] = count
                    count += 1
        self.held = {}
        for each in self.elements:
            if holds_voltage(each):
                self.held[each.name] = count
                count += 1
        self.size = count
        self.bent = [each for each in self.elements if isinstance(each, _BENT)]
        self._stamp_lines()

    def voltage(self, x: NDArray[np.float64], plus: str, minus: str) -> float:
        """Voltage [V] between two nodes."""
        p, m = self.node[plus], self.node[minus]
        return float((x[p] if p >= 0 else 0.0) - (x[m] if m >= 0 else 0.0))

    def _stamp_lines(self) -> None:
        """What follows a straight line is put down once: ``f = lines x + constant + bent``."""
        self.lines = np.zeros((self.size, self.size))
        self.constant = np.zeros(self.size)
        for each in self.elements:
            if isinstance(each, Conductor | String | Steady) and each.name not in self.held:
                at_rest_A, slope = each.current(0.0)
                self._add(
                    self.constant, self.lines, each.plus, each.minus, at_rest_A,
                    (self.node[each.plus], slope), (self.node[each.minus], -slope),
                )  # fmt: skip
            if each.name in self.held:
                j = self.held[each.name]
                plus, minus, volts, ohm = _held(each)
                self._add(self.constant, self.lines, plus, minus, 0.0, (j, -1.0))
                self.constant[j] = -volts
                self.lines[j, j] += ohm
                for column, sign in ((self.node[plus], 1.0), (self.node[minus], -1.0)):
                    if column >= 0:
                        self.lines[j, column] += sign

    def _add(
        self,
        f: NDArray[np.float64],
        slopes: NDArray[np.float64],
        plus: str,
        minus: str,
        current_A: float,
        *by: tuple[int, float],
    ) -> None:
        """Let a current leave one node and enter another, with its slopes by unknowns."""
        for row, sign in ((self.node[plus], 1.0), (self.node[minus], -1.0)):
            if row >= 0:
                f[row] += sign * current_A
                for column, slope in by:
                    if column >= 0:
                        slopes[row, column] += sign * slope

    def equations(
        self,
        x: NDArray[np.float64],
        share: float,
        *,
        straight: bool = False,
        rounder: float = 1.0,
    ) -> tuple[NDArray[np.float64], NDArray[np.float64], float, float]:
        """Residuals, their slopes, the largest current [A] and voltage [V].

        Rows of nodes are currents that leave, rows of held voltages are volts. What takes a fixed
        power is a resistor at a share of 0 and itself at 1. `straight` puts straight lines for
        bent ones, `rounder` rounds the knees of diodes: both for a first guess.
        """
        f = self.lines @ x + self.constant
        slopes = self.lines.copy()
        nodes = self.size - len(self.held)
        largest_A = max(1e-6, float(np.abs(x[nodes:]).max(initial=0.0)))
        largest_V = max(1e-6, float(np.abs(x[:nodes]).max(initial=0.0)))
        for each in self.bent:
            p, m = self.node[each.plus], self.node[each.minus]
            across_V = self.voltage(x, each.plus, each.minus)
            if isinstance(each, Load | Converter):
                power_W, slope_W_A, j = _power(each, x, self.held)
                usual_V = self.usual_V[each.name]
                per_W = (1.0 - share) * across_V / usual_V**2
                slope = (1.0 - share) / usual_V**2
                if share > 0.0:
                    per_W += share / across_V
                    slope -= share / across_V**2
                current_A, slope = power_W * per_W, power_W * slope
                by = ((p, slope), (m, -slope), (j, slope_W_A * per_W))
                self._add(f, slopes, each.plus, each.minus, current_A, *by)
            else:
                if straight:
                    current_A, slope = _straight(each, across_V)
                elif isinstance(each, Diode):
                    current_A, slope = each.current(across_V, rounder=rounder)
                else:
                    current_A, slope = each.current(across_V)
                self._add(f, slopes, each.plus, each.minus, current_A, (p, slope), (m, -slope))
            largest_A = max(largest_A, abs(current_A))
        return f, slopes, largest_A, largest_V

    def distance(self, f: NDArray[np.float64], largest_A: float, largest_V: float) -> float:
        """Largest residual, relative."""
        nodes = self.size - len(self.held)
        return float(
            max(
                np.abs(f[:nodes]).max(initial=0.0) / largest_A,
                np.abs(f[nodes:]).max(initial=0.0) / largest_V,
            )
        )

    def upright(self, x: NDArray[np.float64]) -> bool:
        """Whether all that takes a fixed power has a voltage to take it from."""
        return all(
            self.voltage(x, each.plus, each.minus) > 1e-3 * self.usual_V[each.name]
            for each in self.fixed
        )


def _power(
    each: Load | Converter, x: NDArray[np.float64], held: Mapping[str, int]
) -> tuple[float, float, int]:
    """Power that it takes [W], its slope over an unknown current [W/A], and that one's index."""
    if isinstance(each, Load):
        return each.power_W, 0.0, -1
    j = held[each.name]
    out_W = each.voltage_V * float(x[j])
    loss_W, slope = each.loss.loss(out_W)
    return out_W + loss_W, each.voltage_V * (1.0 + slope), j


def _held(each: Element) -> tuple[str, str, float, float]:
    """Where a held voltage stands: plus, minus, volts, and the ohms behind it."""
    if isinstance(each, Converter):
        return each.out_plus, each.out_minus, each.voltage_V, 0.0
    if isinstance(each, Conductor):
        # Its current counts from plus to minus, as through a load.
        return each.minus, each.plus, 0.0, 0.0
    assert isinstance(each, Supply | Battery)
    return each.plus, each.minus, each.voltage_V, each.ohm


def _straight(each: Diode | Fan | Panel | Charger, across_V: float) -> tuple[float, float]:
    """Current and slope with a straight line for a bent one."""
    if isinstance(each, Diode):
        return (across_V - each.drop_V) / each.ohm, 1.0 / each.ohm
    if isinstance(each, Charger):
        return -each.power_W / each.floor_V, 0.0
    if isinstance(each, Fan):
        return each.rated_A / each.rated_V * across_V, each.rated_A / each.rated_V
    slope = each.short_A / each.knee_V
    return slope * (across_V - each.open_V), slope
