"""Help pages: the same rows for `--help` and for the reference, whatever draws them."""

from __future__ import annotations

from typing import Any

from typer.core import TyperCommand, TyperGroup

GROUPS: dict[str, dict[str, str]] = {
    "Questions": {
        "verdict": "Does it make sense? Will it reach the goal, and why.",
        "day": "What does a day look like? The place through its weather.",
        "compare": "What else would do? Fans, ice, shade, a compressor, side by side.",
        "watts": "Where do the watts go? The operating point and the ledger.",
        "tune": "What should I run it at? Volts and fan speeds for each aim.",
        "changes": "What should I change? Each change solved, ranked by what it gains.",
        "wiring": "How do I power and wire it? Currents, wires, fuses, heat by place.",
        "choose": "What should I buy? The best designs from a parts list.",
        "faults": "What if something fails? How soon it harms, and what catches it.",
        "safety": "What can hurt? Cautions with sources, and a check list to sign.",
    },
    "The live pages": {
        "open": "Drag the volts and see the heat flow change, in the browser.",
    },
    "The design sheet": {
        "new": "Start a project folder with a sheet that runs as it is.",
        "check": "What the sheet lacks, and what is assumed for it.",
    },
    "What it rests on": {
        "parts": "The parts library, with the source of every row.",
        "equations": "Every equation, with range, limit of error, source and check.",
    },
}
"""Commands under the headings of the help page, each with its line."""
HELP_OPTIONS = ("-h", "--help")


class Plainly(TyperCommand):
    """A command whose help page names arguments and options as a person types them."""

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What follows the command's name in the usage line."""
        return ["[OPTIONS]", *(name for name, _ in described(self, ctx)["Arguments"])]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """The sections of arguments and options."""
        for heading, rows in described(self, ctx).items():
            if rows:
                with formatter.section(heading):
                    formatter.write_dl(rows)


class Grouped(TyperGroup):
    """Lists the commands by what a person wants, not by the alphabet."""

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002 - the parent's signature
        """Names in the order of `GROUPS`."""
        return [name for group in GROUPS.values() for name in group]

    def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002
        """One section of the help page for each group."""
        for heading, commands in GROUPS.items():
            with formatter.section(heading):
                formatter.write_dl(list(commands.items()))


def described(command: Any, ctx: Any) -> dict[str, list[tuple[str, str]]]:
    """Arguments and options of a command: how each is typed, and what it says."""
    rows: dict[str, list[tuple[str, str]]] = {"Arguments": [], "Options": []}
    for one in command.get_params(ctx):
        if getattr(one, "hidden", False):
            continue
        if one.param_type_name == "argument":
            name = one.metavar or one.name.upper()
            rows["Arguments"].append((name, one.help or ""))
        else:
            names = ", ".join(sorted([*one.opts, *one.secondary_opts], key=len))
            rows["Options"].append((f"{names} {one.metavar or ''}".strip(), one.help or ""))
    return rows
