"""Guests: several requests in one file, as TOML or as one JSON object a line."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, Field, create_model

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import FieldWords, Located, Model, Text, check, gather, one_of
from solver.files.read import read_bytes
from solver.files.toml import KeyPath, read_toml
from solver.measures import GOALS, MEASURES, asked_of, compared_of
from solver.printable import short


def _listed(value: object) -> object:
    """One text is a list of one."""
    return (value,) if isinstance(value, str) else value


Texts = Annotated[tuple[Text, ...], BeforeValidator(_listed), FieldWords("text, or a list of it")]
StepCount = Annotated[
    float, Field(strict=True, allow_inf_nan=False, gt=0, le=100), FieldWords("a number")
]


class GuestFile(Model):
    """What one guest asks, in the words of the command's options.

    One without a name is called by number. `Guest` is this with a key for each measure that has an
    option, and for each option that compares.
    """

    name: Text = Field(description="Who it is, or which table.")
    profile: Text | None = Field(
        default=None, description="What sort of drink it is to be: a profile, or a spec."
    )
    with_: Annotated[Texts, Field(alias="with")] = Field(
        default=(), description="An ingredient that must be in it, or one with its pour."
    )
    without: Texts = Field(default=(), description="What they avoid, in their own words.")
    character: Texts = Field(
        default=(), description="A taste that must be there, or how loud: smoke, smoke <=0.5."
    )
    word: Texts = Field(default=(), description="A word of the bar's, like bright or autumn.")
    no_character: Texts = Field(default=(), description="A taste that must not.")
    glass: Text | None = Field(default=None, description="The glass that it must fit.")
    goal: Annotated[str, one_of(GOALS, "a goal")] | None = Field(
        default=None, description="What is best."
    )
    standard_drinks: Texts = Field(default=(), description="Of where the bar is, like <=1.")
    beyond: Texts = Field(default=(), description="Measures that may pass the profile's limits.")


if TYPE_CHECKING:
    Guest = GuestFile
else:
    Guest = create_model(
        "Guest",
        __base__=GuestFile,
        **{
            name: (Texts, Field(default=(), description=measure.help))
            for name, measure in asked_of(MEASURES.values()).items()
        },
        **{
            word: (StepCount | None, Field(default=None, description=comparison.help))
            for word, comparison in compared_of(MEASURES.values()).items()
        },
    )


@dataclass(frozen=True)
class Placed:
    """A guest, and where the file speaks of them."""

    guest: Guest
    where: Where


@dataclass(frozen=True)
class _Line:
    """A line of a file: everything in it is there."""

    place: Where

    def where(self, _: KeyPath) -> Where:
        """The line itself."""
        return self.place


def read_guests(path: Path) -> tuple[Placed, ...]:
    """The guests in a file: tables [[guests]] of a .toml file, else one JSON object a line.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    found = _in_toml(path) if path.suffix == ".toml" else _in_lines(path)
    if not found:
        what = "there is no guest in the file"
        raise BadInput(what, where=Where(path, 1), remedy="Begin each with [[guests]].")
    return found


def _in_toml(path: Path) -> tuple[Placed, ...]:
    file = read_toml(path)
    unknown = sorted(set(file.data) - {"guests"})
    tables = file.data.get("guests", [])
    if unknown or not isinstance(tables, list):
        key = unknown[0] if unknown else "guests"
        what = f"'{short(key)}' is not a list of guests"
        raise BadInput(what, where=file.where([key]), remedy="Begin each guest with [[guests]].")

    @dataclass(frozen=True)
    class Table:
        at: int

        def where(self, keys: KeyPath) -> Where:
            return file.where(["guests", self.at, *keys])

    return _checked([(table, Table(at)) for at, table in enumerate(tables)])


def _in_lines(path: Path) -> tuple[Placed, ...]:
    rows: list[tuple[Any, Located]] = []
    mistakes: list[BadInput | BadInputs] = []
    lines = read_bytes(path).decode("utf-8-sig", errors="replace").split("\n")
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        place = Where(path, number)
        try:
            rows.append((json.loads(line), _Line(place)))
        except (ValueError, RecursionError):
            what = "the line is not a JSON object"
            remedy = 'Write it like {"name": "table 4", "without": ["dairy"]}.'
            mistakes.append(BadInput(what, where=place, remedy=remedy))
    gather(mistakes)
    return _checked(rows)


def _checked(rows: list[tuple[Any, Located]]) -> tuple[Placed, ...]:
    found: list[Placed] = []
    mistakes: list[BadInput | BadInputs] = []
    for number, (data, located) in enumerate(rows, start=1):
        if not isinstance(data, dict):
            what = "a guest is not written like that"
            remedy = 'Write it like {"name": "table 4", "without": ["dairy"]}.'
            mistakes.append(BadInput(what, where=located.where([]), remedy=remedy))
            continue
        try:
            named = {"name": f"guest {number}", **data}
            found.append(Placed(check(Guest, named, located), located.where([])))
        except (BadInput, BadInputs) as error:
            mistakes.append(error)
    gather(mistakes)
    return tuple(found)
