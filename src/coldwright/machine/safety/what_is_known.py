"""What the rules look at: the sheet, its electrical side as a small record, and a solved state."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from coldwright.findings import Finding, Severity
from coldwright.sheet.library.electrical import inlet
from coldwright.sheet.models import Power, Safety, Sheet


@dataclass(frozen=True)
class State:
    """One solved state, worst over the time that is judged; None: not known."""

    place_pressure_Pa: float
    hot_face_K: float
    hot_sink_K: float
    cold_face_K: float
    cold_sink_K: float
    dew_point_K: float | None
    condensate_kg_s: float
    fog_ratio: float
    supply_share: float | None = None
    saturated: bool = False
    """Whether the place's own air is so moist that water settles on its walls."""
    hot_sink_high_K: float | None = None
    """Bound of the hot sink's temperature that 95 of 100 tries keep."""
    exhaust_K: float | None = None
    """Air that leaves the hot side."""
    place_K: float | None = None
    outdoor_K: float | None = None
    exhaust_m3_s: float = 0.0
    """Air of the place that the cooler blows outdoors."""
    fresh_air_m3_s: float | None = None
    """Outdoor air that comes into the place, by gaps and fans."""
    plug_W: float | None = None
    array_V: float | None = None


@dataclass(frozen=True)
class Electrics:
    """The electrical side as far as the rules ask for it; None: the sheet does not say."""

    mains: bool | None = None
    """Whether mains feeds it; a battery alone does not."""
    mains_V: float = 230.0
    mains_Hz: float = 50.0
    power_factor: float = 1.0
    supply_V: float | None = None
    supply_W: float | None = None
    located: str | None = None
    battery_V: float | None = None
    without_fuse: tuple[int, ...] = ()
    """Places, in the list of wires, of those that have no fuse."""
    inlet: str | None = None
    """Coupler of IEC 60320: "C14"; none for a cord that is fixed."""
    inlet_A: float | None = None
    """Its rated current, as marked, or as its coupler has in the region."""
    inlet_air_K: float | None = None
    """Air at it, if the sheet says more than where the supply stands."""
    inlet_most_K: float | None = None
    """Air that its coupler bears."""
    switch_breaks: str | None = None
    """"mains" or "dc"."""
    switch_poles: int | None = None
    switch_dc_V: float | None = None
    region: str | None = None


@dataclass(frozen=True)
class Case:
    """A design as the rules see it."""

    sheet: Sheet
    told: Safety
    chain: Electrics


Asked = Callable[[Case], Iterator[Finding]]
"""A rule that needs no solved state."""
Solved = Callable[[Case, State], Iterator[Finding]]
"""A rule on a solved state."""


def case_of(sheet: Sheet) -> Case:
    """The design of a sheet as the rules see it."""
    return Case(sheet, sheet.safety or Safety(), electrics_of(sheet.power))


def electrics_of(power: Power | None) -> Electrics:
    """The electrical side of a sheet."""
    if power is None:
        return Electrics()
    supply, battery, switch = power.supply, power.battery, power.switch
    known = Electrics(
        mains=None if supply is None and battery is None else supply is not None,
        battery_V=None if battery is None else battery.voltage.value,
        without_fuse=tuple(at for at, wire in enumerate(power.wire) if wire.fuse is None),
        region=power.region,
        **_inlet(power),
    )
    if switch is not None:
        known = replace(
            known,
            switch_breaks=switch.breaks,
            switch_poles=switch.poles,
            switch_dc_V=None if switch.dc_voltage is None else switch.dc_voltage.value,
        )
    if supply is None:
        return known
    return replace(
        known,
        mains_V=supply.mains.voltage.value,
        mains_Hz=supply.mains.frequency.value,
        power_factor=supply.mains.power_factor.value,
        supply_V=supply.voltage.value,
        supply_W=supply.rated_power.value,
        located=supply.located,
    )


def _inlet(power: Power) -> dict[str, Any]:
    """What is known of the appliance inlet; nothing where the cord is fixed."""
    given = power.inlet
    if given is None or given.coupler == "fixed cord":
        return {}
    row = inlet(given.coupler)
    rated_A = row.current_A
    if power.region == "North America" and row.north_america_A is not None:
        rated_A = row.north_america_A
    return {
        "inlet": given.coupler,
        "inlet_A": rated_A if given.current is None else given.current.value,
        "inlet_air_K": None if given.around is None else given.around.value,
        "inlet_most_K": row.ambient_K,
    }


def caution(
    case: Case,
    code: str,
    severity: Severity,
    where: str,
    given: str,
    *,
    allowed: str = "",
    why: str = "",
    action: str = "",
) -> Finding:
    """A finding with the line of its key: "<given> is not <allowed>. <why>. Try <action>."."""
    sheet = case.sheet
    return Finding(
        code, severity, where, given, allowed, why, action, sheet.line(where), sheet.file
    )
