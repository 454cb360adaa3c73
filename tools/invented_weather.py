"""Write the invented weather of the film cabinet's week: the air of an attic in a heat wave.

`python tools/invented_weather.py` writes `demos/cabinet/week.epw`. No place has this weather: each
day has its own highest and lowest temperature, joined by half a cosine from the coolest hour to the
hottest and back. The sun only stands in it so that the file is whole; the attic is dark.
"""

from __future__ import annotations

import itertools
import math
from pathlib import Path

FILE = Path(__file__).resolve().parents[1] / "demos" / "cabinet" / "week.epw"
LATITUDE, LONGITUDE, ZONE, ALTITUDE = 48.0, 11.0, 1.0, 300.0
MONTH, FIRST_DAY = 7, 14
# Under the tiles it is hottest late and coolest at sunrise [h, standard time].
COOLEST_H, HOTTEST_H = 5.0, 16.0
# Lowest and highest of each day [degC], and the dew point [degC]: five days of heat that builds up,
# a thunderstorm in the sixth afternoon, a mild seventh day.
DAYS = (
    (21.0, 34.0, 13.0),
    (22.0, 36.0, 13.5),
    (23.5, 38.5, 14.5),
    (25.0, 40.5, 15.0),
    (26.5, 42.0, 16.0),
    (27.0, 39.0, 18.0),
    (21.5, 30.0, 14.0),
)
PRESSURE_PA, WIND_M_S = 97800.0, 0.5


def rows() -> list[str]:
    """One line for each hour, 35 entries."""
    lines = []
    for number, (_, _, dew_C) in enumerate(DAYS):
        for hour in range(1, 25):
            air_C = _air(24.0 * number + hour)
            humidity = 100.0 * math.exp(_water(min(dew_C, air_C)) - _water(air_C))
            height = _sun_height(FIRST_DAY + number, hour - 0.5)
            beam = 600.0 if height > 0.02 else 0.0
            diffuse = 120.0 * max(height, 0.0)
            level = beam * max(height, 0.0) + diffuse
            lines.append(
                f"2025,{MONTH},{FIRST_DAY + number},{hour},60,?9?9?9?9E0?9?9*9,{air_C:.1f},"
                f"{dew_C:.1f},{humidity:.0f},{PRESSURE_PA:.0f},0,0,300,{level:.0f},{beam:.0f},"
                f"{diffuse:.0f},0,0,0,0,180,{WIND_M_S},5,5,20.0,77777,9,999999999,0,0.0,0,88,0.2,"
                "0.0,0.0"
            )
    return lines


def text() -> str:
    """The whole file: 8 lines of header and the hours."""
    last = FIRST_DAY + len(DAYS) - 1
    head = (
        f"LOCATION,An attic,-,XXX,invented,000000,{LATITUDE},{LONGITUDE},{ZONE},{ALTITUDE}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,invented: the air of an attic in a heat wave",
        "COMMENTS 2,made by tools/invented_weather.py",
        f"DATA PERIODS,1,1,Data,Monday, {MONTH}/{FIRST_DAY},{MONTH}/{last}",
    )
    return "\n".join([*head, *rows()]) + "\n"


def _air(hours: float) -> float:
    """Temperature [degC] at hours after the first midnight."""
    turns = []
    for number, (low_C, high_C, _) in enumerate(DAYS):
        turns += [(24.0 * number + COOLEST_H, low_C), (24.0 * number + HOTTEST_H, high_C)]
    # Before the first and after the last turn the days go on as they are.
    turns = [(HOTTEST_H - 24.0, DAYS[0][1]), *turns, (24.0 * len(DAYS) + COOLEST_H, DAYS[-1][0])]
    for (start, before), (end, after) in itertools.pairwise(turns):
        if start <= hours <= end:
            share = 0.5 - 0.5 * math.cos(math.pi * (hours - start) / (end - start))
            return before + share * (after - before)
    raise ValueError(f"{hours} h is not within the week")


def _water(celsius: float) -> float:
    """Logarithm of the saturation pressure of water (Magnus form), but for a constant."""
    return 17.62 * celsius / (243.12 + celsius)


def _sun_height(day: int, hour: float) -> float:
    """Sine of the sun's height: Cooper's declination and a plain hour angle."""
    number = 181 + day
    declination = math.radians(23.45) * math.sin(math.radians(360.0 * (284 + number) / 365.0))
    solar = hour + (LONGITUDE - 15.0 * ZONE) / 15.0
    latitude = math.radians(LATITUDE)
    return math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(
        declination
    ) * math.cos(math.radians(15.0 * (solar - 12.0)))


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
