"""A page of text for a terminal: lines of styled words, wrapped, with colour where it is wanted.

Colour and weight only repeat what words, signs and positions say already, so that a pipe, a
printer or an eye that does not tell colours apart loses nothing. Only the sixteen colours that
every terminal lets its owner choose are used, so that light and dark backgrounds both work.
"""

from __future__ import annotations

import os
import shutil
import sys
import unicodedata
from collections.abc import Iterable, Iterator
from typing import TextIO

Span = tuple[str, str]
"""A text and the name of its style; "" for plain text."""
Line = tuple[Span, ...]

WIDEST = 80
_NARROWEST = 40
_STYLES = {
    "strong": "1",
    "soft": "2",
    "good": "32",
    "cold": "36",
    "hot": "33",
    "alarm": "1;31",
    "link": "36",
}
_PLAINER = str.maketrans(
    {
        "\u2009": " ", "−": "-", "–": "-", "“": '"', "”": '"', "’": "'", "…": "...", "·": ".",
        "°": "deg ", "²": "^2", "³": "^3", "µ": "u", "Ω": "ohm", "×": "x", "∞": "inf",
        "⁻": "-", "▲": "!", "△": "*", "•": "-", "│": "|", "─": "-", "┄": "-", "█": "#",
        "░": ".", "→": "->", "\u0307": "",
    }
)  # fmt: skip


class Page:
    """Lines of an answer in the making; `show` puts them out.

    Parameters
    ----------
    plain : bool
        No colour and no weight, whatever the terminal can do.
    stream : file, optional
        Where to; standard output unless given.
    """

    def __init__(self, *, plain: bool = False, stream: TextIO | None = None) -> None:
        self.stream = stream or sys.stdout
        self.styled = not plain and has_colour(self.stream)
        self.width = min(WIDEST, max(_NARROWEST, _columns()))
        self.lines: list[Line] = []

    @property
    def draws(self) -> bool:
        """Whether the stream can take the dots of which a plot is made."""
        return _can_encode(self.stream, "⣀█░")

    def line(self, *spans: Span | str) -> None:
        """One line as it is; without arguments an empty one, but never two in a row."""
        made = tuple((span, "") if isinstance(span, str) else span for span in spans)
        if made or (self.lines and self.lines[-1]):
            self.lines.append(made)

    def heading(self, text: str, note: str = "") -> None:
        """A heading, with an empty line above; a note stands soft behind it."""
        self.line()
        beside = bool(note) and columns(text) + 2 + columns(note) <= self.width
        self.line((text, "strong"), *(((f"  {note}", "soft"),) if beside else ()))
        if note and not beside:
            self.text(note, style="soft")

    def text(self, text: str, *, style: str = "", indent: int = 2, first: str = "") -> None:
        """A paragraph, wrapped; `first` stands before its first line instead of the indent."""
        head = first or " " * indent
        for at, row in enumerate(wrapped(text, self.width - 2 - indent)):
            self.line(head if at == 0 else " " * indent, (row, style))

    def rule(self) -> None:
        """A thin line across the page."""
        self.line(("─" * self.width, "soft"))

    def show(self) -> None:
        """Write all lines to the stream."""
        while self.lines and not self.lines[-1]:
            self.lines.pop()
        text = "\n".join(_rendered(line, self.styled) for line in self.lines) + "\n"
        self.stream.write(encodable(text, self.stream))
        self.stream.flush()


def wrapped(text: str, width: int) -> list[str]:
    """Lines of at most `width` columns; words longer than that are cut.

    A thin space does not break: a number stays with its unit.
    """
    lines: list[str] = []
    row = ""
    for given in text.split(" "):
        word = given
        while word:
            longer = f"{row} {word}" if row else word
            if columns(longer) <= width:
                row, word = longer, ""
            elif row:
                lines.append(row)
                row = ""
            else:
                cut = _fitting(word, width)
                lines.append(word[:cut])
                word = word[cut:]
    return [*lines, row] if row or not lines else lines


def columns(text: str) -> int:
    """How many columns a text takes on a terminal."""
    return sum(_column(sign) for sign in text)


def padded(text: str, width: int, *, right: bool = False) -> str:
    """The text filled with spaces to `width` columns, left- or right-aligned."""
    fill = " " * max(0, width - columns(text))
    return fill + text if right else text + fill


def shortened(text: str, width: int) -> str:
    """The text, or its beginning with an ellipsis, in at most `width` columns."""
    return text if columns(text) <= width else text[: _fitting(text, width - 1)].rstrip() + "…"


def encodable(text: str, stream: TextIO) -> str:
    """The text in signs that the stream can take: plainer ones where it must be."""
    if _can_encode(stream, text):
        return text
    plainer = text.translate(_PLAINER)
    encoding = getattr(stream, "encoding", None) or "utf-8"
    return plainer.encode(encoding, "replace").decode(encoding)


def has_colour(stream: TextIO) -> bool:
    """Whether a stream is a terminal that shows styles (NO_COLOR and TERM=dumb refuse them)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return stream.isatty()


def joined(words: Iterable[str], last: str = "and") -> str:
    """Words as a list in a sentence: "a, b and c"."""
    held = list(words)
    return f"{', '.join(held[:-1])} {last} {held[-1]}" if len(held) > 1 else "".join(held)


def _columns() -> int:
    return shutil.get_terminal_size((WIDEST, 24)).columns


def _column(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Cf", "Mn"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1


def _fitting(text: str, width: int) -> int:
    """How many signs of a text fit into `width` columns; at least one."""
    taken = 0
    for at, sign in enumerate(text):
        taken += _column(sign)
        if taken > width:
            return max(1, at)
    return len(text)


def _can_encode(stream: TextIO, text: str) -> bool:
    try:
        text.encode(getattr(stream, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _rendered(line: Line, styled: bool) -> str:
    def one() -> Iterator[str]:
        for text, style in line:
            shown = "".join(
                sign if sign.isprintable() or sign == "\u2009" else "?" for sign in text
            )
            codes = _STYLES.get(style, "") if styled else ""
            yield f"\x1b[{codes}m{shown}\x1b[0m" if codes and shown.strip() else shown

    return "".join(one()).rstrip()
