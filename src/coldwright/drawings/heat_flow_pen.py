"""What the picture of heat is drawn with: pipes with round bends, texts of known width, patterns.

All coordinates are pixels of the view box, y downwards. Colours are CSS classes, so that a page's
theme colours the picture; away from a page the fallbacks of the light theme hold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from coldwright.quantities.display import printable

Points = Sequence[tuple[float, float]]

# A space at which no line is broken.
_KEPT = "\u00a0"
FONT = "system-ui,-apple-system,'Segoe UI','DejaVu Sans',sans-serif"

# Widths of the signs from space to tilde, and of some others, in thousandths of the font size:
# those of DejaVu Sans, which is wider than most system fonts, so that texts have room anywhere.
_WIDTHS = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
    636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
    1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
    603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
    500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
    635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
)  # fmt: skip
_OTHERS = {
    " ": 200,
    "\u00a0": 318,
    "°": 500,
    "³": 401,
    "²": 401,
    "·": 318,
    "×": 838,
    "–": 500,
    "−": 838,
}
_BOLDER = 1.14

_STYLE = (
    ".heat-flow text{{font-family:{font};font-variant-numeric:tabular-nums;"
    "fill:var(--ink,#22272e)}}"
    ".heat-flow .s{{fill:var(--soft,#5a5f67)}}.heat-flow .b{{font-weight:600}}"
    ".heat-flow .tc{{fill:var(--cold,#1b4c7e)}}.heat-flow .th{{fill:var(--hot,#b0401c)}}"
    ".heat-flow .on{{fill:var(--on-band,#fff)}}"
    ".heat-flow path,.heat-flow line,.heat-flow circle,.heat-flow rect{{fill:none}}"
    ".heat-flow .i{{stroke:var(--ink,#22272e)}}.heat-flow .e{{stroke:var(--edge,#7d786a)}}"
    ".heat-flow .k{{stroke:var(--card,#fff)}}.heat-flow .fk{{fill:var(--card,#fff)}}"
    ".heat-flow .fi{{fill:var(--ink,#22272e)}}.heat-flow .fe{{fill:var(--edge,#7d786a)}}"
    ".heat-flow .fs{{fill:var(--selected,#efe9da)}}.heat-flow .fc{{fill:var(--cold,#1b4c7e)}}"
    ".heat-flow .fh{{fill:var(--hot,#b0401c)}}.heat-flow .fw{{fill:var(--warm,#c87617)}}"
    ".heat-flow .fa{{fill:var(--outdoor,#1d7a5f)}}.heat-flow .fp{{fill:var(--power,#6b3f94)}}"
    ".heat-flow .fao{{fill:var(--outdoor-fill,#d5ece4)}}"
    ".heat-flow .fpo{{fill:var(--power-fill,#ece6f6)}}"
    ".heat-flow .cold{{stroke:var(--cold,#1b4c7e)}}.heat-flow .hot{{stroke:var(--hot,#b0401c)}}"
    ".heat-flow .warm{{stroke:var(--warm,#c87617)}}.heat-flow .air{{stroke:var(--outdoor,#1d7a5f)}}"
    ".heat-flow .power{{stroke:var(--power,#6b3f94)}}"
    ".heat-flow .air2{{stroke:url(#{id}-air)}}.heat-flow .power2{{stroke:url(#{id}-power)}}"
    ".heat-flow .band{{cursor:pointer}}.heat-flow .band:focus{{outline:none}}"
    ".heat-flow .band:focus-visible .halo,.heat-flow .band:hover .halo,"
    ".heat-flow .band[data-on] .halo{{stroke:var(--ink,#22272e)}}"
)
_DEFS = (
    '<defs><pattern id="{id}-air" width="7" height="7" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><rect class="fao" width="7" height="7"/>'
    '<rect class="fa" width="2.4" height="7"/></pattern>'
    '<pattern id="{id}-power" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<rect class="fpo" width="6" height="6"/><circle class="fp" cx="3" cy="3" r="1.4"/></pattern>'
    "</defs>"
)


def opened(
    name: str, box: tuple[float, float, float, float], title: str, said: str, *, live: bool
) -> str:
    """Beginning of the picture: frame, name and description for a screen reader, patterns.

    An image hides what stands inside it from screen readers; where bands can be stepped to, the
    whole is a group instead.
    """
    role = "group" if live else "img"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="heat-flow" viewBox="'
        f'{" ".join(f"{side:g}" for side in box)}" role="{role}" '
        f'aria-labelledby="{name}-title {name}-desc" font-family="{FONT}">'
        f'<title id="{name}-title">{_safe(title)}</title>'
        f'<desc id="{name}-desc">{_safe(said)}</desc>'
        f"<style>{_STYLE.format(font=FONT, id=name)}</style>{_DEFS.format(id=name)}"
    )


def _safe(words: str) -> str:
    """Words as they may stand in the picture, whatever a sheet calls its things."""
    return escape(printable(words.replace(_KEPT, " ")))


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """About how wide a text stands [px]; rather too wide than too narrow."""
    total = 0
    for sign in text:
        code = ord(sign) - 32
        total += _WIDTHS[code] if 0 <= code < 95 else _OTHERS.get(sign, 640)
    return total * size * (_BOLDER if bold else 1.0) / 1000.0


def wrapped(text: str, size: float, room: float, most: int = 2) -> list[str]:
    """The text in at most so many lines of that width; what does not fit ends in an ellipsis."""
    lines: list[str] = []
    held = ""
    for word in text.split(" "):
        longer = f"{held} {word}" if held else word
        if not held or width_of(longer, size) <= room:
            held = longer
        else:
            lines.append(held)
            held = word
    lines.append(held)
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [shortened(line, size, room) for line in lines]


def shortened(text: str, size: float, room: float) -> str:
    """The text, cut to that width."""
    if width_of(text, size) <= room:
        return text
    while text and width_of(text + "…", size) > room:
        text = text[:-1]
    return text.rstrip(" ,.") + "…"


def text(x: float, y: float, words: str, size: float = 12.0, kind: str = "", at: str = "") -> str:
    """A line of text on the base line y; `kind`: classes, `at`: "m" middle, "e" end of it at x."""
    anchor = {"m": ' text-anchor="middle"', "e": ' text-anchor="end"'}.get(at, "")
    known = f' class="{kind}"' if kind else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}"{known}{anchor}>{_safe(words)}</text>'
    )


def pipe(points: Points, radius: float) -> str:
    """Path data through the corners, each rounded by up to that radius [px]."""
    (x, y), last = points[0], len(points) - 1
    parts = [f"M{x:.1f},{y:.1f}"]
    for at in range(1, last):
        (x0, y0), (x1, y1), (x2, y2) = points[at - 1], points[at], points[at + 1]
        before, after = math.hypot(x1 - x0, y1 - y0), math.hypot(x2 - x1, y2 - y1)
        # Half of an inner leg at most, so that two bends in a row both have room.
        r = min(radius, before / (2.0 if at > 1 else 1.0), after / (2.0 if at < last - 1 else 1.0))
        if r <= 0.05:
            continue
        ax, ay = x1 - r * (x1 - x0) / before, y1 - r * (y1 - y0) / before
        bx, by = x1 + r * (x2 - x1) / after, y1 + r * (y2 - y1) / after
        right = (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) > 0.0
        parts.append(f"L{ax:.1f},{ay:.1f}A{r:.1f},{r:.1f} 0 0 {int(right)} {bx:.1f},{by:.1f}")
    x, y = points[last]
    parts.append(f"L{x:.1f},{y:.1f}")
    return "".join(parts)


def swing(x0: float, y0: float, x1: float, y1: float, on: float) -> str:
    """Path data of a level S from one height to another, then straight on to x `on`."""
    middle = (x0 + x1) / 2.0
    return (
        f"M{x0:.1f},{y0:.1f}C{middle:.1f},{y0:.1f} {middle:.1f},{y1:.1f} {x1:.1f},{y1:.1f}"
        f"L{on:.1f},{y1:.1f}"
    )


def stroke(path: str, style: str, width: float, *, head: str = "") -> str:
    """A band along a path: a card-coloured edge, its outline, and its filling or pattern."""
    over = f'<path class="k halo" stroke-width="{width + 3.0:.1f}" d="{path}"/>'
    if style in ("air", "power"):
        inner = max(width - 2.0, 0.6)
        over += f'<path class="{style}" stroke-width="{width:.1f}" d="{path}"/>'
        if width > 3.0:
            over += f'<path class="{style}2" stroke-width="{inner:.1f}" d="{path}"/>'
        return over + head
    return f'{over}<path class="{style}" stroke-width="{width:.1f}" d="{path}"/>{head}'


def head(x: float, y: float, way: str, width: float, style: str) -> str:
    """An arrow head with its foot at (x, y), `way` one of "r", "l", "u", "d"."""
    half = width / 2.0 + max(4.0, min(10.0, 0.2 * width))
    long = min(half * 1.1, 36.0)
    dx, dy = {"r": (1, 0), "l": (-1, 0), "u": (0, -1), "d": (0, 1)}[way]
    a = f"{x - dy * half:.1f},{y + dx * half:.1f}"
    b = f"{x + dx * long:.1f},{y + dy * long:.1f}"
    c = f"{x + dy * half:.1f},{y - dx * half:.1f}"
    return f'<path class="{_FILLS[style]}" d="M{a}L{b}L{c}Z"/>'


def chevron(x: float, y: float, way: str, width: float, style: str) -> str:
    """Which way a band runs: a sign upon a wide one, an arrow head astride a thin one."""
    dx, dy = {"r": (1, 0), "l": (-1, 0), "u": (0, -1), "d": (0, 1)}[way]
    size = min(0.3 * width, 6.0) if width >= 9.0 else 5.0
    a = f"{x - dx * size - dy * size:.1f},{y - dy * size + dx * size:.1f}"
    c = f"{x - dx * size + dy * size:.1f},{y - dy * size - dx * size:.1f}"
    b = f"{x + dx * size * 0.4:.1f},{y + dy * size * 0.4:.1f}"
    if width >= 9.0:
        kind = "i" if style in ("air", "power") else "k"
        return f'<path class="{kind}" stroke-width="2.4" d="M{a}L{b}L{c}"/>'
    return f'<path class="{_FILLS[style]}" d="M{a}L{x + dx * 5:.1f},{y + dy * 5:.1f}L{c}Z"/>'


_FILLS = {"cold": "fc", "hot": "fh", "warm": "fw", "air": "fa", "power": "fp"}


def fan(x: float, y: float) -> str:
    """A fan in a stream of air."""
    blade = "c5,-1 6,-6 1,-7c-3,1 -3,5 -1,7z"
    turned = "".join(
        f'<path class="fi" transform="rotate({angle} {x:.1f} {y:.1f})" '
        f'd="M{x:.1f},{y:.1f}{blade}"/>'
        for angle in (0, 120, 240)
    )
    return f'<circle class="fk i" cx="{x:.1f}" cy="{y:.1f}" r="9" stroke-width="1.3"/>{turned}'


def head_length(width: float) -> float:
    """How far an arrow head of a band of that width reaches [px]."""
    return min((width / 2.0 + max(4.0, min(10.0, 0.2 * width))) * 1.1, 36.0)


def stream(points: Points, style: str, radius: float = 8.0) -> str:
    """A stream of air: a thin line with an open arrow at its end."""
    (x0, y0), (x1, y1) = points[-2], points[-1]
    long = math.hypot(x1 - x0, y1 - y0) or 1.0
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    barb = (
        f"M{x1 - 7 * ux - 4 * uy:.1f},{y1 - 7 * uy + 4 * ux:.1f}L{x1:.1f},{y1:.1f}"
        f"L{x1 - 7 * ux + 4 * uy:.1f},{y1 - 7 * uy - 4 * ux:.1f}"
    )
    path = pipe(points, radius)
    return (
        f'<path class="k" stroke-width="5" d="{path}"/>'
        f'<path class="{style}" stroke-width="1.8" stroke-dasharray="7 3" d="{path}"/>'
        f'<path class="{style}" stroke-width="1.8" d="{barb}"/>'
    )


def band(line: str, said: str, inside: str, *, live: bool = True) -> str:
    """A band with its words: `live`, a page can point at it and a reader can step to it."""
    steps = ' tabindex="0" role="img"' if live else ""
    return f'<g class="band"{steps} data-line="{line}" aria-label="{_safe(said)}">{inside}</g>'
