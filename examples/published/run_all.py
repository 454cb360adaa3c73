"""Print every comparison of published with computed numbers; end with 1 if any row fails."""

from __future__ import annotations

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


if __name__ == "__main__":
    found = cases()
    all_ok = show(found)
    rows = [row for case in found for row in case.rows]
    print(f"\n{sum(row.ok for row in rows)} of {len(rows)} rows in {len(found)} cases are ok")
    raise SystemExit(0 if all_ok else 1)
