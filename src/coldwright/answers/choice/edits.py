"""A chosen design in the words of the sheet: what to write into it, and what has to be bought."""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.options import AXES, OFF_CURRENT, Option, Options, Wiring, raw_group
from coldwright.sheet.models import ResistanceSink, WaterLoop

WIRE_ITEM = "wire to the modules"
"""Name under which the price of a chosen wire stands among the sheet's priced items."""


@dataclass(frozen=True)
class Line:
    """One line of a bill of materials."""

    count: float
    what: str
    """Kind of part: "modules", "cold sink", ..."""
    name: str
    each: float | None
    """Price of one; None: not known."""
    total: float | None
    own: bool = False
    """Whether the sheet has it already."""
    unit: str = ""


def chosen(options: Options, engine: Engine, flat: int) -> dict[str, Any]:
    """The option of each kind that a design has."""
    parts = engine.grid.parts(np.array([flat]))
    return {name: options.axes[name][int(parts[name][0])] for name in AXES}


def edits_of(
    options: Options, engine: Engine, flat: int, drive_V: float, cold: float, hot: float
) -> dict[str, Any]:
    """New values for the sheet's keys that make it this design at this setting."""
    sheet = options.sheet
    own = chosen(options, engine, flat)
    edits: dict[str, Any] = {"cooler.modules": _groups(options, engine, flat, own)}
    supply = own["supply"].part
    fixed = supply is not None and abs(drive_V - supply.voltage.value) < 1e-9
    volts = supply.voltage.text if fixed else f"{round(drive_V, 3):g} V"
    edits["cooler.run_at"] = {"voltage": volts}
    if sheet.cooler.cold_fan is not None and own["cold_fan"].part is not None:
        edits["cooler.cold_fan_speed"] = round(cold, 4)
    edits["cooler.hot_fan_speed"] = round(hot, 4)
    for side in ("cold", "hot"):
        for part in ("sink", "fan"):
            option: Option = own[f"{side}_{part}"]
            path = f"cooler.{side}_{part}"
            if not option.own:
                edits[path] = copy.deepcopy(option.table)
            elif part == "sink":
                edits |= _reference_flow(option.part, path, engine, side)
    if supply is not None:
        edits |= _power(options, own)
    return edits


def bill_of(options: Options, engine: Engine, flat: int) -> list[Line]:
    """What the design is made of, with prices; what the sheet prices besides comes last."""
    own = chosen(options, engine, flat)
    wiring: Wiring = own["wiring"]
    module: Option = own["module"]
    lines = []
    part = module.part
    price = None if part.price is None else part.price.value
    name = module.name
    if part.second is not None:
        name = name.partition(" on ")[0]
        count = wiring.count * part.second.ratio
        each = None if part.second.price is None else part.second.price.value
        lines.append(_line(count, "second stage", name, each, own=module.own))
    lines.insert(0, _line(wiring.count, "modules", name, price, own=module.own))
    for kind in AXES[2:]:
        option: Option = own[kind]
        if option.part is None:
            continue
        count = option.each if kind in ("cold_fan", "hot_fan", "wire") else 1
        each = None if np.isnan(option.price) else option.price / count
        unit = "m" if kind == "wire" else ""
        if kind == "wire" and (option.own or option.part is None or each == 0.0):
            each = None
        lines.append(_line(count, kind.replace("_", " "), option.name, each, option.own, unit))
    sheet = options.sheet
    lines += [
        _line(item.count, "besides", item.name, item.price.value, own=True)
        for item in (sheet.price.item if sheet.price is not None else ())
        if item.name != WIRE_ITEM
    ]
    return lines


def _line(
    count: float, what: str, name: str, each: float | None, own: bool = False, unit: str = ""
) -> Line:
    return Line(count, what, name, each, None if each is None else each * count, own, unit)


def _groups(
    options: Options, engine: Engine, flat: int, own: dict[str, Any]
) -> dict[str, Any] | list[dict[str, Any]]:
    """The table of modules, or two where strings differ."""
    wiring: Wiring = own["wiring"]
    table = copy.deepcopy(own["module"].table)
    spacer = raw_group(options.sheet).get("spacer")
    first = {**table, "series": wiring.series[0], "parallel": wiring.parallel[0]}
    if spacer is not None:
        area_m2 = float(engine.grid.gaps_m2(engine.grid.parts(np.array([flat])))[0])
        first["spacer"] = {**copy.deepcopy(spacer), "area": f"{area_m2 * 1e4:.4g} cm^2"}
        if f"{area_m2 * 1e4:.4g}" != f"{area_m2 * 1e4:.6g}":
            first["spacer"]["area"] = f"{area_m2 * 1e4:.6g} cm^2"
    if wiring.parallel[1] == 0:
        return first
    names = ("on", "switched off") if wiring.off[1] else ("longer strings", "shorter strings")
    second = {
        **copy.deepcopy(table), "series": wiring.series[1], "parallel": wiring.parallel[1],
        "name": names[1],
    }  # fmt: skip
    if wiring.off[1]:
        second["run_at"] = {"module_current": OFF_CURRENT}
    return [{**first, "name": names[0]}, second]


def _reference_flow(sink: Any, path: str, engine: Engine, side: str) -> dict[str, str]:
    """A sink known at its own fan's flow keeps that flow when the fan is another."""
    held = engine.base[f"{side}_sink"][0, 0]
    text = f"{float(held['reference_flow_m3_s']) * 3600.0:.9g} m^3/h"
    if isinstance(sink, ResistanceSink) and sink.at_flow is None:
        return {f"{path}.at_flow": text}
    if isinstance(sink, WaterLoop) and sink.radiator.at_flow is None:
        return {f"{path}.radiator.at_flow": text}
    return {}


def _power(options: Options, own: dict[str, Any]) -> dict[str, Any]:
    sheet = options.sheet
    edits: dict[str, Any] = {}
    if not own["supply"].own:
        edits["power.supply"] = copy.deepcopy(own["supply"].table)
    converter: Option = own["converter"]
    if converter.part is None and "converter" in sheet.data["power"]:
        edits["power.converter"] = None
    elif not converter.own and converter.part is not None:
        edits["power.converter"] = copy.deepcopy(converter.table)
    wire: Option = own["wire"]
    if wire.part is None or wire.own or sheet.power is None:
        return edits
    at = next(i for i, each in enumerate(sheet.power.wire) if each.name == "modules")
    for key in ("size", "strands", "fuse"):
        held = (wire.table or {}).get(key)
        before = sheet.data["power"]["wire"][at].get(key)
        if held is not None:
            edits[f"power.wire[{at}].{key}"] = held
        elif before is not None:
            edits[f"power.wire[{at}].{key}"] = None
    if wire.price > 0.0:
        items = copy.deepcopy((sheet.data.get("price") or {}).get("item", []))
        items = [item for item in items if item.get("name") != WIRE_ITEM]
        currency = wire.table["price"].split()[-1] if wire.table else ""
        items.append({"name": WIRE_ITEM, "price": f"{wire.price:.6g} {currency}"})
        edits["price.item"] = items
    return edits
