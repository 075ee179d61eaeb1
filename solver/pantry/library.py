"""The ingredient library: every ingredient by key, name or alias."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.errors import BadInput, BadInputs
from solver.files.checked import check, gather
from solver.files.folders import toml_files
from solver.files.toml import TomlText, read_toml
from solver.pantry.folders import data_folder
from solver.pantry.house_names import HouseNames
from solver.pantry.ingredient import Ingredient
from solver.pantry.ingredient_table import shape_ingredient
from solver.pantry.pieces import Pieces
from solver.pantry.word_forms import plain_spellings
from solver.printable import short
from solver.quantities import WrittenAmount

if TYPE_CHECKING:
    from solver.pantry.naming import Guesses

BY_KIND = "Ingredients are named by kind, not by brand"
"""What somebody is told whose name for a bottle nobody knows."""
CLOSE = 0.8
"""How alike a name is that is suggested: less would take amaro for potato."""


@dataclass(frozen=True)
class Library:
    """Ingredients in a fixed order; earlier ones answer first to a name they share with others.

    `house` are names that mean what the house makes, whatever else is called so.
    """

    ingredients: tuple[Ingredient, ...]
    house: HouseNames = field(default_factory=HouseNames)

    @cached_property
    def _by_name(self) -> Mapping[str, Ingredient]:
        """Every key, then every name, then every alias: a key always means itself.

        Made when it is first asked for: most libraries are only steps on the way to a bar's.
        """
        if not self.house.means:
            return self._unhoused
        index = dict(self._unhoused)
        for name, key in self.house.means.items():
            own = self._by_key.get(key)
            if own is not None:
                index[name] = own
            else:
                index.pop(name, None)  # nothing of it is in a bottle yet, and nothing else is meant
        return index

    @cached_property
    def _unhoused(self) -> Mapping[str, Ingredient]:
        """What names mean whatever the house makes."""
        backwards = self.ingredients[::-1]  # of equal names the last one stays
        index = {fold(alias): item for item in backwards for alias in item.aliases}
        index |= {fold(item.name): item for item in backwards}
        return {**index, **self._by_key}

    @cached_property
    def _by_key(self) -> Mapping[str, Ingredient]:
        return {ingredient.key: ingredient for ingredient in reversed(self.ingredients)}

    def by_key(self, key: str) -> Ingredient | None:
        """The ingredient of that key, whatever the house calls so; None if there is none."""
        return self._by_key.get(key)

    def __iter__(self) -> Iterator[Ingredient]:
        """Every ingredient, in order."""
        return iter(self.ingredients)

    def __len__(self) -> int:
        """How many there are."""
        return len(self.ingredients)

    def __contains__(self, text: str) -> bool:
        """Whether `find` would find `text`."""
        return self.get(text) is not None

    def get(self, text: str) -> Ingredient | None:
        """The ingredient of that key, name or alias; None where there is none.

        Hyphens may stand for the spaces of a name, as in the keys of a file, and plain letters for
        those with an umlaut or accent where nothing else is called so.
        """
        said = fold(text)
        spaced = fold(said.replace("-", " "))
        return self._by_name.get(said) or self._by_name.get(spaced) or self._spelt(said, spaced)

    def _spelt(self, *said: str) -> Ingredient | None:
        """The only ingredient with a name that is one of these in plain letters."""
        spellings = {plain for text in said for plain in plain_spellings(text)}
        found = [self._by_plain[plain] for plain in spellings if plain in self._by_plain]
        found += [self._by_name[plain] for plain in spellings if plain in self._by_name]
        return found[0] if len({item.key for item in found}) == 1 else None

    @cached_property
    def _by_plain(self) -> Mapping[str, Ingredient]:
        """Ingredients by the plain spellings of names with umlauts or accents, if only one's."""
        found: dict[str, dict[str, Ingredient]] = {}
        for name, item in self._by_name.items():
            for plain in () if name.isascii() else plain_spellings(name):
                found.setdefault(plain, {})[item.key] = item
        return {plain: next(iter(of.values())) for plain, of in found.items() if len(of) == 1}

    def find(self, text: str) -> Ingredient:
        """The ingredient of that key, name or alias, whatever its case; else by its name in
        another language.

        Raises:
            BadInput: there is none; with the names nearest to it.
        """
        found = self.get(text)
        if found is None:
            from solver.pantry.other_words import in_english  # only a few names need it

            english = in_english(text)
            found = None if english is None else self.get(english)
        if found is None:
            raise self.unknown(text)
        return found

    def said(self, text: str) -> Ingredient:
        """As `find`, of what somebody types: a name that may mean two things is refused.

        Raises:
            BadInput: there is none, or the house makes one of that name beside a bought one.
        """
        self.refuse_either(text)
        return self.find(text)

    def refuse_either(self, text: str) -> None:
        """Refuse a name that may mean what the house makes and what it bought.

        Raises:
            BadInput: it may.
        """
        house, bought = self.house.either.get(fold(text), ("", ""))
        if house:
            what = f"'{short(text)}' is two things here: {house} of the house, and the bought one"
            remedy = f"Say {house}, or {self.house.bought_as(bought)}."
            raise BadInput(what, remedy=remedy)

    def unknown(self, text: str) -> BadInput:
        """The mistake of a name that no ingredient has, with the names nearest to it."""
        recipe = self.house.means.get(fold(text)) or self.house.means.get(
            fold(text.replace("-", " "))
        )
        if recipe is not None:
            what = f"nothing of {short(text)} is in a bottle yet"
            remedy = f"Cook it, and run `equipour prep {recipe} --stock`."
            return BadInput(what, why="the house has only its recipe", remedy=remedy)
        what = f"'{short(text)}' is not an ingredient known here"
        if nearest := self._guesses.nearest(text):
            keys = " or ".join(item.key for item in nearest)
            return BadInput(what, remedy=f"What comes nearest is {keys}.")
        near = self.near(text)
        remedy = "" if near and self._guesses.knows_all_of(text) else self._by_kind(text)
        return BadInput(what, near=near, remedy=remedy)

    def _by_kind(self, text: str) -> str:
        """How to find what somebody calls by a brand."""
        kind = f" {said}" if (said := self._guesses.kind_in(text)) else ""
        return f"{BY_KIND}: `equipour ingredients{kind}` lists what there is."

    def listed_as(self, text: str) -> tuple[Ingredient, ...]:
        """The ingredients of a kind, or of a family of kinds.

        Empty if `text` is neither, or is the key or name of one of them.
        """
        kind, one = fold(text), self.get(text)
        if one is not None and kind in (one.key, fold(one.name)):
            return ()
        return tuple(
            item for item in self.ingredients if item.is_kind(kind) or kind in item.kind.split("/")
        )

    def near(self, text: str) -> tuple[str, ...]:
        """Keys of up to three ingredients that `text` may mean, likeliest first.

        By its words; where those tell nothing, by its letters.
        """
        if nearest := self._guesses.nearest(text):
            return tuple(item.key for item in nearest)
        asked = fold(text)[:60]
        guessed = [item.key for item in self._guesses.of(asked)]
        close = (
            () if guessed else difflib.get_close_matches(asked, self._by_name, n=6, cutoff=CLOSE)
        )
        return tuple(dict.fromkeys([*guessed, *(self._by_name[name].key for name in close)]))[:3]

    @cached_property
    def pieces(self) -> Pieces:
        """What of it is counted, and what one of each weighs."""
        return Pieces(self)

    def units(self, item: Ingredient, pour: WrittenAmount, example: str = "") -> float:
        """An amount as it is kept, in the own unit of `item`; "3 sticks" by what one weighs.

        Raises:
            BadInput: it cannot be measured that way; an `example` is what can.
        """
        each = self.pieces.one(item, pour) if pour.cut else None
        if each is not None:
            return pour.value * each.value
        return item.kept_units(pour, example) if example else item.kept_units(pour)

    @cached_property
    def _guesses(self) -> Guesses:
        from solver.pantry.naming import Guesses

        return Guesses(self.ingredients)

    def shadowed_by(self, own: Iterable[Ingredient]) -> Library:
        """The library with the ingredients `own` before it, in place of those of the same key."""
        first = tuple(own)
        if not first:
            return self
        keys = {ingredient.key for ingredient in first}
        rest = (item for item in self.ingredients if item.key not in keys)
        return replace(self, ingredients=(*first, *rest))

    def without(self, keys: Collection[str]) -> Library:
        """The library without what has some keys."""
        if not keys:
            return self
        return replace(self, ingredients=tuple(i for i in self.ingredients if i.key not in keys))

    def in_house(self, house: HouseNames) -> Library:
        """The same ingredients where some names mean what the house makes."""
        other = replace(self, house=house)
        # Thousands of names take longer than most of what else a bar is loaded from.
        vars(other)["_by_key"], vars(other)["_unhoused"] = self._by_key, self._unhoused
        return other

    def with_own(self, own: Mapping[str, Ingredient]) -> Library:
        """The library in the same order, with `own` in place of those of the same key."""
        if not own:
            return self
        return replace(self, ingredients=tuple(own.get(i.key, i) for i in self.ingredients))


@lru_cache(maxsize=8192)
def fold(text: str) -> str:
    """A name as it is compared: case and spacing don't count.

    Every bar that is loaded asks it of every name that there is, several times.
    """
    return " ".join(text.casefold().split())


def slug(text: str) -> str:
    """A name as the name of a file or a key: "Rope Store" is rope-store."""
    return "-".join(fold(text).split())


@cache
def load_library() -> Library:
    """The built-in library.

    Raises:
        BadInput, BadInputs: a file is wrong; with the line.
    """
    return Library(read_ingredients(toml_files(data_folder("ingredients"))))


def read_ingredients(paths: Sequence[Path]) -> tuple[Ingredient, ...]:
    """The ingredients of some files, in their order.

    Raises:
        BadInput, BadInputs: everything that is wrong with them, each with file and line.
    """
    found: list[Ingredient] = []
    mistakes: list[BadInput | BadInputs] = []
    named: dict[str, str] = {}
    for path in paths:
        try:
            file = read_toml(path)
        except BadInput as error:
            mistakes.append(error)
            continue
        if stray := [key for key in file.data if key in Ingredient.model_fields]:
            # Its header is lost, and everything below it would be complained about in vain.
            what = f"'{short(stray[0])}' stands outside any ingredient"
            remedy = "An ingredient begins with its key in brackets, like [rye-whiskey]."
            mistakes.append(BadInput(what, where=file.where(stray[:1]), remedy=remedy))
            continue
        for key, table in file.data.items():
            if isinstance(table, dict) and "recipe" in table and not is_stated(table):
                continue  # nothing of it is in a bottle yet
            try:
                ingredient = read_ingredient(key, file)
                _claim_names(ingredient, named, file)
                found.append(ingredient)
            except (BadInput, BadInputs) as error:
                mistakes.append(error)
    gather(mistakes)
    return tuple(found)


def read_ingredient(key: str, file: TomlText) -> Ingredient:
    """The ingredient in the table `key` of `file`.

    Raises:
        BadInput, BadInputs: what is wrong with it, with its line.
    """
    table = file.data[key]
    if not isinstance(table, dict):
        what = f"'{short(key)}' is not a table"
        remedy = "An ingredient begins with its key in brackets, like [rye-whiskey]."
        raise BadInput(what, where=file.where([key]), remedy=remedy)
    own = {"key": key, "origin": file.path}
    table = {name: value for name, value in table.items() if name != "recipe"}
    return check(Ingredient, table, file, [key], lambda data: shape_ingredient(data) | own)


def is_stated(table: Mapping[str, object]) -> bool:
    """Whether a table of a house file states what is in the bottle, beside any recipe for it."""
    return any(name in table for name in STATED)


STATED = ("abv", "sugar", "acid", "life")
"""Figures of something in a bottle."""


def _claim_names(ingredient: Ingredient, named: dict[str, str], file: TomlText) -> None:
    """Note whose the names of `ingredient` are; two ingredients of one folder share none."""
    names = {fold(text) for text in (ingredient.key, ingredient.name, *ingredient.aliases)}
    for name in sorted(names):
        if name in named:
            what = f"'{short(name)}' already names {named[name]}"
            remedy = "Rename one of them."
            raise BadInput(what, where=file.where([ingredient.key]), remedy=remedy)
    named.update(dict.fromkeys(names, ingredient.key))
