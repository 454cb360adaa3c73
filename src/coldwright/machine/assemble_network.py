"""From the design sheet and a solved cooler to the network of its power chain.

Source, main switch and bus; from the bus a run to each converter and part, and back. Which state
the modules are in decides their back voltage: at switch-on there is none, when the polarity is
reversed it helps.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from math import sqrt
from typing import Any

from coldwright.machine.array import Array, array_between
from coldwright.machine.network_elements import (
    Battery,
    Charger,
    Conductor,
    Converter,
    Element,
    Fan,
    Load,
    Loss,
    LossModel,
    LossTable,
    Steady,
    String,
    Supply,
)
from coldwright.machine.records import Drive, End
from coldwright.machine.runs import copper_resistance, fuse_resistance, joint_resistance
from coldwright.machine.values import Values
from coldwright.sheet.models import Sheet, Wire
from coldwright.sheet.models_wiring import Controller, FanDrive

AT = {End.PLACE: "place", End.OUTDOORS: "outside", End.EXHAUST: "exhaust"}
RETURN = "supply -"
# Modules hang on the bus itself where it has the voltage that they are to run at, within this.
SAME_VOLTAGE = 0.01
REGULATOR = "regulator (not in the sheet)"


class Moment(StrEnum):
    """What state the modules are in."""

    RUNNING = "running"
    SWITCH_ON = "at switch-on"
    REVERSED = "reversed"


@dataclass
class Chain:
    """The elements of a power chain, and what each of them is for."""

    elements: list[Element] = field(default_factory=list)
    parts: dict[str, list[str]] = field(default_factory=dict)
    """For each part that is fed: the elements that its current passes, source end first."""
    extra: set[str] = field(default_factory=set)
    """Elements whose loss the cooler's own solve does not know."""
    direct: list[int] = field(default_factory=list)
    """Groups of modules that hang on the bus without a converter."""
    starts: dict[int, tuple[str, str]] = field(default_factory=dict)
    """The nodes at which the run of each group begins."""

    def add(self, element: Element, part: str = "", *, extra: bool = False) -> None:
        """Put an element into the chain."""
        self.elements.append(element)
        if part:
            self.parts.setdefault(part, []).append(element.name)
        if extra:
            self.extra.add(element.name)


def power_chain_of(
    sheet: Sheet,
    cooler: Any,
    result: Any,
    start_K: float,
    moment: Moment = Moment.RUNNING,
    *,
    sun_W: float = 0.0,
    asked: Any = None,
) -> Chain:
    """Elements of the sheet's power chain.

    Parameters
    ----------
    sheet
        The design.
    cooler, result
        One `COOLER` record and its solved `RESULT`.
    start_K
        Temperature of the modules before they are switched on [K].
    moment
        In which state the modules are; fans, pumps and controller run as in `result`.
    asked
        What each group is set to before the chain took its part, shape (groups,); as in `cooler`
        unless given. It decides which groups hang on the bus itself.
    sun_W
        What the panel gives behind its charge controller [W]; the battery takes what is left over.
    """
    chain = Chain()
    values = Values(0)
    power = sheet.power
    wires = {wire.target: wire for wire in power.wire} if power is not None else {}
    at = AT[End(int(cooler["power"]["lead_at"]))]
    _source(chain, sheet, cooler, at, sun_W)

    def run(
        part: str, plus: str, minus: str, *, extra: bool, ease: float = 1.0, tail: str = ""
    ) -> tuple[str, str]:
        return _run(chain, wires.get(part), part, (plus, minus), at, values, extra, ease, tail)

    total_W = float(result["modules_W"] + result["leads_W"])
    # A wire to a converter that is not there ends nowhere; the sheet's check says so.
    there = power is not None and power.converter is not None
    feeds = run("converter", "bus", RETURN, extra=True) if there and "converter" in wires else None
    for g in range(int(cooler["groups"])):
        group = cooler["group"][g]
        array = array_between(group, result, g)
        if moment == Moment.SWITCH_ON:
            array = array_between(group, result, g, resting_K=start_K)
        elif moment == Moment.REVERSED:
            array = Array(-array.back_V, array.ohm)
        asked_V = float(group["drive_value"] if asked is None else asked[g])
        _modules(chain, sheet, cooler, result, g, array, asked_V, feeds, run, total_W)
    _fans(chain, sheet, cooler, result, run, at)
    if float(result["pumps_W"]) > 0.0:
        ends = run("pumps", "bus", RETURN, extra=True)
        chain.add(Load("pumps", *ends, float(result["pumps_W"]), "water"), "pumps")
    _controller(chain, sheet, cooler, run, at)
    return chain


def uses_network(sheet: Sheet) -> bool:
    """Whether the sheet says anything whose loss only the network knows."""
    power = sheet.power
    fans = (sheet.cooler.cold_fan, sheet.cooler.hot_fan)
    if any(fan is not None and fan.drive is not None for fan in fans):
        return True
    if power is None:
        return False
    wires = any(wire.feeds or wire.joint or wire.fuse_resistance for wire in power.wire)
    switch = power.switch is not None and power.switch.breaks == "dc"
    battery = power.battery is not None and power.battery.internal_resistance is not None
    controller = isinstance(power.controller, Controller)
    return wires or switch or battery or controller


def _source(chain: Chain, sheet: Sheet, cooler: Any, at: str, sun_W: float) -> None:
    """Supply or battery, and the main switch where it breaks direct current."""
    power = sheet.power
    if power is not None and power.supply is not None:
        supply = power.supply
        record = cooler["power"]
        loss = _table(record, "supply", float(record["supply_rated_W"]))
        place = AT[End(int(record["supply_at"]))]
        chain.add(Supply("supply", "source +", RETURN, supply.voltage.value, loss=loss, at=place))
    elif power is not None and power.battery is not None:
        battery = power.battery
        inside = battery.internal_resistance
        ohm = 0.0 if inside is None else inside.value
        volts, fed = battery.voltage.value, sun_W > 0.0
        chain.add(
            Battery("battery", "source +", RETURN, volts, ohm, at=at, charges=fed), extra=True
        )
        if fed:
            chain.add(Charger("panel", "source +", RETURN, sun_W, 0.5 * volts))
    else:
        chain.add(Supply("source", "source +", RETURN, _wanted_V(cooler), at=at))
    switch = power.switch if power is not None else None
    ohm = 0.0
    if switch is not None and switch.breaks == "dc":
        ohm = switch.poles * switch.resistance.value
    chain.add(Conductor("switch", "source +", "bus", ohm, at), extra=True)


def _run(
    chain: Chain,
    wire: Wire | None,
    part: str,
    ends: tuple[str, str],
    at: str,
    values: Values,
    extra: bool,
    ease: float,
    tail: str,
) -> tuple[str, str]:
    """Fuse, joints and copper there and back; the nodes at its far end.

    `ease` is the share of the time that current flows: the same mean current then makes more heat,
    as behind a larger resistance.
    """
    if wire is None:
        return ends
    plus, minus = ends
    copper_ohm = float(copper_resistance(wire, values)) / ease
    for what, ohm in (
        ("fuse", float(fuse_resistance(wire, values)) / ease),
        ("joints", float(joint_resistance(wire, values)) / ease),
        ("wire there", 0.5 * copper_ohm),
    ):
        if ohm > 0.0:
            after = f"{part}{tail}: {what}"
            chain.add(Conductor(after, plus, after, ohm, at), part, extra=extra)
            plus = after
    if copper_ohm > 0.0:
        back = f"{part}{tail}: wire back"
        chain.add(Conductor(back, back, minus, 0.5 * copper_ohm, at), part, extra=extra)
        minus = back
    return plus, minus


def _modules(
    chain: Chain,
    sheet: Sheet,
    cooler: Any,
    result: Any,
    g: int,
    array: Array,
    asked_V: float,
    feeds: tuple[str, str] | None,
    run: Callable[..., tuple[str, str]],
    total_W: float,
) -> None:
    """One group of modules behind its converter, or on the bus."""
    group = cooler["group"][g]
    drive = Drive(int(group["drive"]))
    if drive == Drive.OFF:
        return
    several = int(cooler["groups"]) > 1
    tail = f" {g + 1}" if several else ""
    ease = float(group["duty"]) if drive == Drive.CHOPPED else 1.0
    set_V = _set_voltage(group, result, g, drive, array)
    own_V = float(group["second_voltage_V"])
    second_W = 0.0
    if int(group["stages"]) == 2 and own_V == own_V:
        count = float(group["series"] * group["parallel"])
        second_W = count * float(result["second_A"][g]) * own_V
    first_W = set_V * float(result["module_A"][g] * group["parallel"])
    alone = not several and second_W == 0.0

    def convert(name: str, volts: float, watts: float) -> tuple[str, str]:
        share = 1.0 if alone or total_W <= 0.0 else watts / total_W
        return _convert(chain, sheet, cooler, name, feeds or ("bus", RETURN), volts, share)

    start = ("bus", RETURN)
    if sheet.power is not None and sheet.power.converter is not None:
        start = convert(f"converter{tail}", set_V, first_W)
    elif abs(asked_V / _bus_V(chain) - 1.0) <= SAME_VOLTAGE and drive in _BY_VOLTAGE:
        chain.direct.append(g)
    else:
        start = (f"regulator{tail} +", f"regulator{tail} -")
        chain.add(Converter(f"{REGULATOR}{tail}", "bus", RETURN, *start, set_V), "modules")
    chain.starts[g] = start
    ends = run("modules", *start, extra=False, ease=ease, tail=tail)
    chain.add(String(f"modules{tail}", *ends, array.back_V, array.ohm / ease), "modules")
    if second_W != 0.0:
        name = f"second stage{tail}"
        ends = ("bus", RETURN)
        if sheet.power is not None and sheet.power.converter is not None:
            ends = convert(f"converter{tail} of the second stage", own_V, second_W)
        chain.add(Load(name, *ends, second_W, "modules"), name)


def _convert(
    chain: Chain,
    sheet: Sheet,
    cooler: Any,
    name: str,
    feeds: tuple[str, str],
    volts: float,
    share: float,
) -> tuple[str, str]:
    """The converter that makes these volts, with its share of the load; its output nodes."""
    assert sheet.power is not None
    assert sheet.power.converter is not None
    converter, record = sheet.power.converter, cooler["power"]
    out = (f"{name} +", f"{name} -")
    headroom = converter.headroom
    chain.add(
        Converter(
            name, *feeds, *out, volts,
            _table(record, "converter", float(record["converter_rated_W"]) * share),
            None,
            0.0 if headroom is None else volts + headroom.value,
            AT[End(int(record["converter_at"]))],
        ),
        "converter",
    )  # fmt: skip
    return out


_BY_VOLTAGE = (Drive.VOLTAGE, Drive.CHOPPED)


def _set_voltage(group: Any, result: Any, g: int, drive: Drive, array: Array) -> float:
    """What the run of a group begins with [V], so that the drive's wish is met in this state."""
    if drive in _BY_VOLTAGE:
        return float(group["drive_value"])
    lead_ohm = float(group["lead_ohm"])
    if drive == Drive.POWER:
        back_V, ohm = array.back_V, array.ohm
        root = sqrt(back_V * back_V + 4.0 * ohm * max(float(group["drive_value"]), 0.0))
        amps = (root - back_V) / (2.0 * ohm)
    else:
        amps = float(result["module_A"][g] * group["parallel"])
    return array.back_V + amps * (array.ohm + lead_ohm)


def _fans(
    chain: Chain,
    sheet: Sheet,
    cooler: Any,
    result: Any,
    run: Callable[..., tuple[str, str]],
    at: str,
) -> None:
    """The two fans, each with what sets its speed."""
    for side, air in (("cold", "cold air"), ("hot", "hot air")):
        part = f"{side} fan"
        fan = getattr(sheet.cooler, f"{side}_fan")
        power_W = float(result[f"{side}_fan_W"])
        if fan is None or power_W <= 0.0:
            continue
        drive: FanDrive | None = fan.drive
        kind = "direct" if drive is None else drive.kind
        plus, minus = run(part, "bus", RETURN, extra=True)
        rated_V = _bus_V(chain) if fan.voltage is None else fan.voltage.value
        fan_V = rated_V * float(cooler[f"{side}_fan"]["speed"])
        if kind == "converter":
            assert drive is not None
            assert drive.efficiency is not None
            name = f"{part} converter"
            loss = LossModel(k1=1.0 / drive.efficiency.value - 1.0)
            out = (f"{part} +", f"{part} -")
            chain.add(Converter(name, plus, minus, *out, fan_V, loss, at=at), part, extra=True)
            plus, minus = out
        elif kind == "linear":
            stage = f"{part} stage"
            chain.add(Steady(stage, plus, stage, power_W / fan_V, at), part, extra=True)
            chain.add(Fan(part, stage, minus, fan_V, power_W / fan_V, at=air), part)
            continue
        chain.add(Load(part, plus, minus, power_W, air), part)


def _controller(
    chain: Chain, sheet: Sheet, cooler: Any, run: Callable[..., tuple[str, str]], at: str
) -> None:
    record = cooler["power"]
    power_W = float(record["controller_W"] - record["extra_W"])
    if sheet.power is None or power_W <= 0.0:
        return
    ends = run("controller", "bus", RETURN, extra=True)
    given = sheet.power.controller
    if isinstance(given, Controller) and given.efficiency is not None:
        loss = LossModel(k1=1.0 / given.efficiency.value - 1.0)
        out = ("controller +", "controller -")
        name = "controller converter"
        chain.add(Converter(name, *ends, *out, 5.0, loss, at=at), "controller", extra=True)
        ends = out
    chain.add(Load("controller", *ends, power_W, at), "controller")


def _table(record: Any, part: str, rated_W: float) -> Loss:
    """The loss of supply or converter, read as the cooler's own solve reads it."""
    points = int(record[f"{part}_points"])
    if points == 0:
        return LossModel()
    return LossTable(
        tuple(float(load) for load in record[f"{part}_load"][:points]),
        tuple(float(one) for one in record[f"{part}_efficiency"][:points]),
        rated_W,
    )


def _bus_V(chain: Chain) -> float:
    source = chain.elements[0]
    assert isinstance(source, Supply | Battery)
    return source.voltage_V


def _wanted_V(cooler: Any) -> float:
    """The voltage that the modules are set to, where no source is given."""
    group = cooler["group"][0]
    by_voltage = Drive(int(group["drive"])) in _BY_VOLTAGE
    return float(group["drive_value"]) if by_voltage else 12.0
