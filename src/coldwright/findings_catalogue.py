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
    "CW-CLIMATE-01": Entry(
        "A kind of climate that is not calculated yet",
        "The sheet asks for weather that changes over the day. This version calculates with "
        "steady weather only: give the hour that matters most as a steady climate.",
    ),
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
    "CW-SOLVE-01": Entry(
        "This design has no steady state",
        "Nothing settles: the heat that the machine makes rises faster with temperature than the "
        "heat it can give away, or air cannot pass at all. Lower the voltage, improve the hot "
        "side, or open the air path, and look which of them brings a steady state back.",
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
}
