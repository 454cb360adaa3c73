"""A chosen design as a new project folder, and all solved designs as a table."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.beaten import names_of
from coldwright.answers.choice.edits import Line
from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.faults import SearchError
from coldwright.answers.choice.options import AXES, Options
from coldwright.answers.choice.store import Store
from coldwright.sheet.file import sheet_file, with_changes
from coldwright.sheet.lines import steps
from coldwright.sheet.models import Sheet

_FIGURES = ("drive_V", "cold_speed", "hot_speed", "level_K", "net_W", "plug_W", "sound_dB",
            "hot_face_K", "price")  # fmt: skip
COLUMNS = (*AXES, "modules", *_FIGURES, "breaks", "on_front")
"""Columns of the table of designs."""


def sheet_text(sheet: Sheet, edits: dict[str, Any]) -> str:
    """The sheet's file with these keys changed, its comments kept; from plain data if no file."""
    import tomlkit

    text = ""
    if sheet.file:
        file = sheet_file(sheet.file)
        text = file.read_text(encoding="utf-8-sig") if file.is_file() else ""
    if not text:
        text = tomlkit.dumps(sheet.data)
    tables = {path: _tables(path, held) for path, held in edits.items()}
    return _without_comments(with_changes(text, tables, sheet.file), iter(edits))


def new_folder(folder: Path, sheet: Sheet, text: str, bill: list[Line], currency: str) -> Path:
    """Write a sheet and its bill of materials into a folder that does not exist yet.

    Raises
    ------
    SearchError
        When something of that name is there already, or it cannot be written.
    """
    try:
        folder.mkdir(parents=True)
    except FileExistsError:
        raise SearchError(f"{folder} is there already; nothing was written.") from None
    except OSError as error:
        raise SearchError(f"{folder} cannot be made: {error.strerror}.") from None
    try:
        (folder / "sheet.toml").write_text(text, encoding="utf-8")
        weather = sheet.weather_path
        if weather is not None and weather.is_file() and not Path(weather.name).is_absolute():
            target = folder / str(getattr(sheet.climate, "file", weather.name))
            target.parent.mkdir(parents=True, exist_ok=True)
            if not target.exists():
                shutil.copyfile(weather, target)
        with (folder / "bill.csv").open("w", encoding="utf-8", newline="") as file:
            rows = csv.writer(file)
            rows.writerow(("count", "unit", "what", "name", f"each, {currency}", "total", "have"))
            for line in bill:
                rows.writerow(
                    (
                        f"{line.count:g}", line.unit, line.what, line.name,
                        "" if line.each is None else f"{line.each:.2f}",
                        "" if line.total is None else f"{line.total:.2f}",
                        "yes" if line.own else "",
                    )
                )  # fmt: skip
    except OSError as error:
        raise SearchError(f"{folder}: it cannot be written: {error.strerror}.") from None
    return folder


def write_designs(
    file: Path, options: Options, engine: Engine, store: Store, front: NDArray[Any]
) -> int:
    """Every solved design as a row: its parts, its best setting, its figures, what it breaks.

    Parameters
    ----------
    file
        A new file whose name ends in ``.csv`` or ``.parquet``; the latter needs pyarrow.

    Raises
    ------
    SearchError
        When the name ends otherwise, the file is there already, or it cannot be written.
    """
    on_front = set(front["flat"].tolist())
    batches = (_columns(options, engine, kept, on_front) for kept in store.batches())
    try:
        if file.suffix.lower() == ".parquet":
            return _parquet(file, batches)
        return _csv(file, batches)
    except FileExistsError:
        raise SearchError(f"{file} is there already; nothing was written.") from None
    except OSError as error:
        raise SearchError(f"{file} cannot be written: {error.strerror}.") from None


def check_out(file: Path) -> None:
    """Refuse at once what `write_designs` would refuse after a long search."""
    if file.suffix.lower() not in (".csv", ".parquet"):
        raise SearchError(f"{file}: the name must end in .csv or .parquet.")
    if file.exists():
        raise SearchError(f"{file} is there already; nothing was done.")
    if not file.resolve().parent.is_dir():
        raise SearchError(f"{file}: there is no such folder.")
    if file.suffix.lower() == ".parquet":
        _pyarrow()


def _columns(
    options: Options, engine: Engine, kept: NDArray[Any], on_front: set[int]
) -> dict[str, Any]:
    parts = engine.grid.parts(kept["flat"])
    table: dict[str, Any] = {
        name: np.array([option.name for option in options.axes[name]], dtype=object)[parts[name]]
        for name in AXES
    }
    table["modules"] = engine.grid.count[parts["wiring"]]
    for name in _FIGURES:
        numbers = kept[name].astype(float)
        # Beyond the sixth digit there is only the rounding of the store.
        numbers = np.round(numbers, 4)
        table[name] = np.where(np.isfinite(numbers), numbers, np.nan)
    names = {each: "; ".join(names_of(each)) for each in np.unique(kept["broken"]).tolist()}
    table["breaks"] = np.array([names[each] for each in kept["broken"].tolist()], dtype=object)
    table["on_front"] = np.array([each in on_front for each in kept["flat"].tolist()])
    return table


def _csv(file: Path, batches: Iterator[dict[str, Any]]) -> int:
    count = 0
    with file.open("x", encoding="utf-8", newline="") as opened:
        rows = csv.writer(opened)
        rows.writerow(COLUMNS)
        for table in batches:
            columns = [
                ["" if held != held else held for held in table[name].tolist()]
                for name in COLUMNS
            ]  # fmt: skip
            rows.writerows(zip(*columns, strict=True))
            count += len(columns[0])
    return count


def _parquet(file: Path, batches: Iterator[dict[str, Any]]) -> int:
    pyarrow, parquet = _pyarrow()
    count = 0
    writer = None
    with file.open("xb") as opened:
        for table in batches:
            made = pyarrow.table({name: pyarrow.array(table[name]) for name in COLUMNS})
            if writer is None:
                writer = parquet.ParquetWriter(opened, made.schema)
            writer.write_table(made)
            count += made.num_rows
        if writer is not None:
            writer.close()
    return count


def _pyarrow() -> tuple[Any, Any]:
    try:
        import pyarrow  # type: ignore[import-not-found, import-untyped, unused-ignore]
        import pyarrow.parquet as parquet  # type: ignore[import-not-found, import-untyped, unused-ignore]
    except ImportError:
        raise SearchError(
            "Parquet needs the optional library: install coldwright[data], or name a .csv file."
        ) from None
    return pyarrow, parquet


def _tables(path: str, held: Any) -> Any:
    """Tables as a person would write them: a part in its own block, what is in it in one line."""
    import tomlkit

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
    import tomlkit

    table = tomlkit.table()
    for key, value in held.items():
        table.add(key, _inline(value) if isinstance(value, dict) else value)
    return table


def _inline(held: dict[str, Any]) -> Any:
    import tomlkit

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
        import tomlkit

        return tomlkit.string(held).as_string()
    return str(held)


def _without_comments(text: str, paths: Iterator[str]) -> str:
    """The text without the comments on these keys: they speak of what stood there before."""
    import tomlkit

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
