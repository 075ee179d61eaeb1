"""Load a bar from its folder, or the built-in library where there is none."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from solver.errors import BadInput, BadInputs, Where
from solver.files.atomic import settled
from solver.files.checked import gather
from solver.files.folders import toml_files
from solver.files.read import version_at
from solver.pantry.bar import WATER, Bar
from solver.pantry.bar_file import Settings, read_bar_file
from solver.pantry.batches import BATCH
from solver.pantry.bottled import by_bottle
from solver.pantry.cost_settings import Costing
from solver.pantry.defaults import load_defaults
from solver.pantry.folders import BAR_FILE, SHELF_FILE, WORDS_FILE
from solver.pantry.house_names import HouseMade, HouseNames, house_names
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold, load_library, read_ingredients
from solver.pantry.not_ready_yet import with_waits
from solver.pantry.pressed import with_juices
from solver.pantry.recipe import Recipe, read_recipes
from solver.pantry.shelf import Shelf, read_shelf
from solver.pantry.stocked import Stocked, in_order
from solver.quantities import Measures
from solver.today import today


def load_bar(root: Path | None, day: date | None = None, *, with_shelf: bool = True) -> Bar:
    """The bar in a folder; the built-in library, without prices, for None.

    What a command that was killed had begun to write there is ended first. Bottles are dated
    against `day`; None: against the day in bar.toml, else the calendar's. Without its shelf
    everything in the library may be poured, as if there were none.

    Raises:
        BadInput, BadInputs: a file is wrong, with its line.
    """
    if root is None:
        return _built_in()
    with settled(root):
        return _read(root, day, with_shelf=with_shelf)


def versions(root: Path | None) -> object:
    """What tells whether a bar would be loaded otherwise by now: the day, and what its files say.

    Raises:
        BadInput: a file may not be read.
    """
    if root is None:
        return today()
    own = [root / BAR_FILE, root / SHELF_FILE, root / WORDS_FILE]
    folders = (root / "house", root / "specs", root / "profiles")
    files = (*own, *(path for folder in folders for path in toml_files(folder)))
    return today(), tuple((path, version_at(path)) for path in files)


def _built_in() -> Bar:
    defaults, library = load_defaults(), load_library()
    return Bar(
        name="",
        measures=Measures(),
        pour_set=defaults.pour_set("quarter-ounce"),
        currency="",
        jurisdiction="United States",
        library=library,
        stock=in_order(map(Stocked, library)),
        glasses=defaults.glasses,
        costing=Costing(tax_on_top=True),
    )


def _read(root: Path, day: date | None, *, with_shelf: bool) -> Bar:
    defaults = load_defaults()
    settings = read_bar_file(root / BAR_FILE)
    house = toml_files(root / "house")
    stated, recipes = read_ingredients(house), read_recipes(house)
    library = load_library().shadowed_by(stated)
    made = tuple(_house_made(stated, recipes))
    own = {each.key for each in made}
    bought = library.without(own)
    library = library.in_house(house_names(made, bought.get, lambda _: True))
    shelf = _shelf(root / SHELF_FILE, library, settings, recipes) if with_shelf else None
    if shelf is None:
        stock = tuple(map(Stocked, library))
    else:
        rows = {row.ingredient.key for row in shelf.rows}
        names = house_names(made, bought.get, lambda key: key in rows)
        library = library.in_house(names)
        rows_now = (_beside_ours(row, names) for row in shelf.rows)
        made_now = _made(stated, recipes, shelf)
        stood = _stood(rows_now, recipes, settings.measures)
        shelf = replace(shelf, rows=tuple(by_bottle(row, own) for row in stood))
        stock = (*shelf.rows, *_stood(made_now, recipes, settings.measures), *_tap(shelf, library))
        library = _labelled(library, shelf)
    now = day or settings.today or today()
    by_day = _ByDay.of(stock, now)
    pourable, past = by_day.pourable, by_day.past
    if shelf is not None:
        pourable, past = with_juices(pourable, past, library)
    bar = Bar(
        name=settings.name,
        measures=settings.measures,
        pour_set=settings.pour_set,
        currency=settings.currency,
        jurisdiction=settings.jurisdiction.name,
        library=library,
        stock=in_order(pourable),
        glasses={**defaults.glasses, **settings.glasses},
        weighed=settings.weighed,
        melt_factors=settings.melt_factors,
        costing=settings.costing,
        vessels=settings.vessels,
        most_a_night=settings.most_a_night,
        show=settings.show,
        language=settings.language,
        shelf=shelf,
        root=root,
        recipes=recipes,
        house=frozenset(item.key for item in stated if not item.bought or item.key in recipes),
        own=frozenset(item.key for item in stated),
        today=now,
        today_stated=day is None and settings.today is not None,
        past=past,
        past_lots=by_day.past_lots,
        waiting=by_day.waiting,
    )
    if day is None:  # asked for another day, things may have been opened after it
        _refuse_days_to_come(bar)
    _ = bar.inputs  # what goes into the house's own is a mistake before anything is asked
    return bar


@dataclass(frozen=True)
class _ByDay:
    """Stock as it stands on a day; see `Bar`."""

    pourable: tuple[Stocked, ...]
    past: tuple[Stocked, ...]
    past_lots: tuple[Stocked, ...]
    waiting: tuple[Stocked, ...]

    @classmethod
    def of(cls, stock: Sequence[Stocked], day: date) -> _ByDay:
        """What of it may be poured, is over, or is not ready."""
        good = [(row, row.good(day)) for row in stock]
        waiting = tuple(lot for row in stock for lot in row.lots if lot.waiting(day))
        wait = {lot.ingredient.key for lot in waiting}
        rest = [row for row, left in good if left is not None or row.ingredient.key in wait]
        return cls(
            pourable=tuple(left for _, left in good if left is not None),
            past=tuple(
                row for row, left in good if left is None and row.ingredient.key not in wait
            ),
            past_lots=tuple(lot for row in rest for lot in row.lots if lot.past(day)),
            waiting=waiting,
        )


def _refuse_days_to_come(bar: Bar) -> None:
    """Refuse what was opened or made on a day that is still to come.

    Raises:
        BadInput, BadInputs: something was, with its line.
    """
    dated: list[tuple[date | None, Where]] = []
    if bar.shelf is not None:
        for row in bar.shelf.rows:
            where = Where(bar.shelf.sheet.path, row.line)
            dated += [(day, where) for day in (row.opened, *(lot.made for lot in row.newer))]
    dated += [
        (recipe.table.made, recipe.where(["made"]))
        for recipe in bar.recipes.values()
        if recipe.table.made is not None and recipe.table.made > bar.today
    ]
    mistakes: list[BadInput | BadInputs] = []
    for day, where in dated:
        try:
            bar.happened(day)
        except BadInput as error:
            mistakes.append(error.at(where))
    gather(mistakes)


def _shelf(
    path: Path, library: Library, settings: Settings, recipes: Mapping[str, Recipe]
) -> Shelf | None:
    """The shelf of the folder; None where there is no such file."""
    if not os.path.lexists(path):
        return None
    uncooked = _uncooked(recipes, library)
    return read_shelf(path, library, settings.measures, settings.currency, uncooked)


def _made(
    stated: Iterable[Ingredient], recipes: Mapping[str, Recipe], shelf: Shelf
) -> Iterator[Stocked]:
    """House ingredients that the shelf does not list, each as old as its recipe says it is."""
    for item in stated:
        if shelf.row(item.key) is None and not item.is_kind(BATCH) and not item.bought:
            recipe = recipes.get(item.key)
            yield Stocked(item, opened=recipe.table.made if recipe else None)


def _house_made(stated: Iterable[Ingredient], recipes: Mapping[str, Recipe]) -> Iterator[HouseMade]:
    """What the house makes, be it that only its recipe is known; no drinks mixed ahead."""
    known = {item.key: item for item in stated}
    for key, recipe in recipes.items():
        dish = known.get(key) or recipe.dish
        inputs = tuple(name for _, name, _ in recipe.named())
        yield HouseMade(key, (key, dish.name, *dish.aliases), inputs)
    for key, item in known.items():
        if key not in recipes and not item.bought and not item.is_kind(BATCH):
            yield HouseMade(key, (key, item.name, *item.aliases), item.made_of or ())


def _beside_ours(row: Stocked, names: HouseNames) -> Stocked:
    """A row called "bought grenadine" if it has no label, and the house makes a grenadine."""
    label = "" if row.label else names.bought_as(row.ingredient.key)
    if not label:
        return row
    return replace(row, label=label, ingredient=row.ingredient.called(label))


def _stood(
    rows: Iterable[Stocked], recipes: Mapping[str, Recipe], measures: Measures
) -> Iterator[Stocked]:
    """Rows that know how long what is in them has to stand."""
    return (with_waits(row, recipes, measures) for row in rows)


def _labelled(library: Library, shelf: Shelf) -> Library:
    """The library by the bar's own names for what is on its shelf."""
    labels = {row.ingredient.key: row.label for row in shelf.rows if row.label}
    named = (item for key in labels if (item := library.by_key(key)) is not None)
    return library.with_own({item.key: item.called(labels[item.key]) for item in named})


def _tap(shelf: Shelf, library: Library) -> tuple[Stocked, ...]:
    """Water, which every bar has, listed or not, and which costs nothing."""
    water = library.by_key(WATER)
    if water is None or shelf.row(water.key) is not None:
        return ()
    return (Stocked(water, bottle=1000.0, price=0.0),)


def _uncooked(recipes: Mapping[str, Recipe], library: Library) -> dict[str, str]:
    """Keys of recipes of which nothing is in a bottle yet, by every name that they go by."""
    found: dict[str, str] = {}
    for key, recipe in recipes.items():
        for name in (key, recipe.dish.name, *recipe.dish.aliases):
            if name not in library:
                found[fold(name)] = key
    return found
