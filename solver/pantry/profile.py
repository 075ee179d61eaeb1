"""Profiles: the targets that drinks are designed to, with inheritance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import AfterValidator, Field, model_validator

from solver.errors import BadInput, BadInputs, Where
from solver.measures import MEASURES
from solver.pantry import vocabulary as words
from solver.pantry.checked import Model, Text, gather, mistake, one_of, short
from solver.pantry.ingredient import Basis, Ingredient, Tool
from solver.pantry.toml_file import KeyPath, read_toml
from solver.quantities import Measures, PourSpan, parse, parse_pour_span, parse_span

Technique = Annotated[str, one_of(words.TECHNIQUES, "a technique")]
Stage = Annotated[str, one_of(words.STAGES, "a stage")]
MeasureName = Annotated[str, one_of(MEASURES, "a measure")]
PartKind = Annotated[str, one_of([*words.KINDS, *words.KIND_FAMILIES], "a kind")]


def _ordered(count: tuple[int, int]) -> tuple[int, int]:
    if count[0] > count[1]:
        raise mistake("the least comes first, then the most", remedy="For example: count = [0, 1].")
    return count


_Count = Annotated[int, Field(strict=True, ge=0, le=20)]


class Part(Model):
    """A place in a profile that ingredients fill; `each` and `total` are pours as written."""

    name: Text
    kinds: tuple[PartKind, ...] = ()
    ingredients: tuple[Text, ...] = ()
    not_kinds: tuple[PartKind, ...] = ()
    not_ingredients: tuple[Text, ...] = ()
    count: Annotated[tuple[_Count, _Count], AfterValidator(_ordered)]
    each: Text | None = None
    total: Text | None = None
    tool: Tool | None = None
    stage: Stage = "first"

    @model_validator(mode="after")
    def _fillable(self) -> Self:
        if self.count[1] and not (self.kinds or self.ingredients):
            raise mistake("it names neither kinds nor ingredients", remedy='kinds = ["spirit"]')
        if self.count[1] and self.each is None:
            raise mistake("'each' is missing", remedy='For example: each = "3/4..2 oz".')
        return self

    def accepts(self, ingredient: Ingredient) -> bool:
        """Whether `ingredient` may fill this part."""
        if any(ingredient.answers_to(text) for text in self.not_ingredients):
            return False
        if any(ingredient.answers_to(text) for text in self.ingredients):
            return True
        return any(map(ingredient.is_kind, self.kinds)) and not any(
            map(ingredient.is_kind, self.not_kinds)
        )

    def resolve(self, measures: Measures) -> PartPours:
        """The pours of this part as numbers.

        Raises:
            BadInput: a pour can't be read, or `total` is in another unit than `each`.
        """
        each = parse_pour_span(self.each or "0 ml", measures)
        total = parse_pour_span(self.total, measures) if self.total else None
        if total and total.unit is not each.unit:
            what = f"the part {self.name} is measured in {each.unit}, its total in {total.unit}"
            raise BadInput(what, remedy="Give both in the same kind of unit.")
        return PartPours(each, total)


@dataclass(frozen=True)
class PartPours:
    """How much of one ingredient fills a part, and how much of all of them together."""

    each: PourSpan
    total: PourSpan | None


class Target(Model):
    """What a file says about one measure, as written."""

    measure: MeasureName
    text: Text


class ProfileSource(Model):
    """Where a profile's numbers come from."""

    basis: Basis
    text: Text


@dataclass(frozen=True)
class TargetValue:
    """An aim or a tolerance in the unit of its measure."""

    measure: str
    value: float


@dataclass(frozen=True)
class TargetRange:
    """A limit in the unit of its measure; either side may be open."""

    measure: str
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Targets:
    """Everything that a profile asks of the finished drink, as numbers."""

    aims: tuple[TargetValue, ...]
    limits: tuple[TargetRange, ...]
    tolerances: tuple[TargetValue, ...]


class Profile(Model):
    """A target for a drink. `origin` lists its own file first, then those it inherits from."""

    name: Text
    says: Text
    inherits: Text | None = None
    technique: Technique
    glass: Text | None = None
    parts: tuple[Part, ...]
    aims: tuple[Target, ...] = ()
    limits: tuple[Target, ...] = ()
    tolerances: tuple[Target, ...] = ()
    source: ProfileSource
    origin: tuple[Path, ...] = ()

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
        raise BadInput(what, near=words.near_words(name, names), remedy=remedy)

    def part_pours(self, part: Part, measures: Measures) -> PartPours:
        """As `Part.resolve`, with the line of a mistake.

        Raises:
            BadInput: a pour can't be read.
        """
        try:
            return part.resolve(measures)
        except BadInput as error:
            raise error.at(self.where(["parts", part.name, "each"])) from None

    def targets(self, measures: Measures, currency: str = "") -> Targets:
        """What the profile asks of the finished drink, as numbers in the units of the measures.

        Raises:
            BadInput, BadInputs: everything that can't be read, with its line.
        """
        mistakes: list[BadInput | BadInputs] = []

        def read(table: str, target: Target) -> TargetRange | None:
            quantity = MEASURES[target.measure].quantity
            try:
                if table == "limits":
                    span = parse_span(target.text, quantity, measures, currency=currency)
                    if span.aim is None:
                        return TargetRange(target.measure, span.low, span.high)
                    return TargetRange(target.measure, span.aim, span.aim)
                value = parse(target.text, quantity, measures, currency=currency)
                return TargetRange(target.measure, value, value)
            except BadInput as error:
                mistakes.append(error.at(self.where([table, target.measure])))
                return None

        aims = [found for t in self.aims if (found := read("aims", t))]
        limits = [found for t in self.limits if (found := read("limits", t))]
        tolerances = [found for t in self.tolerances if (found := read("tolerances", t))]
        gather(mistakes)
        return Targets(_values(aims), tuple(limits), _values(tolerances))

    def where(self, keys: KeyPath) -> Where | None:
        """The line that says what `keys` lead to: in its own file, or the one it comes from."""
        for path in self.origin:
            file = read_toml(path)
            table: Any = file.data
            for key in keys:
                table = table.get(key) if isinstance(table, Mapping) else None
            if table is not None:
                return file.where(keys)
        return Where(self.origin[0]) if self.origin else None


def _values(ranges: Sequence[TargetRange]) -> tuple[TargetValue, ...]:
    return tuple(TargetValue(item.measure, item.low) for item in ranges if item.low is not None)
