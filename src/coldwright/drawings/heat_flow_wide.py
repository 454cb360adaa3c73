"""The wide layout: the place left, the cooler in the middle, outdoors right."""

from __future__ import annotations

from coldwright.drawings import heat_flow_parts as parts
from coldwright.drawings.heat_flow_bands import Band
from coldwright.drawings.heat_flow_electric import Trunk
from coldwright.drawings.heat_flow_facts import Facts, degrees, heat
from coldwright.drawings.heat_flow_pen import (
    band,
    chevron,
    fan,
    head,
    head_length,
    pipe,
    shortened,
    stream,
    stroke,
    swing,
    text,
    wrapped,
)
from coldwright.drawings.heat_flow_plan import LEAST_PX, Plan, Room, plan
from coldwright.quantities.glossary import display

_WIDTH = 1160.0
_YC = 325.0  # the level of the main stream of heat
_RIGHT = 600.0  # inside of the place's right wall
_NODE, _BAR = 530.0, 9.0
_COLD, _MODULES, _HOT, _END = 724.0, 784.0, 828.0, 896.0
_HALF = 75.0  # half the height of the sinks
_LANE_OVER = 150.0
_BACK = 1124.0  # where hot air turns back to the place
_CAUSES = 352.0  # where the names of the causes end


class Wide:
    """One picture in the making: bands below, streams and words above."""

    def __init__(self, facts: Facts, *, live: bool) -> None:
        self.facts, self.flows, self.live = facts, facts.flows, live
        wide, tall = parts.place_size(facts.sheet, 52_000.0, (160.0, 200.0))
        self.x0 = _RIGHT - wide
        self.y0, self.y1 = _YC + 12 - tall / 2.0, _YC + 12 + tall / 2.0
        room = Room(band=92.0, turning=40.0, node=tall / 2.0 - 4.0, trunk=84.0, lanes=52.0)
        self.plan: Plan = plan(self.flows, room)
        self.wall = sum(px for px, _ in parts.wall_px(facts.sheet, wide)) if facts.enclosed else 0.0
        cooling = self.plan.cooling
        self.top = _YC - cooling.at
        if self.plan.reversed:
            self.top = _YC + cooling.px / 2.0 + 12.0
        self.trunk = Trunk(facts, self.plan)
        # Without a lane over the top the words move down, and the picture begins lower.
        self.start = 0.0 if facts.over_lane() else 62.0
        self.end = self.trunk.bottom + 58.0
        self.below: list[str] = []
        self.bands: list[str] = []
        self.above: list[str] = []

    def drawn(self) -> str:
        """All of it, in the order in which it covers each other."""
        self._headings()
        self._place()
        self._lanes_under()
        self._departures()
        self._over()
        self._causes()
        self._main()
        self._exhaust()
        self._cooler()
        self._streams()
        self._legend()
        return "".join((*self.below, *self.bands, *self.above))

    def _add(self, flow: Band, inside: str, words: str = "") -> None:
        self.bands.append(
            band(flow.id, f"{heat(flow)}: {words or flow.words}", inside, live=self.live)
        )

    # -- words at the top, ladder, legend ------------------------------------------------------

    def _headings(self) -> None:
        facts = self.facts
        centre = (self.x0 + _RIGHT) / 2.0
        for x, name, said in (
            (centre, facts.place_name, degrees(facts.place_K)),
            (806.0, "the cooler", facts.moved_words()),
            (1030.0, "outdoors", degrees(facts.K("outdoor_K"))),
        ):
            self.above.append(text(x, self.start + 24, name, 12.5, "s", "m"))
            big = text(x, self.start + 51, said, 23, "b", "m")
            moved = name == "the cooler" and self.flows.moved.shown
            if moved:
                big = band("moved", f"{said} by the modules", big, live=self.live)
            self.above.append(big)
        for at, line in enumerate(facts.under_place()):
            line = shortened(line, 12, 290)
            self.above.append(text(centre, self.start + 70 + 15 * at, line, 12, "s", "m"))
        self.below.append(parts.ladder(facts, 60.0, self.start + 76.0, self.trunk.out - 12.0))

    def _legend(self) -> None:
        plan = self.plan
        watts = parts.round_number(46.0 / plan.px_W)
        said = display("heat", watts)
        x, y = 204.0, self.end - 18.0
        self.above.append(text(x, y, "Width is heat:", 12, "s"))
        x += 94
        tall = watts * plan.px_W
        self.above.append(
            f'<rect class="fi" x="{x}" y="{y - 4 - tall / 2:.1f}" width="9" height="{tall:.1f}"/>'
        )
        rest = f"is {said}. Hatched: outdoor air. Dotted: electricity. Dashed arrows: air."
        if plan.thin():
            least = display("heat", LEAST_PX / plan.px_W)
            rest += f" Below {least} a band is no thinner."
        self.above.append(text(x + 16, y, rest, 12, "s"))

    # -- the place and what reaches its air ----------------------------------------------------

    def _place(self) -> None:
        facts = self.facts
        self.below.append(parts.place_frame(facts, self.x0, self.y0, _RIGHT, self.y1))
        if not facts.has_air:
            self.below.append(
                f'<rect class="fs i" x="{_NODE - 8}" y="{self.top - 16:.1f}" width="26" '
                f'height="{self.plan.height + 32:.1f}" stroke-width="1.3"/>'
            )
        self.above.append(
            f'<rect class="fi" x="{_NODE}" y="{self.top:.1f}" width="{_BAR}" '
            f'height="{self.plan.height:.1f}"/>'
        )

    def _causes(self) -> None:
        slots = self.plan.arrive
        blocks = [(slot, wrapped(slot.band.words, 12, 146)) for slot in slots]
        total = sum(15 * len(lines) + 25 for _, lines in blocks)
        y = min(max(_YC + 20 - total / 2.0, 130.0), self.trunk.out - 16.0 - total)
        inner = self.x0 + 10
        for slot, lines in blocks:
            high = 15 * len(lines) + 15
            y += 5
            middle = y + high / 2.0
            path = swing(_CAUSES + 6, middle, inner, self.top + slot.at, _NODE)
            words = [text(_CAUSES, y + 12 + 15 * at, line, 12, "", "e")
                     for at, line in enumerate(lines)]  # fmt: skip
            words.append(text(_CAUSES, y + 12 + 15 * len(lines), heat(slot.band), 12, "b", "e"))
            self._add(slot.band, stroke(path, slot.band.style, slot.px) + "".join(words))
            y += high + 5

    def _over(self) -> None:
        """What comes back over the top, or leaves that way."""
        turn = self.plan.cooling.px if self.plan.reversed else 0.0
        for slot in self.plan.arrive_over:
            # Around whatever turns inside of it.
            reach = turn + slot.px / 2.0 + 8.0
            turn += slot.px + 3.0
            x = _NODE - 10.0 - reach
            y = self.top + slot.at
            start = [(1132.0, _LANE_OVER)]
            if slot.band.id == "hot_air":
                start = [(_END, _YC), (_BACK, _YC), (_BACK, _LANE_OVER)]
            path = pipe([*start, (x, _LANE_OVER), (x, y), (_NODE, y)], slot.px / 2.0 + 14.0)
            sign = chevron(660.0, _LANE_OVER, "l", slot.px, slot.band.style)
            self._over_words(slot.band, stroke(path, slot.band.style, slot.px, head=sign), slot.px)
        for slot in self.plan.leave_over:
            y = self.top + slot.at
            end = 1132.0 - head_length(slot.px)
            points = [(_NODE + _BAR, y), (572.0, y), (572.0, _LANE_OVER), (end, _LANE_OVER)]
            path = pipe(points, slot.px / 2.0 + 10.0)
            tip = head(end, _LANE_OVER, "r", slot.px, slot.band.style)
            self._over_words(slot.band, stroke(path, slot.band.style, slot.px, head=tip), slot.px)

    def _over_words(self, flow: Band, drawn: str, px: float) -> None:
        facts = self.facts
        if flow.id == "hot_air":
            detail = f"{degrees(facts.K('hot_end_K'))}, {facts.stream_words('hot')}"
        elif flow.id == "replaced":
            detail = facts.replaced_words()
        else:
            detail = ""
        words = f"{heat(flow)}: {flow.words}{facts.over_end(flow)}"
        drawn += text(890.0, _LANE_OVER - px / 2.0 - 9, words, 12.5, "b", "m")
        drawn += text(890.0, _LANE_OVER + px / 2.0 + 18, detail, 12, "s", "m")
        self._add(flow, drawn)

    def _lanes_under(self) -> None:
        """Heat of the machine that lands in the place, from below; and the trunk from the plug."""
        trunk = self.trunk
        y = 480.0
        turn = 0.0
        slots = {slot.band.id: slot for slot in self.plan.arrive_under}
        order = [slot for name in ("duct", "cold_fan", "lost_place") if (slot := slots.get(name))]
        for slot in order:
            flow, px = slot.band, slot.px
            reach = turn + px / 2.0 + 8.0
            turn += px + 3.0
            x = _NODE - 10.0 - reach
            on = self.top + slot.at
            words = ""
            if flow.id == "duct":
                y += px / 2.0
                start = self._duct_start(px, y)
                at = 976.0 + px / 2.0 + 10.0
                words = text(at, 440, f"{heat(flow)} comes back", 12, "b")
                words += text(at, 455, "from the hot duct", 12, "s")
            else:
                y += 16.0 + px / 2.0
                start = [(trunk.x(flow.id), trunk.bottom), (trunk.x(flow.id), y)]
                words = text(640, y - px / 2.0 - 5, f"{flow.words} {heat(flow)}", 12)
            path = pipe([*start, (x, y), (x, on), (_NODE, on)], px / 2.0 + 10.0)
            sign = chevron(614.0, y, "l", px, flow.style)
            self._add(flow, stroke(path, flow.style, px, head=sign) + words)
            y += px / 2.0 + 6.0
        for flow, inside, said in trunk.drawn():
            self._add(flow, inside, said)
        self.above.append(parts.plug(trunk.middle, trunk.bottom))

    def _duct_start(self, px: float, lane: float) -> list[tuple[float, float]]:
        y = _YC + (self._hot_px() + px) / 2.0
        return [(_END, y), (976.0, y), (976.0, lane)]

    def _hot_px(self) -> float:
        return self.plan.px(self.flows.leaves)

    def _departures(self) -> None:
        """What leaves the place downwards, through its floor."""
        slots = self.plan.leave
        y0 = self.trunk.out + 2.0 - 15.0 * max(0, len(slots) - 3)
        x = 545.0 + sum(slot.px + 4.0 for slot in slots)
        for at, slot in enumerate(slots):
            x -= slot.px / 2.0 + 2.0
            y = self.top + slot.at
            end = self.trunk.out - 8.0
            path = pipe([(_NODE + _BAR, y), (x, y), (x, end)], slot.px / 2.0 + 4.0)
            tip = head(x, end, "d", slot.px, slot.band.style)
            said = f"{heat(slot.band)} {slot.band.out_words()}"
            words = text(526, y0 + 15 * at, shortened(said, 12, 320), 12, "", "e")
            self._add(slot.band, stroke(path, slot.band.style, slot.px, head=tip) + words,
                      slot.band.out_words())  # fmt: skip
            x -= slot.px / 2.0 + 2.0

    # -- the main stream -----------------------------------------------------------------------

    def _main(self) -> None:
        flow, slot = self.flows.cooling, self.plan.cooling
        if not flow.shown:
            return
        px = slot.px
        if self.plan.reversed:
            y = self.top + slot.at
            x = _NODE - 10.0 - px / 2.0 - 8.0
            path = pipe([(_COLD, _YC), (x, _YC), (x, y), (_NODE, y)], px / 2.0 + 6.0)
        else:
            path = pipe([(_NODE + _BAR, _YC), (_COLD, _YC)], 1.0)
        if px >= 18.0:
            way = "put in" if self.plan.reversed else "taken out"
            middle = (_NODE + _BAR + _COLD) / 2.0
            words = text(middle, _YC + 4.5, f"{heat(flow)} {way}", 13, "b on", "m")
        else:
            words = text(_COLD - 6, _YC - px / 2.0 - 7, heat(flow), 13, "b", "e")
        said = "into the place" if self.plan.reversed else ""
        self._add(flow, stroke(path, "cold", px) + words, said)

    def _exhaust(self) -> None:
        flow = self.flows.leaves
        if self.flows.returns or not flow.shown:
            return
        facts = self.facts
        px = self._hot_px()
        duct = next((slot.px for slot in self.plan.arrive_under if slot.band.id == "duct"), 0.0)
        y = _YC
        if facts.sheet.cooler.hot_duct is not None:
            self._duct(y + duct / 2.0, px + duct)
        long = head_length(px)
        if flow.W > 0.0:
            end = 1132.0 - long
            path, tip = pipe([(_END, y), (end, y)], 1.0), head(end, y, "r", px, "hot")
        else:
            end = _END + long
            path, tip = pipe([(1132.0, y), (end, y)], 1.0), head(end, y, "l", px, "hot")
        way = "leaves" if flow.W > 0.0 else "comes in"
        first = f"{heat(flow)} {way}"
        second = f"{degrees(facts.K('hot_end_K'))}, {facts.stream_words('hot')}"
        if not facts.runs("hot"):
            second = "no air is moved"
        if px >= 38.0:
            words = text(1010, y - 3, first, 14, "b on", "m")
            words += text(1010, y + 15, second, 12, "on", "m")
        else:
            words = text(1008, _YC + 66, first, 14, "b") + text(1008, _YC + 83, second, 12, "s")
        self._add(flow, stroke(path, "hot", px, head=tip) + words)

    def _duct(self, y: float, px: float) -> None:
        """The casing of the hot duct around what flows in it."""
        half = px / 2.0 + 5.0
        for side in (-half, half):
            self.below.append(
                f'<path class="e" stroke-width="3" stroke-dasharray="4 1.6" '
                f'd="M{_END},{y + side:.1f}H{_END + 64}"/>'
            )

    def _cooler(self) -> None:
        facts = self.facts
        y, h = _YC - _HALF, 2 * _HALF
        self.above += [
            parts.sink(facts, "cold", _COLD, y, _MODULES - _COLD, h, level=True),
            parts.sink(facts, "hot", _HOT, y, _END - _HOT, h, level=True),
            parts.modules(facts, _MODULES, y - 4, _HOT - _MODULES, h + 12, upright=True),
        ]
        lift = facts.lift_words()
        self.above += [
            text(780, y - 22, degrees(facts.K("cold_face_K")), 12, "b tc", "e"),
            text(806, y - 22, lift, 12, "s", "m"),
            text(832, y - 22, degrees(facts.K("hot_face_K")), 12, "b th"),
        ]
        spacer = self.flows.spacer
        if spacer.shown:
            px = min(self.plan.px(spacer), 8.0)
            right, left = (_HOT + 22, _MODULES - 22)
            if spacer.W < 0.0:
                right, left = left, right
            path = pipe([(right, y), (right, y - 11), (left, y - 11), (left, y)], 8.0)
            words = text(_END + 12, y - 8, f"{heat(spacer)} {spacer.words}", 12)
            self._add(spacer, stroke(path, "warm", px) + words)
        self._water()

    def _water(self) -> None:
        amount, where = self.facts.water()
        if not amount:
            return
        inside = parts.drops(736, _YC + _HALF + 8)
        x, y = _COLD - 8, _YC + 114
        inside += text(x, y, amount, 12, "tc b", "e") + text(x, y + 15, "of water", 12, "tc", "e")
        inside += text(x, y + 30, where, 12, "s", "e")
        if self.flows.drained.shown:
            self._add(self.flows.drained, inside, f"with {amount} of water, {where}")
        else:
            self.bands.append(inside)

    def _streams(self) -> None:
        facts, cooler = self.facts, self.facts.sheet.cooler
        if facts.has_air and facts.runs("cold"):
            takes = cooler.cold_takes_from
            before = cooler.cold_fan is None or cooler.cold_fan.position == "before sink"
            y = _YC - 59.0
            if takes == "place":
                self.above.append(stream([(588, y), (_COLD, y)], "cold"))
                if before:
                    self.above.append(fan(650, y))
                self.above.append(text(_COLD - 10, y - 8, degrees(facts.place_K), 12, "s", "e"))
            y = _YC + 62.0
            self.above.append(stream([(_COLD, y), (590, y)], "cold"))
            if not before or takes != "place":
                self.above.append(fan(650, y))
            out = degrees(facts.K("cold_outlet_K"))
            self.above.append(text(_COLD - 4, y + 16, out, 12.5, "b tc", "e"))
            self.above.append(text(_COLD - 4, y + 31, facts.stream_words("cold"), 12, "s", "e"))
        if not facts.runs("hot"):
            return
        said = f"{facts.stream_words('hot')} in at {degrees(facts.intake_K('hot'))}"
        if cooler.hot_takes_from == "place" and facts.has_air:
            inside = max(214.0, self.y0 + 11.0)
            wall = _RIGHT + self.wall + 12.0
            way = [(574.0, inside), (wall, inside), (wall, 214.0), (_END - 5, 214.0),
                   (_END - 5, _YC - _HALF)]  # fmt: skip
            if inside < 224.0:
                way = [(574.0, 214.0), *way[3:]]
            self.above += [stream(way, "hot"), fan(664, 214.0)]
            self.above.append(text(690, 207, said, 12, "s"))
        else:
            y = _YC - 60.0
            self.above += [stream([(1132, y), (_END, y)], "hot"), fan(930, y)]
            end = 1098.0 if self.flows.returns else 1132.0
            self.above.append(text(end, y - 8, said, 12, "s", "e"))


def drawn(facts: Facts, *, live: bool) -> tuple[tuple[float, float, float, float], str]:
    """View box and inside of the picture in the wide layout."""
    picture = Wide(facts, live=live)
    inside = picture.drawn()
    return (0.0, picture.start, _WIDTH, picture.end - picture.start), inside
