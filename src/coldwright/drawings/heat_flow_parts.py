"""Things that stand in the picture of heat: place, cooler, plug, ladder of temperatures, legend."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coldwright.drawings.heat_flow_bands import module_count
from coldwright.drawings.heat_flow_facts import Facts, Node, WallLayer, main_wall, wall_layers
from coldwright.drawings.heat_flow_pen import text, width_of
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display
from coldwright.quantities.units import conversion
from coldwright.sheet.models import Box, OpenAir, PlateFinSink, Room, Sheet, WaterLoop

_THICKEST, _THINNEST = 30.0, 6.0
_LADDER_LINE = 15.0


def place_size(sheet: Sheet, area: float, widths: tuple[float, float]) -> tuple[float, float]:
    """Width and height of the place in the cut [px], by its own proportions within limits."""
    place = sheet.place
    aspect = 0.75
    if isinstance(place, Room | Box):
        aspect = max(place.length.value, place.width.value) / place.height.value
    width = min(widths[1], max(widths[0], math.sqrt(area * aspect)))
    least, most = area / 1.5 / widths[1], area * 1.05 / widths[0]
    return width, min(most, max(least, width / aspect))


def wall_px(sheet: Sheet, width: float, most: float = _THICKEST) -> list[tuple[float, bool]]:
    """Layers of the wall in the cut, from the inside out: px thick, and whether it insulates."""
    place = sheet.place
    layers = wall_layers(main_wall(sheet)) or [WallLayer(0.0, False)]
    longest = max(place.length.value, place.width.value) if isinstance(place, Room | Box) else 1.0
    drawn = [max(layer.thickness_m * width / longest, 2.0) for layer in layers]
    total = sum(drawn)
    factor = min(most, max(_THINNEST, total)) / total
    return [(px * factor, layer.insulates) for px, layer in zip(drawn, layers, strict=True)]


def place_frame(
    facts: Facts, x0: float, y0: float, x1: float, y1: float, most: float = _THICKEST
) -> str:
    """The place from inside corner to inside corner: its walls by layers, or open air.

    `most`: the thickest that a wall is drawn [px].
    """
    sheet = facts.sheet
    if isinstance(sheet.place, OpenAir):
        return (
            f'<rect class="e" x="{x0:.1f}" y="{y0:.1f}" width="{x1 - x0:.1f}" '
            f'height="{y1 - y0:.1f}" rx="18" stroke-width="1.2" stroke-dasharray="2 5"/>'
        )
    if not facts.enclosed:
        return ""
    parts = [_ring(x0, y0, x1, y1, 0.0, 1.0, "i")]
    out = 0.0
    for px, insulates in wall_px(sheet, x1 - x0, most):
        middle = out + px / 2.0
        kind = "fe" if not insulates else "fs"
        parts.append(_filled_ring(x0, y0, x1, y1, out, px, kind))
        if insulates and px > 3.0:
            parts.append(_hatched(x0, y0, x1, y1, middle, px))
        out += px
    parts.append(_ring(x0, y0, x1, y1, out, 1.6, "i"))
    if getattr(sheet.place, "window", ()):
        a, b = x0 - out, x0
        top = y0 + 0.10 * (y1 - y0)
        tall = 0.16 * (y1 - y0)
        parts.append(
            f'<rect class="fk i" x="{a:.1f}" y="{top:.1f}" width="{b - a:.1f}" '
            f'height="{tall:.1f}" stroke-width="1"/><line class="cold" stroke-width="1.4" '
            f'x1="{(a + b) / 2:.1f}" x2="{(a + b) / 2:.1f}" y1="{top:.1f}" y2="{top + tall:.1f}"/>'
        )
    return "".join(parts)


def _ring(x0: float, y0: float, x1: float, y1: float, out: float, w: float, kind: str) -> str:
    wide, tall = x1 - x0 + 2 * out, y1 - y0 + 2 * out
    return (
        f'<rect class="{kind}" x="{x0 - out:.1f}" y="{y0 - out:.1f}" width="{wide:.1f}" '
        f'height="{tall:.1f}" stroke-width="{w:g}"/>'
    )


def _filled_ring(
    x0: float, y0: float, x1: float, y1: float, out: float, px: float, kind: str
) -> str:
    a, b = out, out + px

    def box(by: float) -> str:
        return f"M{x0 - by:.1f},{y0 - by:.1f}H{x1 + by:.1f}V{y1 + by:.1f}H{x0 - by:.1f}Z"

    return f'<path class="{kind}" fill-rule="evenodd" d="{box(a)}{box(b)}"/>'


def _hatched(x0: float, y0: float, x1: float, y1: float, at: float, px: float) -> str:
    """The sign for insulation: short strokes across each side of it."""
    a, b, c, d = x0 - at, y0 - at, x1 + at, y1 + at
    sides = f"M{x0:.1f},{b:.1f}H{x1:.1f}M{x0:.1f},{d:.1f}H{x1:.1f}"
    sides += f"M{a:.1f},{y0:.1f}V{y1:.1f}M{c:.1f},{y0:.1f}V{y1:.1f}"
    return (
        f'<path class="e" d="{sides}" stroke-width="{px * 0.6:.1f}" stroke-dasharray="1 6" '
        'opacity="0.8"/>'
    )


def sink(facts: Facts, side: str, x: float, y: float, w: float, h: float, *, level: bool) -> str:
    """A heat sink with fins; a water loop with block, pipes, pump and radiator.

    `level`: fins lie level, beside upright ones in the wide layout.
    """
    cooler = facts.sheet.cooler
    sinks = (cooler.cold_sink or ()) if side == "cold" else cooler.hot_sink
    style = "cold" if side == "cold" else "hot"
    first = sinks[0] if sinks else None
    frame = (
        f'<rect class="fk i" x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" '
        'stroke-width="1.3"/>'
    )
    if first is None:
        return (
            f'<rect class="fs i" x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" '
            'stroke-width="1.3"/>'
        )
    if isinstance(first, WaterLoop):
        return frame + _loop(side, style, x, y, w, h, level=level)
    fins = 8
    if isinstance(first, PlateFinSink):
        across = first.base[1].value / (first.fin_gap.value + first.fin_thickness.value)
        fins = max(6, min(12, round(across / 4.0)))
    base = 7.0
    lines = []
    for at in range(fins):
        share = (at + 0.5) / fins
        if level:
            fy = y + 5 + share * (h - 10)
            a, b = (x + 5, x + w - base) if side == "cold" else (x + base, x + w - 5)
            lines.append(f"M{a:.1f},{fy:.1f}H{b:.1f}")
        else:
            fx = x + 5 + share * (w - 10)
            a, b = (y + 5, y + h - base) if side == "cold" else (y + base, y + h - 5)
            lines.append(f"M{fx:.1f},{a:.1f}V{b:.1f}")
    # The base stands against the modules.
    if level:
        bx = x + w - base if side == "cold" else x
        plate = f'<rect class="fs i" x="{bx:.1f}" y="{y:.1f}" width="{base}" height="{h:.1f}"/>'
    else:
        by = y + h - base if side == "cold" else y
        plate = f'<rect class="fs i" x="{x:.1f}" y="{by:.1f}" width="{w:.1f}" height="{base}"/>'
    return frame + f'<path class="{style}" stroke-width="1.7" d="{"".join(lines)}"/>' + plate


def _loop(side: str, style: str, x: float, y: float, w: float, h: float, *, level: bool) -> str:
    if not level:
        near, far = (y + h, y) if side == "cold" else (y, y + h)
        toward = 1.0 if far > near else -1.0
        return (
            f'<path class="{style}" stroke-width="2" d="M{x + 24:.1f},{near:.1f}V{far:.1f}'
            f'M{x + w - 24:.1f},{near:.1f}V{far:.1f}"/>'
            f'<path class="i" stroke-width="6" d="M{x:.1f},{near + 4 * toward:.1f}H{x + w:.1f}"/>'
            f'<circle class="fk i" cx="{x + 24:.1f}" cy="{(near + far) / 2:.1f}" r="8"/>'
        )
    near, far = (x + w, x) if side == "cold" else (x, x + w)
    toward = 1.0 if far > near else -1.0
    top, bottom, middle = y + 22, y + h - 22, near + toward * w * 0.42
    rows = "".join(
        f"M{far - toward * 6:.1f},{fy:.1f}H{far - toward * 22:.1f}"
        for fy in (y + 8 + at * (h - 16) / 10.0 for at in range(11))
    )
    return (
        f'<path class="{style}" stroke-width="1.7" d="{rows}"/>'
        f'<path class="{style}" stroke-width="3" d="M{near:.1f},{top:.1f}H{far - toward * 24:.1f}'
        f'M{near:.1f},{bottom:.1f}H{far - toward * 24:.1f}"/>'
        f'<path class="i" stroke-width="7" d="M{near + toward * 4:.1f},{y:.1f}V{y + h:.1f}"/>'
        f'<circle class="fk i" cx="{middle:.1f}" cy="{bottom:.1f}" r="9" stroke-width="1.3"/>'
        f'<path class="fi" d="M{middle - 4:.1f},{bottom - 4:.1f}L{middle + 5:.1f},{bottom:.1f}'
        f'L{middle - 4:.1f},{bottom + 4:.1f}Z"/>'
    )


def modules(facts: Facts, x: float, y: float, w: float, h: float, *, upright: bool) -> str:
    """The modules side by side, as many as there are, up to twenty-four; two when stacked."""
    count = module_count(facts.sheet.cooler)
    drawn = min(count, 24)
    two = any(group.stages == 2 for group in facts.sheet.cooler.modules)
    lanes = 2 if drawn > 8 else 1
    rows = math.ceil(drawn / lanes)
    long, across = (h, w) if upright else (w, h)
    step, wide = long / rows, across / lanes
    size = min(step - 4.0, 30.0)
    parts = [
        f'<rect class="fk i" x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" '
        'stroke-width="1.3"/>'
    ]
    for at in range(drawn):
        lane, row = at % lanes, at // lanes
        u = row * step + (step - size) / 2.0
        v = lane * wide + 3.0
        thick = wide - 6.0
        a, b, c, d = (x + v, y + u, thick, size) if upright else (x + u, y + v, size, thick)
        parts.append(
            f'<rect class="fs i" x="{a:.1f}" y="{b:.1f}" width="{c:.1f}" height="{d:.1f}" '
            'stroke-width="0.9"/>'
        )
        if two:
            line = (
                f"M{a + c / 2:.1f},{b:.1f}V{b + d:.1f}" if upright
                else f"M{a:.1f},{b + d / 2:.1f}H{a + c:.1f}"
            )  # fmt: skip
            parts.append(f'<path class="i" stroke-width="0.9" d="{line}"/>')
    return "".join(parts)


def drops(x: float, y: float, count: int = 3) -> str:
    """Drops of water below each other's side."""
    one = "c-4,6 -5,8 -5,10a5,5 0 0 0 10,0c0,-2 -1,-4 -5,-10z"
    return "".join(
        f'<path class="fc" d="M{x + 13 * at:.1f},{y + 5 * (at % 2):.1f}{one}"/>'
        for at in range(count)
    )


def plug(x: float, y: float) -> str:
    """A mains plug, its pins downwards, the middle of its top at (x, y)."""
    return (
        f'<rect class="fi" x="{x - 11:.1f}" y="{y:.1f}" width="22" height="11" rx="3"/>'
        f'<path class="i" stroke-width="3" d="M{x - 5:.1f},{y + 10:.1f}v8'
        f'M{x + 5:.1f},{y + 10:.1f}v8"/>'
    )


def ladder(facts: Facts, x: float, y0: float, y1: float) -> str:
    """All temperatures on one upright axis, labels to its right, none over another."""
    nodes = sorted(facts.nodes(), key=lambda node: -node.K)
    factor, offset = conversion("°C", "temperature")
    degrees = [(node.K - offset) / factor for node in nodes]
    step = _step(max(degrees) - min(degrees))
    low, high = math.floor(min(degrees) / step) * step, math.ceil(max(degrees) / step) * step
    high = max(high, low + step)

    def at(degree: float) -> float:
        return y1 - (degree - low) / (high - low) * (y1 - y0)

    parts = [
        text(x, y0 - 16, f"temperatures,{THIN_SPACE}°C", 12, "s", "m"),
        f'<line class="i" stroke-width="1.2" x1="{x}" x2="{x}" y1="{y0}" y2="{y1}"/>',
    ]
    for number in range(round((high - low) / step) + 1):
        tick = low + number * step
        y = at(tick)
        said = f"{tick:g}".replace("-", "−")
        parts.append(f'<line class="i" x1="{x - 4}" x2="{x}" y1="{y:.1f}" y2="{y:.1f}"/>')
        parts.append(text(x - 8, y + 4, said, 11, "s", "e"))
    places = spread([at(degree) for degree in degrees], _LADDER_LINE, y0, y1)
    for node, degree, y in zip(nodes, degrees, places, strict=True):
        parts.append(_rung(node, x, at(degree), y))
    return "".join(parts)


def _rung(node: Node, x: float, y: float, label: float) -> str:
    kinds = {"cold": "tc", "hot": "th", "place": "b", "outdoors": "s", "goal": "b"}
    number = display("place_air_K", node.K).rpartition(THIN_SPACE)[0]
    mark = (
        f'<path class="i" stroke-width="3.4" d="M{x - 5},{y:.1f}H{x + 13}"/>'
        if node.style == "goal"
        else f'<circle class="{_DOTS[node.style]}" cx="{x}" cy="{y:.1f}" r="4.2"/>'
    )
    lead = f'<path class="e" stroke-width="0.8" d="M{x + 6},{y:.1f}L{x + 20},{label:.1f}"/>'
    return lead + mark + text(x + 23, label + 4, f"{node.name} {number}", 12, kinds[node.style])


_DOTS = {"cold": "fc", "hot": "fh", "place": "fi", "outdoors": "fa"}


def ladder_width(facts: Facts) -> float:
    """How far the labels of the ladder reach to the right of its axis [px]."""
    return max(width_of(f"{node.name} 100.0", 12, bold=True) for node in facts.nodes()) + 23


def spread(places: Sequence[float], least: float, low: float, high: float) -> list[float]:
    """Places in rising order moved apart to that least distance, within the bounds if they fit."""
    found = list(places)
    for at in range(1, len(found)):
        found[at] = max(found[at], found[at - 1] + least)
    limit = high
    for at in range(len(found) - 1, -1, -1):
        found[at] = min(found[at], limit)
        limit = found[at] - least
    if found and found[0] < low:
        shift = low - found[0]
        found = [place + shift for place in found]
    return found


def _step(span: float) -> float:
    return next((step for step in (1.0, 2.0, 5.0, 10.0, 20.0, 50.0) if span <= 12 * step), 100.0)


def round_number(most: float) -> float:
    """The largest of 1, 2, 5, 10, ... that is not larger."""
    power = 10.0 ** math.floor(math.log10(most))
    return next(k * power for k in (5.0, 2.0, 1.0) if k * power <= most * (1.0 + 1e-9))
