"""The pull-down in dots: it falls where the air cools, and ends where the numbers say."""

import io
import math

from coldwright.faces.cli.page import Page, columns
from coldwright.faces.cli.plot import put_bars, put_pull_down


class Held:
    def __init__(self, value):
        self.value, self.low, self.high = value, None, None


def picture(history, goal_K=None):
    page = Page(stream=io.StringIO())
    put_pull_down(page, history, goal_K)
    page.show()
    return page.stream.getvalue().split("\n")


def heights(lines):
    """Dots from above for each column of cells: the highest dot of the curve."""
    found = {}
    rows = [line.partition("│")[2] for line in lines if "│" in line]
    for row, text in enumerate(rows):
        for at, sign in enumerate(text):
            if 0x2800 < ord(sign) < 0x2900:
                found.setdefault(at, row)
    return [found[at] for at in sorted(found)]


def cooling(from_K, to_K, after_s=600.0):
    times = [36.0 * step for step in range(101)]
    air = [to_K + (from_K - to_K) * math.exp(-time / after_s) for time in times]
    return {"time_s": times, "place_air_K": air}


def test_the_curve_falls_from_the_start_to_the_end():
    lines = picture(cooling(305.15, 287.15), 291.15)
    rows = heights(lines)
    assert len(rows) == 80 - 26  # a dot in every column
    assert rows == sorted(rows)
    assert rows[0] == 0
    assert rows[-1] >= 7
    text = "\n".join(lines)
    assert "goal 18.0\u2009°C" in text
    assert "14.0\u2009°C" in text
    assert lines[-2].strip().startswith("0 ")
    assert lines[-2].endswith("60\u2009min")


def test_a_warming_place_rises():
    rows = heights(picture(cooling(290.15, 305.15)))
    assert rows == sorted(rows, reverse=True)


def test_goal_and_end_of_one_height_do_not_hide_each_other():
    text = "\n".join(picture(cooling(300.0, 295.0), 295.0))
    assert "─" in text


def test_a_still_place_is_drawn_too():
    lines = picture({"time_s": [0.0, 60.0], "place_air_K": [300.0, 300.0]}, 299.9)
    assert heights(lines)


def test_nothing_to_draw_draws_nothing():
    for history in ({}, {"time_s": [0.0], "place_air_K": [300.0]},
                    {"time_s": [0.0, 0.0], "place_air_K": [300.0, 300.0]}):  # fmt: skip
        assert picture(history, 300.0) == ["", ""]


def test_lines_fit_eighty_columns():
    assert all(columns(line) <= 80 for line in picture(cooling(305.15, 250.0), 291.15))


def test_bars_are_as_long_as_their_numbers():
    page = Page(stream=io.StringIO())
    put_bars(page, [("walls", Held(100.0)), ("sun", Held(50.0)), ("air", Held(-25.0)),
                    ("nothing", Held(0.0))])  # fmt: skip
    page.show()
    lines = {line.split()[0]: line for line in page.stream.getvalue().split("\n") if line}
    assert lines["Walls"].count("█") == 2 * lines["Sun"].count("█") == 4 * lines["Air"].count("░")
    assert "takes heat away" in lines["Air"]
    assert "−25" in lines["Air"]
    assert "Nothing" not in lines
