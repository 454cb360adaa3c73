"""The safety findings of the catalogue, and the source of every one: a licensed person decides.

Titles and paragraphs are ours; figures come from the sources named. Where a source says "from
memory" the figure was not read again; each of them is advice, never a number to build by.
"""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

DEFERS = "Local codes and a licensed person decide."
"""Stands behind every caution."""

SAFETY: dict[str, Entry] = {
    code: Entry(title, f"{explanation} {DEFERS}")
    for code, (title, explanation) in {
        "CW-SAFE-10": (
            "Several exhausts beside an open flame: refused",
            "This exhaust alone stays below the working limit for flues, but with the other fans "
            "of the house, such as a kitchen hood or a dryer, it passes it. Flue gas with carbon "
            "monoxide may then come into the room; it has no smell and kills. Use two ducts, or "
            "give the place a large opening for supply air, and have the flue checked.",
        ),
        "CW-SAFE-11": (
            "A sealed place with a flame: refused",
            "An open flame and a fan that blows air out both need air that comes in. In a place "
            "that is said to be tight the flue turns round. There is no answer to this design.",
        ),
        "CW-SAFE-12": (
            "Too little fresh air for sleepers",
            "Turning air round and cooling it brings no oxygen and takes no carbon dioxide away. "
            "A sleeper wants about 4 litres of outdoor air each second. Open a gap high and low, "
            "or let a small fan bring air in. In a tent or van: never a flame, and a permanent "
            "opening.",
        ),
        "CW-SAFE-13": (
            "Foam may get too hot",
            "With the sheet's own values the foam bears the temperature of the base, but within "
            "their tolerances it may not. Make the hot sink better, or put a material between "
            "that bears more.",
        ),
        "CW-SAFE-14": (
            "No thermal cut-out",
            "A thermal cut-out is a switch that opens when it gets hot. Bolted, not taped, to "
            "the hot sink and wired in series with the modules, it stops them when the hot fan "
            "has failed. Take one that must be reset by hand, or one that works once. Test it by "
            "blocking the fan, while you watch.",
        ),
        "CW-SAFE-15": (
            "The cut-out opens too late",
            "When the hot fan stops, the foam would reach its limit before the cut-out opens. "
            "Take one for a lower temperature, or a spacer of mineral wool.",
        ),
        "CW-SAFE-16": (
            "The cut-out opens in normal work",
            "A cut-out that opens on every hot day will be bridged by somebody. It usually lies "
            "15 to 20 K above the hottest normal value, and below what the foam bears. If both "
            "cannot be had, the hot sink is too small or the foam lies too near.",
        ),
        "CW-SAFE-17": (
            "Bare foam towards a room",
            "All foams burn or char, and their smoke is poisonous. Where people are, building "
            "codes want a board over the foam that holds a fire back for some minutes. A mark of "
            "a plastic part that it does not burn says nothing about the foam behind it.",
        ),
        "CW-SAFE-18": (
            "Foam near something hot",
            "Foam that lies bare beside the hot sink, or around the hot duct, is warmer than it "
            "bears in the long run. Leave 20 mm of air or put mineral wool or sheet metal "
            "between.",
        ),
        "CW-SAFE-19": (
            "Air for what is blown out",
            "What a fan blows out must come in somewhere. The building code of one state "
            "(Minnesota) lets a house do without an opening up to a flow for each square metre of "
            "its floor: less where something burns with an open flue. All fans that run together "
            "count. Your own local "
            "code decides.",
        ),
        "CW-SAFE-20": (
            "Who wires the mains side?",
            "A bought supply in a closed case, with low voltage coming out, keeps mains away from "
            "you. If you wire mains yourself, the whole check list for it applies: earth, fuse, "
            "both poles, strain relief, distances. Have it done or tested.",
        ),
        "CW-SAFE-21": (
            "A supply inside foam: refused",
            "A supply turns a tenth of its power into heat. Inside foam that heat stays, until "
            "the supply fails or the foam melts and burns. Put it into its own metal box with air "
            "around it.",
        ),
        "CW-SAFE-22": (
            "Mains inside the cold box",
            "Water condenses where it is cold, and dirt with water conducts. Keep every part that "
            "carries mains outside the box and never below a path that drips. A thermostat whose "
            "contacts carry mains belongs outside too.",
        ),
        "CW-SAFE-23": (
            "Voltage that can kill",
            "Up to 120 V of smooth direct current count as safety extra-low voltage if the supply "
            "separates it from mains. Above that it is as dangerous as mains. Wire modules side "
            "by side instead of in one long string.",
        ),
        "CW-SAFE-24": (
            "Low voltage that can start a fire",
            "Low voltage does not shock, but a strong supply heats a bad joint or a pinched wire "
            "until it glows. Only a weak supply (class 2 of the North American code: up to 100 W "
            "at up to 30 V) is taken for harmless. Fuse every branch at its start.",
        ),
        "CW-SAFE-25": (
            "A wire without a fuse",
            "The fuse protects the wire, so it stands where the wire begins, and is no larger "
            "than the wire bears. One fuse for each branch.",
        ),
        "CW-SAFE-26": (
            "Leakage currents add up",
            "Every supply leads a small current to earth on purpose, through capacitors against "
            "radio noise. Several on one plug may pass the limit for a portable appliance, and "
            "may trip the protective switch of the outlet. The figure stands in the data sheet.",
        ),
        "CW-SAFE-27": (
            "The mains inlet is overloaded or too warm: refused",
            "Inlets are made for 2.5, 10 or 16 A and for room air of up to 40 degC. In the hot "
            "side's air, or above their current, their pins char. They are not made for direct "
            "current either.",
        ),
        "CW-SAFE-28": (
            "A switch that cannot break direct current: refused",
            "A mark such as “250 V” with a wavy line holds for alternating current. Direct "
            "current keeps its arc alight. Take switches, fuses and relays marked for direct "
            "current at your voltage.",
        ),
        "CW-SAFE-29": (
            "The switch opens one conductor only",
            "Where a plug can be turned round nobody knows which conductor is live. A switch that "
            "opens both makes the machine dead in either position.",
        ),
        "CW-SAFE-30": (
            "The supply stands in hot air",
            "Data sheets say how much less a supply may give in warm air; often it begins at "
            "50 degC. Count with the air at the supply, not with that of the room.",
        ),
        "CW-SAFE-31": (
            "Not food-safe",
            "Food that spoils wants 5 degC or less all the time. A cooler of this kind follows "
            "the weather, gets warm when a fan stops, and was tested by nobody. Keep drinks in "
            "it, not meat.",
        ),
        "CW-SAFE-32": (
            "No medical refrigerator",
            "Medicine that must be kept cool is spoilt by hours of warmth and by freezing, and "
            "nobody sees it. Use a certified refrigerator and ask a pharmacist.",
        ),
    }.items()
}  # fmt: skip

_FLUES = (
    "working limits of depressurisation tests (BPI practice; CAN/CGSB-51.71; from memory), method "
    "ASTM E1998"
)
_FOAM = "service temperatures in makers' general declarations; EN 13501-1 for the fire classes"
_PRACTICE = "common practice, no published figure"
_BURNS = "ISO 13732-1, burns from hot surfaces (from memory)"
_LEAKS = "IEC 60335-1, clause 13.2, read in copies"
_LOW = "IEV 826-12-31 and IEC 61140, read in copies"

SOURCES: dict[str, str] = {
    "CW-SAFE-01": _FLUES,
    "CW-SAFE-02": _FLUES,
    "CW-SAFE-03": _PRACTICE,
    "CW-SAFE-04": _FLUES,
    "CW-SAFE-05": _PRACTICE,
    "CW-SAFE-06": _BURNS,
    "CW-SAFE-07": _FOAM,
    "CW-SAFE-08": "the supply's own rating",
    "CW-SAFE-09": "the limit that the sheet sets",
    "CW-SAFE-10": f"{_FLUES}; power law of leakage, ASHRAE Fundamentals ch. 16",
    "CW-SAFE-11": _FLUES,
    "CW-SAFE-12": "EN 16798-1:2019, category III (from memory); carbon dioxide of a sleeper: "
    "Persily and de Jonge 2017 (from memory)",
    "CW-SAFE-13": _FOAM,
    "CW-SAFE-14": "IEC 60335-2-24 and 2-40, abnormal operation (topic; from memory)",
    "CW-SAFE-15": _FOAM,
    "CW-SAFE-16": _PRACTICE,
    "CW-SAFE-17": "International Residential Code, R316, thermal barrier (from memory)",
    "CW-SAFE-18": _FOAM,
    "CW-SAFE-19": "Minnesota Rules 1346.0501, table 501.4.1, read in a worked form; which burner "
    "belongs to which row from memory",
    "CW-SAFE-20": "IEC 60335-1 and the wiring code of the place; common practice",
    "CW-SAFE-21": _PRACTICE,
    "CW-SAFE-22": "IEC 60335-1: pollution degree 3 where water condenses (from memory)",
    "CW-SAFE-23": _LOW,
    "CW-SAFE-24": "NEC chapter 9, table 11(B), class 2, read in a copy; editions differ",
    "CW-SAFE-25": "IEC 60364-4-43 (from memory); common practice",
    "CW-SAFE-26": _LEAKS,
    "CW-SAFE-27": "IEC 60320-1, standard sheets, read in copies",
    "CW-SAFE-28": _PRACTICE,
    "CW-SAFE-29": _PRACTICE,
    "CW-SAFE-30": "derating in makers' general data; common practice",
    "CW-SAFE-31": "US Food Code 2017, 3-501.16 (from memory)",
    "CW-SAFE-32": "storage of medicines in the pharmacopoeias (from memory)",
    "CW-WATER-01": _PRACTICE,
    "CW-WATER-02": "IEC 60335-1: pollution degree 3 where water condenses (from memory)",
    "CW-WATER-03": _PRACTICE,
    "CW-WATER-04": "the margin that the sheet sets",
    "CW-WATER-05": _PRACTICE,
}
"""Where the figure or the habit behind each caution comes from, by code."""
