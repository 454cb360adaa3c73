"""What stands in a weather file: which format it is, its header, and its rows with their lines.

Every row is looked at before pvlib reads the whole, so that a fault can be named with its line.
"""

from __future__ import annotations

import csv
import datetime
import os
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from coldwright.errors import ReadingError
from coldwright.readings import pvlib_calls

Floats = NDArray[np.float64]
SIZE_LIMIT = 8_000_000
"""Bytes; a year of hours has 1 to 2 million."""
COLUMNS = ("air", "dew_point", "humidity", "pressure", "wind", "global", "beam", "diffuse")


@dataclass(frozen=True)
class RawTable:
    """A weather file as it stands: rows in its own order, missing values as NaN.

    ``columns``: air and dew_point [°C], humidity [%], pressure [Pa], wind [m/s], global, beam,
    diffuse [W/m²]. ``hour``: hour of the year that each row ends, less one, from 0. ``line``: where
    each row stands.
    """

    kind: str
    name: str
    latitude_deg: float
    longitude_deg: float
    utc_offset_h: float
    altitude_m: float
    leap: bool
    hour: NDArray[np.int_]
    line: NDArray[np.int_]
    columns: dict[str, Floats]


def text_of(file: Path) -> str:
    """The text of a file, which must be an ordinary one of sensible size."""
    try:
        handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except FileNotFoundError:
        raise ReadingError("There is no such file.") from None
    except (OSError, ValueError):
        raise ReadingError("The file cannot be opened.") from None
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise ReadingError("It is no ordinary file.")
    with os.fdopen(handle, "rb") as opened:
        held = opened.read(SIZE_LIMIT + 1)
    if len(held) > SIZE_LIMIT:
        raise ReadingError(
            f"The file is larger than {SIZE_LIMIT / 1e6:.0f} MB; a year of hours has 1 to 2 MB."
        )
    if b"\x00" in held:
        raise ReadingError("The file is no text.", line=held.count(b"\n", 0, held.index(b"\0")) + 1)
    try:
        return held.decode("utf-8-sig")
    except UnicodeDecodeError:
        return held.decode("latin-1")  # names of places in older files


def table_of(text: str) -> RawTable:
    """Read a text in whichever of the three formats it is."""
    lines = [line.rstrip() for line in re.split(r"\r\n|\n|\r", text)]
    while lines and not lines[-1]:
        lines.pop()
    first = lines[0].lstrip().upper() if lines else ""
    if not first:
        raise ReadingError("The file is empty." if not lines else _UNKNOWN, line=1)
    if first.startswith("LOCATION"):
        return _epw(lines)
    if len(lines) > 1 and lines[1].lstrip('" ').upper().startswith("DATE (MM/DD/YYYY)"):
        return _tmy3(lines)
    if _TMY2_HEADER.match(lines[0]):
        return _tmy2(lines)
    raise ReadingError(_UNKNOWN, line=1)


_UNKNOWN = (
    "The file is no weather file of a known format: EPW begins with LOCATION, TMY3 has its column "
    "names in line 2, TMY2 begins with the station's number and place."
)
_MOST_ROWS = 8784


def _epw(lines: list[str]) -> RawTable:
    head = _fields(lines[0])
    if len(head) < 10:
        raise ReadingError("LOCATION needs ten entries, up to the altitude.", line=1)
    place = _placed(head[6], head[7], head[8], head[9])
    if len(lines) < 9:
        raise ReadingError("The file ends within its header of 8 lines.", line=len(lines))
    periods = _fields(lines[7])
    if len(periods) > 2 and periods[0].upper() == "DATA PERIODS" and periods[2] not in ("1", ""):
        raise ReadingError(f"It has {periods[2][:10]} values an hour; one is read.", line=8)
    rows, days = [], []
    for number, line in _filled(lines, 8):
        fields = [field.replace('"', "").strip() for field in line.split(",")][:35]
        if len(fields) < 22:
            raise ReadingError(f"The row has {len(fields)} entries; 35 make an hour.", line=number)
        month, day, hour = (_whole(fields[at], number) for at in (1, 2, 3))
        if not 1 <= hour <= 24:
            raise ReadingError(f"Hour {hour:.4g} is not 1 to 24.", line=number)
        days.append((number, month, day, hour))
        for at in _EPW_NUMBERS:
            fields[at] = _number(fields[at], number)
        # What no other column needs is left out, so that no oddity in it can disturb.
        rows.append(
            ",".join(
                ["2000", str(month), str(day), str(hour), "0", "x", *fields[6:22], *["0"] * 13]
            )
        )
    leap = any((month, day) == (2, 29) for _, month, day, _ in days)
    year = 2024 if leap else 2025
    hours = np.array([_hour_of_year(year, *one) for one in days])
    clean = ",".join(["LOCATION", "x", "x", "x", "x", "0", *map(repr, place[:2])])
    clean += f",{place[2]!r},{place[3]!r}"
    text = "\n".join([clean, *["x"] * 7, *rows]) + "\n"
    table, _ = pvlib_calls.epw_table(text, year)
    stamps = np.asarray((table.index.day_of_year - 1) * 24 + table.index.hour)
    if not np.array_equal(stamps, hours):
        raise ReadingError("The hours of the file cannot be followed.")
    names = ("temp_air", "temp_dew", "relative_humidity", "atmospheric_pressure", "wind_speed",
             "ghi", "dni", "dhi")  # fmt: skip
    missing = (99.9, 99.9, 999.0, 999999.0, 999.0, 9999.0, 9999.0, 9999.0)
    columns = {
        ours: _without(pvlib_calls.column(table, name), code)
        for ours, name, code in zip(COLUMNS, names, missing, strict=True)
    }
    return RawTable("EPW", head[1], *place, leap, hours, _lines_of(days), columns)


# Columns from 0 that hold numbers: air, dew point, humidity, pressure, sun, wind among them.
_EPW_NUMBERS = (6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21)


def _tmy3(lines: list[str]) -> RawTable:
    head = _fields(lines[0])
    if len(head) < 7:
        raise ReadingError("Line 1 needs seven entries, up to the altitude.", line=1)
    place = _placed(head[4], head[5], head[3], head[6])
    names = _fields(lines[1])
    at = {}
    for ours, theirs in zip(("date", "time", *COLUMNS), _TMY3_NAMES, strict=True):
        if theirs not in names:
            raise ReadingError(f"The column “{theirs}” is missing.", line=2)
        at[ours] = names.index(theirs)
    rows, days, years = [], [], []
    for number, line in _filled(lines, 2):
        fields = [field.replace('"', "").strip() for field in line.split(",")]
        if len(fields) < len(names):
            raise ReadingError(
                f"The row has {len(fields)} entries; the header has {len(names)}.", line=number
            )
        date, clock = fields[at["date"]], fields[at["time"]]
        found = _TMY3_TIME.fullmatch(f"{date} {clock}")
        if found is None:
            raise ReadingError(
                f"“{date[:12]} {clock[:6]}” is not a time such as 07/21/1998 15:00.", line=number
            )
        month, day, year, hour = (int(found[group]) for group in (1, 2, 3, 4))
        if hour > 24:
            raise ReadingError(f"Hour {hour:.4g} is not 1 to 24.", line=number)
        days.append((number, month, day, hour))
        years.append(year)
        numbers = [_number(fields[at[ours]], number) for ours in COLUMNS]
        rows.append(",".join([date, clock, *numbers]))
    leap = any((month, day) == (2, 29) for _, month, day, _ in days)
    # 00:00 ends the last hour of the day before; most files write it as 24:00.
    hours = np.array([_hour_of_year(2024 if leap else 2025, *one) for one in days])
    hours %= 8784 if leap else 8760
    for (number, month, day, _), year in zip(days, years, strict=True):
        _hour_of_year(year, number, month, day, 1)  # its own year must have that day
    clean = f"0,x,x,{place[2]!r},{place[0]!r},{place[1]!r},{place[3]!r}"
    text = "\n".join([clean, ",".join(_TMY3_NAMES), *rows]) + "\n"
    table, _ = pvlib_calls.tmy3_table(text)
    mapped = ("temp_air", "temp_dew", "relative_humidity", "pressure", "wind_speed", "ghi", "dni",
              "dhi")  # fmt: skip
    columns = {
        ours: _without(pvlib_calls.column(table, name), np.inf)
        for ours, name in zip(COLUMNS, mapped, strict=True)
    }
    columns["pressure"] = columns["pressure"] * 100.0
    return RawTable("TMY3", head[1], *place, leap, hours, _lines_of(days), columns)


_TMY3_NAMES = (
    "Date (MM/DD/YYYY)", "Time (HH:MM)", "Dry-bulb (C)", "Dew-point (C)", "RHum (%)",
    "Pressure (mbar)", "Wspd (m/s)", "GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)",
)  # fmt: skip
_TMY3_TIME = re.compile(r"(\d\d)/(\d\d)/(\d{4}) (\d\d):00", re.ASCII)


def _tmy2(lines: list[str]) -> RawTable:
    found = _TMY2_HEADER.match(lines[0])
    assert found is not None
    sides = ((found[4], found[5], found[6], "N"), (found[7], found[8], found[9], "E"))
    latitude, longitude = (
        (int(degrees) + int(minutes) / 60.0) * (1.0 if side == plus else -1.0)
        for side, degrees, minutes, plus in sides
    )
    place = _placed(repr(latitude), repr(longitude), found[3], found[10])
    rows, days = [], []
    for number, line in _filled(lines, 1):
        if len(line) < _TMY2_LENGTH or not line.isascii():
            raise ReadingError(
                f"The row has {len(line)} signs; {_TMY2_LENGTH} make an hour.", line=number
            )
        month, day, hour = (_whole(line[at : at + 2], number) for at in (3, 5, 7))
        if not 1 <= hour <= 24:
            raise ReadingError(f"Hour {hour:.4g} is not 1 to 24.", line=number)
        for start, end in _TMY2_NUMBERS:
            _number(line[start:end], number)
        days.append((number, month, day, hour))
        rows.append(line[:_TMY2_LENGTH])
    leap = any((month, day) == (2, 29) for _, month, day, _ in days)
    hours = np.array([_hour_of_year(2024 if leap else 2025, *one) for one in days])
    head = f" 00000 X X {place[2]:.0f} N 0 0 E 0 0 0"
    # One year for all rows: pvlib takes the first row's for them.
    year = "96" if leap else "95"
    table, _ = pvlib_calls.tmy2_table("\n".join([head, *(f" {year}{row[3:]}" for row in rows)]))
    names = ("DryBulb", "DewPoint", "RHum", "Pressure", "Wspd", "GHI", "DNI", "DHI")
    scales = (0.1, 0.1, 1.0, 100.0, 0.1, 1.0, 1.0, 1.0)
    missing = (9999.0, 9999.0, 999.0, 9999.0, 999.0, 9999.0, 9999.0, 9999.0)
    columns = {
        ours: _without(pvlib_calls.column(table, name), code) * scale
        for ours, name, scale, code in zip(COLUMNS, names, scales, missing, strict=True)
    }
    name = " ".join((found[2] or "").split())
    return RawTable("TMY2", name, *place, leap, hours, _lines_of(days), columns)


_TMY2_HEADER = re.compile(
    r"\s*(\d{5})\s+(\S.{0,40}?)\s+(-?\d{1,2})\s+([NS])\s+(\d{1,2})\s+(\d{1,2})\s+([EW])\s+"
    r"(\d{1,3})\s+(\d{1,2})\s+(-?\d{1,4})\s*\Z",
    re.ASCII,
)
_TMY2_LENGTH = 142
# Where global, beam, diffuse, air, dew point, humidity, pressure and wind stand in a row.
_TMY2_NUMBERS = ((17, 21), (23, 27), (29, 33), (67, 71), (73, 77), (79, 82), (84, 88), (95, 98))


def _filled(lines: list[str], start: int) -> Iterator[tuple[int, str]]:
    """Rows that hold something, with their line numbers from 1."""
    count = 0
    for number, line in enumerate(lines[start:], start + 1):
        if line.strip():
            count += 1
            if count > _MOST_ROWS:
                raise ReadingError("The file holds more hours than a year has.", line=number)
            yield number, line
    if count == 0:
        raise ReadingError("The file has a header but no hours.", line=len(lines))


def _fields(line: str) -> list[str]:
    try:
        row: list[str] = next(csv.reader([line]), [])
    except csv.Error:
        row = line.split(",")
    return [field.strip() for field in row]


def _placed(
    latitude: str, longitude: str, offset: str, altitude: str
) -> tuple[float, float, float, float]:
    found = []
    for text, called, low, high in (
        (latitude, "latitude", -90.0, 90.0),
        (longitude, "longitude", -180.0, 180.0),
        (offset, "time zone", -14.0, 14.0),
        (altitude, "altitude", -500.0, 9000.0),
    ):
        try:
            value = float(text)
        except ValueError:
            value = np.nan
        if not low <= value <= high:
            raise ReadingError(
                f"“{text[:20]}” is not a {called} between {low:g} and {high:g}.", line=1
            )
        found.append(value)
    return found[0], found[1], found[2], found[3]


def _whole(text: str, line: int) -> int:
    try:
        value = float(text)
        if value == int(value):
            return int(value)
    except (ValueError, OverflowError):
        pass
    raise ReadingError(f"“{text[:20]}” is not a whole number.", line=line)


def _number(text: str, line: int) -> str:
    """The text of a number, or nothing for an empty place; anything else is refused."""
    stripped = text.strip()
    if not stripped:
        return ""
    try:
        value = float(stripped)
    except ValueError:
        raise ReadingError(f"“{stripped[:20]}” is not a number.", line=line) from None
    return repr(value) if np.isfinite(value) else ""


def _hour_of_year(year: int, line: int, month: int, day: int, hour: int) -> int:
    try:
        number = datetime.date(year, month, day).timetuple().tm_yday
    except (ValueError, OverflowError):
        said = f"Month {month:.4g}, day {day:.4g} is no day of the year."
        raise ReadingError(said, line=line) from None
    return (number - 1) * 24 + hour - 1


def _lines_of(days: list[tuple[int, int, int, int]]) -> NDArray[np.int_]:
    return np.array([line for line, _, _, _ in days])


def _without(values: Floats, code: float) -> Floats:
    """The values with those that mean "missing" as NaN: a format's code, or TMY3's -9900."""
    with np.errstate(invalid="ignore"):
        gone = (values >= code - 1e-6) | (values <= -9000.0)
    return np.where(gone, np.nan, values)
