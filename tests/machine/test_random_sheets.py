"""Two thousand random sheets as text: read, solved with a closed ledger, or refused cleanly."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from coldwright.answers.design import Design
from coldwright.errors import ColdwrightError, NoSolution, SheetInvalid
from coldwright.findings import CATALOGUE
from coldwright.machine.ledger import ALLOWED
from coldwright.sheet.file import read_text
from tests.machine.sheet_texts import random_sheet

SHEETS = 2000


def follow(seed):
    """What becomes of one sheet: the class of its end. Anything but our own errors escapes."""
    try:
        design = Design(read_text(random_sheet(seed), f"{seed}.toml"), tries=0, seed=1)
        point = design.solve(with_place=design.enclosed)
    except ColdwrightError as error:
        return refused(error)
    assert np.max(point.book.relative_residual()) <= ALLOWED
    for name in ("plug_power_W", "pumped_W", "cooling_W", "heat_rejected_W", "hot_face_K"):
        assert np.isfinite(point.nominal[name]), name
    for finding in design.findings(point):
        assert finding.code in CATALOGUE
        assert finding.sentence()
    return "solved"


def refused(error):
    """Refused for a physical reason, or for what stands in the sheet; never by a failed solve."""
    assert str(error)
    if isinstance(error, NoSolution):
        assert error.code in CATALOGUE
        assert "should not happen" not in error.reason
    else:
        assert isinstance(error, SheetInvalid), error
        assert error.findings
    return type(error).__name__


@pytest.mark.slow
@pytest.mark.published("first law of thermodynamics; conservation of mass")
@pytest.mark.parametrize("part", range(4))
def test_two_thousand_sheets_are_solved_or_refused(part):
    ends = Counter(follow(seed) for seed in range(part, SHEETS, 4))
    assert ends.total() == SHEETS / 4
    # They are such as people write: most must have an answer.
    assert ends["solved"] > 0.7 * ends.total()
    assert set(ends) <= {"solved", "NoSolution", "SheetInvalid"}


def test_the_same_seed_writes_the_same_sheet():
    assert random_sheet(7) == random_sheet(7)
    assert random_sheet(7) != random_sheet(8)


def test_the_sheets_show_every_shape():
    texts = [random_sheet(seed) for seed in range(300)]
    for piece in (
        'kind = "room"', 'kind = "box"', 'kind = "open_air"', 'kind = "plate"',
        'kind = "plate_fin"', 'kind = "table"', 'kind = "resistance"', 'kind = "water_loop"',
        "legs =", "ratings =", "properties =", "part =", "stages = 2", "own supply",
        "chopped", "pumped", "module_power", "module_current", "[[cooler.modules]]",
        "[[cooler.cold_sink]]", "[cooler.hot_duct]", "[power.converter]", "[[power.wire]]",
        "recirculation", "onto the hot sink", "stays in the place", "degF", "CFM", "animals",
    ):  # fmt: skip
        assert sum(piece in text for text in texts) >= 5, piece
