"""Supply, converter, mains and fans: how loaded each is, what it loses, what a start takes."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from coldwright.answers.design import Design, Point
from coldwright.answers.wiring_states import States, air_at
from coldwright.machine.assemble_network import AT, Moment
from coldwright.machine.network_elements import Converter, Supply
from coldwright.machine.records import End
from coldwright.physics.converter import (
    apparent_power,
    line_current,
    loss_coefficients,
    peak_efficiency,
    peak_load,
)
from coldwright.physics.supply import (
    capacitor_energy,
    charging_time_constant,
    derated_power_line,
    inrush_peak_current,
)
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Converter as SheetConverter
from coldwright.sheet.models import Efficiency, Sheet
from coldwright.sheet.models import Supply as SheetSupply

# Mains may come this much higher: EN 50160, 230 V +10 %.
_HIGH_MAINS = 1.10
# A brushless fan takes so many times its current for some seconds until it turns: common practice,
# no published figure. The last, with a stopped rotor and no limiter inside, is the bound of fan
# makers' application notes (4 or 5 times).
START_RATIOS = (1.5, 3.0, 5.0)
# Drives behind which a fan starts with the full voltage of the source.
_STARTS_IN_FULL = ("direct", "pwm4", "chopped")


@dataclass(frozen=True)
class Loading:
    """A supply or converter: its load against what it may give, and its loss."""

    name: str
    located: str
    voltage_V: float
    output_W: float
    switch_on_W: float | None
    reversed_W: float | None
    rated_W: float | None
    allowed_W: float | None
    """Rated power, less what the air where it stands costs."""
    air_K: float
    loss_W: float
    efficiency: float
    idle_W: float | None
    """Loss with nothing connected, by the fit k0 + k1 P + k2 P^2 through three points or more."""
    best_share: float | None
    """Share of the rated power at which it is most efficient, by the same fit."""
    best_efficiency: float | None
    coefficients: tuple[float, float, float] | None
    """k0 [W], k1, k2 [1/W]."""

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return asdict(self)


@dataclass(frozen=True)
class MainsSide:
    """What the plug, its fuse and the switch see."""

    voltage_V: float
    real_W: float
    power_factor: float
    apparent_VA: float
    line_A: float
    inrush_A: float | None
    restart_A: float | None
    """Peak when it is switched on again while its limiter is still hot."""
    inrush_J: float | None
    inrush_s: float | None
    """Time constant of the charging."""

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return asdict(self)


@dataclass(frozen=True)
class FanFeed:
    """A fan with what sets its speed."""

    name: str
    drive: str
    voltage_V: float
    current_A: float
    power_W: float
    drive_W: float
    """What its drive loses."""
    start_V: float | None
    start_A: tuple[float, float, float]
    """What it takes from the source for some seconds at its start: 1.5 and 3 times its full current
    by common practice, 5 times with a stopped rotor and no limiter."""

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return asdict(self)


def loadings(design: Design, point: Point, states: States) -> list[Loading]:
    """The supply and the converters, the source first."""
    power = design.sheet.power
    result = point.results[0]
    found = []
    for each in states.chain.elements:
        if not isinstance(each, Supply | Converter):
            continue
        sheet_part: SheetSupply | SheetConverter | None = None
        if power is not None and each.name == "supply":
            sheet_part = power.supply
        elif power is not None and each.name.startswith("converter"):
            sheet_part = power.converter
        elif isinstance(each, Supply):
            continue
        name = each.name
        output_W = states.running.current_A[name] * each.voltage_V
        loss_W = states.running.heat_of(name)
        rated_W = None
        if sheet_part is not None and sheet_part.rated_power is not None:
            rated_W = sheet_part.rated_power.value * getattr(sheet_part, "count", 1)
        air_K = air_at(each.at, design, result)
        allowed_W = rated_W
        derating = getattr(sheet_part, "derating", None)
        if derating is not None and rated_W is not None:
            air_K = air_K if derating.air is None else derating.air.value
            allowed_W = float(
                derated_power_line(
                    rated_W, air_K, derating.full_to.value, derating.end.value,
                    derating.share_at_end.value,
                )
            )  # fmt: skip
        fit = None if sheet_part is None else _fit(sheet_part.efficiency, rated_W)
        sound = fit is not None and fit[0] > 0.0 and fit[2] > 0.0 and rated_W is not None
        found.append(
            Loading(
                name=name,
                located=each.at,
                voltage_V=each.voltage_V,
                output_W=output_W,
                switch_on_W=_output(states, Moment.SWITCH_ON, name, each.voltage_V),
                reversed_W=_output(states, Moment.REVERSED, name, each.voltage_V),
                rated_W=rated_W,
                allowed_W=allowed_W,
                air_K=air_K,
                loss_W=loss_W,
                efficiency=output_W / (output_W + loss_W) if output_W + loss_W > 0.0 else 1.0,
                idle_W=fit[0] if fit is not None and sound else None,
                best_share=float(peak_load(fit[0], fit[2])) / rated_W
                if fit is not None and sound and rated_W
                else None,
                best_efficiency=float(peak_efficiency(*fit)) if fit is not None and sound else None,
                coefficients=fit,
            )
        )
    return found


def mains_side(sheet: Sheet, plug_W: float) -> MainsSide | None:
    """What the mains carries; None without a supply."""
    supply = sheet.power.supply if sheet.power is not None else None
    if supply is None:
        return None
    volts, factor = supply.mains.voltage.value, supply.mains.power_factor.value
    apparent_VA = float(apparent_power(plug_W, factor))
    peak = again = energy = constant = None
    inrush = supply.inrush
    if inrush is not None:
        limiter, line = inrush.limiter.value, inrush.line.value
        high_V = _HIGH_MAINS * volts
        if inrush.peak is not None:
            peak = inrush.peak.value
        elif inrush.capacitance is not None:
            peak = float(inrush_peak_current(high_V, 0.0, limiter + line))
            again = float(inrush_peak_current(high_V, 0.0, line))
            energy = float(capacitor_energy(inrush.capacitance.value, high_V * 2.0**0.5))
            constant = float(charging_time_constant(limiter + line, inrush.capacitance.value))
    return MainsSide(
        volts, plug_W, factor, apparent_VA, float(line_current(apparent_VA, volts)), peak, again,
        energy, constant,
    )  # fmt: skip


def fan_feeds(design: Design, states: States) -> list[FanFeed]:
    """Both fans."""
    found = []
    for side in ("cold", "hot"):
        name = f"{side} fan"
        if name not in states.running.across_V:
            continue
        fan = getattr(design.sheet.cooler, f"{side}_fan")
        drive = fan.drive
        own = [f"{name} converter", f"{name} stage"]
        found.append(
            FanFeed(
                name,
                "direct" if drive is None else drive.kind,
                states.running.across_V[name],
                states.running.current_A[name],
                states.running.heat_of(name),
                sum(states.running.heat_of(one) for one in own),
                None if drive is None or drive.start_voltage is None else drive.start_voltage.value,
                _start_A(design, states, side),
            )
        )
    return found


def _start_A(design: Design, states: States, side: str) -> tuple[float, float, float]:
    """Current from the source while a fan starts [A], by each of `START_RATIOS`.

    A standing rotor makes no voltage of its own: the current goes with the voltage that it gets.
    """
    fan = getattr(design.sheet.cooler, f"{side}_fan")
    kind = "direct" if fan.drive is None else fan.drive.kind
    bus_V = states.running.voltage_V["bus"]
    rated_V = bus_V if fan.voltage is None else fan.voltage.value
    if fan.power is not None:
        full_A = fan.power.value * fan.count / rated_V
    elif fan.current is not None:
        full_A = fan.current.value * fan.count
    else:
        full_A = states.running.current_A[f"{side} fan"]
    gets_V = bus_V
    if kind not in _STARTS_IN_FULL:
        gets_V = rated_V * float(design.cooler[f"{side}_fan"]["speed"][0])
    # A stage in series passes the fan's own current; a converter less of it at the higher voltage.
    from_source = 1.0 if kind in (*_STARTS_IN_FULL, "linear") else gets_V / bus_V
    low, high, most = (ratio * full_A * gets_V / rated_V * from_source for ratio in START_RATIOS)
    return low, high, most


def wires_located(design: Design) -> str:
    """Where wires, fuses, switch and drives lose their heat."""
    return AT[End(int(design.cooler["power"]["lead_at"][0]))]


def _output(states: States, moment: Moment, name: str, volts: float) -> float | None:
    found = states.solved.get(moment)
    if found is None or name not in found.current_A:
        return None
    return found.current_A[name] * volts


def _fit(efficiency: Efficiency, rated_W: float | None) -> tuple[float, float, float] | None:
    """k0, k1, k2 through the sheet's points; None for fewer than three."""
    if isinstance(efficiency, Quantity) or rated_W is None or len(efficiency) < 3:
        return None
    loads = [load.value * rated_W for load, _ in efficiency if load.value > 0.0]
    shares = [share.value for load, share in efficiency if load.value > 0.0]
    return loss_coefficients(loads, shares) if len(loads) >= 3 else None
