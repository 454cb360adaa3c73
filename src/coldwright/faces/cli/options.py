"""Arguments and options that several commands share, described once."""

from __future__ import annotations

import shlex
from typing import Annotated

import typer

SheetPath = Annotated[
    str,
    typer.Argument(
        metavar="SHEET", help="The design sheet, or the project folder that holds it.",
        show_default=False,
    ),
]  # fmt: skip
AsJson = Annotated[
    bool,
    typer.Option("--json", help="Print one JSON object (figures in SI units) instead of text."),
]
Plain = Annotated[bool, typer.Option("--plain", help="No colour and no bold, even on a terminal.")]
FEWEST_TRIES = 100


def checked_tries(tries: int | None) -> int | None:
    """No tries at all, or enough to make an interval of."""
    if tries is not None and 0 < tries < FEWEST_TRIES:
        raise typer.BadParameter(
            f"{tries} tries make no interval: take at least {FEWEST_TRIES}, or 0 for none."
        )
    return tries


Tries = Annotated[
    int,
    typer.Option(
        "--tries", min=0, max=200_000, metavar="N", callback=checked_tries,
        help="How many tries the intervals come from (100 to 200000, or 0 for no intervals; 2000 "
        "unless given): in each, the sheet's values vary within their tolerances.",
    ),
]  # fmt: skip
Seed = Annotated[
    int,
    typer.Option(
        "--seed", min=0, max=2**31 - 1, metavar="N",
        help="Start of the random numbers (20 unless given); the same seed gives the same "
        "intervals.",
    ),
]  # fmt: skip
NoIntervals = Annotated[
    bool, typer.Option("--no-intervals", help="Only the sheet's own values, without tries.")
]

DEFAULT_TRIES = 2000
DEFAULT_SEED = 20
# From here on the tries take longer than a moment, so a word is said at once.
MANY_TRIES = 10_000


def command_line(command: str, path: str) -> str:
    """The command as it would be typed for this sheet."""
    return f"coldwright {command} {shlex.quote(path)}"
