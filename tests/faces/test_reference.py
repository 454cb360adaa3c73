"""The reference of the command line stands as the commands would write it now."""

from pathlib import Path

from coldwright.faces.cli.app import app
from coldwright.faces.cli.exits import Exit
from coldwright.faces.cli.help_page import GROUPS
from coldwright.faces.cli.reference import commands_page, exits_page, write

REFERENCE = Path(__file__).resolve().parents[2] / "docs" / "reference"
COMMANDS = [name for group in GROUPS.values() for name in group]


def test_the_pages_are_up_to_date():
    assert (REFERENCE / "cli.md").read_text(encoding="utf-8") == commands_page()
    assert (REFERENCE / "exit-codes.md").read_text(encoding="utf-8") == exits_page()


def test_writing_makes_both_pages(tmp_path):
    write(tmp_path / "reference")
    assert sorted(one.name for one in (tmp_path / "reference").iterdir()) == [
        "cli.md", "exit-codes.md",
    ]  # fmt: skip


def test_every_command_is_grouped_and_described():
    registered = [one.name or one.callback.__name__ for one in app.registered_commands]
    assert sorted(registered) == sorted(COMMANDS)
    page = commands_page()
    for name in COMMANDS:
        assert f"### {name}\n" in page


def test_every_option_says_what_it_does():
    rows = [line for line in commands_page().split("\n") if line.startswith("| `")]
    assert len(rows) > 30
    for row in rows:
        said = row.strip("| ").split("|")[-1].strip()
        assert said.endswith("."), row


def test_every_code_is_on_its_page():
    for code in Exit:
        assert f"| {int(code)} | " in exits_page()
