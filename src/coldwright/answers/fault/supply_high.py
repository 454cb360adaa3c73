"""The supply sticks high: a converter that fails through, a driver whose switch stays closed."""

from __future__ import annotations

import numpy as np

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start
from coldwright.machine.faults import driven
from coldwright.machine.records import Drive

# A supply without a converter behind it: its trimmer turned up, or its regulation lost
# (over-voltage protection of common supplies acts at 115 to 150 %; common practice).
TRIMMED = 1.2


def _put(start: Start) -> Broken:
    group = start.coolers["group"]
    power = start.sheet.power
    drive = int(group["drive"][0, 0])
    if drive == Drive.CHOPPED:
        return Broken(
            driven(start.coolers, 1.0, duty=1.0),
            "The switch that chops sticks closed: the whole rail reaches the modules all the time.",
        )
    volts = group["drive_value"][:, 0]
    supply = None if power is None else power.supply
    converter = None if power is None else power.converter
    through = converter is not None or drive == Drive.CURRENT
    if supply is not None and through:
        full_V = supply.voltage.value
        array_V = start.results["module_V"][:, 0] * group["series"][:, 0]
        if drive == Drive.CURRENT and full_V > array_V[0]:
            coolers = start.coolers.copy()
            coolers["group"]["drive"] = Drive.VOLTAGE
            coolers["group"]["drive_value"] = full_V
            return Broken(
                coolers,
                f"The current control fails through: the supply's full {full_V:.3g}\u2009V "
                "reach the "
                f"modules instead of {array_V[0]:.3g}\u2009V.",
            )
        if drive == Drive.VOLTAGE and full_V > 1.02 * volts[0]:
            return Broken(
                driven(start.coolers, np.asarray(full_V / volts)),
                f"The converter fails through: the supply's full {full_V:.3g}\u2009V reach "
                "the modules "
                f"instead of {volts[0]:.3g}\u2009V.",
            )
    unit = "A" if drive == Drive.CURRENT else "V"
    return Broken(
        driven(start.coolers, TRIMMED),
        f"The supply gives a fifth too much: {TRIMMED * volts[0]:.3g} {unit} instead of "
        f"{volts[0]:.3g} {unit}. The fans are taken to turn as before.",
    )


FAULT = Fault(
    "supply stuck high",
    _put,
    "Fans and controller on the same line see the same volts: a fan rated 12 V bears about "
    "13.8 V for long.",
    ("supply limit", "branch fuse", "array fuse", "cut-out"),
)
