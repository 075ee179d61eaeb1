"""What goes into house recipes, through every level: their order, and what rides along.

Allergens, animal origin, what must be declared and cautions of every input are those of the bottle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from solver.errors import BadInput
from solver.files.checked import Reading
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold
from solver.pantry.recipe import Recipe

_MOST_NAMED = 6


def order_of(recipes: Mapping[str, Recipe], library: Library) -> tuple[str, ...]:
    """Keys of the recipes, each after those of the house ingredients that go into it.

    Raises:
        BadInput: one goes into itself, by way of others or straight.
    """
    done: dict[str, None] = {}
    for key in recipes:
        _visit(key, recipes, library, [], done)
    return tuple(done)


def _visit(
    key: str,
    recipes: Mapping[str, Recipe],
    library: Library,
    path: list[str],
    done: dict[str, None],
) -> None:
    if key in done:
        return
    for keys, name, _ in recipes[key].named():
        below = house_key(name, recipes, library)
        if below is None:
            continue
        if below in [*path, key]:
            ring = [*path, key][[*path, key].index(below) :]
            named = (
                [*ring, below] if len(ring) <= _MOST_NAMED else [*ring[:_MOST_NAMED], "…", below]
            )
            what = f"{key} goes into itself" if len(ring) == 1 else " into ".join(named)
            why = "a recipe cannot wait for what it makes"
            raise BadInput(what, where=recipes[key].where(keys), why=why)
        _visit(below, recipes, library, [*path, key], done)
    done[key] = None


def house_key(name: str, recipes: Mapping[str, Recipe], library: Library) -> str | None:
    """The key of the recipe that makes what `name` says; None where no recipe does."""
    asked = fold(name)
    if asked in recipes:
        return asked
    found = library.find(name).key if name in library else None
    if found == asked:  # a key always means itself, whatever else has it for an alias
        return None
    for key, recipe in recipes.items():
        if asked in map(fold, (recipe.dish.name, *recipe.dish.aliases)):
            return key
    return found if found in recipes else None


def with_inputs(
    ingredients: Iterable[Ingredient], recipes: Mapping[str, Recipe], library: Library
) -> tuple[Ingredient, ...]:
    """House ingredients with all that rides along from their recipes, through every level.

    Allergens, animal origin and what must be declared are those stated and those of every input;
    unknown where those of one input are. Cautions likewise.

    Raises:
        BadInput, BadInputs: an input is not known, or goes into itself; with the line.
    """
    own = {item.key: item for item in ingredients}
    made: dict[str, Ingredient] = {}
    for key in order_of(recipes, library):
        if key in own:
            made[key] = carried(own[key], inputs_of(recipes[key], recipes, library, made))
    return tuple(made.get(item.key, item) for item in own.values())


def inputs_of(
    recipe: Recipe, recipes: Mapping[str, Recipe], library: Library, made: Mapping[str, Ingredient]
) -> tuple[Ingredient, ...]:
    """What goes into a recipe, each thing once; of house ingredients without figures yet, what goes
    into them.

    Raises:
        BadInput, BadInputs: an input is not known; with the line.
    """
    found: dict[str, Ingredient] = {}
    seen: set[str] = set()

    def look_into(one: Recipe) -> None:
        seen.add(one.key)
        reading = Reading(one)
        for keys, name, _ in one.named():
            below = house_key(name, recipes, library)
            if below is not None and below in made:
                found.setdefault(below, made[below])
            elif below is None:
                item = reading.take(keys, None, library.find, name)
                found.update({item.key: item} if item and item.key not in found else {})
            elif below not in seen:
                look_into(recipes[below])
        reading.finish()

    look_into(recipe)
    return tuple(found.values())


def carried(item: Ingredient, inputs: Sequence[Ingredient]) -> Ingredient:
    """An ingredient with the allergens, animal origin, declarations and cautions of its inputs."""
    known = item.allergens is not None and all(i.allergens is not None for i in inputs)
    plain = item.animal is not None and all(i.animal is not None for i in inputs)
    every = (item, *inputs)
    tasted = (i for i in every if not i.is_kind("acid/powder"))  # its dust is not in the bottle
    allergens = frozenset(a for i in every for a in i.allergens or ())
    animal = frozenset(a for i in every for a in i.animal or ())
    cautions = dict.fromkeys(c for i in tasted for c in i.cautions)
    return item.model_copy(
        update={
            "allergens": allergens if known else None,
            "may_contain": frozenset(a for i in every for a in i.may_contain) - allergens
            if known
            else frozenset(),
            "animal": animal if plain else None,
            "may_animal": frozenset(a for i in every for a in i.may_animal) - animal
            if plain
            else frozenset(),
            "declare": frozenset(d for i in every for d in i.declare),
            "cautions": tuple(cautions),
        }
    )
