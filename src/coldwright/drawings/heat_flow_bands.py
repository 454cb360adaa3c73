"""The bands of the picture of heat: which flows it shows, each a sum of lines of the ledger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from coldwright.answers.sentences import cause_words, from_the_plug
from coldwright.answers.watts import Watts
from coldwright.sheet.models import Box, Cooler, OpenAir, PlateFinSink, Room, Sheet, WaterLoop

# Below this a flow is nothing but rounding, and no band is drawn [W].
LEAST_W = 5e-4


@dataclass(frozen=True, slots=True)
class Term:
    """One line of the ledger, or one figure, that a band is made of: W adds `sign` times it."""

    node: str
    """Node of the ledger; empty for a figure of the answer."""
    what: str
    """The line's words, or the figure's name."""
    sign: float
    W: float


@dataclass(frozen=True, slots=True)
class Band:
    """One flow of heat [W]; negative when it runs against the way it is named for."""

    id: str
    words: str
    style: str
    """How it is filled: "cold", "hot", "warm", "air" (outdoor air) or "power"."""
    terms: tuple[Term, ...]
    laws: tuple[str, ...] = ()
    figure: str = ""
    """The figure of the answer whose interval tells what widens this one's."""
    W: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "W", sum(term.sign * term.W for term in self.terms))

    def out_words(self) -> str:
        """What it is called where it leaves the place instead."""
        if self.id == "net":
            return "into the air, net"
        if self.id == "duct":
            return "into the hot duct"
        if self.style == "warm":
            way = "" if self.words.startswith(("through", "by", "from")) else "through "
            return f"out {way}{self.words}"
        return _TAKEN.get(self.id, f"to {self.words}")

    @property
    def shown(self) -> bool:
        """Whether there is anything to draw."""
        return abs(self.W) > LEAST_W


# What bands of outdoor air are called where they cool the place.
_TAKEN = {
    "brought_hot": "to outdoor air drawn in",
    "brought_cold": "to outdoor air drawn in",
    "replaced": "kept out by the air blown in",
}


@dataclass(frozen=True, slots=True)
class Flows:
    """Every band of one answer, by the way it takes through the picture."""

    causes: list[Band]
    """Into the place from its surroundings and from what stands in it."""
    over: list[Band]
    """Into the place over the top: air that comes back from outdoors or from the hot side."""
    under: list[Band]
    """Into the place from below: heat of the machine that lands there."""
    cooling: Band
    """Out of the place's air, or out of the plate, into the cold side."""
    moved: Band
    spacer: Band
    drained: Band
    """With the water that condenses, out of the air and never into the sink."""
    pumps: list[Band]
    """Pump of the cold side and pump of the hot side: into the water."""
    leaves: Band
    """With the hot air to where it is sent."""
    modules: Band
    hot_fan: Band
    cold_fan: Band
    lost_in_exhaust: Band
    lost_outside: Band
    plug: Band

    @property
    def returns(self) -> bool:
        """Whether the hot air goes back into the place."""
        return any(band.id == "hot_air" for band in self.over)

    def every(self) -> list[Band]:
        """All bands that are drawn, in the order in which a reader steps through them."""
        leaves = [] if self.returns else [self.leaves]
        one = [
            self.cooling, *self.over, *self.causes, *self.under, self.moved, self.spacer,
            self.drained, *leaves, self.plug, self.modules, self.cold_fan, self.hot_fan,
            *self.pumps, self.lost_in_exhaust, self.lost_outside,
        ]  # fmt: skip
        held = {band.id: band for band in one if band.shown}
        return list(held.values())


def flows(watts: Watts, sheet: Sheet) -> Flows:
    """Sum the ledger of an answer into bands."""
    book = _Book(watts)
    cooler = sheet.cooler
    cold_fan = Band(
        "cold_fan", "cold fan", "power", book("cold fan", "electricity"),
        ("power_at_speed", "air_temperature_rise"), "plug_power_W",
    )  # fmt: skip
    fall = book("cold sink, air", "fall of the air's enthalpy")
    plate = book("cold sink", "given load") + book("cold sink", "from the surroundings")
    cooling = Band(
        "cooling", "from the plate" if plate else "out of the air", "cold", fall or plate,
        ("enthalpy", *_sink_laws(cooler.cold_sink or ())), "cooling_W",
    )  # fmt: skip
    added = book("exhaust", "what the supply and converter lose into it")
    stream = book("hot sink, air", "rise of the air's enthalpy", -1.0)
    stream += book("hot fan", "electricity") + added
    duct = book("exhaust", "lost from the duct", -1.0)
    in_place = cooler.hot_duct is not None and cooler.hot_duct.runs_through == "place"
    comes_back = duct if in_place and not plate else ()
    lost_place, lost_exhaust, lost_outside = _losses(book, sheet)
    under = [
        Band("duct", "back from the hot duct", "warm", comes_back, ("duct_heat_loss",),
             "net_cooling_W"),
        cold_fan,
        Band("lost_place", "lost in the place", "warm", () if plate else lost_place,
             ("converter_loss", "wire_loss"), "plug_power_W"),
    ]  # fmt: skip
    leaves = Band(
        "leaves", "leaves", "hot", stream + tuple(_turned(comes_back)),
        ("enthalpy", "pressure_at_speed", *_sink_laws(cooler.hot_sink)), "plug_power_W",
    )  # fmt: skip
    causes, over = _around(watts, sheet, book, leaves, fall, cold_fan, under)
    return Flows(
        causes=[band for band in causes if band.shown],
        over=[band for band in over if band.shown],
        under=[band for band in under if band.shown] if not plate else [],
        cooling=cooling,
        moved=Band("moved", "moved by the modules", "cold",
                   book("modules", "heat into the cold faces"), ("cold_side_heat",), "cooling_W"),
        spacer=Band("spacer", "back between sinks", "warm",
                    book("cold sink", "through spacer and screws"),
                    ("rod_conductance", "slab_resistance"), "cooling_W"),
        drained=Band("drained", "with the water", "cold",
                     book("cold sink, air", "drained water", -1.0), ("liquid_enthalpy",),
                     "cooling_W"),
        pumps=[
            band
            for side in ("cold", "hot")
            if (band := Band(f"{side}_pump", f"{side} pump", "power", book(f"{side} sink", "pump"),
                             ("pump_temperature_rise",), "plug_power_W")).shown
        ],
        leaves=leaves,
        modules=Band("modules", "into the modules", "power", book("modules", "electricity"),
                     ("module_power", "module_voltage"), "plug_power_W"),
        hot_fan=Band("hot_fan", "hot fan", "power", book("hot fan", "electricity"),
                     ("power_at_speed", "air_temperature_rise"), "plug_power_W"),
        cold_fan=cold_fan,
        lost_in_exhaust=Band("lost_exhaust", "lost into the exhaust", "warm", lost_exhaust,
                             ("converter_loss", "wire_loss"), "plug_power_W"),
        lost_outside=Band("lost_outside", "lost outside", "warm",
                          lost_outside + (lost_place if plate else ()),
                          ("converter_loss", "wire_loss"), "plug_power_W"),
        plug=Band("plug", from_the_plug(sheet), "power", book("electricity", "from the plug"),
                  ("converter_loss",), "plug_power_W"),
    )  # fmt: skip


class _Book:
    """The ledger by kind of node: groups of modules and several sinks count together."""

    def __init__(self, watts: Watts) -> None:
        self.lines: dict[tuple[str, str], tuple[Term, ...]] = {}
        for entry in watts.ledger:
            base, comma, part = entry.node.partition(",")
            key = (base.rstrip(" 0123456789") + comma + part, entry.what)
            term = Term(entry.node, entry.what, 1.0, entry.W)
            self.lines[key] = (*self.lines.get(key, ()), term)
        self.watts = watts

    def __call__(self, node: str, what: str, sign: float = 1.0) -> tuple[Term, ...]:
        """Lines of that name; empty where the ledger has none."""
        found = self.lines.get((node, what), ())
        return found if sign > 0.0 else tuple(_turned(found))

    def value(self, name: str, sign: float = 1.0) -> tuple[Term, ...]:
        """A figure of the answer as a term."""
        return (Term("", name, sign, self.watts.values[name].value or 0.0),)


def _turned(terms: Iterable[Term]) -> Iterable[Term]:
    return (Term(term.node, term.what, -term.sign, term.W) for term in terms)


def _around(
    watts: Watts, sheet: Sheet, book: _Book, leaves: Band, fall: tuple[Term, ...], cold_fan: Band,
    under: list[Band],
) -> tuple[list[Band], list[Band]]:  # fmt: skip
    """What reaches the place from around it, and what comes over the top."""
    if not fall:
        return [
            Band("load", "given heat", "warm", book("cold sink", "given load"), (), "cooling_W"),
            Band("surroundings", "from the air around", "warm",
                 book("cold sink", "from the surroundings"), (), "cooling_W"),
        ], []  # fmt: skip
    sends_back = sheet.cooler.hot_sends_to == "place"
    if isinstance(sheet.place, OpenAir):
        over = []
        if sends_back:
            over.append(Band("hot_air", "the hot air goes into the same air", "hot", leaves.terms,
                             leaves.laws, "net_cooling_W"))  # fmt: skip
        from_air = Band("net", "from the air, net", "cold", book.value("net_cooling_W"),
                        ("enthalpy",), "net_cooling_W")  # fmt: skip
        brought = _rest("outdoor air drawn in", fall, [*over, *under, from_air])
        return [from_air, brought], over
    causes = _causes(sheet, book)
    kept_out = watts.states.get("replaced_m3_s", 0.0) < 0.0
    replaced = Band(
        "replaced", "outdoor air kept out by the air blown in" if kept_out
        else "outdoor air that replaces the exhaust", "air",
        book.value("infiltration_sensible_W") + book.value("infiltration_latent_W"),
        ("combined_flow", "infiltration_sensible", "infiltration_latent"), "net_cooling_W",
    )  # fmt: skip
    over = [replaced]
    if sends_back:
        hot_air = book("place", "hot air")
        over = [Band("hot_air", "the hot air goes into the place", "hot", leaves.terms,
                     leaves.laws, "net_cooling_W")]  # fmt: skip
        causes += [
            replaced,
            Band("brought_hot", "outdoor air with the hot air", "air",
                 hot_air + tuple(_turned(leaves.terms)), ("enthalpy",), "net_cooling_W"),
        ]  # fmt: skip
    fresh = book("place", "cold air") + fall + tuple(_turned(cold_fan.terms))
    causes.append(Band("brought_cold", "outdoor air with the cold air", "air", fresh,
                       ("enthalpy",), "cooling_W"))  # fmt: skip
    return causes, over


def _rest(words: str, out: tuple[Term, ...], into: list[Band]) -> Band:
    back = tuple(term for band in into for term in _turned(band.terms))
    return Band("brought", words, "air", out + back, ("enthalpy",), "cooling_W")


def _causes(sheet: Sheet, book: _Book) -> list[Band]:
    """Lines of an enclosed place that come from around it."""
    place = sheet.place
    assert isinstance(place, Room | Box)
    words = cause_words(sheet)
    other = words.get("windows, edges and leaks", "windows, edges and leaks")
    who = place.gain[0].name if len(place.gain) == 1 else "people and appliances"
    gaps = book("place", "outdoor air through the gaps")
    replaced = book.value("infiltration_sensible_W", -1.0)
    replaced += book.value("infiltration_latent_W", -1.0)
    walls = ("box_conductance",) if isinstance(place, Box) and place.wall else ("u_value",)
    gains = book("place", "people and appliances") + book("place", "their moisture")
    return [
        Band("walls", "through the walls", "warm", book("place", "walls"), walls, "place_air_K"),
        Band("windows", other, "warm", book("place", "windows, edges and leaks"), (),
             "place_air_K"),
        Band("sun", "sun", "warm", book("place", "sun"), ("sun_on_surface",), "place_air_K"),
        Band("gains", who, "warm", gains, ("metabolic_heat",), "place_air_K"),
        Band("gaps", "outdoor air by itself", "air", gaps + replaced,
             ("infiltration_basic", "combined_flow"), "place_air_K"),
        Band("stays", "water that stays", "warm", book("place", "condensate that stays"),
             ("liquid_enthalpy",), "cooling_W"),
        Band("sweat", "water on the walls", "warm", book("place", "water on the walls"),
             ("liquid_enthalpy",), "place_air_K"),
    ]  # fmt: skip


def _losses(book: _Book, sheet: Sheet) -> tuple[tuple[Term, ...], ...]:
    """Electrical losses by where they land: place, exhaust, outside."""
    power = sheet.power
    at: dict[str, list[Term]] = {"place": [], "exhaust": [], "outside": []}
    if power is not None:
        supply = power.supply.located if power.supply is not None else "outside"
        converter = power.converter.located if power.converter is not None else "outside"
        leads = power.wires_located or supply
    else:
        supply = converter = leads = "outside"
    for what, where in (
        ("lost in the supply", supply),
        ("lost in the converter", converter),
        ("lost in the wires", leads),
        ("into the controller", leads),
        ("lost in joints, fuses, switch and fan drives", leads),
    ):
        at[where] += book("electricity", what, -1.0)
    return tuple(tuple(terms) for terms in at.values())


def _sink_laws(sinks: Iterable[object]) -> tuple[str, ...]:
    found: list[str] = []
    for sink in sinks:
        if isinstance(sink, PlateFinSink):
            found.append("plate_fin_conductance_stephan")
        elif isinstance(sink, WaterLoop):
            found += ["block_outlet_resistance", "radiator_effectiveness_crossflow"]
    return tuple(dict.fromkeys(found))


def module_count(cooler: Cooler) -> int:
    """Modules in all groups together."""
    return sum(modules.series * modules.parallel for modules in cooler.modules)
