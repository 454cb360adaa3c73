"""How loud the fans are together."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.values import Values
from coldwright.physics.sound import level_speed_change, level_sum
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Fan, Sheet


def sound_level(sheet: Sheet, values: Values) -> Any | None:
    """Sum of the fans' levels at their speeds; None if no fan states one."""
    total: Any | None = None
    cooler = sheet.cooler
    fans: list[tuple[Fan | None, Quantity]] = [
        (cooler.cold_fan, cooler.cold_fan_speed),
        (cooler.hot_fan, cooler.hot_fan_speed),
    ]
    for fan, speed in fans:
        if fan is None or fan.sound_at_1m is None:
            continue
        level = values(fan.sound_at_1m) + 10.0 * np.log10(fan.count)
        level = level + level_speed_change(values(speed), 50.0)
        total = level if total is None else level_sum(total, level)
    return total
