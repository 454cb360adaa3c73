"""The shape of a network: its circuits, what lies on a common ring, and what joins what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from coldwright.machine.network_elements import (
    Battery,
    Charger,
    Conductor,
    Converter,
    Element,
    Panel,
    Source,
    Supply,
)


@dataclass(frozen=True, slots=True)
class Edge:
    """One way through an element: a converter has two, its input and its output."""

    element: Element
    plus: str
    minus: str
    gives: bool
    """Whether power comes out of it: a source, or a converter's output."""


def edges(elements: Iterable[Element]) -> list[Edge]:
    """All ways through all elements."""
    found: list[Edge] = []
    for each in elements:
        if isinstance(each, Converter):
            found.append(Edge(each, each.plus, each.minus, False))
            found.append(Edge(each, each.out_plus, each.out_minus, True))
        else:
            gives = isinstance(each, Supply | Battery | Panel | Charger)
            found.append(Edge(each, each.plus, each.minus, gives))
    return found


def is_ideal(edge: Edge) -> bool:
    """Whether a voltage is held without any resistance."""
    each = edge.element
    if isinstance(each, Converter):
        return edge.gives
    return isinstance(each, Supply | Battery | Conductor) and each.ohm == 0.0


def holds_voltage(element: Element) -> bool:
    """Whether an element's current is an unknown of its own."""
    if isinstance(element, Conductor):
        return element.ohm == 0.0
    return isinstance(element, Source)


def references(elements: Iterable[Element]) -> dict[str, float]:
    """Node of each separate circuit against which voltages count, and its highest source [V]."""
    ways = edges(elements)
    join = _Joined()
    for way in ways:
        join.join(way.plus, way.minus)
    highest: dict[str, float] = {}
    first: dict[str, str] = {}
    for way in ways:
        if way.gives:
            circuit = join.of(way.minus)
            first.setdefault(circuit, way.minus)
            each = way.element
            highest[circuit] = max(highest.get(circuit, 0.0), _volts(each))
    return {node: highest[circuit] for circuit, node in first.items()}


def circuit_of(elements: Iterable[Element]) -> dict[str, str]:
    """For each node, a node that names its circuit."""
    ways = edges(elements)
    join = _Joined()
    for way in ways:
        join.join(way.plus, way.minus)
    return {node: join.of(node) for way in ways for node in (way.plus, way.minus)}


def blocks(ways: Sequence[Edge]) -> list[list[Edge]]:
    """Groups of edges of which any two lie on one ring; an edge alone carries no current.

    Biconnected components by depth-first search (J. Hopcroft and R. Tarjan, Communications of the
    ACM 16, 1973, 372-378, from memory).
    """
    beside: dict[str, list[tuple[str, int]]] = {}
    for number, way in enumerate(ways):
        beside.setdefault(way.plus, []).append((way.minus, number))
        beside.setdefault(way.minus, []).append((way.plus, number))
    depth: dict[str, int] = {}
    lowest: dict[str, int] = {}
    found: list[list[Edge]] = []
    waiting: list[int] = []
    for root in beside:
        if root in depth:
            continue
        depth[root] = lowest[root] = len(depth)
        path = [(root, -1, iter(beside[root]))]
        while path:
            node, came_by, rest = path[-1]
            step = next(rest, None)
            if step is not None:
                other, number = step
                if number == came_by:
                    continue
                if other not in depth:
                    waiting.append(number)
                    depth[other] = lowest[other] = len(depth)
                    path.append((other, number, iter(beside[other])))
                elif depth[other] < depth[node]:
                    waiting.append(number)
                    lowest[node] = min(lowest[node], depth[other])
                continue
            path.pop()
            if path:
                above = path[-1][0]
                lowest[above] = min(lowest[above], lowest[node])
                if lowest[node] >= depth[above]:
                    group: list[Edge] = []
                    while True:
                        number = waiting.pop()
                        group.append(ways[number])
                        if number == came_by:
                            break
                    found.append(group)
    return found


def way_between(ways: Iterable[Edge], start: str, end: str) -> list[Edge] | None:
    """The fewest edges that join two nodes; None where nothing does."""
    beside: dict[str, list[tuple[str, Edge]]] = {}
    for way in ways:
        beside.setdefault(way.plus, []).append((way.minus, way))
        beside.setdefault(way.minus, []).append((way.plus, way))
    came: dict[str, tuple[str, Edge] | None] = {start: None}
    rank = [start]
    for node in rank:
        if node == end:
            found: list[Edge] = []
            back = came[end]
            while back is not None:
                found.append(back[1])
                back = came[back[0]]
            return found[::-1]
        for other, way in beside.get(node, ()):
            if other not in came:
                came[other] = (node, way)
                rank.append(other)
    return None


def _volts(element: Element) -> float:
    if isinstance(element, Panel):
        return element.open_V
    if isinstance(element, Charger):
        return element.floor_V
    assert isinstance(element, Source)
    return element.voltage_V


class _Joined:
    """Which nodes hang together."""

    def __init__(self) -> None:
        self._above: dict[str, str] = {}

    def of(self, node: str) -> str:
        """The node that stands for all that hang together with this one."""
        while (above := self._above.setdefault(node, node)) != node:
            self._above[node] = self._above[above]
            node = above
        return node

    def join(self, one: str, other: str) -> None:
        self._above[self.of(one)] = self.of(other)
