"""On which line of a TOML text each key stands: parsers do not say, and every finding needs it.

The scanner follows the grammar of TOML 1.0 for text that a parser has already accepted; of values
it only finds the end. Paths are written as everywhere in the program: ``place.surface[0].area``.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from contextlib import suppress

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_INDENT = re.compile(r"[ \t]*")
_STRINGS = (
    re.compile(r'"""(?:[^"\\]|\\[\s\S]|"(?!""))*"{3,5}'),
    re.compile(r"'''(?:[^']|'(?!''))*'{3,5}"),
    re.compile(r'"(?:[^"\\\n]|\\.)*"'),
    re.compile(r"'[^'\n]*'"),
)
_SCALAR = re.compile(r"[^,\]}#\n]*")
_STEPS = re.compile(r'\[(?P<place>\d+)\]|"(?P<quoted>(?:[^"\\]|\\.)*)"|(?P<bare>[^.\[\]"]+)')


def key_lines(text: str) -> dict[str, int]:
    """Line (from 1) of every key, array entry and table header of a TOML text, by path."""
    scanner = _Scanner(text)
    # What was found before is still right; text nested that deeply is no design sheet.
    with suppress(RecursionError, IndexError):
        scanner.run()
    return scanner.lines


def joined(path: str, step: str | int) -> str:
    """The path one step further: a name, or a place in a list."""
    if isinstance(step, int):
        return f"{path}[{step}]"
    if not _BARE.fullmatch(step):
        step = '"' + step.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f"{path}.{step}" if path else step


def steps(path: str) -> list[str | int]:
    """Split a path into names and places: ``a.b[0].c`` gives a, b, 0, c."""
    walk: list[str | int] = []
    for found in _STEPS.finditer(path):
        if found["place"] is not None:
            walk.append(int(found["place"]))
        elif found["quoted"] is not None:
            walk.append(re.sub(r"\\(.)", r"\1", found["quoted"]))
        else:
            walk.append(found["bare"])
    return walk


def nearest_line(lines: dict[str, int], path: str) -> int | None:
    """Line of a path; of what it stands in, where it stands nowhere itself; else None.

    A place in brackets may be given or left out where a file holds one table for many.
    """
    at, line = "", None
    for step in steps(path):
        tried = [joined(at, step)]
        if isinstance(step, int):
            tried.append(at)
        else:
            tried.append(joined(joined(at, 0), step))
        found = next((way for way in tried if way in lines), None)
        if found is None:
            return line
        at, line = found, lines[found]
    return line


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[str, int] = {}
        self._starts = [0, *(found.end() for found in re.finditer("\n", text))]
        self._tables_in: dict[str, int] = {}

    def run(self) -> None:
        table = ""
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)

    def _header(self) -> str:
        line = self._line()
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        names = self._key()
        self.at += 2 if many else 1
        path = ""
        for name in names[:-1]:
            path = self._latest(joined(path, name), line)
        last = joined(path, names[-1])
        if not many:
            path = self._latest(last, line)
            self.lines[path] = line
            return path
        self.lines.setdefault(last, line)
        place = self._tables_in.get(last, 0)
        self._tables_in[last] = place + 1
        path = joined(last, place)
        self.lines[path] = line
        return path

    def _latest(self, path: str, line: int) -> str:
        """The table that a name in a header means: the latest one of an array of tables."""
        self.lines.setdefault(path, line)
        count = self._tables_in.get(path)
        return path if count is None else joined(path, count - 1)

    def _pair(self, table: str) -> None:
        line = self._line()
        path = table
        for name in self._key():
            path = joined(path, name)
            self.lines.setdefault(path, line)
        self._skip(_INDENT)
        self.at += 1  # the sign "="
        self._skip(_INDENT)
        self._value(path)

    def _key(self) -> list[str]:
        names = []
        while True:
            self._skip(_INDENT)
            found = _BARE.match(self.text, self.at)
            if found:
                names.append(found[0])
                self.at = found.end()
            else:
                names.append(self._quoted_name())
            self._skip(_INDENT)
            if self.text[self.at] != ".":
                return names
            self.at += 1

    def _quoted_name(self) -> str:
        start = self.at
        if not self._string():
            raise IndexError(start)
        raw = self.text[start : self.at]
        return str(tomllib.loads(f"name = {raw}")["name"]) if "\\" in raw else raw[1:-1]

    def _value(self, path: str) -> None:
        sign = self.text[self.at]
        if sign == "[":
            self._array(path)
        elif sign == "{":
            self._inline_table(path)
        elif not self._string():
            self._skip(_SCALAR)

    def _array(self, path: str) -> None:
        self.at += 1
        place = 0
        while True:
            self._skip(_BLANK)
            if self.text[self.at] == "]":
                self.at += 1
                return
            below = joined(path, place)
            self.lines[below] = self._line()
            self._value(below)
            place += 1
            self._skip(_BLANK)
            if self.text[self.at] == ",":
                self.at += 1

    def _inline_table(self, path: str) -> None:
        self.at += 1
        while True:
            self._skip(_BLANK)
            if self.text[self.at] == "}":
                self.at += 1
                return
            self._pair(path)
            self._skip(_BLANK)
            if self.text[self.at] == ",":
                self.at += 1

    def _string(self) -> bool:
        if self.text[self.at] not in "\"'":
            return False
        for pattern in _STRINGS:
            found = pattern.match(self.text, self.at)
            if found:
                self.at = found.end()
                return True
        return False

    def _skip(self, pattern: re.Pattern[str]) -> None:
        found = pattern.match(self.text, self.at)
        if found:
            self.at = found.end()

    def _line(self) -> int:
        return bisect_right(self._starts, self.at)
