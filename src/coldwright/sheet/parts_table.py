"""A parts list as a table: one row for each part, as spreadsheets save it (CSV)."""

from __future__ import annotations

import csv
import io
import re
from typing import Any

from coldwright.errors import SheetError

# Column by which a row says what it is.
_WHAT = "what"
_WORDS = {
    "module": "module", "modules": "module", "sink": "sink", "sinks": "sink", "fan": "fan",
    "fans": "fan", "supply": "supply", "supplies": "supply", "converter": "converter",
    "converters": "converter", "wire": "wire", "wires": "wire",
}  # fmt: skip
# Cells that hold several values: sides ("40 mm x 40 mm"), or points ("0 m^3/h: 70 Pa; ...").
_SIDES = {"base", "footprint", "face"}
_POINTS = {"curve", "rows", "efficiency"}
_WHOLE = {"stock", "count", "couples", "ratings.couples", "legs.couples"}
_ROWS_LIMIT = 20_000
_HEADER = re.compile(r"\s*(?P<name>[A-Za-z_][A-Za-z0-9_.]*)\s*(?:\[(?P<unit>[^\]]*)\])?\s*\Z")


def data_of_csv(text: str, file: str) -> tuple[dict[str, Any], dict[str, int]]:
    """Plain data of a parts list from its CSV text, and the line of each part.

    Parameters
    ----------
    text
        The first row names the columns: `what`, then keys of the design sheet, dotted where they
        stand in a table within the part ("ratings.max_current"). A unit in brackets behind a name
        belongs to every bare number below it ("price [EUR]"). Columns are parted by commas,
        semicolons or tabs. An empty cell says nothing.
    file
        Name of the file, for messages.

    Raises
    ------
    SheetError
        When a column or a row cannot be understood, with its line.
    """
    reader = csv.reader(io.StringIO(text), delimiter=_delimiter(text), strict=True)
    data: dict[str, Any] = {}
    lines: dict[str, int] = {}
    columns: list[tuple[str, str]] = []
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells) or cells[0].lstrip().startswith("#"):
                continue
            if not columns:
                columns = _columns(cells, file, reader.line_num)
                continue
            if reader.line_num > _ROWS_LIMIT:
                raise SheetError(
                    f"The list has more than {_ROWS_LIMIT} lines.", file, reader.line_num
                )
            kind, row = _row(cells, columns, file, reader.line_num)
            rows = data.setdefault(kind, [])
            lines.setdefault(kind, reader.line_num)
            lines[f"{kind}[{len(rows)}]"] = reader.line_num
            rows.append(row)
    except csv.Error as error:
        raise SheetError(f"This is no table in CSV: {error}.", file, reader.line_num) from None
    return data, lines


def _delimiter(text: str) -> str:
    head = next((line for line in text.splitlines() if line.strip(" ,;\t")), "")
    return max(",;\t", key=head.count)


def _columns(cells: list[str], file: str, line: int) -> list[tuple[str, str]]:
    columns = []
    for cell in cells:
        if not cell.strip():
            columns.append(("", ""))
            continue
        found = _HEADER.match(cell)
        if found is None:
            raise SheetError(
                f"“{cell.strip()[:60]}” is no name of a column: a key of the design sheet, with a "
                "unit in brackets if its numbers have none, as in “price [EUR]”.",
                file,
                line,
            )
        columns.append((found["name"].lower(), (found["unit"] or "").strip()))
    names = [name for name, _ in columns if name]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise SheetError(f"The column `{twice}` stands there twice.", file, line)
    if _WHAT not in names:
        raise SheetError(
            f"The column `{_WHAT}` is missing: it says for each row whether it is a module, sink, "
            "fan, supply, converter or wire.",
            file,
            line,
        )
    return columns


def _row(
    cells: list[str], columns: list[tuple[str, str]], file: str, line: int
) -> tuple[str, dict[str, Any]]:
    if len(cells) > len(columns) and any(cell.strip() for cell in cells[len(columns) :]):
        raise SheetError(
            f"The row has {len(cells)} cells for {len(columns)} columns. A cell that holds a comma "
            "stands in quotes.",
            file,
            line,
        )
    kind = ""
    row: dict[str, Any] = {}
    for (name, unit), cell in zip(columns, cells, strict=False):
        given = cell.strip()
        if not name or not given:
            continue
        if name == _WHAT:
            kind = _WORDS.get(given.lower(), "")
            if not kind:
                raise SheetError(
                    f"`{_WHAT}`: “{given[:60]}” is not module, sink, fan, supply, converter or "
                    "wire.",
                    file,
                    line,
                )
            continue
        _put(row, name, _value(name, given, unit), file, line)
    if not kind:
        raise SheetError(f"The row does not say `{_WHAT}` it is.", file, line)
    return kind, row


def _put(row: dict[str, Any], name: str, value: Any, file: str, line: int) -> None:
    *tables, key = name.split(".")
    at = row
    for table in tables:
        at = at.setdefault(table, {})
        if not isinstance(at, dict):
            raise SheetError(f"`{table}` is both a value and a table.", file, line)
    at[key] = value


def _value(name: str, given: str, unit: str) -> Any:
    key = name.rpartition(".")[2]
    if name in _WHOLE and re.fullmatch(r"\d{1,9}", given):
        return int(given)
    if key in _SIDES:
        return [_with_unit(part, unit) for part in re.split(r"\s*[x×]\s*", given)]
    if key in _POINTS and (":" in given or ";" in given):
        return [
            [_with_unit(part, "") for part in point.split(":")]
            for point in given.split(";")
            if point.strip()
        ]
    return _with_unit(given, unit)


def _with_unit(given: str, unit: str) -> str:
    given = given.strip()
    bare = re.fullmatch(r"[-+]?[\d.,]+(?:[eE][-+]?\d+)?", given)
    return f"{given} {unit}" if unit and bare else given
