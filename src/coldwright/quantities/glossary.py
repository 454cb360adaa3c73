"""The one list of quantities: names, symbols, units, spans, default tolerances.

Two groups share it. *Kinds* (`kinds.py`) are what fields of the design sheet hold; *results*
(`results.py`) carry the names that ``--json`` prints. Documentation, forms, plot axes and
messages all read the same entry.
"""

from __future__ import annotations

from coldwright.errors import QuantityError
from coldwright.quantities.display import shown
from coldwright.quantities.entries import Entry
from coldwright.quantities.kinds import KINDS
from coldwright.quantities.results import RESULTS

__all__ = ["GLOSSARY", "KINDS", "RESULTS", "Entry", "display", "entry"]

GLOSSARY: dict[str, Entry] = KINDS | RESULTS
"""Name -> entry, kinds first."""


def entry(name: str) -> Entry:
    """Entry of a kind or a result; raises `QuantityError` that offers the nearest names."""
    found = GLOSSARY.get(name)
    if found is None:
        from difflib import get_close_matches

        nearest = get_close_matches(str(name), GLOSSARY, n=3)
        raise QuantityError(
            f"“{name}”",
            "a name in the glossary",
            action=" or ".join(f"“{near}”" for near in nearest),
        )
    return found


def display(name: str, value_SI: float | None, *, digits: int | None = None) -> str:
    """Write a value for people: "34.1 °C", "0.35 K/W", "not known", "never".

    Parameters
    ----------
    name : str
        A kind or a result of the glossary.
    value_SI : float or None
        The value in SI (kelvin for a temperature). None and NaN are "not known"; +inf is
        "never" for a time and "∞" otherwise.
    digits : int, optional
        Digits after the decimal point; without it as many as make three figures, and one for
        temperatures.

    Returns
    -------
    str
        Number and unit, with a thin space (U+2009) between them and a true minus sign.
    """
    return shown(entry(name), value_SI, digits)
