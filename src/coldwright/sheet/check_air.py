"""What can be said without physics of sinks, fans, ducts and where the air goes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from coldwright.findings import Finding
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import (
    Box,
    Duct,
    Fan,
    OpenAir,
    Plate,
    PlateFinSink,
    ResistanceSink,
    Room,
    Sheet,
    Sink,
    TableSink,
    WaterLoop,
)
from coldwright.sheet.remarks import remark

Rule = Callable[[Sheet], Iterator[Finding]]


def _where_air_goes(sheet: Sheet) -> Iterator[Finding]:
    cooler = sheet.cooler
    if isinstance(sheet.place, OpenAir | Plate):
        return
    if cooler.hot_sends_to == "place":
        both = cooler.hot_takes_from == "place"
        yield remark(
            "CW-COOLER-01", "warning", "cooler.hot_sends_to",
            "The hot air is sent into the place, which does not cool it as a whole",
            why="Both sides in one place heat it by the electrical power; only the spot in the "
            "cold air feels cooler" if both else
            "Outdoor air is warmed by the hot side and then blown into the place",
            # Two ducts are right beside a flame as well; an exhaust is not.
            action='hot_takes_from = "outdoors" and hot_sends_to = "outdoors" (two ducts)' if both
            else 'hot_sends_to = "outdoors"',
        )  # fmt: skip
    if cooler.cold_sends_to == "outdoors" and isinstance(sheet.place, Room | Box):
        yield remark(
            "CW-COOLER-03", "stop", "cooler.cold_sends_to",
            "The cooled air is sent outdoors, which does not cool the place",
            action='cold_sends_to = "place"',
        )  # fmt: skip


def sealed(place: Room | Box) -> bool:
    """Whether the sheet says that no air at all passes the place's walls."""
    leakage = place.air_leakage
    if isinstance(leakage, str):
        return leakage == "none"
    given = leakage.area or leakage.ach50 or leakage.natural
    return given is not None and given.value <= 0.0


def _air_gets_in_and_out(sheet: Sheet) -> Iterator[Finding]:
    cooler, place = sheet.cooler, sheet.place
    if not isinstance(place, Room | Box) or not sealed(place):
        return
    hot_in, hot_out = cooler.hot_takes_from == "place", cooler.hot_sends_to == "place"
    takes_out = hot_in and not hot_out
    brings_in = (hot_out and not hot_in) or cooler.cold_takes_from == "outdoors"
    if takes_out and not brings_in:
        yield remark(
            "CW-COOLER-08", "stop", "place.air_leakage",
            "No air can come into this place for what the exhaust takes out of it",
            why="Against a closed room a fan moves nothing",
            action='air_leakage = { area = "150 cm^2" }, the free area of an opening made for it, '
            'or hot_takes_from = "outdoors" (two ducts)',
        )  # fmt: skip
    elif brings_in and not takes_out:
        yield remark(
            "CW-COOLER-08", "stop", "place.air_leakage",
            "No air can leave this place for what the cooler blows into it",
            why="Against a closed room a fan moves nothing",
            action='air_leakage = { area = "150 cm^2" }, the free area of an opening made for it, '
            "or a stream that comes from where it goes",
        )  # fmt: skip


def _cold_side_is_there(sheet: Sheet) -> Iterator[Finding]:
    cooler = sheet.cooler
    if isinstance(sheet.place, Plate):
        for name in ("cold_sink", "cold_fan", "cold_duct"):
            if getattr(cooler, name) is not None:
                yield remark(
                    "CW-COOLER-04", "warning", f"cooler.{name}",
                    f"The place is a plate on the modules; {name} is not used",
                    action=f"leaving {name} out",
                )  # fmt: skip
        return
    for name in ("cold_sink", "cold_fan"):
        if getattr(cooler, name) is None:
            yield remark(
                "CW-COOLER-02", "stop", f"cooler.{name}", "", f"a table [cooler.{name}]",
                why="Without it the modules cool no air",
            )  # fmt: skip


def _recirculation(sheet: Sheet) -> Iterator[Finding]:
    for name in ("cold_recirculation", "hot_recirculation"):
        share: Quantity = getattr(sheet.cooler, name)
        if share.value > 0.95:
            yield remark(
                "CW-COOLER-05", "stop", share.path, f"“{share.text}”", "at most 0.95",
                why="The same air would go round and round; nothing carries the heat away",
            )  # fmt: skip


def _fan_speeds(sheet: Sheet) -> Iterator[Finding]:
    for name in ("cold_fan_speed", "hot_fan_speed"):
        speed: Quantity = getattr(sheet.cooler, name)
        if speed.value > 1.0:
            yield remark(
                "CW-FAN-04", "warning", speed.path, f"“{speed.text}”", "at most full speed, 1.0",
                why="Faster than rated a fan takes more power than its electronics may allow",
            )  # fmt: skip


def _fans(sheet: Sheet) -> Iterator[Finding]:
    for name, fan in _sided_fans(sheet):
        if fan.power is None:
            yield remark(
                "CW-FAN-01", "warning", f"cooler.{name}.power",
                "The power of this fan is not known; it is counted as 0 W",
                action="`power`, as in “14 W”",
            )  # fmt: skip
        if fan.curve is not None:
            yield from _falling_curve(fan)


def _falling_curve(fan: Fan) -> Iterator[Finding]:
    points = fan.curve or ()
    for before, after in pairwise(points):
        if after[0].value <= before[0].value:
            yield remark(
                "CW-FAN-02", "stop", after[0].path, f"“{after[0].text}”",
                f"more than the flow before it, “{before[0].text}”",
                why="A fan curve runs from no flow to no pressure",
            )  # fmt: skip
    for before, after in pairwise(points):
        if after[1].value > before[1].value:
            yield remark(
                "CW-FAN-03", "warning", after[1].path, f"“{after[1].text}”",
                f"at most the pressure before it, “{before[1].text}”",
                why="Where a fan curve rises, more than one operating point is possible",
            )  # fmt: skip


def _sinks(sheet: Sheet) -> Iterator[Finding]:
    for name, sinks, fan in _sided_sinks(sheet):
        for sink in sinks:
            if isinstance(sink, TableSink):
                yield from _rising_rows(sink)
            elif isinstance(sink, ResistanceSink):
                if sink.at_flow is None and fan is not None and fan.flow is None:
                    yield _no_flow(sink.value, name)
            elif isinstance(sink, WaterLoop):
                given = sink.radiator.conductance or sink.radiator.resistance
                if sink.radiator.at_flow is None and fan is not None and fan.flow is None:
                    assert given is not None  # the model asks for one of them
                    yield _no_flow(given, name)
            else:
                yield from _fins_fit(sink)


def _no_flow(value: Quantity, name: str) -> Finding:
    return remark(
        "CW-SINK-02", "stop", value.path,
        f"“{value.text}” holds at one air flow, which is not given",
        why="The fan has a curve, so no flow stands anywhere",
        action=f"`at_flow` in [cooler.{name}]",
    )  # fmt: skip


def _rising_rows(sink: TableSink) -> Iterator[Finding]:
    for before, after in pairwise(sink.rows):
        if after[0].value <= before[0].value:
            yield remark(
                "CW-SINK-01", "stop", after[0].path, f"“{after[0].text}”",
                f"more than the flow before it, “{before[0].text}”",
                why="The rows run from small to large flow",
            )  # fmt: skip
        elif after[1].value > before[1].value:
            yield remark(
                "CW-SINK-01", "stop", after[1].path, f"“{after[1].text}”",
                f"at most the resistance before it, “{before[1].text}”",
                why="More air never makes a sink worse",
            )  # fmt: skip
    lengths = {len(row) for row in sink.rows}
    if len(lengths) > 1:
        yield remark(
            "CW-SINK-01", "stop", sink.rows[0][0].path,
            "A pressure drop stands in some rows only", "in all rows or in none",
        )  # fmt: skip


def _fins_fit(sink: PlateFinSink) -> Iterator[Finding]:
    across_m = sink.base[1].value
    pitch_m = sink.fin_thickness.value + sink.fin_gap.value
    if across_m < pitch_m + sink.fin_thickness.value:
        yield remark(
            "CW-SINK-03", "stop", sink.base[1].path,
            f"The base, {sink.base[1].text} across, is too narrow for two fins and the gap of "
            f"{sink.fin_gap.text} between them",
        )  # fmt: skip


def _modules_fit(sheet: Sheet) -> Iterator[Finding]:
    """Whether the modules find room on the bases that the sheet gives by dimensions."""
    cooler = sheet.cooler
    for name, sinks, _ in _sided_sinks(sheet):
        key = f"{name}_number"
        for at, sink in enumerate(sinks, start=1):
            groups = [group for group in cooler.modules if getattr(group, key) == at]
            if not isinstance(sink, PlateFinSink) or not groups:
                continue
            needed_m2 = sum(
                group.series * group.parallel
                * group.footprint[0].value * group.footprint[1].value
                for group in groups
            )  # fmt: skip
            base_m2 = sink.base[0].value * sink.base[1].value
            if needed_m2 > base_m2:
                yield remark(
                    "CW-SINK-04", "warning", sink.base[0].path,
                    f"The modules cover {display('area', needed_m2)}",
                    f"at most the base of {display('area', base_m2)}",
                    action="a larger base, fewer modules, or their true footprint",
                )  # fmt: skip


def _groups_find_their_sink(sheet: Sheet) -> Iterator[Finding]:
    for name, sinks, _ in _sided_sinks(sheet):
        for place, group in enumerate(sheet.cooler.modules):
            number: int = getattr(group, f"{name}_number")
            if number > len(sinks):
                single = len(sheet.cooler.modules) == 1
                where = "cooler.modules" if single else f"cooler.modules[{place}]"
                yield remark(
                    "CW-SINK-05", "stop", f"{where}.{name}_number", str(number),
                    f"at most {len(sinks)}, as many sinks as this side has",
                )  # fmt: skip


def _ducts(sheet: Sheet) -> Iterator[Finding]:
    from coldwright.sheet.library import library

    for name in ("cold_duct", "hot_duct"):
        duct: Duct | None = getattr(sheet.cooler, name)
        if duct is None:
            continue
        if duct.compression.value > 0.0 and not library().duct(duct.kind).flexible:
            yield remark(
                "CW-DUCT-01", "warning", duct.compression.path, f"“{duct.compression.text}”",
                f"possible for a duct of kind “{duct.kind}”", why="It cannot be compressed",
                action="compression = 0",
            )  # fmt: skip
        elif duct.compression.value > 0.5:
            yield remark(
                "CW-DUCT-01", "warning", duct.compression.path, f"“{duct.compression.text}”",
                "at most half", why="Nothing was ever measured on ducts pressed together further",
            )  # fmt: skip


def _sided_fans(sheet: Sheet) -> Iterator[tuple[str, Fan]]:
    for name in ("cold_fan", "hot_fan"):
        fan: Fan | None = getattr(sheet.cooler, name)
        if fan is not None:
            yield name, fan


def _sided_sinks(sheet: Sheet) -> Iterator[tuple[str, tuple[Sink, ...], Fan | None]]:
    cooler = sheet.cooler
    if cooler.cold_sink is not None:
        yield "cold_sink", cooler.cold_sink, cooler.cold_fan
    yield "hot_sink", cooler.hot_sink, cooler.hot_fan


RULES: tuple[Rule, ...] = (
    _where_air_goes,
    _air_gets_in_and_out,
    _cold_side_is_there,
    _recirculation,
    _fan_speeds,
    _fans,
    _sinks,
    _modules_fit,
    _groups_find_their_sink,
    _ducts,
)
