"""Every code a finding may carry, with what it means and what to do: alphabetical, one table.

Each line of code that makes a finding must use a code that stands here; a test looks.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """Title of a finding and the paragraph that explains it (what it means, what to do)."""

    title: str
    explanation: str


CATALOGUE: dict[str, Entry] = {
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
    "CW-COOLER-01": Entry(
        "Hot air is sent into the place",
        "All electrical power of a machine whose hot air stays in the place ends up as heat "
        "there: the place as a whole gets warmer, and only a spot in the stream of cold air is "
        "cooled. Send the hot air outdoors, and if possible take it from there too.",
    ),
    "CW-COOLER-02": Entry(
        "The cold side is not complete",
        "Cooling air takes a sink and a fan on the cold side. Give both, with as little as one "
        "number each, or make the place a plate if no air is to be cooled.",
    ),
    "CW-COOLER-03": Entry(
        "Cooled air leaves the place",
        "The cooled air is sent outdoors and does nothing for the place. Send it to the place.",
    ),
    "CW-COOLER-04": Entry(
        "A part that is not used",
        "The place is a plate fixed to the cold faces, so sinks, fans and ducts of a cold side "
        "have no part in it. Leave them out, or choose another kind of place.",
    ),
    "CW-COOLER-05": Entry(
        "Air that only goes in circles",
        "Nearly all of the air is said to be drawn in again at once. Then nothing carries heat in"
        " or out and no steady state exists. Shares up to a third are usual; move inlet and "
        "outlet apart.",
    ),
    "CW-COOLER-06": Entry(
        "A thermostat that feels nothing",
        "The probe is said to be in contents that the place does not have. Describe the contents, "
        "or put the probe in the place's air.",
    ),
    "CW-COOLER-07": Entry(
        "A thermostat that stops too early",
        "It switches the cooler off before the goal is reached. Set it to the goal or below, or "
        "change the goal.",
    ),
    "CW-DAY-01": Entry(
        "A day that does not repeat",
        "A very heavy place remembers its start for weeks. Follow more days by `--days`.",
    ),
    "CW-DUCT-01": Entry(
        "A duct pressed together in a way that is not known",
        "Only flexible ducts can be compressed, and measurements exist up to about 30 percent. "
        "Pull the duct straight, or correct the kind of duct.",
    ),
    "CW-FAN-01": Entry(
        "The power of a fan is not known",
        "Without it the power from the plug and the heat that the fan adds are counted too low, "
        "by 0 W for this fan. It stands on the fan's label, often as volts and amperes.",
    ),
    "CW-FAN-02": Entry(
        "Points of a fan curve out of order",
        "The points run from no flow (with the highest pressure) to the highest flow (with no "
        "pressure), each with more flow than the one before.",
    ),
    "CW-FAN-03": Entry(
        "A fan curve that rises",
        "Where the pressure rises with the flow, more than one operating point may exist and a "
        "fan may hunt between them. Keep to the falling part, or check the points.",
    ),
    "CW-FAN-04": Entry(
        "A fan faster than rated",
        "Beyond full speed the power rises with the third power of the speed and the rated "
        "voltage is exceeded. Take a larger fan.",
    ),
    "CW-GOAL-01": Entry(
        "A goal that does not fit the place",
        "The sheet gives a goal for something that this kind of place does not have, so it is not"
        " used.",
    ),
    "CW-GOAL-02": Entry(
        "A time without a temperature",
        "The goal says by when, but not what is to be reached. Give the temperature too.",
    ),
    "CW-GOAL-03": Entry(
        "The goal is reached before the start",
        "The place starts cooler than its goal; the answer then is how long it stays there. Check"
        " the start temperature.",
    ),
    "CW-MODULE-01": Entry(
        "Modules run beyond their rating",
        "At the rated voltage and current a module reaches its greatest lift; beyond, each "
        "further ampere heats more than it pumps, and the joints age. The best points lie at a "
        "third to two thirds of the rating.",
    ),
    "CW-MODULE-02": Entry(
        "Ratings that do not belong to one module",
        "Greatest lift, greatest heat, current and voltage of a module hang together. These "
        "cannot all be true of one module: one may be mistyped, given at another hot-face "
        "temperature, or advertised. The fit takes the nearest module; trust it less.",
    ),
    "CW-MODULE-03": Entry(
        "More than the rated current",
        "Beyond it more volts only heat. Fewer volts cool more.",
    ),
    "CW-MODULE-04": Entry(
        "Beyond the best current",
        "Past the current of the greatest capacity every further volt heats the hot side faster "
        "than it pumps: the same cooling is to be had with less power.",
    ),
    "CW-MODULE-06": Entry(
        "Switched too often",
        "Each time the modules stop, hot and cold side come together and the solder is strained. "
        "Published life tests count tens of thousands of large swings. A wider hysteresis, more "
        "mass at the probe, or a drive that is turned down instead of off makes them last.",
    ),
    "CW-PART-01": Entry(
        "A part that stands in no library",
        "The name is not in the parts library. The message names the nearest ones; the command "
        "that lists parts shows all of them. A part that is not listed can be described by its "
        "own numbers instead.",
    ),
    "CW-PLACE-01": Entry(
        "Surfaces do not cover the place",
        "Walls, roof, floor and windows together should have the area that length, width and "
        "height enclose, within 10 percent. Heat through a surface that is left out is not "
        "counted. If the place is not a cuboid, the note may be left standing.",
    ),
    "CW-PLACE-02": Entry(
        "Nothing says how heat comes in",
        "A place needs walls: surfaces with layers or a U value, one wall all around a box, or a "
        "known heat loss.",
    ),
    "CW-PLACE-03": Entry(
        "Walls described twice",
        "The same walls are described in two ways, and both would be counted. Keep one.",
    ),
    "CW-PLACE-04": Entry(
        "No place to follow through a day",
        "A day is followed in a room or box, whose walls, contents and air store heat. Open air "
        "and a plate have a steady answer only.",
    ),
    "CW-PLACE-05": Entry(
        "Wetter than was ever measured",
        "The rule for damp materials holds up to about 10 to 15 percent of water by volume. Beyond "
        "it the layer loses more than the rule says; replace it, or give a `wet_factor`.",
    ),
    "CW-PLACE-06": Entry(
        "A wet layer of unknown effect",
        "Of this material nothing is known about how much water in it hurts. Give `wet_factor`, "
        "how many times better it conducts than dry; wet foam and wool about 1.5 to 3.",
    ),
    "CW-POWER-01": Entry(
        "No supply is given",
        "Without a supply the power from the plug is the plain sum of the loads. A real supply "
        "takes some 10 to 20 percent more; give its voltage, rated power and efficiency.",
    ),
    "CW-POWER-02": Entry(
        "Points of an efficiency curve out of order",
        "The points run from small to large load, as shares of the rated power, each with its "
        "efficiency.",
    ),
    "CW-POWER-03": Entry(
        "A panel without a battery",
        "The power of a panel follows the sun from second to second; the modules and their "
        "control need a store between.",
    ),
    "CW-POWER-04": Entry(
        "An efficiency curve without a rated power",
        "The curve gives efficiency over shares of the rated load. Give the rated power, or one "
        "efficiency for all loads.",
    ),
    "CW-SAFE-01": Entry(
        "An exhaust beside an open flame: refused",
        "The exhaust takes so much air out of the place that the flue of an open gas, oil or wood "
        "appliance may turn round and bring carbon monoxide into the room. It has no smell and "
        "kills. Do not run it. Use two ducts, or give the place a large opening for supply air, "
        "fit a carbon monoxide alarm, and have the flue checked by a licensed person.",
    ),
    "CW-SAFE-02": Entry(
        "Is there anything that burns in the same air?",
        "Before an exhaust can be advised the tool must know whether a heater, water heater, "
        "stove or fireplace takes its air from the place. Look, then say so in the sheet. In a "
        "tent or van: never an exhaust together with a burner.",
    ),
    "CW-SAFE-03": Entry(
        "A sealed appliance in the place",
        "Its air comes from outdoors. Seals wear: fit a carbon monoxide alarm, have it checked.",
    ),
    "CW-SAFE-04": Entry(
        "An exhaust beside an open flame",
        "The under-pressure is below the working limit for flues, but wind, hoods and dryers add "
        "to it. Use two ducts if you can, a carbon monoxide alarm in any case, and let a licensed "
        "person check the flue.",
    ),
    "CW-SAFE-05": Entry(
        "The hot face is too hot",
        "Modules with low-melting solder bear about 80 degC for long, others more: the maker's "
        "sheet decides. Fewer volts, a better hot sink or more air on it lower it; a thermal "
        "cut-out bolted to the sink catches a stopped fan.",
    ),
    "CW-SAFE-06": Entry(
        "The hot sink burns skin",
        "Bare metal above about 55 degC burns within seconds. Guard it against touch, and keep "
        "cords, curtains and bedding away from it.",
    ),
    "CW-SAFE-07": Entry(
        "Foam against a hot base",
        "Foams shrink and melt from 75 to 100 degC on and all of them burn. Put a material that "
        "bears the heat between, leave 20 mm of air, and fit a thermal cut-out that also acts "
        "when the fan has stopped.",
    ),
    "CW-SAFE-08": Entry(
        "The supply is overloaded",
        "A supply that gives more than its rating runs hot and shuts down or fails. Choose a "
        "larger one or fewer volts; in warm exhaust air it can give even less than its rating.",
    ),
    "CW-SAFE-09": Entry(
        "The hot sink passes its limit",
        "The sheet's limit for the base of the hot sink is passed.",
    ),
    "CW-SCHEDULE-01": Entry(
        "A span of no length",
        "It ends when it begins, so it never is on. A span through midnight ends before it begins, "
        'as in ["22:00", "06:00"]; a whole day is ["00:00", "24:00"].',
    ),
    "CW-SHEET-01": Entry(
        "A key is missing",
        "The sheet leaves out something that has no sensible default. The message says what "
        "belongs there.",
    ),
    "CW-SHEET-02": Entry(
        "An unknown key",
        "The table does not know this key: a slip of the pen, or a key under the wrong table "
        "header. The message lists the keys that it knows. Nothing is ever skipped in silence.",
    ),
    "CW-SHEET-03": Entry(
        "A word that is not one of the choices",
        "Only some words have a meaning here; the message lists them.",
    ),
    "CW-SHEET-04": Entry(
        "Another kind of value is needed",
        "A table stands where a text belongs, a text where a number belongs, or the like. The "
        "message says what may stand here.",
    ),
    "CW-SHEET-05": Entry(
        "Two keys that exclude each other, or none of them",
        "The same thing can be said in several ways, and exactly one of them is wanted.",
    ),
    "CW-SHEET-06": Entry(
        "A number or a list outside what is possible",
        "A count, a class or the length of a list is beyond what the program can take; the "
        "message says the bound.",
    ),
    "CW-SHEET-07": Entry(
        "A key that needs another",
        "One of two keys that belong together is missing.",
    ),
    "CW-SHEET-08": Entry(
        "Many faults",
        "The sheet has more faults than are worth listing at once. Mend the first ones; often a "
        "wrong header causes many of the others.",
    ),
    "CW-SHEET-10": Entry(
        "A name used twice",
        "Results are listed by name, so two things with one name cannot be told apart there. Give"
        " each its own.",
    ),
    "CW-SHEET-12": Entry(
        "A value that cannot be",
        "A size, a resistance or a flow is negative or nought where it cannot be; the equations "
        "have no meaning then.",
    ),
    "CW-SINK-01": Entry(
        "Rows of a sink's table out of order",
        "The rows run from small to large air flow; the resistance falls on the way, and the "
        "pressure drop stands in all rows or in none.",
    ),
    "CW-SINK-02": Entry(
        "A resistance without an air flow",
        "The resistance of a sink depends on the air flow. With a given flow of the fan it holds "
        "there; with a fan curve the sheet must say at which flow it was found.",
    ),
    "CW-SINK-03": Entry(
        "Fins that do not fit",
        "The base is too narrow for two fins and the gap between them. Check whether the three "
        "lengths of the base stand in the order along the air, across, thick.",
    ),
    "CW-SINK-04": Entry(
        "Modules that do not fit on the base",
        "The faces of the modules cover more than the base of their sink. Take a larger base or "
        "fewer modules, or give the true footprint.",
    ),
    "CW-SINK-05": Entry(
        "A sink that is not there",
        "A group of modules is said to sit on a sink with a number that the sheet does not "
        "describe. Sinks count from 1, in the order in which the air meets them.",
    ),
    "CW-SINK-06": Entry(
        "An unknown correlation",
        "The heat transfer between plate fins is computed by one of a few named correlations. "
        "Leave the key out for the usual one.",
    ),
    "CW-SOLVE-01": Entry(
        "This design has no steady state",
        "Nothing settles: the heat that the machine makes rises faster with temperature than the "
        "heat it can give away, or air cannot pass at all. Lower the voltage, improve the hot "
        "side, or open the air path, and look which of them brings a steady state back.",
    ),
    "CW-SOLVE-02": Entry(
        "Some of the tries have no steady state",
        "Within the tolerances of the sheet some combinations cannot run (the heat cannot leave, "
        "or a sink would be better than is possible). The bounds hold for the others.",
    ),
    "CW-UNIT-01": Entry(
        "A quantity could not be read",
        "The text is not a number with a unit of the kind wanted here. The message names an "
        "accepted way to write it. Units stand in the text, as in “35 degC”, “80 m^3/h” or "
        "“53 W +/- 10 %”.",
    ),
    "CW-UNIT-02": Entry(
        "A value far outside what is usual",
        "The number can be read but lies far beyond what such a thing has in practice, often "
        "because another unit was meant (litres per minute for cubic metres per hour, millimetres "
        "for metres). Correct the unit; if the value is right, the note may be left standing.",
    ),
    "CW-WATER-01": Entry(
        "Frost on the cold sink",
        "A sink below 0 degC that meets air above its dew point grows frost until no air passes. "
        "The numbers hold for a clear sink and leave the heat of freezing out. Run it warmer, or "
        "let it thaw at times.",
    ),
    "CW-WATER-02": Entry(
        "Water runs off the cold sink",
        "Plan a tray with a slope, a drain, drip loops in every wire, and no mains part below the "
        "cold side. Damp foam insulates half as well.",
    ),
    "CW-WATER-03": Entry(
        "Fog in the cold air",
        "Very moist air meets a surface far below its dew point, and fine water leaves with the "
        "air. More air over a warmer sink avoids it.",
    ),
    "CW-WATER-04": Entry(
        "Too near the dew point",
        "The margin that the sheet asks for above the dew point is not kept.",
    ),
    "CW-WATER-05": Entry(
        "The place's air is saturated",
        "Water settles on the walls. Drain the condensate, or bring less moisture in.",
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
