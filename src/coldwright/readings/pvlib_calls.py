"""The one file that opens pvlib (and pandas behind it): late, because importing takes 0.6 s.

Everything goes in and comes out as plain numbers and numpy arrays, in SI and radians.
"""

from __future__ import annotations

import datetime
import functools
import io
import tempfile
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal, NamedTuple, ParamSpec, TypeVar

import numpy as np
from numpy.typing import NDArray

from coldwright.errors import ReadingError

Floats = NDArray[np.float64]
SkyModel = Literal["isotropic", "perez"]

_BROKEN = (
    ValueError, TypeError, KeyError, IndexError, OverflowError, AttributeError, AssertionError,
    NotImplementedError,
)  # fmt: skip


P = ParamSpec("P")
R = TypeVar("R")


def _quietly(call: Callable[P, R]) -> Callable[P, R]:
    """Keep the libraries' own warnings (of each other's old names, of columns) off the person."""

    @functools.wraps(call)
    def quiet(*args: P.args, **named: P.kwargs) -> R:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return call(*args, **named)

    return quiet


class Position(NamedTuple):
    """Where the sun stands, and what the air does to it; every array one value per instant."""

    elevation_rad: Floats
    """Apparent elevation, refraction included."""
    azimuth_rad: Floats
    """Clockwise from north."""
    airmass: Floats
    """Relative air mass; NaN where the sun is down."""
    extra_W_m2: Floats
    """Sun on a plane square to it outside the atmosphere."""


@_quietly
def solar_position(
    time_s: Floats, *, year: int, utc_offset_s: float, latitude_rad: float, longitude_rad: float,
    altitude_m: float,
) -> Position:  # fmt: skip
    """Position of the sun (NREL's algorithm).

    Parameters
    ----------
    time_s
        Seconds from the beginning of `year` on a clock that is `utc_offset_s` ahead of UTC.
    """
    pvlib, times = _pvlib(), _times(time_s, year, utc_offset_s)
    found = pvlib.solarposition.get_solarposition(
        times, np.degrees(latitude_rad), np.degrees(longitude_rad), altitude=altitude_m
    )
    zenith_deg = found["apparent_zenith"].to_numpy(dtype=float)
    return Position(
        np.radians(found["apparent_elevation"].to_numpy(dtype=float)),
        np.radians(found["azimuth"].to_numpy(dtype=float)),
        np.asarray(pvlib.atmosphere.get_relative_airmass(zenith_deg), dtype=float),
        np.asarray(pvlib.irradiance.get_extra_radiation(times), dtype=float),
    )


@_quietly
def clear_sky(
    position: Position, *, altitude_m: float, turbidity: float
) -> tuple[Floats, Floats, Floats]:
    """Sun under a clear sky [W/m²]: global on the level, beam square to it, diffuse on the level.

    Ineichen and Perez (2002) with the Linke turbidity; the air mass at the altitude's pressure.
    """
    pvlib = _pvlib()
    airmass = pvlib.atmosphere.get_absolute_airmass(
        position.airmass, pvlib.atmosphere.alt2pres(altitude_m)
    )
    found = pvlib.clearsky.ineichen(
        90.0 - np.degrees(position.elevation_rad), airmass, turbidity,
        altitude=altitude_m, dni_extra=position.extra_W_m2,
    )  # fmt: skip
    return (
        np.asarray(found["ghi"], dtype=float),
        np.asarray(found["dni"], dtype=float),
        np.asarray(found["dhi"], dtype=float),
    )


@_quietly
def split_global(position: Position, global_W_m2: Floats) -> tuple[Floats, Floats]:
    """Beam and diffuse part of a measured global irradiance [W/m²].

    Erbs, Klein and Duffie (1982) in the smooth form of Driesse and others (2024).
    """
    found = _pvlib().irradiance.erbs_driesse(
        global_W_m2, 90.0 - np.degrees(position.elevation_rad), dni_extra=position.extra_W_m2
    )
    return np.asarray(found["dni"], dtype=float), np.asarray(found["dhi"], dtype=float)


@_quietly
def plane(
    position: Position, sun_W_m2: tuple[Floats, Floats, Floats], *, tilt_rad: float,
    azimuth_rad: float, albedo: float, model: SkyModel,
) -> Floats:  # fmt: skip
    """Sun on a tilted plane [W/m²]: beam, sky and ground together, none below 0.

    ``sun_W_m2``: global, beam and diffuse as `clear_sky` gives them. Where Perez's model gives no
    number (a sun at the horizon), the sky is taken as isotropic.
    """
    pvlib = _pvlib()
    global_W_m2, beam_W_m2, diffuse_W_m2 = sun_W_m2
    up = position.elevation_rad > 0.0
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        found: dict[str, Any] = {
            name: pvlib.irradiance.get_total_irradiance(
                np.degrees(tilt_rad), np.degrees(azimuth_rad),
                90.0 - np.degrees(position.elevation_rad), np.degrees(position.azimuth_rad),
                np.where(up, beam_W_m2, 0.0), global_W_m2, diffuse_W_m2,
                dni_extra=position.extra_W_m2, airmass=position.airmass, albedo=albedo,
                model=name,
            )
            for name in dict.fromkeys((model, "isotropic"))
        }  # fmt: skip
    total = np.asarray(found[model]["poa_global"], dtype=float)
    plain = np.asarray(found["isotropic"]["poa_global"], dtype=float)
    return np.maximum(np.where(np.isfinite(total), total, plain), 0.0)


def epw_table(text: str, year: int) -> tuple[Any, dict[str, Any]]:
    """Rows and header of an EPW text, every row put into one year."""
    return _read("EPW", lambda pvlib: pvlib.iotools.read_epw(io.StringIO(text), coerce_year=year))


def tmy3_table(text: str) -> tuple[Any, dict[str, Any]]:
    """Rows and header of a TMY3 text."""
    return _read("TMY3", lambda pvlib: pvlib.iotools.read_tmy3(io.StringIO(text)))


def tmy2_table(text: str) -> tuple[Any, dict[str, Any]]:
    """Rows and header of a TMY2 text; its reader takes a file only."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather.tm2"
        path.write_text(text, encoding="ascii", errors="replace")
        return _read("TMY2", lambda pvlib: pvlib.iotools.read_tmy2(str(path)))


def column(table: Any, name: str) -> Floats:
    """One column as numbers; NaN where it holds none, or where the table has no such column."""
    import pandas as pd  # type: ignore[import-untyped]

    if name not in table:
        return np.full(len(table), np.nan)
    return np.asarray(pd.to_numeric(table[name], errors="coerce"), dtype=float)


@_quietly
def _read(called: str, reader: Any) -> tuple[Any, dict[str, Any]]:
    pvlib = _pvlib()
    try:
        table, header = reader(pvlib)
    except _BROKEN as error:
        said = " ".join(str(error).split())[:120]
        raise ReadingError(f"The file cannot be read as {called} ({said}).") from None
    return table, header


def _times(time_s: Floats, year: int, utc_offset_s: float) -> Any:
    import pandas as pd

    start = pd.Timestamp(datetime.datetime(year, 1, 1, tzinfo=datetime.UTC))
    return start + pd.to_timedelta(np.asarray(time_s, dtype=float) - utc_offset_s, unit="s")


def _pvlib() -> Any:
    try:
        import pvlib  # type: ignore[import-untyped]
    except ImportError:
        raise ReadingError(
            "Weather files and the sun need the package pvlib: install coldwright[climate]."
        ) from None
    return pvlib
