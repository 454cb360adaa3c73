"""One open page: its socket, what it asks for, and what it is told.

A moving slider asks faster than anything can be drawn. Only its last wish counts: a tab has at most
one wish in the lane and one waiting. When the hand rests, the same point is solved again with its
tries, and the intervals follow.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
from typing import TYPE_CHECKING, Any

from fastapi import WebSocket, WebSocketDisconnect

from coldwright.answers.design import TRIES
from coldwright.errors import ColdwrightError
from coldwright.faces.pages.content import Content, live_content
from coldwright.faces.pages.problems import Problem, problem_of
from coldwright.faces.pages.views import BY_NAME
from coldwright.faces.pages.work import Job, Order, TooMany

if TYPE_CHECKING:
    from coldwright.faces.pages.app import Server

# Longest message of a page, and how many it may send that mean nothing before it is cut off.
MOST_CHARACTERS, MOST_NONSENSE = 20_000, 20
# Seconds for which a hand must rest before the intervals are reckoned.
_REST_S = 0.12
_LONGEST_NAME = 40


class Tab:
    """Speaks with one page until it is closed."""

    def __init__(self, server: Server, socket: WebSocket) -> None:
        self.server = server
        self.socket = socket
        self._wish: dict[str, Any] | None = None
        self._wished = asyncio.Event()
        self._jobs: dict[str, Job] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._nonsense = 0
        self._sending = asyncio.Lock()

    async def serve(self) -> None:
        """Answer messages until the page goes."""
        await self.socket.accept()
        self.server.tabs.add(self)
        self._start(self._live())
        try:
            while self._nonsense < MOST_NONSENSE:
                await self._take(await self.socket.receive_text())
            await self.socket.close(1008)
        except (WebSocketDisconnect, RuntimeError, KeyError):
            pass
        finally:
            self.server.tabs.discard(self)
            for task in self._tasks:
                task.cancel()
            for job in self._jobs.values():
                await self.server.workshop.leave(job)

    async def tell(self, message: dict[str, Any]) -> None:
        """Send one message; a page that is gone hears nothing."""
        async with self._sending:
            with contextlib.suppress(WebSocketDisconnect, RuntimeError):
                await self.socket.send_text(json.dumps(message, allow_nan=False))

    async def _take(self, held: str) -> None:
        message = _message(held)
        kind = message.get("type") if message else None
        if kind == "live" and message is not None:
            self._wish = message
            self._wished.set()
        elif kind == "answer" and message is not None:
            self._start(self._answer(message))
        elif kind == "stop" and message is not None:
            job = self._jobs.get(str(message.get("view", ""))[:_LONGEST_NAME])
            if job is not None:
                await self.server.workshop.stop(job)
        else:
            self._nonsense += 1
            await self.tell({"type": "refused", "message": "That is no message of a page."})

    def _start(self, work: Any) -> None:
        task: asyncio.Task[None] = asyncio.create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _live(self) -> None:
        """The last wish, again and again: first the point, then its intervals."""
        while True:
            await self._wished.wait()
            self._wished.clear()
            wish = self._wish or {}
            found = await self._solved(wish, 0)
            await self._show(wish, found, settled=False)
            if isinstance(found, Problem):
                continue
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(self._wished.wait(), _REST_S)
            if not self._wished.is_set():
                await self._show(wish, await self._solved(wish, TRIES), settled=True)

    async def _solved(self, wish: dict[str, Any], tries: int) -> Content | Problem:
        try:
            found: Content = await self.server.lane.run(
                live_content, self.server.project, wish, tries
            )
        except Exception as error:  # noqa: BLE001 - whatever it is, the page is told
            return problem_of(error)
        return found

    async def _show(self, wish: dict[str, Any], found: Content | Problem, *, settled: bool) -> None:
        message: dict[str, Any] = {"type": "live", "number": wish.get("number"), "settled": settled}
        if isinstance(found, Problem):
            message |= {"problem": found.to_json(), "settled": True}
        else:
            message |= found.to_json()
        await self.tell(message)

    async def _answer(self, message: dict[str, Any]) -> None:
        """A long answer: asked for, followed, shown."""
        name = str(message.get("view", ""))[:_LONGEST_NAME]
        view = BY_NAME.get(name)
        if view is None or view.answer is None:
            self._nonsense += 1
            await self.tell({"type": "refused", "message": "There is no such answer."})
            return
        try:
            order = await self.server.lane.run(self.server.order, view, message)
            job = self.server.workshop.ask(order)
        except TooMany:
            problem = Problem("use", "Too many answers wait; close some pages.")
            await self.tell({"type": "answer", "view": name, "problem": problem.to_json()})
            return
        except ColdwrightError as error:
            problem = problem_of(error)
            await self.tell({"type": "answer", "view": name, "problem": problem.to_json()})
            return
        before = self._jobs.get(name)
        if before is job and not job.ended:
            return
        job.waiting_for += 1
        self._jobs[name] = job
        if before is not None and before is not job:
            await self.server.workshop.leave(before)
        await self._follow(name, job)

    async def _follow(self, name: str, job: Job) -> None:
        said: tuple[Any, ...] = ()
        while True:
            async with job.changed:
                if not job.ended and said == (job.state, job.said, job.share):
                    await job.changed.wait()
            if self._jobs.get(name) is not job:
                return
            said = (job.state, job.said, job.share)
            told = {"type": "answer", **job.to_json()}
            if job.state == "done":
                told["html"] = job.html
            await self.tell(told)
            if job.ended:
                return


def _message(held: str) -> dict[str, Any] | None:
    if len(held) > MOST_CHARACTERS:
        return None
    try:
        message = json.loads(held)
    except (ValueError, RecursionError):
        return None
    return message if isinstance(message, dict) else None


__all__ = ["Order", "Tab"]
