"""An invented town's weather, written as an EPW and as a TMY3 file."""

import datetime
import math
from dataclasses import dataclass

# Invented: 47.5 N, 9.5 E, an hour ahead of UTC, 430 m.
LATITUDE, LONGITUDE, ZONE, ALTITUDE = 47.5, 9.5, 1.0, 430.0


@dataclass
class Hour:
    """One row: ends at `hour` (1 to 24) of that day."""

    month: int
    day: int
    hour: int
    air: float
    dew_point: float
    humidity: float
    pressure: float
    wind: float
    global_: float
    beam: float
    diffuse: float


def _hour(day: datetime.date, hour: int) -> Hour:
    number = day.timetuple().tm_yday
    # A plain cosine of the hour angle and Cooper's declination: no program's sun.
    declination = math.radians(23.45) * math.sin(math.radians(360.0 * (284 + number) / 365.0))
    solar = hour - 0.5 + (LONGITUDE - 15.0 * ZONE) / 15.0
    latitude = math.radians(LATITUDE)
    height = math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(
        declination
    ) * math.cos(math.radians(15.0 * (solar - 12.0)))
    beam = 700.0 if height > 0.02 else 0.0
    diffuse = 120.0 * max(height, 0.0)
    air = 10.0 - 12.0 * math.cos(2 * math.pi * (number - 15) / 365.0)
    air -= 5.0 * math.cos(2 * math.pi * (hour - 3) / 24.0)
    return Hour(
        day.month, day.day, hour, round(air, 1), round(air - 6.0, 1), 66.0, 96300.0, 2.5,
        round(beam * max(height, 0.0) + diffuse), beam, round(diffuse),
    )  # fmt: skip


def year_of(year=2025, start=datetime.date(2025, 1, 1), days=365):
    """Hours of some days; 2024 has a leap day."""
    first = start.replace(year=year)
    return [
        _hour(first + datetime.timedelta(days=at), hour)
        for at in range(days)
        for hour in range(1, 25)
    ]


def epw(hours, *, zone=ZONE, longitude=LONGITUDE, latitude=LATITUDE, year=2017):
    """The text of an EPW file: 8 header lines and 35 columns, as its format description says."""
    head = [
        f"LOCATION,Hallental,-,XXX,invented,000000,{latitude},{longitude},{zone},{ALTITUDE}",
        "DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,an invented place", "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]  # fmt: skip
    rows = [
        f"{year},{one.month},{one.day},{one.hour},60,?9?9?9?9E0?9?9*9,{one.air},{one.dew_point},"
        f"{one.humidity:.0f},{one.pressure:.0f},0,0,300,{one.global_},{one.beam},{one.diffuse},"
        f"0,0,0,0,180,{one.wind},5,5,20.0,77777,9,999999999,0,0.0,0,88,0.2,0.0,0.0"
        for one in hours
    ]
    return "\n".join([*head, *rows]) + "\n"


def tmy3(hours):
    """The text of a TMY3 file with the columns that count, in another order and among others."""
    names = (
        "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),GHI source,DNI (W/m^2),DHI (W/m^2),"
        "Dry-bulb (C),Dew-point (C),RHum (%),Pressure (mbar),Wspd (m/s)"
    )
    rows = [
        f"{one.month:02d}/{one.day:02d}/1998,{one.hour:02d}:00,{one.global_},1,{one.beam},"
        f"{one.diffuse},{one.air},{one.dew_point},{one.humidity:.0f},{one.pressure / 100:.0f},"
        f"{one.wind}"
        for one in hours
    ]
    head = f'000000,"HALLENTAL",XX,{ZONE},{LATITUDE},{LONGITUDE},{ALTITUDE:.0f}'
    return "\n".join([head, names, *rows]) + "\n"
