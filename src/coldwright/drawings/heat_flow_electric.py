"""Electricity in the wide layout: a trunk from the plug that parts to whatever takes it."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.drawings.heat_flow_bands import Band
from coldwright.drawings.heat_flow_facts import Facts, heat
from coldwright.drawings.heat_flow_pen import head, head_length, pipe, stroke, text, wrapped
from coldwright.drawings.heat_flow_plan import Plan

_CENTRE = 806.0
_MODULES_END = 408.0  # below the modules
_SINKS_END = 400.0
_FIRST_TURN = 436.0
_COLUMN = 884.0
_TARGETS = {"cold_pump": 754.0, "hot_fan": 848.0, "hot_pump": 872.0, "lost_exhaust": 916.0}


class Trunk:
    """Slices side by side above the plug; the outermost turns off first."""

    def __init__(self, facts: Facts, plan: Plan) -> None:
        flows = facts.flows
        self.facts, self.plan, self.flows = facts, plan, flows
        pumps = {band.id: band for band in flows.pumps}
        at_place = {band.id: band for band in flows.under}
        self.left = [
            band
            for name in ("cold_pump", "cold_fan", "lost_place")
            if (band := at_place.get(name) or pumps.get(name)) is not None and band.W > 0.0
        ]
        self.right = [
            band
            for band in (
                flows.hot_fan, pumps.get("hot_pump"), flows.lost_in_exhaust, flows.lost_outside,
            )
            if band is not None and band.shown
        ]  # fmt: skip
        # Below all lanes and words, whatever their widths at this drive.
        lanes = len(flows.under)
        words = sum(band.id in _TARGETS for band in (*self.left, *self.right))
        self.out = max(480.0 + lanes * 58.0 - (lanes > 1) * 30.0, 566.0 + 16.0 * words)
        self.bottom = self.out + 26.0
        half = plan.px(flows.modules) / 2.0
        self._x = {"modules": _CENTRE}
        x = _CENTRE - half
        for band in self.left:
            px = plan.px(band)
            self._x[band.id] = x - px / 2.0
            x -= px
        self.west = x
        x = _CENTRE + half
        for band in self.right:
            px = plan.px(band)
            self._x[band.id] = x + px / 2.0
            x += px
        self.east = x
        self.middle = (self.west + self.east) / 2.0

    def x(self, name: str) -> float:
        """Where the middle of a slice stands."""
        return self._x[name]

    def drawn(self) -> Iterator[tuple[Band, str, str]]:
        """Each band of electricity but those that turn into the place: band, picture, words."""
        flows = self.flows
        yield from self._plug()
        yield from self._modules()
        lines = 0
        turn = _FIRST_TURN
        for band in (*self.left, *self.right):
            if band.id not in _TARGETS:
                continue
            px, x, to = self.plan.px(band), self.x(band.id), _TARGETS[band.id]
            y = turn + px / 2.0
            if band.id != "cold_pump":
                turn += px + 5.0
            end = _SINKS_END
            if band.id == "lost_exhaust":
                end = 325.0 + self.plan.px(flows.leaves) / 2.0
            path = pipe([(x, self.bottom), (x, y), (to, y), (to, end)], px / 2.0 + 6.0)
            lines += 1
            words = text(_COLUMN, 540 + 16 * lines, f"{heat(band)} {band.words}", 12)
            yield band, stroke(path, band.style, px) + words, ""
        yield from self._outside()

    def _plug(self) -> Iterator[tuple[Band, str, str]]:
        plug = self.flows.plug
        if plug.shown:
            words = text(
                min(self.west, 790.0) - 14,
                self.bottom + 14,
                f"{heat(plug)} {plug.words}",
                13,
                "b",
                "e",
            )
            yield plug, words, ""

    def _modules(self) -> Iterator[tuple[Band, str, str]]:
        band = self.flows.modules
        said, electric = self.facts.modules_words()
        if not band.shown:
            return
        px = self.plan.px(band)
        path = pipe([(_CENTRE, self.bottom), (_CENTRE, _MODULES_END)], 1.0)
        words = text(_COLUMN, 524, said, 13, "b") + text(_COLUMN, 540, electric, 12, "s")
        yield band, stroke(path, "power", px) + words, said

    def _outside(self) -> Iterator[tuple[Band, str, str]]:
        band = self.flows.lost_outside
        if not band.shown:
            return
        px, x = self.plan.px(band), self.x(band.id)
        end = _COLUMN + 10.0 - head_length(px)
        path = pipe([(x, self.bottom), (x, self.out), (end, self.out)], px / 2.0 + 4.0)
        words = text(_COLUMN + 18, self.out + 1, f"{heat(band)} {band.words}", 12, "b")
        for at, line in enumerate(wrapped(self.facts.lost_words(band), 12, 255)):
            words += text(_COLUMN + 18, self.out + 17 + 15 * at, line, 12, "s")
        yield band, stroke(path, "warm", px, head=head(end, self.out, "r", px, "warm")) + words, ""
