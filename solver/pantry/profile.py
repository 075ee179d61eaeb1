"""Profiles: the targets that drinks are designed to, with inheritance."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated, Self, TypeVar

from pydantic import AfterValidator, Field, model_validator

from solver.errors import BadInput, Where
from solver.files.checked import FileReading, Model, Text, mistake, one_of
from solver.files.near_words import near_words
from solver.files.toml import KeyPath, TomlText, read_toml
from solver.pantry import vocabulary as words
from solver.pantry.ingredient import Ingredient, Tool
from solver.pantry.profile_sources import MovedParts, ProfileSource, UsualSource
from solver.pantry.targets import ProfileTargets, Target, TargetBand, TargetRange, TargetValue
from solver.pantry.text_types import Amount, AmountSpan, PartKind
from solver.printable import short
from solver.quantities import (
    Measures,
    PourSpan,
    Unit,
    WrittenAmount,
    parse_pour,
    parse_pour_span,
)

Got = TypeVar("Got")

WHOLE = ("usual", "usual_count")
"""Tables that replace those of an inherited profile: shares of other drinks would be no shares of
these."""

TechniqueName = Annotated[str, one_of(words.TECHNIQUE_NAMES, "a technique")]
Stage = Annotated[str, one_of(words.STAGES, "a stage")]


def _ordered(count: tuple[int, int]) -> tuple[int, int]:
    if count[0] > count[1]:
        raise mistake("the least comes first, then the most", remedy="For example: count = [0, 1].")
    return count


_Count = Annotated[int, Field(strict=True, ge=0, le=20)]


def _shares(table: Mapping[str, float]) -> Mapping[str, float]:
    if sum(table.values()) > 1 + 1e-9:
        what = f"the shares add up to {sum(table.values()):g}"
        remedy = "Make them 1 at most: what is not named shares what is left."
        raise mistake(what, why="they are shares of the same drinks", remedy=remedy)
    return table


def _whole(table: Mapping[str, float]) -> Mapping[str, float]:
    for key in table:
        if not key.isdecimal() or not key.isascii():
            what = f"'{short(key)}' is not how many"
            raise mistake(what, key=key, remedy="For example: usual_count = { 0 = 0.8, 1 = 0.2 }.")
    return table


@cache
def _is_of(kind: str, any_of: tuple[str, ...], none_of: tuple[str, ...]) -> bool:
    """Whether a kind is within some of the first and none of the second; asked of whole libraries,
    which have few kinds."""
    within = (words.kind_within(kind, each) for each in none_of)
    return any(words.kind_within(kind, each) for each in any_of) and not any(within)


_Share = Annotated[float, Field(strict=True, allow_inf_nan=False, gt=0, le=1)]
_Shares = Annotated[Mapping[Text, _Share], AfterValidator(_shares)]


class Part(Model):
    """A place in a profile that ingredients fill; `each` and `total` are pours as written.

    `usual` says of the drinks of this profile which share of them fill the part with an ingredient
    or a kind, `usual_count` which share with so many, and `usual_pour` how much of one. Where it is
    `instead_of` another part, only one of the two is filled.
    """

    name: Text
    kinds: tuple[PartKind, ...] = Field(
        default=(), description="Kinds, or whole families of them, that may fill the part."
    )
    ingredients: tuple[Text, ...] = Field(
        default=(), description="Ingredients that may fill it, whatever their kind."
    )
    not_kinds: tuple[PartKind, ...] = Field(default=(), description="Kinds that may not.")
    not_ingredients: tuple[Text, ...] = Field(default=(), description="Ingredients that may not.")
    count: Annotated[tuple[_Count, _Count], AfterValidator(_ordered)] = Field(
        description="How many ingredients fill it, the least and the most, like count = [0, 1]."
    )
    each: AmountSpan | None = Field(
        default=None, description='How much of each, like each = "3/4..2 oz".'
    )
    total: AmountSpan | None = Field(default=None, description="How much of all of them together.")
    tool: Tool | None = Field(default=None, description="How they are measured, if not as usual.")
    stage: Stage = Field(default="first", description="When they are poured.")
    usual: _Shares = Field(
        default_factory=dict,
        description="Which share of such drinks fill it with an ingredient or a kind.",
    )
    usual_count: Annotated[_Shares, AfterValidator(_whole)] = Field(
        default_factory=dict, description="Which share of such drinks fill it with so many."
    )
    usual_pour: Amount | None = Field(default=None, description="How much of one is usual.")
    instead_of: Text | None = Field(
        default=None, description="Another part, which is then left empty."
    )

    @model_validator(mode="after")
    def _fillable(self) -> Self:
        if self.count[1] and not (self.kinds or self.ingredients):
            raise mistake(
                "it names neither kinds nor ingredients", remedy='For example: kinds = ["spirit"].'
            )
        if self.count[1] and self.each is None:
            raise mistake("'each' is missing", remedy='For example: each = "3/4..2 oz".')
        return self

    def accepts(self, ingredient: Ingredient) -> bool:
        """Whether `ingredient` may fill this part."""
        named = ingredient.answers_to_any
        of_kind = _is_of(ingredient.kind, self.kinds, self.not_kinds)
        return (of_kind or named(self.ingredients)) and not named(self.not_ingredients)

    def each_pour(self, measures: Measures) -> PourSpan:
        """The pour of one ingredient; of nothing where the part is left out.

        Raises:
            BadInput: it can't be read.
        """
        return parse_pour_span(self.each or "0 ml", measures)

    def total_pour(self, measures: Measures) -> PourSpan | None:
        """The pours of all of them together, where the file says.

        Raises:
            BadInput: it can't be read.
        """
        return parse_pour_span(self.total, measures) if self.total else None

    def usual_amount(self, measures: Measures) -> WrittenAmount | None:
        """How much of one ingredient is usual, where the file says.

        Raises:
            BadInput: it can't be read.
        """
        return parse_pour(self.usual_pour, measures) if self.usual_pour else None


@dataclass(frozen=True)
class PartPours:
    """How much of one ingredient fills a part, of all of them together, and what is usual of one.

    `usual` is in the unit of `each`.
    """

    each: PourSpan
    total: PourSpan | None
    usual: float | None = None


class Profile(Model):
    """A target for a drink. `origin` lists its own file first, then those it inherits from.

    `equal` are parts of which every pour is as large as every other, `usual` says where what is
    usual in its parts comes from, `moves` what of such a drink moves when it is poured anew: by its
    kind, where it is None.
    """

    name: Text = Field(description="What it is called, as its file is.")
    aliases: tuple[Text, ...] = Field(
        default=(), description='Other names that it answers to, like aliases = ["mule"].'
    )
    says: Text = Field(description="What sort of drink it is, in a few words.")
    inherits: Text | None = Field(
        default=None,
        description="Another profile, whose tables hold wherever this one says nothing.",
    )
    only_longer: bool = Field(
        default=False,
        description="Whether such a drink is made of a shorter one where somebody asks for that, "
        "and offered nowhere else.",
    )
    longer: Text | None = Field(
        default=None,
        description="Another profile, which such a drink is where somebody asks for it longer.",
    )
    technique: TechniqueName = Field(description="How such drinks are made.")
    glass: Text | None = Field(
        default=None, description="What they are served in; without it, in any."
    )
    garnish: Text | None = Field(default=None, description="What goes on them.")
    garnishes: Mapping[Text, Text] = Field(
        default_factory=dict,
        description="What goes on them by what is in them, an ingredient or a kind, like "
        '{ lime-juice = "lime wheel" }; the first that is poured says it.',
    )
    parts: tuple[Part, ...] = Field(description="What they are made of.")
    aims: tuple[Target, ...] = Field(
        default=(), description="What the finished drink should come to."
    )
    limits: tuple[Target, ...] = Field(default=(), description="What it must keep within.")
    tolerances: tuple[Target, ...] = Field(
        default=(),
        description="One noticeable difference of a measure, where it is not the usual one.",
    )
    equal: tuple[Text, ...] = Field(
        default=(), description="Parts of which every pour is as large as every other."
    )
    source: ProfileSource = Field(description="Where its numbers are from.")
    usual: UsualSource | None = Field(
        default=None, description="Where what is usual in its parts is from."
    )
    moves: MovedParts | None = Field(
        default=None, description="Which parts are poured otherwise first, and which never."
    )
    origin: tuple[Path, ...] = ()

    @model_validator(mode="after")
    def _equal_parts_are_parts(self) -> Self:
        self._check_parts(self.equal, "the equal part", "equal")
        filled = any(part.count[0] for part in self.parts if part.name in self.equal)
        if self.equal and not filled:
            remedy = "Name one part that is always filled."
            raise mistake("all of the equal parts may be empty", key="equal", remedy=remedy)
        return self

    def _check_parts(self, named: Sequence[str], which: str, key: str) -> None:
        names = [part.name for part in self.parts]
        for name in named:
            if name not in names:
                what = f"{which} '{short(name)}' is no part here"
                near = near_words(name, names)
                raise mistake(what, key=key, near=near, remedy=f"Parts: {', '.join(names)}.")

    @model_validator(mode="after")
    def _moving_parts_are_parts(self) -> Self:
        if self.moves is not None:
            self._check_parts(self.moves.first, "what moves first:", "moves")
            self._check_parts(self.moves.never, "what never moves:", "moves")
        return self

    @model_validator(mode="after")
    def _says_what_is_usual(self) -> Self:
        names = [part.name for part in self.parts]
        for part in self.parts:
            stated = part.usual or part.usual_count or part.usual_pour
            if stated and self.usual is None:
                what = f"nothing says where the usual {part.name} is from"
                remedy = 'Write [usual], with basis = "practice" and text = "…".'
                raise mistake(what, key="usual", remedy=remedy)
            if part.instead_of is not None and part.instead_of not in names:
                what = f"{part.name} is poured instead of '{short(part.instead_of)}', no part here"
                near = near_words(part.instead_of, names)
                raise mistake(what, key="parts", near=near, remedy=f"Parts: {', '.join(names)}.")
        return self

    @property
    def of_spec(self) -> bool:
        """Whether it is that of a single spec: what the bar holds one drink to."""
        return False

    def part(self, name: str) -> Part:
        """The part called `name`.

        Raises:
            BadInput: there is none.
        """
        for part in self.parts:
            if part.name == name:
                return part
        names = [part.name for part in self.parts]
        what = f"the profile {self.name} has no part '{short(name)}'"
        remedy = f"Its parts: {', '.join(names)}."
        raise BadInput(what, near=near_words(name, names), remedy=remedy)

    def part_pours(self, part: Part, measures: Measures) -> PartPours:
        """The pours of a part as numbers.

        Raises:
            BadInput, BadInputs: a pour can't be read, or `total` is in another unit than `each`;
                with the line.
        """
        reading = FileReading(self)
        none = PourSpan(0.0, 0.0, Unit.ML, "")
        keys = ["parts", part.name]
        each = reading.take([*keys, "each"], none, part.each_pour, measures)
        total = reading.take([*keys, "total"], None, part.total_pour, measures)
        if total and total.unit is not each.unit and each is not none:
            what = f"the pours of {part.name} are in {each.unit}, their total in {total.unit}"
            remedy = "Give both in the same kind of unit."
            reading.refuse([*keys, "total"], BadInput(what, remedy=remedy))
        usual = reading.take([*keys, "usual_pour"], None, part.usual_amount, measures)
        if usual and usual.unit is not each.unit:
            what = f"the pours of {part.name} are in {each.unit}, the usual one in {usual.unit}"
            remedy = "Give both in the same kind of unit."
            reading.refuse([*keys, "usual_pour"], BadInput(what, remedy=remedy))
        reading.finish()
        return PartPours(each, total, usual.value if usual else None)

    def targets(self, measures: Measures, currency: str = "") -> ProfileTargets:
        """What the profile asks of the finished drink, as numbers in the units of the measures.

        Raises:
            BadInput, BadInputs: everything that can't be read, with its line.
        """
        reading = FileReading(self)

        def take(table: str, target: Target, usual: Got, read: Callable[..., Got]) -> Got:
            return reading.take([table, target.measure], usual, read, measures, currency)

        aims = tuple(take("aims", t, TargetBand(t.measure, 1.0, 1.0), t.band) for t in self.aims)
        tolerances = tuple(
            TargetValue(t.measure, take("tolerances", t, 1.0, t.tolerance)) for t in self.tolerances
        )
        limits = tuple(
            reading.take(
                ["limits", t.measure],
                TargetRange(t.measure, None, None),
                t.range,
                measures,
                currency,
            )
            for t in self.limits
        )
        reading.finish()
        return ProfileTargets(aims, limits, tolerances)

    def garnish_on(self, poured: Collection[Ingredient]) -> str | None:
        """What goes on a drink of these ingredients; None if nothing usually does."""
        for word, garnish in self.garnishes.items():
            if any(item.answers_to(word) or item.is_kind(word) for item in poured):
                return garnish
        return self.garnish

    def where(self, keys: KeyPath) -> Where:
        """The line that says what `keys` lead to: in its own file, or the one it comes from."""
        return where_in([read_toml(path) for path in self.origin], keys)


def where_in(files: Sequence[TomlText], keys: KeyPath) -> Where:
    """The line of `keys` in the first of `files` that gives them, else in the first file.

    What lies in a `WHOLE` table is given, or missing, in the first file that has the table.
    """
    for file in files:
        table: object = file.data
        for key in keys:
            table = table.get(key) if isinstance(table, Mapping) else None
            if table is None or key in WHOLE:
                break
        if table is not None:
            return file.where(keys)
    return files[0].where(keys) if files else Where("a profile")
