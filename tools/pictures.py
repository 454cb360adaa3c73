"""Draw the pictures that the documentation shows, from the demos.

`python tools/pictures.py` writes `docs/pictures/*.svg`. The same demos give the same bytes on one
machine; on another the last digits may differ, so nothing compares them.
"""

from __future__ import annotations

from pathlib import Path

from coldwright.answers import day, tune, watts
from coldwright.drawings.heat_flow_file import write_heat_flow
from coldwright.report.day_pictures import draw_heat, draw_temperatures
from coldwright.report.tune_pictures import draw_drive, draw_map
from coldwright.sheet.file import read

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / "docs" / "pictures"
# Sheet, and the days that are followed (None: as the command does).
DAYS = {
    "kiosk-day": ("demos/kiosk/week.toml", None),
    "kiosk-week": ("demos/kiosk/week.toml", 7),
    "cabinet-week": ("demos/cabinet/week.toml", None),
}
HILLS = {"kiosk": "demos/kiosk"}
HEAT = {"kiosk": "demos/kiosk", "cabinet": "demos/cabinet"}


def main() -> None:
    """Draw them all."""
    FOLDER.mkdir(exist_ok=True)
    for name, (path, days) in DAYS.items():
        sheet = read(ROOT / path)
        answer = day.run(day.Inputs(sheet, tries=0, days=days))
        draw_temperatures(answer, FOLDER / f"{name}.svg", sheet)
        draw_heat(answer, FOLDER / f"{name}-heat.svg")
    for name, path in HILLS.items():
        sheet = read(ROOT / path)
        hill = tune.run(tune.Inputs(sheet, tries=0))
        draw_drive(hill, FOLDER / f"{name}-volts.svg", sheet)
        draw_map(hill, FOLDER / f"{name}-map.svg", sheet)
    for name, path in HEAT.items():
        found = watts.run(watts.Inputs(read(ROOT / path), tries=0))
        write_heat_flow(found, FOLDER / f"{name}-watts.svg")


if __name__ == "__main__":
    main()
