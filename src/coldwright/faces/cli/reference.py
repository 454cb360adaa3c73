"""The reference pages of the command line, made from the commands themselves.

``python -m coldwright.faces.cli.reference docs/reference`` writes `cli.md` and `exit-codes.md`;
a test compares what stands there with what is made here.
"""

from __future__ import annotations

import inspect
import sys
from pathlib import Path
from typing import Any

import typer

from coldwright.faces.cli.app import app
from coldwright.faces.cli.exits import MEANINGS
from coldwright.faces.cli.help_page import GROUPS, HELP_OPTIONS, described

_MADE = (
    "<!-- Made from the commands by `python -m coldwright.faces.cli.reference docs/reference`. "
    "Change the commands, not this page. -->\n"
)


def commands_page() -> str:
    """The page `cli.md`: every command with its arguments and options."""
    group: Any = typer.main.get_command(app)
    parts = [
        _MADE,
        "# Commands\n",
        _paragraphs(group.help),
        "`SHEET` is a file, or a project folder that holds `sheet.toml` or one single `.toml` "
        "file. Answers go to standard output, messages and progress to standard error. Colour is "
        "left out where the output is no terminal, where `NO_COLOR` is set, and with `--plain`. "
        "[Exit codes](exit-codes.md) tell a script how a command ended.\n",
    ]
    for heading, names in GROUPS.items():
        parts.append(f"## {heading}\n")
        parts += [_command(name, group.commands[name]) for name in names]
    return "\n".join(parts)


def exits_page() -> str:
    """The page `exit-codes.md`: what each code means."""
    rows = "".join(f"| {int(code)} | {meaning} |\n" for code, meaning in MEANINGS.items())
    return (
        f"{_MADE}\n# Exit codes\n\n| code | what it means |\n|---|---|\n{rows}\n"
        "With `--json`, a command that has no answer prints an object with `error` (a sentence), "
        "`exit_code` and `findings` (a list, empty where a sentence says it all) to standard "
        "output, and ends with the same code. A message that is not JSON goes to standard error. "
        "A command that is called in a way it does not know says so on standard error in "
        "either case.\n"
    )


def write(folder: Path) -> None:
    """Write both pages into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "cli.md").write_text(commands_page(), encoding="utf-8")
    (folder / "exit-codes.md").write_text(exits_page(), encoding="utf-8")


def _command(name: str, command: Any) -> str:
    ctx = type(command).context_class(command, help_option_names=list(HELP_OPTIONS))
    rows = described(command, ctx)
    usage = " ".join([f"coldwright {name}", *command.collect_usage_pieces(ctx)])
    lines = [f"### {name}\n", f"    {usage}\n", _paragraphs(command.help)]
    for heading, held in rows.items():
        if held:
            cells = "".join(f"| `{typed}` | {_cell(said)} |\n" for typed, said in held)
            lines.append(f"| {heading.lower()} | |\n|---|---|\n{cells}")
    return "\n".join(lines)


def _paragraphs(text: str | None) -> str:
    return inspect.cleandoc(text or "") + "\n"


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
