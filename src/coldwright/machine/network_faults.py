"""Networks that cannot be: found by their shape before anything is solved, and named."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from coldwright.errors import NoSolution
from coldwright.machine.network_elements import Conductor, Converter, Element, Source
from coldwright.machine.network_shape import Edge, blocks, edges, is_ideal, way_between

SHORT = "CW-NET-01"
NO_RETURN = "CW-NET-02"
NO_SOURCE = "CW-NET-03"
SOURCES_FIGHT = "CW-NET-04"
RING = "CW-NET-05"
OVERLOAD = "CW-NET-06"
BROWN_OUT = "CW-NET-07"
IDEAL_RING = "CW-NET-08"
TOO_LOW = "CW-NET-09"


def refuse_impossible(elements: Sequence[Element]) -> None:
    """Raise `NoSolution` for a network whose shape allows no currents; the sentence names where.

    Raises
    ------
    ValueError
        When two elements have one name: results could not be told apart.
    """
    names = [each.name for each in elements]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise ValueError(f"two elements are called {_names(sorted(twice))}")
    ways = edges(elements)
    for way in ways:
        if way.plus == way.minus:
            raise NoSolution(
                SHORT, f"Both ends of {_name(way)} are joined at “{way.plus}”: it is shorted."
            )
    _refuse_shorts(ways)
    _refuse_ideal_rings(ways)
    _refuse_dead_ends(ways)


def _refuse_shorts(ways: Sequence[Edge]) -> None:
    """A source whose ends are joined by wires alone."""
    wires = [way for way in ways if isinstance(way.element, Conductor)]
    for way in ways:
        if way.gives and isinstance(way.element, Source):
            short = way_between(wires, way.plus, way.minus)
            if short is not None:
                raise NoSolution(
                    SHORT,
                    f"The ends of {_name(way)} are joined by {_all(short)} with no load between: "
                    "a short.",
                )


def _refuse_ideal_rings(ways: Sequence[Edge]) -> None:
    """Voltages held against each other with no resistance in the ring."""
    held: list[Edge] = []
    for way in filter(is_ideal, ways):
        ring = way_between(held, way.plus, way.minus)
        if ring is not None:
            ring = [way, *ring]
            sources = [each for each in ring if each.gives]
            if len(sources) > 1:
                raise NoSolution(
                    SOURCES_FIGHT,
                    f"{_all(sources)} are joined without any resistance and fight over the voltage "
                    f"between “{way.plus}” and “{way.minus}”.",
                )
            raise NoSolution(
                IDEAL_RING,
                f"{_all(ring)} form a ring without any resistance: the current in it is not "
                "determined.",
            )
        held.append(way)


def _refuse_dead_ends(ways: Sequence[Edge]) -> None:
    """Elements without a way back, without a source, and converters that only feed each other."""
    block_of: dict[tuple[str, bool], int] = {}
    groups = blocks(ways)
    for number, group in enumerate(groups):
        if len(group) == 1:
            raise NoSolution(
                NO_RETURN,
                f"No current can pass through {_name(group[0])}: there is no way back from "
                f"“{group[0].minus}” to a source's other end.",
            )
        for way in group:
            block_of[way.element.name, way.gives] = number
    alive = {
        number
        for number, group in enumerate(groups)
        if any(way.gives and not isinstance(way.element, Converter) for way in group)
    }
    converters = [
        way for way in ways if isinstance(way.element, Converter) and not way.gives
    ]  # fmt: skip
    for _ in converters:
        for way in converters:
            if block_of[way.element.name, False] in alive:
                alive.add(block_of[way.element.name, True])
    for number, group in enumerate(groups):
        if number in alive:
            continue
        feeders = [way for way in group if way.gives]
        if feeders:
            raise NoSolution(
                RING,
                f"{_all(feeders)} get their power only from themselves or each other: a ring of "
                "converters gives nothing.",
            )
        raise NoSolution(NO_SOURCE, f"Nothing feeds {_all(group)}: there is no source in its ring.")


def _name(way: Edge) -> str:
    return f"“{way.element.name}”"


def _all(ways: Iterable[Edge]) -> str:
    return _names(way.element.name for way in ways)


def _names(names: Iterable[str]) -> str:
    quoted = [f"“{name}”" for name in names]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
