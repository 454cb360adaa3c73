"""Text on a terminal: widths, wrapping, signs that cannot be shown, colour only where wanted."""

import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.faces.cli.page import (
    Page,
    columns,
    encodable,
    joined,
    padded,
    shortened,
    wrapped,
)

ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    encoding = "utf-8"

    def isatty(self):
        return True


def shown(page):
    page.show()
    return page.stream.getvalue()


words = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=30)


@given(st.lists(words, max_size=30), st.integers(5, 60))
def test_no_line_is_wider_than_asked_and_no_sign_is_lost(held, width):
    text = " ".join(held)
    lines = wrapped(text, width)
    # A sign of two columns cannot be split; all others fit.
    assert all(columns(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_number_stays_with_its_unit():
    lines = wrapped("The sink is at 52.7\u2009°C when it runs", 18)
    assert any("52.7\u2009°C" in line for line in lines)


@pytest.mark.published("Unicode Standard Annex 11: wide signs take two columns, combining none")
def test_columns_are_those_of_a_terminal():
    assert columns("abc") == 3
    assert columns("V̇") == 1  # V with a combining dot above
    assert columns("温度") == 4


def test_padding_and_shortening_count_columns():
    assert padded("V̇", 3) == "V̇  "
    assert padded("12", 4, right=True) == "  12"
    assert shortened("walls and roof", 8) == "walls a…"
    assert shortened("walls", 8) == "walls"


def test_lists_in_a_sentence():
    assert joined(["a"]) == "a"
    assert joined(["a", "b", "c"]) == "a, b and c"
    assert joined([]) == ""


def test_colour_only_on_a_terminal_that_wants_it(monkeypatch):
    monkeypatch.setenv("TERM", "xterm-256color")

    def page(**more):
        made = Page(stream=Terminal(), **more)
        made.line(("No", "alarm"), ": it stays hot")
        return shown(made)

    styled = page()
    assert ESCAPE.search(styled)
    assert ESCAPE.sub("", styled) == page(plain=True) == "No: it stays hot\n"
    monkeypatch.setenv("TERM", "dumb")
    assert page() == "No: it stays hot\n"
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("NO_COLOR", "1")
    assert page() == "No: it stays hot\n"


@pytest.mark.published("no-color.org: an empty NO_COLOR does not count")
def test_an_empty_no_color_does_not_count(monkeypatch):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("NO_COLOR", "")
    assert Page(stream=Terminal()).styled


def test_a_pipe_gets_plain_text():
    page = Page(stream=io.StringIO())
    page.heading("Findings", "1 note")
    assert shown(page) == "Findings  1 note\n"


def test_text_of_a_sheet_cannot_steer_the_terminal():
    page = Page(stream=Terminal(), plain=True)
    page.line("a\x1b[2Jb\x07c\nd")
    assert shown(page) == "a?[2Jb?c?d\n"


def test_a_stream_without_the_signs_gets_plainer_ones():
    class Narrow(io.StringIO):
        encoding = "ascii"

    text = "−5.0\u2009°C · 3 m² “warm” …"
    plainer = encodable(text, Narrow())
    assert plainer.isascii()
    assert "-5.0 deg C" in plainer
    assert "?" not in plainer
    assert not Page(stream=Narrow()).draws
    assert encodable("温", Narrow()) == "?"


def test_never_two_empty_lines_and_none_at_the_end():
    page = Page(stream=io.StringIO())
    page.line("a")
    page.line()
    page.line()
    page.line("b")
    page.line()
    assert shown(page) == "a\n\nb\n"


@pytest.mark.parametrize(("said", "width"), [("10", 40), ("60", 60), ("200", 80)])
def test_the_page_is_as_wide_as_the_terminal_but_never_wider_than_eighty(monkeypatch, said, width):
    monkeypatch.setenv("COLUMNS", said)
    assert Page(stream=io.StringIO()).width == width
