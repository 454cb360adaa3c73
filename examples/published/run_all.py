"""Print every comparison of published with computed numbers; end with 1 if any row fails.

With ``--page FILE`` the overview for the documentation is written instead.
"""

from __future__ import annotations

import sys
from pathlib import Path

import exhaust_from_a_room
import in_time
import measured_coolers
import moist_air
import one_module
import ratings_and_legs
import sinks_and_fins
import tested_modules
import whole_cooler
from comparison import Case, show
from not_compared import NOT_COMPARED

FILES = (
    one_module,
    ratings_and_legs,
    tested_modules,
    sinks_and_fins,
    moist_air,
    whole_cooler,
    exhaust_from_a_room,
    in_time,
    measured_coolers,
)


def cases() -> list[Case]:
    """The cases of all files, in the order in which heat meets them."""
    return [case for file in FILES for case in file.cases()]


def page(found: list[Case]) -> str:
    """The overview in Markdown: what is compared, how closely, and what could not be."""
    lines = [
        "# Published cases",
        "",
        "<!-- Made by examples/published/run_all.py; changes here are overwritten. -->",
        "",
        "`python examples/published/run_all.py` prints each row: published, computed, difference, "
        "tolerance. The tests run the same rows. *A worked example* has printed answers; *a "
        "published formula* has numbers that were worked out apart from this program, by hand or "
        "with general libraries.",
        "",
        "## Compared",
        "",
        "| case | source | kind | rows | tolerance | result |",
        "|---|---|---|---|---|---|",
    ]
    for case in found:
        result = "all ok" if all(row.ok for row in case.rows) else "**fails**"
        cells = (case.title, case.source, case.basis, str(len(case.rows)), case.span(), result)
        lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    lines += ["", "## Not compared", "", "| case | source | why not |", "|---|---|---|"]
    lines += ["| " + " | ".join(row) + " |" for row in NOT_COMPARED]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    found = cases()
    if sys.argv[1:2] == ["--page"]:
        Path(sys.argv[2]).write_text(page(found), encoding="utf-8")
        raise SystemExit(0)
    all_ok = show(found)
    rows = [row for case in found for row in case.rows]
    print(f"\n{sum(row.ok for row in rows)} of {len(rows)} rows in {len(found)} cases are ok")
    raise SystemExit(0 if all_ok else 1)
