"""The command `coldwright`: which commands there are, grouped by what a person wants to know."""

from __future__ import annotations

import gc
import signal
import sys
from collections.abc import Sequence
from typing import Annotated

import typer

from coldwright import __version__
from coldwright.faces.cli.changes import changes
from coldwright.faces.cli.check import check
from coldwright.faces.cli.choose import choose
from coldwright.faces.cli.compare import compare
from coldwright.faces.cli.day import day
from coldwright.faces.cli.equations import equations
from coldwright.faces.cli.exits import Exit
from coldwright.faces.cli.faults import faults
from coldwright.faces.cli.help_page import HELP_OPTIONS, Grouped, Plainly
from coldwright.faces.cli.new import new
from coldwright.faces.cli.open import open_pages
from coldwright.faces.cli.parts import parts
from coldwright.faces.cli.safety import safety
from coldwright.faces.cli.tune import tune
from coldwright.faces.cli.verdict import verdict
from coldwright.faces.cli.waiting import stop_at_once
from coldwright.faces.cli.watts import watts
from coldwright.faces.cli.wiring import wiring

app = typer.Typer(
    name="coldwright",
    cls=Grouped,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": list(HELP_OPTIONS), "max_content_width": 80},
    epilog="Exit codes: 0 answered, 1 check found a stop, 2 wrong use, 3 sheet not readable or "
    "not valid, 4 no steady state, 5 fault of the program, 130 stopped.",
)
_COMMANDS = (
    verdict,
    day,
    compare,
    watts,
    tune,
    changes,
    choose,
    wiring,
    faults,
    safety,
    new,
    check,
    parts,
    equations,
)
# A short command loads about 230 000; a long one is looked through now and then, as ever.
_MANY_OBJECTS = 300_000
for _command in _COMMANDS:
    app.command(cls=Plainly)(_command)
app.command("open", cls=Plainly)(open_pages)


@app.callback(invoke_without_command=True)
def coldwright(
    ctx: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    """Design, check and explain coolers made of thermoelectric modules that cool air.

    Each command answers one question about a design sheet: a text file that says what is to be
    built, where it stands, and what it shall achieve.
    """
    if version:
        typer.echo(f"coldwright {__version__}")
    elif ctx.invoked_subcommand is None:
        typer.echo(ctx.get_help())


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command and end the process with its exit code."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, stop_at_once)
    # What a command loads stays to its end. To look through all of it for garbage, three hundred
    # times while it is loaded and once more at the end, is a twentieth of a short command's time.
    gc.set_threshold(_MANY_OBJECTS)
    try:
        app(arguments, prog_name="coldwright")
    except KeyboardInterrupt:
        sys.exit(Exit.INTERRUPTED)
    finally:
        gc.freeze()
