"""Counts of published drinks: how many pour an ingredient, how many pour two together."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations

Pair = tuple[str, str]


def pair(one: str, other: str) -> Pair:
    """Two ingredients as one key, whatever their order."""
    return (one, other) if one < other else (other, one)


def family(kind: str) -> str:
    """The family of a kind: its first step."""
    return kind.partition("/")[0]


@dataclass(frozen=True)
class UsualPour:
    """Of published drinks, one in ten pours less than `low_ml`, half less than `usual_ml`, one in
    ten more than `high_ml`; `drinks` is how many were looked at.
    """

    drinks: int
    low_ml: float
    usual_ml: float
    high_ml: float


@dataclass(frozen=True)
class Loud:
    """An ingredient that is heard over others: by what, and the most of it beside them."""

    character: str
    most_ml: float


@dataclass(frozen=True)
class Rule:
    """What the trade says of an ingredient that nobody has counted, of a character or kind `one`.

    `other` is what it goes with, or not, as `goes` tells: a character, a kind or an ingredient.
    """

    one: str
    other: str
    goes: bool
    says: str


@dataclass(frozen=True, eq=False)
class Counts:
    """Everything that was counted, by ingredient.

    `drinks` is how many there are in all. `poured` holds every ingredient that was looked for,
    those that no drink pours too; `role` what it mostly is in them; `met` pairs that at least one
    drink pours. `alike` names for a bottle the ingredient that it is counted as; `not_counted`
    kinds that were not looked for, each with the reason. `pours` are by ingredient or kind;
    `practice` speaks of what has no counts.
    """

    drinks: int
    poured: Mapping[str, int]
    kind: Mapping[str, str]
    role: Mapping[str, str]
    met: Mapping[Pair, int]
    alike: Mapping[str, str] = field(default_factory=dict)
    not_counted: Mapping[str, str] = field(default_factory=dict)
    pours: Mapping[str, UsualPour] = field(default_factory=dict)
    loud: Mapping[str, Loud] = field(default_factory=dict)
    practice: tuple[Rule, ...] = ()

    def flavour(self, ingredient: str) -> str:
        """What an ingredient is counted as: itself, unless it tastes like another."""
        return self.alike.get(ingredient, ingredient)

    def together(self, one: str, other: str) -> int:
        """How many drinks pour both."""
        return self.met.get(pair(one, other), 0)

    def without(self, drink: Collection[str]) -> Counts:
        """The counts had `drink`, one of those counted, not been printed."""
        poured, met = dict(self.poured), dict(self.met)
        for one in drink:
            poured[one] = max(0, poured[one] - 1)
        for key in (pair(*two) for two in combinations(sorted(drink), 2)):
            met[key] = max(0, met.get(key, 0) - 1)
        return replace(self, drinks=self.drinks - 1, poured=poured, met=met)

    def usual_pour(self, flavour: str, kind: str) -> UsualPour | None:
        """What is usually poured of an ingredient: by its own drinks, else by those of its kind."""
        own = self.pours.get(flavour)
        return own if own and own.drinks >= FEWEST else self.pours.get(kind, own)

    def most_ml(self, ingredient: str) -> float | None:
        """The most of a loud ingredient beside others; None where it may be poured as it pleases.

        It holds wherever the ingredient is neither the base of the drink nor asked for.
        """
        loud = self.loud.get(ingredient) or self.loud.get(self.flavour(ingredient))
        return loud.most_ml if loud else None


FEWEST = 3
"""Drinks from which an ingredient's own pours are taken for usual."""
