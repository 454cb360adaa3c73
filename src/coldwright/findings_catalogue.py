"""The codes a finding may carry, with what they mean and what to do; weather and safety apart.

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
    "CW-COOLER-08": Entry(
        "No way in, or out, for the air",
        "The place is said to let no air pass, but the cooler blows air out of it, or into it. A "
        "fan that works against a closed room moves nothing. Make an opening and give its free "
        "area, or lead the hot side's air in two ducts.",
    ),
    "CW-COOLER-09": Entry(
        "An exhaust that the gaps do not let through",
        "The flow is given, and so much air could come in through the gaps of the place only at a "
        "pressure that fans of this kind do not reach (50 to 200 Pa). Give the fan's curve, with "
        "which the true flow is found, or a larger opening, or use two ducts.",
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
    "CW-GOAL-04": Entry(
        "Nothing to cool",
        "The place levels off at the goal or below it without any cooler. Check the goal, the "
        "weather and what gives heat off in the place; judge by the hottest day, not by this one.",
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
        "Only for a room or a box",
        "Only a room or box stores heat through a day and can be served by other means too. Open "
        "air and a plate have a steady answer only.",
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
    "CW-PLACE-07": Entry(
        "A box that is almost all wall",
        "The law of edges and corners holds for inner sides longer than a fifth of the wall's "
        "thickness. A shorter one, or a wall of metres, is most often a slip of a unit.",
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
    "CW-SINK-07": Entry(
        "A sink better than any can be",
        "Air cannot leave a sink hotter than the sink's base, so no sink has a thermal resistance "
        "below 1/(m cp) of the air that passes it. Either the flow is too small, or the number is "
        "that of the bare metal or of still larger air flow. The message names the bound.",
    ),
    "CW-SOLVE-01": Entry(
        "This design has no steady state",
        "Nothing settles: the heat that the machine makes rises faster with temperature than the "
        "heat it can give away, or air cannot pass at all. Lower the voltage, improve the hot "
        "side, or open the air path, and look which of them brings a steady state back.",
    ),
    "CW-SOLVE-02": Entry(
        "Some of the tries have no steady state",
        "Within the tolerances of the sheet some combinations cannot run: the heat cannot leave, "
        "or no air passes. They count as not reaching the goal. Others cannot be at all, such as a "
        "sink better than any can be at its air flow; they say nothing and are left out of the "
        "count, and the headline says how many. The bounds hold for those that were solved.",
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
}
