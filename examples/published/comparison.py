"""Published numbers beside computed ones, and how a table of them is printed."""

from __future__ import annotations

import math
from dataclasses import dataclass

WORKED = "a worked example with printed answers"
FORMULA = "a published formula, its numbers worked out apart from this program"
MEASURED = "a measurement"


@dataclass(frozen=True)
class Row:
    """One number of a case.

    Parameters
    ----------
    what
        What the number is, with its unit.
    published
        The number from outside, or a band (low, high) where only one is known.
    computed
        What this program says.
    tolerance
        Largest difference that passes: relative, or absolute where `absolute` is true. A band
        has none.
    """

    what: str
    published: float | tuple[float, float]
    computed: float
    tolerance: float = 0.0
    absolute: bool = False

    @property
    def ok(self) -> bool:
        """Whether the computed number is what was published, within the tolerance."""
        if isinstance(self.published, tuple):
            low, high = self.published
            return low <= self.computed <= high
        allowed = self.tolerance if self.absolute else self.tolerance * abs(self.published)
        return abs(self.computed - self.published) <= allowed  # False for NaN

    def cells(self) -> tuple[str, str, str, str, str, str]:
        """The row as text."""
        if isinstance(self.published, tuple):
            low, high = (_number(end) for end in self.published)
            published, difference, tolerance = f"{low} to {high}", "", "in the band"
        else:
            published = _number(self.published)
            step = self.computed - self.published
            if self.absolute:
                difference, tolerance = f"{step:+.2g}", f"{self.tolerance:.2g}"
            else:
                difference = f"{100.0 * step / self.published:+.3f} %"
                tolerance = f"{100.0 * self.tolerance:.3g} %"
        said = "ok" if self.ok else "NO"
        return (self.what, published, _number(self.computed), difference, tolerance, said)


@dataclass(frozen=True)
class Case:
    """Some rows from one source."""

    title: str
    source: str
    basis: str
    rows: tuple[Row, ...]
    note: str = ""

    def span(self) -> str:
        """Tolerances of the rows in short: "0.1 to 2 %, bands"."""
        shares = sorted(
            {
                100.0 * row.tolerance
                for row in self.rows
                if not isinstance(row.published, tuple) and not row.absolute
            }
        )
        said = []
        if shares:
            ends = dict.fromkeys(f"{share:.2g}" for share in (shares[0], shares[-1]))
            said.append(" to ".join(ends) + " %")
        if any(row.absolute for row in self.rows):
            said.append("some absolute")
        if any(isinstance(row.published, tuple) for row in self.rows):
            said.append("bands" if said else "band")
        return ", ".join(said)


def show(cases: list[Case]) -> bool:
    """Print the cases as tables; whether every row passes."""
    for case in cases:
        print(f"\n{case.title}\n  from: {case.source}\n  kind: {case.basis}")
        if case.note:
            print(f"  note: {case.note}")
        heads = ("", "published", "computed", "difference", "tolerance", "ok")
        table = [heads, *(row.cells() for row in case.rows)]
        widths = [max(len(line[column]) for line in table) for column in range(len(heads))]
        for line in table:
            cells = [line[0].ljust(widths[0])]
            cells += [cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True)]
            print("  " + "  ".join(cells).rstrip())
    return all(row.ok for case in cases for row in case.rows)


def finish(cases: list[Case]) -> None:
    """Print the cases of one script and end with 1 if any row fails."""
    raise SystemExit(0 if show(cases) else 1)


def _number(value: float) -> str:
    if not math.isfinite(value) or value == 0.0:
        return f"{value:g}"
    digits = max(0, 5 - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{digits}f}" if digits <= 8 else f"{value:.4e}"
