"""The bar: the user's folder, or the built-in library where there is none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from functools import cached_property
from pathlib import Path
from typing import Literal

from solver.errors import BadInput
from solver.files.folders import toml_files
from solver.files.near_words import near_words
from solver.pantry.avoidable import Avoidable
from solver.pantry.bar_file import Weighed
from solver.pantry.bar_words import Stated, read_bar_words
from solver.pantry.cost_settings import Costing
from solver.pantry.defaults import Glass, load_defaults
from solver.pantry.disclosure import Disclosure, Disclosures
from solver.pantry.garnish import Garnishes
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold, slug
from solver.pantry.mentions import Mentions
from solver.pantry.pour_set import PourSet
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files
from solver.pantry.recipe import Recipe
from solver.pantry.recipe_inputs import inputs_of_all
from solver.pantry.shelf import Shelf
from solver.pantry.spec import spec_files
from solver.pantry.spec_book import SpecBook, read_book
from solver.pantry.stocked import Stocked, in_order
from solver.pantry.unit_price import Priced, UnitPrice
from solver.pantry.vessels import Vessel
from solver.printable import short
from solver.quantities import Measures
from solver.today import now, today

WATER = "water"
"""Its key: every bar has a tap."""


@dataclass(frozen=True)
class Bar:
    """House settings, stock, and where the bar's own files are.

    `stock` is what may be poured: the shelf and every house ingredient, or the whole library where
    there is no shelf; in the order of `in_order`, so that no answer depends on the order of rows.
    `recipes` are those of the house, by the key of what they make; `own` has the keys of
    everything that its files state, `house` those of it that are made here and not bought;
    `uncooked` has those of what is known by its recipe alone: it is in stock, or `expected`, which
    no design pours, and is there for specs that were written ahead. `weighed` and
    `melt_factors` are the bar's own melt by technique. `today` is the day that bottles are dated
    against, and `today_stated` says that bar.toml names it; what is `past` its last day by then is
    not in stock, nor are `past_lots`, batches of which newer ones are, nor what is `waiting`, each
    batch by itself: it is not ready yet. `root`, `profiles` and `specs` are folders; None for the
    built-in bar. `most_a_night` is how many drinks of a night there can be, by glass or technique.
    `language` is that of the papers it hands on, by its code.
    """

    name: str
    measures: Measures
    pour_set: PourSet
    currency: str
    jurisdiction: str
    library: Library
    stock: tuple[Stocked, ...]
    glasses: Mapping[str, Glass]
    weighed: Mapping[str, Weighed] = field(default_factory=dict)
    melt_factors: Mapping[str, float] = field(default_factory=dict)
    show: Literal["oz", "ml"] = "oz"
    language: str = "en"
    shelf: Shelf | None = None
    root: Path | None = None
    recipes: Mapping[str, Recipe] = field(default_factory=dict)
    house: frozenset[str] = frozenset()
    own: frozenset[str] = frozenset()
    uncooked: frozenset[str] = frozenset()
    expected: Mapping[str, Stocked] = field(default_factory=dict)
    today: date = field(default_factory=today)
    today_stated: bool = False
    past: tuple[Stocked, ...] = ()
    past_lots: tuple[Stocked, ...] = ()
    waiting: tuple[Stocked, ...] = ()
    costing: Costing = field(default_factory=Costing)
    vessels: tuple[Vessel, ...] = ()
    most_a_night: Mapping[str, int] = field(default_factory=dict)

    @property
    def now(self) -> datetime:
        """The moment from which work can be started: the clock's; of another day its first."""
        moment = now()
        if self.today_stated or moment.date() != self.today:
            return datetime.combine(self.today, time.min)
        return moment

    @property
    def profiles(self) -> Path | None:
        """The folder of the bar's own profiles; None for the built-in bar."""
        return self.root / "profiles" if self.root else None

    @property
    def specs(self) -> Path | None:
        """The folder of the bar's specs; None for the built-in bar."""
        return self.root / "specs" if self.root else None

    def glass(self, name: str) -> Glass:
        """The glass called `name`: the bar's own, else the built-in one.

        Raises:
            BadInput: there is none.
        """
        wanted = slug(name)
        if wanted not in self.glasses:
            what = f"'{short(name)}' is not a glass known here"
            remedy = f"Known: {', '.join(sorted(self.glasses))}."
            raise BadInput(what, near=near_words(wanted, self.glasses), remedy=remedy)
        return self.glasses[wanted]

    @property
    def spec_paths(self) -> Sequence[Path]:
        """The files of the bar's specs."""
        return toml_files(self.specs) if self.specs else ()

    @cached_property
    def book(self) -> SpecBook:
        """The bar's specs with what they pour; a mistake in one leaves the others as they are."""
        return read_book(self.specs, self.bottles, self.measures)

    @cached_property
    def bottles(self) -> Library:
        """Every ingredient, with the figures of the bar's own bottles where it has them."""
        rows = (*self.expected.values(), *self.waiting, *self.past, *self.stock)
        own = {stocked.ingredient.key: stocked.ingredient for stocked in rows}
        ahead = (own[key] for key in self.expected if key not in self.library)
        library = self.library.with_own(own)
        return replace(library, ingredients=(*library, *ahead))

    def happened(self, day: date | None) -> date:
        """The day on which something was done: today where none is named.

        Raises:
            BadInput: it is still to come.
        """
        if day is not None and day > self.today:
            by = ", as bar.toml says" if self.today_stated else ""
            why = f"today is {self.today.isoformat()}{by}"
            raise BadInput(f"the day {day.isoformat()} is still to come", why=why)
        return day or self.today

    @property
    def fahrenheit(self) -> bool:
        """Whether its fridges and scales tell °F."""
        return load_defaults().jurisdiction(self.jurisdiction).fahrenheit

    def composition(self, item: Ingredient) -> tuple[float, ...]:
        """What one mL (or g) of an ingredient of `bottles` holds, in the columns of the search."""
        if item.key not in self._compositions:
            self._compositions[item.key] = tuple(float(x) for x in item.composition())
        return self._compositions[item.key]

    @cached_property
    def _compositions(self) -> dict[str, tuple[float, ...]]:
        return {}

    def profile(self, name: str) -> Profile:
        """The profile called `name`, the bar's own before the built-in one; read once.

        Raises:
            BadInput, BadInputs: there is none, it inherits in a circle, or a file is wrong.
        """
        if name not in self._profiles_read:
            self._profiles_read[name] = find_profile(name, profile_files(self.profiles))
        return self._profiles_read[name]

    @cached_property
    def _profiles_read(self) -> dict[str, Profile]:
        return {}

    def has_read(self, profile: Profile) -> bool:
        """Whether that is what `profile` read: it stays the same as long as the bar does."""
        return any(profile is each for each in self._profiles_read.values())

    @cached_property
    def by_profile(self) -> dict[str, object]:
        """What a question works out of it and a profile that it has read, kept for the next."""
        return {}

    @cached_property
    def inputs(self) -> Mapping[str, tuple[str, ...]]:
        """Keys of what goes straight into what, each after those below it.

        Raises:
            BadInput, BadInputs: an input is not known, or goes into itself; with the line.
        """
        return inputs_of_all(self.library, self.recipes)

    @cached_property
    def _disclosures(self) -> Disclosures:
        rows = self.shelf.rows if self.shelf else ()
        used_up = {row.ingredient.key for row in rows if row.on_hand == 0}
        return Disclosures(self.inputs, self.bottles, self.recipes, used_up)

    def told_of(self, item: Ingredient) -> Disclosure:
        """What an ingredient is to a guest, with all that goes into it."""
        return self._disclosures.of(item)

    @cached_property
    def avoidable(self) -> Avoidable:
        """What the words of guests mean here."""
        dishes = {key: recipe.dish for key, recipe in self.recipes.items()}
        return Avoidable(self.bottles, dishes, self.own, self._disclosures)

    @cached_property
    def words(self) -> Mapping[str, Stated]:
        """The words in which a drink is asked for here.

        Raises:
            BadInput, BadInputs: the bar's file of them is wrong, with its line.
        """
        return read_bar_words(self.root)

    @cached_property
    def mentions(self) -> Mentions:
        """What garnishes and notes name here."""
        return Mentions.among(self.bottles, self._disclosures.of)

    @cached_property
    def garnishes(self) -> Garnishes:
        """What garnishes take of the shelf here."""
        return Garnishes(self.bottles)

    def with_pour_set(self, name: str) -> Bar:
        """The same bar with another set of pouring tools; amounts are shown as those are marked.

        Raises:
            BadInput: there is no such pour set.
        """
        pour_set = load_defaults().pour_set(name)
        return replace(self, pour_set=pour_set, show=pour_set.unit)

    def recipe(self, name: str) -> Recipe | None:
        """The house recipe of that key, name, alias or label; None where there is none."""
        for key, recipe in self.recipes.items():
            if fold(name) in map(fold, (key, recipe.dish.name, *recipe.dish.aliases)):
                return recipe
        key = self._labels.get(fold(name)) or self.library.house.means.get(fold(name), "")
        return self.recipes.get(key)

    @cached_property
    def _labels(self) -> Mapping[str, str]:
        """Keys of what the shelf has by the bar's own names, folded."""
        rows = self.shelf.rows if self.shelf else ()
        return {fold(row.label): row.ingredient.key for row in rows if row.label}

    def not_cooked(self, names: Iterable[str]) -> tuple[Recipe, ...]:
        """The house recipes among some names of which nothing is in a bottle yet."""
        found = (self.recipe(name) for name in names)
        return tuple(each for each in found if each and each.key not in self.library)

    @cached_property
    def written_ahead(self) -> tuple[Recipe, ...]:
        """The house recipes that specs pour, and of which nothing is in a bottle yet."""
        if all(key in self.library for key in self.recipes):
            return ()
        names = {pour.ingredient for spec in spec_files(self.specs).specs for pour in spec.pours}
        found = {recipe.key: recipe for recipe in self.not_cooked(sorted(names))}
        return tuple(found.values())

    def with_bottle(self, own: Ingredient, price_per_unit: float | None = None) -> Bar:
        """The same bar with something else in the bottle of that key, or one more bottle.

        `price_per_unit` is of one mL (or g), by its recipe; None leaves the price as it is.
        """

        def renewed(row: Stocked) -> Stocked:
            if row.ingredient.key != own.key:
                return row
            if price_per_unit is None:
                return replace(row, ingredient=own)
            cost = UnitPrice(price_per_unit, Priced.RECIPE)
            return replace(row, ingredient=own, price=None, worked_out=cost)

        stock = tuple(map(renewed, self.stock))
        past = tuple(row for row in self.past if row.ingredient.key != own.key)
        if all(row.ingredient.key != own.key for row in stock):
            fresh = self.past_row(own.key) or Stocked(own)
            stock = (*stock, renewed(replace(fresh, opened=None, dated=None)))
        library = self.library.shadowed_by([own])
        return replace(self, stock=in_order(stock), past=past, library=library)

    def with_wash_line(self, glass: str, wash_line_ml: float) -> Bar:
        """The same bar with a glass that is filled to another line.

        Raises:
            BadInput: there is no such glass.
        """
        old = self.glass(glass)
        brim = max(old.brim_high_ml, wash_line_ml)
        new = old.model_copy(update={"wash_line_ml": wash_line_ml, "brim_high_ml": brim})
        names = (name for name, each in self.glasses.items() if each is old)
        return replace(self, glasses={**self.glasses, **dict.fromkeys(names, new)})

    @property
    def listed(self) -> tuple[Stocked, ...]:
        """What the bar has, past its last day or not: the rows of its shelf as they stand there,
        each batch by itself, then the rest, but for the tap and what its fruit would give.

        Where there is no shelf, as the library lists it.
        """
        shelf = [row.ingredient.key for row in (self.shelf.rows if self.shelf else ())]
        keys = dict.fromkeys([*shelf, *(item.key for item in self.library)])
        places = {key: at for at, key in enumerate(keys)}
        tap = () if self.shelf is None or WATER in shelf else (WATER,)
        standing = (
            row if row.fruit is None else self._emptied(row) for row in (*self.stock, *self.past)
        )
        listed = [row for row in standing if row is not None and row.ingredient.key not in tap]
        aside = (*self.past_lots, *self.waiting)
        rows = [*aside, *(lot for row in listed for lot in row.lots)]
        return tuple(sorted(rows, key=lambda row: places[row.ingredient.key]))

    def _emptied(self, juice: Stocked) -> Stocked | None:
        """The row of the shelf that says that there is none of a juice which its fruit gives."""
        row = self.shelf.row(juice.ingredient.key) if self.shelf else None
        return row if row is not None and row.on_hand == 0 else None

    def with_prices(self, found: Mapping[str, UnitPrice]) -> Bar:
        """The same bar with prices, by key, of what its shelf has no price for."""

        def priced(row: Stocked) -> Stocked:
            cost = found.get(row.ingredient.key)
            return row if cost is None else replace(row, worked_out=cost)

        return replace(
            self,
            stock=in_order(map(priced, self.stock)),
            past=tuple(map(priced, self.past)),
            waiting=tuple(map(priced, self.waiting)),
        )

    def stocked(self, key: str) -> Stocked | None:
        """What the bar has of a key, past its last day and not ready too; None if nothing."""
        rows = (*self.stock, *self.past, *self.waiting)
        return next((item for item in rows if item.ingredient.key == key), None)

    def past_row(self, key: str) -> Stocked | None:
        """What the bar has of an ingredient, if all of it is past its last day; else None."""
        row = self.stocked(key)
        return row if row in self.past else None

    def waiting_row(self, key: str) -> Stocked | None:
        """The first batch to be ready of what the bar has of an ingredient, if none is yet."""
        if any(row.ingredient.key == key for row in self.stock):
            return None
        rows = [row for row in self.waiting if row.ingredient.key == key]
        return min(rows, key=lambda row: str(row.ready), default=None)
