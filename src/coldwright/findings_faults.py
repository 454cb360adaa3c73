"""Codes of findings on what happens when something fails; `findings` joins them with the others."""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

FAULTS: dict[str, Entry] = {
    "CW-FAULT-01": Entry(
        "A fault that burns or destroys",
        "A single fault, such as a hot fan that stops, brings the machine past a limit of its "
        "foam, its modules or its solder. Fit the thermal cut-out that is named, bolted to "
        "the hot sink "
        "in the modules' lead, with manual reset, and try it once, attended, with the fan stopped. "
        "Local codes and a licensed person decide what a build must have.",
    ),
    "CW-FAULT-02": Entry(
        "No room for a thermal cut-out",
        "A cut-out needs some kelvins above the hottest that is normal, or it opens for nothing "
        "and somebody bridges it. Between that and the first limit there are too few. A hot sink "
        "that stays cooler makes room.",
    ),
    "CW-FAULT-03": Entry(
        "No fuse sees a shorted module",
        "The current after the short stays below what a fuse for the running current opens at. "
        "The more modules stand in series, the less one short changes. A reading of each string's "
        "current and the thermal cut-out remain.",
    ),
    "CW-FAULT-04": Entry(
        "A fuse that is too small for normal use",
        "A fuse that is loaded near its number for hours, or passed at every switch-on, ages and "
        "opens for nothing. Without a lift the modules take more than when running. Take the next "
        "size if the wire bears it.",
    ),
    "CW-FAULT-05": Entry(
        "Mass of the hot sink not known",
        "How fast a sink gets hot after a fault depends on its mass. Without one the times shown "
        "are those of a sink that stores nothing. Weigh it and give its mass.",
    ),
    "CW-FAULT-06": Entry(
        "What a stopped hot fan would do",
        "With the hot fan standing and nothing to stop the modules, the machine would level off "
        "above a limit, or not at all. A thermal cut-out bolted to the hot sink catches it; "
        "`coldwright faults` computes what to set it to, and follows eleven other faults. Local "
        "codes and a licensed person decide what a build must have.",
    ),
}
