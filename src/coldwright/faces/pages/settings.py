"""Where the knobs of a page stand, as its address says it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from coldwright.answers.knobs import Setting
from coldwright.errors import QuantityError

# Nobody sets more than this, in any unit; what the sheet allows is less and said by its limits.
_MOST = 1e6
_FASTEST = 3.0


def setting_from(given: Mapping[str, Any], now: Setting) -> Setting:
    """The setting that an address or a message asks for; what it leaves out is as in the sheet.

    Raises
    ------
    QuantityError
        When a number is none, or beyond every bound.
    """
    return Setting(
        _number(given, "drive", now.drive, _MOST),
        _number(given, "cold", now.cold_speed, _FASTEST),
        _number(given, "hot", now.hot_speed, _FASTEST),
    )


def asks(given: Mapping[str, Any]) -> bool:
    """Whether an address moves any knob at all."""
    return any(given.get(name) not in (None, "") for name in ("drive", "cold", "hot"))


def _number(given: Mapping[str, Any], name: str, otherwise: float, most: float) -> float:
    held = given.get(name)
    if held is None or held == "":
        return otherwise
    if isinstance(held, bool) or not isinstance(held, int | float | str):
        raise QuantityError(f"“{name}”", "a number")
    try:
        number = float(held)
    except (ValueError, OverflowError):
        raise QuantityError(f"“{str(held)[:20]}”", f"a number for “{name}”") from None
    if not math.isfinite(number) or not 0.0 <= number <= most:
        raise QuantityError(f"“{str(held)[:20]}”", f"between 0 and {most:g}")
    return number
