"""What can be said of supply, wires and drives without physics: gaps and contradictions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import get_args

from coldwright.findings import Finding
from coldwright.sheet.models import Fan, Sheet
from coldwright.sheet.models_wiring import Feeds
from coldwright.sheet.remarks import remark

Rule = Callable[[Sheet], Iterator[Finding]]
FEEDS: tuple[str, ...] = get_args(Feeds)
# Four-wire fan specification: the signal's frequency [Hz].
PWM_LOWEST_HZ, PWM_HIGHEST_HZ = 21e3, 28e3


def sided_fans(sheet: Sheet) -> Iterator[tuple[str, Fan]]:
    """The fans that there are, with their key below `cooler`."""
    for name in ("cold_fan", "hot_fan"):
        fan: Fan | None = getattr(sheet.cooler, name)
        if fan is not None:
            yield name, fan


def _wires_feed_something(sheet: Sheet) -> Iterator[Finding]:
    wires = sheet.power.wire if sheet.power is not None else ()
    has_converter = sheet.power is not None and sheet.power.converter is not None
    for number, wire in enumerate(wires):
        where = f"power.wire[{number}].name"
        if wire.target not in FEEDS:
            yield remark(
                "CW-WIRE-01", "warning", where, f"“{wire.name}”",
                "one of " + ", ".join(f"“{name}”" for name in FEEDS),
                why="Nothing says what the wire feeds, so no current is counted in it",
                action='feeds = "hot fan"',
            )  # fmt: skip
        elif wire.target == "converter" and not has_converter:
            yield remark(
                "CW-WIRE-01", "warning", where, f"“{wire.name}”", "a part that is there",
                why="The sheet has no converter", action='feeds = "modules"',
            )  # fmt: skip
        if not 0.0 <= wire.in_foam.value <= wire.length.value:
            yield remark(
                "CW-WIRE-02", "warning", f"power.wire[{number}].in_foam",
                f"“{wire.in_foam.text}”", f"at most the wire's own length, “{wire.length.text}”",
                why="The length counts one way",
            )  # fmt: skip
    for target, times in Counter(wire.target for wire in wires).items():
        if times > 1 and target in FEEDS:
            last = max(at for at, one in enumerate(wires) if one.target == target)
            yield remark(
                "CW-WIRE-03", "warning", f"power.wire[{last}].name",
                f"a second wire to the {target}",
                "counted", why="Each part has one run; the last one is taken",
                action="one run with the larger size",
            )  # fmt: skip


def _derating_falls(sheet: Sheet) -> Iterator[Finding]:
    supply = sheet.power.supply if sheet.power is not None else None
    if supply is None or supply.derating is None:
        return
    derating = supply.derating
    if derating.end.value <= derating.full_to.value:
        yield remark(
            "CW-POWER-05", "stop", derating.end.path, f"“{derating.end.text}”",
            f"warmer than full_to, “{derating.full_to.text}”",
        )  # fmt: skip


def _drives(sheet: Sheet) -> Iterator[Finding]:
    bus = sheet.power.supply if sheet.power is not None else None
    for name, fan in sided_fans(sheet):
        where = f"cooler.{name}"
        speed = getattr(sheet.cooler, f"{name}_speed").value
        drive = fan.drive
        kind = "direct" if drive is None else drive.kind
        if bus is not None and fan.voltage is not None and kind in ("direct", "pwm4", "chopped"):
            ratio = bus.voltage.value / fan.voltage.value
            if not 0.85 <= ratio <= 1.15:
                yield remark(
                    "CW-DRIVE-01", "warning", f"{where}.voltage",
                    f"A fan of {fan.voltage.text} on a supply of {bus.voltage.text}",
                    "within 15 % of its rated voltage",
                    why="Too much destroys its electronics, too little does not start it",
                    action='drive = { kind = "converter", efficiency = 0.9 }',
                )  # fmt: skip
        if drive is None:
            continue
        if kind == "direct" and abs(speed - 1.0) > 0.02:
            yield remark(
                "CW-DRIVE-02", "warning", f"{where}.drive",
                f"a speed of {speed:.2f} on the full voltage", "possible for a plain fan",
                why="Nothing sets its speed", action='drive = { kind = "pwm4" } or “voltage”',
            )  # fmt: skip
        if kind == "chopped":
            yield remark(
                "CW-DRIVE-03", "warning", f"{where}.drive", "a chopped supply",
                "sure to set a speed",
                why="The electronics of many two-wire fans restart at each pulse: the fan jumps to "
                "full speed or stops instead of following",
                action="a lower voltage, or a fan with four wires",
            )  # fmt: skip
        if kind == "pwm4" and drive.frequency is not None:
            hertz = drive.frequency.value
            if not PWM_LOWEST_HZ <= hertz <= PWM_HIGHEST_HZ:
                yield remark(
                    "CW-DRIVE-04", "warning", f"{where}.drive.frequency",
                    f"“{drive.frequency.text}”", "within 21 to 28 kHz",
                    why="The open specification of four-wire fans asks for 25 kHz",
                    action='"25 kHz"',
                )  # fmt: skip


RULES: tuple[Rule, ...] = (_wires_feed_something, _derating_falls, _drives)
