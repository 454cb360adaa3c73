"""Finished batches of a search, kept in an SQLite file so that a stopped search can go on."""

from __future__ import annotations

import hashlib
import io
import json
import sqlite3
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright import __version__
from coldwright.answers.choice.engine import FRONT, KEPT
from coldwright.answers.choice.faults import SearchError
from coldwright.physics.compiled import source_hash
from coldwright.sheet.models import Sheet
from coldwright.sheet.parts_file import PartsList

STORE_NAME = "choose.sqlite"
"""Name of the file in the project's folder."""


def key_of(sheet: Sheet, parts: PartsList, **more: Any) -> str:
    """What a search hangs on: sheet, list, version of the program, and everything asked for."""
    text = json.dumps(
        [sheet.data, sheet.supplied, parts.data, __version__, source_hash(), KEPT.descr,
         FRONT.descr, more],
        sort_keys=True, default=str,
    )  # fmt: skip
    return hashlib.sha256(text.encode()).hexdigest()[:24]


class Store:
    """Batches of one search: by their number, or none where there is no file to keep them in.

    Parameters
    ----------
    file
        The SQLite file; None keeps the batches in memory.
    key
        From `key_of`.
    resume
        Whether what is there already counts; else it is forgotten.

    Raises
    ------
    SearchError
        When the file cannot be used.
    """

    def __init__(self, file: Path | None, key: str, *, resume: bool = False) -> None:
        self.file = file
        self._key = key
        try:
            self._link = sqlite3.connect(":memory:" if file is None else file)
            if file is not None:
                self._link.execute("PRAGMA journal_mode=WAL")
                self._link.execute("PRAGMA synchronous=FULL")
            with self._link:
                self._link.execute(
                    "CREATE TABLE IF NOT EXISTS batch (key TEXT, number INTEGER, kept BLOB, "
                    "front BLOB, PRIMARY KEY (key, number))"
                )
                if not resume:
                    self._link.execute("DELETE FROM batch WHERE key = ?", (key,))
        except sqlite3.Error as error:
            raise SearchError(f"{file}: finished batches cannot be kept here: {error}.") from None

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self._link.close()

    def save(self, number: int, kept: NDArray[Any], front: NDArray[Any]) -> None:
        """Keep one batch; when this returns it survives a crash."""
        try:
            with self._link:
                self._link.execute(
                    "INSERT OR REPLACE INTO batch VALUES (?, ?, ?, ?)",
                    (self._key, number, _packed(kept), _packed(front)),
                )
        except sqlite3.Error as error:
            raise SearchError(f"{self.file}: a batch cannot be kept: {error}.") from None

    def load(self, number: int) -> tuple[NDArray[Any], NDArray[Any]] | None:
        """One batch, or None where it is not there (or is damaged)."""
        row = self._link.execute(
            "SELECT kept, front FROM batch WHERE key = ? AND number = ?", (self._key, number)
        ).fetchone()
        if row is None:
            return None
        try:
            return _unpacked(row[0], KEPT), _unpacked(row[1], FRONT)
        except (zlib.error, ValueError, EOFError):
            return None

    def forget(self) -> None:
        """Drop this search's batches, and the file when it holds no others."""
        with self._link:
            self._link.execute("DELETE FROM batch WHERE key = ?", (self._key,))
        left = self._link.execute("SELECT COUNT(*) FROM batch").fetchone()[0]
        if not left and self.file is not None:
            self._link.close()
            for suffix in ("", "-wal", "-shm"):
                Path(f"{self.file}{suffix}").unlink(missing_ok=True)

    def numbers(self) -> set[int]:
        """Numbers of the batches that are there."""
        rows = self._link.execute("SELECT number FROM batch WHERE key = ?", (self._key,))
        return {int(row[0]) for row in rows}

    def batches(self) -> Iterator[NDArray[Any]]:
        """What was kept of every design, batch by batch."""
        for number in sorted(self.numbers()):
            found = self.load(number)
            if found is not None:
                yield found[0]


def _packed(held: NDArray[Any]) -> bytes:
    buffer = io.BytesIO()
    np.save(buffer, held, allow_pickle=False)
    return zlib.compress(buffer.getvalue(), 1)


def _unpacked(packed: bytes, dtype: Any) -> NDArray[Any]:
    held = np.load(io.BytesIO(zlib.decompress(packed)), allow_pickle=False)
    if held.dtype != dtype:
        raise ValueError(held.dtype)
    found: NDArray[Any] = held
    return found
