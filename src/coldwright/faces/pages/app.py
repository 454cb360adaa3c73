"""The server of the pages: which address shows what."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request, WebSocket
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles

from coldwright import __version__
from coldwright.errors import ColdwrightError
from coldwright.faces.pages.api import add_api
from coldwright.faces.pages.content import live_content, with_setting
from coldwright.faces.pages.guard import Allowed, Guard
from coldwright.faces.pages.problems import Problem, problem_of
from coldwright.faces.pages.project import Project
from coldwright.faces.pages.shell import page
from coldwright.faces.pages.tab import Tab
from coldwright.faces.pages.views import VIEWS
from coldwright.faces.pages.views.view import View
from coldwright.faces.pages.work import Lane, Order, Workshop
from coldwright.sheet.file import with_changes

_STATIC = Path(__file__).parent / "static"
# How often the file is looked at for changes made in an editor [s].
_LOOK_S = 0.7
# How long a page waits for its first answer [s].
_PATIENCE_S = 1.2


class Server:
    """Everything that the pages of one project share."""

    def __init__(self, project: Project) -> None:
        self.project = project
        self.lane = Lane()
        self.workshop = Workshop()
        self.tabs: set[Tab] = set()
        self._watching: asyncio.Task[None] | None = None

    def start(self) -> None:
        """Begin to watch the file and to work on long answers."""
        self.workshop.start()
        self._watching = asyncio.create_task(self._watch())

    async def close(self) -> None:
        """End everything."""
        if self._watching is not None:
            self._watching.cancel()
        await self.workshop.close()
        self.lane.close()

    def order(self, view: View, asked: Mapping[str, Any]) -> Order:
        """What a long answer shall be computed from: the sheet now, with the page's setting."""
        sheet, _ = self.project.sheet()
        text = self.project.text().text
        changes = with_setting(sheet, asked)
        if changes:
            text = with_changes(text, changes, name=str(self.project.file))
        given = asked.get("options")
        held = given if isinstance(given, dict) else {}
        options = tuple(
            (name, str(held.get(name, default))[:40]) for name, default in view.options.items()
        )
        return Order(view.name, text, str(self.project.file), options)

    async def told(self) -> None:
        """Tell every page that the file is another one now."""
        for tab in tuple(self.tabs):
            await tab.tell({"type": "changed"})

    async def _watch(self) -> None:
        last = ""
        while True:
            with contextlib.suppress(ColdwrightError):
                now = (await asyncio.to_thread(self.project.text)).version
                if last and now != last:
                    await self.told()
                last = now
            await asyncio.sleep(_LOOK_S)


def create_app(project: Project, allowed: Allowed) -> Any:
    """The ASGI application for one project."""
    server = Server(project)

    @asynccontextmanager
    async def alive(_: FastAPI) -> AsyncIterator[None]:
        server.start()
        yield
        await server.close()

    app = FastAPI(
        title="Coldwright",
        version=__version__,
        description="Answers about one design sheet, in SI units.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=alive,
    )
    app.state.server = server
    app.mount("/static", StaticFiles(directory=_STATIC), name="static")

    @app.get("/", include_in_schema=False)
    async def first() -> Response:
        return RedirectResponse(f"/{VIEWS[0].path}")

    for each in VIEWS:
        app.add_api_route(
            f"/{each.path}", _shows(server, each), include_in_schema=False, methods=["GET"]
        )

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await Tab(server, socket).serve()

    add_api(app, server)
    return Guard(app, allowed)


def _look_away(work: asyncio.Future[Any]) -> None:
    """Take note of an error that nobody waits for any more."""
    if not work.cancelled():
        work.exception()


def _shows(server: Server, view: View) -> Any:
    async def shown(request: Request) -> HTMLResponse:
        asked: dict[str, Any] = {**request.query_params, "view": view.name}
        asked["narrow"] = asked.get("narrow") == "1"
        work = asyncio.ensure_future(server.lane.run(live_content, server.project, asked, 0))
        # The first answer of an installation compiles for a minute: the page does not wait for it,
        # its socket brings what is known then.
        done, _ = await asyncio.wait({work}, timeout=_PATIENCE_S)
        found: Any = None
        try:
            found = work.result() if done else None
        except Exception as error:  # noqa: BLE001 - whatever it is, the person is told
            found = problem_of(error)
        work.add_done_callback(_look_away)
        problem = found if isinstance(found, Problem) else None
        return HTMLResponse(page(server, view, None if problem else found, problem))

    return shown
