"""What other bottles mean for a guest: allergens, animal origin, what must be declared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.pantry.ingredient import Ingredient


@dataclass(frozen=True, order=True)
class Told:
    """Something that a guest is told of a drink: `word` is what it contains, or an ingredient."""

    kind: str
    word: str

    @property
    def says(self) -> str:
        """In words, like "contains nuts"."""
        return f"{self.kind} {self.word}"


CONTAINS, MAY_CONTAIN = "contains", "may contain"
FROM_ANIMALS, MAY_BE_FROM_ANIMALS = "of animal origin:", "may be of animal origin:"
DECLARED = "to declare:"
ALLERGENS_UNKNOWN, ANIMAL_UNKNOWN = "allergens not known of", "animal origin not known of"


@dataclass(frozen=True)
class Consequences:
    """What is told of one drink and not of another."""

    gained: tuple[Told, ...]
    lost: tuple[Told, ...]


def consequences(before: Sequence[Ingredient], after: Sequence[Ingredient]) -> Consequences:
    """What a guest is told after that was not told before, and the other way round."""
    old, new = told(before), told(after)
    return Consequences(tuple(sorted(new - old)), tuple(sorted(old - new)))


def told(ingredients: Sequence[Ingredient]) -> frozenset[Told]:
    """Everything that a guest is told of what is poured; what is certain is not also possible."""
    found: set[Told] = set()
    for each in ingredients:
        found |= {Told(CONTAINS, word) for word in each.allergens or ()}
        found |= {Told(MAY_CONTAIN, word) for word in each.may_contain}
        found |= {Told(FROM_ANIMALS, word) for word in each.animal or ()}
        found |= {Told(MAY_BE_FROM_ANIMALS, word) for word in each.may_animal}
        found |= {Told(DECLARED, word) for word in each.declare}
        if each.allergens is None:
            found.add(Told(ALLERGENS_UNKNOWN, each.name))
        if each.animal is None:
            found.add(Told(ANIMAL_UNKNOWN, each.name))
    certain = {MAY_CONTAIN: CONTAINS, MAY_BE_FROM_ANIMALS: FROM_ANIMALS}
    return frozenset(
        each for each in found if Told(certain.get(each.kind, ""), each.word) not in found
    )
