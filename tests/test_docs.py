"""The documentation is complete and up to date, its examples run, its links lead somewhere."""

from __future__ import annotations

import importlib
import re
import tomllib
from pathlib import Path

import pytest

from coldwright.faces.cli.help_page import GROUPS
from coldwright.findings import CATALOGUE
from coldwright.sheet.check import check
from coldwright.sheet.file import from_data, read_text
from coldwright.sheet.parts_file import parts_of

ROOT = Path(__file__).resolve().parents[1]
PAGES = [ROOT / name for name in ("README.md", "CONTRIBUTING.md", "CHANGELOG.md")]
PAGES += sorted((ROOT / "docs").rglob("*.md"))
COMMANDS = [name for group in GROUPS.values() for name in group]
FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)

each_page = pytest.mark.parametrize("page", PAGES, ids=[str(p.relative_to(ROOT)) for p in PAGES])


def _fences(kind: str) -> list[tuple[str, str]]:
    """Fenced blocks of one kind ("toml", "toml part", "python"), by page."""
    return [
        (f"{page.relative_to(ROOT)} {number}", text)
        for page in PAGES
        for number, (info, text) in enumerate(FENCE.findall(page.read_text(encoding="utf-8")))
        if info.strip() == kind
    ]


@pytest.fixture
def tool(monkeypatch):
    monkeypatch.syspath_prepend(str(ROOT / "tools"))
    return importlib.import_module


# --- Up to date ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        "glossary.md", "equations.md", "findings.md", "parts.md",
        "electrical.md", "sheet.md",
        "verdict.schema.json", "watts.schema.json", "wiring.schema.json",
    ],
)  # fmt: skip
def test_a_generated_page_says_what_the_code_says(tool, name):
    made = tool("reference").PAGES[name]()
    shown = (ROOT / "docs" / "reference" / name).read_text(encoding="utf-8")
    assert shown == made, "run `make docs`"


def test_every_generated_page_is_compared(tool):
    assert set(tool("reference").PAGES) == {
        "glossary.md", "equations.md", "findings.md", "parts.md",
        "electrical.md", "sheet.md",
        "verdict.schema.json", "watts.schema.json", "wiring.schema.json",
    }  # fmt: skip


def test_the_overview_of_published_cases_is_up_to_date(monkeypatch):
    monkeypatch.syspath_prepend(str(ROOT / "examples" / "published"))
    run_all = importlib.import_module("run_all")
    shown = (ROOT / "docs" / "reference" / "published-cases.md").read_text(encoding="utf-8")
    assert shown == run_all.page(run_all.cases()), "run `make docs`"
    assert "**fails**" not in shown


@pytest.mark.parametrize(
    "page",
    [
        "README.md",
        "docs/tutorial/first-verdict.md",
        "docs/tutorial/a-week.md",
        "docs/how-to/wiring.md",
    ],
)
def test_shown_output_is_what_the_command_prints(tool, page):
    # Words must agree; figures may differ in the last digit from machine to machine.
    shown = tool("samples").samples((ROOT / page).read_text(encoding="utf-8"))
    assert shown
    for command, until, text in shown:
        assert text.strip(), f"{page}: nothing is shown of `{command}`; run `make docs`"
        made = tool("samples").output(command, until)
        assert _words(text) == _words(made), f"{page}: `{command}`; run `make docs`"


def _words(text: str) -> list[str]:
    """Words of an output; figures, and the bars and curves made of them, are left out."""
    return re.findall(r"[^\W\d_]{3,}", text)


# --- Complete ------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_explained(command):
    said = f"coldwright {command}"
    reference = (ROOT / "docs" / "reference" / "cli.md").read_text(encoding="utf-8")
    assert said in reference
    guides = [page for page in PAGES if page.parent.name in ("how-to", "tutorial")]
    assert any(said in page.read_text(encoding="utf-8") for page in guides), (
        f"no how-to mentions `{said}`"
    )


@pytest.mark.parametrize("code", sorted(CATALOGUE))
def test_every_finding_has_an_anchor(code):
    page = ROOT / "docs" / "reference" / "findings.md"
    assert code.lower() in _anchors(page)


def test_every_page_can_be_reached_from_the_index():
    reached = {ROOT / "docs" / "README.md"}
    waiting = list(reached)
    while waiting:
        page = waiting.pop()
        for target, _ in _links(page):
            found = (page.parent / target).resolve()
            if found.suffix == ".md" and found not in reached:
                reached.add(found)
                waiting.append(found)
    lost = [page for page in PAGES if page.parent != ROOT and page not in reached]
    assert [str(page.relative_to(ROOT)) for page in lost] == []


# --- Examples run --------------------------------------------------------------------------------


@pytest.mark.parametrize(("where", "text"), _fences("toml"), ids=lambda value: value[:40])
def test_a_whole_sheet_reads_and_stops_nothing(where, text):
    sheet = read_text(text, name=where)
    assert [one.sentence() for one in check(sheet) if one.severity == "stop"] == []


@pytest.mark.parametrize(("where", "text"), _fences("toml parts"), ids=lambda value: value[:40])
def test_a_parts_list_reads(where, text):
    assert where
    assert parts_of(tomllib.loads(text)).module


@pytest.mark.parametrize(("where", "text"), _fences("toml part"), ids=lambda value: value[:40])
def test_a_part_of_a_sheet_fits_into_the_demo(where, text):
    data = tomllib.loads((ROOT / "demos" / "kiosk" / "sheet.toml").read_text(encoding="utf-8"))
    for table, keys in tomllib.loads(text).items():
        if "kind" in keys:
            data[table] = {}  # another kind of it has keys of its own
        for key, value in keys.items():
            data[table][key] = value
    sheet = from_data(data, name=where)
    assert [one.sentence() for one in check(sheet) if one.severity == "stop"] == []


def test_sheets_are_shown_at_all():
    assert len(_fences("toml")) >= 2
    assert len(_fences("toml part")) >= 6
    marked = {"toml", "toml part", "toml parts", "python", "sh", "text"}
    kinds = {info.strip() for page in PAGES for info, _ in FENCE.findall(page.read_text("utf-8"))}
    assert kinds <= marked


@pytest.mark.parametrize("page", ["README.md", "docs/how-to/use-from-python.md"])
def test_python_examples_run_in_their_order(page, monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    text = (ROOT / page).read_text(encoding="utf-8")
    blocks = [block for info, block in FENCE.findall(text) if info.strip() == "python"]
    assert blocks
    names: dict[str, object] = {}
    for block in blocks:
        exec(compile(block, page, "exec"), names)
    assert capsys.readouterr().out.strip()


def test_commands_in_examples_exist():
    for page in PAGES:
        for command in re.findall(r"\bcoldwright ([a-z][a-z-]*)\b", _code(page)):
            assert command in COMMANDS, f"{page.relative_to(ROOT)}: coldwright {command}"


def _code(page: Path) -> str:
    text = page.read_text(encoding="utf-8")
    shell = [block for info, block in FENCE.findall(text) if info.strip() == "sh"]
    inline = re.findall(r"`(coldwright [^`]+)`", text)
    return "\n".join([*shell, *inline])


# --- Links ---------------------------------------------------------------------------------------


@each_page
def test_links_lead_somewhere(page):
    dead = []
    for target, anchor in _links(page):
        found = (page.parent / target).resolve() if target else page
        if not found.exists():
            dead.append(target)
        elif anchor and found.suffix == ".md" and anchor not in _anchors(found):
            dead.append(f"{target}#{anchor}")
    assert dead == []


def _links(page: Path) -> list[tuple[str, str]]:
    """Relative links: the file and what stands behind #."""
    text = FENCE.sub("", page.read_text(encoding="utf-8"))
    found = re.findall(r"\]\(([^)\s]+)\)", text)
    return [
        (target.partition("#")[0], target.partition("#")[2])
        for target in found
        if not re.match(r"[a-z]+:", target)
    ]


def _anchors(page: Path) -> set[str]:
    text = FENCE.sub("", page.read_text(encoding="utf-8"))
    headings = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    made = {
        re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-") for heading in headings
    }
    return made | set(re.findall(r'<a id="([^"]+)">', text))


@each_page
def test_pages_name_no_place_of_one_machine(page):
    text = page.read_text(encoding="utf-8")
    assert not re.search(r"/(?:root|home|tmp|work)/", text)
