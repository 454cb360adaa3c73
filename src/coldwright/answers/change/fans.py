"""A stronger fan: half as much flow and pressure again, with the power and sound that it costs."""

from __future__ import annotations

import math

from coldwright.answers.change.amounts import plus_text, times, times_text
from coldwright.answers.change.kind import Variant
from coldwright.sheet.models import Fan

STRONGER = 1.5


def stronger_fan(fan: Fan | None, side: str) -> list[Variant]:
    """The one way of making a side's fan stronger; none without a fan.

    A fan known by its curve is replaced by a similar one, larger and faster, whose flow and
    pressure are both half as much again. One known by its flow is run faster in the same path, so
    that the pressure grows with the square of the flow.
    """
    if fan is None:
        return []
    flow = STRONGER
    pressure = STRONGER if fan.curve is not None else STRONGER**2
    edits: dict[str, object] = {}
    if fan.curve is not None:
        edits[f"cooler.{side}_fan.curve"] = [
            [times_text(point[0], flow), times_text(point[1], pressure)] for point in fan.curve
        ]
    else:
        assert fan.flow is not None
        edits |= times(fan.flow, flow)
    if fan.power is not None:
        edits |= times(fan.power, flow * pressure)
    if fan.sound_at_1m is not None:
        louder = sound_rise_dB(flow, pressure)
        edits[fan.sound_at_1m.path] = plus_text(fan.sound_at_1m, louder)
    return [
        Variant(
            f"Fit a {side} fan half as strong again",
            edits,
            asks="a guard over its blades, and a supply that bears its power",
        )
    ]


def sound_rise_dB(flow_ratio: float, pressure_ratio: float) -> float:
    """How much louder [dB] a similar fan is, for its flow and pressure over the old ones [-].

    `10 lg(flow) + 20 lg(pressure)`: sound power of similar fans at the same point of their curves.
    For one fan run faster it is the 50 lg of the speed.

    Source: C. J. Madison, "Fan Engineering" (1949); ASHRAE Handbook HVAC Applications, chapter on
    noise and vibration control (from memory).
    """
    return 10.0 * math.log10(flow_ratio) + 20.0 * math.log10(pressure_ratio)
