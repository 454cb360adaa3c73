"""A word on standard error when an answer takes longer than a moment."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

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


@contextmanager
def computing(said: str, *loops: str, many: bool = False) -> Iterator[None]:
    """Around an answer that is solved, its import included: that it compiles, or what it does.

    `loops` are the compiled loops that this answer needs beside the steady solver.
    """
    _solving.set()
    try:
        from coldwright.answers.warm import is_warm

        with waiting(said, at_once=many) if is_warm(*loops) else waiting(COMPILING, at_once=True):
            yield
    finally:
        _solving.clear()


def stop_at_once(_signal: int, _frame: FrameType | None) -> None:
    """What Ctrl-C does in a process of its own.

    An exception that is raised in the midst of a compiler's callback is swallowed there or aborts
    the process. A solve has nothing to tidy up, so it ends here; everything else gets the
    ordinary exception.
    """
    if not _solving.is_set():
        raise KeyboardInterrupt
    os.write(2, b"\nStopped.\n")
    os._exit(130)


_solving = threading.Event()
