"""On which line each key stands, against a TOML parser and against texts built line by line."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.sheet.lines import joined, key_lines, nearest_line, steps

TEXT = '''# a comment with [brackets] and = signs
title = "x # not a comment ] }"

[place]
"odd key" = 1
a.b.c = 3            # dotted
list = [
    "one",   # ] comment
    ["two", "three"],
]
inline = { x = 1, "y z" = { deep = [1, 2] } }
text = """
[not.a.table]
key = "no"
"""
raw = \'\'\'
also = no
\'\'\'

[[place.surface]]
name = "walls"
layers = [{ material = "EPS" }, { material = "wood" }]

[[place.surface]]
name = 'roof'

[place.surface.extra]
z = 1

[[place.surface.hole]]
d = 2
[[place.surface.hole]]
d = 3
'''

EXPECTED = {
    "title": 2,
    "place": 4,
    'place."odd key"': 5,
    "place.a": 6,
    "place.a.b": 6,
    "place.a.b.c": 6,
    "place.list": 7,
    "place.list[0]": 8,
    "place.list[1]": 9,
    "place.list[1][0]": 9,
    "place.list[1][1]": 9,
    "place.inline": 11,
    "place.inline.x": 11,
    'place.inline."y z"': 11,
    'place.inline."y z".deep': 11,
    'place.inline."y z".deep[0]': 11,
    'place.inline."y z".deep[1]': 11,
    "place.text": 12,
    "place.raw": 16,
    "place.surface": 20,
    "place.surface[0]": 20,
    "place.surface[0].name": 21,
    "place.surface[0].layers": 22,
    "place.surface[0].layers[0]": 22,
    "place.surface[0].layers[0].material": 22,
    "place.surface[0].layers[1]": 22,
    "place.surface[0].layers[1].material": 22,
    "place.surface[1]": 24,
    "place.surface[1].name": 25,
    "place.surface[1].extra": 27,
    "place.surface[1].extra.z": 28,
    "place.surface[1].hole": 30,
    "place.surface[1].hole[0]": 30,
    "place.surface[1].hole[0].d": 31,
    "place.surface[1].hole[1]": 32,
    "place.surface[1].hole[1].d": 33,
}


def test_every_kind_of_key_has_its_line():
    assert key_lines(TEXT) == EXPECTED


def test_windows_line_ends_count_as_one():
    assert key_lines(TEXT.replace("\n", "\r\n")) == EXPECTED


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ("place.surface[1].name", 25),
        ("place.surface[1].missing", 24),  # the table it would stand in
        ("place.surface.name", 21),  # a place left out means the first
        ("place[0].text", 12),  # a place given where there is one table
        ("place.nothing.at.all", 4),
        ("nowhere", None),
    ],
)
def test_nearest_line_goes_up_until_something_stands_in_the_file(path, line):
    assert nearest_line(key_lines(TEXT), path) == line


@pytest.mark.parametrize("text", ["", "\n", "# only a comment", "\n\n  # x\n"])
def test_nothing_has_no_lines(text):
    assert key_lines(text) == {}


@pytest.mark.parametrize(
    "text", ['a = "', "a = [", "[", "a", "=", "a = {", '"', "[[x", "a.", "a ="]
)
def test_broken_text_does_not_break_the_scanner(text):
    key_lines(text)


names = st.one_of(
    st.from_regex(r"[A-Za-z0-9_-]{1,8}", fullmatch=True),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=6),
)


@given(st.lists(st.one_of(names, st.integers(0, 99)), min_size=1, max_size=6))
def test_a_path_splits_into_what_it_was_joined_from(walk):
    walk = ["root", *walk]
    path = ""
    for step in walk:
        path = joined(path, step)
    assert steps(path) == walk


# Texts built together with the line on which each key was put, then also read by a parser.

scalars = st.sampled_from(
    ['"a # b"', "'c ] d'", "1", "-2.5e3", "true", "1979-05-27", "17:00:00", '"\\" ["', "inf"]
)
keys = st.sampled_from(["a", "b-c", "d_1", '"q . [0]"', "'r = #'", "7"])
gaps = st.sampled_from(["", " ", "\t"])
comments = st.sampled_from(["", " # c", "# [x]", ' # "'])
blanks = st.sampled_from([[], [""], ["# [[no]]"], ["   ", "# x = 1"]])


@st.composite
def values(draw, depth=2):
    """A value as lines of text, and the sub-paths it holds with the line each begins on."""
    kind = draw(st.sampled_from(["scalar", "text", "list", "inline"] if depth else ["scalar"]))
    if kind == "scalar":
        return [draw(scalars)], {}
    if kind == "text":
        mark = draw(st.sampled_from(['"""', "'''"]))
        body = draw(st.sampled_from([[""], ["", "[no]", "k = 1", ""], ["x # y"]]))
        return "\n".join(body).join([mark, mark]).split("\n"), {}
    entries = draw(st.lists(values(depth=depth - 1), max_size=3))
    lines, found = (["["] if kind == "list" else ["{ "]), {}
    for place, (inner, below) in enumerate(entries):
        if kind == "list" and draw(st.booleans()):
            lines[-1] += draw(comments)
            lines.append("  ")
        step = place if kind == "list" else f"k{place}"
        at = len(lines) - 1
        found[(step,)] = at
        found |= {(step, *path): at + line for path, line in below.items()}
        lines[-1] += ("" if kind == "list" else f"k{place} = ") + inner[0]
        lines += inner[1:]
        if place + 1 < len(entries):
            lines[-1] += ", "
    if kind == "list" and draw(st.booleans()):
        lines += [""]
    lines[-1] += "]" if kind == "list" else " }"
    return lines, found


@st.composite
def documents(draw):
    lines, expected = [], {}

    def pairs(table):
        for key in draw(st.lists(keys, unique=True, max_size=3)):
            lines.extend(draw(blanks))
            name = key[1:-1] if key[0] in "\"'" else key
            inner, below = draw(values())
            expected[(*table, name)] = len(lines) + 1
            for path, line in below.items():
                expected[(*table, name, *path)] = len(lines) + 1 + line
            equals = f"{draw(gaps)}={draw(gaps)}"
            lines.append(draw(gaps) + key + equals + inner[0])
            lines.extend(inner[1:])
            lines[-1] += draw(comments)

    pairs(())
    for number, many in enumerate(draw(st.lists(st.booleans(), max_size=3))):
        for place in range(draw(st.integers(1, 2)) if many else 1):
            lines.extend(draw(blanks))
            name = f"t{number}"
            lines.append(f"[[{name}]]" if many else f"[ {name} ]")
            expected.setdefault((name,), len(lines))
            if many:
                expected[name, place] = len(lines)
            pairs((name, place) if many else (name,))
    return "\n".join(lines), expected


@settings(max_examples=400, deadline=None)
@given(documents())
def test_lines_are_where_the_keys_were_put(document):
    text, expected = document
    wanted = {}
    for walk, line in expected.items():
        path = ""
        for step in walk:
            path = joined(path, step)
        wanted[path] = line
    assert set(wanted) == set(_paths(tomllib.loads(text)))  # the parser sees the same keys
    assert key_lines(text) == wanted


def _paths(value, path=""):
    below = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for step, inner in below:
        at = joined(path, step)
        yield at
        yield from _paths(inner, at)
