"""What other bottles mean for a guest: allergens, animal origin, declarations."""

from __future__ import annotations

from dataclasses import dataclass

from solver.pantry.disclosure import Disclosure


@dataclass(frozen=True, order=True)
class GuestConsequences:
    """One statement to a guest about a drink: `word` is what it contains, or an ingredient."""

    kind: str
    word: str

    @property
    def says(self) -> str:
        """The statement in words, like "contains nuts"."""
        return f"{self.kind} {self.word}"


CONTAINS, MAY_CONTAIN = "contains", "may contain"
FROM_ANIMALS, MAY_BE_FROM_ANIMALS = "of animal origin:", "may be of animal origin:"
DECLARED = "to declare:"
ALLERGENS_UNKNOWN, ANIMAL_UNKNOWN = "allergens not known of", "animal origin not known of"


@dataclass(frozen=True)
class Consequences:
    """Statements that hold of one of two drinks only."""

    gained: tuple[GuestConsequences, ...]
    lost: tuple[GuestConsequences, ...]


def consequences(before: Disclosure, after: Disclosure) -> Consequences:
    """The statements that are new, and those that no longer hold."""
    old, new = told(before), told(after)
    return Consequences(tuple(sorted(new - old)), tuple(sorted(old - new)))


def told(drink: Disclosure) -> frozenset[GuestConsequences]:
    """All statements to a guest about a drink."""
    every = (
        (CONTAINS, drink.allergens),
        (MAY_CONTAIN, drink.may_contain),
        (FROM_ANIMALS, drink.animal),
        (MAY_BE_FROM_ANIMALS, drink.may_animal),
        (DECLARED, drink.declare),
        (ALLERGENS_UNKNOWN, drink.allergens_not_known),
        (ANIMAL_UNKNOWN, drink.animal_not_known),
    )
    return frozenset(GuestConsequences(kind, word) for kind, words in every for word in words)
