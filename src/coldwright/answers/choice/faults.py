"""What keeps a search from going on."""

from __future__ import annotations

from coldwright.errors import ColdwrightError


class SearchError(ColdwrightError):
    """A search that cannot go on: no store, no scheduler, a library that is not installed."""


class Stopped(ColdwrightError):  # noqa: N818 - what happened, not a fault
    """A search that was asked to stop; what is finished is kept.

    Parameters
    ----------
    seen : int
        Designs that were solved.
    of : int
        Designs that the search would have solved.
    file : str
        Where the finished batches are; empty when they are lost.
    """

    def __init__(self, seen: int, of: int, file: str) -> None:
        self.seen = seen
        self.of = of
        self.file = file
        super().__init__(seen, of, file)

    def __str__(self) -> str:
        return f"Stopped after {self.seen} of {self.of} designs."
