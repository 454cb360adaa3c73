"""The narrow layout, upper part: the place, what reaches its air, and what leaves it."""

from __future__ import annotations

from coldwright.drawings import heat_flow_parts as parts
from coldwright.drawings.heat_flow_bands import Band
from coldwright.drawings.heat_flow_facts import Facts, degrees, heat
from coldwright.drawings.heat_flow_pen import (
    Points,
    band,
    chevron,
    head,
    head_length,
    pipe,
    shortened,
    stroke,
    swing,
    text,
    wrapped,
)
from coldwright.drawings.heat_flow_plan import Room, plan

SIZE = 11.5
RIGHT = 318.0  # inside of the place's right wall
NODE, BAR = 240.0, 8.0
DUCT, OVER = 354.0, 374.0  # what comes back from the hot duct, and over the top
_CAUSES = 108.0  # where the names of the causes end


class NarrowPlace:
    """The upper part of a picture in the making; `y` is how far down it has come."""

    def __init__(self, facts: Facts, *, live: bool) -> None:
        self.facts, self.flows, self.live = facts, facts.flows, live
        wide, tall = parts.place_size(facts.sheet, 32_000.0, (138.0, 166.0))
        room = Room(band=60.0, turning=22.0, node=tall - 66.0, trunk=44.0, lanes=30.0)
        # The cooling turns down inside of the place, where there is less room than outside.
        self.plan = plan(self.flows, room, cooling_px=32.0)
        self.x0 = RIGHT - wide
        self.wall = 0.0
        if facts.enclosed:
            self.wall = sum(px for px, _ in parts.wall_px(facts.sheet, wide, 18.0))
        self.start = 0.0
        self.over_y = 134.0
        self.y0 = (156.0 if facts.over_lane() else 92.0) + self.wall
        self.y1 = self.y0 + tall
        self.top = self.y0 + 40.0 + (self.plan.cooling.px + 12.0 if self.plan.reversed else 0.0)
        self.below: list[str] = []
        self.bands: list[str] = []
        self.above: list[str] = []
        self.feeds: dict[str, tuple[Band, Points, str]] = {}
        self.y = self.y1 + self.wall
        leaving = sum(slot.px + 3.0 for slot in self.plan.leave)
        self.down = NODE + BAR + 6.0 + leaving + self.plan.cooling.px / 2.0

    def _add(self, flow: Band, inside: str, words: str = "") -> None:
        said = f"{heat(flow)}: {words or flow.words}"
        self.bands.append(band(flow.id, said, inside, live=self.live))

    def _lines(
        self, x: float, y: float, words: str, room: float, kind: str = "", at: str = "e"
    ) -> tuple[str, float]:
        """Words in as many lines as they need, and the base line of the next one."""
        lines = wrapped(words, SIZE * (1.14 if "b" in kind else 1.0), room, 4)
        drawn = "".join(text(x, y + 14 * n, line, SIZE, kind, at) for n, line in enumerate(lines))
        return drawn, y + 14 * len(lines)

    # -- the place ----------------------------------------------------------------------------

    def _head(self) -> None:
        facts = self.facts
        self.above.append(text(195, 18, facts.place_name, SIZE, "s", "m"))
        self.above.append(text(195, 42, degrees(facts.place_K), 22, "b", "m"))
        for at, line in enumerate(facts.under_place()):
            self.above.append(text(195, 59 + 14 * at, shortened(line, SIZE, 370), SIZE, "s", "m"))
        self.below.append(parts.place_frame(facts, self.x0, self.y0, RIGHT, self.y1, 18.0))
        if not facts.has_air:
            self.below.append(
                f'<rect class="fs i" x="{NODE - 8}" y="{self.top - 10:.1f}" width="24" '
                f'height="{self.plan.height + 20:.1f}" stroke-width="1.3"/>'
            )
        self.above.append(
            f'<rect class="fi" x="{NODE}" y="{self.top:.1f}" width="{BAR}" '
            f'height="{self.plan.height:.1f}"/>'
        )

    def _causes(self) -> None:
        blocks = [(slot, wrapped(slot.band.words, SIZE, 104, 3)) for slot in self.plan.arrive]
        total = sum(14 * len(lines) + 22 for _, lines in blocks)
        y = max(self.y0 + 30.0, self.top + 20.0 - total / 2.0)
        for slot, lines in blocks:
            high = 14 * len(lines) + 14
            path = swing(_CAUSES + 5, y + high / 2.0, self.x0 + 8, self.top + slot.at, NODE)
            words = "".join(
                text(_CAUSES, y + 11 + 14 * at, line, SIZE, "", "e")
                for at, line in enumerate(lines)
            )
            words += text(_CAUSES, y + 11 + 14 * len(lines), heat(slot.band), SIZE, "b", "e")
            self._add(slot.band, stroke(path, slot.band.style, slot.px) + words)
            y += high + 8
        self.y = max(self.y, y)

    def _over(self, y: float, start: Points) -> None:
        """What comes back along the right edge and over the top, or leaves that way."""
        turn = self.plan.cooling.px if self.plan.reversed else 0.0
        for slot in self.plan.arrive_over:
            x = NODE - 10.0 - turn - slot.px / 2.0 - 6.0
            turn += slot.px + 3.0
            on = self.top + slot.at
            way = start if slot.band.id == "hot_air" else ((OVER, y),)
            points = [*way, (OVER, self.over_y), (x, self.over_y), (x, on), (NODE, on)]
            drawn = stroke(pipe(points, slot.px / 2.0 + 8.0), slot.band.style, slot.px)
            sign = chevron(OVER, self.y1 + 60.0, "u", slot.px, slot.band.style)
            self._over_words(slot.band, drawn + sign, slot.px)
        for slot in self.plan.leave_over:
            on = self.top + slot.at
            end = y - head_length(slot.px)
            points = [(NODE + BAR, on), (300.0, on), (300.0, self.over_y),
                      (OVER, self.over_y), (OVER, end)]  # fmt: skip
            tip = head(OVER, end, "d", slot.px, slot.band.style)
            drawn = stroke(pipe(points, slot.px / 2.0 + 6.0), slot.band.style, slot.px, head=tip)
            self._over_words(slot.band, drawn, slot.px)

    def _over_words(self, flow: Band, drawn: str, px: float) -> None:
        facts = self.facts
        y = self.over_y - px / 2.0 - 22
        words = shortened(f"{heat(flow)}: {flow.words}{facts.over_end(flow)}", SIZE * 1.14, 380)
        detail = facts.replaced_words().partition(":")[0] if flow.id == "replaced" else ""
        if flow.id == "hot_air":
            detail = f"{degrees(facts.K('hot_end_K'))}, {facts.stream_words('hot')}"
        self._add(flow, drawn + text(385, y, words, SIZE, "b", "e")
                  + text(385, y + 14, detail, SIZE, "s", "e"))  # fmt: skip

    def _lanes(self) -> None:
        """Heat of the machine that lands in the place, from below."""
        y, turn = self.y + 8.0, 0.0
        slots = {slot.band.id: slot for slot in self.plan.arrive_under}
        self.duct_way: Points = ()
        for name in ("duct", "cold_fan", "lost_place"):
            slot = slots.get(name)
            if slot is None:
                continue
            flow, px = slot.band, slot.px
            x = NODE - 10.0 - turn - px / 2.0 - 6.0
            turn += px + 3.0
            on = self.top + slot.at
            if name == "duct":
                y += px / 2.0
                self.duct_way = ((DUCT, y), (x, y), (x, on), (NODE, on))
            else:
                y += 14.0 + px / 2.0
                words = text(64, y - px / 2.0 - 4, f"{flow.words} {heat(flow)}", SIZE)
                self.feeds[name] = (flow, ((x, y), (x, on), (NODE, on)), words)
            y += px / 2.0 + 5.0
        self.y = y + 8.0

    def _departures(self) -> None:
        slots = self.plan.leave
        x = NODE + BAR + 3.0 + sum(slot.px + 3.0 for slot in slots)
        y = self.y + 6.0
        for slot in slots:
            x -= slot.px / 2.0 + 1.5
            on = self.top + slot.at
            end = self.y + 4.0
            path = pipe([(NODE + BAR, on), (x, on), (x, end)], slot.px / 2.0 + 3.0)
            tip = head(x, end, "d", slot.px, slot.band.style)
            said = f"{heat(slot.band)} {slot.band.out_words()}"
            words, y = self._lines(NODE - 6, y, said, 178)
            self._add(slot.band, stroke(path, slot.band.style, slot.px, head=tip) + words,
                      slot.band.out_words())  # fmt: skip
            x -= slot.px / 2.0 + 1.5
        self.y = y + (14.0 if slots else 0.0)
