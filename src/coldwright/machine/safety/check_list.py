"""The check list: what to do by hand, in the order of the work, and what a licensed person does.

A step is signed off by its code, so a code never changes its meaning and is never used again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coldwright.machine.safety import conditions as when
from coldwright.machine.safety.what_is_known import Case, case_of
from coldwright.sheet.models import Sheet

STAGES: tuple[str, ...] = (
    "Before buying",
    "While building",
    "Before the first power",
    "First power-up",
    "Every season",
)
_BUY, _BUILD, _BEFORE, _FIRST, _SEASON = STAGES
LICENSED = "Only a licensed person"


@dataclass(frozen=True, slots=True)
class Item:
    """One step: its code, when in the work, what to do, why, and in which designs it applies."""

    code: str
    stage: str
    text: str
    why: str
    applies: Callable[[Case], bool]
    source: str = "common practice"


def check_list(sheet: Sheet) -> list[Item]:
    """The steps that apply to a design, in the order of the work."""
    case = case_of(sheet)
    return [item for item in ITEMS if item.applies(case)]


def licensed_list(sheet: Sheet) -> list[Item]:
    """What only a licensed person may do or test in this design."""
    case = case_of(sheet)
    return [item for item in LICENSED_ITEMS if item.applies(case)]


ITEMS: tuple[Item, ...] = (
    Item(
        "buy-supply", _BUY,
        "Choose a finished low-voltage supply in a closed case, with the safety mark of your "
        "country. Never open it.",
        "Its maker has kept mains apart from everything you touch.",
        when.mains, "IEC 61140, protection by safety extra-low voltage",
    ),
    Item(
        "buy-outlet", _BUY,
        "See that the outlet is earthed and sits behind a protective switch that trips on leakage "
        "current: 30 mA, in North America 5 mA.",
        "It cuts the current before it stops a heart, above all in vans, tents and wet rooms.",
        when.mains, "IEC 60364-4-41; US code, ground-fault protection (from memory)",
    ),
    Item(
        "buy-flame", _BUY,
        "Look at every heater, water heater, stove and fireplace that shares the air, and write "
        "what you found into the sheet: combustion.",
        "An exhaust can turn a flue round and bring carbon monoxide in.",
        when.flame, "ASTM E1998, the subject of the method",
    ),
    Item(
        "buy-alarm", _BUY,
        "Buy a carbon monoxide alarm and hang it where people stay or sleep.",
        "The gas has no smell and no colour, and kills people in their sleep.",
        when.flame,
    ),
    Item(
        "buy-cut-out", _BUY,
        "Buy a thermal cut-out, a switch that opens when it gets hot: one that is reset by hand "
        "or works once, for the current and the direct voltage of the modules.",
        "It is what stops the modules when the hot fan has failed.",
        when.always, "IEC 60335-2-24 and 2-40, abnormal operation (topics, from memory)",
    ),
    Item(
        "buy-direct", _BUY,
        "Take switches, fuses and relays that are marked for direct current at your voltage.",
        "Direct current keeps its arc alight; a mark for alternating current says nothing.",
        when.always,
    ),
    Item(
        "buy-foam", _BUY,
        "Read the foam's data sheet: how hot it may get for long, and its fire class (Europe: A1 "
        "to F, F is the worst).",
        "Polystyrene ends at about 75 °C; every such foam burns.",
        when.foam, "EN 13501-1; service limits in makers' general declarations",
    ),
    Item(
        "build-blades", _BUILD,
        "Cut foam with a long sharp blade, away from the hand and on a firm board. Cover blades "
        "that lie about.",
        "Most injuries of such a build are cuts.",
        when.foam,
    ),
    Item(
        "build-hot-wire", _BUILD,
        "Cut with a hot wire only in moving air, and wear a mask against dust of foam and fibre.",
        "Hot foam gives off fumes that harm.",
        when.foam,
    ),
    Item(
        "build-glue", _BUILD,
        "Try glue, paint and sealant on a scrap of the foam first. Use those made for foam. With "
        "spray glue: windows open, no sparks, the new fans off.",
        "Solvents dissolve polystyrene foam, and their vapour catches fire.",
        when.foam,
    ),
    Item(
        "build-edges", _BUILD,
        "Wear gloves at fins and sheet metal, and glasses for drilling and crimping. Two people "
        "lift what weighs more than 20 kg.",
        "Fins and broken ceramic cut like glass.",
        when.always,
    ),
    Item(
        "build-earth", _BUILD,
        "Join every metal part that hands can reach, sinks and fan guards too, to the protective "
        "earth: each with its own crimped ring, a toothed washer and a green-yellow wire (North "
        "America: green or bare), not through a hinge or paint. Leave that wire the longest.",
        "If a live wire touches the metal, a fuse must blow, not a person. The longest wire "
        "comes off last.",
        when.mains_by_hand, "IEC 60335-1, clause 27 (from memory); IEC 60445 for the colour",
    ),
    Item(
        "build-poles", _BUILD,
        "Use a main switch that opens both conductors of the mains.",
        "A plug that can be turned round leaves the machine live with one pole open.",
        when.mains_by_hand,
    ),
    Item(
        "build-line-fuse", _BUILD,
        "Put the mains fuse into the live conductor, before the switch or in the inlet. Never "
        "fuse the earth, never only the neutral.",
        "A fuse elsewhere leaves the machine live when it has blown.",
        when.mains_by_hand,
    ),
    Item(
        "build-strain", _BUILD,
        "Clamp every cord on its outer sheath where it enters, pull and twist it, and line holes "
        "in metal with a rubber ring. No knots. No cord across the hot sink.",
        "Whoever trips over the cord must not pull a live wire off.",
        when.mains,
    ),
    Item(
        "build-apart", _BUILD,
        "Lead mains and low voltage in separate compartments, at least 8 mm between mains and "
        "anything that can be touched.",
        "One chafed wire must not put mains on the low-voltage side; damp dirt conducts.",
        when.mains_by_hand, "IEC 60335-1, creepage at pollution degree 3 (from memory)",
    ),
    Item(
        "build-dry-mains", _BUILD,
        "Set everything that carries mains above or beside the cold side, never below it and "
        "never inside the cold box.",
        "Condensed water drips, and finds the supply.",
        when.mains, "IEC 60335-1, pollution degree 3 where water condenses (from memory)",
    ),
    Item(
        "build-supply-air", _BUILD,
        "Give the supply a metal box or free air, with nothing soft around it. No supply in foam.",
        "A tenth of its power is heat that must get out.",
        when.mains,
    ),
    Item(
        "build-branch-fuse", _BUILD,
        "Put one fuse at the start of every branch of the low voltage, no larger than the wire "
        "bears.",
        "A strong supply makes a pinched wire glow without any shock.",
        when.always, "IEC 60364-4-43 (from memory)",
    ),
    Item(
        "build-battery", _BUILD,
        "Put a fuse within a hand's width of the battery's terminal, one whose breaking current "
        "is above the battery's short-circuit current. Cover the terminals.",
        "A battery drives hundreds of amperes through a spanner.",
        when.battery, "ABYC E-11, about 18 cm (from memory)",
    ),
    Item(
        "build-joints", _BUILD,
        "Crimp stranded wire with the right tool; do not tin it for a screw. Tug every wire. "
        "Label every plug with what it is and which side is plus.",
        "Solder creeps, the joint loosens and heats. A plug the wrong way round turns hot and "
        "cold about.",
        when.always,
    ),
    Item(
        "build-foam-gap", _BUILD,
        "Keep 20 to 25 mm of air, mineral wool or sheet metal between foam and every part that "
        "can pass 60 °C when a fan stops.",
        "Foam melts away from heat, then burns.",
        when.foam,
    ),
    Item(
        "build-foam-cover", _BUILD,
        "Cover foam that faces people with the board that your building code wants.",
        "Bare foam burns through in minutes, with poisonous smoke.",
        when.foam, "International Residential Code R316 (from memory)",
    ),
    Item(
        "build-cut-out", _BUILD,
        "Bolt the thermal cut-out to the hot sink, not with tape, in series with the modules' "
        "supply: 15 to 20 K above the hottest normal value, and below what the foam bears.",
        "Tape lets go when it gets warm, just when it matters.",
        when.always,
    ),
    Item(
        "build-guard", _BUILD,
        "Guard fans and hot sink so that no finger, curtain, cord or bedding gets in.",
        "From about 55 °C bare metal burns, and fans bite.",
        when.always, "ISO 13732-1 (from memory)",
    ),
    Item(
        "build-drip", _BUILD,
        "Slope the tray to its drain, hang a loop into every wire so that drops fall off before "
        "the electrics, and seal wire holes in the foam.",
        "Water follows wires, and wet foam insulates half as well.",
        when.water,
    ),
    Item(
        "build-opening", _BUILD,
        "Give the sleeping place an opening that cannot be shut, or a fan that brings outdoor air.",
        "A cooler turns the same air round; sleepers use it up.",
        when.sleepers, "EN 16798-1:2019, category III, 4 L/s each (from memory)",
    ),
    Item(
        "check-pull", _BEFORE,
        "With everything unplugged, tug every wire once more and compare each with the drawing, "
        "plus and minus.",
        "Fans and converters die of a reversed plug, at once.",
        when.always,
    ),
    Item(
        "check-short", _BEFORE,
        "With everything unplugged, measure the low-voltage side between plus and minus. Look "
        "for the cause if it is near nought with the modules taken off.",
        "A forgotten strand is found cheaply now.",
        when.always,
    ),
    Item(
        "check-earth", _BEFORE,
        "Have the earth tested by a licensed person before mains comes on (see below).",
        "The small current of a meter passes a strand that melts in a fault.",
        when.mains_by_hand, "EN 50106, read in a copy",
    ),
    Item(
        "check-wait", _BEFORE,
        "After unplugging, wait a minute before you touch the pins. Do not open the supply: its "
        "capacitor holds more than 300 V for minutes.",
        "A charged capacitor shocks without any plug.",
        when.mains, "IEC 60335-1, clause 22.5: 34 V one second after unplugging, read in copies",
    ),
    Item(
        "check-water", _BEFORE,
        "Pour a cup of water over the tray and see where it goes.",
        "Better now than over a live machine.",
        when.water,
    ),
    Item(
        "check-flue", _BEFORE,
        "Have flue and chimney checked by a licensed person with this exhaust running, before "
        "anybody stays there.",
        "Numbers of a program do not prove a flue.",
        when.flame, "ASTM E1998 or the local method",
    ),
    Item(
        "first-one", _FIRST,
        "Begin with one module on a supply whose current is limited. Watch the hot sink with a "
        "thermometer, not with the hand.",
        "A module without a good sink is too hot in seconds.",
        when.always,
    ),
    Item(
        "first-stay", _FIRST,
        "Stay with it, awake, with a fire extinguisher at hand and nothing near that burns.",
        "Most faults show within the first hours.",
        when.always,
    ),
    Item(
        "first-fan", _FIRST,
        "Block the hot fan once, attended, and see that the cut-out stops the modules. Write the "
        "time and the temperature down.",
        "A protection that was never tried is a hope.",
        when.always,
    ),
    Item(
        "first-warm", _FIRST,
        "After half an hour switch off, unplug, and look for joints, plugs and fuse-holders that "
        "are warm or brown.",
        "A bad joint tells of itself by heat.",
        when.always,
    ),
    Item(
        "first-leak", _FIRST,
        "See that the protective switch of the outlet holds with all supplies on.",
        "Leakage currents of several supplies add up.",
        when.several_supplies, "IEC 60335-1, clause 13.2, read in copies",
    ),
    Item(
        "first-food", _FIRST,
        "Write on it: not for food that spoils, not for medicine.",
        "Others will take it for a refrigerator.",
        when.keeps_goods, "US Food Code 2017, 3-501.16 (from memory)",
    ),
    Item(
        "season-test", _SEASON,
        "Press the test buttons of the outlet's protective switch and of every alarm.",
        "Both age unseen.",
        when.mains,
    ),
    Item(
        "season-alarm", _SEASON,
        "Test the carbon monoxide alarm, look at the date on it, and have the flue checked.",
        "Its sensor lasts some years only.",
        when.flame,
    ),
    Item(
        "season-dust", _SEASON,
        "Unplug, wait, and brush the dust out of fins, fans and supply. Spin every fan by hand.",
        "A dusty hot sink runs hotter, and a stuck fan starts what the cut-out must end.",
        when.always,
    ),
    Item(
        "season-drain", _SEASON,
        "Clean tray and drain, look for mould and for wet foam.",
        "A blocked drain leads the water to the electrics.",
        when.water,
    ),
    Item(
        "season-joints", _SEASON,
        "Unplug, tug the wires, look for browned plugs, chafed cords and shrunken foam.",
        "Joints loosen by warming up and cooling down.",
        when.always,
    ),
    Item(
        "season-cut-out", _SEASON,
        "Block the hot fan once more, attended: the cut-out must open.",
        "Contacts stick after years.",
        when.always,
    ),
)  # fmt: skip

LICENSED_ITEMS: tuple[Item, ...] = (
    Item(
        "licensed-mains", LICENSED,
        "New outlets, fixed wiring, and everything that carries mains and is not a bought, "
        "closed supply.",
        "Most codes allow it to nobody else.",
        when.mains, "the wiring code of the place",
    ),
    Item(
        "licensed-earth", LICENSED,
        "Test of the earth: 10 A or more from a source of at most 12 V through every touchable "
        "metal part. They look for at most 0.1 ohm, the cord apart.",
        "A multimeter cannot prove it.",
        when.mains_by_hand, "EN 50106 and IEC 60335-1, clause 27.5, read in a copy or from memory",
    ),
    Item(
        "licensed-insulation", LICENSED,
        "Test of the insulation with high voltage. Never try it yourself.",
        "It kills, and it hides damage in what it was done to wrongly.",
        when.mains_by_hand, "IEC 60335-1, clauses 13.3 and 16.3 (from memory)",
    ),
    Item(
        "licensed-leakage", LICENSED,
        "Measurement of the leakage current of the warm machine. They look for at most 0.75 mA "
        "with an earthed plug.",
        "It needs an instrument that stands for a human body.",
        when.mains, "IEC 60335-1, clause 13.2, read in copies",
    ),
    Item(
        "licensed-flue", LICENSED,
        "Every work on gas, oil and wood appliances, and the test of the flue with this exhaust "
        "and all other fans running.",
        "Carbon monoxide leaves no second try.",
        when.flame, "ASTM E1998; gas and heating codes of the place",
    ),
    Item(
        "licensed-wall", LICENSED,
        "Holes in walls and roofs that keep fire from spreading or carry a load.",
        "A duct through such a wall lets a fire through.",
        when.through_a_wall, "building code of the place",
    ),
    Item(
        "licensed-vehicle", LICENSED,
        "Connection to the battery or the mains of a vehicle or boat, if it stands in one.",
        "Fault currents and corrosion have rules of their own there.",
        when.battery, "ABYC E-11 and ISO 13297 (topics, from memory)",
    ),
    Item(
        "licensed-certificate", LICENSED,
        "Safety marks. Standards exist for cooling appliances (IEC 60335-2-24 and 2-40), and a "
        "single build is certified to none of them: do not sell it, lend it or let it.",
        "An insurer may ask for it after a fire.",
        when.always, "IEC 60335-2-24 and 2-40 (topics, from memory)",
    ),
)  # fmt: skip
