"""Ranks: a package imports only lower ones, and only the other libraries its rank allows."""

import ast
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "src" / "coldwright"


@dataclass(frozen=True)
class Rank:
    """`level` decides what may be imported; equal levels never import each other."""

    level: int
    early: frozenset[str] = frozenset()  # libraries allowed at the top of a file
    late: frozenset[str] = frozenset()  # allowed inside functions only


def _rank(level, early="", late=""):
    return Rank(level, frozenset(early.split()), frozenset(late.split()))


# The table of the design, most specific first. Files of rank 0 are one unit and may import each
# other; everything else is closed towards its neighbours of the same rank.
RANKS = {
    "quantities.units": _rank(0, "numpy", late="pint"),
    "quantities": _rank(0, "numpy"),
    "errors": _rank(0, "numpy"),
    "findings": _rank(0, "numpy"),
    "findings_catalogue": _rank(0, "numpy"),
    "findings_electrical": _rank(0, "numpy"),
    "findings_person": _rank(0, "numpy"),
    "findings_safety": _rank(0, "numpy"),
    "findings_weather": _rank(0, "numpy"),
    "findings_faults": _rank(0, "numpy"),
    "physics.compiled": _rank(1, "numpy numba", late="platformdirs"),
    "physics": _rank(1, "numpy numba"),
    "sheet": _rank(2, "numpy pydantic pydantic_core tomlkit annotated_types"),
    "readings.sources": _rank(2, "numpy pydantic", late="serial aiomqtt paho fastapi bleak"),
    "readings": _rank(2, "numpy pydantic", late="pvlib pandas pyarrow duckdb"),
    "machine.solve": _rank(3, "numpy numba", late="scipy"),
    "machine": _rank(3, "numpy numba"),
    "answers": _rank(4, "numpy", late="scipy lmfit emcee pythermalcomfort distributed pyarrow"),
    "drawings": _rank(5, "numpy", late="drawsvg ezdxf schemdraw trimesh manifold3d networkx"),
    "report": _rank(6, "numpy", late="jinja2 matplotlib typst"),
    "faces.cli": _rank(7, "typer rich click"),
    "faces.pages": _rank(7, "fastapi starlette pydantic", late="jinja2 uvicorn"),
    "faces": _rank(7),
}
# Each of these has one file that opens it, so that it can be replaced and stays late.
ONE_FILE_EACH = {"pint", "scipy", "lmfit", "pythermalcomfort", "platformdirs", "distributed"}
NEVER_FROM_FACES = {"physics", "machine"}


@dataclass(frozen=True)
class Import:
    target: str  # dotted name as resolved
    line: int
    late: bool


def imports_of(source: str, module: str, *, is_package: bool = False) -> list[Import]:
    """Every import of a file: statements at any depth, and import_module with a constant."""
    found = []
    tree = ast.parse(source)
    inside = {
        id(child)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        for child in ast.walk(node)
    } | {
        id(child)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING")
        for part in node.body
        for child in ast.walk(part)
    }
    for node in ast.walk(tree):
        late = id(node) in inside
        if isinstance(node, ast.Import):
            found += [Import(alias.name, node.lineno, late) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parents = module.split(".")
                keep = len(parents) - node.level + (1 if is_package else 0)
                base = ".".join([*parents[:keep], *([base] if base else [])])
            # "from coldwright import physics" names a package, not an attribute.
            found += [Import(f"{base}.{alias.name}", node.lineno, late) for alias in node.names]
        elif (
            isinstance(node, ast.Call)
            and ast.unparse(node.func) in ("importlib.import_module", "import_module", "__import__")
            and node.args
        ):
            name = node.args[0]
            constant = isinstance(name, ast.Constant) and isinstance(name.value, str)
            found.append(Import(str(name.value) if constant else "?", node.lineno, late))
    return found


def rank_of(module: str) -> tuple[str, Rank] | None:
    """Row of the table for a dotted name below the package ("physics.fan")."""
    for name, rank in RANKS.items():
        if module == name or module.startswith(name + "."):
            return name, rank
    return None


def violations(source: str, module: str, *, is_package: bool = False) -> list[str]:
    """What a file imports against the rules; `module` is its name below the package."""
    own = rank_of(module)
    if own is None:
        return [f"{module}: stands in no rank"]
    unit = _unit(own[0])
    said = []
    for found in imports_of(source, f"coldwright.{module}", is_package=is_package):
        where = f"{module} line {found.line}: {found.target}"
        root, _, rest = found.target.partition(".")
        if found.target == "?":
            said.append(f"{where}: imports a name that is not written out")
        elif root == "coldwright":
            other = rank_of(rest)
            if other is None:
                said += [] if rest.startswith("__version__") else [f"{where}: stands in no rank"]
            elif unit == "faces" or unit.startswith("faces."):
                said += _against_faces(where, unit, _unit(other[0]))
            elif _unit(other[0]) != unit and other[1].level >= own[1].level:
                said.append(f"{where}: not a lower rank")
        elif root not in sys.stdlib_module_names:
            if root not in own[1].early | own[1].late:
                said.append(f"{where}: library not allowed here")
            elif root not in own[1].early and not found.late:
                said.append(f"{where}: only inside a function")
    return said


def _unit(row: str) -> str:
    # What may import itself freely: a package, one face, or all of rank 0.
    if RANKS[row].level == 0:
        return "rank 0"
    return row if row.startswith("faces.") else row.partition(".")[0]


def _against_faces(where: str, own: str, other: str) -> list[str]:
    if other in NEVER_FROM_FACES:
        return [f"{where}: a face reaches below the answers"]
    if other.startswith("faces.") and other != own:
        return [f"{where}: a face imports another face"]
    return []


def _modules():
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        is_package = parts[-1] == "__init__"
        name = ".".join(parts[:-1] if is_package else parts)
        if name and name != "__main__":
            yield name, path, is_package


@pytest.mark.parametrize(
    ("module", "path", "is_package"), list(_modules()), ids=[name for name, *_ in _modules()]
)
def test_a_file_imports_only_lower_ranks_and_allowed_libraries(module, path, is_package):
    source = path.read_text(encoding="utf-8")
    assert violations(source, module, is_package=is_package) == []


def test_the_package_itself_imports_none_of_its_parts():
    # Whoever imports one part pays for that part only.
    for found in imports_of((PACKAGE / "__init__.py").read_text(encoding="utf-8"), "coldwright"):
        assert found.target.partition(".")[0] in sys.stdlib_module_names or found.late


def test_some_libraries_are_opened_in_one_file_of_a_package():
    opened: dict[tuple[str, str], set[str]] = {}
    for module, path, is_package in _modules():
        package = module.partition(".")[0]
        for found in imports_of(
            path.read_text(encoding="utf-8"), f"coldwright.{module}", is_package=is_package
        ):
            root = found.target.partition(".")[0]
            if root in ONE_FILE_EACH:
                opened.setdefault((package, root), set()).add(module)
    assert opened, "pint at least is opened somewhere"
    assert {key: files for key, files in opened.items() if len(files) > 1} == {}


@pytest.mark.parametrize(
    ("module", "source", "word"),
    [
        ("quantities.parsing", "from coldwright.physics import fan", "not a lower rank"),
        ("quantities.parsing", "import pint", "not allowed"),
        ("quantities.units", "import pint", "inside a function"),
        ("physics.fan", "from coldwright import sheet", "not a lower rank"),
        ("physics.fan", "import scipy.optimize", "not allowed"),
        ("physics.fan", "def f():\n    import scipy", "not allowed"),
        ("sheet.models", "import coldwright.readings.store", "not a lower rank"),
        ("readings.store", "from coldwright.sheet.models import Fan", "not a lower rank"),
        ("sheet.models", "from ..machine import cooler", "not a lower rank"),
        ("sheet.library", "from ..machine import cooler", "not a lower rank"),
        ("machine.cooler", "def f():\n    from scipy.optimize import root", "not allowed"),
        ("machine.solve", "from scipy.optimize import root", "inside a function"),
        ("machine.cooler", "from coldwright.answers import watts", "not a lower rank"),
        (
            "machine.cooler",
            "import importlib\nimportlib.import_module('matplotlib')",
            "not allowed",
        ),
        ("machine.cooler", "__import__(name)", "not written out"),
        ("answers.watts", "from coldwright.faces.cli import app", "not a lower rank"),
        ("answers.watts", "import matplotlib", "not allowed"),
        ("faces.cli.watts", "from coldwright.physics.fan import law", "below the answers"),
        ("faces.cli.watts", "def f():\n    import coldwright.machine", "below the answers"),
        ("faces.cli.watts", "from coldwright.faces.pages import app", "another face"),
        ("faces.pages.watts", "from coldwright.faces.cli import app", "another face"),
        ("faces.cli.watts", "import numpy", "not allowed"),
        ("brand_new", "import math", "no rank"),
        ("physics.fan", "from coldwright.brand_new import x", "no rank"),
    ],
)
def test_a_bad_import_is_noticed(module, source, word):
    said = violations(source, module)
    assert len(said) >= 1
    assert word in said[0]


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("findings", "from coldwright.errors import explanation"),
        ("quantities.units", "def f():\n    import pint"),
        ("physics.fan", "import math\nimport numba\nfrom coldwright.physics.compiled import law"),
        ("sheet", "from .models import Sheet"),
        ("machine.cooler", "from coldwright.sheet.models import Sheet\nimport numpy as np"),
        ("machine.solve", "def f():\n    from scipy.optimize import root"),
        ("answers.watts", "from coldwright import machine, errors"),
        ("faces.cli.app", "import typer\nfrom coldwright.faces.cli import watts"),
        (
            "faces.cli.app",
            "from coldwright.answers import watts\nfrom coldwright import __version__",
        ),
        ("machine.cooler", "if TYPE_CHECKING:\n    from collections.abc import Iterable"),
    ],
)
def test_a_good_import_is_let_through(module, source):
    assert violations(source, module, is_package=module == "sheet") == []


HEAVY = "numba scipy matplotlib pandas pint CoolProp nicegui fastapi"
LIGHT = ["coldwright", "coldwright.errors", "coldwright.findings", "coldwright.faces.cli.app"]


@pytest.mark.parametrize("module", LIGHT)
def test_the_command_starts_without_heavy_libraries(module):
    path = PACKAGE.parent / Path(*module.split("."))
    if not (path.with_suffix(".py").exists() or path.is_dir()):
        # Nothing to start yet: then no part of it may exist either.
        assert module == "coldwright.faces.cli.app"
        assert [name for name, *_ in _modules() if name.startswith("faces.cli.")] == []
        return
    code = (
        f"import sys, {module}\n"
        f"print(' '.join(name for name in {HEAVY.split()!r} if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ""
