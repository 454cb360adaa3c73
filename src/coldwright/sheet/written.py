"""A sheet's text with keys changed, as a person would have written it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import tomlkit

from coldwright.sheet.file import sheet_file, with_changes
from coldwright.sheet.lines import steps
from coldwright.sheet.models import Sheet


def sheet_text(sheet: Sheet, edits: dict[str, Any]) -> str:
    """The sheet's file with these keys changed, its comments kept; from plain data if no file."""
    text = ""
    if sheet.file:
        file = sheet_file(sheet.file)
        text = file.read_text(encoding="utf-8-sig") if file.is_file() else ""
    if not text:
        text = tomlkit.dumps(sheet.data)
    tables = {path: _tables(path, held) for path, held in edits.items()}
    return _without_comments(with_changes(text, tables, sheet.file), iter(edits))


def _tables(path: str, held: Any) -> Any:
    """Tables as a person would write them: a part in its own block, what is in it in one line."""
    if path == "cooler.run_at" or not isinstance(held, dict | list):
        return _inline(held) if isinstance(held, dict) else held
    if isinstance(held, dict):
        return _block(held)
    if path == "price.item":
        return tomlkit.value("[\n    " + ",\n    ".join(map(in_one_line, held)) + ",\n]")
    blocks = tomlkit.aot()
    for each in held:
        blocks.append(_block(each))
    return blocks


def _block(held: dict[str, Any]) -> Any:
    table = tomlkit.table()
    for key, value in held.items():
        table.add(key, _inline(value) if isinstance(value, dict) else value)
    return table


def _inline(held: dict[str, Any]) -> Any:
    return tomlkit.value(in_one_line(held))


def in_one_line(held: Any) -> str:
    """A value as it stands in a sheet, in one line."""
    if isinstance(held, bool):
        return "true" if held else "false"
    if isinstance(held, dict):
        inner = ", ".join(f"{key} = {in_one_line(each)}" for key, each in held.items())
        return f"{{ {inner} }}"
    if isinstance(held, list | tuple):
        return f"[{', '.join(map(in_one_line, held))}]"
    if isinstance(held, str):
        return tomlkit.string(held).as_string()
    return str(held)


def _without_comments(text: str, paths: Iterator[str]) -> str:
    """The text without the comments on these keys: they speak of what stood there before."""
    document = tomlkit.parse(text)
    for path in paths:
        at: Any = document
        for step in steps(path):
            at = at[0] if isinstance(at, list) and isinstance(step, str) else at
            at = at[step] if isinstance(step, int) or step in at else None
            if at is None:
                break
        for each in at if isinstance(at, tomlkit.items.AoT) else (at,):
            trivia = getattr(each, "trivia", None)
            if trivia is not None:
                trivia.comment_ws = trivia.comment = ""
    return tomlkit.dumps(document)
