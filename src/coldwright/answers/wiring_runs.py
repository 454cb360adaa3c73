"""Every run of wire: currents, drop, what it may carry, its fuse, and the sizes beside it."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from math import sqrt
from typing import Any

from coldwright.answers.design import Design, Point
from coldwright.answers.wiring_loads import wires_located
from coldwright.answers.wiring_states import States, air_at
from coldwright.answers.wiring_tables import (
    Allowance,
    allowance,
    colour_rows,
    fuses_of,
    joint_limit,
    next_sizes,
)
from coldwright.errors import NoSolution
from coldwright.machine.assemble_network import Moment
from coldwright.machine.network_elements import Battery
from coldwright.machine.records import Drive
from coldwright.machine.runs import WIRE_K, copper_resistance, joint_resistance
from coldwright.machine.values import Values
from coldwright.physics.ampacity import fault_current
from coldwright.physics.fuse import largest_fuse_for_wire
from coldwright.sheet.models import Wire


@dataclass(frozen=True)
class Run:
    """One pair of conductors from a source to a part, at the sheet's own values."""

    name: str
    feeds: str
    begins: str
    """Where it begins: "supply", "converter" or "battery"."""
    length_m: float
    size: str
    area_m2: float
    strands: str
    copper_K: float
    copper_ohm: float
    joints_ohm: float
    running_A: float
    """Effective current while running; that of a chopped drive is above its mean."""
    switch_on_A: float | None
    reversed_A: float | None
    start_V: float
    drop_V: float
    drop_share: float
    heat_W: float
    lost_cooling_W: float | None
    """Cooling that the drop costs: less voltage for the modules, or heat in the place."""
    allowed_A: float | None
    base_A: float | None
    table: str
    """Table and edition that the current is allowed by."""
    table_note: str
    factors: dict[str, float]
    """What the table's current is multiplied by: surroundings, bundle, foam."""
    around_K: float
    fuse_A: float | None
    fuse_standard: str | None
    fuse_least_A: float
    """Least rating that carries the load without tiring."""
    fuse_most_A: float | None
    """Largest rating that still protects the wire."""
    fuse_sizes_A: list[float]
    """Sizes on sale between the two."""
    fuse_direct_V: float | None
    """Direct voltage that it may break, as marked or as its kind is made for."""
    fuse_breaking_A: float
    """Current that its common small kind can break."""
    fault_A: float | None
    """What would flow if the far end were shorted; known for a battery."""
    joint_limit_A: float | None
    smaller: str
    larger: str
    plus: str
    minus: str
    """Colours by region, and the label that outranks them."""
    label_plus: str
    label_minus: str

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return asdict(self)


def runs_of(design: Design, point: Point, states: States) -> list[Run]:
    """All runs that the sheet describes and that carry current."""
    power = design.sheet.power
    if power is None:
        return []
    wires = {wire.target: wire for wire in power.wire}
    found: list[Run] = []
    for part, wire in wires.items():
        if states.current_A(part, Moment.RUNNING) is None or not states.wires(part):
            continue
        found.append(_run(design, point, states, part, wire, len(found)))
    return found


def _run(design: Design, point: Point, states: States, part: str, wire: Wire, number: int) -> Run:
    sheet, result = design.sheet, point.results[0]
    power = sheet.power
    assert power is not None
    values = Values(0)
    effective = _effective_share(design) if part == "modules" else 1.0
    amps = {
        moment: None if mean is None else mean * effective
        for moment, mean in ((one, states.current_A(part, one)) for one in Moment)
    }
    running_A = amps[Moment.RUNNING]
    assert running_A is not None
    start_V, drop_V = states.start_V(part), states.drop_V(part)
    located = wires_located(design)
    around_K = air_at(located, design, result) if wire.around is None else wire.around.value
    allowed = allowance(wire, around_K)
    family = fuses_of(wire.fuse_standard)
    least_A = running_A / family.load_share
    most_A = None
    if allowed.allowed_A is not None:
        most_A = float(largest_fuse_for_wire(allowed.allowed_A, family.opens_ratio))
    smaller, larger = next_sizes(wire)
    colours = colour_rows(power.region)[0].colours
    limits = [limit for limit in map(joint_limit, wire.joint) if limit is not None]
    loop_ohm = float(copper_resistance(wire, values)) + float(joint_resistance(wire, values))
    return Run(
        name=wire.name,
        feeds=part,
        begins=_begins(sheet, part),
        length_m=wire.length.value,
        size=wire.size.text,
        area_m2=wire.size.value,
        strands=wire.strands,
        copper_K=WIRE_K,
        copper_ohm=float(copper_resistance(wire, values)),
        joints_ohm=float(joint_resistance(wire, values)),
        running_A=running_A,
        switch_on_A=amps[Moment.SWITCH_ON],
        reversed_A=amps[Moment.REVERSED],
        start_V=start_V,
        drop_V=drop_V,
        drop_share=drop_V / start_V,
        heat_W=states.heat_W(part),
        lost_cooling_W=_lost_cooling(design, point, states, part, located),
        around_K=around_K,
        fuse_A=None if wire.fuse is None else wire.fuse.value,
        fuse_standard=wire.fuse_standard,
        fuse_least_A=least_A,
        fuse_most_A=most_A,
        fuse_sizes_A=[
            size
            for size in family.sizes_A
            if size >= least_A * (1.0 - 1e-9) and (most_A is None or size <= most_A)
        ],
        fuse_direct_V=family.direct_V if wire.fuse_voltage is None else wire.fuse_voltage.value,
        fuse_breaking_A=family.breaking_A,
        fault_A=_fault(states, loop_ohm),
        joint_limit_A=min(limits, default=None),
        smaller=smaller,
        larger=larger,
        plus=colours["positive"][0],
        minus=colours["negative"][0],
        label_plus=f"{number + 1}+",
        label_minus=f"{number + 1}-",
        **_allowed(allowed),
    )


def _allowed(found: Allowance) -> dict[str, Any]:
    return {
        "allowed_A": found.allowed_A,
        "base_A": found.base_A,
        "table": found.table,
        "table_note": found.note,
        "factors": found.factors,
    }


def _fault(states: States, loop_ohm: float) -> float | None:
    source = states.chain.elements[0]
    if not isinstance(source, Battery) or source.ohm + loop_ohm <= 0.0:
        return None
    return float(fault_current(source.voltage_V, source.ohm, loop_ohm))


def _begins(sheet: Any, part: str) -> str:
    if part == "modules" and sheet.power.converter is not None:
        return "converter"
    return "supply" if sheet.power.supply is not None else "battery"


def _effective_share(design: Design) -> float:
    """Effective over mean current: more than 1 where the modules are chopped."""
    group = design.cooler["group"][0, 0]
    return 1.0 / sqrt(float(group["duty"])) if int(group["drive"]) == Drive.CHOPPED else 1.0


def _lost_cooling(
    design: Design, point: Point, states: States, part: str, located: str
) -> float | None:
    """Net cooling [W] that a run's resistance costs, with the place's air as it is."""
    if part != "modules":
        return states.heat_W(part) if located == "place" else 0.0
    air_K = point.nominal["place_K"]
    try:
        now = _nominal_only(design, air_K, {})
        ideal = _nominal_only(design, air_K, {"group.lead_ohm": 0.0})
    except NoSolution:
        return None
    return ideal - now


def _nominal_only(design: Design, air_K: float, changed: dict[str, Any]) -> float:
    tried, design.coolers = design.coolers, None
    try:
        solved = design.solve(with_place=False, air=air_K, changed=changed)
    finally:
        design.coolers = tried
    return solved.nominal["net_cooling_W"]
