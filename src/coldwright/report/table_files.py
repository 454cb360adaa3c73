"""Series and maps as CSV: one header row with units, SI, never over an existing file."""

from __future__ import annotations

import csv
from pathlib import Path

from coldwright.answers.day import Day
from coldwright.answers.tune import Tune
from coldwright.errors import ColdwrightError

_UNITS = {
    "start_s": "s",
    "place_air_K": "K",
    "place_lowest_K": "K",
    "place_highest_K": "K",
    "relative_humidity": "1",
    "outdoor_K": "K",
    "contents_K": "K",
    "plug_J": "J",
    "condensate_kg": "kg",
    "running_share": "1",
}


class TableError(ColdwrightError):
    """A table could not be written."""


def write_day(day: Day, path: Path) -> None:
    """Hourly series of a day, its heat by cause [J] and water by cause [kg].

    Raises
    ------
    TableError
        When the file exists already or cannot be written.
    """
    columns = {f"{name} [{_UNITS[name]}]": values for name, values in day.series.items()}
    columns |= {f"heat: {name} [J]": values for name, values in day.heat_J.items()}
    columns |= {f"water: {name} [kg]": values for name, values in day.water_kg.items()}
    _write(path, list(columns), zip(*columns.values(), strict=True))


def write_map(tune: Tune, path: Path) -> None:
    """Every point of the hill: settings and figures, one row each."""
    names = sorted(tune.maps)
    head = [tune.axis, "cold_fan_speed", "hot_fan_speed", "allowed", *names]
    rows = (
        [
            drive,
            cold,
            hot,
            int(tune.allowed[i, j, k]),
            *(tune.maps[name][i, j, k] for name in names),
        ]
        for i, drive in enumerate(tune.drive)
        for j, cold in enumerate(tune.cold_speed)
        for k, hot in enumerate(tune.hot_speed)
    )
    _write(path, head, rows)


def _write(path: Path, head: list[str], rows: object) -> None:
    try:
        with path.open("x", newline="", encoding="utf-8") as file:
            writer = csv.writer(file)
            writer.writerow(head)
            for row in rows:  # type: ignore[attr-defined]
                writer.writerow([_cell(value) for value in row])
    except FileExistsError as error:
        raise TableError(f"{path}: is there already; nothing was overwritten") from error
    except OSError as error:
        raise TableError(f"{path}: cannot be written ({error.strerror})") from error


def _cell(value: float) -> str:
    return "" if value != value else f"{value:.9g}"  # an empty cell where nothing is known
