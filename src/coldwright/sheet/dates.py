"""Days, months and the clock: how the sheet says when something happens, and where noon is."""

from __future__ import annotations

import datetime
import re
from typing import Annotated
from zoneinfo import ZoneInfo

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from coldwright.sheet.shown import shown

ANY_YEAR = 2025
"""Year of a day that is given without one: no leap year, so that every file has its days."""
MID_MONTH_DAY = 21
"""Day that stands for its month, as in the handbook's clear-sky tables (July 21)."""

_NAMES = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip


def day_of_month(month: int) -> datetime.date:
    """The day that stands for a month, 1 to 12."""
    return datetime.date(ANY_YEAR, month, MID_MONTH_DAY)


def zone_offset_s(zone: str, day: datetime.date) -> float:
    """Seconds by which the clock of a time zone is ahead of UTC at noon of a day."""
    noon = datetime.datetime.combine(day, datetime.time(12), tzinfo=ZoneInfo(zone))
    offset = noon.utcoffset()
    return 0.0 if offset is None else offset.total_seconds()


def _day(value: object) -> object:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    found = _DAY.fullmatch(value.strip()) if isinstance(value, str) else None
    try:
        if found is not None:
            return datetime.date(int(found[1] or ANY_YEAR), int(found[2]), int(found[3]))
    except ValueError:
        pass
    raise PydanticCustomError(
        "clock", "{given} is not a day such as 2025-07-21, or “07-21” without a year",
        {"given": _shown(value)},
    )  # fmt: skip


def _month(value: object) -> object:
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 12:
        return value
    if isinstance(value, str):
        word = value.strip().casefold()
        fits = [number for number, name in enumerate(_NAMES, 1) if name.startswith(word)]
        if len(word) >= 3 and len(fits) == 1:
            return fits[0]
    raise PydanticCustomError(
        "clock", "{given} is not a month, 1 to 12 or a name such as “July”",
        {"given": _shown(value)},
    )  # fmt: skip


def _utc_offset_s(value: object) -> object:
    hours = None
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= 14.0:
        hours = float(value)
    elif isinstance(value, str):
        found = _OFFSET.fullmatch(value.strip())
        if found is not None:
            size = float(found[2].replace(",", ".")) + float(found[3] or 0.0) / 60.0
            hours = -size if found[1] in ("-", "−") else size
    if hours is None or abs(hours) > 14.0:
        raise PydanticCustomError(
            "clock", "{given} is not an offset from UTC such as “+2 h” or “-05:30”",
            {"given": _shown(value)},
        )  # fmt: skip
    return hours * 3600.0


def _time_zone(value: str) -> str:
    try:
        ZoneInfo(value)
    except (KeyError, ValueError, OSError):
        # A name of the data base, or no data base on this machine: the same way out.
        raise PydanticCustomError(
            "clock",
            "{given} is not a known time zone such as “Europe/Berlin”; or say utc_offset",
            {"given": _shown(value)},
        ) from None
    return value


def _shown(value: object) -> str:
    # The message is split at " is not ", which no value may bring along.
    return shown(value).replace(" is not ", " ")


_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{1,2})-([0-9]{1,2})", re.ASCII)
_OFFSET = re.compile(
    r"(?:UTC|GMT)?\s*([-+−]?)\s*([0-9]{1,2}(?:[.,][0-9]{1,2})?)(?::([0-5][0-9]))?\s*(?:h|hours?)?",
    re.ASCII | re.IGNORECASE,
)

Day = Annotated[
    datetime.date,
    BeforeValidator(_day),
    WithJsonSchema(
        {"type": "string", "pattern": r"^(\d{4}-)?\d{1,2}-\d{1,2}$", "examples": ["07-21"]}
    ),
]
"""A day: a TOML date, or "07-21" without a year."""
Month = Annotated[
    int,
    BeforeValidator(_month),
    WithJsonSchema({"type": ["integer", "string"], "examples": [7, "July"]}),
]
"""A month, 7 or "July"."""
UtcOffset = Annotated[
    float,
    BeforeValidator(_utc_offset_s),
    WithJsonSchema({"type": ["string", "number"], "examples": ["+2 h", "-05:30", 1]}),
]
"""How far the clock is ahead of UTC, written "+2 h"; held as seconds."""
TimeZone = Annotated[
    str,
    AfterValidator(_time_zone),
    WithJsonSchema({"type": "string", "examples": ["Europe/Berlin"]}),
]
"""Name of a time zone; its summer time is followed."""
