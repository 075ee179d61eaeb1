"""What the keys of a file's model mean, in words for whoever writes such a file."""

from __future__ import annotations

import datetime
import types
import typing
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Union

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from solver.files.checked import NOT_WRITTEN, FieldWords, Model, OneOf

_ONE_OF = "one of "
_MOST_LISTED = 8
"""Words of a closed list beyond which it is only named."""


@dataclass(frozen=True)
class KeyWords:
    """A key of a file: what it may hold, what it is without a line, and what it says.

    `default` is empty where nothing is taken for it.
    """

    name: str
    holds: str
    required: bool
    default: str
    says: str


def keys_of(model: type[Model], leave_out: Sequence[str] = ()) -> tuple[KeyWords, ...]:
    """The keys of a table, in the order of its model; without tables within, and `leave_out`."""
    return tuple(
        KeyWords(
            name=field.alias or name,
            holds=_told_by(field.metadata) or _in_words(field.annotation),
            required=field.is_required(),
            default=_default(field),
            says=field.description or "",
        )
        for name, field in model.model_fields.items()
        if name not in (*leave_out, *NOT_WRITTEN)
    )


def _default(field: FieldInfo) -> str:
    value = None if field.is_required() else field.get_default(call_default_factory=True)
    return f"{value}" if isinstance(value, str | int | float) and value != "" else ""


def _in_words(annotation: Any) -> str:
    """What a value of this type is, in a person's words."""
    origin, inside = typing.get_origin(annotation), typing.get_args(annotation)
    if origin is Annotated:
        return _told_by(inside[1:]) or _in_words(inside[0])
    if origin in (Union, types.UnionType):
        return _in_words(next(each for each in inside if each is not type(None)))
    if origin is Literal:
        return " or ".join(map(str, inside))
    if origin is tuple and Ellipsis not in inside:
        return f"a pair of {_several(_in_words(inside[0]))}"
    if origin in (tuple, frozenset):
        each = _in_words(inside[0])
        out_of = each.removeprefix(_ONE_OF)
        return f"a list out of {out_of}" if out_of != each else f"a list of {_several(each)}"
    if origin is not None and issubclass(origin, Mapping):
        name, each = _in_words(inside[0]), _in_words(inside[1])
        if name == _PLAIN[str]:
            return f"a table of {_several(each)}"
        return f"{each} for each {_bare(name)}"
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return "a table"
    return _PLAIN[annotation]


def _several(said: str) -> str:
    """The plural of what a value is in words: "an amount, like 30 ml" is amounts, like 30 ml."""
    what, comma, rest = said.partition(",")
    first, of, last = _bare(what).partition(" of ")
    return f"{first}s{of}{last}{comma}{rest}"


def _bare(said: str) -> str:
    """Without its article."""
    return said.removeprefix("a ").removeprefix("an ")


_PLAIN = {
    str: "text",
    bool: "true or false",
    int: "a whole number",
    float: "a number",
    datetime.date: "a date without quotes, like 2026-03-31",
}


def _told_by(markers: Sequence[object]) -> str:
    """What stands beside a type says in words, the last first; nothing where it only checks."""
    return next(filter(None, map(_told, reversed(markers))), "")


def _told(marker: object) -> str:
    if isinstance(marker, FieldWords):
        return marker.text
    if isinstance(marker, OneOf):
        listed = marker.words if len(marker.words) <= _MOST_LISTED else ()
        return f"{_ONE_OF}{', '.join(listed)}" if listed else marker.article
    return ""
