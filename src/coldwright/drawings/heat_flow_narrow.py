"""The narrow layout: the place on top, the cooler below it, outdoors at the bottom."""

from __future__ import annotations

from coldwright.drawings import heat_flow_parts as parts
from coldwright.drawings.heat_flow_facts import Facts, degrees, heat
from coldwright.drawings.heat_flow_narrow_place import (
    BAR,
    DUCT,
    NODE,
    OVER,
    RIGHT,
    SIZE,
    NarrowPlace,
)
from coldwright.drawings.heat_flow_pen import (
    band,
    head,
    head_length,
    pipe,
    stream,
    stroke,
    text,
    width_of,
)
from coldwright.drawings.heat_flow_plan import LEAST_PX
from coldwright.quantities.glossary import display

_WIDTH = 390.0
_LEFT, _EDGE = 200.0, 322.0  # the cooler
_CENTRE = 261.0
_WORDS = 192.0  # where the words beside the cooler end
_ROOM = 130.0
_AIR = 344.0
_FEED = 8.0  # west side of the trunk


class Narrow(NarrowPlace):
    """One picture in the making, from the place on top to outdoors and the ladder."""

    def drawn(self) -> str:
        """All of it, from top to bottom."""
        self._head()
        self._causes()
        self._lanes()
        self._departures()
        self._cold()
        self._cooler()
        self._hot()
        self._trunk()
        self._foot()
        return "".join((*self.below, *self.bands, *self.above))

    # -- the cooler ---------------------------------------------------------------------------

    def _cold(self) -> None:
        """The main stream of heat down to the cold side, and the air that carries it."""
        facts, flow, slot = self.facts, self.flows.cooling, self.plan.cooling
        y = self.y + 8.0
        right = self.down - slot.px / 2.0 - 8.0
        way = "put in" if self.plan.reversed else "taken out"
        words = text(right, y, f"{heat(flow)} {way}", 12.5, "b", "e") if flow.shown else ""
        y += 15.0
        cooler = facts.sheet.cooler
        flows_air = facts.has_air and facts.runs("cold")
        if flows_air:
            said = f"air in at {degrees(facts.intake_K('cold'))}"
            self.above.append(text(right, y, said, SIZE, "s", "e"))
            out = f"out at {degrees(facts.K('cold_outlet_K'))}, {facts.stream_words('cold')}"
            self.above.append(text(right, y + 14, out, SIZE, "b tc", "e"))
            y += 28.0
        amount, where = facts.water()
        if amount:
            inside = text(right, y, f"{amount} of water, {where}", SIZE, "tc", "e")
            wide = width_of(f"{amount} of water, {where}", SIZE)
            inside += parts.drops(right - wide - 12, y - 13, 1)
            if self.flows.drained.shown:
                self._add(self.flows.drained, inside)
            else:
                self.bands.append(inside)
            y += 15.0
        self.cold_y = y + 2.0
        if flow.shown:
            if self.plan.reversed:
                on, x = self.top + slot.at, NODE - 10.0 - slot.px / 2.0 - 6.0
                arm = self.top - slot.px / 2.0 - 8.0
                points = [
                    (self.down, self.cold_y),
                    (self.down, arm),
                    (x, arm),
                    (x, on),
                    (NODE, on),
                ]
            else:
                on = self.top + slot.at
                points = [(NODE + BAR, on), (self.down, on), (self.down, self.cold_y)]
            path = pipe(points, slot.px / 2.0 + 6.0)
            said = "into the place" if self.plan.reversed else ""
            self._add(flow, stroke(path, "cold", slot.px) + words, said)
        if flows_air:
            x = 311.0
            if cooler.cold_takes_from == "place":
                self.above.append(stream([(x, self.y1 - 12), (x, self.cold_y)], "cold"))
            on = self.y1 - 26.0
            self.above.append(
                stream([(_EDGE, self.cold_y + 12), (_AIR, self.cold_y + 12), (_AIR, on),
                        (RIGHT - 8, on)], "cold")
            )  # fmt: skip

    def _cooler(self) -> None:
        facts = self.facts
        y = self.cold_y
        self.above.append(
            band("moved", f"{facts.moved_words()} by the modules",
                 text(_WORDS, y + 12, facts.moved_words(), 12.5, "b", "e"), live=self.live)
            if self.flows.moved.shown else text(_WORDS, y + 12, facts.moved_words(), 12.5, "b", "e")
        )  # fmt: skip
        self.above.append(
            text(_WORDS, y + 27, f"cold face {degrees(facts.K('cold_face_K'))}", SIZE, "tc", "e")
        )
        y += 34.0
        y = self._feed("cold_pump", y)
        said, electric = facts.modules_words()
        words, y = self._lines(_WORDS, y + 10, said, _ROOM, "b")
        words += text(_WORDS, y, electric, SIZE, "s", "e")
        tall = max(y - self.cold_y + 4.0, 48.0)
        self.above.append(
            parts.sink(facts, "cold", _LEFT, self.cold_y, _EDGE - _LEFT, tall, level=False)
        )
        y = self.cold_y + tall
        flow = self.flows.modules
        run = max(self.plan.px(flow), 1.0)
        row = max(run + 6.0, 30.0)
        self.above.append(parts.modules(facts, _LEFT - 4, y, _EDGE - _LEFT + 8, row, upright=False))
        if flow.shown:
            self.feeds["modules"] = (flow, ((_LEFT - 4, y + row / 2.0),), words)
        y += row
        hot_y = y
        lift = facts.lift_words()
        self.above.append(
            text(_WORDS, y + 13, f"hot face {degrees(facts.K('hot_face_K'))}", SIZE, "th", "e")
        )
        self.above.append(text(_WORDS, y + 27, f"{lift} across", SIZE, "s", "e"))
        y += 32.0
        for name in ("hot_fan", "hot_pump", "lost_exhaust"):
            y = self._feed(name, y)
        spacer = self.flows.spacer
        if spacer.shown:
            words, y = self._lines(_WORDS, y + 10, f"{heat(spacer)} {spacer.words}", _ROOM)
            ends = (hot_y + 20.0, self.cold_y + tall - 14.0)
            up = ends if spacer.W > 0.0 else ends[::-1]
            path = pipe(
                [(_EDGE, up[0]), (_EDGE + 8, up[0]), (_EDGE + 8, up[1]), (_EDGE, up[1])], 6.0
            )
            self._add(spacer, stroke(path, "warm", min(self.plan.px(spacer), 5.0)) + words)
        tall = max(y - hot_y - 2.0, 48.0)
        self.above.append(parts.sink(facts, "hot", _LEFT, hot_y, _EDGE - _LEFT, tall, level=False))
        if facts.runs("hot"):
            at = hot_y + tall - 12.0
            self.above.append(stream([(DUCT - 8, at), (_EDGE, at)], "hot"))
        self.y = hot_y + tall

    def _feed(self, name: str, y: float) -> float:
        """A band of the trunk that turns into a sink at this height; where the next may begin."""
        flows = self.flows
        all_of = (*flows.pumps, flows.hot_fan, flows.lost_in_exhaust)
        flow = next((one for one in all_of if one.id == name and one.shown), None)
        if flow is None:
            return y
        px = self.plan.px(flow)
        words, after = self._lines(_WORDS, y + 10, f"{heat(flow)} {flow.words}", _ROOM)
        self.feeds[name] = (flow, ((_LEFT, after - 8 + px / 2.0),), words)
        return after - 4.0 + px

    # -- outdoors -----------------------------------------------------------------------------

    def _hot(self) -> None:
        facts, flow = self.facts, self.flows.leaves
        px = self.plan.px(flow)
        duct = next((slot for slot in self.plan.arrive_under if slot.band.id == "duct"), None)
        y = self.y
        end = y + 92.0
        lines = y + 24.0
        corner = y + 18.0 + px / 2.0
        if not self.flows.returns and flow.shown:
            long = head_length(px)
            if flow.W > 0.0:
                path, tip = pipe([(_CENTRE, y), (_CENTRE, end - long)], 1.0), head(
                    _CENTRE, end - long, "d", px, "hot")  # fmt: skip
            else:
                path, tip = pipe([(_CENTRE, end), (_CENTRE, y + long)], 1.0), head(
                    _CENTRE, y + long, "u", px, "hot")  # fmt: skip
            way = "leaves" if flow.W > 0.0 else "comes in"
            words = text(_WORDS + 10, lines, f"{heat(flow)} {way}", 12.5, "b", "e")
            detail = f"{degrees(facts.K('hot_end_K'))}, {facts.stream_words('hot')}"
            if not facts.runs("hot"):
                detail = "no air is moved"
            words += text(_WORDS + 10, lines + 15, detail, SIZE, "s", "e")
            self._add(flow, stroke(path, "hot", px, head=tip) + words)
            lines += 30.0
        if facts.runs("hot"):
            where = facts.sheet.cooler.hot_takes_from
            place = facts.place_name if where == "place" and facts.has_air else "outdoors"
            said = f"its air comes in at {degrees(facts.intake_K('hot'))} from {place}"
            drawn, lines = self._lines(_WORDS + 10, lines, said, 140, "s")
            self.above.append(drawn)
        if duct is not None:
            x = _CENTRE + px / 2.0 + duct.px / 2.0
            points = [(x, y), (x, y + 26.0), (DUCT, y + 26.0), *self.duct_way]
            said = f"{heat(duct.band)} {duct.band.words}"
            words, lines = self._lines(_WORDS + 10, lines, said, 140)
            path = pipe(points, duct.px / 2.0 + 5.0)
            self._add(duct.band, stroke(path, "warm", duct.px) + words)
        self._over(end, ((_CENTRE, y), (_CENTRE, corner), (OVER, corner)))
        self.above.append(text(300, end + 22, "outdoors", SIZE, "s", "m"))
        self.above.append(text(300, end + 46, degrees(facts.K("outdoor_K")), 22, "b", "m"))
        self.y = max(end + 10.0, lines + 4.0)

    def _trunk(self) -> None:
        """Slices from the plug; the one that turns off lowest stands nearest to the cooler."""
        flows = self.flows
        order = ["lost_place", "cold_fan", "cold_pump", "modules", "hot_fan", "hot_pump",
                 "lost_exhaust", "lost_outside"]  # fmt: skip
        lost = flows.lost_outside
        if lost.shown:
            px = self.plan.px(lost)
            y = self.y + px / 2.0 + 4.0
            end = 74.0
            words, after = self._lines(92, y + 4, f"{heat(lost)} {lost.words}", 130, "b", "")
            more, after = self._lines(92, after, self.facts.lost_words(lost), 150, "s", "")
            tip = head(end, y, "r", px, "warm")
            self.feeds["lost_outside"] = (lost, ((end, y),), words + more + tip)
            self.y = max(after, y + px / 2.0) + 2.0
        bottom = self.y + 14.0
        x = _FEED
        for name in order:
            if name not in self.feeds:
                continue
            flow, points, words = self.feeds[name]
            px = self.plan.px(flow)
            at = x + px / 2.0
            x += px
            path = pipe([(at, bottom), (at, points[0][1]), *points], px / 2.0 + 5.0)
            self._add(flow, stroke(path, flow.style, px) + words)
        middle = max((_FEED + x) / 2.0, 12.0)
        self.above.append(parts.plug(middle, bottom))
        if flows.plug.shown:
            words = f"{heat(flows.plug)} {flows.plug.words}"
            words = text(max(x, middle + 14) + 10, bottom + 14, words, 12.5, "b")
            self._add(flows.plug, words)
        self.y = bottom + 40.0

    def _foot(self) -> None:
        """Ladder of temperatures, and how to read the picture."""
        tall = max(220.0, 16.0 * len(self.facts.nodes()))
        y = self.y + 34.0
        self.below.append(parts.ladder(self.facts, 56.0, y, y + tall))
        plan = self.plan
        watts = parts.round_number(30.0 / plan.px_W)
        x, at = 226.0, y + 12.0
        self.above.append(text(x, at, "Width is heat:", SIZE, "s"))
        wide = watts * plan.px_W
        self.above.append(
            f'<rect class="fi" x="{x}" y="{at + 10:.1f}" width="{wide:.1f}" height="9"/>'
        )
        self.above.append(text(x + wide + 6, at + 19, f"is {display('heat', watts)}", SIZE, "s"))
        rest = ["Hatched: outdoor air.", "Dotted: electricity.", "Dashed arrows: air."]
        if plan.thin():
            least = display("heat", LEAST_PX / plan.px_W)
            rest += [f"Below {least}", "a band is no thinner."]
        for n, line in enumerate(rest):
            self.above.append(text(x, at + 40 + 15 * n, line, SIZE, "s"))
        self.y = y + tall + 16.0


def drawn(facts: Facts, *, live: bool) -> tuple[tuple[float, float, float, float], str]:
    """View box and inside of the picture in the narrow layout."""
    picture = Narrow(facts, live=live)
    inside = picture.drawn()
    return (0.0, 0.0, _WIDTH, picture.y), inside
