"""A battery as the source: how far its voltage falls, what it still drives when run down, the sun.

Each state of charge is the same sheet with another voltage of the battery, solved anew: modules
and fans that hang on it directly get that voltage, what stands behind a converter keeps its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from coldwright.answers.design import Design, Point
from coldwright.answers.energy import battery_time_s, rate_share
from coldwright.answers.wiring_states import States, asked_of, states_of
from coldwright.errors import NoSolution, SheetInvalid
from coldwright.findings import Finding
from coldwright.machine.assemble_network import Moment, power_chain_of
from coldwright.machine.network import Solution, solve_network
from coldwright.physics.battery import (
    internal_resistance_lead_acid,
    internal_resistance_lfp,
    open_circuit_voltage_lead_acid,
    open_circuit_voltage_lfp,
)
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Battery, Sheet

# Lead-acid batteries are made of blocks of three cells, about 6.2 V each.
_LEAD_BLOCK_V, _LEAD_BLOCK = 6.2, 3
_LFP_CELL_V = 3.2
# Drives behind which a fan's speed follows the voltage of the battery.
_FOLLOWS = ("direct", "pwm4", "chopped")


@dataclass(frozen=True)
class BatteryState:
    """What a battery does in one state of charge, or beside the sun."""

    name: str
    charge_share: float | None
    """State of charge; None for the nominal voltage."""
    rest_V: float
    """Without load."""
    terminal_V: float | None
    """Under this load."""
    battery_A: float | None
    """What it gives; negative while it is charged."""
    panel_A: float | None
    load_A: float | None
    """What the cooler takes from both."""
    modules_A: float | None
    plug_W: float | None
    net_cooling_W: float | None
    refused: str = ""
    """Why it cannot run like this; empty where it can."""


@dataclass(frozen=True)
class BatterySide:
    """The battery of a sheet that no mains supply feeds."""

    internal_ohm: float | None
    """None: not known and not counted."""
    typical_ohm: float | None
    """Of a new one of its kind and size."""
    lasts_s: float
    """From full down to its usable share, at the load of the nominal state."""
    panel_W: float | None
    """What the panel gives in full sun, behind its losses."""
    states: list[BatteryState]

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return asdict(self)

    def state(self, name: str) -> BatteryState | None:
        """One state by its name."""
        return next((one for one in self.states if one.name == name), None)


def battery_side(design: Design, point: Point, states: States) -> BatterySide | None:
    """How the battery of a design fares; None where mains feeds it or there is none.

    Raises
    ------
    NoSolution, SheetInvalid
        Never: a state that cannot be says so in its own line.
    """
    power = design.sheet.power
    if power is None or power.battery is None or power.supply is not None:
        return None
    battery, volts = power.battery, power.battery.voltage.value
    cooling_W = point.nominal["net_cooling_W"]
    found = [_state("nominal", None, volts, states.running, cooling_W)]
    for name, share in (("full", 1.0), ("run down", 1.0 - battery.usable_share.value)):
        rest_V = rest_voltage(battery, share)
        if rest_V is not None:
            changed = at_voltage(design.sheet, rest_V, states.chain.direct)
            found.append(_at_charge(changed, name, share, rest_V))
    panel_W = None
    if power.panel is not None:
        panel_W = power.panel.peak_power.value * power.panel.performance.value
        found.append(_in_the_sun(design, point, volts, panel_W))
    inside = battery.internal_resistance
    return BatterySide(
        internal_ohm=None if inside is None else inside.value,
        typical_ohm=typical_resistance(battery),
        lasts_s=battery_time_s(battery, states.running.plug_W),
        panel_W=panel_W,
        states=found,
    )


def cells_of(battery: Battery) -> int | None:
    """Cells in series, by kind and nominal voltage; None where the kind is not said."""
    volts = battery.voltage.value
    if battery.kind == "lead-acid":
        return _LEAD_BLOCK * max(round(volts / _LEAD_BLOCK_V), 1)
    if battery.kind == "lithium iron phosphate":
        return max(round(volts / _LFP_CELL_V), 1)
    return None


def rest_voltage(battery: Battery, charge_share: float) -> float | None:
    """Voltage without load at a state of charge [V]; None where the kind is not said."""
    cells = cells_of(battery)
    if cells is None:
        return None
    lead = battery.kind == "lead-acid"
    law = open_circuit_voltage_lead_acid if lead else open_circuit_voltage_lfp
    return float(law(charge_share, float(cells)))


def typical_resistance(battery: Battery) -> float | None:
    """Resistance inside a new battery of this kind and size, half charged [ohm]."""
    cells = cells_of(battery)
    if cells is None:
        return None
    if battery.capacity is not None:
        hours = battery.capacity.value / 3600.0
    else:
        assert battery.energy is not None
        hours = battery.energy.value / battery.voltage.value / 3600.0
    lead = battery.kind == "lead-acid"
    law = internal_resistance_lead_acid if lead else internal_resistance_lfp
    return float(law(0.5, float(cells), hours))


def at_voltage(sheet: Sheet, volts: float, direct: list[int]) -> Sheet:
    """The sheet with another voltage of its battery, and of all that follows it directly.

    `direct` are the groups of modules that hang on it without a converter.
    """
    assert sheet.power is not None
    assert sheet.power.battery is not None
    ratio = volts / sheet.power.battery.voltage.value
    edits: dict[str, Any] = {"power.battery.voltage": f"{volts:.9g} V"}
    cooler = sheet.cooler
    for side in ("cold_fan", "hot_fan"):
        fan = getattr(cooler, side)
        if fan is not None and (fan.drive is None or fan.drive.kind in _FOLLOWS):
            edits[f"cooler.{side}_speed"] = ratio * float(getattr(cooler, f"{side}_speed").value)
    for g in direct:
        edits |= _run_at(sheet, g, ratio)
    return sheet.changed(edits)


def _run_at(sheet: Sheet, g: int, ratio: float) -> dict[str, Any]:
    """The edit that lets a group run at so much of the voltage that it is set to."""
    cooler = sheet.cooler
    modules = cooler.modules[g]
    where = "cooler.run_at"
    if modules.run_at is not None:
        where = f"cooler.modules{f'[{g}]' if len(cooler.modules) > 1 else ''}.run_at"
    run_at = modules.run_at or cooler.run_at
    if run_at.chopped is not None:
        duty = run_at.chopped.duty.value
        rail = f"{ratio * run_at.chopped.rail.value:.9g} V"
        return {where: {"chopped": {"rail": rail, "duty": duty}}}
    given = getattr(run_at, run_at.way)
    return {where: {run_at.way: f"{ratio * given.value:.9g} V"}}


def battery_findings(design: Design, side: BatterySide | None) -> Iterator[Finding]:
    """What a battery lacks, and what it cannot do any more when it is run down."""
    if side is None:
        return
    power = design.sheet.power
    assert power is not None
    assert power.battery is not None
    if power.battery.kind is None:
        yield design.finding(
            "CW-POWER-12", "note", "power.battery.kind",
            "What kind of battery it is is not said: its voltage when full and when run down is "
            "not known",
            action='kind = "lead-acid" or “lithium iron phosphate”',
        )  # fmt: skip
    if side.internal_ohm is None:
        typical = (
            ""
            if side.typical_ohm is None
            else f'internal_resistance = "{1e3 * side.typical_ohm:.2g} mohm", usual for a new one'
        )
        yield design.finding(
            "CW-POWER-13", "note", "power.battery.internal_resistance",
            "How far the battery's voltage sags under load is not counted",
            why="Its resistance is not said; cold and age double it",
            action=typical or "the resistance from its data sheet",
        )  # fmt: skip
    for one in side.states:
        if one.refused:
            yield design.finding(
                "CW-POWER-14", "warning", "power.battery",
                f"At {display('voltage', one.rest_V)}, {one.name}, the battery cannot run it",
                why=one.refused.rstrip("."),
                action="a converter that works down to that voltage, a larger usable_share left "
                "in it, or a cut-off above it",
            )  # fmt: skip


def battery_reasons(battery: Battery, side: BatterySide | None) -> list[str]:
    """The battery in words."""
    if side is None:
        return []
    said = []
    now = side.states[0]
    if now.terminal_V is not None and side.internal_ohm is not None:
        said.append(
            f"Under its load the battery's voltage sags by "
            f"{display('voltage', now.rest_V - now.terminal_V)} to "
            f"{display('voltage', now.terminal_V)}."
        )
    least = 1.0 - battery.usable_share.value
    time = display("time", side.lasts_s)
    hurry = rate_share(battery, now.plug_W) if now.plug_W else 1.0
    dear = f" (so fast it gives only {100.0 * hurry:.0f} %)" if hurry < 0.995 else ""
    said.append(f"A full battery carries it for {time}, down to {100.0 * least:.0f} %{dear}.")
    low, full = side.state("run down"), side.state("full")
    if low is not None and full is not None and low.net_cooling_W and full.net_cooling_W:
        said.append(
            f"Full it gives {display('voltage', full.rest_V)} and a net cooling of "
            f"{display('heat', full.net_cooling_W)}, run down {display('voltage', low.rest_V)} and "
            f"{display('heat', low.net_cooling_W)}."
        )
    said += _of_sun(battery, side.state("full sun"))
    return said


def _of_sun(battery: Battery, sun: BatteryState | None) -> list[str]:
    if sun is None or sun.panel_A is None or sun.load_A is None or sun.battery_A is None:
        return []
    beside = (
        f"In full sun the panel gives {display('current', sun.panel_A)} beside a load of "
        f"{display('current', sun.load_A)}"
    )
    if sun.battery_A < 0.0:
        back = 100.0 * battery.charge_efficiency.value
        return [
            f"{beside}: {display('current', -sun.battery_A)} charge the battery, of whose energy "
            f"{back:.0f} % come out again."
        ]
    return [f"{beside}: the battery gives the other {display('current', sun.battery_A)}."]


def _at_charge(sheet: Sheet, name: str, share: float, rest_V: float) -> BatteryState:
    try:
        design = Design(sheet, 0, 0)
        point = design.solve(with_place=design.enclosed)
        states = states_of(design, point)
    except NoSolution as error:
        return _refused(name, share, rest_V, error.reason)
    except SheetInvalid as error:
        return _refused(name, share, rest_V, error.findings[0].given)
    return _state(name, share, rest_V, states.running, point.nominal["net_cooling_W"])


def _in_the_sun(design: Design, point: Point, volts: float, panel_W: float) -> BatteryState:
    """At the nominal voltage, with the panel in full sun beside it."""
    start_K = float(design.place["air_K"][0])
    chain = power_chain_of(
        design.sheet,
        design.cooler[0],
        point.results[0],
        start_K,
        Moment.RUNNING,
        sun_W=panel_W,
        asked=asked_of(design),
    )
    try:
        found = solve_network(chain.elements)
    except NoSolution as error:
        return _refused("full sun", None, volts, error.reason)
    return _state("full sun", None, volts, found, point.nominal["net_cooling_W"])


def _refused(name: str, share: float | None, rest_V: float, why: str) -> BatteryState:
    return BatteryState(name, share, rest_V, None, None, None, None, None, None, None, why)


def _state(
    name: str, share: float | None, rest_V: float, found: Solution, cooling_W: float
) -> BatteryState:
    battery_A = found.current_A["battery"]
    panel_A = found.current_A.get("panel")
    modules = [amps for part, amps in found.current_A.items() if part.startswith("modules")]
    return BatteryState(
        name=name,
        charge_share=share,
        rest_V=rest_V,
        terminal_V=found.across_V["battery"],
        battery_A=battery_A,
        panel_A=panel_A,
        load_A=battery_A + (panel_A or 0.0),
        modules_A=modules[-1] if modules else None,
        plug_W=found.plug_W,
        net_cooling_W=cooling_W,
    )
