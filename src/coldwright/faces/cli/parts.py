"""`coldwright parts`: what stands in the parts library."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json
from coldwright.quantities.display import THIN_SPACE

if TYPE_CHECKING:
    from coldwright.answers.parts import Parts, Row
    from coldwright.faces.cli.page import Page


def parts(
    group: Annotated[
        str,
        typer.Argument(
            metavar="[GROUP]", help="One group of parts, such as modules, fans or materials.",
            show_default=False,
        ),
    ] = "",
    find: Annotated[
        str,
        typer.Option(
            "--find", metavar="TEXT", help="Only parts that mention all of these words.",
            show_default=False,
        ),
    ] = "",
    as_json: of.AsJson = False,
    plain: of.Plain = False,
) -> None:  # fmt: skip
    """Which parts may a sheet name? The library, with the source of every row."""
    with answering(as_json=as_json, plain=plain):
        from coldwright.answers import parts as answer

        found = answer.run(answer.Inputs(group, find))
        if not found.known_group:
            fail(_unknown(found), Exit.WRONG_USE, as_json=as_json)
        if as_json:
            put_json(found.to_json())
        else:
            put_parts(found, plain=plain)


def put_parts(found: Parts, *, plain: bool = False) -> None:
    """Show groups with their counts, or the rows that were asked for."""
    from coldwright.faces.cli.page import Page

    page = Page(plain=plain)
    if not found.group and not found.find:
        _put_groups(page, found)
    elif not found.rows:
        page.text(f"No part mentions “{found.find}”.", style="strong", indent=0)
    else:
        group = None
        for row in found.rows:
            if row.group != group:
                group = row.group
                page.heading(_words(group).capitalize(), _NAMED.get(group, ""))
            page.line()
            _put_row(page, row)
    page.show()


def _put_groups(page: Page, found: Parts) -> None:
    from coldwright.faces.cli.sections import put_next

    total = sum(found.counts.values())
    page.text(
        f"The library holds {total} parts in {len(found.counts)} groups. None is a product: rows "
        "called “typical” are invented, the others name their source.",
        style="strong", indent=0,
    )  # fmt: skip
    page.line()
    width = max(map(len, found.counts))
    for group, count in found.counts.items():
        page.line(f"  {group:<{width}}  {count:>3}   ", (_NAMED.get(group, ""), "soft"))
    put_next(
        page,
        [
            ("coldwright parts modules", "one group, with values and sources"),
            ('coldwright parts --find "127 couples"', "parts that mention these words"),
        ],
    )


def _put_row(page: Page, row: Row) -> None:
    page.line("  ", (row.name, "strong"), *(((f"   also: {', '.join(row.aliases)}", "soft"),)
                                            if row.aliases else ()))  # fmt: skip
    page.text("; ".join(_said(key, value) for key, value in row.values.items()), indent=4)
    page.text(f"Source: {row.source}", style="soft", indent=4)


def _said(key: str, value: Any) -> str:
    if isinstance(value, dict):
        return f"{_words(key)}: " + ", ".join(_said(inner, held) for inner, held in value.items())
    if isinstance(value, list):
        sizes = key in ("base", "footprint", "section")
        rows = (_row(one) if isinstance(one, list) else _bound(one) for one in value)
        return f"{_words(key)} " + (" × " if sizes else ", ").join(rows)
    if isinstance(value, bool):
        return _words(key) if value else f"not {_words(key)}"
    return f"{_words(key)} {_bound(value)}"


def _row(pair: list[Any]) -> str:
    """A row of a curve: what is found, at which flow."""
    flow, *found = (_bound(one) for one in pair)
    return f"{' and '.join(found)} at {flow}"


def _bound(value: Any) -> str:
    """A value whose unit stays on the line of its number."""
    text = str(value)
    return text.replace(" ", THIN_SPACE, 1) if text[:1].isdigit() else text


def _words(key: str) -> str:
    return key.replace("_", " ").replace("1m", f"1{THIN_SPACE}m")


def _unknown(found: Parts) -> str:
    near = f" Was {' or '.join(found.nearest)} meant?" if found.nearest else ""
    return f"There is no group “{found.group}”.{near} The groups are {', '.join(found.counts)}."


# Where in a sheet a name of the group stands.
_NAMED = {
    "activities": "activity of [[place.gain]]",
    "buffers": "material of [place.moisture_buffer]",
    "ceramics": "material of the plates of a module given by its legs",
    "duct_parts": "part of a duct",
    "ducts": "kind of a duct",
    "fans": "part of a fan",
    "fittings": "fittings of a duct",
    "interfaces": "cold_interface, hot_interface",
    "leakage": "air_leakage",
    "materials": "material of layers, spacers and insulation",
    "modules": "part of [cooler.modules]",
    "sinks": "part of a sink",
    "solids": "material of sinks and screws",
    "wires": "size of [[power.wire]]",
}
