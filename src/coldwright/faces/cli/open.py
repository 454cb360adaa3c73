"""`coldwright open`: the live pages of a project, in the browser."""

from __future__ import annotations

import subprocess
import sys
from typing import Annotated

import typer

from coldwright.faces.cli.exits import Exit, answering, fail

Project = Annotated[
    str, typer.Argument(metavar="[PROJECT]", help="The sheet, or the folder that holds it.")
]
Port = Annotated[
    int,
    typer.Option("--port", min=0, max=65535, metavar="N", help="Port; the first free one if 0."),
]
NoBrowser = Annotated[
    bool, typer.Option("--no-browser", help="Print the address, and open no browser.")
]
Host = Annotated[
    str,
    typer.Option(
        "--host", metavar="ADDRESS",
        help="Listen on another address than this machine's own; the pages then ask for a token.",
    ),
]  # fmt: skip
_NEEDS = ("fastapi", "uvicorn", "jinja2", "websockets")


def open_pages(
    project: Project = ".",
    port: Port = 0,
    no_browser: NoBrowser = False,
    host: Host = "127.0.0.1",
) -> None:
    """Open the live pages: drag the volts and see the heat flow change."""
    from importlib.util import find_spec

    with answering():
        missing = [name for name in _NEEDS if find_spec(name) is None]
        if missing:
            fail(
                "The pages need some more libraries: pip install 'coldwright[web]'.",
                Exit.WRONG_USE,
            )
        command = [sys.executable, "-m", "coldwright.faces.pages", project]
        command += ["--port", str(port), "--host", host, *(["--no-browser"] if no_browser else [])]
        # A process of its own: Ctrl-C reaches it too, and it then ends by itself.
        raise typer.Exit(_ended(subprocess.Popen(command)))


def _ended(process: subprocess.Popen[bytes]) -> int:
    """Exit code of the pages; stopping them with Ctrl-C is how they are meant to end."""
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:
            continue
