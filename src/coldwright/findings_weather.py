"""The findings of the catalogue on climate and weather files."""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

WEATHER: dict[str, Entry] = {
    "CW-CLIMATE-02": Entry(
        "Outdoor moisture assumed",
        "Nothing says how moist the air is, so half saturated air is assumed. Moisture decides "
        "how much of the cooling goes into water that condenses; give the relative humidity or "
        "the dew point of a hot day.",
    ),
    "CW-CLIMATE-03": Entry(
        "Windows without sun",
        "The place has windows, but the sheet gives no sun on them, so none is counted. Give the "
        "sun on the plane of the windows, or 0 W/m^2 if it never shines on them.",
    ),
    "CW-CLIMATE-04": Entry(
        "A climate that is not complete",
        "A day needs its highest temperature, and a climate from a weather file needs the file's "
        "name. The message says which key is missing.",
    ),
    "CW-CLIMATE-05": Entry(
        "Something that plays a part only over a day",
        "Schedules, thermostats and doors act from hour to hour. A steady hour has everything "
        "switched on and no door opened; the answer for a day follows them.",
    ),
    "CW-CLIMATE-06": Entry(
        "The range of the day assumed",
        "Nothing says how much cooler the night is, so a usual range is assumed: about 4 to 8 K at "
        "the sea, 10 K inland, 15 K or more in dry country. The night decides much.",
    ),
    "CW-CLIMATE-07": Entry(
        "What the clock shows is not given",
        "The sun follows solar time, people the clock. Without `utc_offset` or `time_zone` it is "
        "taken from the longitude in whole hours, or to show solar time. Give one of them.",
    ),
    "CW-CLIMATE-08": Entry(
        "Moister than air can be",
        "A dew point or a wet bulb above the temperature of the air does not exist. One of the two "
        "is mistyped, or in another unit.",
    ),
    "CW-CLIMATE-09": Entry(
        "The weather file is not there",
        "The name is looked up from the folder of the sheet. Put the file there, or correct the "
        "name.",
    ),
    "CW-CLIMATE-10": Entry(
        "Sun from no direction",
        "Something in the sun does not say where it looks to, so the mean of the four sides counts:"
        " right for walls that go all around, wrong by the hour for one. Give its `compass`.",
    ),
    "CW-CLIMATE-11": Entry(
        "A constant sun that is not used",
        "Over a day the sun on each surface follows from its direction and tilt, so a sun given "
        "for it in W/m^2 has no part. Leave it out, or make the climate steady.",
    ),
    "CW-CLIMATE-12": Entry(
        "Moister than saturated",
        "A dew point or wet bulb above the temperature of its own air cannot be: air holds no more "
        "water than saturated air does. Most often the two were mixed up, or a unit slipped.",
    ),
    "CW-WEATHER-01": Entry(
        "Short gaps in the weather file, filled",
        "Single hours are missing or marked as missing. Up to three hours in a row were filled by "
        "a straight line between their neighbours.",
    ),
    "CW-WEATHER-02": Entry(
        "Long gaps in the weather file",
        "More than three hours in a row are missing; they were filled with the same hours of the "
        "days around, which is a guess. With a gap beyond three days the file cannot be used.",
    ),
    "CW-WEATHER-03": Entry(
        "The weather file does not cover the year",
        "It holds fewer hours than a year has, so totals over a year cannot be given from it. The "
        "days that it has can be used.",
    ),
    "CW-WEATHER-04": Entry(
        "Hours out of order or repeated",
        "The time stamps do not rise from line to line. The hours were put in order and of each "
        "the first was kept; look whether the file was joined from two.",
    ),
    "CW-WEATHER-05": Entry(
        "Impossible values in the weather file",
        "Values that no weather has (colder than -90 degC, moister than 110 percent, a sun "
        "stronger than outside the atmosphere) were treated as missing.",
    ),
    "CW-WEATHER-06": Entry(
        "The sun shines at the wrong hours",
        "The file's sun and that computed for its place fit best when one is shifted. Usually the "
        "header's time zone or longitude is wrong, or the hours are in UTC or summer time.",
    ),
    "CW-WEATHER-07": Entry(
        "A column without values",
        "The file has no values of this kind at all. The message says what was used instead; "
        "without air temperature or moisture the file cannot be used.",
    ),
    "CW-WEATHER-08": Entry(
        "A weather file with a leap day",
        "The file holds February 29, so its year has 8784 hours; yearly totals are of 366 days.",
    ),
}
