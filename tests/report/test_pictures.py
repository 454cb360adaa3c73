"""Pictures: valid files, the same bytes for the same answer, every curve named, nothing hidden."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import numpy as np
import pytest

from coldwright.errors import OutputError
from coldwright.report.day_pictures import draw_heat, draw_temperatures
from coldwright.report.picture import PALETTE, check_picture, label_margin, picture
from coldwright.report.tune_pictures import draw_drive, draw_map
from coldwright.sheet.file import read_text
from tests.answers.test_day import BOX
from tests.answers.test_design import BENCH
from tests.report.answers import CAUSES, a_day, a_hill

SHEET = read_text(BOX.replace("[climate]", 'max_plug_power = "45 W"\n[climate]', 1))
OPEN_AIR = read_text(BENCH)
DAYS = {"day": a_day(), "week": a_day(7 * 24, "07-14"), "year": a_day(8760, "01-01"),
        "two steady days": a_day(48), "ten undated days": a_day(240),
        "undated year": a_day(8760)}  # fmt: skip


def shown(path):
    """Texts of an SVG, whose letters are paths: each is said in a comment before them."""
    return re.findall(r"<!-- (.*?) -->", path.read_text(encoding="utf-8"))


def drawn(draw, *arguments, folder, ending=".svg"):
    path = folder / f"picture{ending}"
    draw(arguments[0], path, *arguments[1:])
    return path


# --- Files ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ending", "start"),
    [
        # PNG 1.2 sect. 3.1, PDF 1.7 sect. 7.5.2, XML 1.0 sect. 2.8: how such files begin.
        (".png", b"\x89PNG\r\n\x1a\n"),
        (".pdf", b"%PDF-1."),
        (".svg", b"<?xml version="),
    ],
)
@pytest.mark.published("PNG, PDF and XML standards: the first bytes of a file")
def test_each_format_is_what_it_is_called(tmp_path, ending, start):
    for draw, arguments in (
        (draw_temperatures, (DAYS["day"], SHEET)),
        (draw_heat, (DAYS["day"],)),
        (draw_drive, (a_hill(), SHEET)),
        (draw_map, (a_hill(), SHEET)),
    ):
        path = drawn(draw, *arguments, folder=tmp_path, ending=ending)
        held = path.read_bytes()
        assert held.startswith(start)
        assert len(held) > 3000
        path.unlink()


def test_a_png_has_print_size(tmp_path):
    path = drawn(draw_temperatures, DAYS["day"], SHEET, folder=tmp_path, ending=".png")
    width, height = (int.from_bytes(path.read_bytes()[at : at + 4]) for at in (16, 20))
    # 180 mm at 160 dots an inch.
    assert width == pytest.approx(180.0 / 25.4 * 160.0, abs=2)
    assert 0.4 * width < height < 1.2 * width


@pytest.mark.parametrize("ending", [".svg", ".png", ".pdf"])
def test_the_same_answer_gives_the_same_bytes(tmp_path, ending):
    for draw, arguments in (
        (draw_temperatures, (DAYS["week"], SHEET)),
        (draw_heat, (DAYS["week"],)),
        (draw_drive, (a_hill(), SHEET)),
        (draw_map, (a_hill(), SHEET)),
    ):
        first = drawn(draw, *arguments, folder=tmp_path, ending=ending).read_bytes()
        second = drawn(draw, *arguments, folder=tmp_path, ending=ending).read_bytes()
        assert first == second
        if ending == ".svg":
            assert b"<dc:date>" not in first


def test_an_svg_is_well_formed_and_needs_no_font(tmp_path):
    for name, day in DAYS.items():
        path = drawn(draw_heat, day, folder=tmp_path)
        root = ET.fromstring(path.read_text(encoding="utf-8"))
        assert root.tag.endswith("svg"), name
        assert not list(root.iter("{http://www.w3.org/2000/svg}text")), name
        assert "http://" not in path.read_text().replace("http://www.w3.org", "").replace(
            "http://purl.org", ""
        ).replace("http://creativecommons.org", "")


@pytest.mark.parametrize("name", ["picture", "picture.gif", "picture.toml", ".png"])
def test_another_ending_is_refused_before_anything_is_written(tmp_path, name):
    with pytest.raises(OutputError, match="ends in"):
        check_picture(tmp_path / name)
    with pytest.raises(OutputError):
        draw_heat(DAYS["day"], tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_where_no_picture_can_be_it_is_said(tmp_path):
    with pytest.raises(OutputError, match="no folder"):
        check_picture(tmp_path / "nowhere" / "day.png")
    (tmp_path / "folder.png").mkdir()
    with pytest.raises(OutputError, match="is a folder"):
        check_picture(tmp_path / "folder.png")


# --- What a picture says --------------------------------------------------------------------------


def test_curves_goal_and_axes_are_named_without_a_legend(tmp_path):
    texts = shown(drawn(draw_temperatures, DAYS["day"], SHEET, folder=tmp_path))
    for word in ("place", "outdoors", "contents", "temperature [°C]", "running [%]",
                 "time on the clock [h]"):  # fmt: skip
        assert word in texts
    assert any(text.startswith("goal 12.0") for text in texts)


@pytest.mark.parametrize(
    ("name", "unit", "mark"),
    [("day", "W", "12"), ("week", "kWh", "14 Jul"), ("year", "kWh", "Mar"),
     ("two steady days", "W", "24"), ("ten undated days", "kWh", "day 1"),
     ("undated year", "kWh", "day 1")],
)  # fmt: skip
def test_every_cause_is_named_in_every_stretch(tmp_path, name, unit, mark):
    texts = shown(drawn(draw_heat, DAYS[name], folder=tmp_path))
    assert f"heat into the air [{unit}]" in texts
    assert mark in texts
    for cause in CAUSES:
        # Once above nought and once below, at most.
        assert 1 <= texts.count(cause) <= 2, cause


def test_the_bars_are_as_high_as_the_heat():
    # The sum of the causes at noon, by hand from the table of them: the middle of the bar at 12 h
    # lies half an hour after noon, where the cosine is at 0.9957.
    from coldwright.report import day_pictures

    day = DAYS["day"]
    bars = day_pictures._bars(day)
    assert bars.unit == "W"
    import matplotlib.figure

    axes = matplotlib.figure.Figure().subplots()
    bands = list(day_pictures._stacked(axes, day, bars))
    above_W = sum(band.heights[12] for band in bands if band.heights[12] > 0.0)
    below_W = sum(band.heights[12] for band in bands if band.heights[12] < 0.0)
    noon = 0.5 - 0.5 * np.cos(2.0 * np.pi * 12.5 / 24.0)
    by_hand = [night + (at_noon - night) * noon for at_noon, night in CAUSES.values()]
    assert above_W == pytest.approx(sum(one for one in by_hand if one > 0.0))
    assert below_W == pytest.approx(sum(one for one in by_hand if one < 0.0))
    # Stacked: each stands on the one before it.
    tops = sorted(band.base[12] + band.heights[12] for band in bands)
    assert tops[-1] == pytest.approx(above_W)
    assert tops[0] == pytest.approx(below_W)


def test_fills_differ_in_black_and_white():
    # Two causes may share a hatch only if their fills differ by a tenth of the way from black to
    # white (luminance by the weights of ITU-R BT.709).
    from coldwright.report.day_pictures import _FILLS

    def luminance(colour):
        parts = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
        return sum(w * p for w, p in zip((0.2126, 0.7152, 0.0722), parts, strict=True))

    rows = list(_FILLS.items())
    for at, (name, (fill, hatch)) in enumerate(rows):
        for other, (other_fill, other_hatch) in rows[at + 1 :]:
            differ = hatch != other_hatch or abs(luminance(fill) - luminance(other_fill)) > 0.1
            assert differ, (name, other)


def test_names_at_the_margin_do_not_touch(tmp_path):
    with picture(tmp_path / "names.svg") as figure:
        axes = figure.subplots()
        axes.set_ylim(0.0, 10.0)
        named = [(y, f"curve {number}", PALETTE["ink"])
                 for number, y in enumerate((9.9, 9.8, 5.0, 5.0, 0.1))]  # fmt: skip
        label_margin(axes, named)
        figure.draw_without_rendering()
        boxes = sorted((text.get_window_extent() for text in axes.texts), key=lambda box: box.y0)
        for lower, upper in pairwise(boxes):
            assert upper.y0 >= lower.y1 - 1.0
        assert [text.get_text() for text in axes.texts] == [
            "curve 4", "curve 2", "curve 3", "curve 1", "curve 0",
        ]  # fmt: skip


@pytest.mark.parametrize(
    ("hill", "sheet", "words"),
    [
        (a_hill(), SHEET, ("place levels off at [°C]", "as the sheet has it", "from the plug")),
        (a_hill(level=None), OPEN_AIR, ("net for the place", "cold side takes out")),
        (a_hill(axis="duty"), SHEET, ("duty [%]",)),
    ],
)
def test_the_way_along_the_volts_names_its_curves(tmp_path, hill, sheet, words):
    texts = shown(drawn(draw_drive, hill, sheet, folder=tmp_path))
    for word in words:
        assert word in texts


def test_a_limit_is_drawn_and_named(tmp_path):
    texts = shown(drawn(draw_drive, a_hill(), SHEET, folder=tmp_path))
    assert "hatched: beyond the power from the plug, 45 W" in texts
    (note,) = [text for text in shown(drawn(draw_map, a_hill(), SHEET, folder=tmp_path))
               if "hatched" in text]  # fmt: skip
    assert "beyond the power from the plug, 45 W" in note
    free = read_text(BOX)
    hill = a_hill()
    hill.allowed[:] = True
    for draw in (draw_drive, draw_map):
        assert not any(
            "hatched" in text for text in shown(drawn(draw, hill, free, folder=tmp_path))
        )


def test_where_there_is_no_steady_state_it_is_crossed(tmp_path):
    hill = a_hill()
    hill.now["hot_speed"] = 0.5  # where the hill has an edge
    for draw in (draw_drive, draw_map):
        texts = shown(drawn(draw, hill, SHEET, folder=tmp_path))
        assert any("crossed: no steady state" in text for text in texts)


def test_a_map_needs_a_fan(tmp_path):
    hill = a_hill(cold=2)
    single = type(hill)(**(vars(hill) | {
        "cold_speed": [1.0], "hot_speed": [1.0],
        "maps": {name: numbers[:, :1, :1] for name, numbers in hill.maps.items()},
        "allowed": hill.allowed[:, :1, :1],
    }))  # fmt: skip
    with pytest.raises(OutputError, match="no fan"):
        draw_map(single, tmp_path / "map.svg", SHEET)


def test_a_flat_map_is_drawn_without_lines(tmp_path):
    hill = a_hill()
    hill.maps["place_air_K"][:] = 290.0
    assert drawn(draw_map, hill, SHEET, folder=tmp_path).stat().st_size > 1000
