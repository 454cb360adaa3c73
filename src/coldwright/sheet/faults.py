"""What pydantic says of a bad sheet, said to the person: findings with path, line and a way out."""

from __future__ import annotations

import types
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import Tag
from pydantic_core import ErrorDetails

from coldwright.errors import QuantityError
from coldwright.findings import Finding
from coldwright.sheet.fields import Kind
from coldwright.sheet.lines import joined, nearest_line
from coldwright.sheet.shown import printable, shown
from coldwright.sheet.tables import Table

_MOST_SHOWN = 60
_MOST_READ = 2000


def findings_of(
    errors: Iterable[ErrorDetails],
    model: type[Table],
    data: Mapping[str, Any],
    *,
    lines: dict[str, int],
    file: str,
) -> list[Finding]:
    """One finding for each fault that validation found, in the order of the file.

    Parameters
    ----------
    errors
        What ``ValidationError.errors()`` lists.
    model
        The model that was validated.
    data
        What stood in the file.
    lines, file
        Line of each key path, and the name of the file.
    """
    found = []
    for error in _without_echoes(list(errors)):
        place = _Place(model, data, error["loc"])
        maker = _MAKERS.get(error["type"], _other)
        for code, where, *sentence in maker(error, place):
            line = nearest_line(lines, where)
            given, allowed, why, action = map(printable, sentence)
            found.append(
                Finding(
                    code, "stop", printable(where), given, allowed, why, action, line, file
                )
            )  # fmt: skip
    found.sort(key=lambda one: one.line or 0)
    if len(found) > _MOST_SHOWN:
        left = len(found) - _MOST_SHOWN
        found = found[:_MOST_SHOWN]
        found.append(
            Finding(
                "CW-SHEET-08", "stop", "", f"{left} more faults are not listed", "", "",
                "mending the others first", None, file,
            )
        )  # fmt: skip
    return found


_Parts = tuple[str, str, str, str, str, str]


def _without_echoes(errors: list[ErrorDetails]) -> Iterator[ErrorDetails]:
    """Leave out lists called too short only because their entries were refused."""
    above = {error["loc"][:end] for error in errors for end in range(len(error["loc"]))}
    for error in errors[:_MOST_READ]:
        if error["type"] != "too_short" or error["loc"] not in above:
            yield error


class _Place:
    """Where a fault lies: its key path, and what the model allows there."""

    def __init__(self, model: type[Table], data: Any, loc: tuple[str | int, ...]) -> None:
        self.path = ""
        self.holder = ""
        self.key: str | int = ""
        annotation: Any = model
        held: Any = data
        self.above: Any = model
        for step in loc:
            if isinstance(step, str) and step.startswith("<") and step.endswith(">"):
                annotation = _tagged(annotation, step)
                continue
            if isinstance(step, int) and isinstance(held, dict):
                annotation = _inside(annotation)
                continue  # one table stands where an array may
            self.holder, self.key, self.above = self.path, step, annotation
            self.path = joined(self.path, step)
            if isinstance(step, int):
                annotation = _inside(annotation, step)
            else:
                annotation = _field(annotation, step)
            held = _held(held, step)
        self.annotation = annotation
        self.held = held

    def keys(self) -> list[str]:
        """Names that the table around this place knows."""
        return list(dict.fromkeys(name for table in _tables(self.above) for name in _names(table)))

    def tables_here(self) -> list[type[Table]]:
        """Kinds of table that may stand at this place."""
        return list(_tables(self.annotation))

    def words(self) -> list[str]:
        """Words that choose the kind of a table here."""
        return [tag.strip("<>") for tag in _tags(self.annotation)]

    def wanted(self) -> str:
        """What may stand here, in words."""
        ways = list(dict.fromkeys(_ways(self.annotation)))
        return " or ".join(ways[:6])


def _unknown_key(_error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    known = place.keys()
    key = str(place.key)
    likely = get_close_matches(key[:60].lower(), known, n=1, cutoff=0.6) or [
        name for name in known if len(key) > 2 and (key in name or name in key)
    ]
    # A key that another table of the sheet knows probably slipped under the wrong header.
    action = f"`{likely[0]}`" if likely else ""
    yield (
        "CW-SHEET-02", place.path, f"`{key[:60]}`", f"a known key: {', '.join(sorted(known))}",
        "", action,
    )  # fmt: skip


def _missing(_error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    if isinstance(place.key, int):
        held = f"The list ends after {place.key} value{'s' * (place.key != 1)}"
        yield "CW-SHEET-04", place.holder, f"{held}; next comes {place.wanted()}", "", "", ""
        return
    inner = _inside(place.annotation)
    is_table = bool(place.tables_here() or (inner is not None and list(_tables(inner))))
    wanted = f"a table [{place.path}]" if is_table else place.wanted()
    yield "CW-SHEET-01", place.path, "", f"`{place.key}`, {wanted}", "It is missing here", ""


def _quantity(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    fault = error.get("ctx", {}).get("error")
    if isinstance(fault, QuantityError):
        yield "CW-UNIT-01", place.path, fault.given, fault.allowed, fault.why, fault.action
    else:
        yield "CW-SHEET-04", place.path, shown(error["input"]), place.wanted(), "", ""


def _word(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    words = [str(word) for word in _literals(place.annotation)]
    yield _not_a_word(place.path, error["input"], words)


def _not_a_word(where: str, given: object, words: list[str]) -> _Parts:
    likely = []
    if isinstance(given, str):
        likely = get_close_matches(given[:60].lower(), words, n=1, cutoff=0.5)
    return "CW-SHEET-03", where, shown(given), _listed(words), "", _listed(likely)


def _choice(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    """A table whose `kind` is missing or unknown, or a value of a shape that does not fit."""
    if not isinstance(place.held, dict) or not _by_kind(place.annotation):
        wanted = place.wanted()
        if _by_kind(place.annotation):
            wanted = f"a table [{place.path}] with kind = {_listed(place.words())}"
        yield "CW-SHEET-04", place.path, shown(error["input"]), wanted, "", ""
        return
    kind = place.held.get("kind")
    words = place.words()
    where = joined(place.path, "kind")
    if kind is None:
        why = "Without it the other keys of this table mean nothing"
        yield "CW-SHEET-01", where, "", f"`kind`, {_listed(words)}", why, ""
        return
    yield _not_a_word(where, kind, words)


def _one_of(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    context = error.get("ctx", {})
    allowed = f"one of {_keys(str(context.get('allowed')).split(', '), 'or')}"
    given = str(context.get("given")).split(" and ")
    if given == ["none"]:
        yield "CW-SHEET-05", place.path, "", allowed, "", ""
    else:
        why = "The same thing would be said twice"
        both = f"The keys {_keys(given)} stand side by side"
        yield "CW-SHEET-05", place.path, both, "one of them", why, ""


def _needs(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    context = error.get("ctx", {})
    needed = str(context.get("needs"))
    # What is needed may already say its value: `stages = 2`.
    example = needed if "=" in needed else f"{needed.split(' ')[0]} = {context.get('example')}"
    yield (
        "CW-SHEET-07", place.path, "", f"{_code(needed)} beside {_code(str(context.get('given')))}",
        "One means nothing without the other", f"`{example}`",
    )  # fmt: skip


def _part(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    context = error.get("ctx", {})
    where = place.path
    if isinstance(place.held, dict):
        where = joined(where, "part" if "part" in place.held else "material")
    nearest = [str(name) for name in context.get("nearest", [])]
    group = str(context.get("group")).replace("_", " ")
    yield (
        "CW-PART-01", where, f"“{context.get('given')}”", f"a name in the library of {group}",
        "", _listed(nearest),
    )  # fmt: skip


def _said(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    """Our own validators' other messages: "<given> is not <allowed>"."""
    given, _, allowed = str(error["msg"]).partition(" is not ")
    yield "CW-SHEET-04", place.path, given, allowed, "", ""


def _bound(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    bound = str(error["msg"]).removeprefix("Input should be ")
    for theirs, ours in _BOUNDS:
        bound = bound.replace(theirs, ours)
    yield "CW-SHEET-06", place.path, shown(error["input"]), bound, "", ""


_BOUNDS = (
    ("greater than or equal to", "at least"),
    ("less than or equal to", "at most"),
    ("greater than", "more than"),
)


def _length(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    context = error.get("ctx", {})
    least, most = context.get("min_length"), context.get("max_length")
    allowed = f"at least {least}" if least is not None else f"at most {most}"
    if least is not None and least == most:
        allowed = f"{most}"
    length = context.get("actual_length")
    entries = "1 entry" if length == 1 else f"{length} entries"
    yield "CW-SHEET-06", place.path, f"The list has {entries}", allowed, "", ""


def _other(error: ErrorDetails, place: _Place) -> Iterator[_Parts]:
    wanted = place.wanted() or str(error["msg"]).removeprefix("Input should be ")
    yield "CW-SHEET-04", place.path, shown(error["input"]), wanted, "", ""


_MAKERS = {
    "extra_forbidden": _unknown_key,
    "missing": _missing,
    "value_error": _quantity,
    "literal_error": _word,
    "union_tag_invalid": _choice,
    "union_tag_not_found": _choice,
    "exactly_one": _one_of,
    "needs_key": _needs,
    "part_missing": _part,
    "clock": _said,
    "screws": _said,
    "greater_than": _bound,
    "greater_than_equal": _bound,
    "less_than": _bound,
    "less_than_equal": _bound,
    "too_short": _length,
    "too_long": _length,
    "finite_number": _bound,
}


# What a model allows at a place, read from its annotations.


def _tables(annotation: Any) -> Iterator[type[Table]]:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        yield annotation
    elif get_origin(annotation) is not tuple:
        for part in _arms(annotation):
            yield from _tables(part)


def _arms(annotation: Any) -> tuple[Any, ...]:
    """Ways of a union, or what an annotation wraps; nothing for a plain type."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return get_args(annotation)[:1]
    return get_args(annotation) if origin in (Union, types.UnionType) else ()


def _tags(annotation: Any) -> Iterator[str]:
    for mark in getattr(annotation, "__metadata__", ()):
        if isinstance(mark, Tag):
            yield mark.tag
    for part in _arms(annotation):
        yield from _tags(part)


def _by_kind(annotation: Any) -> bool:
    return any("kind" in table.model_fields for table in _tables(annotation))


def _tagged(annotation: Any, tag: str) -> Any:
    if any(isinstance(mark, Tag) and mark.tag == tag
           for mark in getattr(annotation, "__metadata__", ())):  # fmt: skip
        return annotation
    for part in _arms(annotation):
        found = _tagged(part, tag)
        if found is not None:
            return found
    return None


def _inside(annotation: Any, place: int = 0) -> Any:
    """Annotation of one entry of a list."""
    if get_origin(annotation) is tuple:
        entries = [entry for entry in get_args(annotation) if entry is not Ellipsis]
        return entries[min(place, len(entries) - 1)]
    for part in _arms(annotation):
        found = _inside(part, place)
        if found is not None:
            return found
    return None


def _field(annotation: Any, name: str | int) -> Any:
    for table in _tables(annotation):
        field = table.model_fields.get(str(name))
        if field is not None:
            inner: Any = field.annotation
            for mark in field.metadata:
                inner = Annotated[inner, mark]
            return inner
    return None


def _names(table: type[Table]) -> list[str]:
    return list(table.model_fields)


def _held(held: Any, step: str | int) -> Any:
    if isinstance(held, dict):
        return held.get(step)
    if isinstance(held, list) and isinstance(step, int) and step < len(held):
        return held[step]
    return None


def _literals(annotation: Any) -> list[Any]:
    from typing import Literal

    if get_origin(annotation) is Literal:
        return list(get_args(annotation))
    return [word for part in _arms(annotation) for word in _literals(part)]


def _ways(annotation: Any) -> Iterator[str]:
    """Each way of writing what may stand at a place, in words."""
    for mark in getattr(annotation, "__metadata__", ()):
        if isinstance(mark, Kind):
            if mark.group:
                yield f"a name in the library of {mark.group}"
            yield mark.allowed()
            return
    words = _literals(annotation) if not _arms(annotation) else []
    if words:
        yield _listed([str(word) for word in words])
    elif isinstance(annotation, type) and issubclass(annotation, Table):
        yield f"a table with {', '.join(_names(annotation)[:8])}"
    elif annotation in _PLAIN:
        yield _PLAIN[annotation]
    elif get_origin(annotation) is tuple:
        entries = [way for part in get_args(annotation)[:1] for way in _ways(part)]
        yield f"a list of {entries[0]}" if entries else "a list"
    else:
        for part in _arms(annotation):
            yield from _ways(part)


_PLAIN: dict[Any, str] = {
    str: "a text",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
}


def _code(text: str) -> str:
    """A key in backticks; a phrase that names several stands without."""
    return text if " or " in text or " (or" in text else f"`{text}`"


def _keys(names: list[str], last: str = "and") -> str:
    """Keys of the sheet in a sentence: "`a`, `b` and `c`"."""
    quoted = [f"`{name}`" for name in names]
    return f" {last} ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def _listed(words: list[str]) -> str:
    return " or ".join(f"“{word}”" for word in words)
