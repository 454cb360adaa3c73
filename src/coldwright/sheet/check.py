"""What can be said of a design without physics: gaps, contradictions, slips of a unit.

Each rule is one small generator; `check` runs them all and sorts what they find.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from coldwright.findings import Finding, worst_first
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity, is_plausible, likely_slip, span
from coldwright.sheet.check_air import RULES as AIR_RULES
from coldwright.sheet.check_day import RULES as DAY_RULES
from coldwright.sheet.check_power import RULES as POWER_RULES
from coldwright.sheet.check_ranges import RULES as RANGE_RULES
from coldwright.sheet.models import Box, Modules, OpenAir, Plate, Room, RunAt, Sheet
from coldwright.sheet.remarks import remark

__all__ = ["check"]

Rule = Callable[[Sheet], Iterator[Finding]]
_AREA_SLACK = 0.10


def check(sheet: Sheet) -> list[Finding]:
    """Findings on a design that need no physics, worst first, each with its line in the file."""
    rules = (*_RULES, *RANGE_RULES, *DAY_RULES, *AIR_RULES, *POWER_RULES)
    found = [finding for rule in rules for finding in rule(sheet)]
    named = [replace(one, line=sheet.line(one.where), file=sheet.file) for one in found]
    return worst_first(named)


def _unusual_values(sheet: Sheet) -> Iterator[Finding]:
    for path, quantity in sheet.quantities().items():
        if quantity.assumed or is_plausible(quantity):
            continue
        meant = likely_slip(quantity)
        yield remark(
            "CW-UNIT-02", "warning", path, f"“{quantity.text}”",
            f"within the usual {span(quantity)}",
            why=f"Was {meant} meant?" if meant else "",
            action="" if meant else "another unit or number, if this one was not meant",
        )  # fmt: skip


def _crowds(sheet: Sheet) -> Iterator[Finding]:
    """More people than find room: a count has no unit whose slip could be guessed."""
    place = sheet.place
    if not isinstance(place, Room | Box):
        return
    floor_m2 = place.length.value * place.width.value
    for at, gain in enumerate(place.gain):
        if gain.people is not None and gain.people > max(2.0, _CROWD_PER_M2 * floor_m2):
            yield remark(
                "CW-UNIT-02", "warning", f"place.gain[{at}].people", f"{gain.people:g}",
                f"a number that finds room on the floor of {display('area', floor_m2)}",
            )  # fmt: skip


# Beyond some 4 to 5 for each square metre a standing crowd can no longer move.
_CROWD_PER_M2 = 4.0


def _impossible_values(sheet: Sheet) -> Iterator[Finding]:
    unloaded = _unloaded(sheet)
    for path, quantity in sheet.quantities().items():
        key = path.rpartition(".")[2].partition("[")[0]
        if quantity.value < 0.0 and quantity.kind in _NEVER_NEGATIVE:
            yield remark("CW-SHEET-12", "stop", path, f"“{quantity.text}”", "at least zero")
        elif quantity.value == 0.0 and quantity.kind in _NOT_ZERO and key not in _MAY_BE_ZERO:
            if path in unloaded:
                continue
            yield remark("CW-SHEET-12", "stop", path, f"“{quantity.text}”", "more than zero")


def _unloaded(sheet: Sheet) -> set[str]:
    """Efficiencies at no load, the one place where nothing may come out of something."""
    power = sheet.power
    parts = (power.supply, power.converter) if power is not None else ()
    curves = [part.efficiency for part in parts if part is not None]
    return {
        curve[0][1].path for curve in curves if isinstance(curve, tuple) and curve[0][0].value == 0
    }


_NEVER_NEGATIVE = {
    "power", "pressure", "voltage", "current", "irradiance", "moisture_rate", "velocity",
    "seebeck", "ratio", "temperature_difference", "energy", "price_per_energy", "emission_factor",
}  # fmt: skip
_NOT_ZERO = {
    "length", "area", "volume", "mass", "time", "voltage", "current", "thermal_resistance",
    "thermal_conductance", "film_coefficient", "u_value", "thermal_insulance",
    "thermal_conductivity", "specific_heat", "heat_capacity", "density", "seebeck", "resistance",
    "flow", "water_flow", "efficiency", "energy", "charge", "wire_size", "temperature_difference",
    "air_pressure", "capacitance",
}  # fmt: skip
# Keys of those kinds whose zero says something: nothing there, none lost, an ideal joint.
_MAY_BE_ZERO = {
    "altitude", "length", "in_foam", "kerf", "curve", "cold_interface", "hot_interface",
    "interface", "lid_seal", "area", "heat_loss", "hysteresis", "dew_point_margin", "daily_range",
    "wet_bulb_range", "air", "fuse_resistance", "line", "internal_resistance",
}  # fmt: skip


def _surfaces_cover(sheet: Sheet) -> Iterator[Finding]:
    place = sheet.place
    if not isinstance(place, Room | Box) or not place.surface or place.heat_loss is not None:
        return
    long, wide, high = place.length.value, place.width.value, place.height.value
    inside_m2 = 2.0 * (long * wide + long * high + wide * high)
    listed_m2 = sum(one.area.value for one in place.surface)
    listed_m2 += sum(one.area.value for one in place.window)
    if abs(listed_m2 - inside_m2) > _AREA_SLACK * inside_m2:
        yield remark(
            "CW-PLACE-01", "warning", "place.surface",
            f"Surfaces and windows add up to {display('area', listed_m2)}",
            f"within 10 % of the {display('area', inside_m2)} that length, width and height "
            "enclose",
            action="adding what is missing, or correcting the areas",
        )  # fmt: skip


def _has_walls(sheet: Sheet) -> Iterator[Finding]:
    place = sheet.place
    if not isinstance(place, Room | Box):
        return
    wall = isinstance(place, Box) and place.wall is not None
    ways = [
        name
        for name, given in (
            ("heat_loss", place.heat_loss is not None),
            ("surface", bool(place.surface)),
            ("wall", wall),
        )
        if given
    ]
    if not ways:
        allowed = "wall, surface or heat_loss" if isinstance(place, Box) else "surface or heat_loss"
        yield remark(
            "CW-PLACE-02", "stop", "place", "", f"at least one of {allowed}",
            why="Nothing says how heat comes in",
        )  # fmt: skip
    elif len(ways) > 1:
        yield remark(
            "CW-PLACE-03", "stop", f"place.{ways[0]}",
            f"The walls are described by {' and by '.join(f'`{way}`' for way in ways)}",
            "one of them alone", why="The same walls would be counted twice",
        )  # fmt: skip


def _goal_fits_place(sheet: Sheet) -> Iterator[Finding]:
    goal, place = sheet.goal, sheet.place
    if goal.plate is not None and not isinstance(place, Plate):
        yield remark(
            "CW-GOAL-01", "warning", "goal.plate", "A goal for a plate is not used in this place",
            why="The place is no plate", action="`goal.air`",
        )  # fmt: skip
    if goal.air is not None and isinstance(place, Plate | OpenAir):
        kind = "a plate" if isinstance(place, Plate) else "open air"
        yield remark(
            "CW-GOAL-01", "warning", "goal.air", "A goal for the air is not used in this place",
            why=f"The place is {kind}, whose air the cooler does not change",
            action="`goal.plate`" if isinstance(place, Plate) else "a room or a box as the place",
        )  # fmt: skip
    if goal.within is not None and goal.air is None and goal.plate is None:
        yield remark(
            "CW-GOAL-02", "warning", "goal.within",
            "The goal says by when, but not which temperature", action="`goal.air`",
        )  # fmt: skip
    start = place.start_air if isinstance(place, Room | Box) else None
    if goal.air is not None and start is not None and start.value < goal.air.value:
        yield remark(
            "CW-GOAL-03", "note", "goal.air",
            f"The place starts at {start.text}, which is already below the goal of {goal.air.text}",
        )  # fmt: skip


def _modules_run_within_ratings(sheet: Sheet) -> Iterator[Finding]:
    for group in sheet.cooler.modules:
        run_at = group.run_at or sheet.cooler.run_at
        volts, amps = _per_module(run_at, group)
        if group.ratings is None:
            if volts is not None and volts > _ABSURD_V:
                yield remark(
                    "CW-MODULE-01", "warning", _where(run_at),
                    f"Each module gets {display('voltage', volts)}",
                    f"at most {display('voltage', _ABSURD_V)}",
                    why="Modules for cooling take some 2 to 30 V each",
                    action="more modules in series, or a lower voltage",
                )  # fmt: skip
            continue
        for value, most in (
            (volts, group.ratings.max_voltage),
            (amps, group.ratings.max_current),
        ):
            if value is not None and value > 1.001 * most.value:
                yield remark(
                    "CW-MODULE-01", "warning", _where(run_at),
                    f"Each module gets {display(most.kind, value)}",
                    f"at most its rating of {most.text}",
                    why="Beyond the rating a module only heats faster than it pumps",
                    action=f"{display(most.kind, 0.6 * most.value)} or less for each module",
                )  # fmt: skip


# No single module for cooling reaches this; a slip of series and parallel does.
_ABSURD_V = 60.0


def _per_module(run_at: RunAt, group: Modules) -> tuple[float | None, float | None]:
    """Voltage and current of one module [V], [A], where the sheet says them outright."""
    volts = amps = None
    if group.second is not None and group.second.wired == "in series":
        return None, None  # the two stages share the voltage; how is a matter of physics
    if run_at.voltage is not None:
        volts = run_at.voltage.value / group.series
    elif run_at.module_voltage is not None:
        volts = run_at.module_voltage.value
    elif run_at.chopped is not None:
        volts = run_at.chopped.rail.value / group.series
    elif run_at.current is not None:
        amps = run_at.current.value / group.parallel
    elif run_at.module_current is not None:
        amps = run_at.module_current.value
    return volts, amps


def _where(run_at: RunAt) -> str:
    held = getattr(run_at, run_at.way)
    return held.path if isinstance(held, Quantity) else held.rail.path


def _names_once(sheet: Sheet) -> Iterator[Finding]:
    place = sheet.place
    groups: dict[str, tuple[str, ...]] = {
        "cooler.modules": tuple(one.name for one in sheet.cooler.modules),
        "instrument": tuple(one.name or one.measures for one in sheet.instrument),
        "power.wire": tuple(one.name for one in sheet.power.wire) if sheet.power else (),
    }
    if isinstance(place, Room | Box):
        for kind in ("surface", "window", "gain", "leak", "door"):
            groups[f"place.{kind}"] = tuple(one.name for one in getattr(place, kind))
    for where, names in groups.items():
        for name, times in Counter(names).items():
            if times > 1 and name:
                last = max(at for at, one in enumerate(names) if one == name)
                yield remark(
                    "CW-SHEET-10", "warning", f"{where}[{last}].name",
                    f"{times} of them are called “{name}”", why="Results would mix them up",
                    action="a name of its own for each",
                )  # fmt: skip


def _power_is_given(sheet: Sheet) -> Iterator[Finding]:
    if sheet.power is None or (sheet.power.supply is None and sheet.power.battery is None):
        yield remark(
            "CW-POWER-01", "note", "power",
            "No supply is given; the power from the plug is the plain sum of the loads",
            action="a table [power.supply] with `voltage`, `rated_power` and `efficiency`",
        )  # fmt: skip


def _efficiency_points(sheet: Sheet) -> Iterator[Finding]:
    if sheet.power is None:
        return
    for part in (sheet.power.supply, sheet.power.converter):
        points = part.efficiency if part is not None else ()
        if not isinstance(points, tuple):
            continue
        if part is not None and part.rated_power is None:
            # A curve over shares of the rated load says nothing without that load.
            path = points[0][0].path.rpartition(".efficiency")[0]
            yield remark(
                "CW-POWER-04", "stop", f"{path}.rated_power", "The rated power is not given",
                why="An efficiency curve holds over shares of it",
                action="`rated_power`, or one efficiency instead of a curve",
            )  # fmt: skip
        for before, after in pairwise(points):
            if after[0].value <= before[0].value:
                yield remark(
                    "CW-POWER-02", "stop", after[0].path, f"“{after[0].text}”",
                    f"more than the load before it, “{before[0].text}”",
                    why="The points run from small to large load",
                )  # fmt: skip


def _second_power(sheet: Sheet) -> Iterator[Finding]:
    power = sheet.power
    if power is not None and power.panel is not None and power.battery is None:
        yield remark(
            "CW-POWER-03", "warning", "power.panel", "A panel feeds the cooler without a battery",
            why="The cooler then stops with every cloud", action="a table [power.battery]",
        )  # fmt: skip


_RULES: tuple[Rule, ...] = (
    _impossible_values,
    _unusual_values,
    _crowds,
    _has_walls,
    _surfaces_cover,
    _goal_fits_place,
    _modules_run_within_ratings,
    _names_once,
    _power_is_given,
    _efficiency_points,
    _second_power,
)
