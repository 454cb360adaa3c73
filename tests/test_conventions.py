"""The habits of the source: docstrings of laws, names with units, sizes of files, finding codes."""

import ast
import doctest
import importlib
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from coldwright.findings import CATALOGUE

PACKAGE = Path(__file__).resolve().parents[1] / "src" / "coldwright"
LONGEST_FILE = 450
UNWANTED_STEMS = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
UNWANTED_PREFIXES = ("get_", "calc_", "calculate_", "compute_")

# Suffix of a name -> its unit as docstrings write it in brackets.
SUFFIXES = {
    "per_K": "1/K",
    "per_h": "1/h",
    "per_s": "1/s",
    "percent": "%",
    "hour": "h",
    "cmil_A": "cmil/A",
    "cmil": "cmil",
    "A_V2": "A/V2",
    "A_K": "A/K",
    "H": "H",
    "W_m2K": "W/m2/K",
    "m2K_W": "m2 K/W",
    "W_mK": "W/m/K",
    "J_kgK": "J/kg/K",
    "J_kg": "J/kg",
    "J_K": "J/K",
    "K_W": "K/W",
    "W_K": "W/K",
    "W_m2": "W/m2",
    "V_K": "V/K",
    "V_K2": "V/K2",
    "kg_m3": "kg/m3",
    "kg_m2": "kg/m2",
    "kg_s": "kg/s",
    "m3_s": "m3/s",
    "m3_kg": "m3/kg",
    "m_s": "m/s",
    "m2_s": "m2/s",
    "Pa_s": "Pa s",
    "ohm_m2": "ohm m2",
    "ohm_m": "ohm/m",
    "ohm_km": "ohm/km",
    "ohm": "ohm",
    "dB": "dB",
    "Hz": "Hz",
    "rad": "rad",
    "deg": "deg",
    "mm2": "mm2",
    "m2": "m2",
    "m3": "m3",
    "Pa": "Pa",
    "Wh": "Wh",
    "Ah": "Ah",
    "kg": "kg",
    "VA": "VA",
    "m": "m",
    "s": "s",
    "A": "A",
    "K": "K",
    "N": "N",
    "V": "V",
    "W": "W",
    "J": "J",
    "F": "F",
}
# Numbers without a unit, by the last word of their names; a new one is added here on purpose.
WITHOUT_UNIT = {
    "aspect", "channels", "cop", "count", "couples", "diameter", "direction", "directivity", "duty",
    "efficiency", "emissivity", "exponent", "factor", "first", "fraction", "gauge", "humidity",
    "ntu", "prandtl", "ratio", "reynolds", "roughness", "second", "share", "shelter", "storeys",
    "absorption", "effectiveness", "fittings", "number", "running", "strings", "depth",
    "reflectance",
}  # fmt: skip
# Coefficients of fitted equations, whose unit hangs on an exponent or on the table they come from.
OF_AN_EQUATION = {
    "coefficient", "stack_coefficient", "wind_coefficient", "loss_coefficient",
    "withstand_coefficient", "k0", "k1", "k2",
}  # fmt: skip
ONE = {"1", "-", "kg/kg"}


@dataclass(frozen=True)
class Found:
    module: str
    name: str
    parameters: tuple[str, ...]
    docstring: str


def laws_in(source: str, module: str) -> list[Found]:
    """Functions under the `law` decorator in a source text."""
    return [
        Found(
            module,
            node.name,
            tuple(argument.arg for argument in node.args.args),
            ast.get_docstring(node) or "",
        )
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef)
        and any(ast.unparse(decorator) == "law" for decorator in node.decorator_list)
    ]


def _module_name(path: Path) -> str:
    return ".".join(("coldwright", *path.relative_to(PACKAGE).with_suffix("").parts))


SOURCES = sorted(PACKAGE.rglob("*.py"))
LAWS = [
    law
    for path in sorted((PACKAGE / "physics").rglob("*.py"))
    for law in laws_in(path.read_text(encoding="utf-8"), _module_name(path))
]
each_law = pytest.mark.parametrize(
    "law", LAWS, ids=[f"{law.module.rpartition('.')[2]}.{law.name}" for law in LAWS]
)
each_source = pytest.mark.parametrize(
    "path", SOURCES, ids=[str(path.relative_to(PACKAGE)) for path in SOURCES]
)

_ORDER = (
    ("Parameters", r"^Parameters\n-{10}$"),
    ("Returns", r"^Returns\n-{7}$"),
    ("Notes", r"^Notes\n-{5}$"),
    ("Error:", r"^Error: (?:exact|[0-9.]+ %)"),
    ("Source:", r"^Source: \S"),
    ("Checked against:", r"^Checked against: \S"),
    ("Examples", r"^Examples\n-{8}$"),
)


def faults_of(law: Found) -> list[str]:
    """What a law's docstring lacks, against the order that all of them keep."""
    text = law.docstring
    faults = []
    first = text.split("\n\n")[0]
    if not first or not first.endswith(".") or "\n" in first:
        faults.append("does not begin with one sentence on one line")
    last = -1
    places = {}
    for name, pattern in _ORDER:
        match = re.search(pattern, text, re.MULTILINE)
        if match is None:
            faults.append(f"lacks “{name}”")
            continue
        if match.start() < last:
            faults.append(f"“{name}” stands too early")
        last = match.start()
        places[name] = (match.start(), match.end())
    if "Parameters" in places and "Returns" in places:
        section = text[places["Parameters"][1] : places["Returns"][0]]
        faults += _faults_of_parameters(law, section)
    if "Returns" in places and "Notes" in places:
        section = text[places["Returns"][1] : places["Notes"][0]]
        if not re.search(r"\[[^\]]+\]", section):
            faults.append("Returns names no unit in brackets")
        if "NaN" not in section:
            faults.append("Returns does not say when it is NaN")
        if "shape" not in section:
            faults.append("Returns does not say the shape")
    if "Examples" in places and ">>>" not in text[places["Examples"][1] :]:
        faults.append("Examples show nothing")
    return faults


def _faults_of_parameters(law: Found, section: str) -> list[str]:
    faults = []
    entries = re.findall(r"^(\w+(?:, \w+)*) : .+\n((?:^ +.*\n|\n)*)", section + "\n", re.MULTILINE)
    described = {
        name: re.findall(r"\[([^\]]*)\]", text)
        for names, text in entries
        for name in names.split(", ")
    }
    if sorted(described) != sorted(law.parameters):
        faults.append(f"describes {list(described)} but takes {list(law.parameters)}")
    for name, brackets in described.items():
        units = {canonical(bracket) for bracket in brackets}
        if not units:
            faults.append(f"{name}: no unit in brackets")
            continue
        wanted = unit_of(name)
        if wanted is None:
            faults.append(f"{name}: neither a unit suffix nor a known number without unit")
        elif wanted == "1" and not units & ONE:
            faults.append(f"{name}: has no unit by name but {units} by docstring")
        elif wanted not in ("1", "?") and wanted not in units:
            faults.append(f"{name}: {wanted} by name but {units} by docstring")
    return faults


def unit_of(name: str) -> str | None:
    """Unit that a name carries: "1" for none, "?" for a coefficient, None for an unknown word."""
    if name in OF_AN_EQUATION:
        return "?"
    for suffix, unit in sorted(SUFFIXES.items(), key=lambda row: -len(row[0])):
        if name == suffix or name.endswith("_" + suffix):
            return canonical(unit)
    return "1" if name.rpartition("_")[2] in WITHOUT_UNIT else None


def canonical(unit: str) -> str:
    """One spelling of a unit in brackets: "W/(m^2 K)" and "W/m²/K" are "W/m2/K"."""
    text = unit.replace("^", "").replace("**", "").replace("²", "2").replace("³", "3")
    text = re.sub(r"\b(?:of |per |in )?(?:dry air|moist air|water|re .*)", "", text)
    text = text.replace("·", " ").replace("*", " ")
    text = re.sub(r"/\(([^()]*)\)", lambda match: "/" + "/".join(match[1].split()), text)
    return " ".join(text.split()).replace(" /", "/").replace("V A", "VA")


@each_law
def test_a_law_tells_all_it_must_in_order(law):
    assert faults_of(law) == []


@each_law
def test_the_example_of_a_law_is_true(law):
    module = importlib.import_module(law.module)
    example = doctest.DocTestParser().get_doctest(
        law.docstring, dict(vars(module)), law.name, law.module, 0
    )
    assert example.examples
    report: list[str] = []
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE)
    runner.run(example, out=report.append)
    assert runner.failures == 0, "".join(report)


def _arguments_in_example(law: Found, module) -> list[float] | None:
    """The numbers with which the example calls the law; None when it only calls it on arrays."""
    for example in doctest.DocTestParser().get_examples(law.docstring):
        for node in ast.walk(ast.parse(example.source)):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == law.name:
                if any(isinstance(argument, ast.Starred) for argument in node.args):
                    continue
                try:
                    values = [
                        eval(ast.unparse(argument), dict(vars(module))) for argument in node.args
                    ]
                except NameError:
                    continue
                if all(np.ndim(value) == 0 for value in values):
                    return [float(value) for value in values]
    return None


@each_law
def test_a_law_keeps_nan_and_broadcasts(law):
    module = importlib.import_module(law.module)
    function = getattr(module, law.name)
    values = _arguments_in_example(law, module)
    assert values is not None, "the example calls the law on plain numbers"
    assert len(values) == len(law.parameters)
    for place, name in enumerate(law.parameters):
        broken = list(values)
        broken[place] = np.nan
        # Comparing with NaN raises the processor's "invalid" flag, which numpy turns into a warning
        # after the call; what counts here is the value.
        with np.errstate(invalid="ignore"):
            assert np.isnan(function(*broken)), f"NaN for {name} must give NaN"
    # One argument as a column, the last as a row: the result has the broadcast shape and, in each
    # place, the value for numbers.
    arrays: list[object] = list(values)
    arrays[0] = np.full((2, 1), values[0])
    arrays[-1] = np.full((2, 3) if len(values) == 1 else 3, values[-1])
    result = function(*arrays)
    assert result.shape == (2, 3)
    np.testing.assert_array_equal(result, np.full((2, 3), function(*values)))


def test_laws_are_found():
    assert len(LAWS) > 50
    assert len({(law.module, law.name) for law in LAWS}) == len(LAWS)


GOOD = '''
@law
def flow(area_m2: float, speed_ratio: float) -> float:
    """Flow of something.

    Parameters
    ----------
    area_m2 : float or array
        Area [m^2]. Valid from 0.
    speed_ratio : float or array
        Speed over full speed [1]. Valid from 0.

    Returns
    -------
    float or array, broadcast shape of the inputs
        Flow [m3/s]; NaN outside the range.

    Notes
    -----
    ``Q = A n``.

    Error: exact.
    Source: someone, 1900.
    Checked against: someone else.

    Examples
    --------
    >>> flow(1.0, 2.0)
    2.0
    """
'''


def test_a_good_docstring_passes():
    (law,) = laws_in(GOOD, "coldwright.physics.x")
    assert faults_of(law) == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("Flow of something.", "Flow of\n    something.", "one sentence"),
        ("[m^2]", "[m]", "m2 by name"),
        ("[m^2]", "", "no unit in brackets"),
        ("[1]", "[K]", "has no unit by name"),
        ("speed_ratio", "speed_thing", "neither a unit suffix"),
        ("    speed_ratio : float or array", "    other_ratio : float or array", "but takes"),
        ("Error: exact.", "", "lacks “Error:”"),
        ("Error: exact.", "Error: small.", "lacks “Error:”"),
        ("Source: someone, 1900.", "Source:", "lacks “Source:”"),
        ("Checked against: someone else.", "", "lacks “Checked against:”"),
        (
            "Error: exact.\n    Source: someone, 1900.",
            "Source: someone, 1900.\n    Error: exact.",
            "too early",
        ),
        ("; NaN outside the range", "", "when it is NaN"),
        (", broadcast shape of the inputs", "", "the shape"),
        ("Flow [m3/s]", "Flow", "Returns names no unit"),
        (">>> flow(1.0, 2.0)\n    2.0", "None.", "show nothing"),
        ("Examples\n    --------", "", "lacks “Examples”"),
    ],
)
def test_a_bad_docstring_is_noticed(old, new, fault):
    assert old in GOOD
    (law,) = laws_in(GOOD.replace(old, new), "coldwright.physics.x")
    assert any(fault in said for said in faults_of(law)), faults_of(law)


def test_units_in_brackets_have_one_spelling():
    assert canonical("W/(m^2 K)") == canonical("W/m²/K") == "W/m2/K"
    assert canonical("J/(kg dry air K)") == canonical("J/kg/K")
    assert canonical("dB re 20 uPa") == "dB"
    assert canonical("m2 K/W") == "m2 K/W"


def test_only_one_file_opens_the_compiler_of_laws():
    for path in SOURCES:
        if path.name != "compiled.py":
            text = path.read_text(encoding="utf-8")
            assert "vectorize(" not in text, path
            assert "guvectorize" not in text, path


@each_source
def test_a_file_is_short_and_named_for_what_it_holds(path):
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= LONGEST_FILE, f"{lines} lines"
    assert not UNWANTED_STEMS & set(path.relative_to(PACKAGE).with_suffix("").parts)


@each_source
def test_public_things_explain_themselves(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    public = [
        node
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]
    lacking = [node.name for node in public if not ast.get_docstring(node)]
    if tree.body and not ast.get_docstring(tree):
        lacking.append("the file")
    assert lacking == []


@each_source
def test_functions_are_named_for_their_result_or_deed(path):
    named = [
        node.name
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name.startswith(UNWANTED_PREFIXES)
    ]
    assert named == []


def test_every_finding_code_stands_in_the_catalogue():
    used: dict[str, set[str]] = {}
    for path in SOURCES:
        for code in re.findall(r"\bCW-[A-Z]+-\d\d\b", path.read_text(encoding="utf-8")):
            used.setdefault(code, set()).add(path.name)
    assert used
    assert {code: files for code, files in used.items() if code not in CATALOGUE} == {}
