"""The two doors to the compiler: `law` for one physical law, `compiled` for code that joins laws.

Machine code is cached on disk, so that only the first run after an installation compiles.
numba decides by a file's own time stamp whether its cached code is stale and does not notice
that a *called* file changed. Therefore the cache lies in a folder named by a hash of every source
in `physics/` and `machine/`: any edit there opens a new, empty folder.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import os
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numba
import numpy as np
from numba.extending import typeof_impl
from numpy.typing import NDArray

_PACKAGE = Path(__file__).resolve().parents[1]
_HASHED = ("physics", "machine")


class Law:
    """A physical law: takes numbers or arrays (SI), broadcasts, and gives NaN outside its range.

    It is compiled when it is first wanted, since a command wants few of the many. Calls from Python
    run through one compiled loop over numbers, which is kept on disk and loads in 2 ms (a ufunc
    takes 30 ms, because its outer wrapper is compiled anew in every process). In compiled code it
    is a function of numbers. NaN does not warn: it is an answer.
    """

    __name__: str

    def __init__(self, function: Callable[..., float]) -> None:
        functools.update_wrapper(self, function)
        self.nin = function.__code__.co_argcount
        self._function = function
        self._loop: Any = None

    def __call__(self, *arguments: Any) -> Any:
        """Value at each of the broadcast arguments."""
        arrays = [np.asarray(each, dtype=float) for each in arguments]
        found = np.empty(np.broadcast_shapes(*(each.shape for each in arrays)))
        if self._loop is None:
            self._loop = _loop_over(self._function, self)
        self._loop(*(_in_a_row(each, found.shape) for each in arrays), found.reshape(-1))
        return found[()]

    @functools.cached_property
    def of_numbers(self) -> Any:
        """The law as compiled code calls it."""
        return compiled(self._function)


def law(function: Callable[..., float]) -> Law:
    """Make a physical law of a function of numbers."""
    return Law(function)


def _type_in_compiled_code(law_: Law, _: Any) -> Any:
    type_of: Any = numba.typeof
    return type_of(law_.of_numbers)


typeof_impl.register(Law)(_type_in_compiled_code)


def _in_a_row(array: NDArray[np.float64], shape: tuple[int, ...]) -> NDArray[np.float64]:
    """The array at this shape in one plain piece, so that one loop serves all."""
    if array.shape != shape or not (array.flags.c_contiguous and array.flags.writeable):
        array = np.array(np.broadcast_to(array, shape), order="C")
    return array.reshape(-1)


def _loop_over(function: Callable[..., float], law_: Law) -> Any:
    """Loop that fills its last argument with the law at each number of the others."""
    names = [f"x{k}" for k in range(law_.nin)]
    at_i = ", ".join(f"{name}[i]" for name in names)
    name = f"loop_of_{law_.__name__}"
    source = (
        f"def {name}({', '.join(names)}, found):\n"
        f"    for i in range(len(found)):\n"
        f"        found[i] = law({at_i})\n"
    )
    # The compiler keys its cache by file, name and line of a function: those of the law.
    code = function.__code__
    made: dict[str, Any] = {"__name__": function.__module__, "law": law_}
    exec(compile("\n" * (code.co_firstlineno - 1) + source, code.co_filename, "exec"), made)
    return compiled(made[name])


def compiled(function: Callable[..., Any]) -> Any:
    """Compile a function that joins laws; callable from Python and from other compiled code."""
    with _cache_in(cache_folder()):
        return numba.njit(cache=True, error_model="numpy")(function)


def inlined(function: Callable[..., Any]) -> Any:
    """Compile a part of a larger compiled function; it is copied to where it is called."""
    with _cache_in(cache_folder()):
        return numba.njit(cache=True, error_model="numpy", forceinline=True)(function)


def parallel(function: Callable[..., Any]) -> Any:
    """Compile a loop over many independent cases (`numba.prange`) for all cores."""
    with _cache_in(cache_folder()):
        return numba.njit(cache=True, parallel=True, error_model="numpy")(function)


@contextmanager
def threads_for(cases: int) -> Iterator[None]:
    """Around a `parallel` loop: no more threads than there are cases.

    One case needs no second thread, and on a busy machine waiting for an idle one to be given its
    turn takes ten milliseconds, hundreds of times what the case takes.
    """
    before = numba.get_num_threads()
    numba.set_num_threads(min(max(cases, 1), before))
    try:
        yield
    finally:
        numba.set_num_threads(before)


def stated_error(of: Law) -> float:
    """Relative limit (half width of a rectangle) that a law states for itself; 0 when exact.

    Read from the line ``Error: 8 %`` of the law's docstring, so that the number a reader sees
    and the number the intervals use are one.
    """
    found = re.search(r"^\s*Error:\s*(?:limit\s*)?([0-9.]+)\s*%", of.__doc__ or "", re.MULTILINE)
    return float(found.group(1)) / 100.0 if found else 0.0


@functools.cache
def source_hash() -> str:
    """Short hash of every source file whose change could change compiled code."""
    digest = hashlib.sha256()
    for package in _HASHED:
        for path in sorted((_PACKAGE / package).rglob("*.py")):
            digest.update(path.relative_to(_PACKAGE).as_posix().encode())
            digest.update(path.read_bytes())
    digest.update(numba.__version__.encode())
    return digest.hexdigest()[:16]


@functools.cache
def cache_folder() -> Path:
    """Folder for machine code: the first of the writable candidates.

    `COLDWRIGHT_CACHE` if set, else the person's cache folder; where neither can be written (a
    read-only installation and home), a private folder under the system's temporary one.
    """
    from platformdirs import user_cache_path  # needed once, and not by `--help`

    named = os.environ.get("COLDWRIGHT_CACHE")
    candidates = [Path(named)] if named else []
    candidates += [
        user_cache_path("coldwright"),
        Path(tempfile.gettempdir()) / f"coldwright-{os.getuid() if hasattr(os, 'getuid') else 0}",
    ]
    for candidate in candidates:
        folder = candidate / "compiled" / source_hash()
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryFile(dir=folder):
                return folder
        except OSError:
            continue
    return Path(tempfile.mkdtemp(prefix="coldwright-"))


def is_warm() -> bool:
    """Whether machine code of this version already lies in the cache."""
    return any(cache_folder().rglob("*.nbc"))


def _spare_blas() -> None:
    """Load the compiler's array functions without scipy's linear algebra.

    They look for it only to multiply matrices, which no law does, and it takes an eighth of a
    second to import. Where something has imported it already, nothing changes.
    """
    name = "scipy.linalg"
    if name in sys.modules:
        return
    sys.modules[name] = None  # type: ignore[assignment]  # "there is none", for a moment
    try:
        importlib.import_module("numba.np.arraymath")
    finally:
        del sys.modules[name]


_spare_blas()


@contextmanager
def _cache_in(folder: Path) -> Iterator[None]:
    # numba reads this setting when a function is decorated; other users of numba in the same
    # process must not find their caches moved, so it is put back at once.
    before = numba.config.CACHE_DIR  # type: ignore[attr-defined]  # set up when numba loads
    numba.config.CACHE_DIR = str(folder)  # type: ignore[attr-defined]
    try:
        yield
    finally:
        numba.config.CACHE_DIR = before  # type: ignore[attr-defined]
