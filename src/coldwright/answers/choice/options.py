"""What there is to choose from: for each kind of part, the sheet's own and those of the list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from coldwright.answers.change.amounts import price_of, times_text
from coldwright.machine.assemble_network import uses_network
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Fan, Modules, PlateFinSink, Sheet, Supply, WaterLoop
from coldwright.sheet.parts_file import OF_THE_LIST, PartsList, name_of, parts_of

AXES = (
    "module", "wiring", "cold_sink", "hot_sink", "cold_fan", "hot_fan", "supply", "converter",
    "wire",
)  # fmt: skip
"""Kinds of choice, in the order in which a design's number counts them."""
OWN = "as in the sheet"
NONE = "none"
OFF_CURRENT = "1 mA"
"""What keeps a group switched off: next to no current, as with an open circuit."""

_DESCRIPTIONS = ("part", "ratings", "legs", "properties")
_STACKS = {1: "on one of its kind", 2: "on two of its kind"}
# Keys of the sheet's own group that are not about its modules.
_OF_THE_GROUP = (
    "series", "parallel", "name", "run_at", "spacer", "cold_sink_number", "hot_sink_number",
    "cold_interface", "hot_interface",
)  # fmt: skip


@dataclass(frozen=True)
class Option:
    """One part that may be chosen."""

    name: str
    table: dict[str, Any] | None
    """In the words of the sheet; None: leave what the sheet has, or leave it out."""
    part: Any
    """The part as it is read; None: none at all."""
    price: float
    """Price of one; NaN: not known."""
    stock: float = np.inf
    own: bool = False
    face_m2: float = np.inf
    """Area that modules cover: of a module, its own; of a sink, what there is."""
    each: float = 1.0
    """How many are bought at a time: fans side by side, modules of a stack."""
    adjustable: bool = True
    """Of a supply: whether it can be set to any lower voltage by itself."""


@dataclass(frozen=True)
class Wiring:
    """Strings of modules: one group, or two that differ in length or in being switched off."""

    series: tuple[int, int]
    parallel: tuple[int, int]
    off: tuple[bool, bool] = (False, False)

    @property
    def count(self) -> int:
        """Modules in all."""
        return self.series[0] * self.parallel[0] + self.series[1] * self.parallel[1]

    @property
    def name(self) -> str:
        """In words: "4 strings of 3", "2 of 4 and 1 of 3", "2 of 3, 2 of 3 switched off"."""
        first = _strings(self.parallel[0], self.series[0])
        if self.parallel[1] == 0:
            return first
        second = f"{self.parallel[1]} of {self.series[1]}"
        if self.off[1]:
            return f"{first} on, {second} off"
        return f"{first} and {second}"


@dataclass(frozen=True)
class Options:
    """All axes of the search for one sheet and one list."""

    sheet: Sheet
    parts: PartsList
    axes: dict[str, list[Any]] = field(repr=False)
    notes: list[str]
    """What is left out of the search, and why."""


def options_of(sheet: Sheet, parts: PartsList) -> Options:
    """What there is to choose from for a steady sheet."""
    notes: list[str] = []
    plate = sheet.place.kind == "plate"
    modules = list(_modules(sheet, parts))
    axes: dict[str, list[Any]] = {"module": modules}
    for side in ("cold", "hot"):
        axes[f"{side}_sink"] = list(_sinks(sheet, parts, side))
        axes[f"{side}_fan"] = list(_fans(sheet, parts, side))
    if plate:
        axes["cold_sink"] = [Option("the plate", None, None, 0.0, own=True)]
        axes["cold_fan"] = [Option(NONE, None, None, 0.0, own=True)]
    axes["supply"], axes["converter"], axes["wire"] = _power(sheet, parts, notes)
    axes["wiring"] = _wirings(sheet, parts, axes)
    _known_prices(axes, notes)
    if uses_network(sheet):
        notes.append(
            "Designs are ranked with what fuses, joints and the other wires lose in the sheet's "
            "own; the figures told here count each design's."
        )
    return Options(sheet, parts, {name: axes[name] for name in AXES}, notes)


def raw_group(sheet: Sheet) -> dict[str, Any]:
    """The first group of modules as it stands in the file."""
    held = sheet.data["cooler"]["modules"]
    found: dict[str, Any] = held[0] if isinstance(held, list) else held
    return found


def _modules(sheet: Sheet, parts: PartsList) -> Iterator[Option]:
    group = sheet.cooler.modules[0]
    rows: list[tuple[str, dict[str, Any], Modules, bool]] = []
    own = {key: held for key, held in raw_group(sheet).items() if key not in _OF_THE_GROUP}
    if parts.search.keep_own or not parts.module:
        rows.append((group.part or OWN, own, group, True))
    for place, listed in enumerate(parts.module):
        name = name_of(listed, "module", place)
        if name != group.part or not rows:
            rows.append((name, _table(parts.data["module"][place]), listed, False))
    for name, table, row, is_own in rows:
        yield _module(sheet, name, table, row, own=is_own)
    for name, table, row, _ in rows:
        if parts.search.stacks and row.stages == 1:
            second = {key: table[key] for key in (*_DESCRIPTIONS, "price") if key in table}
            for ratio, words in _STACKS.items():
                stack = {**table, "stages": 2, "second": {**second, "ratio": float(ratio)}}
                yield _module(sheet, f"{name} {words}", stack, row)


def _module(
    sheet: Sheet, name: str, table: dict[str, Any], row: Modules, *, own: bool = False
) -> Option:
    """A module with the joints of the sheet: the same paste, on its own footprint."""
    group = sheet.cooler.modules[0]
    full = dict(table)
    ratio = row.footprint[0].value * row.footprint[1].value
    own_m2 = group.footprint[0].value * group.footprint[1].value
    for key in ("cold_interface", "hot_interface"):
        joint = getattr(group, key)
        if key in full:
            continue
        if isinstance(joint, Quantity):
            same = abs(ratio - own_m2) <= 1e-6 * own_m2
            full[key] = joint.text if same else times_text(joint, own_m2 / ratio)
        elif key in raw_group(sheet):
            full[key] = joint
    part = parts_of({"module": [full]}).module[0]
    price = _price(sheet, part.price)
    each = 1.0
    face_m2 = ratio
    if part.second is not None:
        second = _price(sheet, part.second.price)
        price += second * part.second.ratio
        each += part.second.ratio
        face_m2 *= max(1.0, part.second.ratio)
    stock = getattr(row, "stock", None)
    return Option(
        name, full, part, price, np.inf if stock is None else stock, own, face_m2, each
    )  # fmt: skip


def _sinks(sheet: Sheet, parts: PartsList, side: str) -> Iterator[Option]:
    held = getattr(sheet.cooler, f"{side}_sink") or ()
    own = next(iter(held)) if len(held) == 1 else None
    mine = [
        (place, row)
        for place, row in enumerate(parts.sink)
        if (row.side or ("hot" if isinstance(row, WaterLoop) else "both")) in (side, "both")
    ]
    if own is not None and (parts.search.keep_own or not mine):
        yield Option(
            getattr(own, "part", None) or OWN, None, own, _price(sheet, own.price), own=True,
            face_m2=_face_m2(own),
        )  # fmt: skip
    for place, row in mine:
        name = name_of(row, "sink", place)
        if own is None or name != own.part or not parts.search.keep_own:
            yield Option(
                name, _table(parts.data["sink"][place]), row, _price(sheet, row.price),
                np.inf if row.stock is None else row.stock, face_m2=_face_m2(row),
            )  # fmt: skip


def _fans(sheet: Sheet, parts: PartsList, side: str) -> Iterator[Option]:
    own: Fan | None = getattr(sheet.cooler, f"{side}_fan")
    mine = [(place, row) for place, row in enumerate(parts.fan) if row.side in (side, "both")]
    if own is not None and (parts.search.keep_own or not mine):
        yield Option(
            own.part or OWN, None, own, _price(sheet, own.price) * own.count, own=True,
            each=own.count,
        )  # fmt: skip
    for place, row in mine:
        name = name_of(row, "fan", place)
        if own is not None and name == own.part and parts.search.keep_own:
            continue
        table = _table(parts.data["fan"][place])
        part = row
        if own is not None and "position" not in table and own.position != row.position:
            table["position"] = own.position
            part = row.model_copy(update={"position": own.position})
        yield Option(
            name, table, part, _price(sheet, row.price) * row.count,
            np.inf if row.stock is None else row.stock, each=row.count,
        )  # fmt: skip


def _power(sheet: Sheet, parts: PartsList, notes: list[str]) -> tuple[list[Option], ...]:
    power = sheet.power
    nothing = [Option(NONE, None, None, 0.0, own=True)]
    if power is None or power.supply is None:
        what = "a battery" if power is not None and power.battery is not None else "no supply"
        notes.append(
            f"The sheet has {what}, so supplies, converters and wires are not searched; any "
            "voltage up to the modules' rating counts as possible."
        )
        return nothing, nothing, nothing
    supplies, converters, wires = [], [], []
    own = power.supply
    keep = parts.search.keep_own
    if keep or not parts.supply:
        adjustable = power.converter is None and not _at_supply_voltage(sheet, own)
        supplies.append(
            Option(OWN, None, own, _price(sheet, own.price), own=True, adjustable=adjustable)
        )
    stays = {"located": own.located}
    raw = sheet.data["power"]["supply"]
    for place, row in enumerate(parts.supply):
        table = _table(parts.data["supply"][place])
        table |= {key: raw[key] for key in ("mains", "located") if key in raw and key not in table}
        part = row if "located" in parts.data["supply"][place] else row.model_copy(update=stays)
        supplies.append(
            Option(
                name_of(row, "supply", place), table, part, _price(sheet, row.price),
                np.inf if row.stock is None else row.stock, adjustable=False,
            )
        )  # fmt: skip
    if power.converter is None:
        converters.append(Option(NONE, None, None, 0.0, own=True))
    else:
        if keep or not parts.converter:
            price = _price(sheet, power.converter.price)
            converters.append(Option(OWN, None, power.converter, price, own=True))
        converters.append(Option(NONE, None, None, 0.0))
    located = power.converter.located if power.converter is not None else own.located
    for place, step_down in enumerate(parts.converter):
        table = _table(parts.data["converter"][place])
        converter = step_down
        if "located" not in table:
            table["located"] = located
            converter = step_down.model_copy(update={"located": located})
        converters.append(
            Option(
                name_of(step_down, "converter", place), table, converter,
                _price(sheet, step_down.price),
                np.inf if step_down.stock is None else step_down.stock,
            )
        )  # fmt: skip
    wire = next((each for each in power.wire if each.name == "modules"), None)
    if wire is None:
        notes.append("The sheet gives no wire to the modules, so none is searched.")
        return supplies, converters, nothing
    if keep or not parts.wire:
        wires.append(
            Option(f"{wire.size.text}, {OWN}", None, wire, 0.0, own=True, each=wire.length.value)
        )
    for place, listed in enumerate(parts.wire):
        metre = 0.0 if listed.price is None else _price(sheet, listed.price)
        update = {"size": listed.size, "strands": listed.strands, "fuse": listed.fuse}
        wires.append(
            Option(
                name_of(listed, "wire", place), _table(parts.data["wire"][place]),
                wire.model_copy(update=update),
                metre * wire.length.value,
                np.inf if listed.stock is None else listed.stock, each=wire.length.value,
            )
        )  # fmt: skip
    return supplies, converters, wires


def _at_supply_voltage(sheet: Sheet, supply: Supply) -> bool:
    """Whether the sheet runs its modules at what the supply gives."""
    run_at = sheet.cooler.run_at
    volts = None
    if run_at.voltage is not None:
        volts = run_at.voltage.value
    elif run_at.module_voltage is not None:
        volts = run_at.module_voltage.value * sheet.cooler.modules[0].series
    return volts is not None and abs(volts - supply.voltage.value) <= 0.02 * supply.voltage.value


def _wirings(sheet: Sheet, parts: PartsList, axes: dict[str, list[Any]]) -> list[Wiring]:
    """Every number of modules in strings as equal as can be, and half of the strings off."""
    rules = parts.search
    least_m2 = min(module.face_m2 for module in axes["module"])
    room_m2 = min(max(sink.face_m2 for sink in axes[f"{side}_sink"]) for side in ("cold", "hot"))
    most = rules.most_modules
    if np.isfinite(room_m2):
        most = min(most, int(COVERED * room_m2 / least_m2 + 1e-9))
    found = []
    for count in range(rules.least_modules, max(most, rules.least_modules) + 1):
        for strings in range(1, count + 1):
            length, longer = divmod(count, strings)
            if longer == 0:
                found.append(Wiring((length, 0), (strings, 0)))
                if rules.switched_groups and strings % 2 == 0:
                    half = strings // 2
                    found.append(Wiring((length, length), (half, half), (False, True)))
            elif rules.unequal_strings:
                found.append(Wiring((length + 1, length), (longer, strings - longer)))
    groups = sheet.cooler.modules
    if rules.keep_own and len(groups) == 1:
        own = Wiring((groups[0].series, 0), (groups[0].parallel, 0))
        if own not in found:
            found.append(own)
    return found


COVERED = 0.95
"""Share of a face that modules may cover and still leave room for the screws."""


def _known_prices(axes: dict[str, list[Any]], notes: list[str]) -> None:
    """Say once of which parts no price is known."""
    told = []
    for name, held in axes.items():
        unknown = [one.name for one in held if isinstance(one, Option) and np.isnan(one.price)]
        if unknown:
            more = f" and {len(unknown) - 1} more" if len(unknown) > 1 else ""
            told.append(f"{name.replace('_', ' ')} {unknown[0]}{more}")
    if told:
        notes.append(
            f"Prices that are not known: {'; '.join(told)}. Designs with such parts rank behind "
            "where the price counts."
        )


def _face_m2(sink: Any) -> float:
    face = getattr(sink, "face", None)
    if face is not None:
        return float(face[0].value * face[1].value)
    if isinstance(sink, PlateFinSink):
        return float(sink.base[0].value * sink.base[1].value)
    return float("inf")


def _price(sheet: Sheet, price: Quantity | None) -> float:
    found = price_of(sheet, price)
    return float("nan") if found is None else found


def _table(row: dict[str, Any]) -> dict[str, Any]:
    return {key: held for key, held in row.items() if key not in OF_THE_LIST}


def _strings(count: int, length: int) -> str:
    if count == 1:
        return "1 module" if length == 1 else f"1 string of {length}"
    return f"{count} side by side" if length == 1 else f"{count} strings of {length}"
