"""Tables as CSV: one row of names with units, figures that read back the same, nothing lost."""

import csv
import math

import numpy as np
import pytest

from coldwright.errors import OutputError
from coldwright.report.table_files import check_table, write_day, write_map
from tests.report.answers import a_day, a_hill


def columns(path):
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    assert {len(row) for row in rows} == {len(rows[0])}
    return {name: [row[at] for row in rows[1:]] for at, name in enumerate(rows[0])}


def numbers(cells):
    return [float(cell) if cell else math.nan for cell in cells]


def test_a_day_reads_back_the_same(tmp_path):
    day = a_day(48)
    write_day(day, tmp_path / "day.csv")
    found = columns(tmp_path / "day.csv")
    assert numbers(found["place_air_K [K]"]) == day.series["place_air_K"]
    assert numbers(found["relative_humidity [1]"]) == day.series["relative_humidity"]
    assert numbers(found["plug_J [J]"]) == day.series["plug_J"]
    assert numbers(found["condensate_kg [kg]"]) == day.series["condensate_kg"]
    assert numbers(found["start_s [s]"]) == day.series["start_s"]
    for name, heat in day.heat_J.items():
        assert numbers(found[f"heat_J: {name} [J]"]) == heat
    for name, water in day.water_kg.items():
        assert numbers(found[f"water_kg: {name} [kg]"]) == water
    assert len(found) == len(day.series) + len(day.heat_J) + len(day.water_kg)


def test_a_map_reads_back_the_same_with_empty_cells_where_nothing_is_known(tmp_path):
    hill = a_hill()
    write_map(hill, tmp_path / "map.csv")
    found = columns(tmp_path / "map.csv")
    shape = hill.allowed.shape
    assert len(found["cooling_W [W]"]) == math.prod(shape)
    for name, units in (("cooling_W", "W"), ("place_air_K", "K"), ("cop_net", "1"),
                        ("sound_dB", "dB")):  # fmt: skip
        back = np.array(numbers(found[f"{name} [{units}]"])).reshape(shape)
        np.testing.assert_array_equal(back, hill.maps[name])
    assert "" in found["cooling_W [W]"]
    drives = np.array(numbers(found["voltage_V set [V]"])).reshape(shape)
    np.testing.assert_array_equal(drives[:, 0, 0], hill.drive)
    allowed = np.array(numbers(found["allowed [1]"])).reshape(shape)
    np.testing.assert_array_equal(allowed == 1.0, hill.allowed)


def test_every_unit_is_that_of_its_name(tmp_path):
    write_day(a_day(), tmp_path / "day.csv")
    write_map(a_hill(axis="duty"), tmp_path / "map.csv")
    for file in ("day.csv", "map.csv"):
        for head in columns(tmp_path / file):
            name, _, unit = head.removesuffix("]").rpartition(" [")
            assert unit in ("s", "K", "W", "J", "kg", "dB", "V", "A", "1"), head
            ending = name.partition(":")[0].rpartition("_")[2]
            if ending in ("s", "K", "W", "J", "kg", "dB"):
                assert unit == ending, head


def test_nothing_is_overwritten(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text("my only measurement")
    for write in (lambda: write_day(a_day(), path), lambda: check_table(path)):
        with pytest.raises(OutputError, match="is there already"):
            write()
    assert path.read_text() == "my only measurement"


def test_where_no_file_can_be_it_is_said(tmp_path):
    for write in (lambda path: write_day(a_day(), path), check_table):
        with pytest.raises(OutputError, match=r"no folder|cannot be written"):
            write(tmp_path / "nowhere" / "day.csv")
