"""A small JSON API: the same answers for programs, every number bounded."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any

from fastapi import Body, FastAPI, HTTPException, Path, Query, Request
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict, Field

from coldwright.answers import live, watts
from coldwright.errors import ColdwrightError, OutputError
from coldwright.faces.pages.before_after import before_after
from coldwright.faces.pages.content import with_setting
from coldwright.faces.pages.problems import Problem, problem_of
from coldwright.faces.pages.project import ChangedMeanwhile
from coldwright.faces.pages.views import BY_NAME
from coldwright.faces.pages.work import TooMany

if TYPE_CHECKING:
    from coldwright.faces.pages.app import Server

Drive = Annotated[
    float | None,
    Query(ge=0, le=1e6, allow_inf_nan=False,
          description="What the modules are set to, in SI units of the sheet's own way."),
]  # fmt: skip
Speed = Annotated[
    float | None,
    Query(ge=0, le=3, allow_inf_nan=False, description="Speed of a fan as a share of full speed."),
]
Tries = Annotated[int, Query(ge=0, le=5000, description="Tries that the intervals come from.")]
Name = Annotated[str, Path(max_length=40, pattern="^[a-z_]+$")]
Number = Annotated[int, Path(ge=1, le=2**31)]


class Exact(BaseModel):
    """No key that is not known."""

    model_config = ConfigDict(extra="forbid")


class Save(Exact):
    """A whole text for the sheet's file."""

    text: Annotated[str, Field(max_length=2_000_000)]
    base: Annotated[str, Field(max_length=64, description="Version that the text was made from.")]


class Edit(Exact):
    """New values for some keys; null leaves a key out."""

    changes: Annotated[dict[str, Any], Field(max_length=200)]


class Ask(Exact):
    """A long answer."""

    view: Annotated[str, Field(max_length=40)]
    drive: Annotated[float | None, Field(ge=0, le=1e6, allow_inf_nan=False)] = None
    cold: Annotated[float | None, Field(ge=0, le=3, allow_inf_nan=False)] = None
    hot: Annotated[float | None, Field(ge=0, le=3, allow_inf_nan=False)] = None
    options: Annotated[dict[str, str], Field(max_length=20)] = {}


def add_api(app: FastAPI, server: Server) -> None:
    """Put the API's routes on the application."""

    @app.exception_handler(ColdwrightError)
    async def told(_: Request, error: ColdwrightError) -> JSONResponse:
        problem = problem_of(error)
        # Bytes that cannot be written (a full disk, a folder taken away) are no wrong request.
        status = 409 if isinstance(error, ChangedMeanwhile | OutputError) else 422
        return JSONResponse({"problem": problem.to_json()}, status)

    def solve(function: Callable[[Any], Any], setting: dict[str, Any], tries: int) -> Any:
        sheet, version = server.project.sheet()
        changes = with_setting(sheet, setting)
        answer = function((sheet.changed(changes) if changes else sheet, tries))
        return {"version": version, **without_nan(answer)}

    refused: dict[int | str, dict[str, Any]] = {
        422: {"description": "The sheet, or the request, allows no answer; it says why."}
    }

    @app.get("/api/v1/watts", responses=refused, tags=["answers"])
    async def get_watts(
        drive: Drive = None, cold: Speed = None, hot: Speed = None, tries: Tries = 0
    ) -> Any:
        """Where do the watts go?"""
        setting = {"drive": drive, "cold": cold, "hot": hot}
        return await server.lane.run(
            solve, lambda given: watts.run(watts.Inputs(*given)).to_json(), setting, tries
        )

    @app.get("/api/v1/way", responses=refused, tags=["answers"])
    async def get_way(
        drive: Drive = None,
        cold: Speed = None,
        hot: Speed = None,
        points: Annotated[int, Query(ge=2, le=200)] = 60,
    ) -> Any:
        """Figures along what the modules are set to."""

        def along(given: Any) -> dict[str, Any]:
            found = live.run(live.Inputs(given[0], None, 0, points=points))
            if found.way is None:
                return {"axis": None, "drive": [], "curves": {}}
            return {
                "axis": found.way.axis, "drive": found.way.drive, "curves": found.way.curves,
            }  # fmt: skip

        setting = {"drive": drive, "cold": cold, "hot": hot}
        return await server.lane.run(solve, along, setting, 0)

    @app.get("/api/v1/sheet", tags=["sheet"])
    async def get_sheet() -> Any:
        """The sheet's text and its version."""
        return _text(server)

    @app.put("/api/v1/sheet", responses=_conflicts, tags=["sheet"])
    async def put_sheet(save: Save) -> Any:
        """Replace the whole text, if the file still is what it was made from."""
        try:
            server.project.save(_plain(save.text), save.base)
        except ChangedMeanwhile as error:
            now = {"text": error.now.text, "version": error.now.version}
            problem = Problem("use", str(error))
            return JSONResponse({"problem": problem.to_json(), **now}, 409)
        await server.told()
        return _text(server)

    @app.post("/api/v1/sheet/edits", responses={**refused, **_conflicts}, tags=["sheet"])
    async def post_edits(edit: Edit) -> Any:
        """Change some keys and nothing else: comments and order stay."""
        server.project.edit(edit.changes)
        await server.told()
        return _text(server)

    @app.post("/api/v1/before-after", responses=refused, tags=["answers"])
    async def post_before_after(edit: Edit) -> Any:
        """The operating point as it is and with some keys changed, side by side; writes nothing."""
        return await server.lane.run(before_after, server.project, edit.changes)

    @app.post("/api/v1/sheet/keep", responses={**refused, **_conflicts}, tags=["sheet"])
    async def post_keep(setting: Annotated[Ask, Body()]) -> Any:
        """Write where the knobs stand into the sheet."""
        asked = {"drive": setting.drive, "cold": setting.cold, "hot": setting.hot}

        def keep() -> None:
            sheet, _ = server.project.sheet()
            server.project.edit(with_setting(sheet, asked))

        await server.lane.run(keep)
        await server.told()
        return _text(server)

    @app.post("/api/v1/sheet/undo", responses=_conflicts, tags=["sheet"])
    async def post_undo() -> Any:
        """Take back the last change that a page made."""
        server.project.undo()
        await server.told()
        return _text(server)

    @app.post("/api/v1/sheet/redo", responses=_conflicts, tags=["sheet"])
    async def post_redo() -> Any:
        """Do again what was taken back."""
        server.project.redo()
        await server.told()
        return _text(server)

    @app.post("/api/v1/jobs", status_code=202, tags=["long answers"],
              responses={**refused, 404: {"description": "There is no such answer."},
                         429: {"description": "Too many answers wait."}})  # fmt: skip
    async def post_job(ask: Ask) -> Any:
        """Ask for an answer that takes longer; look for it under its number."""
        view = BY_NAME.get(ask.view)
        if view is None or view.answer is None:
            raise HTTPException(404, "There is no such answer.")
        order = await server.lane.run(server.order, view, ask.model_dump())
        try:
            job = server.workshop.ask(order)
        except TooMany:
            raise HTTPException(429, "Too many answers wait.") from None
        job.waiting_for += 1
        return job.to_json()

    @app.get("/api/v1/jobs/{number}", tags=["long answers"], responses=_missing)
    async def get_job(number: Number) -> Any:
        """How far an answer is, and what it says when it is done."""
        job = server.workshop.job(number)
        if job is None:
            raise HTTPException(404, "There is no such job.")
        return {**job.to_json(), "answer": without_nan(job.answer)}

    @app.delete("/api/v1/jobs/{number}", tags=["long answers"], responses=_missing)
    async def delete_job(number: Number) -> Any:
        """Stop an answer that is on its way."""
        job = server.workshop.job(number)
        if job is None:
            raise HTTPException(404, "There is no such job.")
        await server.workshop.stop(job)
        return job.to_json()


_conflicts: dict[int | str, dict[str, Any]] = {
    409: {"description": "The file was changed meanwhile, or cannot be written."}
}
_missing: dict[int | str, dict[str, Any]] = {404: {"description": "There is no such job."}}


def without_nan(held: Any) -> Any:
    """The same with null for every number that JSON does not know."""
    if isinstance(held, float):
        return held if math.isfinite(held) else None
    if isinstance(held, dict):
        return {name: without_nan(value) for name, value in held.items()}
    if isinstance(held, list | tuple):
        return [without_nan(value) for value in held]
    return held


def _plain(text: str) -> str:
    """Text that a file can hold: no halves of signs."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _text(server: Server) -> dict[str, Any]:
    now = server.project.text()
    return {
        "text": now.text,
        "version": now.version,
        "can_undo": server.project.can_undo,
        "can_redo": server.project.can_redo,
    }
