"""Laws as their docstrings tell them: compared with what importing the modules finds."""

import importlib
import json
import pkgutil

import pytest

import coldwright.physics as physics
from coldwright.answers.equations import Inputs, _equation, run
from coldwright.physics.compiled import Law, stated_error

EVERY = run(Inputs()).equations


def _compiled_laws():
    """Public laws of all physics modules, each where it is written."""
    found = {}
    for module in pkgutil.iter_modules(physics.__path__):
        loaded = importlib.import_module(f"coldwright.physics.{module.name}")
        for name, held in vars(loaded).items():
            if isinstance(held, Law) and not name.startswith("_"):
                home = held.__wrapped__.__module__.rpartition(".")[2]
                found[home, held.__name__] = held
    return found


def test_every_compiled_law_is_listed_and_nothing_else():
    assert {(one.group, one.name) for one in EVERY} == set(_compiled_laws())


def test_every_law_tells_all_that_a_reader_needs():
    for one in EVERY:
        for part in ("sentence", "returns", "notes", "error", "source", "checked_against"):
            assert getattr(one, part).strip(), (one.name, part)
        assert one.sentence.endswith(".")
        assert one.parameters
        assert all(parameter.text.endswith(".") for parameter in one.parameters), one.name
        assert one.example.startswith(">>>")
        assert "Source:" not in one.notes


def test_the_stated_error_is_the_one_that_the_intervals_use():
    laws = _compiled_laws()
    for one in EVERY:
        used = stated_error(laws[one.group, one.name])
        if one.error.startswith("exact"):
            assert used == 0.0
        else:
            assert float(one.error.split("%")[0]) / 100.0 == pytest.approx(used)


def test_a_docstring_is_taken_apart():
    one = _equation(
        "push",
        "shove",
        """Force of a spring.

Why it matters,
in two lines.

Parameters
----------
rate_N_m, other_N_m : float
    Two rates [N/m]; above
    0.
travel_m : float
    Travel [m].

Returns
-------
float
    Force [N], in the broadcast shape; NaN outside.

Notes
-----
``F = k x``.

Holds for small travel.

Error: 5 % (below 1 m).
Source: R. Hooke, De Potentia
Restitutiva, 1678.
Checked against: a balance.

Examples
--------
>>> push(2.0, 3.0)
6.0
""",
    )
    assert one.sentence == "Force of a spring."
    assert one.why == "Why it matters, in two lines."
    assert [(p.name, p.text) for p in one.parameters] == [
        ("rate_N_m", "Two rates [N/m]; above 0."),
        ("other_N_m", "Two rates [N/m]; above 0."),
        ("travel_m", "Travel [m]."),
    ]
    assert one.returns == "Force [N], in the broadcast shape; NaN outside."
    assert one.notes == "`F = k x`.\n\nHolds for small travel."
    assert one.error == "5 % (below 1 m)"
    assert one.source == "R. Hooke, De Potentia Restitutiva, 1678"
    assert one.checked_against == "a balance"
    assert one.example == ">>> push(2.0, 3.0)\n6.0"


@pytest.mark.parametrize(
    ("asked", "names"),
    [("dew_point", {"dew_point"}), ("Dew point", {"dew_point"}), ("dew-point", {"dew_point"})],
)
def test_a_law_is_found_by_its_name_however_it_is_typed(asked, names):
    assert {one.name for one in run(Inputs(asked)).equations} == names


def test_a_group_is_found_whole():
    found = run(Inputs("thermoelectric")).equations
    assert {one.group for one in found} == {"thermoelectric"}
    assert [one for one in EVERY if one.group == "thermoelectric"] == found


def test_a_word_finds_the_laws_that_mention_it():
    found = run(Inputs("Seebeck coefficient")).equations
    assert found
    for one in found:
        assert "seebeck coefficient" in f"{one.sentence} {one.why} {one.notes}".casefold()


def test_a_slip_of_the_pen_gets_the_nearest_names():
    found = run(Inputs("dew_piont"))
    assert found.equations == []
    assert "dew_point" in found.nearest
    assert run(Inputs("qqqqqq")).nearest == []


def test_the_answer_is_plain_data():
    again = json.loads(json.dumps(run(Inputs("dew_point")).to_json(), allow_nan=False))
    assert again["equations"][0]["parameters"][0]["name"]
