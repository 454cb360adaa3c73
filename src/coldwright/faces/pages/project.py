"""A project as the pages see it: one sheet's file, which an editor may change at any moment."""

from __future__ import annotations

import hashlib
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from coldwright.errors import ColdwrightError
from coldwright.sheet.file import (
    decoded,
    file_bytes,
    read_text,
    replace_file,
    sheet_file,
    with_changes,
)
from coldwright.sheet.models import Sheet

# How many steps can be undone.
_STEPS = 200
_MARK = b"\xef\xbb\xbf"


@dataclass(frozen=True)
class Text:
    """What a sheet's file held at one moment."""

    text: str
    version: str
    """Stands for these very bytes."""


class ChangedMeanwhile(ColdwrightError):  # noqa: N818 - read as what happened
    """The file is no longer what a page thinks it is; `now` is what it holds."""

    def __init__(self, now: Text) -> None:
        super().__init__("The file was changed meanwhile; nothing was written.")
        self.now = now


class Project:
    """One sheet's file; every write replaces it in one step and can be undone.

    Parameters
    ----------
    path
        The sheet, or the folder that holds it.
    """

    def __init__(self, path: str | Path) -> None:
        self.file = sheet_file(path).resolve()
        self._lock = RLock()
        self._before: deque[str] = deque(maxlen=_STEPS)
        self._after: deque[str] = deque(maxlen=_STEPS)
        self._read: tuple[str, Sheet] | None = None
        self._last = self.text()

    @property
    def name(self) -> str:
        """What a person calls it: the folder, or the file."""
        return self.file.parent.name if self.file.name == "sheet.toml" else self.file.name

    def text(self) -> Text:
        """What the file holds now."""
        held = file_bytes(self.file)
        return Text(decoded(held, self.file), _version(held))

    def sheet(self) -> tuple[Sheet, str]:
        """The sheet as it stands in the file now, and its version."""
        with self._lock:
            now = self.text()
            if self._read is None or self._read[0] != now.version:
                self._read = (now.version, read_text(now.text, name=str(self.file)))
            return self._read[1], now.version

    def edit(self, changes: Mapping[str, object]) -> Text:
        """Change some keys in whatever the file holds now; comments and order stay."""
        with self._lock:
            now = self.text()
            after = with_changes(now.text, changes, name=str(self.file))
            read_text(after, name=str(self.file))
            return self._write(now, after)

    def save(self, text: str, base: str) -> Text:
        """Put a whole text in place of version `base`, valid or not: it is the person's own.

        Raises
        ------
        ChangedMeanwhile
            When the file holds another version by now.
        """
        with self._lock:
            now = self.text()
            if now.version != base:
                raise ChangedMeanwhile(now)
            return self._write(now, text)

    def undo(self) -> Text | None:
        """Take back the last write; None where there is nothing to take back."""
        return self._step(self._before, self._after)

    def redo(self) -> Text | None:
        """Do again what was taken back."""
        return self._step(self._after, self._before)

    @property
    def can_undo(self) -> bool:
        """Whether a write can be taken back."""
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        """Whether something taken back can be done again."""
        return bool(self._after)

    def _step(self, these: deque[str], others: deque[str]) -> Text | None:
        with self._lock:
            if not these:
                return None
            now = self.text()
            self._put(now, these[-1])
            these.pop()
            others.append(now.text)
            return self.text()

    def _write(self, now: Text, after: str) -> Text:
        if after == now.text:
            return now
        self._put(now, after)
        self._before.append(now.text)
        self._after.clear()
        return self.text()

    def _put(self, now: Text, after: str) -> None:
        held = file_bytes(self.file)
        if _version(held) != now.version:
            raise ChangedMeanwhile(self.text())
        replace_file(
            self.file, held, (_MARK if held.startswith(_MARK) else b"") + after.encode("utf-8")
        )


def _version(held: bytes) -> str:
    return hashlib.sha256(held).hexdigest()[:16]
