"""How temperatures, times and amounts are written in sentences about faults."""

from __future__ import annotations

from coldwright.quantities.display import NEVER, THIN_SPACE
from coldwright.quantities.glossary import display


def degrees(kelvin: float) -> str:
    """A temperature to a degree: nobody sets a cut-out to a tenth."""
    return display("temperature", kelvin, digits=0)


def in_time(seconds: float | None) -> str:
    """A span of time to two figures; None is never."""
    if seconds is None:
        return NEVER
    if seconds < 1.0:
        return f"1{THIN_SPACE}s"
    for least, unit_s, unit in (
        (172800.0, 86400.0, "d"),
        (7200.0, 3600.0, "h"),
        (100.0, 60.0, "min"),
    ):
        if seconds >= least:
            number = seconds / unit_s
            return (
                f"{number:.0f}{THIN_SPACE}{unit}"
                if number >= 10
                else f"{number:.1f}{THIN_SPACE}{unit}"
            )
    return f"{seconds:.0f}{THIN_SPACE}s"


def litres(kilograms: float) -> str:
    """An amount of water."""
    if kilograms < 0.1:
        return f"{1e3 * kilograms:.2g}{THIN_SPACE}g"
    return f"{kilograms:.2g}{THIN_SPACE}l"
