"""What an ingredient, or all of a drink, is to a guest: assembled here and nowhere else.

An ingredient states its own; what goes into it, through recipes to any depth, adds to that.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass

from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.recipe import Dish, Recipe
from solver.pantry.word_forms import Words

Names = tuple[str, ...]
"""Names of ingredients, each once, in their order."""


@dataclass(frozen=True)
class Disclosure:
    """What something is to a guest, with all that goes into it.

    `allergens`, `animal` and `declare` are certain, in the words of `solver.pantry.vocabulary`;
    `may_contain` and `may_animal` are possible, and not certain too. `allergens_not_known` and
    `animal_not_known` name the ingredients of which nobody has said, `alcohol` those that hold any
    and `may_hold_alcohol` those that may. `cautions` are for whoever drinks it, `kitchen_cautions`
    for whoever cooks with it or keeps it. `holds` are keys: of the thing itself, of everything in
    it, and of everything in those. Of a text, `says` are the words and names in it, as guests may
    say them, and `may_hold` keys of which a word leaves open which it means; of `unknown` words
    nobody knows what they mean.
    """

    allergens: frozenset[str] = frozenset()
    may_contain: frozenset[str] = frozenset()
    animal: frozenset[str] = frozenset()
    may_animal: frozenset[str] = frozenset()
    declare: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()
    kitchen_cautions: tuple[str, ...] = ()
    alcohol: Names = ()
    may_hold_alcohol: Names = ()
    allergens_not_known: Names = ()
    animal_not_known: Names = ()
    holds: frozenset[str] = frozenset()
    says: frozenset[Words] = frozenset()
    may_hold: frozenset[str] = frozenset()
    unknown: Names = ()

    def __post_init__(self) -> None:
        """What is certain is not possible too."""
        object.__setattr__(self, "may_contain", self.may_contain - self.allergens)
        object.__setattr__(self, "may_animal", self.may_animal - self.animal)


def stated(item: Ingredient) -> Disclosure:
    """What an ingredient's own file says of it, without what goes into it."""
    most = item.abv.value if item.abv.high is None else item.abv.high
    return Disclosure(
        allergens=item.allergens or frozenset(),
        may_contain=item.may_contain,
        animal=item.animal or frozenset(),
        may_animal=item.may_animal,
        declare=item.declare,
        cautions=item.cautions,
        kitchen_cautions=item.kitchen_cautions,
        alcohol=(item.name,) if item.abv.value > 0 else (),
        may_hold_alcohol=((item.name,) if most > 0 and item.abv.value <= 0 else ()) + item.unclear,
        allergens_not_known=((item.name,) if item.allergens is None else ()) + item.unclear,
        animal_not_known=((item.name,) if item.animal is None else ()) + item.unclear,
        holds=frozenset({item.key}),
        may_hold=frozenset(item.may_hold),
        unknown=item.unclear,
    )


def of_dish(dish: Dish) -> Disclosure:
    """What the file of a recipe says of what it makes, without what goes into it."""
    return Disclosure(
        allergens=dish.allergens,
        may_contain=dish.may_contain,
        animal=dish.animal,
        may_animal=dish.may_animal,
        declare=dish.declare,
        cautions=dish.cautions,
        kitchen_cautions=dish.kitchen_cautions,
        holds=frozenset({dish.key}),
    )


def with_told(item: Ingredient, told: Disclosure) -> Ingredient:
    """An ingredient whose own statement is all that is told of it.

    Allergens are none stated where those of one thing in it are not known; likewise its animals.
    """
    return item.model_copy(
        update={
            "allergens": None if told.allergens_not_known else told.allergens,
            "may_contain": told.may_contain,
            "animal": None if told.animal_not_known else told.animal,
            "may_animal": told.may_animal,
            "declare": told.declare,
            "cautions": told.cautions,
            "kitchen_cautions": told.kitchen_cautions,
        }
    )


def together(parts: Iterable[Disclosure]) -> Disclosure:
    """All of it in one: nothing of any part is lost, and what is certain is no longer possible."""
    every = tuple(parts)
    return Disclosure(
        allergens=_union(part.allergens for part in every),
        may_contain=_union(part.may_contain for part in every),
        animal=_union(part.animal for part in every),
        may_animal=_union(part.may_animal for part in every),
        declare=_union(part.declare for part in every),
        cautions=_each_once(part.cautions for part in every),
        kitchen_cautions=_each_once(part.kitchen_cautions for part in every),
        alcohol=_each_once(part.alcohol for part in every),
        may_hold_alcohol=_each_once(part.may_hold_alcohol for part in every),
        allergens_not_known=_each_once(part.allergens_not_known for part in every),
        animal_not_known=_each_once(part.animal_not_known for part in every),
        holds=_union(part.holds for part in every),
        says=frozenset[Words]().union(*(part.says for part in every)),
        may_hold=_union(part.may_hold for part in every),
        unknown=_each_once(part.unknown for part in every),
    )


def told_too_little(was: Disclosure, now: Disclosure) -> frozenset[str]:
    """What somebody who is told `now` of something that is `was` does not hear, in its words.

    Where there is no other, it is the keys of what `was` holds, or may hold, and `now` does not.
    """
    words = (
        was.allergens - now.allergens
        | was.may_contain - now.may_contain - now.allergens
        | was.animal - now.animal
        | was.may_animal - now.may_animal - now.animal
        | was.declare - now.declare
        | {said for said, of in _OPEN if getattr(was, of) and not getattr(now, of)}
    )
    if not (now.alcohol or now.may_hold_alcohol) and (was.alcohol or was.may_hold_alcohol):
        words |= {ALCOHOL}
    return words or (was.holds - now.holds) | (was.may_hold - now.may_hold - now.holds)


_OPEN = (
    ("something whose allergens nobody knew", "allergens_not_known"),
    ("something of which nobody knew whether an animal gave it", "animal_not_known"),
    ("something that nobody knew", "unknown"),
)
"""What is told of what is not known, and where it stands."""
ALCOHOL = "alcohol"
LESS = frozenset({ALCOHOL, *(said for said, _ in _OPEN)})
"""Words of `told_too_little` that are of no vocabulary, and no keys."""


def _union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)


def _each_once(lists: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for listed in lists for each in listed))


class Disclosures:
    """What everything in a bar is to a guest.

    `inputs` has the keys of what goes straight into what, each after those below it, as
    `solver.pantry.recipe_inputs.inputs_of_all` finds them. What stands on the shelf is told of as
    it was made, whatever its recipe says by now; of the keys in `used_up` nothing stands there.
    """

    def __init__(
        self, inputs: Mapping[str, tuple[str, ...]], library: Library,
        recipes: Mapping[str, Recipe], used_up: Container[str] = (),
    ) -> None:  # fmt: skip
        """Work out what is inside of everything that something goes into."""
        self._used_up = used_up
        self._library = library
        self._recipes = recipes
        self._inside: dict[str, Disclosure] = {}
        self._told: dict[str, tuple[Ingredient, Disclosure]] = {}
        for key, below in inputs.items():
            self._inside[key] = together(each for name in below for each in self._input(name))

    def _input(self, key: str) -> Iterator[Disclosure]:
        """What goes in with one input: itself, and what is inside of it."""
        recipe = self._recipes.get(key)
        if recipe is not None:
            yield of_dish(recipe.dish)
        item = self._library.by_key(key) if recipe is None or recipe.stated else None
        if item is not None:
            yield stated(item)
        if key in self._inside:
            yield self._inside[key]
        if item is not None:
            yield from self._as_made(item)

    def _as_made(self, item: Ingredient) -> Iterator[Disclosure]:
        """What went into what stands there; of a thing that is not known any more nothing is."""
        for key in () if item.key in self._used_up else item.was_made_of:
            recipe, below = self._recipes.get(key), self._library.by_key(key)
            yield Disclosure() if recipe is None else of_dish(recipe.dish)
            if below is not None:
                yield stated(below)
            elif recipe is None:
                name = (key,)
                yield Disclosure(
                    allergens_not_known=name, animal_not_known=name, holds=frozenset(name)
                )

    def of_key(self, key: str) -> Disclosure:
        """What the thing of that key is to a guest, be it that only its recipe is known."""
        return together(self._input(key))

    def of(self, item: Ingredient) -> Disclosure:
        """What an ingredient is to a guest, whichever bottle or batch of it."""
        told = self._told.get(item.key)
        if told is None or told[0] is not item:  # a bottle with figures of its own is another item
            told = self._told[item.key] = (item, self._worked_out(item))
        return told[1]

    def _worked_out(self, item: Ingredient) -> Disclosure:
        inside = self._inside.get(item.key)
        if inside is None and not item.was_made_of:
            return stated(item)
        return together((stated(item), inside or Disclosure(), *self._as_made(item)))
