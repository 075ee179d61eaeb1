"""House recipes: what goes in, what is done to it, and what was measured when it came out.

A recipe stands in the file of its ingredient:

    [rhubarb-syrup.recipe.inputs]         an ingredient and its amount, by weight or volume
    [[rhubarb-syrup.recipe.steps]]        what is done, in order
    [rhubarb-syrup.recipe.measured]       weight, volume, Brix of what came out
    [rhubarb-syrup.recipe.accuracy]       how well they were measured, if not as usual
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, Self

from pydantic import Field, model_validator

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import Key, Model, Prose, Text, check, gather, mistake, one_of
from solver.files.toml import KeyPath, TomlText, read_toml
from solver.pantry import vocabulary as words
from solver.pantry.ingredient import Allergen, Animal, Character, Declaration, Kind
from solver.pantry.library import is_stated
from solver.pantry.text_types import Amount, Brix, Temperature, Time, Weight
from solver.printable import short

_NEEDS = {
    "add": ("ingredient", "amount"),
    "fortify": ("ingredient", "amount"),
    "strain": ("through",),
}
_TAKES = {
    "add": ("ingredient", "amount"),
    "fortify": ("ingredient", "amount"),
    "simmer": ("time", "lost"),
    "steep": ("time",),
    "cool": (),
    "strain": ("through", "left"),
    "fine-filter": ("left",),
}


class RecipeStep(Model):
    """One step, as written.

    `lost` is the steam by weight; `left` the wet weight of what stayed in the strainer.
    """

    do: Annotated[str, one_of(words.STEPS, "a step")] = Field(description="What is done.")
    ingredient: Text | None = Field(default=None, description="Of add and fortify: what goes in.")
    amount: Amount | None = Field(default=None, description="Of add and fortify: how much of it.")
    time: Time | None = Field(default=None, description="Of simmer and steep: how long.")
    lost: Weight | None = Field(
        default=None, description="Of simmer: what went off as steam, weighed."
    )
    through: Annotated[str, one_of(words.STRAINERS, "a strainer")] | None = Field(
        default=None, description="Of strain: what it runs through."
    )
    left: Weight | None = Field(
        default=None, description="Of strain and fine-filter: what stayed behind, weighed wet."
    )
    note: Prose | None = Field(default=None, description="Anything worth remembering.")

    @model_validator(mode="after")
    def _complete(self) -> Self:
        for name in _NEEDS.get(self.do, ()):
            if getattr(self, name) is None:
                raise mistake(f"{self.do} needs '{name}'", key="do")
        for name in ("ingredient", "amount", "time", "lost", "through", "left"):
            if getattr(self, name) is not None and name not in _TAKES[self.do]:
                raise mistake(f"{self.do} has no '{name}'", key=name)
        if self.do == "simmer" and self.time is None and self.lost is None:
            remedy = 'Give time = "20 min", or what steamed off: lost = "120 g".'
            raise mistake("how long it simmers is missing", remedy=remedy, key="do")
        return self


class MeasuredTable(Model):
    """What was measured of what came out, as written, and its temperature then.

    A volume or a Brix without a temperature is one at 20 °C; a refractometer may correct itself.
    """

    weight: Weight | None = Field(default=None, description="What came out, weighed.")
    volume: Amount | None = Field(default=None, description="What came out, in a measuring jug.")
    volume_at: Temperature | None = Field(
        default=None, description="How warm it was then; 20 C without it."
    )
    brix: Brix | None = Field(default=None, description="What a refractometer or hydrometer says.")
    brix_at: Temperature | None = Field(
        default=None, description="How warm it was then; 20 C without it."
    )

    @model_validator(mode="after")
    def _placed(self) -> Self:
        for name in ("volume", "brix"):
            if getattr(self, f"{name}_at") is not None and getattr(self, name) is None:
                raise mistake("the temperature of no reading", key=f"{name}_at")
        return self


class Accuracy(Model):
    """How far measurements may be off, as written: one standard deviation."""

    weight: Weight | None = Field(default=None, description="How far the scale may be off.")
    volume: Amount | None = Field(default=None, description="How far the jug may be off.")
    brix: Brix | None = Field(default=None, description="How far the refractometer may be off.")


class RecipeTable(Model):
    """What the table `recipe` may hold."""

    made: date | None = Field(default=None, description="The day of the last batch.")
    inputs: Mapping[Text, Amount] = Field(
        description='What goes in: an ingredient and its amount, like water = "500 g".'
    )
    steps: tuple[RecipeStep, ...] = Field(default=(), description="What is done to it, in order.")
    measured: MeasuredTable = Field(
        default=MeasuredTable(), description="What was measured of what came out."
    )
    accuracy: Accuracy = Field(
        default=Accuracy(), description="How well it was measured, if not as usual."
    )

    @property
    def strains(self) -> bool:
        """Whether something is drawn and strained off."""
        return any(step.do in ("strain", "fine-filter") for step in self.steps)

    @model_validator(mode="after")
    def _something(self) -> Self:
        if not self.inputs:
            raise mistake("nothing goes in", key="inputs")
        return self


class Dish(Model):
    """What a house file says of a thing that it has a recipe for, other than the recipe.

    What a guest is told is what the recipe's inputs, and what it is `made_of` beside them, do not
    tell.
    """

    key: Key
    name: Text = Field(description='What it is called, like name = "rhubarb syrup".')
    aliases: tuple[Text, ...] = Field(default=(), description="Other names that it answers to.")
    kind: Kind = Field(
        description="What sort of thing it is, which profiles go by, like syrup/fruit."
    )
    character: tuple[Character, ...] = Field(default=(), description="What it tastes of.")
    allergens: frozenset[Allergen] = Field(
        default=frozenset(), description="Allergens that do not come with what goes in."
    )
    may_contain: frozenset[Allergen] = Field(
        default=frozenset(), description="Allergens that it may hold beside those of what goes in."
    )
    animal: frozenset[Animal] = Field(
        default=frozenset(), description="What of it comes from animals beside what goes in."
    )
    may_animal: frozenset[Animal] = Field(
        default=frozenset(), description="What of it may come from animals beside what goes in."
    )
    made_of: tuple[Text, ...] = Field(
        default=(), description="What it is made of beside the recipe's inputs."
    )
    declare: frozenset[Declaration] = Field(
        default=frozenset(),
        description="What a guest must be told that does not come with what goes in.",
    )
    cautions: tuple[Text, ...] = Field(
        default=(), description="What may hurt whoever drinks it, said with every drink."
    )
    kitchen_cautions: tuple[Text, ...] = Field(
        default=(), description="What may hurt whoever cooks it or keeps it; on no drink."
    )


@dataclass(frozen=True)
class Recipe:
    """A house recipe: what it makes, and how.

    `stated` says whether its file also states the figures of what is in the bottle now.
    """

    dish: Dish
    table: RecipeTable
    file: TomlText
    stated: bool

    @property
    def key(self) -> str:
        """The key of what it makes."""
        return self.dish.key

    def where(self, keys: KeyPath) -> Where:
        """The line that says what `keys` lead to within the table `recipe`."""
        return self.file.where([self.key, "recipe", *keys])

    def named(self) -> Iterable[tuple[KeyPath, str, str]]:
        """Every ingredient that goes in: where it is written, its name, its amount."""
        for name, amount in self.table.inputs.items():
            yield ["inputs", name], name, amount
        for index, step in enumerate(self.table.steps):
            if step.ingredient is not None and step.amount is not None:
                yield ["steps", index, "ingredient"], step.ingredient, step.amount


def read_recipes(paths: Sequence[Path]) -> dict[str, Recipe]:
    """The recipes of some house files by key, in their order.

    Raises:
        BadInput, BadInputs: everything that is wrong with them, each with file and line.
    """
    found: dict[str, Recipe] = {}
    mistakes: list[BadInput | BadInputs] = []
    for path in paths:
        file = read_toml(path)
        for key, table in file.data.items():
            if not (isinstance(table, Mapping) and "recipe" in table):
                continue
            try:
                found[key] = read_recipe(key, file)
            except (BadInput, BadInputs) as error:
                mistakes.append(error)
    gather(mistakes)
    return found


def read_recipe(key: str, file: TomlText) -> Recipe:
    """The recipe in the table `key` of `file`.

    Raises:
        BadInput, BadInputs: what is wrong with it, with its line.
    """
    table = file.data[key]
    if not isinstance(table["recipe"], Mapping):
        what = f"the recipe of '{short(key)}' is not a table"
        remedy = f"It begins with [{short(key)}.recipe.inputs]."
        raise BadInput(what, where=file.where([key, "recipe"]), remedy=remedy)
    recipe = check(RecipeTable, table["recipe"], file, [key, "recipe"])
    own = {name: table[name] for name in Dish.model_fields if name in table}
    dish = check(Dish, own | {"key": key}, file, [key])
    return Recipe(dish, recipe, file, stated=is_stated(table))
