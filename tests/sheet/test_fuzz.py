"""Bad sheets of every sort: a clear error or a sheet, never a crash and never a hang."""

import copy
import random
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldwright.errors import SheetError, SheetInvalid
from coldwright.findings import CATALOGUE
from coldwright.sheet.check import check
from coldwright.sheet.file import from_data, read, read_text

TEXTS = [
    path.read_text(encoding="utf-8")
    for path in sorted((Path(__file__).parent / "saved").glob("v1_*.toml"))
]
DATA = [tomllib.loads(text) for text in TEXTS]

HUGE = 1 << 70_000  # too long to be written in decimal digits
ODD = [
    None, True, False, 0, -1, 10**30, 10**400, HUGE, 0.0, -0.0, 1e308, float("nan"),
    float("inf"), "", " ", "x", "0 K", "-5 m", "1e400 m", "nan W", "inf V", "35 degC", "2 K",
    "4 in", "\x00", "ä" * 300, "12 ft 3 in", "40 %", "R13", "14 AWG", "🙂", "\u202e", "'", '"',
    "{}", [], {},
    [[]], [{}], {"": 1}, {"kind": "room"}, {"kind": ["room"]}, {"part": "typical"}, {"part": 3},
    ["1 m", "2 m"], [["0 m^3/h", "1 Pa"]], {"area": "1 m^2", "ach50": 3}, [None], [1, "a", {}],
    "place", "outdoors", "none", "1.5 +/- 20 %", "5 +/- 1 W (k=2)", {"a": {"b": {"c": [1]}}},
]  # fmt: skip


KEYS = ["kind", "part", "x", "", "a.b", "name", "layers", "modules", "surface"]


def outcome(make):
    """Read it; return the sheet or the error of our own family, and let anything else escape."""
    try:
        sheet = make()
    except SheetError as error:
        result = error
        findings = getattr(error, "findings", None)
    else:
        result, findings = sheet, check(sheet)
        sheet.assumptions()
    assert str(result)
    if isinstance(result, SheetInvalid):
        assert findings
    for finding in findings or ():
        assert finding.code in CATALOGUE
        assert finding.sentence().replace("\u2009", " ").isprintable()
    return result


def spots(value, path=()):
    """Every place of plain data."""
    yield path
    inner = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for step, below in inner:
        yield from spots(below, (*path, step))


@pytest.mark.parametrize("seed", range(20))
def test_2000_sheets_with_wrong_data(seed):
    rng = random.Random(seed)
    kinds = set()
    for _ in range(100):
        data = copy.deepcopy(rng.choice(DATA))
        for _ in range(rng.choice([1, 1, 1, 2, 5])):
            places = [path for path in spots(data) if path]
            path = rng.choice(places)
            holder = data
            for step in path[:-1]:
                holder = holder[step]
            act = rng.randrange(4)
            if act == 0:
                del holder[path[-1]]
            elif act == 1 and isinstance(holder, dict):
                holder[rng.choice(["kind", "part", "x", "", "a.b", "name", "layers"])] = rng.choice(
                    ODD
                )
            elif act == 2:
                other = rng.choice(DATA)
                for step in rng.choice([one for one in spots(other) if one]):
                    other = other[step]
                holder[path[-1]] = copy.deepcopy(other)
            else:
                holder[path[-1]] = copy.deepcopy(rng.choice(ODD))
        kinds.add(type(outcome(lambda data=data: from_data(data, name="x.toml"))).__name__)
    assert "SheetInvalid" in kinds


@pytest.mark.parametrize("seed", range(10))
def test_1000_sheets_with_damaged_text(seed):
    rng = random.Random(1000 + seed)
    signs = "[]{}\"'#=.,\n\t \\0aZé-+%°\x01\u2028"
    for _ in range(100):
        text = list(rng.choice(TEXTS))
        for _ in range(rng.choice([1, 2, 5, 20])):
            at = rng.randrange(len(text))
            act = rng.randrange(4)
            if act == 0:
                del text[at : at + rng.choice([1, 3, 40])]
            elif act == 1:
                text.insert(at, rng.choice(signs))
            elif act == 2:
                text[at] = rng.choice(signs)
            else:
                other = rng.randrange(len(text))
                text[at : at + 20], text[other : other + 20] = (
                    text[other : other + 20],
                    text[at : at + 20],
                )
        damaged = "".join(text)
        outcome(lambda damaged=damaged: read_text(damaged, "x.toml"))


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes(tmp_path_factory, content):
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_bytes(content)
    assert isinstance(outcome(lambda: read(path)), SheetError)


plain = st.recursive(
    st.one_of(
        st.sampled_from([one for one in ODD if not isinstance(one, list | dict) and one != HUGE]),
        st.text(),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.one_of(
                st.sampled_from(
                    ["climate", "place", "cooler", "kind", "modules", "part", "surface"]
                ),
                st.text(max_size=5),
            ),
            inner,
            max_size=4,
        ),
    ),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(["climate", "place", "cooler", "power", "goal"]), plain))
def test_any_data(data):
    assert isinstance(outcome(lambda: from_data(data)), SheetError)
