"""Run every benchmark and print the table: ``python -m benchmarks``."""

from __future__ import annotations

import argparse
import os
import platform
import sys
from datetime import UTC, datetime
from pathlib import Path

from benchmarks import commands, in_time, kernel, search
from benchmarks.table import Row, table


def main() -> int:
    """Measure, print, and tell by the exit code whether every bar is met."""
    options = _options()
    print(_where(), flush=True)
    rows: list[Row] = []
    if "point" in options.only:
        rows += kernel.rows(options.cases, options.plain, options.compiled)
    if "time" in options.only:
        rows += in_time.rows()
    if "search" in options.only:
        rows += search.rows(options.designs)
    if "commands" in options.only:
        rows += commands.rows()
    print(table(rows))
    return 0 if all(row.met is not False for row in rows) else 1


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("--cases", type=int, default=1_000_000, help="operating points to solve")
    parser.add_argument("--plain", type=int, default=300, help="of them by the plain root finder")
    parser.add_argument("--compiled", type=int, default=3000, help="of them with a compiled one")
    parser.add_argument("--designs", type=int, default=100_000, help="designs to search")
    parser.add_argument(
        "--only",
        nargs="+",
        choices=("point", "time", "search", "commands"),
        default=("point", "time", "search", "commands"),
        help="which benchmarks to run",
    )
    return parser.parse_args()


def _where() -> str:
    """The machine and the moment, which every number depends on."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    loads = ", ".join(f"{load:.1f}" for load in os.getloadavg())
    return (
        f"{datetime.now(UTC):%Y-%m-%d %H:%M} UTC, Python {platform.python_version()}, "
        f"{platform.system()} {platform.machine()}, {_processor()}, {cores} cores; "
        f"load before: {loads}"
    )


def _processor() -> str:
    listing = Path("/proc/cpuinfo")
    if listing.exists():
        for line in listing.read_text().splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    return platform.processor() or "unknown processor"


if __name__ == "__main__":
    sys.exit(main())
