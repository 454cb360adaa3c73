"""Where the computing happens, so that no page ever stands still.

Short answers run in one thread, one after the other: the compiled loops must not be entered from
two threads at once under every threading layer. Long ones run in a process of their own, which is
started ahead, tells how far it is, and is ended when nobody waits for it any more.
"""

from __future__ import annotations

import asyncio
import itertools
import multiprocessing
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Any

from coldwright.faces.pages.problems import Problem

# Finished answers that are kept, and jobs that may wait.
_KEPT, _MOST_WAITING = 48, 64


class Lane:
    """The one thread in which short answers are computed."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="answers")

    async def run(self, function: Callable[..., Any], *arguments: Any) -> Any:
        """The result of a function, computed in turn."""
        return await asyncio.get_running_loop().run_in_executor(self._pool, function, *arguments)

    def close(self) -> None:
        """End the thread after what it does now."""
        self._pool.shutdown(wait=False, cancel_futures=True)


@dataclass(frozen=True)
class Order:
    """What a long answer is computed from; equal orders have equal answers."""

    view: str
    text: str
    """The sheet, as text with the setting in it."""
    file: str
    options: tuple[tuple[str, str], ...] = ()


@dataclass
class Job:
    """One long answer on its way."""

    number: int
    order: Order
    state: str = "waiting"
    """ "waiting", "running", "done", "failed" or "stopped"."""
    said: str = ""
    share: float | None = None
    html: str = ""
    answer: dict[str, Any] | None = None
    problem: Problem | None = None
    waiting_for: int = 0
    changed: asyncio.Condition = field(default_factory=asyncio.Condition, repr=False)

    @property
    def ended(self) -> bool:
        """Whether nothing more will come."""
        return self.state in ("done", "failed", "stopped")

    def to_json(self) -> dict[str, Any]:
        """State without the answer."""
        return {
            "job": self.number,
            "view": self.order.view,
            "state": self.state,
            "said": self.said,
            "share": self.share,
            "problem": None if self.problem is None else self.problem.to_json(),
        }


class TooMany(Exception):  # noqa: N818 - read as what happened
    """More jobs wait than this machine should hold."""


class Workshop:
    """The process for long answers, its queue, and what it found lately."""

    def __init__(self) -> None:
        self._numbers = itertools.count(1)
        self._jobs: OrderedDict[int, Job] = OrderedDict()
        self._queue: asyncio.Queue[Job] = asyncio.Queue()
        self._process: Any = None
        self._pipe: Connection | None = None
        self._task: asyncio.Task[None] | None = None
        self._running: Job | None = None

    def start(self) -> None:
        """Begin to work on the queue; the process itself is started ahead of the first job."""
        self._task = asyncio.create_task(self._work())

    async def close(self) -> None:
        """End everything."""
        if self._task is not None:
            self._task.cancel()
        self._end_process()

    def ask(self, order: Order) -> Job:
        """The job for an order: a finished one, one on its way, or a new one."""
        for job in reversed(self._jobs.values()):
            if job.order == order and job.state in ("waiting", "running", "done"):
                return job
        if sum(not job.ended for job in self._jobs.values()) >= _MOST_WAITING:
            raise TooMany
        running = self._running
        if running is not None and running.waiting_for <= 0 and self._process is not None:
            running.state = "stopped"
            self._process.kill()
        job = Job(next(self._numbers), order)
        self._jobs[job.number] = job
        self._forget()
        self._queue.put_nowait(job)
        return job

    def job(self, number: int) -> Job | None:
        """A job by its number, while it is remembered."""
        return self._jobs.get(number)

    async def stop(self, job: Job) -> None:
        """Stop a job, wherever it is."""
        if job.ended:
            return
        job.state = "stopped"
        if job is self._running and self._process is not None:
            # The pipe then ends, and whoever waits at it cleans up.
            self._process.kill()
        await _tell(job)

    async def leave(self, job: Job) -> None:
        """One who waited has gone; a job for nobody makes way for others, or else is finished.

        Its answer is kept, and the first run of an installation gets to keep what it compiles.
        """
        job.waiting_for -= 1
        if job.waiting_for <= 0 and (job is not self._running or not self._queue.empty()):
            await self.stop(job)

    def _forget(self) -> None:
        for number in [n for n, job in self._jobs.items() if job.ended][:-_KEPT]:
            del self._jobs[number]

    async def _work(self) -> None:
        while True:
            self._ensure_process()
            job = await self._queue.get()
            if job.ended:
                continue
            self._running = job
            job.state = "running"
            await _tell(job)
            try:
                await self._run(job)
            finally:
                self._running = None

    async def _run(self, job: Job) -> None:
        pipe = self._ensure_process()
        try:
            pipe.send(job.order)
            while not job.ended:
                message = await asyncio.to_thread(pipe.recv)
                self._take(job, message)
                await _tell(job)
        except (EOFError, OSError):
            if not job.ended:
                job.state = "failed"
                job.problem = Problem("fault", "The answer was lost: its process ended.")
                await _tell(job)
            self._end_process()

    @staticmethod
    def _take(job: Job, message: tuple[Any, ...]) -> None:
        if job.state == "stopped":
            return
        kind = message[0]
        if kind == "progress":
            job.said, job.share = message[1], message[2]
        elif kind == "done":
            job.html, job.answer = message[1], message[2]
            job.state = "done"
        else:
            job.problem = message[1]
            job.state = "failed"

    def _ensure_process(self) -> Connection:
        if self._pipe is None or not self._process.is_alive():
            from coldwright.faces.pages.worker import work

            context = multiprocessing.get_context("spawn")
            self._pipe, other = context.Pipe()
            self._process = context.Process(target=work, args=(other,), daemon=True)
            self._process.start()
            other.close()
        return self._pipe

    def _end_process(self) -> None:
        if self._process is not None:
            self._process.kill()
        if self._pipe is not None:
            self._pipe.close()
        self._process = self._pipe = None


async def _tell(job: Job) -> None:
    async with job.changed:
        job.changed.notify_all()
