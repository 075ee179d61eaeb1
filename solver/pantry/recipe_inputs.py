"""What goes into what: by recipes, and by what an ingredient says it is made of."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import gather
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold
from solver.pantry.recipe import Recipe


def house_key(name: str, recipes: Mapping[str, Recipe], library: Library) -> str | None:
    """The key of the recipe that makes what `name` says; None where no recipe does."""
    asked = fold(name)
    if asked in recipes:
        return asked
    if (meant := library.house.means.get(asked)) in recipes:
        return meant
    item = library.get(name)
    found = item.key if item else None
    if found == asked:  # a key always means itself, whatever else has it for an alias
        return None
    for key, recipe in recipes.items():
        if asked in map(fold, (recipe.dish.name, *recipe.dish.aliases)):
            return key
    return found if found in recipes else None


def inputs_of_all(library: Library, recipes: Mapping[str, Recipe]) -> Mapping[str, tuple[str, ...]]:
    """Keys of what goes straight into everything that is made of something.

    Each comes after all that go into it.

    Raises:
        BadInput, BadInputs: an input is not known, or goes into itself; with the line.
    """
    mistakes: list[BadInput | BadInputs] = []
    below: dict[str, dict[str, _Written]] = {}
    for key, each in _written(library, recipes):
        item = library.get(each.name)
        goes_in = house_key(each.name, recipes, library) or (item.key if item else None)
        if goes_in is None:
            mistakes.append(library.unknown(each.name).at(each.where()))
        else:
            below.setdefault(key, {}).setdefault(goes_in, each)
    gather(mistakes)
    return {key: tuple(below[key]) for key in _in_order(below)}


def everything_in(
    key: str, inputs: Mapping[str, tuple[str, ...]], library: Library, through: Container[str]
) -> tuple[Ingredient, ...]:
    """Every ingredient that goes into something, each once, and into those in `through` likewise.

    Of what was never bottled there is none: only what goes into it.
    """
    found: dict[str, None] = {}
    waiting = list(reversed(inputs.get(key, ())))
    while waiting:
        below = waiting.pop()
        if below in found:
            continue
        found[below] = None
        if below in through:
            waiting += reversed(inputs.get(below, ()))
    items = map(library.by_key, found)
    return tuple(item for item in items if item is not None)


@dataclass(frozen=True)
class _Written:
    """Something that goes in, as written; `where` finds its line, which takes a while."""

    name: str
    where: Callable[[], Where | None]


def _written(library: Library, recipes: Mapping[str, Recipe]) -> Iterator[tuple[str, _Written]]:
    """What files say of what goes into what, by the key of what is made."""
    for key, recipe in recipes.items():
        for keys, name, _ in recipe.named():
            yield key, _Written(name, partial(recipe.where, keys))
        for name in recipe.dish.made_of:
            yield key, _Written(name, partial(recipe.file.where, [key, "made_of"]))
    for item in library:
        for name in item.made_of or ():
            yield item.key, _Written(name, partial(item.where, "made_of"))


def _in_order(below: Mapping[str, Mapping[str, _Written]]) -> tuple[str, ...]:
    """The keys, each after those below it: depth first, without recursion.

    Raises:
        BadInput: one goes into itself, by way of others or straight.
    """
    done: dict[str, None] = {}
    for start in below:
        path = {} if start in done else {start: iter(below[start])}
        while path:
            at = next(reversed(path))
            deeper = next((key for key in path[at] if key in below and key not in done), None)
            if deeper is None:
                del path[at]
                done[at] = None
            elif deeper in path:
                raise _ring(deeper, list(path), below[at][deeper])
            else:
                path[deeper] = iter(below[deeper])
    return tuple(done)


_MOST_NAMED = 6
"""Of a longer ring the middle is not named."""


def _ring(key: str, path: list[str], written: _Written) -> BadInput:
    """The mistake of something that goes into itself."""
    ring = [*path[path.index(key) :], key]
    named = ring if len(ring) <= _MOST_NAMED else [*ring[: _MOST_NAMED - 2], "…", key]
    what = f"{key} goes into itself" if len(ring) == 2 else " into ".join(named)
    return BadInput(what, where=written.where(), why="a recipe cannot wait for what it makes")
