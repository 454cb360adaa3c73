"""How something that stood in a file is shown in a message: short, on one line, printable."""

from __future__ import annotations

from pydantic import BaseModel

from coldwright.quantities.display import printable

__all__ = ["printable", "shown"]

_LONGEST = 60


def shown(value: object) -> str:
    """A value of the file, named by its sort where it is not one short value."""
    if isinstance(value, dict | BaseModel):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list" if value else "an empty list"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, int) and value.bit_length() > 200:
        return "such a long number"
    text = printable(str(value)[:_LONGEST])
    return f"“{text}”" if isinstance(value, str) else text
