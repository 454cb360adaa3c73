"""Mains, low voltage that can still start a fire, fuses, switches, inlets, where parts stand."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.findings import Finding
from coldwright.machine.safety.thresholds import (
    CLASS_2_V,
    CLASS_2_VA,
    EARTH_CAPACITANCE_F,
    LEAKAGE_LIMIT_A,
    LEAKAGE_TEST_RATIO,
    ONE_WAY_PLUGS,
    SELV_DC_V,
    SUPPLY_AIR_K,
)
from coldwright.machine.safety.what_is_known import Asked, Case, Solved, State, caution
from coldwright.physics.mains import leakage_current
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box

_LICENSED = "and a licensed person for everything that carries mains"


def is_selv(voltage_V: float) -> bool:
    """Whether smooth direct current of this voltage is safety extra-low voltage."""
    return voltage_V <= SELV_DC_V


def is_class_2(voltage_V: float, power_W: float) -> bool:
    """Whether a supply stays within class 2 of the North American code, and so starts no fire."""
    return voltage_V <= CLASS_2_V and power_W <= CLASS_2_VA


def who_wires_mains(case: Case) -> Iterator[Finding]:
    """Mains feeds it, and the maker wires that side, or does not say who does."""
    if case.chain.mains is not True or case.told.mains_side == "sealed supply":
        return
    by_hand = case.told.mains_side == "wired by hand"
    yield caution(
        case, "CW-SAFE-20", "warning" if by_hand else "note", "safety.mains_side",
        "The mains side is wired by hand" if by_hand else
        "It is not known who makes the part that carries mains",
        why="A slip there kills or burns, at once or years later",
        action=f"a finished supply in a closed case that is never opened, {_LICENSED}"
        + ("" if by_hand else '; then mains_side = "sealed supply" under [safety]'),
    )  # fmt: skip


def supply_in_foam(case: Case) -> Iterator[Finding]:
    """The supply stands inside foam."""
    if case.told.supply_stands == "in foam":
        yield caution(
            case, "CW-SAFE-21", "stop", "safety.supply_stands",
            "A supply inside foam",
            allowed="a design that may be built",
            why="It cannot shed its heat, gets hot enough to melt the foam, and every such foam "
            "burns",
            action="the supply in its own metal box in free air, away from foam",
        )  # fmt: skip


def mains_in_the_cold_box(case: Case) -> Iterator[Finding]:
    """A supply on mains stands inside the box that is kept cool, where water condenses."""
    inside = isinstance(case.sheet.place, Box) and case.chain.located == "place"
    if case.chain.mains is True and inside:
        yield caution(
            case, "CW-SAFE-22", "warning", "power.supply.located",
            "A part that carries mains stands inside the cold box",
            why="Water condenses there and makes paths for the current; its loss warms the box too",
            action='located = "outside": above or beside the box, never below it',
        )  # fmt: skip


def beyond_low_voltage(case: Case) -> Iterator[Finding]:
    """Supply or battery give more than safety extra-low voltage."""
    for where, voltage_V in _sources(case):
        yield from _shocks(case, where, voltage_V)


def array_beyond_low_voltage(case: Case, state: State) -> Iterator[Finding]:
    """The modules run at more than safety extra-low voltage, whatever feeds them."""
    if state.array_V is not None and not any(True for _ in beyond_low_voltage(case)):
        yield from _shocks(case, "cooler.run_at", state.array_V)


def can_start_a_fire(case: Case) -> Iterator[Finding]:
    """The supply cannot shock, but gives more than a class 2 circuit."""
    chain = case.chain
    if chain.supply_V is None or chain.supply_W is None or not is_selv(chain.supply_V):
        return
    if not is_class_2(chain.supply_V, chain.supply_W):
        most = display("power", chain.supply_W)
        yield caution(
            case, "CW-SAFE-24", "note", "power.supply.rated_power",
            f"{display('voltage', chain.supply_V)} and {most} cannot shock, but can start a fire",
            why="Only up to 100 W at 30 V does the North American code (class 2) take a circuit "
            "for harmless; a loose screw or a pinched wire beyond that glows",
            action="a fuse at the start of every wire, joints that are pulled at, and no bare "
            "metal that can bridge them",
        )  # fmt: skip


def wire_without_fuse(case: Case) -> Iterator[Finding]:
    """A wire has no fuse, on a battery or on a supply that can start a fire."""
    chain = case.chain
    strong = chain.battery_V is not None or (
        chain.supply_V is not None
        and chain.supply_W is not None
        and not is_class_2(chain.supply_V, chain.supply_W)
    )
    if not strong or case.sheet.power is None:
        return
    wires = case.sheet.power.wire
    for at in chain.without_fuse:
        where = "power.wire" + (f"[{at}]" if len(wires) > 1 else "")
        yield caution(
            case, "CW-SAFE-25", "warning", where,
            f"The wire to “{wires[at].name}” has no fuse",
            why="When it is pinched or joined wrongly the source drives it red-hot inside its "
            "insulation",
            action="a fuse at the source's end, no larger than the wire bears",
        )  # fmt: skip


def leakage_of_several(case: Case) -> Iterator[Finding]:
    """The leakage currents of several supplies on one plug add up beyond the limit."""
    told, chain = case.told, case.chain
    if chain.mains is not True:
        return
    if told.supply_leakage is not None:
        total_A = told.supply_leakage.value * told.supplies
    elif told.supplies > 1:
        total_A = float(
            leakage_current(
                EARTH_CAPACITANCE_F * told.supplies, LEAKAGE_TEST_RATIO * chain.mains_V,
                chain.mains_Hz,
            )
        )  # fmt: skip
    else:
        return
    if total_A > LEAKAGE_LIMIT_A:
        yield caution(
            case, "CW-SAFE-26", "warning", "safety.supplies",
            f"A leakage of {1e3 * total_A:.2f} mA to earth from {_supplies(told.supplies)}",
            allowed="at most the 0.75 mA of a portable appliance with an earthed plug",
            why="Where the earth wire breaks, this current flows through whoever touches the "
            "metal" + ("" if told.supply_leakage else "; a usual value is assumed for each"),
            action="fewer supplies on one plug, supplies with less leakage, and an earth whose "
            "continuity has been tested",
        )  # fmt: skip


def inlet(case: Case, state: State) -> Iterator[Finding]:
    """The appliance inlet takes more current than it is made for, or stands too warm."""
    chain = case.chain
    if chain.inlet is None:
        return
    if chain.inlet_A is not None and state.plug_W is not None:
        load_A = mains_current_A(state.plug_W, chain.mains_V, chain.power_factor)
        if load_A > chain.inlet_A:
            yield caution(
                case, "CW-SAFE-27", "stop", "power.inlet",
                f"{load_A:.1f} A through an inlet {chain.inlet}",
                allowed=f"at most {chain.inlet_A:g} A",
                why="Its pins overheat and char",
                action="a larger inlet, or a supply with a better power factor",
            )  # fmt: skip
    around_K = chain.inlet_air_K
    if around_K is None:
        stands = {"exhaust": state.exhaust_K, "place": state.place_K, "outside": state.outdoor_K}
        around_K = stands.get(chain.located or "")
    if around_K is not None and chain.inlet_most_K is not None and around_K > chain.inlet_most_K:
        yield caution(
            case, "CW-SAFE-27", "stop", "power.inlet",
            f"An inlet {chain.inlet} in air of {display('temperature', around_K)}",
            allowed=f"in air of at most {display('temperature', chain.inlet_most_K)}",
            why="Its pins are rated for room air and overheat",
            action="the inlet out of the hot side's air",
        )  # fmt: skip


def mains_current_A(power_W: float, mains_V: float, power_factor: float) -> float:
    """Current [A] at the plug."""
    return power_W / (mains_V * power_factor)


def breaks_direct_current(case: Case) -> Iterator[Finding]:
    """A switch stands in the direct current, but is marked for alternating current only."""
    chain = case.chain
    if chain.switch_breaks != "dc":
        return
    needed_V = max((voltage_V for _, voltage_V in _sources(case)), default=0.0)
    if chain.switch_dc_V is None or chain.switch_dc_V < needed_V:
        marked = (
            "no mark for direct current"
            if chain.switch_dc_V is None
            else f"a mark for {display('voltage', chain.switch_dc_V)} of direct current"
        )
        yield caution(
            case, "CW-SAFE-28", "stop", "power.switch",
            f"A switch with {marked}",
            allowed=f"fit to break {display('voltage', needed_V)} of it",
            why="Alternating current goes through nought a hundred times a second and the arc "
            "dies; in direct current it burns on, and the switch with it",
            action="a switch marked for direct current at this voltage",
        )  # fmt: skip


def one_pole_only(case: Case) -> Iterator[Finding]:
    """The main switch opens one of two conductors, and the plug can be turned round."""
    chain = case.chain
    if chain.region in ONE_WAY_PLUGS:
        return
    if chain.switch_breaks == "mains" and chain.switch_poles == 1 and chain.mains is not False:
        yield caution(
            case, "CW-SAFE-29", "warning", "power.switch.poles",
            "The main switch opens one conductor only",
            why="Where the plug can be turned round, everything behind the switch may stay live "
            "while it is off",
            action="poles = 2",
        )  # fmt: skip


def supply_in_hot_air(case: Case, state: State) -> Iterator[Finding]:
    """The supply stands in the hot side's air, and that is warmer than supplies are rated for."""
    if case.chain.located != "exhaust" or state.exhaust_K is None:
        return
    if state.exhaust_K > SUPPLY_AIR_K:
        yield caution(
            case, "CW-SAFE-30", "warning", "power.supply.located",
            f"A supply in air of {display('temperature', state.exhaust_K)}",
            allowed=f"at most about {display('temperature', SUPPLY_AIR_K)}",
            why="Warmer, many supplies may give only part of their rated power, and they age fast",
            action="the supply in cooler air, or what its data sheet says of derating",
        )  # fmt: skip


def overloaded(case: Case, state: State) -> Iterator[Finding]:
    """The supply gives more than its rated power."""
    if state.supply_share is not None and state.supply_share > 1.0:
        yield caution(
            case, "CW-SAFE-08", "warning", "power.supply.rated_power",
            f"A load of {100 * state.supply_share:.0f} % of the rated power",
            allowed="at most 100 %",
            why="It overheats, shuts down, or fails",
            action="a larger supply or fewer volts",
        )  # fmt: skip


def _shocks(case: Case, where: str, voltage_V: float) -> Iterator[Finding]:
    if not is_selv(voltage_V):
        yield caution(
            case, "CW-SAFE-23", "warning", where,
            f"{display('voltage', voltage_V)} of direct current",
            allowed="safe to touch; that ends at 120 V",
            why="It shocks and burns like mains, and its arc does not go out by itself",
            action="more modules side by side instead of in series, and a licensed person "
            "for what remains above 120 V",
        )  # fmt: skip


def _sources(case: Case) -> Iterator[tuple[str, float]]:
    if case.chain.supply_V is not None:
        yield "power.supply.voltage", case.chain.supply_V
    if case.chain.battery_V is not None:
        yield "power.battery.voltage", case.chain.battery_V


def _supplies(count: int) -> str:
    return "one supply" if count == 1 else f"{count} supplies on one plug"


ASKED: tuple[Asked, ...] = (
    supply_in_foam,
    breaks_direct_current,
    who_wires_mains,
    mains_in_the_cold_box,
    beyond_low_voltage,
    wire_without_fuse,
    leakage_of_several,
    one_pole_only,
    can_start_a_fire,
)
SOLVED: tuple[Solved, ...] = (inlet, array_beyond_low_voltage, supply_in_hot_air, overloaded)
