"""Sinks that are said to be better than any sink can be at their own air flow."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.findings import Finding
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import (
    Box,
    Fan,
    OpenAir,
    ResistanceSink,
    Room,
    Sheet,
    Sink,
    TableSink,
    WaterLoop,
)


def sinks_too_good(sheet: Sheet) -> list[Finding]:
    """A stop for each thermal resistance below 1/(m cp) of the air at the flow it is stated for.

    The densest air that the sheet speaks of is taken, dry: what is refused cannot be in any other.
    """
    stated = list(_stated(sheet))
    if not stated:
        return []
    # The laws take a while to load, and most sheets have no such number.
    from coldwright.physics.air_state import standard_pressure
    from coldwright.physics.air_volume import specific_volume
    from coldwright.physics.moist_air import CP_AIR

    altitude: Quantity | None = getattr(sheet.climate, "altitude", None)
    pressure_Pa = standard_pressure(0.0 if altitude is None else altitude.value)
    volume = float(specific_volume(_coldest_K(sheet), 0.0, pressure_Pa))
    found = []
    for side, value, flow in stated:
        least = volume / (flow.value * CP_AIR)
        if value.value < least:
            found.append(
                Finding(
                    "CW-SINK-07", "stop", value.path,
                    f"“{value.text}” of the {side} sink at an air flow of {flow.text}",
                    f"at least {display('thermal_resistance', least)}, which is 1/(m cp) of that "
                    "air",
                    "The air cannot leave hotter than the base, however good the sink is",
                    "the flow at which this resistance holds (at_flow), or the resistance from "
                    "base to incoming air instead of that of the bare metal",
                    sheet.line(value.path), sheet.file,
                )
            )  # fmt: skip
    return found


def _stated(sheet: Sheet) -> Iterator[tuple[str, Quantity, Quantity]]:
    """Side, resistance and the flow that it holds at, where the sheet says both."""
    cooler = sheet.cooler
    sides: tuple[tuple[str, tuple[Sink, ...], Fan | None], ...] = (
        ("cold", cooler.cold_sink or (), cooler.cold_fan),
        ("hot", cooler.hot_sink, cooler.hot_fan),
    )
    for side, sinks, fan in sides:
        flow = None if fan is None else fan.flow
        for sink in sinks:
            if isinstance(sink, TableSink):
                yield from ((side, row[1], row[0]) for row in sink.rows if row[0].value > 0.0)
                continue
            value = at_flow = None
            if isinstance(sink, ResistanceSink):
                value, at_flow = sink.value, sink.at_flow
            elif isinstance(sink, WaterLoop):
                value, at_flow = sink.radiator.resistance, sink.radiator.at_flow
            at_flow = at_flow or flow
            if value is not None and at_flow is not None and at_flow.value > 0.0:
                yield side, value, at_flow


def _coldest_K(sheet: Sheet) -> float:
    climate, place = sheet.climate, sheet.place
    given = [getattr(climate, "outdoor_air", None), sheet.goal.air]
    if isinstance(place, Room | Box):
        given.append(place.start_air)
    elif isinstance(place, OpenAir):
        given.append(place.air)
    return min([293.15, *(each.value for each in given if each is not None)])
