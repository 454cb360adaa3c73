"""The only door to other machines: batches over a scheduler of dask.distributed."""

from __future__ import annotations

import hashlib
import pickle
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright import __version__
from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.faults import SearchError
from coldwright.physics.compiled import source_hash

Batch = tuple[int, NDArray[np.int64]]
Solved = tuple[int, NDArray[Any], NDArray[Any]]
# Batches that wait at each worker while it works on one.
_AHEAD = 3
# A batch is given to so many workers in turn before it counts as failed.
_RETRIES = 5
_CONNECT_S = 10


class Cluster:
    """The workers of one scheduler. Workers must run the same version as this program.

    Parameters
    ----------
    address
        Of the scheduler, such as ``tcp://10.0.0.5:8786``.
    engine
        What solves the batches; every task carries it along (some hundred kilobytes), so that no
        worker's loss takes away what others need.

    Raises
    ------
    SearchError
        When the library is not installed, the scheduler does not answer, has no workers, or a
        worker runs another version.
    """

    def __init__(self, address: str, engine: Engine) -> None:
        try:
            import distributed  # type: ignore[import-not-found, unused-ignore]
        except ImportError:
            raise SearchError(
                "A search over several machines needs the optional library: install "
                "coldwright[cluster]."
            ) from None
        self._library: Any = distributed
        try:
            self._client: Any = self._library.Client(
                address, timeout=f"{_CONNECT_S}s", set_as_default=False
            )
        except (OSError, TimeoutError, ValueError) as error:
            raise SearchError(f"The scheduler at {address} does not answer: {error}.") from None
        self._address = address
        self._packed = pickle.dumps(engine)

    def __enter__(self) -> Cluster:
        try:
            _same_everywhere(self._client, self._address)
        except BaseException:
            self._client.close()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self._client.close()

    def solve(self, batches: Iterator[Batch]) -> Iterator[Solved]:
        """Solve batches wherever there is a worker, and give them back in the order they end.

        A batch whose worker is lost is solved by another one.
        """
        client = self._client
        ahead = _AHEAD * max(len(client.scheduler_info()["workers"]), 1)
        waiting = self._library.as_completed(loop=client.loop, with_results=True)
        running = 0
        for number, flat in batches:
            waiting.add(
                client.submit(_solve, self._packed, number, flat, pure=False, retries=_RETRIES)
            )
            running += 1
            if running >= ahead:
                _, found = next(waiting)
                running -= 1
                yield found
        while running:
            _, found = next(waiting)
            running -= 1
            yield found


def fingerprint() -> str:
    """What two machines must have in common to give the same answers."""
    return f"{__version__} {source_hash()}"


def _solve(packed: bytes, number: int, flat: NDArray[np.int64]) -> Solved:
    kept, front = _unpacked(packed).solve(flat)
    return number, kept, front


_known: dict[str, Engine] = {}


def _unpacked(packed: bytes) -> Engine:
    """The engine of the last search that this worker took part in."""
    name = hashlib.sha256(packed).hexdigest()
    if name not in _known:
        _known.clear()
        # The bytes come from the person's own scheduler, which may run any code anyway.
        _known[name] = pickle.loads(packed)
    return _known[name]


def _same_everywhere(client: Any, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=_CONNECT_S)
    except TimeoutError:
        raise SearchError(f"The scheduler at {address} has no workers.") from None
    others = {
        where: found for where, found in client.run(fingerprint).items() if found != fingerprint()
    }
    if others:
        where, found = next(iter(others.items()))
        raise SearchError(
            f"The worker {where} of {address} runs another version ({found}) than this one "
            f"({fingerprint()}): their figures would differ."
        )
