"""Better sinks by a realistic step, for the hot and the cold side."""

from __future__ import annotations

from coldwright.answers.change.amounts import times, times_text
from coldwright.answers.change.kind import Variant
from coldwright.sheet.models import PlateFinSink, ResistanceSink, Sink, TableSink

# Half as wide again, with as many more fins; and what such a step does to a sink of one number
# (the conductance of half as many fins again, and a little more of spreading).
WIDER = 1.5
LESS_RESISTANCE = 0.75


def better_sinks(sinks: tuple[Sink, ...], side: str) -> list[Variant]:
    """The one way of bettering all sinks of a side; none without sinks."""
    edits: dict[str, object] = {}
    kinds = set()
    for number, sink in enumerate(sinks):
        at = f"cooler.{side}_sink" + (f"[{number}]" if len(sinks) > 1 else "")
        edits |= _better(sink, at)
        kinds.add(_words(sink, side))
    if not edits:
        return []
    return [
        Variant(
            " and ".join(sorted(kinds)),
            edits,
            asks="room, and a base that is flat over the modules",
        )
    ]


def _better(sink: Sink, at: str) -> dict[str, object]:
    if isinstance(sink, PlateFinSink):
        return {**times(sink.base[1], WIDER)}
    if isinstance(sink, ResistanceSink):
        return {**times(sink.value, LESS_RESISTANCE)}
    if isinstance(sink, TableSink):
        rows = [
            [row[0].text, times_text(row[1], LESS_RESISTANCE), *(each.text for each in row[2:])]
            for row in sink.rows
        ]
        return {f"{at}.rows": rows}
    if sink.radiator.conductance is not None:
        return {**times(sink.radiator.conductance, WIDER)}
    assert sink.radiator.resistance is not None
    return {**times(sink.radiator.resistance, LESS_RESISTANCE)}


def _words(sink: Sink, side: str) -> str:
    if isinstance(sink, PlateFinSink):
        return f"Make the {side} sink half as wide again"
    if isinstance(sink, ResistanceSink | TableSink):
        return f"Take a {side} sink with a quarter less resistance"
    if sink.radiator.conductance is not None:
        return "Take half as much radiator again"
    return "Take a radiator with a quarter less resistance"
