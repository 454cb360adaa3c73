"""The process that computes long answers: takes orders from a pipe, tells how far it is."""

from __future__ import annotations

import contextlib
import signal
from multiprocessing.connection import Connection
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coldwright.faces.pages.work import Order


def work(pipe: Connection) -> None:
    """Answer orders until the other end is closed."""
    with contextlib.suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    _warm()
    while True:
        try:
            order = pipe.recv()
        except (EOFError, OSError):
            return
        _answer(pipe, order)


def _answer(pipe: Connection, order: Order) -> None:
    from coldwright.faces.pages.problems import problem_of
    from coldwright.faces.pages.views import view
    from coldwright.sheet.file import read_text

    def progress(said: str, share: float | None = None) -> None:
        pipe.send(("progress", said, share))

    try:
        sheet = read_text(order.text, name=order.file)
        answer = view(order.view).answer
        assert answer is not None
        html, found = answer(sheet, dict(order.options), progress)
    except Exception as error:  # noqa: BLE001 - the last line: a fault is a message
        pipe.send(("failed", problem_of(error)))
    else:
        pipe.send(("done", html, found))


def _warm() -> None:
    """Load what every answer needs, before anybody waits for it."""
    import coldwright.answers.verdict
    import coldwright.sheet.file  # noqa: F401
