"""What a page is: its question, its address, and what it shows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol

from coldwright.answers.live import Live
from coldwright.sheet.models import Sheet


class Progress(Protocol):
    """How a long answer says how far it is."""

    def __call__(self, said: str, share: float | None = None) -> None:
        """Say what is done now, and the share that is done."""


Parts = Callable[[Live, Mapping[str, Any]], dict[str, Any]]
"""Parts of a live page: markup or data by the name of the place it goes to."""
Answer = Callable[[Sheet, Mapping[str, str], Progress], tuple[str, dict[str, Any]]]
"""A long answer: its markup, and the object of its JSON."""


@dataclass(frozen=True)
class View:
    """One page.

    Parameters
    ----------
    name, path, question
        What it is called in code and in its address, and what it answers.
    below
        Name of the page whose question it belongs to; empty for one of the eight.
    parts
        Makes the parts that change while a knob moves.
    answer
        Makes what takes longer, in a process of its own.
    knobs
        Whether the knobs stand below.
    codes
        Beginnings of the codes of findings that belong to this page.
    """

    name: str
    path: str
    question: str
    below: str = ""
    parts: Parts | None = None
    answer: Answer | None = None
    knobs: bool = True
    codes: tuple[str, ...] = ()
    options: Mapping[str, str] = field(default_factory=dict)
