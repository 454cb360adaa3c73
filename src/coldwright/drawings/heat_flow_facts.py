"""What the picture of heat says in words: temperatures by node, headings, lines of its labels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.answers.watts import Watts
from coldwright.drawings.heat_flow_bands import LEAST_W, Band, Flows, module_count
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Layer, OpenAir, Plate, Room, Sheet

# Temperatures nearer than this read alike, and one of them is enough [K].
_ALIKE_K = 0.25
_KEEPS_HEAT_W_M2K = 0.08
_PLACES = {"room": "the room", "box": "the box", "open_air": "open air", "plate": "the plate"}


@dataclass(frozen=True, slots=True)
class Node:
    """One temperature on the ladder."""

    name: str
    K: float
    style: str
    """"cold", "hot", "place", "outdoors" or "goal"."""


@dataclass(frozen=True, slots=True)
class WallLayer:
    """One layer of a wall in the cut."""

    thickness_m: float
    insulates: bool


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything the layouts write, besides the bands themselves."""

    watts: Watts
    sheet: Sheet
    flows: Flows

    def K(self, name: str) -> float:
        """A temperature of the answer or of its states; NaN where there is none."""
        value = self.watts.values.get(name)
        if value is not None:
            return math.nan if value.value is None else value.value
        return self.watts.states.get(name, math.nan)

    @property
    def has_air(self) -> bool:
        """Whether the cold side cools air."""
        return not isinstance(self.sheet.place, Plate)

    @property
    def enclosed(self) -> bool:
        """Whether walls are around the place."""
        return isinstance(self.sheet.place, Room | Box)

    @property
    def place_K(self) -> float:
        """Temperature of what is kept cool."""
        return self.K("place_K") if self.has_air else self.K("plate_K")

    @property
    def place_name(self) -> str:
        """What the left part of the picture is called."""
        return _PLACES[self.sheet.place.kind]

    def lift_words(self) -> str:
        """Difference across the modules, in few signs."""
        lift_K = self.K("lift_K")
        return display("lift_K", lift_K, digits=1 if abs(lift_K) < 10.0 else None)

    def moved_words(self) -> str:
        """The heading of the cooler."""
        moved = self.flows.moved
        if abs(moved.W) <= LEAST_W:
            return "nothing moved"
        return f"{heat(moved)} {'moved' if moved.W > 0.0 else 'runs back'}"

    def under_place(self) -> list[str]:
        """Size of the place and the layers of its wall."""
        place = self.sheet.place
        if isinstance(place, Plate):
            return []
        if isinstance(place, OpenAir):
            return ["no walls: the air is given"]
        sides = [place.length.value, place.width.value, place.height.value]
        unit, factor = ("m", 1.0) if max(sides) >= 1.0 else ("cm", 100.0)
        size = " × ".join(f"{side * factor:.3g}" for side in sides)
        lines = [f"{size}{THIN_SPACE}{unit}"]
        wall = main_wall(self.sheet)
        if wall and all(layer.thickness is not None for layer in wall):
            lines.append(
                ", ".join(
                    f"{layer.thickness.value * 1000.0:.3g}{THIN_SPACE}mm {layer.material}"
                    for layer in wall
                    if layer.thickness is not None
                )
            )
        elif place.heat_loss is not None:
            lines.append(f"loses {display('thermal_conductance', place.heat_loss.value)}")
        return lines

    def modules_words(self) -> tuple[str, str]:
        """What goes into the modules, and at which volts and amperes."""
        count = module_count(self.sheet.cooler)
        noun = "module" if count == 1 else f"{count} modules"
        values = self.watts.values
        electric = (
            f"{display('voltage_V', values['voltage_V'].value)}, "
            f"{display('current_A', values['current_A'].value)}"
        )
        band = self.flows.modules
        way = "out of" if band.W < -LEAST_W else "into"
        return f"{heat(band)} {way} {'the ' if count == 1 else ''}{noun}", electric

    def stream_words(self, side: str) -> str:
        """Flow of the air of one side."""
        return display(f"{side}_flow_m3_s", self.watts.values[f"{side}_flow_m3_s"].value)

    def runs(self, side: str) -> bool:
        """Whether air moves on that side."""
        value = self.watts.values.get(f"{side}_flow_m3_s")
        return value is not None and value.value is not None and value.value > 0.0

    def water(self) -> tuple[str, str]:
        """Condensate, and what becomes of it in two words; empty where none forms."""
        value = self.watts.values["condensate_kg_s"].value
        if value is None or value * 3.6e6 < 0.05:
            return "", ""
        where = {
            "drained": "drained",
            "stays in the place": "stays inside",
            "onto the hot sink": "to hot sink",
        }[self.sheet.cooler.condensate]
        return display("condensate_kg_s", value), where

    def over_end(self, band: Band) -> str:
        """What is added to the name of a band over the top when it cools the place."""
        kept_out = self.watts.states.get("replaced_m3_s", 0.0) < 0.0
        return " cools the place" if band.W < 0.0 and not kept_out else ""

    def replaced_words(self) -> str:
        """What the exhaust's replacement air is made of."""
        flow_m3_s = abs(self.watts.states.get("replaced_m3_s", 0.0))
        values = self.watts.values
        sensible = values["infiltration_sensible_W"].value or 0.0
        latent = values["infiltration_latent_W"].value or 0.0
        flow = display("hot_flow_m3_s", flow_m3_s)
        if abs(latent) <= LEAST_W:
            return f"{flow} through the gaps"
        return (
            f"{flow} through the gaps: {display('heat', sensible)} by its temperature, "
            f"{display('heat', latent)} by its moisture"
        )

    def lost_words(self, band: Band) -> str:
        """The parts of an electrical loss, the largest first."""
        parts: dict[str, float] = {}
        for term in band.terms:
            name = _LOST.get(term.what, term.what)
            parts[name] = parts.get(name, 0.0) + term.sign * term.W
        named = sorted(parts.items(), key=lambda part: -part[1])
        least_W = max(LEAST_W, 0.01 * abs(band.W))
        said = [f"{name}\u00a0{display('heat', W)}" for name, W in named if least_W < W]
        return ", ".join(said)

    def intake_K(self, side: str) -> float:
        """Temperature where the air of a side comes from."""
        cooler = self.sheet.cooler
        takes = cooler.cold_takes_from if side == "cold" else cooler.hot_takes_from
        return self.K("outdoor_K") if takes == "outdoors" or not self.has_air else self.place_K

    def over_lane(self) -> bool:
        """Whether the design can bring air back over the top, at any drive."""
        cooler = self.sheet.cooler
        back = self.has_air and cooler.hot_sends_to == "place"
        moves = "place" in (cooler.hot_takes_from, cooler.hot_sends_to)
        return back or (self.enclosed and moves) or bool(self.flows.over)

    def nodes(self) -> list[Node]:
        """Every temperature of the ladder, each once."""
        sheet = self.sheet
        goal = sheet.goal.air
        found = [
            Node("hot face", self.K("hot_face_K"), "hot"),
            Node("hot sink", self.K("hot_sink_K"), "hot"),
            Node("hot air out", self.K("hot_outlet_K") if self.runs("hot") else math.nan, "hot"),
            Node("end of duct", self._end_K(), "hot"),
            Node("outdoors", self.K("outdoor_K"), "outdoors"),
            Node(self.place_name.removeprefix("the "), self.place_K, "place"),
            Node("goal", math.nan if goal is None else goal.value, "goal"),
        ]
        if self.has_air:
            cold_K = self.K("cold_outlet_K") if self.runs("cold") else math.nan
            found += [Node("cold air out", cold_K, "cold"),
                      Node("dew point", self.K("dew_point_K"), "cold")]  # fmt: skip
        found += [
            Node("cold sink", self.K("cold_sink_K"), "cold"),
            Node("cold face", self.K("cold_face_K"), "cold"),
        ]
        return [node for node in found if math.isfinite(node.K)]

    def _end_K(self) -> float:
        end_K, out_K = self.K("hot_end_K"), self.K("hot_outlet_K")
        return end_K if self.runs("hot") and abs(end_K - out_K) > _ALIKE_K else math.nan


_LOST = {
    "lost in the supply": "supply",
    "lost in the converter": "converter",
    "lost in the wires": "wires",
    "into the controller": "controller",
    "lost in joints, fuses, switch and fan drives": "joints",
}


def heat(band: Band) -> str:
    """The watts of a band, without sign."""
    return display("heat", abs(band.W))


def degrees(temperature_K: float) -> str:
    """A temperature as it stands beside a node."""
    return display("place_air_K", temperature_K)


def main_wall(sheet: Sheet) -> tuple[Layer, ...]:
    """Layers, from the inside out, of the wall that the cut shows; empty where none are given."""
    place = sheet.place
    if isinstance(place, Box) and place.wall:
        return tuple(place.wall)
    if isinstance(place, Room | Box):
        with_layers = [one for one in place.surface if one.layers]
        upright = [one for one in with_layers if one.orientation == "vertical"] or with_layers
        if upright:
            return tuple(max(upright, key=lambda one: one.area.value).layers or ())
    return ()


def wall_layers(layers: tuple[Layer, ...]) -> list[WallLayer]:
    """Thickness of each layer, and whether it keeps heat in."""
    from coldwright.sheet.library import library

    found = []
    for layer in layers:
        thickness_m = 0.02 if layer.thickness is None else layer.thickness.value
        if layer.conductivity is not None:
            conducts = layer.conductivity.value
        elif layer.insulance is not None:
            conducts = thickness_m / layer.insulance.value
        else:
            conducts = library().material(layer.material).conductivity.value
        found.append(WallLayer(thickness_m, conducts < _KEEPS_HEAT_W_M2K))
    return found
