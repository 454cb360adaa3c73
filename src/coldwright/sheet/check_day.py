"""What can be said without physics of climates, days, schedules, thermostats and the sun."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from coldwright.findings import Finding
from coldwright.sheet.library import library
from coldwright.sheet.models import (
    Box,
    DesignDay,
    Layer,
    OpenAir,
    Room,
    Sheet,
    SteadyClimate,
    Surface,
    WeatherFile,
    Window,
)
from coldwright.sheet.remarks import remark

Rule = Callable[[Sheet], Iterator[Finding]]


def _steady(sheet: Sheet) -> Iterator[Finding]:
    climate = sheet.climate
    if not isinstance(climate, SteadyClimate):
        return
    if climate.outdoor_humidity is not None and climate.outdoor_humidity.assumed:
        yield remark(
            "CW-CLIMATE-02", "warning", "climate.outdoor_humidity",
            f"The outdoor moisture is not given; {climate.outdoor_humidity.text} is assumed",
            action="`outdoor_humidity` or `outdoor_dew_point`",
        )  # fmt: skip
    windows = _windows(sheet)
    if windows and climate.sun.assumed and all(one.sun is None for one in windows):
        yield remark(
            "CW-CLIMATE-03", "warning", "climate.sun",
            "There are windows but no sun is given; none is counted",
            action="`sun`, as in “400 W/m^2”",
        )  # fmt: skip
    for path, what in _only_over_a_day(sheet):
        yield remark(
            "CW-CLIMATE-05", "note", path,
            f"{what} in the answer for a day; the steady hour has all switched on",
        )  # fmt: skip


def _only_over_a_day(sheet: Sheet) -> Iterator[tuple[str, str]]:
    if sheet.cooler.thermostat is not None:
        yield "cooler.thermostat", "The thermostat plays its part"
    if sheet.cooler.schedule is not None:
        yield "cooler.schedule", "The hours of running count"
    place = sheet.place
    if not isinstance(place, Room | Box):
        return
    for at, gain in enumerate(place.gain):
        if gain.schedule is not None:
            yield f"place.gain[{at}].schedule", f"The hours of “{gain.name}” count"
    for at, door in enumerate(place.door):
        yield f"place.door[{at}]", f"The openings of “{door.name}” count"


def _design_day(sheet: Sheet) -> Iterator[Finding]:
    day = sheet.climate
    if not isinstance(day, DesignDay):
        return
    if day.highest_air is None:
        yield _incomplete("climate.highest_air", "highest_air, the day's highest temperature")
    if day.daily_range.assumed:
        yield remark(
            "CW-CLIMATE-06", "warning", "climate.daily_range",
            f"The range of the day is not given; {day.daily_range.text} is assumed",
            action="`daily_range`",
        )  # fmt: skip
    if day.humidity is not None and day.humidity.assumed:
        yield remark(
            "CW-CLIMATE-02", "warning", "climate.humidity",
            f"The outdoor moisture is not given; {day.humidity.text} at the highest temperature "
            "is assumed",
            action="`dew_point`, `wet_bulb` or `humidity`",
        )  # fmt: skip
    for name in ("dew_point", "wet_bulb"):
        moist = getattr(day, name)
        if (
            moist is not None
            and day.highest_air is not None
            and moist.value > day.highest_air.value
        ):
            yield remark(
                "CW-CLIMATE-08", "stop", moist.path, f"“{moist.text}”",
                f"at most the highest temperature, “{day.highest_air.text}”",
            )  # fmt: skip
    yield from _clock(sheet, day)
    yield from _sun(sheet, day)


def _clock(sheet: Sheet, day: DesignDay) -> Iterator[Finding]:
    if day.utc_offset is not None or day.time_zone is not None:
        if day.longitude is None:
            yield remark(
                "CW-CLIMATE-07", "warning", "climate.longitude",
                "The clock has no longitude; it is taken to show solar time",
                action="`longitude`",
            )  # fmt: skip
    elif _follows_the_clock(sheet):
        taken = (
            f"UTC{day.clock_offset_s / 3600.0:+.0f} h, from the longitude"
            if day.longitude is not None
            else "solar time"
        )
        yield remark(
            "CW-CLIMATE-07", "warning", "climate.utc_offset",
            f"Schedules follow a clock that is not given; {taken} is taken",
            action="`utc_offset`, as in “+2 h”, or `time_zone`",
        )  # fmt: skip


def _follows_the_clock(sheet: Sheet) -> bool:
    return any(True for _ in _schedules(sheet))


def _sun(sheet: Sheet, day: DesignDay | WeatherFile) -> Iterator[Finding]:
    windows = _windows(sheet)
    if isinstance(day, DesignDay) and not day.sunny:
        if windows and day.sun is None:
            yield remark(
                "CW-CLIMATE-03", "warning", "climate.sun",
                "There are windows but no latitude is given; no sun is counted",
                action='`latitude` and `longitude`, or `sun = "none"`',
            )  # fmt: skip
        return
    for path, one in _in_the_sun(sheet):
        if one.sun is not None:
            yield remark(
                "CW-CLIMATE-11", "warning", one.sun.path, f"“{one.sun.text}”",
                "used over a day", why="The sun follows from direction and tilt",
                action="a steady climate, or leaving it out",
            )  # fmt: skip
        upright = 0.02 < one.tilt_rad < 3.12
        if one.compass is None and upright:
            yield remark(
                "CW-CLIMATE-10", "note", path,
                f"“{one.name}” stands in the sun but has no direction; the mean of four sides is "
                "counted",
                action="`compass`, as in “SSW”, unless it goes all around",
            )  # fmt: skip


def _weather_file(sheet: Sheet) -> Iterator[Finding]:
    climate = sheet.climate
    if not isinstance(climate, WeatherFile):
        return
    path = sheet.weather_path
    if path is None:
        yield _incomplete("climate.file", "file, the name of the weather file")
    elif sheet.file and not _is_file(path):
        yield remark(
            "CW-CLIMATE-09", "stop", "climate.file", f"“{climate.file}”",
            "a file in the sheet's folder",
        )  # fmt: skip
    yield from _sun(sheet, climate)


def _is_file(path: object) -> bool:
    from pathlib import Path

    assert isinstance(path, Path)
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name that no file can have
        return False


def _incomplete(where: str, needed: str) -> Finding:
    return remark("CW-CLIMATE-04", "stop", where, "", needed)


def _open_air(sheet: Sheet) -> Iterator[Finding]:
    place = sheet.place
    if isinstance(place, OpenAir) and place.humidity is not None and place.humidity.assumed:
        yield remark(
            "CW-CLIMATE-02", "warning", "place.humidity",
            f"The moisture of the air is not given; {place.humidity.text} is assumed",
            action="`humidity` or `dew_point`",
        )  # fmt: skip


def _spans(sheet: Sheet) -> Iterator[Finding]:
    for path, schedule in _schedules(sheet):
        for at, (start_s, end_s) in enumerate(schedule):
            if start_s == end_s:
                clock = f"{int(start_s // 3600):02d}:{int(start_s % 3600 // 60):02d}"
                yield remark(
                    "CW-SCHEDULE-01", "warning", f"{path}[{at}]",
                    f"A span from {clock} to {clock} has no length",
                )  # fmt: skip


def _schedules(sheet: Sheet) -> Iterator[tuple[str, Iterable[tuple[float, float]]]]:
    """Every schedule of the sheet with its path."""
    cooler, place = sheet.cooler, sheet.place
    if cooler.schedule is not None:
        yield "cooler.schedule", cooler.schedule
    if cooler.thermostat is not None and cooler.thermostat.setback is not None:
        yield "cooler.thermostat.setback.schedule", cooler.thermostat.setback.schedule
    if isinstance(place, Room | Box):
        for name in ("gain", "door"):
            for at, one in enumerate(getattr(place, name)):
                if one.schedule is not None:
                    yield f"place.{name}[{at}].schedule", one.schedule


def _thermostat(sheet: Sheet) -> Iterator[Finding]:
    thermostat, goal = sheet.cooler.thermostat, sheet.goal.air
    if thermostat is None:
        return
    contents = getattr(sheet.place, "contents", None)
    if thermostat.probe == "contents" and contents is None:
        yield remark(
            "CW-COOLER-06", "stop", "cooler.thermostat.probe", "“contents”",
            "something that this place has",
            action='a table [place.contents], or `probe = "place"`',
        )  # fmt: skip
    elif goal is not None and thermostat.probe == "place" and thermostat.air.value > goal.value:
        yield remark(
            "CW-COOLER-07", "warning", thermostat.air.path, f"“{thermostat.air.text}”",
            f"cold enough for the goal of “{goal.text}”",
        )  # fmt: skip


def _wet_layers(sheet: Sheet) -> Iterator[Finding]:
    for path, layer in _layers(sheet):
        if layer.state == "dry" or layer.water_share is None:
            continue
        known = None
        if layer.conductivity is None and layer.insulance is None:
            known = library().material(layer.material)
        if known is None or known.moisture is None:
            yield remark(
                "CW-PLACE-06", "stop", f"{path}.state",
                f"How “{layer.material}” insulates when {layer.state} is not known",
                action="`wet_factor`, as in 2",
            )  # fmt: skip
        elif known.wettest is not None and layer.water_share.value > known.wettest.value:
            yield remark(
                "CW-PLACE-05", "warning", layer.water_share.path, f"“{layer.water_share.text}”",
                f"within the {known.wettest.text} up to which the rule for {known.name} holds",
            )  # fmt: skip


def _layers(sheet: Sheet) -> Iterator[tuple[str, Layer]]:
    place = sheet.place
    if not isinstance(place, Room | Box):
        return
    for at, surface in enumerate(place.surface):
        for number, layer in enumerate(surface.layers or ()):
            yield f"place.surface[{at}].layers[{number}]", layer
    wall = place.wall if isinstance(place, Box) and place.wall is not None else ()
    for number, layer in enumerate(wall):
        yield "place.wall" if len(wall) == 1 else f"place.wall[{number}]", layer


def _windows(sheet: Sheet) -> tuple[Window, ...]:
    return sheet.place.window if isinstance(sheet.place, Room | Box) else ()


def _in_the_sun(sheet: Sheet) -> Iterator[tuple[str, Surface | Window]]:
    place = sheet.place
    if not isinstance(place, Room | Box):
        return
    for at, window in enumerate(place.window):
        yield f"place.window[{at}]", window
    for at, surface in enumerate(place.surface):
        if surface.absorptance is not None and surface.other_side == "outdoors":
            yield f"place.surface[{at}]", surface


RULES: tuple[Rule, ...] = (
    _steady,
    _design_day,
    _weather_file,
    _open_air,
    _spans,
    _thermostat,
    _wet_layers,
)
