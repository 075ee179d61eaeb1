"""Flavours: bottles that counts cannot tell apart are one, and what each is counted as."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property

from solver.harmony.counts import Counts, family
from solver.harmony.taste import BarTaste
from solver.pantry.ingredient import Ingredient
from solver.pantry.vocabulary import kind_within

LOUD = "loud"
"""The word of practice for what stands among the loud ingredients."""


@dataclass(frozen=True)
class Flavour:
    """What one or more bottles taste of.

    `counted_as` is the ingredient whose counts it has, None where nothing is known of it;
    `why_unknown` then says why. `kind` is that of what it is counted as, else its own.
    `bottles` are the keys of what has this flavour, ascending; `kinds` what kinds those are of.
    """

    name: str
    counted_as: str | None
    kind: str
    kinds: frozenset[str]
    character: frozenset[str]
    bottles: tuple[str, ...]
    loud: bool = False
    why_unknown: str = ""

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word that means it: its bottles, kinds and their families, what it tastes of."""
        kinds = {self.kind, *self.kinds}
        found = {self.name, *self.bottles, *self.character, *kinds, *map(family, kinds)}
        found |= {self.counted_as} if self.counted_as is not None else set()
        return frozenset(found | {LOUD} if self.loud else found)


def flavours_of(
    ingredients: Iterable[Ingredient],
    counts: Counts,
    taste: BarTaste,
    apart: Collection[str] = (),
) -> dict[str, Flavour]:
    """The flavours of some ingredients, by the key of each ingredient.

    What the bar says goes with a bottle, or not, is said of that bottle alone: it is a flavour of
    its own. So is what nobody has counted where the bar says anything of it or pours it in a spec,
    or it stands in `apart`. Other bottles of which nothing is known are one where kind and
    character are the same: nothing tells what goes with the one from what goes with the other.
    """
    known_apart = taste.mentions.union(apart)
    found: dict[object, list[Flavour]] = {}
    why_unknown = cache(lambda kind: _why_unknown(kind, counts))
    for ingredient in ingredients:
        flavour = _flavour(ingredient, counts, taste, why_unknown)
        alike: object = flavour.name
        if flavour.why_unknown == NOT_PRINTED and ingredient.key not in known_apart:
            alike = (flavour.kind, flavour.character, flavour.loud)
        found.setdefault(alike, []).append(flavour)
    joined = (_joined(flavours) for flavours in found.values())
    return {key: flavour for flavour in joined for key in flavour.bottles}


NOT_PRINTED = "no book knows it"
"""Why nothing is known of what a house makes, unless the bar says something."""


def _flavour(
    ingredient: Ingredient, counts: Counts, taste: BarTaste, why_unknown: Callable[[str], str]
) -> Flavour:
    key = ingredient.key
    said = taste.of(key)
    counted = counts.flavour(said.like or key)
    known = counted in counts.poured
    return Flavour(
        name=counted if known and not said.has_words else key,
        counted_as=counted if known else None,
        kind=counts.kind.get(counted, ingredient.kind),
        kinds=frozenset({ingredient.kind}),
        character=frozenset(ingredient.character),
        bottles=(key,),
        loud=key in counts.loud or counted in counts.loud,
        why_unknown="" if known else why_unknown(ingredient.kind),
    )


def _why_unknown(kind: str, counts: Counts) -> str:
    """Why nothing is known of an ingredient of a kind."""
    for known, why in counts.not_counted.items():
        if kind_within(kind, known):
            return why
    return NOT_PRINTED


def _joined(flavours: Sequence[Flavour]) -> Flavour:
    """One flavour of the bottles of several."""
    if len(flavours) == 1:
        return flavours[0]
    first = min(flavours, key=lambda each: each.name)
    return replace(
        first,
        kinds=frozenset().union(*(each.kinds for each in flavours)),
        character=frozenset().union(*(each.character for each in flavours)),
        bottles=tuple(sorted(bottle for each in flavours for bottle in each.bottles)),
        loud=any(each.loud for each in flavours),
    )
