"""Hot faces, foam that melts and burns, and what stops the modules when a fan has stopped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from coldwright.findings import Finding
from coldwright.machine.safety.thresholds import (
    CUT_OUT_MARGIN_K,
    FOAM_LIMIT_K,
    HOT_FACE_LIMIT_K,
    SHORT_FOAM_LIMITS_K,
    TOUCH_LIMIT_K,
)
from coldwright.machine.safety.what_is_known import Asked, Case, Solved, State, caution
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.library import library
from coldwright.sheet.models import Box, DuctInsulation, Layer, Room, Sheet

Bears = Literal["always", "for hours", "not"]
_APART = (
    "a spacer of mineral wool or another board that bears the heat, 20 mm of air to other foam, "
    "and a thermal cut-out"
)


def foam_bears(material: str, temperature_K: float) -> Bears:
    """Whether a foam of the library bears a temperature: always, for hours at most, or not."""
    limit_K = foam_limit_K(material)
    if temperature_K <= limit_K:
        return "always"
    if temperature_K <= SHORT_FOAM_LIMITS_K.get(material, limit_K):
        return "for hours"
    return "not"


def hot_face(case: Case, state: State) -> Iterator[Finding]:
    """The hot face passes what the sheet allows, or else what low-melting solder bears."""
    limit = case.sheet.limits.hot_face
    limit_K = HOT_FACE_LIMIT_K if limit is None else limit.value
    if state.hot_face_K > limit_K:
        yield caution(
            case, "CW-SAFE-05", "warning", "limits.hot_face",
            f"A hot face of {display('temperature', state.hot_face_K)}",
            allowed=f"at most {display('temperature', limit_K)}",
            why="Solder of common modules creeps and melts when it stays too hot",
            action="fewer volts, a better hot sink, more air on it, and a thermal cut-out "
            "bolted to the sink",
        )  # fmt: skip


def hot_sink_limit(case: Case, state: State) -> Iterator[Finding]:
    """The hot sink passes the limit of the sheet."""
    limit = case.sheet.limits.hot_sink
    if limit is not None and state.hot_sink_K > limit.value:
        yield caution(
            case, "CW-SAFE-09", "warning", "limits.hot_sink",
            f"A hot sink of {display('temperature', state.hot_sink_K)}",
            allowed=f"at most {display('temperature', limit.value)}",
            why="It is a limit of this sheet",
            action="fewer volts or more air on the hot sink",
        )  # fmt: skip


def touch(case: Case, state: State) -> Iterator[Finding]:
    """The base of the hot sink burns skin."""
    if state.hot_sink_K > TOUCH_LIMIT_K:
        yield caution(
            case, "CW-SAFE-06", "warning", "cooler.hot_sink",
            f"The base of the hot sink reaches {display('temperature', state.hot_sink_K)}",
            why="Bare metal from about 55 °C on burns skin",
            action="a guard that hands cannot reach through, and fins out of reach",
        )  # fmt: skip


def foam_at_the_base(case: Case, state: State) -> Iterator[Finding]:
    """Foam touches a base that is hotter than it bears in the long run: refused."""
    foam = foam_beside(case.sheet)
    if foam is None:
        return
    limit_K = foam_limit_K(foam)
    allowed = f"at most {display('temperature', limit_K)}"
    where = "cooler.modules.spacer.material"
    if state.hot_sink_K > limit_K:
        short = foam_bears(foam, state.hot_sink_K) == "for hours"
        yield caution(
            case, "CW-SAFE-07", "stop", where,
            f"{foam} against a base of {display('temperature', state.hot_sink_K)}",
            allowed=allowed,
            why=("It bears that for hours only" if short else "It shrinks, then melts")
            + ", and every such foam burns",
            action=_APART,
        )  # fmt: skip
    elif state.hot_sink_high_K is not None and state.hot_sink_high_K > limit_K:
        yield caution(
            case, "CW-SAFE-13", "warning", where,
            f"A base of up to {display('temperature', state.hot_sink_high_K)} beside {foam}, "
            "counting the tolerances,",
            allowed=allowed,
            why="It shrinks, then melts, and every such foam burns",
            action=_APART,
        )  # fmt: skip


def foam_nearby(case: Case, state: State) -> Iterator[Finding]:
    """Foam that lies bare towards the hot side, or around its duct, is hotter than it bears."""
    outer = _outer_foam(case.sheet)
    if outer is not None and state.hot_sink_K > foam_limit_K(outer):
        yield caution(
            case, "CW-SAFE-18", "warning", "place.wall",
            f"Bare {outer} beside a hot sink of {display('temperature', state.hot_sink_K)}",
            allowed=f"safe above {display('temperature', foam_limit_K(outer))}",
            why="It shrinks, then melts, and every such foam burns",
            action="20 mm of air or mineral wool between, and a board or sheet metal on the foam",
        )  # fmt: skip
    duct = case.sheet.cooler.hot_duct
    if duct is None or not isinstance(duct.insulation, DuctInsulation) or state.exhaust_K is None:
        return
    around = duct.insulation.material
    if library().material(around).foam and state.exhaust_K > foam_limit_K(around):
        yield caution(
            case, "CW-SAFE-18", "warning", "cooler.hot_duct.insulation",
            f"{around} around air of {display('temperature', state.exhaust_K)}",
            allowed=f"safe above {display('temperature', foam_limit_K(around))}",
            why="It hardens, shrinks or melts, and such foam burns",
            action="mineral wool around the hot duct, or cooler air in it",
        )  # fmt: skip


def cut_out(case: Case) -> Iterator[Finding]:
    """Foam touches the hot base, or the maker says "none": something must stop the modules."""
    told, foam = case.told.cut_out, foam_beside(case.sheet)
    if isinstance(told, Quantity):
        yield from _cut_out_too_high(case, told, foam)
        return
    if told != "none" and foam is None:
        return
    beside = f" beside {foam}" if foam else ""
    yield caution(
        case, "CW-SAFE-14", "warning", "safety.cut_out",
        f"Nothing in the sheet stops the modules{beside} when the hot fan stops",
        why="Without air the hot sink gets hotter within minutes until something melts or burns",
        action='a thermal cut-out bolted to the hot sink, in series with the modules, and its '
        'temperature as cut_out = "70 degC" under [safety]',
    )  # fmt: skip


def cut_out_in_normal_work(case: Case, state: State) -> Iterator[Finding]:
    """The cut-out lies so near the hottest normal value that it will open without a fault."""
    told = case.told.cut_out
    highest_K = state.hot_sink_K if state.hot_sink_high_K is None else state.hot_sink_high_K
    if isinstance(told, Quantity) and told.value < highest_K + CUT_OUT_MARGIN_K:
        yield caution(
            case, "CW-SAFE-16", "note", "safety.cut_out",
            f"The cut-out opens at {display('temperature', told.value)} and the hot sink reaches "
            f"{display('temperature', highest_K)} in normal work",
            why="It will open on hot days, and then people bridge it",
            action="a cooler hot sink; a cut-out usually lies 15 to 20 K above the hottest "
            "normal value, yet below what the foam bears",
        )  # fmt: skip


def bare_foam(case: Case) -> Iterator[Finding]:
    """Foam is the innermost layer of a room in which people are."""
    place = case.sheet.place
    if not isinstance(place, Room):
        return
    for at, surface in enumerate(place.surface):
        if surface.layers and _is_foam(surface.layers[0]):
            where = "place.surface" + (f"[{at}]" if len(place.surface) > 1 else "")
            yield caution(
                case, "CW-SAFE-17", "note", where,
                f"{surface.layers[0].material} faces the room in “{surface.name}”",
                why="Foam burns fast and its smoke is poisonous; building codes want a board "
                "over it wherever people are",
                action="gypsum board or another board that holds a fire back, as the local code "
                "says",
            )  # fmt: skip
            return


def foam_beside(sheet: Sheet) -> str | None:
    """Foam that touches the hot base; None if there is none."""
    for modules in sheet.cooler.modules:
        if modules.spacer is not None and library().material(modules.spacer.material).foam:
            return library().material(modules.spacer.material).name
    return None


def any_foam(sheet: Sheet) -> bool:
    """Whether the sheet names any foam in walls, spacer or duct."""
    layers: list[Layer] = []
    place = sheet.place
    if isinstance(place, Box):
        layers += place.wall or ()
    if isinstance(place, Room | Box):
        layers += [layer for surface in place.surface for layer in surface.layers or ()]
    duct = sheet.cooler.hot_duct
    around = duct is not None and isinstance(duct.insulation, DuctInsulation)
    return foam_beside(sheet) is not None or around or any(_is_foam(layer) for layer in layers)


def _cut_out_too_high(case: Case, told: Quantity, foam: str | None) -> Iterator[Finding]:
    if foam is not None and told.value > foam_limit_K(foam):
        yield caution(
            case, "CW-SAFE-15", "warning", "safety.cut_out",
            f"A cut-out that opens at {display('temperature', told.value)}",
            allowed=f"at most the {display('temperature', foam_limit_K(foam))} that {foam} bears",
            why="The foam would melt before the modules stop",
            action="a cut-out for a lower temperature, or a spacer that bears more",
        )  # fmt: skip


def _outer_foam(sheet: Sheet) -> str | None:
    place = sheet.place
    if isinstance(place, Box) and place.wall and _is_foam(place.wall[-1]):
        return place.wall[-1].material
    return None


def _is_foam(layer: Layer) -> bool:
    known = library()
    listed = layer.conductivity is None and layer.insulance is None
    return listed and known.material(layer.material).foam


def foam_limit_K(material: str) -> float:
    """Temperature [K] that a foam of the library bears for long; 75 °C where none is given."""
    hottest = library().material(material).hottest
    return FOAM_LIMIT_K if hottest is None else hottest.value


ASKED: tuple[Asked, ...] = (cut_out, bare_foam)
SOLVED: tuple[Solved, ...] = (
    hot_face,
    hot_sink_limit,
    touch,
    foam_at_the_base,
    foam_nearby,
    cut_out_in_normal_work,
)
