"""Every message is a sentence: findings are put together from parts, and the parts must fit."""

import ast
import re
from pathlib import Path

import pytest
from tests.sheet.test_check import CASES
from tests.sheet.test_faults import SLIPS

import coldwright
from coldwright.errors import explanation
from coldwright.sheet.check import check
from coldwright.sheet.file import read_text

SOURCE = Path(coldwright.__file__).parent
MAKERS = {"remark", "Finding", "finding", "_finding", "QuantityError", "add"}
ORDER = {
    "remark": ("code", "severity", "where", "given", "allowed"),
    "Finding": ("code", "severity", "where", "given", "allowed"),
    "finding": ("code", "severity", "where", "given"),
    "_finding": ("sheet", "code", "severity", "where", "given"),
    "QuantityError": ("given", "allowed"),
    "add": ("code", "severity", "given"),
}
SAYS_SOMETHING = re.compile(
    r"\b(is|are|has|have|reaches|lowers|gives|takes?|gets|cover|covers|stands?|lies|leaves|runs|"
    r"says|add|miss|ends|holds|feeds|begin|do|does|comes|would|cannot|insulates|plays|count|"
    r"follow|starts|settles?|burns?|pull|can|may|need|exceeds|carries)\b|\{\?\}"
)


def _words(node):
    """The texts a node may become: constants as they are, what is filled in as {?}."""
    if isinstance(node, ast.Constant):
        return [str(node.value)]
    if isinstance(node, ast.JoinedStr):
        return ["".join(p.value if isinstance(p, ast.Constant) else "{?}" for p in node.values)]
    if isinstance(node, ast.IfExp):
        return _words(node.body) + _words(node.orelse)
    if isinstance(node, ast.BinOp):
        return [a + b for a in _words(node.left) for b in _words(node.right)]
    return ["{?}"]


def _messages():
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "id", None) or getattr(node.func, "attr", "")
            if name not in MAKERS:
                continue
            parts = dict(zip(ORDER[name], node.args, strict=False))
            parts |= {keyword.arg: keyword.value for keyword in node.keywords}
            if name in ("add", "Finding", "remark", "finding", "_finding"):
                code = parts.get("code")
                if not (isinstance(code, ast.Constant) and str(code.value).startswith("CW-")):
                    continue
            empty = ast.Constant("")
            for given in _words(parts.get("given", empty)):
                for allowed in _words(parts.get("allowed", empty)):
                    yield f"{path.stem}:{node.lineno}", given, allowed


MESSAGES = list(_messages())


def test_the_messages_are_found():
    assert len(MESSAGES) > 80
    assert len({where.split(":")[0] for where, _, _ in MESSAGES}) > 8


@pytest.mark.parametrize(("where", "given", "allowed"), MESSAGES)
def test_a_message_is_put_together_to_a_sentence(where, given, allowed):
    if not given:
        assert allowed, where  # "Needed: ..."
        return
    clause = given[0].isupper() or given.startswith("{?} lies")  # opens with a material's name
    if clause or not allowed:
        # It stands alone, so it needs a verb of its own, and is no heap of nouns.
        assert SAYS_SOMETHING.search(given), given
    if clause and allowed:
        assert re.match(r"(\{\?\}|at |below|above|within|in |one |a few|\d)", allowed), allowed
    if not clause and allowed:
        # A thing: "“2 A” is not ...", never "The fan gives 3 W is not ...".
        assert given[0] in "“`{" or given[0].isdigit() or given[0].islower(), given
        assert not SAYS_SOMETHING.search(given.replace("{?}", "")), given


def well_formed(said):
    """What holds of each sentence of the program, whatever it is about."""
    assert said[0].isupper() or said[0] in "“`−-" or said[0].isdigit(), said
    assert said[-1] in ".?!", said
    for wrong in ("  ", "..", " .", "“”", "``", "% %", "nan", "None", "�", "is not at ", "not no "):
        assert wrong not in re.sub("“[^”]*”", "“x”", said), said
    verbs = re.findall(r"^[^“`.(]*\b(?:is|are|has|gives|reaches|lowers)\b[^.(]* is not ", said)
    assert not verbs, said


@pytest.mark.parametrize(("old", "new", "path", "code", "words"), SLIPS)
def test_a_fault_of_the_sheet_is_a_sentence(
    kiosk_text, replaced, faults, old, new, path, code, words
):
    found = faults(replaced(kiosk_text, old, new))[path]
    well_formed(explanation(found.given, found.allowed, found.why, found.action))


@pytest.mark.parametrize(("old", "new", "path", "code", "severity"), CASES)
def test_the_findings_on_a_sheet_are_sentences(
    kiosk_text, replaced, old, new, path, code, severity
):
    for found in check(read_text(replaced(kiosk_text, old, new), "sheet.toml")):
        well_formed(explanation(found.given, found.allowed, found.why, found.action))


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        (("“2 A”", "a length", "", ""), "“2 A” is not a length."),
        (("“1.2”", "at most 1.0", "", ""), "“1.2” is too high: at most 1.0."),
        (
            ("melamine foam lies against 200 °C", "at most 150 °C", "", ""),
            "Melamine foam lies against 200 °C (allowed: at most 150 °C).",
        ),
        (("-3", "at least 1", "", ""), "-3 is too low: at least 1."),
        (("a table", "a text", "", ""), "A table is not a text."),
        (
            ("The base reaches 90 °C", "at most 80 °C", "Foam shrinks", "more air"),
            "The base reaches 90 °C (allowed: at most 80 °C). Foam shrinks. Try more air.",
        ),
        (("", "`area`, an area", "it is missing", ""), "Needed: `area`, an area. It is missing."),
    ],
)
def test_parts_become_sentences(parts, said):
    assert explanation(*parts) == said
