"""Write the reference pages that are made of the code itself.

`python tools/reference.py` writes them; `python tools/reference.py --check` only compares, and
ends with 1 where a page differs from what the code says now.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

from coldwright.answers import equations as laws
from coldwright.answers import parts as library_rows
from coldwright.answers.schema import answer_schema
from coldwright.answers.wiring_schema import wiring_schema
from coldwright.findings import CATALOGUE
from coldwright.quantities.glossary import KINDS, RESULTS, Entry, display
from coldwright.quantities.units import pretty
from coldwright.sheet.library import electrical as electrical_tables
from coldwright.sheet.schema import json_schema, write_schema

FOLDER = Path(__file__).resolve().parents[1] / "docs" / "reference"
MADE = "<!-- Made by tools/reference.py; changes here are overwritten. -->\n"


def glossary() -> str:
    """Every kind of quantity and every result."""
    lines = [
        "# Glossary",
        "Two lists. *Kinds* are what the keys of a design sheet hold; *results* are the names that "
        "`--json` prints, in SI units. Labels, messages and axes use the same entries.",
        "## Kinds of quantity",
        "A value may carry a tolerance (`\"53 W +/- 10 %\"`). Where the sheet gives none, the one "
        "in this table is assumed, and the answer says so. A value beyond the usual span is taken, "
        "with a finding; the span only serves to guess a slip of the unit. Most [keys of the "
        "sheet](sheet.md) have a narrower one of their own.",
        _table(
            ("kind", "symbol", "written like", "shown in", "usual span", "assumed tolerance",
             "what it is"),
            [
                (f"`{row.name}`", row.symbol, f"`{row.example}`", row.display_unit,
                 _span(row), "±" + row.tolerance, row.description)
                for row in KINDS.values()
            ],
        ),
        "## Results",
        "Each is an object `{\"value\": ..., \"low\": ..., \"high\": ...}` with the 5 and 95 % "
        "bounds of the tries, or null where none were computed.",
        _table(
            ("name in JSON", "symbol", "unit", "shown in", "what it is"),
            [
                (f"`{row.name}`", row.symbol, row.si_unit or "1", row.display_unit,
                 row.description)
                for row in RESULTS.values()
            ],
        ),
    ]  # fmt: skip
    return _page(lines)


def equations() -> str:
    """Every law, by file."""
    found = laws.run(laws.Inputs()).equations
    lines = [
        "# Equations",
        f"The answers rest on {len(found)} equations. Each is one function that takes and gives SI "
        "units, works on numbers and arrays, and gives NaN outside its range. *Error* is its "
        "own limit of error: the tries of an answer vary it. `coldwright equations NAME` shows the "
        "same in the terminal.",
    ]
    groups = [(name, list(rows)) for name, rows in groupby(found, key=lambda one: one.group)]
    lines.append("\n".join(f"- [{_words(name)}](#{_anchor(_words(name))})" for name, _ in groups))
    for name, rows in groups:
        lines.append(f"## {_words(name)}")
        for one in rows:
            lines += [f"### `{one.name}`", one.sentence, one.why, one.notes]
            lines.append("\n".join(f"- `{each.name}`: {each.text}" for each in one.parameters))
            lines.append(f"Gives: {one.returns}")
            lines.append(
                f"- Error: {one.error}\n- Source: {one.source}\n"
                f"- Checked against: {one.checked_against}"
            )
    return _page(lines)


def findings() -> str:
    """Every finding, each with an anchor of its own."""
    lines = [
        "# Findings",
        "What the program may say about a design. Each finding carries its code in brackets, "
        "`[CW-FAN-01]`, and all findings of a sheet are listed at once, worst first.",
    ]
    for code, entry in sorted(CATALOGUE.items()):
        lines += [f'<a id="{code.lower()}"></a>\n\n## {code}', f"**{entry.title}**",
                  entry.explanation]  # fmt: skip
    return _page(lines)


def parts() -> str:
    """Every row of the parts library."""
    found = library_rows.run(library_rows.Inputs()).rows
    lines = [
        "# Parts library",
        "What a sheet may name instead of giving numbers: `part = \"...\"`, `material = \"...\"`, "
        "`kind = \"...\"`. Parts called \"typical\" are invented: they are nobody's product. Every "
        "row says where its values come from. `coldwright parts GROUP` shows the same.",
    ]  # fmt: skip
    for group, rows in groupby(found, key=lambda row: row.group):
        lines.append(f"## {_words(group)}")
        lines.append(
            _table(
                ("name", "values", "source"),
                [
                    (
                        _also(row.name, row.aliases),
                        ", ".join(f"{key} = {_toml(value)}" for key, value in row.values.items()),
                        row.source,
                    )
                    for row in rows
                ],
            )
        )
    return _page(lines)


def electrical() -> str:
    """Every table of the electrical trade."""
    lines = [
        "# Electrical tables",
        "Allowed currents, fuses, inlets, limits and colours, each by the name and edition of its "
        "table. They are advice: the local wiring code, the marking on the part and a licensed "
        "person outrank them. A current holds only for the surroundings named beside it.",
    ]
    for table in electrical_tables.TABLES:
        lines.append(f"## {_words(table)}")
        written = [(name, electrical_tables.as_written(table, name))
                   for name in electrical_tables.names(table)]  # fmt: skip
        lines.append(
            _table(
                ("name", "values", "source"),
                [
                    (
                        _also(name, row.get("aliases", [])),
                        ", ".join(
                            f"{key} = {_toml(value)}"
                            for key, value in row.items()
                            if key not in ("aliases", "source")
                        ),
                        row["source"],
                    )
                    for name, row in written
                ],
            )
        )
    return _page(lines)


def sheet_keys() -> str:
    """Every key of the design sheet, table by table."""
    schema = json_schema()
    lines = [
        "# Keys of the design sheet",
        'A design sheet is a TOML file. Values with a unit are text (`"35 degC"`), and may carry '
        'a tolerance (`"35 degC +/- 1 K"`). A key that is not listed here is refused, with the '
        "nearest one that is. The same as a [JSON Schema](sheet.schema.json) helps editors. Beyond "
        "what is *usual* a value is taken, with a warning that names the unit probably meant.",
        "**Must** stands where a key has no default. *Kinds* of quantity are in the "
        "[glossary](glossary.md).",
        "## The sheet itself",
        _keys(schema, schema["$defs"]),
    ]
    paths = _paths(schema)
    for name in paths:
        table = schema["$defs"][name]
        stands = ", ".join(f"`{path}`" for path in paths[name])
        lines += [f"## {name}", table["description"], f"Stands under {stands}."]
        lines.append(_keys(table, schema["$defs"]))
    return _page(lines)


def answer_keys(command: str) -> str:
    """JSON Schema of what a command prints with `--json`."""
    return _json(answer_schema(command))


def _json(schema: dict[str, Any]) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


PAGES: dict[str, Callable[[], str]] = {
    "glossary.md": glossary,
    "equations.md": equations,
    "findings.md": findings,
    "parts.md": parts,
    "electrical.md": electrical,
    "sheet.md": sheet_keys,
    "watts.schema.json": lambda: answer_keys("watts"),
    "verdict.schema.json": lambda: answer_keys("verdict"),
    "wiring.schema.json": lambda: _json(wiring_schema()),
}


def main(arguments: list[str]) -> int:
    """Write the pages, or with `--check` compare them."""
    differing = []
    for name, made in PAGES.items():
        path, text = FOLDER / name, made()
        if path.exists() and path.read_text(encoding="utf-8") == text:
            continue
        differing.append(name)
        if "--check" not in arguments:
            path.write_text(text, encoding="utf-8")
            print(f"written: docs/reference/{name}")
    if "--check" not in arguments:
        write_schema(FOLDER / "sheet.schema.json")
    if "--check" in arguments and differing:
        print(f"not up to date: {', '.join(differing)}; run `make docs`")
        return 1
    return 0


def _paths(schema: dict[str, Any]) -> dict[str, list[str]]:
    """Each table with the key paths under which it stands, in the order a reader meets them."""
    met: dict[str, list[str]] = {}

    def walk(table: dict[str, Any], path: str) -> None:
        fresh = []
        for key, field in table.get("properties", {}).items():
            below = f"{path}.{key}" if path else key
            for name in dict.fromkeys(_references(field)):
                if name not in met:
                    met[name] = []
                    fresh.append((name, below))
                if below not in met[name]:
                    met[name].append(below)
        for name, below in fresh:
            walk(schema["$defs"][name], below)

    walk(schema, "")
    return met


def _references(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if "$ref" in value:
            yield value["$ref"].rpartition("/")[2]
        for inner in value.values():
            yield from _references(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _references(inner)


def _keys(table: dict[str, Any], tables: dict[str, Any]) -> str:
    must = set(table.get("required", ()))
    for choice in table.get("anyOf", ()):
        # Where a part of the library may be named, it brings what else is needed.
        names = set(choice.get("required", ()))
        must |= names - {"part"}
    rows = []
    for name, field in table.get("properties", {}).items():
        default = field.get("default")
        said = "**must**" if name in must else ("" if default in (None, [], "") else
                                                f"`{_toml(default)}`")  # fmt: skip
        rows.append((f"`{name}`", _takes(field, tables), said, field.get("description", "")))
    return _table(("key", "takes", "default", "what it says"), rows)


def _takes(field: dict[str, Any], tables: dict[str, Any]) -> str:
    """What may stand under a key, in words."""
    if "$ref" in field:
        name = field["$ref"].rpartition("/")[2]
        return f"table [{name}](#{name.lower()})"
    if "anyOf" in field:
        ways = [_takes(way, tables) for way in field["anyOf"] if way.get("type") != "null"]
        return " or ".join(dict.fromkeys(way for way in ways if way))
    if "const" in field:
        return f"`{_toml(field['const'])}`"
    if "enum" in field:
        return ", ".join(f"`{_toml(word)}`" for word in field["enum"])
    if str(field.get("format", "")).startswith("quantity:"):
        kind = field["format"].partition(":")[2]
        examples = field.get("examples", [])
        bounds = field.get("usual", ())
        said = kind.replace("_", " ")
        if examples and examples[-1] not in bounds:
            said += f", like `{_toml(examples[-1])}`"
        return f"{said}, usually {' to '.join(map(pretty, bounds))}" if bounds else said
    if field.get("type") == "array":
        if "prefixItems" in field:
            inner = [_takes(item, tables) for item in field["prefixItems"]]
            return "[" + "; ".join(inner) + "]"
        inner_text = _takes(field.get("items", {}), tables)
        return f"list of {inner_text}" if inner_text else "list"
    words = {"string": "text", "integer": "whole number", "number": "number", "boolean":
             "true or false"}  # fmt: skip
    kind = field.get("type", "")
    said = words.get(kind, "") if isinstance(kind, str) else "text or number"
    if field.get("pattern", "").startswith("^\\d{1,2}:"):
        return 'time of day, like `"08:30"`'
    if field.get("examples"):
        said += f", like `{_toml(field['examples'][0])}`"
    return said


def _table(heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    lines = ["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads)]
    lines += ["| " + " | ".join(_cell(cell) for cell in row) + " |" for row in rows]
    return "\n".join(lines)


def _cell(text: str) -> str:
    return " ".join(str(text).replace("|", "\\|").split())


def _span(row: Entry) -> str:
    low, high = (display(row.name, end).replace("\u2009", " ") for end in (row.low, row.high))
    return f"{low} to {high}"


def _also(name: str, aliases: list[str]) -> str:
    return f"`{name}`" + (f" (also {', '.join(aliases)})" if aliases else "")


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_toml(item) for item in value) + "]"
    return str(value)


def _words(name: str) -> str:
    return name.replace("_", " ").capitalize()


def _anchor(heading: str) -> str:
    return heading.lower().replace(" ", "-")


def _page(lines: list[str]) -> str:
    head, *rest = (line for line in lines if line)
    return "\n\n".join([head, MADE.rstrip("\n"), *rest]) + "\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
