"""What stands around every page: the rail of questions, the strip, the knobs."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coldwright import __version__
from coldwright.faces.pages.markup import findings
from coldwright.faces.pages.views import BY_NAME, VIEWS
from coldwright.faces.pages.views.view import View

if TYPE_CHECKING:
    from coldwright.faces.pages.app import Server
    from coldwright.faces.pages.content import Content
    from coldwright.faces.pages.problems import Problem

_TEMPLATES = Path(__file__).parent / "templates"


def page(server: Server, view: View, content: Content | None, problem: Problem | None) -> str:
    """The whole page, filled with what is known already."""
    import json

    template = _environment().get_template(f"{view.name}.html")
    project = server.project
    shown: str = template.render(
        version=__version__,
        view=view,
        views=VIEWS,
        open_question=view.below or view.name,
        by_name=BY_NAME,
        project=project.name,
        folder=str(project.file.parent),
        file=project.file.name,
        content=content,
        parts={} if content is None else content.parts,
        problem=problem,
        problem_findings="" if problem is None else findings(problem.findings),
        first="null" if content is None else _in_script(json.dumps(content.to_json())),
    )
    return shown


def _in_script(held: str) -> str:
    """JSON that may stand inside a script element."""
    return held.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


@cache
def _environment() -> Any:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined
    )
