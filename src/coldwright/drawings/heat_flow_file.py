"""The picture of heat as a file of its own."""

from __future__ import annotations

from pathlib import Path

from coldwright.answers.watts import Watts
from coldwright.drawings.heat_flow import heat_flow
from coldwright.errors import OutputError


def check_heat_flow(path: Path) -> None:
    """Raise `OutputError` when no picture could be written to `path`, before anything is computed.

    A picture that stands there already is replaced.
    """
    if path.suffix.lower() != ".svg":
        raise OutputError(f"{path.name}: this picture ends in .svg")
    if not path.parent.is_dir():
        raise OutputError(f"{path}: there is no folder {path.parent}")
    if path.is_dir():
        raise OutputError(f"{path}: is a folder")


def write_heat_flow(watts: Watts, path: Path) -> None:
    """Write the wide picture in the colours of the light theme.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    check_heat_flow(path)
    try:
        path.write_text(heat_flow(watts, live=False) + "\n", encoding="utf-8")
    except OSError as error:
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error
