"""Models that check what a file says, and turn what is wrong into sentences with a line."""

from __future__ import annotations

import re
import typing
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, ParamSpec, Protocol, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from solver.errors import BadInput, BadInputs, Where
from solver.files.near_words import near_words
from solver.files.toml import KeyPath
from solver.printable import short


class Model(BaseModel):
    """Base of everything that is read from a file: frozen, and unknown keys are mistakes."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", str_strip_whitespace=True, defer_build=True
    )


Checked = TypeVar("Checked", bound=Model)


class Located(Protocol):
    """Something that knows where its keys are written."""

    def where(self, keys: KeyPath) -> Where:
        """The line of the key that `keys` lead to, or of the nearest table around it."""


@dataclass(frozen=True)
class FieldWords:
    """What a value is in a person's words, for whoever fills in a file."""

    text: str


Number = Annotated[
    float, Field(strict=True, allow_inf_nan=False, ge=0, le=1e9), FieldWords("a number")
]
"""A number that measures something: finite, never below zero."""


def mistake(
    what: str, *, key: str = "", why: str = "", remedy: str = "", near: Sequence[str] = ()
) -> PydanticCustomError:
    """The error for a validator to raise; its words reach the user as they are.

    `key` is the key within the checked table that is to blame, where the validator knows it.
    """
    said = {"what": what, "why": why, "remedy": remedy, "near": tuple(near), "key": key}
    return PydanticCustomError("mistake", "{what}", said)


@dataclass(frozen=True)
class OneOf(AfterValidator):
    """A validator that accepts only one of `words`; `article` names what it is ("a kind")."""

    words: tuple[str, ...] = ()
    article: str = ""


def one_of(words: Iterable[str], article: str, listed_as: str = "words") -> OneOf:
    """As `OneOf`, which suggests the nearest of the words: by meaning, else by letters.

    A mapping to text tells in a line what each of them means. `listed_as` is what `help` lists
    them under.
    """
    known = tuple(words)
    items = words.items() if isinstance(words, Mapping) else ()
    says = {word: meaning for word, meaning in items if isinstance(meaning, str)}

    def check(word: str) -> str:
        if word not in known:
            near = _meaning(word, says) or near_words(word, known)
            listed = "" if near else f"See `equipour help {listed_as}`."
            listed = f"Use one of: {', '.join(known)}." if len(known) <= 14 else listed
            what = f"'{short(word)}' is not {article}"
            raise mistake(what, remedy=listed, near=near)
        return word

    return OneOf(check, known, article)


def _meaning(word: str, says: Mapping[str, str]) -> tuple[str, ...]:
    """Up to three words whose meaning names `word`: cinnamon is one of the warm spices."""
    asked = word.lower().strip()
    found = (key for key, meaning in says.items() if asked in re.findall(r"[\w-]+", meaning))
    return tuple(found)[:3]


def _prose(value: str) -> str:
    if not value:
        raise mistake("the text is empty")
    if not value.isprintable() and any(not c.isprintable() and c not in "\n\t" for c in value):
        raise mistake("the text holds a character that cannot be printed")
    return value


def _on_one_line(value: str) -> str:
    return value if value.isprintable() else " ".join(value.split())


Prose = Annotated[str, AfterValidator(_prose), FieldWords("text, on any number of lines")]
"""Text that says something and can be printed, on as many lines as it likes."""

Text = Annotated[Prose, AfterValidator(_on_one_line), FieldWords("text")]
"""Such text on one line: broken in a file, it is still one name."""


def _key(value: str) -> str:
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", value) or len(value) > 60:
        suggestion = "-".join(re.findall(r"[a-z0-9]+", value.lower()))[:60]
        what = f"'{short(value)}' is not a key"
        raise mistake(
            what,
            why="keys are lower-case words joined with hyphens",
            remedy=f"Write it like {suggestion}." if suggestion else "Write it like rye-whiskey.",
        )
    return value


Key = Annotated[str, AfterValidator(_key), FieldWords("words joined with hyphens")]
"""A name in lower-case words joined with hyphens."""


_MOST_MISTAKES = 100
"""Mistakes in one table beyond which nobody mends them one by one."""


def check(
    model: type[Checked],
    data: Mapping[str, Any],
    file: Located,
    keys: KeyPath = (),
    finish: Callable[[dict[str, Any]], dict[str, Any]] | None = None,
) -> Checked:
    """`data`, found under `keys` in `file`, as a `model`.

    `finish` brings the table into the model's shape; it may raise `BadInput`.

    Raises:
        BadInputs: everything that is wrong with it, each with its line.
    """
    try:
        table = dict(data)
        return model.model_validate(finish(table) if finish else table)
    except BadInput as error:
        raise BadInputs([error.at(error.where or file.where(keys))]) from None
    except ValidationError as error:
        items = error.errors(include_url=False, include_input=False)[:_MOST_MISTAKES]
        raise BadInputs([as_bad_input(item, model, file, keys) for item in items]) from None


def as_bad_input(item: ErrorDetails, model: type[Model], file: Located, keys: KeyPath) -> BadInput:
    """One error of the checking library in our words, placed on its line."""
    place = [step for step in item["loc"] if step != "value"]
    if item["type"] == "mistake" and item["ctx"]["key"]:
        place.append(item["ctx"]["key"])
    where = file.where([*keys, *place])
    # People count pours from one.
    steps = [str(s + 1) if isinstance(s, int) else short(s, 30) for s in (*keys, *place)]
    name = ".".join(steps) or "the table"
    if item["type"] == "mistake":
        said = item["ctx"]
        what = f"{name}: {said['what']}" if steps else str(said["what"])
        return BadInput(
            what, where=where, why=said["why"], remedy=said["remedy"], near=said["near"]
        )
    if item["type"] == "extra_forbidden":
        known = _fields_at(model, place[:-1])
        near = near_words(str(place[-1]), known) if place else ()
        return BadInput(
            f"'{name}' is not a key known here",
            where=where,
            near=near,
            remedy=f"Known here: {', '.join(known)}." if known and not near else "",
        )
    described = item["type"] in _DESCRIBED
    remedy = _description(model, place) if described else ""
    return BadInput(f"{name} {_reason(item)}", where=where, remedy=remedy)


_REASONS = {
    "missing": "is missing",
    "string_type": "must be text in quotes",
    "float_type": "must be a number without quotes",
    "int_type": "must be a whole number without quotes",
    "int_from_float": "must be a whole number",
    "finite_number": "must be a finite number",
    "bool_type": "must be true or false",
    "date_type": "must be a date without quotes, like 2026-03-31",
    "tuple_type": "must be a list in [ ]",
    "list_type": "must be a list in [ ]",
    "frozen_set_type": "must be a list in [ ]",
    "mapping_type": "must be a table in { }",
    "dict_type": "must be a table in { }",
    "too_short": "has too few entries",
    "too_long": "has too many entries",
    "model_type": "must be a table in { }",
    "model_attributes_type": "must be a table in { }",
}


_DESCRIBED = ("missing", "model_type", "model_attributes_type")
"""Mistakes after which it helps to be told what the key holds."""


def _description(model: type[Model], place: Sequence[str | int]) -> str:
    """What the key at `place` within `model` holds, where the model says so."""
    found: type[BaseModel] = model
    for step in place[:-1]:
        field = found.model_fields.get(str(step))
        found = (model_in(field.annotation) if field else None) or found
    field = found.model_fields.get(str(place[-1])) if place else None
    return (field.description if field else None) or ""


def _reason(item: ErrorDetails) -> str:
    context = item.get("ctx", {})
    if item["type"] == "greater_than_equal":
        return f"must be at least {context['ge']:g}"
    if item["type"] == "less_than_equal":
        return f"must be at most {context['le']:g}"
    message = item["msg"]
    return _REASONS.get(item["type"], f"is not right: {message[:1].lower()}{message[1:]}")


NOT_WRITTEN = ("key", "origin", "version", "value")
"""Fields that no file gives."""


def _fields_at(model: type[Model], place: Sequence[str | int]) -> list[str]:
    """The keys that the table at `place` within `model` may have."""
    found: type[BaseModel] = model
    for step in place:
        field = found.model_fields.get(str(step))
        inner = model_in(field.annotation) if field else None
        if inner is None and isinstance(step, str) and field is None:
            return []
        found = inner or found
    return [name for name in found.model_fields if name not in NOT_WRITTEN]


def model_in(annotation: object) -> type[BaseModel] | None:
    """The model that a value of this type holds, however deep; None where it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next(filter(None, map(model_in, typing.get_args(annotation))), None)


Read = TypeVar("Read")
Args = ParamSpec("Args")


class FileReading:
    """Reads values out of one file, and collects what is wrong with them, each with its line."""

    def __init__(self, file: Located) -> None:
        """`file` knows the lines."""
        self._file = file
        self._mistakes: list[BadInput | BadInputs] = []

    def take(
        self,
        keys: KeyPath,
        instead: Read,
        read: Callable[Args, Read],
        *args: Args.args,
        **kwargs: Args.kwargs,
    ) -> Read:
        """What `read` makes of its arguments, written under `keys`; `instead` where it refuses."""
        try:
            return read(*args, **kwargs)
        except BadInput as error:
            self._mistakes.append(error.at(self._file.where(keys)))
        except BadInputs as error:
            self._mistakes.append(error)
        return instead

    def refuse(self, keys: KeyPath, error: BadInput) -> None:
        """Note a mistake in what is written under `keys`."""
        self._mistakes.append(error.at(self._file.where(keys)))

    def finish(self) -> None:
        """Raise what was collected, if anything was.

        Raises:
            BadInput, BadInputs: one mistake, or all of them together.
        """
        gather(self._mistakes)


def gather(mistakes: Sequence[BadInput | BadInputs]) -> None:
    """Raise what was collected, if anything was.

    Raises:
        BadInput, BadInputs: one mistake, or all of them together.
    """
    flat: list[BadInput] = []
    for error in mistakes:
        flat.extend(error.errors if isinstance(error, BadInputs) else [error])
    if len(flat) == 1:
        raise flat[0]
    if flat:
        raise BadInputs(flat)
