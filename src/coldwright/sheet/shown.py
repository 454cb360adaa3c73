"""How something that stood in a file is shown in a message: short, on one line, printable."""

from __future__ import annotations

from pydantic import BaseModel

_LONGEST = 60
# The thin space that stands between a number and its unit.
_SPACES = "\u2009"


def printable(text: str) -> str:
    """The text without signs that would break a line or turn its direction."""
    return "".join(sign if sign.isprintable() or sign in _SPACES else "�" for sign in text)


def shown(value: object) -> str:
    """A value of the file, named by its sort where it is not one short value."""
    if isinstance(value, dict | BaseModel):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list" if value else "an empty list"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and value.bit_length() > 200:
        return "such a long number"
    text = printable(str(value)[:_LONGEST])
    return f"“{text}”" if isinstance(value, str) else text
