"""The bar: the user's folder, or the built-in library where there is none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Literal

from solver.errors import BadInput
from solver.pantry.bar_file import Weighed, read_bar_file
from solver.pantry.checked import short
from solver.pantry.defaults import Glass, load_defaults
from solver.pantry.folders import toml_files
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold, load_library, read_ingredients
from solver.pantry.pour_set import PourSet
from solver.pantry.recipe import Recipe, read_recipes
from solver.pantry.recipe_inputs import with_inputs
from solver.pantry.shelf import Shelf, Stocked, in_order, read_shelf
from solver.pantry.vocabulary import near_words
from solver.quantities import Measures

__all__ = ["Bar", "Weighed", "load_bar"]


@dataclass(frozen=True)
class Bar:
    """House settings, stock, and where the bar's own files are.

    `stock` is what may be poured: the shelf and every house ingredient, or the whole library where
    there is no shelf; in the order of `in_order`, so that no answer depends on the order of rows.
    `recipes` are those of the house, by the key of what they make. `weighed` and `melt_factors` are
    the bar's own melt by technique. `root`, `profiles` and `specs` are folders; None for the
    built-in bar.
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
    shelf: Shelf | None = None
    root: Path | None = None
    recipes: Mapping[str, Recipe] = field(default_factory=dict)

    @property
    def profiles(self) -> Path | None:
        """The folder of the bar's own profiles."""
        return self.root / "profiles" if self.root else None

    @property
    def specs(self) -> Path | None:
        """The folder of the bar's specs."""
        return self.root / "specs" if self.root else None

    def glass(self, name: str) -> Glass:
        """The glass called `name`: the bar's own, else the built-in one.

        Raises:
            BadInput: there is none.
        """
        wanted = "-".join(name.casefold().split())
        if wanted not in self.glasses:
            what = f"'{short(name)}' is not a glass known here"
            remedy = f"Known: {', '.join(sorted(self.glasses))}."
            raise BadInput(what, near=near_words(wanted, self.glasses), remedy=remedy)
        return self.glasses[wanted]

    @cached_property
    def bottles(self) -> Library:
        """Every ingredient, with the figures of the bar's own bottles where it has them."""
        own = {stocked.ingredient.key: stocked.ingredient for stocked in self.stock}
        return Library(tuple(own.get(item.key, item) for item in self.library))

    def with_pour_set(self, name: str) -> Bar:
        """The same bar with another set of pouring tools; amounts are shown as those are marked.

        Raises:
            BadInput: there is no such pour set.
        """
        pour_set = load_defaults().pour_set(name)
        return replace(self, pour_set=pour_set, show=pour_set.unit)

    def recipe(self, name: str) -> Recipe | None:
        """The house recipe of that key, name or alias; None where there is none."""
        for key, recipe in self.recipes.items():
            if fold(name) in map(fold, (key, recipe.dish.name, *recipe.dish.aliases)):
                return recipe
        return None

    def with_bottle(self, own: Ingredient, price_per_unit: float | None = None) -> Bar:
        """The same bar with something else in the bottle of that key, or one more bottle.

        `price_per_unit` is of one mL (or g); None leaves the price as it is.
        """

        def renewed(row: Stocked) -> Stocked:
            if row.ingredient.key != own.key:
                return row
            if price_per_unit is None or not row.bottle:
                return replace(row, ingredient=own)
            return replace(row, ingredient=own, price=price_per_unit * row.bottle)

        stock = tuple(map(renewed, self.stock))
        if self.stocked(own.key) is None:
            stock = (*stock, Stocked(own))
        return replace(self, stock=in_order(stock), library=self.library.shadowed_by([own]))

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
        """The stock as the bar lists it: the rows of its shelf as they stand there, then the rest.

        Where there is no shelf, as the library lists it.
        """
        rows = [row.ingredient.key for row in (self.shelf.rows if self.shelf else ())]
        keys = dict.fromkeys([*rows, *(item.key for item in self.library)])
        places = {key: at for at, key in enumerate(keys)}
        return tuple(sorted(self.stock, key=lambda row: places[row.ingredient.key]))

    def stocked(self, key: str) -> Stocked | None:
        """What is in stock of the ingredient with that key."""
        return next((item for item in self.stock if item.ingredient.key == key), None)


def load_bar(root: Path | None) -> Bar:
    """The bar in a folder; the built-in library, without prices, for None.

    Raises:
        BadInput, BadInputs: a file is wrong, with its line.
    """
    defaults = load_defaults()
    if root is None:
        library = load_library()
        return Bar(
            name="",
            measures=Measures(),
            pour_set=defaults.pour_set("quarter-ounce"),
            currency="",
            jurisdiction="United States",
            library=library,
            stock=in_order(map(Stocked, library)),
            glasses=defaults.glasses,
        )
    settings = read_bar_file(root / "bar.toml")
    house = toml_files(root / "house")
    stated, recipes = read_ingredients(house), read_recipes(house)
    own = with_inputs(stated, recipes, load_library().shadowed_by(stated))
    library = load_library().shadowed_by(own)
    shelf = None
    stock = tuple(map(Stocked, library))
    if (root / "shelf.csv").exists():
        uncooked = _uncooked(recipes, library)
        shelf = read_shelf(
            root / "shelf.csv", library, settings.measures, settings.currency, uncooked
        )
        made = tuple(Stocked(item) for item in own if shelf.row(item.key) is None)
        stock = (*shelf.rows, *made)
    return Bar(
        name=settings.name,
        measures=settings.measures,
        pour_set=settings.pour_set,
        currency=settings.currency,
        jurisdiction=settings.jurisdiction.name,
        library=library,
        stock=in_order(stock),
        glasses={**defaults.glasses, **settings.glasses},
        weighed=settings.weighed,
        melt_factors=settings.melt_factors,
        show=settings.show,
        shelf=shelf,
        root=root,
        recipes=recipes,
    )


def _uncooked(recipes: Mapping[str, Recipe], library: Library) -> dict[str, str]:
    """Keys of recipes of which nothing is in a bottle yet, by every name that they go by."""
    found: dict[str, str] = {}
    for key, recipe in recipes.items():
        for name in (key, recipe.dish.name, *recipe.dish.aliases):
            if name not in library:
                found[fold(name)] = key
    return found
