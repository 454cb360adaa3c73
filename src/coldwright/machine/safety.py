"""Every rule that keeps people and parts from harm, each with its source. One file, on purpose.

The rules look at the sheet and at a solved state; they give findings, never numbers to build by.
Local codes and licensed people outrank all of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.findings import Finding, Severity
from coldwright.quantities.glossary import display
from coldwright.sheet.library import library
from coldwright.sheet.models import Box, Room, Sheet

# Under-pressure that may reverse the flue of a natural-draught appliance [Pa]. Working limit of
# depressurisation tests (BPI practice, CAN/CGSB-51.71), from memory; ASTM E1998 is the method.
FLUE_LIMIT_PA = 2.0
# Long-term hot side of modules with low-melting solder [K]. Common practice, no source.
HOT_FACE_LIMIT_K = 273.15 + 80.0
# Bare metal that is touched briefly burns from about here [K]. ISO 13732-1, from memory.
TOUCH_LIMIT_K = 273.15 + 55.0
# Expanded and extruded polystyrene in the long run [K]; makers' declarations say 75 degC.
FOAM_LIMIT_K = 273.15 + 75.0
FROST_K = 273.15


@dataclass(frozen=True)
class State:
    """What the rules look at: one solved state, worst over the time that is judged."""

    place_pressure_Pa: float
    hot_face_K: float
    hot_sink_K: float
    cold_face_K: float
    cold_sink_K: float
    dew_point_K: float | None
    condensate_kg_s: float
    fog_ratio: float
    supply_share: float | None = None
    saturated: bool = False
    """Whether the place's own air is so moist that water settles on its walls."""


def exhausts(sheet: Sheet) -> bool:
    """Whether the cooler blows air of the place outdoors."""
    return sheet.cooler.hot_takes_from == "place" and sheet.cooler.hot_sends_to == "outdoors"


def before_solving(sheet: Sheet) -> list[Finding]:
    """Rules that need no solved state: what to ask before an exhaust is advised at all."""
    place = sheet.place
    if not isinstance(place, Room | Box) or not exhausts(sheet):
        return []
    if place.combustion == "not known":
        return [
            _finding(
                sheet,
                "CW-SAFE-02",
                "warning",
                "place.combustion",
                "It is not known whether something burns in the same air",
                why="An exhaust lowers the pressure and can pull flue gas with carbon monoxide, "
                "which has no smell, into the place",
                action='combustion = "none", "sealed" or "open" after a look at every heater, '
                "stove, water heater and fireplace that shares the air",
            )
        ]
    if place.combustion == "sealed":
        return [
            _finding(
                sheet,
                "CW-SAFE-03",
                "note",
                "place.combustion",
                "A sealed appliance takes its air from outdoors",
                why="Worn seals still leak",
                action="a carbon monoxide alarm and a check by a licensed person",
            )
        ]
    return []


def of_state(sheet: Sheet, state: State) -> list[Finding]:
    """Rules on a solved state."""
    found: list[Finding] = []
    place = sheet.place
    if isinstance(place, Room | Box) and exhausts(sheet) and place.combustion == "open":
        pressure = display("pressure", state.place_pressure_Pa)
        if state.place_pressure_Pa > FLUE_LIMIT_PA:
            found.append(
                _finding(
                    sheet, "CW-SAFE-01", "stop", "place.combustion",
                    f"The exhaust lowers the pressure by {pressure} beside an open flame",
                    allowed="below 2 Pa",
                    why="It can reverse the flue and bring carbon monoxide, which has no smell, "
                    "into the place: do not run it",
                    action='hot_takes_from = "outdoors" (two ducts) or a large opening for supply '
                    "air, a carbon monoxide alarm, and a flue check by a licensed person",
                )
            )  # fmt: skip
        else:
            found.append(
                _finding(
                    sheet, "CW-SAFE-04", "warning", "place.combustion",
                    f"The exhaust lowers the pressure by {pressure} beside an open flame",
                    why="Wind, a kitchen hood or a dryer add to it, and flues differ",
                    action="two ducts, a carbon monoxide alarm, and a flue check by a licensed "
                    "person before the first run",
                )
            )  # fmt: skip
    limits = sheet.limits
    limit_K = HOT_FACE_LIMIT_K if limits.hot_face is None else limits.hot_face.value
    if state.hot_face_K > limit_K:
        found.append(
            _finding(
                sheet, "CW-SAFE-05", "warning", "limits.hot_face",
                f"The hot face reaches {display('temperature', state.hot_face_K)}",
                allowed=f"at most {display('temperature', limit_K)}",
                why="Solder of common modules creeps and melts when it stays too hot",
                action="fewer volts, a better hot sink, more air on it, and a thermal cut-out "
                "bolted to the sink",
            )
        )  # fmt: skip
    if limits.hot_sink is not None and state.hot_sink_K > limits.hot_sink.value:
        found.append(
            _finding(
                sheet, "CW-SAFE-09", "warning", "limits.hot_sink",
                f"The base of the hot sink reaches {display('temperature', state.hot_sink_K)}",
                allowed=f"at most {display('temperature', limits.hot_sink.value)}",
                why="It is a limit of this sheet",
                action="fewer volts or more air on the hot sink",
            )
        )  # fmt: skip
    if state.hot_sink_K > TOUCH_LIMIT_K:
        found.append(
            _finding(
                sheet, "CW-SAFE-06", "warning", "cooler.hot_sink",
                f"The base of the hot sink reaches {display('temperature', state.hot_sink_K)}",
                why="Bare metal from about 55 °C on burns skin",
                action="a guard that hands cannot reach through, and fins out of reach",
            )
        )  # fmt: skip
    foam = _foam_beside(sheet)
    if foam is not None and state.hot_sink_K > foam[1]:
        found.append(
            _finding(
                sheet, "CW-SAFE-07", "warning", foam[2],
                f"{foam[0]} lies against a base of {display('temperature', state.hot_sink_K)}",
                allowed=f"at most {display('temperature', foam[1])}",
                why="It shrinks, then melts, and every such foam burns",
                action="a spacer of mineral wool or another board that bears the heat, 20 mm of "
                "air to other foam, and a thermal cut-out",
            )
        )  # fmt: skip
    if state.cold_sink_K < FROST_K and state.condensate_kg_s > 0.0:
        found.append(
            _finding(
                sheet, "CW-WATER-01", "warning", "cooler.cold_sink",
                f"The cold sink is at {display('temperature', state.cold_sink_K)} and takes water "
                "out of the air",
                why="Frost grows between the fins until no air passes; the numbers hold for a "
                "sink without frost, and the heat of freezing is not in them",
                action="fewer volts, more air, or pauses for thawing",
            )
        )  # fmt: skip
    if state.condensate_kg_s > 1e-7:  # a third of a gram an hour
        rate = state.condensate_kg_s * 3.6e6
        amount = f"{rate:.0f} g/h" if rate >= 10 else f"{rate:.1f} g/h"
        found.append(
            _finding(
                sheet, "CW-WATER-02", "note", "cooler.condensate",
                f"{amount} of water runs off the cold sink",
                why="Water must not reach wires, the supply or the inside of the foam",
                action="a sloped tray, a drain with a trap, drip loops in the wires, and no mains "
                "part below",
            )
        )  # fmt: skip
    margin = limits.dew_point_margin
    if margin is not None and state.dew_point_K is not None:
        have_K = state.cold_sink_K - state.dew_point_K
        if have_K < margin.value:
            found.append(
                _finding(
                    sheet, "CW-WATER-04", "warning", "limits.dew_point_margin",
                    f"The cold sink is {have_K:.1f} K above the dew point of its air",
                    allowed=f"at least {margin.value:.1f} K",
                    why="Closer to it the sink gets wet",
                    action="fewer volts or more air",
                )
            )  # fmt: skip
    if state.fog_ratio > 0.0:
        found.append(
            _finding(
                sheet, "CW-WATER-03", "note", "cooler.cold_sink",
                "The cold air leaves as fog",
                why="It carries fine water into the place, where it wets what it meets",
                action="more air over the cold sink",
            )
        )  # fmt: skip
    if state.saturated:
        found.append(
            _finding(
                sheet, "CW-WATER-05", "warning", "place",
                "The air of the place is saturated",
                why="Moisture comes in faster than it leaves, so water settles on the walls",
                action='condensate = "drained", or less moisture',
            )
        )  # fmt: skip
    if state.supply_share is not None and state.supply_share > 1.0:
        found.append(
            _finding(
                sheet, "CW-SAFE-08", "warning", "power.supply.rated_power",
                f"The supply gives {100 * state.supply_share:.0f} % of its rated power",
                allowed="at most 100 %",
                why="It overheats, shuts down, or fails",
                action="a larger supply or fewer volts",
            )
        )  # fmt: skip
    return found


def _foam_beside(sheet: Sheet) -> tuple[str, float, str] | None:
    """Foam that touches the hot base: name, its long-term limit [K], its key."""
    for modules in sheet.cooler.modules:
        if modules.spacer is not None:
            material = library().material(modules.spacer.material)
            if material.foam:
                hottest = FOAM_LIMIT_K if material.hottest is None else material.hottest.value
                return material.name, hottest, "cooler.modules.spacer.material"
    return None


def _finding(
    sheet: Sheet,
    code: str,
    severity: Severity,
    where: str,
    given: str,
    *,
    allowed: str = "",
    why: str = "",
    action: str = "",
) -> Finding:
    return Finding(
        code,
        severity,
        where,
        given,
        allowed,
        why,
        action,
        sheet.line(where),
        sheet.file,
    )
