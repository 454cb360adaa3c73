"""What stands where in a picture: boxes of its texts, and points along its bands.

Texts are measured with the glyphs of DejaVu Sans, which is among the widest of the system fonts a
reader may have.
"""

import functools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import numpy as np

INK = ("cold", "hot", "warm", "air", "power")


@dataclass(frozen=True)
class Text:
    words: str
    box: tuple[float, float, float, float]
    size: float
    kinds: frozenset
    owner: str


@dataclass(frozen=True)
class Line:
    points: np.ndarray
    """Points all over the stroke, ends cut off square."""
    owner: str


@dataclass(frozen=True)
class Picture:
    view: tuple[float, float, float, float]
    texts: list[Text]
    lines: list[Line]
    blocks: list[tuple[float, float, float, float]]


def read(svg: str) -> Picture:
    root = ET.fromstring(svg)
    view = tuple(float(part) for part in root.get("viewBox").split())
    texts, lines, blocks = [], [], []

    def visit(node, owner):
        owner = node.get("data-line") or owner
        kinds = frozenset((node.get("class") or "").split())
        name = node.tag.rpartition("}")[2]
        if name in ("defs", "style"):
            return
        if name == "text":
            texts.append(_text(node, kinds, owner))
        elif name == "path" and kinds & set(INK) and "halo" not in kinds:
            wide = float(node.get("stroke-width", 1))
            parts = re.findall("M[^M]*", node.get("d"))
            lines.extend(Line(_stroked(part, wide), owner) for part in parts)
        elif name == "rect" and kinds & {"fi", "fk", "fs"}:
            x, y, w, h = (float(node.get(key)) for key in ("x", "y", "width", "height"))
            blocks.append((x, y, x + w, y + h))
        elif name == "rect" and kinds & {"i", "e"}:
            # A wall, or the rim of open air: its edges count, what it encloses does not.
            x, y, w, h = (float(node.get(key)) for key in ("x", "y", "width", "height"))
            path = f"M{x},{y}L{x + w},{y}L{x + w},{y + h}L{x},{y + h}L{x},{y}"
            lines.append(Line(_stroked(path, float(node.get("stroke-width", 1))), "a wall"))
        for child in node:
            visit(child, owner)

    visit(root, "")
    return Picture((view[0], view[1], view[0] + view[2], view[1] + view[3]), texts, lines, blocks)


def faults(svg: str) -> list[str]:
    """Texts that leave the picture, lie over each other, or over something drawn."""
    picture = read(svg)
    x0, y0, x1, y1 = picture.view
    found = []
    for at, one in enumerate(picture.texts):
        a, b, c, d = one.box
        if a < x0 or b < y0 or c > x1 or d > y1:
            found.append(f"outside: {one.words}")
        found += [f"{one.words} | {other.words}" for other in picture.texts[at + 1 :]
                  if _meet(one.box, other.box)]  # fmt: skip
        for line in picture.lines:
            if "on" in one.kinds and line.owner in (one.owner, "a wall"):
                continue
            if _touches(one.box, line):
                found.append(f"{one.words} over {line.owner or 'a line'}")
                break
        found += [f"{one.words} over a block" for block in picture.blocks if _meet(one.box, block)]
    return found


def outside_own_band(svg: str) -> list[str]:
    """Words that should stand on their band and reach beyond it."""
    picture = read(svg)
    found = []
    for one in picture.texts:
        if "on" not in one.kinds:
            continue
        points = np.concatenate([line.points for line in picture.lines if line.owner == one.owner])
        x0, x1, y0, y1 = (*np.sort(points[:, 0])[[0, -1]], *np.sort(points[:, 1])[[0, -1]])
        a, b, c, d = one.box
        if a < x0 or c > x1 or b < y0 or d > y1:
            found.append(one.words)
    return found


def _text(node, kinds, owner):
    size = float(node.get("font-size"))
    words = "".join(node.itertext())
    wide = measured(words, "b" in kinds) * size
    x, y = float(node.get("x")), float(node.get("y"))
    x -= {"middle": wide / 2, "end": wide}.get(node.get("text-anchor"), 0.0)
    return Text(words, (x, y - 0.76 * size, x + wide, y + 0.2 * size), size, kinds, owner)


@functools.cache
def measured(words: str, bold: bool) -> float:
    """Width in units of the font size."""
    return sum(_advance(sign, bold) for sign in words)


@functools.cache
def _advance(sign: str, bold: bool) -> float:
    from matplotlib.ft2font import LoadFlags

    font = _font(bold)
    return font.load_char(ord(sign), flags=LoadFlags.NO_SCALE).horiAdvance / font.units_per_EM


@functools.lru_cache(maxsize=2)
def _font(bold):
    import matplotlib
    from matplotlib.ft2font import FT2Font

    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return FT2Font(f"{matplotlib.get_data_path()}/fonts/ttf/{name}")


def _meet(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _touches(box, line):
    a, b, c, d = box
    x, y = line.points[:, 0], line.points[:, 1]
    return bool(((x > a) & (x < c) & (y > b) & (y < d)).any())


def _stroked(path, width):
    """Points over the breadth of a stroke along the path."""
    spine = _points(path)
    along = np.gradient(spine, axis=0) if len(spine) > 1 else np.array([[1.0, 0.0]])
    along /= np.maximum(np.hypot(along[:, 0], along[:, 1])[:, None], 1e-9)
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    offsets = np.linspace(-width / 2, width / 2, max(3, math.ceil(width / 3)))
    return (spine[:, None, :] + offsets[None, :, None] * across[:, None, :]).reshape(-1, 2)


_PART = re.compile(r"([MLHVCAZ])([^MLHVCAZ]*)")


def _points(path):
    """Points along a path, at most 4 px apart."""
    found, x, y = [], 0.0, 0.0
    for letter, rest in _PART.findall(path):
        n = [float(number) for number in re.findall(r"-?[\d.]+", rest)]
        if letter == "M":
            x, y = n[:2]
            found.append((x, y))
            continue
        if letter == "Z":
            continue
        if letter == "C":
            p = np.array([(x, y), n[:2], n[2:4], n[4:6]])
            for t in np.linspace(0, 1, 40):
                u = 1 - t
                found.append(tuple(u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2]
                                   + t**3 * p[3]))  # fmt: skip
            x, y = n[4:6]
            continue
        if letter == "A":
            found += _arc(x, y, n[0], n[4] > 0, n[5], n[6])
            x, y = n[5:7]
            continue
        to = {"L": n, "H": [n[0], y], "V": [x, n[0]]}[letter]
        steps = max(1, math.ceil(math.hypot(to[0] - x, to[1] - y) / 4.0))
        found += [(x + (to[0] - x) * k / steps, y + (to[1] - y) * k / steps)
                  for k in range(1, steps + 1)]  # fmt: skip
        x, y = to
    return np.array(found)


def _arc(x0, y0, r, right, x1, y1):
    mx, my, dx, dy = (x0 + x1) / 2, (y0 + y1) / 2, x1 - x0, y1 - y0
    q = math.hypot(dx, dy)
    h = math.sqrt(max(r * r - q * q / 4, 0.0)) * (1 if right else -1)
    cx, cy = mx - dy / q * h, my + dx / q * h
    a = math.atan2(y0 - cy, x0 - cx)
    turn = (math.atan2(y1 - cy, x1 - cx) - a + math.pi) % (2 * math.pi) - math.pi
    return [(cx + r * math.cos(a + turn * t), cy + r * math.sin(a + turn * t))
            for t in np.linspace(0, 1, 12)]  # fmt: skip
