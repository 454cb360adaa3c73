"""What a table of the sheet is: frozen, of known keys; and fields that hold several tables."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError

_Item = TypeVar("_Item")


class Table(BaseModel):
    """One table of the sheet: known keys only, never changed after reading."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        arbitrary_types_allowed=True,
        allow_inf_nan=False,
    )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """The schema, with what stands under each key in the source as its description.

        Read only when a schema is wanted: pydantic's own `use_attribute_docstrings` parses every
        source file at each start.
        """
        schema = handler(core_schema)
        keys = handler.resolve_ref_schema(schema).get("properties", {})
        for name, told in _docstrings(cls).items():
            if name in keys and cls.model_fields[name].description is None:
                keys[name]["description"] = told
        return schema

    def idle(self) -> frozenset[str]:
        """Names of keys whose default plays no part here, and so assumes nothing."""
        return frozenset()


def _as_list(value: object) -> object:
    return [value] if isinstance(value, dict | BaseModel) else value


class _OneOrMany:
    """Marks a field that holds one table or an array of them."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        array = handler(schema)
        return {"anyOf": [array["items"], array]}


_ONE_OR_MANY = _OneOrMany()
Many = Annotated[tuple[_Item, ...], Field(strict=False)]
OneOrMany = Annotated[
    tuple[_Item, ...], Field(strict=False, min_length=1), BeforeValidator(_as_list), _ONE_OR_MANY
]


def exactly_one(table: object, *names: str, of: str) -> None:
    """Refuse a table that gives none or several of some keys that exclude each other."""
    given = [name for name in names if getattr(table, name) is not None]
    if len(given) == 1:
        return
    raise PydanticCustomError(
        "exactly_one",
        "{of}: {given} is not exactly one of {allowed}",
        {"of": of, "given": " and ".join(given) or "none", "allowed": ", ".join(names)},
    )


def at_most_one(table: object, *names: str, of: str) -> None:
    """Refuse a table that gives several of some keys that exclude each other."""
    if sum(getattr(table, name) is not None for name in names) > 1:
        exactly_one(table, *names, of=of)


def needs(missing: str, given: str, example: str) -> PydanticCustomError:
    """The refusal of a table that gives one key without another that belongs to it."""
    return PydanticCustomError(
        "needs_key", "{needs} is missing beside {given}",
        {"needs": missing, "given": given, "example": example},
    )  # fmt: skip


def children(table: Table) -> Iterator[tuple[str, bool, Any]]:
    """Each set field of a table: its name, whether it may be one table or many, its value."""
    held = table.__dict__
    for name, one_or_many in _fields(type(table)):
        value = held.get(name)
        if value is not None:
            yield name, one_or_many, value


@cache
def _docstrings(table: type[Table]) -> dict[str, str]:
    """The text that stands under each field of a table in its source, inherited fields included."""
    found: dict[str, str] = {}
    for each in reversed(table.__mro__):
        if not (issubclass(each, Table) and each is not Table):
            continue
        (of_class,) = ast.parse(textwrap.dedent(inspect.getsource(each))).body
        assert isinstance(of_class, ast.ClassDef)
        for key, under in pairwise(of_class.body):
            match key, under:
                case (
                    ast.AnnAssign(target=ast.Name(id=name)),
                    ast.Expr(value=ast.Constant(value=str(text))),
                ):
                    found[name] = inspect.cleandoc(text)
    return found


@cache
def _fields(model: type[Table]) -> tuple[tuple[str, bool], ...]:
    return tuple(
        (name, _ONE_OR_MANY in field.metadata or _marked(field.annotation))
        for name, field in model.model_fields.items()
    )


def _marked(annotation: object) -> bool:
    if _ONE_OR_MANY in getattr(annotation, "__metadata__", ()):
        return True
    return any(_marked(part) for part in get_args(annotation) if not isinstance(part, str))
