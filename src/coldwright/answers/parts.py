"""What stands in the parts library: every row with what it says and where that comes from."""

from __future__ import annotations

from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from coldwright.answers.value import in_ordinary_spaces
from coldwright.findings import Finding
from coldwright.sheet.library import GROUPS, library


@dataclass(frozen=True, slots=True)
class Row:
    """One part: `values` holds what the library's file says, in the words of the design sheet."""

    group: str
    name: str
    values: dict[str, Any]
    aliases: list[str]
    source: str


@dataclass(frozen=True, slots=True)
class Inputs:
    """Which rows are asked for: of one group, and holding a text in name, values or source."""

    group: str = ""
    find: str = ""


@dataclass(frozen=True, slots=True)
class Parts:
    """The rows that fit, by group in the order of their files; `counts` holds all groups."""

    group: str
    find: str
    rows: list[Row]
    counts: dict[str, int]
    nearest: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    @property
    def known_group(self) -> bool:
        """Whether the group that was asked for exists (or none was asked for)."""
        return not self.group or self.group in self.counts

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """Plain data: one object per row, values as they stand in the library."""
        return {
            "parts": [
                {
                    "group": row.group,
                    "name": row.name,
                    "values": row.values,
                    "aliases": row.aliases,
                    "source": row.source,
                }
                for row in self.rows
            ],
            "groups": self.counts,
            "nearest": self.nearest,
        }


def run(inputs: Inputs) -> Parts:
    """List the parts library, or what of it fits; a group may be named in the singular."""
    books = library()
    counts = {group: len(books.names(group)) for group in GROUPS}
    asked = inputs.group.strip().casefold().replace("-", "_").replace(" ", "_")
    group = next((one for one in GROUPS if asked and asked in (one, _singular(one))), asked)
    if group and group not in counts:
        near = get_close_matches(group[:80], GROUPS, n=3, cutoff=0.4)
        return Parts(inputs.group.strip(), inputs.find, [], counts, near)
    wanted = inputs.find.casefold().split()
    rows = []
    for one in [group] if group else GROUPS:
        for name in books.names(one):
            row = books.row(one, name)
            aliases = [str(alias) for alias in row.get("aliases", ())]
            found = Row(one, name, books.part(one, name), aliases, books.source(one, name))
            if all(word in _text(found) for word in wanted):
                rows.append(found)
    return Parts(group, inputs.find, rows, counts)


def _singular(group: str) -> str:
    return "activity" if group == "activities" else group.removesuffix("s")


def _text(row: Row) -> str:
    return f"{row.group} {row.name} {row.aliases} {row.values} {row.source}".casefold()
