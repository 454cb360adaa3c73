"""Elements of a direct-current network: how each takes current, and where its loss lands as heat.

A node is a name. Every element joins `plus` to `minus`; current counts from plus to minus through
a load, and out of plus for a source. `at` names the place where its loss ends as heat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import exp, expm1, log1p

from coldwright.physics.converter import converter_loss

# Over so many volts a diode goes from shut to open: about the slope of a junction.
_DIODE_KNEE_V = 0.025
_DIODE_LEAK_S = 1e-9


@dataclass(frozen=True, slots=True)
class LossModel:
    """Loss of a supply or converter: k0 + k1 P + k2 P^2 (`physics.converter.converter_loss`)."""

    k0_W: float = 0.0
    k1: float = 0.0
    k2_1_W: float = 0.0

    def loss(self, output_W: float) -> tuple[float, float]:
        """Loss [W] at an output, and its slope over the output."""
        here_W = float(converter_loss(max(output_W, 0.0), self.k0_W, self.k1, self.k2_1_W))
        return here_W, self.k1 + 2.0 * self.k2_1_W * max(output_W, 0.0)


@dataclass(frozen=True, slots=True)
class LossTable:
    """Loss from efficiency over the share of the rated load, straight between its points.

    The same reading of the same points as the cooler's own (`machine.power.lost`), so that both
    find one and the same power at the plug.
    """

    loads: tuple[float, ...]
    efficiencies: tuple[float, ...]
    rated_W: float

    def loss(self, output_W: float) -> tuple[float, float]:
        """Loss [W] at an output, and its slope over the output."""
        share = output_W / self.rated_W
        efficiency, slope = _straight(self.loads, self.efficiencies, share)
        per_W = 1.0 / efficiency - 1.0
        return output_W * per_W, per_W - share * slope / (efficiency * efficiency)


Loss = LossModel | LossTable


@dataclass(frozen=True, slots=True)
class Conductor:
    """A wire, fuse, contact or switch: anything that only resists. No ohms: an ideal joint."""

    name: str
    plus: str
    minus: str
    ohm: float
    at: str = "outside"

    def current(self, voltage_V: float) -> tuple[float, float]:
        """Current [A] at a voltage, and its slope [A/V]."""
        return voltage_V / self.ohm, 1.0 / self.ohm


@dataclass(frozen=True, slots=True)
class Diode:
    """Lets current pass from plus to minus only, behind its forward drop."""

    name: str
    plus: str
    minus: str
    drop_V: float
    ohm: float = 0.005
    at: str = "outside"

    def current(self, voltage_V: float, *, rounder: float = 1.0) -> tuple[float, float]:
        """Current [A] at a voltage, and its slope [A/V]: straight, with a rounded knee.

        `rounder` widens the knee, for a solver on its way.
        """
        knee_V = rounder * _DIODE_KNEE_V
        x = (voltage_V - self.drop_V) / knee_V
        rounded = x + log1p(exp(-x)) if x > 0.0 else log1p(exp(x))
        open_share = 1.0 / (1.0 + exp(-x)) if x > -700.0 else 0.0
        return (
            rounded * knee_V / self.ohm + _DIODE_LEAK_S * voltage_V,
            open_share / self.ohm + _DIODE_LEAK_S,
        )


@dataclass(frozen=True, slots=True)
class String:
    """Modules in series: they answer with the sum of Seebeck coefficient times lift, and resist."""

    name: str
    plus: str
    minus: str
    back_V: float
    ohm: float
    at: str = "modules"

    def current(self, voltage_V: float) -> tuple[float, float]:
        """Current [A] at a voltage, and its slope [A/V]."""
        return (voltage_V - self.back_V) / self.ohm, 1.0 / self.ohm


@dataclass(frozen=True, slots=True)
class Fan:
    """A two-wire fan: its current grows with a power of the voltage."""

    name: str
    plus: str
    minus: str
    rated_V: float
    rated_A: float
    exponent: float = 2.0
    start_V: float = 0.0
    at: str = "place"

    def current(self, voltage_V: float) -> tuple[float, float]:
        """Current [A] at a voltage, and its slope [A/V]; backwards it takes next to nothing."""
        leak = 1e-6 * self.rated_A / self.rated_V
        if voltage_V <= 0.0:
            return leak * voltage_V, leak
        share = voltage_V / self.rated_V
        grown_A = self.rated_A * share**self.exponent
        return grown_A + leak * voltage_V, self.exponent * grown_A / voltage_V + leak

    def starts(self, voltage_V: float) -> bool:
        """Whether it starts from rest at this voltage."""
        return voltage_V >= self.start_V


@dataclass(frozen=True, slots=True)
class Steady:
    """Lets one current pass whatever the voltage: a linear stage that holds a fan's speed."""

    name: str
    plus: str
    minus: str
    amps_A: float
    at: str = "outside"

    def current(self, voltage_V: float) -> tuple[float, float]:  # noqa: ARG002 - as the others
        """Current [A] at a voltage, and its slope [A/V]."""
        return self.amps_A, 0.0


@dataclass(frozen=True, slots=True)
class Load:
    """Takes the same power at any voltage, as everything behind a converter does.

    `leaves` holds shares of its power that do not end as heat at `at`: light, sound, work.
    """

    name: str
    plus: str
    minus: str
    power_W: float
    at: str = "place"
    leaves: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Panel:
    """A photovoltaic panel in the sun: nearly one current, until its voltage nears the open one."""

    name: str
    plus: str
    minus: str
    short_A: float
    open_V: float
    knee_V: float
    at: str = "outside"

    def current(self, voltage_V: float) -> tuple[float, float]:
        """Current [A] into plus (negative: it gives) and its slope [A/V]."""
        x = (voltage_V - self.open_V) / self.knee_V
        if x > 0.0:
            return self.short_A * x, self.short_A / self.knee_V
        return self.short_A * expm1(x), self.short_A * exp(x) / self.knee_V


@dataclass(frozen=True, slots=True)
class Charger:
    """A panel behind a charge controller: one power into plus, at any voltage above a floor.

    Below the floor it holds the current that it has there, as a controller at its limit does.
    """

    name: str
    plus: str
    minus: str
    power_W: float
    floor_V: float
    at: str = "outside"

    def current(self, voltage_V: float) -> tuple[float, float]:
        """Current [A] into plus (negative: it gives) and its slope [A/V]."""
        if voltage_V <= self.floor_V:
            return -self.power_W / self.floor_V, 0.0
        return -self.power_W / voltage_V, self.power_W / (voltage_V * voltage_V)


@dataclass(frozen=True, slots=True)
class Supply:
    """Makes one voltage from the mains, up to a limit of current."""

    name: str
    plus: str
    minus: str
    voltage_V: float
    ohm: float = 0.0
    limit_A: float | None = None
    loss: Loss = field(default_factory=LossModel)
    at: str = "outside"


@dataclass(frozen=True, slots=True)
class Battery:
    """An open-circuit voltage behind an internal resistance.

    One that `charges` may be fed: what it takes up is stored and leaves the balance.
    """

    name: str
    plus: str
    minus: str
    voltage_V: float
    ohm: float
    limit_A: float | None = None
    at: str = "outside"
    charges: bool = False


@dataclass(frozen=True, slots=True)
class Converter:
    """Makes one voltage from another: takes the power it gives and its loss at any input voltage.

    `least_V`: below this input it cannot keep its output.
    """

    name: str
    plus: str
    minus: str
    out_plus: str
    out_minus: str
    voltage_V: float
    loss: Loss = field(default_factory=LossModel)
    limit_A: float | None = None
    least_V: float = 0.0
    at: str = "outside"


Passive = Conductor | Diode | String | Fan | Panel | Charger | Steady
Source = Supply | Battery | Converter
Element = Passive | Load | Source


def _straight(xs: Sequence[float], ys: Sequence[float], x: float) -> tuple[float, float]:
    """Value and slope of a line through points, level beyond its ends."""
    if x <= xs[0]:
        return ys[0], 0.0
    for i in range(1, len(xs)):
        if x < xs[i]:
            slope = (ys[i] - ys[i - 1]) / (xs[i] - xs[i - 1])
            return ys[i - 1] + slope * (x - xs[i - 1]), slope
    return ys[-1], 0.0
