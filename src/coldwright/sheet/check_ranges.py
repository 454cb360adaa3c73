"""What cannot be, whatever the design: weather that no place has, moisture above saturation."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coldwright.findings import Finding
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Box, DesignDay, OpenAir, Room, Sheet, SteadyClimate
from coldwright.sheet.remarks import remark

Rule = Callable[[Sheet], Iterator[Finding]]

# Air that a cooler may stand in: from the coldest weather to an oven's warmth [K]. The laws of
# moist air hold from -100 to 200 degC, those of a place that levels off from -73 to 127 degC.
COLDEST_AIR_K, HOTTEST_AIR_K = 273.15 - 70.0, 273.15 + 100.0
# Where the law of the standard atmosphere holds [m].
LOWEST_M, HIGHEST_M = -5000.0, 11000.0
# Where the rate law of batteries (`physics.battery`) ends [1].
LARGEST_RATE_EXPONENT = 2.0
# An inner side must be longer than this share of the wall (law of edges and corners).
LEAST_SIDE = 0.2


def _air_that_can_be(sheet: Sheet) -> Iterator[Finding]:
    climate, place = sheet.climate, sheet.place
    given: list[Quantity | None] = []
    if isinstance(climate, SteadyClimate):
        given.append(climate.outdoor_air)
    elif isinstance(climate, DesignDay):
        given.append(climate.highest_air)
    if isinstance(place, Room | Box):
        given.append(place.start_air)
    elif isinstance(place, OpenAir):
        given.append(place.air)
    for air in given:
        if air is not None and not COLDEST_AIR_K <= air.value <= HOTTEST_AIR_K:
            yield remark(
                "CW-SHEET-12", "stop", air.path, f"“{air.text}”",
                f"between {display('temperature', COLDEST_AIR_K)} and "
                f"{display('temperature', HOTTEST_AIR_K)}",
                why="No air around a cooler is so cold or so hot, and the laws do not reach there",
            )  # fmt: skip


def _dew_points(sheet: Sheet) -> Iterator[Finding]:
    climate, place = sheet.climate, sheet.place
    pairs: list[tuple[Quantity | None, Quantity | None]] = []
    if isinstance(climate, SteadyClimate):
        pairs.append((climate.outdoor_dew_point, climate.outdoor_air))
    elif isinstance(climate, DesignDay):
        pairs.append((climate.dew_point, climate.highest_air))
        pairs.append((climate.wet_bulb, climate.highest_air))
    if isinstance(place, OpenAir):
        pairs.append((place.dew_point, place.air))
    for moist, air in pairs:
        if moist is not None and air is not None and moist.value > air.value:
            yield remark(
                "CW-CLIMATE-12", "stop", moist.path,
                f"“{moist.text}” with air of {air.text}",
                f"at most the {air.text} of the air",
                why="Air never holds more water than saturated air of its own temperature",
            )  # fmt: skip


def _altitude(sheet: Sheet) -> Iterator[Finding]:
    altitude: Quantity | None = getattr(sheet.climate, "altitude", None)
    if altitude is not None and not LOWEST_M <= altitude.value <= HIGHEST_M:
        yield remark(
            "CW-SHEET-12", "stop", altitude.path, f"“{altitude.text}”",
            f"between {display('length', LOWEST_M)} and {display('length', HIGHEST_M)}",
            why="Beyond these heights the air's pressure is not known",
        )  # fmt: skip


def _discharge_rate(sheet: Sheet) -> Iterator[Finding]:
    battery = sheet.power.battery if sheet.power is not None else None
    exponent = battery.rate_exponent if battery is not None else None
    if exponent is not None and not 1.0 <= exponent.value <= LARGEST_RATE_EXPONENT:
        yield remark(
            "CW-SHEET-12", "stop", exponent.path, f"“{exponent.text}”",
            f"between 1 and {LARGEST_RATE_EXPONENT:g}",
            why="At 1 the rate costs nothing; a worn lead battery has about 1.4",
        )  # fmt: skip


def _ratings(sheet: Sheet) -> Iterator[Finding]:
    for group in sheet.cooler.modules:
        ratings = group.ratings
        if ratings is not None and ratings.max_difference.value >= ratings.hot_face.value:
            hot_K = ratings.hot_face.value
            yield remark(
                "CW-SHEET-12", "stop", ratings.max_difference.path,
                f"“{ratings.max_difference.text}” below a hot face of {ratings.hot_face.text}",
                f"less than {hot_K:.0f} K",
                why="The cold face would be colder than absolute zero",
            )  # fmt: skip


def _sides(sheet: Sheet) -> Iterator[Finding]:
    place = sheet.place
    if not isinstance(place, Box) or place.wall is None:
        return
    thickness_m = sum(layer.thickness.value for layer in place.wall if layer.thickness is not None)
    shortest = min((place.length, place.width, place.height), key=lambda side: side.value)
    if shortest.value <= LEAST_SIDE * thickness_m:
        yield remark(
            "CW-PLACE-07", "stop", shortest.path,
            f"an inner side of {shortest.text} in a wall of {display('length', thickness_m)}",
            f"longer than a fifth of the wall, {display('length', LEAST_SIDE * thickness_m)}",
            why="Of such a box no heat leak is known; a unit may have slipped",
        )  # fmt: skip


RULES: tuple[Rule, ...] = (
    _air_that_can_be,
    _dew_points,
    _altitude,
    _discharge_rate,
    _ratings,
    _sides,
)
