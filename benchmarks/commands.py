"""What a person waits for: whole commands in fresh processes, the compiler's cache being warm."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

from benchmarks.table import Row

PROJECT = Path(__file__).resolve().parents[1]
VERDICT_BAR_S, HELP_BAR_S = 1.5, 0.3
_START = "from coldwright.faces.cli.app import main; main()"


def rows(repeats: int = 5) -> list[Row]:
    """Measure and tell: the median of some runs after one that may compile."""
    found = []
    for words, bar_s in (
        (("verdict", "demos/kiosk"), VERDICT_BAR_S),
        (("--help",), HELP_BAR_S),
    ):
        run(words)
        taken = [run(words) for _ in range(repeats)]
        median_s = statistics.median(taken)
        found.append(
            Row(
                f"coldwright {' '.join(words)}, warm, median of {repeats}",
                f"{median_s:.2f} s ({min(taken):.2f} to {max(taken):.2f})",
                f"under {bar_s:g} s",
                median_s < bar_s,
            )
        )
    return found


def run(words: tuple[str, ...]) -> float:
    """Time [s] of one command, from starting the interpreter to its end."""
    environment = dict(os.environ)
    # As on a person's machine: Python keeps what it has translated.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    began = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", _START, *words],
        cwd=PROJECT,
        env=environment,
        check=True,
        capture_output=True,
    )
    return time.perf_counter() - began
