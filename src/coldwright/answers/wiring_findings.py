"""Findings on the power chain. Values of codes and practice are advice, by table and edition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from coldwright.answers.design import Design, Point
from coldwright.answers.wiring_loads import FanFeed, Loading, MainsSide, wires_located
from coldwright.answers.wiring_runs import Run
from coldwright.answers.wiring_states import States, air_at
from coldwright.answers.wiring_tables import fuses_of
from coldwright.findings import Finding
from coldwright.machine.assemble_network import REGULATOR, Moment
from coldwright.physics.fan_drive import linear_stage_worst_heat
from coldwright.quantities.glossary import display
from coldwright.sheet.library.electrical import fuse_family

# Boat practice, ABYC E-11: 3 % where it matters, 10 % at the most.
_GOOD_DROP, _MOST_DROP = 0.03, 0.10
_CODES = "Local codes and a licensed person decide"


def wiring_findings(
    design: Design,
    point: Point,
    states: States,
    loads: list[Loading],
    mains: MainsSide | None,
    fans: list[FanFeed],
    runs: list[Run],
) -> list[Finding]:
    """Everything that wiring has to say beyond the design's own findings."""
    return [
        *_of_runs(design, runs),
        *(_in_foam(design, runs) if runs else ()),
        *_of_loads(design, loads),
        *_of_switch(design, states),
        *_of_mains(design, mains),
        *_of_fans(design, point, states, fans),
        *_of_starts(design, states, loads, fans, runs),
        *_of_voltage(design, states),
    ]


def _of_runs(design: Design, runs: list[Run]) -> Iterator[Finding]:
    sheet = design.sheet
    if runs and sheet.power is not None and sheet.power.region is None:
        yield design.finding(
            "CW-WIRE-14", "note", "power.region", "Whose colours the wires get is not said",
            why="Regions and editions contradict each other; labels at both ends outrank colours",
            action='region = "Europe", “United Kingdom”, “North America” or “Australia”',
        )  # fmt: skip
    for run in runs:
        assert sheet.power is not None
        where = f"power.wire[{_wire_number(design, run)}]"
        most_A = max(run.running_A, run.switch_on_A or 0.0)
        if run.allowed_A is not None and run.running_A > run.allowed_A:
            yield design.finding(
                "CW-WIRE-04", "warning", f"{where}.size",
                f"{display('current', run.running_A)} in the wire to the {run.feeds}",
                allowed=f"at most {display('current', run.allowed_A)} ({run.table})",
                why=f"It grows hotter than its insulation bears. {_CODES}",
                action=run.larger or "a thicker wire",
            )  # fmt: skip
        if run.allowed_A is None:
            yield design.finding(
                "CW-WIRE-05", "note", f"{where}.size",
                f"No table here has a wire of {run.size}: what it may carry is not known",
                action="a size of the parts library, or the maker's own figure",
            )  # fmt: skip
        if run.drop_share > _MOST_DROP:
            yield design.finding(
                "CW-WIRE-07", "warning", where,
                f"On the way to the {run.feeds} {100.0 * run.drop_share:.0f} % of the voltage are "
                "lost",
                allowed="at most 10 %; 3 % is good practice (ABYC E-11, for boats)",
                action=f"{run.larger or 'a thicker wire'}, or a shorter way",
            )  # fmt: skip
        elif run.drop_share > _GOOD_DROP:
            yield design.finding(
                "CW-WIRE-07", "note", where,
                f"On the way to the {run.feeds} {100.0 * run.drop_share:.1f} % of the voltage are "
                "lost",
                allowed="at most 3 % in good practice (ABYC E-11, for boats)",
                action=f"{run.larger or 'a thicker wire'}, or a shorter way",
            )  # fmt: skip
        if run.joint_limit_A is not None and most_A > run.joint_limit_A:
            yield design.finding(
                "CW-WIRE-11", "warning", f"{where}.joint",
                f"{display('current', most_A)} through a joint of the run to the {run.feeds}",
                allowed=f"at most {display('current', run.joint_limit_A)}, as marked",
                why="A contact of a few milliohms glows where it is small",
                action="larger connectors, or two contacts side by side",
            )  # fmt: skip
        yield from _of_fuse(design, where, run)


def _in_foam(design: Design, runs: list[Run]) -> Iterator[Finding]:
    """One finding for all wires that run in foam."""
    power = design.sheet.power
    assert power is not None
    buried = [one for one in runs if one.factors.get("foam", 1.0) < 1.0]
    if not buried:
        return
    first = max(i for i, wire in enumerate(power.wire) if wire.target == buried[0].feeds)
    listed = _joined(f"{one.feeds} {100.0 * one.factors['foam']:.0f} %" for one in buried)
    yield design.finding(
        "CW-WIRE-06", "note", f"power.wire[{first}].in_foam",
        f"Wires that run in foam may carry less than their table says ({listed})",
        why="A wire inside foam cannot shed its heat",
        action="the shortest way through the wall, in a sleeve",
    )  # fmt: skip


def _joined(words: Iterable[str]) -> str:
    """Words as a list in a sentence: "a, b and c"."""
    held = list(words)
    return f"{', '.join(held[:-1])} and {held[-1]}" if len(held) > 1 else "".join(held)


def _of_fuse(design: Design, where: str, run: Run) -> Iterator[Finding]:
    if run.fuse_A is None:
        size = f"{run.fuse_sizes_A[0]:g} A" if run.fuse_sizes_A else ""
        yield design.finding(
            "CW-WIRE-08", "warning", where,
            f"The run to the {run.feeds} has no fuse",
            why="A short then heats the wire until its insulation burns",
            action=f"a fuse{f' of {size}' if size else ''} at the {run.begins}'s end",
        )  # fmt: skip
        return
    if run.fuse_standard is None:
        yield design.finding(
            "CW-WIRE-09", "note", f"{where}.fuse_standard",
            f"By which standard the {run.fuse_A:g} A fuse is marked is not said",
            why="UL 248-14 is loaded to three quarters of its print, IEC 60127 to all of it",
            action='fuse_standard = "IEC 60127", "UL 248-14" or "ISO 8820-3" (blade)',
        )  # fmt: skip
    if run.fuse_A < run.fuse_least_A * (1.0 - 1e-9):
        yield design.finding(
            "CW-WIRE-10", "warning", f"{where}.fuse",
            f"A fuse of {run.fuse_A:g} A for {display('current', run.running_A)} over hours",
            allowed=f"at least {display('current', run.fuse_least_A)} "
            f"({run.fuse_standard or '125 % of a load that runs three hours or more'})",
            why="It ages and opens by itself",
            action=f"{run.fuse_sizes_A[0]:g} A" if run.fuse_sizes_A else "",
        )  # fmt: skip
    if run.fuse_most_A is not None and run.fuse_A > run.fuse_most_A * (1.0 + 1e-9):
        yield design.finding(
            "CW-WIRE-10", "warning", f"{where}.fuse",
            f"A fuse of {run.fuse_A:g} A before a wire that may carry "
            f"{display('current', run.allowed_A)}",
            allowed=f"at most {display('current', run.fuse_most_A)}",
            why="The fuse protects the wire and must open before it is too hot. " + _CODES,
            action=run.larger or "a smaller fuse",
        )  # fmt: skip

    if run.fuse_direct_V is None or run.fuse_direct_V < run.start_V:
        kind = run.fuse_standard or "an unknown standard"
        most = "no direct voltage" if run.fuse_direct_V is None else f"{run.fuse_direct_V:g} V"
        yield design.finding(
            "CW-WIRE-12", "warning", f"{where}.fuse",
            f"A fuse by {kind} is made to break {most} and stands in "
            f"{display('voltage', run.start_V)} direct",
            why="Direct current keeps an arc burning where alternating current lets it die",
            action='fuse_voltage = "58 V", once a fuse marked so is there',
        )  # fmt: skip
    if run.fault_A is not None and run.fault_A > run.fuse_breaking_A:
        yield design.finding(
            "CW-WIRE-13", "warning", f"{where}.fuse",
            f"A short behind this fuse takes {display('current', run.fault_A)} from the battery",
            allowed=f"at most about {run.fuse_breaking_A:g} A for a common small fuse of its kind",
            why="A fuse that cannot break its current bursts",
            action="a fuse with a breaking capacity above that, at the battery",
        )  # fmt: skip


def _of_loads(design: Design, loads: list[Loading]) -> Iterator[Finding]:
    for one in loads:
        where = "power.supply" if one.name == "supply" else "power.converter"
        if one.allowed_W is None:
            continue
        if one.output_W > one.allowed_W and not (
            one.name == "supply" and one.allowed_W == one.rated_W
        ):
            yield design.finding(
                "CW-POWER-06", "warning", where,
                f"The {one.name} gives {display('power', one.output_W)} in air of "
                f"{display('temperature', one.air_K)}",
                allowed=f"at most {display('power', one.allowed_W)} there",
                why="Warm air around it takes part of its rating",
                action="a cooler spot for it, or a larger one",
            )  # fmt: skip
        if one.switch_on_W is not None and one.switch_on_W > one.allowed_W >= one.output_W:
            yield design.finding(
                "CW-POWER-07", "warning", where,
                f"Switching on asks the {one.name} for {display('power', one.switch_on_W)}",
                allowed=f"at most {display('power', one.allowed_W)}",
                why="It may shut down and try again without end",
                action="a slow start, a larger one, or fewer volts",
            )  # fmt: skip
        if one.coefficients is not None and one.idle_W is None:
            yield design.finding(
                "CW-POWER-08", "note", f"{where}.efficiency",
                f"The efficiencies of the {one.name} fit no loss that grows with the load",
                why="Its idle loss and its best load cannot be told from them",
                action="the efficiencies at 10 or 20, 50 and 100 % from the data sheet",
            )  # fmt: skip


def _of_switch(design: Design, states: States) -> Iterator[Finding]:
    """Its current; whether it can break direct current and both poles, the safety rules say."""
    power = design.sheet.power
    switch = power.switch if power is not None else None
    if power is None or switch is None:
        return
    if switch.breaks == "dc":
        amps = states.running.current_A["switch"]
        if amps > switch.current.value:
            yield design.finding(
                "CW-SWITCH-02", "warning", "power.switch.current",
                f"{display('current', amps)} through the switch",
                allowed=f"at most {switch.current.text}",
            )  # fmt: skip


def _of_mains(design: Design, mains: MainsSide | None) -> Iterator[Finding]:
    power = design.sheet.power
    if power is None or mains is None:
        return
    switch = power.switch
    if switch is not None and switch.breaks == "mains" and mains.line_A > switch.current.value:
        yield design.finding(
            "CW-SWITCH-02", "warning", "power.switch.current",
            f"{display('current', mains.line_A)} through the switch",
            allowed=f"at most {switch.current.text}",
        )  # fmt: skip
    fuse = power.fuse
    if fuse is not None:
        if fuse.standard is None:
            yield design.finding(
                "CW-WIRE-09", "note", "power.fuse.standard",
                f"By which standard the {fuse.rating.text} fuse is marked is not said",
                why="UL 248-14 is loaded to three quarters of its print, IEC 60127 to all of it",
                action='standard = "IEC 60127" or "UL 248-14"',
            )  # fmt: skip
        most = 1.0 if fuse.standard is None else fuse_family(fuse.standard).load_share
        if mains.line_A > most * fuse.rating.value:
            yield design.finding(
                "CW-POWER-10", "warning", "power.fuse.rating",
                f"{display('current', mains.line_A)} through a fuse of {fuse.rating.text}",
                allowed=f"at most {display('current', most * fuse.rating.value)}",
                why="The line carries volts times amperes, not watts",
                action="the next size, if cord and inlet bear it",
            )  # fmt: skip
        if fuse.kind == "fast" and mains.inrush_A is not None:
            yield design.finding(
                "CW-POWER-11", "note", "power.fuse.kind",
                f"A fast fuse sees {display('current', mains.inrush_A)} at each start",
                why="It opens without a fault, sooner or later", action='kind = "time-lag"',
            )  # fmt: skip


def _of_fans(
    design: Design, point: Point, states: States, fans: list[FanFeed]
) -> Iterator[Finding]:
    for fan in fans:
        key = f"cooler.{fan.name.replace(' ', '_')}"
        drive = getattr(design.sheet.cooler, fan.name.replace(" ", "_")).drive
        if fan.start_V is not None and fan.voltage_V < fan.start_V:
            yield design.finding(
                "CW-DRIVE-05", "warning", f"{key}.drive.start_voltage",
                f"The {fan.name} gets {display('voltage', fan.voltage_V)}",
                allowed=f"at least {display('voltage', fan.start_V)} to start",
                why="It stands still after every pause, and the sink behind it runs away",
                action="full voltage for a second, then less; or more speed",
            )  # fmt: skip
        if drive is None or drive.kind != "linear":
            continue
        supply_V = states.running.voltage_V["bus"]
        rated = getattr(design.sheet.cooler, fan.name.replace(" ", "_")).voltage
        rated_V = supply_V if rated is None else rated.value
        speed = float(design.cooler[fan.name.replace(" ", "_")]["speed"][0])
        # Power goes with the cube of the speed and the voltage with the speed: current, its square.
        rated_A = fan.current_A / max(speed, 0.05) ** 2
        worst_W = max(fan.drive_W, float(linear_stage_worst_heat(supply_V, rated_V, rated_A, 1.0)))
        around_K = air_at(wires_located(design), design, point.results[0])
        junction_K = around_K + worst_W * drive.to_air.value
        if junction_K > drive.junction_limit.value:
            yield design.finding(
                "CW-DRIVE-06", "warning", f"{key}.drive",
                f"The transistor of the {fan.name} drops up to {display('power', worst_W)} and "
                f"reaches {display('temperature', junction_K)}",
                allowed=f"at most {drive.junction_limit.text}",
                why="The hottest point of a linear stage lies near half the voltage, not at full "
                "speed",
                action="a heat sink for it, or a small converter instead",
            )  # fmt: skip
        if drive.stage == "common source":
            yield design.finding(
                "CW-DRIVE-07", "warning", f"{key}.drive.stage",
                "A common-source stage behind a knob is nearly on or off",
                why="All speeds lie within about a hundredth of the knob's way, less than the "
                "threshold of the transistor varies and drifts",
                action='stage = "follower", or a regulator',
            )  # fmt: skip


def _of_starts(
    design: Design, states: States, loads: list[Loading], fans: list[FanFeed], runs: list[Run]
) -> Iterator[Finding]:
    """Whether supply and fuses bear what fans take until they turn."""
    supply = next((one for one in loads if one.name == "supply"), None)
    if fans and supply is not None and supply.allowed_W is not None:
        begin_W = supply.output_W if supply.switch_on_W is None else supply.switch_on_W
        bus_V = states.running.voltage_V["bus"]
        low_W, high_W, _ = (
            begin_W + sum(bus_V * (fan.start_A[k] - _source_A(states, fan)) for fan in fans)
            for k in range(3)
        )
        if begin_W <= supply.allowed_W < high_W:
            yield design.finding(
                "CW-DRIVE-08", "warning" if low_W > supply.allowed_W else "note",
                "power.supply.rated_power",
                f"While the fans start, the supply is asked for {display('power', low_W)} to "
                f"{display('power', high_W)}",
                allowed=f"at most {display('power', supply.allowed_W)}",
                why=f"{_STARTS}, and the modules take most then",
                action="the modules some seconds after the fans, or a larger supply",
            )  # fmt: skip
    for fan in fans:
        run = next((one for one in runs if one.feeds == fan.name), None)
        if run is None or run.fuse_A is None:
            continue
        opens_A = fuses_of(run.fuse_standard).opens_ratio * run.fuse_A
        low_A, high_A, _ = fan.start_A
        if high_A > opens_A:
            yield design.finding(
                "CW-DRIVE-09", "warning" if low_A > opens_A else "note",
                f"power.wire[{_wire_number(design, run)}].fuse",
                f"The {fan.name} starts with {display('current', low_A)} to "
                f"{display('current', high_A)} behind a fuse of {run.fuse_A:g} A",
                allowed=f"at most {display('current', opens_A)} for long",
                why=f"{_STARTS}; a fast fuse may open each time",
                action="a time-lag fuse, or the next size that the wire bears",
            )  # fmt: skip


_STARTS = (
    "Until it turns a brushless fan takes 1.5 to 3 times its current (common practice); its data "
    "sheet says what it really is"
)


def _source_A(states: States, fan: FanFeed) -> float:
    """What the running fan takes from the source [A]."""
    found = states.current_A(fan.name, Moment.RUNNING)
    return fan.current_A if found is None else found


def _wire_number(design: Design, run: Run) -> int:
    power = design.sheet.power
    assert power is not None
    return max(i for i, wire in enumerate(power.wire) if wire.target == run.feeds)


def _of_voltage(design: Design, states: States) -> Iterator[Finding]:
    for each in states.chain.elements:
        if each.name.startswith(REGULATOR):
            volts = each.voltage_V  # type: ignore[union-attr]
            source = states.chain.elements[0]
            yield design.finding(
                "CW-POWER-09", "warning", "power",
                f"The modules are to have {display('voltage', volts)}, and the {source.name} gives "
                f"{display('voltage', source.voltage_V)}",  # type: ignore[union-attr]
                why="They are counted as if a regulator without any loss stood between",
                action="[power.converter], or another way to run them",
            )  # fmt: skip
