"""From the rows of a weather file to hours without gaps, and what is doubtful about them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldwright.errors import ReadingError
from coldwright.findings import Finding, Severity, worst_first
from coldwright.physics.air_state import standard_pressure
from coldwright.physics.saturation import saturation_pressure, saturation_temperature
from coldwright.readings import pvlib_calls
from coldwright.readings.weather import COMMON_YEAR, HOUR_S, LEAP_YEAR, Weather, ends_s
from coldwright.readings.weather_text import COLUMNS, RawTable

Floats = NDArray[np.float64]

SHORT_GAP_H = 3
"""Gaps up to this long are filled by a straight line."""
LONGEST_GAP_H = 72
"""Gaps beyond this are filled too, but nothing may be answered from them."""
# What weather can be, in the raw table's units. Air: the records are -89 and +57 °C. Sun: no hour
# beats the beam outside the atmosphere; global on the level can, below broken clouds.
_POSSIBLE = {
    "air": (-90.0, 60.0), "dew_point": (-100.0, 40.0), "humidity": (0.0, 110.0),
    "pressure": (40_000.0, 110_000.0), "wind": (0.0, 80.0), "global": (-10.0, 1500.0),
    "beam": (-10.0, 1400.0), "diffuse": (-10.0, 1000.0),
}  # fmt: skip
_CALLED = {
    "air": "air temperature", "dew_point": "dew point", "humidity": "relative humidity",
    "pressure": "pressure", "wind": "wind", "global": "global sun", "beam": "beam sun",
    "diffuse": "diffuse sun",
}  # fmt: skip
_ZERO_C_K = 273.15
_USUAL_WIND_M_S = 2.0
# The dew point and the air are measured apart: this much above the air is no error yet.
_DEW_SLACK_K = 1.0


class _Doubts:
    """Collects findings about one file."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.found: list[Finding] = []

    def add(
        self, code: str, severity: Severity, given: str, *, line: int | None = None, why: str = "",
        action: str = "",
    ) -> None:  # fmt: skip
        self.found.append(
            Finding(code, severity, "climate.file", given, "", why, action, line, self.file)
        )


def mended(raw: RawTable, file: str) -> Weather:
    """Hours in order, without gaps, in SI; the findings say what was done and what is doubtful."""
    doubts = _Doubts(file)
    raw = _in_order(raw, doubts)
    _drop_impossible(raw, doubts)
    grid = _Grid.of(raw, doubts)
    columns = {name: grid.spread(values) for name, values in raw.columns.items()}
    position = _position(raw, grid)
    _derive_moisture(columns, doubts)
    _derive_sun(columns, position, doubts)
    _derive_rest(columns, raw, doubts)
    filled = _fill_gaps(columns, grid, doubts)
    for name in ("global", "beam", "diffuse"):
        columns[name] = np.maximum(columns[name], 0.0)
    _sun_at_its_hours(columns["global"], raw, grid, doubts)
    air_K = columns["air"] + _ZERO_C_K
    return Weather(
        name=raw.name, kind=raw.kind, file=file, latitude_rad=float(np.radians(raw.latitude_deg)),
        longitude_rad=float(np.radians(raw.longitude_deg)), altitude_m=raw.altitude_m,
        utc_offset_s=raw.utc_offset_h * HOUR_S, year_days=366 if raw.leap else 365,
        time_s=ends_s(grid.hours), air_K=air_K,
        dew_point_K=np.minimum(columns["dew_point"] + _ZERO_C_K, air_K),
        pressure_Pa=columns["pressure"], wind_m_s=columns["wind"],
        global_W_m2=columns["global"], beam_W_m2=columns["beam"], diffuse_W_m2=columns["diffuse"],
        filled=filled, findings=tuple(worst_first(doubts.found)),
    )  # fmt: skip


def _in_order(raw: RawTable, doubts: _Doubts) -> RawTable:
    """Rows by rising hour, of repeated ones the first."""
    steps = np.diff(raw.hour)
    order = np.unique(raw.hour, return_index=True)[1]
    repeated = len(raw.hour) - len(order)
    if repeated > max(24, len(order) // 10):
        raise ReadingError(
            "The same hours stand in the file several times: one value an hour is read.",
            line=int(raw.line[1:][steps <= 0][0]),
        )
    if (steps <= 0).any():
        back = int(np.count_nonzero(steps <= 0))
        first = int(raw.line[1:][steps <= 0][0])
        whole_year = repeated == 0 and back == 1 and len(order) == (8784 if raw.leap else 8760)
        doubts.add(
            "CW-WEATHER-04", "note" if whole_year else "warning",
            f"The hours begin again in line {first}; they are put in order"
            if whole_year else
            f"The hours do not rise in {back} places, and {repeated} are repeated",
            line=first,
        )  # fmt: skip
    columns = {name: values[order] for name, values in raw.columns.items()}
    return RawTable(
        raw.kind, raw.name, raw.latitude_deg, raw.longitude_deg, raw.utc_offset_h, raw.altitude_m,
        raw.leap, raw.hour[order], raw.line[order], columns,
    )  # fmt: skip


def _drop_impossible(raw: RawTable, doubts: _Doubts) -> None:
    for name, (low, high) in _POSSIBLE.items():
        values = raw.columns[name]
        with np.errstate(invalid="ignore"):
            bad = (values < low) | (values > high)
        if name == "dew_point":
            with np.errstate(invalid="ignore"):
                bad |= values > raw.columns["air"] + _DEW_SLACK_K
        if bad.any():
            at = int(np.argmax(bad))
            doubts.add(
                "CW-WEATHER-05", "warning",
                f"{int(bad.sum())} values of {_CALLED[name]} cannot be, the first {values[at]:g}",
                line=int(raw.line[at]), why="They are treated as missing",
            )  # fmt: skip
            raw.columns[name] = np.where(bad, np.nan, values)


class _Grid(NamedTuple):
    """The hours that the file should have."""

    hours: NDArray[np.int_]
    """Hour of the year, from 0, without holes."""
    rows: NDArray[np.int_]
    """Where each row of the file goes among them."""
    line: NDArray[np.int_]
    """Line of each hour; for a missing one that of the hour before."""

    @classmethod
    def of(cls, raw: RawTable, doubts: _Doubts) -> _Grid:
        year_h = 8784 if raw.leap else 8760
        first, last = int(raw.hour[0]), int(raw.hour[-1])
        # A few hours missing at the ends of a year are a gap like any other.
        whole = first <= LONGEST_GAP_H and last >= year_h - 1 - LONGEST_GAP_H
        hours = np.arange(year_h) if whole else np.arange(first, last + 1)
        rows = raw.hour - hours[0]
        if not whole:
            doubts.add(
                "CW-WEATHER-03", "warning",
                f"The file covers {len(hours)} hours of the {year_h} of a year",
            )  # fmt: skip
        if raw.leap:
            doubts.add("CW-WEATHER-08", "note", "The file holds February 29: its year has 8784 h")
        before = np.searchsorted(rows, np.arange(len(hours)), side="right") - 1
        return cls(hours, rows, raw.line[np.maximum(before, 0)])

    def spread(self, values: Floats) -> Floats:
        """Values of the file's rows among all hours, NaN between."""
        spread = np.full(len(self.hours), np.nan)
        spread[self.rows] = values
        return spread


def _position(raw: RawTable, grid: _Grid) -> pvlib_calls.Position:
    return pvlib_calls.solar_position(
        ends_s(grid.hours) - 0.5 * HOUR_S, year=LEAP_YEAR if raw.leap else COMMON_YEAR,
        utc_offset_s=raw.utc_offset_h * HOUR_S, latitude_rad=float(np.radians(raw.latitude_deg)),
        longitude_rad=float(np.radians(raw.longitude_deg)), altitude_m=raw.altitude_m,
    )  # fmt: skip


def _derive_moisture(columns: dict[str, Floats], doubts: _Doubts) -> None:
    if np.isnan(columns["air"]).all():
        raise ReadingError("The file has no air temperature at all.")
    air_K = columns["air"] + _ZERO_C_K
    share = np.clip(columns["humidity"], 0.1, 100.0) / 100.0
    vapour_Pa = share * saturation_pressure(air_K)
    from_humidity = saturation_temperature(vapour_Pa) - _ZERO_C_K
    lacks = np.isnan(columns["dew_point"])
    if lacks.all():
        if np.isnan(from_humidity).all():
            raise ReadingError("The file has neither a dew point nor a relative humidity.")
        doubts.add(
            "CW-WEATHER-07", "note",
            "The file has no dew point; it is found from the relative humidity",
        )  # fmt: skip
    columns["dew_point"] = np.where(lacks, from_humidity, columns["dew_point"])


def _derive_sun(
    columns: dict[str, Floats], position: pvlib_calls.Position, doubts: _Doubts
) -> None:
    height = np.maximum(np.sin(position.elevation_rad), 0.0)
    lacks = {name: bool(np.isnan(columns[name]).all()) for name in ("global", "beam", "diffuse")}
    if lacks["global"] and not (lacks["beam"] or lacks["diffuse"]):
        columns["global"] = columns["beam"] * height + columns["diffuse"]
        doubts.add(
            "CW-WEATHER-07", "note", "The file has no global sun; it is found from beam and sky"
        )
    elif lacks["global"]:
        doubts.add(
            "CW-WEATHER-07", "warning", "The file has no sun; none is counted",
            action="another file, if the sun matters",
        )  # fmt: skip
        for name in lacks:
            columns[name] = np.zeros(len(height))
    elif lacks["beam"] or lacks["diffuse"]:
        known = np.isfinite(columns["global"])
        beam, diffuse = pvlib_calls.split_global(
            position, np.where(known, np.maximum(columns["global"], 0.0), 0.0)
        )
        columns["beam"] = np.where(known, beam, np.nan)
        columns["diffuse"] = np.where(known, diffuse, np.nan)
        doubts.add(
            "CW-WEATHER-07", "warning",
            "The file does not tell beam and sky apart; they are found from the global sun",
        )  # fmt: skip


def _derive_rest(columns: dict[str, Floats], raw: RawTable, doubts: _Doubts) -> None:
    if np.isnan(columns["pressure"]).all():
        columns["pressure"][:] = standard_pressure(raw.altitude_m)
        doubts.add(
            "CW-WEATHER-07", "note",
            f"The file has no pressure; that of the standard air at {raw.altitude_m:g} m is used",
        )  # fmt: skip
    if np.isnan(columns["wind"]).all():
        columns["wind"][:] = _USUAL_WIND_M_S
        doubts.add(
            "CW-WEATHER-07", "warning", f"The file has no wind; {_USUAL_WIND_M_S:g} m/s is assumed"
        )


def _fill_gaps(columns: dict[str, Floats], grid: _Grid, doubts: _Doubts) -> NDArray[np.bool_]:
    used = [name for name in COLUMNS if name != "humidity"]
    filled = np.zeros(len(grid.hours), dtype=bool)
    longest, where = 0, 0
    short: set[str] = set()
    long: set[str] = set()
    for name in used:
        values = columns[name]
        gone = np.isnan(values)
        filled |= gone
        for start, end in _runs(gone):
            (short if end - start <= SHORT_GAP_H else long).add(name)
            if end - start > longest:
                longest, where = end - start, start
        columns[name] = _filled(values)
    if not filled.any():
        return filled
    names = ", ".join(_CALLED[name] for name in used if name in short | long)
    given = f"{int(filled.sum())} hours lack something ({names}), at most {longest} in a row"
    line = int(grid.line[where])
    if not long:
        doubts.add(
            "CW-WEATHER-01", "note", given, line=line, why="They are filled by interpolation"
        )
    elif longest <= LONGEST_GAP_H:
        doubts.add(
            "CW-WEATHER-02", "warning", given, line=line,
            why="They are filled from the days around",
        )  # fmt: skip
    else:
        doubts.add(
            "CW-WEATHER-02", "stop", given, line=line,
            why="Nothing can be known of so long a gap", action="another file",
        )  # fmt: skip
    return filled


def _filled(values: Floats) -> Floats:
    """Short gaps by straight lines, longer ones from the same hours of the days around."""
    known = np.flatnonzero(np.isfinite(values))
    straight = np.interp(np.arange(len(values)), known, values[known])
    result = np.where(np.isnan(values), straight, values)
    for start, end in _runs(np.isnan(values)):
        if end - start <= SHORT_GAP_H:
            continue
        for at in range(start, end):
            # The nearest day before and the nearest after that have this hour.
            before = values[at::-24]
            after = values[at::24]
            around = [side[np.isfinite(side)][:1] for side in (before, after)]
            near = np.concatenate(around)
            if len(near):
                result[at] = near.mean()
    return result


def _runs(marked: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], marked.astype(np.int8), [0]))))
    return [(int(start), int(end)) for start, end in zip(edges[::2], edges[1::2], strict=True)]


def _sun_at_its_hours(global_W_m2: Floats, raw: RawTable, grid: _Grid, doubts: _Doubts) -> None:
    """Find by how many hours the file's sun is off the computed one."""
    if len(global_W_m2) < _ENOUGH_H or not (global_W_m2 > 50.0).any():
        return
    reach = 12
    hours = np.arange(grid.hours[0] - reach, grid.hours[-1] + reach + 1)
    wide = pvlib_calls.solar_position(
        ends_s(hours) - 0.5 * HOUR_S, year=LEAP_YEAR if raw.leap else COMMON_YEAR,
        utc_offset_s=raw.utc_offset_h * HOUR_S, latitude_rad=float(np.radians(raw.latitude_deg)),
        longitude_rad=float(np.radians(raw.longitude_deg)), altitude_m=raw.altitude_m,
    )  # fmt: skip
    height = np.maximum(np.sin(wide.elevation_rad), 0.0)
    count = len(global_W_m2)
    fits = {}
    for late in range(-reach, reach + 1):
        # A sun that comes `late` hours late in the file stood computed so many hours before.
        computed = height[reach - late : reach - late + count]
        spread = float(np.std(computed) * np.std(global_W_m2))
        together = float(np.mean((computed - computed.mean()) * (global_W_m2 - global_W_m2.mean())))
        fits[late] = together / spread if spread > 0.0 else 0.0
    best = max(fits, key=lambda late: fits[late])
    if best == 0 or fits[best] - fits[0] < _BETTER_FIT:
        return
    word = "late" if best > 0 else "early"
    plural = "hour" if abs(best) == 1 else "hours"
    doubts.add(
        "CW-WEATHER-06", "warning",
        f"The sun in the file comes {abs(best)} {plural} {word} for its place and time zone",
        line=1, why=f"Shifted so, it fits with a correlation of {fits[best]:.2f}, "
        f"as it stands with {fits[0]:.2f}",
        action="correcting the time zone or the longitude in the header",
    )  # fmt: skip


# Two whole days at least: half a day of sun fits many shifts.
_ENOUGH_H = 48
# How much better a shifted sun must correlate. An hour costs 0.03 to 0.06 of a year's
# correlation; clouds that favour mornings or evenings move it by less than 0.005.
_BETTER_FIT = 0.01
