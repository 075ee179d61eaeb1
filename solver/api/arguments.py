"""What a program may ask with: every argument is checked before anything is computed."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Sequence
from enum import Enum
from functools import wraps
from typing import Annotated, ParamSpec, TypeVar

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Field,
    InstanceOf,
    ValidationError,
    validate_call,
)

from solver.errors import BadInput, BadInputs
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.printable import short

Arguments = ParamSpec("Arguments")
Told = TypeVar("Told")
Member = TypeVar("Member", bound=Enum)

Number = Annotated[float, Field(allow_inf_nan=False)]
NotLess = Annotated[float, Field(ge=0, allow_inf_nan=False)]
"""A number that is not below nothing."""
Amount = Annotated[float, Field(gt=0, allow_inf_nan=False)]
Share = Annotated[float, Field(ge=0, le=1)]
Percent = Annotated[float, Field(ge=0, le=100)]
Count = Annotated[int, Field(ge=1)]
CountOrNone = Annotated[int, Field(ge=0)]
OpenBar = InstanceOf[Bar]
"""A bar, as `open_bar` gives it."""


_WHY = {"sequence_str": "give a list of words, not one word"}
"""What to say of some of pydantic's own mistakes."""


def _bound(value: object) -> object:
    """An aim or the ends of a limit, as given.

    Raises:
        ValueError: it is neither, or no value lies in it.
    """
    pair = value if isinstance(value, tuple) and len(value) == 2 else None
    ends = [value] if pair is None else [end for end in pair if end is not None]
    numbers = [end for end in ends if isinstance(end, int | float) and not isinstance(end, bool)]
    if len(numbers) < len(ends):
        message = "give a number, or a pair of them like (15.0, 18.0), None for an open end"
        raise ValueError(message)
    if not all(math.isfinite(number) and number >= 0 for number in numbers):
        message = "give numbers that are not below nothing"
        raise ValueError(message)
    if numbers != sorted(numbers):
        message = "the lower end comes first"
        raise ValueError(message)
    return value


Bound = Annotated[float | tuple[float | None, float | None], BeforeValidator(_bound)]
"""What is asked of a measure: an aim, or the ends of a limit."""


def member(
    kind: type[Member], name: str, called: str, *, among: Sequence[str] | None = None
) -> Member:
    """The member of an enumeration by its value; of those `among` which one may choose.

    Raises:
        BadInput: there is none; `called` says of what.
    """
    known = [str(each.value) for each in kind] if among is None else list(among)
    if name not in known:
        what = f"'{short(name)}' is not a {called} known here"
        raise BadInput(what, near=near_words(name, known), remedy=f"Known: {', '.join(known)}.")
    return kind(name)


def checked(function: Callable[Arguments, Told]) -> Callable[Arguments, Told]:
    """The function, which takes what its types say and nothing that only looks like it.

    Raises:
        BadInput, BadInputs: when it is called with something else.
        TypeError: when it is called without something that it needs, or with a name that it has
            not, as for any function.
    """
    signature = inspect.signature(function)
    config = ConfigDict(strict=True, arbitrary_types_allowed=True)
    inner = validate_call(config=config)(function)

    @wraps(function)
    def call(*args: Arguments.args, **kwargs: Arguments.kwargs) -> Told:
        signature.bind(*args, **kwargs)
        try:
            return inner(*args, **kwargs)
        except ValidationError as error:
            if error.title != function.__name__:  # of something that the function itself reads
                raise
            mistakes = _mistakes(error, signature, function.__name__)
            raise (mistakes[0] if len(mistakes) == 1 else BadInputs(mistakes)) from None

    return call


def _mistakes(error: ValidationError, signature: inspect.Signature, of: str) -> list[BadInput]:
    """One mistake for each argument that is not what it should be."""
    names = tuple(signature.parameters)
    found: dict[str, BadInput] = {}
    for each in error.errors(include_url=False, include_context=False):
        at = each["loc"][0] if each["loc"] else ""
        name = names[min(at, len(names) - 1)] if isinstance(at, int) else at
        what = f"{of} cannot take {name}={short(repr(each['input']))}"
        why = _WHY.get(each["type"]) or each["msg"].removeprefix("Value error, ")
        found.setdefault(name, BadInput(what, why=f"{why[:1].lower()}{why[1:]}"))
    return list(found.values())
