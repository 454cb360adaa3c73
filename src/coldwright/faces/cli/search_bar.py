"""How far a long search is, on standard error, and how a person stops it."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from coldwright.faces.cli.page import encodable


class SearchBar:
    """How far a search is, on standard error, and the wish to stop it."""

    def __init__(self) -> None:
        self.asked = False
        self.shown = ""
        self.live = sys.stderr.isatty()
        self._told = 0

    def say(self, text: str) -> None:
        """A line that stays."""
        self._write(f"{text}\n")

    def report(self, seen: int, of_all: int, what: str) -> None:
        """One line that replaces the last; without a terminal a line at each quarter."""
        share = min(seen / of_all, 1.0) if of_all else 0.0
        if not self.live:
            quarter = int(4 * share)
            if of_all and quarter > self._told:
                self._told = quarter
                self._write(f"{min(seen, of_all):,} of {of_all:,} designs solved\n")
            return
        full = int(24 * share)
        bar = "█" * full + "░" * (24 - full)
        count = f"{min(seen, of_all):,} of {of_all:,}" if of_all else ""
        line = f"{bar} {100.0 * share:3.0f} %  {count}  {what}" if of_all else f"{what} ..."
        self._write(f"\r\x1b[K{line[:79]}")
        self.shown = line

    @contextmanager
    def watching(self) -> Iterator[Callable[[], bool]]:
        """Ctrl-C asks the search to stop; a second one ends it at once."""
        before = signal.getsignal(signal.SIGINT)
        mine = False
        try:
            signal.signal(signal.SIGINT, self._stop)
            mine = True
        except ValueError:  # not the main thread: whoever runs it stops it
            pass
        try:
            yield lambda: self.asked
        finally:
            if mine:
                signal.signal(signal.SIGINT, before)
            if self.shown:
                self._write("\r\x1b[K")

    def _stop(self, number: int, frame: Any) -> None:
        if self.asked:
            from coldwright.faces.cli.waiting import stop_at_once

            signal.signal(signal.SIGINT, signal.SIG_DFL)
            stop_at_once(number, frame)
        self.asked = True
        self._write("\nStopping after this piece; Ctrl-C again ends at once.\n")

    @staticmethod
    def _write(text: str) -> None:
        sys.stderr.write(encodable(text, sys.stderr))
        sys.stderr.flush()
