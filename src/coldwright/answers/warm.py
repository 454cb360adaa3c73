"""Whether an answer can be computed at once, or must be compiled for this machine first."""

from __future__ import annotations

from coldwright.physics.compiled import cache_folder


def is_warm(*loops: str) -> bool:
    """Whether the solver is compiled for this machine already; else the first run takes a while.

    Any single law may lie in the cache (another command wanted it, or a first run was broken off),
    so the functions themselves are looked for: `loops` beside the steady solver's own.
    """
    kept = {path.name.partition("-")[0] for path in cache_folder().rglob("*.nbc")}
    return {"cooler.operate_one", *loops} <= kept
