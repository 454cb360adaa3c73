import pickle
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright import errors
from coldwright.findings import CATALOGUE, SEVERITIES, Finding, worst_first


def _finding(**changed):
    parts = {
        "code": "CW-UNIT-02",
        "severity": "warning",
        "where": "cooler.hot_fan.flow",
        "given": "900 m³/h",
        "allowed": "within 20–250 m³/h",
        "why": "A fan of 120 mm moves less",
        "action": "litres per minute",
        "line": 14,
        "file": "kiosk.toml",
    }
    return Finding(**(parts | changed))


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        (
            {},
            "`kiosk.toml` line 14, cooler.hot_fan.flow: 900 m³/h is not within 20–250 m³/h. "
            "A fan of 120 mm moves less. Try litres per minute. [CW-UNIT-02]",
        ),
        (
            {"file": "", "line": None},
            "cooler.hot_fan.flow: 900 m³/h is not within 20–250 m³/h. A fan of 120 mm moves less. "
            "Try litres per minute. [CW-UNIT-02]",
        ),
        (
            {"where": "", "why": "", "action": ""},
            "`kiosk.toml` line 14: 900 m³/h is not within 20–250 m³/h. [CW-UNIT-02]",
        ),
        (
            {"file": "", "line": 3, "where": "", "allowed": "", "why": "", "action": ""},
            "line 3: 900 m³/h. [CW-UNIT-02]",
        ),
        (
            {"file": "", "line": None, "where": "", "given": "", "why": "Was it meant?"},
            "Needed: within 20–250 m³/h. Was it meant? Try litres per minute. [CW-UNIT-02]",
        ),
        (
            {"file": "", "line": None, "where": "", "given": "", "allowed": "", "action": ""},
            "A fan of 120 mm moves less. [CW-UNIT-02]",
        ),
        (
            {
                "file": "",
                "line": None,
                "where": "",
                "given": "",
                "allowed": "",
                "why": "",
                "action": "",
            },
            f"{CATALOGUE['CW-UNIT-02'].title}. [CW-UNIT-02]",
        ),
    ],
)
def test_a_finding_says_itself_and_leaves_out_what_is_empty(changed, sentence):
    assert _finding(**changed).sentence() == sentence


@given(st.lists(st.tuples(st.sampled_from(SEVERITIES), st.integers()), max_size=30))
def test_worst_come_first_and_equals_keep_their_order(rows):
    findings = [_finding(severity=severity, line=line) for severity, line in rows]
    ordered = worst_first(findings)
    ranks = [SEVERITIES.index(found.severity) for found in ordered]
    assert ranks == sorted(ranks)
    for severity in SEVERITIES:
        assert [f.line for f in ordered if f.severity == severity] == [
            line for given_severity, line in rows if given_severity == severity
        ]


def test_the_catalogue_is_alphabetical_and_explains_every_code():
    assert list(CATALOGUE) == sorted(CATALOGUE)
    for code, row in CATALOGUE.items():
        assert re.fullmatch(r"CW-[A-Z]+-\d\d", code)
        assert row.title
        assert not row.title.endswith(".")
        assert len(row.explanation) > 40, code
        assert row.explanation.endswith(".")


def _every_error():
    return [
        errors.QuantityError("“12”", "a power", "No unit", "“12 W”"),
        errors.SheetError("The file is empty.", "kiosk.toml", 3),
        errors.SheetInvalid([_finding()], "kiosk.toml"),
        errors.PartMissing("modul", ["module"], "kiosk.toml", 7),
        errors.ReadingError("The file is no weather file.", "town.epw", 9),
        errors.OutputError("week.gif: a picture ends in .png, .svg or .pdf"),
        errors.NoSolution("CW-SOLVE-01", "The hot side runs away."),
        errors.SolverError("The cooler did not settle", 0.25),
        errors.LedgerError("The ledger does not close", 0.25),
    ]


@pytest.mark.parametrize("error", _every_error(), ids=lambda error: type(error).__name__)
def test_every_error_is_of_the_family_and_travels_between_processes(error):
    assert isinstance(error, errors.ColdwrightError)
    copy = pickle.loads(pickle.dumps(error))
    assert type(copy) is type(error)
    assert str(copy) == str(error) != ""
    assert vars(copy) == vars(error)


def test_the_tree_of_errors():
    assert issubclass(errors.QuantityError, ValueError)
    assert issubclass(errors.SheetInvalid, errors.SheetError)
    assert issubclass(errors.PartMissing, errors.SheetError)
    assert issubclass(errors.LedgerError, errors.SolverError)
    drawn = set(re.findall(r"\b[A-Z]\w+\b", (errors.__doc__ or "").partition("::")[2]))
    defined = {
        name
        for name, value in vars(errors).items()
        if isinstance(value, type) and issubclass(value, errors.ColdwrightError)
    }
    assert defined <= drawn


def test_messages_say_where_and_what():
    quantity, sheet, _, part, reading, output, no_solution, solver, _ = _every_error()
    assert str(quantity) == "“12” is not a power. No unit. Try “12 W”."
    assert str(sheet) == "`kiosk.toml` line 3: The file is empty."
    assert str(part) == "`kiosk.toml` line 7: No part is called “modul”. Was “module” meant?"
    assert str(reading) == "`town.epw` line 9: The file is no weather file."
    assert str(output) == "week.gif: a picture ends in .png, .svg or .pdf"
    assert str(no_solution) == "The hot side runs away. [CW-SOLVE-01]"
    assert str(solver) == "The cooler did not settle (residual 0.25 W)"
