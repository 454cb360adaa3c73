"""A word on standard error when an answer takes longer than a moment."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager

from coldwright.faces.cli.page import encodable

COMPILING = "Compiling the solver once for this machine (about a minute) ..."


@contextmanager
def waiting(said: str, *, at_once: bool = False, after_s: float = 1.0) -> Iterator[None]:
    """Say what is going on if it takes longer than `after_s`, or at once.

    On a terminal the line is taken away again when the work is done.
    """
    shown = threading.Event()

    def say() -> None:
        shown.set()
        sys.stderr.write(encodable(said, sys.stderr))
        sys.stderr.write("" if sys.stderr.isatty() else "\n")
        sys.stderr.flush()

    timer = threading.Timer(after_s, say)
    timer.daemon = True
    if at_once:
        say()
    else:
        timer.start()
    try:
        yield
    finally:
        timer.cancel()
        if shown.is_set() and sys.stderr.isatty():
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def computing(said: str, *, many: bool = False) -> AbstractContextManager[None]:
    """The word for an answer that is solved: that it compiles first, or what it works on."""
    from coldwright.answers.design import is_warm

    if not is_warm():
        return waiting(COMPILING, at_once=True)
    return waiting(said, at_once=many)
